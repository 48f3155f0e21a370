//! Walls as they stand: redundant measurements reconciled, what to move, and the rafters that fit them.
//!
//! [`adjust`] finds the corners that all readings agree with best, and which reading disagrees; [`walls`] says
//! how far they are from square; [`rafters`] builds every rafter so that ridge and fascia are held; [`effect`]
//! tells what an eighth of an inch in one input does to each result. Derivation: `docs/derivations/measured.md`.

pub mod adjust;
pub mod effect;
pub mod rafters;
pub mod walls;

pub use adjust::{Adjusted, Doubt, NotSettled, Residual};
pub use effect::{Effect, Input, Outcome};
pub use rafters::{FittedRafter, FittedRafters};
pub use walls::{Move, Walls};
