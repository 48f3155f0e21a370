//! Everything outside the crate's own unit tests, in one binary.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise, helpers of tests too"
)]

mod commands;
mod cutting;
mod cutting_command;
mod folders;
mod published;
mod rafters;
mod schema;
mod support;
