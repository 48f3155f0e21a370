//! A long stick on short paper: broken between the places with cuts.

use crate::geom::DVec2;
use crate::measure::tolerance::{HAIR, LAST_BITS};

/// Paper between two parts of a broken stick.
const BREAK: f64 = 0.14;
/// The least to show on each side of a place with a cut, inches of paper.
const SHOWN: f64 = 0.5;

/// A part of the stick that is shown: stations in inches of work, and its start on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheet::set) struct Part {
    pub from: f64,
    pub to: f64,
    pub at: f64,
}

/// The parts of a stick that are shown, and the scale.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::sheet::set) struct Broken {
    /// Inches of work to one of paper.
    pub ratio: f64,
    /// The parts, in order.
    pub parts: Vec<Part>,
}

impl Broken {
    /// Every stretch of `cut` (inches, in order, including the two ends) with `around` inches of work
    /// and half an inch of paper on each side; parts that nearly touch are joined.
    pub(in crate::sheet::set) fn new(cut: &[(f64, f64)], around: f64, ratio: f64) -> Broken {
        let first = cut.iter().map(|(from, _)| *from).fold(f64::INFINITY, f64::min);
        let last = cut.iter().map(|(_, to)| *to).fold(f64::NEG_INFINITY, f64::max);
        let around = around.max(SHOWN * ratio);
        let mut parts: Vec<Part> = Vec::new();
        for (from, to) in cut {
            let (from, to) = ((from - around).max(first), (to + around).min(last));
            match parts.last_mut() {
                Some(part) if from - part.to < (2.0 * BREAK * ratio).max(around * 0.5) => {
                    part.to = to.max(part.to);
                }
                _ => parts.push(Part { from, to, at: 0.0 }),
            }
        }
        Broken { ratio, parts }.laid()
    }

    /// The same with its parts one after another.
    fn laid(mut self) -> Broken {
        let mut at = 0.0;
        for part in &mut self.parts {
            part.at = at;
            at += (part.to - part.from) / self.ratio + BREAK;
        }
        self
    }

    /// The same without parts in its middle, until it fits `room`; parts that contain one of `keep`,
    /// and the two ends, stay.
    pub(in crate::sheet::set) fn fewer(mut self, room: f64, keep: &[f64]) -> Broken {
        while self.width() > room {
            let count = self.parts.len();
            let held = |part: &Part| keep.iter().any(|at| *at >= part.from && *at <= part.to);
            let middle = (1..count.saturating_sub(1))
                .filter(|at| !held(&self.parts[*at]))
                .min_by_key(|at| (2 * at + 1).abs_diff(count));
            let Some(middle) = middle else { break };
            self.parts.remove(middle);
            self = self.laid();
        }
        self
    }

    /// True if a station is shown.
    pub(in crate::sheet::set) fn shows(&self, station: f64) -> bool {
        self.parts.iter().any(|part| station >= part.from - HAIR && station <= part.to + HAIR)
    }

    /// The whole stick in one part.
    pub(in crate::sheet::set) fn whole(first: f64, last: f64, ratio: f64) -> Broken {
        Broken { ratio, parts: vec![Part { from: first, to: last, at: 0.0 }] }
    }

    /// Width on paper.
    pub(in crate::sheet::set) fn width(&self) -> f64 {
        self.parts.last().map_or(0.0, |part| part.at + (part.to - part.from) / self.ratio)
    }

    /// The place of a station on paper; one that is not shown is in a break.
    pub(in crate::sheet::set) fn place(&self, station: f64) -> f64 {
        let before = self
            .parts
            .iter()
            .rev()
            .find(|part| part.from <= station + LAST_BITS)
            .or(self.parts.first());
        before.map_or(0.0, |part| part.at + (station.min(part.to) - part.from) / self.ratio)
    }

    /// The visible parts of a line between two points (station, height): their ends on paper, heights
    /// scaled.
    pub(in crate::sheet::set) fn line(&self, [a, b]: [DVec2; 2]) -> Vec<[DVec2; 2]> {
        let (low, high) = if a.x <= b.x { (a, b) } else { (b, a) };
        let paper = |part: &Part, point: DVec2| {
            DVec2::new(part.at + (point.x - part.from) / self.ratio, point.y / self.ratio)
        };
        let at = |x: f64| {
            let way = high.x - low.x;
            if way < LAST_BITS { low } else { low + (high - low) * ((x - low.x) / way) }
        };
        self.parts
            .iter()
            .filter(|part| high.x >= part.from - LAST_BITS && low.x <= part.to + LAST_BITS)
            .map(|part| {
                let (from, to) = (low.x.max(part.from), high.x.min(part.to));
                if high.x - low.x < LAST_BITS {
                    [paper(part, a), paper(part, b)]
                } else {
                    [paper(part, at(from)), paper(part, at(to))]
                }
            })
            .collect()
    }

    /// Paper places of the ends of parts where the stick is broken off.
    pub(in crate::sheet::set) fn breaks(&self) -> Vec<f64> {
        self.parts
            .windows(2)
            .flat_map(|two| [two[0].at + (two[0].to - two[0].from) / self.ratio, two[1].at])
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_stick_is_broken_between_its_ends() {
        let broken = Broken::new(&[(0.0, 3.0), (168.0, 168.0)], 6.0, 8.0);
        // 0 to 3 + 6, and 168 - 6 to 168
        assert_eq!(broken.parts.len(), 2);
        assert_eq!((broken.parts[0].from, broken.parts[0].to), (0.0, 9.0));
        assert_eq!((broken.parts[1].from, broken.parts[1].to), (162.0, 168.0));
        assert!((broken.width() - (9.0 + 6.0) / 8.0 - BREAK).abs() < 1e-12);
        assert!((broken.place(168.0) - broken.width()).abs() < 1e-12);
        let lines = broken.line([DVec2::ZERO, DVec2::new(168.0, 8.0)]);
        assert_eq!(lines.len(), 2);
        assert!((lines[1][1] - DVec2::new(broken.width(), 1.0)).length() < 1e-12);
    }

    #[test]
    fn what_is_alike_in_the_middle_is_left_out_first() {
        let cut: Vec<(f64, f64)> = (0..12).map(|at| f64::from(at) * 24.0).map(|x| (x, x)).collect();
        let all = Broken::new(&cut, 2.0, 8.0);
        assert_eq!(all.parts.len(), 12);
        let some = all.fewer(6.0, &[240.0]);
        assert!(some.width() <= 6.0);
        assert!(some.shows(0.0) && some.shows(264.0) && some.shows(240.0));
        assert!(!some.shows(144.0));
    }

    #[test]
    fn a_short_stick_is_whole() {
        let broken = Broken::new(&[(0.0, 0.0), (13.0, 13.0)], 6.0, 4.0);
        assert_eq!(broken.parts.len(), 1);
        assert!(broken.breaks().is_empty());
    }
}
