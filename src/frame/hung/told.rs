//! What is to be known of framed openings and of what is laid on the sheathed roof.

use crate::catalog::code_rules::RuleId;
use crate::measure::Note;
use crate::measure::quantity::inches;
use crate::roof::Laid;

use super::ground::Ground;
use super::hole::{CHIMNEY_GAP_IN, Hole};

/// The notes of every opening, and of every wing and dormer on the sheathed roof.
pub(super) fn notes(ground: &Ground) -> Vec<Note> {
    let holes = ground.holes.iter().flat_map(opening);
    holes.chain(ground.laid.iter().map(|laid| on_the_roof(laid, ground.deck))).collect()
}

fn opening(hole: &Hole) -> Vec<Note> {
    let name = &hole.name;
    let width = inches(hole.reach.1 - hole.reach.0);
    let many = |count: u32| if count > 1 { "double" } else { "single" };
    let mut notes = vec![Note::with(
        format!(
            "opening {name}: {{}} clear between its trimmers, {} headers and {} trimmers (IRC R802.9). Their strength is not looked at here",
            many(hole.headers),
            many(hole.trimmers),
        ),
        [width],
    )];
    if hole.is_chimney {
        let gap = inches(CHIMNEY_GAP_IN);
        notes.push(Note::with(
            format!(
                "keep {{}} of air between wood and a masonry chimney inside the building (IRC R1003.18): the one in {name} can be at most {{}} by {{}} level"
            ),
            [gap, width - gap * 2.0, inches(hole.up.1 - hole.up.0) - gap * 2.0],
        ));
    }
    if width > inches(RuleId::OpeningHangers.figure()) {
        notes.push(Note::from(format!(
            "hang the headers of {name} on the trimmers with approved hangers (IRC R802.9)"
        )));
    }
    notes
}

fn on_the_roof(laid: &Laid, deck: f64) -> Note {
    let name = &laid.block;
    let how = if laid.dormer.is_some() {
        "A window in its front, its gable studs and its rakes are not framed here"
    } else {
        "Cut the tails of the main roof off at the wall there"
    };
    Note::with(
        format!(
            "{name} stands on the main roof, sheathed with panels {{}} thick: sheathe that first. {how}. Nail the valley boards through the deck into every rafter (common practice). What carries {name} is for a designer"
        ),
        [inches(deck)],
    )
}
