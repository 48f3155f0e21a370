//! Text that can be shown to people and on paper: no character that moves a cursor, colors a terminal
//! or reverses the writing.

use std::ops::Range;

/// The longest list, in characters; the longest ones are readings of a long wall.
pub(super) const LONGEST_LIST: usize = 10_000;
/// The longest value that is no list, in characters.
pub(super) const LONGEST_VALUE: usize = 100;
/// The longest free text, in characters: it has to fit a title block.
pub const LONGEST_TEXT: usize = 200;

/// A control character and where it is in its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Control {
    /// Its bytes.
    pub span: Range<usize>,
    letter: char,
}

/// True for a character that controls instead of being shown: ASCII and Latin-1 controls (escape codes
/// begin with one), and the marks that change the direction of writing (Unicode Standard Annex 9,
/// explicit formatting).
fn controls(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{061c}')
}

impl Control {
    /// The first control character of a value.
    #[must_use]
    fn first_in(text: &str) -> Option<Control> {
        Control::first(text, controls)
    }

    /// The first control character of a file; tabs and line ends are allowed there.
    #[must_use]
    pub fn first_in_file(text: &str) -> Option<Control> {
        Control::first(text, |letter| controls(letter) && !matches!(letter, '\t' | '\n' | '\r'))
    }

    fn first(text: &str, found: impl Fn(char) -> bool) -> Option<Control> {
        text.char_indices()
            .find(|(_, letter)| found(*letter))
            .map(|(at, letter)| Control { span: at..at + letter.len_utf8(), letter })
    }

    /// What was found.
    #[must_use]
    pub fn message(&self) -> String {
        format!("take out the control character U+{:04X}", u32::from(self.letter))
    }

    /// Why, and what to do.
    #[must_use]
    pub fn help(&self) -> &'static str {
        "it can't be seen or printed, and would change what a screen shows; type this again"
    }
}

/// A value on one line: line ends and tabs as spaces, byte for byte.
#[must_use]
pub fn on_one_line(text: &str) -> String {
    text.replace(['\n', '\r', '\t'], " ")
}

/// A text that can be shown: on one line, of at most `most` characters.
///
/// # Errors
/// What to change, and why.
pub fn shown(text: &str, most: usize) -> Result<String, (String, &'static str)> {
    let text = on_one_line(text);
    if let Some(control) = Control::first_in(&text) {
        return Err((control.message(), control.help()));
    }
    if text.chars().nth(most).is_some() {
        return Err((
            format!("shorten this to at most {most} characters"),
            "longer text has no room on a sheet or in a table",
        ));
    }
    Ok(text)
}

/// The beginning of a text, long enough to find it again.
#[must_use]
pub fn clipped(text: &str) -> String {
    match text.char_indices().nth(60) {
        Some((end, _)) => format!("{} ...", &text[..end]),
        None => text.to_owned(),
    }
}

/// A length as written for people (`1' 2-3/4"`) as a TOML string without escapes: `"1ft 2-3/4in"`.
#[must_use]
pub fn toml_length(text: &str) -> String {
    if text.contains('"') {
        format!("\"{}\"", text.replace('\'', "ft").replace('"', "in"))
    } else {
        toml_text(text)
    }
}

/// A TOML string, without escapes if possible.
#[must_use]
pub fn toml_text(text: &str) -> String {
    match (text.contains(['"', '\\']), text.contains('\'')) {
        (false, _) => format!("\"{text}\""),
        (true, false) => format!("'{text}'"),
        (true, true) => format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_controls_is_found_and_what_is_written_is_not() {
        for text in ["a\u{1b}[31m", "a\u{0}", "a\u{7f}", "a\u{9b}31m", "a\u{202e}b", "a\u{2066}"] {
            assert_eq!(Control::first_in(text).unwrap().span.start, 1, "{text:?}");
            assert!(Control::first_in_file(text).is_some(), "{text:?}");
        }
        for text in ["Kestrel Yard", "24' 3-1/2\"", "26.57°", "½″ × ¾″", "Käfer 屋根 \u{2013}"]
        {
            assert_eq!(Control::first_in(text), None, "{text}");
        }
        assert_eq!(Control::first_in_file("a = 1\r\n\tb = 2\n"), None);
        assert!(Control::first_in("a\nb").is_some());
        assert_eq!(shown("a\r\nb\tc", 6).unwrap(), "a  b c");
        assert!(shown("a\u{1b}c", 6).unwrap_err().0.contains("U+001B"));
        assert!(shown("abcdefg", 6).unwrap_err().0.contains("6 characters"));
    }
}
