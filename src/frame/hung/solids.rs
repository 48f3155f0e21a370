//! Sticks as solids: which of them touch, and whether another one has room among them.

use crate::geom::{Cell, DVec2, DVec3, Solid};
use crate::measure::tolerance::ON_IT;
use crate::roof::Roof;

use super::piece::Hung;

/// Volume that two sticks may seem to share by rounding, cubic inches.
pub(super) const SHARED_IN3: f64 = 1e-6;

/// Area by which sticks touch where one carries the other, square inches.
pub(super) const TOUCH_IN2: f64 = 0.01;

/// How far above a face or outside the roof wood may seem to be by rounding, inches.
pub(super) const ABOVE_IN: f64 = 1e-6;

/// A stick as it is cut, and the corners of a box around it.
#[derive(Debug, Clone)]
pub(super) struct Body {
    pub solid: Solid,
    pub low: DVec3,
    pub high: DVec3,
}

impl Body {
    /// The body of a stick; `None` if its cuts leave nothing of it, or several pieces.
    pub(super) fn of(hung: &Hung) -> Option<Body> {
        let stick = hung.stick().filter(|stick| stick.solid().pieces() == 1)?;
        let (low, high) = stick.solid().bounds()?;
        Some(Body { solid: stick.solid().clone(), low, high })
    }

    /// True if it may touch another one.
    pub(super) fn is_near(&self, other: &Body) -> bool {
        let room = DVec3::splat(ON_IT);
        (self.low - room).cmple(other.high).all() && (other.low - room).cmple(self.high).all()
    }

    /// True if the two have room for themselves.
    pub(super) fn is_clear_of(&self, other: &Body) -> bool {
        self.solid.common_volume(&other.solid) < SHARED_IN3
    }

    /// True if the two touch face to face.
    pub(super) fn touches(&self, other: &Body) -> bool {
        let (one, other) = (self.solid.cells(), other.solid.cells());
        let area: f64 = one.iter().flat_map(|a| other.iter().map(move |b| a.contact(b))).sum();
        area > TOUCH_IN2
    }

    /// True if a corner of it is above the roof or outside.
    pub(super) fn reaches_out(&self, roof: &Roof) -> bool {
        // on the border of the roof the point itself may seem to be outside by its last bits
        let around = [(0.0, 0.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
        let corners = self.solid.cells().iter().flat_map(Cell::faces);
        corners.flat_map(|face| &face.corners).any(|corner| {
            let places =
                around.map(|(x, y)| corner.truncate() + DVec2::new(x, y) * ABOVE_IN / 100.0);
            let height = places.into_iter().filter_map(|place| roof.height(place)).reduce(f64::max);
            height.is_none_or(|height| corner.z - height >= ABOVE_IN)
        })
    }
}

/// Why a stick has no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refused {
    /// Something else is there, or the roof ends.
    NoRoom,
    /// It does not touch what has to carry it.
    Loose,
}

/// The sticks of a roof so far, among which others find room.
pub(super) struct Room<'a> {
    roof: &'a Roof,
    sticks: &'a mut Vec<Hung>,
    bodies: Vec<Option<Body>>,
    /// Where no wood may be.
    clear: Vec<Solid>,
}

impl<'a> Room<'a> {
    /// The room among some sticks under a roof.
    pub(super) fn of(roof: &'a Roof, sticks: &'a mut Vec<Hung>, clear: Vec<Solid>) -> Room<'a> {
        let bodies = sticks.iter().map(Body::of).collect();
        Room { roof, sticks, bodies, clear }
    }

    /// True if sticks have room: each is whole, under the roof and in no other's place, and all have what they need: `holds` says so
    /// of one with those that it touches.
    pub(super) fn has_room(
        &self,
        added: &[Hung],
        holds: &dyn Fn(&Hung, &[&Hung]) -> bool,
    ) -> Result<Vec<Body>, Refused> {
        let bodies = added.iter().map(Body::of).collect::<Option<Vec<Body>>>();
        let bodies = bodies.ok_or(Refused::NoRoom)?;
        for (number, (hung, body)) in added.iter().zip(&bodies).enumerate() {
            let in_the_way = |clear: &Solid| clear.common_volume(&body.solid) >= SHARED_IN3;
            if body.reaches_out(self.roof) || self.clear.iter().any(in_the_way) {
                return Err(Refused::NoRoom);
            }
            let together = added.iter().zip(&bodies).enumerate();
            let together = together.filter(|(other, _)| *other != number).map(|(_, other)| other);
            let mut touched = Vec::new();
            for (other, its) in self.sticks().chain(together).filter(|(_, its)| body.is_near(its)) {
                if !body.is_clear_of(its) {
                    return Err(Refused::NoRoom);
                }
                if body.touches(its) {
                    touched.push(other);
                }
            }
            if !holds(hung, &touched) {
                return Err(Refused::Loose);
            }
        }
        Ok(bodies)
    }

    /// Puts sticks in their places if they have room there.
    pub(super) fn take(
        &mut self,
        added: Vec<Hung>,
        holds: impl Fn(&Hung, &[&Hung]) -> bool,
    ) -> Result<(), Refused> {
        let bodies = self.has_room(&added, &holds)?;
        self.sticks.extend(added);
        self.bodies.extend(bodies.into_iter().map(Some));
        Ok(())
    }

    /// Takes the last sticks away again, so that so many are left.
    pub(super) fn back_to(&mut self, count: usize) {
        self.sticks.truncate(count);
        self.bodies.truncate(count);
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.sticks.len()
    }

    /// What is in its place already.
    pub(super) fn sticks(&self) -> impl Iterator<Item = (&Hung, &Body)> {
        let both = self.sticks.iter().zip(&self.bodies);
        both.filter_map(|(hung, body)| Some((hung, body.as_ref()?)))
    }
}
