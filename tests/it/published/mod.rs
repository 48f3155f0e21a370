//! Published numbers, one file per source.

mod estimating;
mod framing_square;
mod nail_values;
mod run_tables;
mod worked_examples;
