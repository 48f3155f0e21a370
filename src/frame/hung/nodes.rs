//! Where lines meet: which of them goes through, and the planes to which the others are cut.

use crate::geom::{DVec2, Plane};

use super::lines::{Line, LineOf, NEAR_IN};

/// A rafter whose top stands at the head of a hip: the side common or the end common there.
#[derive(Debug, Clone, PartialEq)]
pub struct King {
    /// Its face.
    pub face: usize,
    /// Its place along the face.
    pub station: f64,
    /// Where its center line ends in plan.
    pub head: DVec2,
    /// Unit direction in plan down the slope.
    pub down: DVec2,
    /// Half its thickness.
    pub half: f64,
    /// The other face of the hip: it names the king.
    pub beside: usize,
}

/// What lies along a ray out of a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stick {
    /// A line of this number.
    Line(usize),
    /// A king of this number.
    King(usize),
}

/// One stick seen from a node: it leaves it in one direction.
#[derive(Debug, Clone, Copy)]
struct Ray {
    stick: Stick,
    out: DVec2,
    half: f64,
    /// less is cut later: what goes through first, then what carries
    rank: u32,
    /// false where the stick goes on beyond the node
    ends: bool,
}

impl Ray {
    fn before(&self, other: &Ray) -> bool {
        (self.rank, self.stick) < (other.rank, other.stick)
    }
}

/// A place in plan where sticks meet.
#[derive(Debug, Clone)]
pub struct Node {
    place: DVec2,
    rays: Vec<Ray>,
}

impl Node {
    /// Everything of a layer that meets at a place.
    #[must_use]
    pub fn at(place: DVec2, layer: usize, lines: &[Line], kings: &[King]) -> Node {
        let passing = |line: &&Line| line.layer == layer && line.passes(place);
        let ends_at = |line: &Line| {
            [line.foot, line.head].map(|end| end.truncate().distance(place) < NEAR_IN)
        };
        let through = |line: &Line| ends_at(line) == [false, false];
        let carried_by_valley =
            lines.iter().filter(passing).any(|line| through(line) && line.of == LineOf::Valley);
        let mut rays = Vec::new();
        for (number, line) in lines.iter().enumerate().filter(|(_, line)| passing(line)) {
            let rank = match line.of {
                _ if through(line) => 0,
                LineOf::Ridge => 1 + u32::from(carried_by_valley),
                LineOf::Valley | LineOf::Header => 2 - u32::from(carried_by_valley),
                LineOf::Hip => 4,
            };
            let [at_foot, at_head] = ends_at(line);
            let along = line.toward_head();
            for (out, there) in [(along, at_head), (-along, at_foot)] {
                // a stick that ends here leaves on one side only
                if !there {
                    let ray = Ray {
                        stick: Stick::Line(number),
                        out,
                        half: line.half,
                        rank,
                        ends: at_foot || at_head,
                    };
                    rays.push(ray);
                }
            }
        }
        for (number, king) in kings.iter().enumerate() {
            if king.head.distance(place) < NEAR_IN {
                rays.push(Ray {
                    stick: Stick::King(number),
                    out: king.down,
                    half: king.half,
                    rank: 3,
                    ends: true,
                });
            }
        }
        Node { place, rays }
    }

    /// The plumb planes to which a stick is cut where it ends here, its outside beyond them; none if it is alone.
    #[must_use]
    pub fn cuts(&self, stick: Stick) -> Vec<Plane> {
        let Some(own) = self.rays.iter().find(|ray| ray.stick == stick && ray.ends) else {
            return Vec::new();
        };
        let mut cuts: Vec<Plane> =
            self.beside(own).into_iter().map(|other| self.side_of(other, own)).collect();
        if let Some(other) = self.opposite(own).filter(|other| other.before(own)) {
            let end = self.place + own.out * self.past(other);
            cuts.push(Plane::through(end.extend(0.0), -own.out.extend(0.0)));
        }
        if cuts.is_empty() && self.rays.len() > 1 {
            let end = self.place - own.out * self.past(own);
            cuts.push(Plane::through(end.extend(0.0), -own.out.extend(0.0)));
        }
        cuts
    }

    /// The nearest sticks on its two sides that are cut before it.
    fn beside(&self, own: &Ray) -> Vec<&Ray> {
        let mut found = Vec::new();
        for turn in [1.0, -1.0] {
            let angle = |other: &Ray| {
                let angle = turn * own.out.perp_dot(other.out).atan2(own.out.dot(other.out));
                (angle > STRAIGHT && angle < std::f64::consts::PI - STRAIGHT).then_some(angle)
            };
            let nearest = self
                .rays
                .iter()
                .filter(|other| other.before(own))
                .filter_map(|other| Some((angle(other)?, other)))
                .min_by(|one, other| one.0.total_cmp(&other.0));
            found.extend(nearest.map(|(_, other)| other));
        }
        found
    }

    /// What leaves the node the opposite way.
    fn opposite(&self, own: &Ray) -> Option<&Ray> {
        self.rays.iter().find(|other| own.out.dot(other.out) < -1.0 + STRAIGHT * STRAIGHT)
    }

    /// The side of one stick that another is cut to.
    fn side_of(&self, other: &Ray, own: &Ray) -> Plane {
        if other.ends && is_past(other, own) {
            // it leaves almost the opposite way: both end in one plane
            let end = self.place - other.out * self.past(other);
            return Plane::through(end.extend(0.0), other.out.extend(0.0));
        }
        let side = other.out.perp();
        let toward_own = if side.dot(own.out) > 0.0 { side } else { -side };
        Plane::through((self.place + toward_own * other.half).extend(0.0), -toward_own.extend(0.0))
    }

    /// How far a stick runs past the node, so that everything cut to its sides lands on it.
    fn past(&self, own: &Ray) -> f64 {
        if self.opposite(own).is_some_and(|other| other.rank == own.rank) {
            return 0.0;
        }
        let landing = self.rays.iter().filter(|other| own.before(other) && !is_past(own, other));
        let landing = landing
            .filter(|other| self.beside(other).iter().any(|carrier| carrier.stick == own.stick));
        let past = landing.map(|other| {
            let sine = own.out.perp_dot(other.out).abs();
            (other.half - own.half * own.out.dot(other.out)) / sine
        });
        past.fold(0.0, f64::max)
    }
}

/// Two directions this close are one, radians.
const STRAIGHT: f64 = 1e-6;

/// True if one stick goes on nearly as the other comes.
fn is_past(one: &Ray, other: &Ray) -> bool {
    one.out.dot(other.out) < -0.8
}
