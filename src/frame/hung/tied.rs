//! What holds the feet of opposite rafters together, looked at on the sticks: a joist or a tie that touches both.

use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::frame::ties::nails_that_fit;
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::roof::Wall;

use super::HungRoof;
use super::ceiling::SECOND;
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
    /// Those of the others that are so because the attic opening cuts their joist or tie.
    pub cut: usize,
    /// Plumb height that the clip under the roof takes off a joist's end, of the joist that loses the most, inches.
    pub clip: f64,
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
    /// Height of its slopes where they meet above the building line, as run times slope, inches.
    pub rise: f64,
    /// Bottom of its ridge board above the plates, or of the rafters at the peak if they butt, inches.
    pub ridge_bottom: f64,
    /// Greatest distance on center between neighboring pairs that are held, inches; the pairs over its gables are held by the studs
    /// under them.
    pub apart: f64,
    /// Where its joists come in two lengths.
    pub lap: Option<Lap>,
    /// Pairs that are held, hip jacks among them.
    pub held: usize,
    /// Nails that fit the heel with the least room, without splitting.
    pub nails_that_fit: usize,
}

/// Joists of two lengths side by side over an inside bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lap {
    /// How far they touch along each other, where it is least, inches; zero if a splice piece joins them.
    pub length: f64,
    /// Nails that fit there without splitting.
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
            touching
                .map(|tie| outlines(&block, &body, tie).iter().map(|at| nails_that_fit(at)).sum())
                .max()
        };
        let mut fit = usize::MAX;
        let mut held_at = Vec::new();
        let before = found.held + found.jacks_held;
        for (x, rafter) in &over_a {
            match over_b.iter().find(|(other, _)| (other - x).abs() < HAIR) {
                Some((_, opposite)) => {
                    let room = nails(rafter).zip(nails(opposite));
                    let both = usize::from(room.is_some());
                    fit = room.map_or(fit, |(one, other): (usize, usize)| fit.min(one).min(other));
                    // what the attic opening cuts is looked at with it
                    let is_cut = is_cut_by_opening(roof, &block, *x);
                    held_at.extend((both > 0 || is_cut).then_some(*x));
                    if [rafter, opposite].iter().any(|own| own.role == Role::HipJack) {
                        found.jacks += 1;
                        found.jacks_held += both;
                    } else {
                        found.pairs += 1;
                        found.held += both;
                        found.cut += usize::from(both == 0 && is_cut);
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
                rise: block.peak().1 - ground.heel_stand,
                ridge_bottom: ridge_bottom(ground, &block),
                apart: apart(ground, &block, held_at),
                lap: lap(roof, &block),
                held,
                nails_that_fit: fit,
            });
        }
    }
    found.clip = clip(roof);
    found
}

/// How far level sticks cross each block that stands on walls, building line to building line, inches, and whether the inside bearing
/// of the main block is under them.
pub fn crossed(ground: &Ground) -> impl Iterator<Item = (f64, bool)> {
    let on_walls = |block: &Walled| ground.dormer(block.name).is_none();
    let blocks = Walled::all(ground).into_iter().filter(on_walls);
    blocks.map(|block| (block.span, block.is_borne()))
}

/// True for a pair of the main block whose joist or tie the attic opening cuts.
fn is_cut_by_opening(roof: &HungRoof, block: &Walled, x: f64) -> bool {
    let cut = roof.attic.iter().flat_map(|opening| opening.cut_at.iter());
    let mut past = cut.map(|at| x - at.inches());
    block.name == "main" && past.any(|past| -HAIR < past && past < 4.0 * roof.ground.half_rafter)
}

/// Greatest distance on center between neighboring pairs that are held.
fn apart(ground: &Ground, block: &Walled, held_at: Vec<f64>) -> f64 {
    let Some(first) = held_at.iter().copied().reduce(f64::min) else { return 0.0 };
    let last = held_at.iter().copied().fold(first, f64::max);
    block.widest_gap(ground, held_at, (first, last))
}

/// Where two bodies touch, seen along the block: how far across it and how high, an outline for each of their parts.
fn outlines(block: &Walled, one: &Body, other: &Body) -> Vec<Vec<DVec2>> {
    let aside = |at: DVec3| DVec2::new(at.truncate().dot(block.across), at.z);
    let contact = one.contact(other).into_iter();
    contact.map(|outline| outline.into_iter().map(aside).collect()).collect()
}

/// Where the joists of a block come in two lengths.
fn lap(roof: &HungRoof, block: &Walled) -> Option<Lap> {
    let seconds = roof.sticks.iter().filter(|stick| stick.role == Role::CeilingJoist);
    let pairs = seconds.filter_map(|second| {
        let first = second.id.strip_suffix(SECOND)?;
        let first = roof.sticks.iter().find(|stick| stick.id == first)?;
        let own = block.place(second.axis.origin.truncate());
        let within =
            (0.0..block.length).contains(&own.x) && (0.0..block.span + HAIR).contains(&own.y);
        within.then_some((Body::of(first)?, Body::of(second)?))
    });
    let laps = pairs.map(|(first, second)| {
        let touch = outlines(block, &first, &second);
        let across = touch.iter().flatten().map(|at| at.x);
        let low = across.clone().fold(f64::INFINITY, f64::min);
        let high = across.fold(f64::NEG_INFINITY, f64::max);
        let nails_that_fit = touch.iter().map(|outline| nails_that_fit(outline)).sum();
        Lap { length: (high - low).max(0.0), nails_that_fit }
    });
    laps.reduce(|least, lap| Lap {
        length: least.length.min(lap.length),
        nails_that_fit: least.nails_that_fit.min(lap.nails_that_fit),
    })
}

/// Plumb height that the clip under the roof takes off the ends of level joists, of the one that loses the most.
fn clip(roof: &HungRoof) -> f64 {
    let joists = roof.sticks.iter().filter(|stick| {
        matches!(stick.role, Role::CeilingJoist | Role::TailJoist | Role::StubJoist)
    });
    let clips = joists.filter_map(Hung::stick).flat_map(|stick| {
        let Axis { origin, along, up } = stick.axis;
        let places = stick
            .solid()
            .corners()
            .map(|corner| DVec2::new((corner - origin).dot(along), (corner - origin).dot(up)));
        let places: Vec<DVec2> = places.collect();
        let first = places.iter().map(|at| at.x).fold(f64::INFINITY, f64::min);
        let last = places.iter().map(|at| at.x).fold(f64::NEG_INFINITY, f64::max);
        [first, last].map(|end| {
            let at_end = places.iter().filter(|at| (at.x - end).abs() < HAIR);
            stick.section.depth_in() - at_end.map(|at| at.y).fold(0.0, f64::max)
        })
    });
    clips.fold(0.0, f64::max)
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
