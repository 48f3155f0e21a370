//! One finding for each code rule: what it requires, what this roof has, the verdict, the section.
//!
//! [`check::findings`] checks a frame against all of them; [`walk`] says which trade each finding
//! concerns and where it is measured. A finding that waits for an input is not checked and names the
//! field.

pub mod any_roof;
mod any_ties;
mod attic;
mod attic_space;
pub mod book;
pub mod check;
mod dead;
pub mod eave;
pub mod extent;
pub mod finding;
pub mod heel;
mod held_span;
pub mod id;
mod joist_bays;
pub mod known;
pub mod notch;
mod opening;
mod panels;
mod ridge;
mod roofing;
mod scope;
mod slopes;
mod spans;
mod support;
mod terms;
pub mod tie_zone;
mod tied;
mod ties;
mod uplift;
pub mod vents;
pub mod walk;

pub use attic::{HeelSpace, heel_space};
pub use book::{Book, Code};
pub use finding::{Finding, Unit, Verdict};
pub use id::{CheckId, FindingId};
pub use tied::Tied;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod trial;
