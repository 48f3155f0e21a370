//! A face in its own axes, and what a rafter meets on its way up the slope.

use crate::geom::{DVec2, DVec3, HalfPlane, Plane};
use crate::measure::tolerance::HAIR;
use crate::roof::{EdgeKind, Roof, Slope};

use super::lines::Line;

/// Which of the two headers of a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The lower one, which the tail rafters meet.
    Low,
    /// The upper one, which the head rafters meet.
    High,
}

/// What bounds a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// A line of this number.
    Line(usize),
    /// A level edge where it ends.
    Eave,
    /// A wall where it ends level, under what is laid on it or beside what it is laid on.
    Under,
    /// The sheathed slope that it is laid on.
    Deck,
    /// A header of the hole of this number.
    Hole(usize, End),
    /// What ends the hole of this number above, for what is laid on its face and comes up to it from below.
    Head(usize),
    /// Nothing that a rafter could be cut to: a rake, or where it goes on under another face.
    Open,
}

/// A straight part of the border of a face, in the face's axes: x along the eave, y up the slope in plan.
#[derive(Debug, Clone)]
pub struct Rim {
    /// One end.
    pub from: DVec2,
    /// The other.
    pub to: DVec2,
    /// What is there.
    pub bound: Bound,
}

impl Rim {
    /// How far up the slope it is at a station; its line is extended as far as necessary.
    #[must_use]
    pub fn up_at(&self, station: f64) -> f64 {
        let run = self.to.x - self.from.x;
        self.from.y + (self.to.y - self.from.y) * (station - self.from.x) / run
    }

    fn spans(&self, station: f64) -> bool {
        let (low, high) = (self.from.x.min(self.to.x), self.from.x.max(self.to.x));
        low <= station && station < high
    }
}

/// A face in its own axes.
#[derive(Debug, Clone)]
pub struct FaceAxes {
    /// Unit vector along the eave in plan; up the slope lies on its left.
    pub along: DVec2,
    /// Unit vector up the slope in plan.
    pub up: DVec2,
    /// Its plane.
    pub slope: Slope,
    /// What bounds it.
    pub rims: Vec<Rim>,
    /// Where it ends beside what stands or falls there, straight up the slope.
    pub sides: Vec<Rim>,
}

/// The part of a slope line between two rims.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Lower rim.
    pub low: usize,
    /// Upper rim.
    pub high: usize,
    /// Where the slope line crosses them.
    pub from: f64,
    /// The upper one.
    pub to: f64,
}

/// Stations are probed this much beside corners of a face, inches: more than rounding, less than any wood.
const BESIDE_IN: f64 = 1e-4;

impl FaceAxes {
    /// Parts the rims that lie on the slope below where a hole in it begins and ends: between its sides they come up to what ends it
    /// above. No rafter lies half over the hole and half beside it.
    pub(super) fn open_under(&mut self, number: usize, reach: (f64, f64)) {
        let mut rims: Vec<Rim> = Vec::new();
        for rim in self.rims.drain(..) {
            if rim.bound != Bound::Deck {
                rims.push(rim);
                continue;
            }
            let (low, high) = (rim.from.x.min(rim.to.x), rim.from.x.max(rim.to.x));
            let at = |station: f64| DVec2::new(station, rim.up_at(station));
            let parts = [
                (low, reach.0.min(high), Bound::Deck),
                (reach.0.max(low), reach.1.min(high), Bound::Head(number)),
                (reach.1.max(low), high, Bound::Deck),
            ];
            let parts = parts.into_iter().filter(|(from, to, _)| to - from > HAIR);
            rims.extend(parts.map(|(from, to, bound)| Rim { from: at(from), to: at(to), bound }));
        }
        self.rims = rims;
        let side = |station: f64| {
            let place = DVec2::new(station, 0.0);
            Rim { from: place, to: place, bound: Bound::Open }
        };
        self.sides.extend([reach.0, reach.1].map(side));
    }

    /// The face of this number with the lines beside it.
    #[must_use]
    pub fn of(roof: &Roof, face: usize, lines: &[Line]) -> FaceAxes {
        let slope = roof.faces[face].slope;
        let up = slope.gradient.normalize();
        let along = -up.perp();
        let place = |point: DVec2| DVec2::new(point.dot(along), point.dot(up));
        let mut rims: Vec<Rim> = Vec::new();
        for (number, line) in lines.iter().enumerate() {
            for border in line.borders.iter().filter(|border| border.face == face) {
                rims.push(Rim {
                    from: place(border.from),
                    to: place(border.to),
                    bound: Bound::Line(number),
                });
            }
        }
        for edge in &roof.edges {
            let upper = edge.faces.first() == Some(&face);
            let lower = !upper && edge.faces.contains(&face);
            let bound = match edge.kind {
                EdgeKind::Eave if upper => Bound::Eave,
                EdgeKind::Step if upper && edge.is_level() => Bound::Eave,
                EdgeKind::Under if upper => Bound::Under,
                EdgeKind::Laid if upper => Bound::Deck,
                EdgeKind::Rake | EdgeKind::Step if upper || lower => Bound::Open,
                _ => continue,
            };
            let (from, to) = (place(edge.from.truncate()), place(edge.to.truncate()));
            rims.push(Rim { from, to, bound });
        }
        // what runs straight up the slope is met by no slope line
        let (rims, sides) = rims.into_iter().partition(|rim| (rim.from.x - rim.to.x).abs() > HAIR);
        FaceAxes { along, up, slope, rims, sides }
    }

    /// A place in plan in its axes.
    #[must_use]
    pub fn place(&self, point: DVec2) -> DVec2 {
        DVec2::new(point.dot(self.along), point.dot(self.up))
    }

    /// A place of its axes in plan.
    #[must_use]
    pub fn plan(&self, station: f64, up: f64) -> DVec2 {
        self.along * station + self.up * up
    }

    /// The point of the face at a place of its axes.
    #[must_use]
    pub fn point(&self, station: f64, up: f64) -> DVec3 {
        self.slope.point(self.plan(station, up))
    }

    /// Unit vector straight up the slope.
    #[must_use]
    pub fn uphill(&self) -> DVec3 {
        let (cosine, sine) = self.turn();
        (self.up * cosine).extend(sine)
    }

    /// The part of the plan in which the face is on the inner side of a plane.
    #[must_use]
    pub fn inside(&self, plane: &Plane) -> HalfPlane {
        let Slope { gradient, at_origin } = self.slope;
        HalfPlane::at_most(
            plane.normal.truncate() + gradient * plane.normal.z,
            plane.offset - plane.normal.z * at_origin,
        )
    }

    /// Where the slope line at a station crosses a plane, up the face in plan.
    #[must_use]
    pub fn crosses(&self, plane: &Plane, station: f64) -> Option<f64> {
        let (cosine, _) = self.turn();
        plane.along_line(self.point(station, 0.0), self.uphill()).map(|far| far * cosine)
    }

    /// Cosine and sine of its angle above level.
    #[must_use]
    pub fn turn(&self) -> (f64, f64) {
        let secant = self.slope.stretch();
        (1.0 / secant, self.slope.tangent() / secant)
    }

    /// Everything that the slope line at a station runs through the face, from low to high. Where it starts in the corner between an eave
    /// and a line, on either side, the line is what it starts at.
    #[must_use]
    pub fn stretches(&self, station: f64) -> Vec<Stretch> {
        let mut found = self.probed(station, station + BESIDE_IN);
        let before = self.probed(station, station - BESIDE_IN);
        for stretch in &mut found {
            let starts = |other: &&Stretch| (other.from - stretch.from).abs() < BESIDE_IN;
            let is_line = |rim: usize| matches!(self.rims[rim].bound, Bound::Line(_));
            if let Some(other) = before.iter().find(starts)
                && self.rims[stretch.low].bound == Bound::Eave
                && is_line(other.low)
            {
                stretch.low = other.low;
            }
        }
        found
    }

    fn probed(&self, station: f64, probe: f64) -> Vec<Stretch> {
        let mut met: Vec<(f64, f64, usize)> = Vec::new();
        for (number, rim) in self.rims.iter().enumerate().filter(|(_, rim)| rim.spans(probe)) {
            met.push((rim.up_at(probe), rim.up_at(station), number));
        }
        met.sort_by(|one, other| one.0.total_cmp(&other.0));
        let pairs = met.chunks_exact(2).map(|pair| Stretch {
            low: pair[0].2,
            high: pair[1].2,
            from: pair[0].1,
            to: pair[1].1,
        });
        pairs.filter(|stretch| stretch.to - stretch.from > BESIDE_IN).collect()
    }

    /// True if the place of its axes lies in it.
    #[must_use]
    pub fn holds(&self, place: DVec2) -> bool {
        let within = |stretch: &Stretch| stretch.from < place.y && place.y < stretch.to;
        self.probed(place.x, place.x).iter().any(within)
    }

    /// The rims that a rafter of some width meets below and above, along its stretch, each in the order of stations.
    #[must_use]
    pub fn met(&self, station: f64, half: f64, stretch: &Stretch) -> [Vec<usize>; 2] {
        let (first, last) = (station - half, station + half);
        let mut probes = vec![first + BESIDE_IN, last - BESIDE_IN];
        for rim in &self.rims {
            for corner in [rim.from.x, rim.to.x] {
                if corner > first + BESIDE_IN && corner < last - BESIDE_IN {
                    probes.extend([corner - BESIDE_IN, corner + BESIDE_IN]);
                }
            }
        }
        probes.sort_by(f64::total_cmp);
        let (mut below, mut above) = (vec![stretch.low], vec![stretch.high]);
        let middle = probes.partition_point(|probe| *probe <= station);
        // from the middle outward, as long as the face goes on
        let mut walk = |probes: &mut dyn Iterator<Item = &f64>| {
            let mut last = (station, *stretch);
            for &probe in probes {
                let Some(found) = self.goes_on(last, probe) else { return };
                if !below.contains(&found.low) {
                    below.push(found.low);
                }
                if !above.contains(&found.high) {
                    above.push(found.high);
                }
                last = (probe, found);
            }
        };
        walk(&mut probes[middle..].iter());
        walk(&mut probes[..middle].iter().rev());
        [below, above]
    }

    /// The stretch at another station that a stretch runs into.
    fn goes_on(&self, (station, stretch): (f64, Stretch), probe: f64) -> Option<Stretch> {
        let found = self.probed(probe, probe);
        let same = |other: &&Stretch| other.low == stretch.low && other.high == stretch.high;
        if let Some(same) = found.iter().find(same) {
            return Some(*same);
        }
        // just beyond a corner other rims may bound it
        let near = (probe - station).abs() < 4.0 * BESIDE_IN;
        let shared = |other: &Stretch| other.to.min(stretch.to) - other.from.max(stretch.from);
        let best = found.into_iter().max_by(|one, other| shared(one).total_cmp(&shared(other)))?;
        (shared(&best) > 100.0 * BESIDE_IN || !near && shared(&best) > 0.0).then_some(best)
    }

    /// The plumb plane along a rim, `clear` inches before it, its outside beyond it: below the face or above it.
    #[must_use]
    pub fn cut_along(&self, rim: usize, clear: f64, above: bool) -> Plane {
        let rim = &self.rims[rim];
        let (from, to) = (self.plan(rim.from.x, rim.from.y), self.plan(rim.to.x, rim.to.y));
        let side = (to - from).normalize().perp();
        let out = if (side.dot(self.up) > 0.0) == above { side } else { -side };
        Plane::through((from - out * clear).extend(0.0), out.extend(0.0))
    }
}
