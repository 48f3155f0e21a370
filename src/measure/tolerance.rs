//! How close two figures must be to count as equal. These are the only allowances for floating point,
//! except in the linear programs, the least squares and the searches, which name their own next to the
//! code.
//!
//! Each is far smaller than what a tape shows (1/64 in is 0.0156), and far larger than the rounding
//! errors before it (a roof of 200 ft is 2,400 in; its last bit is 5e-13).

/// For one figure reached in two ways, by sums and quotients alone: inches, and other figures of that
/// size. It is added to a limit that the figure may just keep, and subtracted before rounding up.
pub const LAST_BITS: f64 = 1e-9;

/// A corner of a solid this close to a plane or a line lies on it, inches. Trimming computes a corner
/// from three planes.
pub const ON_IT: f64 = 1e-7;

/// Two places this close are one, inches or degrees: nothing smaller is marked, sawn or drawn.
pub const HAIR: f64 = 1e-6;

/// A sine, a cosine or a part of a unit vector this small counts as zero, and the other one of the two
/// as one.
pub const ZERO: f64 = 1e-12;
