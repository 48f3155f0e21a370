//! Reading the value of a field: one reader for each kind.

use super::super::field::{Field, Key, Kind, LISTS, LimitOf};
use super::super::reading::{
    Problem, Sticks, board, load, parts, plain_number, section, shifted, some_sticks, station,
    width,
};
use super::super::revision::Revision;
use super::super::used::{OwnLimit, Used, Value};
use super::super::{hint, sweep};
use super::Asked;
use crate::catalog::code_rules::jurisdiction;
use crate::catalog::lumber::Section;
use crate::catalog::panels::{self, Panel};
use crate::catalog::{Grade, Species, UnknownName};
use crate::measure::load::{SPEED_IS_WRITTEN, miles_per_hour};
use crate::measure::quantity::{InInches, in_psf, inches};
use crate::measure::read;
use crate::measure::{Length, Pitch, Pressure, trim};

impl Asked<'_> {
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

    /// Spans, each with the place where it was taken.
    pub fn stations(&mut self, key: Key) -> Option<Vec<(Length, Length)>> {
        self.read(
            key,
            |text| parts(text).map(|(start, part)| station(start, part)).collect(),
            |stations: &Vec<(Length, Length)>| {
                Value::Lengths(stations.iter().map(|(span, _)| *span).collect())
            },
        )
    }

    /// The values that a field may take in a search, each as written for that field: a list separated
    /// by commas, in which lengths and pitches may be a range with its step. Empty for `none`.
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

    /// The wide side of a board with a thickness given by a nominal size.
    #[must_use]
    pub fn nominal_width(&self, key: Key) -> Option<Length> {
        let entry = self.entries.get(key)?;
        board(&entry.text).ok().flatten().and_then(|(_, width)| width)
    }

    /// One of a few words, as its value in `choices`.
    pub fn choice<T: Copy>(&mut self, key: Key, choices: &[(&'static str, T)]) -> Option<T> {
        self.read(
            key,
            |text| {
                let asked = match text.trim().to_lowercase().as_str() {
                    "true" => "yes".to_owned(),
                    "false" => "no".to_owned(),
                    asked => asked.to_owned(),
                };
                choices
                    .iter()
                    .find(|(word, _)| word.eq_ignore_ascii_case(&asked))
                    .copied()
                    .ok_or_else(|| {
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

    /// A number in a US unit or in a metric one, converted to the US unit.
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

    /// The user's own limit with its reason: inches, psf, or the plain number.
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

    /// A direction of the compass, degrees clockwise from north; `None` if it is not given.
    pub fn bearing(&mut self, key: Key) -> Option<f64> {
        if !self.given_and_not_none(key) {
            return None;
        }
        self.read(
            key,
            |text| {
                let number = text.trim().trim_end_matches("deg").trim_end_matches('°').trim_end();
                let degrees = number.parse::<f64>().ok();
                degrees.filter(|degrees| (0.0..360.0).contains(degrees)).ok_or_else(|| {
                    Problem::Other {
                        message: format!("{text:?} is no bearing"),
                        help: format!("write {}", Kind::Bearing.how_written()),
                    }
                })
            },
            |degrees| Value::Words(format!("{} deg", trim(*degrees, 2))),
        )
    }

    /// Revisions of the sheets; none if it is not given.
    pub fn revisions(&mut self, key: Key) -> Option<Vec<Revision>> {
        if !self.given_and_not_none(key) {
            return Some(Vec::new());
        }
        self.read(
            key,
            |text| {
                let rows = text.split(';').map(str::trim).filter(|row| !row.is_empty());
                rows.map(|row| {
                    Revision::read(row).ok_or_else(|| Problem::Other {
                        message: format!("{row:?} lacks its mark, its date or what changed"),
                        help: format!("write {}", Kind::Revisions.how_written()),
                    })
                })
                .collect()
            },
            |rows: &Vec<Revision>| {
                let told: Vec<String> = rows.iter().map(Revision::words).collect();
                Value::Words(told.join("; "))
            },
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

    /// Reads what was written but not used, only for its faults: the whole roof file is checked,
    /// whichever command reads it.
    pub fn check_the_rest(&mut self) {
        for table in LISTS {
            if !self.asked.iter().any(|key| key.field().table() == table) && !self.is_item() {
                self.items(table, |_| None::<()>);
            }
        }
        let unread: Vec<&'static Field> = self
            .entries
            .iter()
            .map(|entry| entry.field)
            .filter(|field| !self.asked.contains(&field.key()))
            .collect();
        let noted = self.used.len();
        unread.into_iter().for_each(|field| self.any(field.key()));
        self.used.truncate(noted);
    }

    /// The value written for `key`, whatever its kind; `None` if nothing is written, or if it is refused.
    pub fn value(&mut self, key: Key) -> Option<Value> {
        let noted = self.used.len();
        self.any(key);
        let given = |used: Used| (used.given && used.field.key == key.name()).then_some(used.value);
        self.used.drain(noted..).find_map(given)
    }

    /// Reads a field by its kind.
    fn any(&mut self, key: Key) {
        match key.field().kind {
            Kind::Length => _ = self.optional_length(key),
            Kind::Thickness => _ = self.thickness(key),
            Kind::Width => _ = self.optional_width(key),
            Kind::Section => _ = self.section(key),
            Kind::Pitch => _ = self.pitch(key),
            Kind::Choice(words) => {
                let choices: Vec<_> = words.iter().map(|word| (*word, ())).collect();
                _ = self.choice(key, &choices);
            }
            Kind::Load => _ = self.load(key),
            Kind::Speed => _ = self.speed_mph(key),
            Kind::Number(_) => _ = self.number(key),
            Kind::Counted(_) => _ = self.counted(key),
            Kind::Species => _ = self.named(key, str::parse::<Species>),
            Kind::Grade => _ = self.named(key, str::parse::<Grade>),
            Kind::Panel => _ = self.panel(key),
            Kind::Jurisdiction => _ = self.named(key, jurisdiction),
            Kind::Limit(_) => _ = self.limit(key),
            Kind::SignedLength => _ = self.signed_length(key),
            Kind::Lengths => _ = self.lengths(key),
            Kind::Sticks => _ = self.sticks(key),
            Kind::Sweep(_) => _ = self.sweep(key),
            Kind::Readings => _ = self.readings(key),
            Kind::Stations => _ = self.stations(key),
            Kind::Bearing => _ = self.bearing(key),
            Kind::Revisions => _ = self.revisions(key),
            Kind::Text => _ = self.text(key),
        }
    }
}
