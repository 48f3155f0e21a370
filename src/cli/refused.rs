//! The answer to a command line that can't be read, by what the user meant.

use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, Command, Error};

use crate::plan::Kind;
use crate::plan::field::FIELDS;
use crate::plan::hint::{self, Hint};
use crate::plan::text::clipped;

/// Our own message for an error of the command line; `None` if the parser's message is good enough.
pub(super) fn told(error: &Error, arguments: &[OsString], program: &Command) -> Option<String> {
    let words: Vec<String> =
        arguments.iter().skip(1).map(|word| word.to_string_lossy().into_owned()).collect();
    let command = words.iter().find_map(|word| program.find_subcommand(word));
    let (what, hint) = match error.kind() {
        ErrorKind::UnknownArgument => {
            unknown(&context(error, ContextKind::InvalidArg)?, command?, &words)?
        }
        ErrorKind::InvalidSubcommand => {
            let written = context(error, ContextKind::InvalidSubcommand)?;
            let commands: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
            (format!("{} is no command", clipped(&written)), hint::command(&written, &commands))
        }
        ErrorKind::InvalidValue => {
            let written = context(error, ContextKind::InvalidValue)?;
            let flag = context(error, ContextKind::InvalidArg)?;
            let flag = flag.split_whitespace().next()?.to_owned();
            let Some(ContextValue::Strings(allowed)) = error.get(ContextKind::ValidValue) else {
                return None;
            };
            if written.is_empty() {
                let field = FIELDS.iter().find(|field| field.flag == Some(&flag));
                let help = match field {
                    Some(field) => format!("write {}", field.kind.how_written()),
                    None if allowed.is_empty() => {
                        format!("write {flag} and its value: {flag} VALUE")
                    }
                    None => format!("write one of: {}", allowed.join(", ")),
                };
                (format!("{flag} needs a value after it"), Hint::say(help))
            } else {
                let allowed: Vec<&str> = allowed.iter().map(String::as_str).collect();
                (
                    format!(
                        "{:?} is no value of {flag}, which takes {}",
                        clipped(&written),
                        allowed.join(", ")
                    ),
                    hint::value(&flag, &written, &allowed),
                )
            }
        }
        ErrorKind::MissingRequiredArgument => {
            // only a command that is built knows how its arguments are written
            let mut command = command?.clone();
            command.build();
            needed(error, &command)?
        }
        _ => return None,
    };
    Some(format!("error: {}\n  help: {}\n", hint.message.unwrap_or(what), hint.help))
}

fn context(error: &Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(text) => Some(text.clone()),
        _ => None,
    }
}

/// What a command can't do without, and a line that has it.
fn needed(error: &Error, command: &Command) -> Option<(String, Hint)> {
    let Some(ContextValue::Strings(missing)) = error.get(ContextKind::InvalidArg) else {
        return None;
    };
    let name = command.get_name();
    let (mut line, mut needs, mut help) = (format!("stepoff {name}"), Vec::new(), String::new());
    let needed =
        |argument: &&Arg| argument.is_required_set() || missing.contains(&argument.to_string());
    for argument in command.get_arguments().filter(needed) {
        let words: Vec<_> = argument.get_possible_values();
        let words: Vec<&str> = words.iter().map(|word| word.get_name()).collect();
        let flag = argument.get_long().map(|long| format!("--{long}"));
        let value = match (words.first(), &flag) {
            (Some(first), _) => *first,
            (None, Some(_)) => "roof.pdf",
            (None, None) => "roof.toml",
        };
        line.extend(flag.iter().map(|flag| format!(" {flag}")));
        line.push_str(&format!(" {value}"));
        if !missing.contains(&argument.to_string()) {
            continue;
        }
        let shown = match flag {
            Some(flag) => flag,
            None => argument.get_value_names()?.first()?.to_string(),
        };
        if !words.is_empty() {
            help.push_str(&format!("; {shown} takes {}", words.join(", ")));
        } else if argument.is_positional() {
            help.push_str("; stepoff start writes a roof file to begin with");
        }
        let what = argument.get_help().map(ToString::to_string).unwrap_or_default();
        let what = what.lines().next().unwrap_or_default();
        let (first, rest) = what.split_at(what.chars().next().map_or(0, char::len_utf8));
        needs.push(format!("{shown}, {}{rest}", first.to_lowercase()));
    }
    (!needs.is_empty()).then(|| {
        let what = format!("stepoff {name} needs {}", needs.join(", and "));
        (what, Hint::say(format!("write {line}{help}")))
    })
}

/// A word that is neither a flag of the command nor a file that it takes.
fn unknown(written: &str, command: &Command, words: &[String]) -> Option<(String, Hint)> {
    let name = command.get_name();
    let flags: Vec<String> = command
        .get_arguments()
        .filter(|argument| !argument.is_hide_set())
        .filter_map(|argument| argument.get_long())
        .map(|long| format!("--{long}"))
        .collect();
    // -1' after a flag that takes a length: the parser reads the dash as a flag
    let below_zero = |word: &&String| {
        word.strip_prefix('-').is_some_and(|rest| {
            rest.starts_with(|letter: char| letter.is_ascii_digit() || letter == '.')
        })
    };
    if let Some(at) = words.iter().position(|word| below_zero(&word)) {
        let number = &words[at];
        let before = at.checked_sub(1).map(|before| words[before].as_str());
        let flag = before.filter(|word| flags.iter().any(|flag| flag == word));
        let Some(flag) = flag else {
            return Some((
                format!("{} begins with a dash, as a flag does", clipped(number)),
                Hint::say(format!("write its flag before it, as in stepoff {name} --flag=VALUE")),
            ));
        };
        let signed =
            FIELDS.iter().any(|field| field.flag == Some(flag) && field.kind == Kind::SignedLength);
        return Some(if signed {
            (
                format!("write {flag}={} in one word", clipped(number)),
                Hint::say("a value that begins with a dash is taken for a flag otherwise"),
            )
        } else {
            (
                format!("{flag} can't be less than zero: {}", clipped(number)),
                Hint::say(format!("write it as zero or more: {flag} {}", clipped(&number[1..]))),
            )
        });
    }
    if !written.starts_with('-') {
        return Some((
            format!("stepoff {name} has no use for {:?}", clipped(written)),
            Hint::say(
                "put a value of several words in quotes, or write lengths without spaces: 16ft3in",
            ),
        ))
        .map(|(what, plain)| (what, hint::meant("", written).unwrap_or(plain)));
    }
    Some((format!("stepoff {name} has no flag {}", clipped(written)), hint::flag(written, &flags)))
}
