//! `cuts` as tables with the bars drawn to scale.

use std::collections::BTreeMap;

use crate::facts::cuts::{self, BarJson, grouped};
use crate::facts::datum::{Cents, Inches, money};
use crate::facts::record::{keys, row};
use crate::measure::Writing;
use crate::order::cutting::{CutPlan, CuttingProblem, Objective, Piece, PlannedBar, Stock};
use crate::solve::Settled;

use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

/// The order for the lumberyard, the pieces with their numbers, then every kind of bar drawn to scale.
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
    page.first(|page| page.list(cuttings([(problem, &**plan)], look.writing)));
    page.more("the pieces", || pieces(problem, look));
    page.more("every bar drawn", || bars(problem, plan, look));
    page.end()
}

/// How every bar of some plans is cut: a row for each kind of bar.
pub(super) fn cuttings<'a>(
    plans: impl IntoIterator<Item = (&'a CuttingProblem, &'a CutPlan)>,
    writing: Writing,
) -> Table {
    let bars = plans
        .into_iter()
        .flat_map(|(problem, plan)| plan.bars.iter().map(move |bar| BarJson::of(problem, bar)));
    Table::of("How each is cut, in this order from one end", bars, writing)
        .picked(keys!(BarJson: times, stock, cut_into, offcut_in))
}

/// One section of a roof: what it needs, its pieces and its bars.
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

/// A length in the problem's own units.
#[must_use]
pub fn length(problem: &CuttingProblem, units: i64, writing: Writing) -> String {
    writing.length(cuts::length(problem, units))
}

/// What the plan needs, and what is proven.
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

row! {
    /// Bars of one stock.
    Bars from (problem: &CuttingProblem, stock: &Stock, count: i64) {
        count "bars": i64 = count;
        stock "stock": String = &stock.label;
        length "length": Inches = cuts::length(problem, stock.length);
        each "each": Option<Cents> = stock.price_cents;
        cost "cost": Option<Cents> = stock.price_cents.map(|price| price * count);
    }
}

fn order(problem: &CuttingProblem, plan: &CutPlan, look: &Look) -> Table {
    let mut counts: BTreeMap<usize, i64> = BTreeMap::new();
    for bar in &plan.bars {
        *counts.entry(bar.stock).or_default() += bar.times;
    }
    let bars =
        counts.into_iter().map(|(stock, count)| Bars::of(problem, &problem.stock[stock], count));
    Table::of("Bars to have", bars, look.writing).without_empty_columns()
}

row! {
    /// A piece with its number on the bars.
    Numbered from (problem: &CuttingProblem, index: usize, piece: &Piece) {
        number "no.": usize = index + 1;
        piece "piece": String = &piece.label;
        length "length": Inches = cuts::length(problem, piece.length);
        count "pieces": i64 = piece.quantity;
    }
}

fn pieces(problem: &CuttingProblem, look: &Look) -> String {
    let pieces = problem.pieces.iter().enumerate().filter(|(_, piece)| piece.quantity > 0);
    let rows = pieces.map(|(index, piece)| Numbered::of(problem, index, piece));
    Table::of("Pieces; the number marks each in the bars below", rows, look.writing).text(look)
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

/// The saw cut, and the trim before the first piece.
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

/// One bar to scale: each piece from wall to wall with its number if there is room; the offcut is
/// dotted.
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
    use crate::order::cutting::{Control, plan};

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
