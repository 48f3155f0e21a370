//! Ceiling joists and rafter ties of every block: from plate to plate beside the rafters, as near to a hip end as its rafters
//! leave room; from there to the plate of the hip end stub joists run the other way (common practice).

use crate::catalog::lumber::Section;
use crate::frame::across::{Crossing, Joist, Loose};
use crate::frame::beside::tie_bottom;
use crate::frame::opened;
use crate::frame::opening::{self, Opening, Rafters, Tie};
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Note};
use crate::plan::{GablePlan, Joists, Meeting};
use crate::roof::Wall;

use super::cannot::CannotHang;
use super::ground::Ground;
use super::left_out::{LeftOut, NO_ROOM_FOR_OPENING};
use super::piece::{Hung, off, plane_of};
use super::solids::Room;
use super::stations::{Station, aside, sixteenths};
use super::walled::{EndOf, Row, Walled, rows};
use super::walls::along_in_pieces;

/// What the name of the second length of a joist ends in.
pub(super) const SECOND: &str = "-B";

/// A stub joist shorter than this is left out, inches.
const SHORTEST_STUB_IN: f64 = 3.0;

/// Thickness of a plate, inches (2x lumber laid flat).
const PLATE_IN: f64 = 1.5;

/// The joists or ties of all blocks.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    stations: &[Vec<Station>],
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) -> Result<Option<Opening>, CannotHang> {
    let what = match plan.joists {
        Joists::None => return Ok(None),
        Joists::Beside => Role::CeilingJoist,
        Joists::Across => Role::RafterTie,
    };
    let blocks =
        Walled::all(ground).into_iter().filter(|block| ground.dormer(block.name).is_none());
    let mut attic = None;
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
        if block.is_turned() {
            let why = "the joists run along wall A here, and it is told for joists across";
            let told = [
                (Role::BearingPlate, plan.bearing.is_some()),
                (Role::JoistHeader, plan.access.sides().is_some()),
            ];
            let asked = told.into_iter().filter(|(_, is_told)| *is_told);
            left_out.extend(asked.map(|(role, _)| LeftOut::whole(role, block.name, why)));
        }
        let ceiling = Ceiling::of((ground, plan), &block);
        let opening = match what {
            Role::CeilingJoist => ceiling.joists(stations, room, left_out)?,
            _ => ceiling.ties(stations, room, left_out),
        };
        attic = attic.or(opening);
    }
    Ok(attic)
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
        let bearing = plan.bearing.filter(|_| block.is_borne());
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

    /// Places the joists; gives the opening to the attic if it is among them.
    fn joists(
        &self,
        stations: &[Vec<Station>],
        room: &mut Room,
        left_out: &mut Vec<LeftOut>,
    ) -> Result<Option<Opening>, CannotHang> {
        let before = room.count();
        let thick = self.joist.section.thickness_in();
        let reach = self.reach(self.joist.bottom + self.joist.section.depth_in());
        let two = self.joist.bearing.is_some_and(|(_, meeting, _)| meeting != Meeting::Splice);
        let rows = self.rows(stations, thick);
        let mut placed: Vec<Option<(f64, f64)>> = Vec::new();
        let mut laid: Vec<(usize, Loose)> = Vec::new();
        for (number, row) in rows.iter().enumerate() {
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
                let added = sticks.iter().map(|stick| self.named(stick.clone(), row)).collect();
                room.take(added, |_, touched| !touched.is_empty()).ok()?;
                laid.extend(sticks.into_iter().map(|stick| (number, stick)));
                Some((from, to))
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
        let (Some(first), Some(last)) = (all.first(), all.last()) else { return Ok(None) };
        let opening = match self.opening(&rows, &laid)? {
            Some(opening) => self.open(opening, (&rows, laid), (room, before), left_out),
            None => None,
        };
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
        Ok(opening)
    }

    /// The rafters of the rows, those over the end walls among them as the first and the last.
    fn rafters(&self, rows: &[Row]) -> Vec<Rafters> {
        let thick = 2.0 * self.ground.half_rafter;
        let of = |from: f64, to: f64, is_held| Rafters { at: to - thick, x: (from, to), is_held };
        let is_gable = |end| self.block.end(self.ground, end) == EndOf::Gable;
        let near = is_gable(Wall::Near).then(|| of(0.0, thick, true));
        let length = self.block.length;
        let far = is_gable(Wall::Far).then(|| of(length - thick, length, true));
        let inner = rows.iter().map(|row| of(row.from, row.to, false));
        near.into_iter().chain(inner).chain(far).collect()
    }

    /// How many rows come before the first that joists lie beside: the end wall's rafters.
    fn first_row(&self) -> usize {
        usize::from(self.block.end(self.ground, Wall::Near) == EndOf::Gable)
    }

    /// The opening to the attic among the joists of the main block.
    fn opening(
        &self,
        rows: &[Row],
        laid: &[(usize, Loose)],
    ) -> Result<Option<Opening>, CannotHang> {
        if self.block.name != "main" || self.block.is_turned() {
            return Ok(None);
        }
        let rafters = self.rafters(rows);
        let first = self.first_row();
        let plate = self.ground.plate;
        let ceiling = opening::Ceiling {
            access: &self.plan.access,
            length: self.block.length,
            margin: 2.0 * self.ground.half_rafter,
            inner: (plate, self.block.span - plate),
            clear: (self.heel(Wall::A), self.block.span - self.heel(Wall::B)),
            bearing: self.joist.bearing.map(|(bearing, ..)| bearing),
            rows: &rafters,
            thick: self.plan.joist.thickness_in(),
        };
        let sticks = laid.iter().map(|(row, stick)| (row + first, stick));
        let found = ceiling.opening(&Tie::all(&self.crossing, sticks));
        let refused = found.as_ref().and_then(|opening| ceiling.refusal(opening));
        match refused {
            Some((message, help)) if self.plan.joists == Joists::Beside => {
                let why = [Amount::Said(message), Amount::Said(help)];
                Err(CannotHang::Ceiling { why: Note::with("{}: {}", why) })
            }
            _ => Ok(found),
        }
    }

    /// How far in from a wall the rafters over it are above the joists.
    fn heel(&self, wall: Wall) -> f64 {
        let Joist { section, bottom, .. } = &self.joist;
        match self.block.wall(wall).slope {
            Some(slope) if self.block.bears(wall) => {
                let top = bottom + section.depth_in();
                let over = self.ground.depth * slope.stretch() - self.ground.heel_stand + top;
                over / slope.tangent()
            }
            // the ledger is there
            _ => self.ground.plate + section.thickness_in(),
        }
    }

    /// Frames the opening: takes the joists away again, from `before` on, and puts them back with it.
    fn open(
        &self,
        opening: Opening,
        (rows, laid): (&[Row], Vec<(usize, Loose)>),
        (room, before): (&mut Room, usize),
        left_out: &mut Vec<LeftOut>,
    ) -> Option<Opening> {
        room.back_to(before);
        let section = (&self.joist.section, self.joist.bottom);
        let first = self.first_row();
        let counted = laid.iter().map(|(row, stick)| (row + first, stick.clone())).collect();
        let framed = opened::framed(&self.crossing, section, &opening, counted);
        let name = |(row, stick): (Option<usize>, Loose)| match row {
            Some(row) => self.named(stick, &rows[row - first]),
            None => {
                let ((x, _), (y, _)) = self.crossing.place(&stick).unwrap_or_default();
                let place = format!("{}-{}", sixteenths(x), sixteenths(y));
                let id = format!("{}-{}-{place}", stick.role.letters(), self.block.name);
                loose(stick, id)
            }
        };
        let holds = |stick: &Hung, touched: &[&Hung]| match stick.role {
            Role::TailJoist => touched.iter().any(|other| other.role == Role::JoistHeader),
            _ => !touched.is_empty(),
        };
        if room.take(framed.into_iter().map(name).collect(), holds).is_ok() {
            return Some(opening);
        }
        left_out.push(LeftOut::whole(Role::JoistHeader, self.block.name, NO_ROOM_FOR_OPENING));
        let whole = laid.into_iter().map(|(row, stick)| self.named(stick, &rows[row]));
        let _ = room.take(whole.collect(), |_, _| true);
        None
    }

    /// A stick with its name: the block, and the middle of the last of the rafters that it is beside.
    fn named(&self, stick: Loose, row: &Row) -> Hung {
        let place = sixteenths(row.to - self.ground.half_rafter);
        let from_b = stick.axis.along.dot(self.crossing.across) < 0.0;
        let second = if stick.role == Role::CeilingJoist && from_b { SECOND } else { "" };
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
                        wall.wall.word(),
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
            let place = format!("{}.{}", self.block.name, wall.wall.word());
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
    fn ties(
        &self,
        stations: &[Vec<Station>],
        room: &mut Room,
        left_out: &mut Vec<LeftOut>,
    ) -> Option<Opening> {
        let before = room.count();
        let mut laid: Vec<(usize, Loose)> = Vec::new();
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
                let named = self.named(tie.clone(), row);
                let is_taken = room
                    .take(vec![named], |_, touched| {
                        touched.iter().filter(|other| other.face.is_some()).count() > 1
                    })
                    .is_ok();
                laid.extend(is_taken.then_some((at, tie)));
                is_taken
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
        let opening = self.opening(&rows, &laid).ok().flatten()?;
        room.back_to(before);
        let stay = opened::without_cut(&self.crossing, &opening, laid);
        let named = stay.into_iter().map(|(row, stick)| self.named(stick, &rows[row]));
        let _ = room.take(named.collect(), |_, _| true);
        Some(opening)
    }
}

/// A stick with its name, which lies in no face.
pub(super) fn loose(stick: Loose, id: String) -> Hung {
    let Loose { role, section, axis, trims } = stick;
    Hung { role, section, axis, trims, id, face: None, line: None }
}
