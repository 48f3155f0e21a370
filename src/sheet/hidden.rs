//! Lines in space as they are seen past flat faces: what a nearer face hides is left out.

use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::{HAIR, LAST_BITS};

use super::projection::Sight;

/// A flat face: corners around it, and around each hole in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    /// Corners around it.
    pub outline: Vec<DVec3>,
    /// Corners around each hole.
    pub holes: Vec<Vec<DVec3>>,
}

/// A face hides what is farther behind it than this, inches.
const BEHIND: f64 = 0.05;

/// A face as it is seen: rings in the view, and its depth there.
struct Screen {
    rings: Vec<Vec<DVec2>>,
    low: DVec2,
    high: DVec2,
    /// Toward the viewer at the origin of the view, and its change to the right and up.
    depth: f64,
    change: DVec2,
}

impl Screen {
    /// `None` for a face seen from its edge, which hides nothing.
    fn of(face: &Flat, sight: Sight) -> Option<Screen> {
        let corners = &face.outline;
        let after = corners.iter().cycle().skip(1);
        let normal = corners.iter().zip(after).map(|(one, next)| one.cross(*next)).sum::<DVec3>();
        let normal = normal.normalize_or_zero();
        let facing = normal.dot(sight.toward());
        if facing.abs() < LAST_BITS.max(1e-6) {
            return None;
        }
        let rings: Vec<Vec<DVec2>> = std::iter::once(corners)
            .chain(&face.holes)
            .map(|ring| ring.iter().map(|corner| sight.flat(*corner)).collect())
            .collect();
        let all = || rings[0].iter().copied();
        Some(Screen {
            low: all().fold(DVec2::INFINITY, DVec2::min),
            high: all().fold(DVec2::NEG_INFINITY, DVec2::max),
            depth: normal.dot(*corners.first()?) / facing,
            change: -DVec2::new(normal.dot(sight.right), normal.dot(sight.up)) / facing,
            rings,
        })
    }

    fn depth_at(&self, place: DVec2) -> f64 {
        self.depth + self.change.dot(place)
    }

    fn edges(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        self.rings
            .iter()
            .flat_map(|ring| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)))
    }

    fn holds(&self, place: DVec2) -> bool {
        let crossed = self.edges().filter(|(from, to)| {
            (from.y > place.y) != (to.y > place.y)
                && place.x < from.x + (to.x - from.x) * (place.y - from.y) / (to.y - from.y)
        });
        crossed.count() % 2 == 1
    }
}

/// The visible pieces of each line, in the view, inches of work; each with the number of its line.
#[must_use]
pub fn visible(faces: &[Flat], lines: &[[DVec3; 2]], sight: Sight) -> Vec<(usize, [DVec2; 2])> {
    let screens: Vec<Screen> = faces.iter().filter_map(|face| Screen::of(face, sight)).collect();
    let mut pieces = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        let [from, to] = line.map(|end| sight.flat(end));
        if from.distance(to) < HAIR {
            continue;
        }
        let depths = line.map(|end| end.dot(sight.toward()));
        let depth = |part: f64| depths[0] + (depths[1] - depths[0]) * part;
        let place = |part: f64| from + (to - from) * part;
        let (low, high) = (from.min(to), from.max(to));
        let near: Vec<&Screen> = screens
            .iter()
            .filter(|one| low.cmple(one.high).all() && one.low.cmple(high).all())
            .collect();
        let mut parts = vec![0.0, 1.0];
        for screen in &near {
            parts.extend(screen.edges().filter_map(|edge| crossing((from, to), edge)));
            // where it goes through the face
            let past = [0.0, 1.0].map(|end| depth(end) - screen.depth_at(place(end)));
            if past[0] * past[1] < 0.0 {
                parts.push(past[0] / (past[0] - past[1]));
            }
        }
        parts.sort_by(f64::total_cmp);
        let mut shown: Option<[f64; 2]> = None;
        for ends in parts.windows(2) {
            if (ends[1] - ends[0]) * from.distance(to) < HAIR {
                continue;
            }
            let middle = (ends[0] + ends[1]) / 2.0;
            let (at, own) = (place(middle), depth(middle));
            let hidden =
                near.iter().any(|screen| screen.depth_at(at) > own + BEHIND && screen.holds(at));
            match (&mut shown, hidden) {
                (Some(piece), false) => piece[1] = ends[1],
                (None, false) => shown = Some([ends[0], ends[1]]),
                (_, true) => pieces.extend(shown.take().map(|piece| (number, piece.map(place)))),
            }
        }
        pieces.extend(shown.map(|piece| (number, piece.map(place))));
    }
    pieces
}

/// Where along the first stretch it crosses the second one, as a part of its length.
fn crossing((from, to): (DVec2, DVec2), (start, end): (DVec2, DVec2)) -> Option<f64> {
    let (way, other) = (to - from, end - start);
    let across = way.perp_dot(other);
    if across.abs() < LAST_BITS {
        return None;
    }
    let part = (start - from).perp_dot(other) / across;
    let along = (start - from).perp_dot(way) / across;
    ((0.0..=1.0).contains(&part) && (-1e-9..=1.0 + 1e-9).contains(&along)).then_some(part)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square wall 4 in wide and high at the distance `y` from eave A, seen from outside it.
    fn wall(y: f64) -> Flat {
        let corner = |x: f64, z: f64| DVec3::new(x, y, z);
        Flat {
            outline: vec![corner(0.0, 0.0), corner(4.0, 0.0), corner(4.0, 4.0), corner(0.0, 4.0)],
            holes: Vec::new(),
        }
    }

    fn long(pieces: &[(usize, [DVec2; 2])]) -> f64 {
        pieces.iter().map(|(_, [from, to])| from.distance(*to)).sum()
    }

    #[test]
    fn a_line_behind_a_wall_shows_beside_it() {
        let line = [DVec3::new(-1.0, 5.0, 2.0), DVec3::new(6.0, 5.0, 2.0)];
        let pieces = visible(&[wall(0.0)], &[line], Sight::EAVE_A);
        // 1 in at the left, 2 in at the right
        assert_eq!(pieces.len(), 2);
        assert!((long(&pieces) - 3.0).abs() < 1e-9);
        // before the wall all of it
        let pieces = visible(&[wall(9.0)], &[line], Sight::EAVE_A);
        assert!((long(&pieces) - 7.0).abs() < 1e-9);
    }

    #[test]
    fn a_line_through_a_wall_shows_up_to_it_and_a_hole_hides_nothing() {
        let line = [DVec3::new(0.5, -2.0, 2.0), DVec3::new(3.5, 4.0, 2.0)];
        // it meets the wall after a third of its way: 1 in of 3
        let pieces = visible(&[wall(0.0)], &[line], Sight::EAVE_A);
        assert!((long(&pieces) - 1.0).abs() < 0.1, "{pieces:?}");
        let mut open = wall(0.0);
        open.holes = vec![
            [(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)]
                .map(|(x, z)| DVec3::new(x, 0.0, z))
                .to_vec(),
        ];
        let line = [DVec3::new(0.0, 5.0, 2.0), DVec3::new(4.0, 5.0, 2.0)];
        assert!((long(&visible(&[open], &[line], Sight::EAVE_A)) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn faces_hide_their_own_borders_nowhere() {
        let face = wall(0.0);
        let ring = &face.outline;
        let lines: Vec<[DVec3; 2]> = (0..4).map(|at| [ring[at], ring[(at + 1) % 4]]).collect();
        assert!((long(&visible(&[face], &lines, Sight::EAVE_A)) - 16.0).abs() < 1e-9);
    }
}
