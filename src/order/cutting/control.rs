//! The caller's control of a running solve: when to stop, how much work it may do, and where progress goes.

use std::cell::Cell;

/// The progress of a solve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Cost of the best plan so far, in the objective's unit, if there is a plan.
    pub best: Option<i64>,
    /// Proven lower bound on the cost of any plan, in the objective's unit.
    pub bound: i64,
    /// Relaxations solved so far.
    pub relaxations: u64,
}

/// The caller's control of a running solve.
///
/// The solver reads no clock. It calls `stop` often (about every millisecond of work), which says
/// whether the time is up or the user interrupts. It also counts its work in elementary steps (about a
/// nanosecond each where the program is optimized), and ends where those it may take are taken: at the
/// same place on every machine. The best plan so far then comes back with its true bound.
#[derive(Clone, Copy)]
pub struct Control<'a> {
    stop: &'a dyn Fn() -> bool,
    progress: &'a dyn Fn(&Progress),
    /// Steps that may still be taken; `None`: any number.
    steps: Option<&'a Cell<u64>>,
}

impl<'a> Control<'a> {
    /// A control made from the two functions.
    pub fn new(stop: &'a dyn Fn() -> bool, progress: &'a dyn Fn(&Progress)) -> Self {
        Self { stop, progress, steps: None }
    }

    /// Runs to the end and reports nothing.
    #[must_use]
    pub fn unlimited() -> Control<'static> {
        Control { stop: &|| false, progress: &|_| {}, steps: None }
    }

    /// Runs a search that may take at most so many steps, and no more than are left.
    pub fn part<T>(&self, most: u64, run: impl FnOnce(&Control<'_>) -> T) -> T {
        let most = self.steps.map_or(most, |left| left.get().min(most));
        let left = Cell::new(most);
        let found = run(&Control { steps: Some(&left), ..*self });
        self.took(most - left.get());
        found
    }

    /// Counts steps that were taken.
    pub(super) fn took(&self, steps: u64) {
        if let Some(left) = self.steps {
            left.set(left.get().saturating_sub(steps));
        }
    }

    /// Whether to stop now.
    pub(super) fn stopped(&self) -> bool {
        self.steps.is_some_and(|left| left.get() == 0) || (self.stop)()
    }

    /// The same control without progress.
    pub(super) fn silent(&self) -> Self {
        Self { progress: &|_| {}, ..*self }
    }

    /// Reports progress.
    pub(super) fn tell(&self, progress: &Progress) {
        (self.progress)(progress);
    }
}

impl std::fmt::Debug for Control<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Control")
    }
}
