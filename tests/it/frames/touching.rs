//! Solids in place: no two overlap, and each touches what carries it.

use proptest::prelude::*;
use stepoff::frame::{Frame, Role, Step};
use stepoff::geom::{DVec3, Plane, Solid};
use stepoff::measure::quantity::inches;

pub(super) struct Placed {
    pub(super) mark: String,
    pub(super) role: Role,
    pub(super) step: Step,
    pub(super) solid: Solid,
    pub(super) low: DVec3,
    pub(super) high: DVec3,
}

pub(super) fn placed(frame: &Frame) -> Vec<Placed> {
    let mut list = Vec::new();
    for member in &frame.members {
        for (id, axis) in member.placed_ids() {
            let solid = member.placed(axis);
            let (low, high) = solid.bounds().unwrap();
            list.push(Placed {
                mark: member.mark.clone(),
                role: member.role,
                step: frame.sticks().goes_up(member, (id, axis)),
                solid,
                low,
                high,
            });
        }
    }
    list
}

/// Area in which two solids touch face to face, square inches.
fn contact(a: &Solid, b: &Solid) -> f64 {
    let mut total = 0.0;
    for cell in a.cells() {
        for face in cell.faces() {
            for other in b.cells() {
                let leans = other.faces().any(|against| {
                    against.plane.normal.dot(face.plane.normal) < -1.0 + 1e-9
                        && against.plane.distance(face.corner()).abs() < 1e-6
                });
                if leans {
                    let polygon =
                        other.faces().fold(face.corners().collect::<Vec<_>>(), |polygon, side| {
                            if side.plane.normal.dot(face.plane.normal).abs() > 1.0 - 1e-9 {
                                polygon
                            } else {
                                clipped(&polygon, side.plane)
                            }
                        });
                    total += area(&polygon);
                }
            }
        }
    }
    total
}

fn clipped(polygon: &[DVec3], plane: &Plane) -> Vec<DVec3> {
    let mut kept = Vec::new();
    for (index, &here) in polygon.iter().enumerate() {
        let next = polygon[(index + 1) % polygon.len()];
        let (from, to) = (plane.distance(here), plane.distance(next));
        if from <= 0.0 {
            kept.push(here);
        }
        if (from < 0.0 && to > 0.0) || (from > 0.0 && to < 0.0) {
            kept.push(here + (next - here) * (from / (from - to)));
        }
    }
    kept
}

fn area(polygon: &[DVec3]) -> f64 {
    let Some(&base) = polygon.first() else {
        return 0.0;
    };
    let twice: DVec3 = polygon.windows(2).map(|pair| (pair[0] - base).cross(pair[1] - base)).sum();
    twice.length() / 2.0
}

pub(super) fn no_two_in_one_place(frame: &Frame) -> Result<(), TestCaseError> {
    let mut list = placed(frame);
    list.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    for (index, one) in list.iter().enumerate() {
        for other in list[index + 1..].iter().take_while(|other| other.low.x < one.high.x - 1e-7) {
            let apart =
                one.high.cmple(other.low + 1e-7).any() || other.high.cmple(one.low + 1e-7).any();
            if apart {
                continue;
            }
            let shared = one.solid.common_volume(&other.solid);
            prop_assert!(
                shared < 1e-6,
                "{} ({:?}) at {:?} and {} ({:?}) at {:?} share {shared} cubic inches",
                one.mark,
                one.role,
                one.low,
                other.mark,
                other.role,
                other.low
            );
        }
    }
    Ok(())
}

/// Every stick touches what carries it, as its role says, and anything else that this roof requires.
pub(super) fn each_touches(frame: &Frame) -> Result<(), TestCaseError> {
    let mut list = placed(frame);
    list.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    let widest = list.iter().map(|one| one.high.x - one.low.x).fold(0.0, f64::max);
    let near = |one: &Placed, other: &Placed| {
        one.low.cmple(other.high + 1e-6).all() && other.low.cmple(one.high + 1e-6).all()
    };
    // how many sticks with one of the roles a stick touches, of those that are up by a step
    let touches = |one: &Placed, roles: &[Role], by: Option<Step>| {
        let from = list.partition_point(|other| other.low.x < one.low.x - widest - 1e-6);
        list[from..]
            .iter()
            .take_while(|other| other.low.x <= one.high.x + 1e-6)
            .filter(|other| roles.contains(&other.role) && !std::ptr::eq(one, *other))
            .filter(|other| by.is_none_or(|step| other.step <= step))
            .filter(|other| near(one, other) && contact(&one.solid, &other.solid) > 1e-6)
            .count()
    };
    let has = |role: Role| list.iter().any(|one| one.role == role);
    let joists_on_plate = frame.ties.height < inches(1e-9);
    let tails = [Role::CommonRafter, Role::EndRafter, Role::BargeRafter];
    for one in &list {
        let mut wanted: Vec<(&[Role], usize)> = one.role.carried_by().to_vec();
        match one.role {
            // a board at the tails holds them in line; a note says what the rip for outlookers takes
            // from a tail
            Role::CommonRafter | Role::BargeRafter => {
                if has(Role::Subfascia) {
                    wanted.push((&[Role::Subfascia], 1));
                } else if has(Role::Fascia) {
                    wanted.push((&[Role::Fascia], 1));
                }
            }
            Role::CeilingJoist => {
                if joists_on_plate {
                    wanted.push((&[Role::Plate], 1));
                }
                if frame.plan.bearing.is_none() {
                    wanted.push((&[Role::CommonRafter, Role::EndRafter], 2));
                } else {
                    wanted.push((&[Role::CeilingJoist, Role::SplicePiece], 1));
                }
            }
            Role::Filler if joists_on_plate => wanted.push((&[Role::Plate], 1)),
            Role::Subfascia | Role::Fascia if frame.pairs.len() > 1 => {
                let on: &[Role] =
                    if one.role == Role::Fascia && has(Role::Subfascia) { &[] } else { &tails };
                wanted.push((on, 2));
            }
            Role::SoffitLookout if has(Role::SoffitLedger) => {
                wanted.push((&[Role::SoffitLedger], 1));
            }
            _ => {}
        }
        // what carries a stick is up before it, or goes up in the same step; joists lie on the plates until their
        // rafters come, and the ridge stands on posts until its pairs do
        if one.step != Step::Joists && one.role != Role::RidgeBoard {
            for (roles, least) in one.role.carried_by() {
                let up = touches(one, roles, Some(one.step));
                prop_assert!(
                    up >= *least,
                    "{} ({:?}) at {:?} goes up in {:?}, when {up} of {roles:?} are up",
                    one.mark,
                    one.role,
                    one.low,
                    one.step
                );
            }
        }
        for (roles, least) in wanted.into_iter().filter(|(roles, _)| !roles.is_empty()) {
            let found = touches(one, roles, None);
            prop_assert!(
                found >= least,
                "{} ({:?}) at {:?} touches {found} of {roles:?}, {least} at least",
                one.mark,
                one.role,
                one.low
            );
        }
    }
    Ok(())
}
