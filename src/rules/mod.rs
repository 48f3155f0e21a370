//! One finding per code rule: what is asked, what this roof has, the verdict, the section.

pub mod eave;
pub mod finding;
pub mod notch;

pub use finding::{Finding, Unit, Verdict};
