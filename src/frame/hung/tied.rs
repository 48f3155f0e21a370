//! What holds the feet of opposite rafters together, looked at on the sticks: a joist or a tie that touches both.

use crate::frame::role::Role;
use crate::frame::ties::nails_that_fit;
use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::HAIR;
use crate::roof::Wall;

use super::HungRoof;
use super::ground::Ground;
use super::lines::{Border, LineOf};
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
    /// The others on the side walls: the block, and how far along it, inches.
    pub open: Vec<(String, f64)>,
    /// Blocks whose ridge runs across, between the faces of its hip ends: how many pairs lean on each other there, which the joists
    /// along the ridge do not tie.
    pub across: Vec<(String, usize)>,
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
    /// Bottom of its ridge board above the plates, or of the rafters at the peak if they butt, inches.
    pub ridge_bottom: f64,
    /// Pairs that are held, hip jacks among them.
    pub held: usize,
    /// Nails that fit the heel with the least room, without splitting.
    pub nails_that_fit: usize,
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
        // the nails that fit where a rafter lies face to face with what holds it
        let nails = |hung: &Hung| {
            let body = Body::of(hung)?;
            let touching = ties.iter().filter(|tie| body.is_near(tie) && body.touches(tie));
            let fit = touching.map(|tie| {
                let contact = body.contact(tie).into_iter();
                let aside = |at: DVec3| DVec2::new(at.truncate().dot(block.across), at.z);
                let outlines = contact.map(|outline| outline.into_iter().map(aside).collect());
                outlines.map(|outline: Vec<DVec2>| nails_that_fit(&outline)).sum::<usize>()
            });
            fit.max()
        };
        let mut fit = usize::MAX;
        let before = found.held + found.jacks_held;
        for (x, rafter) in &over_a {
            match over_b.iter().find(|(other, _)| (other - x).abs() < HAIR) {
                Some((_, opposite)) => {
                    let room = nails(rafter).zip(nails(opposite));
                    let both = usize::from(room.is_some());
                    fit = room.map_or(fit, |(one, other)| fit.min(one).min(other));
                    if [rafter, opposite].iter().any(|own| own.role == Role::HipJack) {
                        found.jacks += 1;
                        found.jacks_held += both;
                    } else {
                        found.pairs += 1;
                        found.held += both;
                        if both == 0 {
                            found.open.push((block.name.to_owned(), *x));
                        }
                    }
                }
                None => found.alone.push(rafter.id.clone()),
            }
        }
        let alone = over_b
            .iter()
            .filter(|(x, _)| over_a.iter().all(|(other, _)| (other - x).abs() >= HAIR));
        found.alone.extend(alone.map(|(_, rafter)| rafter.id.clone()));
        let across = over_the_ridge_across(roof, &block);
        if across > 0 {
            found.pairs += across;
            found.across.push((block.name.to_owned(), across));
        }
        let held = found.held + found.jacks_held - before;
        if held > 0 {
            let slopes = block.slopes();
            let tangents: Vec<f64> = slopes.iter().map(|slope| slope.tangent()).collect();
            let alike = tangents.iter().all(|other| (other - tangents[0]).abs() <= HAIR);
            found.blocks.push(TiedBlock {
                name: block.name.to_owned(),
                span: block.span,
                tangent: tangents.first().copied().filter(|_| alike),
                ridge_bottom: ridge_bottom(ground, &block),
                held,
                nails_that_fit: fit,
            });
        }
    }
    found
}

/// How many pairs of rafters of a block's ends lean on each other over a ridge that runs across it.
fn over_the_ridge_across(roof: &HungRoof, block: &Walled) -> usize {
    let ends = [Wall::Near, Wall::Far].map(|wall| block.faces(&roof.ground, wall));
    let is_between = |borders: &[Border]| {
        ends.iter().all(|faces| borders.iter().any(|border| faces.contains(&border.face)))
    };
    let ridge = |of: LineOf| of == LineOf::Ridge;
    if !roof.ground.lines.iter().any(|line| ridge(line.of) && is_between(&line.borders)) {
        return 0;
    }
    let [near, far] = ends.map(|faces| {
        let own = on_plates(roof, faces).filter(|stick| stick.role != Role::HipJack);
        own.map(|stick| block.place(stick.axis.origin.truncate()).y).collect::<Vec<f64>>()
    });
    near.iter().filter(|y| far.iter().any(|other| (other - *y).abs() < HAIR)).count()
}

/// The rafters of some faces that sit on a plate.
fn on_plates(roof: &HungRoof, faces: Vec<usize>) -> impl Iterator<Item = &Hung> {
    roof.sticks.iter().filter(move |stick| {
        stick.face.is_some_and(|face| faces.contains(&face))
            && stick.trims.iter().any(|trim| trim.name == "birdsmouth")
    })
}

/// Bottom of the ridge board of a block above the plates, or of the rafters at the peak if they butt, inches.
fn ridge_bottom(ground: &Ground, block: &Walled) -> f64 {
    let (_, peak) = block.peak();
    let steepest = block.slopes().iter().map(|slope| slope.tangent()).fold(0.0_f64, f64::max);
    let faces = block.faces(ground, Wall::A);
    let ridge = ground.lines.iter().find(|line| {
        let own = |border: &Border| faces.contains(&border.face);
        line.of == LineOf::Ridge && line.half > 0.0 && line.borders.iter().any(own)
    });
    match ridge {
        Some(line) => peak - line.half * steepest - ground.section_of(line).depth_in(),
        None => peak - ground.depth * steepest.hypot(1.0),
    }
}

/// The rafters on the plate of a side wall between the end walls, each with its place along the block.
fn feet<'a>(roof: &'a HungRoof, block: &Walled, wall: Wall) -> Vec<(f64, &'a Hung)> {
    let ground: &Ground = &roof.ground;
    let faces = block.faces(ground, wall);
    let half = ground.half_rafter;
    let flush = |end: Wall| if block.end(ground, end) == EndOf::Gable { half } else { 0.0 };
    let (first, last) = (flush(Wall::Near), block.length - flush(Wall::Far));
    let placed =
        on_plates(roof, faces).map(|stick| (block.place(stick.axis.origin.truncate()).x, stick));
    placed.filter(|(x, _)| *x > first + HAIR && *x < last - HAIR).collect()
}
