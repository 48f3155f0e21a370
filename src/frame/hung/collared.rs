//! What the collar ties of a framed roof hold: each block's, looked at on the sticks.

use crate::frame::role::Role;
use crate::roof::Wall;

use super::HungRoof;
use super::ground::Ground;
use super::lines::LineOf;
use super::piece::Hung;
use super::walled::Walled;

/// The collar ties of one block, as they are framed. Heights are above its lower plate, inches.
#[derive(Debug, Clone, PartialEq)]
pub struct Collared {
    /// The block.
    pub name: String,
    /// Their bottom.
    pub bottom: f64,
    /// Underside of its rafters at the ridge's center, of the less steep ones.
    pub attic_top: f64,
    /// Where its slopes meet.
    pub peak: f64,
    /// The greatest distance on center between neighbors; the rafters over its gables and the ends of its ridge at hips and valleys
    /// count as held.
    pub apart: f64,
}

/// The collar ties of each block that has some.
#[must_use]
pub fn collared(roof: &HungRoof) -> Vec<Collared> {
    let ground = &roof.ground;
    let of = |block: Walled| {
        let start = format!("{}-{}-", Role::CollarTie.letters(), block.name);
        // a block's name may begin with another's
        let is_own = |stick: &&Hung| {
            let place = stick.id.strip_prefix(&start);
            stick.role == Role::CollarTie && place.is_some_and(|at| at.parse::<f64>().is_ok())
        };
        let own: Vec<&Hung> = roof.sticks.iter().filter(is_own).collect();
        let bottom = own.first()?.axis.origin.z - block.low_plate();
        let (_, peak) = block.peak();
        let plumb =
            block.slopes().iter().map(|slope| ground.depth * slope.stretch()).reduce(f64::min)?;
        let at: Vec<f64> =
            own.iter().map(|stick| block.place(stick.axis.origin.truncate()).x).collect();
        let ends = ridge_ends(ground, &block).unwrap_or((at[0], at[at.len() - 1]));
        Some(Collared {
            name: block.name.to_owned(),
            bottom,
            attic_top: peak - plumb,
            peak,
            apart: block.widest_gap(ground, at, ends),
        })
    };
    Walled::all(ground).into_iter().filter_map(of).collect()
}

/// From where to where along a block its ridge goes.
fn ridge_ends(ground: &Ground, block: &Walled) -> Option<(f64, f64)> {
    let sides = [Wall::A, Wall::B].map(|wall| block.faces(ground, wall));
    let ridges = ground.lines.iter().filter(|line| {
        let has =
            |faces: &Vec<usize>| line.borders.iter().any(|border| faces.contains(&border.face));
        line.of == LineOf::Ridge && sides.iter().all(has)
    });
    let ends =
        ridges.flat_map(|line| [line.foot, line.head].map(|end| block.place(end.truncate()).x));
    ends.map(|x| (x, x)).reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
}
