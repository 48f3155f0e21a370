//! Cutting sheets: what one sheet can hold, the worth of its pieces at given prices, and whether given
//! pieces fit a number of sheets.
//!
//! Pieces as high as a sheet (class full) lie side by side on it. The remaining length is split up the
//! height into tracks, each cut along into pieces of the narrower top course (class closing).
//! `docs/sheathing.md` says why no other cut yields more.

use super::worth::{NONE, Needs, Sums, Worth, most_worth};
use std::collections::{BTreeMap, HashSet};

/// The pieces cut from one sheet, as indices of the lengths.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SheetCut {
    pub(super) full: Vec<usize>,
    pub(super) tracks: Vec<Vec<usize>>,
}

/// The sheet and the lengths that may be cut from it.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// The size of each piece, longest first: its length and one saw cut.
    sizes: Vec<i64>,
    /// Sheet length and one saw cut: the room for the sizes.
    room: i64,
    /// Tracks in one sheet's height; 1 if there is no closing class.
    pub(super) tracks: usize,
    sums: Sums,
    /// What one sheet may need of full and of closing pieces.
    needs: [Needs; 2],
}

/// The result of cutting pieces from a number of sheets.
#[derive(Clone, Debug)]
pub(super) enum Packing {
    Done(Vec<SheetCut>),
    /// It cannot be done.
    Impossible,
    /// Not found before the search was cut short.
    Unknown,
}

impl Stock {
    /// A sheet `sheet` long, cut into `lengths` (longest first) with a saw of kerf `kerf`.
    ///
    /// `None` if the lengths make too many sums to count (irregular rafters far finer than a tape
    /// shows).
    pub(super) fn new(
        lengths: &[i64],
        sheet: i64,
        kerf: i64,
        tracks: usize,
        needs: [Needs; 2],
    ) -> Option<Self> {
        let sizes: Vec<i64> = lengths.iter().map(|l| l + kerf).collect();
        let room = sheet + kerf;
        Some(Self { sums: Sums::new(&sizes, room)?, sizes, room, tracks, needs })
    }

    /// The size of a piece of a length: itself and one saw cut.
    pub(super) fn size(&self, length: usize) -> i64 {
        self.sizes[length]
    }

    /// What the sizes on a sheet have to fit into.
    pub(super) fn room(&self) -> i64 {
        self.room
    }

    /// How many pieces of a length fit on an empty sheet (on a track of it).
    pub(super) fn fit(&self, length: usize) -> usize {
        self.sums.fit[length]
    }

    /// What one sheet may need of full and of closing pieces.
    pub(super) fn needs(&self) -> &[Needs; 2] {
        &self.needs
    }

    /// Whether some pieces are cut from part of a sheet's height.
    pub(super) fn has_closing(&self) -> bool {
        self.tracks > 1
    }

    /// The sheet worth most with `full` and `closing` as the prices of a piece of each length.
    ///
    /// Exact in integers: no sheet that a layout needs is worth more than `value`.
    pub(super) fn most_worth(&self, full: &[i64], closing: &[i64]) -> Worth {
        let [full_needs, closing_needs] = &self.needs;
        most_worth(&self.sums, self.tracks, (full_needs, full), (closing_needs, closing))
    }

    /// Cuts these numbers of pieces of each length and class from at most `sheets` sheets, trying at
    /// most `effort` partial cuts.
    pub(super) fn pack(
        &self,
        full: &[u32],
        closing: &[u32],
        sheets: usize,
        effort: usize,
    ) -> Packing {
        let tracks = self.tracks as i64;
        let weight = |counts: &[u32]| -> i64 {
            let sizes = counts.iter().zip(&self.sizes);
            sizes.map(|(&n, size)| i64::from(n) * size).sum()
        };
        let spare = sheets as i64 * tracks * self.room - tracks * weight(full) - weight(closing);
        if spare < 0 {
            return Packing::Impossible;
        }
        let mut packer = Packer {
            stock: self,
            full: full.to_vec(),
            closing: closing.to_vec(),
            fill: self.fill(closing),
            sheets,
            effort,
            cuts: Vec::new(),
            dead: HashSet::new(),
        };
        if packer.cut_full(spare, None) {
            return Packing::Done(packer.cuts);
        }
        if packer.effort == 0 { Packing::Unknown } else { Packing::Impossible }
    }

    /// For each sum the greatest length that closing pieces of the given kinds can fill.
    fn fill(&self, closing: &[u32]) -> Vec<i64> {
        let sums = &self.sums;
        let mut reached = vec![false; sums.values.len()];
        reached[0] = true;
        let mut fill = vec![0; sums.values.len()];
        for at in 1..sums.values.len() {
            reached[at] = (0..closing.len()).any(|item| {
                let before = sums.before[item][at];
                closing[item] > 0 && before != NONE && reached[before as usize]
            });
            fill[at] = if reached[at] { sums.values[at] } else { fill[at - 1] };
        }
        fill
    }
}

struct Packer<'a> {
    stock: &'a Stock,
    full: Vec<u32>,
    closing: Vec<u32>,
    fill: Vec<i64>,
    sheets: usize,
    effort: usize,
    cuts: Vec<SheetCut>,
    dead: HashSet<(Vec<u32>, usize, Vec<i64>)>,
}

/// A cut under consideration: what it wastes, and its items.
type Cut = (i64, Vec<usize>);

/// Remaining closing pieces, and the open tracks by length with their number.
type OpenTracks = (Vec<u32>, Vec<(i64, usize)>);

impl Packer<'_> {
    fn spend(&mut self) -> bool {
        if self.effort == 0 {
            return false;
        }
        self.effort -= 1;
        true
    }

    /// Cuts all full pieces, the longest remaining one first, then the closing ones.
    fn cut_full(&mut self, spare: i64, before: Option<&Cut>) -> bool {
        if !self.spend() {
            return false;
        }
        let Some(first) = self.full.iter().position(|&n| n > 0) else {
            return self.cut_closing_of_sheets();
        };
        if self.cuts.len() == self.sheets {
            return false;
        }
        let key = self.key(&self.full, self.cuts.len());
        if self.dead.contains(&key) {
            return false;
        }
        let tracks = self.stock.tracks as i64;
        let mut options = Vec::new();
        let every = self.stock.has_closing() && self.closing.iter().any(|&n| n > 0);
        let room = self.stock.room;
        combine(self.stock, &mut self.full.clone(), first, room, every, &mut options);
        let mut options: Vec<Cut> = options
            .into_iter()
            .map(|(rest, items)| {
                let filled = if every { self.fill[self.stock.sums.at_most(rest)] } else { 0 };
                (tracks * (rest - filled), items)
            })
            .filter(|(waste, _)| *waste <= spare)
            .collect();
        options.sort_unstable();
        for option in options {
            // Sheets with the same longest piece are in order, so that each set is tried once.
            if before.is_some_and(|b| b.1.first() == Some(&first) && *b > option) {
                continue;
            }
            for &item in &option.1 {
                self.full[item] -= 1;
            }
            self.cuts.push(SheetCut { full: option.1.clone(), tracks: Vec::new() });
            if self.cut_full(spare - option.0, Some(&option)) {
                return true;
            }
            self.cuts.pop();
            for &item in &option.1 {
                self.full[item] += 1;
            }
            if self.effort == 0 {
                return false;
            }
        }
        // A set tried after a given sheet has only its later cuts open: nothing can be learned from it.
        if before.is_none_or(|b| b.1.first() != Some(&first)) {
            self.dead.insert(key);
        }
        false
    }

    /// What decides whether the rest can be cut: remaining pieces, sheets used, remaining lengths.
    fn key(&self, counts: &[u32], used: usize) -> (Vec<u32>, usize, Vec<i64>) {
        let mut rests = Vec::new();
        if self.stock.has_closing() {
            rests.extend(self.cuts.iter().map(|cut| self.rest(cut)).filter(|&rest| rest > 0));
            rests.sort_unstable();
        }
        (counts.to_vec(), used, rests)
    }

    fn rest(&self, cut: &SheetCut) -> i64 {
        let sizes = cut.full.iter().map(|&item| self.stock.sizes[item]);
        self.stock.room - sizes.sum::<i64>()
    }

    fn cut_closing_of_sheets(&mut self) -> bool {
        if self.closing.iter().all(|&n| n == 0) {
            return true;
        }
        if !self.stock.has_closing() {
            return false;
        }
        let mut open: BTreeMap<i64, usize> = BTreeMap::new();
        for cut in &self.cuts {
            *open.entry(self.rest(cut)).or_default() += self.stock.tracks;
        }
        let empty = self.sheets - self.cuts.len();
        *open.entry(self.stock.room).or_default() += empty * self.stock.tracks;
        let mut tracks = Vec::new();
        let mut dead = HashSet::new();
        if !self.cut_closing(&mut open, &mut tracks, &mut dead) {
            return false;
        }
        while self.cuts.len() < self.sheets {
            self.cuts.push(SheetCut::default());
        }
        // Each track goes to a sheet with exactly the length it was cut for.
        let rests: Vec<i64> = self.cuts.iter().map(|cut| self.rest(cut)).collect();
        for (length, items) in tracks {
            let most = self.stock.tracks;
            let sheet = (0..self.cuts.len())
                .find(|&i| rests[i] == length && self.cuts[i].tracks.len() < most);
            if let Some(sheet) = sheet {
                self.cuts[sheet].tracks.push(items);
            }
        }
        self.cuts.retain(|cut| !cut.full.is_empty() || !cut.tracks.is_empty());
        true
    }

    /// Cuts the longest remaining closing piece from each kind of open track in turn.
    fn cut_closing(
        &mut self,
        open: &mut BTreeMap<i64, usize>,
        done: &mut Vec<(i64, Vec<usize>)>,
        dead: &mut HashSet<OpenTracks>,
    ) -> bool {
        let Some(first) = self.closing.iter().position(|&n| n > 0) else {
            return true;
        };
        if !self.spend() {
            return false;
        }
        let need: i64 =
            self.closing.iter().zip(&self.stock.sizes).map(|(&n, s)| i64::from(n) * s).sum();
        let useful = |(&length, &count): (&i64, &usize)| {
            self.fill[self.stock.sums.at_most(length)] * count as i64
        };
        if open.iter().map(useful).sum::<i64>() < need {
            return false;
        }
        let key = (self.closing.clone(), open.iter().map(|(&l, &n)| (l, n)).collect());
        if dead.contains(&key) {
            return false;
        }
        let lengths: Vec<i64> = open
            .iter()
            .filter(|&(&length, &count)| count > 0 && length >= self.stock.sizes[first])
            .map(|(&length, _)| length)
            .collect();
        let mut options = Vec::new();
        for length in lengths {
            let mut found = Vec::new();
            combine(self.stock, &mut self.closing.clone(), first, length, false, &mut found);
            options.extend(found.into_iter().map(|(rest, items)| (rest, length, items)));
        }
        options.sort_unstable();
        for (_, length, items) in options {
            for &item in &items {
                self.closing[item] -= 1;
            }
            open.entry(length).and_modify(|n| *n -= 1);
            done.push((length, items.clone()));
            if self.cut_closing(open, done, dead) {
                return true;
            }
            done.pop();
            open.entry(length).and_modify(|n| *n += 1);
            for &item in &items {
                self.closing[item] += 1;
            }
            if self.effort == 0 {
                return false;
            }
        }
        dead.insert(key);
        false
    }
}

/// All sets of pieces with `first` as the longest that fit into `room`: remaining length, items. Unless
/// `every` is set, only those to which no piece can be added.
fn combine(
    stock: &Stock,
    counts: &mut [u32],
    first: usize,
    room: i64,
    every: bool,
    found: &mut Vec<(i64, Vec<usize>)>,
) {
    fn extend(
        stock: &Stock,
        counts: &mut [u32],
        from: usize,
        rest: i64,
        every: bool,
        items: &mut Vec<usize>,
        found: &mut Vec<(i64, Vec<usize>)>,
    ) {
        let fits = |item: usize, counts: &[u32]| counts[item] > 0 && stock.sizes[item] <= rest;
        let first = items.first().copied().unwrap_or(0);
        if every || !(first..counts.len()).any(|item| fits(item, counts)) {
            found.push((rest, items.clone()));
        }
        for item in from..counts.len() {
            if fits(item, counts) {
                counts[item] -= 1;
                items.push(item);
                extend(stock, counts, item, rest - stock.sizes[item], every, items, found);
                items.pop();
                counts[item] += 1;
            }
        }
    }
    if stock.sizes[first] > room {
        return;
    }
    counts[first] -= 1;
    let mut items = vec![first];
    extend(stock, counts, first, room - stock.sizes[first], every, &mut items, found);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stock(tracks: usize) -> Option<Stock> {
        {
            let needs = [Needs::without_number(4), Needs::without_number(4)];
            Stock::new(&[95, 63, 47, 31], 95, 1, tracks, needs)
        }
    }

    #[test]
    fn the_worthiest_sheet() {
        let s = stock(1).expect("few sums");
        let worth = s.most_worth(&[10, 7, 6, 4], &[0; 4]);
        assert_eq!((worth.value, worth.full), (12, vec![2, 2]), "4 + 4 + 4 = 12 also");
        let s = stock(2).expect("few sums");
        let worth = s.most_worth(&[10, 7, 0, 0], &[0, 0, 3, 2]);
        assert_eq!(worth.value, 12, "two tracks of three 31s, or of two 47s");
    }

    #[test]
    fn pieces_come_out_of_just_enough_sheets() {
        let s = stock(1).expect("few sums");
        let pack = |n| s.pack(&[1, 2, 2, 2], &[0; 4], n, 10_000);
        assert!(matches!(pack(4), Packing::Done(cuts) if cuts.len() == 4));
        assert!(matches!(pack(3), Packing::Impossible));
    }

    #[test]
    fn closing_pieces_use_what_full_pieces_leave() {
        let s = stock(3).expect("few sums");
        // One full 63 leaves 32: three tracks of one 31 each.
        assert!(matches!(s.pack(&[0, 1, 0, 0], &[0, 0, 0, 3], 1, 1000), Packing::Done(_)));
        assert!(matches!(s.pack(&[0, 1, 0, 0], &[0, 0, 0, 4], 1, 1000), Packing::Impossible));
        assert!(matches!(s.pack(&[0, 1, 0, 0], &[0, 0, 1, 3], 2, 1000), Packing::Done(_)));
    }
}
