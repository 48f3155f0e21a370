//! The order as a plain text to send to the yard: a line for each line of the list, trade by trade.

use crate::facts::datum::money;
use crate::measure::Writing;
use crate::order::roofs::title;
use crate::order::{Line, Order};
use crate::sheet::layout::capital;
use crate::sheet::order as words;

/// The list, with prices where there are any.
pub(super) fn of_order(order: &Order, writing: Writing) -> String {
    let name = title(&order.tags());
    let mut text = name.map_or("Order".to_owned(), |name| format!("{name}: order"));
    text.push('\n');
    for trade in order.lines.chunk_by(|one, next| one.trade == next.trade) {
        let head = trade.first().map_or("", |line| line.trade.words());
        text.push_str(&format!("\n{}\n", capital(head)));
        for line in trade {
            text.push_str(&format!("{}\n", one(line, writing)));
        }
    }
    if order.priced {
        text.push_str(&format!("\n{}\n", words::money_line(order, "", writing)));
    }
    text
}

/// `14 pc 2x6 12', 9.48 each, 132.72`.
fn one(line: &Line, writing: Writing) -> String {
    let (count, unit) = line.sold(writing);
    let mut text = format!("{count} {unit} {}", line.called(writing));
    if let Some(code) = &line.code {
        text.push_str(&format!(" ({code})"));
    }
    match (line.in_hand, line.each_sold_cents(writing), line.cost_cents()) {
        (true, ..) => text.push_str(", on site already"),
        (false, Some(each), Some(cost)) => {
            text.push_str(&format!(", {} each, {}", money(each), money(cost)));
        }
        _ => {}
    }
    text
}
