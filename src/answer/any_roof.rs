//! A roof of any shape, framed for those who take its sticks.

use crate::frame::hung::blame::NotFramed;
use crate::frame::{AnyFrame, CannotSlope, CommonRafter, Frame, HungFrame, OfSlopes, slopes};
use crate::key;
use crate::measure::{Note, Writing};
use crate::plan::place_of;
use crate::plan::{
    Asked, Blocks, ChecksPlan, Fault, Faults, GablePlan, Key, Place, RafterPlan, Slopes,
};
use crate::roof::cannot::{At, CannotRoof};
use crate::roof::{Roof, Shape};
use crate::rules::{Book, Finding, any_roof as any_rules, check};

use super::{Input, Refused};

/// Frames the roof of a plan.
pub(super) fn framed(input: &Input, plan: &GablePlan) -> Result<AnyFrame, Refused> {
    let beyond = plan.blocks.beyond_one_gable(plan.rafter.pitch);
    if beyond.is_empty() {
        let frame = Frame::build(plan).map_err(|why| input.cannot_build(why))?;
        return Ok(AnyFrame::Gable(Box::new(frame)));
    }
    let (rafter, shape, _) = shaped(input, plan)?;
    let frame = HungFrame::build(plan, &rafter, &shape).map_err(|why| not_framed(input, &why))?;
    Ok(AnyFrame::Hung(Box::new(frame)))
}

/// The plans of the pattern rafters of the main block's slopes.
pub(super) fn plans_of_slopes(
    input: &Input,
    rafter: &RafterPlan,
    slopes: &Slopes,
) -> Result<OfSlopes<RafterPlan>, Refused> {
    slopes::plans(rafter, slopes).map_err(|why| cannot_slope(input, why))
}

/// The refusal of slopes that have no rafters.
pub(super) fn cannot_slope(input: &Input, why: CannotSlope) -> Refused {
    match why {
        CannotSlope::Roof(why) => refused(input, std::slice::from_ref(&why)),
        CannotSlope::Rafter(why) => input.cannot_build(why),
    }
}

/// Holds a framed roof against every rule.
pub(super) fn findings(frame: &AnyFrame, checks: &ChecksPlan) -> Vec<Finding> {
    match frame {
        AnyFrame::Gable(frame) => check::findings(&Book { frame, checks }),
        AnyFrame::Hung(frame) => any_rules::findings(frame, checks),
    }
}

/// The pattern rafter of a plan, the shape of its roof, and its faces and edges.
pub(super) fn shaped(
    input: &Input,
    plan: &GablePlan,
) -> Result<(CommonRafter, Shape, Roof), Refused> {
    let rafter = CommonRafter::build(&plan.rafter).map_err(|why| input.cannot_build(why))?;
    let shape = Shape::of(plan, rafter.heel_stand);
    let roof = shape.roof().map_err(|why| refused(input, &why))?;
    Ok((rafter, shape, roof))
}

fn refused(input: &Input, why: &[CannotRoof]) -> Refused {
    let writing = Writing::of(input.units());
    let mut faults = Faults::new();
    for told in why.iter().map(CannotRoof::told) {
        faults.push(Fault::new(
            place_at(input, &told.at),
            told.message.write(writing),
            told.help.write(writing),
        ));
    }
    input.refused(faults)
}

/// Where a field is written.
fn place_at(input: &Input, at: &At) -> Place {
    match at {
        At::Field(key) => Asked::new(&input.entries).place(*key),
        At::Of(name, field) => place_of(&input.entries, name, field),
    }
}

/// What helps where no value does.
const FACES_HELP: &str = "stepoff frame shows the faces and edges of this roof";

/// The refusal of a roof that is more than one gable, at what makes it so.
pub(super) fn cannot(input: &Input, why: &Note) -> Refused {
    let key = Blocks::beyond(&input.entries).first().map_or(key!("roof.pitch"), |(key, _)| *key);
    cannot_at(input, key, why, &format!("{FACES_HELP}. Take this out to work with the rest"))
}

/// The refusal of a roof whose sticks are not framed, at the field that it is about.
fn not_framed(input: &Input, why: &NotFramed) -> Refused {
    let Some(at) = &why.at else { return cannot(input, &why.why) };
    let told = why.why.write(Writing::of(input.units()));
    let help = match at {
        At::Of(_, "name") => format!("{FACES_HELP}. Move or change this, or take it out"),
        _ => format!("{FACES_HELP}. Write another value here"),
    };
    input.refused(Faults::from(Fault::new(place_at(input, at), told, help)))
}

/// The same at a field, with what would do.
pub(super) fn cannot_at(input: &Input, key: Key, why: &Note, help: &str) -> Refused {
    let why = why.write(Writing::of(input.units()));
    let fault = Fault::new(Asked::new(&input.entries).place(key), why, help);
    input.refused(Faults::from(fault))
}

/// The refusal of a roof for what is worked out of one gable alone.
pub(super) fn of_gables_alone(input: &Input) -> Refused {
    let beyond = Blocks::beyond(&input.entries);
    let key = beyond.first().map_or(key!("roof.pitch"), |(key, _)| *key);
    not_worked_out(input, key, &beyond)
}

/// The same at a place of the roof file, by the words for what is beyond one gable.
pub(super) fn not_worked_out(input: &Input, key: Key, beyond: &[(Key, &'static str)]) -> Refused {
    let mut words: Vec<&str> = beyond.iter().map(|(_, word)| *word).collect();
    words.dedup();
    let fault = Fault::new(
        Asked::new(&input.entries).place(key),
        format!("this is not worked out yet for a roof with {}", words.join(", ")),
        "stepoff rafter, eave, prove, effect, frame, layout, check, sheathing, cuts, order, sheets and export answer for it. Take this out to work with the gable alone",
    );
    input.refused(Faults::from(fault))
}
