//! How a list of full bars grows, and what it begins with.

use std::collections::BTreeSet;
use std::ops::Range;

use super::super::dive::RestSolver;
use super::super::instance::Instance;
use super::super::listing::{self, Pool};

/// Patterns to begin with.
const FIRST: usize = 5_000;
/// Entries of the table.
const TABLE_ENTRIES: i64 = 8_000_000;
/// How often the list grows for a program whose value is still above the goal.
pub(super) const FILLS: usize = 15;

/// What makes a list grow.
#[derive(Clone, Debug)]
pub(in super::super) struct Filling {
    /// The most waste of a bar.
    pub(super) waste: i64,
    /// Vertices of the relaxation from which to dive.
    pub(super) seeds: Range<u64>,
    /// The solver for the remainder of a dive.
    pub(super) solver: RestSolver,
    /// The patterns of the list.
    pub(super) known: BTreeSet<Vec<(u16, u16)>>,
}

impl Filling {
    /// The bars of few pieces that `waste` allows, and the way that list grows; `None` if bars are too
    /// fine for the table. For one kind of bar.
    /// kind of bar.
    pub(in super::super) fn new(
        instance: &Instance,
        waste: i64,
        seeds: Range<u64>,
        solver: RestSolver,
    ) -> Option<(Pool, Self)> {
        let entries = (instance.items() as i64 + 1) * (instance.largest_capacity() + 1);
        let pieces = instance.most_pieces_in_a_bar();
        if entries > TABLE_ENTRIES || instance.items().max(pieces as usize) > usize::from(u16::MAX)
        {
            return None;
        }
        let pool = listing::short(instance, waste, FIRST);
        let known = (0..pool.len()).map(|p| pool.takes(p).to_vec()).collect();
        Some((pool, Self { waste, seeds, solver, known }))
    }
}
