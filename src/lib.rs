//! `stepoff`: every stick and mark of a stick-framed roof on a small dwelling, from the few numbers on
//! a plan.
//!
//! The modules are listed in reading order. Each may use those above it, never those below (a test in
//! `tests/it` reads the `use` lines and checks this).

#[macro_use]
extern crate uom; // its macros call each other unqualified

pub mod measure;

pub mod catalog;

pub mod plan;

pub mod geom;

pub mod roof;

pub mod frame;

pub mod square;

pub mod measured;

pub mod solve;

pub mod deck;

pub mod strength;

pub mod rules;

pub mod fit;

pub mod order;

pub mod compare;

pub mod facts;

pub mod sheet;

pub mod export;

pub mod answer;

#[cfg(feature = "cli")]
pub mod cli;
