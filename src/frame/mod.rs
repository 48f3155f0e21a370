//! Sticks and their layout marks.
