//! Reading what people write: lengths, sections and pitches.
//!
//! A text that could mean two things is refused with a hint; nothing is guessed.

mod length;
mod pitch;
mod problem;
mod section;

pub use length::{is_metric, length, signed_length};
pub use pitch::pitch;
pub use problem::{LENGTH_IS_WRITTEN, PITCH_IS_WRITTEN, Problem, ReadError};
pub use section::{Sides, sides};

#[cfg(test)]
mod tests;
