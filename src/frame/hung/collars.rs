//! Collar ties of every block: between opposite rafters, in the upper third, no farther apart than set.

use crate::frame::role::Role;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::GablePlan;
use crate::roof::Wall;

use super::ceiling::{crossing, loose};
use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::Hung;
use super::solids::Room;
use super::stations::{Station, sixteenths};
use super::walled::{EndOf, Row, Walled, rows};

/// The collar ties of all blocks.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    stations: &[Vec<Station>],
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    if !plan.collars {
        return;
    }
    let blocks =
        Walled::all(ground).into_iter().filter(|block| ground.dormer(block.name).is_none());
    for block in blocks.filter(|block| !block.is_shed()) {
        block_of((ground, plan), &block, stations, room, left_out);
    }
}

fn block_of(
    (ground, plan): (&Ground, &GablePlan),
    block: &Walled,
    stations: &[Vec<Station>],
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    let crossing = crossing(ground, block);
    let thick = plan.collar.thickness_in();
    let (_, peak) = block.peak();
    let bottom = plan.collar_height.map_or(2.0 / 3.0 * peak, InInches::inches);
    let end_zone = |end: Wall| match block.end(ground, end) {
        EndOf::Gable if plan.gable_studs => plan.stud.depth_in().max(2.0 * ground.half_rafter),
        EndOf::Gable => 2.0 * ground.half_rafter,
        EndOf::Hip => 0.0,
        // the ridge goes on over what the wing stands before
        EndOf::Open => f64::NEG_INFINITY,
    };
    let (near, far) = (end_zone(Wall::Near), block.length - end_zone(Wall::Far));
    let tie = |row: &Row, face: f64| {
        let stick = crossing.tie((Role::CollarTie, &plan.collar), bottom, face);
        let place = sixteenths(row.to - ground.half_rafter);
        let id = format!("{}-{}-{place}", Role::CollarTie.letters(), block.name);
        loose(stick, id)
    };
    let sides = [Wall::A, Wall::B].map(|wall| block.faces(ground, wall));
    let holds = |_: &Hung, touched: &[&Hung]| {
        let on = |faces: &Vec<usize>| {
            touched.iter().any(|other| other.face.is_some_and(|face| faces.contains(&face)))
        };
        on(&sides[0]) && on(&sides[1])
    };
    let places: Vec<(f64, Hung)> = both_sides(ground, block, stations, thick)
        .iter()
        .filter_map(|row| {
            let faces = [row.from - thick, row.to].into_iter();
            let within = faces.filter(|face| *face > near - HAIR && face + thick < far + HAIR);
            let mut ties = within.map(|face| (face, tie(row, face)));
            ties.find(|(_, tie)| room.has_room(std::slice::from_ref(tie), &holds).is_ok())
        })
        .collect();
    if places.is_empty() {
        left_out.push(LeftOut::whole(
            Role::CollarTie,
            block.name,
            "no room between heel and ridge",
        ));
        return;
    }
    let spacing = plan.collar_spacing.inches();
    let mut last = f64::NEG_INFINITY;
    for (at, (x, tie)) in places.iter().enumerate() {
        // a tie is needed here if the next place would be too far from the last tie
        let next = places.get(at + 1).map_or(f64::INFINITY, |place| place.0);
        if last.is_finite() && next - last <= spacing + HAIR {
            continue;
        }
        // the last place is only needed if the end wall is too far away
        let at_gable = block.end(ground, Wall::Far) == EndOf::Gable;
        if at_gable && next.is_infinite() && block.length - last <= spacing + HAIR {
            continue;
        }
        if room.take(vec![tie.clone()], holds).is_ok() {
            last = *x;
        }
    }
}

/// Where a rafter of one slope stands opposite one of the other, beside which sticks so thick lie, clear of the end walls.
fn both_sides(ground: &Ground, block: &Walled, stations: &[Vec<Station>], thick: f64) -> Vec<Row> {
    let [over_a, over_b] = [Wall::A, Wall::B].map(|wall| block.along_wall(ground, stations, wall));
    let both = over_a.into_iter().filter(|x| over_b.iter().any(|other| (other - x).abs() < HAIR));
    let flush = |end: Wall| {
        let is_gable = block.end(ground, end) == EndOf::Gable;
        if is_gable { ground.half_rafter } else { f64::NEG_INFINITY }
    };
    let (near, far) = (flush(Wall::Near), block.length - flush(Wall::Far));
    let inner = both.filter(|x| *x > near + HAIR && *x < far - HAIR);
    rows(inner, ground.half_rafter, thick)
}
