//! The printed span tables for rafters and ceiling joists.
//!
//! The cells are the same in the editions 2015 to 2024; only the table numbers changed. Two tables of
//! the code are not in the catalog: the rafter tables for 50 psf ground snow, and the ceiling joist
//! table for limited storage.

use super::code_rules::RuleId;
use std::sync::OnceLock;

use super::edition::{Edition, Editions};
use super::source::Source;
use super::species::{Grade, Species};
use super::text;

const RAFTERS: &str = include_str!("data/rafter_spans.csv");
const JOISTS: &str = include_str!("data/ceiling_joist_spans.csv");

/// Nominal depths of the table columns.
pub const SIZES: [&str; 5] = ["2x4", "2x6", "2x8", "2x10", "2x12"];

/// Spacings of the table rows, inches on center.
pub const SPACINGS_IN: [f64; 4] = [12.0, 16.0, 19.2, 24.0];

/// The widest of them.
pub const WIDEST_SPACING_IN: f64 = SPACINGS_IN[SPACINGS_IN.len() - 1];

/// The load a table is made for; psf of horizontal projection.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TableLoad {
    /// Rafters, roof live load of 20 psf.
    RoofLive20,
    /// Rafters, ground snow load of 30, 50 or 70 psf.
    GroundSnow(u8),
    /// Ceiling joists, attic without storage: 10 psf live, 5 psf dead.
    AtticNoStorage,
    /// Ceiling joists, attic with limited storage: 20 psf live, 10 psf dead.
    AtticLimitedStorage,
}

impl TableLoad {
    /// Live or snow load, psf.
    #[must_use]
    pub fn live_or_snow_psf(self) -> f64 {
        match self {
            TableLoad::RoofLive20 => 20.0,
            TableLoad::AtticLimitedStorage => RuleId::AtticLiveLimitedStorage.figure(),
            TableLoad::GroundSnow(psf) => f64::from(psf),
            TableLoad::AtticNoStorage => RuleId::AtticLiveNoStorage.figure(),
        }
    }
}

/// One printed table of the code: its load and whether a ceiling hangs on the member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SpanTable {
    /// The load in its heading.
    pub load: TableLoad,
    /// Rafters with the ceiling attached; true for ceiling joists.
    pub ceiling_attached: bool,
}

impl SpanTable {
    /// The table of an edition's number, such as `R802.4.1(1)`.
    ///
    /// IRC 2015 prints the same cells under other numbers and swaps (4) and (5).
    #[must_use]
    pub fn number(self, edition: Edition) -> String {
        let old = edition == Edition::Irc2015;
        let place = match (self.load, self.ceiling_attached) {
            (TableLoad::RoofLive20, false) => 1,
            (TableLoad::RoofLive20, true) => 2,
            (TableLoad::GroundSnow(30), false) => 3,
            (TableLoad::GroundSnow(30), true) => 4 + u8::from(old),
            (TableLoad::GroundSnow(50), false) => 5 - u8::from(old),
            (TableLoad::GroundSnow(50), true) => 6,
            (TableLoad::GroundSnow(_), false) => 7,
            (TableLoad::GroundSnow(_), true) => 8,
            (TableLoad::AtticNoStorage, _) => 1,
            (TableLoad::AtticLimitedStorage, _) => 2,
        };
        let section = match (self.is_for_rafters(), old) {
            (true, false) => "R802.4.1",
            (true, true) => "R802.5.1",
            (false, false) => "R802.5.1",
            (false, true) => "R802.4",
        };
        format!("{section}({place})")
    }

    /// True for a rafter table, false for a ceiling joist table.
    #[must_use]
    pub fn is_for_rafters(self) -> bool {
        matches!(self.load, TableLoad::RoofLive20 | TableLoad::GroundSnow(_))
    }

    /// True if the catalog has the table's cells.
    #[must_use]
    fn is_carried(self) -> bool {
        !matches!(self.load, TableLoad::GroundSnow(50) | TableLoad::AtticLimitedStorage)
    }

    /// Dead loads of the table's column groups, psf of horizontal projection.
    #[must_use]
    pub fn dead_loads_psf(self) -> &'static [f64] {
        match self.load {
            TableLoad::AtticNoStorage => &[5.0],
            TableLoad::AtticLimitedStorage => &[10.0],
            _ => &[10.0, 20.0],
        }
    }

    /// Every rafter table, in the order of the later editions.
    pub const RAFTERS: [SpanTable; 8] = [
        SpanTable::new(TableLoad::RoofLive20, false),
        SpanTable::new(TableLoad::RoofLive20, true),
        SpanTable::new(TableLoad::GroundSnow(30), false),
        SpanTable::new(TableLoad::GroundSnow(30), true),
        SpanTable::new(TableLoad::GroundSnow(50), false),
        SpanTable::new(TableLoad::GroundSnow(50), true),
        SpanTable::new(TableLoad::GroundSnow(70), false),
        SpanTable::new(TableLoad::GroundSnow(70), true),
    ];

    /// Both ceiling joist tables.
    pub const JOISTS: [SpanTable; 2] = [
        SpanTable::new(TableLoad::AtticNoStorage, true),
        SpanTable::new(TableLoad::AtticLimitedStorage, true),
    ];

    /// The ceiling joist table of a load.
    #[must_use]
    pub const fn joists(load: TableLoad) -> SpanTable {
        SpanTable::new(load, true)
    }

    const fn new(load: TableLoad, ceiling_attached: bool) -> SpanTable {
        SpanTable { load, ceiling_attached }
    }

    /// The sizes of the table's columns (no 2x12 for ceiling joists).
    #[must_use]
    pub fn sizes(self) -> &'static [&'static str] {
        if self.is_for_rafters() { &SIZES } else { &SIZES[..4] }
    }
}

/// The content of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Printed {
    /// A span, inches of horizontal projection.
    Span {
        /// Feet times 12 and inches.
        inches: u32,
    },
    /// The note that the span exceeds 26 ft.
    Over26Ft,
}

/// The mark that the reader of the tables put on a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mark {
    /// Agrees within an inch with the recomputation.
    #[default]
    None,
    /// Printed as a note: over 26 ft.
    Over26Ft,
    /// Printed 26-0 although the formula gives 26-1 to 26-5.
    Capped26Ft,
    /// Below bending and deflection; an end bearing cap is inferred.
    Bearing,
    /// Breaks the table's pattern in every printing: a misprint, not used as a check.
    Suspect,
    /// One printing disagrees; this is the majority's value.
    PrintingsDiffer,
}

/// One printed cell.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanCell {
    /// The table that it is in.
    pub table: SpanTable,
    /// Dead load of its column group, psf.
    pub dead_psf: f64,
    /// Spacing of its row, inches.
    pub spacing_in: f64,
    /// Species group.
    pub species: Species,
    /// Grade.
    pub grade: Grade,
    /// Nominal size of its column.
    pub nominal: &'static str,
    /// What is printed.
    pub printed: Printed,
    /// The cell exactly as printed, such as `12-12` for a misprint.
    pub text: &'static str,
    /// The mark on it.
    pub mark: Mark,
    /// The note on it, empty for most.
    pub note: &'static str,
    /// Editions that print it this way.
    pub editions: Editions,
    /// Source key.
    pub source: Source,
}

/// All rafter cells in the catalog, in table order.
#[must_use]
pub fn rafter_cells() -> &'static [SpanCell] {
    static READ: OnceLock<Vec<SpanCell>> = OnceLock::new();
    READ.get_or_init(|| read(RAFTERS, Source::S1))
}

/// All ceiling joist cells in the catalog, in table order.
#[must_use]
pub fn joist_cells() -> &'static [SpanCell] {
    static READ: OnceLock<Vec<SpanCell>> = OnceLock::new();
    READ.get_or_init(|| read(JOISTS, Source::S2))
}

fn read(table: &'static str, source: Source) -> Vec<SpanCell> {
    let mut cells = Vec::with_capacity(3840);
    for row in text::rows(table) {
        let load = match (source, row[1]) {
            (Source::S2, _) => TableLoad::AtticNoStorage,
            (_, "20") => TableLoad::RoofLive20,
            (_, psf) => TableLoad::GroundSnow(psf.parse().expect("a whole psf in the heading")),
        };
        let span_table = SpanTable::new(load, row[2] == "1");
        let sizes = span_table.sizes();
        let notes = row[7 + sizes.len()];
        let (dead_psf, spacing_in) = (text::number(row[3]), text::number(row[4]));
        let species = Species::ALL
            .into_iter()
            .find(|species| species.name() == row[5])
            .expect("an embedded row names a species of the tables");
        let grade = Grade::IN_SPAN_TABLES
            .into_iter()
            .find(|grade| grade.name() == row[6])
            .expect("an embedded row names a grade of the tables");
        for (&nominal, &written) in sizes.iter().zip(&row[7..]) {
            let (text, mark) = written.split_once(' ').unwrap_or((written, ""));
            let (printed, mark) = match text.split_once('-') {
                Some((feet, inches)) => (
                    Printed::Span { inches: text::count(feet) * 12 + text::count(inches) },
                    mark_of(mark),
                ),
                None => (Printed::Over26Ft, Mark::Over26Ft),
            };
            cells.push(SpanCell {
                table: span_table,
                dead_psf,
                spacing_in,
                species,
                grade,
                nominal,
                printed,
                text,
                mark,
                note: note_of(notes, nominal),
                editions: Editions::ALL,
                source,
            });
        }
    }
    cells
}

fn mark_of(text: &str) -> Mark {
    match text {
        "cap26" => Mark::Capped26Ft,
        "brg" => Mark::Bearing,
        "suspect" => Mark::Suspect,
        "printings_differ" => Mark::PrintingsDiffer,
        _ => Mark::None,
    }
}

fn note_of(notes: &'static str, nominal: &str) -> &'static str {
    notes
        .split(" | ")
        .filter_map(|note| note.split_once(": "))
        .find_map(|(size, note)| (size == nominal).then_some(note))
        .unwrap_or("")
}

/// The printed cell, if the catalog has it.
#[must_use]
pub fn cell(
    table: SpanTable,
    dead_psf: f64,
    spacing_in: f64,
    species: Species,
    grade: Grade,
    nominal: &str,
) -> Option<&'static SpanCell> {
    if !table.is_carried() {
        return None;
    }
    let cells = if table.is_for_rafters() { rafter_cells() } else { joist_cells() };
    // The rows are in full factorial order, so the index can be computed instead of searched.
    let tables: &[SpanTable] =
        if table.is_for_rafters() { &SpanTable::RAFTERS } else { &SpanTable::JOISTS };
    let place =
        |found: Option<usize>, of: usize, so_far: Option<usize>| Some(so_far? * of + found?);
    let carried = tables.iter().filter(|t| t.is_carried());
    let dead = table.dead_loads_psf();
    let sizes = table.sizes();
    let mut at = carried.clone().position(|&t| t == table);
    at = place(dead.iter().position(|&d| d == dead_psf), dead.len(), at);
    at = place(SPACINGS_IN.iter().position(|&s| s == spacing_in), SPACINGS_IN.len(), at);
    at = place(Species::ALL.iter().position(|&s| s == species), 4, at);
    at = place(Grade::IN_SPAN_TABLES.iter().position(|&g| g == grade), 4, at);
    at = place(sizes.iter().position(|&s| s == nominal), sizes.len(), at);
    cells.get(at?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marked(cells: &[SpanCell], mark: Mark) -> usize {
        cells.iter().filter(|cell| cell.mark == mark).count()
    }

    /// Counts of the collected files (source S1, S2): 3840 and 256 cells with these marks.
    #[test]
    fn every_cell_and_mark_is_carried() {
        let rafters = rafter_cells();
        assert_eq!(rafters.len(), 3840);
        assert_eq!(marked(rafters, Mark::None), 3691);
        assert_eq!(marked(rafters, Mark::Over26Ft), 127);
        assert_eq!(marked(rafters, Mark::Bearing), 12);
        assert_eq!(marked(rafters, Mark::Suspect), 6);
        assert_eq!(marked(rafters, Mark::Capped26Ft), 4);
        let joists = joist_cells();
        assert_eq!(joists.len(), 256);
        assert_eq!(marked(joists, Mark::None), 219);
        assert_eq!(marked(joists, Mark::Over26Ft), 36);
        assert_eq!(marked(joists, Mark::Suspect), 1);
        for cell in rafters.iter().chain(joists) {
            if matches!(cell.mark, Mark::Suspect | Mark::Bearing | Mark::Capped26Ft) {
                assert!(!cell.note.is_empty(), "{cell:?}");
            }
        }
    }

    #[test]
    fn a_mark_no_carried_cell_has_is_read_too() {
        assert_eq!(mark_of("printings_differ"), Mark::PrintingsDiffer);
    }

    #[test]
    fn every_cell_is_found_at_its_own_place() {
        for cells in [rafter_cells(), joist_cells()] {
            for want in cells {
                let found = cell(
                    want.table,
                    want.dead_psf,
                    want.spacing_in,
                    want.species,
                    want.grade,
                    want.nominal,
                );
                assert!(found.is_some_and(|f| std::ptr::eq(f, want)), "{want:?}");
            }
        }
    }

    #[test]
    fn cells_read_by_eye_in_the_collected_files() {
        let at = |table, dead, spacing, species, grade, size| {
            cell(table, dead, spacing, species, grade, size).unwrap()
        };
        let first = at(
            SpanTable::RAFTERS[0],
            10.0,
            12.0,
            Species::DouglasFirLarch,
            Grade::SelectStructural,
            "2x4",
        );
        assert_eq!(first.printed, Printed::Span { inches: 138 });
        let misprint =
            at(SpanTable::RAFTERS[0], 20.0, 16.0, Species::DouglasFirLarch, Grade::No3, "2x8");
        assert_eq!((misprint.text, misprint.mark), ("12-12", Mark::Suspect));
        assert!(misprint.note.starts_with("recomputed 12-2"));
        let over = at(
            SpanTable::JOISTS[0],
            5.0,
            12.0,
            Species::DouglasFirLarch,
            Grade::SelectStructural,
            "2x10",
        );
        assert_eq!(over.printed, Printed::Over26Ft);
    }

    #[test]
    fn what_is_not_carried_is_none() {
        let snow_50 = SpanTable::RAFTERS[4];
        let none = |table, dead, spacing, grade, size| {
            cell(table, dead, spacing, Species::HemFir, grade, size).is_none()
        };
        assert!(none(snow_50, 10.0, 16.0, Grade::No2, "2x8"));
        assert!(none(SpanTable::RAFTERS[0], 15.0, 16.0, Grade::No2, "2x8"));
        assert!(none(SpanTable::RAFTERS[0], 10.0, 18.0, Grade::No2, "2x8"));
        assert!(none(SpanTable::RAFTERS[0], 10.0, 16.0, Grade::No1AndBetter, "2x8"));
        assert!(none(SpanTable::JOISTS[0], 5.0, 16.0, Grade::No2, "2x12"));
    }

    #[test]
    fn table_numbers_move_between_editions() {
        let numbers = |edition| SpanTable::RAFTERS.map(|t| t.number(edition));
        assert_eq!(numbers(Edition::Irc2021)[3], "R802.4.1(4)");
        // Head of the collected file: 2015 (4) = 50 psf not attached, (5) = 30 psf attached.
        assert_eq!(numbers(Edition::Irc2015)[3], "R802.5.1(5)");
        assert_eq!(numbers(Edition::Irc2015)[4], "R802.5.1(4)");
        assert_eq!(SpanTable::JOISTS[0].number(Edition::Irc2015), "R802.4(1)");
        assert_eq!(SpanTable::JOISTS[1].number(Edition::Irc2024), "R802.5.1(2)");
    }
}
