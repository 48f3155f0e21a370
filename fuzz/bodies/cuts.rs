//! Lists of stock and pieces in every form: what is accepted is cut so that every piece is there and every bar is long enough,
//! for a cost that is the sum of its bars and not below the proven bound.

use std::cell::Cell;
use std::collections::BTreeMap;

use stepoff::order::cutting::read::{self, Given};
use stepoff::order::cutting::{Control, CutPlan, CuttingProblem, NoPlan, plan};
use stepoff::plan::Faults;

use super::choices::Choices;
use super::refused;

/// How often a search asks whether to stop before it is told to: about so many milliseconds.
const PATIENCE: u32 = 120;

pub(super) fn words() -> Vec<String> {
    let words = [
        "\"stock\"",
        "\"pieces\"",
        "\"length\"",
        "\"qty\"",
        "\"price_cents\"",
        "\"units_per_inch\": 16",
        "\"kerf\"",
        "\"end_trim\"",
        "\"label\"",
        "[[stock]]\n",
        "[[piece]]\n",
        "length = ",
        "qty = ",
        "price = ",
        "may_splice = true\n",
        "quantity = ",
        "stock,",
        "piece,",
        "kind,label,length,qty,price\n",
        "'8ft'",
        "96",
        "192",
        "14' 6-1/2\"",
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "null",
        "0",
        "-1",
        "1e18",
        "9223372036854775807",
        "\n",
        " ",
        "0.5",
    ];
    words.map(str::to_owned).to_vec()
}

/// How a list begins says its form: a brace JSON, a comma CSV (without that comma), a figure the plain numbers, a bracket or
/// a sharp TOML. Other bytes make a list that mostly can be cut.
pub(super) fn body(data: &[u8]) {
    let given = Given::default();
    let mut text = String::from_utf8_lossy(data).into_owned();
    let read = match data.first() {
        Some(b'{') => read::from_json(&text, &given),
        Some(b'[' | b'#') => read::from_toml(&text, &given),
        Some(b'0'..=b'9') => read::from_bars(&text),
        Some(b',') => {
            text.remove(0);
            read::from_csv(&text, &given)
        }
        _ => {
            text = numbers(&mut Choices::new(data));
            read::from_json(&text, &given)
        }
    };
    let read = match read {
        Ok(read) => read,
        Err(faults) => return have_places(&faults, &text),
    };
    let calls = Cell::new(0);
    let stop = || {
        calls.set(calls.get() + 1);
        calls.get() > PATIENCE
    };
    match plan(&read.problem, &Control::new(&stop, &|_| ())) {
        Ok(settled) => {
            is_right(&read.problem, &settled);
            let least = settled.bound().iter().zip(settled.value());
            let first = least.clone().find(|(bound, value)| bound != value);
            assert!(first.is_none_or(|(bound, value)| bound < value), "{settled:?}");
            assert_eq!(first.is_none(), settled.is_proven(), "{settled:?}");
        }
        Err(NoPlan::Faults(faults)) => {
            have_places(&faults.into_iter().map(|fault| read.fault(fault)).collect(), &text);
        }
        Err(NoPlan::NotEnoughStock { .. }) => {
            let limited = read.problem.stock.iter().any(|stock| stock.quantity.is_some());
            assert!(limited, "not enough of stock without a limit:\n{text}");
        }
    }
}

fn have_places(faults: &Faults, text: &str) {
    assert!(!faults.is_empty(), "refused without a fault:\n{text}");
    faults.iter().for_each(|fault| refused::of_fault(fault, text));
}

/// A list that mostly can be cut.
fn numbers(choices: &mut Choices<'_>) -> String {
    let priced = choices.below(2) == 0;
    let limited = choices.below(4) == 0;
    let stock: Vec<String> = (0..1 + choices.below(5))
        .map(|_| {
            let length = 40 + choices.below(400);
            let price = if priced {
                format!(", \"price_cents\": {}", 1 + choices.byte() / 2)
            } else {
                String::new()
            };
            let most = if limited && choices.below(2) == 0 {
                format!(", \"qty\": {}", choices.below(20))
            } else {
                String::new()
            };
            format!("{{\"length\": {length}{price}{most}}}")
        })
        .collect();
    let pieces: Vec<String> = (0..1 + choices.below(9))
        .map(|_| {
            let length = 5 + choices.below(300);
            format!("{{\"length\": {length}, \"qty\": {}}}", 1 + choices.below(12))
        })
        .collect();
    format!(
        "{{\"units_per_inch\": 1, \"kerf\": {}, \"end_trim\": {}, \"stock\": [{}], \"pieces\": [{}]}}",
        choices.below(4),
        choices.below(4),
        stock.join(", "),
        pieces.join(", ")
    )
}

/// Holds of a plan, counted anew from the problem alone.
fn is_right(problem: &CuttingProblem, plan: &CutPlan) {
    let (mut made, mut taken) = (BTreeMap::<usize, i64>::new(), BTreeMap::<usize, i64>::new());
    let (mut cost, mut length, mut bars) = (0, 0, 0);
    for bar in &plan.bars {
        let stock = &problem.stock[bar.stock];
        assert!(bar.times > 0 && !bar.pieces.is_empty(), "{bar:?}");
        let used: i64 = bar.pieces.iter().map(|piece| piece.length + problem.kerf).sum();
        assert!(used <= stock.length - problem.end_trim + problem.kerf, "{bar:?} of {stock:?}");
        for piece in &bar.pieces {
            let wanted = &problem.pieces[piece.piece];
            // a part of a spliced member is shorter than the member
            assert!(
                piece.length == wanted.length || wanted.may_splice && piece.length < wanted.length,
                "{piece:?} for {wanted:?}"
            );
            *made.entry(piece.piece).or_default() += piece.length * bar.times;
        }
        *taken.entry(bar.stock).or_default() += bar.times;
        cost += stock.price_cents.unwrap_or(0) * bar.times;
        length += stock.length * bar.times;
        bars += bar.times;
    }
    for (at, wanted) in problem.pieces.iter().enumerate() {
        let all = made.get(&at).copied().unwrap_or(0);
        assert_eq!(all, wanted.length * wanted.quantity, "{wanted:?} in {plan:?}");
    }
    for (at, stock) in problem.stock.iter().enumerate() {
        let all = taken.get(&at).copied().unwrap_or(0);
        assert!(stock.quantity.is_none_or(|most| all <= most), "{all} of {stock:?}");
    }
    assert_eq!((bars, length), (plan.bars_used, plan.stock_length), "{plan:?}");
    if problem.stock.iter().all(|stock| stock.price_cents.is_some()) {
        assert_eq!(cost, plan.cost_cents, "{plan:?}");
    }
}
