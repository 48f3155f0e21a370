//! What the code findings need beyond the frame: the code, loads, lumber, covering, attic, site.

use super::asked::{Asked, OwnLimit, Used};
use super::entry::Entries;
use super::fault::Faults;
use super::gable::GablePlan;
use crate::catalog::code_rules::{RuleId, jurisdiction, rules};
use crate::catalog::panels::Panel;
use crate::catalog::{Edition, Grade, Species};
use crate::measure::quantity::{in_psf, psf};
use crate::measure::{Length, Pressure};

/// Wind exposure of the site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WindExposure {
    /// Among houses and trees.
    B,
    /// Open country.
    C,
    /// Open water.
    D,
}

/// Seismic design category, as far as the rules here tell them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seismic {
    /// A, B or C.
    AToC,
    /// D0, D1 or D2.
    D,
}

/// What supports panel edges between rafters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PanelEdges {
    /// Nothing.
    None,
    /// Clips, blocking, or tongue and groove.
    Supported,
}

/// Roof covering.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoofingKind {
    /// Asphalt shingles.
    Shingles,
    /// Lapped metal panels without sealant.
    MetalLapped,
    /// Lapped metal panels with sealant in the laps.
    MetalSealed,
    /// Standing seam metal.
    MetalStanding,
    /// Metal shingles.
    MetalShingles,
    /// Mineral-surfaced roll roofing.
    Roll,
    /// Slate.
    Slate,
    /// Wood shingles.
    WoodShingles,
    /// Wood shakes.
    WoodShakes,
    /// Clay or concrete tile.
    Tile,
}

/// The conditions of an attic without vents, each as it was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unvented {
    /// The whole attic lies inside the insulated shell.
    pub inside: Option<bool>,
    /// No Class I vapor retarder on the ceiling side.
    pub no_class_1: Option<bool>,
    /// Air-impermeable insulation at the deck, or enough of it over the deck.
    pub airtight: Option<bool>,
    /// That insulation is, or carries, a Class II vapor retarder.
    pub class_2: Option<bool>,
    /// Vented air under wood shingles or shakes.
    pub airspace: Option<bool>,
}

/// Everything the findings need that decides no stick. `None` where nothing was written.
#[derive(Debug, Clone, PartialEq)]
pub struct ChecksPlan {
    /// Edition of the model code.
    pub edition: Edition,
    /// State whose amendments count.
    pub jurisdiction: Option<&'static str>,
    /// Roof live load, of level projection.
    pub live: Pressure,
    /// Ground snow load.
    pub snow: Option<Pressure>,
    /// Dead load, of level projection.
    pub dead: Option<Pressure>,
    /// Ultimate design wind speed, mph.
    pub wind_mph: Option<f64>,
    /// Wind exposure.
    pub exposure: Option<WindExposure>,
    /// Seismic design category.
    pub seismic: Option<Seismic>,
    /// Species of rafters and joists.
    pub species: Option<Species>,
    /// Grade of rafters and joists.
    pub grade: Option<Grade>,
    /// True if a finished ceiling hangs on the rafters.
    pub ceiling_on_rafters: bool,
    /// Span of ceiling joists that run along the ridge.
    pub joist_span: Option<Length>,
    /// 16d common nails specified at each heel; `None` for as many as are needed.
    pub heel_nails: Option<f64>,
    /// 16d common nails specified in each lap of joists; `None` for as many as are needed.
    pub lap_nails: Option<f64>,
    /// Spacing of bridging.
    pub bridging: Option<Length>,
    /// Rated uplift of the rafter tie-down, pounds.
    pub tie_down_lb: Option<f64>,
    /// Rated uplift of the connectors down the eave walls, pounds a foot.
    pub wall_strap_plf: Option<f64>,
    /// Gusset plates at a ridge without board.
    pub gussets: Option<bool>,
    /// Ridge straps.
    pub straps: Option<bool>,
    /// Roof panels.
    pub panel: Option<&'static Panel>,
    /// Their thickness, if it was written.
    pub panel_thickness: Option<Length>,
    /// What supports their edges.
    pub edges: Option<PanelEdges>,
    /// Nail spacing along panel edges.
    pub nail_edge: Option<Length>,
    /// Nail spacing between.
    pub nail_field: Option<Length>,
    /// Nail spacing near eaves, ridge and rakes, if it was written.
    pub nail_zone: Option<Length>,
    /// Roof covering.
    pub roofing: Option<RoofingKind>,
    /// True for two layers of underlayment.
    pub double_underlayment: Option<bool>,
    /// Drip edge.
    pub drip_edge: Option<bool>,
    /// The place is designated for ice at the eaves.
    pub ice: Option<bool>,
    /// Width of the ice barrier up the slope.
    pub ice_barrier: Option<Length>,
    /// Fixed stairs to the attic.
    pub attic_stairs: bool,
    /// Headers of the attic opening doubled.
    pub access_headers_doubled: Option<bool>,
    /// Trimmers of the attic opening doubled.
    pub access_trimmers_doubled: Option<bool>,
    /// Rated pull of what carries a cut joist past the attic opening, pounds.
    pub access_tie_lb: Option<f64>,
    /// The attic is ventilated.
    pub vented: bool,
    /// Net free area of a foot of soffit, square inches.
    pub soffit_vent_in2: Option<f64>,
    /// Net free area of a foot of ridge vent, square inches.
    pub ridge_vent_in2: Option<f64>,
    /// Net free area of the vent in each gable, square inches.
    pub gable_vent_in2: Option<f64>,
    /// What an attic without vents must have.
    pub unvented: Unvented,
    /// Climate zone, 1 to 8.
    pub climate_zone: Option<u8>,
    /// A Class I or II vapor retarder on the warm side.
    pub vapor_retarder: bool,
    /// Depth of insulation on the ceiling.
    pub insulation: Option<Length>,
    /// Baffles at the eaves.
    pub baffles: bool,
    /// Floor above the ground.
    pub floor_height: Option<Length>,
    /// Eave wall to lot line.
    pub lot_line: Option<Length>,
    /// Gable end wall to lot line.
    pub lot_line_rake: Option<Length>,
    /// Eave undersides rated or fireblocked.
    pub eave_rated: Option<bool>,
    /// Undersides of rakes rated.
    pub rake_rated: Option<bool>,
    /// Walls near a lot line rated.
    pub wall_rated: Option<bool>,
    /// Sprinklers.
    pub sprinklers: bool,
    /// A detached garage or shed without heat.
    pub garage: bool,
    /// Limits of the user's own, by field key.
    pub limits: Vec<(&'static str, OwnLimit)>,
}

/// The fields of `[limits]`, in the table's order.
pub const LIMIT_KEYS: [&str; 17] = [
    "limits.height",
    "limits.snow",
    "limits.notch",
    "limits.bearing",
    "limits.tail",
    "limits.cantilever",
    "limits.tie_spacing",
    "limits.collar_spacing",
    "limits.lap",
    "limits.heel_nails",
    "limits.rafter_span",
    "limits.joist_span",
    "limits.uplift",
    "limits.panel_span",
    "limits.rake",
    "limits.ice_barrier",
    "limits.lot_line",
];

/// Editions as they are written.
pub const EDITIONS: [(&str, Edition); 4] = [
    ("2015", Edition::Irc2015),
    ("2018", Edition::Irc2018),
    ("2021", Edition::Irc2021),
    ("2024", Edition::Irc2024),
];

const PLIES: [(&str, bool); 2] = [("single", false), ("double", true)];
const YES_NO: [(&str, bool); 2] = [("yes", true), ("no", false)];

impl ChecksPlan {
    /// Reads the gable and what is held against the code out of what was written.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<(GablePlan, ChecksPlan, Vec<Used>), Faults> {
        let mut asked = Asked::new(entries);
        let gable = GablePlan::ask(&mut asked);
        let of_the_frame = asked.used.len();
        let checks = ChecksPlan::ask(&mut asked);
        asked.check_the_rest();
        match (gable, checks) {
            (Some(mut gable), Some(checks)) if asked.faults.is_empty() => {
                let of_the_checks = asked.used.split_off(of_the_frame);
                gable.rafter.used = asked.used;
                Ok((gable, checks, of_the_checks))
            }
            _ => Err(asked.faults),
        }
    }

    /// Asks for every field; `None` if one could not be read.
    pub fn ask(asked: &mut Asked<'_>) -> Option<ChecksPlan> {
        let edition = asked.choice("code.edition", &EDITIONS);
        let state = asked.named("code.jurisdiction", jurisdiction);
        let live = asked.load("loads.live");
        if live.is_some_and(|live| in_psf(live) <= 0.0) {
            asked.refuse(
                "loads.live",
                "a roof without live load can't be worked on",
                "write the load, or leave it out",
            );
        }
        let plan = ChecksPlan {
            edition: edition.unwrap_or_default(),
            jurisdiction: state,
            live: live.unwrap_or(psf(RuleId::RoofLiveLt4A200.figure())),
            snow: asked.load("loads.snow"),
            dead: asked.load("loads.dead"),
            wind_mph: asked.speed_mph("loads.wind"),
            exposure: asked.choice(
                "loads.exposure",
                &[("b", WindExposure::B), ("c", WindExposure::C), ("d", WindExposure::D)],
            ),
            seismic: asked.choice(
                "loads.seismic",
                &[
                    ("a", Seismic::AToC),
                    ("b", Seismic::AToC),
                    ("c", Seismic::AToC),
                    ("d0", Seismic::D),
                    ("d1", Seismic::D),
                    ("d2", Seismic::D),
                ],
            ),
            species: asked.named("lumber.species", str::parse::<Species>),
            grade: asked.named("lumber.grade", str::parse::<Grade>),
            ceiling_on_rafters: yes(asked, "ceiling.on_rafters"),
            joist_span: asked.optional_length("ceiling.joist_span"),
            heel_nails: asked.number("ceiling.heel_nails"),
            lap_nails: asked.number("ceiling.lap_nails"),
            bridging: asked.optional_length("rafter.bridging"),
            tie_down_lb: asked.number("rafter.tie_down"),
            wall_strap_plf: asked.number("building.wall_strap"),
            gussets: asked.choice("ridge.gussets", &YES_NO),
            straps: asked.choice("ridge.straps", &YES_NO),
            panel: asked.panel("sheathing.panel"),
            panel_thickness: asked.optional_length("sheathing.thickness"),
            edges: asked.choice(
                "sheathing.edges",
                &[
                    ("none", PanelEdges::None),
                    ("clips", PanelEdges::Supported),
                    ("blocking", PanelEdges::Supported),
                    ("tongue", PanelEdges::Supported),
                ],
            ),
            nail_edge: asked.optional_length("sheathing.nail_edge"),
            nail_field: asked.optional_length("sheathing.nail_field"),
            nail_zone: asked.optional_length("sheathing.nail_zone"),
            roofing: asked.choice("roofing.kind", &ROOFINGS),
            double_underlayment: asked
                .choice("roofing.underlayment", &[("single", false), ("double", true)]),
            drip_edge: asked.choice("roofing.drip_edge", &YES_NO),
            ice: asked.choice("roofing.ice", &YES_NO),
            ice_barrier: asked.optional_length("roofing.ice_barrier"),
            attic_stairs: yes(asked, "attic.stairs"),
            access_headers_doubled: asked.choice("attic.access_headers", &PLIES),
            access_trimmers_doubled: asked.choice("attic.access_trimmers", &PLIES),
            access_tie_lb: asked.number("attic.access_tie"),
            vented: yes(asked, "attic.vented"),
            soffit_vent_in2: asked.number("attic.soffit_vent"),
            ridge_vent_in2: asked.number("attic.ridge_vent"),
            gable_vent_in2: asked.number("gable.vent_area"),
            unvented: Unvented {
                inside: asked.choice("attic.inside_envelope", &YES_NO),
                no_class_1: asked.choice("attic.no_class_1", &YES_NO),
                airtight: asked.choice("attic.airtight_insulation", &YES_NO),
                class_2: asked.choice("attic.class_2", &YES_NO),
                airspace: asked.choice("attic.shingle_airspace", &YES_NO),
            },
            climate_zone: asked.choice(
                "attic.climate_zone",
                &[("1", 1), ("2", 2), ("3", 3), ("4", 4), ("5", 5), ("6", 6), ("7", 7), ("8", 8)],
            ),
            vapor_retarder: yes(asked, "attic.vapor_retarder"),
            insulation: asked.optional_length("insulation.depth"),
            baffles: yes(asked, "insulation.baffles"),
            floor_height: asked.optional_length("site.floor_height"),
            lot_line: asked.optional_length("site.lot_line"),
            lot_line_rake: asked.optional_length("site.lot_line_rake"),
            eave_rated: asked.choice("site.eave_rated", &YES_NO),
            rake_rated: asked.choice("site.rake_rated", &YES_NO),
            wall_rated: asked.choice("site.wall_rated", &YES_NO),
            sprinklers: yes(asked, "site.sprinklers"),
            garage: asked.choice("site.building", &[("dwelling", false), ("garage", true)])
                == Some(true),
            limits: LIMIT_KEYS
                .iter()
                .filter_map(|key| asked.limit(key).map(|limit| (*key, limit)))
                .collect(),
        };
        plan.refuse_amendments_of_another_edition(asked);
        if plan.vented {
            asked.forget(&[
                "attic.inside_envelope",
                "attic.no_class_1",
                "attic.airtight_insulation",
                "attic.class_2",
                "attic.shingle_airspace",
            ]);
        }
        (edition.is_some() && live.is_some()).then_some(plan)
    }

    fn refuse_amendments_of_another_edition(&self, asked: &mut Asked<'_>) {
        let Some(state) = self.jurisdiction else {
            return;
        };
        let of_the_state = || rules().iter().filter(move |rule| rule.jurisdiction == Some(state));
        if of_the_state().any(|rule| rule.editions().contains(self.edition)) {
            return;
        }
        let known: Vec<String> = Edition::ALL
            .into_iter()
            .filter(|edition| of_the_state().any(|rule| rule.editions().contains(*edition)))
            .map(|edition| edition.year().to_string())
            .collect();
        asked.refuse(
            "code.jurisdiction",
            format!("no amendment of {state} to {} is known here", self.edition),
            format!("write edition {}, or leave the state out", known.join(" or ")),
        );
    }
}

const ROOFINGS: [(&str, RoofingKind); 10] = [
    ("shingles", RoofingKind::Shingles),
    ("metal-lapped", RoofingKind::MetalLapped),
    ("metal-sealed", RoofingKind::MetalSealed),
    ("metal-standing", RoofingKind::MetalStanding),
    ("metal-shingles", RoofingKind::MetalShingles),
    ("roll", RoofingKind::Roll),
    ("slate", RoofingKind::Slate),
    ("wood-shingles", RoofingKind::WoodShingles),
    ("wood-shakes", RoofingKind::WoodShakes),
    ("tile", RoofingKind::Tile),
];

fn yes(asked: &mut Asked<'_>, key: &'static str) -> bool {
    asked.choice(key, &YES_NO) == Some(true)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::field::FIELDS;

    fn read(fields: &[(&'static str, &str)]) -> Result<ChecksPlan, Faults> {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in needed.iter().chain(fields) {
            entries.add_flag(key, Some(text));
        }
        ChecksPlan::read(&entries).map(|(_, checks, _)| checks)
    }

    #[test]
    fn a_plain_roof_has_nothing_set() {
        let plain = read(&[]).unwrap();
        assert_eq!((plain.snow, plain.dead, plain.species), (None, None, None));
        assert_eq!(in_psf(plain.live), 20.0);
        assert_eq!(plain.edition, Edition::Irc2021);
        assert!(plain.limits.is_empty());
    }

    #[test]
    fn a_limit_needs_its_reason() {
        let set = read(&[("limits.tie_spacing", "24\" because the county says so")]).unwrap();
        let [(key, own)] = set.limits.as_slice() else { panic!("one limit") };
        assert_eq!((*key, own.limit), ("limits.tie_spacing", 24.0));
        assert_eq!(own.reason, "the county says so");
        let refused = read(&[("limits.tie_spacing", "24\"")]).unwrap_err();
        assert!(refused[0].message.contains("reason"), "{refused:?}");
        assert!(read(&[("limits.height", "16 because short")]).is_err());
    }

    #[test]
    fn the_limits_are_those_of_the_field_table() {
        let keys: Vec<&str> =
            FIELDS.iter().map(|field| field.key).filter(|key| key.starts_with("limits.")).collect();
        assert_eq!(keys, LIMIT_KEYS);
    }

    #[test]
    fn amendments_belong_to_their_edition() {
        let state = ("code.jurisdiction", "north carolina");
        assert_eq!(read(&[state]).unwrap().jurisdiction, Some("North Carolina"));
        let refused = read(&[state, ("code.edition", "2024")]).unwrap_err();
        assert!(refused[0].help.contains("2021"), "{refused:?}");
        assert!(read(&[("code.jurisdiction", "Atlantis")]).is_err());
        assert!(read(&[("loads.snow", "deep")]).is_err());
        assert!(read(&[("sheathing.panel", "25/16")]).is_err());
    }
}
