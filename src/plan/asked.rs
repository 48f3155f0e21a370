//! Turns entries into values, with defaults, and records what was used.

use super::entry::{Entries, Entry, Place};
use super::fault::{Fault, Faults};
use super::field::{Default, FIELDS, Field, Key, LISTS, heading};
use super::limits::STEEPEST_RISE;
use super::reading::Problem;
use super::used::{Used, Value};
use crate::key;
use crate::measure::quantity::feet;
use crate::measure::{Amount, Length, Note, Pitch, Units, Writing};

mod values;

/// The words of a question that is answered by yes or no.
pub(super) const YES_NO: [(&str, bool); 2] = [("yes", true), ("no", false)];

/// One member, or two side by side.
pub(super) const PLIES: [(&str, bool); 2] = [("single", false), ("double", true)];

/// Where a field of the wing, dormer or opening with this name is written; where its name is, if the field is not.
#[must_use]
pub fn place_of(entries: &Entries, name: &str, field: &str) -> Place {
    let lists = LISTS.into_iter().flat_map(|table| entries.items(table));
    let of_name = lists.into_iter().find_map(|item| {
        let at = |field: &str| item.iter().find(|entry| entry.field.name() == field).cloned();
        let own = at("name").filter(|entry| entry.text == name)?;
        Some(at(field).unwrap_or(own).place)
    });
    of_name.unwrap_or(Place::Missing { key: key!("wing.name").name(), flag: None })
}

/// Reads values from [`Entries`], collecting every fault and every value used.
#[derive(Debug)]
pub struct Asked<'a> {
    entries: &'a Entries,
    /// The faults so far.
    pub faults: Faults,
    /// The values so far, in the order in which they were read.
    pub used: Vec<Used>,
    asked: Vec<Key>,
    units: Units,
    // where what is missing would stand, if that is known
    home: Option<Place>,
}

impl<'a> Asked<'a> {
    /// Starts reading from `entries`.
    #[must_use]
    pub fn new(entries: &'a Entries) -> Asked<'a> {
        Asked {
            entries,
            faults: Faults::new(),
            used: Vec::new(),
            asked: Vec::new(),
            units: entries.units(),
            home: None,
        }
    }

    /// Reads a plan with `ask`, then the rest of what was written; the plan with every value used.
    ///
    /// # Errors
    /// Every fault found.
    pub(super) fn whole<T>(
        entries: &'a Entries,
        ask: impl FnOnce(&mut Asked<'a>) -> Option<T>,
    ) -> Result<(T, Vec<Used>), Faults> {
        let mut asked = Asked::new(entries);
        let plan = ask(&mut asked);
        asked.check_the_rest();
        match plan {
            Some(plan) if asked.faults.is_empty() => Ok((plan, asked.used)),
            _ => Err(asked.faults),
        }
    }

    /// True if a value was written for `key`.
    #[must_use]
    pub fn given(&self, key: Key) -> bool {
        self.entries.get(key).is_some()
    }

    /// The place of `key`, or that it is missing.
    #[must_use]
    pub fn place(&self, key: Key) -> Place {
        match self.entries.get(key) {
            Some(entry) => entry.place.clone(),
            None => match &self.home {
                Some(home) => home.clone(),
                None => Place::Missing { key: key.name(), flag: key.field().flag },
            },
        }
    }

    /// Notes a fault of the value written for `key`.
    pub fn refuse(&mut self, key: Key, message: impl Into<Note>, help: impl Into<Note>) {
        let place = self.place(key);
        let writing = Writing::of(self.units);
        let (message, help) = (message.into().write(writing), help.into().write(writing));
        self.faults.push(Fault::new(place, message, help));
    }

    /// Notes a fault of a field of the wing, dormer or opening with this name.
    pub(super) fn refuse_item(
        &mut self,
        (name, field): (&str, &str),
        message: impl Into<Note>,
        help: impl Into<Note>,
    ) {
        let place = place_of(self.entries, name, field);
        let writing = Writing::of(self.units);
        let (message, help) = (message.into().write(writing), help.into().write(writing));
        self.faults.push(Fault::new(place, message, help));
    }

    /// Refuses a length over `most_ft` feet, in words with a place for that limit.
    pub(super) fn refuse_over(&mut self, key: Key, length: Length, most_ft: f64, words: &str) {
        if length > feet(most_ft) {
            let message = Note::with(words, [Amount::Feet(most_ft)]);
            self.refuse(key, message, "check the digits and the unit");
        }
    }

    /// What `read` makes of each table of a name that a file may have several of.
    pub(super) fn items<T>(
        &mut self,
        table: &str,
        mut read: impl FnMut(&mut Asked<'_>) -> Option<T>,
    ) -> Vec<T> {
        let mut found = Vec::new();
        for entries in self.entries.items(table) {
            let home = entries.iter().next().map(|entry| entry.place.clone());
            let mut item = Asked { units: self.units, home, ..Asked::new(&entries) };
            found.extend(read(&mut item));
            item.check_the_rest();
            self.faults.append(item.faults);
        }
        let fields = FIELDS.iter().filter(|field| field.table() == table);
        self.asked.extend(fields.map(Field::key));
        found
    }

    /// Refuses a pitch that no rafter is framed at.
    pub(super) fn refuse_pitch(&mut self, key: Key, pitch: Pitch) {
        let rise = pitch.unit_rise();
        let message = if rise <= 0.0 {
            Note::from("a flat roof has no rafter pattern")
        } else if rise > STEEPEST_RISE {
            Note::with(
                "{} is steeper than the {} that is framed here",
                [Amount::RiseIn12(rise), Amount::RiseIn12(STEEPEST_RISE)],
            )
        } else {
            return;
        };
        let help =
            Note::with("write a pitch above 0 and up to {}", [Amount::RiseIn12(STEEPEST_RISE)]);
        self.refuse(key, message, help);
    }

    /// True for what reads one of several tables of a name.
    fn is_item(&self) -> bool {
        self.home.is_some()
    }

    /// Records that `key` is required.
    pub fn require(&mut self, key: Key) {
        if self.given(key) {
            return;
        }
        let field = key.field();
        let flag = field.flag.map_or(String::new(), |flag| format!("with {flag}, or "));
        self.refuse(
            key,
            format!(
                "give {} {flag}under {} in a roof file: {}",
                field.name(),
                heading(field.table()),
                field.about
            ),
            format!("write {}", field.kind.how_written()),
        );
    }

    /// What `read` makes of `key` where it was written; where it was not, no default is told.
    pub(super) fn where_given<T>(
        &mut self,
        key: Key,
        read: impl FnOnce(&mut Asked<'a>, Key) -> Option<T>,
    ) -> Option<T> {
        if self.given(key) { read(self, key) } else { None }
    }

    fn note(&mut self, key: Key, value: Value) {
        let given = self.entries.get(key).is_some();
        self.used.push(Used { field: key.field(), value, given });
    }

    /// Records a default that is described in words, because its value follows from others.
    fn note_default(&mut self, key: Key) {
        match key.field().default {
            Default::Value(words) | Default::Words(words) => {
                self.note(key, Value::Words(words.to_owned()));
            }
            Default::Either(us, metric) => self.note(key, Value::Either(us, metric)),
            Default::Needed => {}
        }
    }

    /// Removes the defaults of `keys` from the values used, because they shaped nothing.
    pub(super) fn forget(&mut self, keys: &[Key]) {
        self.used.retain(|used| used.given || !keys.contains(&used.field.key()));
    }

    /// Records the value of a default that is described in words.
    pub fn resolve(&mut self, key: Key, length: Length) {
        let told = self.used.iter_mut().rev().find(|used| used.field.key == key.name());
        if let Some(used) = told {
            used.value = Value::Length(length);
        }
    }

    /// Reads the text of `key` (its own, otherwise the default of its field) with `reader`.
    fn read<T>(
        &mut self,
        key: Key,
        reader: impl Fn(&str) -> Result<T, Problem>,
        shown: impl Fn(&T) -> Value,
    ) -> Option<T> {
        self.asked.push(key);
        if let Some(entry) = self.entries.get(key).cloned() {
            if self.is_too_long(&entry) {
                return None;
            }
            match reader(&entry.text) {
                // a bare TOML number counts if the reader accepts it: one that could mean two things is
                // refused
                Ok(value) => {
                    self.note(key, shown(&value));
                    return Some(value);
                }
                Err(problem) => self.faults.push(problem.at(&entry)),
            }
            // the plan is refused, but continuing with the default finds the other faults too
            return match entry.field.default {
                Default::Value(text) => reader(text).ok(),
                Default::Needed | Default::Words(_) | Default::Either(..) => None,
            };
        }
        match key.field().default {
            Default::Needed => None,
            Default::Words(_) | Default::Either(..) => {
                self.note_default(key);
                None
            }
            Default::Value(text) => {
                let value = reader(text).ok()?;
                self.note(key, shown(&value));
                Some(value)
            }
        }
    }

    /// Refuses a value that is longer than any that is meant.
    fn is_too_long(&mut self, entry: &Entry) -> bool {
        let most = entry.field.kind.longest();
        let too_long = entry.text.chars().nth(most).is_some();
        if too_long {
            self.faults.push(Fault::new(
                entry.place.clone(),
                format!("shorten this to at most {most} characters"),
                format!("write {}", entry.field.kind.how_written()),
            ));
        }
        too_long
    }
}
