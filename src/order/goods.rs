//! All that is not lumber: panels, nails by the pound, ties, roofing, vents, soffit.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::catalog::coverage;
use crate::catalog::lumber::Section;
use crate::catalog::panels::Panel;
use crate::deck::{Deck, DeckProof, EdgeSupport, RoofDeck};
use crate::frame::{Frame, Role};
use crate::measure::quantity::{
    Area, in_inches, in_millimeters, in_square_feet, inches, square_inches,
};
use crate::measure::{Length, Step, Tape, trim};
use crate::plan::{Joists, OrderPlan, RoofingKind, Starter};
use crate::rules::Book;
use crate::rules::vents::VentArea;

use super::fasteners::{COMMON_8D, NailTotal, NailUse, in_a_row};
use super::list::{self, Line, Trade};
use super::prices::{Prices, keys};
use super::roofing;
use super::strips::{self, Run};

/// What the counts are taken from.
pub(super) struct Roof<'a> {
    pub(super) plan: &'a OrderPlan,
    pub(super) frame: &'a Frame,
    pub(super) roof_deck: &'a RoofDeck,
    pub(super) deck: &'a Deck,
    pub(super) prices: &'a Prices,
}

/// Roof planes of a gable.
const PLANES: u64 = 2;
/// Rakes of a gable.
const RAKES: u64 = 4;
/// Gables of a gable roof.
const GABLES: u64 = 2;

/// Thickness of the panels, inches: as written, else the least that the rating is made in.
pub(super) fn panel_thickness_in(plan: &OrderPlan, panel: &Panel) -> f64 {
    plan.checks.panel_thickness.map_or_else(|| panel.least_thickness_in(), in_inches)
}

/// A panel's thickness or width as it is called: `3/8 in`, `14-1/2 in`, `9 mm`.
fn fraction(length: Length) -> String {
    let sixty_fourths = in_inches(length) * 64.0;
    if (sixty_fourths - sixty_fourths.round()).abs() < 1e-6 {
        let tape = Tape::nearest(length, Step::SixtyFourth).inches();
        format!("{} in", tape.trim_end_matches('"'))
    } else {
        format!("{} mm", trim(in_millimeters(length), 1))
    }
}

fn ceil(value: f64) -> u64 {
    (value - 1e-9).ceil().max(0.0) as u64
}

impl Roof<'_> {
    /// Along the eave, as covered.
    fn run(&self) -> Length {
        self.deck.planes.first().map_or(Length::default(), |plane| plane.length.length())
    }

    /// Up the slope, roof edge to the ridge's center line.
    fn width(&self) -> Length {
        self.roof_deck.slope_width + self.plan.deck.past_fascia
    }

    /// Both planes.
    pub(super) fn area(&self) -> Area {
        square_inches(PLANES as f64 * in_inches(self.run()) * in_inches(self.width()))
    }

    fn feet(&self, length: Length) -> f64 {
        in_inches(length) / 12.0
    }

    fn rule(&self, id: RuleId, otherwise: f64) -> f64 {
        rule_in(id, self.plan.checks.edition, None).and_then(Rule::number).unwrap_or(otherwise)
    }

    /// The section of a rule in the edition that is followed.
    fn section(&self, id: RuleId) -> &'static str {
        let edition = self.plan.checks.edition;
        rule_in(id, edition, None).map_or("common practice", |rule| rule.section_in(edition))
    }

    /// A count with the spare of nails and clips.
    fn with_spare(&self, count: f64) -> u64 {
        ceil(count * (1.0 + self.plan.buy.spare_nails / 100.0))
    }

    /// True if a ridge vent lies over the whole ridge.
    fn ridge_is_vented(&self) -> bool {
        let checks = &self.plan.checks;
        checks.vented && checks.ridge_vent_in2.is_some_and(|in2| in2 > 0.0)
    }

    /// A line priced by its key.
    fn line(
        &self,
        trade: Trade,
        key: impl Into<String>,
        what: impl Into<String>,
        (count, unit): (u64, &'static str),
        goes_to: impl Into<String>,
        basis: impl Into<String>,
    ) -> Line {
        let key = key.into();
        let terms = self.prices.item(&key);
        Line {
            trade,
            each_cents: terms.and_then(|terms| terms.cents),
            code: terms.and_then(|terms| terms.code.clone()),
            key,
            what: what.into(),
            length: None,
            count,
            unit,
            goes_to: goes_to.into(),
            basis: basis.into(),
            weight_lb: None,
            lumber: None,
            in_hand: false,
        }
    }

    /// Whether the file names this word for what supports panel edges.
    fn edges_are(&self, word: &str) -> bool {
        self.plan.used.iter().any(|used| {
            used.field.key == "sheathing.edges"
                && used.given
                && used.value == crate::plan::Value::Words(word.into())
        })
    }

    /// Panels and what supports their edges between rafters; gives the nails of blocks there.
    pub(super) fn sheathing(
        &self,
        panel: &Panel,
        support: EdgeSupport,
        nail_edge_in: f64,
        lines: &mut Vec<Line>,
        notes: &mut Vec<String>,
    ) -> Vec<NailUse> {
        let mut nails = Vec::new();
        let deck = self.deck;
        let (height, length) = (self.plan.deck.sheet_height, self.plan.deck.sheet_length);
        let thickness = panel_thickness_in(self.plan, panel);
        let cubic_feet = in_inches(height) * in_inches(length) * thickness / 1728.0;
        let rules = deck.rules(fraction);
        let proof = match deck.proof() {
            DeckProof::Fewest => format!("proven fewest with {rules} (stepoff sheathing)"),
            DeckProof::EachPlane { .. } => {
                format!("proven fewest for each plane by itself, with {rules} (stepoff sheathing)")
            }
            DeckProof::Open { least } => {
                format!("at least {least} are needed (stepoff sheathing)")
            }
        };
        let thicknesses: Vec<&str> = panel.thicknesses().collect();
        lines.push(Line {
            weight_lb: Some(
                cubic_feet * coverage::value("panel_lb_per_ft3") * deck.sheets() as f64,
            ),
            ..self.line(
                Trade::Sheathing,
                format!("sheet {}", panel.rating),
                format!(
                    "roof panel rated {}, {}",
                    panel.rating,
                    self.plan
                        .checks
                        .panel_thickness
                        .map_or_else(|| format!("{} in", thicknesses.join(" or ")), fraction,)
                ),
                (deck.sheets() as u64, "sheet"),
                "both roof planes",
                proof,
            )
        });
        match support {
            EdgeSupport::NotNeeded { .. } => {}
            EdgeSupport::Fails { widest_in } => notes.push(format!(
                "FAILS: the widest bay of {} in is more than a panel rated {} spans.",
                trim(widest_in, 2),
                panel.rating
            )),
            EdgeSupport::Needed { clips, clips_a_bay, .. } => {
                if self.edges_are("tongue") {
                    notes.push("Panels with tongue and groove are meant: no clips.".into());
                } else if self.edges_are("blocking") {
                    let blocks = clips.div_ceil(clips_a_bay) as u64;
                    nails = self.edge_blocks(blocks, nail_edge_in, lines);
                } else if self.edges_are("none") {
                    notes.push(format!(
                        "The span table asks for support of the panel edges with rating {}, and [sheathing] edges says none.",
                        panel.rating
                    ));
                } else {
                    let spare = self.plan.buy.spare_nails;
                    lines.push(self.line(
                        Trade::Sheathing,
                        "clip",
                        format!(
                            "panel edge clip, {} in",
                            thicknesses.first().copied().unwrap_or_default()
                        ),
                        (self.with_spare(clips as f64), "pc"),
                        "panel edges midway between rafters",
                        format!("{clips} counted, {} percent spare", trim(spare, 1)),
                    ));
                }
            }
        }
        nails
    }

    /// Blocks of 2x4 laid flat between rafters under the panel edges, and their nails.
    fn edge_blocks(&self, blocks: u64, nail_edge_in: f64, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let gable = &self.plan.gable;
        let Some(section) = Section::nominal(2.0, 4.0) else {
            return Vec::new();
        };
        let long = gable.spacing - gable.rafter.stock.thickness;
        lines.push(Line {
            length: Some(long),
            lumber: Some(list::sawn(&section, long, blocks)),
            ..self.line(
                Trade::Sheathing,
                "edge block",
                "2x4 block under panel edges",
                (blocks, "pc"),
                "between rafters at the joints of the courses",
                "one in each bay that the panel does not span; cut from offcuts where they reach, not in the cutting plan",
            )
        });
        let over = 2 * in_a_row(in_inches(long), nail_edge_in);
        vec![
            NailUse {
                nail: COMMON_8D,
                count: 4 * blocks,
                joint: "edge blocks".into(),
                how: "2 an end, toenailed".into(),
                by: "common practice".into(),
            },
            NailUse {
                nail: COMMON_8D,
                count: over * blocks,
                joint: "panel edges over blocks".into(),
                how: format!("{} in along both edges", trim(nail_edge_in, 2)),
                by: "the panels' edge nailing".into(),
            },
        ]
    }

    pub(super) fn nails(&self, nails: &[NailTotal], lines: &mut Vec<Line>) {
        for total in nails {
            let joints: Vec<String> =
                total.uses.iter().map(|one| format!("{} {}", one.joint, one.count)).collect();
            let per_lb = coverage::nails_per_lb(total.nail);
            let (count, unit) = total.pounds.map_or((total.count, "pc"), |pounds| (pounds, "lb"));
            let what = match total.nail {
                "roofing" => "roofing nails".to_owned(),
                keys::LONG_ROOFING => "roofing nails, 2 in".to_owned(),
                nail => format!("{nail} nails"),
            };
            lines.push(Line {
                weight_lb: total.pounds.map(|pounds| pounds as f64),
                ..self.line(
                    Trade::Nails,
                    format!("nails {}", total.nail),
                    what,
                    (count, unit),
                    joints.join(", "),
                    format!(
                        "{} counted, {} percent spare{}",
                        total.count,
                        trim(self.plan.buy.spare_nails, 1),
                        per_lb.map_or(String::new(), |per_lb| format!(
                            ", {} a pound (memory)",
                            trim(per_lb, 0)
                        ))
                    ),
                )
            });
        }
    }

    pub(super) fn connectors(&self, lines: &mut Vec<Line>, notes: &mut Vec<String>) {
        let checks = &self.plan.checks;
        let count = |roles: &[Role]| -> u64 {
            self.frame
                .members
                .iter()
                .filter(|member| roles.contains(&member.role))
                .map(|member| member.count() as u64)
                .sum()
        };
        match checks.tie_down_lb.filter(|rated| *rated > 0.0) {
            Some(rated) => lines.push(self.line(
                Trade::Connectors,
                format!("tie-down {}", trim(rated, 0)),
                format!("rafter tie-down rated for {} lb uplift", trim(rated, 0)),
                (count(&[Role::CommonRafter, Role::EndRafter]), "pc"),
                "each rafter at its plate",
                "one a rafter",
            )),
            None => notes.push(
                "No rafter tie-downs are asked for (rafter.tie_down in the roof file); the rules tell the uplift where wind is set."
                    .into(),
            ),
        }
        if self.frame.site.half_ridge <= 0.0 {
            lines.push(self.line(
                Trade::Connectors,
                "gusset plate",
                "gusset plate at the peak",
                (self.frame.pairs.len() as u64, "pc"),
                "each pair of rafters that butts without a ridge board",
                format!("one a pair ({})", self.section(RuleId::RafterGussetOption)),
            ));
        }
        if checks.straps == Some(true) {
            lines.push(self.line(
                Trade::Connectors,
                "ridge strap",
                "ridge strap, 1-1/4 in x 20 gage",
                (self.frame.pairs.len() as u64, "pc"),
                "over the ridge at each pair",
                "R802.4.6",
            ));
        }
    }

    /// Covering, underlayment and edges; gives the roofing nails.
    pub(super) fn roofing(&self, lines: &mut Vec<Line>, notes: &mut Vec<String>) -> Vec<NailUse> {
        let checks = &self.plan.checks;
        let area_ft2 = in_square_feet(self.area());
        let Some(kind) = checks.roofing else {
            notes.push(format!(
                "No covering is set ([roofing] kind): the roof is {} square feet, {} squares, {} m2.",
                trim(area_ft2, 1),
                trim(area_ft2 / 100.0, 2),
                trim(area_ft2 * 0.092_903_04, 1)
            ));
            return Vec::new();
        };
        self.underlayment(kind, lines, notes);
        let mut nails = self.drip_edge(kind, lines);
        nails.extend(self.covering(kind, area_ft2, lines));
        nails
    }

    fn underlayment(&self, kind: RoofingKind, lines: &mut Vec<Line>, notes: &mut Vec<String>) {
        let checks = &self.plan.checks;
        let pitch = self.plan.gable.rafter.pitch;
        let mut barrier = Length::default();
        if checks.ice == Some(true) || checks.ice_barrier.is_some() {
            let overhang = self.plan.gable.rafter.overhang_from_building_line()
                + self.plan.deck.past_fascia / pitch.slope_factor();
            let needed = roofing::ice_barrier_width(overhang, pitch, checks.edition);
            barrier = checks.ice_barrier.unwrap_or(needed);
            if barrier < needed && checks.ice == Some(true) {
                notes.push(format!(
                    "The ice barrier of {} in along the slope does not reach the {} in that R905.1.2 asks.",
                    trim(in_inches(barrier), 2),
                    trim(in_inches(needed), 2)
                ));
            }
            let rolls = roofing::ice_barrier(PLANES, self.run(), barrier);
            lines.push(Line {
                weight_lb: Some(rolls.rolls as f64 * coverage::value("ice_roll_lb")),
                ..self.line(
                    Trade::Roofing,
                    "ice barrier",
                    "ice barrier, self-adhering, 36 in x 65 ft",
                    (rolls.rolls, "roll"),
                    "both eaves",
                    format!("{} in up the slope; {}", trim(in_inches(barrier), 1), rolls.basis),
                )
            });
        }
        let by_slope = match kind {
            RoofingKind::Tile | RoofingKind::Shingles => {
                pitch.unit_rise() < self.rule(RuleId::ShingleDoubleUnderlayment, 4.0) - 1e-9
            }
            _ => false,
        };
        let double = checks.double_underlayment.unwrap_or(by_slope);
        // over the barrier's upper edge the first course laps as over any other
        let lap = self.rule(RuleId::UnderlaymentSingle, 2.0);
        let width = if barrier > Length::default() {
            self.width() - barrier + inches(lap)
        } else {
            self.width()
        };
        if width <= Length::default() {
            return;
        }
        let rolls = roofing::underlayment(PLANES, self.run(), width, double, checks.edition);
        let roll_ft = coverage::value("underlayment_roll_ft");
        lines.push(Line {
            weight_lb: Some(rolls.rolls as f64 * coverage::value("underlayment_roll_lb")),
            ..self.line(
                Trade::Roofing,
                "underlayment",
                format!("underlayment, 36 in x {} ft", trim(roll_ft, 0)),
                (rolls.rolls, "roll"),
                "both roof planes",
                rolls.basis.clone(),
            )
        });
        let (lap_in, field_in) =
            (coverage::value("cap_nail_lap_in"), coverage::value("cap_nail_field_in"));
        let run = in_inches(self.run());
        let a_course = ceil(run / lap_in) + ceil(run / field_in) + 2;
        let count = PLANES * rolls.courses * a_course;
        lines.push(self.line(
            Trade::Roofing,
            "cap nails",
            "cap nails for the underlayment",
            (self.with_spare(count as f64), "pc"),
            "both roof planes",
            format!(
                "{count} counted: {} in along each lap, {} in up the middle of a course (common practice), {} percent spare",
                trim(lap_in, 0),
                trim(field_in, 0),
                trim(self.plan.buy.spare_nails, 1)
            ),
        ));
    }

    fn drip_edge(&self, kind: RoofingKind, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let checks = &self.plan.checks;
        if !checks.drip_edge.unwrap_or(kind == RoofingKind::Shingles) {
            return Vec::new();
        }
        let piece = coverage::value("drip_piece_ft") * 12.0;
        let lap = self.rule(RuleId::DripEdgeLap, 2.0);
        let eaves = PLANES * roofing::lapped_pieces(self.run(), piece, lap);
        let rakes = RAKES * roofing::lapped_pieces(self.width(), piece, lap);
        lines.push(Line {
            weight_lb: Some((eaves + rakes) as f64 * coverage::value("drip_piece_lb")),
            length: Some(inches(piece)),
            ..self.line(
                Trade::Roofing,
                "drip edge",
                "drip edge",
                (eaves + rakes, "pc"),
                format!("eaves {eaves}, rakes {rakes}"),
                format!("whole pieces along each edge, lapped {} in (R905.2.8.5)", trim(lap, 1)),
            )
        });
        let spacing = self.rule(RuleId::DripEdgeFasteners, 12.0);
        let edges = PLANES as f64 * in_inches(self.run()) + RAKES as f64 * in_inches(self.width());
        vec![NailUse {
            nail: "roofing",
            count: ceil(edges / spacing) + PLANES + RAKES,
            joint: "drip edge".into(),
            how: format!("each {} in", trim(spacing, 0)),
            by: "R905.2.8.5".into(),
        }]
    }

    fn covering(&self, kind: RoofingKind, area_ft2: f64, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let spare = self.plan.buy.spare_roofing;
        let squares = area_ft2 / 100.0 * (1.0 + spare / 100.0);
        let counted =
            format!("{} square feet, {} percent spare", trim(area_ft2, 1), trim(spare, 1));
        match kind {
            RoofingKind::Shingles => return self.shingles(squares, &counted, lines),
            RoofingKind::Roll => return self.roll_roofing(lines),
            RoofingKind::MetalLapped | RoofingKind::MetalSealed | RoofingKind::MetalStanding => {
                self.metal(kind, lines);
            }
            RoofingKind::MetalShingles
            | RoofingKind::Slate
            | RoofingKind::WoodShingles
            | RoofingKind::WoodShakes
            | RoofingKind::Tile => {
                let name = match kind {
                    RoofingKind::MetalShingles => "metal shingles",
                    RoofingKind::Slate => "slate",
                    RoofingKind::WoodShingles => "wood shingles",
                    RoofingKind::WoodShakes => "wood shakes",
                    _ => "tile",
                };
                lines.push(self.line(
                    Trade::Roofing,
                    format!("shingles {name}"),
                    name,
                    (ceil(squares), "square"),
                    "both roof planes",
                    counted,
                ));
            }
        }
        Vec::new()
    }

    fn shingles(&self, squares: f64, counted: &str, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let (width, exposure) = (
            inches(coverage::value("strip_width_in")),
            inches(coverage::value("strip_exposure_in")),
        );
        let strips_a_square = roofing::shingles_per_square(width, exposure);
        let bundles_a_square = coverage::value("bundles_per_square");
        let strips_a_bundle = strips_a_square / bundles_a_square;
        let bundle_lb = coverage::value("square_lb") / bundles_a_square;
        let mut bundles = |key: &str, what: &str, count: u64, goes_to: String, basis: String| {
            lines.push(Line {
                weight_lb: Some(count as f64 * bundle_lb),
                ..self.line(Trade::Roofing, key, what, (count, "bundle"), goes_to, basis)
            });
        };
        bundles(
            "shingles",
            "strip shingles, 36 x 12 in at 5 in",
            ceil(squares * bundles_a_square),
            "both roof planes".into(),
            format!(
                "{counted}: {} squares of {bundles_a_square} bundles (common practice)",
                trim(squares, 2)
            ),
        );
        let (run_ft, width_ft) = (self.feet(self.run()), self.feet(self.width()));
        let starter_ft = PLANES as f64 * run_ft
            + match self.plan.buy.starter {
                Starter::Eaves => 0.0,
                Starter::All => RAKES as f64 * width_ft,
            };
        let bundle_ft = strips_a_bundle * in_inches(width) / 12.0;
        bundles(
            "starter",
            "starter strip, of the same bundles",
            ceil(starter_ft / bundle_ft),
            match self.plan.buy.starter {
                Starter::Eaves => "both eaves".into(),
                Starter::All => "eaves and rakes".into(),
            },
            format!(
                "{} ft, {} ft a bundle (common practice)",
                trim(starter_ft, 1),
                trim(bundle_ft, 1)
            ),
        );
        let caps_a_bundle = strips_a_bundle * coverage::value("caps_per_strip");
        let cap_exposure = coverage::value("cap_exposure_in");
        let caps = ceil(in_inches(self.run()) / cap_exposure) + 1;
        bundles(
            "ridge cap",
            "ridge caps, cut from the same bundles",
            ceil(caps as f64 / caps_a_bundle),
            "ridge".into(),
            format!(
                "{caps} caps at {} in, {} a bundle (common practice)",
                trim(cap_exposure, 1),
                trim(caps_a_bundle, 0)
            ),
        );
        let each = self.rule(RuleId::ShingleNails, 4.0);
        let strips = ceil(squares * strips_a_square) + ceil(starter_ft * 12.0 / in_inches(width));
        vec![
            NailUse {
                nail: "roofing",
                count: strips * each as u64,
                joint: "strip shingles".into(),
                how: format!("{} a strip", trim(each, 0)),
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

    fn roll_roofing(&self, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let sheet = coverage::value("roll_roofing_width_in");
        let lap = coverage::value("roll_roofing_lap_in");
        let end_lap = coverage::value("roll_roofing_end_lap_in");
        let width = in_inches(self.width());
        let courses = 1 + ceil(((width - sheet) / (sheet - lap)).max(0.0));
        let rolls = roofing::rolls(
            PLANES * courses,
            in_inches(self.run()),
            coverage::value("roll_roofing_ft") * 12.0,
            end_lap,
        );
        lines.push(Line {
            weight_lb: Some(rolls as f64 * coverage::value("roll_roofing_lb")),
            ..self.line(
                Trade::Roofing,
                "roll roofing",
                "mineral-surfaced roll roofing, 36 in x 36 ft",
                (rolls, "roll"),
                "both roof planes",
                format!(
                    "{courses} courses a plane lapped {lap} in, end laps {end_lap} in (common practice); cut nothing for spare"
                ),
            )
        });
        let each = coverage::value("roll_roofing_nail_in");
        let rows = (courses + 1) as f64 * in_inches(self.run()) + 2.0 * width;
        vec![NailUse {
            nail: "roofing",
            count: PLANES * ceil(rows / each),
            joint: "roll roofing".into(),
            how: format!("each {} in along laps, eaves, ridge and rakes", trim(each, 0)),
            by: "common practice".into(),
        }]
    }

    fn metal(&self, kind: RoofingKind, lines: &mut Vec<Line>) {
        let cover = self.plan.buy.cover_width;
        let a_plane = ceil(in_inches(self.run()) / in_inches(cover));
        let panels = PLANES * a_plane;
        let panel_ft2 = in_inches(cover) * in_inches(self.width()) / 144.0;
        lines.push(Line {
            length: Some(self.width()),
            weight_lb: Some(panels as f64 * panel_ft2 * coverage::value("metal_lb_per_ft2")),
            ..self.line(
                Trade::Roofing,
                "metal panel",
                format!("metal panel, {} in cover", trim(in_inches(cover), 2)),
                (panels, "pc"),
                "both roof planes, eave to ridge",
                format!(
                    "{a_plane} a plane by cover width; add what the maker lets reach past the eave"
                ),
            )
        });
        let piece = coverage::value("metal_ridge_piece_ft") * 12.0;
        let lap = coverage::value("metal_ridge_lap_in");
        lines.push(Line {
            length: Some(inches(piece)),
            ..self.line(
                Trade::Roofing,
                "metal ridge",
                "metal ridge cap",
                (roofing::lapped_pieces(self.run(), piece, lap), "pc"),
                "ridge",
                format!("lapped {} in (common practice)", trim(lap, 0)),
            )
        });
        let spare = trim(self.plan.buy.spare_nails, 1);
        let ridge_in = coverage::value("metal_ridge_screw_in");
        let mut screws = ceil(in_inches(self.run()) / ridge_in) as f64 * 2.0 + 2.0;
        let mut how = format!("each {} in along both edges of the ridge cap", trim(ridge_in, 0));
        if kind == RoofingKind::MetalStanding {
            let each = coverage::value("seam_clip_in");
            let clips = panels * (ceil(in_inches(self.width()) / each) + 1);
            let screws_a_clip = coverage::value("clip_screws");
            let basis = |words: String| format!("{words} (common practice), {spare} percent spare");
            lines.push(self.line(
                Trade::Roofing,
                "seam clip",
                "clip for standing seams",
                (self.with_spare(clips as f64), "pc"),
                "one seam of every panel",
                basis(format!("{clips} counted, each {} in and at both ends", trim(each, 0))),
            ));
            lines.push(self.line(
                Trade::Roofing,
                "clip screws",
                "screws for the clips",
                (self.with_spare(clips as f64 * screws_a_clip), "pc"),
                "clips of the standing seams",
                basis(format!("{} a clip", trim(screws_a_clip, 0))),
            ));
        } else {
            let a_square = coverage::value("metal_screws_per_square");
            screws += in_square_feet(self.area()) / 100.0 * a_square;
            how = format!("{} a square, {how}", trim(a_square, 0));
        }
        lines.push(self.line(
            Trade::Roofing,
            "metal screws",
            "roofing screws with washer",
            (self.with_spare(screws), "pc"),
            "metal panels and ridge cap",
            format!("{how} (common practice), {spare} percent spare"),
        ));
    }

    /// Vents by the area that the check of the code needs too ([`VentArea`]): ridge vent over the whole ridge, soffit
    /// vents as long as their part of the area asks.
    pub(super) fn vents(&self, lines: &mut Vec<Line>, notes: &mut Vec<String>) -> Vec<NailUse> {
        let checks = &self.plan.checks;
        let mut nails = Vec::new();
        let mut screws = 0;
        let area = VentArea::of(&Book { frame: self.frame, checks });
        let needed = |area: &VentArea| {
            let section = self.section(area.rule);
            format!(
                "{} sq in needed at 1/{} ({section})",
                trim(area.needed_in2.ceil(), 0),
                trim(area.one_in, 0)
            )
        };
        let given = |in2: Option<f64>| in2.filter(|in2| *in2 > 0.0);
        let ridge = given(checks.ridge_vent_in2);
        let soffit = given(checks.soffit_vent_in2);
        if let (Some(area), None, None) = (&area, ridge, soffit) {
            notes.push(format!(
                "Vents: {}, 40 to 50 percent of it near the ridge; no vent is set under [attic], so none is listed.",
                needed(area)
            ));
        }
        if let Some(in2_a_foot) = ridge.filter(|_| checks.vented) {
            let piece_ft = coverage::value("ridge_vent_piece_ft");
            let basis = area.as_ref().and_then(|area| Some((area, area.ridge?))).map_or(
                "no vent area is needed".to_owned(),
                |(area, vent)| {
                    format!("counts for {} of {}", trim(vent.gives_in2(), 1), needed(area))
                },
            );
            lines.push(Line {
                length: Some(inches(piece_ft * 12.0)),
                ..self.line(
                    Trade::Vents,
                    "ridge vent",
                    format!("ridge vent, {} sq in net free area a foot", trim(in2_a_foot, 1)),
                    (ceil(self.feet(self.run()) / piece_ft), "pc"),
                    "whole ridge",
                    basis,
                )
            });
            let each = coverage::value("ridge_vent_nail_in");
            nails.push(NailUse {
                nail: keys::LONG_ROOFING,
                count: 2 * (ceil(in_inches(self.run()) / each) + 1),
                joint: "ridge vent".into(),
                how: format!("each {} in along both edges", trim(each, 0)),
                by: "common practice".into(),
            });
        }
        if checks.baffles && self.frame.plan.joists != Joists::None {
            let bays = (self.frame.pairs.len() as u64).saturating_sub(1);
            lines.push(self.line(
                Trade::Vents,
                "baffle",
                "insulation baffle",
                (PLANES * bays, "pc"),
                "each rafter bay at both eaves",
                format!("one in each of {bays} bays an eave (common practice)"),
            ));
        }
        if let Some(vent) = self.frame.plan.vent.filter(|_| self.frame.plan.gable_studs) {
            lines.push(self.line(
                Trade::Vents,
                "gable louver",
                format!(
                    "gable louver for an opening of {} x {}",
                    fraction(vent.width),
                    fraction(vent.height)
                ),
                (GABLES, "pc"),
                "both gables",
                "one a framed opening",
            ));
            screws += GABLES * coverage::value("louver_screws") as u64;
        }
        let soffit_feet = area.as_ref().and_then(|area| {
            let vent = area.soffit?;
            Some((area, vent, vent.for_its_part_ft()?))
        });
        if let Some((area, vent, feet)) = soffit_feet {
            if feet > vent.there_is_ft + 1e-9 {
                notes.push(format!(
                    "Soffit vents of {} sq in a foot would have to be {} ft long, and both eaves are {} ft: choose vents with \
                     more area, or more above.",
                    trim(vent.in2_a_foot, 1),
                    ceil(feet),
                    trim(vent.there_is_ft, 1)
                ));
            }
            lines.push(self.line(
                Trade::Vents,
                "soffit vent",
                format!("soffit vent, {} sq in net free area a foot", trim(vent.in2_a_foot, 1)),
                (ceil(feet.min(vent.there_is_ft)), "ft"),
                "both eaves",
                format!("give {} of {}", trim(vent.gives_in2(), 1), needed(area)),
            ));
            let each = coverage::value("soffit_vent_screw_in");
            screws += 2 * ceil(feet.min(vent.there_is_ft) * 12.0 / each);
        }
        if screws > 0 {
            lines.push(self.line(
                Trade::Vents,
                "vent screws",
                "screws for vents and louvers",
                (self.with_spare(screws as f64), "pc"),
                "soffit vents, gable louvers",
                format!(
                    "each {} in along both edges of a soffit vent, {} a louver (common practice), {} percent spare",
                    trim(coverage::value("soffit_vent_screw_in"), 0),
                    trim(coverage::value("louver_screws"), 0),
                    trim(self.plan.buy.spare_nails, 1)
                ),
            ));
        }
        let Some(area) = area else {
            return nails;
        };
        let gives = area.gives_in2();
        if (ridge.is_some() || soffit.is_some()) && gives + 1e-6 < area.needed_in2 {
            notes.push(format!(
                "Vents listed give {} of the {}.",
                trim(gives.floor(), 0),
                needed(&area)
            ));
        }
        if area.eaves_closed && soffit.is_some() {
            notes.push(
                "Full blocking closes the eaves: soffit vents need eave.blocking = held or none, or holes of the same net area in the \
                 blocks."
                    .into(),
            );
        }
        nails
    }

    /// What this roof takes and no line counts, each with the reason.
    pub(super) fn left_out(&self, lines: &[Line]) -> Vec<String> {
        let buy = &self.plan.buy;
        let has = |key: &str| lines.iter().any(|line| line.key.starts_with(key));
        let covering =
            keys::COVERINGS.into_iter().find(|covering| has(&format!("shingles {covering}")));
        [
            (
                buy.culls <= 0.0,
                "spare sticks for culls and slips of the saw: none (order.culls, percent)".to_owned(),
            ),
            (
                buy.plate_layers == 1,
                "the lower layer of the top plates: order.plates = \"double\" counts both".into(),
            ),
            (
                buy.plate_layers > 0,
                "nails of the top plates: they go with the walls".into(),
            ),
            (
                has("tie-down"),
                "nails of the rafter tie-downs: as many as the maker's table says".into(),
            ),
            (
                has("gusset plate"),
                "nails of the gusset plates: the code names no number; whoever designs them does".into(),
            ),
            (
                self.plan.gable.access.width.is_some(),
                format!(
                    "hangers at the headers of the attic access, where the headers are over 6 ft ({})",
                    self.section(RuleId::OpeningHangers)
                ),
            ),
            (
                has("roll roofing"),
                "lap cement: as the maker of the roll roofing says".into(),
            ),
            (
                has("soffit panel"),
                "nails of the soffit panels: 6d or as the panel's maker says".into(),
            ),
            (
                covering.is_some(),
                format!(
                    "pieces, battens, fasteners and ridge of {}: they go by the exposure and the maker's table",
                    covering.unwrap_or_default()
                ),
            ),
        ]
        .into_iter()
        .filter(|(applies, _)| *applies)
        .map(|(_, words)| words)
        .collect()
    }

    /// Strips of panel under the eaves and rakes.
    pub(super) fn soffit(&self, lines: &mut Vec<Line>, notes: &mut Vec<String>) {
        let gable = &self.plan.gable;
        if gable.soffit <= Length::default() {
            return;
        }
        let deck = &self.plan.deck;
        let (sheet_height, sheet_length) =
            (in_inches(deck.sheet_height), in_inches(deck.sheet_length));
        let finish = in_inches(gable.rafter.finish);
        let site = &self.frame.site;
        let mut runs = Vec::new();
        let mut places = Vec::new();
        for (name, width, run, count) in [
            ("eaves", site.tail - finish, self.run(), PLANES),
            ("rakes", site.rake - finish, self.width(), RAKES),
        ] {
            if width <= 0.0 || width > sheet_height {
                if width > sheet_height {
                    notes.push(format!(
                        "The soffit of the {name} is wider than a sheet and is not counted."
                    ));
                }
                continue;
            }
            let width = inches(width);
            let needed = count * ceil(in_inches(run) / sheet_length);
            places.push(format!("{name}: {needed} strips {} wide", fraction(width)));
            runs.push(Run { width, length: run, count });
        }
        let Some(cut) = strips::cut(&runs, deck.sheet_height, deck.sheet_length, deck.kerf) else {
            if !runs.is_empty() {
                notes.push(
                    "The soffit takes too many strips to be cut together and is not counted."
                        .into(),
                );
            }
            return;
        };
        let sheets = cut.sheets() as u64;
        let proof = if cut.is_proven() {
            format!("proven: {}", cut.rules())
        } else {
            let least = cut.bound().first().copied().unwrap_or(0);
            format!("at least {least} are needed; {}", cut.rules())
        };
        let cubic_feet = in_inches(gable.soffit) * sheet_height * sheet_length / 1728.0;
        lines.push(Line {
            weight_lb: Some(cubic_feet * coverage::value("panel_lb_per_ft3") * sheets as f64),
            ..self.line(
                Trade::Soffit,
                "soffit panel",
                format!("soffit panel, {}", fraction(gable.soffit)),
                (sheets, "sheet"),
                places.join("; "),
                format!("{proof}; level under the eaves, along the slope under the rakes"),
            )
        });
    }
}
