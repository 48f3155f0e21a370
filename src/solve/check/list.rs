//! A tree over listed columns.
//!
//! Only for covering models (every row a least and no most, nothing negative): there some best plan
//! does with columns that hold all they can, that fit no other family that is cheaper (or as cheap, and before
//! it) and without limit, and that are each taken no more often than they are of use. Proof: take a best plan of fewest columns; fill each as far as
//! it goes, move it where it is cheaper, fill again; every step keeps the plan whole and no dearer, and the steps end. A column
//! taken more often than any of its rows asks for could be dropped once, against the fewest.

use std::collections::BTreeMap;

use super::super::certificate::{Form, Listed, Node, On, Prices};
use super::super::model::{Item, Members};
use super::ground::{self, Ground};
use super::limits;
use super::sums::{Counts, Sum};
use super::{Refusal, worth};

/// Columns listed at most.
const MOST_COLUMNS: usize = 4_000_000;
/// Steps of the listing at most.
const MOST_STEPS: u64 = 400_000_000;
/// Entries of a table of bounds.
const TABLE: i64 = 3_000_000;

/// Listed columns in flat storage.
#[derive(Default)]
struct Columns {
    start: Vec<usize>,
    entries: Vec<(u32, u32)>,
    family: Vec<u32>,
}

impl Columns {
    fn len(&self) -> usize {
        self.family.len()
    }

    fn entries(&self, column: usize) -> &[(u32, u32)] {
        &self.entries[self.start[column]..self.start[column + 1]]
    }
}

/// A column's family and entries.
type Name<'a> = (u32, &'a [(u32, u32)]);

/// What a node of the tree allows.
#[derive(Clone)]
struct Limits {
    counts: Counts,
    /// Bounds of the forms; of a column's form those of the column.
    forms: Vec<(i64, Option<i64>)>,
}

/// The columns, and what a search may say about them.
struct Over<'a> {
    ground: &'a Ground<'a>,
    columns: Columns,
    /// How often each can be of use.
    useful: Vec<i64>,
    /// What each form counts of which column.
    members: Vec<Vec<(u32, i64)>>,
    /// Forms that are the number of one column; `None` in the place of a column that is not listed.
    single: BTreeMap<usize, Option<u32>>,
    alive: Vec<u32>,
    reduced: Vec<i64>,
}

/// What the tree makes of every plan within the counts, in units, at most the target.
pub(super) fn bound(
    ground: &Ground<'_>,
    listed: &Listed,
    counts: &Counts,
    stop: &dyn Fn() -> bool,
) -> Result<i128, Refusal> {
    let target = i128::from(ground.target);
    let model = ground.model;
    let covering =
        model.rows.iter().all(|row| row.most.is_none() && row.least.is_some_and(|l| l >= 0))
            && model.families.iter().all(|family| family.least == 0);
    if !covering {
        return Err(Refusal::Malformed("a list where rows do more than cover"));
    }
    ground.sound(&listed.prices, 0)?;
    let prices = &listed.prices;
    let worth =
        worth::most(ground.model, &prices.rows, &limits::Limits::default(), |k| counts[k].1 > 0)?;
    let Some(start) = ground.raw(prices, counts, &worth)? else {
        return Ok(target);
    };
    // What a better plan may waste.
    let room = (target - 1) * i128::from(prices.scale) - start;
    if room < 0 {
        return Ok(target);
    }
    let mut columns = Columns { start: vec![0], ..Columns::default() };
    let mut steps = 0;
    for k in 0..ground.model.families.len() {
        if counts[k].1 > 0 {
            let least = worth[k].unwrap_or(0) - room;
            list_family(ground, k, &prices.rows, least, &mut columns, (&mut steps, stop))?;
        }
    }
    let mut over = Over::new(ground, columns, &listed.forms)?;
    let root = Limits {
        counts: counts.clone(),
        forms: listed
            .forms
            .iter()
            .map(|form| match form {
                Form::Halves(rows) => {
                    let wanted: i64 =
                        rows.iter().map(|&row| ground.model.rows[row].least.unwrap_or(0)).sum();
                    (wanted.div_euclid(2) + wanted.rem_euclid(2), None)
                }
                Form::Both(..) | Form::Column { .. } => (0, None),
            })
            .collect(),
    };
    for fixing in &listed.fixings {
        match over.priced(fixing, &root)? {
            None => return Ok(target),
            Some(bound) => {
                let room = (target - 1) * i128::from(fixing.scale) - bound;
                if room < 0 {
                    return Ok(target);
                }
                let reduced = &over.reduced;
                over.alive.retain(|&c| i128::from(reduced[c as usize]) <= room);
            }
        }
    }
    let forms = listed.forms.len();
    let least = ground::tree(
        &listed.nodes,
        root,
        (ground.target, stop),
        |node, limits| match node {
            Node::Priced(prices) => Ok(match over.priced(prices, limits)? {
                Some(bound) => ground::up(bound, prices.scale),
                None => target,
            }),
            _ => Err(Refusal::Malformed("a list within a list")),
        },
        |limits, on, at, above| {
            let (least, most) = match on {
                On::Family(k) if k < limits.counts.len() => {
                    let (least, most) = &mut limits.counts[k];
                    if above {
                        *least = (*least).max(at + 1);
                    } else {
                        *most = (*most).min(at);
                    }
                    return Ok(least <= most);
                }
                On::Form(form) if form < forms => {
                    let (least, most) = &mut limits.forms[form];
                    (least, most)
                }
                _ => return Err(Refusal::Malformed("a split")),
            };
            if above {
                *least = (*least).max(at + 1);
            } else {
                *most = Some(most.map_or(at, |most| most.min(at)));
            }
            Ok(most.is_none_or(|most| *least <= most))
        },
    )?;
    Ok(i128::from(least))
}

impl<'a> Over<'a> {
    fn new(ground: &'a Ground<'a>, columns: Columns, forms: &[Form]) -> Result<Self, Refusal> {
        let rows = &ground.model.rows;
        let useful = (0..columns.len())
            .map(|c| {
                columns
                    .entries(c)
                    .iter()
                    .map(|&(row, amount)| {
                        let wanted = rows[row as usize].least.unwrap_or(0);
                        (wanted + i64::from(amount) - 1) / i64::from(amount)
                    })
                    .max()
                    .unwrap_or(0)
            })
            .collect();
        let mut by_name: BTreeMap<Name<'_>, u32> = BTreeMap::new();
        if forms.iter().any(|form| matches!(form, Form::Column { .. })) {
            for c in 0..columns.len() {
                by_name.insert((columns.family[c], columns.entries(c)), c as u32);
            }
        }
        let mut members = Vec::new();
        let mut single = BTreeMap::new();
        for (place, form) in forms.iter().enumerate() {
            let count = |c: usize| -> i64 {
                let entries = columns.entries(c);
                let of = |row: usize| {
                    entries.iter().find(|e| e.0 as usize == row).map_or(0, |e| i64::from(e.1))
                };
                match form {
                    Form::Halves(rows) => (rows.iter().map(|&row| of(row)).sum::<i64>() + 1) / 2,
                    Form::Both(i, j) if i == j => i64::from(of(*i) >= 2),
                    Form::Both(i, j) => i64::from(of(*i) >= 1 && of(*j) >= 1),
                    Form::Column { .. } => 0,
                }
            };
            match form {
                Form::Halves(set) => {
                    let mut sorted = set.clone();
                    sorted.sort_unstable();
                    sorted.dedup();
                    if sorted.len() != set.len() || set.iter().any(|&row| row >= rows.len()) {
                        return Err(Refusal::Malformed("a cut"));
                    }
                }
                Form::Both(..) => {}
                Form::Column { family, entries } => {
                    let name: Option<Vec<(u32, u32)>> = entries
                        .iter()
                        .map(|&(row, n)| Some((u32::try_from(row).ok()?, u32::try_from(n).ok()?)))
                        .collect();
                    let name = name.ok_or(Refusal::Malformed("a column"))?;
                    let family =
                        u32::try_from(*family).map_err(|_| Refusal::Malformed("a column"))?;
                    single.insert(place, by_name.get(&(family, name.as_slice())).copied());
                }
            }
            members.push(if matches!(form, Form::Column { .. }) {
                Vec::new()
            } else {
                (0..columns.len())
                    .filter_map(|c| match count(c) {
                        0 => None,
                        n => Some((c as u32, n)),
                    })
                    .collect()
            });
        }
        Ok(Self {
            ground,
            useful,
            members,
            single,
            alive: (0..columns.len() as u32).collect(),
            reduced: vec![0; columns.len()],
            columns,
        })
    }

    /// What the prices make of every plan of columns still alive within the limits, times the scale. `None`: there is no plan.
    /// Leaves the reduced costs behind.
    fn priced(&mut self, prices: &Prices, limits: &Limits) -> Result<Option<i128>, Refusal> {
        let ground = self.ground;
        ground.sound(prices, self.members.len())?;
        if prices.families.len() != limits.counts.len() {
            return Err(Refusal::Malformed("prices of families"));
        }
        self.fits(prices)?;
        let worth: Vec<Option<i128>> =
            prices.families.iter().map(|&worth| Some(i128::from(worth))).collect();
        let Some(start) = ground.raw(prices, &limits.counts, &worth)? else {
            return Ok(None);
        };
        let mut sum = Sum(Some(start));
        for &c in &self.alive {
            let c = c as usize;
            let worth: i64 = self
                .columns
                .entries(c)
                .iter()
                .map(|&(row, n)| prices.rows[row as usize] * i64::from(n))
                .sum();
            self.reduced[c] = prices.families[self.columns.family[c] as usize] - worth;
        }
        for &(form, price) in &prices.forms {
            let (least, most) = limits.forms[form];
            if self.single.contains_key(&form) {
                return Err(Refusal::Malformed("the price of a column"));
            }
            let side = if price >= 0 { Some(least) } else { most };
            let side = side.ok_or(Refusal::Malformed("the sign of a form's price"))?;
            sum.add(i128::from(price), i128::from(side));
            for &(c, n) in &self.members[form] {
                self.reduced[c as usize] -= price * n;
            }
        }
        for &c in &self.alive {
            let reduced = self.reduced[c as usize];
            if reduced < 0 {
                sum.add(i128::from(reduced), i128::from(self.useful(c as usize, limits)));
            }
        }
        // Columns with limits of their own: set right what was taken for granted above.
        for (&form, &column) in &self.single {
            let (least, most) = limits.forms[form];
            if least == 0 && most.is_none() {
                continue;
            }
            let listed = column.filter(|c| self.alive.binary_search(c).is_ok());
            let Some(c) = listed else {
                if least > 0 {
                    return Ok(None);
                }
                continue;
            };
            let useful = self.useful(c as usize, limits);
            let most = most.map_or(useful, |most| most.min(useful));
            if least > most {
                return Ok(None);
            }
            let reduced = i128::from(self.reduced[c as usize]);
            let taken = reduced.min(0) * i128::from(useful);
            let right = reduced * i128::from(if reduced >= 0 { least } else { most });
            sum.add(right - taken, 1);
        }
        sum.get().map(Some)
    }

    fn useful(&self, column: usize, limits: &Limits) -> i64 {
        self.useful[column].min(limits.counts[self.columns.family[column] as usize].1)
    }

    /// Whether all worths stay within 64 bits.
    fn fits(&self, prices: &Prices) -> Result<(), Refusal> {
        let largest = |list: &[i64]| list.iter().map(|p| p.unsigned_abs()).max().unwrap_or(0);
        let held = self.columns.entries.iter().map(|e| u64::from(e.1)).max().unwrap_or(0)
            * self.ground.model.rows.len() as u64;
        let forms: i128 =
            prices.forms.iter().map(|&(_, price)| i128::from(price.unsigned_abs())).sum();
        let most = i128::from(largest(&prices.rows)) * i128::from(held)
            + forms * i128::from(held)
            + i128::from(largest(&prices.families));
        if most < 1 << 62 { Ok(()) } else { Err(Refusal::TooLarge) }
    }
}

/// Lists the columns of a family that are worth at least `least`.
fn list_family(
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
    // As many as this are never needed: every column is of use for a unit of a row at least.
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

/// Bounds on what the items from some place on are worth within a room.
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
