//! Details of eave, rake and ridge at 1 to 4 or larger, cut through the frame's own solids.

mod cornice;
mod eave;
mod lap;
mod plate;
mod rake;
mod ridge;
pub(super) mod scene;
mod show;

#[cfg(test)]
mod tests;

use crate::sheet::paper::{Job, Page};

use super::{Kind, Matter};
use show::Show;

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let show = Show { matter, with, job };
    [eave::pages(&show), rake::pages(&show), ridge::pages(&show), lap::pages(&show)].concat()
}
