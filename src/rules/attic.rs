//! The attic: access, ventilation, and the air over the insulation at the eaves.

use crate::catalog::code_rules::RuleId;
use crate::frame::Frame;
use crate::key;
use crate::measure::Amount::{self, Feet, Inches, SquareFeet, SquareInches, SquareInchesAFoot};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Note};
use crate::plan::{Joists, Key, RoofingKind};

use super::attic_space::{area_higher_than, clear_height};
use super::book::{Book, Code, show, step};
use super::finding::{Finding, Sense, Unit, Verdict};
use super::vents::{Vent, VentArea};

/// The findings about access and the air at the eaves.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = access(&book.code());
    let has_attic = book.plan().joists != Joists::None;
    found.extend(air_gap(&book.code(), at_heel(book)).filter(|_| has_attic && book.checks.vented));
    found
}

/// The findings about vents: of an attic, or of rafter spaces that a ceiling on the rafters encloses.
pub(super) fn vents(code: &Code<'_>) -> Vec<Finding> {
    if code.plan().joists == Joists::None && !code.checks.ceiling_on_rafters {
        Vec::new()
    } else if code.checks.vented {
        ventilation(code)
    } else {
        unvented(code).into_iter().collect()
    }
}

/// The findings about access. Without ceiling joists there is no attic.
pub(super) fn access(code: &Code<'_>) -> Vec<Finding> {
    if code.plan().joists == Joists::None {
        return Vec::new();
    }
    let Some((height, limit)) =
        code.rule(RuleId::AtticAccessTrigger).and_then(|rule| rule.number().zip(rule.area_sqft))
    else {
        return Vec::new();
    };
    let area = area_higher_than(code, height);
    let told = Note::with(
        "{} have {} or more between joists and rafters (building line to building line), {} where it is highest; from {} up an access is needed",
        [SquareFeet(area), Inches(height), Inches(clear_height(code)), SquareFeet(limit)],
    );
    if area < limit {
        let finding = code.of_rule(RuleId::AtticAccessTrigger, "attic without an access");
        return finding
            .map(|finding| finding.held(Unit::SquareFeet, area, Sense::AtMost, limit).note(told))
            .into_iter()
            .collect();
    }
    let mut found: Vec<Finding> =
        access_size(code).map(|finding| finding.note(told)).into_iter().collect();
    found.extend(access_headroom(code));
    found
}

fn access_size(code: &Code<'_>) -> Option<Finding> {
    let (least_short, least_long) = RuleId::AtticAccessSize.rule().pair()?;
    let finding = code.of_rule(RuleId::AtticAccessSize, "rough opening of the attic access")?.note(
        Note::with(
            "at least {} by {}, in a hallway or another place readily reached",
            [Inches(least_short), Inches(least_long)],
        ),
    );
    let (Some(width), Some(length)) = (code.plan().access.width, code.plan().access.length) else {
        let missing: Vec<Key> = [
            (key!("attic.access_width"), code.plan().access.width.is_none()),
            (key!("attic.access_length"), code.plan().access.length.is_none()),
        ]
        .into_iter()
        .filter_map(|(key, is_missing)| is_missing.then_some(key))
        .collect();
        return Some(finding.missing(&missing));
    };
    let (a, b) = (width.inches(), length.inches());
    let (short, long) = (a.min(b), a.max(b));
    // of the two sides, the one that is worse off
    Some(if short / least_short <= long / least_long {
        finding
            .held(Unit::Inches, short, Sense::AtLeast, least_short)
            .note(Note::with("the shorter side; the longer is {}", [Inches(long)]))
    } else {
        finding
            .held(Unit::Inches, long, Sense::AtLeast, least_long)
            .note(Note::with("the longer side; the shorter is {}", [Inches(short)]))
    })
}

fn access_headroom(code: &Code<'_>) -> Option<Finding> {
    let limit = code.figure(RuleId::AtticAccessHeadroom)?;
    let from_bottom = clear_height(code) + code.plan().joist.depth_in();
    Some(
        code.of_rule(RuleId::AtticAccessHeadroom, "headroom over the attic access")?
            .held(Unit::Inches, from_bottom, Sense::AtLeast, limit)
            .note("bottom of the ceiling joists to the rafters at the ridge's face: the most there is; place the access under it"),
    )
}

/// Net free area that is required, and the lengths of soffit and ridge vent that give it.
fn ventilation(code: &Code<'_>) -> Vec<Finding> {
    let Some(area) = VentArea::of(code) else {
        return Vec::new();
    };
    let needed = area.needed_in2;
    let Some(finding) = code.of_rule(area.rule, "net free vent area of the attic") else {
        return Vec::new();
    };
    let (formula, floor) = match code.sticks.gable {
        Some(Frame { site, .. }) => (
            "length x span / 144 x 144 / n",
            format!("{} x {}", show(site.length), show(site.span)),
        ),
        None => ("floor x 144 / n", format!("{} x 144", show(area.space.floor_ft2))),
    };
    let finding = finding
        .note(Note::with(
            format!("1/{} of {{}}: {}", show(area.one_in), area.why),
            [SquareFeet(area.space.floor_ft2)],
        ))
        .working([step(
            "net free area needed",
            formula,
            format!("{floor} / {}", show(area.one_in)),
            Note::with("{}", [SquareInches(needed)]),
        )]);
    let finding = if code.sticks.gable.is_none() && code.sticks.vents() > 0 {
        finding.told().note("vents in the gables are not counted here")
    } else {
        finding
    };
    let finding = match (area.no_soffit, code.checks.soffit_vent_in2) {
        (Some(why), Some(in2)) if in2 > 0.0 => {
            finding.told().note(format!("the soffit vents that are set do not count: {why}"))
        }
        _ => finding,
    };
    let missing: Vec<Key> = [
        (key!("attic.soffit_vent"), area.soffit.is_none() && area.no_soffit.is_none()),
        (key!("attic.ridge_vent"), area.ridge.is_none() && !code.plan().blocks.shed),
        (key!("gable.vent_area"), area.gables.is_some_and(|vents| vents.both_in2.is_none())),
    ]
    .into_iter()
    .filter_map(|(key, is_missing)| is_missing.then_some(key))
    .collect();
    let finding = finding.held(Unit::SquareInches, area.gives_in2(), Sense::AtLeast, needed);
    if finding.verdict == Verdict::Fails && !missing.is_empty() {
        let mut finding =
            finding.note(Note::with("{} needed", [SquareInches(needed)])).missing(&missing);
        finding.found = None;
        return vec![finding];
    }
    let total = finding.told().note(what_gives_it(&area));
    let by_the_eaves = area.soffit.is_some_and(|vent| vent.part_in2 > LAST_BITS);
    let total = if area.eaves_closed && by_the_eaves {
        total
            .missing(&[key!("eave.blocking")])
            .note("full blocking closes the eaves: write held or none, or leave holes of the same net area in the blocks")
    } else {
        total
    };
    let mut found = vec![total];
    found.extend(upper_share(code, &area).map(|finding| {
        if finding.verdict == Verdict::Fails && !missing.is_empty() {
            finding.missing(&missing)
        } else {
            finding
        }
    }));
    found
}

/// The lengths of vent, and the vents in the gables, that give the area needed.
fn what_gives_it(area: &VentArea) -> Note {
    // if no vent serves a part, the note says so instead of giving an endless length
    let part = |vent: Vent, what: &str| {
        if vent.part_in2 <= LAST_BITS {
            (format!("no {what}"), Vec::new())
        } else if let Some(feet) = vent.for_its_part_ft() {
            let amounts = vec![Feet(up_to_inches(feet)), SquareInchesAFoot(vent.in2_a_foot)];
            (format!("{{}} of {what} at {{}}"), amounts)
        } else {
            (format!("{{}} of {what}, which has none,"), vec![SquareInches(vent.part_in2)])
        }
    };
    let mut gives: Vec<(String, Vec<Amount>)> = Vec::new();
    gives.extend(area.ridge.map(|vent| part(vent, "ridge vent")));
    gives.extend(area.soffit.map(|vent| part(vent, "soffit vent")));
    gives.extend(area.gables.filter(|vents| vents.gives_in2 > 0.0).map(|vents| {
        let (words, within) = vents.part.words();
        let amounts = [SquareInches(vents.gives_in2)].into_iter().chain(within);
        (format!("{{}} of the gable vents, {words},"), amounts.collect())
    }));
    let (words, amounts): (Vec<String>, Vec<Vec<Amount>>) = gives.into_iter().unzip();
    let there_is = [Feet(area.space.ridge_ft), Feet(area.space.soffit_ft)];
    Note::with(
        format!("{} give it (there are {{}} of ridge, {{}} of eaves)", words.join(" and ")),
        amounts.into_iter().flatten().chain(there_is),
    )
}

/// The share of the area needed that belongs in the upper part, where one is asked.
fn upper_share(code: &Code<'_>, area: &VentArea) -> Option<Finding> {
    let (low, high) = area.upper_share?;
    let share = area.above_in2() / area.needed_in2;
    let finding = code
        .of_rule(RuleId::VentUpperShare, "share of the vent area at the ridge")?
        .held(Unit::Fraction, share, Sense::AtLeast, low);
    let finding = finding.note(format!(
        "of the area needed; {} to {} of it belong in the upper part",
        show(low),
        show(high)
    ));
    // a shed and a hip to a point have no ridge, and no field says what vents their top
    Some(if area.space.ridge_ft <= LAST_BITS && finding.verdict == Verdict::Fails {
        finding.verdict(Verdict::NotChecked).told().note(Note::with(
            "there is no ridge for a ridge vent: have the vents within {} of the top looked at",
            [Feet(RuleId::VentUpperDistance.figure() / 12.0)],
        ))
    } else {
        finding
    })
}

/// Vented air under wood shingles over an attic without vents (rule `unvented_attic`).
const AIRSPACE: [Amount; 1] = [Inches(0.25)];

/// An attic without vents, by the conditions under which the code allows it.
fn unvented(code: &Code<'_>) -> Option<Finding> {
    let checks = code.checks;
    let finding = code.of_rule(RuleId::UnventedAttic, "attic without vents")?;
    let wood = matches!(checks.roofing, Some(RoofingKind::WoodShingles | RoofingKind::WoodShakes));
    let cold = checks.climate_zone.is_none_or(|zone| zone >= 5);
    // insulation on the ceiling leaves the attic outside
    let inside = match checks.insulation {
        Some(depth) if depth > inches(0.0) => Some(false),
        _ => checks.unvented.inside,
    };
    let asked = [
        (
            key!("attic.inside_envelope"),
            inside,
            true,
            "the whole attic lies inside the insulated shell",
        ),
        (
            key!("attic.no_class_1"),
            checks.unvented.no_class_1,
            true,
            "no Class I vapor retarder on the ceiling side",
        ),
        (
            key!("attic.airtight_insulation"),
            checks.unvented.airtight,
            true,
            "air-impermeable insulation against the deck, or over it as Table R806.5 has it for the climate zone",
        ),
        (
            key!("attic.class_2"),
            checks.unvented.class_2,
            cold,
            "in climate zones 5 to 8 that insulation is a Class II vapor retarder, or has one on it",
        ),
        (
            key!("attic.shingle_airspace"),
            checks.unvented.airspace,
            wood,
            "{} of vented air under wood shingles or shakes",
        ),
    ];
    let due = || asked.iter().filter(|(.., is_due, _)| *is_due);
    let not_kept: Vec<&str> =
        due().filter(|(_, kept, ..)| *kept == Some(false)).map(|(.., what)| *what).collect();
    let missing: Vec<Key> =
        due().filter(|(_, kept, ..)| kept.is_none()).map(|(key, ..)| *key).collect();
    let words: Vec<&str> = due().map(|(.., what)| *what).collect();
    Some(if !not_kept.is_empty() {
        let finding = finding
            .met_if(false, "a condition is not kept")
            .note(Note::with(format!("not kept: {}", not_kept.join("; ")), AIRSPACE));
        if inside == Some(false) && checks.unvented.inside != Some(false) {
            finding.note("insulation.depth lays insulation on the ceiling: vent the attic, or insulate under the deck")
        } else {
            finding
        }
    } else if missing.is_empty() {
        finding
            .verdict(Verdict::Meets)
            .told()
            .note(Note::with(format!("as the roof file says: {}", words.join("; ")), AIRSPACE))
    } else {
        finding.note(Note::with(words.join("; "), AIRSPACE)).missing(&missing)
    })
}

/// Feet rounded up to the inch, so that a length gives no less than required.
fn up_to_inches(feet: f64) -> f64 {
    (feet * 12.0 - LAST_BITS).ceil() / 12.0
}

/// The space for insulation where the roof comes down to the plate, plumb unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeelSpace {
    /// Ceiling, on which the insulation lies, above the plate.
    pub ceiling: Length,
    /// Least air over the insulation, square to the slope.
    pub least_air: Length,
    /// Depth that fits under that air at the building line; negative if there is not even room for the
    /// air.
    pub room: Length,
    /// The same at the plate's inner edge.
    pub room_inside: Length,
    /// Depth of the insulation, if it is known.
    pub depth: Option<Length>,
    /// Air, square to the slope, that the full depth would leave at the building line; negative if the
    /// insulation would reach above the roof.
    pub air: Option<Length>,
    /// Level, from the building line inward to where the full depth fits under the air; zero if it
    /// fits at the building line.
    pub full_from: Option<Length>,
}

/// How high the rafters are over a plate, inches.
#[derive(Clone, Copy)]
struct AtHeel {
    /// Plumb height over the plate at the building line.
    stand: f64,
    /// Length of the slope to its run.
    secant: f64,
    /// Rise to run.
    tangent: f64,
    /// Width of the plate.
    plate: f64,
    /// Bottom of the joists above the plate.
    ceiling: f64,
}

/// The space for insulation at the heel; `None` without a ceiling on joists, without vents, or if no
/// rule requires air.
#[must_use]
pub fn heel_space(book: &Book<'_>) -> Option<HeelSpace> {
    space_at(&book.code(), at_heel(book))
}

fn at_heel(book: &Book<'_>) -> AtHeel {
    let site = &book.frame.site;
    let beside = book.plan().joists == Joists::Beside;
    AtHeel {
        stand: site.heel_stand,
        secant: site.secant,
        tangent: site.tangent,
        plate: site.plate,
        ceiling: if beside { book.frame.ties.height.inches() } else { 0.0 },
    }
}

fn space_at(code: &Code<'_>, heel: AtHeel) -> Option<HeelSpace> {
    if code.plan().joists == Joists::None || !code.checks.vented {
        return None;
    }
    let least_air = code.figure(RuleId::VentAirGap)?;
    let AtHeel { stand, secant, tangent, plate, ceiling } = heel;
    let room = stand - ceiling - least_air * secant;
    let depth = code.checks.insulation.map(InInches::inches);
    Some(HeelSpace {
        ceiling: inches(ceiling),
        least_air: inches(least_air),
        room: inches(room),
        room_inside: inches(room + plate * tangent),
        depth: code.checks.insulation,
        air: depth.map(|depth| inches((stand - ceiling - depth) / secant)),
        full_from: depth.map(|depth| inches(((depth - room) / tangent).max(0.0))),
    })
}

/// The air over the insulation of any roof, over the plate where the least of it is left.
pub(super) fn air_gap_of_any_roof(code: &Code<'_>) -> Option<Finding> {
    let ground = &code.sticks.hung?.hung.ground;
    let beside = code.plan().joists == Joists::Beside;
    let ceiling = if beside { code.sticks.tie_height().inches() } else { 0.0 };
    // the attic is not under a dormer's rafters
    let walls = ground.walls.iter().filter(|wall| ground.dormer(&wall.block).is_none());
    let heels = walls.filter_map(|wall| {
        let slope = wall.slope?;
        let (stand, plate) = (ground.heel_stand, ground.plate);
        Some((
            wall,
            AtHeel { stand, secant: slope.stretch(), tangent: slope.tangent(), plate, ceiling },
        ))
    });
    let air = |heel: &AtHeel| match code.checks.insulation {
        Some(depth) => (heel.stand - ceiling - depth.inches()) / heel.secant,
        None => (heel.stand - ceiling) / heel.secant,
    };
    let (wall, heel) = heels.min_by(|(_, one), (_, other)| air(one).total_cmp(&air(other)))?;
    let finding = air_gap(code, heel)?;
    Some(finding.note(format!("over wall {}, where the least is left", wall.name())))
}

/// The air over the insulation at the plate's outer edge, and what depth fits there.
fn air_gap(code: &Code<'_>, heel: AtHeel) -> Option<Finding> {
    let space = space_at(code, heel)?;
    let finding = code.of_rule(RuleId::VentAirGap, "air over the insulation at the eaves")?;
    let limit = space.least_air.inches();
    let (room, room_inside) = (space.room.inches(), space.room_inside.inches());
    let told = Note::with(
        "with {} of air, square to the slope, {} of insulation fit over the plate at the building line, {} at its inner edge",
        [Inches(limit), Inches(room.max(0.0)), Inches(room_inside.max(0.0))],
    );
    let (Some(depth), Some(gap)) = (space.depth, space.air.map(InInches::inches)) else {
        return Some(finding.note(told).missing(&[key!("insulation.depth")]));
    };
    let finding =
        finding.held(Unit::Inches, gap.max(0.0), Sense::AtLeast, limit).note(told).working([step(
            "air over the full depth of insulation",
            "(heel stand - ceiling - insulation) x cos(slope)",
            format!(
                "({} - {} - {}) / {}",
                show(heel.stand),
                show(space.ceiling.inches()),
                show(depth.inches()),
                show(heel.secant)
            ),
            Note::with("{}", [Inches(gap)]),
        )]);
    Some(if finding.verdict == Verdict::Fails && code.checks.baffles {
        let mut finding = finding;
        // the gap is the baffle's, not the geometry's
        finding.found = None;
        finding
            .verdict(Verdict::Meets)
            .note("baffles keep the air; the insulation is thinner over the plate, which the energy code may not allow")
    } else if finding.verdict == Verdict::Fails {
        finding.note("baffles (insulation.baffles), thinner insulation there, or a higher heel")
    } else {
        finding
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Frame;
    use crate::plan::{ChecksPlan, Entries, GablePlan, file};
    use approx::assert_abs_diff_eq;

    #[test]
    fn kestrel_yards_heel_leaves_3_and_a_half_inches() {
        let text = include_str!("../../examples/kestrel-yard.toml");
        let mut entries = Entries::default();
        assert!(file::read(text, &mut entries).faults.is_empty());
        let frame = Frame::build(&GablePlan::read(&entries).unwrap()).unwrap();
        let (_, checks, _) = ChecksPlan::read(&entries).unwrap();
        let space = heel_space(&Book { frame: &frame, checks: &checks }).unwrap();
        // heel stand 4.61189 (frame/levels.rs by hand) less 1 in of air x sqrt(1.25)
        let room = space.room.inches();
        assert_abs_diff_eq!(room, 4.611_890 - 1.118_034, epsilon = 1e-5);
        // 3-1/2 in farther in the roof is half of that higher
        assert_abs_diff_eq!(space.room_inside.inches() - room, 1.75, epsilon = 1e-9);
        assert_eq!(space.depth, Some(inches(10.0)));
        assert_abs_diff_eq!(space.full_from.unwrap().inches(), 2.0 * (10.0 - room), epsilon = 1e-9);
        let air = (4.611_890 - 10.0) / 1.118_034;
        assert_abs_diff_eq!(space.air.unwrap().inches(), air, epsilon = 1e-5);
    }
}
