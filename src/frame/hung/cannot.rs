//! Why a roof has no sticks.

use crate::catalog::code_rules::RuleId;
use crate::measure::quantity::inches;
use crate::measure::{Amount, Note};
use crate::roof::laid::CannotFrame;
use crate::roof::shape::CannotRoof;

/// The shortest edge that has a stick, inches in plan.
pub(super) const SHORTEST_EDGE_IN: f64 = 6.0;

/// Why a roof has no sticks.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotHang {
    /// Its shape has no roof.
    Roof(Vec<CannotRoof>),
    /// A wing can't be laid on the sheathed roof, or a dormer is not framed.
    Laid {
        /// Its name.
        name: String,
        /// Why not.
        why: Note,
    },
    /// The rafters of a face pass over their plate.
    OverPlate {
        /// The face.
        face: String,
        /// By how much, inches.
        by_in: f64,
        /// The dormer that they are of, whose seats can be told.
        dormer: Option<String>,
    },
    /// No rafter of a face over the building finds a bearing.
    NoRafters {
        /// The face.
        face: String,
        /// How far its eave reaches past the wall, inches.
        reach_in: f64,
        /// Level thickness of the boards on its tails, inches.
        boards_in: f64,
    },
    /// Two rafters of a face that must stand have one place: a ridge shorter than a rafter is thick.
    Crowded {
        /// The face.
        face: String,
        /// From center to center, inches.
        apart_in: f64,
    },
    /// The sticks under two edges run into each other: corners, or ridges of two blocks, lie too near beside each other.
    EdgesMeet {
        /// The faces beside one edge.
        one: String,
        /// The faces beside the other.
        other: String,
    },
    /// An edge is too short for a stick.
    ShortEdge {
        /// The faces beside it.
        faces: String,
        /// Its length in plan, inches.
        length_in: f64,
        /// True for a ridge along the main block, which is as much longer or shorter as the building is.
        along: bool,
    },
    /// An opening lies in no face.
    NoFace {
        /// Its name.
        opening: String,
    },
    /// The trimmers of an opening have no place beside it.
    NoRoomForTrimmers {
        /// Its name.
        opening: String,
        /// What is there.
        beside: String,
        /// The room that both need between them, inches, if that is known.
        apart_in: Option<f64>,
    },
    /// What frames the opening in the ceiling has no room.
    Ceiling {
        /// Why not, and what to write instead.
        why: Note,
    },
    /// Two slopes fall toward each other, and nothing between them leads the water away.
    LevelValley {
        /// The faces.
        faces: String,
    },
    /// One slope ends in a steeper one that rises the same way, and no dormer is there to carry it.
    PitchBreak {
        /// The two faces.
        faces: String,
    },
}

impl CannotHang {
    /// The reason why the roof is not framed.
    pub(super) fn of(why: CannotFrame) -> CannotHang {
        match why {
            CannotFrame::Roof(why) => CannotHang::Roof(why),
            CannotFrame::Laid { name, why } => CannotHang::Laid { name, why },
        }
    }

    /// Why, in the reader's words.
    #[must_use]
    pub fn told(&self) -> Note {
        match self {
            CannotHang::Roof(_) => "the shape has no roof".into(),
            CannotHang::Laid { name, why } => {
                Note::with(
                    format!("{name} can't be framed on top of the sheathed roof: {{}}"),
                    [Amount::Said(why.clone())],
                )
            }
            CannotHang::OverPlate { face, by_in, dormer: None } => Note::with(
                format!("the rafters of {face} pass {{}} over their plate"),
                [inches(*by_in)],
            ),
            CannotHang::OverPlate { face, by_in, dormer: Some(name) } => Note::with(
                format!(
                    "the rafters of {face} pass {{}} over their plate, as high over it as the main rafters over theirs: write a seat under the [[dormer]] named {name}, at least {{}} (IRC R802.6)"
                ),
                [inches(*by_in), inches(RuleId::BearingWood.figure())],
            ),
            CannotHang::NoRafters { face, reach_in, boards_in } if reach_in < boards_in => {
                Note::with(
                    format!(
                        "the boards on the tails of {face} would stand {{}} inside the wall: write an overhang of at least {{}}, or no fascia"
                    ),
                    [inches(boards_in - reach_in), inches(*boards_in)],
                )
            }
            CannotHang::NoRafters { face, .. } => {
                format!("no rafter of {face} finds a bearing on its wall").into()
            }
            CannotHang::Crowded { face, apart_in } => Note::with(
                format!("two rafters of {face} that must be there are {{}} apart on center"),
                [inches(*apart_in)],
            ),
            CannotHang::EdgesMeet { one, other } => format!(
                "the sticks under the edges {one} and {other} run into each other: a corner or a ridge lies too near"
            )
            .into(),
            CannotHang::ShortEdge { faces, length_in, along: false } => Note::with(
                format!("the edge between {faces} is {{}} long, and its stick needs {{}} or more"),
                [inches(*length_in), inches(SHORTEST_EDGE_IN)],
            ),
            CannotHang::ShortEdge { faces, length_in, .. } => Note::with(
                format!(
                    "the ridge between {faces} is {{}} long, and its stick needs {{}} or more: make the building {{}} shorter, so that this ridge is gone, or {{}} longer"
                ),
                [
                    Amount::Tape(inches(*length_in)),
                    Amount::Tape(inches(SHORTEST_EDGE_IN)),
                    Amount::Tape(inches(*length_in)),
                    Amount::AtLeast(inches(SHORTEST_EDGE_IN - length_in)),
                ],
            ),
            CannotHang::NoFace { opening } => {
                format!("the opening {opening} lies in no one face").into()
            }
            CannotHang::NoRoomForTrimmers { opening, beside, apart_in: None } => format!(
                "the trimmers of the opening {opening} have no room beside {beside}: move it, or write another width"
            )
            .into(),
            CannotHang::NoRoomForTrimmers { opening, beside, apart_in: Some(apart) } => Note::with(
                format!(
                    "the trimmers of the opening {opening} have no room beside {beside}: leave {{}} or more between the two"
                ),
                [Amount::AtLeast(inches(*apart))],
            ),
            CannotHang::Ceiling { why } => why.clone(),
            CannotHang::LevelValley { faces } => format!(
                "the slopes {faces} fall toward each other and their eaves meet in a level valley, which is not framed: move them farther apart"
            )
            .into(),
            CannotHang::PitchBreak { faces } => {
                format!("one slope of {faces} ends in a steeper one and nothing carries it there").into()
            }
        }
    }
}
