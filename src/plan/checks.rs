//! What the code findings need beyond the frame: the code, loads, lumber, covering, attic, site.

use super::asked::{Asked, PLIES, YES_NO};
use super::entry::Entries;
use super::fault::Faults;
use super::gable::GablePlan;
use super::used::{OwnLimit, Used};
use crate::catalog::code_rules::{RuleId, jurisdiction, rules};
use crate::catalog::panels::Panel;
use crate::catalog::{Edition, Grade, Species};
use crate::key;
use crate::measure::quantity::{in_psf, psf};
use crate::measure::{Length, Pressure};
use crate::plan::Key;

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

impl WindExposure {
    pub(super) const CHOICES: [(&str, WindExposure); 3] =
        [("b", WindExposure::B), ("c", WindExposure::C), ("d", WindExposure::D)];
}

/// Seismic design category, as far as the rules here distinguish them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seismic {
    /// A, B or C.
    AToC,
    /// D0, D1 or D2.
    D,
}

impl Seismic {
    pub(super) const CHOICES: [(&str, Seismic); 6] = [
        ("a", Seismic::AToC),
        ("b", Seismic::AToC),
        ("c", Seismic::AToC),
        ("d0", Seismic::D),
        ("d1", Seismic::D),
        ("d2", Seismic::D),
    ];
}

/// What supports panel edges between rafters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PanelEdges {
    /// Nothing.
    None,
    /// Clips, blocking, or tongue and groove.
    Supported,
}

impl PanelEdges {
    pub(super) const CHOICES: [(&str, PanelEdges); 4] = [
        ("none", PanelEdges::None),
        ("clips", PanelEdges::Supported),
        ("blocking", PanelEdges::Supported),
        ("tongue", PanelEdges::Supported),
    ];
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

impl RoofingKind {
    pub(super) const CHOICES: [(&str, RoofingKind); 10] = [
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
}

/// The conditions of an attic without vents, each as answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unvented {
    /// The whole attic is inside the insulated shell.
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

impl Unvented {
    fn ask(asked: &mut Asked<'_>) -> Unvented {
        Unvented {
            inside: asked.choice(key!("attic.inside_envelope"), &YES_NO),
            no_class_1: asked.choice(key!("attic.no_class_1"), &YES_NO),
            airtight: asked.choice(key!("attic.airtight_insulation"), &YES_NO),
            class_2: asked.choice(key!("attic.class_2"), &YES_NO),
            airspace: asked.choice(key!("attic.shingle_airspace"), &YES_NO),
        }
    }
}

/// Everything the findings need that decides no stick. `None` if nothing was given.
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
    /// True if a finished ceiling is attached to the rafters.
    pub ceiling_on_rafters: bool,
    /// The ceiling is of plaster or stucco.
    pub ceiling_is_brittle: bool,
    /// Span of ceiling joists that run along the ridge.
    pub joist_span: Option<Length>,
    /// 16d common nails specified at each heel; `None` for as many as required.
    pub heel_nails: Option<f64>,
    /// 16d common nails specified in each lap of joists; `None` for as many as required.
    pub lap_nails: Option<f64>,
    /// Spacing of bridging.
    pub bridging: Option<Length>,
    /// Rated uplift of the rafter tie-down, pounds.
    pub tie_down_lb: Option<f64>,
    /// Rated uplift of the connectors down the eave walls, pounds per foot.
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
    /// Rated pull of the detail that carries a cut joist's pull past the attic opening, pounds.
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
    /// The user's own limits, by field key.
    pub limits: Vec<(Key, OwnLimit)>,
}

/// The fields of `[limits]`, in the table's order.
pub const LIMIT_KEYS: [Key; 17] = [
    key!("limits.height"),
    key!("limits.snow"),
    key!("limits.notch"),
    key!("limits.bearing"),
    key!("limits.tail"),
    key!("limits.cantilever"),
    key!("limits.tie_spacing"),
    key!("limits.collar_spacing"),
    key!("limits.lap"),
    key!("limits.heel_nails"),
    key!("limits.rafter_span"),
    key!("limits.joist_span"),
    key!("limits.uplift"),
    key!("limits.panel_span"),
    key!("limits.rake"),
    key!("limits.ice_barrier"),
    key!("limits.lot_line"),
];

/// Editions as they are written.
pub const EDITIONS: [(&str, Edition); 4] = [
    ("2015", Edition::Irc2015),
    ("2018", Edition::Irc2018),
    ("2021", Edition::Irc2021),
    ("2024", Edition::Irc2024),
];

const CLIMATE_ZONES: [(&str, u8); 8] =
    [("1", 1), ("2", 2), ("3", 3), ("4", 4), ("5", 5), ("6", 6), ("7", 7), ("8", 8)];

impl ChecksPlan {
    /// Reads the gable and the inputs of the code check from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<(GablePlan, ChecksPlan, Vec<Used>), Faults> {
        let ((mut gable, checks, of_the_frame), mut used) = Asked::whole(entries, |asked| {
            let gable = GablePlan::ask(asked);
            let of_the_frame = asked.used.len();
            let checks = ChecksPlan::ask(asked);
            Some((gable?, checks?, of_the_frame))
        })?;
        let of_the_checks = used.split_off(of_the_frame);
        gable.rafter.used = used;
        Ok((gable, checks, of_the_checks))
    }

    /// Reads every field; `None` if one could not be read.
    pub fn ask(asked: &mut Asked<'_>) -> Option<ChecksPlan> {
        let edition = asked.choice(key!("code.edition"), &EDITIONS);
        let state = asked.named(key!("code.jurisdiction"), jurisdiction);
        let live = live_load(asked);
        let plan = ChecksPlan {
            edition: edition.unwrap_or_default(),
            jurisdiction: state,
            live: live.unwrap_or(psf(RuleId::RoofLiveLt4A200.figure())),
            snow: asked.load(key!("loads.snow")),
            dead: asked.load(key!("loads.dead")),
            wind_mph: asked.speed_mph(key!("loads.wind")),
            exposure: asked.choice(key!("loads.exposure"), &WindExposure::CHOICES),
            seismic: asked.choice(key!("loads.seismic"), &Seismic::CHOICES),
            species: asked.named(key!("lumber.species"), str::parse::<Species>),
            grade: asked.named(key!("lumber.grade"), str::parse::<Grade>),
            ceiling_on_rafters: yes(asked, key!("ceiling.on_rafters")),
            ceiling_is_brittle: asked
                .choice(key!("ceiling.finish"), &[("gypsum", false), ("plaster", true)])
                .unwrap_or(false),
            joist_span: asked.optional_length(key!("ceiling.joist_span")),
            heel_nails: asked.number(key!("ceiling.heel_nails")),
            lap_nails: asked.number(key!("ceiling.lap_nails")),
            bridging: asked.optional_length(key!("rafter.bridging")),
            tie_down_lb: asked.counted(key!("rafter.tie_down")),
            wall_strap_plf: asked.counted(key!("building.wall_strap")),
            gussets: asked.choice(key!("ridge.gussets"), &YES_NO),
            straps: asked.choice(key!("ridge.straps"), &YES_NO),
            panel: asked.panel(key!("sheathing.panel")),
            panel_thickness: asked.optional_length(key!("sheathing.thickness")),
            edges: asked.choice(key!("sheathing.edges"), &PanelEdges::CHOICES),
            nail_edge: asked.optional_length(key!("sheathing.nail_edge")),
            nail_field: asked.optional_length(key!("sheathing.nail_field")),
            nail_zone: asked.optional_length(key!("sheathing.nail_zone")),
            roofing: asked.choice(key!("roofing.kind"), &RoofingKind::CHOICES),
            double_underlayment: asked.choice(key!("roofing.underlayment"), &PLIES),
            drip_edge: asked.choice(key!("roofing.drip_edge"), &YES_NO),
            ice: asked.choice(key!("roofing.ice"), &YES_NO),
            ice_barrier: asked.optional_length(key!("roofing.ice_barrier")),
            attic_stairs: yes(asked, key!("attic.stairs")),
            access_tie_lb: asked.counted(key!("attic.access_tie")),
            vented: yes(asked, key!("attic.vented")),
            soffit_vent_in2: asked.counted(key!("attic.soffit_vent")),
            ridge_vent_in2: asked.counted(key!("attic.ridge_vent")),
            gable_vent_in2: asked.counted(key!("gable.vent_area")),
            unvented: Unvented::ask(asked),
            climate_zone: asked.choice(key!("attic.climate_zone"), &CLIMATE_ZONES),
            vapor_retarder: yes(asked, key!("attic.vapor_retarder")),
            insulation: asked.optional_length(key!("insulation.depth")),
            baffles: yes(asked, key!("insulation.baffles")),
            floor_height: asked.optional_length(key!("site.floor_height")),
            lot_line: asked.optional_length(key!("site.lot_line")),
            lot_line_rake: asked.optional_length(key!("site.lot_line_rake")),
            eave_rated: asked.choice(key!("site.eave_rated"), &YES_NO),
            rake_rated: asked.choice(key!("site.rake_rated"), &YES_NO),
            wall_rated: asked.choice(key!("site.wall_rated"), &YES_NO),
            sprinklers: yes(asked, key!("site.sprinklers")),
            garage: asked.choice(key!("site.building"), &[("dwelling", false), ("garage", true)])
                == Some(true),
            limits: LIMIT_KEYS
                .iter()
                .filter_map(|key| asked.limit(*key).map(|limit| (*key, limit)))
                .collect(),
        };
        plan.refuse_amendments_of_another_edition(asked);
        if plan.vented {
            asked.forget(&[
                key!("attic.inside_envelope"),
                key!("attic.no_class_1"),
                key!("attic.airtight_insulation"),
                key!("attic.class_2"),
                key!("attic.shingle_airspace"),
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
            key!("code.jurisdiction"),
            format!("no amendment of {state} to {} is known here", self.edition),
            format!("write edition {}, or leave the state out", known.join(" or ")),
        );
    }
}

/// The roof live load; what is not above zero is refused.
fn live_load(asked: &mut Asked<'_>) -> Option<Pressure> {
    let live = asked.load(key!("loads.live"));
    if live.is_some_and(|live| in_psf(live) <= 0.0) {
        asked.refuse(
            key!("loads.live"),
            "a roof without live load can't be worked on",
            "write the load, or leave it out",
        );
    }
    live
}

fn yes(asked: &mut Asked<'_>, key: Key) -> bool {
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
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
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
        assert_eq!((*key, own.limit), (key!("limits.tie_spacing"), 24.0));
        assert_eq!(own.reason, "the county says so");
        let refused = read(&[("limits.tie_spacing", "24\"")]).unwrap_err();
        assert!(refused[0].message.contains("reason"), "{refused:?}");
        assert!(read(&[("limits.height", "16 because short")]).is_err());
    }

    #[test]
    fn the_limits_are_those_of_the_field_table() {
        let keys: Vec<Key> = FIELDS
            .iter()
            .filter(|field| field.table() == "limits")
            .map(|field| field.key())
            .collect();
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
