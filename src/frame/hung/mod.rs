//! The sticks of any roof on square corners, hung on its faces, its edges and what carries them.
//!
//! A face has its own axes: along its eave, and up its slope. A rafter stands at a station of its face, and runs up the
//! slope from what carries it below (a plate, a valley, a header) to what carries it above (a ridge, a hip, a header). The
//! sticks under ridges, hips and valleys are lines; where lines meet, one goes through and the others are cut to its sides.
//! Every cut is a plane of what the stick meets: no kind of roof has a rule of its own.

pub mod bays;
pub mod blame;
mod blocks;
mod boards;
pub mod cannot;
mod ceiling;
pub mod choices;
pub mod collared;
mod collars;
mod dormers;
mod edges;
mod ends;
pub mod face;
pub mod fits;
pub mod framed;
pub mod ground;
pub mod hole;
pub mod holes;
mod laid;
pub mod left_out;
pub mod lines;
pub mod marks;
pub mod measured;
pub mod nodes;
mod outlookers;
mod overhang;
mod past_walls;
pub mod patterns;
pub mod piece;
pub mod places;
mod rafters;
mod rakes;
mod soffits;
mod solids;
mod splices;
pub mod stations;
mod support;
pub mod tied;
pub(crate) mod told;
mod walled;
mod walls;

pub use cannot::CannotHang;
pub use choices::Choices;
pub use ground::Ground;
pub use piece::Hung;

use std::borrow::Cow;

use crate::frame::opening::Opening;
use crate::geom::Polygon;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::roof::{Face, Roof, Shape};

use cannot::SHORTEST_EDGE_IN;
use left_out::LeftOut;
use lines::{Border, Line, LineOf};
use nodes::King;
use solids::{Body, Cuts, Room};
use stations::Station;

/// The sticks of a roof, and what they hang on.
#[derive(Debug, Clone)]
pub struct HungRoof {
    /// Faces, lines and walls.
    pub ground: Ground,
    /// Faces and edges as they are seen, with what is laid on them.
    pub seen: Roof,
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
    /// Joists, studs and other sticks between and beside the rafters that found no place.
    pub left_out: Vec<LeftOut>,
    /// The opening to the attic among the joists of the main block.
    pub attic: Option<Opening>,
    /// How many gables have a framed vent opening.
    pub vents: usize,
    /// The sticks as they are cut; empty where none was looked at yet.
    bodies: Vec<Option<Body>>,
}

impl HungRoof {
    /// The hips and valleys whose heads nothing carries, in the reader's words.
    #[must_use]
    pub fn without_post(&self) -> Vec<String> {
        let told = |name: &String| {
            let is_hip = |line: &Line| line.name == *name && line.of == LineOf::Hip;
            let what = if self.ground.lines.iter().any(is_hip) { "hip" } else { "valley" };
            format!("the {what} between {name}")
        };
        self.unsupported.iter().map(told).collect()
    }

    /// The sticks as they are cut, in their order; nothing for one whose cuts leave no whole stick.
    fn bodies(&self) -> Cow<'_, [Option<Body>]> {
        if self.bodies.len() == self.sticks.len() {
            Cow::Borrowed(&self.bodies)
        } else {
            Cow::Owned(Cuts::default().bodies(&self.sticks))
        }
    }
}

/// The sticks of a roof.
///
/// # Errors
/// [`CannotHang`] if the shape has no roof, or a rafter would not come down to its plate.
pub fn sticks_of(shape: &Shape, choices: &Choices) -> Result<HungRoof, CannotHang> {
    let (seen, framed, walls) =
        shape.framed(&choices.laid_over, choices.deck.inches()).map_err(CannotHang::of)?;
    let roof = &framed.roof;
    let half = |of: LineOf| match of {
        LineOf::Ridge => choices.ridge.inches() / 2.0,
        LineOf::Hip => choices.hip.thickness_in() / 2.0,
        LineOf::Valley | LineOf::Header => choices.valley.thickness_in() / 2.0,
    };
    let mut lines = lines::of(roof, half, |face| ground::layer_of(&framed.laid, roof, face));
    if let Some(line) = lines.iter().find(|line| line.of == LineOf::Header) {
        let falls: Vec<_> =
            line.borders.iter().map(|border| roof.faces[border.face].slope.gradient).collect();
        let is_level_valley = falls.iter().any(|fall| fall.dot(falls[0]) < 0.0);
        return Err(match line.name.clone() {
            faces if is_level_valley => CannotHang::LevelValley { faces },
            faces => CannotHang::PitchBreak { faces },
        });
    }
    let mut unsupported = support::add(roof, &mut lines);
    unsupported.extend(support::alone(&lines));
    let mut ground = Ground::of(framed, walls, lines, choices, shape.main.heel_stand.inches());
    for opening in &shape.openings {
        match holes::of_opening(&ground, opening) {
            Some(hole) => ground.open(hole),
            None => return Err(CannotHang::NoFace { opening: opening.name.clone() }),
        }
    }
    for laid in ground.laid.clone() {
        match holes::of_dormer(&ground, &laid) {
            Some(hole) if laid.is_shed() => ground.open_under(hole, &laid),
            Some(hole) => ground.open(hole),
            None if laid.dormer.is_none() => {}
            None => return Err(CannotHang::NoFace { opening: laid.block }),
        }
    }
    refuse_over_plate(&ground)?;
    let kings = stations::kings(&ground);
    let covers = edges::covers(&ground, &kings);
    refuse_edges(&ground, &covers)?;
    let mut stations = stations::of(&ground, &kings);
    for (face, stations) in stations.iter_mut().enumerate() {
        holes::set_trimmers(&ground, face, stations)?;
    }
    rafters::beside_corners(&ground, (&kings, &covers), &mut stations);
    refuse_crowded(&ground, &stations)?;
    let mut sticks = Vec::new();
    edges::add(&ground, &kings, &mut sticks);
    walls::add(&ground, &mut sticks);
    let without_boards = boards::add(&ground, &mut sticks);
    for (face, stations) in stations.iter().enumerate() {
        rafters::add(&ground, (&kings, &covers), face, stations, &mut sticks);
    }
    refuse_without_rafters(&ground, &sticks)?;
    laid::add(&ground, &mut sticks);
    dormers::add(&ground, &mut sticks);
    holes::add(&ground, &mut sticks);
    holes::refuse_untrimmed(&ground, &sticks)?;
    let Infill { left_out, attic, vents, bodies } =
        infill(&ground, (&kings, &covers), &stations, &mut sticks)?;
    Ok(HungRoof {
        ground,
        seen,
        kings,
        stations,
        sticks,
        unsupported,
        without_boards,
        left_out,
        attic,
        vents,
        bodies,
    })
}

/// What stands between and beside the rafters, beyond the sticks themselves.
#[derive(Default)]
struct Infill {
    left_out: Vec<LeftOut>,
    attic: Option<Opening>,
    vents: usize,
    bodies: Vec<Option<Body>>,
}

/// What stands between and beside the rafters.
fn infill(
    ground: &Ground,
    lines: (&[King], &[Option<Polygon>]),
    stations: &[Vec<Station>],
    sticks: &mut Vec<Hung>,
) -> Result<Infill, CannotHang> {
    let mut left_out = Vec::new();
    let Some(plan) = &ground.choices.infill else { return Ok(Infill::default()) };
    splices::add(ground, plan.ridge_joints, sticks);
    let chimneys = ground.holes.iter().filter(|hole| hole.is_chimney);
    let clear = chimneys.map(|hole| hole.shaft(&ground.faces[hole.face])).collect();
    let mut room = Room::of(&ground.roof, sticks, clear);
    let attic = ceiling::add((ground, plan), stations, &mut room, &mut left_out)?;
    let vents = ends::add((ground, plan), &mut room, &mut left_out);
    collars::add((ground, plan), stations, &mut room, &mut left_out);
    blocks::add((ground, plan), &mut room, &mut left_out);
    rakes::add((ground, plan), lines, &mut room, &mut left_out);
    soffits::add((ground, plan), &mut room, &mut left_out);
    Ok(Infill { left_out, attic, vents, bodies: room.into_bodies() })
}

fn refuse_over_plate(ground: &Ground) -> Result<(), CannotHang> {
    for (number, face) in ground.faces.iter().enumerate() {
        let Face { name, block, .. } = &ground.roof.faces[number];
        let by_in = ground.heel_of(block) - ground.depth * face.slope.stretch();
        if by_in >= 0.0 && ground.walls_of(number).next().is_some() {
            let dormer = ground.dormer(block).map(|laid| laid.block.clone());
            return Err(CannotHang::OverPlate { face: name.clone(), by_in, dormer });
        }
    }
    Ok(())
}

/// A face wider than two bays that rises from a wall has rafters.
fn refuse_without_rafters(ground: &Ground, sticks: &[Hung]) -> Result<(), CannotHang> {
    for (number, face) in ground.roof.faces.iter().enumerate() {
        let (low, high) = ground.reach_of(number);
        let wall = ground.walls_of(number).next();
        let has_any = || sticks.iter().any(|stick| stick.face == Some(number));
        if let Some(wall) = wall.filter(|_| high - low > 2.0 * ground.spacing && !has_any()) {
            return Err(CannotHang::NoRafters {
                face: face.name.clone(),
                reach_in: wall.reach,
                boards_in: ground.boards,
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

fn refuse_edges(ground: &Ground, covers: &[Option<Polygon>]) -> Result<(), CannotHang> {
    for (number, line) in ground.lines.iter().enumerate() {
        let length_in = (line.head - line.foot).truncate().length();
        if length_in < SHORTEST_EDGE_IN {
            let of_main = |border: &Border| ground.roof.faces[border.face].block == "main";
            let along = line.of == LineOf::Ridge
                && line.toward_head().x.abs() > 0.5
                && line.borders.iter().all(of_main);
            return Err(CannotHang::ShortEdge { faces: line.name.clone(), length_in, along });
        }
        let Some(own) = &covers[number] else { continue };
        let others = covers.iter().enumerate().skip(number + 1);
        let others = others.filter(|(other, _)| ground.lines[*other].layer == line.layer);
        for (other, cover) in others.filter_map(|(other, cover)| Some((other, cover.as_ref()?))) {
            if own.within_all(cover.half_planes()).is_some() {
                let (one, other) = (line.name.clone(), ground.lines[other].name.clone());
                return Err(CannotHang::EdgesMeet { one, other });
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
