//! What goods are counted by in the frame of any roof: the bays over its plates, and the attic that its vents serve.

use crate::frame::HungFrame;
use crate::measure::tolerance::HAIR;
use crate::roof::{EdgeKind, Wall, WallLine};
use crate::rules::vents::Space;

use super::roof::Roof;

impl Roof<'_> {
    /// Bays between rafters over each plate that has any, dormers left out.
    pub(super) fn bays(&self) -> Vec<u64> {
        if let Some(frame) = self.sticks.gable {
            let bays = (frame.pairs.len() as u64).saturating_sub(1);
            return vec![bays; 2];
        }
        let Some(frame) = self.sticks.hung else { return Vec::new() };
        let ground = &frame.hung.ground;
        let walls = ground.walls.iter().filter(|wall| ground.dormer(&wall.block).is_none());
        walls.map(|wall| over_plate(frame, wall)).filter(|bays| *bays > 0).collect()
    }

    /// The attic and where its vents may be: the floors of main block and wings, ridges between gables, eaves over walls.
    pub(super) fn space(&self) -> Space {
        let feet =
            |kind: EdgeKind| self.covered.of(kind).map(|edge| edge.over_walls).sum::<f64>() / 12.0;
        let floors = self.sticks.hung.map(floors_in2);
        Space {
            floor_ft2: floors.unwrap_or_default() / 144.0,
            ridge_ft: feet(EdgeKind::Ridge),
            soffit_ft: feet(EdgeKind::Eave),
        }
    }
}

/// The floors of the blocks that stand on walls, building line to building line, square inches.
fn floors_in2(frame: &HungFrame) -> f64 {
    let ground = &frame.hung.ground;
    let is_a = |wall: &&WallLine| wall.wall == Wall::A && ground.dormer(&wall.block).is_none();
    let floor = |a: &WallLine| {
        let b = ground.walls.iter().find(|b| b.block == a.block && b.wall == Wall::B)?;
        Some(a.from.distance(a.to) * (b.from - a.from).dot(-a.out))
    };
    ground.walls.iter().filter(is_a).filter_map(floor).sum()
}

/// Bays over one plate: between neighbors no farther apart than the layout, and from the last one to a hip.
fn over_plate(frame: &HungFrame, wall: &WallLine) -> u64 {
    let ground = &frame.hung.ground;
    let along = (wall.to - wall.from).normalize();
    let rises = |face: usize| ground.walls_of(face).any(|own| std::ptr::eq(own, wall));
    let length = wall.from.distance(wall.to);
    let mut places: Vec<f64> = frame
        .hung
        .sticks
        .iter()
        .filter(|stick| stick.face.is_some_and(rises))
        .filter(|stick| stick.trims.iter().any(|trim| trim.name == "birdsmouth"))
        .map(|stick| along.dot(stick.axis.origin.truncate() - wall.from))
        .filter(|at| *at > -HAIR && *at < length + HAIR)
        .collect();
    places.sort_by(f64::total_cmp);
    if places.is_empty() {
        return 0;
    }
    let thick = 2.0 * ground.half_rafter;
    let mut ends = vec![-ground.half_rafter];
    ends.extend(places);
    ends.push(length + ground.half_rafter);
    let is_bay = |two: &&[f64]| {
        let clear = two[1] - two[0] - thick;
        clear > HAIR && two[1] - two[0] <= ground.spacing + thick
    };
    ends.windows(2).filter(is_bay).count() as u64
}
