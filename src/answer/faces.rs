//! `frame` of a roof that is more than one gable: its faces and edges, and its sticks where they are framed.

use crate::facts;
use crate::frame::{HungFrame, Sticks};
use crate::measure::{Length, Note};
use crate::plan::GablePlan;
use crate::roof::Roof;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// A roof, with the plan that it is made of.
pub(super) struct Faces {
    plan: GablePlan,
    heel_stand: Length,
    roof: Roof,
    framed: Option<HungFrame>,
    notes: Vec<Note>,
}

impl Faces {
    fn sticks(&self) -> Option<Sticks<'_>> {
        self.framed.as_ref().map(HungFrame::sticks)
    }
}

impl Found for Faces {
    fn status(&self) -> Status {
        // a roof that is not framed has to be designed, or written otherwise
        if self.framed.is_some() { Status::Done } else { Status::Open }
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let Faces { plan, heel_stand, roof, notes, .. } = self;
        let lacks = self.framed.as_ref().map_or_else(Vec::new, HungFrame::lacks);
        json(&facts::any_roof::FacesReport::of(
            plan,
            roof,
            *heel_stand,
            self.sticks(),
            lacks,
            notes,
        ))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        match self.sticks() {
            Some(sticks) => csv(facts::frame::rows(facts::frame::patterns(sticks))),
            None => csv(facts::faces::edges(&self.roof)),
        }
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let of = (&self.roof, self.heel_stand);
        sheet::faces::text(&self.plan, of, (self.sticks(), &self.notes), look, depth)
    }
}

/// Makes the roof of a plan.
pub(super) fn find(input: &Input, plan: GablePlan) -> Result<Faces, Refused> {
    let (rafter, shape, roof) = any_roof::shaped(input, &plan)?;
    let mut notes = facts::faces::unlike_eaves(&roof);
    let framed = match HungFrame::build(&plan, &rafter, &shape) {
        Ok(framed) => {
            notes.extend(framed.notes.iter().cloned());
            Some(framed)
        }
        Err(why) => {
            notes.push(why.why);
            None
        }
    };
    Ok(Faces { heel_stand: rafter.heel_stand, plan, roof, framed, notes })
}
