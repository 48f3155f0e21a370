//! What holds the feet of opposite rafters together, looked at on the sticks: a joist or a tie that touches both.

use crate::frame::role::Role;
use crate::measure::tolerance::HAIR;
use crate::roof::Wall;

use super::HungRoof;
use super::ground::Ground;
use super::piece::Hung;
use super::solids::Body;
use super::walled::{EndOf, Walled};

/// How the rafters of a roof are tied.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tied {
    /// Pairs of opposite rafters on level plates between the end walls.
    pub pairs: usize,
    /// Those of them where a joist or a tie lies face to face with both.
    pub held: usize,
    /// Pairs of hip jacks over the side walls.
    pub jacks: usize,
    /// Those of them where a joist or a tie lies face to face with both.
    pub jacks_held: usize,
    /// Rafters on a plate without one opposite them: beside a wing that opens there, or where layouts differ.
    pub alone: Vec<String>,
    /// The same block by block, where any pair is held.
    pub blocks: Vec<TiedBlock>,
}

/// The pairs of one block that a joist or a tie holds.
#[derive(Debug, Clone, PartialEq)]
pub struct TiedBlock {
    /// The block.
    pub name: String,
    /// Building line to building line, inches.
    pub span: f64,
    /// Rise over run of its slopes; `None` if they are unlike.
    pub tangent: Option<f64>,
    /// Pairs that are held, hip jacks among them.
    pub held: usize,
}

/// How the rafters over the side walls of a roof are tied; hip ends and dormers are not among them.
#[must_use]
pub fn tied(roof: &HungRoof) -> Tied {
    let ground = &roof.ground;
    let ties: Vec<Body> = roof
        .sticks
        .iter()
        .filter(|stick| matches!(stick.role, Role::CeilingJoist | Role::RafterTie | Role::Filler))
        .filter_map(Body::of)
        .collect();
    let mut found = Tied::default();
    for block in Walled::all(ground) {
        if ground.dormer(block.name).is_some() || block.is_shed() || !block.is_level() {
            continue;
        }
        let [over_a, over_b] = [Wall::A, Wall::B].map(|wall| feet(roof, &block, wall));
        let held = |hung: &Hung| {
            Body::of(hung)
                .is_some_and(|body| ties.iter().any(|tie| body.is_near(tie) && body.touches(tie)))
        };
        let before = found.held + found.jacks_held;
        for (x, rafter) in &over_a {
            match over_b.iter().find(|(other, _)| (other - x).abs() < HAIR) {
                Some((_, opposite)) => {
                    let both = usize::from(held(rafter) && held(opposite));
                    if [rafter, opposite].iter().any(|own| own.role == Role::HipJack) {
                        found.jacks += 1;
                        found.jacks_held += both;
                    } else {
                        found.pairs += 1;
                        found.held += both;
                    }
                }
                None => found.alone.push(rafter.id.clone()),
            }
        }
        let alone = over_b
            .iter()
            .filter(|(x, _)| over_a.iter().all(|(other, _)| (other - x).abs() >= HAIR));
        found.alone.extend(alone.map(|(_, rafter)| rafter.id.clone()));
        let held = found.held + found.jacks_held - before;
        if held > 0 {
            let slopes = block.slopes();
            let tangents: Vec<f64> = slopes.iter().map(|slope| slope.tangent()).collect();
            let alike = tangents.iter().all(|other| (other - tangents[0]).abs() <= HAIR);
            found.blocks.push(TiedBlock {
                name: block.name.to_owned(),
                span: block.span,
                tangent: tangents.first().copied().filter(|_| alike),
                held,
            });
        }
    }
    found
}

/// The rafters on the plate of a side wall between the end walls, each with its place along the block.
fn feet<'a>(roof: &'a HungRoof, block: &Walled, wall: Wall) -> Vec<(f64, &'a Hung)> {
    let ground: &Ground = &roof.ground;
    let faces = block.faces(ground, wall);
    let half = ground.half_rafter;
    let flush = |end: Wall| if block.end(ground, end) == EndOf::Gable { half } else { 0.0 };
    let (first, last) = (flush(Wall::Near), block.length - flush(Wall::Far));
    let rafters = roof.sticks.iter().filter(|stick| {
        stick.face.is_some_and(|face| faces.contains(&face))
            && stick.trims.iter().any(|trim| trim.name == "birdsmouth")
    });
    let placed = rafters.map(|stick| (block.place(stick.axis.origin.truncate()).x, stick));
    placed.filter(|(x, _)| *x > first + HAIR && *x < last - HAIR).collect()
}
