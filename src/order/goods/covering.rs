//! The covering: shingles, rolls, metal and goods sold by the square, with its ridge.

use crate::catalog::code_rules::RuleId;
use crate::catalog::coverage;
use crate::measure::note::{feet_to, inches_to};
use crate::measure::quantity::{InInches, feet, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note, Writing, trim};
use crate::plan::{RoofingKind, Starter};
use crate::roof::EdgeKind;

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::prices::keys;
use super::super::roofing::{self, Courses, Laid};
use super::covered::CoveredEdge;
use super::roof::{Roof, Trades, pieces};
use super::underlayment::courses_in_words;

impl Roof<'_> {
    pub(super) fn covering(&self, kind: RoofingKind, area_ft2: f64, trades: &mut Trades) {
        let by_the_square = match kind {
            RoofingKind::Shingles => return self.shingles(area_ft2, trades),
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
        let (squares, counted) = self.squares(area_ft2);
        trades.needs.push(Need::new(
            Trade::Roofing,
            format!("shingles {by_the_square}"),
            by_the_square,
            (need::Amount::Units(squares), "square"),
            self.covered.planes(),
            counted,
        ));
    }

    /// Squares of a covering that is laid in courses, with the spare, and with what slanting cuts lose at hips and valleys;
    /// and how they are counted.
    fn squares(&self, area_ft2: f64) -> (f64, Note) {
        let spare = self.plan.buy.spare_roofing;
        let squares = area_ft2 / 100.0 * (1.0 + spare / 100.0);
        let of =
            |ft2: f64| Amount::SquareFeet(ft2).or_in_us(format!("{} square feet", trim(ft2, 1)));
        let slanted_ft2 = self.covered.slanted_in2() / 144.0;
        if slanted_ft2 <= 0.0 {
            let words = format!("{{}}, {} percent spare", trim(spare, 1));
            return (squares, Note::with(words, [of(area_ft2)]));
        }
        let more = coverage::value("slanted_waste_percent");
        let words = format!(
            "{{}}, {} percent spare, and {} percent of the {{}} that hips and valleys cut (common practice)",
            trim(spare, 1),
            trim(more, 1)
        );
        let squares = squares + slanted_ft2 / 100.0 * more / 100.0;
        (squares, Note::with(words, [of(area_ft2), of(slanted_ft2)]))
    }

    fn shingles(&self, area_ft2: f64, trades: &mut Trades) {
        let (squares, counted) = self.squares(area_ft2);
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
            self.covered.planes(),
            Note::with(
                format!(
                    "{{}}: {} squares of {bundles_a_square} bundles (common practice)",
                    trim(squares, 2)
                ),
                [counted],
            ),
        );
        let feet = |kind: EdgeKind| self.covered.length(kind).inches() / 12.0;
        let (starter_ft, starts) = match self.plan.buy.starter {
            Starter::Eaves => (feet(EdgeKind::Eave), self.covered.eaves()),
            Starter::All => (feet(EdgeKind::Eave) + feet(EdgeKind::Rake), "eaves and rakes"),
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
        let caps: u64 = self.crests().map(|edge| whole(edge.length / cap_exposure) + 1).sum();
        if caps > 0 {
            bundles(
                "ridge cap",
                if self.has(EdgeKind::Hip) {
                    "ridge and hip caps, cut from the same bundles".into()
                } else {
                    "ridge caps, cut from the same bundles".into()
                },
                caps as f64 / caps_a_bundle,
                self.crest_words(),
                Note::with(
                    format!(
                        "{caps} caps at {{}}, {} a bundle (common practice)",
                        trim(caps_a_bundle, 0)
                    ),
                    [inches_to(cap_exposure, 1)],
                ),
            );
        }
        let strips = whole(squares * strips_a_square) + whole(starter_ft * 12.0 / width.inches());
        trades.nails.extend(self.shingle_nails(strips, caps));
    }

    /// What caps cover: ridges and hips.
    fn crests(&self) -> impl Iterator<Item = &CoveredEdge> {
        let crests = |edge: &&CoveredEdge| matches!(edge.kind, EdgeKind::Ridge | EdgeKind::Hip);
        self.covered.edges.iter().filter(crests)
    }

    fn has(&self, kind: EdgeKind) -> bool {
        self.covered.of(kind).next().is_some()
    }

    fn crest_words(&self) -> &'static str {
        match (self.covered.of(EdgeKind::Ridge).count(), self.has(EdgeKind::Hip)) {
            (0, _) => "hips",
            (1, false) => "ridge",
            (_, false) => "ridges",
            (1, true) => "ridge and hips",
            (_, true) => "ridges and hips",
        }
    }

    /// Nails for these strips and caps.
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
        let each = coverage::value("roll_roofing_nail_in");
        let mut runs: Vec<Length> = Vec::new();
        let mut courses: Vec<usize> = Vec::new();
        let mut nails = 0;
        for face in &self.covered.faces {
            let of = Courses::single(sheet, lap, (0.0, face.height()));
            courses.push(of.bands.len());
            let mut rows = face.around_in;
            for (course, band) in of.bands.iter().enumerate() {
                let strips = face.strips(*band);
                if course > 0 {
                    rows += strips.iter().map(|strip| strip.inches()).sum::<f64>();
                }
                runs.extend(strips);
            }
            nails += whole(rows / each);
        }
        let basis = Note::with(
            format!(
                "{} lapped {{}}, end laps {{}} (common practice); cut nothing for spare",
                courses_in_words(&courses)
            ),
            [Amount::Inches(lap), Amount::Inches(end_lap)],
        );
        let laid = Laid {
            runs,
            roofs: 1,
            roll: feet(coverage::value("roll_roofing_ft")),
            end_lap: inches(end_lap),
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
                (need::Amount::Rolls(laid), "roll"),
                self.covered.planes(),
                basis,
            )
        });
        trades.nails.push(NailUse {
            nail: "roofing",
            count: nails,
            joint: "roll roofing".into(),
            how: Note::with("each {} along laps, eaves, ridge and rakes", [inches_to(each, 0)]),
            by: "common practice".into(),
        });
    }

    fn metal(&self, kind: RoofingKind, trades: &mut Trades) {
        let cover = self.plan.buy.cover_width;
        let faces = &self.covered.faces;
        let panels: Vec<f64> = faces.iter().flat_map(|face| face.panels(cover.inches())).collect();
        trades.needs.push(match panels.as_slice() {
            [first, others @ ..] if others.iter().all(|tall| (tall - first).abs() <= HAIR) => {
                self.whole_panels(cover, inches(*first), panels.len() as u64)
            }
            all => cut_panels(cover, all),
        });
        let piece = feet(coverage::value("metal_ridge_piece_ft"));
        let lap = inches(coverage::value("metal_ridge_lap_in"));
        let caps: u64 =
            self.crests().map(|edge| roofing::lapped_pieces(inches(edge.length), piece, lap)).sum();
        if caps > 0 {
            trades.needs.push(Need {
                length: Some(piece),
                ..Need::new(
                    Trade::Roofing,
                    "metal ridge",
                    if self.has(EdgeKind::Hip) {
                        "metal ridge and hip cap"
                    } else {
                        "metal ridge cap"
                    },
                    pieces(caps),
                    self.crest_words(),
                    Note::with("lapped {} (common practice)", [inches_to(lap.inches(), 0)]),
                )
            });
        }
        self.metal_screws(kind, &panels, trades);
    }

    /// Panels of one length, by the piece.
    fn whole_panels(&self, cover: Length, long: Length, panels: u64) -> Need {
        let a_plane = panels / self.covered.faces.len().max(1) as u64;
        let panel_ft2 = cover.inches() * long.inches() / 144.0;
        Need {
            length: Some(long),
            weight_lb: Some(panel_ft2 * coverage::value("metal_lb_per_ft2")),
            ..Need::new(
                Trade::Roofing,
                "metal panel",
                Note::with("metal panel, {} cover", [inches_to(cover.inches(), 2)]),
                pieces(panels),
                format!("{}, eave to ridge", self.covered.planes()).as_str(),
                format!(
                    "{a_plane} a plane by cover width; add what the maker lets reach past the eave"
                ),
            )
        }
    }

    /// Screws of metal panels and their ridge; also clips for standing seams.
    fn metal_screws(&self, kind: RoofingKind, panels: &[f64], trades: &mut Trades) {
        let basis = |words: Note| {
            Note::with(format!("{{}} (common practice), {}", self.spare_words()), [words])
        };
        let ridge_in = coverage::value("metal_ridge_screw_in");
        let crests = self.crests().map(|edge| whole(edge.length / ridge_in) as f64 * 2.0 + 2.0);
        let mut screws = crests.sum::<f64>();
        let mut how =
            Note::with("each {} along both edges of the ridge cap", [inches_to(ridge_in, 0)]);
        if kind == RoofingKind::MetalStanding {
            let each = coverage::value("seam_clip_in");
            let clips = panels.iter().map(|tall| whole(tall / each) + 1).sum::<u64>();
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
            screws += self.covered.area_in2() / 144.0 / 100.0 * a_square;
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

/// Panels of several lengths, each as long as its face is there, up to the next inch: by the foot, with the list to cut.
fn cut_panels(cover: Length, panels: &[f64]) -> Need {
    let mut lengths: Vec<(u64, u64)> = Vec::new();
    for tall in panels {
        let up = whole(*tall);
        match lengths.iter_mut().find(|(known, _)| *known == up) {
            Some((_, count)) => *count += 1,
            None => lengths.push((up, 1)),
        }
    }
    lengths.sort_by(|one, other| other.cmp(one));
    let total_ft = lengths.iter().map(|(up, count)| (up * count) as f64).sum::<f64>() / 12.0;
    let list = lengths
        .iter()
        .map(|(up, count)| Note::with(format!("{count} x {{}}"), [inches(*up as f64)]))
        .collect();
    Need {
        weight_lb: Some(cover.inches() / 12.0 * coverage::value("metal_lb_per_ft2")),
        ..Need::new(
            Trade::Roofing,
            "metal panel cut",
            Note::with("metal panel, {} cover, cut to length", [inches_to(cover.inches(), 2)]),
            (need::Amount::Units(total_ft), "ft"),
            "all roof planes",
            Note::with(
                "from one corner of each plane on, up to the next inch: {}; add what the maker lets reach past the eave",
                [Note::list(list, ", ")],
            ),
        )
    }
}
