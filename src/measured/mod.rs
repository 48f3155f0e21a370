//! Walls as built: redundant measurements reconciled, what to move, and the rafters that fit them.
//!
//! [`snoop`] says which of several readings is wrong. [`adjust`] finds the corners that fit all
//! readings best, and [`heights`] the heights of the plates. [`walls`] says how far the walls are out
//! of square. [`rafters`] builds every rafter so that ridge and fascia stay straight. [`survey`]
//! combines them and compares them with the plan. [`effect`] shows what an eighth of an inch in one
//! input does to each result. Derivation: `docs/derivations/measured.md`.

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
