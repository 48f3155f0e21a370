//! The roof file: TOML, every fault found at once, each with its place.

use std::ops::Range;

use toml::de::DeValue;

use super::document::Document;
use super::entry::{Entries, Entry, Place};
use super::fault::{Fault, Faults};
use super::field::{Field, TABLES, heading, is_list};
use super::hint;
use super::text::shown;

/// What is wrong with a roof file as a whole.
#[derive(Debug, Default, PartialEq)]
pub struct Reading {
    /// Every fault.
    pub faults: Faults,
    /// True if the text is not all valid TOML, so that values may be missed.
    pub broken: bool,
}

/// How a roof file is written.
const FORM: &str = "a roof file has [table] headings, then name = \"value\" lines";

/// Reads a roof file's text into `entries`; faults go into the result.
///
/// Values are not parsed yet: they keep their text and place until a command needs them.
pub fn read(text: &str, entries: &mut Entries) -> Reading {
    let mut document = Document::parse(text, FORM);
    let mut faults = std::mem::take(&mut document.faults);
    for (name, value) in document.table.get_ref() {
        let key = name.get_ref().as_ref();
        let mut items = Vec::new();
        let fault = match value.get_ref() {
            _ if document.is_broken_at(name.span().start) => continue,
            DeValue::Table(table) if is_table(key) && !is_list(key) => {
                items.push(table);
                None
            }
            DeValue::Array(tables) if is_list(key) => {
                items.extend(tables.iter().filter_map(|one| one.get_ref().as_table()));
                match tables.len() {
                    count if count > MOST_ITEMS => Some((
                        format!("{count} times {} is more than is read", heading(key)),
                        format!("write at most {MOST_ITEMS}"),
                    )),
                    count if count > items.len() => Some(not_so(key)),
                    _ if items.iter().any(|item| item.is_empty()) => Some((
                        format!("one of the {} has nothing in it", heading(key)),
                        "write its fields below it, or take the heading out".to_owned(),
                    )),
                    _ => None,
                }
            }
            _ if is_table(key) => Some(not_so(key)),
            _ => {
                faults.push_with(|| unknown(key, name.span()));
                None
            }
        };
        if let Some((message, help)) = fault {
            faults.push(Fault::new(Place::File(name.span()), message, help));
        }
        for (item, table) in items.into_iter().take(MOST_ITEMS).enumerate() {
            for (field_name, value) in table {
                if document.is_broken_at(value.span().start) {
                    continue;
                }
                let whole = || format!("{key}.{}", field_name.get_ref());
                match Field::within(key, field_name.get_ref()) {
                    Some(field) => {
                        match entry(text, (field, item), value.get_ref(), value.span()) {
                            Ok(entry) => entries.add(entry),
                            Err(fault) => faults.push(fault),
                        }
                    }
                    None => faults.push_with(|| unknown(&whole(), field_name.span())),
                }
            }
        }
    }
    Reading { faults, broken: document.is_broken() }
}

/// Most tables of one name; a roof with more of them is none that one crew frames.
const MOST_ITEMS: usize = 24;

/// What to say of a table that stands there in another form.
fn not_so(key: &str) -> (String, String) {
    let heading = heading(key);
    let many = if is_list(key) { ", each under its own" } else { "" };
    (
        format!("{key} is written under the heading {heading}{many}"),
        format!("write {heading} on a line of its own, then name = \"value\" lines"),
    )
}

/// A longer name is not worth repeating in a message.
const LONGEST_NAME: usize = 60;

fn is_table(name: &str) -> bool {
    TABLES.iter().any(|(known, _)| *known == name)
}

/// True if a TOML text has a table that only roof files have, found from its lines, without parsing the
/// whole.
#[must_use]
pub fn is_roof_file(text: &str) -> bool {
    text.lines().any(|line| {
        let line = line.trim_start();
        let name = match line.strip_prefix('[') {
            Some(heading) => heading.trim_start_matches('[').split([']', '.']).next(),
            None => line.split_once('=').and_then(|(name, _)| name.split('.').next()),
        };
        name.is_some_and(|name| is_table(name.trim()))
    })
}

fn entry(
    source: &str,
    (field, item): (&'static Field, usize),
    value: &DeValue<'_>,
    span: Range<usize>,
) -> Result<Entry, Fault> {
    let raw = source.get(span.clone()).unwrap_or_default().to_owned();
    let (text, quoted) = match value {
        // escapes such as \u001b can bring in characters that the file itself may not have
        DeValue::String(text) => (
            shown(text, usize::MAX)
                .map_err(|(message, help)| Fault::new(Place::File(span.clone()), message, help))?,
            true,
        ),
        DeValue::Integer(_) | DeValue::Float(_) | DeValue::Boolean(_) => (raw, false),
        _ => {
            return Err(Fault::new(
                Place::File(span),
                format!("{} takes one value", field.key),
                format!("write {}, in quotes", field.kind.how_written()),
            ));
        }
    };
    Ok(Entry { field, item, text, quoted, place: Place::File(span) })
}

fn unknown(key: &str, span: Range<usize>) -> Fault {
    if key.len() > LONGEST_NAME {
        return Fault::new(
            Place::File(span),
            "write a shorter name: no table or field is as long as this",
            FORM,
        );
    }
    let (hint, what) = match key.split_once('.') {
        Some((table, name)) => {
            (hint::field(table, name), format!("{} has no {name}", heading(table)))
        }
        None => (hint::table(key), format!("{key} is not known in a roof file")),
    };
    Fault::new(Place::File(span), hint.message.unwrap_or(what), hint.help)
}

/// The place in the file of byte `at` of a TOML string's decoded text, given the string's span.
///
/// Escapes (`\"`) take more bytes in the file than in the text, so the two are stepped through
/// together.
#[must_use]
pub fn place_in_string(source: &str, span: &Range<usize>, at: usize) -> usize {
    let Some(raw) = source.get(span.clone()) else {
        return span.start;
    };
    let quote = ["\"\"\"", "'''", "\"", "'"].into_iter().find(|quote| raw.starts_with(quote));
    let Some(quote) = quote else {
        return span.start + at.min(raw.len());
    };
    let escapes = quote.starts_with('"');
    let mut decoded = 0;
    let mut letters = raw.char_indices().skip(quote.len()).peekable();
    while let Some((place, letter)) = letters.next() {
        if decoded >= at {
            return span.start + place;
        }
        if escapes && letter == '\\' {
            letters.next();
            decoded += 1; // the escapes that lengths use (\" and \') are one byte
        } else {
            decoded += letter.len_utf8();
        }
    }
    span.end
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::text::toml_length;
    use proptest::prelude::*;

    #[test]
    fn finds_every_fault_at_once() {
        let text = "[building]\nspam = \"24'\"\nlength = [1]\n[walls]\n[roof]\npitch = 6\n";
        let mut entries = Entries::default();
        let faults = read(text, &mut entries).faults;
        let told: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(
            told,
            [
                "building.length takes one value",
                "[building] has no spam",
                "walls is not known in a roof file"
            ]
        );
        assert!(faults[1].help.contains("span"));
        assert!(!entries.get(crate::key!("roof.pitch")).unwrap().quoted);
    }

    #[test]
    fn the_place_in_an_escaped_string_is_found() {
        let source = r#"span = "24' 6-1/3\"""#;
        let span = 7..source.len();
        let at = place_in_string(source, &span, "24' ".len());
        assert_eq!(&source[at..at + 5], "6-1/3");
        let at = place_in_string(source, &span, "24' 6-1/3\"".len());
        assert_eq!(at, source.len() - 1);
    }

    #[test]
    fn a_length_is_written_without_escapes_and_read_back() {
        use crate::measure::read::signed_length;
        for text in ["1' 2-3/4\"", "-1' 0-3/4\"", "3-1/2\"", "14'", "356 mm", "2' 0\""] {
            let written = toml_length(text);
            assert!(!written.contains('\\'), "{written}");
            let bare = &written[1..written.len() - 1];
            assert_eq!(signed_length(bare), signed_length(text), "{written}");
        }
        assert_eq!(toml_length("1' 2-3/4\""), "\"1ft 2-3/4in\"");
        assert_eq!(toml_length("3-1/2\""), "\"3-1/2in\"");
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "\\PC*", cut in 0_usize..2000) {
            let mut entries = Entries::default();
            read(&text, &mut entries);
            let starter = super::super::starter::full();
            let end = (0..=cut.min(starter.len())).rev().find(|&at| starter.is_char_boundary(at)).unwrap_or(0);
            read(&starter[..end], &mut entries);
        }
    }
}
