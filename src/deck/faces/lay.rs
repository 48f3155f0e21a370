//! Laying: for each run the way to part it, for all pieces the sheets, and the bound below which no layout can come.

use crate::catalog::panels::Panel;
use crate::deck::support::{EdgeSupport, support_of};
use crate::geom::DVec2;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::solve::Random;

use super::ask::{Broken, CannotCover, FaceAsk, FacePiece, FacesAsk, FacesDeck, LaidFace};
use super::region::Region;
use super::runs::{Limits, Run, courses, runs};
use super::sheet::{Blank, OnSheet, Stock, pack};

/// Layouts that are tried, each with its own way to part the runs.
const LAYOUTS: usize = 96;
/// Orders in which the pieces of each are put on sheets.
const ORDERS: usize = 4;
/// So many pieces are tried as often as told; more of them less often, so that the time stays in bounds.
const PIECES: usize = 120;

/// A piece before it has its sheet.
struct Cut {
    face: usize,
    course: usize,
    region: Region,
    outline: Vec<DVec2>,
    blank: Blank,
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
        of_face.push(runs(face, &courses, &ask.rules));
        faces.push(LaidFace { courses, narrow, broken: Vec::new() });
    }
    let mut best: Option<(usize, Vec<Cut>, Vec<OnSheet>, Vec<LaidFace>)> = None;
    let bound = least(ask, &of_face, &stock);
    let mut random = Random::new(SEED);
    let mut tries = LAYOUTS;
    let mut number = 0;
    while number < tries {
        let mut laid = faces.clone();
        let mut cuts = Vec::new();
        // the first layout has the fewest pieces; each later one prices every piece anew
        let wild = if number == 0 { 0.0 } else { 1.0 };
        for (face, runs) in of_face.iter().enumerate() {
            let asked = (face, &ask.faces[face]);
            laid[face].broken = part(asked, runs, limits, wild, &mut random, &mut cuts)?;
        }
        tries = tries.min((LAYOUTS * PIECES / cuts.len().max(PIECES)).max(4));
        let (places, sheets) = on_sheets(&cuts, &stock, &mut random);
        let broken = |faces: &[LaidFace]| faces.iter().map(|face| face.broken.len()).sum::<usize>();
        let is_better = best.as_ref().is_none_or(|(least, old, _, faces)| {
            (broken(&laid), sheets, cuts.len()) < (broken(faces), *least, old.len())
        });
        if is_better {
            best = Some((sheets, cuts, places, laid));
        }
        if best.as_ref().is_some_and(|(sheets, ..)| *sheets <= bound) {
            break;
        }
        number += 1;
    }
    let (sheets, cuts, places, faces) = best.unwrap_or_default();
    let mut pieces: Vec<FacePiece> = cuts
        .into_iter()
        .zip(places)
        .map(|(cut, place)| FacePiece {
            face: cut.face,
            course: cut.course,
            region: cut.region,
            outline: cut.outline,
            length: cut.blank.length,
            height: cut.blank.height,
            place,
        })
        .collect();
    number_sheets(&mut pieces);
    let area = ask.faces.iter().map(|face| face.region.area()).sum();
    Ok(FacesDeck { faces, pieces, sheets, least: bound, area })
}

/// Where the row of numbers begins by which layouts are tried: any will do, and the same one gives the same deck.
const SEED: u64 = 0x5eed_0f_a_dec;

/// Parts every run of a face, from the eave up, and tells which rules it could not keep.
fn part(
    (number, face): (usize, &FaceAsk),
    runs: &[Run],
    limits: Limits,
    wild: f64,
    random: &mut Random,
    cuts: &mut Vec<Cut>,
) -> Result<Vec<Broken>, CannotCover> {
    let mut broken = Vec::new();
    let mut note = |what: Broken| {
        if !broken.contains(&what) {
            broken.push(what);
        }
    };
    let (mut below, mut here): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    let mut course = 0;
    for run in runs {
        if run.course != course {
            below = std::mem::take(&mut here);
            course = run.course;
        }
        let mut cost = |_: usize, _: usize, length: f64| {
            1.0 + wild * random.fraction() * 2.0 + 0.01 * (limits.longest - length) / limits.longest
        };
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
        here.extend(&joints);
        cuts.extend(pieces(number, run, &joints, limits.gap));
    }
    Ok(broken)
}

/// The pieces of a run that breaks at these places.
fn pieces(face: usize, run: &Run, joints: &[f64], gap: f64) -> Vec<Cut> {
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
            cuts.push(Cut { face, course: run.course, region, outline, blank });
        }
    }
    cuts
}

/// The pieces on sheets, in several orders: the fewest sheets found.
fn on_sheets(cuts: &[Cut], stock: &Stock, random: &mut Random) -> (Vec<OnSheet>, usize) {
    let blanks: Vec<Blank> = cuts.iter().map(|cut| cut.blank).collect();
    let mut best: Option<(Vec<OnSheet>, usize)> = None;
    for order in 0..ORDERS {
        let mut keys: Vec<(f64, f64, usize)> = blanks
            .iter()
            .enumerate()
            .map(|(number, blank)| {
                let shaken = if order == 0 { 0.0 } else { random.fraction() * 24.0 };
                ((blank.height * 16.0).round(), blank.length + shaken, number)
            })
            .collect();
        // the highest first, then the longest
        keys.sort_by(|one, other| other.0.total_cmp(&one.0).then(other.1.total_cmp(&one.1)));
        let order: Vec<usize> = keys.into_iter().map(|key| key.2).collect();
        let found = pack(&blanks, &order, stock);
        if best.as_ref().is_none_or(|(_, sheets)| found.1 < *sheets) {
            best = Some(found);
        }
    }
    best.unwrap_or_default()
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

/// What the edges between courses need with panels of a rating, in the bays between the sticks that run up each face.
#[must_use]
pub fn faces_edge_support(ask: &FacesAsk, deck: &FacesDeck, panel: &Panel) -> EdgeSupport {
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
    support_of(bays, panel, None)
}
