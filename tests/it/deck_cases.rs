//! Odd decks: uneven bays, metric panels, no gap, rakes, infeasible ones, time limits.

use stepoff::deck::{DeckAsk, DeckFault, RafterLines, RoofPlane, Ticks, Watch, lay};
use stepoff::measure::quantity::{inches, millimeters};

use crate::deck_checker::check;

#[track_caller]
fn sheets(ask: &DeckAsk, expected: usize) {
    let deck = lay(ask, &Watch::none()).unwrap_or_else(|faults| panic!("{faults:?}"));
    check(ask, &deck);
    assert_eq!((deck.sheets(), deck.proven()), (expected, true));
}

#[test]
fn whole_sheets_on_a_whole_plane() {
    // By hand: 32 ft by two courses is eight sheets, but staggering cuts one sheet of each other course
    // in half, and the halves go to both ends.
    sheets(&DeckAsk::rectangles(1, inches(384.0), inches(96.125), inches(24.0)), 8);
    let mut no_gap = DeckAsk::rectangles(1, inches(384.0), inches(96.0), inches(24.0));
    no_gap.rules.gap = inches(0.0);
    // Without a gap a half is 48 in and the saw takes 1/8 in: one sheet does not give two halves.
    sheets(&no_gap, 9);
    no_gap.sheet.kerf = inches(0.0);
    sheets(&no_gap, 8);
}

#[test]
fn a_sixteenth_of_gap() {
    let mut ask = DeckAsk::rectangles(2, inches(356.5), inches(144.125), inches(16.0));
    ask.rules.gap = inches(0.0625);
    let deck = lay(&ask, &Watch::none()).expect("can be laid");
    check(&ask, &deck);
    assert!(deck.proven());
}

#[test]
fn metric_panels_on_metric_rafters() {
    // 600 mm centers, panels 1200 x 2400 mm, gap 3 mm, saw cut 3 mm, by hand: a plane 7200 x
    // 2403 mm takes two courses of three sheets: 2400 2400 2400 above 1200 2400 2400 1200.
    let mut ask =
        DeckAsk::rectangles(1, millimeters(7200.0), millimeters(2403.0), millimeters(600.0));
    ask.sheet.length = millimeters(2400.0);
    ask.sheet.height = millimeters(1200.0);
    ask.sheet.kerf = millimeters(3.0);
    ask.rules.gap = millimeters(3.0);
    ask.rules.least_strip = millimeters(600.0);
    ask.rules.least_piece = millimeters(600.0);
    sheets(&ask, 6);
    // 1220 x 2440 mm panels laid on 610 mm centers, to match.
    let mut ask =
        DeckAsk::rectangles(1, millimeters(7320.0), millimeters(2443.0), millimeters(610.0));
    ask.sheet.length = millimeters(2440.0);
    ask.sheet.height = millimeters(1220.0);
    ask.sheet.kerf = millimeters(3.0);
    ask.rules.gap = millimeters(3.0);
    sheets(&ask, 6);
}

#[test]
fn rafters_where_the_layout_puts_them() {
    // A ladder at both rakes and odd bays between: centers given one by one.
    let listed = [
        0.75, 12.0, 27.25, 43.25, 59.25, 75.25, 91.25, 107.25, 116.0, 131.25, 147.25, 163.25,
        179.25, 195.25, 203.5, 215.25,
    ];
    let mut ask = DeckAsk::rectangles(2, inches(216.0), inches(130.5), inches(16.0));
    ask.rafters = RafterLines::Centers(listed.iter().map(|&x| inches(x)).collect());
    let deck = lay(&ask, &Watch::none()).expect("can be laid");
    check(&ask, &deck);
    assert!(deck.proven(), "{} of {}", deck.lower_bound_sheets(), deck.sheets());
}

#[test]
fn a_last_bay_of_a_quarter_inch() {
    let ask = DeckAsk::rectangles(2, inches(240.25), inches(120.0), inches(24.0));
    let deck = lay(&ask, &Watch::none()).expect("can be laid");
    check(&ask, &deck);
    assert!(deck.proven());
}

#[test]
fn one_panel_and_one_course() {
    sheets(&DeckAsk::rectangles(1, inches(96.0), inches(48.0), inches(24.0)), 1);
    sheets(&DeckAsk::rectangles(2, inches(90.0), inches(23.0), inches(24.0)), 1);
    sheets(&DeckAsk::rectangles(1, inches(240.0), inches(48.0), inches(24.0)), 3);
}

#[test]
fn unequal_planes_are_laid_apart_and_bounded_by_area() {
    let mut ask = DeckAsk::rectangles(1, inches(240.0), inches(96.125), inches(24.0));
    ask.planes.push(RoofPlane::rectangle("north", inches(240.0), inches(130.0)));
    let deck = lay(&ask, &Watch::none()).expect("can be laid");
    check(&ask, &deck);
    assert_eq!(deck.lower_bound_sheets(), deck.area_sheets());
}

#[test]
fn infeasible_decks_say_why() {
    let faults = |ask: &DeckAsk| lay(ask, &Watch::none()).expect_err("cannot be laid");
    let mut ask = DeckAsk::rectangles(1, inches(100.0), inches(90.0), inches(24.0));
    ask.rules.least_piece = inches(32.0);
    let joints = vec![Ticks::inches(48)];
    let least_piece = Ticks::inches(32);
    assert_eq!(faults(&ask), [DeckFault::NoStagger { joints, least_piece }]);
    // Rafters 100 in apart: no panel spans that far.
    ask.rafters = RafterLines::Centers(vec![inches(100.0), inches(200.0)]);
    ask.planes = vec![RoofPlane::rectangle("shed", inches(300.0), inches(90.0))];
    let found = faults(&ask);
    assert!(
        matches!(found[0], DeckFault::NoCourse { next, .. } if next == Ticks::inches(100)),
        "{found:?}"
    );
    // A trapezoid.
    ask.planes[0].outline[2].0 = inches(250.0);
    assert!(matches!(faults(&ask)[0], DeckFault::NotRectangle { .. }));
    for fault in faults(&ask) {
        assert!(!fault.to_string().is_empty() && !fault.help().is_empty());
    }
}

#[test]
fn a_stopped_search_gives_a_layout_and_a_true_bound() {
    let mut ask = DeckAsk::rectangles(2, inches(456.0), inches(101.25), inches(16.0));
    ask.rules.least_strip = inches(12.0);
    ask.rules.least_piece = inches(32.0);
    let stopped = lay(&ask, &Watch { stop: &|| true, progress: &|_| () }).expect("a layout always");
    check(&ask, &stopped);
    assert!(stopped.lower_bound_sheets() <= 23, "S02 of the published rows takes 23");
    assert!(stopped.sheets() >= 23);
}

#[test]
fn the_same_ask_gives_the_same_deck() {
    let ask = DeckAsk::rectangles(2, inches(377.0), inches(154.25), inches(16.0));
    assert_eq!(lay(&ask, &Watch::none()), lay(&ask, &Watch::none()));
}
