//! The deck of random roofs, looked at by a checker of its own: it reads outlines, places and rafters alone, and computes
//! every distance again.

use proptest::prelude::*;
use stepoff::deck::faces::{CannotCover, FacePiece, FacesAsk, FacesDeck, lay_faces};
use stepoff::frame::hung::fits::misfit;
use stepoff::frame::{Choices, HungRoof, sticks_of};
use stepoff::geom::{DVec2, DVec3};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::plan::DeckPlan;
use stepoff::roof::Shape;

use super::{shapes, sheds};

const NEAR: f64 = 1e-4;

/// Panels of 48 x 96 in with the usual gaps.
fn plan() -> DeckPlan {
    DeckPlan {
        sheet_length: inches(96.0),
        sheet_height: inches(48.0),
        kerf: inches(0.125),
        gap: inches(0.125),
        least_strip: inches(24.0),
        least_piece: inches(24.0),
        past_fascia: inches(0.0),
        past_rake: inches(0.0),
        ridge_slot: None,
    }
}

fn sides(around: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    let next = around.iter().cycle().skip(1);
    around.iter().copied().zip(next.copied())
}

fn holds(around: &[DVec2], at: DVec2) -> bool {
    let crossed = sides(around).filter(|(from, to)| {
        (from.y > at.y) != (to.y > at.y)
            && at.x < from.x + (to.x - from.x) * (at.y - from.y) / (to.y - from.y)
    });
    crossed.count() % 2 == 1
}

fn area(around: &[DVec2]) -> f64 {
    sides(around).map(|(from, to)| from.perp_dot(to)).sum::<f64>() / 2.0
}

fn from_side(at: DVec2, (from, to): (DVec2, DVec2)) -> f64 {
    let along = to - from;
    let part = ((at - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    at.distance(from + along * part)
}

fn from_border(around: &[DVec2], at: DVec2) -> f64 {
    sides(around).map(|side| from_side(at, side)).fold(f64::INFINITY, f64::min)
}

/// The least distance between two pieces on a sheet; nothing if one holds a corner of the other.
fn apart(one: &[DVec2], other: &[DVec2]) -> f64 {
    if one.iter().any(|at| holds(other, *at)) || other.iter().any(|at| holds(one, *at)) {
        return 0.0;
    }
    let of = |here: &[DVec2], there: &[DVec2]| {
        here.iter().map(|at| from_border(there, *at)).fold(f64::INFINITY, f64::min)
    };
    of(one, other).min(of(other, one))
}

/// A face's outline and holes in its own surface, from the frame's roof.
fn face_loops(hung: &HungRoof, face: usize) -> (Vec<Vec<DVec2>>, DVec2) {
    let axes = &hung.ground.faces[face];
    let stretch = axes.slope.tangent().hypot(1.0);
    let own = &hung.ground.roof.faces[face];
    let flat = |corner: &DVec3| {
        let plan = DVec2::new(corner.x, corner.y);
        DVec2::new(plan.dot(axes.along), plan.dot(axes.up) * stretch)
    };
    let loops = std::iter::once(&own.outline).chain(&own.holes);
    let mut loops: Vec<Vec<DVec2>> =
        loops.map(|around| around.iter().map(flat).collect()).collect();
    // under a dormer the hole that it stands around is open, up to where its slope comes down, or its walls end
    for hole in hung.ground.holes.iter().filter(|hole| hole.face == face) {
        let Some(laid) = hung.ground.dormer(&hole.name) else { continue };
        let (low, high) = (hole.up.0 * stretch, laid.from.dot(axes.up) * stretch);
        let (first, last) = hole.reach;
        let corners = [(first, low), (first, high), (last, high), (last, low)];
        loops.push(corners.map(|(x, y)| DVec2::new(x, y)).to_vec());
    }
    let low = loops.iter().flatten().fold(DVec2::INFINITY, |low, at| low.min(*at));
    (loops.iter().map(|around| around.iter().map(|at| *at - low).collect()).collect(), low)
}

fn within_sheets(deck: &FacesDeck, plan: &DeckPlan) -> Result<(), TestCaseError> {
    let sheet = DVec2::new(plan.sheet_length.inches(), plan.sheet_height.inches());
    let lying = |piece: &FacePiece| {
        let low = piece.outline.iter().fold(DVec2::INFINITY, |low, at| low.min(*at));
        let high = piece.outline.iter().fold(DVec2::NEG_INFINITY, |high, at| high.max(*at));
        let turn = |at: &DVec2| if piece.place.turned { high - *at } else { *at - low };
        piece.outline.iter().map(|at| piece.place.at + turn(at)).collect::<Vec<_>>()
    };
    for number in 0..deck.sheets {
        let own: Vec<Vec<DVec2>> =
            deck.pieces.iter().filter(|piece| piece.place.sheet == number).map(lying).collect();
        prop_assert!(!own.is_empty(), "sheet {number} is not used");
        for piece in &own {
            let inside = piece.iter().all(|at| {
                at.x > -NEAR && at.y > -NEAR && at.x < sheet.x + NEAR && at.y < sheet.y + NEAR
            });
            prop_assert!(inside, "beyond sheet {number}: {piece:?}");
        }
        for one in 0..own.len() {
            for other in one + 1..own.len() {
                let apart = apart(&own[one], &own[other]);
                let least = plan.kerf.inches() - NEAR;
                prop_assert!(
                    apart > least,
                    "sheet {number}: {:?} and {:?} are {apart} apart",
                    own[one],
                    own[other]
                );
            }
        }
    }
    let used = deck.pieces.iter().map(|piece| piece.place.sheet + 1).max().unwrap_or(0);
    prop_assert_eq!(used, deck.sheets);
    Ok(())
}

/// Every place of a face lies in one piece, or in a gap.
fn covers(hung: &HungRoof, deck: &FacesDeck, gap: f64) -> Result<(), TestCaseError> {
    for face in 0..hung.ground.faces.len() {
        let (loops, _) = face_loops(hung, face);
        let own: Vec<&FacePiece> = deck.pieces.iter().filter(|piece| piece.face == face).collect();
        let high = loops[0].iter().fold(DVec2::ZERO, |high, at| high.max(*at));
        let covered: f64 = own.iter().map(|piece| piece.region.area()).sum();
        let whole: f64 = loops.iter().map(|around| area(around)).sum();
        prop_assert!(covered < whole + NEAR, "{covered} of {whole}");
        for step in 0..400 {
            // places that never repeat: multiples of two irrational numbers
            let part = |by: f64| (f64::from(step) * by).fract();
            let at = DVec2::new(part(0.754_877_67) * high.x, part(0.569_840_29) * high.y);
            let on_face = loops.iter().filter(|around| holds(around, at)).count() % 2 == 1;
            let by = own.iter().filter(|piece| holds(&piece.outline, at)).count();
            if !on_face {
                let beside = loops.iter().map(|around| from_border(around, at));
                // an outline leaves out holes, so only what is outside of all counts
                let outside = !holds(&loops[0], at) && beside.fold(f64::INFINITY, f64::min) > NEAR;
                prop_assert!(by == 0 || !outside, "face {face}: a piece reaches past it at {at}");
                continue;
            }
            let near = own.iter().map(|piece| from_border(&piece.outline, at));
            let in_gap = near.fold(f64::INFINITY, f64::min) <= gap + NEAR;
            prop_assert!(by == 1 || in_gap, "face {face}: {by} pieces at {at}");
        }
    }
    Ok(())
}

/// Every upright end of a piece inside its face lies on a stick that runs up there, and neighbors differ.
fn joints_are_carried(hung: &HungRoof, deck: &FacesDeck, gap: f64) -> Result<(), TestCaseError> {
    for face in 0..hung.ground.faces.len() {
        let axes = &hung.ground.faces[face];
        let stretch = axes.slope.tangent().hypot(1.0);
        let (loops, low) = face_loops(hung, face);
        let up = DVec3::new(axes.up.x, axes.up.y, 0.0);
        let mut carriers: Vec<(f64, f64, f64)> = Vec::new();
        for stick in hung.sticks.iter().filter(|stick| stick.face == Some(face)) {
            let whole = stick.stick().expect("checked elsewhere");
            let corners: Vec<DVec3> = whole.solid().corners().collect();
            let along = |corner: &DVec3| corner.truncate().dot(axes.along);
            let heights = corners.iter().map(|corner| corner.dot(up) * stretch - low.y);
            let from = heights.clone().fold(f64::INFINITY, f64::min);
            let to = heights.fold(f64::NEG_INFINITY, f64::max);
            let first = corners.iter().map(along).fold(f64::INFINITY, f64::min);
            let last = corners.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
            if last - first < stick.section.thickness_in() + NEAR {
                carriers.push((f64::midpoint(first, last) - low.x, from, to));
            }
        }
        let mut joints: Vec<(usize, f64)> = Vec::new();
        for piece in deck.pieces.iter().filter(|piece| piece.face == face) {
            let upright = sides(&piece.outline).filter(|(from, to)| (from.x - to.x).abs() < 1e-9);
            for (from, to) in upright {
                let middle = (from + to) / 2.0;
                // an end of the face itself, or a hole's side
                if loops.iter().any(|around| from_border(around, middle) < gap / 2.0 - 1e-3) {
                    continue;
                }
                let is_right = to.y > from.y;
                let joint = from.x + if is_right { gap / 2.0 } else { -gap / 2.0 };
                let (bottom, top) = (from.y.min(to.y), from.y.max(to.y));
                let carried = carriers.iter().any(|(at, low, high)| {
                    (at - joint).abs() < 1e-3 && *low < bottom + 6.5 && *high > top - 6.5
                });
                prop_assert!(
                    carried,
                    "face {face} course {}: no rafter at {joint} from {bottom} to {top}",
                    piece.course
                );
                joints.push((piece.course, joint));
            }
        }
        if deck.faces[face].broken.is_empty() {
            for (course, at) in &joints {
                let above = joints
                    .iter()
                    .find(|(other, place)| *other == course + 1 && (place - at).abs() < 1e-3);
                prop_assert!(
                    above.is_none(),
                    "face {face}: courses {course} and the next break at {at}"
                );
            }
        }
    }
    Ok(())
}

fn is_right(shape: &Shape, choices: &Choices) -> Result<(), TestCaseError> {
    let Ok(hung) = sticks_of(shape, choices) else { return Ok(()) };
    if misfit(&hung).is_some() {
        return Ok(());
    }
    let plan = plan();
    let ask = FacesAsk::of(shape, &hung, &plan);
    let deck = match lay_faces(&ask) {
        Ok(deck) => deck,
        // told, not hidden: a slope that no courses divide, or rafters farther apart than a sheet is long
        Err(CannotCover::Courses { .. } | CannotCover::NoJoint { .. }) => return Ok(()),
        Err(other) => return Err(TestCaseError::fail(other.to_string())),
    };
    prop_assert_eq!(&deck, &lay_faces(&ask).expect("as before"), "not the same each time");
    let by_area = deck.area / (96.125 * 48.125);
    prop_assert!(deck.least <= deck.sheets && by_area.ceil() as usize <= deck.sheets);
    within_sheets(&deck, &plan)?;
    covers(&hung, &deck, plan.gap.inches())?;
    joints_are_carried(&hung, &deck, plan.gap.inches())
}

proptest! {
    // some dormers have no roof: across a hip, or past an end
    #![proptest_config(ProptestConfig {
        max_global_rejects: super::cases() * 2 + 3, ..ProptestConfig::with_cases(super::cases() / 6)
    })]

    #[test]
    fn the_deck_of_one_block_is_laid_by_its_rules(
        shape in shapes::one_block(), choices in shapes::choices(),
    ) {
        is_right(&shape, &choices)?;
    }

    #[test]
    fn the_deck_around_shed_dormers_is_laid_by_its_rules(
        shape in sheds::with_shed(), choices in shapes::choices(),
    ) {
        prop_assume!(shape.roof().is_ok());
        is_right(&shape, &choices)?;
    }

    #[test]
    fn the_deck_of_wings_is_laid_by_its_rules(
        shape in shapes::with_wings(), choices in shapes::choices(),
    ) {
        is_right(&shape, &choices)?;
    }
}
