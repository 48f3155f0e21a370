//! The covering: shingles, rolls, metal and goods sold by the square, with its ridge.

use crate::catalog::code_rules::RuleId;
use crate::catalog::coverage;
use crate::measure::note::{feet_to, inches_to};
use crate::measure::quantity::{InInches, feet, in_square_feet, inches};
use crate::measure::{Amount, Length, Note, Writing, trim};
use crate::plan::{RoofingKind, Starter};

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::prices::keys;
use super::super::roofing::{self, Laid};
use super::roof::{PLANES, RAKES, Roof, Trades, pieces};

impl Roof<'_> {
    pub(super) fn covering(&self, kind: RoofingKind, area_ft2: f64, trades: &mut Trades) {
        let spare = self.plan.buy.spare_roofing;
        let squares = area_ft2 / 100.0 * (1.0 + spare / 100.0);
        let area =
            Amount::SquareFeet(area_ft2).or_in_us(format!("{} square feet", trim(area_ft2, 1)));
        let counted = Note::with(format!("{{}}, {} percent spare", trim(spare, 1)), [area]);
        let by_the_square = match kind {
            RoofingKind::Shingles => return self.shingles(squares, &counted, trades),
            RoofingKind::Roll => return self.roll_roofing(trades),
            RoofingKind::MetalLapped | RoofingKind::MetalSealed | RoofingKind::MetalStanding => {
                return self.metal(kind, trades);
            }
            RoofingKind::MetalShingles => "metal shingles",
            RoofingKind::Slate => "slate",
            RoofingKind::WoodShingles => "wood shingles",
            RoofingKind::WoodShakes => "wood shakes",
            RoofingKind::Tile => "tile",
        };
        trades.needs.push(Need::new(
            Trade::Roofing,
            format!("shingles {by_the_square}"),
            by_the_square,
            (need::Amount::Units(squares), "square"),
            "both roof planes",
            counted,
        ));
    }

    fn shingles(&self, squares: f64, counted: &Note, trades: &mut Trades) {
        let (width, exposure) = (
            inches(coverage::value("strip_width_in")),
            inches(coverage::value("strip_exposure_in")),
        );
        let strips_a_square = roofing::shingles_per_square(width, exposure);
        let bundles_a_square = coverage::value("bundles_per_square");
        let strips_a_bundle = strips_a_square / bundles_a_square;
        let bundle_lb = coverage::value("square_lb") / bundles_a_square;
        let mut bundles = |key: &str, what: Note, amount: f64, goes_to: &str, basis: Note| {
            trades.needs.push(Need {
                weight_lb: Some(bundle_lb),
                ..Need::new(
                    Trade::Roofing,
                    key,
                    what,
                    (need::Amount::Units(amount), "bundle"),
                    Place::Words(goes_to.into()),
                    basis,
                )
            });
        };
        bundles(
            "shingles",
            Note::with(
                "strip shingles, {} x {} at {}",
                [
                    Amount::Inches(width.inches()).or_in_us(trim(width.inches(), 0)),
                    Amount::Inches(12.0),
                    Amount::Inches(exposure.inches()),
                ],
            ),
            squares * bundles_a_square,
            "both roof planes",
            Note::with(
                format!(
                    "{{}}: {} squares of {bundles_a_square} bundles (common practice)",
                    trim(squares, 2)
                ),
                [counted.clone()],
            ),
        );
        let feet = |length: Length| length.inches() / 12.0;
        let (starter_ft, starts) = match self.plan.buy.starter {
            Starter::Eaves => (PLANES as f64 * feet(self.run()), "both eaves"),
            Starter::All => (
                PLANES as f64 * feet(self.run()) + RAKES as f64 * feet(self.width()),
                "eaves and rakes",
            ),
        };
        let bundle_ft = strips_a_bundle * width.inches() / 12.0;
        bundles(
            "starter",
            "starter strip, of the same bundles".into(),
            starter_ft / bundle_ft,
            starts,
            Note::with(
                "{}, {} a bundle (common practice)",
                [feet_to(starter_ft, 1), feet_to(bundle_ft, 1)],
            ),
        );
        let caps_a_bundle = strips_a_bundle * coverage::value("caps_per_strip");
        let cap_exposure = coverage::value("cap_exposure_in");
        let caps = whole(self.run().inches() / cap_exposure) + 1;
        bundles(
            "ridge cap",
            "ridge caps, cut from the same bundles".into(),
            caps as f64 / caps_a_bundle,
            "ridge",
            Note::with(
                format!(
                    "{caps} caps at {{}}, {} a bundle (common practice)",
                    trim(caps_a_bundle, 0)
                ),
                [inches_to(cap_exposure, 1)],
            ),
        );
        let strips = whole(squares * strips_a_square) + whole(starter_ft * 12.0 / width.inches());
        trades.nails.extend(self.shingle_nails(strips, caps));
    }

    /// Nails for these strips and ridge caps.
    fn shingle_nails(&self, strips: u64, caps: u64) -> [NailUse; 2] {
        let each = const { RuleId::ShingleNails.figure() };
        [
            NailUse {
                nail: "roofing",
                count: strips * each as u64,
                joint: "strip shingles".into(),
                how: format!("{} a strip", trim(each, 0)).into(),
                by: "R905.2.6".into(),
            },
            NailUse {
                // through a vent and into the panels
                nail: if self.ridge_is_vented() { keys::LONG_ROOFING } else { "roofing" },
                count: 2 * caps,
                joint: "ridge caps".into(),
                how: "2 a cap".into(),
                by: "R905.2.6, individual shingles".into(),
            },
        ]
    }

    fn roll_roofing(&self, trades: &mut Trades) {
        let sheet = coverage::value("roll_roofing_width_in");
        let lap = coverage::value("roll_roofing_lap_in");
        let end_lap = coverage::value("roll_roofing_end_lap_in");
        let width = self.width().inches();
        let courses = 1 + whole(((width - sheet) / (sheet - lap)).max(0.0));
        let laid = Laid {
            courses,
            runs: PLANES * courses,
            run: self.run(),
            roll: feet(coverage::value("roll_roofing_ft")),
            end_lap: inches(end_lap),
            basis: Note::with(
                format!(
                    "{courses} courses a plane lapped {{}}, end laps {{}} (common practice); cut nothing for spare"
                ),
                [Amount::Inches(lap), Amount::Inches(end_lap)],
            ),
        };
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("roll_roofing_lb")),
            ..Need::new(
                Trade::Roofing,
                "roll roofing",
                Note::with(
                    "mineral-surfaced roll roofing, {} x {}",
                    [Amount::Inches(sheet), Amount::Feet(coverage::value("roll_roofing_ft"))],
                ),
                (need::Amount::Rolls(laid.clone()), "roll"),
                "both roof planes",
                laid.basis,
            )
        });
        let each = coverage::value("roll_roofing_nail_in");
        let rows = (courses + 1) as f64 * self.run().inches() + 2.0 * width;
        trades.nails.push(NailUse {
            nail: "roofing",
            count: PLANES * whole(rows / each),
            joint: "roll roofing".into(),
            how: Note::with("each {} along laps, eaves, ridge and rakes", [inches_to(each, 0)]),
            by: "common practice".into(),
        });
    }

    fn metal(&self, kind: RoofingKind, trades: &mut Trades) {
        let cover = self.plan.buy.cover_width;
        let a_plane = whole(self.run().inches() / cover.inches());
        let panels = PLANES * a_plane;
        let panel_ft2 = cover.inches() * self.width().inches() / 144.0;
        trades.needs.push(Need {
            length: Some(self.width()),
            weight_lb: Some(panel_ft2 * coverage::value("metal_lb_per_ft2")),
            ..Need::new(
                Trade::Roofing,
                "metal panel",
                Note::with("metal panel, {} cover", [inches_to(cover.inches(), 2)]),
                pieces(panels),
                "both roof planes, eave to ridge",
                format!(
                    "{a_plane} a plane by cover width; add what the maker lets reach past the eave"
                ),
            )
        });
        let piece = feet(coverage::value("metal_ridge_piece_ft"));
        let lap = inches(coverage::value("metal_ridge_lap_in"));
        trades.needs.push(Need {
            length: Some(piece),
            ..Need::new(
                Trade::Roofing,
                "metal ridge",
                "metal ridge cap",
                pieces(roofing::lapped_pieces(self.run(), piece, lap)),
                "ridge",
                Note::with("lapped {} (common practice)", [inches_to(lap.inches(), 0)]),
            )
        });
        self.metal_screws(kind, panels, trades);
    }

    /// Screws of metal panels and their ridge; also clips for standing seams.
    fn metal_screws(&self, kind: RoofingKind, panels: u64, trades: &mut Trades) {
        let basis = |words: Note| {
            Note::with(format!("{{}} (common practice), {}", self.spare_words()), [words])
        };
        let ridge_in = coverage::value("metal_ridge_screw_in");
        let mut screws = whole(self.run().inches() / ridge_in) as f64 * 2.0 + 2.0;
        let mut how =
            Note::with("each {} along both edges of the ridge cap", [inches_to(ridge_in, 0)]);
        if kind == RoofingKind::MetalStanding {
            let each = coverage::value("seam_clip_in");
            let clips = panels * (whole(self.width().inches() / each) + 1);
            let screws_a_clip = coverage::value("clip_screws");
            trades.needs.push(Need::new(
                Trade::Roofing,
                "seam clip",
                "clip for standing seams",
                self.with_spare(clips as f64),
                "one seam of every panel",
                basis(Note::with(
                    format!("{clips} counted, each {{}} and at both ends"),
                    [inches_to(each, 0)],
                )),
            ));
            trades.needs.push(Need::new(
                Trade::Roofing,
                "clip screws",
                "screws for the clips",
                self.with_spare(clips as f64 * screws_a_clip),
                "clips of the standing seams",
                basis(format!("{} a clip", trim(screws_a_clip, 0)).into()),
            ));
        } else {
            let a_square = coverage::value("metal_screws_per_square");
            screws += in_square_feet(self.area()) / 100.0 * a_square;
            let a_square = trim(a_square, 0);
            // a square is 100 square feet
            let of = format!("{a_square} for each {}", Writing::METRIC.square_feet(100.0, 1));
            let of = Amount::Either { us: format!("{a_square} a square"), metric: of };
            how = Note::with("{}, {}", [of, how.into()]);
        }
        trades.needs.push(Need::new(
            Trade::Roofing,
            "metal screws",
            "roofing screws with washer",
            self.with_spare(screws),
            "metal panels and ridge cap",
            basis(how),
        ));
    }
}
