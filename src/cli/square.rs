//! `stepoff square`: the framing square's rafter table.

use crate::catalog::printed_square;
use crate::export;
use crate::measure::Units;
use crate::measure::{Pitch, read};
use crate::plan::{Fault, Faults, Place};
use crate::sheet;
use crate::square::SquareRow;

use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rows to show: inches of rise in 12 (6, 6-1/2, 4.25), or pitches [default: 2 to 18]
    #[arg(long, value_name = "RISE", num_args = 1..)]
    rise: Vec<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let look = args.output.look(Units::Feet)?;
    let rows = rows(&args.rise)?;
    let printed = printed_square::cells();
    match args.output.format {
        Format::Json => print_json(&export::square::report(&rows, &printed))?,
        Format::Csv => print_csv(export::square::csv_rows(&rows, &printed))?,
        Format::Table => print(&sheet::square::text(&rows, &printed, &look, args.output.explain))?,
    }
    Ok(Status::Done)
}

fn rows(asked: &[String]) -> Result<Vec<SquareRow>, Failure> {
    if asked.is_empty() {
        return Ok((2..=18)
            .filter_map(|rise| Pitch::rise_in_12(f64::from(rise)))
            .map(SquareRow::at)
            .collect());
    }
    let mut faults = Faults::new();
    let mut rows = Vec::new();
    for text in asked {
        match rise(text) {
            Ok(pitch)
                if pitch.unit_rise() > 0.0
                    && pitch.unit_rise() <= crate::plan::limits::STEEPEST_RISE =>
            {
                rows.push(SquareRow::at(pitch));
            }
            Ok(_) => faults.push(Fault::new(
                place(text),
                "the table runs from above 0 to 24 in of rise in 12",
                "write a rise such as 6 or 6-1/2",
            )),
            Err(error) => faults.push(Fault {
                place: place(text),
                part: Some(error.span.clone()),
                message: error.to_string(),
                help: error.problem.help(),
            }),
        }
    }
    if faults.is_empty() { Ok(rows) } else { Err(Failure::Refused { faults, file: None }) }
}

fn place(text: &str) -> Place {
    Place::Flag { flag: "--rise", text: text.to_owned() }
}

/// A pitch in any form, or a rise as inches alone; a bare fraction is refused as a pitch's is.
fn rise(text: &str) -> Result<Pitch, read::ReadError> {
    match read::pitch(text) {
        Err(error) if !matches!(error.problem, read::Problem::FractionPitch { .. }) => {
            read::pitch(&format!("{} in 12", text.trim())).map_err(|_| error)
        }
        read => read,
    }
}
