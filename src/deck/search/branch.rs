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
