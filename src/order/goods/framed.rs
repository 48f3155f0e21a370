//! What goods are counted by in the frame of any roof: the bays over its plates.

use crate::frame::HungFrame;
use crate::measure::tolerance::HAIR;
use crate::roof::WallLine;

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
