//! Every field as the page asks for it, and what a text means as the value of one.

use serde::Serialize;

use crate::catalog::lumber::nominal_names;
use crate::catalog::panels::panels;
use crate::catalog::{Grade, Species};
use crate::measure::{Units, Writing, read};
use crate::plan::field::{Default, FIELDS, Field, TABLES, is_list};
use crate::plan::{Address, Asked, Entries, Entry, Key, Kind, Reader, Value, file, nudge, starter};

use super::super::Input;
use super::super::on_page::on_page;
use super::refusal::{self, Refusal};

/// The fields by part of the roof file.
#[derive(Debug, Serialize)]
pub(super) struct Tables {
    /// Every reader, with what the reader is called.
    readers: Vec<(Reader, &'static str)>,
    tables: Vec<Part>,
    /// The tables that a roof file may have several of, each with those that it has.
    lists: Vec<List>,
}

#[derive(Debug, Serialize)]
struct List {
    table: &'static str,
    about: String,
    items: Vec<Item>,
}

/// One of several tables of a name.
#[derive(Debug, Serialize)]
struct Item {
    /// Its number, from 1.
    number: usize,
    name: Option<String>,
    fields: Vec<FieldView>,
}

#[derive(Debug, Serialize)]
struct Part {
    table: &'static str,
    about: String,
    fields: Vec<FieldView>,
}

#[derive(Debug, Serialize)]
struct FieldView {
    /// Its address: its key, with the number of its table where there may be several.
    key: String,
    /// Its name in plain words.
    label: &'static str,
    /// The readers who ask for it, the one who needs it most first.
    who: &'static [Reader],
    about: &'static str,
    /// How it is typed: `length`, `signed` (a length that may be less than zero), `pitch`, `words` or
    /// `text`.
    typed: &'static str,
    written_as: String,
    /// What can be chosen; empty where anything is typed.
    choices: Vec<&'static str>,
    default: String,
    needed: bool,
    /// What the roof file writes; null if nothing.
    text: Option<String>,
}

/// Every field, with what the roof file writes for it.
pub(super) fn all(roof: &str, units: Option<Units>) -> Tables {
    let mut entries = Entries::default();
    file::read(roof, &mut entries);
    let units = units.unwrap_or_else(|| entries.units());
    let single = TABLES.iter().filter(|(table, _)| !is_list(table));
    let tables = single.map(|&(table, about)| Part {
        table,
        about: on_page(about).unwrap_or_default(),
        fields: FIELDS
            .iter()
            .filter(|field| field.table() == table)
            .map(|field| view(Address::from(field.key()), &entries, units))
            .collect(),
    });
    let lists = TABLES.iter().filter(|(table, _)| is_list(table)).map(|&(table, about)| List {
        table,
        about: on_page(about).unwrap_or_default(),
        items: items(table, &entries, units),
    });
    let readers = Reader::ALL.into_iter().map(|reader| (reader, reader.word())).collect();
    Tables { readers, tables: tables.collect(), lists: lists.collect() }
}

fn items(table: &str, entries: &Entries, units: Units) -> Vec<Item> {
    let own = || entries.iter().filter(|entry| entry.field.table() == table);
    let count = own().map(|entry| entry.item + 1).max().unwrap_or(0);
    let of = |item: usize| Item {
        number: item + 1,
        name: own()
            .find(|entry| entry.item == item && entry.field.name() == "name")
            .map(|entry| entry.text.clone()),
        fields: FIELDS
            .iter()
            .filter(|field| field.table() == table)
            .map(|field| view(Address { key: field.key(), item }, entries, units))
            .collect(),
    };
    (0..count).map(of).collect()
}

fn view(address: Address, entries: &Entries, units: Units) -> FieldView {
    let field: &'static Field = address.key.field();
    let choices: Vec<&'static str> = match field.kind {
        Kind::Choice(words) => words.to_vec(),
        Kind::Section => nominal_names().filter(|name| name.starts_with("2x")).collect(),
        Kind::Thickness => nudge::thicknesses().to_vec(),
        Kind::Width => nominal_names().filter(|name| name.starts_with("2x")).collect(),
        Kind::Species => Species::ALL.map(Species::letters).to_vec(),
        Kind::Grade => Grade::IN_SPAN_TABLES.map(Grade::name).to_vec(),
        Kind::Panel => panels().iter().map(|panel| panel.rating.as_str()).collect(),
        _ => Vec::new(),
    };
    FieldView {
        key: address.to_string(),
        label: field.label,
        who: field.who,
        about: field.about,
        typed: match field.kind {
            Kind::Length => "length",
            Kind::SignedLength => "signed",
            Kind::Pitch => "pitch",
            Kind::Choice(_) => "words",
            _ => "text",
        },
        written_as: field.kind.how_written(),
        choices,
        default: on_page(match field.default {
            Default::Needed => "",
            Default::Value(value) | Default::Words(value) => value,
            Default::Either(_, metric) if units == Units::Millimeters => metric,
            Default::Either(us, _) => us,
        })
        .unwrap_or_default(),
        needed: field.default == Default::Needed,
        text: written(entries, address),
    }
}

/// What is written for a field.
fn written(entries: &Entries, address: Address) -> Option<String> {
    let is_it = |entry: &&Entry| entry.field.key() == address.key && entry.item == address.item;
    entries.iter().find(is_it).map(|entry| entry.text.clone())
}

/// The value of a field as it would be written: what the roof file has, else the default.
pub(super) fn now(input: &Input, address: Address) -> Option<String> {
    match (written(&input.entries, address), address.key.field().default) {
        (Some(text), _) => Some(text),
        (None, Default::Value(value)) => Some(value.to_owned()),
        (None, _) => None,
    }
}

/// What a text means as the value of a field, or why it is refused.
#[derive(Debug, Serialize)]
pub(super) struct ReadBack {
    /// The value as it is written for people.
    value: Option<String>,
    /// A length as it is said aloud.
    said: Option<String>,
    refused: Option<Refusal>,
    /// What may have been meant, where it could mean more than one thing.
    readings: Vec<String>,
}

/// Reads a text back; lengths are written in these units, else in those of the text.
pub(super) fn read(key: Key, text: &str, units: Option<Units>) -> ReadBack {
    if let Some(fault) = starter::fault(key, text) {
        let error = match key.field().kind {
            Kind::Pitch => read::pitch(text).err(),
            Kind::Length | Kind::SignedLength | Kind::Thickness | Kind::Width => {
                read::signed_length(text).err()
            }
            _ => None,
        };
        return ReadBack {
            value: None,
            said: None,
            readings: error.map_or_else(Vec::new, |error| error.problem.readings()),
            refused: Some(refusal::of(&fault, &Entries::default())),
        };
    }
    let mut entries = Entries::default();
    entries.add_flag(key, Some(text));
    let mut asked = Asked::new(&entries);
    let value = asked.value(key);
    let metric = read::is_metric(text);
    let units = units.unwrap_or(if metric { Units::Millimeters } else { Units::Feet });
    let writing = Writing::of(units);
    ReadBack {
        said: match &value {
            Some(Value::Length(length)) => Some(writing.said(*length)),
            _ => None,
        },
        value: Some(value.map_or_else(|| text.to_owned(), |value| value.write(writing))),
        refused: None,
        readings: Vec::new(),
    }
}
