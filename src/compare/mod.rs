//! Many roofs of one plan held against every rule, and the few of them that are best in some way.
//!
//! A [`Sweep`] says what may be varied; [`search`] stands every candidate before the rules and measures its
//! sticks without framing each of them whole: what does not change between two candidates is asked once.
//! The few that may be best are then framed, held against the code, cut and ordered in full ([`whole`]).
//! Places files and clock nowhere; says nothing of money but what a prices file says.

pub mod apart;
mod choose;
pub mod figures;
pub mod front;
pub mod report;
pub mod search;
pub mod standing;
pub mod sweep;
pub mod whole;

pub use apart::{Apart, Why};
pub use choose::Ask;
pub use figures::Figures;
pub use front::Rank;
pub use report::{Comparison, Shown, compare};
pub use search::{Found, Hold, Tally};
pub use standing::RulesFailed;
pub use sweep::{Axis, Sweep};
pub use whole::Whole;
