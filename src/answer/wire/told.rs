//! What every question is read and answered with: the roof file, its fields, units, and why there is no
//! answer.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use crate::measure::Units;
use crate::plan::{Address, Key};

use super::super::{LookAsked, NoAnswer, NotWritten, Refused, Source};

/// What the roof file is called in messages.
const FILE: &str = "roof.toml";

/// The units that the page shows; without them those of the roof file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum PageUnits {
    Feet,
    Metric,
}

impl PageUnits {
    pub(super) fn units(self) -> Units {
        match self {
            PageUnits::Feet => Units::Feet,
            PageUnits::Metric => Units::Millimeters,
        }
    }
}

/// Why there is no answer.
pub(super) enum Not {
    No(NoAnswer),
    Broken(String),
}

impl From<NoAnswer> for Not {
    fn from(why: NoAnswer) -> Not {
        Not::No(why)
    }
}

impl From<Refused> for Not {
    fn from(refused: Refused) -> Not {
        Not::No(NoAnswer::from(refused))
    }
}

impl From<NotWritten> for Not {
    fn from(why: NotWritten) -> Not {
        Not::Broken(why.to_string())
    }
}

pub(super) fn keys(set: Vec<(String, String)>) -> Result<Vec<(Key, String)>, Not> {
    set.into_iter().map(|(name, text)| Ok((key(&name)?, text))).collect()
}

pub(super) fn key(name: &str) -> Result<Key, Not> {
    Key::of(name).ok_or_else(|| Not::Broken(format!("no field is called {name}")))
}

/// A field as the page names it: `roof.pitch`, or `wing.2.span` of the second wing.
pub(super) fn address(name: &str) -> Result<Address, Not> {
    Address::of(name).ok_or_else(|| Not::Broken(format!("no field is called {name}")))
}

pub(super) fn source(text: String) -> Source {
    Source { name: FILE.to_owned(), text }
}

pub(super) fn look(units: Option<PageUnits>) -> LookAsked {
    LookAsked { units: units.map(PageUnits::units), ..LookAsked::default() }
}

pub(super) fn value(value: &impl Serialize) -> Result<Box<RawValue>, Not> {
    serde_json::value::to_raw_value(value).map_err(|why| Not::Broken(why.to_string()))
}
