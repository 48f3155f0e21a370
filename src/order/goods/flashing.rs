//! Linings of valleys, and flashing where a wall stands on a roof plane.

use crate::catalog::coverage;
use crate::measure::note::inches_to;
use crate::measure::quantity::{InInches, feet, inches};
use crate::measure::{Amount, Length, Note, trim};
use crate::plan::RoofingKind;
use crate::roof::EdgeKind;

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::roofing::{self, Laid};
use super::covered::How;
use super::roof::{Roof, Trades, pieces};

/// The metal in the valleys of a covering: its width, where that comes from, and whether a strip of underlayment of its own
/// goes under it.
struct ValleyMetal {
    width_in: f64,
    by: &'static str,
    has_strip: bool,
}

impl ValleyMetal {
    /// `None` where the valleys are lined from rolls.
    fn of(kind: RoofingKind) -> Option<ValleyMetal> {
        let (key, by, has_strip) = match kind {
            RoofingKind::Shingles | RoofingKind::Roll => return None,
            RoofingKind::MetalLapped | RoofingKind::MetalSealed | RoofingKind::MetalStanding => {
                ("valley_metal_panels_in", "common practice", false)
            }
            RoofingKind::MetalShingles => {
                ("valley_metal_shingles_in", "R905.4.6, from memory", true)
            }
            RoofingKind::Slate => ("valley_slate_in", "R905.6.6, from memory", false),
            RoofingKind::WoodShingles => ("valley_wood_shingles_in", "R905.7.6, from memory", true),
            RoofingKind::WoodShakes => ("valley_wood_shakes_in", "R905.8.8, from memory", true),
            RoofingKind::Tile => ("valley_tile_in", "R905.3.8, from memory", true),
        };
        Some(ValleyMetal { width_in: coverage::value(key), by, has_strip })
    }
}

impl Roof<'_> {
    /// The true length of each valley.
    fn valley_lengths(&self) -> Vec<Length> {
        self.covered.of(EdgeKind::Valley).map(|edge| inches(edge.length)).collect()
    }

    /// The strips of underlayment that go under the metal in valleys, besides the underlayment of the planes.
    pub(super) fn valley_strips(&self, kind: RoofingKind) -> Vec<Length> {
        if ValleyMetal::of(kind).is_some_and(|metal| metal.has_strip) {
            self.valley_lengths()
        } else {
            Vec::new()
        }
    }

    /// What lines the valleys, and its nails.
    pub(super) fn valleys(&self, kind: RoofingKind, trades: &mut Trades) {
        let valleys = self.valley_lengths();
        if valleys.is_empty() {
            return;
        }
        let each = coverage::value("valley_nail_in");
        trades.nails.push(NailUse {
            nail: "roofing",
            count: valleys.iter().map(|long| 2 * (whole(long.inches() / each) + 1)).sum(),
            joint: "valley linings".into(),
            how: Note::with("each {} along both edges", [inches_to(each, 0)]),
            by: "common practice".into(),
        });
        trades.needs.push(match ValleyMetal::of(kind) {
            Some(metal) => valley_metal(&metal, &valleys),
            None => valley_lining(kind, valleys),
        });
    }

    /// Flashing where walls stand on planes: beside a plane of strip shingles a piece a course, elsewhere by the length.
    pub(super) fn flashing(&self, kind: RoofingKind, trades: &mut Trades) {
        let of = |ways: &[How]| -> Vec<f64> {
            let own = self.covered.against.iter().filter(|against| ways.contains(&against.how));
            own.map(|against| against.length).filter(|length| *length > 0.0).collect()
        };
        let by_course = kind == RoofingKind::Shingles;
        let (beside, before) = if by_course {
            (of(&[How::Beside]), of(&[How::Head, How::Foot]))
        } else {
            (Vec::new(), of(&[How::Beside, How::Head, How::Foot]))
        };
        if !beside.is_empty() {
            step_flashing(&beside, trades);
        }
        if before.is_empty() {
            return;
        }
        let piece = feet(coverage::value("wall_flashing_piece_ft"));
        let lap = inches(coverage::value("wall_flashing_lap_in"));
        let count = |length: &f64| roofing::lapped_pieces(inches(*length), piece, lap);
        trades.needs.push(Need {
            length: Some(piece),
            ..Need::new(
                Trade::Roofing,
                "wall flashing",
                "wall flashing, bent",
                pieces(before.iter().map(count).sum()),
                if by_course {
                    "walls at the head or the foot of a roof plane"
                } else {
                    "walls beside, over and under roof planes"
                },
                Note::with(
                    "whole pieces along each wall, lapped {} (common practice)",
                    [inches_to(lap.inches(), 0)],
                ),
            )
        });
        let each = coverage::value("wall_flashing_nail_in");
        trades.nails.push(NailUse {
            nail: "roofing",
            count: before.iter().map(|length| whole(length / each) + 1).sum(),
            joint: "wall flashing".into(),
            how: Note::with("each {}", [inches_to(each, 0)]),
            by: "common practice".into(),
        });
    }
}

/// Metal in pieces.
fn valley_metal(metal: &ValleyMetal, valleys: &[Length]) -> Need {
    let piece = feet(coverage::value("valley_metal_piece_ft"));
    let lap = inches(coverage::value("valley_metal_lap_in"));
    let count = valleys.iter().map(|long| roofing::lapped_pieces(*long, piece, lap)).sum();
    Need {
        length: Some(piece),
        ..Need::new(
            Trade::Roofing,
            "valley metal",
            Note::with("valley metal, {} wide", [Amount::Inches(metal.width_in)]),
            pieces(count),
            "valleys",
            Note::with(
                format!(
                    "whole pieces along each valley, lapped {{}}; its width is the least ({})",
                    metal.by
                ),
                [inches_to(lap.inches(), 0)],
            ),
        )
    }
}

/// One ply from rolls.
fn valley_lining(kind: RoofingKind, valleys: Vec<Length>) -> Need {
    let width = coverage::value("valley_lining_in");
    let lap = coverage::value("valley_lining_lap_in");
    let metal = coverage::value("valley_open_metal_in");
    let roll_ft = coverage::value("valley_lining_roll_ft");
    let by = if kind == RoofingKind::Shingles {
        "R905.2.8.2, from memory; self-adhering sheets of this width may take its place, and in open valleys metal at least {} wide"
    } else {
        "common practice"
    };
    let laid = Laid { runs: valleys, roofs: 1, roll: feet(roll_ft), end_lap: inches(lap) };
    let mut figures = vec![Amount::Inches(lap)];
    figures.extend((kind == RoofingKind::Shingles).then_some(Amount::Inches(metal)));
    Need {
        weight_lb: Some(coverage::value("roll_roofing_lb")),
        ..Need::new(
            Trade::Roofing,
            "valley lining",
            Note::with(
                "valley lining, smooth roll roofing, {} x {}",
                [Amount::Inches(width), Amount::Feet(roll_ft)],
            ),
            (need::Amount::Rolls(laid), "roll"),
            "valleys",
            Note::with(format!("one ply along each valley, end laps {{}} ({by})"), figures),
        )
    }
}

fn step_flashing(beside: &[f64], trades: &mut Trades) {
    let exposure = coverage::value("strip_exposure_in");
    let leg = coverage::value("step_flashing_leg_in");
    let nails = coverage::value("step_flashing_nails");
    let count: u64 = beside.iter().map(|length| whole(length / exposure) + 1).sum();
    trades.needs.push(Need::new(
        Trade::Roofing,
        "step flashing",
        Note::with(
            "step flashing, at least {} up the wall and {} on the roof",
            [Amount::Inches(leg), Amount::Inches(leg)],
        ),
        pieces(count),
        Place::from("walls beside a roof plane"),
        Note::with(
            "one a course at {} (R905.2.8.3, its size from memory)",
            [inches_to(exposure, 1)],
        ),
    ));
    trades.nails.push(NailUse {
        nail: "roofing",
        count: count * nails as u64,
        joint: "step flashing".into(),
        how: format!("{} a piece", trim(nails, 0)).into(),
        by: "common practice".into(),
    });
}
