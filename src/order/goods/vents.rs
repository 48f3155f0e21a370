//! Vents, and what keeps the air's way open.

use crate::catalog::coverage;
use crate::measure::note::{feet_to, inches_to};
use crate::measure::quantity::inches;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Amount, Note, Writing, trim};
use crate::plan::Joists;
use crate::roof::EdgeKind;
use crate::rules::vents::VentArea;

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, whole};
use super::super::prices::keys;
use super::roof::{Roof, Trades, called, pieces};

/// The net free area of a vent along its length.
fn free_area(in2_a_foot: f64) -> Amount {
    let metric = Amount::SquareInchesAFoot(in2_a_foot).write(Writing::METRIC);
    Amount::Either {
        us: format!("{} sq in net free area a foot", trim(in2_a_foot, 1)),
        metric: format!("net free area {metric}"),
    }
}

impl Roof<'_> {
    /// Vents by the same area as in the code check ([`VentArea`]): a ridge vent over the whole ridge,
    /// and soffit vents as long as their share of the area requires.
    pub(super) fn vents(&self, trades: &mut Trades) {
        let checks = &self.plan.checks;
        let area = self.vent_area();
        let area = area.as_ref();
        let given = |in2: Option<f64>| in2.filter(|in2| *in2 > 0.0);
        let ridge = given(checks.ridge_vent_in2);
        let soffit = given(checks.soffit_vent_in2);
        if let (Some(area), None, None) = (area, ridge, soffit) {
            trades.notes.push(Note::with(
                "No vents are listed: set attic.ridge_vent and attic.soffit_vent. {}, 40 to 50 percent of it near the ridge.",
                [self.needed(area)],
            ));
        }
        if let Some(in2_a_foot) = ridge.filter(|_| checks.vented) {
            self.ridge_vent(in2_a_foot, area, trades);
        }
        if checks.baffles && self.sticks.plan.joists != Joists::None {
            self.baffles(trades);
        }
        let screws = self.louvers(trades) + area.map_or(0, |area| self.soffit_vents(area, trades));
        if screws > 0 {
            trades.needs.push(Need::new(
                Trade::Vents,
                "vent screws",
                "screws for vents and louvers",
                self.with_spare(screws as f64),
                "soffit vents, gable louvers",
                Note::with(
                    format!(
                        "each {{}} along both edges of a soffit vent, {} a louver (common practice), {}",
                        trim(coverage::value("louver_screws"), 0),
                        self.spare_words()
                    ),
                    [inches_to(coverage::value("soffit_vent_screw_in"), 0)],
                ),
            ));
        }
        let Some(area) = area else {
            return;
        };
        let gives = area.gives_in2();
        if (ridge.is_some() || soffit.is_some()) && gives + HAIR < area.needed_in2 {
            let gives = Amount::SquareInches(gives).or_in_us(trim(gives.floor(), 0));
            trades.notes.push(Note::with(
                "The vents listed give only {} of the {}.",
                [gives, self.needed(area).into()],
            ));
        }
        if area.eaves_closed && soffit.is_some() {
            trades.notes.push(
                "Full blocking closes the eaves: soffit vents need eave.blocking = held or none, or holes of the same net area in the \
                 blocks."
                    .into(),
            );
        }
    }

    /// One in each bay over the plates.
    fn baffles(&self, trades: &mut Trades) {
        let bays = self.bays();
        let of_eaves = match bays.as_slice() {
            [] => return,
            [first, others @ ..] if others.iter().all(|other| other == first) => {
                format!("{first} bays an eave")
            }
            all => format!("{} bays over {} plates", all.iter().sum::<u64>(), all.len()),
        };
        trades.needs.push(Need::new(
            Trade::Vents,
            "baffle",
            "insulation baffle",
            pieces(bays.iter().sum()),
            format!("each rafter bay at {}", self.covered.eaves()).as_str(),
            format!("one in each of {of_eaves} (common practice)"),
        ));
    }

    /// What the code needs, in words.
    fn needed(&self, area: &VentArea) -> Note {
        Note::with(
            format!("{{}} needed at 1/{} ({})", trim(area.one_in, 0), self.section(area.rule)),
            [Amount::SquareInches(area.needed_in2.ceil())],
        )
    }

    fn ridge_vent(&self, in2_a_foot: f64, area: Option<&VentArea>, trades: &mut Trades) {
        let piece_ft = coverage::value("ridge_vent_piece_ft");
        let each = coverage::value("ridge_vent_nail_in");
        let (mut vents, mut nails, mut ridges) = (0, 0, 0);
        for ridge in self.covered.of(EdgeKind::Ridge).filter(|ridge| ridge.over_walls > 0.0) {
            vents += whole(ridge.length / 12.0 / piece_ft);
            nails += 2 * (whole(ridge.length / each) + 1);
            ridges += 1;
        }
        if ridges == 0 {
            trades.notes.push(
                "No ridge vent is listed: this roof has no ridge for one (attic.ridge_vent)."
                    .into(),
            );
            return;
        }
        let basis = area.and_then(|area| Some((area, area.ridge?))).map_or(
            "no vent area is needed".into(),
            |(area, vent)| {
                let gives = vent.gives_in2();
                let gives = Amount::SquareInches(gives).or_in_us(trim(gives, 1));
                Note::with("counts for {} of {}", [gives, self.needed(area).into()])
            },
        );
        trades.needs.push(Need {
            length: Some(inches(piece_ft * 12.0)),
            ..Need::new(
                Trade::Vents,
                "ridge vent",
                Note::with("ridge vent, {}", [free_area(in2_a_foot)]),
                pieces(vents),
                if ridges == 1 { "whole ridge" } else { "whole ridges" },
                basis,
            )
        });
        trades.nails.push(NailUse {
            nail: keys::LONG_ROOFING,
            count: nails,
            joint: "ridge vent".into(),
            how: Note::with("each {} along both edges", [inches_to(each, 0)]),
            by: "common practice".into(),
        });
    }

    /// Louvers in framed gable openings; the number of their screws.
    fn louvers(&self, trades: &mut Trades) -> u64 {
        let count = self.sticks.vents() as u64;
        let Some(vent) = self.sticks.plan.vent.filter(|_| count > 0) else {
            return 0;
        };
        trades.needs.push(Need::new(
            Trade::Vents,
            "gable louver",
            Note::with(
                "gable louver for an opening of {} x {}",
                [called(vent.width), called(vent.height)],
            ),
            pieces(count),
            if self.sticks.gable.is_some() { "both gables" } else { "gables" },
            "one a framed opening",
        ));
        count * coverage::value("louver_screws") as u64
    }

    /// Soffit vents as long as their share of the area requires; returns the number of their screws.
    fn soffit_vents(&self, area: &VentArea, trades: &mut Trades) -> u64 {
        let Some((vent, feet)) = area.soffit.and_then(|vent| Some((vent, vent.for_its_part_ft()?)))
        else {
            return 0;
        };
        if feet > vent.there_is_ft + LAST_BITS {
            let free = vent.in2_a_foot;
            let free =
                Amount::SquareInchesAFoot(free).or_in_us(format!("{} sq in a foot", trim(free, 1)));
            trades.notes.push(Note::with(
                format!("Soffit vents of {{}} would have to be {{}} long, and {} are {{}}: choose vents with more area, or more above.", self.covered.eaves()),
                [free, Amount::Feet(whole(feet) as f64), feet_to(vent.there_is_ft, 1)],
            ));
        }
        let feet = feet.min(vent.there_is_ft);
        trades.needs.push(Need::new(
            Trade::Vents,
            "soffit vent",
            Note::with("soffit vent, {}", [free_area(vent.in2_a_foot)]),
            (need::Amount::Units(feet), "ft"),
            self.covered.eaves(),
            Note::with(
                "give {} of {}",
                [
                    Amount::SquareInches(vent.gives_in2()).or_in_us(trim(vent.gives_in2(), 1)),
                    self.needed(area).into(),
                ],
            ),
        ));
        2 * whole(feet * 12.0 / coverage::value("soffit_vent_screw_in"))
    }
}
