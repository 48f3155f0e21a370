//! The commands: the only place that touches files, environment and terminal.
//!
//! Each command has its own file with its flags and one `run`. Results go to stdout, messages to
//! stderr. The exit status gives the outcome; it is 2 if the input was refused.

mod check;
mod choice;
mod compare;
mod completions;
mod cuts;
mod eave;
mod effect;
mod export;
mod fields;
mod files;
mod fit;
mod input;
mod manual;
mod measured;
mod messages;
mod order;
mod output;
#[cfg(feature = "page")]
mod page;
mod prices;
mod progress;
mod prove;
mod rafter;
mod reader;
mod refused;
mod roof_file;
mod sheathing;
mod sheets;
mod spans;
mod square;
mod start;
mod ties;
mod watch;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};

use crate::answer::{Status, What};

/// Works out every stick and mark of a stick-framed roof on a small dwelling, from the few numbers on a
/// plan.
///
/// Any roof on square corners: gables, hips, sheds, wings, dormers and openings.
///
/// Lengths: 24ft  24ft3-1/2in  18in  291.5in  7.4m  7400mm, which need no quotes in a shell; "24' 3-1/2\"" does.
/// Pitch: 6/12  6:12  "6-1/2 in 12"  26.57deg  50%.
///
/// Exit status: 0 done, and nothing fails or needs design; 1 done, but something fails or needs design; 2 the input was refused.
#[derive(Debug, Parser)]
#[command(name = "stepoff", version, max_term_width = 100, arg_required_else_help = true)]
struct Cli {
    #[command(subcommand)]
    command: Command,
    /// Print nothing on stderr but faults: no progress, no "wrote ..."
    #[arg(long, short, global = true, display_order = 990)]
    quiet: bool,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// The pattern rafter: lengths, marks, cut settings, the board to order.
    Rafter(Box<rafter::Args>),
    /// The framing square's rafter table, compared with printed ones.
    Square(square::Args),
    /// The eave: overhang, fascia, soffit and window head; how much to cut off measured tails.
    Eave(Box<eave::Args>),
    /// Spans of rafters and ceiling joists: the printed cell and the calculated span.
    Spans(Box<spans::Args>),
    /// The cut list of the whole roof: every stick by pattern.
    Frame(roof_file::Args),
    /// Tape marks for both plates and the ridge.
    Layout(roof_file::Args),
    /// Writes the frame's solids for other programs.
    Export(export::Args),
    /// Panels on the roof planes: the fewest whole sheets, with proof, and a map of each plane.
    Sheathing(Box<sheathing::Args>),
    /// A cutting plan: the cheapest way to cut any list of pieces from any stock lengths, with proof.
    Cuts(Box<cuts::Args>),
    /// What keeps the walls from spreading, and the nails needed at each heel.
    Ties(Box<ties::Args>),
    /// The roof checked against the code: every finding with its section, worst first.
    Check(check::Args),
    /// One list for the lumberyard: lumber, sheets, nails, ties, roofing; CSV, JSON and XLSX.
    Order(order::Args),
    /// The prices file of a roof with blanks to fill in.
    Prices(prices::Args),
    /// Drawings and lists for the site: PDF, HTML, SVG or PNG.
    Sheets(Box<sheets::Args>),
    /// Many roofs of one plan checked against every rule: the best few.
    Compare(Box<compare::Args>),
    /// Walls as built: which measurement is wrong, what to move, or the rafters that fit them.
    Measured(measured::Args),
    /// What 1/8 in in each input does to each result: what to measure twice.
    Effect(effect::Args),
    /// One number found from what is fixed: a ridge height, an existing fascia, a board, a limit.
    Fit(Box<fit::Args>),
    /// The check sheet before the stack is cut: what to measure; give it your readings and it names what is wrong.
    Prove(prove::Args),
    /// The page for a browser: the whole program in one file, with a roof in it.
    #[cfg(feature = "page")]
    Page(page::Args),
    /// Writes a commented starter roof file.
    Start(start::Args),
    /// What a shell needs to complete commands and flags.
    Completions(completions::Args),
    /// The manual page; with -o one page for each command.
    Manual(manual::Args),
}

/// All commands. The short help of `fit` lists what to find and what is fixed. Its rafter is that of
/// the roof file; the long help has the flags that describe a rafter without a file.
fn command() -> clap::Command {
    Cli::command().mut_subcommand("fit", |fit| {
        fit.mut_args(|flag| {
            let of_rafter = flag.get_help_heading() == Some(rafter::HEADING);
            if of_rafter && !flag.is_positional() { flag.hide_short_help(true) } else { flag }
        })
    })
}

/// What `stepoff help COMMAND` shows: the short help, which says how to see the long one. `None` for
/// anything else.
fn short_help(arguments: &[OsString]) -> Option<String> {
    let [_, help, name] = arguments else {
        return None;
    };
    let mut all = command();
    all.build();
    let asked = all.find_subcommand_mut(name).filter(|_| help == "help")?;
    Some(asked.render_help().to_string())
}

fn print_help(text: &str) -> ExitCode {
    match output::print_bytes(text.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            failure.report();
            ExitCode::from(2)
        }
    }
}

/// Reads the command line, runs the command, returns the exit status.
#[must_use]
pub fn main() -> ExitCode {
    if let Err(failure) = reader::arguments() {
        failure.report();
        return ExitCode::from(2);
    }
    let arguments: Vec<OsString> = std::env::args_os().collect();
    let read = command().try_get_matches_from(&arguments);
    let cli = match read.and_then(|matches| Cli::from_arg_matches(&matches)) {
        Ok(cli) => cli,
        Err(error) if error.kind() == ErrorKind::DisplayHelp => match short_help(&arguments) {
            Some(text) => return print_help(&text),
            None => error.exit(),
        },
        Err(error) => match refused::told(&error, &arguments, &command()) {
            Some(text) => {
                messages::fault(&text);
                return ExitCode::from(2);
            }
            None => error.exit(),
        },
    };
    if cli.quiet {
        messages::silence();
    }
    let done = match &cli.command {
        Command::Rafter(args) => rafter::run(args),
        Command::Square(args) => square::run(args),
        Command::Eave(args) => eave::run(args),
        Command::Spans(args) => spans::run(args),
        Command::Frame(args) => roof_file::run(args, What::Frame),
        Command::Layout(args) => roof_file::run(args, What::Layout),
        Command::Export(args) => export::run(args),
        Command::Sheathing(args) => sheathing::run(args),
        Command::Cuts(args) => cuts::run(args),
        Command::Ties(args) => ties::run(args),
        Command::Check(args) => check::run(args),
        Command::Order(args) => order::run(args),
        Command::Prices(args) => prices::run(args),
        Command::Sheets(args) => sheets::run(args),
        Command::Compare(args) => compare::run(args),
        Command::Measured(args) => measured::run(args),
        Command::Effect(args) => effect::run(args),
        Command::Fit(args) => fit::run(args),
        Command::Prove(args) => prove::run(args),
        #[cfg(feature = "page")]
        Command::Page(args) => page::run(args),
        Command::Start(args) => start::run(args),
        Command::Completions(args) => completions::run(args, command()),
        Command::Manual(args) => manual::run(args, command()),
    };
    match done {
        Ok(Status::Done) => ExitCode::SUCCESS,
        Ok(Status::Open) => ExitCode::from(1),
        Err(failure) => {
            failure.report();
            ExitCode::from(2)
        }
    }
}
