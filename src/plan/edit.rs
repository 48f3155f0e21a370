//! A roof file's text with one value changed: everything else in it stays as it was written.

use std::ops::Range;

use toml::de::DeValue;

use super::document::Document;
use super::field::{Field, Key, Kind, is_list};

/// The text with `value` written for the field, or without the field if there is no value.
///
/// Comments, order and every other line stay. `None` if the text is no roof file that can be changed so:
/// not TOML, or with the field's table written on one line.
///
/// ```
/// use stepoff::key;
/// use stepoff::plan::edit::with;
///
/// let text = "[roof]\npitch = \"6/12\" # as drawn\n";
/// let steeper = with(text, key!("roof.pitch"), Some("7/12")).unwrap();
/// assert_eq!(steeper, "[roof]\npitch = \"7/12\" # as drawn\n");
/// ```
#[must_use]
pub fn with(text: &str, key: Key, value: Option<&str>) -> Option<String> {
    let field = key.field();
    let changed = match (place(text, field)?, value) {
        (Place::Value(span), Some(value)) => replaced(text, span, &quoted(field, value)),
        (Place::Value(span), None) => replaced(text, lines_of(text, &span), ""),
        (_, None) => text.to_owned(),
        (Place::After(at), Some(value)) => {
            let line = format!("{} = {}\n", field.name(), quoted(field, value));
            replaced(text, at..at, &on_its_own_line(text, at, &line))
        }
        (Place::NoTable, Some(value)) => {
            let between = if text.trim().is_empty() { "" } else { "\n" };
            let table = format!(
                "{between}[{}]\n{} = {}\n",
                field.table(),
                field.name(),
                quoted(field, value)
            );
            let at = text.len();
            replaced(text, at..at, &on_its_own_line(text, at, &table))
        }
    };
    // what was written has to be what is read
    let wanted = value.map(|value| plain(field, value)).unwrap_or_default();
    (written(&changed, field)? == wanted).then_some(changed)
}

/// Where a field stands, or would.
enum Place {
    /// Its value.
    Value(Range<usize>),
    /// Its table stands and has no such field: the byte after the line that it can follow.
    After(usize),
    /// There is no such table.
    NoTable,
}

fn place(text: &str, field: &Field) -> Option<Place> {
    // one of several tables of a name is not known by its field alone
    if is_list(field.table()) {
        return None;
    }
    let document = Document::parse(text, "");
    if document.is_broken() {
        return None;
    }
    let Some((name, table)) =
        document.table.get_ref().iter().find(|(name, _)| name.get_ref().as_ref() == field.table())
    else {
        return Some(Place::NoTable);
    };
    let DeValue::Table(table) = table.get_ref() else {
        return None;
    };
    if let Some((_, value)) = table.iter().find(|(name, _)| name.get_ref().as_ref() == field.name())
    {
        return Some(Place::Value(value.span()));
    }
    let headed = text[line_at(text, name.span().start)].trim_start().starts_with('[');
    let last = table.iter().map(|(_, value)| value.span().end).max().unwrap_or(0);
    headed.then(|| Place::After(line_at(text, last.max(name.span().end)).end))
}

/// What is written for the field, an empty text if nothing is; `None` if it can't be read.
fn written(text: &str, field: &Field) -> Option<String> {
    let span = match place(text, field)? {
        Place::Value(span) => span,
        Place::After(_) | Place::NoTable => return Some(String::new()),
    };
    let document = Document::parse(text, "");
    let (_, table) = document
        .table
        .get_ref()
        .iter()
        .find(|(name, _)| name.get_ref().as_ref() == field.table())?;
    let DeValue::Table(table) = table.get_ref() else {
        return None;
    };
    table.iter().find(|(_, value)| value.span() == span).and_then(|(_, value)| {
        match value.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            _ => None,
        }
    })
}

/// The line of byte `at`, with its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end = text[at..].find('\n').map_or(text.len(), |end| at + end + 1);
    start..end
}

/// Every line that a value takes.
fn lines_of(text: &str, span: &Range<usize>) -> Range<usize> {
    line_at(text, span.start).start..line_at(text, span.end).end
}

fn on_its_own_line(text: &str, at: usize, line: &str) -> String {
    let begins = text[..at].is_empty() || text[..at].ends_with('\n');
    if begins { line.to_owned() } else { format!("\n{line}") }
}

fn replaced(text: &str, span: Range<usize>, by: &str) -> String {
    format!("{}{by}{}", &text[..span.start], &text[span.end..])
}

/// A value as it goes into the file: lengths with ft and in, so that no quote needs an escape.
fn plain(field: &Field, value: &str) -> String {
    let words = matches!(field.kind, Kind::Text | Kind::Limit(_));
    if words || !value.contains('"') {
        value.to_owned()
    } else {
        value.replace('\'', "ft").replace('"', "in")
    }
}

/// A TOML string.
fn quoted(field: &Field, value: &str) -> String {
    let mut text = String::from("\"");
    for letter in plain(field, value).chars() {
        match letter {
            '"' | '\\' => text.extend(['\\', letter]),
            letter if letter.is_control() => {
                text.push_str(&format!("\\u{:04X}", u32::from(letter)));
            }
            letter => text.push(letter),
        }
    }
    text + "\""
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::entry::Entries;
    use super::super::field::{FIELDS, is_list};
    use super::super::file::read;
    use super::super::starter;
    use super::*;
    use crate::key;

    const ROOF: &str = "# a roof\n[building]\nspan = \"14'\"   # over the framing\nlength = \"22'\"\n\n[roof]\npitch = \"6/12\"\n";

    #[test]
    fn a_value_is_changed_where_it_stands_and_nothing_else_is() {
        let text = with(ROOF, key!("building.span"), Some("16' 3\"")).unwrap();
        assert_eq!(text, ROOF.replace("\"14'\"", "\"16ft 3in\""));
    }

    #[test]
    fn a_new_value_goes_below_its_table_and_a_new_table_below_all() {
        let text = with(ROOF, key!("building.plate"), Some("2x6")).unwrap();
        assert_eq!(text, ROOF.replace("\"22'\"\n", "\"22'\"\nplate = \"2x6\"\n"));
        let text = with(ROOF, key!("eave.overhang"), Some("18in")).unwrap();
        assert_eq!(text, format!("{ROOF}\n[eave]\noverhang = \"18in\"\n"));
        assert_eq!(
            with("", key!("roof.pitch"), Some("5/12")).unwrap(),
            "[roof]\npitch = \"5/12\"\n"
        );
        let no_end = with("[roof]\npitch = '6/12'", key!("roof.spacing"), Some("2ft")).unwrap();
        assert_eq!(no_end, "[roof]\npitch = '6/12'\nspacing = \"2ft\"\n");
    }

    #[test]
    fn a_value_is_taken_out_with_its_line() {
        let text = with(ROOF, key!("building.span"), None).unwrap();
        assert_eq!(text, ROOF.replace("span = \"14'\"   # over the framing\n", ""));
        assert_eq!(with(ROOF, key!("eave.fascia"), None).unwrap(), ROOF);
    }

    #[test]
    fn what_can_not_be_changed_so_is_left_alone() {
        assert_eq!(with("[roof\n", key!("roof.pitch"), Some("6/12")), None);
        assert_eq!(with("roof = { spacing = \"2ft\" }\n", key!("roof.pitch"), Some("6/12")), None);
        assert_eq!(with("roof = 3\n", key!("roof.pitch"), Some("6/12")), None);
    }

    #[test]
    fn every_field_can_be_set_in_the_long_starter_file() {
        let start = starter::full();
        for field in FIELDS.iter().filter(|field| !is_list(field.table())) {
            let text = with(&start, field.key(), Some("some text")).expect(field.key);
            let mut entries = Entries::default();
            read(&text, &mut entries);
            assert_eq!(entries.get(field.key()).unwrap().text, "some text", "{}", field.key);
        }
    }

    proptest! {
        #[test]
        fn any_name_is_read_back_as_it_was_written(name in "\\PC{0,40}", quote in "[\"'\\\\\u{1b}<>&]{0,6}") {
            let name = name + &quote;
            let text = with(ROOF, key!("job.name"), Some(&name)).unwrap();
            prop_assert!(text.starts_with(ROOF));
            let table: toml::Table = toml::from_str(&text).unwrap();
            prop_assert_eq!(table["job"]["name"].as_str(), Some(name.as_str()));
        }

        #[test]
        fn any_text_is_changed_or_left_alone_without_panic(text in "(\\PC|\n){0,60}", value in "\\PC{0,20}") {
            let _ = with(&text, key!("roof.pitch"), Some(&value));
            let _ = with(&text, key!("roof.pitch"), None);
        }
    }
}
