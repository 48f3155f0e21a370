//! What a small change of each input does.

use crate::facts;
use crate::measure::quantity::{inches, millimeters};
use crate::measure::{Length, Units, read};
use crate::measured::effect::{self, Effect};
use crate::plan::EavesPlan;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// What the change does, input by input.
pub(super) struct Changed {
    effects: Vec<Effect>,
    by: Length,
    unit_run: Length,
    name: Option<String>,
}

impl Found for Changed {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::measured::EffectReport::of(&self.effects, self.by, self.unit_run))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::measured::effect_rows(&self.effects))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::effect::text(
            &self.effects,
            [self.by, self.unit_run],
            self.name.as_deref(),
            look,
            depth,
        )
    }
}

/// Changes each input by the usual small amount, or by `asked`.
pub(super) fn find(input: &Input, look: &Look, asked: Option<&str>) -> Result<Changed, Refused> {
    let metric = look.writing.units == Units::Millimeters;
    let by = match asked {
        Some(text) => change(text)?,
        None if metric => millimeters(3.0),
        None => inches(0.125),
    };
    let unit_run = if metric { millimeters(300.0) } else { inches(12.0) };
    let plan = input.plan(EavesPlan::read)?;
    let effects =
        effect::effects(&plan, by, unit_run).map_err(|why| any_roof::cannot_slope(input, why))?;
    Ok(Changed { effects, by, unit_run, name: plan.eave.rafter.name })
}

fn change(text: &str) -> Result<Length, Refused> {
    let refused = |message: String, help: String| Refused::of_flag("--by", text, message, help);
    let by =
        read::length(text).map_err(|error| refused(error.to_string(), error.problem.help()))?;
    if by <= inches(0.0) || by > inches(12.0) {
        return Err(refused(
            "this is no small change".into(),
            "write a length above zero and up to 1 ft, such as 1/8\" or 3mm".into(),
        ));
    }
    Ok(by)
}
