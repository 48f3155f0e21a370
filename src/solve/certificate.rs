//! The proof of a search: whole numbers from which anybody can work out a bound.
//!
//! A [`Proof`] is a tree. Each inner node divides the plans by the value of a whole number (how many
//! columns of a family, how many that hold two things together), so that every plan falls on one side.
//! Each leaf has [`Prices`]: the worth of a unit of each row. The checker finds by itself by how much a
//! column can be worth more than it costs. So the worth of all that is wanted gives a lower bound on
//! the cost of every plan in that leaf. (The checker also looks for the cheapest whole numbers of
//! columns of each family that could be worth as much, which is often more.) If a leaf is too weak, it
//! may be a [`Listed`] one: its prices leave only a few columns to plans better than the one at hand.
//! The checker lists them, and the tree continues over the list, where splits can distinguish more
//! (which things a column holds together) than in the family as a whole.

use std::sync::Arc;

use super::model::Entry;

/// If packs come in too many sizes to check each, the checker rounds the sizes of items down to this
/// part of the greatest capacity. Prices made for such sizes lose nothing.
pub const ROUNDED: i64 = 20_000;

/// Worths of rows, in whole numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Prices {
    /// The worth of a unit of cost. A unit is the greatest common divisor of the costs of the level.
    pub scale: i64,
    /// Worth of a unit of each row, in the order of the rows; negative for rows with a most.
    pub rows: Vec<i64>,
    /// Worth of a unit of each earlier level of the objective, not negative (of either sign if that level is proven).
    pub levels: Vec<i64>,
    /// Worth of a unit of each form that has one.
    pub forms: Vec<(usize, i64)>,
    /// In a list: the assumed worth of a column of each family. Not used outside a list.
    pub families: Vec<i64>,
}

/// A whole number that every plan has, besides rows and numbers of columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Form {
    /// The sum over columns of half of what they put into these rows, rounded up. It is at least half
    /// of what the rows want, rounded up: a cut.
    Halves(Vec<usize>),
    /// Columns that put something into both rows (2 or more, if they are one and the same).
    Both(usize, usize),
    /// How often exactly this column is used.
    Column {
        /// The family.
        family: usize,
        /// What it puts into the rows, by rising row.
        entries: Vec<Entry>,
    },
}

/// What a split is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// The number of columns of a family.
    Family(usize),
    /// A form of the list ([`Listed::forms`]).
    Form(usize),
}

/// A node of the tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Node {
    /// A leaf: these prices bound all plans in it, or the splits leave none.
    Priced(Arc<Prices>),
    /// Two sides: the number is at most `at`, or more.
    Split {
        /// Which number.
        on: On,
        /// The greatest value on the side below.
        at: i64,
        /// Place of the node below.
        below: usize,
        /// Place of the node above.
        above: usize,
    },
    /// The tree continues over a list of columns.
    Listed(Box<Listed>),
}

/// A tree over the columns that some prices leave to a better plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// These prices rule all other columns out.
    pub prices: Prices,
    /// Numbers that splits and prices in the list may name.
    pub forms: Vec<Form>,
    /// Prices that rule out further columns of the list, one after another.
    pub fixings: Vec<Prices>,
    /// The tree; the first node is its root.
    pub nodes: Vec<Node>,
}

/// Things of which no pack needs to hold more than all columns together want. The checker finds that
/// number by itself, again in every leaf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Limit {
    /// The rows of the things. Only packs may fill them.
    pub rows: Vec<usize>,
    /// What rows with a most charge for what is put into them, not negative. It shows that not all
    /// columns can want some at once.
    pub tolls: Vec<(usize, i64)>,
    /// Counted over a whole pack with all its strips, which takes longer; otherwise for each strip by
    /// itself.
    pub is_whole: bool,
}

/// A tree of splits with prices in its leaves; the first node is its root.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proof {
    /// Limits on what packs hold, for all prices of the tree (except those over a list).
    pub limits: Vec<Limit>,
    /// The nodes.
    pub nodes: Vec<Node>,
}

impl Proof {
    /// A tree without limits.
    #[must_use]
    pub fn tree(nodes: Vec<Node>) -> Self {
        Self { limits: Vec::new(), nodes }
    }

    /// A bound from prices alone.
    #[must_use]
    pub fn priced(prices: Prices) -> Self {
        Self::tree(vec![Node::Priced(Arc::new(prices))])
    }
}

/// The proofs of a search: for each level of the objective any number of proofs, of which the best
/// counts. They are checked in turn until one is enough, so the quick ones come first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Certificate {
    /// Proofs by level.
    pub levels: Vec<Vec<Proof>>,
}
