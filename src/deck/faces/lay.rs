//! Laying: for each run the way to part it, for all pieces the sheets, and the bound below which no layout can come.

use crate::catalog::panels::Panel;
use crate::deck::support::{EdgeSupport, support_of};
use crate::geom::{DVec2, Region};
use crate::measure::Length;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::solve::Random;

use super::ask::{Broken, CannotCover, FaceAsk, FacePiece, FacesAsk, FacesDeck, LaidFace};
use super::runs::{Limits, Run, courses, runs};
use super::sheet::{Blank, OnSheet, Stock, pack};

/// Changes that are tried at most, each a new way to part one run.
const CHANGES: usize = 1500;
/// With more pieces fewer changes are tried, so that the time stays in bounds.
const PIECES: usize = 60;
/// How much worse a layout may fill its sheets than the last one and still be gone on from, as a part of a sheet.
const SLACK: f64 = 0.02;

/// A piece before it has its sheet.
#[derive(Clone)]
struct Cut {
    region: Region,
    outline: Vec<DVec2>,
    blank: Blank,
}

/// A run, its place, and how it is parted.
#[derive(Clone)]
struct Laid<'a> {
    face: usize,
    run: &'a Run,
    joints: Vec<f64>,
    cuts: Vec<Cut>,
}

/// Covers the faces with as few sheets as are found, with a bound.
///
/// # Errors
/// [`CannotCover`] if a face has no courses, or no rafter near enough for a joint.
pub fn lay_faces(ask: &FacesAsk) -> Result<FacesDeck, CannotCover> {
    let limits = Limits {
        gap: ask.rules.gap.inches(),
        longest: ask.sheet.length.inches(),
        shortest: ask.rules.least_piece.inches(),
    };
    let stock = Stock {
        length: limits.longest,
        height: ask.sheet.height.inches(),
        kerf: ask.sheet.kerf.inches(),
    };
    let mut faces = Vec::new();
    let mut of_face: Vec<Vec<Run>> = Vec::new();
    for face in &ask.faces {
        let up = face.region.extent().1.y;
        let (courses, narrow) = courses(up, stock.height, &ask.rules)
            .ok_or_else(|| CannotCover::Courses { face: face.name.clone(), up_in: up })?;
        of_face.push(runs(face, &courses, (&ask.rules, stock.length)));
        faces.push(LaidFace { courses, narrow, broken: Vec::new() });
    }
    let bound = least(ask, &of_face, &stock);
    let mut laid = Vec::new();
    for (number, runs) in of_face.iter().enumerate() {
        faces[number].broken =
            first_layout((number, &ask.faces[number]), runs, limits, &stock, &mut laid)?;
    }
    let (laid, packed) = search(laid, limits, &stock, bound);
    let mut pieces: Vec<FacePiece> = laid
        .into_iter()
        .flat_map(|of| of.cuts.into_iter().map(move |cut| (of.face, of.run.course, cut)))
        .zip(packed.places)
        .map(|((face, course, cut), place)| FacePiece {
            face,
            course,
            region: cut.region,
            outline: cut.outline,
            length: cut.blank.length,
            height: cut.blank.height,
            place,
        })
        .collect();
    number_sheets(&mut pieces);
    let area = ask.faces.iter().map(|face| face.region.area()).sum();
    Ok(FacesDeck { faces, pieces, sheets: packed.sheets, least: bound, area })
}

/// Where the row of numbers begins by which changes are drawn: any will do, and the same one gives the same deck.
const SEED: u64 = 0x5e_ed0f_adec;

/// Parts every run of a face, from the eave up, and tells which rules it could not keep.
fn first_layout<'a>(
    (number, face): (usize, &FaceAsk),
    runs: &'a [Run],
    limits: Limits,
    stock: &Stock,
    laid: &mut Vec<Laid<'a>>,
) -> Result<Vec<Broken>, CannotCover> {
    let mut broken = Vec::new();
    let mut note = |what: Broken| {
        if !broken.contains(&what) {
            broken.push(what);
        }
    };
    let first = laid.len();
    for run in runs {
        if run.breaks_low {
            note(Broken::LeastStrip);
        }
        let below: Vec<f64> = laid[first..]
            .iter()
            .filter(|other| other.run.course + 1 == run.course)
            .flat_map(|other| other.joints.iter().copied())
            .collect();
        let mut cost = |from: usize, to: usize, length: f64| price(run, from, to, length, stock);
        let any = Limits { shortest: 0.0, ..limits };
        let joints = run
            .parted(limits, &below, &mut cost)
            .or_else(|_| {
                note(Broken::LeastPiece);
                run.parted(any, &below, &mut cost)
            })
            .or_else(|_| {
                note(Broken::Stagger);
                run.parted(any, &[], &mut cost)
            })
            .map_err(|from_in| CannotCover::NoJoint {
                face: face.name.clone(),
                course: run.course + 1,
                from_in,
            })?;
        let joints: Vec<f64> = joints.into_iter().map(|joint| run.joints[joint]).collect();
        let cuts = pieces(run, &joints, limits.gap);
        laid.push(Laid { face: number, run, joints, cuts });
    }
    Ok(broken)
}

/// What a piece takes of a sheet: its share of the height, and half way up its length, with what it leaves if that is too
/// short for another piece.
fn price(run: &Run, from: usize, to: usize, length: f64, stock: &Stock) -> f64 {
    let own = run.height();
    let share = 1.0 / ((stock.height + stock.kerf) / (own + stock.kerf)).floor().max(1.0);
    let mean = run.area_between(from, to) / own;
    let rest = stock.length - length;
    let taken = if rest < SHORTEST_REST_IN { stock.length } else { mean };
    share * taken / stock.length + A_PIECE
}

/// What is left of a sheet is of use from this length on, inches: the least piece of the rules, and a little.
const SHORTEST_REST_IN: f64 = 26.0;
/// Laying a piece costs as much as this part of a sheet: of two ways alike, the one with fewer pieces.
const A_PIECE: f64 = 0.03;

/// The pieces of a run that breaks at these places.
fn pieces(run: &Run, joints: &[f64], gap: f64) -> Vec<Cut> {
    let mut ends = vec![run.left - gap];
    ends.extend(joints);
    ends.push(run.right + gap);
    let mut cuts = Vec::new();
    for two in ends.windows(2) {
        let between = run.region.between(two[0] + gap / 2.0, two[1] - gap / 2.0);
        for region in between.pieces() {
            let outline = region.loops().into_iter().next().unwrap_or_default();
            if outline.is_empty() {
                continue;
            }
            let (low, _) = region.extent();
            let own: Vec<DVec2> = outline.iter().map(|corner| *corner - low).collect();
            let blank = Blank::around(&own);
            cuts.push(Cut { region, outline, blank });
        }
    }
    cuts
}

/// The places of all pieces.
#[derive(Clone)]
struct Packed {
    places: Vec<OnSheet>,
    sheets: usize,
    /// The sum of the squares of what each sheet is filled with: of two layouts on as many sheets, the one with more has
    /// the emptier last sheet.
    filled: f64,
}

/// Parts one run after another anew, and keeps what fills fewer sheets, or the same ones more unevenly.
fn search<'a>(
    mut laid: Vec<Laid<'a>>,
    limits: Limits,
    stock: &Stock,
    bound: usize,
) -> (Vec<Laid<'a>>, Packed) {
    let mut random = Random::new(SEED);
    let mut now = on_sheets(&laid, stock, &mut random);
    let mut best = (laid.clone(), now.clone());
    let count: usize = laid.iter().map(|of| of.cuts.len()).sum();
    let changes = if laid.is_empty() { 0 } else { CHANGES * PIECES / count.max(PIECES) };
    for _ in 0..changes {
        if best.1.sheets <= bound {
            break;
        }
        let number = (random.fraction() * laid.len() as f64) as usize;
        let mut priced = |run: &Run, from: usize, to: usize, length: f64, drawn: f64| {
            price(run, from, to, length, stock) * (0.5 + drawn)
        };
        let Some(changed) = parted_anew(&laid, number, limits, &mut priced, &mut random) else {
            continue;
        };
        let before = std::mem::replace(&mut laid[number], changed);
        let then = on_sheets(&laid, stock, &mut random);
        let slack = SLACK * random.fraction();
        let is_kept = then.sheets < now.sheets
            || then.sheets == now.sheets && then.filled >= now.filled - slack;
        if is_kept {
            now = then;
            let pieces = |laid: &[Laid]| laid.iter().map(|of| of.cuts.len()).sum::<usize>();
            if (now.sheets, pieces(&laid)) < (best.1.sheets, pieces(&best.0)) {
                best = (laid.clone(), now.clone());
            }
        } else {
            laid[number] = before;
        }
    }
    with_fewer_pieces(best, (limits, stock), changes / 3, &mut random)
}

/// The layout with runs parted into fewer pieces, where that takes no more sheets.
fn with_fewer_pieces<'a>(
    (mut laid, mut packed): (Vec<Laid<'a>>, Packed),
    (limits, stock): (Limits, &Stock),
    changes: usize,
    random: &mut Random,
) -> (Vec<Laid<'a>>, Packed) {
    for _ in 0..changes {
        let number = (random.fraction() * laid.len() as f64) as usize;
        let mut priced = |_: &Run, _: usize, _: usize, _: f64, drawn: f64| 1.0 + 0.2 * drawn;
        let changed = parted_anew(&laid, number, limits, &mut priced, random);
        let few = |changed: &Laid| changed.cuts.len() <= laid[number].cuts.len();
        let Some(changed) = changed.filter(few) else { continue };
        let before = std::mem::replace(&mut laid[number], changed);
        let then = on_sheets(&laid, stock, random);
        if then.sheets <= packed.sheets {
            packed = then;
        } else {
            laid[number] = before;
        }
    }
    (laid, packed)
}

/// What a piece of a run costs, from its first to its last place, by its cut length and a number that is drawn.
type Priced<'a> = dyn FnMut(&Run, usize, usize, f64, f64) -> f64 + 'a;

/// A run parted anew, every piece priced anew, with no joint where its neighbors break; `None` if there is no such way or
/// it is the same one.
fn parted_anew<'a>(
    laid: &[Laid<'a>],
    number: usize,
    limits: Limits,
    priced: &mut Priced<'_>,
    random: &mut Random,
) -> Option<Laid<'a>> {
    let own = &laid[number];
    let is_beside =
        |other: &&Laid| other.face == own.face && other.run.course.abs_diff(own.run.course) == 1;
    let taken: Vec<f64> =
        laid.iter().filter(is_beside).flat_map(|other| other.joints.iter().copied()).collect();
    let mut cost =
        |from: usize, to: usize, length: f64| priced(own.run, from, to, length, random.fraction());
    let joints = own.run.parted(limits, &taken, &mut cost).ok()?;
    let joints: Vec<f64> = joints.into_iter().map(|joint| own.run.joints[joint]).collect();
    if joints == own.joints {
        return None;
    }
    let cuts = pieces(own.run, &joints, limits.gap);
    Some(Laid { joints, cuts, ..own.clone() })
}

/// The pieces on sheets, the highest first, then the longest, and once more in a shaken order.
fn on_sheets(laid: &[Laid], stock: &Stock, random: &mut Random) -> Packed {
    let blanks: Vec<Blank> = laid.iter().flat_map(|of| &of.cuts).map(|cut| cut.blank).collect();
    let mut best: Option<Packed> = None;
    for shake in [0.0, 30.0] {
        let mut keys: Vec<(f64, f64, usize)> = blanks
            .iter()
            .enumerate()
            .map(|(number, blank)| {
                let shaken = shake * random.fraction();
                ((blank.height * 16.0).round(), blank.length + shaken, number)
            })
            .collect();
        keys.sort_by(|one, other| other.0.total_cmp(&one.0).then(other.1.total_cmp(&one.1)));
        let order: Vec<usize> = keys.into_iter().map(|key| key.2).collect();
        let (places, sheets) = pack(&blanks, &order, stock);
        let mut fill = vec![0.0; sheets];
        for (blank, place) in blanks.iter().zip(&places) {
            fill[place.sheet] += blank.area() / stock.length / stock.height;
        }
        let filled = fill.iter().map(|part| part * part).sum();
        let is_better = best.as_ref().is_none_or(|known| {
            sheets < known.sheets || sheets == known.sheets && filled > known.filled
        });
        if is_better {
            best = Some(Packed { places, sheets, filled });
        }
    }
    best.unwrap_or(Packed { places: Vec::new(), sheets: 0, filled: 0.0 })
}

/// Sheets numbered in the order in which the pieces, as they are laid, first need one.
fn number_sheets(pieces: &mut [FacePiece]) {
    pieces.sort_by(|one, other| {
        let key = |piece: &FacePiece| (piece.face, piece.course);
        key(one)
            .cmp(&key(other))
            .then(one.region.extent().0.x.total_cmp(&other.region.extent().0.x))
    });
    let mut known: Vec<usize> = Vec::new();
    for piece in pieces {
        let at = known.iter().position(|sheet| *sheet == piece.place.sheet);
        piece.place.sheet = at.unwrap_or_else(|| {
            known.push(piece.place.sheet);
            known.len() - 1
        });
    }
}

/// The fewest sheets of any layout with these courses, joints on these rafters, and sheets ripped into tracks.
///
/// A track holds no more than its length: pieces side by side, each with a saw cut, half way up. So any measure of height
/// that never comes to more than a sheet's for tracks that fit it bounds the sheets: the height itself, and for courses
/// higher than a part of the sheet the share that they leave to no other.
fn least(ask: &FacesAsk, of_face: &[Vec<Run>], stock: &Stock) -> usize {
    let gap = ask.rules.gap.inches();
    // pieces are counted with a saw cut each; as much of a gap as is wider is not covered at all
    let cut = gap.min(stock.kerf);
    let bare = gap - cut;
    let (length, height) = (stock.length + cut, stock.height + cut);
    let mut by_area = 0.0;
    let mut by_share = [0.0; MOST_SHARES];
    for run in of_face.iter().flatten() {
        let (low, high) = run.region.extent();
        let own = high.y - low.y;
        let open: f64 = run.tall.iter().sum::<f64>() * bare;
        by_area += (run.region.area() - open).max(0.0) * (own + cut) / own / height;
        // where the run is as high as its course every piece is too
        let full = full_length(run, own) - bare * run.joints.len() as f64;
        for (number, sum) in by_share.iter_mut().enumerate() {
            *sum += full.max(0.0) * share((own + cut) / height, number as f64 + 1.0);
        }
    }
    let most = by_share.into_iter().fold(by_area, f64::max) / length;
    (most - HAIR).ceil().max(0.0) as usize
}

/// Parts of a sheet's height by which the bound is tried.
const MOST_SHARES: usize = 6;

/// What a track of a height takes of a sheet at least, if it is told in parts of which a sheet has `parts` (a dual feasible
/// function: heights that fit a sheet never come to more than 1).
fn share(height: f64, parts: f64) -> f64 {
    let scaled = height * (parts + 1.0);
    if (scaled - scaled.round()).abs() < HAIR { height } else { scaled.floor() / parts }
}

/// Along the eave, how far a run is as high as its course.
fn full_length(run: &Run, own: f64) -> f64 {
    let (low, high) = run.region.extent();
    let mut places: Vec<f64> =
        run.region.parts().iter().flat_map(|part| part.corners()).map(|at| at.x).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|one, other| (*one - *other).abs() <= HAIR);
    let is_full = |two: &&[f64]| {
        let tall = |x: f64| run.region.tallest(x) >= own - 1e-3;
        // a part between two corners is full if it is at three places of it: its borders are straight
        [0.01, 0.5, 0.99].iter().all(|at| tall(two[0] + (two[1] - two[0]) * at))
    };
    let full: f64 = places.windows(2).filter(is_full).map(|two| two[1] - two[0]).sum();
    full.min(high.x - low.x)
}

/// What the edges between courses need with panels of a rating and a thickness, in the bays between the sticks that run up
/// each face.
#[must_use]
pub fn faces_edge_support(
    ask: &FacesAsk,
    deck: &FacesDeck,
    panel: &Panel,
    thickness: Option<Length>,
) -> EdgeSupport {
    let bays = ask.faces.iter().zip(&deck.faces).flat_map(|(face, laid)| {
        let mut centers: Vec<f64> = face.rafters.iter().map(|rafter| rafter.at).collect();
        centers.sort_by(f64::total_cmp);
        centers.dedup_by(|one, other| (*one - *other).abs() <= HAIR);
        let bays = centers.windows(2).map(|two| {
            let uprights = face.region.uprights(f64::midpoint(two[0], two[1]));
            let crosses = |line: &f64| uprights.iter().any(|(low, high)| low < line && line < high);
            let lines = laid.courses.iter().map(|course| course.high).filter(crosses).count();
            (two[1] - two[0], lines)
        });
        bays.collect::<Vec<_>>()
    });
    support_of(bays, panel, thickness)
}

#[cfg(test)]
mod tests {
    use super::super::ask::RafterReach;
    use super::*;
    use crate::deck::ask::LayingRules;
    use crate::geom::{DVec2, Region};

    /// A face with level courses and rafters each 16 in.
    fn face(name: &str, along: f64, up: f64) -> FaceAsk {
        let corners = [(0.0, 0.0), (along, 0.0), (along, up), (0.0, up)];
        let rafters = (0..)
            .map(|number| f64::from(number) * 16.0)
            .take_while(|at| *at < along)
            .map(|at| RafterReach { at, from: 0.0, to: up });
        FaceAsk {
            name: name.to_owned(),
            region: Region::within(&[corners.map(DVec2::from).to_vec()]),
            origin: DVec2::ZERO,
            rafters: rafters.collect(),
        }
    }

    /// No joint stands over one of the course below: each is two rafters' spacing off at least.
    #[test]
    fn joints_are_staggered_from_one_course_to_the_next() {
        let faces = vec![face("A", 300.0, 192.0), face("B", 420.0, 192.0)];
        let rules = LayingRules::default();
        for face in &faces {
            let (courses, _) = courses(192.0, 48.0, &rules).unwrap();
            assert_eq!(courses.len(), 4);
            let runs = runs(face, &courses, (&rules, 96.0));
            let limits = Limits { gap: rules.gap.inches(), longest: 96.0, shortest: 24.0 };
            let stock = Stock { length: 96.0, height: 48.0, kerf: 0.125 };
            let mut laid = Vec::new();
            let broken = first_layout((0, face), &runs, limits, &stock, &mut laid).unwrap();
            assert_eq!(broken, Vec::new());
            assert_eq!(laid.len(), 4);
            for two in laid.windows(2) {
                assert_eq!(two[0].run.course + 1, two[1].run.course);
                assert!(two[0].joints.len() >= 3 && two[1].joints.len() >= 3);
                for joint in &two[1].joints {
                    assert!(
                        two[0].joints.iter().all(|below| (below - joint).abs() > 1.0),
                        "{joint}"
                    );
                }
            }
        }
    }
}
