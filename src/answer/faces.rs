//! A roof that is more than one gable: its faces and edges, and its sticks where they are framed.

use crate::catalog::lumber::{Section, one_size_deeper};
use crate::facts;
use crate::frame::hung::fits::misfit;
use crate::frame::hung::patterns::members;
use crate::frame::{Choices, CommonRafter, Member, Role, sticks_of};
use crate::measure::quantity::inches;
use crate::measure::{Amount, Length, Note, Writing};
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
    members: Vec<Member>,
    notes: Vec<Note>,
}

impl Found for Faces {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let Faces { plan, heel_stand, roof, members, notes } = self;
        json(&facts::any_roof::FacesReport::of(plan, roof, *heel_stand, members, notes))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        if self.members.is_empty() {
            return csv(facts::faces::edges(&self.roof));
        }
        csv(facts::frame::rows(facts::any_roof::patterns(&self.plan, &self.members)))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let of = (&self.roof, self.heel_stand);
        sheet::faces::text(&self.plan, of, (&self.members, &self.notes), look, depth)
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
    let mut notes = facts::faces::unlike_eaves(&roof);
    let members = match sticks(&plan, &rafter, &shape) {
        Ok((members, further)) => {
            notes.extend(further);
            members
        }
        Err(why) => {
            notes.push(why);
            Vec::new()
        }
    };
    Ok(Faces { heel_stand: rafter.heel_stand, plan, roof, members, notes })
}

/// The sticks of a roof with what is to be known of them, or why they are not framed.
fn sticks(
    plan: &GablePlan,
    rafter: &CommonRafter,
    shape: &Shape,
) -> Result<(Vec<Member>, Vec<Note>), Note> {
    let not_framed = |what: Note| Note::with("the sticks are not framed: {}", [Amount::Said(what)]);
    let blocks = &plan.blocks;
    let unknown = [
        (!blocks.dormers.is_empty(), "dormers have none here yet"),
        (
            !blocks.openings.is_empty(),
            "the headers and trimmers of openings are not known here yet",
        ),
        (!blocks.laid_over.is_empty(), "a wing laid over the main roof has none here yet"),
    ];
    if let Some((_, what)) = unknown.iter().find(|(is_so, _)| *is_so) {
        return Err(not_framed((*what).into()));
    }
    let deeper = || {
        let stock = &plan.rafter.stock;
        one_size_deeper(stock).unwrap_or_else(|| stock.clone())
    };
    let board = |thickness: Length, depth: Length| {
        (thickness > inches(0.0)).then(|| Section::sized(thickness, depth))
    };
    let choices = Choices {
        rafter: plan.rafter.stock.clone(),
        hip: blocks.hip.clone().unwrap_or_else(deeper),
        valley: blocks.valley.clone().unwrap_or_else(deeper),
        ridge: plan.rafter.ridge,
        ridge_depth: plan.rafter.ridge_depth,
        spacing: plan.spacing,
        plate: plan.rafter.plate,
        fascia: board(plan.rafter.fascia, rafter.fascia_depth(plan.soffit)),
        subfascia: board(plan.rafter.subfascia, rafter.subfascia_depth()),
        longest: plan.longest,
        backed: blocks.backed,
    };
    let hung = sticks_of(shape, &choices).map_err(|why| not_framed(why.told()))?;
    if let Some(misfit) = misfit(&hung) {
        return Err(not_framed(misfit.told().into()));
    }
    let members = members(&hung.sticks).map_err(|why| why.message)?;
    let carried = |member: &Member| matches!(member.role, Role::Hip | Role::Valley);
    let mut notes = Vec::new();
    if members.iter().any(carried) {
        notes.push(Note::from(SUPPORT));
    }
    if !hung.without_boards.is_empty() {
        notes.push(Note::from(format!(
            "no fascia is framed at the eaves of {}: eaves of unlike height or reach pass each other there",
            hung.without_boards.join(", ")
        )));
    }
    if blocks.shed {
        let height_b = plan.wall_height + plan.rafter.span * plan.rafter.pitch.tangent();
        notes.push(Note::with(
            "wall B is {} from floor to plate, for the rafters to sit on both plates alike",
            [height_b],
        ));
    }
    notes.extend(hung.unsupported.iter().map(|valley| {
        Note::from(format!("nothing carries the head of the valley between {valley}: a post must stand under it, down to a bearing"))
    }));
    Ok((members, notes))
}

/// What the code wants under hips and valleys.
const SUPPORT: &str = "support hips and valleys at the ridge by a brace to a bearing partition, or have them designed (IRC R802.4.3): that is not looked at here";
