//! Who asks: what a long search needs of the world beyond the question.

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

/// Who asks, and waits for the answer: the only way to clock, stop signal and ears.
///
/// Each method has the answer of somebody who asks in memory, with no clock and no hurry.
pub trait Asker: Sync {
    /// Whether to stop now; asked about every millisecond of work. What was found so far is then the answer, if it is one.
    fn stops(&self) -> bool {
        false
    }

    /// Seconds since the question. With no clock each search ends by itself after a counted amount of work, so that the
    /// same question has the same answer everywhere.
    fn seconds(&self) -> Option<f64> {
        None
    }

    /// Hears what is being done and how far it is.
    fn hears(&self, stage: Stage, how_far: Arguments<'_>) {
        let _ = (stage, how_far);
    }
}

/// Asks in memory: no clock, no stop signal, no ears.
#[derive(Debug, Clone, Copy, Default)]
pub struct Nobody;

impl Asker for Nobody {}
