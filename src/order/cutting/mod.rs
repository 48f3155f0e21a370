//! Cutting sticks from stock lengths at the least cost, with proof.
//!
//! [`plan`] takes a [`CuttingProblem`] (stock lengths with prices, bars in hand, kerf, end trim,
//! pieces) and returns a [`CutPlan`] with a proven bound. `docs/cutting.md` explains how, in plain
//! words and in exact terms. Nothing here knows about roofs, files or a clock.

mod control;
mod count_tree;
mod dive;
mod fewer;
mod greedy;
mod incumbent;
mod instance;
mod knots;
mod listing;
mod master;
mod mixes;
mod model;
mod open_nodes;
mod plan;
mod pricing;
mod question;
pub mod read;
mod shares;
mod solver;
mod splice;
mod tree;

pub use control::{Control, Progress};
pub use model::{
    CutFault, CutPlan, CuttingProblem, Entry, LONGEST, MOST_KINDS, NoPlan, Objective, Piece,
    PlannedBar, PlannedPiece, Stock,
};
pub use plan::plan;
