//! `stepoff start`: a starter roof file, filled in by hand or at the terminal.

use std::io::IsTerminal;
use std::path::PathBuf;

use inquire::validator::Validation;
use inquire::{InquireError, Text};

use crate::answer::{NoAnswer, Status};
use crate::export::roof_file;
use crate::plan::field::Default as FieldDefault;
use crate::plan::{Field, Key, starter};

use super::files::{self, Overwrite};
use super::messages;
use super::output::Failure;

/// Writes a roof file to fill in: the values that differ most between roofs, one on each line.
///
/// With --ask it asks six questions first: Enter keeps the value shown, Esc goes back to the question
/// before.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The file to write; - writes to standard output
    #[arg(value_name = "FILE", default_value = "roof.toml")]
    file: PathBuf,
    /// Ask at the terminal for length, span, pitch, overhang, rafter and ridge
    #[arg(long, conflicts_with_all = ["full", "schema"])]
    ask: bool,
    /// Write every field there is, with its meaning and its default
    #[arg(long)]
    full: bool,
    /// Write the JSON Schema of roof files instead; editors use it to complete and check them
    #[arg(long, conflicts_with = "full")]
    schema: bool,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let overwrite = Overwrite::forced(args.force);
    let mut answers = Vec::new();
    if args.ask {
        // before the questions, not after them
        files::refuse_existing(std::slice::from_ref(&args.file), overwrite)?;
        answers = ask()?;
    }
    let text = match args {
        Args { schema: true, .. } => roof_file::schema(),
        Args { full: true, .. } => starter::full(),
        _ => starter::short(&answers),
    };
    files::write(&args.file, text.as_bytes(), overwrite)?;
    if !args.schema && !files::is_stdout(&args.file) {
        let first = if args.ask { "" } else { "set span, pitch and length in it, " };
        messages::tell(&format!("{first}then: stepoff rafter {}", args.file.display()));
    }
    Ok(Status::Done)
}

/// Asks for each value in order. Enter keeps the value shown, Esc goes back to the one before.
fn ask() -> Result<Vec<(Key, String)>, Failure> {
    let stopped = |how_far: String| Failure::NoAnswer(NoAnswer::Stopped(how_far));
    if !std::io::stdin().is_terminal() {
        return Err(Failure::of_flag(
            "--ask",
            "",
            "nobody sits at a terminal to be asked",
            "leave --ask out, and fill in the file that is written",
        ));
    }
    let fields = starter::ASKED;
    let mut answers: Vec<Option<String>> = vec![None; fields.len()];
    let mut at = 0;
    while let Some((key, words)) = fields.get(at) {
        match prompt(key.field(), words, answers[at].as_deref(), at == 0) {
            Ok(answer) => {
                answers[at] = Some(answer);
                at += 1;
            }
            Err(InquireError::OperationCanceled) if at > 0 => at -= 1,
            Err(InquireError::OperationCanceled | InquireError::OperationInterrupted) => {
                return Err(stopped("stopped: no file was written".into()));
            }
            Err(error) => return Err(stopped(format!("the terminal can't be asked: {error}"))),
        }
    }
    let keys = fields.iter().map(|(key, _)| *key);
    Ok(keys.zip(answers).filter_map(|(key, answer)| Some((key, answer?))).collect())
}

/// Asks for one value until it can be read.
fn prompt(
    field: &'static Field,
    words: &str,
    before: Option<&str>,
    is_first: bool,
) -> Result<String, InquireError> {
    let shown = before.or(match field.default {
        FieldDefault::Value(value) => Some(value),
        FieldDefault::Needed | FieldDefault::Words(_) | FieldDefault::Either(..) => None,
    });
    let readable = move |text: &str| {
        Ok(match starter::fault(field.key(), text) {
            None => Validation::Valid,
            Some(fault) => Validation::Invalid(format!("{}; {}", fault.message, fault.help).into()),
        })
    };
    let back = if is_first { "Esc stops" } else { "Esc goes back" };
    let help = format!("{}; {back}", field.kind.how_written());
    let question = format!("{words}:");
    let mut text = Text::new(&question).with_help_message(&help).with_validator(readable);
    if let Some(shown) = shown {
        text = text.with_default(shown);
    }
    text.prompt()
}
