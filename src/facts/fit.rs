//! `fit` as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::fit::{Aim, Answer, CapHeld, Fit, Mismatch, PlateDrop, Proof, TwoSides};
use crate::frame::Eave;
use crate::measure::Note;
use crate::measure::quantity::in_inches;
use crate::plan::{Find, FitPlan, Unknown};

use super::common::{self, FindingJson, UsedJson};
use super::rafter::{MarkJson, PatternRafter, marks, pattern};

/// The result of `fit`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FitReport {
    /// `fit`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// What was to be found, as `find` names it.
    pub find: &'static str,
    /// What heights are measured above: `the plate`, `the floor`, `the ground` or `the mark`.
    pub heights_above: &'static str,
    /// One entry for each measurement met, or one for caps or rows; empty for the other two kinds.
    pub fits: Vec<FitJson>,
    /// A plate drop, if one was asked for.
    pub plate_drop: Option<PlateDropJson>,
    /// Two unequal sides, if they were asked for.
    pub two_sides: Option<TwoSidesJson>,
    /// What was used without being asked for and may surprise.
    pub notes: Vec<String>,
}

/// Everything found for one aim. Values are inches, or rise in 12 where `unit` says so.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FitJson {
    /// `meet`, `largest` or `no narrow row`.
    pub aim: &'static str,
    /// The measurement that is met; null for caps and rows.
    pub met: Option<&'static str>,
    /// Unit of every value: `in` or `rise_in_12`.
    pub unit: &'static str,
    /// Where the search starts.
    pub looked_from: f64,
    /// Where it ends.
    pub looked_to: f64,
    /// How often the roof was built.
    pub roofs_built: u32,
    /// What the file has for the unknown; null if nothing.
    pub present: Option<f64>,
    /// The measurements as the file stands.
    pub as_it_stands: Vec<MismatchJson>,
    /// Each value that answers, in order; empty if there is none.
    pub solutions: Vec<SolutionJson>,
    /// Stretches all along which the measurement is met.
    pub stretches: Vec<StretchJson>,
    /// Places where the measurement leaps over what is asked.
    pub jumps: Vec<JumpJson>,
    /// Least of the measurement over all that can be built; null for caps and rows.
    pub reach_least_in: Option<f64>,
    /// The unknown there.
    pub reach_least_at: Option<f64>,
    /// Greatest of the measurement.
    pub reach_most_in: Option<f64>,
    /// The unknown there.
    pub reach_most_at: Option<f64>,
    /// Other numbers that would meet it alone, where this one can't.
    pub instead: Vec<InsteadJson>,
}

/// One value that answers.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SolutionJson {
    /// The value, not rounded.
    pub value: f64,
    /// Lower end of the bracket.
    pub bracket_from: f64,
    /// Upper end.
    pub bracket_to: f64,
    /// Halvings that closed it.
    pub halvings: u32,
    /// What is left of the measurement; null for caps and rows.
    pub residual_in: Option<f64>,
    /// True if the measurement touches what is asked and turns back.
    pub touches: bool,
    /// What stops it just beyond, for caps and rows.
    pub stopped_by: Vec<String>,
    /// Every measurement, the one that is met too.
    pub measurements: Vec<MismatchJson>,
    /// Second numbers that remove what is left of the others.
    pub removals: Vec<RemovalJson>,
    /// Every cap.
    pub caps: Vec<CapJson>,
    /// The value as it is cut and written, finest step first.
    pub buildable: Vec<BuildableJson>,
    /// The pattern rafter with the exact value.
    pub pattern_rafter: PatternRafter,
    /// Rules and own limits.
    pub findings: Vec<FindingJson>,
}

/// A measurement beside what the roof comes to.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MismatchJson {
    /// The measurement, as `meet` names it.
    pub measurement: &'static str,
    /// As asked.
    pub asked_in: f64,
    /// What the roof has.
    pub found_in: f64,
    /// Found less asked.
    pub over_in: f64,
}

/// A cap beside what the roof comes to.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CapJson {
    /// What is capped.
    pub cap: &'static str,
    /// What the roof has.
    pub found_in: f64,
    /// The most.
    pub most_in: f64,
    /// True if it is kept.
    pub kept: bool,
}

/// A value as a tape or a square shows it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct BuildableJson {
    /// The value.
    pub value: f64,
    /// As it is written.
    pub written: String,
    /// The table of the roof file.
    pub table: &'static str,
    /// The line under it.
    pub line: String,
    /// True if it keeps caps and rows.
    pub keeps: bool,
    /// Every measurement with it.
    pub measurements: Vec<MismatchJson>,
}

/// A second number that removes what is left of a measurement.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RemovalJson {
    /// The measurement that is met besides.
    pub measurement: &'static str,
    /// The field of the second number.
    pub second: &'static str,
    /// What it is in the plan, inches or rise in 12.
    pub second_present: f64,
    /// What it becomes.
    pub second_value: f64,
    /// What the first number becomes with it.
    pub first_value: f64,
    /// What is left of both.
    pub residual_in: f64,
    /// Rules that the roof then fails.
    pub fails: Vec<&'static str>,
}

/// Another number that would meet a measurement alone.
#[derive(Debug, Serialize, JsonSchema)]
pub struct InsteadJson {
    /// Its field.
    pub unknown: &'static str,
    /// Its values, inches or rise in 12.
    pub values: Vec<f64>,
    /// Rules that the roof then fails.
    pub fails: Vec<&'static str>,
}

/// A stretch of values.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StretchJson {
    /// Its start.
    pub from: f64,
    /// Its end.
    pub to: f64,
}

/// A leap of a measurement over what is asked.
#[derive(Debug, Serialize, JsonSchema)]
pub struct JumpJson {
    /// The value just before it.
    pub before: f64,
    /// Found less asked there.
    pub before_over_in: f64,
    /// The value just after it.
    pub after: f64,
    /// Found less asked there.
    pub after_over_in: f64,
}

/// A plate drop.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlateDropJson {
    /// How much lower the deeper rafter's plate lies.
    pub drop_in: f64,
    /// How much lower its plumb tail reaches.
    pub tail_hangs_lower_in: f64,
    /// The plan's own rafter.
    pub pattern_rafter: PatternRafter,
    /// The deeper rafter.
    pub deeper_rafter: PatternRafter,
    /// Seats that keep one plate for both instead.
    pub seats_on_one_plate: Vec<SeatJson>,
    /// Rules that the deeper rafter can be held against.
    pub findings: Vec<FindingJson>,
}

/// A seat of the deeper rafter.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SeatJson {
    /// Level length.
    pub seat_in: f64,
    /// Rules that it fails.
    pub fails: Vec<&'static str>,
}

/// Two unequal sides.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TwoSidesJson {
    /// Unit of every value: `in` or `rise_in_12`.
    pub unit: &'static str,
    /// Where the search starts.
    pub looked_from: f64,
    /// Where it ends.
    pub looked_to: f64,
    /// How often both sides were built.
    pub roofs_built: u32,
    /// Least that the peak of A stands above that of B.
    pub reach_least_in: Option<f64>,
    /// Most.
    pub reach_most_in: Option<f64>,
    /// Each way they meet; empty if there is none.
    pub solutions: Vec<SidesJson>,
}

/// One way two sides meet.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SidesJson {
    /// Run of A, plate of B above that of A, or rise in 12 of plane B.
    pub value: f64,
    /// Lower end of the bracket.
    pub bracket_from: f64,
    /// Upper end.
    pub bracket_to: f64,
    /// Halvings that closed it.
    pub halvings: u32,
    /// How far the peaks stand apart.
    pub residual_in: f64,
    /// The rafters' tops at the ridge's faces, A above B.
    pub ridge_tops_apart_in: f64,
    /// Fascia of B above that of A.
    pub fascia_b_above_a_in: f64,
    /// Overhangs of eave B that bring both fascias level; empty if none does.
    pub level_overhangs_b_in: Vec<f64>,
    /// The value as it is built, finest step first.
    pub buildable: Vec<SidesBuildableJson>,
    /// Both sides, A first.
    pub sides: Vec<SideJson>,
}

/// A value between two sides as a tape or a square shows it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SidesBuildableJson {
    /// The value.
    pub value: f64,
    /// As it is written.
    pub written: String,
    /// How far the peaks then stand apart, A above B.
    pub peaks_apart_in: f64,
}

/// One side.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SideJson {
    /// `A` or `B`.
    pub side: &'static str,
    /// Its plate above that of A.
    pub plate_above_plate_a_in: f64,
    /// Level overhang asked of it.
    pub overhang_in: f64,
    /// Fascia's top above plate A.
    pub fascia_top_above_plate_a_in: f64,
    /// Peak above plate A.
    pub apex_above_plate_a_in: f64,
    /// Its pattern rafter; heights there are above its own plate.
    pub pattern_rafter: PatternRafter,
    /// Its marks.
    pub marks: Vec<MarkJson>,
    /// Rules and own limits.
    pub findings: Vec<FindingJson>,
}

/// The report of one number.
#[must_use]
pub fn report(plan: &FitPlan, fits: &[Fit], notes: &[Note]) -> FitReport {
    FitReport { fits: fits.iter().map(fit).collect(), ..started(plan, notes) }
}

/// The report of a plate drop.
#[must_use]
pub fn drop_report(plan: &FitPlan, drop: &PlateDrop) -> FitReport {
    FitReport {
        plate_drop: Some(PlateDropJson {
            drop_in: in_inches(drop.drop),
            tail_hangs_lower_in: in_inches(drop.hangs_lower),
            pattern_rafter: of_eave(&drop.rafter),
            deeper_rafter: of_eave(&drop.deeper),
            seats_on_one_plate: drop
                .seats
                .iter()
                .map(|(root, fails)| SeatJson { seat_in: root.value, fails: fails.clone() })
                .collect(),
            findings: common::findings(&drop.findings),
        }),
        ..started(plan, &plan.eave.rafter.notes())
    }
}

/// The report of two sides.
#[must_use]
pub fn sides_report(plan: &FitPlan, found: &TwoSides) -> FitReport {
    FitReport { two_sides: Some(two_sides(found)), ..started(plan, &plan.eave.rafter.notes()) }
}

fn started(plan: &FitPlan, notes: &[Note]) -> FitReport {
    FitReport {
        command: "fit",
        caution: crate::facts::caution::RAFTER,
        used: common::used(&plan.eave.rafter.used),
        find: plan.find.name(),
        heights_above: plan.datum.words(),
        fits: Vec::new(),
        plate_drop: None,
        two_sides: None,
        notes: common::notes(notes),
    }
}

fn unit(is_pitch: bool) -> &'static str {
    if is_pitch { "rise_in_12" } else { "in" }
}

pub(super) fn of_eave(eave: &Eave) -> PatternRafter {
    pattern(&eave.rafter)
}

fn fit(fit: &Fit) -> FitJson {
    let (aim, met) = match fit.aim {
        Aim::Meet(measured) => ("meet", Some(measured.quantity.name())),
        Aim::Largest => ("largest", None),
        Aim::NoNarrowRow => ("no narrow row", None),
    };
    FitJson {
        aim,
        met,
        unit: unit(fit.unknown == Unknown::Pitch),
        looked_from: fit.looked_through.0,
        looked_to: fit.looked_through.1,
        roofs_built: fit.built,
        present: fit.present,
        as_it_stands: fit.as_it_stands.iter().map(mismatch).collect(),
        solutions: fit.answers.iter().map(solution).collect(),
        stretches: fit
            .stretches
            .iter()
            .map(|stretch| StretchJson { from: stretch.from, to: stretch.to })
            .collect(),
        jumps: fit
            .jumps
            .iter()
            .map(|jump| JumpJson {
                before: jump.below.0,
                before_over_in: jump.below.1,
                after: jump.above.0,
                after_over_in: jump.above.1,
            })
            .collect(),
        reach_least_in: fit.reach.map(|((_, least), _)| least),
        reach_least_at: fit.reach.map(|((at, _), _)| at),
        reach_most_in: fit.reach.map(|(_, (_, most))| most),
        reach_most_at: fit.reach.map(|(_, (at, _))| at),
        instead: fit
            .instead
            .iter()
            .map(|instead| InsteadJson {
                unknown: instead.unknown.key().name(),
                values: instead.values.clone(),
                fails: instead.fails.clone(),
            })
            .collect(),
    }
}

fn solution(answer: &Answer) -> SolutionJson {
    let (bracket, halvings, residual, touches) = match answer.proof {
        Proof::Met(root) => (root.bracket, root.halvings, Some(root.residual), root.touches),
        Proof::Edge(end) => {
            let outside = end.outside.unwrap_or(end.inside);
            let bracket = (end.inside.min(outside), end.inside.max(outside));
            (bracket, end.halvings, None, false)
        }
    };
    SolutionJson {
        value: answer.value,
        bracket_from: bracket.0,
        bracket_to: bracket.1,
        halvings,
        residual_in: residual,
        touches,
        stopped_by: answer.stopped_by.clone(),
        measurements: answer.mismatches.iter().map(mismatch).collect(),
        removals: answer
            .removals
            .iter()
            .map(|removal| RemovalJson {
                measurement: removal.measured.quantity.name(),
                second: removal.second.key().name(),
                second_present: removal.second_present,
                second_value: removal.second_value,
                first_value: removal.first_value,
                residual_in: removal.residual_in,
                fails: removal.fails.clone(),
            })
            .collect(),
        caps: answer.caps.iter().map(cap).collect(),
        buildable: answer
            .buildable
            .iter()
            .map(|buildable| BuildableJson {
                value: buildable.value,
                written: buildable.written.clone(),
                table: buildable.table,
                line: buildable.line.clone(),
                keeps: buildable.keeps,
                measurements: buildable.mismatches.iter().map(mismatch).collect(),
            })
            .collect(),
        pattern_rafter: of_eave(&answer.eave),
        findings: common::findings(&answer.findings),
    }
}

fn mismatch(mismatch: &Mismatch) -> MismatchJson {
    MismatchJson {
        measurement: mismatch.measured.quantity.name(),
        asked_in: in_inches(mismatch.measured.asked),
        found_in: mismatch.found_in,
        over_in: mismatch.over_in(),
    }
}

fn cap(cap: &CapHeld) -> CapJson {
    CapJson { cap: cap.what, found_in: cap.found_in, most_in: cap.most_in, kept: cap.is_kept() }
}

fn two_sides(found: &TwoSides) -> TwoSidesJson {
    TwoSidesJson {
        unit: unit(found.find == Find::PitchB),
        looked_from: found.looked_through.0,
        looked_to: found.looked_through.1,
        roofs_built: found.built,
        reach_least_in: found.reach.map(|(least, _)| least),
        reach_most_in: found.reach.map(|(_, most)| most),
        solutions: found
            .answers
            .iter()
            .map(|answer| SidesJson {
                value: answer.value,
                bracket_from: answer.root.bracket.0,
                bracket_to: answer.root.bracket.1,
                halvings: answer.root.halvings,
                residual_in: answer.root.residual,
                ridge_tops_apart_in: in_inches(answer.ridge_tops_apart()),
                fascia_b_above_a_in: in_inches(answer.fascia.b_above_a),
                level_overhangs_b_in: answer
                    .fascia
                    .overhangs
                    .iter()
                    .map(|root| root.value)
                    .collect(),
                buildable: answer
                    .buildable
                    .iter()
                    .map(|buildable| SidesBuildableJson {
                        value: buildable.value,
                        written: buildable.written.clone(),
                        peaks_apart_in: in_inches(buildable.peaks_apart),
                    })
                    .collect(),
                sides: answer
                    .sides
                    .iter()
                    .map(|side| SideJson {
                        side: side.name,
                        plate_above_plate_a_in: in_inches(side.plate),
                        overhang_in: in_inches(side.eave.rafter.plan.overhang),
                        fascia_top_above_plate_a_in: in_inches(
                            side.above_plate_a(side.eave.fascia_top.above_plate),
                        ),
                        apex_above_plate_a_in: in_inches(side.above_plate_a(side.eave.rafter.apex)),
                        pattern_rafter: of_eave(&side.eave),
                        marks: marks(&side.eave.rafter),
                        findings: common::findings(&side.findings),
                    })
                    .collect(),
            })
            .collect(),
    }
}
