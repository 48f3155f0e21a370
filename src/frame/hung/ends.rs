//! The walls under gables: studs from the plate of an end wall up to the rafters over it, of every block and of dormers.

use crate::frame::end_wall::{EndWall, SHORTEST_STUD_IN};
use crate::frame::role::Role;
use crate::geom::Plane;
use crate::measure::quantity::InInches;
use crate::plan::GablePlan;
use crate::roof::Wall;

use super::ceiling::loose;
use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::{Hung, plane_of};
use super::solids::{Refused, Room};
use super::stations::sixteenths;
use super::walled::{EndOf, Walled};

/// The studs of all gables.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    if !plan.gable_studs {
        return;
    }
    for block in Walled::all(ground) {
        for end in [Wall::Near, Wall::Far] {
            // beside a shed dormer's slope the studs of its walls stand already
            let is_beside = block.is_shed() && ground.dormer(block.name).is_some();
            if block.end(ground, end) != EndOf::Gable || is_beside {
                continue;
            }
            let missing = studs((ground, plan), &block, end, room);
            if missing > 0 {
                let place = format!("{}.{}", block.name, end.word());
                left_out.push(LeftOut::some(Role::GableStud, &place, missing));
            }
        }
    }
}

/// The studs under one gable. Gives how many had no room; where no rafter is over the wall there is no gable.
fn studs(
    (ground, plan): (&Ground, &GablePlan),
    block: &Walled,
    end: Wall,
    room: &mut Room,
) -> usize {
    let wall = wall((ground, plan), block, end, room);
    let spacing = plan.gable_spacing.inches();
    let places = if block.is_shed() {
        // over the studs of the wall below, up to the high wall
        let count = (wall.between.1 / spacing).floor().max(0.0) as u32;
        let all = (1..=count).map(|number| f64::from(number) * spacing);
        all.filter(|y| wall.short_side(*y) >= SHORTEST_STUD_IN).collect()
    } else {
        wall.places_from_peak(spacing, 0.0)
    };
    let mut missing = 0;
    for y in places {
        let letters = Role::GableStud.letters();
        let id = format!("{letters}-{}.{}-{}", block.name, end.word(), sixteenths(y));
        let stud = loose(wall.stud(y, (0.0, None)), id);
        let holds = |_: &Hung, touched: &[&Hung]| {
            let on = |role: Role| touched.iter().any(|other| other.role == role);
            let under = touched.iter().any(|other| other.face.is_some());
            on(Role::Plate) && (under || on(Role::RidgeBoard))
        };
        missing += usize::from(room.take(vec![stud], holds) == Err(Refused::NoRoom));
    }
    missing
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
