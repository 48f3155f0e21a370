//! The overhangs at gables: barge rafters, from eave to ridge as the rafters beside them, and the rungs of a ladder that carry them.

use crate::frame::common::SOFFIT_CUT;
use crate::frame::rake_places::Slots;
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{DVec2, Plane, Polygon};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::{GablePlan, RakeFraming};
use crate::roof::Wall;

use super::ground::Ground;
use super::left_out::LeftOut;
use super::nodes::King;
use super::outlookers::{self, Taken};
use super::overhang::{Barge, Rake};
use super::piece::{Hung, off};
use super::rafters;
use super::solids::Room;
use super::stations::{Station, sixteenths};
use super::walled::{EndOf, Walled};

/// The barge rafters and rungs of all gables.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    lines: (&[King], &[Option<Polygon>]),
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    for block in Walled::all(ground) {
        let mut rakes = Vec::new();
        for end in [Wall::Near, Wall::Far] {
            let wall = block.wall(end);
            if block.end(ground, end) != EndOf::Gable || wall.reach <= HAIR {
                continue;
            }
            let place = format!("{}.{}", block.name, wall.wall.word());
            let thick = 2.0 * ground.half_rafter;
            if wall.reach < thick + HAIR {
                let why = "the overhang is no wider than the barge rafter";
                left_out.push(LeftOut::whole(Role::BargeRafter, &place, why));
                continue;
            }
            let rake = Rake { ground, plan, block: &block, end };
            let barges = rake.all_barges(lines);
            rakes.push((rake, barges, place));
        }
        // on the short slopes of a dormer a ladder does
        let on_ladder =
            plan.rake_framing == RakeFraming::Ladder || ground.dormer(block.name).is_some();
        let taken = if on_ladder { Vec::new() } else { outlookers::taken(&rakes, room) };
        for (rake, barges, place) in &rakes {
            let missing = rake.framed(barges, (on_ladder, &taken), room);
            if missing > 0 {
                left_out.push(LeftOut::some(Role::BargeRafter, place, missing));
            }
        }
    }
}

impl Rake<'_> {
    /// The barge rafters of all faces beyond this end.
    fn all_barges(&self, lines: (&[King], &[Option<Polygon>])) -> Vec<Barge> {
        [Wall::A, Wall::B]
            .into_iter()
            .filter(|wall| self.block.wall(*wall).slope.is_some())
            .flat_map(|wall| self.block.faces(self.ground, wall))
            .flat_map(|face| self.barges(lines, face))
            .collect()
    }

    /// Puts up what fits. Gives how many barge rafters had no room or nothing to carry them.
    fn framed(
        &self,
        barges: &[Barge],
        (on_ladder, taken): (bool, &[Taken]),
        room: &mut Room,
    ) -> usize {
        let count = room.count();
        let all: Vec<Hung> = barges.iter().map(|(_, hung, _)| hung.clone()).collect();
        // rungs carry them, which are looked at next
        if room.take(all, |_, _| true).is_err() {
            return barges.len();
        }
        if !on_ladder {
            let done = self.outlooked(barges, taken, room);
            if !done {
                room.back_to(count);
            }
            return if done { 0 } else { barges.len() };
        }
        for (face, barge, reach) in barges {
            let rungs = self.rungs(*face, barge, *reach);
            let carries = |_: &Hung, touched: &[&Hung]| {
                let barge = touched.iter().any(|other| other.role == Role::BargeRafter);
                let rafter =
                    |other: &&Hung| other.face.is_some() && other.role != Role::BargeRafter;
                barge && touched.iter().copied().any(|other| rafter(&other))
            };
            let placed =
                rungs.into_iter().filter(|rung| room.take(vec![rung.clone()], carries).is_ok());
            // one rung alone would let it turn
            if placed.count() < 2 {
                room.back_to(count);
                return barges.len();
            }
        }
        0
    }

    /// The barge rafter of one face beyond this end.
    fn barges(&self, lines: (&[King], &[Option<Polygon>]), face: usize) -> Vec<Barge> {
        let axes = &self.ground.faces[face];
        let wall_a = self.block.wall(Wall::A);
        let at = axes.along.dot(wall_a.from + self.block.along * self.place());
        let name = if self.end == Wall::Far { "F" } else { "N" };
        let station = Station { at, name: name.to_owned(), king: None, trims: Vec::new() };
        let found = rafters::barges(self.ground, lines, face, &[station]);
        let own = found.into_iter().filter(|(_, (from, to))| {
            // of a face of several blocks only what is over this one
            let middle: DVec2 = axes.plan(at, (from + to) / 2.0);
            let y = self.block.place(middle).y;
            y > 0.0 && y < self.block.span
        });
        own.map(|(hung, reach)| (face, hung, reach)).collect()
    }

    /// The rungs between a barge rafter and the rafter flush with the wall: no farther apart than set, up the slope from the tail.
    fn rungs(&self, face: usize, barge: &Hung, (from, to): (f64, f64)) -> Vec<Hung> {
        let axes = &self.ground.faces[face];
        let (half, deep) = (self.ground.half_rafter, self.ground.depth);
        let stretch = axes.slope.stretch();
        // at the ridge the plumb cut leaves less under the top edge
        let room = (to - from) * stretch - deep * axes.slope.tangent();
        let (along, normal) = (self.block.along.extend(0.0), axes.slope.outward());
        // beside a dormer's slope: as long as the lower corner up the slope clears the deck
        let deck = self.ground.landing(self.ground.layer_of(face), false);
        let lower = axes.point(barge.axis.origin.truncate().dot(axes.along), from) - normal * deep;
        let clear = deck.and_then(|deck| deck.along_line(lower, axes.uphill()));
        let room = clear.filter(|far| *far > 0.0).map_or(room, |far| room.min(far));
        let slots = Slots::new(half, room - half, &[]);
        let mut places = slots.places(self.plan.rake_spacing.inches(), 2.0 * half);
        // one rung alone would let the barge rafter turn: on a short slope they stand closer
        let closer = (room - half) / 3.0;
        if places.len() < 2 && closer > 2.0 * half {
            places = slots.places(closer, 2.0 * half);
        }
        let flush = self.flush();
        let world = |x: f64| self.world(x);
        // from the near end to the far one, as those of the other end
        let [first, last] = match self.end {
            Wall::Far => [flush, self.place() - half],
            _ => [self.place() + half, flush],
        };
        // a level soffit cut runs on across the rake
        let soffit: Vec<Trim> =
            barge.trims.iter().filter(|trim| trim.name == SOFFIT_CUT).cloned().collect();
        places
            .into_iter()
            .map(|place| {
                let up = from + place / stretch;
                let top = axes.point(axes.along.dot(world(first).truncate()), up);
                Hung {
                    role: Role::LadderRung,
                    section: self.ground.choices.rafter.clone(),
                    axis: Axis { origin: top - normal * deep, along, up: normal },
                    trims: [
                        off("square cut", Plane::through(world(first), -along)),
                        off("square cut", Plane::through(world(last), along)),
                    ]
                    .into_iter()
                    .chain(soffit.iter().cloned())
                    .collect(),
                    id: format!(
                        "{}-{}-{}",
                        Role::LadderRung.letters(),
                        barge.id.trim_start_matches("RB-"),
                        sixteenths(place)
                    ),
                    face: None,
                    line: None,
                }
            })
            .collect()
    }
}
