//! `stepoff prices`: the prices file of one roof, with blanks to fill in.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::answer::{Form, Question, Status, What};

use super::files::{self, Overwrite};
use super::input::{prices, roofs};
use super::messages;
use super::output::Failure;
use super::watch;

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Written {
    /// TOML, which one keeps.
    Toml,
    /// CSV, as yards use it.
    Csv,
}

/// Writes the prices file of a roof, with blanks: a row for every length and every kind of goods that
/// may be ordered.
///
/// Fill in what you know and use it: stepoff order FILE --prices PRICES. Rows left blank have no price.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML); several are ordered together
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// The file to write, .toml or .csv; - writes to standard output
    #[arg(long, short, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Form, if the file's ending does not say it [default: toml]
    #[arg(long, value_enum)]
    format: Option<Written>,
    /// Prices that you have already (.toml or .csv): they go into the new file
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        roofs: roofs(&args.files)?,
        ..Question::of(What::Prices)
    };
    let answer = watch::ask(&question, None)?;
    let by_ending =
        args.output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let form = match args.format {
        Some(Written::Csv) => Form::Csv,
        None if by_ending => Form::Csv,
        _ => Form::Table,
    };
    files::write(&args.output, &answer.write(form)?, Overwrite::forced(args.force))?;
    if !files::is_stdout(&args.output) {
        let named: Vec<String> = args.files.iter().map(|file| file.display().to_string()).collect();
        messages::tell(&format!(
            "fill in the prices, then: stepoff order {} --prices {}",
            named.join(" "),
            args.output.display()
        ));
    }
    Ok(answer.status())
}
