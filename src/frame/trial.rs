//! Framed roofs for tests, from the text of a roof file.

use crate::catalog::lumber::Section;
use crate::geom::{DVec3, Solid};
use crate::measure::quantity::inches;
use crate::plan::{Entries, GablePlan, file};
use crate::roof::Shape;

use super::hung::Choices;
use super::member::Member;
use super::{CommonRafter, Frame, HungFrame, Role};

pub(crate) fn entries(text: &str) -> Entries {
    let mut entries = Entries::default();
    let faults = file::read(text, &mut entries).faults;
    assert!(faults.is_empty(), "{faults:?}");
    entries
}

pub(crate) fn plan(text: &str) -> GablePlan {
    GablePlan::read(&entries(text)).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// A gable by its pairs.
pub(crate) fn gable(text: &str) -> Frame {
    Frame::build(&plan(text)).unwrap_or_else(|why| panic!("{why:?}"))
}

/// Any roof by its faces.
pub(crate) fn hung(text: &str) -> HungFrame {
    let plan = plan(text);
    let rafter = CommonRafter::build(&plan.rafter).unwrap_or_else(|why| panic!("{why:?}"));
    let shape = Shape::of(&plan, rafter.heel_stand);
    HungFrame::build(&plan, &rafter, &shape).unwrap_or_else(|why| panic!("{why:?}"))
}

/// What is decided about the sticks of a shape that no file tells: 2x6 rafters at 16 in, 2x8 hips and valleys, no boards.
pub(crate) fn choices() -> Choices {
    let deep = |depth: f64| Section::actual(inches(1.5), inches(depth));
    Choices {
        rafter: deep(5.5),
        hip: deep(7.25),
        valley: deep(7.25),
        ridge: inches(1.5),
        ridge_depth: None,
        spacing: inches(16.0),
        plate: inches(3.5),
        fascia: None,
        subfascia: None,
        square_tails: false,
        tail_face: None,
        from_rake: false,
        longest: inches(240.0),
        deck: inches(0.5),
        laid_over: Vec::new(),
        backed: false,
        infill: None,
    }
}

/// The sticks of a role in their places, in the order of their low corners along x, then y.
pub(crate) fn placed(members: &[Member], role: Role) -> Vec<(DVec3, DVec3)> {
    let own = members.iter().filter(|member| member.role == role);
    let solids: Vec<Solid> =
        own.flat_map(|member| member.placements.iter().map(|axis| member.placed(axis))).collect();
    let mut bounds: Vec<(DVec3, DVec3)> = solids.iter().filter_map(Solid::bounds).collect();
    bounds
        .sort_by(|one, other| (one.0.x.total_cmp(&other.0.x)).then(one.0.y.total_cmp(&other.0.y)));
    bounds
}
