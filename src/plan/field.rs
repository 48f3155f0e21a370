//! The table of fields: every input, with its words in the roof file.

use std::fmt;

use super::fit_terms::{Find, Quantity};
use super::reader::Reader;
use super::text::{LONGEST_LIST, LONGEST_TEXT, LONGEST_VALUE};
use crate::measure::load::{Counted, LOAD_IS_WRITTEN, SPEED_IS_WRITTEN};
use crate::measure::read::{LENGTH_IS_WRITTEN, PITCH_IS_WRITTEN};

/// The kind of value that a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A length of zero or more.
    Length,
    /// A board's thickness: a length, a nominal size (its thin side), or `none`.
    Thickness,
    /// A plate's width: a length, or a nominal size (its wide side).
    Width,
    /// A lumber section: nominal, or actual sides.
    Section,
    /// A pitch.
    Pitch,
    /// One of the words listed.
    Choice(&'static [&'static str]),
    /// A load on an area.
    Load,
    /// A wind speed.
    Speed,
    /// A plain number, in this unit.
    Number(&'static str),
    /// A number in a US unit, or in a metric one that is written after it.
    Counted(Counted),
    /// A species group of the code's span tables.
    Species,
    /// A visual grade.
    Grade,
    /// A panel's span rating.
    Panel,
    /// A state with known amendments.
    Jurisdiction,
    /// The user's own limit, with the reason for it: `24" because ...`.
    Limit(LimitOf),
    /// A length that may be less than zero.
    SignedLength,
    /// Several lengths, separated by commas.
    Lengths,
    /// Sticks with section, length and count, separated by commas.
    Sticks,
    /// One or more readings of one length, separated by commas; heights may lie below the level line.
    Readings,
    /// Spans, each with the place where it was taken, separated by commas.
    Stations,
    /// Values that the named field may take in a search: a list, or a range with its step.
    Sweep(&'static str),
    /// A direction of the compass, degrees clockwise from north.
    Bearing,
    /// Revisions of the sheets, separated by semicolons: a mark, a date, and what changed.
    Revisions,
    /// Free text.
    Text,
}

/// What the user's own limit applies to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitOf {
    /// A length.
    Length,
    /// A load.
    Load,
    /// A plain number, in this unit.
    Number(&'static str),
}

impl Kind {
    /// Most characters of such a value.
    #[must_use]
    pub fn longest(self) -> usize {
        match self {
            Kind::Text => LONGEST_TEXT,
            Kind::Lengths
            | Kind::Sticks
            | Kind::Readings
            | Kind::Stations
            | Kind::Revisions
            | Kind::Sweep(_)
            | Kind::Limit(_) => LONGEST_LIST,
            _ => LONGEST_VALUE,
        }
    }

    /// How such a value is written, for people.
    #[must_use]
    pub fn how_written(self) -> String {
        match self {
            Kind::Length => LENGTH_IS_WRITTEN.into(),
            Kind::Thickness => {
                "a thickness (1-1/2in, 38mm), a nominal size (2x8: its thin side), or none".into()
            }
            Kind::Width => "a width (3-1/2in, 89mm) or a nominal size (2x4: its wide side)".into(),
            Kind::Section => {
                "a nominal size (2x6) or actual sides (1.5inx5.5in, 45x195mm)".into()
            }
            Kind::Pitch => PITCH_IS_WRITTEN.into(),
            Kind::Choice(words) => format!("one of: {}", words.join(", ")),
            Kind::Load => format!("a load: {LOAD_IS_WRITTEN}"),
            Kind::Speed => format!("a wind speed: {SPEED_IS_WRITTEN}"),
            Kind::Number(unit) => format!("a number of {unit}"),
            Kind::Counted(counted) => format!("a number of {}", counted.is_written()),
            Kind::Species => "a species: DFL, HF, SP, SPF or the full name, such as Hem-fir".into(),
            Kind::Grade => "a grade: SS, No.1 & Btr, No.1, No.2, No.3".into(),
            Kind::Panel => "a span rating as stamped on the panel: 24/16, 32/16, 24 o.c.".into(),
            Kind::Jurisdiction => {
                "a state whose amendments are known: North Carolina, Oregon".into()
            }
            Kind::Limit(of) => format!(
                "{}, the word because, and the reason",
                match of {
                    LimitOf::Length => "a length".to_owned(),
                    LimitOf::Load => "a load".to_owned(),
                    LimitOf::Number(unit) => format!("a number of {unit}"),
                }
            ),
            Kind::SignedLength => "a length, with a dash before it for less than zero: 3/4in, -1/2in, 20mm".into(),
            Kind::Lengths => "lengths separated by commas: 8ft, 10ft, 12ft or 2.4m, 3m".into(),
            Kind::Sticks => {
                "sticks separated by commas, each a section, a length and how many: 2x4 92-5/8in x 6, 2x6 14ft x 2".into()
            }
            Kind::Readings => "one reading or several, separated by commas: 24ft0-1/8in, 24ft0-1/4in".into(),
            Kind::Stations => "spans with where they were taken, separated by commas: 14ft0-1/8in at 5ft4in, 14ft at 16ft".into(),
            Kind::Sweep(of) => match Field::of(of).map(|field| field.kind) {
                Some(Kind::Length) => "lengths separated by commas, or a range: 12in, 16in or 6in to 18in by 2in".into(),
                Some(Kind::Pitch) => "pitches separated by commas, or a range: 5/12, 7/12 or 4/12 to 8/12 by 1/12".into(),
                Some(Kind::Section) => "sections separated by commas: 2x6, 2x8, 45x195mm".into(),
                Some(Kind::Choice(words)) => format!("some of these, separated by commas: {}", words.join(", ")),
                other => format!(
                    "values separated by commas, each {}",
                    other.map_or(String::new(), Kind::how_written)
                ),
            },
            Kind::Bearing => "degrees clockwise from north, 0 to 359.9: 90 or 12.5deg".into(),
            Kind::Revisions => "revisions separated by semicolons, each a mark, a date without spaces and what changed: A 2026-05-04 first issue".into(),
            Kind::Text => "any text".into(),
        }
    }
}

/// One input.
#[derive(Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name in the roof file: `table.name`.
    pub key: &'static str,
    /// Its name in plain words, for a button or a heading.
    pub label: &'static str,
    /// The readers who ask for it, the one who needs it most first.
    pub who: &'static [Reader],
    /// The flag that sets it, with its dashes.
    pub flag: Option<&'static str>,
    /// The kind of value it takes.
    pub kind: Kind,
    /// What it is, in the trade's words, with its datum.
    pub about: &'static str,
    /// The value if nothing is written.
    pub default: Default,
}

/// A field of [`FIELDS`], by its key. `key!("roof.pitch")` makes one at compile time, so that a
/// mistyped key does not compile.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key(u8);

/// The [`Key`](crate::plan::Key) of a field, from its name in the roof file; an unknown name does not
/// compile.
///
/// ```
/// use stepoff::key;
///
/// assert_eq!(key!("roof.pitch").name(), "roof.pitch");
/// ```
///
/// ```compile_fail
/// stepoff::key!("roof.pich");
/// ```
#[macro_export]
macro_rules! key {
    ($name:literal) => {{
        const KEY: $crate::plan::Key = $crate::plan::Key::named($name);
        KEY
    }};
}

impl Key {
    /// The key with this name.
    ///
    /// # Panics
    /// If no field has it; at compile time if called by [`key!`](crate::key).
    #[must_use]
    #[allow(clippy::panic, reason = "key! calls it while this compiles")]
    pub const fn named(name: &str) -> Key {
        let mut at = 0;
        while at < FIELDS.len() {
            if same(FIELDS[at].key, name) {
                return Key(at as u8);
            }
            at += 1;
        }
        panic!("no field has this key")
    }

    /// The key that is written so, if a field has it.
    #[must_use]
    pub fn of(name: &str) -> Option<Key> {
        FIELDS.iter().position(|field| field.key == name).map(|at| Key(at as u8))
    }

    /// Several names, separated by commas.
    #[must_use]
    pub fn list(keys: &[Key]) -> String {
        keys.iter().map(|key| key.name()).collect::<Vec<_>>().join(", ")
    }

    /// Its field.
    #[must_use]
    pub const fn field(self) -> &'static Field {
        &FIELDS[self.0 as usize]
    }

    /// Its name in the roof file: `table.name`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.field().key
    }
}

/// Equal texts, while this compiles.
const fn same(one: &str, other: &str) -> bool {
    let (one, other) = (one.as_bytes(), other.as_bytes());
    if one.len() != other.len() {
        return false;
    }
    let mut at = 0;
    while at < one.len() {
        if one[at] != other[at] {
            return false;
        }
        at += 1;
    }
    true
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Debug for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.name(), f)
    }
}

/// The value of a field if nothing is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Default {
    /// A value must be written.
    Needed,
    /// This, as the user would write it; `none` for no such thing.
    Value(&'static str),
    /// A value that follows from others, in words.
    Words(&'static str),
    /// The same with lengths in it: in US words, then in metric ones.
    Either(&'static str, &'static str),
}

impl Field {
    /// The field with the key `key`.
    #[must_use]
    pub fn of(key: &str) -> Option<&'static Field> {
        FIELDS.iter().find(|field| field.key == key)
    }

    /// Its key.
    #[must_use]
    pub fn key(&'static self) -> Key {
        Key(FIELDS.iter().position(|field| std::ptr::eq(field, self)).unwrap_or_default() as u8)
    }

    /// The field with this name in a table of the roof file.
    #[must_use]
    pub fn within(table: &str, name: &str) -> Option<&'static Field> {
        FIELDS.iter().find(|field| field.name() == name && field.table() == table)
    }

    /// The field's table in the roof file.
    #[must_use]
    pub fn table(&self) -> &'static str {
        self.key.split_once('.').map_or("", |(table, _)| table)
    }

    /// The field's name within its table.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.key.split_once('.').map_or(self.key, |(_, name)| name)
    }
}

/// What each table of the roof file is about, in the file's order.
pub const TABLES: &[(&str, &str)] = &[
    ("job", "The title block of the sheets."),
    ("sheet", "How the sheets are drawn and dated (stepoff sheets)."),
    ("building", "The walls that carry the roof."),
    ("roof", "The roof as a whole."),
    (
        "wing",
        "A wing: a block before a wall of the main block or of another wing, each under a heading of its own.",
    ),
    ("dormer", "A dormer in the main roof, each under a heading of its own."),
    (
        "opening",
        "An opening in the main roof, each under a heading of its own: a skylight, a chimney or a hatch.",
    ),
    ("rafter", "The common rafter."),
    ("ridge", "What the rafters meet at the top: a ridge board, or each other."),
    ("eave", "The overhang, and the boards that close it."),
    ("rake", "The overhang at the gable ends."),
    ("ceiling", "Ceiling joists, and separate rafter ties."),
    ("collar", "Collar ties in the upper third."),
    ("gable", "The gable end walls above the plate."),
    ("lumber", "The lumber to buy."),
    ("code", "The code to check the roof against (stepoff check, stepoff ties)."),
    ("loads", "What the roof must carry: ask the building department."),
    ("sheathing", "The panels on the rafters."),
    ("roofing", "The covering, and what goes under it."),
    ("attic", "The attic: access and vents."),
    ("insulation", "The insulation on the ceiling."),
    ("site", "The site: distances and ratings."),
    ("deck", "How the roof panels are laid (stepoff sheathing)."),
    ("order", "How the roof is bought (stepoff order, stepoff cuts)."),
    (
        "compare",
        "What to vary when roofs are compared (stepoff compare): lists separated by commas, or ranges such as 4/12 to 8/12 by 1/12.",
    ),
    (
        "measured",
        "The walls as built (stepoff measured): one reading or several of each. Near and far are the two ends along the ridge, A and B the two eaves.",
    ),
    ("fit", "What is fixed, and the number to find (stepoff fit)."),
    (
        "limits",
        "Your own limits, stricter or local ones, each with its reason: \"16' because the zoning caps it\".",
    ),
];

/// The tables that a roof file may have more than once: `[[wing]]`.
pub const LISTS: [&str; 3] = ["wing", "dormer", "opening"];

/// True for a table that a roof file may have more than once.
#[must_use]
pub fn is_list(table: &str) -> bool {
    LISTS.contains(&table)
}

/// A table's heading in the roof file.
#[must_use]
pub fn heading(table: &str) -> String {
    if is_list(table) { format!("[[{table}]]") } else { format!("[{table}]") }
}

/// For a field without a default: findings that need it are not checked.
pub const NOT_SET: &str = "not set";
// FIELDS: every field, table by table in the order of TABLES
include!(concat!(env!("OUT_DIR"), "/fields.rs"));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_has_a_name_of_its_own_and_every_reader_has_fields() {
        let labels: std::collections::BTreeSet<&str> =
            FIELDS.iter().map(|field| field.label).collect();
        assert_eq!(labels.len(), FIELDS.len());
        for field in FIELDS {
            assert!((2..=36).contains(&field.label.len()) && !field.label.contains('_'));
            assert!(!field.who.is_empty(), "{}", field.key);
        }
        for reader in Reader::ALL {
            let of = FIELDS.iter().filter(|field| field.who.contains(&reader)).count();
            assert!(of > 20 && of < FIELDS.len(), "{} has {of}", reader.word());
        }
    }

    #[test]
    fn every_field_stands_in_a_table_and_the_order_is_the_tables() {
        let order: Vec<usize> = FIELDS
            .iter()
            .map(|field| TABLES.iter().position(|(name, _)| *name == field.table()).unwrap())
            .collect();
        assert!(order.is_sorted());
    }
}
