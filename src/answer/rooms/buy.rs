//! The order for the yard and the cutting plans.

use serde::Serialize;

use crate::facts::caution;
use crate::facts::datum::money;
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing, trim};
use crate::order::{Line, Order, Prices, SectionOrder, lumber};
use crate::sheet::{cuts, order as words};

use super::super::on_page;
use super::super::roofs::Roofs;
use super::super::{Asker, Input, NoAnswer};
use super::message;

/// What the buyer works from.
#[derive(Debug, Serialize)]
pub(super) struct BuyView {
    /// The list, trade by trade.
    trades: Vec<Trade>,
    /// Lengths of each section that can be bought and are not in the list.
    other_lengths: Vec<Lengths>,
    /// What all of it costs; null without prices.
    cost: Option<Cost>,
    /// The whole list as plain text, to send to the yard.
    text: String,
    /// The cutting plan of each section.
    sections: Vec<Section>,
    /// What was assumed or found wanting.
    notes: Vec<String>,
    /// What the roof takes and no line counts.
    left_out: Vec<String>,
    caution: String,
    /// True if lengths without a price are bought too.
    all_lengths: bool,
}

#[derive(Debug, Serialize)]
struct Trade {
    trade: &'static str,
    lines: Vec<Row>,
    /// What its lines with a price cost; null without prices.
    cost: Option<String>,
}

/// What the list costs.
#[derive(Debug, Serialize)]
struct Cost {
    total: String,
    /// Tax and the total with it, in words.
    with_tax: Option<String>,
    /// Lines that have no price, with their amounts: the total is without them.
    without_price: Vec<String>,
    /// The prices file's note.
    note: Option<String>,
}

/// Lengths of one section.
#[derive(Debug, Serialize)]
struct Lengths {
    section: String,
    lengths: Vec<OneLength>,
}

#[derive(Debug, Serialize)]
struct OneLength {
    key: String,
    name: String,
    each: Option<String>,
}

#[derive(Debug, Serialize)]
struct Row {
    key: String,
    what: String,
    called: String,
    count: String,
    unit: String,
    goes_to: String,
    basis: String,
    in_hand: bool,
    /// The unit that has a price, as prices files have it, and that price.
    priced_by: &'static str,
    each: Option<String>,
    cost: Option<String>,
}

#[derive(Debug, Serialize)]
struct Section {
    title: String,
    /// How good the plan is, and under which rules that is proven.
    verdict: String,
    bars: Vec<Bar>,
    /// Parts that no stick is long enough for.
    too_long: Vec<String>,
}

/// One kind of bar.
#[derive(Debug, Serialize)]
struct Bar {
    stock: String,
    times: i64,
    pieces: Vec<Piece>,
    left: String,
}

#[derive(Debug, Serialize)]
struct Piece {
    mark: String,
    length: String,
    /// Where it starts and how much it takes, as parts of the stick.
    part: f64,
    covers: f64,
}

pub(super) fn view(
    input: Input,
    prices: Option<&Prices>,
    writing: Writing,
    asker: &dyn Asker,
) -> Result<BuyView, NoAnswer> {
    let roofs = Roofs::read(vec![input])?;
    let order = roofs.ordered(prices, writing.units, asker)?;
    let mut trades: Vec<Trade> = Vec::new();
    for line in &order.lines {
        let (trade, row) = (line.trade.words(), row(line, writing));
        match trades.iter_mut().find(|known| known.trade == trade) {
            Some(known) => known.lines.push(row),
            None => trades.push(Trade { trade, lines: vec![row], cost: None }),
        }
    }
    if order.priced {
        for trade in &mut trades {
            let of = order.lines.iter().filter(|line| line.trade.words() == trade.trade);
            trade.cost = Some(money(of.filter_map(Line::cost_cents).sum()));
        }
    }
    Ok(BuyView {
        trades,
        other_lengths: other_lengths(&order, &roofs, writing),
        cost: order.priced.then(|| cost(&order, writing)),
        text: message::of_order(&order, writing),
        sections: order.sections.iter().map(|one| section(one, writing)).collect(),
        notes: on_page::all(
            order.notes.iter().chain(&order.deck_notes).map(|note| note.write(writing)),
        ),
        left_out: on_page::all(order.left_out.iter().map(|note| note.write(writing))),
        caution: on_page::all([caution::ORDER.to_owned()]).concat(),
        all_lengths: prices.is_none_or(|prices| prices.all_lengths),
    })
}

fn row(line: &Line, writing: Writing) -> Row {
    let (count, unit) = line.sold(writing);
    Row {
        key: line.key.clone(),
        what: line.what.write(writing),
        called: line.called(writing),
        count,
        unit,
        goes_to: line.goes_to.write(writing),
        basis: line.basis.write(writing),
        in_hand: line.in_hand,
        priced_by: line.unit,
        each: line.each_cents.map(money),
        cost: line.cost_cents().map(money),
    }
}

fn cost(order: &Order, writing: Writing) -> Cost {
    let currency = order.currency.as_ref().map_or(String::new(), |words| format!(" {words}"));
    let total = order.total_cents();
    Cost {
        total: format!("{}{currency}", money(total)),
        with_tax: order.tax_percent.zip(order.tax_cents()).map(|(percent, tax)| {
            format!("with {} percent tax {}{currency}", trim(percent, 4), money(total + tax))
        }),
        without_price: order
            .without_price()
            .map(|line| {
                let (count, unit) = line.sold(writing);
                format!("{} ({count} {unit})", line.called(writing))
            })
            .collect(),
        note: order.prices_note.clone(),
    }
}

/// Lengths that can be bought and that the list does not have: with a price they may be bought instead.
fn other_lengths(order: &Order, roofs: &Roofs, writing: Writing) -> Vec<Lengths> {
    let metric = writing.units == Units::Millimeters;
    let mut all: Vec<Lengths> = Vec::new();
    for section in &order.sections {
        let ask = &section.ask;
        let name = ask.section.write(writing.units);
        let usual = roofs.first().plan.buy.lengths.of(&ask.section).into_iter();
        let mut lengths: Vec<OneLength> = ask
            .yard
            .iter()
            .map(|stock| (stock.length, stock.cents))
            .chain(usual.map(|length| (length, None)))
            .map(|(length, cents)| OneLength {
                key: lumber::stick_key(&ask.section, length, writing.units),
                name: lumber::length_name(length, metric),
                each: cents.map(money),
            })
            .filter(|one| order.lines.iter().all(|line| line.key != one.key))
            .collect();
        let mut known = std::collections::BTreeSet::new();
        lengths.retain(|one| known.insert(one.key.clone()));
        // the walls' plates may have the same section as sticks of the roof
        if !lengths.is_empty() && all.iter().all(|known| known.section != name) {
            all.push(Lengths { section: name, lengths });
        }
    }
    all
}

fn section(section: &SectionOrder, writing: Writing) -> Section {
    let problem = section.ask.problem();
    let metric = writing.units == Units::Millimeters;
    let bars = section.bars().iter().map(|bar| {
        let whole = problem.stock[bar.stock].length.max(1) as f64;
        let mut at = problem.end_trim;
        let pieces = bar.pieces.iter().map(|piece| {
            let part = section.ask.parts.get(piece.piece);
            let mark = part.map_or(&piece.label, |part| part.mark.as_ref().unwrap_or(&part.what));
            let from = at;
            at += piece.length + problem.kerf;
            Piece {
                mark: mark.clone(),
                length: cuts::length(problem, piece.length, writing),
                part: from as f64 / whole,
                covers: piece.length as f64 / whole,
            }
        });
        Bar {
            pieces: pieces.collect(),
            stock: lumber::length_name(section.ask.stock[bar.stock].length, metric),
            times: bar.times,
            left: writing.length(inches(bar.offcut as f64 / problem.units_per_inch)),
        }
    });
    Section {
        title: section.title(writing.units),
        verdict: words::verdict(section, writing.units),
        bars: bars.collect(),
        too_long: section
            .ask
            .too_long
            .iter()
            .map(|part| words::too_long(section, part, writing))
            .collect(),
    }
}
