//! The faces and edges of a roof that is more than one gable.

use crate::facts;
use crate::frame::CommonRafter;
use crate::measure::{Length, Writing};
use crate::plan::blocks::place_of;
use crate::plan::{Asked, Fault, Faults, GablePlan};
use crate::roof::cannot::{At, CannotRoof};
use crate::roof::{Roof, Shape};
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// A roof, with the plan that it is made of.
pub(super) struct Faces {
    plan: GablePlan,
    heel_stand: Length,
    roof: Roof,
}

impl Found for Faces {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::faces::FacesReport::of(&self.plan, &self.roof, self.heel_stand))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::faces::edges(&self.roof))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::faces::text(&self.plan, &self.roof, self.heel_stand, look, depth)
    }
}

/// Makes the roof of a plan.
pub(super) fn find(input: &Input, plan: GablePlan) -> Result<Faces, Refused> {
    let rafter = CommonRafter::build(&plan.rafter).map_err(|why| input.cannot_build(why))?;
    let shape = Shape::of(&plan, rafter.heel_stand);
    let roof = shape.roof().map_err(|why| {
        let writing = Writing::of(input.units());
        let mut faults = Faults::new();
        for told in why.iter().map(CannotRoof::told) {
            let place = match &told.at {
                At::Field(key) => Asked::new(&input.entries).place(*key),
                At::Of(name, field) => place_of(&input.entries, name, field),
            };
            faults.push(Fault::new(place, told.message.write(writing), told.help.write(writing)));
        }
        input.refused(faults)
    })?;
    Ok(Faces { heel_stand: rafter.heel_stand, plan, roof })
}
