//! Words that people try, and what they mean here: the rows of `hints.csv`.

use crate::key;
use crate::plan::Key;
use Meaning::{Field, Say};

/// What a word means.
#[derive(Debug)]
pub(super) enum Meaning {
    /// A field of the roof file, which may also be a flag.
    Field(Key),
    /// What to write or to do, in words.
    Say(&'static str),
}

type Words = &'static [&'static str];

include!(concat!(env!("OUT_DIR"), "/hints.rs"));
