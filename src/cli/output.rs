//! What all commands share for their results: formats, units, rounding, statuses.

use std::fmt::Display;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::answer::{
    self, Answer, Form, LookAsked, NoAnswer, NotWritten, Question, Refused, Status,
};
use crate::measure::Units;
use crate::sheet::Depth;

use super::choice::{Choice, choices};
use super::messages;

/// Why a command was not carried out.
#[derive(Debug)]
pub(super) enum Failure {
    /// There is no answer.
    NoAnswer(NoAnswer),
    /// A file could not be read or written.
    File {
        /// The file.
        path: PathBuf,
        /// What was tried: `read` or `write`.
        verb: &'static str,
        /// Why not.
        why: String,
    },
    /// Several files failed, each by itself.
    Several(Vec<Failure>),
}

impl Failure {
    /// One fault of a flag's value.
    pub(super) fn of_flag(
        flag: &'static str,
        text: &str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Failure {
        Refused::of_flag(flag, text, message, help).into()
    }

    /// A file that could not be read or written.
    pub(super) fn file(path: &Path, verb: &'static str, why: &impl Display) -> Failure {
        Failure::File { path: path.to_owned(), verb, why: why.to_string() }
    }

    /// Prints it on stderr.
    pub(super) fn report(&self) {
        let text = match self {
            Failure::NoAnswer(why) => why.text(messages::in_color()),
            Failure::File { path, verb, why } => {
                format!("error: can't {verb} {}: {why}\n", path.display())
            }
            Failure::Several(failures) => return failures.iter().for_each(Failure::report),
        };
        messages::fault(&text);
    }
}

impl From<NoAnswer> for Failure {
    fn from(why: NoAnswer) -> Failure {
        Failure::NoAnswer(why)
    }
}

impl From<Refused> for Failure {
    fn from(refused: Refused) -> Failure {
        NoAnswer::from(refused).into()
    }
}

impl From<NotWritten> for Failure {
    fn from(why: NotWritten) -> Failure {
        Failure::file(Path::new("standard output"), "write", &why)
    }
}

choices! { Form:
    Form::Table => "table" "Tables for people";
    Form::Json => "json" "One JSON object: decimal inches and degrees, not rounded";
    Form::Csv => "csv" "Rows of comma-separated values";
}

choices! { Units:
    Units::Feet => "feet" "Feet, inches and a fraction: 14' 5-1/16\"";
    Units::Inches => "inches" "Inches and a fraction: 173-1/16\"";
    Units::Millimeters => "metric" "Millimeters: 4396 mm";
}

/// Flags that every command with a result takes.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Output")]
pub(super) struct OutputArgs {
    /// Form of the result
    #[arg(long, value_enum, default_value = "table")]
    format: Choice<Form>,
    /// Units in tables and drawings [default: those of the roof file, else feet]
    #[arg(long, value_enum)]
    units: Option<Choice<Units>>,
    /// Step of the tape: 1/2, 1/4, 1/8, 1/16, 1/32, 1/64 or mm [default: 1/16, or mm with metric units]
    #[arg(long, value_name = "STEP", hide_short_help = true)]
    round: Option<String>,
    /// Show the whole page: every table and note, every value used
    #[arg(long)]
    more: bool,
    /// Show the whole page, and how each number is worked out, with its values
    #[arg(long)]
    explain: bool,
    /// Width of tables and drawings, 60 to 200 [default: the terminal's, else 100]
    #[arg(long, value_name = "N", hide_short_help = true)]
    columns: Option<usize>,
    /// Print nothing but ASCII
    #[arg(long, hide_short_help = true)]
    ascii: bool,
}

impl OutputArgs {
    /// How to show the result; as wide as the terminal if no width is given.
    pub(super) fn look_asked(&self) -> LookAsked {
        let of_terminal = || {
            terminal_size::terminal_size()
                .map_or(100, |(width, _)| usize::from(width.0))
                .clamp(60, 200)
        };
        LookAsked {
            units: self.units.map(|units| units.value),
            round: self.round.clone(),
            columns: self.columns.unwrap_or_else(of_terminal),
            ascii: self.ascii,
        }
    }

    /// The form of the result.
    pub(super) fn form(&self) -> Form {
        self.format.value
    }

    /// How much of the page is shown.
    pub(super) fn depth(&self) -> Depth {
        match (self.explain, self.more) {
            (true, _) => Depth::Explain,
            (false, true) => Depth::More,
            (false, false) => Depth::First,
        }
    }
}

/// Asks the engine and prints its answer on stdout.
pub(super) fn tell(question: &Question, form: Form) -> Result<Status, Failure> {
    show(&answer::ask(question)?, form)
}

/// Writes an answer to stdout.
pub(super) fn show(answer: &Answer, form: Form) -> Result<Status, Failure> {
    print_bytes(&answer.write(form)?)?;
    if let Some(word) = answer.word(Some(form)) {
        messages::tell(word);
    }
    Ok(answer.status())
}

/// Prints the bytes of a result on stdout. A closed pipe is not an error.
pub(super) fn print_bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::file(Path::new("standard output"), "write", &error))
        }
        _ => Ok(()),
    }
}
