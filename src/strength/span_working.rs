//! What to print beside a span: cautions, and the working line by line.

use crate::catalog::span_tables::{Mark, Printed, WIDEST_SPACING_IN};
use crate::catalog::{Edition, Source};
use crate::measure::Amount::{Feet, Inches, Psf, Span};
use crate::measure::quantity::InInches;
use crate::measure::{Note, trim};

use super::loads::{GROUND_SNOW_LIMIT_PSF, psf_figure};
use super::spans::{Basis, Framing, SpanAnswer, SpanCase, at_most};
use super::table_terms::CAP_IN;
use super::working::{WorkingStep, feet_inches};

impl SpanCase {
    /// Cautions for the answer: where the case is outside the tables or the prescriptive rules.
    #[must_use]
    pub fn cautions(&self, answer: &SpanAnswer) -> Vec<Note> {
        let mut out = Vec::new();
        let load = self.framing.live_or_snow_psf();
        if matches!(self.framing, Framing::Rafter(l) if l.is_snow())
            && !at_most(load, GROUND_SNOW_LIMIT_PSF)
        {
            out.push(Note::with(
                "ground snow of {} is outside the prescriptive rules ({}, R301.2.3): needs design",
                [Psf(load), Psf(GROUND_SNOW_LIMIT_PSF)],
            ));
        }
        if !at_most(self.spacing.inches(), WIDEST_SPACING_IN) {
            out.push(Note::with(
                "spacing over {}: no repetitive member factor, no code table",
                [Inches(WIDEST_SPACING_IN)],
            ));
        }
        match answer.basis {
            Basis::Formula => out.push("not from a code table: formula, rounded down".into()),
            Basis::HeavierCell {
                dead_psf,
                spacing_in,
                grade,
                nominal,
                ..
            } => out.push(Note::with(
                format!("not a code table's own case: the cell for {{}} dead, {{}} spacing, {grade} {nominal} covers it"),
                [Psf(dead_psf), Inches(spacing_in)],
            )),
            Basis::TableTerms => out.push(
                "calculated in the table's own terms: look the cell up"
                    .into(),
            ),
            Basis::InsteadOfMisprint => out.push(match answer.printed.map(|cell| &cell.printed) {
                Some(Printed::Span { inches, .. }) => Note::with(
                    "the printed cell ({}) breaks the table's pattern and is taken for a misprint",
                    [Span(*inches)],
                ),
                _ => "the printed cell breaks the table's pattern and is taken for a misprint".into(),
            }),
            Basis::PrintedCell => {}
        }
        if answer.printed.is_some_and(|cell| cell.mark == Mark::Bearing) {
            out.push(
                "this printed cell lies below bending and deflection; an end bearing limit is inferred"
                    .into(),
            );
        }
        if answer.span_in > 240 || answer.over_26_ft {
            out.push(Note::with("stock longer than {} may not be available", [Feet(20.0)]));
        }
        out
    }

    /// The working of `answer`, line by line.
    #[must_use]
    pub fn working(&self, answer: &SpanAnswer, edition: Edition) -> Vec<WorkingStep> {
        let mut steps = self.load_steps(answer);
        steps.extend(self.limit_steps(answer));
        steps.push(WorkingStep::new(
            "span by formula",
            "least of the four",
            format!("{}, {} in", answer.governed_by.name(), trim(answer.exact_in, 2)),
            if answer.exact_in > f64::from(CAP_IN) {
                "over 26 ft".to_owned()
            } else {
                format!("{} ({})", feet_inches(answer.computed_in), answer.rounding.words())
            },
            Source::S14,
        ));
        if let (Some(table), Some(cell)) = (answer.table, answer.printed) {
            steps.push(WorkingStep::new(
                "printed cell",
                "",
                format!("{edition} table {}", table.number(edition)),
                match cell.printed {
                    Printed::Span { .. } => cell.text.to_owned(),
                    Printed::Over26Ft => "over 26 ft".to_owned(),
                },
                cell.source,
            ));
        }
        steps.push(WorkingStep::new(
            "span",
            "",
            answer.basis.name().to_owned(),
            if answer.over_26_ft { "over 26 ft".to_owned() } else { feet_inches(answer.span_in) },
            Source::S14,
        ));
        steps
    }

    /// Loads, section and allowed stress.
    fn load_steps(&self, answer: &SpanAnswer) -> Vec<WorkingStep> {
        let (stick, used) = (&answer.stick, &answer.used);
        let live = self.framing.live_or_snow_psf();
        let dead = psf_figure(self.dead);
        let spacing = self.spacing.inches();
        let (b, d) = (stick.thickness_in, stick.depth_in);
        vec![
            WorkingStep::new(
                "load on the member",
                "w = (live or snow + dead) x spacing / 144",
                format!("({} + {}) x {} / 144", trim(live, 2), trim(dead, 2), trim(spacing, 4)),
                format!("{} lb/in", trim(used.total_lb_per_in, 4)),
                Source::S14,
            ),
            WorkingStep::new(
                "live or snow load alone",
                "w_live = live or snow x spacing / 144",
                format!("{} x {} / 144", trim(live, 2), trim(spacing, 4)),
                format!("{} lb/in", trim(used.live_lb_per_in, 4)),
                Source::S14,
            ),
            WorkingStep::new(
                "section",
                "S = b d^2 / 6, I = b d^3 / 12",
                format!("{b} x {d}^2 / 6, {b} x {d}^3 / 12", b = trim(b, 3), d = trim(d, 3)),
                format!(
                    "S = {} in3, I = {} in4",
                    trim(stick.section_modulus_in3(), 4),
                    trim(stick.moment_of_inertia_in4(), 4)
                ),
                Source::S10,
            ),
            WorkingStep::new(
                "bending stress allowed",
                "F = Fb C_F C_r C_D",
                format!(
                    "{} x {} x {} x {}",
                    trim(stick.fb_psi, 0),
                    trim(stick.size_factor, 2),
                    trim(used.repetitive, 2),
                    trim(used.duration, 2)
                ),
                format!("{} psi", trim(bending_stress(answer), 3)),
                Source::S7,
            ),
        ]
    }

    /// The span by each limit.
    fn limit_steps(&self, answer: &SpanAnswer) -> Vec<WorkingStep> {
        let (stick, used) = (&answer.stick, &answer.used);
        let (b, d) = (stick.thickness_in, stick.depth_in);
        let w = trim(used.total_lb_per_in, 4);
        vec![
            WorkingStep::new(
                "span by bending",
                "sqrt(8 F S / w)",
                format!(
                    "sqrt(8 x {} x {} / {w})",
                    trim(bending_stress(answer), 3),
                    trim(stick.section_modulus_in3(), 4)
                ),
                format!("{} in", trim(answer.limits.bending_in, 2)),
                Source::S14,
            ),
            WorkingStep::new(
                "span by deflection",
                "cbrt(384 E I / (5 n w_live))",
                format!(
                    "cbrt(384 x {} x {} / (5 x {} x {}))",
                    trim(stick.e_psi, 0),
                    trim(stick.moment_of_inertia_in4(), 4),
                    self.deflection_limit,
                    trim(used.live_lb_per_in, 4)
                ),
                format!("{} in", trim(answer.limits.deflection_in, 2)),
                Source::S14,
            ),
            WorkingStep::new(
                "span by shear",
                "2 ((2/3) b d Fv C_D / w + d)",
                format!(
                    "2 x (2/3 x {} x {} x {} x {} / {w} + {})",
                    trim(b, 3),
                    trim(d, 3),
                    trim(stick.fv_psi, 0),
                    trim(used.duration, 2),
                    trim(d, 3)
                ),
                format!("{} in", trim(answer.limits.shear_in, 2)),
                Source::S16,
            ),
            WorkingStep::new(
                "span by end bearing",
                "2 Fc_perp A / w",
                format!("2 x {} x {} / {w}", trim(stick.fc_perp_psi, 0), trim(used.bearing_in2, 3)),
                format!("{} in", trim(answer.limits.bearing_in, 2)),
                if answer.table.is_some() { Source::S14 } else { Source::S16 },
            ),
        ]
    }
}

/// The allowed bending stress: Fb C_F C_r C_D, psi.
fn bending_stress(answer: &SpanAnswer) -> f64 {
    let (stick, used) = (&answer.stick, &answer.used);
    stick.fb_psi * stick.size_factor * used.repetitive * used.duration
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Grade, Species, sizes};
    use crate::measure::quantity::{inches, psf};
    use crate::strength::RoofLoad;

    #[test]
    fn the_working_holds_the_numbers() {
        let case = SpanCase::rafter(
            Species::SprucePineFir,
            Grade::No2,
            sizes::size("2x8").unwrap(),
            inches(16.0),
            RoofLoad::live_psf(20.0),
            psf(10.0),
            false,
        );
        let answer = case.solve().unwrap();
        let text: Vec<_> =
            case.working(&answer, Edition::Irc2021).iter().map(ToString::to_string).collect();
        let text = text.join("\n");
        for part in [
            "(20 + 10) x 16 / 144 = 3.3333 lb/in",
            "875 x 1.2 x 1.15 x 1.25 = 1509.375 psi",
            "218.18 in",
            "IRC 2021 table R802.4.1(1) = 18-2",
        ] {
            assert!(text.contains(part), "{part} not in\n{text}");
        }
    }
}
