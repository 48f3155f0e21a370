//! Sticks as solids: which of them touch, and whether another one has room among them.

use std::cell::RefCell;
use std::collections::HashMap;

use crate::frame::member::described;
use crate::frame::stick::{Axis, Stick};
use crate::geom::{Cell, DVec2, DVec3, Solid};
use crate::measure::tolerance::{HAIR, ON_IT};
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
    pub stick: Stick,
    pub low: DVec3,
    pub high: DVec3,
}

impl Body {
    /// The body of a stick; `None` if its cuts leave nothing of it, or several pieces.
    pub(super) fn of(hung: &Hung) -> Option<Body> {
        Body::cut(hung.stick().filter(|stick| stick.solid().pieces() == 1)?)
    }

    /// The body of a stick that is whole.
    fn cut(stick: Stick) -> Option<Body> {
        let (low, high) = stick.solid().bounds()?;
        Some(Body { stick, low, high })
    }

    /// Its wood.
    pub(super) fn solid(&self) -> &Solid {
        self.stick.solid()
    }

    /// True if it may touch another one.
    pub(super) fn is_near(&self, other: &Body) -> bool {
        let room = DVec3::splat(ON_IT);
        (self.low - room).cmple(other.high).all() && (other.low - room).cmple(self.high).all()
    }

    /// True if the two have room for themselves.
    pub(super) fn is_clear_of(&self, other: &Body) -> bool {
        self.solid().common_volume(other.solid()) < SHARED_IN3
    }

    /// True if the two touch face to face.
    pub(super) fn touches(&self, other: &Body) -> bool {
        let (one, other) = (self.solid().cells(), other.solid().cells());
        let area: f64 = one.iter().flat_map(|a| other.iter().map(move |b| a.contact(b))).sum();
        area > TOUCH_IN2
    }

    /// Where it touches another body: a convex outline for each of their parts.
    pub(super) fn contact(&self, other: &Body) -> Vec<Vec<DVec3>> {
        let (one, other) = (self.solid().cells(), other.solid().cells());
        let outlines = one.iter().flat_map(|a| other.iter().flat_map(|b| a.shared_faces(b)));
        outlines.filter(|outline| outline.len() > 2).collect()
    }

    /// True if a corner of it is above the roof or outside.
    pub(super) fn reaches_out(&self, roof: &Roof) -> bool {
        // on the border of the roof the point itself may seem to be outside by its last bits
        let around = [(0.0, 0.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
        let is_above = |height: Option<f64>, corner: DVec3| {
            height.is_none_or(|height| corner.z - height >= ABOVE_IN)
        };
        self.solid().corners().any(|corner| {
            if !is_above(roof.height(corner.truncate()), corner) {
                return false;
            }
            let places =
                around.map(|(x, y)| corner.truncate() + DVec2::new(x, y) * ABOVE_IN / 100.0);
            let height = places.into_iter().filter_map(|place| roof.height(place)).reduce(f64::max);
            is_above(height, corner)
        })
    }
}

/// Sticks are cut alike if they are equal to so many parts of an inch: far finer than the volume that two may share.
const PER_INCH: f64 = 1e9;

/// Sticks that were cut before: those that are cut alike need to be cut once.
#[derive(Default)]
pub(super) struct Cuts {
    /// By what sticks cut alike have in common: the first of them with where it starts, if its cuts leave a whole stick.
    known: HashMap<Vec<i64>, Option<(Stick, Axis)>>,
}

impl Cuts {
    /// The body of a stick, as [`Body::of`].
    pub(super) fn body(&mut self, hung: &Hung) -> Option<Body> {
        let Hung { role, section, axis, trims, .. } = hung;
        let (start, key) = described((*role, section), *axis, trims, PER_INCH)?;
        match self.known.get(&key) {
            Some(known) => {
                let (first, from) = known.as_ref()?;
                let place = |point| start.to_roof(from.to_pattern(point));
                Body::cut(first.elsewhere(*axis, trims.clone(), place))
            }
            None => {
                let body = Body::of(hung);
                let first = body.as_ref().map(|body| (body.stick.clone(), start));
                self.known.insert(key, first);
                body
            }
        }
    }

    /// The bodies of sticks.
    pub(super) fn bodies(&mut self, sticks: &[Hung]) -> Vec<Option<Body>> {
        sticks.iter().map(|hung| self.body(hung)).collect()
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

/// Which sticks may be near a place: by squares of the plan.
#[derive(Default)]
pub(super) struct Near {
    squares: HashMap<(i32, i32), Vec<usize>>,
}

/// Side of a square of the plan, inches: about two bays, so that few sticks are in one and few squares under one stick.
const SQUARE_IN: f64 = 32.0;

impl Near {
    /// The squares that a box touches.
    fn under(low: DVec3, high: DVec3) -> impl Iterator<Item = (i32, i32)> {
        // sides of less than 200 ft fit by far
        let square = |at: f64| (at / SQUARE_IN).floor() as i32;
        let (across, up) = (square(low.x)..=square(high.x), square(low.y)..=square(high.y));
        across.flat_map(move |x| up.clone().map(move |y| (x, y)))
    }

    /// Where bodies are.
    pub(super) fn of<'b>(bodies: impl IntoIterator<Item = &'b Body>) -> Near {
        let mut near = Near::default();
        for (number, body) in bodies.into_iter().enumerate() {
            near.add(number, body);
        }
        near
    }

    fn add(&mut self, number: usize, body: &Body) {
        for square in Near::under(body.low, body.high) {
            self.squares.entry(square).or_default().push(number);
        }
    }

    /// The sticks whose squares a box touches, each once, in their order.
    pub(super) fn to(&self, low: DVec3, high: DVec3) -> Vec<usize> {
        let room = DVec3::splat(ON_IT);
        let squares = Near::under(low - room, high + room);
        let mut found: Vec<usize> =
            squares.filter_map(|square| self.squares.get(&square)).flatten().copied().collect();
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The sticks of a roof so far, among which others find room.
pub(super) struct Room<'a> {
    roof: &'a Roof,
    sticks: &'a mut Vec<Hung>,
    bodies: Vec<Option<Body>>,
    cuts: RefCell<Cuts>,
    near: Near,
    /// Where no wood may be.
    clear: Vec<Solid>,
}

impl<'a> Room<'a> {
    /// The room among some sticks under a roof.
    pub(super) fn of(roof: &'a Roof, sticks: &'a mut Vec<Hung>, clear: Vec<Solid>) -> Room<'a> {
        let mut cuts = Cuts::default();
        let bodies = cuts.bodies(sticks);
        let mut near = Near::default();
        for (number, body) in bodies.iter().enumerate() {
            if let Some(body) = body {
                near.add(number, body);
            }
        }
        Room { roof, sticks, bodies, cuts: RefCell::new(cuts), near, clear }
    }

    /// The sticks' bodies, once all have found their places.
    pub(super) fn into_bodies(self) -> Vec<Option<Body>> {
        self.bodies
    }

    /// What may be near a box.
    fn near(&self, low: DVec3, high: DVec3) -> impl Iterator<Item = (&Hung, &Body)> {
        // of sticks that were taken away again numbers may be left
        let found = self.near.to(low, high).into_iter();
        found.filter_map(|number| {
            Some((self.sticks.get(number)?, self.bodies.get(number)?.as_ref()?))
        })
    }

    /// True if sticks have room: each is whole, under the roof and in no other's place, and all have what they need: `holds` says so
    /// of one with those that it touches.
    pub(super) fn has_room(
        &self,
        added: &[Hung],
        holds: &dyn Fn(&Hung, &[&Hung]) -> bool,
    ) -> Result<Vec<Body>, Refused> {
        let bodies =
            self.cuts.borrow_mut().bodies(added).into_iter().collect::<Option<Vec<Body>>>();
        let bodies = bodies.ok_or(Refused::NoRoom)?;
        for (number, (hung, body)) in added.iter().zip(&bodies).enumerate() {
            let in_the_way = |clear: &Solid| clear.common_volume(body.solid()) >= SHARED_IN3;
            if body.reaches_out(self.roof) || self.clear.iter().any(in_the_way) {
                return Err(Refused::NoRoom);
            }
            let together = added.iter().zip(&bodies).enumerate();
            let together = together.filter(|(other, _)| *other != number).map(|(_, other)| other);
            let mut touched = Vec::new();
            let around = self.near(body.low, body.high).chain(together);
            for (other, its) in around.filter(|(_, its)| body.is_near(its)) {
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
        for (number, body) in (self.sticks.len()..).zip(&bodies) {
            self.near.add(number, body);
        }
        self.sticks.extend(added);
        self.bodies.extend(bodies.into_iter().map(Some));
        Ok(())
    }

    /// What stands in a strip, as reaches from a point along it in their order, those that meet together.
    pub(super) fn taken(&self, strip: &Solid, from: DVec3, along: DVec3) -> Vec<(f64, f64)> {
        let reach = |(_, body): (&Hung, &Body)| {
            let cells = body.solid().cells().iter();
            let common: Vec<Cell> = cells
                .flat_map(|a| strip.cells().iter().filter_map(move |b| a.common(b)))
                .filter(|cell| cell.volume() > SHARED_IN3)
                .collect();
            let places =
                common.iter().flat_map(Cell::corners).map(|corner| (corner - from).dot(along));
            let reach = places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
            (reach.1 > reach.0).then_some(reach)
        };
        let Some((low, high)) = strip.bounds() else { return Vec::new() };
        let is_near =
            |(_, body): &(&Hung, &Body)| body.low.cmple(high).all() && low.cmple(body.high).all();
        let mut taken: Vec<(f64, f64)> =
            self.near(low, high).filter(is_near).filter_map(reach).collect();
        taken.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for reach in taken {
            match joined.last_mut() {
                Some(last) if reach.0 <= last.1 + HAIR => last.1 = last.1.max(reach.1),
                _ => joined.push(reach),
            }
        }
        joined
    }

    /// Cuts one of the sticks otherwise, within the wood that it has; gives what it was. `None`, and nothing changes, if that leaves no
    /// whole stick.
    pub(super) fn recut(&mut self, number: usize, hung: Hung) -> Option<Hung> {
        let body = self.cuts.borrow_mut().body(&hung)?;
        self.bodies[number] = Some(body);
        Some(std::mem::replace(&mut self.sticks[number], hung))
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

    /// The sticks so far, by their numbers.
    pub(super) fn hung(&self) -> &[Hung] {
        self.sticks
    }

    /// What is in its place already.
    pub(super) fn sticks(&self) -> impl Iterator<Item = (&Hung, &Body)> {
        let both = self.sticks.iter().zip(&self.bodies);
        both.filter_map(|(hung, body)| Some((hung, body.as_ref()?)))
    }
}
