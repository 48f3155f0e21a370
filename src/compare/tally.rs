//! How many candidates stand how.

use std::collections::BTreeMap;

/// The verdicts of all candidates.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    /// Candidates in all.
    pub candidates: usize,
    /// What can't be built, by the field it is reported at.
    pub cannot_build: BTreeMap<&'static str, usize>,
    /// Something fails.
    pub fails: usize,
    /// Nothing fails, but a finding needs design.
    pub needs_design: usize,
    /// Everything else meets, but a finding waits for an input.
    pub not_checked: usize,
    /// Everything meets, but a piece is longer than every stick that can be bought.
    pub special: usize,
    /// Everything is met.
    pub meets: usize,
    /// Candidates that fail each rule, by its place in the walk.
    pub fails_by: Vec<usize>,
    /// Candidates that need design by each rule.
    pub design_by: Vec<usize>,
    /// Candidates in which each rule waits for an input.
    pub waits_by: Vec<usize>,
}

impl Tally {
    pub(super) fn new() -> Tally {
        Tally {
            candidates: 0,
            cannot_build: BTreeMap::new(),
            fails: 0,
            needs_design: 0,
            not_checked: 0,
            special: 0,
            meets: 0,
            fails_by: vec![0; 128],
            design_by: vec![0; 128],
            waits_by: vec![0; 128],
        }
    }

    pub(super) fn add(&mut self, other: &Tally) {
        self.candidates += other.candidates;
        for (key, count) in &other.cannot_build {
            *self.cannot_build.entry(key).or_default() += count;
        }
        self.fails += other.fails;
        self.needs_design += other.needs_design;
        self.not_checked += other.not_checked;
        self.special += other.special;
        self.meets += other.meets;
        for (own, of) in [
            (&mut self.fails_by, &other.fails_by),
            (&mut self.design_by, &other.design_by),
            (&mut self.waits_by, &other.waits_by),
        ] {
            for (sum, count) in own.iter_mut().zip(of) {
                *sum += count;
            }
        }
    }
}
