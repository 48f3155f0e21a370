//! What is to be known of framed openings and of what is laid on the sheathed roof.

use crate::catalog::code_rules::RuleId;
use crate::frame::role::Role;
use crate::measure::Note;
use crate::measure::quantity::inches;
use crate::roof::{Laid, WallLine};

use super::bays::Bay;
use super::ground::Ground;
use super::hole::{CHIMNEY_GAP_IN, Hole};
use super::piece::Hung;

/// The notes of every opening, and of every wing and dormer on the sheathed roof.
pub(super) fn notes(ground: &Ground) -> Vec<Note> {
    let holes = ground.holes.iter().flat_map(opening);
    let laid = ground.laid.iter().map(|laid| on_the_roof(laid, ground.deck));
    holes.chain(laid).chain(ground.laid.iter().filter_map(own_heel)).collect()
}

/// What is to be known of the ceiling joists: what they lie on where there is no wall, and what is beside them at hip ends.
pub(super) fn of_ceiling(ground: &Ground, sticks: &[Hung]) -> Vec<Note> {
    let has = |role: Role| sticks.iter().any(|stick| stick.role == role);
    let mut notes = Vec::new();
    let open: Vec<&str> = opens(ground).map(|wall| wall.block.as_str()).collect();
    if has(Role::CeilingJoist) && !open.is_empty() {
        notes.push(Note::from(format!(
            "where a wing opens into the roof ({}) the joists on the plate line there lie on a header or beam that is not sized here: have it designed",
            open.join(", ")
        )));
    }
    if has(Role::StubJoist) {
        notes.push(
            "at a hip end stub joists run from its plate to the first joist across (common practice): hang or nail them to it, and have the tie into the ceiling designed".into(),
        );
    }
    if has(Role::JoistLedger) {
        notes.push(
            "the joists lie on a ledger at the higher wall: have its fastening to the studs designed".into(),
        );
    }
    notes
}

/// The ends where wings open into what they stand before.
pub(crate) fn opens(ground: &Ground) -> impl Iterator<Item = &WallLine> {
    ground.walls.iter().filter(|wall| {
        ground.joins(wall, wall.wall)
            && ground.dormer(&wall.block).is_none()
            && ground.laid.iter().all(|laid| laid.block != wall.block)
    })
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
    if hole.to_ridge.is_some() {
        notes.push(Note::from(format!(
            "the rafters of {name} end at the ridge: have it designed as a beam. Above the level valley pack them up to the main slope (common practice)"
        )));
    }
    if width > inches(RuleId::OpeningHangers.figure()) {
        notes.push(Note::from(format!(
            "hang the headers of {name} on the trimmers with hangers that the local code accepts (IRC R802.9)"
        )));
    }
    notes
}

/// How high the rafters of a dormer stand, if their seat is told.
fn own_heel(laid: &Laid) -> Option<Note> {
    let heel = laid.dormer.as_ref()?.heel_stand?;
    let name = &laid.block;
    Some(Note::with(
        format!(
            "the rafters of {name} stand {{}} plumb over its plates at its building line, as its seat leaves them"
        ),
        [heel],
    ))
}

fn on_the_roof(laid: &Laid, deck: f64) -> Note {
    let name = &laid.block;
    let how = if laid.dormer.is_some() {
        "A window in its front is not framed here"
    } else {
        "Cut the tails of the main roof off at the wall there"
    };
    let nailed = if laid.is_shed() {
        "Nail its end rafters and the studs of its walls through the deck into the trimmers (common practice)"
    } else {
        "Nail the valley boards through the deck into every rafter (common practice)"
    };
    Note::with(
        format!(
            "{name} stands on the main roof, sheathed with panels {{}} thick: sheathe that first. {how}. {nailed}. What carries {name} is for a designer"
        ),
        [inches(deck)],
    )
}

/// A bay so many spacings wide lacks a rafter: nothing carries one there (our own limit, not from a source).
const BARE: f64 = 1.5;

/// The faces with a bay that has no rafter where the layout has one.
pub(crate) fn bare<'a>(ground: &'a Ground, bays: &[Bay]) -> Vec<&'a str> {
    let wide = bays.iter().filter(|bay| bay.width > BARE * ground.spacing);
    wide.map(|bay| ground.roof.faces[bay.face].name.as_str()).collect()
}

/// Bays that are wider than the spacing.
pub(crate) fn of_bays(ground: &Ground, bays: &[Bay]) -> Vec<Note> {
    let wide = bays.iter().filter(|bay| bay.width > BARE * ground.spacing);
    let told = wide.map(|bay| {
        let face = &ground.roof.faces[bay.face].name;
        Note::with(
            format!("face {face} has a bay of {{}} without a rafter, and rafters are {{}} apart: have what carries the roof there designed"),
            [inches(bay.width), inches(ground.spacing)],
        )
    });
    told.collect()
}
