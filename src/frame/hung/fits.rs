//! A last look at the sticks of a roof, whatever they were made of: each is in a place of its own, under the faces, and
//! something carries it. A roof that has one that is not so is refused rather than cut wrong.

use crate::frame::role::Role;
use crate::geom::{Cell, DVec2, DVec3, Solid};
use crate::measure::tolerance::ON_IT;

use super::HungRoof;
use super::piece::Hung;

/// Volume that two sticks may seem to share by rounding, cubic inches.
const SHARED_IN3: f64 = 1e-6;

/// Area by which sticks touch where one carries the other, square inches.
const TOUCH_IN2: f64 = 0.01;

/// How far above a face or outside the roof wood may seem to be by rounding, inches.
const ABOVE_IN: f64 = 1e-6;

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
    solid: Solid,
    low: DVec3,
    high: DVec3,
    /// Sticks that carry it, other than plates.
    carriers: usize,
    /// Plates under it.
    plates: usize,
}

/// The first stick that does not fit; `None` if all do.
#[must_use]
pub fn misfit(roof: &HungRoof) -> Option<Misfit> {
    let mut placed = Vec::with_capacity(roof.sticks.len());
    for hung in &roof.sticks {
        let whole = hung.stick().filter(|stick| stick.solid().pieces() == 1);
        let Some(stick) = whole else { return Some(Misfit::Cut(hung.id.clone())) };
        let Some((low, high)) = stick.solid().bounds() else {
            return Some(Misfit::Cut(hung.id.clone()));
        };
        let solid = stick.solid().clone();
        if reaches_out(roof, &solid) {
            return Some(Misfit::Above(hung.id.clone()));
        }
        if reaches_into_deck(roof, hung, &solid) {
            return Some(Misfit::InDeck(hung.id.clone()));
        }
        placed.push(Placed { hung, solid, low, high, carriers: 0, plates: 0 });
    }
    // in the order of their near ends, so that only neighbors are compared
    placed.sort_by(|one, other| one.low.x.total_cmp(&other.low.x));
    for at in 0..placed.len() {
        let (before, from) = placed.split_at_mut(at + 1);
        let one = &mut before[at];
        for other in from.iter_mut().take_while(|other| other.low.x <= one.high.x + ON_IT) {
            if !is_near(one, other) {
                continue;
            }
            if one.solid.common_volume(&other.solid) >= SHARED_IN3 {
                return Some(Misfit::Shared(one.hung.id.clone(), other.hung.id.clone()));
            }
            if touch(&one.solid, &other.solid) > TOUCH_IN2 {
                one.carriers += usize::from(carries(other.hung));
                other.carriers += usize::from(carries(one.hung));
                one.plates += usize::from(other.hung.role == Role::Plate);
                other.plates += usize::from(one.hung.role == Role::Plate);
            }
        }
    }
    placed.iter().find(|one| is_loose(roof, one)).map(|one| Misfit::Loose(one.hung.id.clone()))
}

fn is_near(one: &Placed<'_>, other: &Placed<'_>) -> bool {
    let room = DVec3::splat(ON_IT);
    (one.low - room).cmple(other.high).all() && (other.low - room).cmple(one.high).all()
}

fn touch(one: &Solid, other: &Solid) -> f64 {
    one.cells().iter().flat_map(|a| other.cells().iter().map(move |b| a.contact(b))).sum()
}

/// True for what can carry a rafter: boards on tails can't.
fn carries(hung: &Hung) -> bool {
    !matches!(hung.role, Role::Plate | Role::Fascia | Role::Subfascia)
}

/// A rafter is carried at both ends, an edge stick at one at least, unless the reader is told to put a post under it.
fn is_loose(roof: &HungRoof, placed: &Placed<'_>) -> bool {
    let hung = placed.hung;
    let told = hung.line.map(|line| &roof.ground.lines[line].name);
    if matches!(hung.role, Role::Plate | Role::ValleyBoard | Role::Fascia | Role::Subfascia)
        || told.is_some_and(|name| roof.unsupported.contains(name))
    {
        return false;
    }
    // in the corner of a dormer a rafter lies on two plates with one end; that of a shed has one under each end
    let is_laid = hung.face.is_some_and(|face| roof.ground.layer_of(face) > 0);
    let plates = if is_laid { placed.plates.min(1) } else { placed.plates };
    placed.carriers + plates < if hung.face.is_some() { 2 } else { 1 }
}

/// True if a corner of what is laid on the roof is lower than the deck, behind its own walls.
fn reaches_into_deck(roof: &HungRoof, hung: &Hung, solid: &Solid) -> bool {
    let ground = &roof.ground;
    let of_face = hung.face.map(|face| ground.layer_of(face));
    let layer = of_face.or(hung.line.map(|line| ground.lines[line].layer)).unwrap_or(0);
    let Some((laid, deck)) = ground.laid_as(layer).zip(ground.landing(layer, false)) else {
        return false;
    };
    solid.corners().any(|corner| {
        laid.out.dot(corner.truncate() - laid.from) < -ON_IT && deck.distance(corner) > ABOVE_IN
    })
}

/// True if a corner of it is above the roof or outside.
fn reaches_out(hung: &HungRoof, solid: &Solid) -> bool {
    let roof = &hung.ground.roof;
    // on the border of the roof the point itself may seem to be outside by its last bits
    let around = [(0.0, 0.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
    let corners = solid.cells().iter().flat_map(Cell::faces).flat_map(|face| &face.corners);
    corners.into_iter().any(|corner| {
        let places = around.map(|(x, y)| corner.truncate() + DVec2::new(x, y) * ABOVE_IN / 100.0);
        let height = places.into_iter().filter_map(|place| roof.height(place)).reduce(f64::max);
        height.is_none_or(|height| corner.z - height >= ABOVE_IN)
    })
}
