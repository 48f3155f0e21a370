//! What a fit reports besides its numbers.

use crate::measure::Note;
use crate::plan::{Datum, FitPlan};

use super::held::Aim;
use super::one::Fit;

/// The notes to print with the numbers.
#[must_use]
pub fn notes(plan: &FitPlan, fits: &[Fit]) -> Vec<Note> {
    let mut notes = plan.eave.rafter.notes();
    if plan.pitch_from_rise {
        notes.push(Note::new("the pitch is that of the measured rise, not the roof file's"));
    }
    let heights =
        plan.measured.iter().any(|it| it.quantity.is_height()) || plan.caps.height.is_some();
    if heights && plan.datum == Datum::Plate {
        notes.push(Note::new(
            "heights are above the top of the plate; write above = \"floor\", \"grade\" or \"mark\" to measure from there",
        ));
    }
    if plan.caps.height.is_some() || plan.caps.limit.is_some() {
        notes.push(Note::new(
            "heights of caps are those of the rafters' top edges; sheathing, roofing and ridge vent come on top",
        ));
    }
    if plan.caps.limit.is_some() && plan.floor_height.is_none() {
        notes.push(Note::new("the height limit is not checked: set site.floor_height"));
    }
    if fits.iter().any(|fit| fit.aim == Aim::NoNarrowRow) {
        notes.push(Note::new(
            "rows are counted as stepoff sheathing lays them, full courses from the eave",
        ));
    }
    notes
}
