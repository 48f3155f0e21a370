//! `prove` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::fit::ProvingSheet;
use crate::fit::diagnose::Cause;
use crate::fit::prove::usual_slip;
use crate::fit::prove::{Diagnosis, Miscut, Triangle};
use crate::frame::miscut::READINGS;
use crate::frame::{Amount, Further, Slip};
use crate::measure::Writing;
use crate::measure::quantity::{in_degrees, in_inches};

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
    /// Patterns cut wrong on purpose, and what they read.
    pub causes: Vec<MiscutJson>,
    /// What readings given with `--read` mean; null if none were.
    pub diagnosis: Option<DiagnosisJson>,
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
    /// What it means; several if they read alike here.
    pub means: String,
}

/// A slip and its amount, one of the two being null.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SlipJson {
    /// `square`, `ridge cut`, `ridge cut's lean`, `birdsmouth`, `seat's depth`, `heel cut`, `seat's lean`, `tail` or
    /// `stock`.
    pub slip: &'static str,
    /// Inches: positive if the rafter is long there, the cut deep, or the stock deeper.
    pub amount_in: Option<f64>,
    /// Degrees: positive if too steep, or the seat's inner end low.
    pub amount_deg: Option<f64>,
}

/// A pattern cut wrong on purpose.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MiscutJson {
    /// What went wrong.
    pub what: String,
    /// The slip.
    pub slip: SlipJson,
    /// What the pattern then reads, by the numbers of `dimensions`.
    pub reads_in: [f64; READINGS],
    /// True if a reading is then farther off than it may be.
    pub seen: bool,
    /// Other causes that read the same on a tape.
    pub alike: Vec<CauseJson>,
    /// What tells those apart; null if there are none, or if the pattern is the same either way.
    pub told_apart_by: Option<&'static str>,
    /// What that reads of this pattern.
    pub told_apart_in: Option<f64>,
}

/// What may have gone wrong.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CauseJson {
    /// In words.
    pub what: String,
    /// One slip, or two at once.
    pub slips: Vec<SlipJson>,
    /// Root of the mean square of what is left between its readings and the tape's.
    pub left_in: f64,
    /// What the measurement that tells the causes apart then reads; null if there is none.
    pub told_apart_in: Option<f64>,
}

/// What the readings of a pattern mean.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DiagnosisJson {
    /// What was read, by the numbers of `dimensions`; null if it was not taken.
    pub read_in: [Option<f64>; READINGS],
    /// True if every reading that was taken is within its tolerance.
    pub right: bool,
    /// The numbers of those that are not.
    pub off: Vec<u32>,
    /// What may have gone wrong, the nearest first.
    pub causes: Vec<CauseJson>,
    /// What tells the causes apart; null if there is one at most, or if the pattern is the same either way.
    pub told_apart_by: Option<&'static str>,
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
pub fn report(
    sheet: &ProvingSheet,
    diagnosis: Option<&Diagnosis>,
    writing: Writing,
) -> ProveReport {
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
                        means: telltale.means.clone(),
                    })
                    .collect(),
            })
            .collect(),
        causes: sheet
            .miscuts(usual_slip(writing))
            .iter()
            .map(|miscut| miscut_json(sheet, miscut, writing))
            .collect(),
        diagnosis: diagnosis.map(|found| diagnosis_json(sheet, found, writing)),
        triangles: sheet.triangles.iter().map(triangle).collect(),
        metric_triangles: sheet.metric_triangles.iter().map(triangle).collect(),
        notes: common::notes(&plan.notes()),
    }
}

fn slip_json(slip: Slip, of: f64) -> SlipJson {
    let (amount_in, amount_deg) = match slip.amount(of) {
        Amount::Length(length) => (Some(in_inches(length)), None),
        Amount::Angle(angle) => (None, Some(in_degrees(angle))),
    };
    SlipJson { slip: slip.name(), amount_in, amount_deg }
}

fn cause_json(
    sheet: &ProvingSheet,
    own: &Cause,
    told_apart_by: Option<Further>,
    writing: Writing,
) -> CauseJson {
    CauseJson {
        what: sheet.cause_words(own, writing),
        slips: own.slips.iter().map(|(slip, of)| slip_json(*slip, *of)).collect(),
        left_in: own.left,
        told_apart_in: told_apart_by.map(|further| own.further[further.place()]),
    }
}

fn miscut_json(sheet: &ProvingSheet, miscut: &Miscut, writing: Writing) -> MiscutJson {
    let by = miscut.told_apart_by.map(|(further, _)| further);
    MiscutJson {
        what: miscut.words(writing),
        slip: slip_json(miscut.slip, miscut.of),
        reads_in: miscut.reads.map(in_inches),
        seen: miscut.is_seen,
        alike: miscut.alike.iter().map(|other| cause_json(sheet, other, by, writing)).collect(),
        told_apart_by: by.map(Further::words),
        told_apart_in: miscut.told_apart_by.map(|(_, reads)| in_inches(reads)),
    }
}

fn diagnosis_json(sheet: &ProvingSheet, found: &Diagnosis, writing: Writing) -> DiagnosisJson {
    DiagnosisJson {
        read_in: found.read.map(|read| read.map(in_inches)),
        right: found.is_right(),
        off: found.off.clone(),
        causes: found
            .causes
            .iter()
            .map(|own| cause_json(sheet, own, found.told_apart_by, writing))
            .collect(),
        told_apart_by: found.told_apart_by.map(Further::words),
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
pub fn rows(sheet: &ProvingSheet, diagnosis: Option<&Diagnosis>, writing: Writing) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(found) = diagnosis {
        for (dimension, read) in sheet.dimensions.iter().zip(found.read) {
            if let Some(read) = read {
                let name = format!("{} read", dimension.number);
                rows.push(Row::length("read", &name, in_inches(read), writing));
            }
        }
        let verdict = if found.is_right() { "right" } else { "wrong" };
        rows.push(Row::words("read", "pattern", verdict));
        for own in &found.causes {
            rows.push(Row::words("read", "cause", &sheet.cause_words(own, writing)));
        }
    }
    for dimension in &sheet.dimensions {
        let table = dimension.on.name();
        let name = format!("{} {}", dimension.number, dimension.what);
        rows.push(Row::length(table, &name, in_inches(dimension.length), writing));
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
    for miscut in sheet.miscuts(usual_slip(writing)) {
        for (dimension, reads) in sheet.dimensions.iter().zip(miscut.reads) {
            rows.push(Row::length(
                "cut wrong",
                &format!("{}: {} reads", miscut.words(writing), dimension.number),
                in_inches(reads),
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
