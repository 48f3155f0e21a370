//! A pattern rafter cut wrong on purpose: its stick with the planes where a slip puts them.
//!
//! Marks lie on the top edge, with the tape hooked on the ridge's long point; plumb and level lines are
//! drawn from them with the square. Each [`Slip`] moves the planes that it would move at the sawhorses
//! and leaves the others. The readings are measured on the resulting stick.

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DQuat, DVec3, Plane};
use crate::measure::quantity::{Angle, in_degrees, inches, radians};
use crate::measure::{Length, Tape, Writing, trim};
use crate::plan::TailCut;

use super::common::CommonRafter;
use super::marks::{HighPlanes, Planes};
use super::stick::{Axis, Edge, Stick, Trim};

/// What can go wrong with a pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slip {
    /// The square was not held at the rise: every plumb and level line leans. An angle, positive if too steep.
    Square,
    /// The ridge cut was made beside its mark; positive if the rafter is long there.
    RidgePlace,
    /// The ridge cut alone leans about its long point. An angle, positive if too steep.
    RidgeLean,
    /// The whole birdsmouth is beside its mark, along the rafter; positive if too far from the ridge.
    Birdsmouth,
    /// The seat was cut too deep, plumb.
    SeatDepth,
    /// Only the heel cut is beside its place, level; positive if too far out.
    Heel,
    /// The seat is not level, with the heel right. An angle, positive if its inner end is low.
    SeatLean,
    /// The tail cut is beside its mark, along the rafter; positive if the tail is long.
    Tail,
    /// The stock is deeper than planned, and the marks are made from the top edge.
    Stock,
    /// The whole birdsmouth on the high plate is beside its mark, along the rafter; positive if too far from the high tail.
    HighBirdsmouth,
    /// The high seat was cut too deep, plumb.
    HighSeatDepth,
    /// Only the high heel cut is beside its place, level; positive if too far toward the low wall.
    HighHeel,
    /// The high seat is not level, with its heel right. An angle, positive if its outer end is low.
    HighSeatLean,
}

/// The size of a slip: a length in inches, or an angle in radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
}

impl Slip {
    /// All of them; the last four where there is a birdsmouth on a second plate.
    pub const ALL: [Slip; 13] = [
        Slip::Square,
        Slip::RidgePlace,
        Slip::RidgeLean,
        Slip::Birdsmouth,
        Slip::SeatDepth,
        Slip::Heel,
        Slip::SeatLean,
        Slip::Tail,
        Slip::Stock,
        Slip::HighBirdsmouth,
        Slip::HighSeatDepth,
        Slip::HighHeel,
        Slip::HighSeatLean,
    ];

    /// True if it is of the birdsmouth on a second plate.
    fn is_high(self) -> bool {
        use Slip::{HighBirdsmouth, HighHeel, HighSeatDepth, HighSeatLean};
        matches!(self, HighBirdsmouth | HighSeatDepth | HighHeel | HighSeatLean)
    }

    /// True if its amount is an angle.
    #[must_use]
    pub fn is_angle(self) -> bool {
        matches!(self, Slip::Square | Slip::RidgeLean | Slip::SeatLean | Slip::HighSeatLean)
    }

    /// In a word, for programs.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Slip::Square => "square",
            Slip::RidgePlace => "ridge cut",
            Slip::RidgeLean => "ridge cut's lean",
            Slip::Birdsmouth => "birdsmouth",
            Slip::SeatDepth => "seat's depth",
            Slip::Heel => "heel cut",
            Slip::SeatLean => "seat's lean",
            Slip::Tail => "tail",
            Slip::Stock => "stock",
            Slip::HighBirdsmouth => "high birdsmouth",
            Slip::HighSeatDepth => "high seat's depth",
            Slip::HighHeel => "high heel cut",
            Slip::HighSeatLean => "high seat's lean",
        }
    }

    /// In words, with its inches or radians; `end` is the upper end of the rafter, the ridge or the high tail.
    #[must_use]
    pub fn words(self, of: f64, end: &str, writing: Writing) -> String {
        let amount = match self.amount(of.abs()) {
            // a slip that the tape shows as zero is still not zero
            Amount::Length(length)
                if Tape::nearest(length, writing.step).length() == inches(0.0) =>
            {
                "under a step of the tape".to_owned()
            }
            Amount::Length(length) => writing.length(length),
            Amount::Angle(angle) => format!("{} deg", trim(in_degrees(angle), 1)),
        };
        let either = |positive, negative| if of > 0.0 { positive } else { negative };
        match self {
            Slip::Square => format!("square held {amount} too {}", either("steep", "flat")),
            Slip::RidgePlace => format!("{end} cut {amount} {}", either("long", "short")),
            Slip::RidgeLean => format!("{end} cut alone {amount} too {}", either("steep", "flat")),
            Slip::Birdsmouth => {
                format!("birdsmouth {amount} too {} the {end}", either("far from", "near"))
            }
            Slip::SeatDepth => format!("seat {amount} too {}", either("deep", "shallow")),
            Slip::Heel => format!("heel cut alone {amount} too far {}", either("out", "in")),
            Slip::SeatLean => {
                format!("seat {amount} off level, its inner end {}", either("low", "high"))
            }
            Slip::Tail => format!("tail {amount} {}", either("long", "short")),
            Slip::Stock => format!("stock {amount} {} than planned", either("deeper", "shallower")),
            Slip::HighBirdsmouth => {
                format!("high birdsmouth {amount} too {} the {end}", either("far from", "near"))
            }
            Slip::HighSeatDepth => {
                format!("high seat {amount} too {}", either("deep", "shallow"))
            }
            Slip::HighHeel => {
                format!("high heel cut alone {amount} too far {}", either("in", "out"))
            }
            Slip::HighSeatLean => {
                format!("high seat {amount} off level, its outer end {}", either("low", "high"))
            }
        }
    }

    /// A number as an amount: radians for an angle, inches for a length.
    #[must_use]
    pub fn amount(self, of: f64) -> Amount {
        if self.is_angle() { Amount::Angle(radians(of)) } else { Amount::Length(inches(of)) }
    }
}

impl Amount {
    /// Degrees of an angle.
    #[must_use]
    pub fn degrees(self) -> Option<f64> {
        match self {
            Amount::Angle(angle) => Some(in_degrees(angle)),
            Amount::Length(_) => None,
        }
    }
}

/// The tape readings of a pattern that ends at a ridge, in the order of the check sheet. One on a second plate has three more: the
/// high heel along and square to the rafter (7, 9), and the high seat's outer end (8).
///
/// Each determines one thing that the others leave open: the heel's place along and square to the
/// rafter (1, 6), the seat's inner end (2), the tail (3), and the depth of the stock and the lean of
/// the ridge cut (4, 5).
pub const READINGS: usize = 6;

/// How many more there are of the birdsmouth on a second plate.
pub const HIGH_READINGS: usize = 3;

/// The planes of a pattern's cuts, and its stock.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternCuts {
    section: Section,
    axis: Axis,
    at: Planes,
    /// True if the tail is drawn with the square, as the plumb cuts are.
    tail_is_plumb: bool,
}

impl PatternCuts {
    /// The cuts of a pattern as it should be.
    #[must_use]
    pub fn of(rafter: &CommonRafter) -> PatternCuts {
        PatternCuts {
            section: rafter.stick.section.clone(),
            axis: rafter.stick.axis,
            at: rafter.planes.clone(),
            tail_is_plumb: rafter.plan.tail != TailCut::Square,
        }
    }

    /// The slips that this pattern can have.
    pub fn slips(&self) -> impl Iterator<Item = Slip> {
        let has_high = self.at.high.is_some();
        Slip::ALL.into_iter().filter(move |slip| has_high || !slip.is_high())
    }

    /// The same with slips, each in inches or radians.
    #[must_use]
    pub fn with(&self, slips: &[(Slip, f64)]) -> PatternCuts {
        let mut cuts = self.clone();
        for (slip, of) in slips {
            cuts.slip(*slip, *of);
        }
        cuts
    }

    fn slip(&mut self, slip: Slip, of: f64) {
        let along = self.axis.along;
        match slip {
            Slip::Square => {
                self.at.upper = leaned(&self.at.upper, self.on_edge(&self.at.upper, Edge::Top), of);
                let mark = self.on_edge(&self.at.heel, Edge::Top);
                self.at.heel = leaned(&self.at.heel, mark, of);
                self.at.seat = leaned(&self.at.seat, mark, of);
                if let Some(HighPlanes { heel, seat }) = self.at.high {
                    let mark = self.on_edge(&heel, Edge::Top);
                    let [heel, seat] = [heel, seat].map(|plane| leaned(&plane, mark, of));
                    self.at.high = Some(HighPlanes { heel, seat });
                }
                if self.tail_is_plumb {
                    let top = self.on_edge(&self.at.tail, Edge::Top);
                    self.at.tail = leaned(&self.at.tail, top, of);
                    self.at.soffit = self.at.soffit.map(|soffit| leaned(&soffit, top, of));
                }
            }
            Slip::RidgePlace => self.at.upper = moved(&self.at.upper, along * of),
            Slip::RidgeLean => {
                self.at.upper = leaned(&self.at.upper, self.on_edge(&self.at.upper, Edge::Top), of);
            }
            Slip::Birdsmouth => {
                self.at.heel = moved(&self.at.heel, -along * of);
                self.at.seat = moved(&self.at.seat, -along * of);
            }
            Slip::SeatDepth => self.at.seat = moved(&self.at.seat, DVec3::Z * of),
            Slip::Heel => self.at.heel = moved(&self.at.heel, -DVec3::Y * of),
            Slip::SeatLean => self.at.seat = leaned(&self.at.seat, self.seat_outer(), of),
            Slip::Tail => {
                self.at.tail = moved(&self.at.tail, -along * of);
                self.at.soffit = self.at.soffit.map(|soffit| moved(&soffit, -along * of));
            }
            Slip::HighBirdsmouth => {
                self.high(|HighPlanes { heel, seat }| HighPlanes {
                    heel: moved(&heel, -along * of),
                    seat: moved(&seat, -along * of),
                });
            }
            Slip::HighSeatDepth => self.high(|HighPlanes { heel, seat }| HighPlanes {
                heel,
                seat: moved(&seat, DVec3::Z * of),
            }),
            Slip::HighHeel => self.high(|HighPlanes { heel, seat }| HighPlanes {
                heel: moved(&heel, -DVec3::Y * of),
                seat,
            }),
            Slip::HighSeatLean => self.high(|HighPlanes { heel, seat }| HighPlanes {
                heel,
                seat: leaned(&seat, meeting(&seat, &heel), of),
            }),
            Slip::Stock => {
                self.section =
                    Section::actual(self.section.thickness, self.section.depth + inches(of));
                self.axis.origin -= self.axis.up * of;
            }
        }
    }

    /// Changes the planes of the birdsmouth on the high plate, if there is one.
    fn high(&mut self, change: impl Fn(HighPlanes) -> HighPlanes) {
        self.at.high = self.at.high.map(change);
    }

    /// The high seat's heel, and its outer end on the bottom edge or at the high tail cut if that comes first.
    fn high_seat(&self) -> Option<[DVec3; 2]> {
        let HighPlanes { heel, seat } = self.at.high.as_ref()?;
        let end = self.on_edge(seat, Edge::Bottom);
        let beyond = self.at.upper.distance(end) > 0.0;
        let end = if beyond { meeting(seat, &self.at.upper) } else { end };
        Some([meeting(seat, heel), end])
    }

    /// Where a plane crosses an edge, on the middle of the stick; the edge is extended as far as
    /// necessary.
    fn on_edge(&self, plane: &Plane, edge: Edge) -> DVec3 {
        let start = match edge {
            Edge::Top => self.axis.origin + self.axis.up * self.section.depth_in(),
            Edge::Bottom => self.axis.origin,
        };
        let station = plane.along_line(start, self.axis.along).unwrap_or_default();
        start + self.axis.along * station
    }

    /// The seat's outer end: the heel, or where the tail cut meets the seat if that comes first.
    fn seat_outer(&self) -> DVec3 {
        let heel = meeting(&self.at.seat, &self.at.heel);
        if self.at.tail.distance(heel) > 0.0 { meeting(&self.at.seat, &self.at.tail) } else { heel }
    }

    /// The seat's inner end, on the bottom edge.
    fn seat_inner(&self) -> DVec3 {
        self.on_edge(&self.at.seat, Edge::Bottom)
    }

    /// The readings, inches, in the order of the check sheet.
    #[must_use]
    pub fn readings(&self) -> Vec<f64> {
        let long = self.on_edge(&self.at.upper, Edge::Top);
        let short = self.on_edge(&self.at.upper, Edge::Bottom);
        let heel = self.seat_outer();
        let mut reads = vec![
            long.distance(heel),
            long.distance(self.seat_inner()),
            long.distance(self.on_edge(&self.at.tail, Edge::Top)),
            long.distance(short),
            (long - short).dot(self.axis.along),
            (long - heel).dot(self.axis.up),
        ];
        if let Some([heel, end]) = self.high_seat() {
            reads.extend([
                long.distance(heel),
                long.distance(end),
                (long - heel).dot(self.axis.up),
            ]);
        }
        reads
    }

    /// What the tape reads of each of [`Further::ALL`], inches.
    #[must_use]
    pub fn further(&self) -> [f64; Further::ALL.len()] {
        let (heel, inner) = (self.seat_outer(), self.seat_inner());
        let top = self.on_edge(&self.at.tail, Edge::Top);
        let low = match &self.at.soffit {
            Some(soffit) => meeting(soffit, &self.at.tail),
            None => self.on_edge(&self.at.tail, Edge::Bottom),
        };
        Further::ALL.map(|further| match further {
            Further::Seat => heel.distance(inner),
            Further::SquareToHeel => {
                let square = self.at.heel.normal;
                let over = inner - heel;
                over.dot(DVec3::new(0.0, -square.z, square.y)).abs()
            }
            Further::TailCut => top.distance(low),
            Further::Depth => self.section.depth_in(),
        })
    }

    /// The corners of the cuts, in the stick's own frame before any slip of the stock: the ridge's long
    /// and short point, the seat's outer and inner end, the tail's top corner, the high seat's heel and outer end; inches from the
    /// long point.
    #[must_use]
    pub fn corners(&self) -> Vec<DVec3> {
        let long = self.on_edge(&self.at.upper, Edge::Top);
        let own = [
            self.on_edge(&self.at.upper, Edge::Bottom),
            self.seat_outer(),
            self.seat_inner(),
            self.on_edge(&self.at.tail, Edge::Top),
        ];
        let high = self.high_seat().into_iter().flatten();
        own.into_iter().chain(high).map(|corner| corner - long).collect()
    }

    /// The stick with these cuts; `None` if nothing remains.
    #[must_use]
    pub fn stick(&self) -> Option<Stick> {
        let trim = |name, cut| Trim { name, cut };
        let ends = [
            trim("ridge plumb cut", Cut::off(self.at.upper)),
            trim("tail cut", Cut::off(self.at.tail)),
        ];
        let mut notches = vec![trim("birdsmouth", Cut::out([self.at.seat, self.at.heel]))];
        if let Some(HighPlanes { heel, seat }) = self.at.high {
            notches.push(trim("high birdsmouth", Cut::out([seat, heel])));
        }
        if let Some(soffit) = self.at.soffit {
            notches.push(trim("level soffit cut", Cut::out([soffit, self.at.heel.flipped()])));
        }
        Stick::new(self.section.clone(), self.axis, ends, &notches)
    }
}

/// A measurement besides the six that distinguishes two causes with the same six readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Further {
    /// Along the seat.
    Seat,
    /// Gap at the seat's inner end under a square held against the heel cut.
    SquareToHeel,
    /// Along the tail cut.
    TailCut,
    /// Depth of the stock.
    Depth,
}

impl Further {
    /// All of them.
    pub const ALL: [Further; 4] =
        [Further::Seat, Further::SquareToHeel, Further::TailCut, Further::Depth];

    /// Its place in [`Further::ALL`].
    #[must_use]
    pub fn place(self) -> usize {
        match self {
            Further::Seat => 0,
            Further::SquareToHeel => 1,
            Further::TailCut => 2,
            Further::Depth => 3,
        }
    }

    /// From where to where.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Further::Seat => "along the seat, end to end",
            Further::SquareToHeel => {
                "the gap at the seat's inner end, with a square held against the heel cut"
            }
            Further::TailCut => "along the tail cut, from the top edge to its lower corner",
            Further::Depth => "the depth of the stock",
        }
    }
}

/// Where two planes square to the stick's face meet, at x = 0.
fn meeting(one: &Plane, other: &Plane) -> DVec3 {
    let along = DVec3::new(0.0, -one.normal.z, one.normal.y);
    let start = one.normal * one.offset;
    start + along * other.along_line(start, along).unwrap_or_default()
}

/// A plane moved.
fn moved(plane: &Plane, by: DVec3) -> Plane {
    plane.moved_out(plane.normal.dot(by))
}

/// A plane turned about a point by `by` radians: the lower end of a plumb line moves toward the tail,
/// as on a steeper roof.
fn leaned(plane: &Plane, about: DVec3, by: f64) -> Plane {
    let normal = DQuat::from_rotation_x(-by) * plane.normal;
    Plane { normal, offset: normal.dot(about) + plane.offset - plane.normal.dot(about) }
}

#[cfg(test)]
mod tests;
