//! Cutting plans: of any list of pieces from any list of stock, or of every section of one or more
//! roofs.

use crate::facts;
use crate::key;
use crate::measure::Units;
use crate::order::cutting::read::{self, Given, ReadProblem};
use crate::order::cutting::{CutPlan, NoPlan, plan};
use crate::order::{Prices, SectionOrder, Tag};
use crate::plan::{Fault, Faults, Place};
use crate::sheet::{self, Depth, Look};
use crate::solve::Settled;

use super::flags::Reader;
use super::roofs::Roofs;
use super::{
    Asker, Found, Input, LookAsked, NoAnswer, NotWritten, Refused, Source, Status, csv, json,
    search,
};

/// A list of stock and pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct List {
    /// Its text.
    pub source: Source,
    /// How it is written.
    pub form: ListForm,
}

/// How a list of stock and pieces is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListForm {
    /// JSON, in whole units.
    Json,
    /// TOML, with lengths as people write them.
    Toml,
    /// CSV, with lengths as people write them.
    Csv,
    /// Plain numbers: the count of lengths, the bar, then each length with its demand.
    Bars,
}

/// The cutting plan of a list.
pub(super) struct OfList {
    read: ReadProblem,
    plan: Settled<CutPlan>,
    seconds: f64,
}

impl OfList {
    fn report(&self) -> facts::cuts::CutsReport {
        facts::cuts::CutsReport::of(&self.read.problem, &self.plan, &self.read.notes, self.seconds)
    }
}

impl Found for OfList {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&self.report())
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::cuts::rows(&self.report()))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let ReadProblem { problem, notes, .. } = &self.read;
        sheet::cuts::text(problem, &self.plan, notes, self.seconds, look, depth)
    }
}

/// Cuts a list.
pub(super) fn of_list(
    list: &List,
    input: &Input,
    look: &LookAsked,
    prices: Option<&Source>,
    asker: &dyn Asker,
) -> Result<(Look, OfList), Refused> {
    let given = given(input)?;
    if let Some(prices) = prices {
        return Err(Refused::of_flag(
            "--prices",
            &prices.name,
            "a list of stock carries its own prices",
            "write price beside each stock length; --prices goes with a roof file",
        ));
    }
    let text = &list.source.text;
    let refused = |faults: Faults| Refused { faults, file: Some(list.source.clone()) };
    let read = match list.form {
        ListForm::Bars => read::from_bars(text),
        ListForm::Json => read::from_json(text, &given),
        ListForm::Toml => read::from_toml(text, &given),
        ListForm::Csv => read::from_csv(text, &given),
    }
    .map_err(refused)?;
    let look = look.look(read.units())?;
    let plan = search::cut(&read.problem, asker, |control| plan(&read.problem, control));
    let plan = plan.map_err(|why| match why {
        NoPlan::Faults(faults) => {
            refused(faults.into_iter().map(|fault| read.fault(fault)).collect())
        }
        NoPlan::NotEnoughStock { proven } => refused(Faults::from(Fault::new(
            Place::Missing { key: "stock", flag: None },
            if proven.is_some() {
                "the stock does not suffice for all pieces"
            } else {
                "no way was found to cut all pieces from the limited stock"
            },
            "add stock, or leave out the quantity of one stock length to have as many as wanted",
        ))),
    })?;
    Ok((look, OfList { read, plan, seconds: asker.seconds().unwrap_or_default() }))
}

/// The saw's values from the flags.
fn given(input: &Input) -> Result<Given, Refused> {
    let mut reader = Reader::default();
    let mut length =
        |flag, key| reader.length(flag, input.entries.get(key).map(|entry| entry.text.as_str()));
    let given = Given {
        kerf: length("--kerf", key!("order.kerf")),
        end_trim: length("--end-trim", key!("order.end_trim")),
    };
    reader.done().map(|()| given)
}

/// The cutting plans of roofs.
pub(super) struct OfRoofs {
    sections: Vec<SectionOrder>,
    lacks: Vec<String>,
    tags: Vec<Tag>,
    units: Units,
    seconds: f64,
}

impl OfRoofs {
    fn report(&self) -> facts::order::RoofCutsReport {
        facts::order::RoofCutsReport::of(&self.sections, &self.lacks, self.seconds, self.units)
    }
}

impl Found for OfRoofs {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&self.report())
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::order::cut_rows(&self.report()))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::order::cut_plans(&self.sections, &self.lacks, &self.tags, look, depth)
    }
}

/// Cuts every section of the frames of roofs.
pub(super) fn of_roofs(
    inputs: Vec<Input>,
    prices: Option<Prices>,
    look: &Look,
    asker: &dyn Asker,
) -> Result<OfRoofs, NoAnswer> {
    let roofs = Roofs::read(inputs)?;
    let units = look.writing.units;
    let sections = roofs.cut(prices.as_ref(), units, asker)?;
    let seconds = asker.seconds().unwrap_or_default();
    let lacks = roofs.lacks();
    Ok(OfRoofs { sections, lacks, tags: roofs.tags, units, seconds })
}
