//! `prove` as JSON and CSV.

use crate::fit::ProvingSheet;
use crate::fit::diagnose::Cause;
use crate::fit::prove::{Diagnosis, Dimension, Miscut, Telltale, Triangle, usual_slip};
use crate::frame::{Amount, Further, Slip};
use crate::measure::{Length, Writing};

use super::common::{self, Row, UsedJson};
use super::datum::{ByHand, Degrees, Exact, Figure, Inches};
use super::record::record;

record! {
    /// The result of `prove`.
    ProveReport from (of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>, writing: Writing) with {
        let (sheet, diagnosis) = of;
        let miscuts = sheet.miscuts(usual_slip(writing));
    } {
        /// `prove`.
        command: &'static str = "prove";
        /// Every value used.
        used: Vec<UsedJson> = &sheet.rafter.plan.used;
        /// What to measure.
        dimensions: Vec<DimensionJson> = sheet.dimensions.iter().map(|dimension| (dimension, None));
        /// Patterns cut wrong on purpose, and what they read.
        causes: Vec<MiscutJson> = miscuts.iter().map(|miscut| (sheet, miscut, writing));
        /// What the readings of `--read` mean; null if there are none.
        diagnosis: Option<DiagnosisJson> = diagnosis.map(|found| (sheet, found, writing));
        /// The sheet of slope B's pattern, if it is not that of slope A.
        slope_b: Option<SlopeProveJson> = slope_b.map(|(sheet, diagnosis)| (sheet, diagnosis, writing));
        /// The largest 3-4-5 triangles in whole feet (inches on a small plan).
        triangles: Vec<TriangleJson> = &sheet.triangles;
        /// The largest in whole tenths of a meter (centimeters on a small plan).
        metric_triangles: Vec<TriangleJson> = &sheet.metric_triangles;
        /// Defaults that were used and may surprise.
        notes: Vec<String> = common::notes(&sheet.rafter.plan.notes());
    }
}

/// The sheet of one slope, and what the readings of its pattern mean, if there are any.
pub type OfSlope<'a> = (&'a ProvingSheet, Option<&'a Diagnosis>);

record! {
    /// The check sheet of slope B.
    SlopeProveJson from (sheet: &ProvingSheet, diagnosis: Option<&Diagnosis>, writing: Writing) with {
        let miscuts = sheet.miscuts(usual_slip(writing));
    } {
        /// What to measure.
        dimensions: Vec<DimensionJson> = sheet.dimensions.iter().map(|dimension| (dimension, None));
        /// Patterns cut wrong on purpose, and what they read.
        causes: Vec<MiscutJson> = miscuts.iter().map(|miscut| (sheet, miscut, writing));
        /// What the readings of `--read-b` mean; null if there are none.
        diagnosis: Option<DiagnosisJson> = diagnosis.map(|found| (sheet, found, writing));
    }
}

/// Where a reading is written by hand.
const BLANK: &str = "______________";

/// What was read of a dimension, and how far off that is as the tape shows it.
#[derive(Debug, Clone)]
pub struct Taken {
    /// What was read.
    pub read: Length,
    /// How far off.
    pub off: String,
}

record! {
    /// One dimension to measure.
    DimensionJson from (dimension: &Dimension, taken: Option<Taken>) {
        /// Its number on the sheet.
        number "no.": u32 = dimension.number;
        /// `pattern` or `building`.
        on: &'static str = dimension.on.name();
        /// From where to where.
        what "measure": &'static str = dimension.what;
        /// What it has to read.
        length_in "reads": Inches = dimension.length;
        /// The same, to check a calculation by.
        exact "exact" on page: Exact = dimension.length;
        /// How far it may be off either way (common practice).
        tolerance_in "give or take": Inches = dimension.tolerance;
        /// Room to write down what was read.
        to_fill "measured" on page: ByHand = BLANK;
        /// What was read.
        read "measured" on page: Option<Inches> = taken.as_ref().map(|taken| taken.read);
        /// How far that is off.
        off "off by" on page: Option<Figure> = taken.map(|taken| taken.off);
        /// What a wrong reading means.
        wrong: &'static str = dimension.wrong;
        /// Readings that show which slip was made.
        telltales: Vec<TelltaleJson> = &dimension.telltales;
    }
}

record! {
    /// A reading that shows what went wrong.
    TelltaleJson from (telltale: &Telltale) {
        /// The reading.
        reads_in: Inches = telltale.reads;
        /// What it means; several if they read alike here.
        means: String = &telltale.means;
    }
}

record! {
    /// A slip and its amount, one of the two being null.
    SlipJson from (slip: Slip, of: f64) with {
        let (length, angle) = match slip.amount(of) {
        Amount::Length(length) => (Some(length), None),
        Amount::Angle(angle) => (None, Some(angle)),
        };
    } {
        /// `square`, `ridge cut`, `ridge cut's lean`, `birdsmouth`, `seat's depth`, `heel cut`, `seat's lean`, `tail` or
        /// `stock`; of a pattern on two plates also `high birdsmouth`, `high seat's depth`, `high heel cut`, `high seat's lean`.
        slip: &'static str = slip.name();
        /// Inches: positive if the rafter is long there, the cut deep, or the stock deeper.
        amount_in: Option<Inches> = length;
        /// Degrees: positive if too steep, or the seat's inner end low.
        amount_deg: Option<Degrees> = angle;
    }
}

record! {
    /// A pattern cut wrong on purpose.
    MiscutJson from (sheet: &ProvingSheet, miscut: &Miscut, writing: Writing) with {
        let by = miscut.told_apart_by.map(|(further, _)| further);
    } {
        /// What went wrong.
        what: String = miscut.words(writing);
        /// The slip.
        slip: SlipJson = (miscut.slip, miscut.of);
        /// What the pattern then reads, by the numbers of `dimensions`.
        reads_in: Vec<Inches> = miscut.reads.iter().copied();
        /// True if a reading is then outside its tolerance.
        seen: bool = miscut.is_seen;
        /// Other causes that read the same on a tape.
        alike: Vec<CauseJson> = miscut.alike.iter().map(|other| (sheet, other, by, writing));
        /// The measurement that distinguishes them; null if there are none, or if the patterns are the
        /// same.
        told_apart_by: Option<&'static str> = by.map(Further::words);
        /// What that reads of this pattern.
        told_apart_in: Option<Inches> = miscut.told_apart_by.map(|(_, reads)| reads);
    }
}

record! {
    /// What may have gone wrong.
    CauseJson from (sheet: &ProvingSheet, cause: &Cause, told_apart_by: Option<Further>, writing: Writing) {
        /// In words.
        what: String = sheet.cause_words(cause, writing);
        /// One slip, or two at once.
        slips: Vec<SlipJson> = cause.slips.iter().copied();
        /// Root mean square of the differences between its readings and the tape's.
        left_in: Inches = cause.left;
        /// The reading of the measurement that distinguishes the causes; null if there is none.
        told_apart_in: Option<Inches> = told_apart_by.map(|further| cause.further[further.place()]);
    }
}

record! {
    /// What the readings of a pattern mean.
    DiagnosisJson from (sheet: &ProvingSheet, found: &Diagnosis, writing: Writing) {
        /// The readings, by the numbers of `dimensions`; null if one was not taken.
        read_in: Vec<Option<Inches>> = found.read.iter().copied();
        /// True if every reading that was taken is within its tolerance.
        right: bool = found.is_right();
        /// The numbers of those that are not.
        off: Vec<u32> = found.off.iter().copied();
        /// What may have gone wrong, the nearest first.
        causes: Vec<CauseJson> = found.causes.iter().map(|cause| (sheet, cause, found.told_apart_by, writing));
        /// The measurement that distinguishes the causes; null if there is at most one, or if the
        /// patterns are the same.
        told_apart_by: Option<&'static str> = found.told_apart_by.map(Further::words);
    }
}

record! {
    /// A right triangle.
    TriangleJson from (triangle: &Triangle) {
        /// The unit: 3, 4 and 5 times it.
        unit_in: Inches = triangle.unit;
        /// Along the eave wall.
        along_length_in "along the eave wall": Inches = triangle.along_length;
        /// Along the end wall.
        along_span_in "along the end wall": Inches = triangle.along_span;
        /// Between the two marks.
        diagonal_in "mark to mark": Inches = triangle.diagonal;
        /// Room to write down what was measured.
        measured "measured" on page: ByHand = BLANK;
    }
}

/// The same as rows.
#[must_use]
pub fn rows(of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>, writing: Writing) -> Vec<Row> {
    let mut rows = slope_rows(of, writing);
    let own = slope_b.into_iter().flat_map(|slope| slope_rows(slope, writing));
    rows.extend(own.map(|row| Row { table: format!("slope_b {}", row.table), ..row }));
    let (sheet, _) = of;
    let triangles = if writing.units == crate::measure::Units::Millimeters {
        &sheet.metric_triangles
    } else {
        &sheet.triangles
    };
    for triangle in triangles {
        rows.extend(Row::by_heads("3-4-5", &TriangleJson::of(triangle), writing));
    }
    rows
}

fn slope_rows((sheet, diagnosis): OfSlope<'_>, writing: Writing) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(found) = diagnosis {
        for (dimension, read) in sheet.dimensions.iter().zip(&found.read) {
            if let Some(read) = read {
                let name = format!("{} read", dimension.number);
                rows.push(Row::length("read", &name, *read, writing));
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
        rows.push(Row::length(table, &name, dimension.length, writing));
        rows.push(Row::length(
            table,
            &format!("{} tolerance", dimension.number),
            dimension.tolerance,
            writing,
        ));
        for telltale in &dimension.telltales {
            rows.push(Row::length(
                table,
                &format!("{} reads so where {}", dimension.number, telltale.means),
                telltale.reads,
                writing,
            ));
        }
    }
    for miscut in sheet.miscuts(usual_slip(writing)) {
        for (dimension, reads) in sheet.dimensions.iter().zip(miscut.reads.clone()) {
            rows.push(Row::length(
                "cut wrong",
                &format!("{}: {} reads", miscut.words(writing), dimension.number),
                reads,
                writing,
            ));
        }
    }
    rows
}
