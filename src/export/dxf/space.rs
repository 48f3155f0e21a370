//! Where entities are: in the model, in a block that a dimension is drawn with, or on the paper of a layout.

use super::handle;
use crate::geom::DVec2;

/// Where entities go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Space {
    /// Full size.
    Model,
    /// A block, by its number.
    Block(usize),
    /// The paper of a layout, by its number.
    Paper(usize),
}

/// Entities that another entity shows.
pub(super) struct Block {
    pub(super) name: String,
    /// Handles of its record, its beginning and its end.
    pub(super) handles: [u32; 3],
    pub(super) entities: String,
}

/// A layout: a sheet of paper with views of the model.
pub(super) struct Paper {
    /// What its tab says.
    pub(super) name: String,
    /// Width and height, inches.
    pub(super) size: DVec2,
    pub(super) entities: String,
}

impl Paper {
    /// The handle of the record of the paper with this number.
    pub(super) fn record(number: usize) -> u32 {
        // a file has a handful of layouts
        handle::PAPER_RECORDS + handle::OF_PAPER * number as u32
    }

    /// The name of its block: the paper that is shown first has one of its own.
    pub(super) fn block(number: usize) -> String {
        match number {
            0 => "*Paper_Space".to_owned(),
            later => format!("*Paper_Space{}", later - 1),
        }
    }
}
