//! `cuts` as tables with the bars drawn to scale.

use std::collections::BTreeMap;

use crate::measure::Writing;
use crate::measure::quantity::inches;
use crate::order::cutting::{CutPlan, CuttingProblem, Objective, PlannedBar};
use crate::solve::Settled;

use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The order for the yard, the pieces with their numbers, then every kind of bar drawn to scale.
#[must_use]
pub fn text(
    problem: &CuttingProblem,
    plan: &Settled<CutPlan>,
    notes: &[String],
    seconds: f64,
    look: &Look,
    depth: Depth,
) -> String {
    let mut page = Page::new(look, depth);
    page.say(&verdict(problem, plan, seconds, look));
    page.say_all(notes);
    page.table(&order(problem, plan, look));
    page.first(|page| {
        let mut all = cuttings();
        add_cuttings(&mut all, problem, plan, look.writing);
        page.list(all);
    });
    page.more("the pieces", || pieces(problem, look));
    page.more("every bar drawn", || bars(problem, plan, look));
    page.end()
}

/// An empty list of cuttings: a row for each kind of bar and what is cut out of it.
pub(super) fn cuttings() -> Table {
    Table::new(
        "How each is cut, in this order from one end",
        &[
            ("bars", Align::Right),
            ("stock", Align::Left),
            ("cut into", Align::Left),
            ("offcut", Align::Right),
        ],
    )
}

/// Adds the cuttings of a plan.
pub(super) fn add_cuttings(
    table: &mut Table,
    problem: &CuttingProblem,
    plan: &CutPlan,
    writing: Writing,
) {
    for bar in &plan.bars {
        let pieces: Vec<String> = grouped(bar)
            .into_iter()
            .map(|(count, label, units)| {
                format!("{count} {label} {}", length(problem, units, writing))
            })
            .collect();
        table.row([
            bar.times.to_string(),
            problem.stock[bar.stock].label.clone(),
            pieces.join(", "),
            length(problem, bar.offcut, writing),
        ]);
    }
}

/// One section of a roof: what it takes, its pieces and its bars.
#[must_use]
pub fn section(problem: &CuttingProblem, plan: &CutPlan, verdict: &str, look: &Look) -> String {
    let mut page = wrapped(verdict, 2, look);
    page.push('\n');
    page.push_str(&order(problem, plan, look).text(look));
    page.push('\n');
    page.push_str(&pieces(problem, look));
    page.push('\n');
    page.push_str(&bars(problem, plan, look));
    page
}

/// A length of the problem's own units.
pub(super) fn length(problem: &CuttingProblem, units: i64, writing: Writing) -> String {
    writing.length(inches(units as f64 / problem.units_per_inch))
}

pub(super) fn money(cents: i64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

/// What the plan takes, and what is proven.
fn verdict(problem: &CuttingProblem, plan: &Settled<CutPlan>, seconds: f64, look: &Look) -> String {
    let bars = match plan.bars_used {
        1 => "1 bar".to_owned(),
        n => format!("{n} bars"),
    };
    let total = length(problem, plan.stock_length, look.writing);
    let time = format!("{seconds:.2} s");
    match plan.objective {
        Objective::Cost => {
            let cost = money(plan.cost_cents);
            if plan.is_proven() {
                format!("{bars}, {total} in all, for {cost}. Proven {} ({time}).", plan.rules())
            } else {
                let gap = plan.cost_cents - plan.cost_bound_cents();
                let percent = 100.0 * gap as f64 / plan.cost_cents.max(1) as f64;
                format!(
                    "{bars}, {total} in all, for {cost}. Stopped after {time}: no plan costs less than {}, so this one is at most {} ({percent:.3} %) too dear.",
                    money(plan.cost_bound_cents()),
                    money(gap),
                )
            }
        }
        Objective::Length if plan.is_proven() => {
            format!("{bars}, {total} in all. Proven {} ({time}).", plan.rules())
        }
        Objective::Length if plan.stock_length == plan.stock_length_bound() => format!(
            "{bars}, {total} in all. Proven: no plan takes less length; whether fewer bars of that length do is not settled, at least {} are needed ({time}).",
            plan.bars_bound()
        ),
        Objective::Length => format!(
            "{bars}, {total} in all. Stopped after {time}: no plan takes less than {}, nor fewer than {} bars.",
            length(problem, plan.stock_length_bound(), look.writing),
            plan.bars_bound()
        ),
    }
}

fn order(problem: &CuttingProblem, plan: &CutPlan, look: &Look) -> Table {
    let mut counts: BTreeMap<usize, i64> = BTreeMap::new();
    for bar in &plan.bars {
        *counts.entry(bar.stock).or_default() += bar.times;
    }
    let mut table = Table::new(
        "Bars to have",
        &[
            ("bars", Align::Right),
            ("stock", Align::Left),
            ("length", Align::Right),
            ("each", Align::Right),
            ("cost", Align::Right),
        ],
    );
    for (stock, count) in counts {
        let stock = &problem.stock[stock];
        let (each, cost) = match stock.price_cents {
            Some(price) => (money(price), money(price * count)),
            None => (String::new(), String::new()),
        };
        table.row([
            count.to_string(),
            stock.label.clone(),
            length(problem, stock.length, look.writing),
            each,
            cost,
        ]);
    }
    table.without_empty_columns()
}

fn pieces(problem: &CuttingProblem, look: &Look) -> String {
    let mut table = Table::new(
        "Pieces; the number marks each in the bars below",
        &[
            ("no.", Align::Right),
            ("piece", Align::Left),
            ("length", Align::Right),
            ("pieces", Align::Right),
        ],
    );
    for (index, piece) in problem.pieces.iter().enumerate() {
        if piece.quantity > 0 {
            table.row([
                (index + 1).to_string(),
                piece.label.clone(),
                length(problem, piece.length, look.writing),
                piece.quantity.to_string(),
            ]);
        }
    }
    table.text(look)
}

fn bars(problem: &CuttingProblem, plan: &CutPlan, look: &Look) -> String {
    let longest = plan.bars.iter().map(|b| problem.stock[b.stock].length).max().unwrap_or(1);
    let width = look.columns.saturating_sub(2).max(20);
    let kinds = match plan.different_patterns {
        1 => "one cutting".to_owned(),
        n => format!("{n} different cuttings"),
    };
    let mut page = wrapped(
        &format!("Bars as they are cut, to scale: {kinds}. {}", saw_cut(problem, look.writing)),
        2,
        look,
    );
    for bar in &plan.bars {
        let stock = &problem.stock[bar.stock];
        page.push('\n');
        let mut words = format!("{} x {}:", bar.times, stock.label);
        for (count, label, units) in grouped(bar) {
            words.push_str(&format!(" {count} {label} {},", length(problem, units, look.writing)));
        }
        words.push_str(&format!(" offcut {}", length(problem, bar.offcut, look.writing)));
        page.push_str(&wrapped(&words, 4, look));
        page.push_str("  ");
        page.push_str(&drawn(problem, bar, longest, width, look));
        page.push('\n');
    }
    page
}

/// What the saw takes, and what is trimmed off first.
pub(super) fn saw_cut(problem: &CuttingProblem, writing: Writing) -> String {
    let trim = if problem.end_trim > 0 {
        format!(
            ", {} of every bar is trimmed off first",
            length(problem, problem.end_trim, writing)
        )
    } else {
        String::new()
    };
    format!("A saw cut of {} lies between pieces{trim}.", length(problem, problem.kerf, writing))
}

/// Equal pieces side by side, counted.
fn grouped(bar: &PlannedBar) -> Vec<(usize, &str, i64)> {
    let mut groups: Vec<(usize, &str, i64)> = Vec::new();
    for piece in &bar.pieces {
        match groups.last_mut() {
            Some((count, label, length)) if *label == piece.label && *length == piece.length => {
                *count += 1;
            }
            _ => groups.push((1, &piece.label, piece.length)),
        }
    }
    groups
}

/// One bar to scale: each piece from wall to wall with its number where there is room, what is left dotted.
fn drawn(
    problem: &CuttingProblem,
    bar: &PlannedBar,
    longest: i64,
    width: usize,
    look: &Look,
) -> String {
    let (wall, wood, rest) = if look.ascii { ('|', '-', '.') } else { ('│', '─', '·') };
    let column = |units: i64| (units as f64 / longest as f64 * (width - 1) as f64).round() as usize;
    let end = column(problem.stock[bar.stock].length);
    let mut line = vec![rest; end + 1];
    let mut at = problem.end_trim;
    line[column(at).min(end)] = wall;
    for piece in &bar.pieces {
        let from = column(at).min(end);
        let to = column(at + piece.length).min(end);
        line[from..=to].fill(wood);
        line[from] = wall;
        line[to] = wall;
        let number = (piece.piece + 1).to_string();
        if to - from > number.len() {
            let start = from + 1 + (to - from - 1 - number.len()) / 2;
            for (place, digit) in line[start..].iter_mut().zip(number.chars()) {
                *place = digit;
            }
        }
        at += piece.length + problem.kerf;
    }
    line[end] = wall;
    line.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;
    use crate::order::cutting::{Control, Piece, Stock, plan};

    #[test]
    fn a_bar_is_drawn_to_scale() {
        let problem = CuttingProblem {
            units_per_inch: 1.0,
            kerf: 0,
            end_trim: 0,
            stock: vec![Stock {
                label: "bar".into(),
                length: 57,
                price_cents: Some(100),
                quantity: None,
            }],
            pieces: vec![Piece { label: "tie".into(), length: 19, quantity: 2, may_splice: false }],
        };
        let plan = plan(&problem, &Control::unlimited()).unwrap();
        let look = Look { writing: Writing::METRIC, columns: 60, ascii: true };
        assert_eq!(
            drawn(&problem, &plan.bars[0], 57, 58, &look),
            "|--------1---------|--------1---------|..................|"
        );
    }
}
