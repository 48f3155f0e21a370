//! Strips of panel in several widths, cut together from as few whole sheets as possible.
//!
//! A run (an eave's soffit, a rake's) is made of pieces as long as a sheet and one shorter piece, the
//! rest. A sheet is ripped along its length into strips, and a strip is cut to length; a wider strip
//! may hold narrower pieces. The search tries every way to put the rests into strips and every way to
//! rip the sheets. If these are too many (the soffits of many buildings), each piece goes where it
//! first fits. The result goes to the checker with prices as a bound.

use std::collections::{BTreeSet, HashMap};

use crate::deck::Ticks;
use crate::measure::Length;
use crate::solve::lp::Lp;
use crate::solve::{
    Certificate, Family, Fault, Item, Members, Model, Pick, Plan, Prices, Proof, Question, Row,
    Settled, Taken, settle,
};

/// Equal runs of one width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Across.
    pub width: Length,
    /// Along.
    pub length: Length,
    /// How many.
    pub count: u64,
}

/// A sheet that strips are ripped from, and the saw that rips them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Across the strips.
    pub height: Length,
    /// Along the strips.
    pub length: Length,
    /// The saw cut.
    pub kerf: Length,
}

/// What is cut, in ticks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripAsk {
    /// Height and length of a sheet.
    sheet: [i64; 2],
    kerf: i64,
    /// Widths of the runs, widest first.
    widths: Vec<i64>,
    /// Pieces of a sheet's length of each width.
    whole: Vec<i64>,
    /// Length of the rest and the number of rests, of each width; 0 and 0 if runs come out even.
    rests: Vec<[i64; 2]>,
}

/// A strip: its width and what is cut of it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Strip {
    width: usize,
    /// A piece as long as a sheet, of this width; otherwise the number of rests of each width.
    rests: Option<Vec<i64>>,
}

/// Sheets by the strips of each width that are ripped from them, and what is cut from the strips.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripPlan {
    sheets: Vec<Vec<i64>>,
    strips: Vec<Strip>,
}

impl StripPlan {
    /// How many sheets.
    #[must_use]
    pub fn sheets(&self) -> usize {
        self.sheets.len()
    }
}

/// Most strips that are cut together: a building of 200 ft needs about 100.
const MOST_STRIPS: i64 = 800;
/// Most combinations of rests, and of strips, still to cut for which every way is tried.
const MOST_RESTS: f64 = 2_000.0;
const MOST_RIPPED: f64 = 40_000.0;
/// Most steps of that search: about half a second. What needs more is cut where it first fits.
const MOST_STEPS: u64 = 500_000;
/// A unit of price.
const UNIT: i64 = 1 << 24;

/// The fewest sheets for these runs; `None` if there is nothing to cut, a run is wider than a sheet, or there is too much.
#[must_use]
pub fn cut(runs: &[Run], sheet: Sheet) -> Option<Settled<StripPlan>> {
    let ask = StripAsk::new(runs, [sheet.height, sheet.length], sheet.kerf)?;
    ask.settled().ok()
}

impl StripAsk {
    fn new(runs: &[Run], sheet: [Length; 2], kerf: Length) -> Option<StripAsk> {
        let ticks = |length: Length| Ticks::nearest(length).count();
        let sheet = sheet.map(ticks);
        let mut runs: Vec<(i64, i64, i64)> = runs
            .iter()
            .filter(|run| run.count > 0)
            .map(|run| {
                let count = i64::try_from(run.count).unwrap_or(MOST_STRIPS + 1);
                (ticks(run.width), ticks(run.length), count)
            })
            .collect();
        runs.sort_unstable();
        runs.reverse();
        // equal runs of several roofs are one kind
        runs.dedup_by(|next, kept| {
            let same = (next.0, next.1) == (kept.0, kept.1);
            if same {
                kept.2 = kept.2.saturating_add(next.2);
            }
            same
        });
        let fits =
            |&(width, length, _): &(i64, i64, i64)| (1..=sheet[0]).contains(&width) && length > 0;
        let pieces: i64 = runs
            .iter()
            .map(|(_, length, count)| (length / sheet[1].max(1) + 1).saturating_mul(*count))
            .fold(0, i64::saturating_add);
        if runs.is_empty() || !runs.iter().all(fits) || pieces > MOST_STRIPS {
            return None;
        }
        let whole = |run: &(i64, i64, i64)| run.1 / sheet[1] * run.2;
        let rest = |run: &(i64, i64, i64)| match run.1 % sheet[1] {
            0 => [0, 0],
            rest => [rest, run.2],
        };
        Some(StripAsk {
            sheet,
            kerf: ticks(kerf).max(0),
            widths: runs.iter().map(|run| run.0).collect(),
            whole: runs.iter().map(whole).collect(),
            rests: runs.iter().map(rest).collect(),
        })
    }

    fn settled(self) -> Result<Settled<StripPlan>, Fault> {
        let plan = self.is_small().then(|| self.plan(MOST_STEPS)).flatten();
        let plan = plan.unwrap_or_else(|| self.first_fit());
        let certificate = Certificate { levels: vec![vec![Proof::priced(self.prices())]] };
        settle(&self, plan, &certificate, &|| false)
    }

    /// True if every way can be tried: limits the combinations of rests, and of strips, still to cut.
    fn is_small(&self) -> bool {
        let ways = |counts: &mut dyn Iterator<Item = i64>| -> f64 {
            counts.map(|count| count as f64 + 1.0).product()
        };
        let rests = ways(&mut self.rests.iter().map(|rest| rest[1]));
        let strips =
            ways(&mut self.whole.iter().zip(&self.rests).map(|(whole, rest)| whole + rest[1]));
        rests <= MOST_RESTS && strips <= MOST_RIPPED
    }

    /// Each rest in the first strip with room for it, each strip in the first sheet with room, the
    /// widest first.
    fn first_fit(&self) -> StripPlan {
        let kinds = self.widths.len();
        let mut rests: Vec<(Strip, i64)> = Vec::new();
        for (kind, [length, count]) in self.rests.iter().copied().enumerate() {
            for _ in 0..count {
                let size = length + self.kerf;
                let place = rests.iter().position(|(_, room)| *room >= size).unwrap_or_else(|| {
                    let strip = Strip { width: kind, rests: Some(vec![0; kinds]) };
                    rests.push((strip, self.sheet[1] + self.kerf));
                    rests.len() - 1
                });
                let (strip, room) = &mut rests[place];
                *room -= size;
                if let Some(held) = &mut strip.rests {
                    held[kind] += 1;
                }
            }
        }
        let mut strips: Vec<Strip> = rests.into_iter().map(|(strip, _)| strip).collect();
        strips.extend(self.whole_strips());
        strips.sort_by_key(|strip| strip.width);
        let mut sheets: Vec<(Vec<i64>, i64)> = Vec::new();
        for strip in &strips {
            let size = self.widths[strip.width] + self.kerf;
            let place = sheets.iter().position(|(_, room)| *room >= size).unwrap_or_else(|| {
                sheets.push((vec![0; kinds], self.sheet[0] + self.kerf));
                sheets.len() - 1
            });
            sheets[place].0[strip.width] += 1;
            sheets[place].1 -= size;
        }
        StripPlan { sheets: sheets.into_iter().map(|(counts, _)| counts).collect(), strips }
    }

    /// A strip for every piece as long as a sheet.
    fn whole_strips(&self) -> impl Iterator<Item = Strip> {
        self.whole.iter().enumerate().flat_map(|(width, count)| {
            let strip = Strip { width, rests: None };
            std::iter::repeat_n(strip, usize::try_from(*count).unwrap_or(0))
        })
    }

    /// Every set of rests that a strip of a width can hold.
    fn fillings(&self, width: usize) -> Vec<Vec<i64>> {
        let mut found = vec![(vec![0; self.widths.len()], self.sheet[1] + self.kerf)];
        // the narrower ones come after
        for kind in width..self.widths.len() {
            let [length, count] = self.rests[kind];
            let mut next = Vec::new();
            for (held, room) in &found {
                for many in 0..=count {
                    let left = room - many * (length + self.kerf);
                    if left < 0 {
                        break;
                    }
                    let mut held = held.clone();
                    held[kind] = many;
                    next.push((held, left));
                }
            }
            found = next;
        }
        let held = found.into_iter().map(|(held, _)| held);
        held.filter(|held| held.iter().any(|many| *many > 0)).collect()
    }

    /// All numbers of strips by width that a sheet can be ripped into so that no further strip fits.
    fn rippings(&self) -> Vec<Vec<i64>> {
        let mut found = vec![(Vec::new(), self.sheet[0] + self.kerf)];
        for (kind, width) in self.widths.iter().enumerate() {
            let size = width + self.kerf;
            let last = kind + 1 == self.widths.len();
            let mut next = Vec::new();
            for (counts, room) in &found {
                let most = room / size;
                for many in if last { most } else { 0 }..=most {
                    let counts: Vec<i64> = counts.iter().copied().chain([many]).collect();
                    next.push((counts, room - many * size));
                }
            }
            found = next;
        }
        found.into_iter().map(|(counts, _)| counts).collect()
    }

    /// The plan by every way there is; `None` if that takes more steps.
    fn plan(&self, steps: u64) -> Option<StripPlan> {
        let mut steps = steps;
        let rippings = self.rippings();
        let mut known = HashMap::new();
        let wanted: Vec<i64> = self.rests.iter().map(|rest| rest[1]).collect();
        let mut ways = HashMap::new();
        let mut best: Option<StripPlan> = None;
        for strips in self.ways(&wanted, &mut ways, &mut steps)? {
            let mut counts = self.whole.clone();
            for strip in &strips {
                counts[strip.width] += 1;
            }
            let sheets = self.rip(counts, &rippings, &mut known, &mut steps)?;
            if best.as_ref().is_none_or(|best| sheets.len() < best.sheets.len()) {
                let strips = strips.iter().cloned().chain(self.whole_strips()).collect();
                best = Some(StripPlan { sheets, strips });
            }
        }
        Some(best.unwrap_or(StripPlan { sheets: Vec::new(), strips: Vec::new() }))
    }

    /// Strips for these numbers of rests, one way for each number of strips by width; `None` if no steps are left.
    fn ways(
        &self,
        wanted: &[i64],
        known: &mut HashMap<Vec<i64>, Vec<Vec<Strip>>>,
        steps: &mut u64,
    ) -> Option<Vec<Vec<Strip>>> {
        let Some(first) = wanted.iter().position(|many| *many > 0) else {
            return Some(vec![Vec::new()]);
        };
        if let Some(found) = known.get(wanted) {
            return Some(found.clone());
        }
        let mut seen = BTreeSet::new();
        let mut found = Vec::new();
        // the widest rest goes into a strip of its width or a wider one, with whatever else fits
        for width in 0..=first {
            for held in self.fillings(width) {
                if held[first] == 0 || held.iter().zip(wanted).any(|(held, wanted)| held > wanted) {
                    continue;
                }
                let left: Vec<i64> = wanted.iter().zip(&held).map(|(a, b)| a - b).collect();
                for mut strips in self.ways(&left, known, steps)? {
                    *steps = steps.checked_sub(1)?;
                    strips.push(Strip { width, rests: Some(held.clone()) });
                    let mut counts = vec![0; self.widths.len()];
                    for strip in &strips {
                        counts[strip.width] += 1;
                    }
                    if seen.insert(counts) {
                        found.push(strips);
                    }
                }
            }
        }
        known.insert(wanted.to_vec(), found.clone());
        Some(found)
    }

    /// The fewest sheets for these numbers of strips of each width; `None` if no steps are left.
    fn rip(
        &self,
        counts: Vec<i64>,
        rippings: &[Vec<i64>],
        known: &mut HashMap<Vec<i64>, Vec<Vec<i64>>>,
        steps: &mut u64,
    ) -> Option<Vec<Vec<i64>>> {
        if counts.iter().all(|count| *count == 0) {
            return Some(Vec::new());
        }
        if let Some(found) = known.get(&counts) {
            return Some(found.clone());
        }
        let mut best: Option<Vec<Vec<i64>>> = None;
        for ripping in rippings {
            let taken: Vec<i64> = ripping.iter().zip(&counts).map(|(a, b)| *a.min(b)).collect();
            // the widest remaining strip is in one of the sheets, and all sheets are alike
            let first = counts.iter().position(|count| *count > 0);
            if first.is_none_or(|first| taken[first] == 0) {
                continue;
            }
            let left = counts.iter().zip(&taken).map(|(a, b)| a - b).collect();
            *steps = steps.checked_sub(1)?;
            let mut sheets = self.rip(left, rippings, known, steps)?;
            sheets.push(taken);
            if best.as_ref().is_none_or(|best| sheets.len() < best.len()) {
                best = Some(sheets);
            }
        }
        let best = best.unwrap_or_default();
        known.insert(counts, best.clone());
        Some(best)
    }

    /// Row of the strips of a width; of its pieces of a sheet's length; of its rests.
    fn row(&self, kind: usize, of: usize) -> usize {
        of * self.widths.len() + kind
    }

    /// Every use of a strip: the width of the strip, and what it puts into the rows.
    fn uses(&self) -> Vec<(Strip, Vec<(usize, i64)>)> {
        let mut uses = Vec::new();
        for width in 0..self.widths.len() {
            let strip = (self.row(width, 0), -1);
            let whole = Strip { width, rests: None };
            uses.push((whole, vec![strip, (self.row(width, 1), 1)]));
            for held in self.fillings(width) {
                let mut entries = vec![strip];
                let rests = held.iter().enumerate().filter(|(_, many)| **many > 0);
                entries.extend(rests.map(|(kind, many)| (self.row(kind, 2), *many)));
                let rests = Some(held);
                uses.push((Strip { width, rests }, entries));
            }
        }
        uses
    }

    /// Prices of a fractional plan, in whole numbers: a guide from which the checker works out the
    /// bound.
    fn prices(&self) -> Prices {
        let rows = self.rows();
        let most = MOST_STRIPS as f64;
        let mut program = Lp::new();
        for row in &rows {
            let least = row.least.unwrap_or(0) as f64;
            program.add_row(least, 1e6, &[]);
        }
        for ripping in self.rippings() {
            let entries: Vec<(usize, f64)> = ripping
                .iter()
                .enumerate()
                .map(|(kind, many)| (self.row(kind, 0), *many as f64))
                .collect();
            program.add_column(1.0, 0.0, most, &entries);
        }
        for (_, entries) in self.uses() {
            let entries: Vec<(usize, f64)> =
                entries.into_iter().map(|(row, amount)| (row, amount as f64)).collect();
            program.add_column(0.0, 0.0, most, &entries);
        }
        program.optimize();
        let whole = |price: f64| (price.max(0.0) * UNIT as f64).floor() as i64;
        Prices {
            scale: UNIT,
            rows: program.duals().into_iter().map(whole).collect(),
            ..Prices::default()
        }
    }

    fn rows(&self) -> Vec<Row> {
        let strips = self.widths.iter().map(|_| 0);
        let whole = self.whole.iter().copied();
        let rests = self.rests.iter().map(|rest| rest[1]);
        strips.chain(whole).chain(rests).map(Row::at_least).collect()
    }
}

impl Question for StripAsk {
    fn model(&self) -> Model {
        let items = self
            .widths
            .iter()
            .enumerate()
            .map(|(kind, width)| Item {
                size: width + self.kerf,
                row: self.row(kind, 0),
                most: MOST_STRIPS,
            })
            .collect();
        let sheets = Family {
            cost: vec![1],
            least: 0,
            most: MOST_STRIPS,
            members: Members::Packs { capacity: self.sheet[0] + self.kerf, items: 0, strips: None },
        };
        let uses = self.uses().into_iter().map(|(_, entries)| Family {
            cost: vec![0],
            least: 0,
            most: MOST_STRIPS,
            members: Members::One(entries),
        });
        Model {
            rows: self.rows(),
            items: vec![items],
            families: std::iter::once(sheets).chain(uses).collect(),
            levels: 1,
        }
    }

    fn rules(&self) -> String {
        "fewest sheets with strips ripped along the sheet, none turned, and each run of whole sheet lengths and one rest"
            .into()
    }
}

impl Plan<StripAsk> for StripPlan {
    fn taken(&self, ask: &StripAsk) -> Vec<Taken> {
        let sheets = self.sheets.iter().map(|counts| Taken {
            family: 0,
            pick: Pick::Pack {
                items: counts.iter().copied().enumerate().collect(),
                strips: Vec::new(),
            },
            times: 1,
        });
        let uses = ask.uses();
        let strips = self.strips.iter().map(|strip| Taken {
            // a strip that is not among the uses is not a column: the checker refuses it
            family: uses
                .iter()
                .position(|(of, _)| of == strip)
                .map_or(usize::MAX, |place| place + 1),
            pick: Pick::One,
            times: 1,
        });
        sheets.chain(strips).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::inches;
    use proptest::prelude::*;

    fn cut_in(runs: &[(f64, f64, u64)], sheet: [f64; 2], kerf: f64) -> Option<Settled<StripPlan>> {
        let runs: Vec<Run> = runs
            .iter()
            .map(|&(width, length, count)| Run {
                width: inches(width),
                length: inches(length),
                count,
            })
            .collect();
        let [height, length] = sheet.map(inches);
        cut(&runs, Sheet { height, length, kerf: inches(kerf) })
    }

    #[test]
    fn eaves_and_rakes_share_sheets() {
        // 10-3/4 in: 6 strips, 6-3/4 in: 4 strips and 4 rests of 11.3 in from one more: 6 x 10.875 + 5
        // x 6.875 = 99.6 in, over the 96-1/4 in of two sheets, so 3; each alone takes 2 and 2
        let runs = [(10.75, 280.0, 2), (6.75, 107.3, 4)];
        let found = cut_in(&runs, [48.0, 96.0], 0.125).unwrap();
        assert!(found.is_proven());
        assert_eq!((found.sheets(), found.bound()), (3, &[3][..]));
        assert!(found.rules().contains("none turned"));
    }

    #[test]
    fn a_wide_strip_holds_narrow_rests() {
        // one strip of 30 in holds a rest of 60 and one of 35 in: by itself the narrow one would need a
        // second sheet
        let found = cut_in(&[(30.0, 60.0, 1), (20.0, 35.0, 1)], [48.0, 96.0], 0.125).unwrap();
        assert_eq!((found.sheets(), found.is_proven()), (1, true));
        let found = cut_in(&[(30.0, 60.0, 1), (20.0, 36.0, 1)], [48.0, 96.0], 0.125).unwrap();
        assert_eq!((found.sheets(), found.is_proven()), (2, true));
        // what is wider than a sheet can't be cut
        assert!(cut_in(&[(49.0, 60.0, 1)], [48.0, 96.0], 0.125).is_none());
        assert!(cut_in(&[], [48.0, 96.0], 0.125).is_none());
    }

    /// The fewest sheets by trying every place of every piece: pieces (width, length, of whole strips),
    /// one after another, into an open strip that is wide enough and has room, a new strip of an open
    /// sheet, or a new sheet.
    fn brute(pieces: &[(i64, i64)], sheet: [i64; 2], kerf: i64) -> usize {
        struct Open {
            left: i64,
            strips: Vec<(i64, i64)>,
        }
        fn go(
            pieces: &[(i64, i64)],
            widths: &[i64],
            sheet: [i64; 2],
            kerf: i64,
            open: &mut Vec<Open>,
            best: &mut usize,
        ) {
            if open.len() >= *best {
                return;
            }
            let Some(((width, length), rest)) = pieces.split_first() else {
                *best = open.len();
                return;
            };
            for at in 0..open.len() {
                for strip in 0..open[at].strips.len() {
                    let (wide, left) = open[at].strips[strip];
                    if wide >= *width && left >= length + kerf {
                        open[at].strips[strip].1 -= length + kerf;
                        go(rest, widths, sheet, kerf, open, best);
                        open[at].strips[strip].1 += length + kerf;
                    }
                }
            }
            for wide in widths.iter().filter(|wide| *wide >= width) {
                for at in 0..=open.len() {
                    let fresh = at == open.len();
                    if fresh {
                        open.push(Open { left: sheet[0] + kerf, strips: Vec::new() });
                    }
                    if open[at].left >= wide + kerf {
                        open[at].left -= wide + kerf;
                        open[at].strips.push((*wide, sheet[1] - length));
                        go(rest, widths, sheet, kerf, open, best);
                        open[at].strips.pop();
                        open[at].left += wide + kerf;
                    }
                    if fresh {
                        open.pop();
                    }
                }
            }
        }
        let widths: Vec<i64> =
            pieces.iter().map(|piece| piece.0).collect::<BTreeSet<_>>().into_iter().collect();
        let mut best = pieces.len();
        go(pieces, &widths, sheet, kerf, &mut Vec::new(), &mut best);
        best
    }

    #[test]
    fn soffits_of_many_buildings_are_cut_where_they_fit() {
        // two roofs with different eaves and rakes, fifteen and twelve of them: too many ways to try,
        // and still no more sheets than each by itself
        let a = [(10.75, 280.0, 2), (6.75, 107.3, 4)];
        let b = [(13.5, 200.0, 2), (8.25, 131.0, 4)];
        let times = |runs: &[(f64, f64, u64)], times: u64| -> Vec<(f64, f64, u64)> {
            runs.iter().map(|(width, length, count)| (*width, *length, count * times)).collect()
        };
        let sheet = [48.0, 96.0];
        let of = |runs: &[(f64, f64, u64)]| cut_in(runs, sheet, 0.125).unwrap();
        let both = of(&[times(&a, 15), times(&b, 12)].concat());
        let apart = 15 * of(&a).sheets() + 12 * of(&b).sheets();
        assert!(both.sheets() <= apart, "{} against {apart}", both.sheets());
        assert!(both.bound()[0] <= both.sheets() as i64);
        // equal runs of several roofs are one
        assert_eq!(of(&[a, a].concat()).sheets(), of(&times(&a, 2)).sheets());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        /// First fit compared with every way: a plan that the checker accepts, with no fewer sheets.
        #[test]
        fn first_fit_cuts_what_is_asked(
            runs in prop::collection::vec((4_i64..30, 5_i64..60, 1_u64..4), 1..4),
            kerf in 0_i64..3,
        ) {
            let runs: Vec<Run> = runs
                .iter()
                .map(|(width, length, count)| Run {
                    width: inches(*width as f64),
                    length: inches(*length as f64),
                    count: *count,
                })
                .collect();
            let ask = StripAsk::new(&runs, [inches(32.0), inches(40.0)], inches(kerf as f64)).unwrap();
            let plan = ask.first_fit();
            let sheets = plan.sheets();
            let certificate = Certificate { levels: vec![vec![Proof::priced(ask.prices())]] };
            let taken = settle(&ask, plan, &certificate, &|| false);
            prop_assert!(taken.is_ok(), "{taken:?}");
            prop_assert!(ask.plan(u64::MAX).unwrap().sheets() <= sheets);
        }

        /// Small soffits against brute force: never more sheets, and what is proven is the least.
        #[test]
        fn small_soffits_agree_with_brute_force(
            runs in prop::collection::vec((4_i64..30, 5_i64..60, 1_u64..3), 1..3),
            kerf in 0_i64..3,
        ) {
            let sheet = [32, 40];
            let mut pieces = Vec::new();
            for (width, length, count) in &runs {
                for _ in 0..*count {
                    let whole = length / sheet[1];
                    pieces.extend((0..whole).map(|_| (*width, sheet[1])));
                    if length % sheet[1] > 0 {
                        pieces.push((*width, length % sheet[1]));
                    }
                }
            }
            pieces.sort_unstable();
            pieces.reverse();
            let asked: Vec<(f64, f64, u64)> =
                runs.iter().map(|(width, length, count)| (*width as f64, *length as f64, *count)).collect();
            let found = cut_in(&asked, [32.0, 40.0], kerf as f64).unwrap();
            let least = brute(&pieces, sheet, kerf);
            prop_assert_eq!(found.sheets(), least);
            prop_assert!(found.bound()[0] <= least as i64);
        }
    }
}
