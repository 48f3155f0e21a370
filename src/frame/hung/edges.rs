//! The sticks of the lines: ridge boards, hips, valleys and headers, plumb under their edges.

use crate::frame::common::SOFFIT_CUT;
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{Cut, DVec2, DVec3, HalfPlane, Plane, Polygon};
use crate::measure::tolerance::LAST_BITS;

use super::ground::Ground;
use super::lines::{Line, LineOf, NEAR_IN};
use super::nodes::{King, Node, Stick};
use super::piece::{BIRDSMOUTH, Hung, off, plane_of, tail_cut};

/// The sticks of all lines that have one.
pub(super) fn add(ground: &Ground, kings: &[King], sticks: &mut Vec<Hung>) {
    for (number, line) in ground.lines.iter().enumerate() {
        if line.half > 0.0 {
            sticks.push(UnderEdge { ground, kings, number, line }.hung());
        }
    }
}

/// What the stick of every line covers in plan; nothing where there is none.
pub(super) fn covers(ground: &Ground, kings: &[King]) -> Vec<Option<Polygon>> {
    let lines = ground.lines.iter().enumerate();
    lines.map(|(number, line)| UnderEdge { ground, kings, number, line }.cover()).collect()
}

struct UnderEdge<'a> {
    ground: &'a Ground,
    kings: &'a [King],
    number: usize,
    line: &'a Line,
}

impl UnderEdge<'_> {
    fn hung(&self) -> Hung {
        let section = self.ground.section_of(self.line);
        let along = (self.line.head - self.line.foot).normalize();
        let level = self.line.toward_head().extend(0.0);
        let up = (DVec3::Z - along * along.z).normalize();
        let drop = if self.backed() { 0.0 } else { self.line.drop(&self.ground.roof) };
        let axis =
            Axis { origin: self.line.foot - DVec3::Z * drop - up * section.depth_in(), along, up };
        let mut ends = Vec::new();
        let mut others = Vec::new();
        for (at_head, out) in [(false, -level), (true, level)] {
            let mut cuts = self.end(at_head, out);
            // what cuts it most nearly square ends it
            cuts.sort_by(|one, other| {
                let square = |trim: &Trim| match trim.cut.planes.as_slice() {
                    [plane] => -plane.normal.dot(along).abs(),
                    _ => 0.0,
                };
                square(one).total_cmp(&square(other))
            });
            ends.push(cuts.remove(0));
            others.extend(cuts);
        }
        others.extend(self.birdsmouths(&axis));
        others.extend(self.soffit_cuts());
        others.extend(self.backing());
        others.extend(self.under_others(drop));
        let role = match self.line.of {
            LineOf::Ridge => Role::RidgeBoard,
            LineOf::Hip => Role::Hip,
            LineOf::Valley => Role::Valley,
            LineOf::Header => Role::Header,
        };
        Hung {
            role,
            section,
            axis,
            trims: ends.into_iter().chain(others).collect(),
            id: format!("{}-{}", role.letters(), self.line.name),
            face: None,
            line: Some(self.number),
        }
    }

    /// What it covers in plan, without the notch of an inside corner.
    fn cover(&self) -> Option<Polygon> {
        if self.line.half <= 0.0 {
            return None;
        }
        let (along, side) = (self.line.toward_head(), self.line.side(true) * self.line.half);
        let spare = along * (SPARE_HALVES * self.line.half.max(self.ground.half_rafter));
        let (from, to) = (self.line.foot.truncate() - spare, self.line.head.truncate() + spare);
        let whole = Polygon::convex(vec![from - side, to - side, to + side, from + side]);
        let ends = [(false, -along), (true, along)];
        let cuts = ends.into_iter().flat_map(|(at_head, out)| self.end(at_head, out.extend(0.0)));
        let edge = self.line.head - self.line.foot;
        whole.within_all(cuts.filter_map(|trim| match trim.cut.planes.as_slice() {
            // where it leans, as far as it lets the top reach
            [plane] => {
                let top = plane.along_line(self.line.foot, edge).unwrap_or_default();
                let z = self.line.foot.z + edge.z * top;
                let normal = plane.normal;
                Some(HalfPlane::at_most(normal.truncate(), plane.offset - normal.z * z))
            }
            _ => None,
        }))
    }

    fn backed(&self) -> bool {
        self.ground.choices.backed && self.line.of != LineOf::Ridge
    }

    fn faces(&self) -> Vec<usize> {
        let mut faces: Vec<usize> = self.line.borders.iter().map(|border| border.face).collect();
        faces.sort_unstable();
        faces.dedup();
        faces
    }

    /// The cuts of one end: to what it meets there, behind the boards of the eaves it comes down to, or square.
    fn end(&self, at_head: bool, out: DVec3) -> Vec<Trim> {
        let end = if at_head { self.line.head } else { self.line.foot };
        // the ridge of what is laid on the roof ends on the valley boards there
        let behind = self.ground.laid_as(self.line.layer).is_some_and(|laid| {
            self.line.of == LineOf::Ridge && laid.out.dot(out.truncate()) < 0.0
        });
        if let Some(deck) = self.ground.landing(self.line.layer, true).filter(|_| behind) {
            return vec![off("cut to lie on the valley boards", deck)];
        }
        let node = Node::at(end.truncate(), self.line.layer, &self.ground.lines, self.kings);
        let cuts = node.cuts(Stick::Line(self.number));
        if !cuts.is_empty() {
            let name = if cuts.len() > 1 { "cheek cut" } else { "plumb cut" };
            return cuts.into_iter().map(|plane| off(name, plane)).collect();
        }
        self.tail(end.truncate(), out)
            .unwrap_or_else(|| vec![off("square cut", Plane::through(end, out))])
    }

    /// The tail, where the line runs out to the border of its faces: behind the boards of an eave, at the end of a face on a
    /// rake. Where the faces fall away it stays inside all of them, in an inside corner it reaches into it.
    fn tail(&self, end: DVec2, out: DVec3) -> Option<Vec<Trim>> {
        let crest = self.line.is_crest(&self.ground.roof);
        let mut planes: Vec<Plane> = Vec::new();
        for face in self.faces() {
            for plane in self.ground.borders_at(face, end) {
                let known = |other: &Plane| {
                    other.normal.distance(plane.normal) < NEAR_IN
                        && (other.offset - plane.offset).abs() < NEAR_IN
                };
                if !planes.iter().any(known) {
                    planes.push(plane);
                }
            }
        }
        // a crest that misses the corner of the eaves stays behind both boards all the same
        if crest && !planes.is_empty() {
            for plane in self.faces().into_iter().filter_map(|face| self.ground.tail(face)) {
                if !planes.iter().any(|other| other.normal.distance(plane.normal) < NEAR_IN) {
                    planes.push(plane);
                }
            }
        }
        planes.retain(|plane| plane.normal.dot(out) > NEAR_IN);
        if planes.is_empty() {
            return None;
        }
        // of an eave and a rake that run side by side, what is nearer ends it
        if let [one, other] = planes.as_slice()
            && one.normal.distance(other.normal) < NEAR_IN
        {
            planes = vec![if one.offset < other.offset { *one } else { *other }];
        }
        if crest || planes.len() == 1 {
            return Some(planes.into_iter().map(|plane| off(tail_cut(&plane), plane)).collect());
        }
        // the farthest that any of its two sides goes before both planes have cut it
        let height = self.line.foot.z;
        let far = [-self.line.half, self.line.half].into_iter().filter_map(|aside| {
            let side = (end + self.line.side(true) * aside).extend(height);
            let met = planes.iter().filter_map(|plane| plane.along_line(side, out));
            met.reduce(f64::max)
        });
        let far = far.reduce(f64::max)?;
        let square = Plane::through(end.extend(0.0) + out * far, out);
        let name = planes.first().map_or("tail plumb cut", tail_cut);
        let mut cuts = vec![off("tail plumb cut", square), Trim { name, cut: Cut::out(planes) }];
        // a rake close by ends the arms that reach around the corner
        let near = 6.0 * self.line.half;
        let rakes =
            self.faces().into_iter().flat_map(|face| self.ground.rakes_near(face, end, near));
        cuts.extend(rakes.map(|plane| off(tail_cut(&plane), plane)));
        Some(cuts)
    }

    /// The cuts over the plates that it crosses.
    fn birdsmouths(&self, axis: &Axis) -> Vec<Trim> {
        if self.line.of == LineOf::Ridge {
            return Vec::new();
        }
        let mut seats: Vec<(Plane, Plane)> = Vec::new();
        let mut crosses = false;
        for face in self.faces() {
            let axes = &self.ground.faces[face];
            let (foot, head) =
                (axes.place(self.line.foot.truncate()), axes.place(self.line.head.truncate()));
            for seat in &self.ground.seats(face) {
                let at = foot.x + (head.x - foot.x) * (seat.up - foot.y) / (head.y - foot.y);
                let near = 2.0 * self.line.half;
                let over = at > seat.reach.0 - near && at < seat.reach.1 + near;
                let known = seats.iter().any(|(level, heel)| {
                    heel.normal.distance(seat.heel.normal) < NEAR_IN
                        && (heel.offset - seat.heel.offset).abs() < NEAR_IN
                        && (level.offset - seat.level.offset).abs() < NEAR_IN
                });
                if seat.up < foot.y.min(head.y) - near
                    || seat.up > foot.y.max(head.y) + near
                    || known
                {
                    continue;
                }
                if self.line.is_crest(&self.ground.roof) {
                    if seat.is_high {
                        continue;
                    }
                    crosses |= over;
                    seats.push((seat.level, seat.heel));
                } else if over {
                    crosses = true;
                    seats.push((seat.level, seat.heel));
                }
            }
        }
        let notch = |planes: Vec<Plane>| Trim { name: BIRDSMOUTH, cut: Cut::out(planes) };
        let mut cuts = Vec::new();
        let own: Vec<(Plane, Plane)> = if crosses { seats } else { Vec::new() };
        if self.line.is_crest(&self.ground.roof) && crosses {
            // over an outside corner: inside all walls at once
            let level = own.iter().map(|(level, _)| *level).next();
            let heels = own.iter().map(|(_, heel)| *heel);
            cuts.push(notch(level.into_iter().chain(heels).collect()));
        } else {
            cuts.extend(own.iter().map(|(level, heel)| notch(vec![*level, *heel])));
        }
        let along = axis.along * (self.line.head - self.line.foot).length();
        for (level, heel) in
            self.ground.plates_met((axis.origin, axis.origin + along), self.line.half)
        {
            let near = |one: &Plane, other: &Plane| {
                one.normal.distance(other.normal) < NEAR_IN
                    && (one.offset - other.offset).abs() < NEAR_IN
            };
            if !own.iter().any(|known| near(&known.0, &level) && near(&known.1, &heel)) {
                cuts.push(Trim { name: "level cut over a plate", cut: Cut::out([level, heel]) });
            }
        }
        cuts
    }

    /// The level cuts under a tail that comes down to eaves: no lower than those of the rafters on either side, over an outside corner
    /// out from each wall, in an inside corner out from both.
    fn soffit_cuts(&self) -> Vec<Trim> {
        if self.line.of == LineOf::Ridge {
            return Vec::new();
        }
        let of_face = |face: usize| {
            let axes = &self.ground.faces[face];
            let wall = self.ground.walls_of(face).next()?;
            let up = |place: DVec2| axes.place(place).y;
            if up(self.line.foot.truncate()) > up(wall.from) - NEAR_IN {
                return None;
            }
            let level = self.ground.soffit_cut(face, up(wall.from + wall.out * wall.reach))?;
            Some((level, Plane::through(wall.from.extend(0.0), wall.out.extend(0.0))))
        };
        let (levels, walls): (Vec<Plane>, Vec<Plane>) =
            self.faces().into_iter().filter_map(of_face).unzip();
        let highest = levels.into_iter().min_by(|one, other| one.offset.total_cmp(&other.offset));
        let Some(level) = highest else { return Vec::new() };
        let notch = |planes: Vec<Plane>| Trim { name: SOFFIT_CUT, cut: Cut::out(planes) };
        if self.line.is_crest(&self.ground.roof) {
            walls.into_iter().map(|wall| notch(vec![level, wall])).collect()
        } else {
            vec![notch([vec![level], walls].concat())]
        }
    }

    /// The top cut to the faces that fall away from it.
    fn backing(&self) -> Vec<Trim> {
        if !self.backed() {
            return Vec::new();
        }
        let mut planes: Vec<Plane> = Vec::new();
        for border in &self.line.borders {
            let plane = plane_of(&self.ground.roof.faces[border.face].slope);
            let falls = self.line.fall(&self.ground.roof, border) > LAST_BITS;
            if falls && !planes.iter().any(|other| other.normal.distance(plane.normal) < NEAR_IN) {
                planes.push(plane);
            }
        }
        planes.into_iter().map(|plane| off("backing", plane)).collect()
    }

    /// Where an end runs past a node under another slope that meets there, it is cut to that.
    fn under_others(&self, drop: f64) -> Vec<Trim> {
        let (foot, head) = (self.line.foot, self.line.head);
        let along = self.line.toward_head();
        let rise = (head.z - foot.z) / (head - foot).truncate().length();
        let own = self.faces();
        let mut planes: Vec<Plane> = Vec::new();
        for (end, out, rise, other) in [(foot, -along, -rise, head), (head, along, rise, foot)] {
            let beside = self
                .ground
                .lines
                .iter()
                .filter(|line| line.layer == self.line.layer && line.passes(end.truncate()));
            let faces = beside.flat_map(|line| &line.borders).map(|border| border.face);
            for face in faces.filter(|face| !own.contains(face)) {
                let slope = &self.ground.roof.faces[face].slope;
                let past = 2.0 * self.line.half.max(self.ground.half_rafter);
                let corners =
                    [-1.0, 1.0].map(|side| self.line.side(true) * (side * self.line.half));
                let over = |place: DVec2, top: f64| top > slope.height(place) + LAST_BITS;
                let pokes = corners.iter().any(|aside| {
                    over(end.truncate() + out * past + *aside, end.z + rise * past - drop)
                });
                let clear = corners.iter().all(|aside| !over(other.truncate() + *aside, other.z));
                let plane = plane_of(slope);
                if pokes && clear && !planes.contains(&plane) {
                    planes.push(plane);
                }
            }
        }
        planes.into_iter().map(|plane| off("eased to the next face", plane)).collect()
    }
}

/// A stick reaches past the ends of its edge by no more than this multiple of the thicker half of those that meet.
const SPARE_HALVES: f64 = 40.0;
