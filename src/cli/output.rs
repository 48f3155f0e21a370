//! What all commands share on the way out: formats, units, rounding, statuses.

use std::borrow::Cow;
use std::fmt::Display;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::ValueEnum;
use serde::Serialize;

use crate::measure::{Step, Units, Writing, read};
use crate::plan::{Fault, Faults, Place};
use crate::rules::{Finding, Verdict};
use crate::sheet::Look;

use super::{faults, messages};

/// How a command that was carried out ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Status {
    /// Nothing fails or needs design.
    Done,
    /// Something fails or needs design.
    Open,
}

impl Status {
    /// The status that the verdicts of a command give it: the one place that decides it.
    pub(super) fn of(verdicts: impl IntoIterator<Item = Verdict>) -> Status {
        if verdicts.into_iter().any(Verdict::is_open) { Status::Open } else { Status::Done }
    }

    /// The status that a command's findings give it.
    pub(super) fn of_findings(findings: &[Finding]) -> Status {
        Status::of(findings.iter().map(|finding| finding.verdict))
    }
}

/// Why a command was not carried out.
#[derive(Debug)]
pub(super) enum Failure {
    /// The input was refused.
    Refused {
        /// Every fault.
        faults: Faults,
        /// The roof file's name and text, if there was one.
        file: Option<(PathBuf, String)>,
    },
    /// A file could not be read or written.
    File {
        /// The file.
        path: PathBuf,
        /// What was tried: `read` or `write`.
        verb: &'static str,
        /// Why not.
        why: String,
    },
    /// A computation was stopped before it had a result.
    Stopped {
        /// How far it got.
        how_far: String,
    },
}

impl Failure {
    /// One fault of a flag's value.
    pub(super) fn of_flag(
        flag: &'static str,
        text: &str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Failure {
        let place = Place::Flag { flag, text: text.to_owned() };
        Failure::Refused { faults: Faults::from(Fault::new(place, message, help)), file: None }
    }

    /// A file that could not be read or written.
    pub(super) fn file(path: &Path, verb: &'static str, why: &impl Display) -> Failure {
        Failure::File { path: path.to_owned(), verb, why: why.to_string() }
    }

    /// Tells it on stderr.
    pub(super) fn report(&self) {
        let text = match self {
            Failure::Refused { faults, file } => {
                let file = file.as_ref().map(|(path, text)| (path.as_path(), text.as_str()));
                faults::text(faults, file)
            }
            Failure::File { path, verb, why } => {
                format!("error: can't {verb} {}: {why}\n", path.display())
            }
            Failure::Stopped { how_far } => format!("error: {how_far}\n"),
        };
        messages::fault(&text);
    }
}

/// The form of a command's result.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Tables for people.
    Table,
    /// One JSON object: decimal inches and degrees, not rounded.
    Json,
    /// Rows of comma-separated values.
    Csv,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum UnitsFlag {
    /// Feet, inches and a fraction: 14' 5-1/16"
    Feet,
    /// Inches and a fraction: 173-1/16"
    Inches,
    /// Millimeters: 4396 mm
    Metric,
}

/// Flags that every command with a result takes.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Output")]
pub(super) struct OutputArgs {
    /// Form of the result
    #[arg(long, value_enum, default_value = "table")]
    pub(super) format: Format,
    /// Units in tables and drawings [default: those of the roof file, else feet]
    #[arg(long, value_enum)]
    units: Option<UnitsFlag>,
    /// Step of the tape: 1/2, 1/4, 1/8, 1/16, 1/32, 1/64 or mm [default: 1/16, or mm with metric units]
    #[arg(long, value_name = "STEP")]
    round: Option<String>,
    /// Show how each number comes about, with the values in it
    #[arg(long)]
    pub(super) explain: bool,
    /// Width of tables and drawings, 60 to 200 [default: the terminal's, else 100]
    #[arg(long, value_name = "N")]
    columns: Option<usize>,
    /// Print nothing but ASCII
    #[arg(long)]
    ascii: bool,
}

impl OutputArgs {
    /// How lengths are written and how wide the page is; `written` are the units that the input is written in.
    pub(super) fn look(&self, written: Units) -> Result<Look, Failure> {
        let step = match &self.round {
            None => None,
            Some(text) => Some(step(text)?),
        };
        let units = match (self.units, step) {
            (Some(UnitsFlag::Feet), _) => Units::Feet,
            (Some(UnitsFlag::Inches), _) => Units::Inches,
            (Some(UnitsFlag::Metric), _) | (None, Some(Step::Millimeter)) => Units::Millimeters,
            // a step of the tape in inches asks for inches
            (None, Some(_)) if written == Units::Millimeters => Units::Feet,
            (None, _) => written,
        };
        let metric = units == Units::Millimeters;
        let step = step.unwrap_or(if metric { Step::Millimeter } else { Step::Sixteenth });
        if metric != (step == Step::Millimeter) {
            let text = self.round.clone().unwrap_or_default();
            return Err(Failure::of_flag(
                "--round",
                &text,
                "this step does not go with the units",
                "write mm with metric units, or a fraction of an inch with feet or inches",
            ));
        }
        let columns = match self.columns {
            Some(columns) if !(60..=200).contains(&columns) => {
                return Err(Failure::of_flag(
                    "--columns",
                    &columns.to_string(),
                    "this width can't be printed",
                    "write a number of columns from 60 to 200",
                ));
            }
            Some(columns) => columns,
            None => terminal_size::terminal_size()
                .map_or(100, |(width, _)| usize::from(width.0))
                .clamp(60, 200),
        };
        Ok(Look { writing: Writing { units, step }, columns, ascii: self.ascii })
    }
}

fn step(text: &str) -> Result<Step, Failure> {
    let asked = text.trim().trim_end_matches("in").trim_end_matches('"').trim();
    let asked = if asked == "1mm" || asked == "1 mm" { "mm" } else { asked };
    Step::ALL.into_iter().find(|step| step.name().eq_ignore_ascii_case(asked)).ok_or_else(|| {
        Failure::of_flag(
            "--round",
            text,
            "no tape has this step",
            "write 1/2, 1/4, 1/8, 1/16, 1/32, 1/64 or mm",
        )
    })
}

/// Writes a result to stdout. A closed pipe is no error.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    print_bytes(text.as_bytes())
}

/// Writes a result of bytes to stdout. A closed pipe is no error.
pub(super) fn print_bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::file(Path::new("standard output"), "write", &error))
        }
        _ => Ok(()),
    }
}

/// Writes a value as one JSON object.
pub(super) fn print_json(value: &impl Serialize) -> Result<(), Failure> {
    print_bytes(&json(value)?)
}

/// A value as one JSON object.
pub(super) fn json(value: &impl Serialize) -> Result<Vec<u8>, Failure> {
    let mut bytes = serde_json::to_vec_pretty(value).map_err(|error| cannot_write(&error))?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Writes rows as CSV, with a head line from their field names.
pub(super) fn print_csv<T: Serialize>(rows: impl IntoIterator<Item = T>) -> Result<(), Failure> {
    print_bytes(&csv(rows)?)
}

/// Rows as CSV, with a head line from their field names.
pub(super) fn csv<T: Serialize>(rows: impl IntoIterator<Item = T>) -> Result<Vec<u8>, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.serialize(row).map_err(|error| cannot_write(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| cannot_write(&error))?;
    for_spreadsheets(bytes).map_err(|error| cannot_write(&error))
}

/// Rows of CSV as a spreadsheet reads them best: numbers as the shortest decimals, and no text a formula.
fn for_spreadsheets(bytes: Vec<u8>) -> Result<Vec<u8>, csv::Error> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice());
    let mut writer = csv::Writer::from_writer(Vec::with_capacity(bytes.len()));
    for record in reader.records() {
        for written in &record? {
            writer.write_field(cell(written).as_bytes())?;
        }
        writer.write_record(None::<&[u8]>)?;
    }
    writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))
}

/// A cell as it is written.
///
/// What looks like a number to Rust is written without idle zeros and without the last bits that sums leave
/// (`700`, not `700.0000000000001`): 13 figures are a ten-thousandth of a millionth of a foot. A text that a spreadsheet
/// would take for a formula has an apostrophe before it, which spreadsheets take for the mark of a text.
fn cell(written: &str) -> Cow<'_, str> {
    let number = written.parse::<f64>().ok().filter(|number| number.is_finite());
    if let Some(number) = number {
        // only what this program wrote as a decimal number: `700.0`, not a label such as `1.50`
        if format!("{number:?}") == written
            && let Ok(rounded) = format!("{number:.12e}").parse::<f64>()
        {
            return Cow::Owned(rounded.to_string());
        }
        return Cow::Borrowed(written);
    }
    if written.starts_with(['=', '@', '+', '-']) && read::signed_length(written).is_err() {
        return Cow::Owned(format!("'{written}"));
    }
    Cow::Borrowed(written)
}

fn cannot_write(error: &dyn Display) -> Failure {
    Failure::file(Path::new("standard output"), "write", &error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_the_shortest_decimals() {
        for (written, expected) in [
            ("700.0000000000001", "700"),
            ("23.249999999999996", "23.25"),
            ("38.00000000000001", "38"),
            ("288.0", "288"),
            ("52.7396204586591", "52.73962045866"),
            ("6.666666666666667", "6.666666666667"),
            ("-0.5", "-0.5"),
            ("1e-7", "0.0000001"),
            ("1536", "1536"),
            ("1.50", "1.50"),
            ("2x4 10'", "2x4 10'"),
        ] {
            assert_eq!(cell(written), expected);
        }
    }

    #[test]
    fn no_cell_of_text_is_a_formula() {
        let rows = [("=1+1", -3.5, "-1/2\""), ("@sum", 1.0, "2x4, \"A\""), ("-2+3", 0.0, "plain")];
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in rows {
            writer.serialize(row).unwrap();
        }
        let bytes = for_spreadsheets(writer.into_inner().unwrap()).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let expected = "'=1+1,-3.5,\"-1/2\"\"\"\n'@sum,1,\"2x4, \"\"A\"\"\"\n'-2+3,0,plain\n";
        assert_eq!(text, expected);
    }
}
