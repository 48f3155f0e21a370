//! A tree over listed columns.
//!
//! Only for covering models (every row has a least and no most, nothing is negative). There some best
//! plan uses only columns that hold all they can, that do not fit another family without limit that is
//! cheaper (or as cheap and before it), and that are each used no more often than is useful. Proof:
//! take a best plan of fewest columns; fill each as far as possible, move it to a cheaper family, and
//! fill again. Every step keeps the plan complete and costs no more, and the steps end. A column used
//! more often than any of its rows wants could be dropped once, which contradicts the fewest.

use std::collections::BTreeMap;

use super::super::certificate::{Form, Listed, Node, On, Prices};
use super::columns::{Columns, list_family};
use super::ground::{self, Ground};
use super::limits;
use super::sums::{Counts, Sum};
use super::{Refusal, worth};

/// A column's family and entries.
type Name<'a> = (u32, &'a [(u32, u32)]);

/// What a node of the tree allows.
#[derive(Clone)]
struct Limits {
    counts: Counts,
    /// Bounds of the forms; for a column's form those of the column.
    forms: Vec<(i64, Option<i64>)>,
}

impl Limits {
    fn of_root(ground: &Ground<'_>, counts: &Counts, forms: &[Form]) -> Limits {
        let of = |form: &Form| match form {
            Form::Halves(rows) => {
                let wanted: i64 =
                    rows.iter().map(|&row| ground.model.rows[row].least.unwrap_or(0)).sum();
                (wanted.div_euclid(2) + wanted.rem_euclid(2), None)
            }
            Form::Both(..) | Form::Column { .. } => (0, None),
        };
        Limits { counts: counts.clone(), forms: forms.iter().map(of).collect() }
    }

    /// Goes to one side of a split; false if nothing is left there.
    fn split(&mut self, on: On, at: i64, above: bool) -> Result<bool, Refusal> {
        match on {
            On::Family(k) if k < self.counts.len() => {
                let (least, most) = &mut self.counts[k];
                if above {
                    *least = (*least).max(at + 1);
                } else {
                    *most = (*most).min(at);
                }
                Ok(least <= most)
            }
            On::Form(form) if form < self.forms.len() => {
                let (least, most) = &mut self.forms[form];
                if above {
                    *least = (*least).max(at + 1);
                } else {
                    *most = Some(most.map_or(at, |most| most.min(at)));
                }
                Ok(most.is_none_or(|most| *least <= most))
            }
            _ => Err(Refusal::Malformed("a split")),
        }
    }
}

/// The columns, and what a search may say about them.
struct Over<'a> {
    ground: &'a Ground<'a>,
    columns: Columns,
    /// How often each can be of use.
    useful: Vec<i64>,
    /// What each form counts of which column.
    members: Vec<Vec<(u32, i64)>>,
    /// Forms that are the number of one column; `None` for a column that is not listed.
    single: BTreeMap<usize, Option<u32>>,
    alive: Vec<u32>,
    reduced: Vec<i64>,
}

/// The tree's bound for every plan within the counts, in units, at most the target.
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
    let root = Limits::of_root(ground, counts, &listed.forms);
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
        Limits::split,
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

    /// The bound of the prices for every plan of columns still alive within the limits, times the
    /// scale. `None`: there is no plan. Stores the reduced costs.
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
        // Columns with their own limits: correct what was assumed above.
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
