//! The complete search: every course that the bound leaves open, from the eave up.

use super::super::bound::Goal;
use super::super::grid::Joints;
use super::super::stage::Class;
use super::{DIVES, Search};

const PROOF_EFFORT: usize = 20_000;
/// Complete searches, each with four times as many steps as the one before.
const ROUNDS: usize = 5;
const STEPS_OF_PROOF: usize = 500;
const MOST_CHILDREN: usize = 50_000;

impl Search<'_> {
    /// Decides whether `bound` sheets are enough: by complete searches with more and more steps, and
    /// dives between them. True if the bound rose or a better layout was found.
    pub(super) fn close(&mut self, bound: &mut usize) -> bool {
        let before = self.sheets();
        for round in 0..ROUNDS {
            self.open_steps = STEPS_OF_PROOF << (2 * round);
            match self.prove(*bound) {
                Some(true) => {
                    // The finished search is no certificate: it only says where to look next.
                    *bound += 1;
                    return true;
                }
                Some(false) => return self.sheets() < before,
                None if (self.stop)() => return false,
                None => {}
            }
            if self.dives(*bound, usize::MAX, DIVES) {
                return true;
            }
        }
        false
    }

    /// Goes through all layouts of at most `sheets` sheets. `Some(true)`: there is none. `Some(false)`:
    /// one was found. `None`: stopped, or too many to go through.
    fn prove(&mut self, sheets: usize) -> Option<bool> {
        self.master.noise.fill(0);
        self.unsure = false;
        match self.prove_from(&mut Vec::new(), sheets) {
            Some(true) if self.unsure => None,
            result => result,
        }
    }

    fn prove_from(&mut self, fixed: &mut Vec<Joints>, sheets: usize) -> Option<bool> {
        if fixed.len() == self.model.planes * self.model.courses {
            if self.cut(fixed, sheets, PROOF_EFFORT) {
                return Some(false);
            }
            // Cut short: the search continues, but it no longer proves anything.
            let (full, closing) = self.counts(fixed);
            let tried = self.failed.get(&(full, closing, sheets));
            self.unsure |= tried.is_none_or(|&tried| tried != usize::MAX);
            return Some(true);
        }
        if self.open_steps == 0 || (self.stop)() {
            return None;
        }
        self.open_steps -= 1;
        self.steps += 1;
        let stage = self.stage_with_next(fixed);
        let limit = i64::try_from(sheets).ok()?;
        let relaxed = self.master.relax(&stage, Goal::Sheets, limit, self.stop);
        if relaxed.bound > limit {
            return Some(true);
        }
        if (self.stop)() {
            return None;
        }
        let (class, forbidden) = stage.next?;
        let prices = &relaxed.prices?.arcs[usize::from(class == Class::Closing)];
        let children = self.open_courses(prices, &forbidden, relaxed.allowance, MOST_CHILDREN);
        if children.len() >= MOST_CHILDREN {
            return None;
        }
        let courses = self.model.courses;
        for joints in children {
            // Equal planes: their eave courses are in order.
            let starts_plane = fixed.len().is_multiple_of(courses) && fixed.len() >= courses;
            if starts_plane && joints < fixed[fixed.len() - courses] {
                continue;
            }
            fixed.push(joints);
            let result = self.prove_from(fixed, sheets);
            fixed.pop();
            if result != Some(true) {
                return result;
            }
        }
        Some(true)
    }

    /// The courses that cost at most `allowance` more than the cheapest, but no more than `most` of
    /// them.
    pub(super) fn open_courses(
        &self,
        prices: &[i64],
        forbidden: &[bool],
        allowance: i64,
        most: usize,
    ) -> Vec<Joints> {
        let grid = &self.model.grid;
        let to_go = grid.prices_to_go(prices, forbidden);
        let Some(least) = to_go[0] else {
            return Vec::new();
        };
        let dearest = least.saturating_add(allowance.max(0));
        let mut found: Vec<(i64, Joints)> = Vec::new();
        let mut open: Vec<(usize, i64, Joints)> = vec![(0, 0, Vec::new())];
        while let Some((at, paid, mut joints)) = open.pop() {
            if at == grid.last() {
                joints.pop();
                found.push((paid, joints));
                if found.len() >= most {
                    break;
                }
                continue;
            }
            for arc in grid.leaving[at].clone() {
                let to = grid.arcs[arc].to;
                let price = paid + prices[arc];
                if to_go[to].is_some_and(|rest| price.saturating_add(rest) <= dearest) {
                    let mut joints = joints.clone();
                    joints.push(to);
                    open.push((to, price, joints));
                }
            }
        }
        found.sort_unstable();
        found.into_iter().map(|(_, joints)| joints).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::super::super::cut::Stock;
    use super::super::super::grid::{Grid, PieceRules};
    use super::super::super::master::Master;
    use super::super::super::stage::Model;
    use super::super::super::worth::Needs;
    use super::*;
    use crate::solve::Random;

    /// One plane of five courses, S03 of docs/sheathing.md: 15 sheets are enough, and fewer are not.
    fn model() -> Model {
        let centers: Vec<i64> = (1..).map(|i| i * 1920).take_while(|&x| x < 19880).collect();
        let rules = PieceRules { gap: 10, longest: 7680, shortest: 3840 };
        let grid = Grid::new(19880, &centers, rules);
        let needs = [5, 1].map(|courses| Needs::new(&grid, 1, courses));
        let stock = Stock::new(&grid.lengths, 7680, 10, 1, needs).expect("few sums");
        Model { grid, stock, planes: 1, courses: 5 }
    }

    /// A complete search takes no more steps than it is given: after each course that it fixes one less. Five courses want five, so with
    /// fewer nothing is decided; one at which the bound alone says no takes a single one.
    #[test]
    fn a_complete_search_ends_with_its_steps() {
        let model = model();
        let searched = |steps: usize, stop: &dyn Fn() -> bool, sheets: usize| {
            let mut search = Search {
                model: &model,
                master: Master::new(&model),
                stop,
                progress: &|_| (),
                bound: 0,
                steps: 0,
                random: Random::new(1),
                best: None,
                unsure: false,
                open_steps: steps,
                failed: HashMap::new(),
            };
            let result = search.prove(sheets);
            (result, search.open_steps, search.steps)
        };
        let search = |steps, sheets| searched(steps, &|| false, sheets);
        for steps in [1, 2, 4] {
            assert_eq!(search(steps, 15), (None, 0, steps));
        }
        assert_eq!(search(0, 15), (None, 0, 0));
        assert_eq!(search(5, 14), (Some(true), 4, 1));
        // stopped from outside before the first
        let (result, _, taken) = searched(5, &|| true, 15);
        assert_eq!((result, taken), (None, 0));
    }
}
