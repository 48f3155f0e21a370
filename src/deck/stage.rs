//! The problem of one group of planes, and how much of it is fixed already.

use super::cut::Stock;
use super::grid::Grid;

/// The whole problem, in ticks.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub(super) grid: Grid,
    pub(super) stock: Stock,
    pub(super) planes: usize,
    /// Courses of one plane.
    pub(super) courses: usize,
}

/// The part of a sheet's height that a course takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    Full,
    Closing,
}

impl Model {
    /// Courses of one plane that take the whole sheet height.
    pub(super) fn full_courses(&self) -> usize {
        self.courses - usize::from(self.stock.has_closing())
    }

    /// Class of the course at this number above the eave course.
    pub(super) fn class(&self, above_eave: usize) -> Class {
        if above_eave + 1 == self.courses && self.stock.has_closing() {
            Class::Closing
        } else {
            Class::Full
        }
    }
}

/// What is fixed and what is still to be laid.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    /// Pieces of the fixed courses, by length.
    pub(super) full: Vec<u32>,
    pub(super) closing: Vec<u32>,
    /// Courses after the next one, by class.
    pub(super) free_full: u32,
    pub(super) free_closing: u32,
    /// The next course and where it may not break.
    pub(super) next: Option<(Class, Vec<bool>)>,
    /// At each position, how many of the remaining courses may break there.
    pub(super) most_full: Vec<u32>,
    pub(super) most_all: Vec<u32>,
}
