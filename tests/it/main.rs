//! Everything outside the crate's own unit tests, in one binary.
