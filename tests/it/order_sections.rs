//! A roof's sections compared with the plain list: the same pieces, listed by hand in another order,
//! are never cut at less cost.

use std::cell::Cell;

use stepoff::frame::Frame;
use stepoff::measure::Units;
use stepoff::measure::quantity::inches;
use stepoff::order::cutting::{self, Control, CuttingProblem, Piece};
use stepoff::order::{Framed, Prices, lumber};
use stepoff::plan::{Entries, OrderPlan};

/// Roofs tried.
const CASES: u64 = 500;

/// Solves with a limit on the search, so that every draw ends.
fn limited<T>(solve: impl FnOnce(&Control<'_>) -> T) -> T {
    let asked = Cell::new(0_u32);
    let stop = || {
        asked.set(asked.get() + 1);
        asked.get() > 150
    };
    solve(&Control::new(&stop, &|_| {}))
}

/// The same pieces as a list: one entry for each length, shortest first, without names.
fn listed(problem: &CuttingProblem) -> CuttingProblem {
    let mut list = problem.clone();
    list.pieces.sort_by_key(|piece| piece.length);
    let mut merged: Vec<Piece> = Vec::new();
    for piece in list.pieces {
        match merged.last_mut() {
            Some(last) if last.length == piece.length => last.quantity += piece.quantity,
            _ => merged.push(Piece { label: String::new(), ..piece }),
        }
    }
    list.pieces = merged;
    list
}

#[test]
fn a_roof_is_never_cut_dearer_than_its_list() {
    let mut entries = Entries::default();
    for (key, text) in
        [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")]
    {
        entries.add_flag(stepoff::plan::Key::of(key).unwrap(), Some(text));
    }
    let plan = OrderPlan::read(&entries).unwrap();
    let frame = Frame::build(&plan.gable).unwrap();
    let prices = std::fs::read_to_string("examples/prices.toml").unwrap();
    let prices = Prices::read(&prices).unwrap();
    let none = Prices::default();
    let (mut proven, mut sections) = (0, 0);
    for case in 0..CASES {
        let mut state = case * 7_919 + 17;
        let mut next = |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 33) % below
        };
        // the frame's own sticks of the section with 1 to 200 more of one to four kinds
        let mut buy = plan.buy.clone();
        let section =
            frame.members[next(frame.members.len() as u64) as usize].stick.section.clone();
        let mut left = 1 + next(200) as u32;
        for _ in 0..=next(4) {
            let count = 1 + next(u64::from(left)) as u32;
            buy.extra.push(stepoff::plan::Sticks {
                section: section.clone(),
                length: inches((20 * 16 + next(110 * 16)) as f64 / 16.0),
                count,
            });
            left = left.saturating_sub(count);
            if left == 0 {
                break;
            }
        }
        let prices = if case % 2 == 0 { &prices } else { &none };
        let asked = lumber::asks(&[Framed::only(&frame, &buy)], prices, Units::Feet);
        let same = |ask: &lumber::SectionAsk| {
            !ask.walls
                && (ask.section.thickness, ask.section.depth) == (section.thickness, section.depth)
        };
        let Some(ask) = asked.into_iter().find(same) else {
            panic!("case {case}: the section is not asked for");
        };
        let each = |problem: &CuttingProblem| limited(|control| cutting::plan(problem, control));
        let order = ask.solve_by(&each).unwrap();
        // the list of the lengths that were chosen
        let list = listed(order.ask.problem());
        let of_list = limited(|control| cutting::plan(&list, control)).unwrap();
        let of_roof = order.plan.unwrap();
        assert!(
            of_roof.value() <= of_list.value(),
            "case {case}: {:?} against {:?}",
            of_roof.value(),
            of_list.value()
        );
        // and if either is proven, the other is no better
        assert!(of_roof.bound() <= of_list.value() && of_list.bound() <= of_roof.value());
        sections += 1;
        proven += usize::from(of_roof.is_proven());
    }
    assert!(proven * 2 > sections, "{proven} of {sections} proven");
}
