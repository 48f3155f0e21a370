//! The order for the yard and the cutting plans.

use serde::Serialize;

use crate::facts::caution;
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing};
use crate::order::{Line, SectionOrder, lumber};
use crate::sheet::{cuts, order as words};

use super::super::roofs::Roofs;
use super::super::{Asker, Input, NoAnswer};

/// What the buyer works from.
#[derive(Debug, Serialize)]
pub(super) struct BuyView {
    /// The list, trade by trade.
    trades: Vec<Trade>,
    /// The cutting plan of each section.
    sections: Vec<Section>,
    /// What was assumed or found wanting.
    notes: Vec<String>,
    /// What the roof takes and no line counts.
    left_out: Vec<String>,
    caution: &'static str,
}

#[derive(Debug, Serialize)]
struct Trade {
    trade: &'static str,
    lines: Vec<Row>,
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

pub(super) fn view(input: Input, writing: Writing, asker: &dyn Asker) -> Result<BuyView, NoAnswer> {
    let roofs = Roofs::read(vec![input])?;
    let order = roofs.ordered(None, writing.units, asker)?;
    let mut trades: Vec<Trade> = Vec::new();
    for line in &order.lines {
        let (trade, row) = (line.trade.words(), row(line, writing));
        match trades.iter_mut().find(|known| known.trade == trade) {
            Some(known) => known.lines.push(row),
            None => trades.push(Trade { trade, lines: vec![row] }),
        }
    }
    Ok(BuyView {
        trades,
        sections: order.sections.iter().map(|one| section(one, writing)).collect(),
        notes: order
            .notes
            .iter()
            .chain(&order.deck_notes)
            .map(|note| note.write(writing))
            .collect(),
        left_out: order.left_out.iter().map(|note| note.write(writing)).collect(),
        caution: caution::ORDER,
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
    }
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
