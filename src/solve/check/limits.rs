//! The most that one pack needs to hold of some things.
//!
//! Some best plan packs no more of a thing than is wanted: a surplus item can be left out of its pack,
//! which remains a column of its family at the same cost. So no pack needs to hold more of some things
//! together than all columns of a plan want of them. That in turn is bounded like a cost: every column
//! wants a number of them, less what rows with a most charge it, and such a row returns its charge as
//! often as its most.

use super::super::certificate::Limit;
use super::super::model::{Members, Model};
use super::Refusal;
use super::sums::{Counts, Sum, longest, sum};

/// The most numbers of things that a knapsack distinguishes.
const MOST_STATES: i64 = 128;

/// Limits that apply to every pack that a plan needs.
#[derive(Clone, Debug, Default)]
pub(super) struct Limits {
    /// The limit of each row; empty if there are no limits.
    single: Vec<i64>,
    /// Things of several rows, and how many of them together.
    pub(super) groups: Vec<(Vec<usize>, i64)>,
}

impl Limits {
    /// The limits that apply within the counts.
    pub(super) fn new(model: &Model, limits: &[Limit], counts: &Counts) -> Result<Self, Refusal> {
        let mut found = Self::default();
        if limits.is_empty() {
            return Ok(found);
        }
        found.single = vec![i64::MAX; model.rows.len()];
        let mut taken = vec![false; model.rows.len()];
        let mut states = 1_i64;
        for limit in limits {
            let most = most(model, limit, counts)?;
            for &row in &limit.rows {
                found.single[row] = found.single[row].min(most);
            }
            if !limit.is_whole {
                continue;
            }
            for &row in &limit.rows {
                if std::mem::replace(&mut taken[row], true) {
                    return Err(Refusal::Malformed("a thing under two limits"));
                }
            }
            // More than a few of a kind seldom fit a pack: without the limit the bound is still valid.
            let with = states.saturating_mul(most.saturating_add(1));
            if with <= MOST_STATES {
                states = with;
                found.groups.push((limit.rows.clone(), most));
            }
        }
        Ok(found)
    }

    /// How many of a row a pack needs at most.
    pub(super) fn of_row(&self, row: usize) -> i64 {
        self.single.get(row).copied().unwrap_or(i64::MAX)
    }

    /// The group that a row is in.
    pub(super) fn group(&self, row: usize) -> Option<usize> {
        self.groups.iter().position(|(rows, _)| rows.contains(&row))
    }
}

/// The most of some things that all columns want together.
fn most(model: &Model, limit: &Limit, counts: &Counts) -> Result<i64, Refusal> {
    let mut wants = vec![0_i64; model.rows.len()];
    let mut all = Sum(Some(0));
    for &row in &limit.rows {
        // Only if nothing forbids leaving an item out.
        let least = model.rows.get(row).and_then(|row| row.least);
        let Some(least) = least.filter(|l| *l >= 0 && model.rows[row].most.is_none()) else {
            return Err(Refusal::Malformed("a limit on a row that does more than cover"));
        };
        if std::mem::replace(&mut wants[row], -1) != 0 {
            return Err(Refusal::Malformed("a row twice in a limit"));
        }
        all.add(i128::from(least), 1);
    }
    for &(row, toll) in &limit.tolls {
        let most = model.rows.get(row).and_then(|row| row.most);
        let (Some(most), true, 0) = (most, toll >= 0, wants.get(row).copied().unwrap_or(-1)) else {
            return Err(Refusal::Malformed("a toll"));
        };
        wants[row] = -toll;
        all.add(i128::from(toll), i128::from(most));
    }
    for (family, &(least, most)) in model.families.iter().zip(counts) {
        let more = match &family.members {
            // An item wants nothing, and at most pays tolls.
            Members::Packs { .. } => continue,
            Members::One(entries) => {
                if !wants_some(limit, entries)? {
                    continue;
                }
                Some(sum(entries, &wants)?)
            }
            Members::Paths(paths) => {
                let mut some = false;
                for arc in &paths.arcs {
                    some |= wants_some(limit, &arc.entries)?;
                }
                // Columns that want nothing at most pay tolls.
                if !some {
                    continue;
                }
                longest(paths, &wants)?
            }
        };
        if let Some(more) = more {
            all.add(more, i128::from(if more >= 0 { most } else { least }));
        }
    }
    i64::try_from(all.get()?.max(0)).map_err(|_| Refusal::TooLarge)
}

/// Whether a column wants some of the things. None may supply any.
fn wants_some(limit: &Limit, entries: &[(usize, i64)]) -> Result<bool, Refusal> {
    let mut some = false;
    for (row, amount) in entries {
        if limit.rows.contains(row) {
            if *amount > 0 {
                return Err(Refusal::Malformed("a limit on what others than packs give"));
            }
            some |= *amount < 0;
        }
    }
    Ok(some)
}
