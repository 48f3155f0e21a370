//! Why a shape has no roof, with the field to change and the nearest that has one.

use crate::key;
use crate::measure::Amount::{self, AtLeast, AtMost};
use crate::measure::quantity::inches;
use crate::measure::{Length, Note, Pitch};
use crate::plan::Key;
use crate::plan::blocks::Wall;

/// Why a shape has no roof.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotRoof {
    /// The wing stands before a wing that is not there, or comes only later.
    NoSuchWing {
        /// The wing.
        wing: String,
        /// What it stands before.
        on: String,
    },
    /// Its ridge is higher than the ridge it would die into.
    RidgeTooHigh {
        /// The wing or dormer.
        name: String,
        /// Which of them it is.
        stands: Stands,
        /// How much too high.
        by: Length,
        /// The largest run that is not too high: half the span, of a shed dormer its depth.
        most_run: Length,
        /// The steepest pitch that is not; `None` if no pitch is low enough.
        most_pitch: Option<Pitch>,
    },
    /// Hip ends over eave walls of unlike height, or on a shed.
    HipEnd {
        /// True if the near end is one.
        near: bool,
    },
    /// Walls A and B so unlike in height that the two slopes do not meet over the building.
    NoRidge {
        /// By how much the heights may differ at most.
        most: Length,
    },
    /// The wing or dormer does not stand wholly before its wall.
    BesideItsWall {
        /// The wing or dormer.
        name: String,
        /// The largest start that its span leaves; below zero if the span alone is too large.
        most_start: Length,
        /// The largest span that its start leaves.
        most_span: Length,
    },
    /// The front of a dormer stands at the ridge or beyond it.
    PastRidge {
        /// The dormer.
        name: String,
        /// From the building line to the ridge: its face must be less.
        ridge: Length,
    },
    /// A shed dormer is as steep as the slope that it stands in, or steeper: the two never meet above it.
    NotFlatter {
        /// The dormer.
        name: String,
        /// The pitch of that slope.
        below: Pitch,
    },
    /// A dormer's walls end below the roof before it, so that nothing of it shows.
    Buried {
        /// The dormer.
        name: String,
        /// Height of the roof at its front wall above the main plate: its wall must be more.
        roof: Length,
    },
    /// A dormer reaches over a hip, or under a wing: it does not come down all around on the one face that it stands in.
    OutOfItsSlope {
        /// The dormer.
        name: String,
        /// Its start.
        own: Length,
        /// The start nearest to that with which it does, if one does.
        start: Option<Length>,
    },
    /// Two blocks share a part of the plan within their walls, or two dormers do.
    Overlap {
        /// One.
        one: String,
        /// The other.
        other: String,
        /// The start of the other nearest to its own that leaves both room, if one does: the least that does, or the greatest.
        start: Option<Amount>,
    },
    /// An opening reaches out of the one face that it lies in.
    OutOfItsFace {
        /// The opening.
        name: String,
        /// What would do, if anything does.
        room: Option<Room>,
    },
    /// No slope rises from the wall on whose side a dormer or an opening should be.
    NoSlope {
        /// Its name.
        name: String,
        /// The walls that have one.
        walls: Vec<Wall>,
    },
}

/// Where an opening has room.
#[derive(Debug, Clone, PartialEq)]
pub enum Room {
    /// With at most this length along the slope.
    Length(Length),
    /// With this start, the least or the greatest that does.
    Start(Amount),
    /// From so far in, the least or the greatest that does.
    From(Amount),
}

/// A value that does, beyond one that does not or before it.
pub(super) fn least_or_most(value: Length, told: Length) -> Amount {
    if value > told { AtLeast(value) } else { AtMost(value) }
}

/// What stands before a wall or in a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// A wing.
    Wing,
    /// A dormer with two slopes.
    GableDormer,
    /// A dormer with one.
    ShedDormer,
}

/// What is said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The field of the main block, or the name of a wing's, dormer's or opening's own.
    pub at: At,
    /// What can't be.
    pub message: Note,
    /// What can.
    pub help: Note,
}

/// The field that a refusal is about.
#[derive(Debug, Clone, PartialEq)]
pub enum At {
    /// One of the whole roof.
    Field(Key),
    /// One of the wing, dormer or opening of a name.
    Of(String, &'static str),
}

impl CannotRoof {
    /// What is said of it.
    #[must_use]
    pub fn told(&self) -> Told {
        let of = |name: &str, field: &'static str| At::Of(name.to_owned(), field);
        match self {
            CannotRoof::NoSuchWing { wing, on } => Told {
                at: of(wing, "on"),
                message: format!("no wing that is written before {wing} has the name {on}").into(),
                help: "write the wing that it stands before first".into(),
            },
            CannotRoof::RidgeTooHigh { name, stands, by, most_run, most_pitch } => {
                too_high(name, *stands, *by, (*most_run, *most_pitch))
            }
            CannotRoof::HipEnd { near } => Told {
                at: At::Field(if *near { key!("roof.near_end") } else { key!("roof.far_end") }),
                message: "a hip end needs two slopes over walls of one height".into(),
                help: "write \"gable\" here, or leave out shape = \"shed\" and wall_height_b"
                    .into(),
            },
            CannotRoof::NoRidge { most } => Told {
                at: At::Field(key!("building.wall_height_b")),
                message: "the two slopes do not meet over the building".into(),
                help: Note::with("let the two walls differ by less than {}", [AtMost(*most)]),
            },
            CannotRoof::BesideItsWall { name, most_start, most_span } => Told {
                at: of(name, if *most_start < inches(0.0) { "span" } else { "start" }),
                message: format!("{name} reaches past the end of the wall that it stands before")
                    .into(),
                help: if *most_start < inches(0.0) && *most_span > inches(0.0) {
                    Note::with("write a span of at most {}", [AtMost(*most_span)])
                } else if *most_start < inches(0.0) {
                    "write a start of 0 and a span no longer than that wall".into()
                } else {
                    Note::with("write a start of at most {}", [AtMost(*most_start)])
                },
            },
            CannotRoof::PastRidge { name, ridge } => Told {
                at: of(name, "face"),
                message: format!("the front wall of {name} is at the ridge or past it").into(),
                help: if *ridge > inches(0.0) {
                    Note::with("write a face of less than {}", [AtMost(*ridge)])
                } else {
                    "no front wall has room on this slope: mend the slope first".into()
                },
            },
            CannotRoof::NotFlatter { name, below } => Told {
                at: of(name, "pitch"),
                message: format!("{name} is no flatter than the slope that it should rise to")
                    .into(),
                help: Note::with(
                    "write a pitch of less than {}",
                    [Amount::RiseIn12(below.unit_rise())],
                ),
            },
            CannotRoof::Buried { name, roof } => Told {
                at: of(name, "wall"),
                message: format!("the walls of {name} end below the roof in front of it").into(),
                help: Note::with(
                    "write a wall of more than {}, or a smaller face",
                    [AtLeast(*roof)],
                ),
            },
            CannotRoof::OutOfItsSlope { name, start, own } => Told {
                at: of(name, "start"),
                message: format!("{name} reaches over a hip or a valley").into(),
                help: match start {
                    Some(start) => {
                        let nearest = if start > own { AtLeast(*start) } else { AtMost(*start) };
                        Note::with("the nearest start with room for it is {}", [nearest])
                    }
                    None => {
                        "no start has room for it: write a smaller span, or another face or pitch"
                            .into()
                    }
                },
            },
            CannotRoof::Overlap { one, other, start } => Told {
                at: of(other, "start"),
                message: format!("{one} and {other} share a part of the plan").into(),
                help: match start {
                    Some(start) => {
                        Note::with("the nearest start with room for both is {}", [start.clone()])
                    }
                    None => "move one of them, or write a smaller span".into(),
                },
            },
            CannotRoof::OutOfItsFace { name, room } => {
                let (field, help) = match room {
                    Some(Room::Length(most)) => {
                        let note = "write a length of at most {} from there up";
                        ("length", Note::with(note, [AtMost(*most)]))
                    }
                    Some(Room::Start(start)) => (
                        "start",
                        Note::with(
                            "the opening itself has room from a start of {}; its trimmers need more beside hips and valleys",
                            [start.clone()],
                        ),
                    ),
                    Some(Room::From(from)) => (
                        "from",
                        Note::with(
                            "the opening itself has room with a from of {}; its trimmers and headers need more beside hips and valleys",
                            [from.clone()],
                        ),
                    ),
                    None => {
                        ("width", "no place beside or above has room: write a smaller width".into())
                    }
                };
                let message =
                    format!("{name} reaches over a ridge, hip or valley, or past a building line");
                Told { at: of(name, field), message: message.into(), help }
            }
            CannotRoof::NoSlope { name, walls } => Told {
                at: of(name, "on"),
                message: format!("no slope rises from the wall that {name} is on").into(),
                help: {
                    let words: Vec<&str> = walls.iter().map(|wall| wall.word()).collect();
                    format!("write one of: {}", words.join(", ")).into()
                },
            },
        }
    }
}

/// A ridge that stands above what it dies into: the largest span or pitch that does not.
fn too_high(name: &str, stands: Stands, by: Length, (run, pitch): (Length, Option<Pitch>)) -> Told {
    let pitch = pitch.map(|pitch| Amount::RiseIn12((pitch.unit_rise() * 100.0).floor() / 100.0));
    let (field, help) = match pitch {
        None => (
            if stands == Stands::Wing { "wall_height" } else { "wall" },
            Note::with("write walls at least {} lower for it", [AtLeast(by)]),
        ),
        Some(pitch) if stands == Stands::ShedDormer => (
            "pitch",
            Note::with(
                "write a pitch of at most {}, or a wall at least {} lower",
                [pitch, AtLeast(by)],
            ),
        ),
        Some(pitch) => (
            "span",
            Note::with(
                "write a span of at most {}, or a pitch of at most {}",
                [AtMost(run * 2.0), pitch],
            ),
        ),
    };
    Told {
        at: At::Of(name.to_owned(), field),
        message: Note::with(
            format!("{name} would rise {{}} above the ridge of the roof that it dies into"),
            [by],
        ),
        help,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;

    fn pitch(rise: f64) -> Option<Pitch> {
        Pitch::rise_in_12(rise)
    }

    #[track_caller]
    fn case(why: &CannotRoof, field: &'static str, help: &str) {
        let told = why.told();
        assert_eq!(told.at, At::Of("bath".to_owned(), field));
        assert_eq!(told.help.write(Writing::default()), help);
    }

    /// What is named works if it is written as it is read: the least is read up to the next sixteenth, the most down, a pitch down to the
    /// hundredth.
    #[test]
    fn what_is_named_is_read_to_the_side_that_works() {
        let name = || "bath".to_owned();
        let high = |stands, most_pitch| CannotRoof::RidgeTooHigh {
            name: name(),
            stands,
            by: inches(7.01),
            most_run: inches(50.04),
            most_pitch,
        };
        let lower = "write walls at least 7-1/16\" lower for it";
        case(&high(Stands::Wing, None), "wall_height", lower);
        case(&high(Stands::GableDormer, None), "wall", lower);
        case(&high(Stands::ShedDormer, None), "wall", lower);
        let either = "write a pitch of at most 2.09 in 12, or a wall at least 7-1/16\" lower";
        case(&high(Stands::ShedDormer, pitch(2.0999)), "pitch", either);
        let either = "write a span of at most 8' 4-1/16\", or a pitch of at most 2.09 in 12";
        case(&high(Stands::Wing, pitch(2.0999)), "span", either);
        case(&high(Stands::GableDormer, pitch(2.0999)), "span", either);

        let beside = |most, span| CannotRoof::BesideItsWall {
            name: name(),
            most_start: inches(most),
            most_span: inches(span),
        };
        case(&beside(20.05, 30.0), "start", "write a start of at most 1' 8\"");
        case(&beside(0.0, 30.0), "start", "write a start of at most 0\"");
        case(&beside(-3.01, 30.05), "span", "write a span of at most 2' 6\"");
        let both = "write a start of 0 and a span no longer than that wall";
        case(&beside(-3.01, -1.0), "span", both);

        let ridge = CannotRoof::PastRidge { name: name(), ridge: inches(20.05) };
        case(&ridge, "face", "write a face of less than 1' 8\"");
        let buried = CannotRoof::Buried { name: name(), roof: inches(20.01) };
        case(&buried, "wall", "write a wall of more than 1' 8-1/16\", or a smaller face");

        let out = |start: Option<f64>| CannotRoof::OutOfItsSlope {
            name: name(),
            own: inches(20.0),
            start: start.map(inches),
        };
        let nearest = "the nearest start with room for it is";
        case(&out(Some(22.01)), "start", &format!("{nearest} 1' 10-1/16\""));
        case(&out(Some(11.05)), "start", &format!("{nearest} 11\""));
        assert!(out(None).told().help.write(Writing::default()).starts_with("no start has room"));

        let face = |room| CannotRoof::OutOfItsFace { name: name(), room };
        let length = face(Some(Room::Length(inches(20.05))));
        case(&length, "length", "write a length of at most 1' 8\" from there up");
        let start = face(Some(Room::Start(AtLeast(inches(20.05)))));
        let more = "its trimmers need more beside hips and valleys";
        let room = format!("the opening itself has room from a start of 1' 8-1/16\"; {more}");
        case(&start, "start", &room);
        case(&face(None), "width", "no place beside or above has room: write a smaller width");
        let walls = vec![Wall::A, Wall::B];
        case(&CannotRoof::NoSlope { name: name(), walls }, "on", "write one of: A, B");

        let overlap = |start: Option<f64>| CannotRoof::Overlap {
            one: "light".to_owned(),
            other: name(),
            start: start.map(|start| AtLeast(inches(start))),
        };
        case(&overlap(Some(20.0)), "start", "the nearest start with room for both is 1' 8\"");
        case(&overlap(None), "start", "move one of them, or write a smaller span");
    }

    #[test]
    fn what_the_main_block_can_not_be_stands_at_its_own_fields() {
        let at = |why: CannotRoof| why.told().at;
        assert_eq!(at(CannotRoof::HipEnd { near: true }), At::Field(key!("roof.near_end")));
        assert_eq!(at(CannotRoof::HipEnd { near: false }), At::Field(key!("roof.far_end")));
        let none = CannotRoof::NoRidge { most: inches(30.05) };
        assert_eq!(none.told().at, At::Field(key!("building.wall_height_b")));
        let help = none.told().help.write(Writing::default());
        assert_eq!(help, "let the two walls differ by less than 2' 6\"");
    }
}
