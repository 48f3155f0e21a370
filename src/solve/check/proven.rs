//! The checker's results. Only the checker can make them.

use std::ops::{Add, Deref};

/// A plan that is proven best under its rules. Only the checker makes one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proven<T> {
    plan: T,
    value: Vec<i64>,
    rules: String,
}

/// A plan with a checked bound that it does not reach.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open<T> {
    plan: T,
    value: Vec<i64>,
    bound: Vec<i64>,
    rules: String,
}

/// A plan that the checker counted, with its result on the bound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Settled<T> {
    /// No plan is better under the rules.
    Proven(Proven<T>),
    /// Better plans may exist, down to the bound.
    Open(Open<T>),
}

/// Proof that no plan exists at all. Only the checker makes one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Impossible {
    rules: String,
}

/// A checked least value: whatever is chosen, its value is no less. Floors of independent parts add up.
///
/// A search can't make one from a number that it found:
///
/// ```compile_fail
/// let floor = stepoff::solve::Floor(1_000);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Floor(i64);

pub(super) fn settled<T>(plan: T, value: Vec<i64>, bound: Vec<i64>, rules: String) -> Settled<T> {
    if value == bound {
        Settled::Proven(Proven { plan, value, rules })
    } else {
        Settled::Open(Open { plan, value, bound, rules })
    }
}

pub(super) fn floor(value: i128) -> Floor {
    Floor(i64::try_from(value.max(0)).unwrap_or(i64::MAX))
}

pub(super) fn impossible(rules: String) -> Impossible {
    Impossible { rules }
}

impl<T> Proven<T> {
    /// The value at each level of the objective, which is also the least possible.
    #[must_use]
    pub fn value(&self) -> &[i64] {
        &self.value
    }

    /// The rules under which the plan is best.
    #[must_use]
    pub fn rules(&self) -> &str {
        &self.rules
    }
}

impl<T> Settled<T> {
    /// Whether the plan is proven best.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        matches!(self, Settled::Proven(_))
    }

    /// The value at each level of the objective.
    #[must_use]
    pub fn value(&self) -> &[i64] {
        match self {
            Settled::Proven(proven) => &proven.value,
            Settled::Open(open) => &open.value,
        }
    }

    /// The checked least value at each level; at a later level it applies to plans that cost no more
    /// than this one at the levels before.
    #[must_use]
    pub fn bound(&self) -> &[i64] {
        match self {
            Settled::Proven(proven) => &proven.value,
            Settled::Open(open) => &open.bound,
        }
    }

    /// The rules under which value and bound are valid.
    #[must_use]
    pub fn rules(&self) -> &str {
        match self {
            Settled::Proven(proven) => &proven.rules,
            Settled::Open(open) => &open.rules,
        }
    }

    /// The least value of the first level, as a floor.
    #[must_use]
    pub fn floor(&self) -> Floor {
        Floor(self.bound().first().copied().unwrap_or(0))
    }
}

impl<T> Deref for Proven<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.plan
    }
}

impl<T> Deref for Settled<T> {
    type Target = T;

    fn deref(&self) -> &T {
        match self {
            Settled::Proven(proven) => &proven.plan,
            Settled::Open(open) => &open.plan,
        }
    }
}

impl Impossible {
    /// The rules under which there is no plan.
    #[must_use]
    pub fn rules(&self) -> &str {
        &self.rules
    }
}

impl Floor {
    /// The least possible: zero.
    pub const ZERO: Self = Self(0);

    /// The least value.
    #[must_use]
    pub fn value(self) -> i64 {
        self.0
    }
}

impl Add for Floor {
    type Output = Floor;

    fn add(self, other: Floor) -> Floor {
        Floor(self.0.saturating_add(other.0))
    }
}

impl std::iter::Sum for Floor {
    fn sum<I: Iterator<Item = Floor>>(floors: I) -> Floor {
        floors.fold(Floor::ZERO, Add::add)
    }
}
