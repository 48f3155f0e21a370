//! A TOML text as a document, its faults in plain words.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, Error};

use super::entry::Place;
use super::fault::{Fault, Faults};
use super::text::{Control, toml_length};

/// For a longer text that is not TOML only the first fault is reported: finding the others takes too
/// much memory.
const LONGEST_SEARCHED: usize = 64 << 10;

/// A TOML text, as far as it could be read.
#[derive(Debug)]
pub struct Document<'t> {
    /// The tables.
    pub table: Spanned<DeTable<'t>>,
    /// What is not TOML, one fault a line at most.
    pub faults: Faults,
    lines: Vec<Range<usize>>,
}

/// Most brackets, braces and points of a text: each may begin a table, which takes over a kilobyte.
const MOST_TABLES: usize = 30_000;

impl<'t> Document<'t> {
    /// Reads `text`; `form` describes the format for messages.
    #[must_use]
    pub fn parse(text: &'t str, form: &str) -> Document<'t> {
        let tables = |letter: &&u8| matches!(letter, b'[' | b'{' | b'.');
        if text.as_bytes().iter().filter(tables).count() > MOST_TABLES {
            return Document::refused(form);
        }
        let (table, errors) = if text.len() <= LONGEST_SEARCHED {
            DeTable::parse_recoverable(text)
        } else {
            match DeTable::parse(text) {
                Ok(table) => (table, Vec::new()),
                Err(error) => (Spanned::new(0..0, DeTable::new()), vec![error]),
            }
        };
        let mut faults = Faults::new();
        let mut lines: Vec<Range<usize>> = Vec::new();
        for error in errors {
            let line = line_at(text, error.span().map_or(0, |span| span.start));
            if lines.last() != Some(&line) {
                faults.push_with(|| fault(text, &line, &error, form));
                lines.push(line);
            }
        }
        Document { table, faults, lines }
    }

    /// A text that is not read, because it would take too much memory.
    fn refused(form: &str) -> Document<'t> {
        Document {
            table: Spanned::new(0..0, DeTable::new()),
            faults: Faults::from(Fault::new(
                Place::File(0..0),
                "make this file shorter: it has too many tables to be written by hand",
                format!("long lists of pieces go into a CSV or JSON file; {form}"),
            )),
            lines: std::iter::once(0..usize::MAX).collect(),
        }
    }

    /// True if the text is not all valid TOML, so that values may be missed.
    #[must_use]
    pub(super) fn is_broken(&self) -> bool {
        !self.lines.is_empty()
    }

    /// True if the line of byte `at` is not TOML: a value read from it does not count.
    #[must_use]
    pub(super) fn is_broken_at(&self, at: usize) -> bool {
        self.lines.iter().any(|line| line.contains(&at))
    }
}

/// A longer line is no setting worth repeating in a message.
const LONGEST_LINE: usize = 300;

/// The line of byte `at`, with its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = at.min(text.len());
    // a fault at the end of the file belongs to the last line
    let before = text.as_bytes()[..at].iter().rposition(|&byte| byte == b'\n');
    let after = text.as_bytes()[at..].iter().position(|&byte| byte == b'\n');
    before.map_or(0, |end| end + 1)..after.map_or(text.len(), |end| at + end + 1)
}

const CURLY: [char; 6] = ['“', '”', '„', '‟', '‘', '’'];

fn fault(text: &str, line: &Range<usize>, error: &Error, form: &str) -> Fault {
    let span = error.span().unwrap_or_else(|| line.clone());
    let parser = error.message();
    let written =
        text.get(line.clone()).filter(|line| line.len() <= LONGEST_LINE).unwrap_or_default();
    let at = |part: &str| {
        let start = (part.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        start..start + part.len()
    };
    let told = |span: Range<usize>, message: &str, help: String| {
        Fault::new(Place::File(span), message, help)
    };
    // a help that repeats the line would show it raw
    if let Some(control) = Control::first_in_file(written) {
        let span = line.start + control.span.start..line.start + control.span.end;
        return told(span, &control.message(), control.help().to_owned());
    }
    if parser.starts_with("duplicate key") {
        return told(
            span,
            "this is set twice",
            "keep one of the two, and take out the other".into(),
        );
    }
    if parser.contains("recurse") {
        return told(span, "this is nested too deeply", form.to_owned());
    }
    let Some((name, value)) = written.split_once('=') else {
        let name = written.trim();
        if name.starts_with('[') && !name.ends_with(']') {
            return told(span, "close the heading with ]", form.to_owned());
        }
        return match name.split_once(|sign: char| sign.is_whitespace() || sign == ':') {
            Some((name, value)) if !value.trim().is_empty() => told(
                span,
                "put an = sign between the name and its value",
                format!("write {} = {}", name.trim(), quoted(value)),
            ),
            _ => told(span, &first_lower(parser), form.to_owned()),
        };
    };
    let value = value.split(" #").next().unwrap_or(value).trim();
    if value.is_empty() {
        return told(
            span,
            "write a value after the = sign",
            format!("or take the line out: without it, the default is used; {form}"),
        );
    }
    let plain_name =
        name.trim().chars().all(|letter| letter.is_ascii_alphanumeric() || "_-.".contains(letter));
    if !plain_name || value.starts_with(['[', '{']) {
        return told(span, &first_lower(parser), form.to_owned());
    }
    let message = if value.starts_with(CURLY) {
        "use straight quotes: curly quotes do not hold a value"
    } else if !value.starts_with(['"', '\'']) {
        "put this value in quotes"
    } else if value.len() > 1 && value.ends_with(['"', '\'']) {
        "a quote mark inside the value ends it too early"
    } else {
        "close the quotes around this value"
    };
    told(at(value), message, format!("write {} = {}", name.trim(), quoted(value)))
}

/// A value as it was meant, in quotes that suit it.
fn quoted(value: &str) -> String {
    let value = value.trim();
    let inner = match value.chars().next() {
        Some(quote @ ('"' | '\'')) => {
            let inner = &value[1..];
            inner.strip_suffix(quote).unwrap_or(inner)
        }
        Some(quote) if CURLY.contains(&quote) => value[quote.len_utf8()..].trim_end_matches(CURLY),
        _ => value,
    };
    toml_length(inner)
}

fn first_lower(message: &str) -> String {
    let mut letters = message.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => "this is not TOML".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(line: &str) -> (String, String) {
        let text = format!("[roof]\n{line}\nspacing = \"16in\"\n");
        let document = Document::parse(&text, "FORM");
        assert!(document.is_broken() && document.is_broken_at(8), "{line}");
        let first = &document.faults[0];
        (first.message.clone(), first.help.clone())
    }

    #[test]
    fn quotes_are_explained_with_the_line_to_write() {
        for (line, message, help) in [
            ("pitch = “6/12”", "use straight quotes", "write pitch = \"6/12\""),
            ("span = \"16' 3\"\"", "ends it too early", "write span = \"16ft 3in\""),
            ("span = '16' 3\"'", "ends it too early", "write span = \"16ft 3in\""),
            ("span = 16'", "put this value in quotes", "write span = \"16'\""),
            ("spacing = 16\"", "put this value in quotes", "write spacing = \"16in\""),
            ("pitch = 6/12 # steep", "put this value in quotes", "write pitch = \"6/12\""),
            ("pitch = \"6/12", "close the quotes", "write pitch = \"6/12\""),
            ("pitch \"6/12\"", "put an = sign", "write pitch = \"6/12\""),
            ("pitch: 6/12", "put an = sign", "write pitch = \"6/12\""),
            ("pitch =", "write a value after the = sign", "take the line out"),
            ("pitch = \"6/12\"\npitch = \"7/12\"", "set twice", "keep one"),
            ("[walls", "close the heading with ]", "FORM"),
            ("pitch = 6\u{1b}[31m/12", "take out the control character U+001B", "type this again"),
        ] {
            let text = format!("[roof]\n{line}\n");
            let document = Document::parse(&text, "FORM");
            let first = &document.faults[0];
            assert!(first.message.contains(message), "{line}: {first:?}");
            assert!(first.help.contains(help), "{line}: {first:?}");
            assert_eq!(document.faults.len(), 1, "{line}");
        }
        assert!(told("pitch = 6/12").1.contains("pitch = \"6/12\""));
    }

    #[test]
    fn a_long_text_is_told_by_its_first_fault() {
        let text = "=\n".repeat(LONGEST_SEARCHED);
        assert_eq!(Document::parse(&text, "FORM").faults.found(), 1);
        let text = "=\n".repeat(1000);
        assert_eq!(Document::parse(&text, "FORM").faults.found(), 1000);
    }
}
