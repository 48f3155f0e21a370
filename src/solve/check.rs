//! The checker: counts a plan again, recomputes the bound from a certificate, and makes a [`Proven`] if
//! the two are equal.
//!
//! It shares no code with any search. What it relies on: `docs/cutting.md`, section "The checker".

mod bound;
mod columns;
mod ground;
mod limits;
mod list;
mod proven;
mod refusal;
mod sums;
mod total;
mod worth;

use super::certificate::{Certificate, Proof};
use super::model::{Members, Model, Pick, Plan, Question, Taken};

pub use refusal::Refusal;

pub use proven::{Floor, Impossible, Open, Proven, Settled};
pub use total::{Kind, Rate, Total, settle_choice};

/// Why a plan is not one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// The model contradicts itself or is too large to compute with.
    Model(&'static str),
    /// A column that is not of its family: its index among those used.
    Column(usize),
    /// A row that is not met.
    Row(usize),
    /// A family of which too few or too many columns are used.
    Family(usize),
}

/// Counts the plan and checks its bound.
///
/// A proof that is refused is ignored; the bound is the best of the others, at least 0. Once `stop`
/// says so, only proofs from prices alone are still checked: they take a moment.
///
/// # Errors
///
/// The first fault of the plan.
pub fn settle<Q, T>(
    question: &Q,
    plan: T,
    certificate: &Certificate,
    stop: &dyn Fn() -> bool,
) -> Result<Settled<T>, Fault>
where
    Q: Question + ?Sized,
    T: Plan<Q>,
{
    let model = question.model();
    check_model(&model)?;
    let value = value(&model, &plan.taken(question))?;
    let mut bound = Vec::new();
    for level in 0..model.levels {
        let exact = bound == value[..level];
        let mut best = 0;
        for proof in certificate.levels.get(level).into_iter().flatten() {
            let ground = ground::Ground::new(&model, level, &value, exact);
            let by = ground.bound(proof, stop);
            debug_assert!(!matches!(by, Err(Refusal::Malformed(_))), "{by:?}");
            best = best.max(by.unwrap_or(0));
            if best >= value[level] {
                break;
            }
        }
        bound.push(best.min(value[level]));
    }
    Ok(proven::settled(plan, value, bound, question.rules()))
}

/// Checks that a question has no answer at all: without costs, the proof's prices make what is wanted
/// worth more than all columns.
///
/// # Errors
///
/// Why the proof does not show that.
pub fn impossible<Q>(
    question: &Q,
    proof: &Proof,
    stop: &dyn Fn() -> bool,
) -> Result<Impossible, Refusal>
where
    Q: Question + ?Sized,
{
    let model = question.model();
    check_model(&model).map_err(|_| Refusal::Malformed("the model"))?;
    let ground = ground::Ground::without_cost(&model);
    if ground.bound(proof, stop)? >= 1 {
        Ok(proven::impossible(question.rules()))
    } else {
        Err(Refusal::Malformed("the prices leave a plan open"))
    }
}

/// The largest number allowed in a model.
const LARGEST: i64 = 1 << 60;

fn check_model(model: &Model) -> Result<(), Fault> {
    let fine = |n: i64| (-LARGEST..=LARGEST).contains(&n);
    let row = |r: usize| r < model.rows.len();
    let entries = |list: &[(usize, i64)]| list.iter().all(|&(r, a)| row(r) && fine(a));
    let rows = model.rows.iter().all(|row| {
        row.least.is_none_or(fine)
            && row.most.is_none_or(fine)
            && !matches!((row.least, row.most), (Some(l), Some(m)) if l > m)
    });
    if !rows {
        return Err(Fault::Model("a row"));
    }
    let items = model
        .items
        .iter()
        .flatten()
        .all(|item| row(item.row) && item.size >= 1 && fine(item.size) && item.most >= 0);
    if !items {
        return Err(Fault::Model("an item"));
    }
    for family in &model.families {
        if family.cost.len() != model.levels
            || family.cost.iter().any(|&c| c < 0 || !fine(c))
            || family.least < 0
            || family.least > family.most
            || !fine(family.most)
        {
            return Err(Fault::Model("a family"));
        }
        let sound = match &family.members {
            Members::One(list) => entries(list),
            Members::Packs { capacity, items, strips } => {
                *capacity >= 0
                    && fine(*capacity)
                    && *items < model.items.len()
                    && strips.is_none_or(|s| s.count >= 0 && s.items < model.items.len())
            }
            Members::Paths(paths) => {
                paths.nodes >= 1
                    && paths.arcs.iter().all(|arc| {
                        arc.from < arc.to && arc.to < paths.nodes && entries(&arc.entries)
                    })
            }
        };
        if !sound {
            return Err(Fault::Model("members of a family"));
        }
    }
    Ok(())
}

/// The cost of the columns at each level, once they are found to be columns and to meet all rows.
fn value(model: &Model, taken: &[Taken]) -> Result<Vec<i64>, Fault> {
    let mut rows = vec![0_i128; model.rows.len()];
    let mut counts = vec![0_i128; model.families.len()];
    for (place, taken) in taken.iter().enumerate() {
        let put = taken.times >= 1 && put_column(model, taken, &mut rows).is_some();
        if !put {
            return Err(Fault::Column(place));
        }
        counts[taken.family] += i128::from(taken.times);
    }
    for (place, (row, have)) in model.rows.iter().zip(&rows).enumerate() {
        if row.least.is_some_and(|l| *have < i128::from(l))
            || row.most.is_some_and(|m| *have > i128::from(m))
        {
            return Err(Fault::Row(place));
        }
    }
    for (place, (family, have)) in model.families.iter().zip(&counts).enumerate() {
        if *have < i128::from(family.least) || *have > i128::from(family.most) {
            return Err(Fault::Family(place));
        }
    }
    (0..model.levels)
        .map(|level| {
            let sum: i128 = model
                .families
                .iter()
                .zip(&counts)
                .map(|(family, n)| i128::from(family.cost[level]) * n)
                .sum();
            i64::try_from(sum).map_err(|_| Fault::Model("costs too large"))
        })
        .collect()
}

/// Puts a column into the rows; `None` if it is none of its family.
fn put_column(model: &Model, taken: &Taken, rows: &mut [i128]) -> Option<()> {
    let mut put = |row: usize, amount: i64| {
        rows[row] += i128::from(amount) * i128::from(taken.times);
    };
    match (&model.families.get(taken.family)?.members, &taken.pick) {
        (Members::One(entries), Pick::One) => {
            for &(row, amount) in entries {
                put(row, amount);
            }
            Some(())
        }
        (Members::Packs { capacity, items, strips }, Pick::Pack { items: held, strips: cut }) => {
            // What is put into so much room leaves this.
            let mut pack = |list: usize, held: &[(usize, i64)], mut room: i128| -> Option<i128> {
                let list = &model.items[list];
                let mut seen = vec![0_i64; list.len()];
                for &(item, many) in held {
                    let of = list.get(item)?;
                    seen[item] += many;
                    if many < 0 || seen[item] > of.most {
                        return None;
                    }
                    room -= i128::from(of.size) * i128::from(many);
                    put(of.row, many);
                }
                (room >= 0).then_some(room)
            };
            let room = pack(*items, held, i128::from(*capacity))?;
            if cut.len() as i128 > i128::from(strips.map_or(0, |strips| strips.count)) {
                return None;
            }
            for strip in cut {
                pack((*strips)?.items, strip, room)?;
            }
            Some(())
        }
        (Members::Paths(paths), Pick::Path(arcs)) => {
            let mut at = 0;
            for &arc in arcs {
                let arc = paths.arcs.get(arc).filter(|arc| arc.from == at)?;
                at = arc.to;
                for &(row, amount) in &arc.entries {
                    put(row, amount);
                }
            }
            (at + 1 == paths.nodes).then_some(())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
