//! `prove` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::fit::ProvingSheet;
use crate::fit::prove::Triangle;
use crate::measure::Writing;
use crate::measure::quantity::in_inches;

use super::common::{self, Row, UsedJson};

/// The result of `prove`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ProveReport {
    /// `prove`.
    pub command: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// What to measure.
    pub dimensions: Vec<DimensionJson>,
    /// The largest 3-4-5 triangles in whole feet (inches on a small plan).
    pub triangles: Vec<TriangleJson>,
    /// The largest in whole tenths of a meter (centimeters on a small plan).
    pub metric_triangles: Vec<TriangleJson>,
    /// What was used without being asked for and may surprise.
    pub notes: Vec<String>,
}

/// One dimension to measure.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DimensionJson {
    /// Its number on the sheet.
    pub number: u32,
    /// `pattern` or `building`.
    pub on: &'static str,
    /// From where to where.
    pub what: &'static str,
    /// What it has to read.
    pub length_in: f64,
    /// How far it may be off either way (common practice).
    pub tolerance_in: f64,
    /// What a wrong reading means.
    pub wrong: &'static str,
    /// Readings that tell more.
    pub telltales: Vec<TelltaleJson>,
}

/// A reading that tells what went wrong.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TelltaleJson {
    /// The reading.
    pub reads_in: f64,
    /// What it means.
    pub means: &'static str,
}

/// A right triangle.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TriangleJson {
    /// The unit: 3, 4 and 5 times it.
    pub unit_in: f64,
    /// Along the eave wall.
    pub along_length_in: f64,
    /// Along the end wall.
    pub along_span_in: f64,
    /// Between the two marks.
    pub diagonal_in: f64,
}

/// The whole result.
#[must_use]
pub fn report(sheet: &ProvingSheet) -> ProveReport {
    let plan = &sheet.rafter.plan;
    ProveReport {
        command: "prove",
        used: common::used(&plan.used),
        dimensions: sheet
            .dimensions
            .iter()
            .map(|dimension| DimensionJson {
                number: dimension.number,
                on: dimension.on.name(),
                what: dimension.what,
                length_in: in_inches(dimension.length),
                tolerance_in: in_inches(dimension.tolerance),
                wrong: dimension.wrong,
                telltales: dimension
                    .telltales
                    .iter()
                    .map(|telltale| TelltaleJson {
                        reads_in: in_inches(telltale.reads),
                        means: telltale.means,
                    })
                    .collect(),
            })
            .collect(),
        triangles: sheet.triangles.iter().map(triangle).collect(),
        metric_triangles: sheet.metric_triangles.iter().map(triangle).collect(),
        notes: common::notes(&plan.notes()),
    }
}

fn triangle(triangle: &Triangle) -> TriangleJson {
    TriangleJson {
        unit_in: in_inches(triangle.unit),
        along_length_in: in_inches(triangle.along_length),
        along_span_in: in_inches(triangle.along_span),
        diagonal_in: in_inches(triangle.diagonal),
    }
}

/// The same as rows.
#[must_use]
pub fn rows(sheet: &ProvingSheet, writing: Writing) -> Vec<Row> {
    let mut rows = Vec::new();
    for dimension in &sheet.dimensions {
        let table = dimension.on.name();
        let name = format!("{} {}", dimension.number, dimension.what);
        rows.push(Row::length(
            table,
            &name,
            in_inches(dimension.length),
            writing,
        ));
        rows.push(Row::length(
            table,
            &format!("{} tolerance", dimension.number),
            in_inches(dimension.tolerance),
            writing,
        ));
        for telltale in &dimension.telltales {
            rows.push(Row::length(
                table,
                &format!("{} reads so where {}", dimension.number, telltale.means),
                in_inches(telltale.reads),
                writing,
            ));
        }
    }
    let triangles = if writing.units == crate::measure::Units::Millimeters {
        &sheet.metric_triangles
    } else {
        &sheet.triangles
    };
    for triangle in triangles {
        for (name, length) in [
            ("along the eave wall", triangle.along_length),
            ("along the end wall", triangle.along_span),
            ("mark to mark", triangle.diagonal),
        ] {
            rows.push(Row::length("3-4-5", name, in_inches(length), writing));
        }
    }
    rows
}
