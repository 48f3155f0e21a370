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
        if let Some(other) = self.opposite(own).filter(|other| self.before(other, own)) {
            let end = self.place + own.out * self.past(other);
            cuts.push(Plane::through(end.extend(0.0), -own.out.extend(0.0)));
        }
        if cuts.is_empty() && self.rays.len() > 1 {
            let end = self.place - own.out * self.past(own);
            cuts.push(Plane::through(end.extend(0.0), -own.out.extend(0.0)));
        }
        cuts
    }

    /// True if one stick goes before another: what goes through first, then what carries. Two that butt in one line go together, so that
    /// no third comes between them.
    fn before(&self, one: &Ray, other: &Ray) -> bool {
        let turn = |ray: &Ray| {
            let butts = self.opposite(ray).filter(|beyond| beyond.rank == ray.rank);
            let first = butts.map_or(ray.stick, |beyond| ray.stick.min(beyond.stick));
            (ray.rank, first, ray.stick)
        };
        turn(one) < turn(other)
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
                .filter(|other| self.before(other, own))
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
        let landing =
            self.rays.iter().filter(|other| self.before(own, other) && !is_past(own, other));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::DVec3;

    const HALF_IN: f64 = 0.75;

    fn line(of: LineOf, foot: (f64, f64), head: (f64, f64)) -> Line {
        let rise = if of == LineOf::Ridge { 50.0 } else { 0.0 };
        Line {
            of,
            name: String::new(),
            foot: DVec3::new(foot.0, foot.1, rise),
            head: DVec3::new(head.0, head.1, 50.0),
            layer: 0,
            half: HALF_IN,
            borders: Vec::new(),
        }
    }

    fn cuts(at: (f64, f64), lines: &[Line], number: usize) -> Vec<Plane> {
        Node::at(DVec2::from(at), 0, lines, &[]).cuts(Stick::Line(number))
    }

    /// How far the stick of a line goes past a node along its middle, by each of its cuts.
    fn past(at: (f64, f64), lines: &[Line], number: usize, out: DVec2) -> Vec<f64> {
        let place = DVec2::from(at).extend(0.0);
        let cuts = cuts(at, lines, number);
        let ends = cuts.iter().map(|plane| plane.along_line(place, out.extend(0.0)).unwrap());
        let mut ends: Vec<f64> = ends.collect();
        // a stick that goes through has one side on both sides of the node
        ends.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
        ends
    }

    #[track_caller]
    fn near(found: &[f64], by_hand: &[f64]) {
        let all = found.iter().zip(by_hand).all(|(one, other)| (one - other).abs() < 1e-9);
        assert!(found.len() == by_hand.len() && all, "{found:?}, by hand {by_hand:?}");
    }

    /// Four hips that meet in a point: the first and the one in line with it butt there, the two others end at their sides, 3/4 in from
    /// the point.
    #[test]
    fn hips_in_one_line_butt_and_the_others_end_at_their_sides() {
        let peak = (100.0, 100.0);
        let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 200.0), (0.0, 200.0)];
        let hips = corners.map(|corner| line(LineOf::Hip, corner, peak));
        for (number, by_hand) in [(0, 0.0), (1, -HALF_IN), (2, 0.0), (3, -HALF_IN)] {
            let out = hips[number].toward_head();
            // the nearest of its cuts ends it, square across
            let found = past(peak, &hips, number, out);
            let first = found.iter().copied().fold(f64::INFINITY, f64::min);
            near(&[first], &[by_hand]);
            for cut in cuts(peak, &hips, number) {
                assert!(cut.normal.dot(out.extend(0.0)) > 1.0 - 1e-9, "{cut:?}");
            }
        }
    }

    /// Where two hips at 45 deg meet the end of a ridge, the ridge runs on until its corners meet the far sides of both: the side of a
    /// hip 3/4 in off its middle crosses the ridge's side at sqrt(2) x 3/4 + 3/4 in. The hips end at the ridge's sides: 3/4 in aside, along
    /// them sqrt(2) x 3/4 in before the point.
    #[test]
    fn a_ridge_runs_on_between_its_hips() {
        let end = (100.0, 100.0);
        let lines = [
            line(LineOf::Ridge, end, (300.0, 100.0)),
            line(LineOf::Hip, (0.0, 0.0), end),
            line(LineOf::Hip, (0.0, 200.0), end),
        ];
        let corner = HALF_IN * (2.0_f64.sqrt() + 1.0);
        near(&past(end, &lines, 0, -DVec2::X), &[corner]);
        let aside = -HALF_IN * 2.0_f64.sqrt();
        near(&past(end, &lines, 1, lines[1].toward_head()), &[aside]);
        // the second also at the first, which it meets at 90 deg
        near(&past(end, &lines, 2, lines[2].toward_head()), &[-HALF_IN, aside]);
        // a king that comes up against the ridge ends where the ridge does
        let king = King {
            face: 0,
            station: 0.0,
            head: DVec2::from(end),
            down: -DVec2::X,
            half: HALF_IN,
            beside: 1,
        };
        let node = Node::at(DVec2::from(end), 0, &lines, &[king]);
        let own = node.cuts(Stick::King(0));
        assert_eq!(own.len(), 1, "{own:?}");
        let place = DVec3::new(100.0, 100.0, 0.0);
        near(&[own[0].along_line(place, -DVec3::X).unwrap()], &[corner]);
        let ridge = &node.cuts(Stick::Line(0))[0];
        near(&[ridge.along_line(place, -DVec3::X).unwrap()], &[corner]);
    }

    /// The four kings of a pyramid: those of the long walls butt in the point, the two others end at their sides. Where a ridge thinner than
    /// a rafter comes in between two hips, both kings beside it reach its sides.
    #[test]
    fn kings_across_from_each_other_are_cut_alike() {
        let peak = DVec2::new(100.0, 100.0);
        let kings = [-DVec2::Y, -DVec2::X, DVec2::Y, DVec2::X].map(|down| King {
            face: 0,
            station: 0.0,
            head: peak,
            down,
            half: HALF_IN,
            beside: 1,
        });
        let reach = |lines: &[Line], kings: &[King], number: usize| {
            let cuts = Node::at(peak, 0, lines, kings).cuts(Stick::King(number));
            let up = -kings[number].down.extend(0.0);
            let all = cuts.iter().map(|cut| cut.along_line(peak.extend(0.0), up).unwrap());
            all.fold(f64::INFINITY, f64::min)
        };
        for (number, by_hand) in [(0, 0.0), (1, -HALF_IN), (2, 0.0), (3, -HALF_IN)] {
            near(&[reach(&[], &kings, number)], &[by_hand]);
        }
        let mut thin = line(LineOf::Ridge, (100.0, 100.0), (300.0, 100.0));
        thin.half = 0.375;
        for number in [0, 2] {
            near(&[reach(std::slice::from_ref(&thin), &kings[..3], number)], &[-0.375]);
        }
    }

    /// A valley that ends at a ridge which goes through is cut to its side; alone, an end has no cut.
    #[test]
    fn what_ends_at_a_line_that_goes_through_is_cut_to_its_side() {
        let at = (100.0, 100.0);
        let lines = [
            line(LineOf::Ridge, (0.0, 100.0), (300.0, 100.0)),
            line(LineOf::Valley, (40.0, 20.0), at),
        ];
        let out = lines[1].toward_head();
        // 3/4 in before the ridge's middle; the valley climbs 80 across for each 100 along
        near(&past(at, &lines, 1, out), &[-HALF_IN * 100.0 / 80.0]);
        assert!(cuts(at, &lines, 0).is_empty());
        assert!(cuts((40.0, 20.0), &lines, 1).is_empty());
        // what belongs to another layer does not meet it
        let mut other = lines;
        other[0].layer = 1;
        assert!(cuts(at, &other, 1).is_empty());
    }

    /// Two valleys that meet below the ridge, of which one goes on: the other is cut to its side. Where both end at the end of a ridge, they
    /// carry on both sides of it.
    #[test]
    fn a_valley_that_goes_on_carries_the_other_and_the_ridge_between_them() {
        let at = (100.0, 100.0);
        let lines = [
            line(LineOf::Valley, (0.0, 0.0), (200.0, 200.0)),
            line(LineOf::Valley, (200.0, 0.0), at),
            line(LineOf::Ridge, (100.0, -50.0), at),
        ];
        // square to it
        let out = lines[1].toward_head();
        near(&past(at, &lines, 1, out), &[-HALF_IN]);
        // the ridge comes up between both: it is cut to the side of each, 45 deg off its way
        near(&past(at, &lines, 2, DVec2::Y), &[-HALF_IN * 2.0_f64.sqrt()]);
        assert!(cuts(at, &lines, 0).is_empty());
    }
}
