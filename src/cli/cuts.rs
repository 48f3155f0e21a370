//! `stepoff cuts`: the cheapest way to cut any list of pieces from any list of stock, with proof.

use std::path::{Path, PathBuf};

use crate::answer::{List, ListForm, Question, Source, Status, What};
use crate::key;
use crate::plan::file;

use super::files::is_stdout as is_stdin;
use super::input::{given, prices, question, refuse_twice};
use super::output::{Failure, OutputArgs, show};
use super::reader::{self, Kept};
use super::watch::{self, time_limit};

/// Cuts a list of pieces from stock lengths at the least cost, with proof.
///
/// FILE lists stock and pieces, or is a roof file. For a roof file every section of its frame is cut,
/// as stepoff order buys it; the frames of several roof files are cut together. JSON has whole units:
/// units_per_inch, kerf, stock [{label, length, price_cents, quantity}], pieces [{label, length, qty}].
/// TOML has kerf, [[stock]] and [[piece]] with label, length, quantity, price, splice. CSV has the
/// column heads kind,label,length,quantity,price,splice, with stock or piece as the kind. Without
/// prices it finds the least length, then the fewest bars. Ctrl-C gives the best plan so far, with the
/// bound proven by then.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// List of stock and pieces: .json, .toml or .csv; or roof files, which are cut together
    #[arg(value_name = "FILE", required_unless_present = "bars")]
    files: Vec<PathBuf>,
    /// Bin-packing file instead: number of lengths, bar length, then a length and its demand on each line
    #[arg(long, value_name = "FILE", conflicts_with_all = ["files", "kerf", "end_trim"])]
    bars: Option<PathBuf>,
    /// Width of the saw cut [default: the file's, else 1/8in]
    #[arg(long, value_name = "LENGTH")]
    kerf: Option<String>,
    /// Prices that you keep (.toml or .csv), for a roof file
    #[arg(long, value_name = "FILE", conflicts_with = "bars")]
    prices: Option<PathBuf>,
    /// Cut off every bar before the first piece [default: the file's, else 0in]
    #[arg(long, value_name = "LENGTH")]
    end_trim: Option<String>,
    /// Seconds after which the search stops with the best plan so far and its bound [default: a fixed amount of work]
    #[arg(long, value_name = "SECONDS")]
    time_limit: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(args.time_limit.as_ref())?;
    let paths = args.bars.as_ref().map_or(args.files.as_slice(), std::slice::from_ref);
    refuse_twice(paths)?;
    let mut roofs = Vec::new();
    let mut list = None;
    for path in paths {
        let text = reader::text(path, Kept::List)?;
        let form = if args.bars.is_some() { ListForm::Bars } else { form(path, &text)? };
        if form == ListForm::Toml && text.len() as u64 > Kept::Written.most() {
            return Err(Kept::Written.too_large(path, text.len() as u64));
        }
        let source = Source { name: reader::named(path), text };
        if form == ListForm::Toml && file::is_roof_file(&source.text) {
            roofs.push(source);
        } else if paths.len() > 1 {
            return Err(Failure::of_flag(
                "FILE",
                &path.display().to_string(),
                "only roof files are cut together, and this is none",
                "name a list of pieces by itself",
            ));
        } else {
            list = Some(List { source, form });
        }
    }
    let flags = [
        (key!("order.kerf"), args.kerf.as_deref()),
        (key!("order.end_trim"), args.end_trim.as_deref()),
    ];
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        roofs,
        ..question(What::Cuts { list }, given(&flags), None, &args.output)?
    };
    show(&watch::ask(&question, limit)?, args.output.form())
}

/// From the ending of the file's name; for standard input, from the beginning of the text.
fn form(path: &Path, text: &str) -> Result<ListForm, Failure> {
    if is_stdin(path) {
        let first =
            text.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'));
        return Ok(match first {
            Some(line) if line.starts_with('{') => ListForm::Json,
            Some(line) if line.starts_with('[') || line.contains('=') => ListForm::Toml,
            _ => ListForm::Csv,
        });
    }
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("json") => Ok(ListForm::Json),
        Some("toml") => Ok(ListForm::Toml),
        Some("csv") => Ok(ListForm::Csv),
        _ => Err(Failure::file(
            path,
            "read",
            &"end its name in .json, .toml or .csv, which says how it is written",
        )),
    }
}
