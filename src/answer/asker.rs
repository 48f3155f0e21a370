//! The caller: what a long search needs besides the question.

use std::fmt::Arguments;

/// What a long search is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Panels are laid.
    Laying,
    /// Pieces are cut from stock.
    Cutting,
    /// Roofs are compared.
    Comparing,
}

/// The caller that waits for the answer: a search's only access to clock, stop signal and progress.
///
/// The default of each method is for a caller in memory, without a clock or a limit.
pub trait Asker: Sync {
    /// Whether to stop now; called about every millisecond of work. The answer is then what was found
    /// so far, if that is enough for one.
    fn stops(&self) -> bool {
        false
    }

    /// Whether long searches go on until [`Self::stops`] says so. If not, each also ends after a fixed
    /// amount of work, so that the same question has the same answer everywhere.
    fn sets_limit(&self) -> bool {
        false
    }

    /// Seconds since the question; `None` without a clock.
    fn seconds(&self) -> Option<f64> {
        None
    }

    /// Hears what is being done and how far it is.
    fn hears(&self, stage: Stage, how_far: Arguments<'_>) {
        let _ = (stage, how_far);
    }
}

/// A caller in memory: no clock, no stop signal, no progress.
#[derive(Debug, Clone, Copy, Default)]
pub struct Nobody;

impl Asker for Nobody {}
