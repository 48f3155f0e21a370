//! The sticks of any roof on square corners, hung on its faces, its edges and what carries them.
//!
//! A face has its own axes: along its eave, and up its slope. A rafter stands at a station of its face, and runs up the
//! slope from what carries it below (a plate, a valley, a header) to what carries it above (a ridge, a hip, a header). The
//! sticks under ridges, hips and valleys are lines; where lines meet, one goes through and the others are cut to its sides.
//! Every cut is a plane of what the stick meets: no kind of roof has a rule of its own.

mod boards;
pub mod choices;
mod edges;
pub mod face;
pub mod fits;
pub mod framed;
pub mod ground;
pub mod lines;
pub mod marks;
pub mod measured;
pub mod nodes;
pub mod patterns;
pub mod piece;
mod rafters;
pub mod stations;
mod support;
mod walls;

pub use choices::Choices;
pub use ground::Ground;
pub use piece::Hung;

use crate::geom::Polygon;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::roof::Shape;
use crate::roof::shape::CannotRoof;

use lines::LineOf;
use nodes::King;
use stations::Station;

/// The sticks of a roof, and what they hang on.
#[derive(Debug, Clone)]
pub struct HungRoof {
    /// Faces, lines and walls.
    pub ground: Ground,
    /// The rafters that stand at the heads of hips.
    pub kings: Vec<King>,
    /// The stations of each face.
    pub stations: Vec<Vec<Station>>,
    /// Every stick.
    pub sticks: Vec<Hung>,
    /// Hips and valleys whose heads nothing carries: a post must stand under them.
    pub unsupported: Vec<String>,
    /// Faces with an eave that has no fascia yet: eaves of unlike height or reach pass each other there.
    pub without_boards: Vec<String>,
}

/// Why a roof has no sticks.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotHang {
    /// Its shape has no roof.
    Roof(Vec<CannotRoof>),
    /// The rafters of a face pass over their plate.
    OverPlate {
        /// The face.
        face: String,
        /// By how much, inches.
        by_in: f64,
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
    },
    /// One slope ends in a steeper one that rises the same way, and no dormer is there to carry it.
    PitchBreak {
        /// The two faces.
        faces: String,
    },
}

impl CannotHang {
    /// Why, in the reader's words.
    #[must_use]
    pub fn told(&self) -> Note {
        match self {
            CannotHang::Roof(_) => "the shape has no roof".into(),
            CannotHang::OverPlate { face, by_in } => Note::with(
                format!("the rafters of {face} pass {{}} over their plate"),
                [inches(*by_in)],
            ),
            CannotHang::Crowded { face, apart_in } => Note::with(
                format!("two rafters of {face} that must be there are {{}} apart on center"),
                [inches(*apart_in)],
            ),
            CannotHang::EdgesMeet { one, other } => format!(
                "the sticks under the edges {one} and {other} run into each other: a corner or a ridge lies too near"
            )
            .into(),
            CannotHang::ShortEdge { faces, length_in } => Note::with(
                format!("the edge between {faces} is {{}} long, too short for a stick"),
                [inches(*length_in)],
            ),
            CannotHang::PitchBreak { faces } => {
                format!("one slope of {faces} ends in a steeper one and nothing carries it there").into()
            }
        }
    }
}

/// The sticks of a roof.
///
/// # Errors
/// [`CannotHang`] if the shape has no roof, or a rafter would not come down to its plate.
pub fn sticks_of(shape: &Shape, choices: &Choices) -> Result<HungRoof, CannotHang> {
    let (roof, walls) = shape.roof_and_walls().map_err(CannotHang::Roof)?;
    let half = |of: LineOf| match of {
        LineOf::Ridge => choices.ridge.inches() / 2.0,
        LineOf::Hip => choices.hip.thickness_in() / 2.0,
        LineOf::Valley | LineOf::Header => choices.valley.thickness_in() / 2.0,
    };
    let mut lines = lines::of(&roof, half);
    if let Some(line) = lines.iter().find(|line| line.of == LineOf::Header) {
        return Err(CannotHang::PitchBreak { faces: line.name.clone() });
    }
    let mut unsupported = support::add(&roof, &mut lines);
    unsupported.extend(support::alone(&lines));
    let ground = Ground::of(roof, walls, lines, choices, shape.main.heel_stand.inches());
    refuse_over_plate(&ground)?;
    let kings = stations::kings(&ground);
    let covers = edges::covers(&ground, &kings);
    refuse_edges(&ground, &covers)?;
    let stations = stations::of(&ground, &kings);
    refuse_crowded(&ground, &stations)?;
    let mut sticks = Vec::new();
    edges::add(&ground, &kings, &mut sticks);
    walls::add(&ground, &mut sticks);
    let without_boards = boards::add(&ground, &mut sticks);
    for (face, stations) in stations.iter().enumerate() {
        rafters::add(&ground, (&kings, &covers), face, stations, &mut sticks);
    }
    Ok(HungRoof { ground, kings, stations, sticks, unsupported, without_boards })
}

fn refuse_over_plate(ground: &Ground) -> Result<(), CannotHang> {
    for (number, face) in ground.faces.iter().enumerate() {
        let by_in = ground.heel_stand - ground.depth * face.slope.stretch();
        if by_in >= 0.0 && ground.walls_of(number).next().is_some() {
            return Err(CannotHang::OverPlate {
                face: ground.roof.faces[number].name.clone(),
                by_in,
            });
        }
    }
    Ok(())
}

fn refuse_crowded(ground: &Ground, stations: &[Vec<Station>]) -> Result<(), CannotHang> {
    for (face, stations) in stations.iter().enumerate() {
        for two in stations.windows(2) {
            let apart_in = two[1].at - two[0].at;
            if apart_in < 2.0 * ground.half_rafter - HAIR {
                return Err(CannotHang::Crowded {
                    face: ground.roof.faces[face].name.clone(),
                    apart_in,
                });
            }
        }
    }
    Ok(())
}

/// The shortest edge that has a stick, inches in plan.
const SHORTEST_EDGE_IN: f64 = 6.0;

fn refuse_edges(ground: &Ground, covers: &[Option<Polygon>]) -> Result<(), CannotHang> {
    for (number, line) in ground.lines.iter().enumerate() {
        let length_in = (line.head - line.foot).truncate().length();
        if length_in < SHORTEST_EDGE_IN {
            return Err(CannotHang::ShortEdge { faces: line.name.clone(), length_in });
        }
        let Some(own) = &covers[number] else { continue };
        let others = covers.iter().enumerate().skip(number + 1);
        for (other, cover) in others.filter_map(|(other, cover)| Some((other, cover.as_ref()?))) {
            if own.within_all(cover.half_planes()).is_some() {
                let (one, other) = (line.name.clone(), ground.lines[other].name.clone());
                return Err(CannotHang::EdgesMeet { one, other });
            }
        }
    }
    Ok(())
}
