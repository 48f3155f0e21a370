//! Nails by kind, counted from the code's schedule, joint by joint.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::catalog::{Edition, coverage};
use crate::deck::Deck;
use crate::frame::{Frame, Role, TieKind};
use crate::measure::quantity::{in_inches, psf};
use crate::plan::{ChecksPlan, Joists};
use crate::strength::heel_joint::TieKind as HeelTie;
use crate::strength::{HeelJoint, RoofLoad};

/// The nails of one kind of joint.
#[derive(Debug, Clone, PartialEq)]
pub struct NailUse {
    /// The nail: `16d common`.
    pub nail: &'static str,
    /// How many.
    pub count: u64,
    /// Where they go.
    pub joint: String,
    /// How they are counted: `3 a rafter, toenailed`.
    pub how: String,
    /// By which row: a section of the code, or common practice.
    pub by: String,
}

impl NailUse {
    /// How they are counted and by which row.
    #[must_use]
    pub fn basis(&self) -> String {
        format!("{} ({})", self.how, self.by)
    }
}

/// All nails of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct NailTotal {
    /// The nail.
    pub nail: &'static str,
    /// As counted, without spare.
    pub count: u64,
    /// Whole pounds with the spare; `None` where it is not known how many go to a pound.
    pub pounds: Option<u64>,
    /// The uses, as counted.
    pub uses: Vec<NailUse>,
}

/// Sums the uses up by kind, the heaviest nails first, with `spare` percent more, in whole pounds.
#[must_use]
pub fn totals(uses: Vec<NailUse>, spare: f64) -> Vec<NailTotal> {
    let mut totals: Vec<NailTotal> = Vec::new();
    for one in uses.into_iter().filter(|one| one.count > 0) {
        match totals.iter_mut().find(|total| total.nail == one.nail) {
            Some(total) => {
                total.count += one.count;
                total.uses.push(one);
            }
            None => totals.push(NailTotal {
                nail: one.nail,
                count: one.count,
                pounds: None,
                uses: vec![one],
            }),
        }
    }
    for total in &mut totals {
        total.pounds = coverage::nails_per_lb(total.nail)
            .map(|per_lb| (total.count as f64 * (1.0 + spare / 100.0) / per_lb).ceil() as u64);
    }
    totals.sort_by(|a, b| {
        let per_lb =
            |total: &NailTotal| coverage::nails_per_lb(total.nail).unwrap_or(f64::INFINITY);
        per_lb(a).total_cmp(&per_lb(b))
    });
    totals
}

/// The row that says how many, or that it is common practice.
fn row_or_practice(rule: Option<&'static Rule>, edition: Edition) -> String {
    rule.map_or_else(|| "common practice".to_owned(), |rule| rule.section_in(edition).to_owned())
}

const COMMON_16D: &str = "16d common";
const COMMON_10D: &str = "10d common";
pub(super) const COMMON_8D: &str = "8d common";

/// The nails of the frame.
///
/// Counts of joints that the schedule names are the schedule's, with common nails; the others are common practice and
/// say so. What could not be counted is told in `notes`.
#[must_use]
pub fn of_frame(frame: &Frame, checks: &ChecksPlan, notes: &mut Vec<String>) -> Vec<NailUse> {
    let edition = checks.edition;
    let count = |roles: &[Role]| -> u64 {
        frame
            .members
            .iter()
            .filter(|member| roles.contains(&member.role))
            .map(|member| member.count() as u64)
            .sum()
    };
    let row = |id: RuleId| rule_in(id, edition, None);
    let mut uses = Vec::new();
    let mut add = |nail: &'static str, count: u64, joint: &str, (how, by): (String, String)| {
        uses.push(NailUse { nail, count, joint: joint.to_owned(), how, by });
    };
    let by_code =
        |rule: Option<&'static Rule>, how: &str| (how.to_owned(), row_or_practice(rule, edition));
    let rafters = count(&[Role::CommonRafter, Role::EndRafter]);
    let barges = count(&[Role::BargeRafter]);
    add(
        COMMON_10D,
        3 * rafters,
        "rafters to plates",
        by_code(row(RuleId::NailRafterPlate), "3 a rafter, toenailed"),
    );
    if frame.site.half_ridge > 0.0 {
        add(
            COMMON_10D,
            3 * (rafters + barges),
            "rafters to ridge board",
            by_code(row(RuleId::NailRafterRidgeToe), "3 a rafter, toenailed"),
        );
    }
    let joists = count(&[Role::CeilingJoist]);
    let on_plate = frame.plan.tie_height.is_none_or(|height| in_inches(height) == 0.0);
    if frame.plan.joists == Joists::Beside && on_plate {
        add(
            COMMON_8D,
            2 * 3 * joists,
            "ceiling joists to plates and bearing",
            by_code(row(RuleId::NailCjPlate), "3 an end, toenailed"),
        );
    }
    heel(frame, checks, notes, &mut add);
    add(
        COMMON_10D,
        2 * 3 * count(&[Role::CollarTie]),
        "collar ties to rafters",
        by_code(row(RuleId::NailCollarTie), "3 an end"),
    );
    if checks.straps == Some(true) {
        add(
            COMMON_10D,
            2 * 3 * frame.pairs.len() as u64,
            "ridge straps",
            by_code(row(RuleId::RidgeStrap), "3 a rafter"),
        );
    }
    add(
        COMMON_8D,
        3 * count(&[Role::Blocking]),
        "blocking to plates",
        by_code(row(RuleId::NailBlockingPlate), "3 a block, toenailed"),
    );
    for (roles, nail, each, joint, how) in [
        (
            &[Role::LadderRung, Role::VentFrame][..],
            COMMON_16D,
            4,
            "ladder rungs and vent frames",
            "2 an end",
        ),
        (&[Role::Outlooker], COMMON_16D, 6, "outlookers", "2 an end and 2 over the end rafter"),
        (&[Role::GableStud], COMMON_8D, 4, "feet of gable studs", "4 a stud, toenailed"),
        (&[Role::GableStud], COMMON_16D, 2, "heads of gable studs", "2 a stud"),
        (&[Role::Filler], COMMON_10D, 4, "fillers", "4 a filler"),
        (
            &[Role::SoffitLookout],
            COMMON_10D,
            5,
            "soffit lookouts",
            "3 to the tail, 2 to the ledger",
        ),
    ] {
        add(nail, each * count(roles), joint, by_code(None, how));
    }
    let tails = 2 * (frame.pairs.len() as u64) + barges;
    if count(&[Role::Subfascia]) > 0 {
        add(COMMON_16D, 2 * tails, "sub-fascia", by_code(None, "2 a tail"));
    }
    if count(&[Role::Fascia]) > 0 {
        add("8d box", 2 * tails, "fascia, galvanized", by_code(None, "2 a tail"));
    }
    let ledgers: f64 = frame
        .members
        .iter()
        .filter(|member| member.role == Role::SoffitLedger)
        .map(|member| in_inches(member.blank()) * member.count() as f64)
        .sum();
    add(
        COMMON_16D,
        2 * (ledgers / 16.0).ceil() as u64,
        "soffit ledgers",
        by_code(None, "2 each 16 in"),
    );
    uses
}

/// Heel joints, laps over the bearing and splices, by the heel joint table.
fn heel(
    frame: &Frame,
    checks: &ChecksPlan,
    notes: &mut Vec<String>,
    add: &mut impl FnMut(&'static str, u64, &str, (String, String)),
) {
    let ties = &frame.ties;
    let tie = match ties.kind {
        TieKind::None => return,
        TieKind::RafterTies => HeelTie::RafterTie,
        TieKind::JoistsContinuous | TieKind::JoistsLapped => HeelTie::CeilingJoist,
    };
    let mut loads = vec![RoofLoad::Live(checks.live)];
    loads.extend(checks.snow.filter(|snow| *snow > psf(0.0)).map(RoofLoad::GroundSnow));
    let nails: Option<Vec<u32>> = loads
        .into_iter()
        .map(|load| {
            let joint = HeelJoint {
                roof_span: frame.plan.rafter.span,
                rise_in_12: frame.plan.rafter.pitch.unit_rise(),
                spacing: ties.spacing,
                load,
                dead: checks.dead.unwrap_or(psf(10.0)),
                edition: checks.edition,
                tie_height: ties.height,
                tie,
            };
            joint.solve().ok().and_then(|answer| answer.nails)
        })
        .collect();
    let Some(each) = nails.and_then(|nails| nails.into_iter().max()) else {
        notes.push(
            "Nails of the heel joints are not counted: no tie of this roof stands in the heel joint table (stepoff ties)."
                .into(),
        );
        return;
    };
    if checks.snow.is_none() {
        notes.push(format!(
            "No ground snow load is set: heel joints are counted for roof live load alone, {each} nails each."
        ));
    }
    // the plan's own counts stand before those of the table
    let specified = |count: Option<f64>| match count {
        Some(count) => (count as u64, "as the plan specifies"),
        None => (u64::from(each), "heel joint table"),
    };
    let (each, basis) = specified(checks.heel_nails);
    let how = |what: &str| (format!("{each} {what}"), basis.to_owned());
    add(COMMON_16D, 2 * each * ties.nailed_pairs() as u64, "heel joints", how("a joint"));
    if ties.kind == TieKind::JoistsLapped {
        let (each, basis) = specified(checks.lap_nails);
        let how = |what: &str| (format!("{each} {what}"), basis.to_owned());
        add(
            COMMON_16D,
            each * ties.nailed_pairs() as u64,
            "joists over the bearing",
            how("a lap, twice at a splice piece"),
        );
        let splices: u64 = frame
            .members
            .iter()
            .filter(|member| member.role == Role::SplicePiece)
            .map(|member| member.count() as u64)
            .sum();
        add(COMMON_16D, each * splices, "splice pieces, second side", how("a side"));
    }
}

/// What decides the nails of the panels.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelNailing {
    /// Along panel ends and edges, inches.
    pub edge_in: f64,
    /// Over the supports between, inches.
    pub field_in: f64,
    /// The nail.
    pub nail: &'static str,
    /// Where the spacings come from.
    pub basis: String,
}

/// The nailing of panels of a thickness: as written, else the row of the fastening schedule.
#[must_use]
pub fn panel_nailing(checks: &ChecksPlan, thickness_in: f64) -> PanelNailing {
    const HAIR: f64 = 1e-9;
    let thin = thickness_in <= 0.5 + HAIR;
    let id = match checks.edition {
        Edition::Irc2015 | Edition::Irc2018 if thin => RuleId::SheathNail3_8To1_2_2018,
        Edition::Irc2015 | Edition::Irc2018 if thickness_in <= 1.0 + HAIR => {
            RuleId::SheathNail19_32To1_2018
        }
        Edition::Irc2015 | Edition::Irc2018 => RuleId::SheathNail1_1_8To1_1_4_2018,
        Edition::Irc2021 if thin => RuleId::SheathNail3_8To1_2_2021,
        Edition::Irc2021 if thickness_in <= 0.75 + HAIR => RuleId::SheathNail19_32To3_4_2021,
        Edition::Irc2024 if thickness_in <= 0.75 + HAIR => RuleId::SheathNail2024,
        Edition::Irc2021 | Edition::Irc2024 => RuleId::SheathNail7_8To1_1_4_2021,
    };
    let row = rule_in(id, checks.edition, None);
    let heavy =
        matches!(id, RuleId::SheathNail7_8To1_1_4_2021 | RuleId::SheathNail1_1_8To1_1_4_2018);
    let written = checks.nail_edge.or(checks.nail_field).is_some();
    let of_row = |pick: fn(&Rule) -> Option<f64>| row.and_then(pick).unwrap_or(6.0);
    PanelNailing {
        edge_in: checks.nail_edge.map_or_else(|| of_row(|row| row.edge_in), in_inches),
        field_in: checks
            .nail_zone
            .or(checks.nail_field)
            .map_or_else(|| of_row(|row| row.field_in), in_inches),
        nail: if heavy { COMMON_10D } else { COMMON_8D },
        basis: if written {
            "spacing as given in the roof file".into()
        } else {
            row.map_or_else(
                || "6 in (common practice)".into(),
                |row| row.section_in(checks.edition).to_owned(),
            )
        },
    }
}

/// From a panel's edge to its first nail, inches (common practice: 3/8 in).
pub const EDGE_DISTANCE_IN: f64 = 0.375;

/// The nails of a laid deck: a row along each end of a piece and one over each rafter between.
#[must_use]
pub fn of_deck(deck: &Deck, nailing: &PanelNailing) -> NailUse {
    let mut count = 0;
    for piece in &deck.pieces {
        let height = piece.height.in_inches();
        let between = (piece.spans as u64).saturating_sub(1);
        count +=
            2 * in_a_row(height, nailing.edge_in) + between * in_a_row(height, nailing.field_in);
    }
    NailUse {
        nail: nailing.nail,
        count,
        joint: "roof panels".into(),
        how: format!(
            "{} in along panel ends, {} in over the rafters between",
            crate::measure::trim(nailing.edge_in, 2),
            crate::measure::trim(nailing.field_in, 2),
        ),
        by: nailing.basis.clone(),
    }
}

/// Nails in a row up a panel of a height, at most `spacing_in` apart.
pub(super) fn in_a_row(height_in: f64, spacing_in: f64) -> u64 {
    let run = (height_in - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    (run / spacing_in - 1e-9).ceil().max(1.0) as u64 + 1
}

/// Where the nails of such a row lie, inches up from the panel's lower edge.
#[must_use]
pub fn row_places(height_in: f64, spacing_in: f64) -> Vec<f64> {
    let run = (height_in - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    let spaces = in_a_row(height_in, spacing_in) - 1;
    (0..=spaces).map(|space| EDGE_DISTANCE_IN + run * space as f64 / spaces as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{DeckAsk, Watch, lay};
    use crate::measure::quantity::inches;
    use crate::plan::{Entries, OrderPlan};

    fn plan(fields: &[(&'static str, &str)]) -> (OrderPlan, Frame) {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(key, Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        (plan, frame)
    }

    fn of(uses: &[NailUse], joint: &str) -> u64 {
        uses.iter().filter(|one| one.joint == joint).map(|one| one.count).sum()
    }

    #[test]
    fn joints_are_counted_by_the_schedule() {
        // 18 pairs (2 at the ends, 16 at 16 in over 22 ft), 16 joists, 6 collar ties
        let (plan, frame) = plan(&[]);
        let mut notes = Vec::new();
        let uses = of_frame(&frame, &plan.checks, &mut notes);
        assert_eq!(of(&uses, "rafters to plates"), 3 * 36);
        assert_eq!(of(&uses, "rafters to ridge board"), 3 * 36);
        assert_eq!(of(&uses, "ceiling joists to plates and bearing"), 6 * 16);
        // printed for 6 in 12 by the rule: 3 nails at least
        assert_eq!(of(&uses, "heel joints") % (2 * 16), 0);
        assert!(of(&uses, "heel joints") >= 3 * 32);
        assert_eq!(of(&uses, "collar ties to rafters"), 6 * 6);
        assert_eq!(notes.len(), 1, "{notes:?}");
    }

    #[test]
    fn snow_asks_for_more_nails_in_the_heel() {
        let (light, frame) = plan(&[]);
        let (heavy, _) = plan(&[("loads.snow", "70")]);
        let heel =
            |plan: &OrderPlan| of(&of_frame(&frame, &plan.checks, &mut Vec::new()), "heel joints");
        assert!(heel(&heavy) > heel(&light));
    }

    #[test]
    fn panels_are_nailed_row_by_row() {
        // one sheet 48 x 96 over rafters at 24 in: two end rows and three between, at 6 in each: 48 less 3/4
        // takes 8 spaces, 9 nails
        let ask = DeckAsk::rectangles(1, inches(96.0), inches(48.0), inches(24.0));
        let deck = lay(&ask, &Watch::none()).unwrap();
        let (of_2021, _) = plan(&[]);
        let nailing = panel_nailing(&of_2021.checks, 7.0 / 16.0);
        assert_eq!((nailing.edge_in, nailing.field_in), (6.0, 6.0));
        assert_eq!(of_deck(&deck, &nailing).count, 5 * 9);
        // 3/8 in from both edges, 47-1/4 in in 8 equal spaces
        let places = row_places(48.0, 6.0);
        assert_eq!((places[0], places[8], places.len()), (0.375, 47.625, 9));
        assert!((places[1] - places[0] - 47.25 / 8.0).abs() < 1e-12);
        // 2018: 12 in between, 4 spaces, 5 nails
        let (of_2018, _) = plan(&[("code.edition", "2018")]);
        let nailing = panel_nailing(&of_2018.checks, 7.0 / 16.0);
        assert_eq!(of_deck(&deck, &nailing).count, 2 * 9 + 3 * 5);
        let (written, _) = plan(&[("sheathing.nail_edge", "4\"")]);
        assert_eq!(panel_nailing(&written.checks, 0.5).edge_in, 4.0);
    }

    #[test]
    fn pounds_are_whole_and_take_the_spare_in() {
        let one = |count| NailUse {
            nail: "16d common",
            count,
            joint: String::new(),
            how: String::new(),
            by: String::new(),
        };
        let pounds = |count, spare| totals(vec![one(count)], spare)[0].pounds;
        assert_eq!(pounds(49, 0.0), Some(1));
        assert_eq!(pounds(49, 10.0), Some(2));
        assert_eq!(pounds(490, 0.0), Some(10));
        assert!(totals(vec![one(0)], 10.0).is_empty());
    }
}
