//! The heel joint of a frame, and the heights where its ties belong.

use crate::catalog::Edition;
use crate::frame::TieKind;
use crate::frame::hung::tied::TiedBlock;
use crate::key;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{Joists, Key};
use crate::strength::heel_joint;
use crate::strength::thrust::RATIO_LIMIT;

use super::book::{Book, Code};
use super::heel::{Heel, HeelQuestion};
use super::ridge;

/// The heel joint of the frame under its loads.
///
/// # Errors
/// The missing fields, or the field that makes the joint impossible.
pub fn heel(book: &Book<'_>) -> Result<Heel, Vec<Key>> {
    heel_of(book, carried(book))
}

/// Length of wall whose rafters one tie carries: a tie at every pair carries what its rafters carry.
pub(super) fn carried(book: &Book<'_>) -> Length {
    book.frame.ties.spacing.max(book.carried_width())
}

/// The heel joint of a tie that carries rafters over this length of the wall.
///
/// # Errors
/// The missing fields, or the field that makes the joint impossible.
pub(super) fn heel_of(book: &Book<'_>, spacing: Length) -> Result<Heel, Vec<Key>> {
    let loads = book.roof_loads()?;
    let Some(dead) = book.checks.dead else {
        return Err(vec![key!("loads.dead")]);
    };
    let plan = book.plan();
    let ties = &book.frame.ties;
    HeelQuestion {
        roof_span: plan.rafter.span,
        rise_in_12: plan.rafter.pitch.unit_rise(),
        spacing,
        loads,
        dead,
        edition: book.checks.edition,
        // as a part of run times slope, which the joint's statics use
        tie_height: plan.rafter.run() * plan.rafter.pitch.tangent() * hc_over_hr(book),
        tie: match ties.kind {
            TieKind::RafterTies => heel_joint::TieKind::RafterTie,
            _ => heel_joint::TieKind::CeilingJoist,
        },
    }
    .solve()
    // a tie at or above the ridge is refused when the frame is built
    .map_err(|_| vec![key!("ceiling.tie_height")])
}

/// Length of wall whose rafters one tie of any roof carries, with what the tie is.
pub(super) fn carried_by_tie(code: &Code<'_>) -> (Length, heel_joint::TieKind) {
    let plan = code.plan();
    match plan.joists {
        Joists::Across => {
            let every = (plan.tie_spacing.inches() / plan.spacing.inches() + LAST_BITS).floor();
            (plan.spacing * every.max(1.0), heel_joint::TieKind::RafterTie)
        }
        _ => (plan.spacing, heel_joint::TieKind::CeilingJoist),
    }
}

/// The heel joint of one block of any roof, whose ties carry the rafters over so much of the wall; `None` if the table is not for it:
/// slopes that are unlike.
///
/// # Errors
/// The missing fields, or the field that makes the joint impossible.
pub fn heel_of_block(
    code: &Code<'_>,
    block: &TiedBlock,
    spacing: Option<Length>,
) -> Result<Option<Heel>, Vec<Key>> {
    let Some(tangent) = block.tangent else { return Ok(None) };
    let loads = code.roof_loads()?;
    let Some(dead) = code.checks.dead else {
        return Err(vec![key!("loads.dead")]);
    };
    let (own, tie) = carried_by_tie(code);
    let rise = block.rise;
    let (ridge, _) = ridge_height_of(code.checks.edition, rise, block.ridge_bottom);
    HeelQuestion {
        roof_span: inches(block.span),
        rise_in_12: tangent * 12.0,
        spacing: spacing.unwrap_or(own),
        loads,
        dead,
        edition: code.checks.edition,
        tie_height: code.sticks.tie_height() * (rise / ridge),
        tie,
    }
    .solve()
    .map(Some)
    .map_err(|_| vec![key!("building.span")])
}

/// Height of the ridge with which tie heights are compared, and how it is measured. In the editions
/// that say so it is to the underside of the ridge (head of `heel_joint_nails.csv`), but never more
/// than run times slope, which the statics use.
pub(super) fn ridge_height(book: &Book<'_>) -> (f64, &'static str) {
    let plan = &book.plan().rafter;
    let rise = plan.run().inches() * plan.pitch.tangent();
    ridge_height_of(book.checks.edition, rise, book.frame.ridge_bottom().inches())
}

/// The same by run times slope and by the underside of the ridge.
pub(super) fn ridge_height_of(edition: Edition, rise: f64, under: f64) -> (f64, &'static str) {
    match edition {
        Edition::Irc2021 | Edition::Irc2024 if under < rise => {
            (under, "the underside of the ridge")
        }
        _ => (rise, "run times slope"),
    }
}

/// Where ties and collar ties belong, by thirds of the height from plate to ridge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TieZone {
    /// Top of the lower third, above the plate; above it the code counts no tie of the walls.
    pub lower: Length,
    /// To what the lower third's height is measured.
    pub lower_of: &'static str,
    /// Start of the upper third, above the plate; below it no collar tie belongs.
    pub upper: Length,
}

/// The thirds of a frame, as used by the findings: the lower one measured as the edition says, the
/// upper one to the peak.
#[must_use]
pub fn zone(book: &Book<'_>) -> TieZone {
    let (ridge, lower_of) = ridge_height(book);
    TieZone {
        lower: inches(RATIO_LIMIT * ridge),
        lower_of,
        upper: inches(ridge::upper_third(book)),
    }
}

/// Height of the ties over that of the ridge.
pub(super) fn hc_over_hr(book: &Book<'_>) -> f64 {
    book.frame.ties.height.inches() / ridge_height(book).0
}
