//! The columns of a family that are worth enough, listed anew.
//!
//! Bounds on what is still to come cut the listing short; a column stands in it once, holding all it can.

use super::super::model::{Item, Members};
use super::Refusal;
use super::ground::Ground;

/// Columns listed at most.
const MOST_COLUMNS: usize = 4_000_000;
/// Steps of the listing at most.
const MOST_STEPS: u64 = 400_000_000;
/// Entries of a table of bounds.
const TABLE: i64 = 3_000_000;

/// Listed columns in flat storage.
#[derive(Default)]
pub(super) struct Columns {
    pub(super) start: Vec<usize>,
    pub(super) entries: Vec<(u32, u32)>,
    pub(super) family: Vec<u32>,
}

impl Columns {
    pub(super) fn len(&self) -> usize {
        self.family.len()
    }

    pub(super) fn entries(&self, column: usize) -> &[(u32, u32)] {
        &self.entries[self.start[column]..self.start[column + 1]]
    }
}

/// Lists the columns of a family that are worth at least `least`.
pub(super) fn list_family(
    ground: &Ground<'_>,
    family: usize,
    prices: &[i64],
    least: i128,
    columns: &mut Columns,
    (steps, stop): (&mut u64, &dyn Fn() -> bool),
) -> Result<(), Refusal> {
    let Members::Packs { capacity, items, strips: None } = &ground.model.families[family].members
    else {
        return Err(Refusal::Malformed("a list of other columns than packs"));
    };
    let fitting = fits_elsewhere(ground, family);
    if fitting >= *capacity {
        return Ok(());
    }
    let mut sorted: Vec<Item> = ground.model.items[*items].clone();
    sorted.sort_by_key(|item| (std::cmp::Reverse(item.size), item.row));
    let mut rows: Vec<usize> = sorted.iter().map(|item| item.row).collect();
    rows.sort_unstable();
    if rows.windows(2).any(|pair| pair[0] == pair[1]) {
        return Err(Refusal::Malformed("two items for one row"));
    }
    let ahead = Ahead::new(&sorted, *capacity, prices);
    let mut walk = Walk {
        items: &sorted,
        prices,
        ahead: &ahead,
        least,
        capacity: *capacity,
        fitting,
        family: family as u32,
        held: Vec::new(),
        columns,
        steps,
        stop,
    };
    walk.go(0, *capacity, 0, i64::MAX)
}

/// Packs of up to this size fit another family that some best plan prefers.
fn fits_elsewhere(ground: &Ground<'_>, family: usize) -> i64 {
    let families = &ground.model.families;
    let Members::Packs { items, .. } = &families[family].members else {
        return -1;
    };
    // More than this are never needed: every column is useful for at least a unit of a row.
    let all: i64 =
        ground.model.rows.iter().fold(0, |sum, row| row.least.unwrap_or(0).saturating_add(sum));
    let costs = |k: usize| {
        std::iter::once(ground.cost[k]).chain(ground.earlier.iter().map(move |(cost, _)| cost[k]))
    };
    let key = |k: usize| (costs(k).collect::<Vec<_>>(), k);
    families
        .iter()
        .enumerate()
        .filter(|&(k, _)| k != family)
        .filter_map(|(k, other)| match &other.members {
            Members::Packs { capacity, items: same, strips: None }
                if same == items
                    && other.most >= all
                    && costs(k).zip(costs(family)).all(|(a, b)| a <= b)
                    && key(k) < key(family) =>
            {
                Some(*capacity)
            }
            _ => None,
        })
        .max()
        .unwrap_or(-1)
}

/// Bounds on the worth of the items from some index on within a room.
struct Ahead {
    grain: i64,
    width: usize,
    best: Vec<i64>,
}

impl Ahead {
    fn new(items: &[Item], capacity: i64, prices: &[i64]) -> Self {
        let places = items.len() as i64 + 1;
        let grain = (capacity.saturating_add(1).saturating_mul(places) / TABLE).max(1);
        let width = (capacity / grain) as usize + 1;
        let mut best = vec![0_i64; width * (items.len() + 1)];
        for (place, item) in items.iter().enumerate().rev() {
            let price = prices[item.row].max(0);
            let size = (item.size / grain) as usize;
            let (before, after) = best.split_at_mut((place + 1) * width);
            let row = &mut before[place * width..];
            row.copy_from_slice(&after[..width]);
            let mut left = item.most.min(capacity / item.size);
            if price == 0 {
                continue;
            }
            if size == 0 {
                for worth in row.iter_mut() {
                    *worth += price * left;
                }
                continue;
            }
            let mut next = 1;
            while left > 0 {
                let many = next.min(left);
                let (size, worth) = (size * many as usize, price * many);
                for to in (size..width).rev() {
                    row[to] = row[to].max(row[to - size] + worth);
                }
                left -= many;
                next *= 2;
            }
        }
        Self { grain, width, best }
    }

    fn at(&self, place: usize, room: i64) -> i64 {
        self.best[place * self.width + (room / self.grain) as usize]
    }
}

struct Walk<'a> {
    items: &'a [Item],
    prices: &'a [i64],
    ahead: &'a Ahead,
    least: i128,
    capacity: i64,
    fitting: i64,
    family: u32,
    held: Vec<(u32, u32)>,
    columns: &'a mut Columns,
    steps: &'a mut u64,
    stop: &'a dyn Fn() -> bool,
}

impl Walk<'_> {
    /// `wanting` is the smallest item of which more could be held.
    fn go(&mut self, place: usize, room: i64, worth: i64, wanting: i64) -> Result<(), Refusal> {
        *self.steps += 1;
        if *self.steps > MOST_STEPS {
            return Err(Refusal::TooMany);
        }
        if self.steps.is_multiple_of(1 << 16) && (self.stop)() {
            return Err(Refusal::Stopped);
        }
        if i128::from(worth) + i128::from(self.ahead.at(place, room)) < self.least {
            return Ok(());
        }
        let fitting =
            self.items[place..].iter().position(|item| item.size <= room && item.most > 0);
        let Some(skip) = fitting else {
            if room < wanting && self.capacity - room > self.fitting {
                if self.columns.len() >= MOST_COLUMNS {
                    return Err(Refusal::TooMany);
                }
                let mut entries = self.held.clone();
                entries.sort_unstable();
                self.columns.entries.extend(entries);
                self.columns.start.push(self.columns.entries.len());
                self.columns.family.push(self.family);
            }
            return Ok(());
        };
        let place = place + skip;
        let item = self.items[place];
        let most = item.most.min(room / item.size).min(i64::from(u32::MAX));
        for many in 0..=most {
            if many > 0 {
                self.held.push((item.row as u32, many as u32));
            }
            let wanting = if many < item.most { item.size } else { wanting };
            let gained = worth + many * self.prices[item.row];
            let done = self.go(place + 1, room - many * item.size, gained, wanting);
            if many > 0 {
                self.held.pop();
            }
            done?;
        }
        Ok(())
    }
}
