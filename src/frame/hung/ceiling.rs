//! Ceiling joists and rafter ties of every block: from plate to plate beside the rafters, as near to a hip end as its rafters
//! leave room; from there to the plate of the hip end stub joists run the other way (common practice).

use crate::catalog::lumber::Section;
use crate::frame::across::{Crossing, Joist, Loose};
use crate::frame::beside::tie_bottom;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::{GablePlan, Joists, Meeting};
use crate::roof::Wall;

use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::{Hung, off, plane_of};
use super::solids::Room;
use super::stations::{Station, sixteenths};
use super::walled::{EndOf, Row, Walled, rows};
use super::walls::along_in_pieces;

/// A stub joist shorter than this is left out, inches.
const SHORTEST_STUB_IN: f64 = 3.0;

/// How far from its rafters a joist may be where a valley or a hip is in its way, inches.
const FARTHEST_ASIDE_IN: f64 = 4.0;

/// It is moved by as little as this helps.
const STEP_ASIDE_IN: f64 = 0.25;

/// Thickness of a plate, inches (2x lumber laid flat).
const PLATE_IN: f64 = 1.5;

/// The joists or ties of all blocks.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    stations: &[Vec<Station>],
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    let what = match plan.joists {
        Joists::None => return,
        Joists::Beside => Role::CeilingJoist,
        Joists::Across => Role::RafterTie,
    };
    let blocks =
        Walled::all(ground).into_iter().filter(|block| ground.dormer(block.name).is_none());
    for block in blocks {
        if what == Role::RafterTie && !block.is_level() {
            let why = if block.is_shed() {
                "one slope leans on nothing"
            } else {
                "its plates are of unlike height"
            };
            left_out.push(LeftOut::whole(what, block.name, why));
            continue;
        }
        let ceiling = Ceiling::of((ground, plan), &block);
        match what {
            Role::CeilingJoist => ceiling.joists(stations, room, left_out),
            _ => ceiling.ties(stations, room, left_out),
        }
    }
}

/// The block as level sticks cross it: from the building line over a wall that they lie on, from the inner face of a higher one.
pub(super) fn crossing(ground: &Ground, block: &Walled) -> Crossing {
    let start = |wall| if block.bears(wall) { block.start(ground) } else { ground.plate };
    Crossing {
        origin: block.origin(),
        along: block.along.extend(0.0),
        across: block.across.extend(0.0),
        span: block.span,
        reach: (start(Wall::A), block.span - start(Wall::B)),
        slopes: block.slopes().iter().map(plane_of).collect(),
    }
}

struct Ceiling<'a> {
    ground: &'a Ground,
    plan: &'a GablePlan,
    block: &'a Walled<'a>,
    crossing: Crossing,
    joist: Joist,
}

impl<'a> Ceiling<'a> {
    fn of((ground, plan): (&'a Ground, &'a GablePlan), block: &'a Walled<'a>) -> Ceiling<'a> {
        let bottom = tie_bottom(plan);
        let top = bottom + plan.joist.depth_in();
        let slopes = block.slopes();
        // a bearing is told for the main block; rafters here do not move aside for joists that lap
        let bearing = plan.bearing.filter(|_| block.name == "main" && block.is_level());
        let meeting = match plan.meeting {
            Meeting::Splice => Meeting::Splice,
            Meeting::Offset | Meeting::Filler => Meeting::Filler,
        };
        let heel_reach = slopes.last().map_or(0.0, |slope| {
            let over = ground.depth * slope.stretch() - ground.heel_stand + top;
            (over / slope.tangent()).min(block.span / 2.0)
        });
        Ceiling {
            ground,
            plan,
            block,
            crossing: crossing(ground, block),
            joist: Joist {
                section: plan.joist.clone(),
                bottom,
                bearing: bearing.map(|bearing| (bearing.inches(), meeting, plan.lap.inches())),
                heel_reach,
            },
        }
    }

    /// From where to where along the block something so high has room between what closes its ends.
    fn reach(&self, top: f64) -> (f64, f64) {
        let [near, far] = [Wall::Near, Wall::Far].map(|end| self.clear_of(end, top));
        (near, self.block.length - far)
    }

    /// How far in from an end of the block something so high is clear of what closes it.
    pub(super) fn clear_of(&self, end: Wall, top: f64) -> f64 {
        let ground = self.ground;
        match self.block.end(ground, end) {
            EndOf::Open => 0.0,
            EndOf::Gable if self.plan.gable_studs => {
                self.plan.stud.depth_in().max(2.0 * ground.half_rafter)
            }
            EndOf::Gable => 2.0 * ground.half_rafter,
            EndOf::Hip => {
                let slope = self.block.wall(end).slope;
                let under = |slope: &crate::roof::Slope| {
                    let over = ground.depth * slope.stretch() - ground.heel_stand + top;
                    over / slope.tangent()
                };
                slope.as_ref().map_or(0.0, under).max(ground.plate)
            }
        }
    }

    /// The rafters over walls A and B, beside which level sticks so thick lie.
    fn rows(&self, stations: &[Vec<Station>], thick: f64) -> Vec<Row> {
        let sides = [Wall::A, Wall::B].into_iter().filter(|wall| self.block.bears(*wall));
        let places = sides.flat_map(|wall| self.block.along_wall(self.ground, stations, wall));
        let half = self.ground.half_rafter;
        // those flush with a gable's wall stand over it
        let (near, far) = (self.gable(Wall::Near), self.gable(Wall::Far));
        let inner =
            places.filter(|place| *place > near + HAIR && *place < self.block.length - far - HAIR);
        rows(inner, half, thick)
    }

    fn gable(&self, end: Wall) -> f64 {
        let is_gable = self.block.end(self.ground, end) == EndOf::Gable;
        if is_gable { self.ground.half_rafter } else { 0.0 }
    }

    fn joists(&self, stations: &[Vec<Station>], room: &mut Room, left_out: &mut Vec<LeftOut>) {
        let thick = self.joist.section.thickness_in();
        let reach = self.reach(self.joist.bottom + self.joist.section.depth_in());
        let two = self.joist.bearing.is_some_and(|(_, meeting, _)| meeting != Meeting::Splice);
        let rows = self.rows(stations, thick);
        let mut placed: Vec<Option<(f64, f64)>> = Vec::new();
        for row in &rows {
            let tried = aside().find_map(|(side, off)| {
                let beside = if side > 0.0 { row.to } else { row.from - thick };
                let face = beside + side * off;
                // a second length that laps is one joist farther out than the first
                let face_b = if two { face + side * thick } else { face };
                let (from, to) = (face.min(face_b), face.max(face_b) + thick);
                // beside an end wall none is moved aside
                let (first, last) = (from.min(from - side * off), to.max(to - side * off));
                if first < reach.0 - HAIR || last > reach.1 + HAIR {
                    return None;
                }
                let sticks = self.crossing.joist(&self.joist, (face, face_b), side);
                let added: Vec<Hung> =
                    sticks.into_iter().map(|stick| self.named(stick, row)).collect();
                room.take(added, |_, touched| !touched.is_empty()).is_ok().then_some((from, to))
            });
            placed.push(tried);
        }
        // under a hip end the first ones may have no room; stub joists are there
        let is_hip = |end: Wall| self.block.end(self.ground, end) == EndOf::Hip;
        let first = placed.iter().position(Option::is_some);
        let last = placed.iter().rposition(Option::is_some);
        let expected = |at: usize| {
            is_hip(Wall::Near) && first.is_some_and(|first| at < first)
                || is_hip(Wall::Far) && last.is_some_and(|last| at > last)
        };
        let missing = placed
            .iter()
            .enumerate()
            .filter(|(at, placed)| placed.is_none() && !expected(*at))
            .count();
        if missing > 0 {
            left_out.push(LeftOut::some(Role::CeilingJoist, self.block.name, missing));
        }
        let all: Vec<(f64, f64)> = placed.into_iter().flatten().collect();
        let (Some(first), Some(last)) = (all.first(), all.last()) else { return };
        for (end, face) in [(Wall::Near, first.0), (Wall::Far, self.block.length - last.1)] {
            if is_hip(end) {
                self.stubs((end, face), stations, room, left_out);
            }
        }
        for wall in [Wall::A, Wall::B] {
            if !self.block.bears(wall) {
                self.ledger(wall, room);
            }
        }
        if self.joist.bearing.is_some() && self.joist.bottom.abs() < HAIR {
            self.bearing_plate(room);
        }
    }

    /// A stick with its name: the block, and the middle of the last of the rafters that it is beside.
    fn named(&self, stick: Loose, row: &Row) -> Hung {
        let place = sixteenths(row.to - self.ground.half_rafter);
        let from_b = stick.axis.along.dot(self.crossing.across) < 0.0;
        let second = if stick.role == Role::CeilingJoist && from_b { "-B" } else { "" };
        let id = format!("{}-{}-{place}{second}", stick.role.letters(), self.block.name);
        loose(stick, id)
    }

    /// Stub joists from the plate of a hip end to the first joist, whose face is so far in.
    fn stubs(
        &self,
        (end, face): (Wall, f64),
        stations: &[Vec<Station>],
        room: &mut Room,
        left_out: &mut Vec<LeftOut>,
    ) {
        let ground = self.ground;
        let wall = self.block.wall(end);
        let Some(slope) = wall.slope else { return };
        let start = (ground.boards - wall.reach).max(0.0);
        if face - start < SHORTEST_STUB_IN {
            return;
        }
        let along = (wall.to - wall.from).normalize();
        let inward = -wall.out;
        let Joist { section, bottom, .. } = &self.joist;
        let thick = section.thickness_in();
        let length = wall.from.distance(wall.to);
        let places = self.block.along_wall(ground, stations, end).into_iter();
        let inner = places.filter(|place| *place > 0.0 && *place < length);
        let mut placed: Vec<bool> = Vec::new();
        for row in rows(inner, ground.half_rafter, thick) {
            // away from the corner that is nearer
            let sides = if row.from + row.to < length {
                [row.to, row.from - thick]
            } else {
                [row.from - thick, row.to]
            };
            let taken = sides.into_iter().any(|side| {
                let middle = wall.from + along * (side + thick / 2.0);
                let at = |far: f64| (middle + inward * far).extend(wall.plate + bottom);
                let plumb = |far: f64, out: DVec2| Plane::through(at(far), out.extend(0.0));
                let stub = Hung {
                    role: Role::StubJoist,
                    section: section.clone(),
                    axis: Axis { origin: at(start), along: inward.extend(0.0), up: DVec3::Z },
                    trims: vec![
                        off("plumb cut", plumb(start, -inward)),
                        off("square cut", plumb(face, inward)),
                        off("clip to the roof plane", plane_of(&slope)),
                    ],
                    id: format!(
                        "{}-{}.{}-{}",
                        Role::StubJoist.letters(),
                        self.block.name,
                        end.word(),
                        sixteenths(row.to - ground.half_rafter)
                    ),
                    face: None,
                    line: None,
                };
                let on_joist = |touched: &[&Hung]| {
                    touched.iter().any(|other| other.role == Role::CeilingJoist)
                };
                room.take(vec![stub], |_, touched| on_joist(touched)).is_ok()
            });
            placed.push(taken);
        }
        // over those beside the corners the hips come down
        let (first, last) =
            (placed.iter().position(|own| *own), placed.iter().rposition(|own| *own));
        let within = first.zip(last).map(|(first, last)| &placed[first..=last]);
        let missing = within.map_or(placed.len(), |own| own.iter().filter(|own| !**own).count());
        if missing > 0 {
            let place = format!("{}.{}", self.block.name, end.word());
            left_out.push(LeftOut::some(Role::StubJoist, &place, missing));
        }
    }

    /// What the joists lie on at a wall that is higher than they are: a board of their own stock along its inner face.
    fn ledger(&self, wall: Wall, room: &mut Room) {
        let section = &self.joist.section;
        let wall = self.block.wall(wall);
        let half = section.thickness_in() / 2.0;
        // between the plates of the end walls, which may have no studs on them
        let clear = |end: Wall| self.clear_of(end, 0.0).max(self.ground.plate);
        let (from, to) = (clear(Wall::Near), clear(Wall::Far));
        let bottom = self.block.low_plate() + self.joist.bottom - section.depth_in();
        let middle = wall.from - wall.out * (self.ground.plate + half);
        let along = self.block.along;
        let axis = Axis { origin: middle.extend(bottom), along: along.extend(0.0), up: DVec3::Z };
        let pieces = along_in_pieces(self.ground.longest, from, self.block.length - to);
        for (start, stop) in pieces {
            let id = format!(
                "{}-{}-{}",
                Role::JoistLedger.letters(),
                self.block.name,
                sixteenths(start)
            );
            let piece = self.piece((Role::JoistLedger, section), axis, (start, stop), id);
            let _ = room.take(vec![piece], |_, _| true);
        }
    }

    /// The plate of the inside bearing under joists of two lengths.
    fn bearing_plate(&self, room: &mut Room) {
        let Some((bearing, ..)) = self.joist.bearing else { return };
        let section =
            Section::sized(crate::measure::quantity::inches(PLATE_IN), self.plan.bearing_width);
        let origin = self.crossing.point(0.0, bearing - section.depth_in() / 2.0, -PLATE_IN / 2.0);
        let axis = Axis { origin, along: self.crossing.along, up: self.crossing.across };
        let (from, to) = (self.ground.plate, self.block.length - self.ground.plate);
        for (start, stop) in along_in_pieces(self.ground.longest, from, to) {
            let id = format!(
                "{}-{}-{}",
                Role::BearingPlate.letters(),
                self.block.name,
                sixteenths(start)
            );
            let piece = self.piece((Role::BearingPlate, &section), axis, (start, stop), id);
            let _ = room.take(vec![piece], |_, _| true);
        }
    }

    /// A piece of what runs along the block, its axis from the block's near end.
    fn piece(
        &self,
        (role, section): (Role, &Section),
        axis: Axis,
        (start, stop): (f64, f64),
        id: String,
    ) -> Hung {
        let square = |far: f64, out: DVec3| {
            off("square cut", Plane::through(axis.origin + axis.along * far, out))
        };
        Hung {
            role,
            section: section.clone(),
            axis: Axis { origin: axis.origin + axis.along * start, ..axis },
            trims: vec![square(start, -axis.along), square(stop, axis.along)],
            id,
            face: None,
            line: None,
        }
    }

    /// Rafter ties where joists run across: beside rafters of both slopes, no farther apart than set.
    fn ties(&self, stations: &[Vec<Station>], room: &mut Room, left_out: &mut Vec<LeftOut>) {
        let section = &self.plan.tie;
        let thick = section.thickness_in();
        let bottom = self.joist.bottom;
        let reach = self.reach(bottom + section.depth_in());
        let rows = self.rows(stations, thick);
        let spacing = self.plan.tie_spacing.inches();
        let mut last = f64::NEG_INFINITY;
        let mut missing = 0;
        for (at, row) in rows.iter().enumerate() {
            let next = rows.get(at + 1).map_or(f64::INFINITY, |row| row.to);
            if next - last <= spacing + HAIR {
                continue;
            }
            let taken = [row.to, row.from - thick].into_iter().any(|face| {
                if face < reach.0 - HAIR || face + thick > reach.1 + HAIR {
                    return false;
                }
                let tie = self.crossing.tie((Role::RafterTie, section), bottom, face);
                let tie = self.named(tie, row);
                room.take(vec![tie], |_, touched| {
                    touched.iter().filter(|other| other.face.is_some()).count() > 1
                })
                .is_ok()
            });
            if taken {
                last = row.to;
            } else {
                missing += 1;
            }
        }
        if missing > 0 {
            left_out.push(LeftOut::some(Role::RafterTie, self.block.name, missing));
        }
    }
}

/// How a joist may lie beside its rafters: beyond or before them, and how far from them. What touches them is tried first.
fn aside() -> impl Iterator<Item = (f64, f64)> {
    let steps = (FARTHEST_ASIDE_IN / STEP_ASIDE_IN) as u32;
    (0..=steps).flat_map(|step| [1.0, -1.0].map(|side| (side, f64::from(step) * STEP_ASIDE_IN)))
}

/// A stick with its name, which lies in no face.
pub(super) fn loose(stick: Loose, id: String) -> Hung {
    let Loose { role, section, axis, trims } = stick;
    Hung { role, section, axis, trims, id, face: None, line: None }
}
