//! Where in the frame a stick is: what its id is made of, and the same in words.

use super::pair::Pair;
use super::role::{Place, Role};
use super::site::{EaveSide, Site};
use super::stick::{Axis, Stick};
use crate::geom::DVec3;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Note};

/// A place along the building.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// Flush with the near end wall, or outside it.
    Near,
    /// Flush with the far end wall, or outside it.
    Far,
    /// So many inches from the near end wall's framing face.
    From(f64),
}

impl Along {
    /// The place of a stick whose center is at `x`.
    #[must_use]
    pub fn of(x: f64, site: &Site) -> Along {
        if x <= site.thick {
            Along::Near
        } else if x >= site.length - site.thick {
            Along::Far
        } else {
            Along::From(x)
        }
    }
}

/// One of the two end walls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndWall {
    /// The one at x = 0.
    Near,
    /// The one across.
    Far,
}

impl EndWall {
    fn words(self) -> &'static str {
        match self {
            EndWall::Near => "near end",
            EndWall::Far => "far end",
        }
    }
}

/// Where a stick is, as its role distinguishes it from others. No eave means on the middle line. Inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    /// One of a row along the building.
    Row(Option<EaveSide>, Along),
    /// In the bay after a rafter.
    Bay(EaveSide, Along),
    /// A piece of a line of boards along the building, by where it starts; the first starts at or before the near end.
    Piece(Option<EaveSide>, f64),
    /// A piece along an end wall, by its distance from eave A.
    Across(EndWall, f64),
    /// One of an end wall: how far from the ridge's center line; over an opening also its foot above the plate.
    End(EndWall, Option<EaveSide>, f64, Option<f64>),
    /// One above another in an end wall, by its height above the plate.
    Height(EndWall, f64),
    /// One at an opening, by where it starts: from the near end wall's framing face, and from eave A.
    Point(f64, f64),
}

/// A stick nearer to the ridge's center line than this is on it: half of the step of places in ids.
const ON_THE_LINE_IN: f64 = 1.0 / 32.0;

impl Spot {
    /// The spot of a stick along `axis`.
    #[must_use]
    pub fn of(role: Role, stick: &Stick, axis: &Axis, site: &Site, pairs: &[Pair]) -> Spot {
        let far = axis.origin + axis.along * stick.blank_length().inches();
        let middle = (axis.origin + far) / 2.0 + axis.up * (stick.section.depth_in() / 2.0);
        let low = axis.origin.min(far);
        match role.place() {
            Place::Row => Spot::Row(side(middle, site), Along::of(middle.x, site)),
            Place::Bay => {
                let eave = if middle.y < site.run { EaveSide::A } else { EaveSide::B };
                let before = pairs.iter().map(|pair| pair.x(eave)).rev();
                let before = before.into_iter().find(|face| *face < low.x);
                Spot::Bay(eave, Along::of(before.unwrap_or(low.x) + site.thick / 2.0, site))
            }
            Place::Piece if axis.along.x.abs() > axis.along.y.abs() => {
                Spot::Piece(side(middle, site), low.x)
            }
            Place::Piece => Spot::Across(end(middle, site), low.y),
            Place::End => {
                let from_ridge = (middle.y - site.run).abs();
                let over_opening = role == Role::GableStud && low.z > site.thick;
                let above = over_opening.then_some(low.z);
                Spot::End(end(middle, site), side(middle, site), from_ridge, above)
            }
            Place::Height => Spot::Height(end(middle, site), low.z),
            Place::Point if axis.along.x.abs() > axis.along.y.abs() => Spot::Point(low.x, middle.y),
            Place::Point => Spot::Point(middle.x, low.y),
        }
    }

    /// In words: `eave A, center 4' 0" from the near end`.
    #[must_use]
    pub fn words(self) -> Note {
        let tape = |value: f64| Amount::Tape(inches(value));
        match self {
            Spot::Row(eave, Along::From(x)) => {
                Note::with("{}, center {} from the near end", [line(eave), tape(x)])
            }
            Spot::Row(eave, along) => Note::with("{}, {}", [line(eave), flush(along)]),
            Spot::Bay(eave, Along::From(x)) => {
                Note::with("{}, after the rafter {} from the near end", [line(Some(eave)), tape(x)])
            }
            Spot::Bay(eave, along) => {
                Note::with("{}, next to the rafter {}", [line(Some(eave)), flush(along)])
            }
            Spot::Piece(eave, x) if x <= 0.0 => {
                Note::with("{}, starts at the near end", [line(eave)])
            }
            Spot::Piece(eave, x) => {
                Note::with("{}, starts {} from the near end", [line(eave), tape(x)])
            }
            Spot::Across(end, y) if y <= 0.0 => Note::with("{}, from eave A on", [end]),
            Spot::Across(end, y) => Note::with("{}, starts {} from eave A", [end.into(), tape(y)]),
            Spot::End(end, None, _, above) => over(Note::with("{}, under the ridge", [end]), above),
            Spot::End(end, Some(eave), from_ridge, above) => over(
                Note::with(
                    "{}, {} from the ridge toward {}",
                    [end.into(), tape(from_ridge), line(Some(eave))],
                ),
                above,
            ),
            Spot::Height(end, z) => Note::with("{}, {} above the plate", [end.into(), tape(z)]),
            Spot::Point(x, y) => {
                Note::with("{} from the near end, {} from eave A", [tape(x), tape(y)])
            }
        }
    }
}

impl From<EndWall> for Amount {
    fn from(end: EndWall) -> Amount {
        end.words().into()
    }
}

fn line(eave: Option<EaveSide>) -> Amount {
    match eave {
        Some(EaveSide::A) => "eave A".into(),
        Some(EaveSide::B) => "eave B".into(),
        None => "middle line".into(),
    }
}

fn flush(along: Along) -> Amount {
    match along {
        Along::Near => "at the near end".into(),
        Along::Far => "at the far end".into(),
        Along::From(x) => Note::with("at {}", [Amount::Tape(inches(x))]).into(),
    }
}

fn over(at: Note, above: Option<f64>) -> Note {
    match above {
        Some(z) => Note::with("{}, foot {} above the plate", [at.into(), Amount::Tape(inches(z))]),
        None => at,
    }
}

/// The eave that a stick belongs to; `None` on the middle line.
fn side(middle: DVec3, site: &Site) -> Option<EaveSide> {
    let from_ridge = middle.y - site.run;
    (from_ridge.abs() > ON_THE_LINE_IN).then_some(if from_ridge < 0.0 {
        EaveSide::A
    } else {
        EaveSide::B
    })
}

/// The nearer end of the building.
fn end(middle: DVec3, site: &Site) -> EndWall {
    if middle.x < site.length / 2.0 { EndWall::Near } else { EndWall::Far }
}
