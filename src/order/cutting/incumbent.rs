//! The best packing so far, and what is proven about all others.

use super::instance::{Instance, Packing};
use crate::solve::{Node, Proof};

/// The best packing so far and what is proven about the rest.
#[derive(Clone, Debug)]
pub(super) struct Incumbent {
    /// The best packing, if any.
    pub(super) best: Option<Packing>,
    /// Its cost; a cost beyond all packings when there is none.
    pub(super) upper: i64,
    /// Lower bound, as the proof has it.
    pub(super) lower: i64,
    /// The best proof from prices alone, which is checked in a moment.
    pub(super) light: Option<Proof>,
    /// The proof of the lower bound, if that is higher.
    pub(super) proof: Option<Proof>,
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
            light: None,
            proof: None,
            relaxations: 0,
        }
    }

    /// Keeps a packing if it is complete and costs less.
    pub(super) fn offer(&mut self, instance: &Instance, packing: &Packing) -> bool {
        let trimmed = packing.trimmed(instance);
        if trimmed.cost < self.upper && trimmed.is_complete(instance) {
            self.upper = trimmed.cost;
            self.best = Some(trimmed);
            return true;
        }
        false
    }

    /// No packing yet, and only those of less than `upper` are of interest.
    pub(super) fn below(instance: &Instance, upper: i64) -> Self {
        Self { upper, ..Self::new(instance) }
    }

    /// Raises the lower bound with its proof. A bound made against an older incumbent says nothing
    /// above the present one.
    pub(super) fn raise(&mut self, bound: i64, proof: impl FnOnce() -> Proof) {
        let bound = bound.min(self.upper);
        if bound > self.lower {
            self.lower = bound;
            let proof = proof();
            if matches!(proof.nodes.as_slice(), [Node::Priced(_)]) {
                self.light = Some(proof);
                self.proof = None;
            } else {
                self.proof = Some(proof);
            }
        }
    }

    /// Whether nothing better can exist: the best packing is proven, or that there is none.
    pub(super) fn is_closed(&self) -> bool {
        self.upper <= self.lower
    }
}
