//! Dives: course upon course as the relaxation likes them best, and every last course that the bound leaves open.

use super::super::bound::{Goal, UNIT};
use super::super::grid::Joints;
use super::super::stage::Class;
use super::Search;

const MOST_LAST: usize = 400;
const LEAST_EFFORT: usize = 250;
const STEPS_A_DIVE: usize = 160;

/// How far one dive may go.
struct Walk {
    sheets: usize,
    /// Only layouts with at most this many pieces are wanted.
    pieces: usize,
    width: usize,
    steps: usize,
    leaves: usize,
    /// Partial cuts looked at for one layout.
    effort: usize,
}

impl Search<'_> {
    fn random(&mut self, below: i64) -> i64 {
        (self.random.draw() >> 1) as i64 % below.max(1)
    }

    /// Dives for a layout of at most `sheets` sheets and `pieces` pieces.
    pub(super) fn dives(&mut self, sheets: usize, pieces: usize, times: u64) -> bool {
        for time in 0..times {
            for arc in 0..self.master.noise.len() {
                let noise =
                    if time == 0 { 0 } else { self.random(UNIT / 256 * (1 + time as i64 % 24)) };
                self.master.noise[arc] = noise;
            }
            let mut walk = Walk {
                sheets,
                pieces,
                width: 3,
                steps: STEPS_A_DIVE,
                leaves: 6,
                effort: LEAST_EFFORT << (time / 8).min(5),
            };
            let found = self.dive(&mut Vec::new(), &mut walk, time > 0);
            if found || (self.stop)() {
                break;
            }
        }
        self.master.noise.fill(0);
        (self.sheets(), self.pieces()) <= (sheets, pieces)
    }

    fn dive(&mut self, fixed: &mut Vec<Joints>, walk: &mut Walk, noisy: bool) -> bool {
        if fixed.len() == self.model.planes * self.model.courses {
            walk.leaves = walk.leaves.saturating_sub(1);
            let pieces: usize = fixed.iter().map(|joints| joints.len() + 1).sum();
            return pieces <= walk.pieces && self.cut(fixed, walk.sheets, walk.effort);
        }
        if walk.steps == 0 || walk.leaves == 0 || (self.stop)() {
            return false;
        }
        walk.steps -= 1;
        self.steps += 1;
        let stage = self.stage_with_next(fixed);
        let limit = if noisy { i64::MAX } else { i64::try_from(walk.pieces).unwrap_or(i64::MAX) };
        let relaxed = self.master.relax(&stage, Goal::Pieces(walk.sheets), limit, self.stop);
        if relaxed.bound > limit || !relaxed.possible {
            return false;
        }
        if fixed.len() + 1 == self.model.planes * self.model.courses {
            return self.last_course(fixed, walk);
        }
        for (joints, _) in relaxed.next.into_iter().take(walk.width) {
            fixed.push(joints);
            if self.dive(fixed, walk, noisy) {
                return true;
            }
            fixed.pop();
        }
        false
    }

    /// Tries every last course that the bound allows: the one that the fractional program likes best
    /// often can't be cut from whole sheets.
    fn last_course(&mut self, fixed: &mut Vec<Joints>, walk: &mut Walk) -> bool {
        let noise = std::mem::replace(&mut self.master.noise, vec![0; self.model.grid.arcs.len()]);
        let stage = self.stage_with_next(fixed);
        let limit = i64::try_from(walk.sheets).unwrap_or(i64::MAX);
        let relaxed = self.master.relax(&stage, Goal::Sheets, limit, self.stop);
        self.master.noise = noise;
        let Some((class, forbidden)) = stage.next else {
            return false;
        };
        if relaxed.bound > limit {
            return false;
        }
        walk.leaves = walk.leaves.saturating_sub(1);
        let Some(prices) = &relaxed.prices else {
            return false;
        };
        let prices = &prices.arcs[usize::from(class == Class::Closing)];
        let mut open = self.open_courses(prices, &forbidden, relaxed.allowance, MOST_LAST);
        open.sort_by_key(Vec::len);
        let so_far: usize = fixed.iter().map(|joints| joints.len() + 1).sum();
        for joints in open {
            if so_far + joints.len() + 1 > walk.pieces {
                return false;
            }
            fixed.push(joints);
            if self.cut(fixed, walk.sheets, walk.effort) {
                return true;
            }
            fixed.pop();
        }
        false
    }
}
