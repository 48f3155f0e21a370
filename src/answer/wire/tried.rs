//! Questions that try something out: a new roof, one number, many roofs, cures.

use serde::Deserialize;
use serde_json::value::RawValue;

use super::super::{Asker, CompareAsked, Input, beyond, compare, trial};
use super::told::{Not, PageUnits, keys, look, source, value};

/// Answers to the questions for a new roof.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Start {
    /// Fields with their texts.
    answers: Vec<(String, String)>,
    /// The job's name.
    name: Option<String>,
}

impl Start {
    pub(super) fn told(self) -> Result<Box<RawValue>, Not> {
        value(&trial::start::started(keys(self.answers)?, self.name)?)
    }
}

/// A roof on which something is tried.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tried {
    roof: String,
    /// Fields of `fit` or `compare` with their texts.
    #[serde(default)]
    set: Vec<(String, String)>,
    units: Option<PageUnits>,
}

impl Tried {
    /// The roof with the values of the question, and none that the roof file has in that table: what the
    /// page asks is the whole question.
    fn input(self, table: &str) -> Result<Input, Not> {
        let mut input = Input::of(&[], Some(source(self.roof)));
        input.entries = input.entries.without_table(table);
        beyond::refuse_beyond_a_gable(&input)?;
        for (key, text) in keys(self.set)? {
            input.entries.add_flag(key, Some(&text));
        }
        Ok(input)
    }

    pub(super) fn fit(self) -> Result<Box<RawValue>, Not> {
        let look = look(self.units);
        let input = self.input("fit")?;
        value(&trial::fit::view(&input, &look.look(input.units())?)?)
    }

    pub(super) fn vary(self) -> Result<Box<RawValue>, Not> {
        let units = self.units;
        let input = self.input("compare")?;
        let units = units.map_or(input.units(), PageUnits::units);
        value(&trial::compare::choices(&input, units)?)
    }

    pub(super) fn compare(self, asker: &dyn Asker) -> Result<Box<RawValue>, Not> {
        let look = look(self.units);
        let input = self.input("compare")?;
        let look = look.look(input.units())?;
        let found = compare::find(&input, None, &CompareAsked::default(), &look, asker)?;
        value(&trial::compare::view(&found, &look))
    }

    pub(super) fn cures(self, asker: &dyn Asker) -> Result<Box<RawValue>, Not> {
        let input = Input::of(&[], Some(source(self.roof)));
        let units = self.units.map_or(input.units(), PageUnits::units);
        value(&trial::cures::view(&input, units, asker)?)
    }
}
