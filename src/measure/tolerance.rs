//! How near two figures are one. Figures are floating point; these are the only allowances made for that outside the
//! linear programs, the least squares and the searches, which name their own beside them.
//!
//! Each is far below what a tape shows (1/64 in is 0.0156), and far above what the arithmetic before it leaves (a roof of
//! 200 ft is 2,400 in, whose last bit is 5e-13).

/// One figure reached on two ways, by sums and quotients alone: inches, and anything else of that size. Added to a limit
/// that the figure may just keep, and taken off before rounding up.
pub const LAST_BITS: f64 = 1e-9;

/// A corner of a solid this near to a plane or a line lies on it, inches: trimming works a corner out of three planes.
pub const ON_IT: f64 = 1e-7;

/// Two places this near are one, inches or degrees: nothing that is marked, sawn or drawn is smaller.
pub const HAIR: f64 = 1e-6;

/// A sine, a cosine or a part of a unit vector this small is nothing, and what is left of the two is one.
pub const ZERO: f64 = 1e-12;
