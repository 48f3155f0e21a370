//! A last look at the sticks of a roof, whatever they were made of: each is in a place of its own, under the faces, and
//! something carries it. A roof that has one that is not so is refused rather than cut wrong.

use crate::frame::role::Role;
use crate::geom::{DVec2, Solid};
use crate::measure::tolerance::ON_IT;

use super::HungRoof;
use super::piece::Hung;
use super::solids::{ABOVE_IN, Body, Near};

/// What is wrong with a stick.
#[derive(Debug, Clone, PartialEq)]
pub enum Misfit {
    /// Its cuts leave nothing of it, or several pieces.
    Cut(String),
    /// It reaches above the roof, or out of it.
    Above(String),
    /// It reaches into the deck of the roof that it stands on.
    InDeck(String),
    /// Two are in one place.
    Shared(String, String),
    /// Nothing carries one of its ends.
    Loose(String),
}

impl Misfit {
    /// What is wrong, in the reader's words.
    #[must_use]
    pub fn told(&self) -> String {
        match self {
            Misfit::Cut(id) => format!("the cuts of {id} leave no whole stick"),
            Misfit::Above(id) => format!("{id} would reach out of the roof"),
            Misfit::InDeck(id) => format!("{id} would reach into the deck under it"),
            Misfit::Shared(one, other) => format!("{one} and {other} would run into each other"),
            Misfit::Loose(id) => format!("nothing would carry one end of {id}"),
        }
    }
}

/// A stick as it is cut, with what it touches.
struct Placed<'a> {
    hung: &'a Hung,
    body: &'a Body,
    /// Sticks that carry it, other than plates.
    carriers: usize,
    /// Plates under it.
    plates: usize,
}

/// The first stick that does not fit; `None` if all do.
#[must_use]
pub fn misfit(roof: &HungRoof) -> Option<Misfit> {
    let mut placed = Vec::with_capacity(roof.sticks.len());
    let bodies = roof.bodies();
    for (hung, body) in roof.sticks.iter().zip(bodies.iter()) {
        let Some(body) = body else { return Some(Misfit::Cut(hung.id.clone())) };
        if body.reaches_out(&roof.ground.roof) {
            return Some(Misfit::Above(hung.id.clone()));
        }
        if reaches_into_deck(roof, hung, body.solid()) {
            return Some(Misfit::InDeck(hung.id.clone()));
        }
        placed.push(Placed { hung, body, carriers: 0, plates: 0 });
    }
    let near = Near::of(placed.iter().map(|one| one.body));
    for at in 0..placed.len() {
        let (before, from) = placed.split_at_mut(at + 1);
        let one = &mut before[at];
        for number in near.to(one.body.low, one.body.high) {
            let Some(other) = number.checked_sub(at + 1).map(|number| &mut from[number]) else {
                continue;
            };
            if !one.body.is_near(other.body) {
                continue;
            }
            if !one.body.is_clear_of(other.body) {
                return Some(Misfit::Shared(one.hung.id.clone(), other.hung.id.clone()));
            }
            if one.body.touches(other.body) {
                one.carriers += usize::from(carries(other.hung, one.hung));
                other.carriers += usize::from(carries(one.hung, other.hung));
                one.plates += usize::from(other.hung.role == Role::Plate);
                other.plates += usize::from(one.hung.role == Role::Plate);
            }
        }
    }
    placed.iter().find(|one| is_loose(roof, one)).map(|one| Misfit::Loose(one.hung.id.clone()))
}

/// True if one stick can carry another: boards on tails carry nothing, and what is fitted in between rafters carries none.
fn carries(one: &Hung, other: &Hung) -> bool {
    let board = matches!(one.role, Role::Plate | Role::Fascia | Role::Subfascia);
    !board && (!is_fitted_in(one.role) || is_fitted_in(other.role))
}

/// True for what is fitted in between and beside the rafters once they stand.
fn is_fitted_in(role: Role) -> bool {
    matches!(
        role,
        Role::CeilingJoist
            | Role::TailJoist
            | Role::JoistHeader
            | Role::JoistTrimmer
            | Role::OpeningSide
            | Role::StubJoist
            | Role::JoistLedger
            | Role::SplicePiece
            | Role::Filler
            | Role::RafterTie
            | Role::CollarTie
            | Role::GableStud
            | Role::VentFrame
            | Role::SoffitLedger
            | Role::SoffitLookout
            | Role::BargeRafter
            | Role::LadderRung
            | Role::Blocking
            | Role::BearingPlate
    )
}

/// A rafter is carried at both ends, an edge stick at one at least, unless the reader is told to put a post under it. What is on
/// walls alone needs nothing else.
fn is_loose(roof: &HungRoof, placed: &Placed<'_>) -> bool {
    let hung = placed.hung;
    let told = hung.line.map(|line| &roof.ground.lines[line].name);
    let on_walls = matches!(
        hung.role,
        Role::Plate
            | Role::BearingPlate
            | Role::JoistLedger
            | Role::SoffitLedger
            | Role::ValleyBoard
            | Role::Fascia
            | Role::Subfascia
    );
    if on_walls || told.is_some_and(|name| roof.unsupported.contains(name)) {
        return false;
    }
    // in the corner of a dormer a rafter lies on two plates with one end; that of a shed has one under each end
    let is_laid = hung.face.is_some_and(|face| roof.ground.layer_of(face) > 0);
    let plates = if is_laid { placed.plates.min(1) } else { placed.plates };
    placed.carriers + plates < if hung.face.is_some() { 2 } else { 1 }
}

/// True if a corner of what is laid on the roof is lower than the deck, behind its own walls; of a shed dormer, which stands on the deck
/// all around its hole, anywhere but over that.
fn reaches_into_deck(roof: &HungRoof, hung: &Hung, solid: &Solid) -> bool {
    let ground = &roof.ground;
    let of_face = hung.face.map(|face| ground.layer_of(face));
    let layer = of_face.or(hung.line.map(|line| ground.lines[line].layer)).unwrap_or(0);
    let Some((laid, deck)) = ground.laid_as(layer).zip(ground.landing(layer, false)) else {
        return false;
    };
    let axes = &ground.faces[laid.host];
    let hole = ground.holes.iter().find(|hole| laid.is_shed() && hole.name == laid.block);
    let is_on_it = |corner: DVec2| match hole {
        Some(hole) => {
            let place = axes.place(corner);
            let beside = place.x < hole.reach.0 - ON_IT || place.x > hole.reach.1 + ON_IT;
            beside || place.y < hole.up.0 - ON_IT
        }
        None => laid.out.dot(corner - laid.from) < -ON_IT,
    };
    solid.corners().any(|corner| is_on_it(corner.truncate()) && deck.distance(corner) > ABOVE_IN)
}
