//! Everything under the covering: ice barrier, underlayment, drip edge.

use crate::catalog::code_rules::RuleId;
use crate::catalog::coverage;
use crate::measure::note::{feet_to, inches_to};
use crate::measure::quantity::{InInches, feet, in_square_feet, inches, square_inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Amount, Length, Note, Writing, trim};
use crate::plan::RoofingKind;
use crate::roof::EdgeKind;

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::roofing::{self, Laid};
use super::roof::{Roof, Trades, pieces};

/// `3 courses a plane`, or `13 courses on 5 planes` where planes are unlike.
pub(super) fn courses_in_words(courses: &[usize]) -> String {
    match courses {
        [first, others @ ..] if others.iter().all(|other| other == first) => {
            format!("{first} courses a plane")
        }
        all => format!("{} courses on {} planes", all.iter().sum::<usize>(), all.len()),
    }
}

/// Planes that take one layer or two.
#[derive(Default)]
struct Layers {
    /// The courses of each plane.
    courses: Vec<usize>,
    /// How far one laps over the one below.
    lap: Length,
}

impl Roof<'_> {
    /// The covering, and everything under it and along its edges.
    pub(super) fn roofing(&self, trades: &mut Trades) {
        let area_ft2 = in_square_feet(square_inches(self.covered.area_in2()));
        let Some(kind) = self.plan.checks.roofing else {
            let metric = Writing::METRIC.square_feet(area_ft2, 0);
            let us = format!(
                "{} square feet, {} squares, {metric}",
                trim(area_ft2, 1),
                trim(area_ft2 / 100.0, 2)
            );
            trades.notes.push(Note::with(
                "No roofing is listed: set roofing.kind. The roof is {}.",
                [Amount::Either { us, metric }],
            ));
            trades.notes.extend(self.edges_in_words());
            return;
        };
        let barriers = self.ice_barrier(trades);
        self.underlayment(kind, &barriers, trades);
        self.valleys(kind, trades);
        self.drip_edge(kind, trades);
        self.flashing(kind, trades);
        self.covering(kind, area_ft2, trades);
    }

    /// How long the edges of a roof are that is more than one gable, for who counts its covering by hand.
    fn edges_in_words(&self) -> Option<Note> {
        self.sticks.hung?;
        let walls: f64 = self.covered.against.iter().map(|against| against.length).sum();
        let of = |kind: EdgeKind| self.covered.borders(kind).map(|edge| edge.length).sum::<f64>();
        let each = [
            (of(EdgeKind::Eave), "{} of eaves"),
            (of(EdgeKind::Rake), "{} of rakes"),
            (of(EdgeKind::Ridge), "{} of ridge"),
            (of(EdgeKind::Hip), "{} of hips"),
            (of(EdgeKind::Valley), "{} of valleys"),
            (walls, "{} along walls that stand on it"),
        ];
        let each = each.into_iter().filter(|(length, _)| *length > 0.0);
        let each = each.map(|(length, words)| Note::with(words, [inches(length)])).collect();
        Some(Note::with("It has {}.", [Note::list(each, ", ")]))
    }

    /// Ice barrier along all eaves; its width up each plane from its lowest edge, 0 if there is none.
    fn ice_barrier(&self, trades: &mut Trades) -> Vec<Length> {
        let checks = &self.plan.checks;
        let faces = &self.covered.faces;
        let mut barriers = vec![Length::default(); faces.len()];
        if checks.ice != Some(true) && checks.ice_barrier.is_none() {
            return barriers;
        }
        let mut runs = Vec::new();
        let mut courses = Vec::new();
        let mut widths: Vec<Length> = Vec::new();
        let mut most_needed = Length::default();
        for eave in self.covered.of(EdgeKind::Eave) {
            let needed = roofing::ice_barrier_width(inches(eave.past_wall), faces[eave.face].pitch);
            let barrier = checks.ice_barrier.unwrap_or(needed);
            if barrier < needed {
                most_needed = most_needed.max(needed);
            }
            let own = roofing::ice_barrier_courses(barrier);
            runs.extend((0..own).map(|_| inches(eave.length)));
            courses.push(own);
            widths.push(barrier);
            if eave.up <= HAIR {
                barriers[eave.face] = barrier;
            }
        }
        let Some((least, most)) = range(&widths) else { return barriers };
        if most_needed > Length::default() && checks.ice == Some(true) {
            trades.notes.push(Note::with(
                "The ice barrier is too narrow: {} up the slope, and R905.1.2 requires {}.",
                [inches_to(least.inches(), 2), inches_to(most_needed.inches(), 2)],
            ));
        }
        let (side_lap, end_lap) =
            (coverage::value("ice_side_lap_in"), coverage::value("ice_end_lap_in"));
        let of_eaves = if courses.iter().all(|own| *own == courses[0]) {
            format!("{} courses an eave", courses[0])
        } else {
            format!("{} courses on {} eaves", courses.iter().sum::<u64>(), courses.len())
        };
        let laps = format!("{of_eaves}, side laps {{}}, end laps {{}} (common practice)");
        let laps = Note::with(laps, [Amount::Inches(side_lap), Amount::Inches(end_lap)]);
        let basis = if most - least > inches(HAIR) {
            let of = [inches_to(least.inches(), 1), inches_to(most.inches(), 1), laps.into()];
            Note::with("{} to {} up the slope; {}", of)
        } else {
            Note::with("{} up the slope; {}", [inches_to(most.inches(), 1), laps.into()])
        };
        let roll = feet(coverage::value("ice_roll_ft"));
        let laid = Laid { runs, roofs: 1, roll, end_lap: inches(end_lap) };
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("ice_roll_lb")),
            ..Need::new(
                Trade::Roofing,
                "ice barrier",
                Note::with(
                    "ice barrier, self-adhering, {} x {}",
                    [Amount::Inches(36.0), Amount::Feet(coverage::value("ice_roll_ft"))],
                ),
                (need::Amount::Rolls(laid), "roll"),
                self.covered.eaves(),
                basis,
            )
        });
        barriers
    }

    fn underlayment(&self, kind: RoofingKind, barriers: &[Length], trades: &mut Trades) {
        let checks = &self.plan.checks;
        // over the barrier's upper edge the first course laps as over any other
        let lap = const { RuleId::UnderlaymentSingle.figure() };
        let (lap_in, field_in) =
            (coverage::value("cap_nail_lap_in"), coverage::value("cap_nail_field_in"));
        let mut runs = Vec::new();
        let mut cap_nails = 0;
        // one layer, two layers
        let mut layers = [Layers::default(), Layers::default()];
        for (face, barrier) in self.covered.faces.iter().zip(barriers) {
            let by_slope = match kind {
                RoofingKind::Tile | RoofingKind::Shingles => {
                    face.pitch.unit_rise()
                        < const { RuleId::ShingleDoubleUnderlayment.figure() } - LAST_BITS
                }
                _ => false,
            };
            let double = checks.double_underlayment.unwrap_or(by_slope);
            let low = (barrier.inches() - lap).max(0.0);
            let low = if *barrier > Length::default() { low } else { 0.0 };
            if face.height() <= low {
                continue;
            }
            let of = roofing::underlayment((low, face.height()), double, checks.edition);
            let own = &mut layers[usize::from(double)];
            own.courses.push(of.bands.len());
            own.lap = of.lap;
            if let Some((from, to)) = of.bands.first().filter(|_| double) {
                runs.extend(face.strips((*from, (from + to) / 2.0)));
            }
            for band in &of.bands {
                let strips = face.strips(*band);
                let a_course = |run: &Length| {
                    whole(run.inches() / lap_in) + whole(run.inches() / field_in) + 2
                };
                cap_nails += strips.iter().map(a_course).sum::<u64>();
                runs.extend(strips);
            }
        }
        if runs.is_empty() {
            return;
        }
        let strips = self.valley_strips(kind);
        let has_strips = !strips.is_empty();
        runs.extend(strips);
        let end_lap = roofing::UNDERLAYMENT_END_LAP_IN;
        let in_words = |(of, words): (&Layers, &str)| {
            (!of.courses.is_empty()).then(|| {
                Note::with(
                    format!(
                        "{words}{} lapped {{}}, end laps {{}} (table R905.1.1(2))",
                        courses_in_words(&of.courses)
                    ),
                    [inches_to(of.lap.inches(), 1), Amount::Inches(end_lap)],
                )
            })
        };
        let each = ["one layer: ", "two layers: starter strip at the eave, "];
        let mut basis: Vec<Note> = layers.iter().zip(each).filter_map(in_words).collect();
        if has_strips {
            basis.push("and a strip along each valley under its metal".into());
        }
        let basis = Note::list(basis, "; ");
        let roll_ft = coverage::value("underlayment_roll_ft");
        let laid = Laid { runs, roofs: 1, roll: feet(roll_ft), end_lap: inches(end_lap) };
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("underlayment_roll_lb")),
            ..Need::new(
                Trade::Roofing,
                "underlayment",
                Note::with("underlayment, {} x {}", [Amount::Inches(36.0), feet_to(roll_ft, 0)]),
                (need::Amount::Rolls(laid), "roll"),
                self.covered.planes(),
                basis,
            )
        });
        trades.needs.push(Need::new(
            Trade::Roofing,
            "cap nails",
            "cap nails for the underlayment",
            self.with_spare(cap_nails as f64),
            self.covered.planes(),
            Note::with(
                format!(
                    "{cap_nails} counted: {{}} along each lap, {{}} up the middle of a course (common practice), {}",
                    self.spare_words()
                ),
                [inches_to(lap_in, 0), inches_to(field_in, 0)],
            ),
        ));
    }

    fn drip_edge(&self, kind: RoofingKind, trades: &mut Trades) {
        if !self.plan.checks.drip_edge.unwrap_or(kind == RoofingKind::Shingles) {
            return;
        }
        let piece = feet(coverage::value("drip_piece_ft"));
        let lap = inches(const { RuleId::DripEdgeLap.figure() });
        let of = |kind: EdgeKind| -> u64 {
            let edges = self.covered.borders(kind);
            edges.map(|edge| roofing::lapped_pieces(inches(edge.length), piece, lap)).sum()
        };
        let counts = [("eaves", of(EdgeKind::Eave)), ("rakes", of(EdgeKind::Rake))];
        let places = counts.iter().filter(|(_, count)| *count > 0);
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("drip_piece_lb")),
            length: Some(piece),
            ..Need::new(
                Trade::Roofing,
                "drip edge",
                "drip edge",
                pieces(counts.iter().map(|(_, count)| count).sum()),
                Place::Counts(places.map(|(at, count)| ((*at).into(), *count)).collect()),
                Note::with(
                    "whole pieces along each edge, lapped {} (R905.2.8.5)",
                    [inches_to(lap.inches(), 1)],
                ),
            )
        });
        let spacing = const { RuleId::DripEdgeFasteners.figure() };
        let edges = [EdgeKind::Eave, EdgeKind::Rake].map(|kind| {
            let own = || self.covered.borders(kind);
            (own().map(|edge| edge.length).sum::<f64>(), own().count() as u64)
        });
        trades.nails.push(NailUse {
            nail: "roofing",
            count: whole((edges[0].0 + edges[1].0) / spacing) + edges[0].1 + edges[1].1,
            joint: "drip edge".into(),
            how: Note::with("each {}", [inches_to(spacing, 0)]),
            by: "R905.2.8.5".into(),
        });
    }
}

/// The least and the greatest of some lengths.
fn range(lengths: &[Length]) -> Option<(Length, Length)> {
    let first = *lengths.first()?;
    Some(
        lengths.iter().fold((first, first), |(least, most), own| (least.min(*own), most.max(*own))),
    )
}
