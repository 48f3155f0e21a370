//! `rafter` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::frame::{CommonRafter, Edge};
use crate::measure::Writing;
use crate::measure::quantity::{in_degrees, in_inches};
use crate::rules::Finding;
use crate::square::{Compared, SquareRow, step_off};

use super::common::{self, FindingJson, Row, UsedJson};

/// The result of `rafter`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RafterReport {
    /// `rafter`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// The pattern rafter's numbers.
    pub pattern_rafter: PatternRafter,
    /// The marks, along the top edge and the bottom edge.
    pub marks: Vec<MarkJson>,
    /// The cuts and their settings.
    pub cuts: Vec<CutJson>,
    /// The five tape dimensions that prove the pattern after it is cut.
    pub proofs: Vec<ProofJson>,
    /// The numbers by the framing square, the second route.
    pub by_square: Vec<BySquare>,
    /// What was used without being asked for and may surprise.
    pub notes: Vec<String>,
    /// The rules that the rafter alone can be held against.
    pub findings: Vec<FindingJson>,
}

/// The pattern rafter's numbers. Lengths in inches, angles in degrees.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PatternRafter {
    /// Half the span.
    pub run_in: f64,
    /// Angle of the slope.
    pub slope_deg: f64,
    /// Rise in 12.
    pub unit_rise_in: f64,
    /// Building line to the center of the ridge, along the slope.
    pub line_length_in: f64,
    /// What the ridge takes off, along the slope.
    pub ridge_shortening_in: f64,
    /// Building line to the ridge plumb cut.
    pub body_length_in: f64,
    /// Building line to the tail cut.
    pub tail_length_in: f64,
    /// Ridge plumb cut to tail cut, top edge.
    pub rafter_length_in: f64,
    /// The blank: shortest board it can be cut from.
    pub stock_length_in: f64,
    /// Length of a plumb cut through the whole depth.
    pub plumb_height_in: f64,
    /// Level seat cut.
    pub seat_in: f64,
    /// Plumb heel cut, seat to bottom edge at the building line.
    pub heel_plumb_in: f64,
    /// Depth of the notch square to the edge.
    pub notch_depth_in: f64,
    /// Plate to top edge, plumb, at the building line.
    pub heel_stand_in: f64,
    /// Top edge at the ridge face, above the plate.
    pub ridge_top_above_plate_in: f64,
    /// The same line at the center of the ridge.
    pub apex_above_plate_in: f64,
    /// Stock length to order, feet; null if none is long enough.
    pub order_length_ft: Option<f64>,
    /// What is left of the stock length.
    pub order_margin_in: Option<f64>,
    /// Level length of the seat on the plate.
    pub bearing_in: f64,
    /// Level, building line to tail cut at the top edge.
    pub tail_projection_in: f64,
    /// What decided the seat.
    pub seat_decided_by: String,
    /// Step-offs of the body, to the center of the ridge.
    pub step_off: StepOffJson,
    /// Step-offs of the tail.
    pub tail_step_off: StepOffJson,
}

/// How often the square is stepped.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StepOffJson {
    /// Whole steps of 12 in of run.
    pub full_steps: u32,
    /// Length of a step along the rafter.
    pub step_in: f64,
    /// Run of the last part step.
    pub last_run_in: f64,
    /// Rise of the last part step.
    pub last_rise_in: f64,
}

/// One mark.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MarkJson {
    /// Its number on the drawing.
    pub number: u32,
    /// `top` or `bottom`.
    pub edge: &'static str,
    /// What is marked.
    pub name: &'static str,
    /// The line drawn through it.
    pub line: &'static str,
    /// From the ridge's long point on the top edge, from its short point on the bottom edge.
    pub at_in: f64,
}

/// One cut.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CutJson {
    /// The cut.
    pub name: &'static str,
    /// Off a line square to the edges, on the wide face.
    pub miter_deg: f64,
    /// Blade tilt off square.
    pub bevel_deg: f64,
    /// The miter as rise in 12.
    pub rise_in_12: f64,
    /// Length of the cut's line.
    pub length_in: f64,
}

/// One dimension that proves the cut pattern, straight between two of its corners.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ProofJson {
    /// Its letter on the drawing.
    pub letter: char,
    /// From where to where.
    pub what: &'static str,
    /// What it proves.
    pub proves: &'static str,
    /// What the tape reads.
    pub length_in: f64,
}

/// One number by the second route.
#[derive(Debug, Serialize, JsonSchema)]
pub struct BySquare {
    /// The number's name in `pattern_rafter`.
    pub key: &'static str,
    /// As measured on the stick.
    pub measured: f64,
    /// By unit length, step-off and rise in 12.
    pub by_square: f64,
    /// Measured less by the square.
    pub difference: f64,
    /// The working.
    pub how: String,
}

/// The whole result.
#[must_use]
pub fn report(rafter: &CommonRafter, compared: &[Compared], findings: &[Finding]) -> RafterReport {
    RafterReport {
        command: "rafter",
        caution: crate::facts::caution::RAFTER,
        used: common::used(&rafter.plan.used),
        pattern_rafter: pattern(rafter),
        marks: marks(rafter),
        cuts: rafter
            .cuts
            .iter()
            .map(|cut| CutJson {
                name: cut.name,
                miter_deg: in_degrees(cut.saw.miter),
                bevel_deg: in_degrees(cut.saw.bevel),
                rise_in_12: cut.saw.rise_in_12(),
                length_in: in_inches(cut.length),
            })
            .collect(),
        proofs: rafter
            .proofs()
            .iter()
            .map(|proof| ProofJson {
                letter: proof.letter,
                what: proof.what,
                proves: proof.proves,
                length_in: in_inches(proof.length()),
            })
            .collect(),
        by_square: compared
            .iter()
            .map(|compared| BySquare {
                key: compared.by_square.key,
                measured: compared.measured,
                by_square: compared.by_square.value,
                difference: compared.difference(),
                how: compared.by_square.how.clone(),
            })
            .collect(),
        notes: common::notes(&rafter.plan.notes()),
        findings: common::findings(findings),
    }
}

/// The marks, along the top edge and the bottom edge.
pub(super) fn marks(rafter: &CommonRafter) -> Vec<MarkJson> {
    rafter
        .marks
        .iter()
        .map(|mark| MarkJson {
            number: mark.number,
            edge: match mark.edge {
                Edge::Top => "top",
                Edge::Bottom => "bottom",
            },
            name: mark.name,
            line: mark.line,
            at_in: in_inches(mark.at),
        })
        .collect()
}

/// The numbers of a pattern rafter.
pub(super) fn pattern(rafter: &CommonRafter) -> PatternRafter {
    let row = SquareRow::at(rafter.plan.pitch);
    let steps = |run_in: f64| {
        let step = step_off(row, run_in);
        StepOffJson {
            full_steps: step.full_steps,
            step_in: step.step_in,
            last_run_in: step.last_run_in,
            last_rise_in: step.last_rise_in,
        }
    };
    PatternRafter {
        run_in: in_inches(rafter.plan.run()),
        slope_deg: in_degrees(rafter.slope),
        unit_rise_in: rafter.plan.pitch.unit_rise(),
        line_length_in: in_inches(rafter.line_length),
        ridge_shortening_in: in_inches(rafter.ridge_shortening),
        body_length_in: in_inches(rafter.body_length),
        tail_length_in: in_inches(rafter.tail_length),
        rafter_length_in: in_inches(rafter.rafter_length),
        stock_length_in: in_inches(rafter.blank_length),
        plumb_height_in: in_inches(rafter.plumb_height),
        seat_in: in_inches(rafter.seat.length),
        heel_plumb_in: in_inches(rafter.heel_plumb),
        notch_depth_in: in_inches(rafter.notch_depth),
        heel_stand_in: in_inches(rafter.heel_stand),
        ridge_top_above_plate_in: in_inches(rafter.ridge_top),
        apex_above_plate_in: in_inches(rafter.apex),
        order_length_ft: rafter.order_length.map(|length| in_inches(length) / 12.0),
        order_margin_in: rafter.margin.map(in_inches),
        bearing_in: in_inches(rafter.bearing),
        tail_projection_in: in_inches(rafter.tail_projection),
        seat_decided_by: rafter.seat.decided_by.words().write(Writing::default()),
        step_off: steps(in_inches(rafter.plan.run())),
        tail_step_off: steps(in_inches(rafter.tail_projection)),
    }
}

/// The same as rows: every number of the JSON form.
#[must_use]
pub fn rows(
    rafter: &CommonRafter,
    compared: &[Compared],
    findings: &[Finding],
    writing: Writing,
) -> Vec<Row> {
    let report = report(rafter, compared, findings);
    let mut rows = vec![];
    let table = "pattern_rafter";
    if let Ok(serde_json::Value::Object(numbers)) = serde_json::to_value(&report.pattern_rafter) {
        for (name, value) in &numbers {
            match value.as_f64() {
                Some(number) if name.ends_with("_in") => {
                    rows.push(Row::length(table, name, number, writing));
                }
                Some(number) => {
                    let unit = name.rsplit('_').next().unwrap_or_default();
                    rows.push(Row::figure(table, name, number, unit));
                }
                None => {
                    if let Some(words) = value.as_str() {
                        rows.push(Row::words(table, name, words));
                    }
                }
            }
        }
    }
    for (name, step) in [
        ("step_off", &report.pattern_rafter.step_off),
        ("tail_step_off", &report.pattern_rafter.tail_step_off),
    ] {
        rows.push(Row::figure(name, "full_steps", f64::from(step.full_steps), "count"));
        rows.push(Row::length(name, "step_in", step.step_in, writing));
        rows.push(Row::length(name, "last_run_in", step.last_run_in, writing));
        rows.push(Row::length(name, "last_rise_in", step.last_rise_in, writing));
    }
    for mark in &report.marks {
        let name = format!("{} {}", mark.number, mark.name);
        rows.push(Row::length(&format!("marks_{}_edge", mark.edge), &name, mark.at_in, writing));
    }
    for cut in &report.cuts {
        rows.push(Row::figure("cuts", &format!("{}: miter", cut.name), cut.miter_deg, "deg"));
        rows.push(Row::figure("cuts", &format!("{}: bevel", cut.name), cut.bevel_deg, "deg"));
        rows.push(Row::figure("cuts", &format!("{}: rise in 12", cut.name), cut.rise_in_12, "in"));
        rows.push(Row::length("cuts", &format!("{}: length", cut.name), cut.length_in, writing));
    }
    for proof in &report.proofs {
        let name = format!("{} {}", proof.letter, proof.what);
        rows.push(Row::length("proofs", &name, proof.length_in, writing));
    }
    for number in compared {
        let unit = if number.by_square.is_angle() { "deg" } else { "in" };
        rows.push(Row::figure("by_square", number.by_square.key, number.by_square.value, unit));
        rows.push(Row::figure(
            "by_square",
            &format!("{}: difference", number.by_square.key),
            number.difference(),
            unit,
        ));
    }
    rows.extend(common::finding_rows(findings, writing));
    rows
}
