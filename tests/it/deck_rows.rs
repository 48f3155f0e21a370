//! Published optima: `tests/data/sheathing/sheathing_layouts.csv`, copied from
//! `reference/sheathing_layouts.csv`. `sheathing_model.md` there describes the model and the solvers
//! (two general integer-programming solvers agree on every row).

use stepoff::deck::{Deck, DeckAsk, Watch, lay};
use stepoff::measure::quantity::inches;

use crate::deck_checker::check;

#[derive(Debug, serde::Deserialize)]
struct Row {
    id: String,
    #[serde(rename = "L_in")]
    length_in: f64,
    #[serde(rename = "W_in")]
    width_in: f64,
    spacing_in: f64,
    planes: usize,
    min_strip_in: f64,
    min_len_in: f64,
    courses: usize,
    closing_course_in: f64,
    area_lb: usize,
    sheets: usize,
    fewest_pieces: usize,
    pieces_bound: usize,
}

fn rows() -> Vec<Row> {
    let text = include_str!("../data/sheathing/sheathing_layouts.csv");
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .expect("the file is as published")
}

fn laid(row: &Row) -> (DeckAsk, Deck) {
    let mut ask = DeckAsk::rectangles(
        row.planes,
        inches(row.length_in),
        inches(row.width_in),
        inches(row.spacing_in),
    );
    ask.rules.least_strip = inches(row.min_strip_in);
    ask.rules.least_piece = inches(row.min_len_in);
    let deck = lay(&ask, &Watch::none()).expect("the row has a layout");
    (ask, deck)
}

#[test]
fn every_row_is_proven_at_its_published_number() {
    let rows = rows();
    assert_eq!(rows.len(), 20);
    for row in rows {
        let (ask, deck) = laid(&row);
        check(&ask, &deck);
        assert_eq!(deck.sheets(), row.sheets, "{}", row.id);
        assert_eq!(deck.lower_bound_sheets(), row.sheets, "{}", row.id);
        assert_eq!(deck.area_sheets(), row.area_lb, "{}", row.id);
        let courses = &deck.planes[0].courses;
        assert_eq!(courses.len(), row.courses, "{}", row.id);
        let top = courses[courses.len() - 1].height.in_inches();
        assert_eq!(top, row.closing_course_in, "{}", row.id);
        assert!(deck.pieces.len() >= row.pieces_bound, "{}: fewer pieces than is possible", row.id);
        assert!(
            deck.lower_bound_pieces() <= row.fewest_pieces,
            "{}: a bound that is not one",
            row.id
        );
    }
}
