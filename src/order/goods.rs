//! All that is not lumber: panels, nails by the pound, ties, roofing, vents, soffit.

use crate::catalog::code_rules::{Rule, rule_in};
use crate::catalog::coverage;
use crate::catalog::panels::Panel;
use crate::deck::{Deck, EdgeSupport, RoofDeck};
use crate::frame::{Frame, Role};
use crate::measure::quantity::{
    Area, in_inches, in_millimeters, in_square_feet, inches, square_inches,
};
use crate::measure::{Length, Step, Tape, trim};
use crate::plan::{OrderPlan, RoofingKind, Starter};
use crate::rules::Book;
use crate::rules::vents::VentArea;

use super::fasteners::{NailTotal, NailUse};
use super::list::{Line, Trade};
use super::prices::Prices;
use super::roofing;

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

/// Thickness of the panels, inches: as written, else the least that the rating is made in.
pub(super) fn panel_thickness_in(plan: &OrderPlan, panel: &Panel) -> f64 {
    plan.checks
        .panel_thickness
        .map_or_else(|| panel.least_thickness_in(), in_inches)
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
        self.deck
            .planes
            .first()
            .map_or(Length::default(), |plane| plane.length.length())
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

    fn rule(&self, id: &str, otherwise: f64) -> f64 {
        rule_in(id, self.plan.checks.edition, None)
            .and_then(Rule::number)
            .unwrap_or(otherwise)
    }

    /// The section of a rule in the edition that is followed.
    fn section(&self, id: &str) -> &'static str {
        let edition = self.plan.checks.edition;
        rule_in(id, edition, None).map_or("common practice", |rule| rule.section_in(edition))
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

    pub(super) fn sheathing(
        &self,
        panel: &Panel,
        support: EdgeSupport,
        lines: &mut Vec<Line>,
        notes: &mut Vec<String>,
    ) {
        let deck = self.deck;
        let (height, length) = (self.plan.deck.sheet_height, self.plan.deck.sheet_length);
        let thickness = panel_thickness_in(self.plan, panel);
        let cubic_feet = in_inches(height) * in_inches(length) * thickness / 1728.0;
        let proof = if deck.proven() {
            "proven fewest under the laying rules (stepoff sheathing)".to_owned()
        } else if deck.groups > 1 && deck.groups_proven {
            "proven fewest for each plane by itself (stepoff sheathing)".to_owned()
        } else {
            format!(
                "at least {} are needed (stepoff sheathing)",
                deck.lower_bound_sheets
            )
        };
        let thicknesses: Vec<&str> = panel.thicknesses().collect();
        lines.push(Line {
            weight_lb: Some(cubic_feet * coverage::value("panel_lb_per_ft3") * deck.sheets as f64),
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
                (deck.sheets as u64, "sheet"),
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
            EdgeSupport::Needed { clips, .. } => {
                if self.edges_are("tongue") {
                    notes.push("Panels with tongue and groove are meant: no clips.".into());
                } else if self.edges_are("blocking") {
                    notes.push(format!(
                        "{clips} blocks between rafters carry the panel edges: they are not in the frame; add them to order.extra in the roof file."
                    ));
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
                        (ceil(clips as f64 * (1.0 + spare / 100.0)), "pc"),
                        "panel edges midway between rafters",
                        format!("{clips} counted, {} percent spare", trim(spare, 1)),
                    ));
                }
            }
        }
    }

    pub(super) fn nails(&self, nails: &[NailTotal], lines: &mut Vec<Line>) {
        for total in nails {
            let joints: Vec<String> = total
                .uses
                .iter()
                .map(|one| format!("{} {}", one.joint, one.count))
                .collect();
            let per_lb = coverage::nails_per_lb(total.nail);
            let (count, unit) = total
                .pounds
                .map_or((total.count, "pc"), |pounds| (pounds, "lb"));
            let what = match total.nail {
                "roofing" => "roofing nails".to_owned(),
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
                "one a rafter; nails as the maker asks, not counted here",
            )),
            None => notes.push(
                "No rafter tie-downs are asked for (rafter.tie_down in the roof file); the rules tell the uplift where wind is set."
                    .into(),
            ),
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
        let mut nails = self.underlayment(kind, lines, notes);
        nails.extend(self.drip_edge(kind, lines));
        nails.extend(self.covering(kind, area_ft2, lines, notes));
        nails
    }

    fn underlayment(
        &self,
        kind: RoofingKind,
        lines: &mut Vec<Line>,
        notes: &mut Vec<String>,
    ) -> Vec<NailUse> {
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
                    format!(
                        "{} in up the slope; {}",
                        trim(in_inches(barrier), 1),
                        rolls.basis
                    ),
                )
            });
        }
        let by_slope = match kind {
            RoofingKind::Tile | RoofingKind::Shingles => {
                pitch.unit_rise() < self.rule("shingle_double_underlayment", 4.0) - 1e-9
            }
            _ => false,
        };
        let double = checks.double_underlayment.unwrap_or(by_slope);
        // over the barrier's upper edge the first course laps as over any other
        let lap = self.rule("underlayment_single", 2.0);
        let width = if barrier > Length::default() {
            self.width() - barrier + inches(lap)
        } else {
            self.width()
        };
        if width <= Length::default() {
            return Vec::new();
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
                rolls.basis,
            )
        });
        Vec::new()
    }

    fn drip_edge(&self, kind: RoofingKind, lines: &mut Vec<Line>) -> Vec<NailUse> {
        let checks = &self.plan.checks;
        if !checks.drip_edge.unwrap_or(kind == RoofingKind::Shingles) {
            return Vec::new();
        }
        let piece = coverage::value("drip_piece_ft") * 12.0;
        let lap = self.rule("drip_edge_lap", 2.0);
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
                format!(
                    "whole pieces along each edge, lapped {} in (R905.2.8.5)",
                    trim(lap, 1)
                ),
            )
        });
        let spacing = self.rule("drip_edge_fasteners", 12.0);
        let edges = PLANES as f64 * in_inches(self.run()) + RAKES as f64 * in_inches(self.width());
        vec![NailUse {
            nail: "roofing",
            count: ceil(edges / spacing) + PLANES + RAKES,
            joint: "drip edge".into(),
            how: format!("each {} in", trim(spacing, 0)),
            by: "R905.2.8.5".into(),
        }]
    }

    fn covering(
        &self,
        kind: RoofingKind,
        area_ft2: f64,
        lines: &mut Vec<Line>,
        notes: &mut Vec<String>,
    ) -> Vec<NailUse> {
        let spare = self.plan.buy.spare_roofing;
        let squares = area_ft2 / 100.0 * (1.0 + spare / 100.0);
        let counted = format!(
            "{} square feet, {} percent spare",
            trim(area_ft2, 1),
            trim(spare, 1)
        );
        match kind {
            RoofingKind::Shingles => return self.shingles(squares, &counted, lines),
            RoofingKind::Roll => self.roll_roofing(lines),
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
                notes.push(format!(
                    "{name}: squares are counted; pieces, battens, fasteners and ridge go by the exposure and the maker's table."
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
        let each = self.rule("shingle_nails", 4.0);
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
                nail: "roofing",
                count: 2 * caps,
                joint: "ridge caps".into(),
                how: "2 a cap".into(),
                by: "R905.2.6, individual shingles".into(),
            },
        ]
    }

    fn roll_roofing(&self, lines: &mut Vec<Line>) {
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
        if kind != RoofingKind::MetalStanding {
            let squares = in_square_feet(self.area()) / 100.0;
            let spare = self.plan.buy.spare_nails;
            let screws =
                squares * coverage::value("metal_screws_per_square") * (1.0 + spare / 100.0);
            lines.push(self.line(
                Trade::Roofing,
                "metal screws",
                "roofing screws with washer",
                (ceil(screws), "pc"),
                "metal panels",
                format!(
                    "{} a square (common practice), {} percent spare",
                    trim(coverage::value("metal_screws_per_square"), 0),
                    trim(spare, 1)
                ),
            ));
        }
    }

    /// Vents by the area that the check of the code needs too ([`VentArea`]): ridge vent over the whole ridge, soffit
    /// vents as long as their part of the area asks.
    pub(super) fn vents(&self, lines: &mut Vec<Line>, notes: &mut Vec<String>) {
        let checks = &self.plan.checks;
        let area = VentArea::of(&Book {
            frame: self.frame,
            checks,
        });
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
            let basis = area
                .as_ref()
                .and_then(|area| Some((area, area.ridge?)))
                .map_or("no vent area is needed".to_owned(), |(area, vent)| {
                    format!(
                        "counts for {} of {}",
                        trim(vent.gives_in2(), 1),
                        needed(area)
                    )
                });
            lines.push(Line {
                length: Some(inches(piece_ft * 12.0)),
                ..self.line(
                    Trade::Vents,
                    "ridge vent",
                    format!(
                        "ridge vent, {} sq in net free area a foot",
                        trim(in2_a_foot, 1)
                    ),
                    (ceil(self.feet(self.run()) / piece_ft), "pc"),
                    "whole ridge",
                    basis,
                )
            });
        }
        let Some(area) = area else {
            return;
        };
        if let Some((vent, feet)) = area
            .soffit
            .and_then(|vent| Some((vent, vent.for_its_part_ft()?)))
        {
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
                format!(
                    "soffit vent, {} sq in net free area a foot",
                    trim(vent.in2_a_foot, 1)
                ),
                (ceil(feet.min(vent.there_is_ft)), "ft"),
                "both eaves",
                format!("give {} of {}", trim(vent.gives_in2(), 1), needed(&area)),
            ));
        }
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
        let kerf = in_inches(deck.kerf);
        let finish = in_inches(gable.rafter.finish);
        let site = &self.frame.site;
        let mut sheets = 0;
        let mut places = Vec::new();
        for (name, width, run, count) in [
            ("eaves", site.tail - finish, in_inches(self.run()), PLANES),
            ("rakes", site.rake - finish, in_inches(self.width()), RAKES),
        ] {
            if width <= 0.0 || width > sheet_height {
                if width > sheet_height {
                    notes.push(format!(
                        "The soffit of the {name} is wider than a sheet and is not counted."
                    ));
                }
                continue;
            }
            let strips = ((sheet_height + kerf) / (width + kerf)).floor().max(1.0) as u64;
            let needed = count * ceil(run / sheet_length);
            sheets += needed.div_ceil(strips);
            places.push(format!(
                "{name}: {needed} strips {} wide",
                fraction(inches(width))
            ));
        }
        if sheets == 0 {
            return;
        }
        let cubic_feet = in_inches(gable.soffit) * sheet_height * sheet_length / 1728.0;
        lines.push(Line {
            weight_lb: Some(
                cubic_feet * coverage::value("panel_lb_per_ft3") * sheets as f64,
            ),
            ..self.line(
                Trade::Soffit,
                "soffit panel",
                format!("soffit panel, {}", fraction(gable.soffit)),
                (sheets, "sheet"),
                places.join("; "),
                "strips of whole sheet length, none pieced; level under the eaves, along the slope under the rakes",
            )
        });
    }
}
