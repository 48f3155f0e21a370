//! `sheathing` on one page: the map of every sheet, the chalk lines, what to cut from what.

mod cut_sheet;
pub(super) mod faces;
mod map;
pub(super) mod words;

pub use cut_sheet::{Alike, cut_alike, cut_sheet};
pub use faces::{faces_page, faces_text};
pub use map::{Layout, legend, map, page, plane_maps};

use std::fmt::Write as _;

use crate::catalog::code_rules::RuleId;
use crate::catalog::panels;
use crate::deck::{Course, Deck, DeckAsk, LaidPlane, LowerStrip, Piece, Ticks};
use crate::facts::caution;
use crate::facts::datum::Inches;
use crate::facts::record::row;
use crate::measure::quantity::inches;
use crate::measure::{Amount, Note, Writing};

use super::page::Page;
use super::table::wrapped;
use super::{Look, Options, Table, terminal};
use map::low;
pub use words::Rated;
use words::{edges, headline, is_from_one_end, ranges, seen_from};

/// The whole page.
#[must_use]
pub fn text(
    ask: &DeckAsk,
    deck: &Deck,
    lower: Option<&[LowerStrip]>,
    rated: Option<Rated>,
    decided: &[Note],
    look: &Look,
    Options { drawing, depth }: Options,
) -> String {
    let writing = look.writing;
    let mut page = Page::new(look, depth);
    page.say(&headline(ask, deck, writing));
    page.say_all(rated.map(|(panel, support)| edges(panel, support, writing)));
    page.say_all(single_bays(deck));
    if drawing && !deck.planes.is_empty() {
        page.first(|page| {
            page.gap();
            page.text(plane_map(ask, deck, 0, look, true));
        });
        let name = if deck.planes.len() > 1 { "every map" } else { "a larger map" };
        page.more(name, || {
            let maps = (0..deck.planes.len()).map(|plane| plane_map(ask, deck, plane, look, false));
            maps.collect::<Vec<_>>().join("\n")
        });
    }
    page.list(courses(ask, deck, writing));
    page.more("pieces", || joints(ask, deck, writing).text(look));
    page.list(cuts(deck, writing));
    page.gap();
    page.say_all(decided.iter().map(|note| note.write(writing)));
    page.more("hints", || {
        let lines = [rules(ask, deck, writing), advice(ask, deck, writing)].concat();
        lines.iter().map(|line| wrapped(line, 2, look)).collect()
    });
    page.say(&lower_note(deck, lower, writing).unwrap_or_default());
    page.caution(caution::SHEATHING_IN_SHORT, caution::SHEATHING);
    page.end()
}

/// The map of a plane under its title, on few lines if it is to be `small`.
fn plane_map(ask: &DeckAsk, deck: &Deck, plane: usize, look: &Look, small: bool) -> String {
    let drawing = map(ask, deck, plane);
    let of_map = if small { low(&drawing, look) } else { *look };
    wrapped(&map_title(ask, plane), 2, look) + &terminal::draw(&drawing, &of_map)
}

fn map_title(ask: &DeckAsk, plane: usize) -> String {
    format!("{}; each number is the sheet that the piece is cut from", seen_from(ask, plane))
}

row! {
    /// The chalk line of a course.
    ChalkLine from (ask: &DeckAsk, plane: &str, number: usize, course: &Course) {
        plane "plane": String = plane;
        course "course": usize = number;
        height "height": Inches = course.height;
        lower_edge "lower edge": Inches = course.lower_edge;
        chalk_line "chalk line": Inches = course.chalk_line;
        from_tail_cut "from the tail cut": Option<Inches> = ask.datum.to_tail_cut().map(|tail| course.chalk_line.length() - tail);
    }
}

pub(super) fn courses(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Table {
    let mut rows = Vec::new();
    let mut told: Vec<&LaidPlane> = Vec::new();
    for (plane, laid) in deck.planes.iter().enumerate() {
        if told.iter().any(|other| other.courses == laid.courses) {
            continue;
        }
        told.push(laid);
        let same = deck.planes.iter().filter(|other| other.courses == laid.courses).count();
        let name =
            if same == deck.planes.len() && same > 1 { "all" } else { plane_name(ask, plane) };
        let courses = (1..).zip(&laid.courses);
        rows.extend(courses.map(|(number, course)| ChalkLine::of(ask, name, number, course)));
    }
    let title = format!(
        "Chalk lines, up the slope from {}: hook the tape there; snap each course's line before laying it",
        ask.datum.words()
    );
    Table::of(title, rows, writing).without_empty_columns()
}

fn plane_name(ask: &DeckAsk, plane: usize) -> &str {
    ask.planes.get(plane).map_or("", |plane| plane.name.as_str())
}

row! {
    /// The pieces of a course.
    CoursePieces from (plane: &str, number: usize, pieces: Vec<Note>) {
        plane "plane": String = plane;
        course "course": usize = number;
        pieces "pieces": Vec<Note> = pieces;
    }
}

pub(super) fn joints(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Table {
    let rake = if is_from_one_end(ask) { "near" } else { "left" };
    let mut rows = Vec::new();
    for (plane, laid) in deck.planes.iter().enumerate() {
        for course in 0..laid.courses.len() {
            let here = |piece: &&Piece| piece.plane == plane && piece.course == course;
            let pieces = deck.pieces.iter().filter(here).map(|piece| {
                let sheet = (piece.sheet + 1).to_string();
                Note::with("{} ({})", [Amount::from(piece.width.length()), sheet.into()])
            });
            rows.push(CoursePieces::of(plane_name(ask, plane), course + 1, pieces.collect()));
        }
    }
    let title = format!("Pieces from the {rake} rake, by course from the eave: cut length (sheet)");
    Table::of(title, rows, writing)
}

row! {
    /// Sheets that are cut alike.
    SheetsAlike from (kind: &Alike) with {
        let pieces = kind.pieces.iter().map(|piece| {
            Note::with("{} x {}", [piece.height.length(), piece.length.length()])
        });
    } {
        count "count": usize = kind.sheets.len();
        sheets "sheets": String = ranges(&kind.sheets);
        pieces "pieces": Note = Note::list(pieces.collect(), " + ");
    }
}

/// Sheets cut alike on one line.
pub(super) fn cuts(deck: &Deck, writing: Writing) -> Table {
    let title = "Sheets to cut: pieces along the sheet, height x length";
    Table::of(title, cut_alike(deck).iter().map(SheetsAlike::of), writing)
}

/// All notes on a deck besides its tables.
pub(super) fn notes(
    ask: &DeckAsk,
    deck: &Deck,
    rated: Option<Rated>,
    writing: Writing,
) -> Vec<String> {
    let mut lines = rules(ask, deck, writing);
    lines.extend(advice(ask, deck, writing));
    lines.extend(single_bays(deck));
    lines.extend(rated.map(|(panel, support)| edges(panel, support, writing)));
    lines
}

/// By which rules it is laid.
fn rules(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Vec<String> {
    vec![
        format!(
            "Rules: gap {}, saw cut {}, courses of at least {}, pieces of at least {} from joint to joint, joints on \
             rafter centers, neighboring courses never on the same one; the fewest courses, offcuts used on \
             all equal planes.",
            writing.length(ask.rules.gap),
            writing.length(ask.sheet.kerf),
            writing.length(ask.rules.least_strip),
            writing.length(ask.rules.least_piece),
        ),
        format!(
            "{} pieces; with so many sheets at least {} are needed.",
            deck.pieces.len(),
            deck.lower_bound_pieces()
        ),
    ]
}

/// What would save ripping or sheets.
fn advice(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Vec<String> {
    let mut lines = deck.hints(ask, writing);
    lines.extend(saw_cut_note(ask, deck, writing));
    lines
}

/// That pieces over a single bay are outside the span table.
fn single_bays(deck: &Deck) -> Option<String> {
    let single = deck.single_span_pieces();
    (single > 0).then(|| {
        format!(
            "{single} pieces span a single bay: the span table ({}) holds for two or more.",
            panels::SECTION
        )
    })
}

/// What lower strips would save, and what speaks against them.
fn lower_note(deck: &Deck, lower: Option<&[LowerStrip]>, writing: Writing) -> Option<String> {
    let Some(lower) = lower else {
        return deck.planes.iter().any(|plane| plane.narrow.is_some()).then(|| {
            "Lower strips may take fewer sheets: --explain lays the deck with them.".to_owned()
        });
    };
    let savings: Vec<String> = lower
        .iter()
        .map(|one| {
            format!(
                "{} sheets with strips down to {} ({} fewer)",
                one.sheets,
                writing.length(one.strip),
                deck.sheets() - one.sheets
            )
        })
        .collect();
    if savings.is_empty() {
        return None;
    }
    let mut note = format!(
        "Lower strips save sheets (deck.least_strip, --min-strip): {}.",
        savings.join(", ")
    );
    let least = inches(RuleId::SheathMinWidth.figure());
    if lower.iter().any(|one| one.strip < least) {
        let _ = write!(
            note,
            " The span table holds for panels of {} or wider ({}): under that, block both long edges (common practice) \
             and ask the building department.",
            writing.length(least),
            RuleId::SheathMinWidth.rule().section
        );
    }
    Some(note)
}

/// A note if strips would fit one sheet's height except for the saw cut.
fn saw_cut_note(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Option<String> {
    let (full, kerf) = (Ticks::nearest(ask.sheet.height), Ticks::nearest(ask.sheet.kerf));
    let strip = deck.planes.first()?.courses.last()?.height;
    let strips = full.count() / strip.count().max(1);
    let fits = Ticks::new((full + kerf).count() / strips.max(1)) - kerf;
    (strips >= 2 && fits < strip).then(|| {
        format!(
            "{strips} strips of {} and the saw cut between them do not come out of one sheet's height; of {} at most they \
             do: courses that low may save sheets.",
            writing.length(strip.length()),
            writing.exact(fits.length())
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{Watch, lay};

    fn laid() -> (DeckAsk, Deck) {
        let mut ask = DeckAsk::rectangles(2, inches(248.5), inches(98.25), inches(24.0));
        ask.slope = Some(crate::measure::quantity::degrees(26.565));
        let deck = lay(&ask, &Watch::none()).unwrap();
        (ask, deck)
    }

    #[test]
    fn every_piece_is_numbered_on_the_map_and_the_page() {
        let (ask, deck) = laid();
        for ascii in [true, false] {
            let look = Look { writing: Writing::default(), columns: 100, ascii };
            let text: String =
                (0..2).map(|plane| terminal::draw(&map(&ask, &deck, plane), &look)).collect();
            let words: Vec<&str> = text.split(|c: char| !c.is_ascii_digit()).collect();
            for piece in &deck.pieces {
                let number = (piece.sheet + 1).to_string();
                let wanted = deck.pieces.iter().filter(|other| other.sheet == piece.sheet).count();
                let shown = words.iter().filter(|word| **word == number).count();
                assert_eq!(shown, wanted, "sheet {number}\n{text}");
            }
        }
        let page = page(&ask, &deck, Writing::default());
        assert!(page.width < 17.0 && page.items.len() > 2 * deck.pieces.len());
    }

    #[test]
    fn the_way_out_of_a_narrow_strip_is_told_level_too() {
        let (ask, deck) = laid();
        let notes = notes(&ask, &deck, None, Writing::default());
        // 22 in along a slope of 26.565 degrees is 19.677 in level.
        assert!(
            notes.iter().any(|line| line.contains("1' 10\" (1' 7-11/16\" level)")),
            "{notes:?}"
        );
    }

    #[test]
    fn runs_of_numbers() {
        assert_eq!(ranges(&[1, 2, 4, 5, 6, 9]), "1, 2, 4-6, 9");
    }
}
