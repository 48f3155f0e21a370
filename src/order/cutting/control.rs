//! The caller's control of a running solve: when to stop, and where progress goes.

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
/// whether the time is up or the user interrupts. The best plan so far then comes back with its true
/// bound.
#[derive(Clone, Copy)]
pub struct Control<'a> {
    stop: &'a dyn Fn() -> bool,
    progress: &'a dyn Fn(&Progress),
}

impl<'a> Control<'a> {
    /// A control made from the two functions.
    pub fn new(stop: &'a dyn Fn() -> bool, progress: &'a dyn Fn(&Progress)) -> Self {
        Self { stop, progress }
    }

    /// Runs to the end and reports nothing.
    #[must_use]
    pub fn unlimited() -> Control<'static> {
        Control { stop: &|| false, progress: &|_| {} }
    }

    /// Whether to stop now.
    pub(super) fn stopped(&self) -> bool {
        (self.stop)()
    }

    /// The same control without progress.
    pub(super) fn silent(&self) -> Self {
        Self { stop: self.stop, progress: &|_| {} }
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
