//! Sticks and their layout marks.
//!
//! Every member is one [`Stick`]: a section, an axis, and the cuts that trim it. The carpenter's marks
//! are measured on the cut solid.
//!
//! Coordinates (inches): x along the ridge from one end wall's outer framing face,
//! y from one eave wall's outer framing face toward the ridge, z up from the top of
//! the plate.

mod across;
mod beside;
mod boards;
mod ceiling;
pub mod common;
pub mod eave;
mod eave_boards;
mod end_wall;
pub mod erection;
pub mod gable;
mod gable_end;
pub mod hung;
mod id;
pub mod layout;
pub mod levels;
pub mod marks;
pub mod member;
pub mod miscut;
mod opened;
pub mod opening;
mod pair;
pub mod prove;
mod rafters;
mod rake;
mod rake_places;
mod ridge;
pub mod role;
pub mod seat;
pub mod site;
pub mod slopes;
pub mod spot;
pub mod standing;
pub mod stick;
pub mod sticks;
pub mod ties;
#[cfg(test)]
pub(crate) mod trial;

pub use common::{CannotBuild, CommonRafter, HighEnd};
pub use eave::Eave;
pub use erection::Step;
pub use gable::{Frame, Group};
pub use hung::framed::HungFrame;
pub use hung::{CannotHang, Choices, HungRoof, sticks_of};
pub use layout::{LayoutLine, LineKind, Standing};
pub use levels::Level;
pub use marks::{CutSetting, Mark, UpperWords};
pub use member::Member;
pub use miscut::{Amount, Further, PatternCuts, Slip};
pub use pair::Pair;
pub use prove::Proof;
pub use role::{InSection, Kind, OnPlan, Role};
pub use seat::{Seat, SeatBy};
pub use site::EaveSide;
pub use slopes::{CannotSlope, OfSlopes};
pub use spot::Spot;
pub use standing::Spaces;
pub use stick::{Axis, Edge, Stick, Trim};
pub use sticks::{AnyFrame, Sticks};
pub use ties::{TieKind, TieStory};
