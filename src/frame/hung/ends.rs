//! The walls under gables: studs from the plate of an end wall up to the rafters over it, of every block and of dormers.

use crate::frame::end_wall::{EndWall, SHORTEST_STUD_IN};
use crate::frame::role::Role;
use crate::geom::Plane;
use crate::measure::quantity::InInches;
use crate::plan::{GablePlan, Vent};
use crate::roof::Wall;

use super::ceiling::loose;
use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::{Hung, plane_of};
use super::solids::{Refused, Room};
use super::stations::sixteenths;
use super::walled::{EndOf, Walled};

/// The studs of all gables, around their vent openings. Gives how many openings there are.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) -> usize {
    let mut vents = 0;
    if !plan.gable_studs {
        return vents;
    }
    for block in Walled::all(ground) {
        let is_dormer = ground.dormer(block.name).is_some();
        for end in [Wall::Near, Wall::Far] {
            // beside a shed dormer's slope the studs of its walls stand already
            let is_beside = block.is_shed() && is_dormer;
            if block.end(ground, end) != EndOf::Gable || is_beside {
                continue;
            }
            let place = format!("{}.{}", block.name, end.word());
            let wall = wall((ground, plan), &block, end, room);
            let vent = plan.vent.filter(|_| !is_dormer);
            let held = vent.filter(|vent| !block.is_shed() && wall.fits(vent));
            let (missing, is_open) = studs((&wall, plan), &block, (&place, held), room);
            vents += usize::from(is_open);
            if vent.is_some() && !is_open {
                let why = if block.is_shed() {
                    "a shed has no peak to set a vent under"
                } else {
                    "the gable leaves no room for the vent asked for"
                };
                left_out.push(LeftOut::whole(Role::VentFrame, &place, why));
            }
            if missing > 0 {
                left_out.push(LeftOut::some(Role::GableStud, &place, missing));
            }
        }
    }
    vents
}

/// The studs under one gable, and sill and head of its vent opening. Gives how many had no room, and whether the opening is framed; where
/// no rafter is over the wall there is no gable.
fn studs(
    (wall, plan): (&EndWall, &GablePlan),
    block: &Walled,
    (place, vent): (&str, Option<Vent>),
    room: &mut Room,
) -> (usize, bool) {
    let spacing = plan.gable_spacing.inches();
    let places = if block.is_shed() {
        // over the studs of the wall below, up to the high wall
        let count = (wall.between.1 / spacing).floor().max(0.0) as u32;
        let all = (1..=count).map(|number| f64::from(number) * spacing);
        let tall = all.filter(|y| wall.short_side(*y) >= SHORTEST_STUD_IN);
        tall.map(|y| (y, 0.0, None)).collect()
    } else {
        wall.studs(spacing, vent.as_ref())
    };
    // what the sill and the head carry or stand on goes in after them
    let is_whole = |(_, from, to): &(f64, f64, Option<f64>)| *from == 0.0 && to.is_none();
    let (whole, short): (Vec<_>, Vec<_>) = places.into_iter().partition(is_whole);
    let stud = |&(y, from, to): &(f64, f64, Option<f64>)| {
        let from_sill = if from > 0.0 { "-head" } else { "" };
        let to_sill = if to.is_some() { "-sill" } else { "" };
        let letters = Role::GableStud.letters();
        let id = format!("{letters}-{place}-{}{from_sill}{to_sill}", sixteenths(y));
        loose(wall.stud(y, (from, to)), id)
    };
    let holds = |own: &Hung, touched: &[&Hung]| {
        let count = |role: Role| touched.iter().filter(|other| other.role == role).count();
        if own.role == Role::VentFrame {
            return count(Role::GableStud) > 1;
        }
        let under = touched.iter().any(|other| other.face.is_some());
        count(Role::Plate) + count(Role::VentFrame) > 0
            && (under || count(Role::RidgeBoard) + count(Role::VentFrame) > 0)
    };
    let mut missing = 0;
    for stud in whole.iter().map(stud) {
        missing += usize::from(room.take(vec![stud], holds) == Err(Refused::NoRoom));
    }
    let Some(vent) = vent else { return (missing, false) };
    let frame = wall.vent_frame(&vent).into_iter().map(|piece| {
        let height = piece.axis.origin.z - wall.origin.z;
        let id = format!("{}-{place}-{}", Role::VentFrame.letters(), sixteenths(height));
        loose(piece, id)
    });
    let has_no_room = frame.filter(|piece| room.take(vec![piece.clone()], holds).is_err()).count();
    for stud in short.iter().map(stud) {
        missing += usize::from(room.take(vec![stud], holds) == Err(Refused::NoRoom));
    }
    (missing, has_no_room == 0)
}

fn wall((ground, plan): (&Ground, &GablePlan), block: &Walled, end: Wall, room: &Room) -> EndWall {
    let slopes = block.slopes();
    let along = block.along.extend(0.0);
    let across = block.across.extend(0.0);
    let near = match end {
        Wall::Far => block.length - plan.stud.depth_in(),
        _ => 0.0,
    };
    let at_plate = block.origin();
    let (peak, _) = block.peak();
    let half_ridge = ground.choices.ridge.inches() / 2.0;
    let ridge = room.sticks().find(|(hung, body)| {
        let middle = block.place(hung.axis.origin.truncate()).y;
        let reach = [body.low, body.high].map(|corner| block.place(corner.truncate()).x);
        let at = near + plan.stud.depth_in() / 2.0;
        hung.role == Role::RidgeBoard
            && (middle - peak).abs() < crate::measure::tolerance::HAIR
            && reach[0].min(reach[1]) < at
            && reach[0].max(reach[1]) > at
    });
    let ridge_bottom = ridge.map(|(hung, _)| hung.axis.origin.z - at_plate.z);
    let half_ridge = if ridge.is_some() { half_ridge } else { 0.0 };
    let origin = at_plate + along * near;
    let side =
        |aside: f64| Plane::through(origin + across * (peak + aside), across * aside.signum());
    let beside = ground.plate + plan.stud.thickness_in() / 2.0;
    EndWall {
        between: (beside, block.span - beside),
        origin,
        along,
        across,
        stud: plan.stud.clone(),
        peak,
        half_ridge,
        ridge_bottom: ridge_bottom.unwrap_or(f64::INFINITY),
        bottoms: slopes.iter().map(|slope| plane_of(slope).moved_out(-ground.depth)).collect(),
        ridge_faces: if half_ridge > 0.0 {
            vec![side(-half_ridge), side(half_ridge)]
        } else {
            Vec::new()
        },
    }
}
