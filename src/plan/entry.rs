//! The user's values, field by field, with their places.

use std::ops::Range;

use super::field::{Field, Key};
use super::text::on_one_line;
use crate::key;
use crate::measure::Units;
use crate::measure::read::is_metric;

/// Where a value was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// After a flag of the command line.
    Flag {
        /// The flag, with its dashes.
        flag: &'static str,
        /// What was written after it.
        text: String,
    },
    /// In the roof file: the bytes of the value, quotes included.
    File(Range<usize>),
    /// Nowhere: a required value was not given.
    Missing {
        /// The field's key in the roof file.
        key: &'static str,
        /// The field's flag, if it has one.
        flag: Option<&'static str>,
    },
}

/// One value as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The field it is for.
    pub field: &'static Field,
    /// Which table of that name it is in, counted from 0, where a file may have several.
    pub item: usize,
    /// The text, without quotes.
    pub text: String,
    /// True for a TOML string or a flag; false for a TOML number, boolean or anything else.
    pub quoted: bool,
    /// Where it was written.
    pub place: Place,
}

/// All values of the user. A flag overrides the file's value of the same field.
#[derive(Debug, Clone, Default)]
pub struct Entries {
    entries: Vec<Entry>,
}

impl Entries {
    /// Adds a value; the first one for a field is kept.
    pub fn add(&mut self, entry: Entry) {
        let same = |known: &Entry| known.item == entry.item && known.field == entry.field;
        if !self.entries.iter().any(same) {
            self.entries.push(entry);
        }
    }

    /// The values of each table of a name that a file may have several of, one after another, as if each were the only one.
    #[must_use]
    pub fn items(&self, table: &str) -> Vec<Entries> {
        let mut items: Vec<Entries> = Vec::new();
        for entry in self.entries.iter().filter(|entry| entry.field.table() == table) {
            items.resize_with(items.len().max(entry.item + 1), Entries::default);
            items[entry.item].entries.push(Entry { item: 0, ..entry.clone() });
        }
        // a table without one known value has its faults already
        items.retain(|item| !item.entries.is_empty());
        items
    }

    /// The units of the building: metric if its span is metric (or its length, if the span is the
    /// unknown).
    #[must_use]
    pub fn units(&self) -> Units {
        match [key!("building.span"), key!("building.length")]
            .into_iter()
            .find_map(|key| self.get(key))
        {
            Some(entry) if is_metric(&entry.text) => Units::Millimeters,
            _ => Units::Feet,
        }
    }

    /// Adds the value of a flag, if it was given.
    pub fn add_flag(&mut self, key: Key, text: Option<&str>) {
        if let Some(text) = text {
            let field = key.field();
            let text = on_one_line(text);
            self.add(Entry {
                field,
                item: 0,
                text: text.clone(),
                quoted: true,
                place: Place::Flag { flag: field.flag.unwrap_or(field.key), text },
            });
        }
    }

    /// The same with another text for the field `key`, as if written at `place`.
    #[must_use]
    pub fn with(&self, key: Key, text: &str, place: Place) -> Entries {
        let mut changed = self.clone();
        changed.entries.retain(|entry| entry.field.key != key.name());
        changed.entries.push(Entry {
            field: key.field(),
            item: 0,
            text: text.to_owned(),
            quoted: true,
            place,
        });
        changed
    }

    /// The same without the field `key`.
    #[must_use]
    pub fn without(&self, key: Key) -> Entries {
        let mut rest = self.clone();
        rest.entries.retain(|entry| entry.field.key != key.name());
        rest
    }

    /// The same without the fields of one table of the roof file.
    #[must_use]
    pub fn without_table(&self, table: &str) -> Entries {
        let mut rest = self.clone();
        rest.entries.retain(|entry| entry.field.table() != table);
        rest
    }

    /// The value written for the field `key`.
    #[must_use]
    pub fn get(&self, key: Key) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.field.key == key.name())
    }

    /// Every value written.
    pub fn iter(&self) -> impl Iterator<Item = &Entry> {
        self.entries.iter()
    }
}
