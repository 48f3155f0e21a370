//! Parts of a plane with any number of corners, notches and holes: cut by lines along x and along y.
//!
//! A region is a row of convex parts between lines straight up, one beside the other, so every cut of it is again a region.

use super::{DVec2, HalfPlane, Polygon};
use crate::measure::tolerance::{HAIR, ON_IT};

/// A part of a plane in its own axes, inches: x to the right, y up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    parts: Vec<Polygon>,
}

/// A stretch straight up, from its lower to its upper end.
pub type Upright = (f64, f64);

impl Region {
    /// What these loops bound: the outline, and holes in it.
    #[must_use]
    pub fn within(loops: &[Vec<DVec2>]) -> Region {
        let around = |corners: &Vec<DVec2>| {
            let next = corners.iter().cycle().skip(1);
            corners.iter().copied().zip(next.copied()).collect::<Vec<_>>()
        };
        let sides: Vec<(DVec2, DVec2)> = loops.iter().flat_map(around).collect();
        let mut places: Vec<f64> = sides.iter().map(|(from, _)| from.x).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|one, other| (*one - *other).abs() <= HAIR);
        let mut parts = Vec::new();
        for pair in places.windows(2) {
            let middle = f64::midpoint(pair[0], pair[1]);
            let spans = |(from, to): &&(DVec2, DVec2)| (from.x < middle) != (to.x < middle);
            let height = |(from, to): &(DVec2, DVec2), x: f64| {
                from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x)
            };
            let mut met: Vec<&(DVec2, DVec2)> = sides.iter().filter(spans).collect();
            met.sort_by(|one, other| height(one, middle).total_cmp(&height(other, middle)));
            for two in met.chunks_exact(2) {
                let corner =
                    |side: usize, end: usize| DVec2::new(pair[end], height(two[side], pair[end]));
                let mut corners = vec![corner(0, 0), corner(0, 1), corner(1, 1), corner(1, 0)];
                corners.dedup_by(|one, other| one.distance(*other) <= HAIR);
                if corners.len() > 2 && corners[0].distance(corners[corners.len() - 1]) <= HAIR {
                    corners.pop();
                }
                parts.extend((corners.len() > 2).then(|| Polygon::convex(corners)));
            }
        }
        Region { parts }
    }

    /// Its convex parts.
    #[must_use]
    pub fn parts(&self) -> &[Polygon] {
        &self.parts
    }

    /// Area, square inches.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.parts.iter().map(Polygon::area).sum()
    }

    fn corners(&self) -> impl Iterator<Item = DVec2> + '_ {
        self.parts.iter().flat_map(|part| part.corners()).copied()
    }

    /// Its lowest and its highest corner in x, and in y.
    #[must_use]
    pub fn extent(&self) -> (DVec2, DVec2) {
        let none = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        self.corners().fold(none, |(low, high), at| (low.min(at), high.max(at)))
    }

    fn cut(&self, halves: &[HalfPlane]) -> Region {
        let cut = |part: &Polygon| part.within_all(halves.iter().copied());
        Region { parts: self.parts.iter().filter_map(cut).collect() }
    }

    /// What of it lies between two level lines.
    #[must_use]
    pub fn between_levels(&self, low: f64, high: f64) -> Region {
        self.cut(&[HalfPlane::at_most(-DVec2::Y, -low), HalfPlane::at_most(DVec2::Y, high)])
    }

    /// What of it lies between two lines straight up.
    #[must_use]
    pub fn between(&self, left: f64, right: f64) -> Region {
        self.cut(&[HalfPlane::at_most(-DVec2::X, -left), HalfPlane::at_most(DVec2::X, right)])
    }

    /// Where the line straight up at `x` runs through it, looked at a little beside.
    fn beside(&self, x: f64) -> Vec<Upright> {
        let mut met: Vec<Upright> = Vec::new();
        for part in &self.parts {
            let heights = part
                .sides()
                .filter(|(from, to)| (from.x < x) != (to.x < x))
                .map(|(from, to)| from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x));
            let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| {
                (low.min(y), high.max(y))
            });
            if high > low {
                met.push((low, high));
            }
        }
        met.sort_by(|one, other| one.0.total_cmp(&other.0));
        met.dedup_by(|next, before| {
            let touch = next.0 <= before.1 + HAIR;
            if touch {
                before.1 = before.1.max(next.1);
            }
            touch
        });
        met
    }

    /// Where the line straight up at `x` runs through it.
    #[must_use]
    pub fn uprights(&self, x: f64) -> Vec<Upright> {
        let (left, right) = (self.beside(x - BESIDE_IN), self.beside(x + BESIDE_IN));
        // where a corner lies on the line, what both sides have in common
        let common = left.iter().flat_map(|one| {
            right.iter().map(move |other| (one.0.max(other.0), one.1.min(other.1)))
        });
        common.filter(|(low, high)| high - low > 2.0 * BESIDE_IN).collect()
    }

    /// The length of its longest reach straight up at `x`.
    #[must_use]
    pub fn tallest(&self, x: f64) -> f64 {
        self.uprights(x).iter().map(|(low, high)| high - low).fold(0.0, f64::max)
    }

    /// Its parts by what hangs together along more than a point, from left to right.
    #[must_use]
    pub fn pieces(&self) -> Vec<Region> {
        let mut group: Vec<usize> = (0..self.parts.len()).collect();
        for one in 0..self.parts.len() {
            for other in one + 1..self.parts.len() {
                if group[one] != group[other] && share_a_side(&self.parts[one], &self.parts[other])
                {
                    let (keep, gone) = (group[one], group[other]);
                    group.iter_mut().filter(|of| **of == gone).for_each(|of| *of = keep);
                }
            }
        }
        let mut pieces: Vec<Region> = Vec::new();
        let mut of_group: Vec<usize> = Vec::new();
        for (part, of) in self.parts.iter().zip(group) {
            match of_group.iter().position(|known| *known == of) {
                Some(at) => pieces[at].parts.push(part.clone()),
                None => {
                    of_group.push(of);
                    pieces.push(Region { parts: vec![part.clone()] });
                }
            }
        }
        pieces.sort_by(|one, other| {
            let (one, other) = (one.extent().0, other.extent().0);
            one.x.total_cmp(&other.x).then(one.y.total_cmp(&other.y))
        });
        pieces
    }

    /// Its outline, counterclockwise, and then the loops around its holes, without corners on a straight side.
    #[must_use]
    pub fn loops(&self) -> Vec<Vec<DVec2>> {
        let mut sides: Vec<(DVec2, DVec2)> = Vec::new();
        for part in &self.parts {
            sides.extend(part.sides().filter(|(from, to)| (from.x - to.x).abs() > HAIR));
        }
        // upright sides: where the region lies on one side alone
        let mut places: Vec<f64> = self.corners().map(|corner| corner.x).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|one, other| (*one - *other).abs() <= HAIR);
        for x in places {
            let (left, right) = (self.upright_sides(x, false), self.upright_sides(x, true));
            sides.extend(
                without(&left, &right).map(|(low, high)| (DVec2::new(x, low), DVec2::new(x, high))),
            );
            sides.extend(
                without(&right, &left).map(|(low, high)| (DVec2::new(x, high), DVec2::new(x, low))),
            );
        }
        chained(sides)
    }

    /// Upright sides at `x` of the parts right of it, or left of it.
    fn upright_sides(&self, x: f64, is_right: bool) -> Vec<Upright> {
        let sides = self.parts.iter().flat_map(|part| part.sides());
        let own = sides.filter(|(from, to)| {
            (from.x - x).abs() <= HAIR
                && (to.x - x).abs() <= HAIR
                // counterclockwise: up on the right side of a part, down on its left
                && (to.y > from.y) != is_right
        });
        let mut own: Vec<Upright> =
            own.map(|(from, to)| (from.y.min(to.y), from.y.max(to.y))).collect();
        own.sort_by(|one, other| one.0.total_cmp(&other.0));
        own
    }
}

/// Beside a corner a region is looked at this far from it, inches: more than rounding, less than a tape shows.
const BESIDE_IN: f64 = 1e-4;

/// True if two convex parts touch along more than a point.
fn share_a_side(one: &Polygon, other: &Polygon) -> bool {
    one.sides().any(|(from, to)| {
        let along = (to - from).normalize_or_zero();
        let reach = from.dot(along)..to.dot(along);
        other.sides().any(|(low, high)| {
            let off = |at: DVec2| along.perp_dot(at - from).abs();
            let (first, last) = (high.dot(along), low.dot(along));
            off(low) <= HAIR
                && off(high) <= HAIR
                && last.min(reach.end) - first.max(reach.start) > 2.0 * BESIDE_IN
        })
    })
}

/// The stretches less those others.
fn without<'a>(of: &'a [Upright], less: &'a [Upright]) -> impl Iterator<Item = Upright> + 'a {
    of.iter().flat_map(move |stretch| {
        let mut rest = vec![*stretch];
        for gone in less {
            rest = rest
                .into_iter()
                .flat_map(|(low, high)| [(low, high.min(gone.0)), (low.max(gone.1), high)])
                .filter(|(low, high)| high - low > ON_IT)
                .collect();
        }
        rest
    })
}

/// Closed loops out of sides, the longest way around first.
fn chained(mut sides: Vec<(DVec2, DVec2)>) -> Vec<Vec<DVec2>> {
    let mut loops: Vec<Vec<DVec2>> = Vec::new();
    while let Some((start, mut at)) = sides.pop() {
        let mut corners = vec![start];
        while at.distance(start) > 2.0 * HAIR {
            corners.push(at);
            let near = |(from, _): &(DVec2, DVec2)| from.distance(at) <= 2.0 * HAIR;
            let Some(next) = sides.iter().position(near) else { break };
            at = sides.swap_remove(next).1;
        }
        let count = corners.len();
        let is_corner = |here: &usize| {
            let before = corners[(here + count - 1) % count];
            let along = corners[(here + 1) % count] - before;
            along.perp_dot(corners[*here] - before).abs() > HAIR * along.length().max(HAIR)
        };
        let kept: Vec<DVec2> = (0..count).filter(is_corner).map(|here| corners[here]).collect();
        loops.extend((kept.len() > 2).then_some(kept));
    }
    let area = |corners: &Vec<DVec2>| {
        let around = corners.iter().zip(corners.iter().cycle().skip(1));
        around.map(|(from, to)| from.perp_dot(*to)).sum::<f64>()
    };
    loops.sort_by(|one, other| area(other).total_cmp(&area(one)));
    loops
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn loops(corners: &[(f64, f64)]) -> Vec<Vec<DVec2>> {
        vec![corners.iter().map(|&(x, y)| DVec2::new(x, y)).collect()]
    }

    #[test]
    fn a_face_with_a_notch_is_cut_into_runs() {
        // a main face with a wing before it: the valleys meet at (50, 40)
        let face = loops(&[
            (0.0, 0.0),
            (30.0, 0.0),
            (50.0, 40.0),
            (70.0, 0.0),
            (100.0, 0.0),
            (100.0, 60.0),
            (0.0, 60.0),
        ]);
        let region = Region::within(&face);
        assert_abs_diff_eq!(region.area(), 6000.0 - 800.0, epsilon = 1e-9);
        let low = region.between_levels(0.0, 20.0);
        let runs = low.pieces();
        assert_eq!(runs.len(), 2);
        assert_abs_diff_eq!(runs[0].extent().1.x, 40.0, epsilon = 1e-9);
        assert_eq!(runs[0].loops().len(), 1);
        assert_eq!(region.between_levels(20.0, 60.0).pieces().len(), 1);
        assert_eq!(region.uprights(50.0).len(), 1);
        assert_abs_diff_eq!(region.tallest(50.0), 20.0, epsilon = 1e-2);
        let outline = region.loops();
        assert_eq!((outline.len(), outline[0].len()), (1, 7));
    }

    #[test]
    fn a_hole_stays_a_hole() {
        let mut face = loops(&[(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]);
        face.extend(loops(&[(40.0, 20.0), (40.0, 40.0), (60.0, 40.0), (60.0, 20.0)]));
        let region = Region::within(&face);
        assert_abs_diff_eq!(region.area(), 5600.0, epsilon = 1e-9);
        let around = region.loops();
        assert_eq!(around.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
        assert_eq!(region.uprights(50.0).len(), 2);
        // a cut through the hole leaves one piece on each side
        assert_eq!(region.between(0.0, 50.0).pieces().len(), 1);
        assert_eq!(region.between(45.0, 55.0).pieces().len(), 2);
    }
}
