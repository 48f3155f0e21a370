//! A long search done on all threads, that its caller can stop and hear of.

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use super::front::Rank;

/// The caller's control of a running search.
#[derive(Clone, Copy)]
pub struct Hold<'a> {
    /// Called often; once it is true the search ends.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Gets the stage with its number of steps, and how many are done.
    pub told: &'a (dyn Fn(&Stage, usize) + Sync),
}

impl Hold<'static> {
    /// Never stops, reports nothing.
    #[must_use]
    pub fn none() -> Hold<'static> {
        Hold { stop: &|| false, told: &|_, _| {} }
    }
}

/// A stage of the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    /// What is done one by one.
    pub what: &'static str,
    /// How many there are.
    pub of: usize,
    /// The best so far in the measure of the rank, while roofs are ordered.
    pub best: Option<(Rank, i64)>,
}

/// The search was stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stopped {
    /// In which stage.
    pub stage: Stage,
    /// After how many.
    pub done: usize,
}

/// Does `of` steps on all threads, in order of their number, unless stopped.
pub(super) fn stage<T: Send>(
    hold: &Hold<'_>,
    what: &'static str,
    of: usize,
    step: impl Fn(usize) -> T + Sync,
) -> Result<Vec<T>, Stopped> {
    let stage = Stage { what, of, best: None };
    let done = AtomicUsize::new(0);
    let steps: Option<Vec<T>> = (0..of)
        .into_par_iter()
        .map(|number| {
            if (hold.stop)() {
                return None;
            }
            let result = step(number);
            (hold.told)(&stage, done.fetch_add(1, Ordering::Relaxed) + 1);
            Some(result)
        })
        .collect();
    steps.ok_or_else(|| Stopped { stage, done: done.load(Ordering::Relaxed) })
}
