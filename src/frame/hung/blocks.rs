//! Blocks between the rafters over the plates, whatever stands or lies there.

use crate::frame::beside::NARROWEST_BLOCK_IN;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{Cell, DVec3, Plane, Solid};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::{Blocking, GablePlan};
use crate::roof::{Slope, Wall, WallLine};

use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::{Hung, off, plane_of};
use super::solids::{Refused, Room};
use super::stations::sixteenths;

/// The blocks over all plates that a slope crosses.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    if plan.blocking == Blocking::None {
        return;
    }
    for wall in &ground.walls {
        let low = wall.slope.map(|slope| (slope, wall.plate));
        // only a shed rises to a plate: under a gable there are studs
        let high = || {
            if wall.wall != Wall::B {
                return None;
            }
            let rises =
                |face: &usize| ground.high_walls_of(*face).any(|other| std::ptr::eq(other, wall));
            let face = (0..ground.faces.len()).find(rises)?;
            Some((ground.faces[face].slope, ground.plate_top(wall)))
        };
        let Some((slope, plate)) = low.or_else(high) else { continue };
        let strip = Strip::of((ground, plan), wall, slope, plate);
        let place = format!("{}.{}", wall.block, wall.wall.word());
        match strip {
            Some(strip) => {
                let missing = strip.fill(room);
                if missing > 0 {
                    left_out.push(LeftOut::some(Role::Blocking, &place, missing));
                }
            }
            None => left_out.push(LeftOut::whole(
                Role::Blocking,
                &place,
                "no height or no room on the plate",
            )),
        }
    }
}

/// Where the blocks over one plate stand.
struct Strip<'a> {
    ground: &'a Ground,
    wall: &'a WallLine,
    slope: Slope,
    /// Height of the plate.
    plate: f64,
    /// In from the building line.
    start: f64,
    /// How high they reach over the plate, square to it.
    top: f64,
    /// Where held down for air.
    held: Option<f64>,
}

impl<'a> Strip<'a> {
    fn of(
        (ground, plan): (&'a Ground, &GablePlan),
        wall: &'a WallLine,
        slope: Slope,
        plate: f64,
    ) -> Option<Strip<'a>> {
        let thick = 2.0 * ground.half_rafter;
        let start = (ground.boards - wall.reach).max(0.0);
        if start + thick > ground.plate + HAIR {
            return None;
        }
        let held = (plan.blocking == Blocking::Held)
            .then(|| ground.heel_of(&wall.block) - plan.air_gap.inches());
        if held.is_some_and(|top| top < NARROWEST_BLOCK_IN) {
            return None;
        }
        let over = |aside: f64| slope.height(wall.from - wall.out * aside) - plate;
        let reach = over(start).max(over(start + thick));
        let top = held.unwrap_or(reach).min(ground.depth);
        Some(Strip { ground, wall, slope, plate, start, top, held })
    }

    fn along(&self) -> DVec3 {
        (self.wall.to - self.wall.from).normalize().extend(0.0)
    }

    /// What stands in it, as reaches along the wall in their order, those that meet together.
    fn taken(&self, room: &Room) -> Vec<(f64, f64)> {
        let thick = 2.0 * self.ground.half_rafter;
        let length = self.wall.from.distance(self.wall.to);
        let (along, inward) = (self.along(), -self.wall.out.extend(0.0));
        let corner = self.wall.from.extend(self.plate) + inward * self.start;
        let (one, two) = (along * length, inward * thick);
        let up = DVec3::Z * self.top;
        let turned = one.cross(two).z > 0.0;
        let cell = if turned {
            Cell::from_box(corner, one, two, up)
        } else {
            Cell::from_box(corner, two, one, up)
        };
        room.taken(&Solid::from(cell), self.wall.from.extend(0.0), along)
    }

    /// Fills the gaps up to a spacing wide. Gives how many had no room for a block.
    fn fill(&self, room: &mut Room) -> usize {
        let mut missing = 0;
        for two in self.taken(room).windows(2) {
            let (from, to) = (two[0].1, two[1].0);
            // where no rafters stand there is nothing to block
            if to - from < NARROWEST_BLOCK_IN || to - from > self.ground.spacing + HAIR {
                continue;
            }
            let block = self.block(from, to);
            let holds = |_: &Hung, touched: &[&Hung]| {
                let on_plate = touched.iter().any(|other| other.role == Role::Plate);
                on_plate && touched.len() > 1
            };
            missing += usize::from(room.take(vec![block], holds) == Err(Refused::NoRoom));
        }
        missing
    }

    fn block(&self, from: f64, to: f64) -> Hung {
        let (along, inward) = (self.along(), -self.wall.out.extend(0.0));
        let middle = self.start + self.ground.half_rafter;
        let start = self.wall.from.extend(self.plate);
        // with the building on the same side of every block they are one pattern
        let (first, last, along) =
            if along.cross(inward).z > 0.0 { (from, to, along) } else { (to, from, -along) };
        let place = |far: f64| start + self.along() * far;
        let origin = place(first) + inward * middle;
        let square = |far: f64, out: DVec3| off("square cut", Plane::through(place(far), out));
        let mut trims = vec![square(first, -along), square(last, along)];
        trims.push(match self.held {
            Some(top) => off("ripped level", Plane::through(start + DVec3::Z * top, DVec3::Z)),
            None => off("ripped to the roof plane", plane_of(&self.slope)),
        });
        Hung {
            role: Role::Blocking,
            section: self.ground.choices.rafter.clone(),
            axis: Axis { origin, along, up: DVec3::Z },
            trims,
            id: format!(
                "{}-{}.{}-{}",
                Role::Blocking.letters(),
                self.wall.block,
                self.wall.wall.word(),
                sixteenths(from)
            ),
            face: None,
            line: None,
        }
    }
}
