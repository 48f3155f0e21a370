//! A roof file's text with one value changed: everything else in it stays as it was written.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::address::Address;
use super::document::Document;
use super::entry::Entries;
use super::field::{Field, Key, Kind, heading, is_list};
use super::file;

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
    // one of several tables of a name is not known by its field alone
    if is_list(key.field().table()) {
        return None;
    }
    at(text, Address::from(key), value)
}

/// The same for a field of one of several tables of a name; `None` also if there are not so many of them.
#[must_use]
pub fn at(text: &str, address: Address, value: Option<&str>) -> Option<String> {
    let field = address.key.field();
    let changed = match (place(text, address)?, value) {
        (Place::Value(span), Some(value)) => replaced(text, span, &quoted(field, value)),
        (Place::Value(span), None) => replaced(text, lines_of(text, &span), ""),
        (_, None) => text.to_owned(),
        (Place::After(at), Some(value)) => {
            let line = format!("{} = {}\n", field.name(), quoted(field, value));
            replaced(text, at..at, &on_its_own_line(text, at, &line))
        }
        (Place::NoTable, Some(value)) => added(text, &[(address.key, value)])?,
    };
    // what was written has to be what is read
    let wanted = value.map(|value| plain(field, value)).unwrap_or_default();
    (written(&changed, address)? == wanted).then_some(changed)
}

/// The text with another table below all others, with these fields of one table; `None` without fields.
#[must_use]
pub fn added(text: &str, fields: &[(Key, &str)]) -> Option<String> {
    let (first, _) = fields.first()?;
    let between = if text.trim().is_empty() { "" } else { "\n" };
    let mut table = format!("{between}{}\n", heading(first.field().table()));
    for (key, value) in fields {
        let field = key.field();
        table.push_str(&format!("{} = {}\n", field.name(), quoted(field, value)));
    }
    let end = text.len();
    Some(replaced(text, end..end, &on_its_own_line(text, end, &table)))
}

/// The text without one of several tables of a name, counted from 0: its heading and every line of it. `None` if it has no such
/// table under a heading of its own.
#[must_use]
pub fn without_item(text: &str, table: &str, item: usize) -> Option<String> {
    let before = read_back(text)?;
    let headings = headings(text);
    let own = heading(table);
    let is_own = |line: &usize| text[*line..].trim_start().starts_with(&own);
    let start = *headings.iter().filter(|line| is_own(line)).nth(item)?;
    let next = headings.iter().find(|line| **line > start).copied().unwrap_or(text.len());
    let end = start + own_lines(&text[start..next]);
    let changed = replaced(text, start..end, "");
    // everything else is read as before
    let rest = before.into_iter().filter_map(|(address, value)| {
        let of_table = address.key.field().table() == table;
        match address.item {
            own if of_table && own == item => None,
            own if of_table && own > item => Some((Address { item: own - 1, ..address }, value)),
            _ => Some((address, value)),
        }
    });
    let rest: Vec<(Address, String)> = rest.collect();
    (read_back(&changed)? == rest).then_some(changed)
}

/// The first bytes of all lines that begin as headings do.
fn headings(text: &str) -> Vec<usize> {
    let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(end, _)| end + 1));
    lines.filter(|line| text[*line..].trim_start_matches([' ', '\t']).starts_with('[')).collect()
}

/// How much of a text from a heading to the next one is of the first: its lines, and blank lines after them, but not a comment
/// that stands before the next.
fn own_lines(text: &str) -> usize {
    let (mut own, mut at) = (0, 0);
    let mut is_open = true;
    for line in text.split_inclusive('\n') {
        at += line.len();
        let line = line.trim();
        if line.is_empty() {
            own = if is_open { at } else { own };
        } else if line.starts_with('#') {
            is_open = false;
        } else {
            (own, is_open) = (at, true);
        }
    }
    own
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

/// A table of a document with the place of its heading; `None` if what stands there is none.
enum Found<'d, 't> {
    Table(&'d DeTable<'t>, usize),
    Nothing,
    Other,
}

fn table_of<'d, 't>(document: &'d Document<'t>, address: Address) -> Found<'d, 't> {
    let field = address.key.field();
    let all = document.table.get_ref();
    let own = all.iter().find(|(name, _)| name.get_ref().as_ref() == field.table());
    match own {
        None if is_list(field.table()) => Found::Other,
        None => Found::Nothing,
        Some((name, value)) => match value.get_ref() {
            DeValue::Table(table) => Found::Table(table, name.span().start),
            DeValue::Array(items) => {
                match items.get(address.item).map(|one| (one.get_ref(), one.span())) {
                    Some((DeValue::Table(table), span)) => Found::Table(table, span.start),
                    _ => Found::Other,
                }
            }
            _ => Found::Other,
        },
    }
}

fn place(text: &str, address: Address) -> Option<Place> {
    let field = address.key.field();
    let document = Document::parse(text, "");
    if document.is_broken() {
        return None;
    }
    let (table, start) = match table_of(&document, address) {
        Found::Table(table, start) => (table, start),
        Found::Nothing => return Some(Place::NoTable),
        Found::Other => return None,
    };
    if let Some((_, value)) = table.iter().find(|(name, _)| name.get_ref().as_ref() == field.name())
    {
        return Some(Place::Value(value.span()));
    }
    let headed = text[line_at(text, start)].trim_start().starts_with('[');
    let last = table.iter().map(|(_, value)| value.span().end).max().unwrap_or(0);
    headed.then(|| Place::After(line_at(text, last.max(start)).end))
}

/// What is written for the field, an empty text if nothing is; `None` if it can't be read.
fn written(text: &str, address: Address) -> Option<String> {
    if let Place::After(_) | Place::NoTable = place(text, address)? {
        return Some(String::new());
    }
    let document = Document::parse(text, "");
    let Found::Table(table, _) = table_of(&document, address) else {
        return None;
    };
    let name = address.key.field().name();
    table.iter().find(|(own, _)| own.get_ref().as_ref() == name).and_then(|(_, value)| match value
        .get_ref()
    {
        DeValue::String(text) => Some(text.to_string()),
        _ => None,
    })
}

/// Every value that a roof file's reader takes from a text, in its order; `None` if something in it can't be read.
fn read_back(text: &str) -> Option<Vec<(Address, String)>> {
    let mut entries = Entries::default();
    let reading = file::read(text, &mut entries);
    let all = entries
        .iter()
        .map(|entry| (Address { key: entry.field.key(), item: entry.item }, entry.text.clone()));
    (!reading.broken).then(|| all.collect())
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

    use super::super::field::FIELDS;
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

    const WINGS: &str = "[building]\nspan = \"20'\"\n\n# the first\n[[wing]]\nname = \"n\"\nspan = \"8'\"\n\n# the second\n[[wing]]\nname = \"s\"\n\n[roof]\npitch = \"6/12\"\n";

    fn address(text: &str) -> Address {
        Address::of(text).unwrap()
    }

    #[test]
    fn a_value_of_one_of_several_tables_is_changed_where_it_stands() {
        let wider = at(WINGS, address("wing.1.span"), Some("9'")).unwrap();
        assert_eq!(wider, WINGS.replace("\"8'\"", "\"9'\""));
        let second = at(WINGS, address("wing.2.span"), Some("10ft")).unwrap();
        assert_eq!(second, WINGS.replace("\"s\"\n", "\"s\"\nspan = \"10ft\"\n"));
        let out = at(WINGS, address("wing.1.span"), None).unwrap();
        assert_eq!(out, WINGS.replace("span = \"8'\"\n", ""));
        assert_eq!(at(WINGS, address("wing.3.span"), Some("9ft")), None);
        assert_eq!(at(WINGS, address("dormer.1.span"), Some("9ft")), None);
    }

    #[test]
    fn one_of_several_tables_is_taken_out_with_its_lines() {
        let without = without_item(WINGS, "wing", 0).unwrap();
        assert_eq!(without, WINGS.replace("[[wing]]\nname = \"n\"\nspan = \"8'\"\n\n", ""));
        let without = without_item(WINGS, "wing", 1).unwrap();
        assert_eq!(without, WINGS.replace("[[wing]]\nname = \"s\"\n\n", ""));
        assert_eq!(without_item(WINGS, "wing", 2), None);
        assert_eq!(without_item(WINGS, "opening", 0), None);
        // what only looks like a heading is none
        let text = "[job]\nname = \"\"\"\n[[wing]]\n\"\"\"\n[[wing]]\nname = \"a\"\n";
        assert_eq!(without_item(text, "wing", 0), None);
    }

    #[test]
    fn another_table_goes_below_all() {
        let fields = [(key!("wing.name"), "e"), (key!("wing.span"), "8ft")];
        let more = added(WINGS, &fields).unwrap();
        assert_eq!(more, format!("{WINGS}\n[[wing]]\nname = \"e\"\nspan = \"8ft\"\n"));
        assert_eq!(without_item(&more, "wing", 2).unwrap(), format!("{WINGS}\n"));
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
            let _ = at(&text, address("wing.1.span"), Some(&value));
            let _ = without_item(&text, "wing", 0);
        }
    }
}
