//! Joints of ridge boards that are longer than the longest lumber: at or between pairs of rafters, as for a gable.

use crate::frame::ridge::pieces;
use crate::geom::Plane;
use crate::measure::tolerance::HAIR;
use crate::plan::RidgeJoints;

use super::ground::Ground;
use super::lines::{Line, LineOf};
use super::piece::{Hung, off};
use super::stations::sixteenths;

/// Parts every ridge board that is too long. The first piece keeps its name.
pub(super) fn add(ground: &Ground, joints: RidgeJoints, sticks: &mut Vec<Hung>) {
    if joints == RidgeJoints::None {
        return;
    }
    let parted: Vec<Vec<Hung>> =
        sticks.iter().map(|hung| parts(ground, joints, hung, sticks)).collect();
    for (at, parts) in parted.into_iter().enumerate().rev() {
        if !parts.is_empty() {
            sticks.splice(at..=at, parts);
        }
    }
}

/// The pieces of one; none if it is whole.
fn parts(ground: &Ground, joints: RidgeJoints, hung: &Hung, sticks: &[Hung]) -> Vec<Hung> {
    let line = hung.line.map(|line| &ground.lines[line]);
    let Some(line) = line.filter(|line| line.of == LineOf::Ridge) else { return Vec::new() };
    let Some((from, to)) = hung.stick().map(|stick| stick.reach()) else { return Vec::new() };
    if to - from <= ground.longest + HAIR {
        return Vec::new();
    }
    let pairs = pairs(ground, line, hung, sticks);
    let places = match joints {
        RidgeJoints::None => Vec::new(),
        RidgeJoints::Pair => pairs,
        RidgeJoints::Between => pairs.windows(2).map(|two| f64::midpoint(two[0], two[1])).collect(),
    };
    let pieces = pieces(from, to, ground.longest, &places);
    let along = hung.axis.along;
    let square = |far: f64, side: f64| {
        off("square cut", Plane::through(hung.axis.origin + along * far, along * side))
    };
    let count = pieces.len();
    let part = |(number, (start, stop)): (usize, (f64, f64))| {
        let mut piece = hung.clone();
        if number > 0 {
            piece.axis.origin += along * start;
            piece.trims[0] = square(start, -1.0);
            piece.id = format!("{}-{}", hung.id, sixteenths(start));
        }
        if number + 1 < count {
            piece.trims[1] = square(stop, 1.0);
        }
        piece
    };
    pieces.into_iter().enumerate().map(part).collect()
}

/// Where rafters of both sides meet a ridge board opposite each other, inches along its axis, in order.
fn pairs(ground: &Ground, line: &Line, hung: &Hung, sticks: &[Hung]) -> Vec<f64> {
    let along = hung.axis.along.truncate();
    let start = hung.axis.origin.truncate();
    let places = |on_left: bool| -> Vec<f64> {
        let borders = line.borders.iter().filter(|border| border.on_left == on_left);
        let faces: Vec<usize> = borders.map(|border| border.face).collect();
        let cheek = line.side_plane(on_left).flipped();
        let ends_there = sticks.iter().filter(|stick| {
            let mut planes = stick.trims.iter().flat_map(|trim| &trim.cut.planes);
            stick.face.is_some_and(|face| faces.contains(&face))
                && planes.any(|plane| {
                    plane.normal.distance(cheek.normal) < HAIR
                        && (plane.offset - cheek.offset).abs() < HAIR
                })
        });
        ends_there.map(|stick| (stick.axis.origin.truncate() - start).dot(along)).collect()
    };
    let [left, right] = [true, false].map(places);
    // rafters that are offset across the ridge clasp a joint too
    let near = |one: f64| {
        let apart = |other: &&f64| (**other - one).abs();
        right
            .iter()
            .min_by(|a, b| apart(a).total_cmp(&apart(b)))
            .filter(|other| apart(other) < 4.0 * ground.half_rafter)
    };
    let mut pairs: Vec<f64> =
        left.iter().filter_map(|one| Some(f64::midpoint(*one, *near(*one)?))).collect();
    pairs.sort_by(f64::total_cmp);
    pairs
}
