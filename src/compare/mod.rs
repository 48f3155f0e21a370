//! Many roofs of one plan checked against every rule, and the few of them that are best in some way.
//!
//! A [`Sweep`] lists what to vary. [`search`] checks every candidate against the rules and measures its
//! sticks without framing each of them whole: what does not change between two candidates is computed
//! once. The few that may be best are then framed, checked against the code, cut and ordered in full
//! (`whole`). Touches no files and no clock; the only prices are those of a prices file.

mod alike;
mod apart;
mod axis;
mod choose;
mod figures;
mod front;
mod hold;
mod report;
mod search;
mod standing;
mod sweep;
mod tally;
mod whole;

pub use apart::{Apart, Why};
pub use axis::{Axis, axis_words};
pub use choose::Ask;
pub use figures::Figures;
pub use front::Rank;
pub use hold::{Hold, Stage, Stopped};
pub use report::{Comparison, Shown, compare};
pub use search::{Found, search};
pub use standing::RulesFailed;
pub use sweep::{Sweep, USUAL_SPACINGS};
pub use tally::Tally;
pub use whole::Whole;
