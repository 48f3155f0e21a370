//! The framing square: the second, independent route to the numbers.
