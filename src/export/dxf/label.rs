//! Marks beside sticks, in places without other text.

use crate::geom::DVec2;

/// Width of a letter relative to its height, wide enough for the usual drawing letters.
const LETTER_WIDTH: f64 = 0.95;

/// Length of a text in letters of this height.
pub(super) fn text_length(text: &str, height: f64) -> f64 {
    text.chars().count() as f64 * LETTER_WIDTH * height
}

/// The room of a text: its middle, its direction, half its length and half its height.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    middle: DVec2,
    along: DVec2,
    half: DVec2,
}

impl Room {
    /// The room of `text` around its middle, `along` its line.
    pub(super) fn of(text: &str, middle: DVec2, along: DVec2, height: f64) -> Room {
        Room { middle, along, half: DVec2::new(text_length(text, height) / 2.0, 0.7 * height) }
    }

    /// The room of a line: it has length only.
    pub(super) fn of_line(from: DVec2, to: DVec2) -> Room {
        Room {
            middle: (from + to) / 2.0,
            along: (to - from).normalize_or(DVec2::X),
            half: DVec2::new(from.distance(to) / 2.0, 0.0),
        }
    }

    /// True if two rooms overlap: no line along an edge of either separates them.
    pub(super) fn meets(&self, other: &Room) -> bool {
        let between = other.middle - self.middle;
        let reach = |room: &Room, line: DVec2| {
            room.half.x * room.along.dot(line).abs()
                + room.half.y * room.along.perp().dot(line).abs()
        };
        [self.along, self.along.perp(), other.along, other.along.perp()]
            .into_iter()
            .all(|line| between.dot(line).abs() < reach(self, line) + reach(other, line))
    }
}

/// Texts that are already placed.
#[derive(Debug, Default)]
pub(super) struct Labels {
    taken: Vec<Room>,
}

impl Labels {
    /// Takes the first of these places with neither a text nor a line, otherwise the first without a
    /// text, otherwise the first of all.
    pub(super) fn place(
        &mut self,
        text: &str,
        height: f64,
        along: DVec2,
        places: impl IntoIterator<Item = DVec2>,
        lines: &[Room],
    ) -> Option<DVec2> {
        let rooms: Vec<Room> =
            places.into_iter().map(|place| Room::of(text, place, along, height)).collect();
        let free: Vec<&Room> =
            rooms.iter().filter(|room| self.taken.iter().all(|taken| !taken.meets(room))).collect();
        let clear = |room: &&&Room| lines.iter().all(|line| !line.meets(room));
        let best = free.iter().find(clear).or(free.first()).copied();
        let room = *best.or(rooms.first())?;
        self.taken.push(room);
        Some(room.middle)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_give_way_to_each_other() {
        let mut labels = Labels::default();
        let places = || (0..10).map(|step| DVec2::new(0.0, f64::from(step)));
        let at = |labels: &mut Labels| labels.place("R1", 3.0, DVec2::X, places(), &[]).unwrap().y;
        assert_eq!(at(&mut labels), 0.0);
        assert_eq!(at(&mut labels), 5.0);
        // a line is avoided while there is room; a text goes over a line rather than over another text
        let line = [Room::of_line(DVec2::new(-9.0, 0.0), DVec2::new(9.0, 0.0))];
        let place =
            |labels: &mut Labels| labels.place("R1", 3.0, DVec2::X, places(), &line).unwrap().y;
        let mut labels = Labels::default();
        assert_eq!(place(&mut labels), 3.0);
        assert_eq!(place(&mut labels), 8.0);
        assert_eq!(place(&mut labels), 0.0, "none is left");
        // a slanting text is kept clear by its own edges
        let slanting = Room::of("R1", DVec2::new(6.5, 0.0), DVec2::ONE.normalize(), 3.0);
        let level = Room::of("R1", DVec2::ZERO, DVec2::X, 3.0);
        assert!(!level.meets(&slanting));
        assert!(level.meets(&Room { middle: DVec2::new(5.0, 0.0), ..slanting }));
    }
}
