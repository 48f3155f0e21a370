//! Walls as they stand: redundant measurements reconciled, what to move, and the rafters that fit them.
//!
//! [`snoop`] says which of several readings is wrong; [`adjust`] finds the corners that all readings agree with best and
//! [`heights`] the plates' heights; [`walls`] says how far they are from square; [`rafters`] builds every rafter so that
//! ridge and fascia are held; [`survey`] puts them together, against the plan. [`effect`] tells what an eighth of an inch
//! in one input does to each result. Derivation: `docs/derivations/measured.md`.

pub mod adjust;
pub mod effect;
pub mod heights;
pub mod rafters;
pub mod snoop;
pub mod survey;
pub mod walls;

pub use adjust::{Adjusted, NotSettled, Residual};
pub use effect::{Effect, Input, Outcome};
pub use heights::Heights;
pub use rafters::{FittedRafter, FittedRafters};
pub use survey::{NoSurvey, Survey};
pub use walls::{Move, Walls};
