//! Uplift down to the foundation: each rafter on its plate, the wall on its studs, the studs on the sill.

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::key;
use crate::measure::Amount::{self, Feet, Plf, Pounds, Psf};
use crate::measure::quantity::{InInches, in_plf, in_pounds, inches};
use crate::measure::{Length, Note, trim};
use crate::plan::{Key, WindExposure};
use crate::roof::WallLine;
use crate::strength::uplift::{
    Exposure, TABLE_DEAD_PSF, UpliftAnswer, UpliftCase, UpliftForce, WALL_DEDUCTION_PLF,
};

use super::book::{Code, show, step};
use super::dead;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::id::FindingId;

/// Spacing of the anchor bolts for which an even pull is stated, feet (R403.1.6, the greatest).
const BOLTS_FT: f64 = 6.0;

/// What holds the roof down, from the rafters to the sill.
pub(super) fn findings(code: &Code<'_>) -> Vec<Finding> {
    let rafter = code.of_rule(RuleId::Uplift200lb, "uplift of a rafter on its plate");
    let wall = code.of_rule(RuleId::UpliftWallPath, "uplift of the eave wall on its studs");
    let sill = code.of_rule(RuleId::UpliftWallPath, "uplift of the eave wall on its sill");
    let all = [rafter, wall, sill].into_iter().flatten();
    let (cases, why) = match cases(code) {
        Ok(cases) => cases,
        Err(missing) => return all.map(|finding| finding.missing(&missing)).collect(),
    };
    let name = |over: &Over| match &over.name {
        Some(name) if cases.len() > 1 => Note::from(format!("the most, over wall {name}")),
        _ => Note::default(),
    };
    match hardest(&cases) {
        Some((over, Err(outside))) => all
            .map(|finding| {
                finding.verdict(Verdict::NeedsDesign).notes(outside.clone()).note(name(over))
            })
            .collect(),
        Some((over, Ok(lift))) => all
            .map(|finding| match (finding.id, finding.title.ends_with("sill")) {
                (FindingId::Rule(RuleId::Uplift200lb), _) => {
                    let finding = on_the_plate(code, finding, &lift).note(why.clone());
                    finding.note(name(over)).note(of_a_shed(code))
                }
                (_, is_sill) => down_the_wall(code, finding, &lift, is_sill).note(name(over)),
            })
            .collect(),
        None => Vec::new(),
    }
}

/// The table names no roof of one slope.
fn of_a_shed(code: &Code<'_>) -> &'static str {
    if code.plan().blocks.shed {
        "the table does not say that it is for a roof of one slope: a designer says whether its figures hold"
    } else {
        ""
    }
}

/// The slope over an eave wall, as the table takes it.
struct Over {
    /// Its wall; `None` on one gable, where both are alike.
    name: Option<String>,
    /// Of its block, building line to building line.
    span: Length,
    rise_in_12: f64,
    /// The farthest that its block reaches past a wall, level.
    overhang: Length,
}

/// The slopes of a roof. What stands on the roof, as a dormer does, is not among them.
fn slopes(code: &Code<'_>) -> Vec<Over> {
    let plan = code.plan();
    let Some(frame) = code.sticks.hung.filter(|_| code.sticks.gable.is_none()) else {
        return vec![Over {
            name: None,
            span: plan.rafter.span,
            rise_in_12: plan.rafter.pitch.unit_rise(),
            overhang: plan.rafter.overhang_from_building_line().max(plan.rake),
        }];
    };
    let ground = &frame.hung.ground;
    let walls = || ground.walls.iter().filter(|wall| ground.dormer(&wall.block).is_none());
    let of = |wall: &WallLine| {
        let wing = plan.blocks.wings.iter().find(|wing| wing.name == wall.block);
        let reaches = walls().filter(|other| other.block == wall.block).map(|other| other.reach);
        Some(Over {
            name: Some(wall.name()),
            span: wing.map_or(plan.rafter.span, |wing| wing.span),
            rise_in_12: wall.slope?.tangent() * 12.0,
            overhang: inches(reaches.fold(0.0, f64::max)),
        })
    };
    walls().filter_map(of).collect()
}

/// The slope that pulls hardest on its plate, and with what; of what the table does not cover the first.
fn hardest(cases: &[(Over, UpliftCase)]) -> Option<(&Over, Result<Lift, Vec<Note>>)> {
    let lifts = cases.iter().map(|(over, case)| (over, Lift::of(case)));
    lifts.reduce(|one, other| match (&one.1, &other.1) {
        (Err(_), _) => one,
        (_, Err(_)) => other,
        (Ok(first), Ok(second)) if second.corner.required > first.corner.required => other,
        _ => one,
    })
}

/// Slopes, each with its worst rafter.
type Cases = Vec<(Over, UpliftCase)>;

/// The worst rafter over every wall, near a corner, with the source of its dead load.
///
/// # Errors
/// The fields that are missing.
fn cases(code: &Code<'_>) -> Result<(Cases, Note), Vec<Key>> {
    let checks = code.checks;
    let holding = dead::holding(code);
    let missing: Vec<Key> = [
        (key!("loads.wind"), checks.wind_mph.is_none()),
        (key!("loads.exposure"), checks.exposure.is_none()),
        // the table ends at a mean roof height over the ground
        (key!("site.floor_height"), checks.floor_height.is_none()),
    ]
    .into_iter()
    .filter_map(|(key, is_missing)| is_missing.then_some(key))
    .chain(holding.as_ref().err().into_iter().flatten().copied())
    .collect();
    let (Some(wind_mph), Some(exposure), Some(floor), Ok(holding)) =
        (checks.wind_mph, checks.exposure, checks.floor_height, holding)
    else {
        return Err(missing);
    };
    let corners = code.sticks.roof.faces.iter().flat_map(|face| &face.outline);
    let peak = inches(corners.map(|corner| corner.z).fold(0.0, f64::max));
    let mean = code.plan().wall_height + (code.sticks.rafter.heel_stand + peak) / 2.0 + floor;
    let case = |over: Over| {
        let case = UpliftCase {
            exposure: match exposure {
                WindExposure::B => Exposure::B,
                WindExposure::C => Exposure::C,
                WindExposure::D => Exposure::D,
            },
            wind_mph,
            roof_span: over.span,
            rise_in_12: over.rise_in_12,
            spacing: code.carried_width(),
            overhang: over.overhang,
            mean_roof_height: mean,
            beyond_8_ft_of_corners: false,
            // with one gable among them it is none
            hip_roof: !code.has_gables(),
            full_walls_above: 0,
            dead: holding.dead,
        };
        (over, case)
    };
    Ok((slopes(code).into_iter().map(case).collect(), holding.why))
}

/// A force to the whole pound.
fn whole_pounds(force: f64) -> Amount {
    Pounds(force.round())
}

/// The forces on the way down.
struct Lift {
    case: UpliftCase,
    /// On a rafter within 8 ft of a corner.
    corner: UpliftForce,
    /// On a rafter farther in.
    inside: UpliftForce,
    /// At the sill, less the wall's own weight.
    sill: UpliftForce,
}

impl Lift {
    /// The forces; `Err` says what the table does not cover.
    fn of(case: &UpliftCase) -> Result<Lift, Vec<Note>> {
        let solved = |case: UpliftCase| match case.solve() {
            Ok(UpliftAnswer::Force(force)) => Ok(force),
            Ok(UpliftAnswer::NeedsDesign(why)) => Err(why.iter().map(|why| why.reason()).collect()),
            Err(fault) => Err(vec![fault.to_string().into()]),
        };
        Ok(Lift {
            case: *case,
            corner: solved(*case)?,
            inside: solved(UpliftCase { beyond_8_ft_of_corners: true, ..*case })?,
            sill: solved(UpliftCase { full_walls_above: 1, ..*case })?,
        })
    }

    fn is_light(&self) -> bool {
        in_pounds(self.corner.light_roof) > 0.0
    }
}

fn on_the_plate(code: &Code<'_>, finding: Finding, lift: &Lift) -> Finding {
    let required = in_pounds(lift.corner.required);
    let by_nails = code.figure(RuleId::Uplift200lb).unwrap_or(0.0);
    let mut finding = finding
        .held(Unit::Pounds, required, Sense::AtMost, by_nails)
        .note(Note::with(
            "for a rafter within {} of a corner ({} farther in); that is what toenails of Table R602.3(1) may hold",
            [
                Feet(RuleId::UpliftInteriorFactor.rule().corner_ft.unwrap_or_default()),
                whole_pounds(in_pounds(lift.inside.required)),
            ],
        ))
        .working(lift.case.working(&lift.corner));
    if lift.is_light() {
        finding = finding.told().note(Note::with(
            "Table R802.11 counts on {} of roof and ceiling; for what this roof lacks {} are added by statics, since the code does not say how",
            [Psf(TABLE_DEAD_PSF), whole_pounds(in_pounds(lift.corner.light_roof))],
        ));
    }
    if code.checks.edition == Edition::Irc2024 {
        finding = finding.note("and wall framing of specific gravity 0.42 or more");
    }
    // if toenails are enough, an extra connector changes nothing
    if let Some(rated) = code.checks.tie_down_lb
        && (finding.verdict == Verdict::Fails || rated >= required)
    {
        let mut tied = finding
            .held(Unit::Pounds, rated, Sense::AtLeast, required)
            .note(Note::with("rafter tie-down rated {}", [Pounds(rated)]));
        tied.working.push(step(
            "tie-down",
            "rated uplift, at least the uplift required",
            show(rated),
            Note::with("{} against {}", [Pounds(rated), Pounds(required)]),
        ));
        return tied;
    }
    if finding.verdict != Verdict::Fails {
        return finding;
    }
    // every exempt case in the table has 194 lb or less: the exemption helps only a roof lighter than
    // the table's, and that roof lifts with more than nails hold
    finding.note("toenails will not do: set rafter.tie_down to a connector rated for it")
}

fn down_the_wall(code: &Code<'_>, finding: Finding, lift: &Lift, is_sill: bool) -> Finding {
    let by_nails = code.figure(RuleId::UpliftWallPath).unwrap_or(0.0);
    let force = if is_sill { &lift.sill } else { &lift.corner };
    let net = in_plf(lift.case.along_the_wall(force));
    let from = if is_sill {
        Note::with(
            "pull on the foundation near a corner, {} taken off for the wall; {} on each anchor bolt at {}",
            [Plf(WALL_DEDUCTION_PLF), whole_pounds(net * BOLTS_FT), Feet(BOLTS_FT)],
        )
    } else {
        Note::with(
            "pull at the top plates near a corner, from rafter to stud; {} farther in",
            [Plf(in_plf(lift.case.along_the_wall(&lift.inside)).round())],
        )
    };
    let finding = finding.held(Unit::Plf, net, Sense::AtMost, by_nails).note(from).working([step(
        "uplift along the wall",
        if is_sill {
            format!(
                "(uplift of a rafter) / spacing - {} plf, not below 0",
                show(WALL_DEDUCTION_PLF)
            )
        } else {
            "(uplift of a rafter) / spacing".to_owned()
        },
        format!(
            "{} lb / {} ft",
            trim(in_pounds(lift.corner.required), 1),
            show(lift.case.spacing.inches() / 12.0)
        ),
        Note::with("{}", [Plf((net * 10.0).round() / 10.0)]),
    )]);
    match code.checks.wall_strap_plf {
        Some(rated) if finding.verdict == Verdict::Fails => finding
            .held(Unit::Plf, rated, Sense::AtLeast, net)
            .note(Note::with("connectors rated {}", [Plf(rated)])),
        None if finding.verdict == Verdict::Fails => finding.note(
            "nails will not do: set building.wall_strap to connectors from the top plates to the foundation rated for it",
        ),
        _ => finding,
    }
}
