//! The best packing so far, and what is proven about all others.

use super::instance::{Instance, Packing};

/// The best packing so far and what is proven about the rest.
#[derive(Clone, Debug)]
pub(super) struct Incumbent {
    /// The best packing, if any.
    pub(super) best: Option<Packing>,
    /// Its cost; a cost beyond all packings when there is none.
    pub(super) upper: i64,
    /// Proven lower bound.
    pub(super) lower: i64,
    /// Relaxations solved.
    pub(super) relaxations: u64,
}

impl Incumbent {
    /// No packing yet.
    pub(super) fn new(instance: &Instance) -> Self {
        let pieces: i64 = instance.demand.iter().sum();
        Self {
            best: None,
            upper: pieces.saturating_mul(instance.dearest()).saturating_add(1),
            lower: 0,
            relaxations: 0,
        }
    }

    /// Takes a packing if it is complete and cheaper.
    pub(super) fn offer(&mut self, instance: &Instance, packing: &Packing) -> bool {
        let trimmed = packing.trimmed(instance);
        if trimmed.cost < self.upper && trimmed.is_complete(instance) {
            self.upper = trimmed.cost;
            self.best = Some(trimmed);
            return true;
        }
        false
    }

    /// Raises the lower bound. A bound made against an older incumbent says nothing beyond the present one.
    pub(super) fn raise(&mut self, bound: i64) {
        self.lower = self.lower.max(bound.min(self.upper));
    }

    /// Whether the best packing is proven.
    pub(super) fn is_closed(&self) -> bool {
        self.best.is_some() && self.upper <= self.lower
    }
}
