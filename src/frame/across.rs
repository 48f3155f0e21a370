//! Level sticks from slope to slope: ceiling joists in one length or two, and ties. Described over a block's own plan, so that
//! every block of every roof has the same ones.

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DVec3, Plane};
use crate::measure::tolerance::HAIR;
use crate::plan::Meeting;

use super::role::Role;
use super::stick::{Axis, Trim};

/// Least length of a splice piece on each side of the joint, inches (common practice).
const SPLICE_EACH_SIDE_IN: f64 = 12.0;

/// A stick in its place that has no name yet: its two end cuts come first.
#[derive(Debug, Clone)]
pub(super) struct Loose {
    pub role: Role,
    pub section: Section,
    pub axis: Axis,
    pub trims: Vec<Trim>,
}

/// A block that level sticks cross, in its own plan: places along its ridge, and inches across it from wall A's building line.
#[derive(Debug, Clone)]
pub(super) struct Crossing {
    /// Where wall A begins, on top of its plate.
    pub origin: DVec3,
    /// Unit vector along the ridge.
    pub along: DVec3,
    /// Unit vector across it, from wall A.
    pub across: DVec3,
    /// From wall A's building line to wall B's.
    pub span: f64,
    /// Where level sticks begin and end, across the block.
    pub reach: (f64, f64),
    /// The planes of the slopes over walls A and B; one for a shed.
    pub slopes: Vec<Plane>,
}

/// How joists run from plate to plate.
#[derive(Debug, Clone)]
pub(super) struct Joist {
    pub section: Section,
    /// Bottom above the plate.
    pub bottom: f64,
    /// If they come in two lengths: the middle of the bearing, how they meet over it, and their lap.
    pub bearing: Option<(f64, Meeting, f64)>,
    /// Level length from wall B's building line to where a rafter there is clear above a joist.
    pub heel_reach: f64,
}

/// An end cut by one plane.
pub(super) fn end(name: &'static str, plane: Plane) -> Trim {
    Trim { name, cut: Cut::off(plane) }
}

impl Crossing {
    /// The plumb plane `y` inches across, its outside toward wall B.
    pub(super) fn toward_b(&self, y: f64) -> Plane {
        Plane::through(self.origin + self.across * y, self.across)
    }

    /// The point over the block's own plan.
    pub(super) fn point(&self, x: f64, y: f64, z: f64) -> DVec3 {
        self.origin + self.along * x + self.across * y + DVec3::Z * z
    }

    /// An axis across from `from` at height `bottom`, with the middle of the thickness at `x`.
    fn level_axis(&self, x: f64, from: f64, bottom: f64) -> Axis {
        Axis { origin: self.point(x, from, bottom), along: self.across, up: DVec3::Z }
    }

    /// The slopes as clips of a level stick, that of wall A first.
    fn clips(&self) -> Vec<Trim> {
        let clip = |plane: &Plane| Trim { name: "clip to the roof plane", cut: Cut::off(*plane) };
        self.slopes.iter().map(clip).collect()
    }

    /// The name of a cut `y` across: plumb where level sticks begin and end, square within.
    pub(super) fn end_name(&self, y: f64) -> &'static str {
        let at_wall = [self.reach.0, self.reach.1].iter().any(|end| (end - y).abs() < HAIR);
        if at_wall { "plumb cut" } else { "square cut" }
    }

    /// Where a stick with plumb ends lies: from and to along the block, and across it.
    pub(super) fn place(&self, stick: &Loose) -> Option<((f64, f64), (f64, f64))> {
        let axis = &stick.axis;
        let from_origin = axis.origin - self.origin;
        let (x, y) = (from_origin.dot(self.along), from_origin.dot(self.across));
        let half = stick.section.thickness_in() / 2.0;
        let reach = |trim: &Trim| {
            let far = trim.cut.planes.first()?.along_line(axis.origin, axis.along)?;
            Some(y + far * axis.along.dot(self.across))
        };
        let (one, other) = (reach(stick.trims.first()?)?, reach(stick.trims.get(1)?)?);
        Some(((x - half, x + half), (one.min(other), one.max(other))))
    }

    /// The axis of a stick from `y` across, toward wall A if `from_b`.
    pub(super) fn across_from(&self, axis: &Axis, y: f64, from_b: bool) -> Axis {
        let own = (axis.origin - self.origin).dot(self.across);
        let along = if from_b { -self.across } else { self.across };
        Axis { origin: axis.origin + self.across * (y - own), along, ..*axis }
    }

    /// A level stick between two places across, with its middle at `x`, described from wall B if `from_b`.
    pub(super) fn level(
        &self,
        (role, section): (Role, &Section),
        (x, bottom): (f64, f64),
        ends: [(f64, &'static str); 2],
        from_b: bool,
    ) -> Loose {
        let [(from, at_from), (to, at_to)] = ends;
        let mut trims =
            vec![end(at_from, self.toward_b(from).flipped()), end(at_to, self.toward_b(to))];
        let mut clips = self.clips();
        let mut axis = self.level_axis(x, from, bottom);
        if from_b {
            axis = Axis { along: -self.across, ..self.level_axis(x, to, bottom) };
            trims.reverse();
            clips.reverse();
        }
        trims.extend(clips);
        Loose { role, section: section.clone(), axis, trims }
    }

    /// The joist beside a pair whose near face is at `face_a` over wall A and, if it comes in two lengths, at `face_b` over wall B;
    /// a splice piece goes on the side `side` of it.
    pub(super) fn joist(
        &self,
        joist: &Joist,
        (face_a, face_b): (f64, f64),
        side: f64,
    ) -> Vec<Loose> {
        let Joist { section, bottom, .. } = joist;
        let half = section.thickness_in() / 2.0;
        let (start, stop) = self.reach;
        // described from its own eave, so that the joists of both eaves are one pattern
        let run = |face: f64, ends, from_b| {
            self.level((Role::CeilingJoist, section), (face + half, *bottom), ends, from_b)
        };
        let Some((bearing, meeting, lap)) = joist.bearing else {
            return vec![run(face_a, [(start, "plumb cut"), (stop, "plumb cut")], false)];
        };
        let half_lap = match meeting {
            Meeting::Splice => 0.0,
            Meeting::Offset | Meeting::Filler => lap / 2.0,
        };
        let mut sticks = vec![
            run(face_a, [(start, "plumb cut"), (bearing + half_lap, "square cut")], false),
            run(face_b, [(bearing - half_lap, "square cut"), (stop, "plumb cut")], true),
        ];
        match meeting {
            Meeting::Offset => {}
            Meeting::Splice => {
                let each = lap.max(SPLICE_EACH_SIDE_IN);
                let x = face_a + half + side * section.thickness_in();
                let ends = [(bearing - each, "square cut"), (bearing + each, "square cut")];
                sticks.push(self.level((Role::SplicePiece, section), (x, *bottom), ends, false));
            }
            Meeting::Filler => {
                sticks.push(self.filler(joist, face_a + half));
            }
        }
        sticks
    }

    /// The block between a rafter over wall B and the joist beside it, from the building line in to where the rafter is clear above
    /// the joist.
    fn filler(&self, joist: &Joist, x: f64) -> Loose {
        let (_, stop) = self.reach;
        let axis = Axis { along: -self.across, ..self.level_axis(x, self.span, joist.bottom) };
        let mut trims = vec![
            end("plumb cut", self.toward_b(stop)),
            end("square cut", self.toward_b(self.span - joist.heel_reach).flipped()),
        ];
        trims.extend(self.clips().into_iter().rev());
        Loose { role: Role::Filler, section: joist.section.clone(), axis, trims }
    }

    /// A level tie from roof plane to roof plane, its near face at `x`.
    pub(super) fn tie(&self, (role, section): (Role, &Section), bottom: f64, x: f64) -> Loose {
        let x = x + section.thickness_in() / 2.0;
        let (start, stop) = self.reach;
        let over_start = self
            .slopes
            .first()
            .and_then(|plane| plane.along_line(self.point(x, start, 0.0), DVec3::Z));
        let is_short = over_start.is_some_and(|height| bottom >= height);
        if is_short && self.slopes.len() == 2 {
            let named = |plane: &Plane| end("cut to the roof plane", *plane);
            let trims = self.slopes.iter().map(named).collect();
            let axis = self.level_axis(x, 0.0, bottom);
            return Loose { role, section: section.clone(), axis, trims };
        }
        let ends = [(start, "plumb cut"), (stop, "plumb cut")];
        let mut tie = self.level((role, section), (x, bottom), ends, false);
        // described from the building line
        tie.axis = self.level_axis(x, 0.0, bottom);
        tie
    }
}
