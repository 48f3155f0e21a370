//! Tiny planes against a brute force: every staggered layout, every way to cut it.
//!
//! Written separately from the solver and without its ideas: no prices, and no bounds except "a better
//! one is known". `sheathing_model.md` describes a similar self-test on 40 tiny planes.

use std::collections::{BTreeSet, HashMap};

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use stepoff::deck::{DeckAsk, DeckFault, Watch, lay};
use stepoff::measure::quantity::inches;

use crate::deck_checker::check;

/// Eightieths of an inch, as in the model.
const IN: i64 = 80;
const GAP: i64 = 10;
const KERF: i64 = 10;

#[derive(Clone, Copy, Debug)]
struct Tiny {
    length: i64,
    width: i64,
    spacing: i64,
    planes: usize,
    least_strip: i64,
    least_piece: i64,
}

/// Cut lengths of the full and of the closing pieces, sorted.
type Pieces = (Vec<i64>, Vec<i64>);

/// All courses: the joints and the cut lengths.
fn all_courses(tiny: Tiny) -> Vec<(Vec<i64>, Vec<i64>)> {
    let centers: Vec<i64> =
        (1..).map(|n| n * tiny.spacing).take_while(|&x| x < tiny.length).collect();
    let mut courses = Vec::new();
    for mask in 0_u32..1 << centers.len() {
        let joints: Vec<i64> =
            (0..centers.len()).filter(|i| mask >> i & 1 == 1).map(|i| centers[i]).collect();
        let mut ends = vec![0];
        ends.extend(&joints);
        ends.push(tiny.length);
        let mut lengths = Vec::new();
        for pair in ends.windows(2) {
            let halves = i64::from(pair[0] > 0) + i64::from(pair[1] < tiny.length);
            let cut = pair[1] - pair[0] - halves * GAP / 2;
            if cut > 96 * IN || pair[1] - pair[0] < tiny.least_piece {
                break;
            }
            lengths.push(cut);
        }
        if lengths.len() == joints.len() + 1 {
            courses.push((joints, lengths));
        }
    }
    courses
}

/// Rule 2 of the model: number of courses, height of the top one.
fn heights(tiny: Tiny) -> (usize, i64) {
    let pitch = 48 * IN + GAP;
    let count = (tiny.width + GAP + pitch - 1) / pitch;
    let rest = tiny.width - (count - 1) * pitch;
    let top = if count > 1 { rest.max(tiny.least_strip) } else { rest };
    (usize::try_from(count).expect("small"), top)
}

fn brute(tiny: Tiny) -> Option<usize> {
    let (count, top) = heights(tiny);
    let tracks = (48 * IN + KERF) / (top + KERF);
    let courses = all_courses(tiny);
    // All stacks of one plane, as the pieces they need.
    let mut stacks: BTreeSet<(Vec<i64>, Pieces)> = BTreeSet::from([Default::default()]);
    for course in 0..count {
        let mut higher = BTreeSet::new();
        for (below, (full, closing)) in &stacks {
            for (joints, lengths) in &courses {
                if course > 0 && joints.iter().any(|j| below.contains(j)) {
                    continue;
                }
                let (mut full, mut closing) = (full.clone(), closing.clone());
                let part = course + 1 == count && tracks > 1;
                let list = if part { &mut closing } else { &mut full };
                list.extend(lengths);
                list.sort_unstable();
                higher.insert((joints.clone(), (full, closing)));
            }
        }
        stacks = higher;
    }
    let one: BTreeSet<Pieces> = stacks.into_iter().map(|(_, pieces)| pieces).collect();
    let all: BTreeSet<Pieces> = if tiny.planes == 1 {
        one
    } else {
        let join = |a: &[i64], b: &[i64]| {
            let mut sum = [a, b].concat();
            sum.sort_unstable();
            sum
        };
        let pairs = one.iter().flat_map(|a| one.iter().map(move |b| (a, b)));
        pairs.map(|(a, b)| (join(&a.0, &b.0), join(&a.1, &b.1))).collect()
    };
    let mut known = HashMap::new();
    let mut best = None;
    for pieces in all {
        let area: i64 = pieces.0.iter().map(|l| tracks * (l + KERF)).sum::<i64>()
            + pieces.1.iter().map(|l| l + KERF).sum::<i64>();
        let sheet = tracks * (96 * IN + KERF);
        let least = usize::try_from((area + sheet - 1) / sheet).expect("positive");
        if best.is_none_or(|b| least < b) {
            let sheets = fewest(&pieces, tracks, &mut known);
            best = Some(best.map_or(sheets, |b: usize| b.min(sheets)));
        }
    }
    best
}

/// Fewest sheets for these pieces, trying every content of the sheet with the longest piece.
fn fewest(pieces: &Pieces, tracks: i64, known: &mut HashMap<Pieces, usize>) -> usize {
    if pieces.0.is_empty() && pieces.1.is_empty() {
        return 0;
    }
    if let Some(&sheets) = known.get(pieces) {
        return sheets;
    }
    let mut rests: BTreeSet<Pieces> = BTreeSet::new();
    for (full, room) in leftovers(&pieces.0, 96 * IN + KERF, true) {
        let mut after: BTreeSet<Vec<i64>> = BTreeSet::from([pieces.1.clone()]);
        for track in 0..tracks {
            let must = pieces.0.is_empty() && track == 0;
            after = after.iter().flat_map(|c| leftovers(c, room, must)).map(|(c, _)| c).collect();
        }
        rests.extend(after.into_iter().map(|closing| (full.clone(), closing)));
    }
    // A sheet with only part of another sheet's pieces is never better.
    let sheets =
        rests.iter().map(|rest| 1 + fewest(rest, tracks, known)).min().expect("a piece fits");
    known.insert(pieces.clone(), sheets);
    sheets
}

/// What may remain of `pieces` after some of them (with the longest, if required) are cut side by side
/// from `room`, and the room that remains.
fn leftovers(pieces: &[i64], room: i64, longest: bool) -> BTreeSet<(Vec<i64>, i64)> {
    let mut found = BTreeSet::new();
    let mut open = vec![(pieces.to_vec(), room, pieces.len())];
    if longest && !pieces.is_empty() {
        let rest = pieces[..pieces.len() - 1].to_vec();
        let last = rest.len();
        open = vec![(rest, room - pieces[pieces.len() - 1] - KERF, last)];
    }
    while let Some((rest, room, below)) = open.pop() {
        for at in 0..below {
            if (at + 1 == below || rest[at] != rest[at + 1]) && rest[at] + KERF <= room {
                let mut fewer = rest.clone();
                let piece = fewer.remove(at);
                // Positions before `at` only, so that each set is met once, longest first.
                open.push((fewer, room - piece - KERF, at));
            }
        }
        found.insert((rest, room));
    }
    found
}

/// The number of sheets and whether it is proven; `None` if no layout is possible.
fn solver(tiny: Tiny) -> Option<(usize, bool)> {
    let in_inches = |ticks: i64| inches(ticks as f64 / IN as f64);
    let mut ask = DeckAsk::rectangles(
        tiny.planes,
        in_inches(tiny.length),
        in_inches(tiny.width),
        in_inches(tiny.spacing),
    );
    ask.rules.least_strip = in_inches(tiny.least_strip);
    ask.rules.least_piece = in_inches(tiny.least_piece);
    match lay(&ask, &Watch::none()) {
        Ok(deck) => {
            check(&ask, &deck);
            let (least, sheets) = (deck.lower_bound_sheets(), deck.sheets());
            assert!(least <= sheets && deck.proven() == (least == sheets), "{least} of {sheets}");
            Some((sheets, deck.proven()))
        }
        Err(faults) => {
            let told = [
                matches!(faults[0], DeckFault::NoStagger { .. } | DeckFault::NoCourse { .. }),
                faults.len() == 1,
            ];
            assert_eq!(told, [true, true], "{faults:?}");
            None
        }
    }
}

fn tiny_planes() -> impl Strategy<Value = Tiny> {
    let spacing = prop::sample::select(vec![16 * IN, 24 * IN, 1536, 32 * IN]);
    let strip = prop::sample::select(vec![8 * IN, 12 * IN, 16 * IN, 1915]);
    (40_i64..720, 60_i64..420, spacing, 1_usize..3, strip, 0_i64..4).prop_map(
        |(length, width, spacing, planes, least_strip, least)| {
            // So that the brute force ends: few courses and few centers.
            let width = (width * IN / 4).min(if planes == 2 { 96 * IN } else { 140 * IN });
            let bays = match (planes, width > 97 * IN) {
                (1, false) => 8,
                (1, true) => 6,
                _ => 5,
            };
            Tiny {
                length: (length * IN / 4).min(spacing * bays),
                width: width.max(20 * IN),
                spacing,
                planes,
                least_strip,
                least_piece: least * 16 * IN,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn tiny_planes_agree_with_brute_force(tiny in tiny_planes()) {
        prop_assert_eq!(solver(tiny).map(|found| found.0), brute(tiny), "{:?}", tiny);
    }
}

/// Prices alone leave a gap on one tiny plane in several hundred (only a search through all layouts
/// closes it).
#[test]
fn nearly_all_tiny_planes_are_proven() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut laid, mut open) = (0, 0);
    for _ in 0..200 {
        let tiny = tiny_planes().new_tree(&mut runner).expect("no filter").current();
        if let Some((_, proven)) = solver(tiny) {
            laid += 1;
            open += usize::from(!proven);
        }
    }
    assert!(laid > 100 && open <= 3, "{open} of {laid} are not proven");
}

#[test]
fn an_infeasible_plane_of_the_model_is_told_with_its_one_joint() {
    // sheathing_model.md, rule 6: L = 100, s = 24, min_len = 32, two courses.
    let tiny = Tiny {
        length: 100 * IN,
        width: 90 * IN,
        spacing: 24 * IN,
        planes: 1,
        least_strip: 1915,
        least_piece: 32 * IN,
    };
    assert_eq!(solver(tiny), None);
    assert_eq!(brute(tiny), None);
}
