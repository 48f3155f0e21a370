//! `eave` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::frame::Eave;
use crate::frame::eave::Spot;
use crate::measure::Writing;
use crate::measure::quantity::in_inches;
use crate::plan::MeasuredTo;
use crate::rules::Finding;

use super::common::{self, FindingJson, Row, UsedJson};

/// The result of `eave`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EaveReport {
    /// `eave`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// The eave's dimensions.
    pub eave: EaveJson,
    /// Each measured overhang.
    pub measured: Vec<MeasuredJson>,
    /// What `measured` reaches to: `tail` or `fascia`.
    pub measured_to: &'static str,
    /// The overhang that every measured tail reaches.
    pub reached_by_all_in: Option<f64>,
    /// What was used without being asked for and may surprise.
    pub notes: Vec<String>,
    /// Rules and own limits.
    pub findings: Vec<FindingJson>,
}

/// The eave's dimensions, inches. `out` is level from the building line, outward positive.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EaveJson {
    /// Level, outer face to outer face of the fascias of both eaves; of the tail cuts without fascia.
    pub width_over_all_in: f64,
    /// Top corner of the tail cut, out.
    pub tail_top_out_in: f64,
    /// The same above the plate.
    pub tail_top_above_plate_in: f64,
    /// Lowest point of the tail, out.
    pub tail_foot_out_in: f64,
    /// The same above the plate.
    pub tail_foot_above_plate_in: f64,
    /// Fascia's outer face at its top, out.
    pub fascia_out_in: f64,
    /// Fascia's outer face from the finished wall.
    pub fascia_from_finish_in: f64,
    /// Fascia's top above the plate.
    pub fascia_top_above_plate_in: f64,
    /// Fascia's bottom above the plate.
    pub fascia_bottom_above_plate_in: Option<f64>,
    /// Sub-fascia's top below the tail's top corner.
    pub subfascia_drop_in: f64,
    /// Fascia's top below the tail's top corner.
    pub fascia_drop_in: f64,
    /// Least fascia depth that covers tail and soffit.
    pub least_fascia_depth_in: f64,
    /// Underside of the soffit above the plate.
    pub soffit_above_plate_in: f64,
    /// Finished wall to the back of the boards.
    pub soffit_width_in: f64,
    /// Plate above the floor.
    pub wall_height_in: f64,
    /// Underside of the soffit less the window head.
    pub soffit_over_window_head_in: Option<f64>,
}

/// One measured overhang.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MeasuredJson {
    /// As measured.
    pub measured_in: f64,
    /// Level: positive must come off, negative is lacking.
    pub over_in: f64,
    /// The same along the slope.
    pub over_along_slope_in: f64,
}

/// The whole result.
#[must_use]
pub fn report(eave: &Eave, findings: &[Finding]) -> EaveReport {
    // adding zero takes the sign off a negative zero
    let out = |spot: Spot| in_inches(spot.out) + 0.0;
    let above = |spot: Spot| in_inches(spot.above_plate) + 0.0;
    EaveReport {
        command: "eave",
        caution: crate::facts::caution::RAFTER,
        used: common::used(&eave.rafter.plan.used),
        eave: EaveJson {
            width_over_all_in: in_inches(eave.width_over_all()),
            tail_top_out_in: out(eave.tail_top),
            tail_top_above_plate_in: above(eave.tail_top),
            tail_foot_out_in: out(eave.tail_foot),
            tail_foot_above_plate_in: above(eave.tail_foot),
            fascia_out_in: out(eave.fascia_top),
            fascia_from_finish_in: in_inches(eave.fascia_from_finish),
            fascia_top_above_plate_in: above(eave.fascia_top),
            fascia_bottom_above_plate_in: eave.fascia_bottom.map(above),
            subfascia_drop_in: in_inches(eave.subfascia_drop),
            fascia_drop_in: in_inches(eave.fascia_drop),
            least_fascia_depth_in: in_inches(eave.least_fascia_depth),
            soffit_above_plate_in: in_inches(eave.soffit),
            soffit_width_in: in_inches(eave.soffit_width),
            wall_height_in: in_inches(eave.plan.wall_height),
            soffit_over_window_head_in: eave.over_window_head.map(in_inches),
        },
        measured: eave
            .measured
            .iter()
            .map(|tail| MeasuredJson {
                measured_in: in_inches(tail.measured),
                over_in: in_inches(tail.over),
                over_along_slope_in: in_inches(tail.over_along_slope),
            })
            .collect(),
        measured_to: match eave.plan.measured_to {
            MeasuredTo::Tail => "tail",
            MeasuredTo::Fascia => "fascia",
        },
        reached_by_all_in: eave.reached_by_all.map(in_inches),
        notes: common::notes(&eave.rafter.plan.notes()),
        findings: common::findings(findings),
    }
}

/// The same as rows.
#[must_use]
pub fn rows(eave: &Eave, findings: &[Finding], writing: Writing) -> Vec<Row> {
    let report = report(eave, findings);
    let mut rows = Vec::new();
    if let Ok(serde_json::Value::Object(numbers)) = serde_json::to_value(&report.eave) {
        for (name, value) in &numbers {
            if let Some(number) = value.as_f64() {
                rows.push(Row::length("eave", name, number, writing));
            }
        }
    }
    for (index, tail) in report.measured.iter().enumerate() {
        let name = |what: &str| format!("{} {what}", index + 1);
        rows.push(Row::length("measured", &name("measured"), tail.measured_in, writing));
        rows.push(Row::length("measured", &name("over"), tail.over_in, writing));
        rows.push(Row::length(
            "measured",
            &name("over along the slope"),
            tail.over_along_slope_in,
            writing,
        ));
    }
    if let Some(reached) = report.reached_by_all_in {
        rows.push(Row::length("measured", "reached by all", reached, writing));
    }
    rows.extend(common::finding_rows(findings, writing));
    rows
}
