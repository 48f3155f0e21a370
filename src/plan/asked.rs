//! Turning what was written into values, with defaults, noting what was used.

use super::entry::{Entries, Entry, Place};
use super::fault::{Fault, Faults};
use super::field::{Default, Field, Key, Kind, LimitOf};
use super::reading::{
    Problem, Sticks, board, load, parts, plain_number, section, shifted, some_sticks, station,
    width,
};
use super::{hint, sweep};
use crate::catalog::code_rules::jurisdiction;
use crate::catalog::lumber::Section;
use crate::catalog::panels::{self, Panel};
use crate::catalog::{Grade, Species, UnknownName};
use crate::measure::load::{SPEED_IS_WRITTEN, miles_per_hour};
use crate::measure::quantity::{InInches, in_psf, inches};
use crate::measure::read;
use crate::measure::{Amount, Length, Note, Pitch, Pressure, Units, Writing, trim};

/// A value that was used, as it can be printed in any units.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A section.
    Section(Section),
    /// A pitch.
    Pitch(Pitch),
    /// A load on an area.
    Load(Pressure),
    /// A wind speed, miles per hour.
    Speed(f64),
    /// Several lengths.
    Lengths(Vec<Length>),
    /// Sticks.
    Sticks(Vec<Sticks>),
    /// An amount in a unit of its own.
    Amount(Amount),
    /// A phrase, and how it reads in metric.
    Either(&'static str, &'static str),
    /// A word or a phrase.
    Words(String),
}

impl Value {
    /// The value in words.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        match self {
            Value::Length(length) => writing.length(*length),
            Value::Section(section) => section.write(writing.units),
            Value::Pitch(pitch) => writing.pitch(*pitch),
            Value::Load(load) => writing.psf(in_psf(*load), 2),
            Value::Speed(mph) => writing.mph(*mph, 1),
            Value::Lengths(lengths) => {
                lengths.iter().map(|length| writing.length(*length)).collect::<Vec<_>>().join(", ")
            }
            Value::Sticks(sticks) => sticks
                .iter()
                .map(|sticks| {
                    format!(
                        "{} {} x {}",
                        sticks.section.write(writing.units),
                        writing.length(sticks.length),
                        sticks.count
                    )
                })
                .collect::<Vec<_>>()
                .join(", "),
            Value::Amount(amount) => amount.write(writing),
            Value::Either(_, metric) if writing.units == Units::Millimeters => (*metric).to_owned(),
            Value::Either(us, _) => (*us).to_owned(),
            Value::Words(words) => words.clone(),
        }
    }
}

/// One field's value as it was used.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The field.
    pub field: &'static Field,
    /// The value.
    pub value: Value,
    /// True if it was written by the user, false if it is the default.
    pub given: bool,
}

/// Reads values out of [`Entries`], collecting every fault and every value used.
#[derive(Debug)]
pub struct Asked<'a> {
    entries: &'a Entries,
    /// The faults so far.
    pub faults: Faults,
    /// The values so far, in the order asked for.
    pub used: Vec<Used>,
    asked: Vec<Key>,
}

impl<'a> Asked<'a> {
    /// Starts reading from `entries`.
    #[must_use]
    pub fn new(entries: &'a Entries) -> Asked<'a> {
        Asked { entries, faults: Faults::new(), used: Vec::new(), asked: Vec::new() }
    }

    /// True if a value was written for `key`.
    #[must_use]
    pub fn given(&self, key: Key) -> bool {
        self.entries.get(key).is_some()
    }

    /// Where `key` was written, or that it is missing.
    #[must_use]
    pub fn place(&self, key: Key) -> Place {
        match self.entries.get(key) {
            Some(entry) => entry.place.clone(),
            None => Place::Missing { key: key.name(), flag: key.field().flag },
        }
    }

    /// Notes a fault of the value written for `key`.
    pub fn refuse(&mut self, key: Key, message: impl Into<Note>, help: impl Into<Note>) {
        let place = self.place(key);
        let writing = Writing::of(self.entries.units());
        let (message, help) = (message.into().write(writing), help.into().write(writing));
        self.faults.push(Fault::new(place, message, help));
    }

    /// Notes that `key` must be given.
    pub fn require(&mut self, key: Key) {
        if self.given(key) {
            return;
        }
        let field = key.field();
        let flag = field.flag.map_or(String::new(), |flag| format!("with {flag}, or "));
        self.refuse(
            key,
            format!(
                "give {} {flag}under [{}] in a roof file: {}",
                field.name(),
                field.table(),
                field.about
            ),
            format!("write {}", field.kind.how_written()),
        );
    }

    fn note(&mut self, key: Key, value: Value) {
        let given = self.entries.get(key).is_some();
        self.used.push(Used { field: key.field(), value, given });
    }

    /// Notes a default that is told in words, because its value follows from others.
    fn note_default(&mut self, key: Key) {
        match key.field().default {
            Default::Value(words) | Default::Words(words) => {
                self.note(key, Value::Words(words.to_owned()));
            }
            Default::Either(us, metric) => self.note(key, Value::Either(us, metric)),
            Default::Needed => {}
        }
    }

    /// Drops the defaults of `keys` from the values used, because they shaped nothing.
    pub fn forget(&mut self, keys: &[Key]) {
        self.used.retain(|used| used.given || !keys.contains(&used.field.key()));
    }

    /// Notes the value that a default told in words comes to.
    pub fn resolve(&mut self, key: Key, length: Length) {
        let told = self.used.iter_mut().rev().find(|used| used.field.key == key.name());
        if let Some(used) = told {
            used.value = Value::Length(length);
        }
    }

    /// Reads the text of `key` (its own, else the default of its field) with `reader`.
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
                // a bare number of TOML counts where the reader takes it: what could mean two things is refused
                Ok(value) => {
                    self.note(key, shown(&value));
                    return Some(value);
                }
                Err(problem) => self.faults.push(problem.at(&entry)),
            }
            // the plan is refused, but going on with the default finds the other faults too
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

    /// A length; `None` if it is not given and has no default, or can't be read.
    pub fn length(&mut self, key: Key) -> Option<Length> {
        self.read(key, |text| Ok(read::length(text)?), |length| Value::Length(*length))
    }

    /// A length that may be less than zero.
    pub fn signed_length(&mut self, key: Key) -> Option<Length> {
        self.read(key, |text| Ok(read::signed_length(text)?), |length| Value::Length(*length))
    }

    /// Several lengths, separated by commas.
    pub fn lengths(&mut self, key: Key) -> Option<Vec<Length>> {
        self.read(
            key,
            |text| {
                parts(text)
                    .map(|(start, part)| {
                        let length = read::length(part).map_err(|error| shifted(error, start))?;
                        if length > inches(0.0) {
                            Ok(length)
                        } else {
                            Err(Problem::Other {
                                message: "a stick of no length can't be bought".into(),
                                help: format!("write {}", Kind::Lengths.how_written()),
                            })
                        }
                    })
                    .collect()
            },
            |lengths: &Vec<Length>| Value::Lengths(lengths.clone()),
        )
    }

    /// One or more readings of one length.
    pub fn readings(&mut self, key: Key) -> Option<Vec<Length>> {
        self.read(
            key,
            |text| {
                parts(text)
                    .map(|(start, part)| {
                        read::signed_length(part).map_err(|error| shifted(error, start))
                    })
                    .collect()
            },
            |lengths: &Vec<Length>| Value::Lengths(lengths.clone()),
        )
    }

    /// Spans, each with where it was taken.
    pub fn stations(&mut self, key: Key) -> Option<Vec<(Length, Length)>> {
        self.read(
            key,
            |text| parts(text).map(|(start, part)| station(start, part)).collect(),
            |stations: &Vec<(Length, Length)>| {
                Value::Lengths(stations.iter().map(|(span, _)| *span).collect())
            },
        )
    }

    /// The values that a field may take in a search, each as it would be written for that field: a list separated by
    /// commas, in which lengths and pitches may stand as a range with its step. Empty for `none`.
    pub fn sweep(&mut self, key: Key) -> Option<Vec<String>> {
        let Kind::Sweep(of) = key.field().kind else {
            return None;
        };
        let kind = Field::of(of)?.kind;
        self.read(
            key,
            |text| sweep::values(kind, text),
            |values: &Vec<String>| Value::Words(values.join(", ")),
        )
    }

    /// Sticks with section, length and count; empty for `none`.
    pub fn sticks(&mut self, key: Key) -> Option<Vec<Sticks>> {
        self.read(
            key,
            |text| {
                if text.trim().eq_ignore_ascii_case("none") {
                    return Ok(Vec::new());
                }
                parts(text).map(|(start, part)| some_sticks(start, part)).collect()
            },
            |sticks: &Vec<Sticks>| {
                if sticks.is_empty() {
                    Value::Words("none".into())
                } else {
                    Value::Sticks(sticks.clone())
                }
            },
        )
    }

    /// A pitch.
    pub fn pitch(&mut self, key: Key) -> Option<Pitch> {
        self.read(key, |text| Ok(read::pitch(text)?), |pitch| Value::Pitch(*pitch))
    }

    /// A lumber section.
    pub fn section(&mut self, key: Key) -> Option<Section> {
        self.read(key, section, |section| Value::Section(section.clone()))
    }

    /// A board's thickness; zero for `none`.
    pub fn thickness(&mut self, key: Key) -> Option<Length> {
        self.read(
            key,
            |text| board(text).map(|board| board.map_or(inches(0.0), |(thickness, _)| thickness)),
            |length| {
                if *length == inches(0.0) {
                    Value::Words("none".into())
                } else {
                    Value::Length(*length)
                }
            },
        )
    }

    /// A plate's or a board's width.
    pub fn width(&mut self, key: Key) -> Option<Length> {
        self.read(key, width, |length| Value::Length(*length))
    }

    /// A length that may be left out, or written as `none`.
    pub fn optional_length(&mut self, key: Key) -> Option<Length> {
        self.given_and_not_none(key).then(|| self.length(key)).flatten()
    }

    /// A width that may be left out, or written as `none`.
    pub fn optional_width(&mut self, key: Key) -> Option<Length> {
        self.given_and_not_none(key).then(|| self.width(key)).flatten()
    }

    fn given_and_not_none(&mut self, key: Key) -> bool {
        self.asked.push(key);
        let given = self
            .entries
            .get(key)
            .is_some_and(|entry| !entry.text.trim().eq_ignore_ascii_case("none"));
        if !given {
            self.note_default(key);
        }
        given
    }

    /// The wide side of a board whose thickness was given by a nominal size.
    #[must_use]
    pub fn nominal_width(&self, key: Key) -> Option<Length> {
        let entry = self.entries.get(key)?;
        board(&entry.text).ok().flatten().and_then(|(_, width)| width)
    }

    /// One of a few words, as the value that stands beside it in `choices`.
    pub fn choice<T: Copy>(&mut self, key: Key, choices: &[(&'static str, T)]) -> Option<T> {
        self.read(
            key,
            |text| {
                let asked = match text.trim().to_lowercase().as_str() {
                    "true" => "yes".to_owned(),
                    "false" => "no".to_owned(),
                    asked => asked.to_owned(),
                };
                choices.iter().find(|(word, _)| *word == asked).copied().ok_or_else(|| {
                    let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
                    Problem::Other {
                        message: format!("{text:?} is not one of {}", words.join(", ")),
                        help: hint::value(key.name(), text, &words).help,
                    }
                })
            },
            |(word, _)| Value::Words((*word).to_owned()),
        )
        .map(|(_, value)| value)
    }

    /// Reads what was written but not asked for, for its faults alone: a roof file is held
    /// to account whole, whichever command reads it.
    pub fn check_the_rest(&mut self) {
        let unread: Vec<&'static Field> = self
            .entries
            .iter()
            .map(|entry| entry.field)
            .filter(|field| !self.asked.contains(&field.key()))
            .collect();
        let noted = self.used.len();
        for field in unread {
            let key = field.key();
            match field.kind {
                Kind::Length => {
                    self.optional_length(key);
                }
                Kind::Thickness => {
                    self.thickness(key);
                }
                Kind::Width => {
                    self.optional_width(key);
                }
                Kind::Section => {
                    self.section(key);
                }
                Kind::Pitch => {
                    self.pitch(key);
                }
                Kind::Choice(words) => {
                    let choices: Vec<_> = words.iter().map(|word| (*word, ())).collect();
                    self.choice(key, &choices);
                }
                Kind::Load => {
                    self.load(key);
                }
                Kind::Speed => {
                    self.speed_mph(key);
                }
                Kind::Number(_) => {
                    self.number(key);
                }
                Kind::Counted(_) => {
                    self.counted(key);
                }
                Kind::Species => {
                    self.named(key, str::parse::<Species>);
                }
                Kind::Grade => {
                    self.named(key, str::parse::<Grade>);
                }
                Kind::Panel => {
                    self.panel(key);
                }
                Kind::Jurisdiction => {
                    self.named(key, jurisdiction);
                }
                Kind::Limit(_) => {
                    self.limit(key);
                }
                Kind::SignedLength => {
                    self.signed_length(key);
                }
                Kind::Lengths => {
                    self.lengths(key);
                }
                Kind::Sticks => {
                    self.sticks(key);
                }
                Kind::Sweep(_) => {
                    self.sweep(key);
                }
                Kind::Readings => {
                    self.readings(key);
                }
                Kind::Stations => {
                    self.stations(key);
                }
                Kind::Text => {
                    self.text(key);
                }
            }
        }
        self.used.truncate(noted);
    }

    /// A load on an area, zero or more.
    pub fn load(&mut self, key: Key) -> Option<Pressure> {
        self.read(key, load, |load| Value::Load(*load))
    }

    /// A wind speed in miles per hour, above zero.
    pub fn speed_mph(&mut self, key: Key) -> Option<f64> {
        self.read(
            key,
            |text| {
                miles_per_hour(text).filter(|speed| *speed > 0.0).ok_or_else(|| Problem::Other {
                    message: format!("{text:?} is no wind speed"),
                    help: format!("write {SPEED_IS_WRITTEN}"),
                })
            },
            |speed| Value::Speed(*speed),
        )
    }

    /// A plain number, zero or more.
    pub fn number(&mut self, key: Key) -> Option<f64> {
        self.read(key, plain_number, |number| Value::Words(trim(*number, 4)))
    }

    /// A number of a US unit, or of a metric one, in the US unit.
    pub fn counted(&mut self, key: Key) -> Option<f64> {
        let Kind::Counted(counted) = key.field().kind else {
            return None;
        };
        self.read(
            key,
            |text| {
                counted.read(text).ok_or_else(|| Problem::Other {
                    message: format!("{text:?} is no number of zero or more"),
                    help: format!("write {}", counted.is_written()),
                })
            },
            |value| Value::Amount(counted.amount(*value)),
        )
    }

    /// Something that the catalog knows by name.
    pub fn named<T: std::fmt::Display>(
        &mut self,
        key: Key,
        reader: impl Fn(&str) -> Result<T, UnknownName>,
    ) -> Option<T> {
        self.read(
            key,
            |text| {
                reader(text).map_err(|unknown| Problem::Other {
                    message: format!("there is no {} {:?} here", unknown.what, unknown.found),
                    help: hint::meant(key.name(), text).map_or_else(
                        || format!("write one of: {}", unknown.allowed),
                        |hint| hint.help,
                    ),
                })
            },
            |value| Value::Words(value.to_string()),
        )
    }

    /// A panel by its span rating.
    pub fn panel(&mut self, key: Key) -> Option<&'static Panel> {
        self.read(
            key,
            |text| {
                Panel::rated(text).ok_or_else(|| Problem::Other {
                    message: format!("{text:?} is no span rating of the table"),
                    help: format!(
                        "write one of: {}",
                        panels::panels()
                            .iter()
                            .map(|panel| panel.rating.as_str())
                            .collect::<Vec<_>>()
                            .join(", ")
                    ),
                })
            },
            |panel| Value::Words(panel.rating.clone()),
        )
    }

    /// A limit of the user's own with its reason: inches, psf, or the plain number.
    pub fn limit(&mut self, key: Key) -> Option<OwnLimit> {
        let Kind::Limit(of) = key.field().kind else {
            return None;
        };
        self.read(
            key,
            |text| {
                let (figure, reason) = text
                    .split_once(" because ")
                    .map(|(figure, reason)| (figure.trim(), reason.trim()))
                    .filter(|(_, reason)| !reason.is_empty())
                    .ok_or_else(|| Problem::Other {
                        message: "a limit of your own needs its reason".into(),
                        help: format!("write {}", Kind::Limit(of).how_written()),
                    })?;
                let limit = match of {
                    LimitOf::Length => read::length(figure)?.inches(),
                    LimitOf::Load => in_psf(load(figure)?),
                    LimitOf::Number(_) => plain_number(figure)?,
                };
                Ok(OwnLimit { limit, reason: reason.to_owned(), text: text.to_owned() })
            },
            |limit| Value::Words(limit.text.clone()),
        )
    }

    /// Free text; `None` if it is not given.
    pub fn text(&mut self, key: Key) -> Option<String> {
        self.asked.push(key);
        let entry = self.entries.get(key)?.clone();
        if self.is_too_long(&entry) {
            return None;
        }
        self.note(key, Value::Words(entry.text.clone()));
        Some(entry.text)
    }
}

/// A limit of the user's own.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnLimit {
    /// Inches, psf, or the plain number.
    pub limit: f64,
    /// Why.
    pub reason: String,
    text: String,
}
