//! Spreading a template over pages that overlap.

use crate::geom::DVec2;

use super::super::super::drawing::Area;

/// What neighboring pages share, inches.
const OVERLAP: f64 = 0.6;

/// The part of a template that each page shows, row by row from the top left.
#[derive(Debug, Clone)]
pub(in crate::sheet::set) struct Tiles {
    /// Pages side by side.
    pub(super) columns: usize,
    /// Pages one below the other.
    pub(super) rows: usize,
    low: DVec2,
    step: DVec2,
    size: DVec2,
}

/// A cross that is on every page which shows its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheet::set) struct Cross {
    /// Its number, from 1.
    pub(in crate::sheet::set) number: usize,
    /// Its place.
    pub(in crate::sheet::set) at: DVec2,
}

impl Tiles {
    /// What reaches from one corner to another, on pages with so much room each.
    pub(in crate::sheet::set) fn over((low, high): (DVec2, DVec2), room: DVec2) -> Tiles {
        let whole = high - low;
        let along = |whole: f64, room: f64| {
            if whole <= room {
                (1, whole, whole)
            } else {
                let count = ((whole - OVERLAP) / (room - OVERLAP)).ceil();
                let step = (whole - OVERLAP) / count;
                (count as usize, step, step + OVERLAP)
            }
        };
        let (columns, step_x, wide) = along(whole.x, room.x);
        let (rows, step_y, high) = along(whole.y, room.y);
        Tiles { columns, rows, low, step: DVec2::new(step_x, step_y), size: DVec2::new(wide, high) }
    }

    /// How many pages there are.
    pub(in crate::sheet::set) fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// Column, from the left, and row, from the top, of a page.
    pub(super) fn cell(&self, number: usize) -> (usize, usize) {
        (number % self.columns, number / self.columns)
    }

    /// What a page shows.
    pub(in crate::sheet::set) fn part(&self, number: usize) -> Area {
        let (column, row) = self.cell(number);
        let up = self.rows - 1 - row;
        let low = self.low + self.step * DVec2::new(column as f64, up as f64);
        Area::new(low, low + self.size)
    }

    /// The crosses: two in every strip that two neighbors share.
    pub(in crate::sheet::set) fn crosses(&self) -> Vec<Cross> {
        let mut places = Vec::new();
        // two places along each page, clear of the strips at its ends
        let along = |count: usize, step: f64, size: f64| -> Vec<f64> {
            let ends = if count > 1 { OVERLAP } else { 0.0 };
            (0..count)
                .flat_map(|at| {
                    let (from, to) = (at as f64 * step + ends, at as f64 * step + size - ends);
                    [0.2, 0.8].map(|part| from + (to - from) * part)
                })
                .collect()
        };
        let seams = |count: usize, step: f64| -> Vec<f64> {
            (1..count).map(|at| at as f64 * step + OVERLAP / 2.0).collect()
        };
        for x in seams(self.columns, self.step.x) {
            for y in along(self.rows, self.step.y, self.size.y) {
                places.push(DVec2::new(x, y));
            }
        }
        for y in seams(self.rows, self.step.y) {
            for x in along(self.columns, self.step.x, self.size.x) {
                places.push(DVec2::new(x, y));
            }
        }
        places
            .into_iter()
            .zip(1..)
            .map(|(at, number)| Cross { number, at: self.low + at })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::CommonRafter;
    use crate::plan::{Entries, RafterPlan};

    fn tiles(room: DVec2) -> Tiles {
        let mut entries = Entries::default();
        for (key, text) in
            [("building.span", "36'"), ("roof.pitch", "12/12"), ("rafter.stock", "2x12")]
        {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let rafter = CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap();
        Tiles::over(super::super::chain::chains(&rafter)[0].reach, room)
    }

    #[test]
    fn pages_share_their_strips_and_reach_the_ends() {
        // 11.25 in at 45 degrees with 1 in on both sides, 0.3 in above and below: 13.25 x 11.85
        let tiles = tiles(DVec2::new(9.5, 5.0));
        assert_eq!((tiles.columns, tiles.rows), (2, 3));
        let (first, second) = (tiles.part(0), tiles.part(1));
        assert!((first.high.x - second.low.x - OVERLAP).abs() < 1e-9);
        let last = tiles.part(5);
        assert!((second.high.x - first.low.x - 13.25).abs() < 1e-9);
        assert!((first.high.y - last.low.y - 11.85).abs() < 1e-9);
        assert!(first.size().cmple(DVec2::new(9.5, 5.0)).all());
    }

    #[test]
    fn every_page_shares_two_crosses_with_each_neighbor() {
        let tiles = tiles(DVec2::new(9.5, 5.0));
        let crosses = tiles.crosses();
        let shared = |a: usize, b: usize| {
            crosses
                .iter()
                .filter(|cross| {
                    [a, b].into_iter().all(|page| {
                        let part = tiles.part(page).inside(0.2);
                        cross.at.cmpge(part.low).all() && cross.at.cmple(part.high).all()
                    })
                })
                .count()
        };
        for (a, b) in [(0, 1), (2, 3), (4, 5), (0, 2), (1, 3), (2, 4), (3, 5)] {
            assert_eq!(shared(a, b), 2, "{a} {b}");
        }
    }
}
