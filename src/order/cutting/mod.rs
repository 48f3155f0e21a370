//! Cutting sticks from stock lengths at proven least cost.
//!
//! [`plan`] takes a [`CuttingProblem`] (stock lengths with prices, bars in hand, kerf, end trim, pieces) and gives a
//! [`CutPlan`] with a bound that is proven. How that is done, in plain words and in exact terms, stands in
//! `docs/cutting.md`. Nothing here knows a roof, a file or a clock.

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
