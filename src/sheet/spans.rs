//! `spans` as tables.

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::catalog::span_tables::{Mark, Printed};
use crate::facts::caution;
use crate::facts::datum::{Exact, Figure};
use crate::facts::record::{keys, row};
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Direction, Tape, Units, Writing, trim};
use crate::strength::loads::psf_figure;
use crate::strength::member::GovernedBy;
use crate::strength::span_query::SpanRow;
use crate::strength::spans::{Basis, Framing, SpanCase};
use crate::strength::working::feet_inches;

use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// What no flag of this command knows: the slope.
fn steep_only() -> String {
    let (steep, other) = (RuleId::DeflRafterNoCeiling.rule(), RuleId::DeflOther.figure());
    let over = RuleId::DeflRafterNoCeiling.figure();
    let slope = steep.slope_in_12.unwrap_or_default();
    format!(
        "L/{over} is for rafters steeper than {slope} in 12 ({}); at {slope} in 12 and lower take L/{other}, the figures \
         with the ceiling attached",
        steep.section
    )
}

/// Up to this many rows are listed one by one, with all their data.
const LISTED_ROWS: usize = 40;
/// Up to this many rows are explained line by line.
const EXPLAINED_ROWS: usize = 12;

/// The spans as tables: listed one by one if there are few, otherwise a grid with a column for each
/// size.
#[must_use]
pub fn text(
    rows: &[SpanRow],
    left_out: &[String],
    edition: Edition,
    look: &Look,
    depth: Depth,
) -> String {
    let mut page = Page::new(look, depth);
    let groups: Vec<&[SpanRow]> = rows.chunk_by(same_group).collect();
    page.say(&format!(
        "{}, {edition}. Horizontal projection; loads per area of projection; feet-inches as the code prints them.",
        counted(rows, groups.len())
    ));
    let listed = rows.len() <= LISTED_ROWS;
    let table = |group: &[SpanRow]| {
        if listed { list(group, edition, look) } else { grid(group, edition, look) }
    };
    // with more than two tables even the second would only take room from the first
    let shown_tables = if groups.len() > FIRST_TABLES { 1 } else { FIRST_TABLES };
    page.first(|page| {
        if groups.len() > FIRST_TABLES {
            page.say("Narrow the question: stepoff spans --member rafter --species SPF --grade No.2 --spacing 16 --snow 30");
        }
        for group in groups.iter().take(shown_tables) {
            page.list(if listed {
                let columns =
                    keys!(Listed: spacing, species, grade, size, span, printed, governs, rests_on);
                table(group).picked(columns)
            } else {
                table(group)
            });
        }
        page.gap();
        if !listed {
            page.say(SIGNS);
        }
        let shown: Vec<&SpanRow> =
            groups.iter().take(shown_tables).copied().flatten().collect();
        page.say_all(notes(&shown, left_out, look.writing));
    });
    let name = match groups.len() {
        0..=FIRST_TABLES => "exact spans".to_owned(),
        many => format!("all {many} tables"),
    };
    page.more(&name, || {
        let tables: Vec<String> = groups.iter().map(|group| table(group).text(look)).collect();
        tables.join("\n")
    });
    page.more("", || {
        let legend = if listed { String::new() } else { wrapped(LEGEND, 2, look) + "\n" };
        let all: Vec<&SpanRow> = rows.iter().collect();
        let notes = notes(&all, left_out, look.writing);
        legend + &notes.iter().map(|note| wrapped(note, 2, look)).collect::<String>()
    });
    page.workings(|| explained(rows, edition, look));
    page.caution(caution::SPANS_IN_SHORT, caution::SPANS);
    page.end()
}

/// Tables of the first screen.
const FIRST_TABLES: usize = 2;

/// How many spans of what, in how many tables.
fn counted(rows: &[SpanRow], tables: usize) -> String {
    let joists = rows.iter().filter(|row| matches!(row.case.framing, Framing::CeilingJoist(_)));
    let what = match joists.count() {
        0 => "rafters",
        joists if joists == rows.len() => "ceiling joists",
        _ => "rafters and ceiling joists",
    };
    let spans = if rows.len() == 1 { "span" } else { "spans" };
    let tables = if tables > 1 { format!(" in {tables} tables") } else { String::new() };
    format!("{} {spans} of {what}{tables}", rows.len())
}

const LEGEND: &str = "The letter says what governs the formula: b bending, d deflection, s shear, c crushing at the end \
     bearing. A figure alone is printed and the formula gives the same. (12-3) after it: printed, but the formula gives \
     12-3. ~ before it: calculated in the table's terms; check the code's table. ! before it: calculated instead of a \
     misprinted cell. ^ before it: the cell of the next heavier load covers it. v before it: calculated and rounded \
     down, not from a code table.";

/// The signs of a grid, in short.
const SIGNS: &str = "b bending, d deflection, s shear, c crushing at the bearing; ~ calculated: check the code's table; ! instead of a \
     misprint; ^ of the next heavier load; v not from a code table.";

fn same_group(a: &SpanRow, b: &SpanRow) -> bool {
    let (a, b) = (&a.case, &b.case);
    a.framing == b.framing
        && a.ceiling_attached == b.ceiling_attached
        && a.dead == b.dead
        && a.deflection_limit == b.deflection_limit
}

/// Member, loads and ceiling in words, with the number of the table.
fn title(group: &[SpanRow], edition: Edition, look: &Look) -> String {
    let Some(SpanRow { case, answer }) = group.first() else {
        return String::new();
    };
    let load = look.writing.psf(case.framing.live_or_snow_psf(), 2);
    let dead = look.writing.psf(psf_figure(case.dead), 2);
    let limit = case.deflection_limit;
    let what = match case.framing {
        Framing::Rafter(kind) => format!(
            "Rafters, {} {load}, dead {dead}, ceiling {}, L/{limit}",
            kind.name(),
            if case.ceiling_attached { "attached" } else { "not attached" }
        ),
        Framing::CeilingJoist(_) => {
            format!("Ceiling joists, attic live {load}, dead {dead}, L/{limit}")
        }
    };
    // the table has only its own spacings; the first row that is in it gives its number
    match group
        .iter()
        .find_map(|row| row.answer.printed_in(edition))
        .or_else(|| answer.printed_in(edition))
    {
        Some(number) => format!("{what}: table {number}"),
        None => format!("{what}: no code table"),
    }
}

row! {
    /// A span with everything that is known of it.
    Listed from (row: &SpanRow, look: &Look) with {
        let (case, answer) = (&row.case, &row.answer);
    } {
        spacing "spacing": Figure = spacing(case, look);
        species "species": String = case.species.to_string();
        grade "grade": String = case.grade.to_string();
        size "size": &'static str = case.size.nominal;
        span "span": Figure = span(answer.span_in, answer.over_26_ft, look);
        printed "printed": Figure = printed(row);
        formula "formula": Figure = span(answer.computed_in, answer.exact_in > 312.0, look);
        exact "exact": Exact = answer.exact_in;
        governs "governs": &'static str = answer.governed_by.name();
        rests_on "rests on": &'static str = answer.basis.short();
    }
}

fn list(group: &[SpanRow], edition: Edition, look: &Look) -> Table {
    let rows = group.iter().map(|row| Listed::of(row, look));
    Table::of(title(group, edition, look), rows, look.writing)
}

/// The printed cell as in the code.
fn printed(row: &SpanRow) -> String {
    match row.answer.printed {
        None => "-".to_owned(),
        Some(cell) => {
            let text = match cell.printed {
                Printed::Span { .. } => cell.text.to_owned(),
                Printed::Over26Ft => "over 26-0".to_owned(),
            };
            if cell.mark == Mark::Suspect { text + " misprint" } else { text }
        }
    }
}

fn grid(group: &[SpanRow], edition: Edition, look: &Look) -> Table {
    let mut sizes: Vec<&str> = Vec::new();
    for row in group {
        if !sizes.contains(&row.case.size.nominal) {
            sizes.push(row.case.size.nominal);
        }
    }
    let mut columns =
        vec![("spacing", Align::Right), ("species", Align::Left), ("grade", Align::Left)];
    columns.extend(sizes.iter().map(|&size| (size, Align::Right)));
    let mut table = Table::new(title(group, edition, look), &columns);
    let same_line = |a: &SpanRow, b: &SpanRow| {
        a.case.spacing == b.case.spacing
            && a.case.species == b.case.species
            && a.case.grade == b.case.grade
    };
    for line in group.chunk_by(same_line) {
        let Some(first) = line.first() else { continue };
        let mut cells = vec![
            spacing(&first.case, look),
            first.case.species.to_string(),
            first.case.grade.to_string(),
        ];
        cells.extend(sizes.iter().map(|&size| {
            line.iter()
                .find(|row| row.case.size.nominal == size)
                .map_or("-".to_owned(), |row| cell(row, look))
        }));
        table.row(cells);
    }
    table
}

fn cell(row: &SpanRow, look: &Look) -> String {
    let answer = &row.answer;
    let before = match answer.basis {
        Basis::PrintedCell => "",
        Basis::TableTerms => "~",
        Basis::InsteadOfMisprint => "!",
        Basis::HeavierCell { .. } => "^",
        Basis::Formula => "v",
    };
    let letter = match answer.governed_by {
        GovernedBy::Bending => "b",
        GovernedBy::Deflection => "d",
        GovernedBy::Shear => "s",
        GovernedBy::Bearing => "c",
    };
    let shown = span(answer.span_in, answer.over_26_ft, look);
    // a mark is directly before a figure, but has a space before a word
    let apart = if answer.over_26_ft && !before.is_empty() { " " } else { "" };
    let formula = if answer.basis == Basis::PrintedCell && answer.computed_in != answer.span_in {
        format!(" ({})", span(answer.computed_in, answer.exact_in > 312.0, look))
    } else {
        String::new()
    };
    format!("{before}{apart}{shown} {letter}{formula}")
}

fn spacing(case: &SpanCase, look: &Look) -> String {
    match look.writing.units {
        Units::Millimeters => look.writing.length(case.spacing),
        Units::Feet | Units::Inches => format!("{} in", trim(case.spacing.inches(), 3)),
    }
}

/// A span as the code's tables write it, or in inches or millimeters, rounded down.
fn span(span_in: u32, over_26_ft: bool, look: &Look) -> String {
    let shown = match look.writing.units {
        Units::Feet => feet_inches(span_in),
        Units::Inches => format!("{span_in}\""),
        Units::Millimeters => {
            Tape::read(inches(f64::from(span_in)), look.writing.step, Direction::Down).to_string()
        }
    };
    if over_26_ft { format!("over {shown}") } else { shown }
}

/// Every note once, with the number of its rows.
fn notes(rows: &[&SpanRow], left_out: &[String], writing: Writing) -> Vec<String> {
    let mut counted: Vec<(String, usize)> = Vec::new();
    for row in rows {
        for note in row.case.cautions(&row.answer) {
            let note = note.write(writing);
            match counted.iter_mut().find(|(known, _)| *known == note) {
                Some((_, count)) => *count += 1,
                None => counted.push((note, 1)),
            }
        }
    }
    let is_steep = |row: &&&SpanRow| {
        matches!(row.case.framing, Framing::Rafter(_))
            && f64::from(row.case.deflection_limit) < const { RuleId::DeflOther.figure() }
    };
    let steep = rows.iter().filter(is_steep).count();
    if steep > 0 {
        counted.push((steep_only(), steep));
    }
    if !left_out.is_empty() {
        let what = format!("no design values, left out: {}", left_out.join(", "));
        counted.push((what, 0));
    }
    let told = |(note, count): (String, usize)| {
        if count > 1 && count < rows.len() {
            format!("Note: {note} ({count} rows).")
        } else {
            format!("Note: {note}.")
        }
    };
    counted.into_iter().map(told).collect()
}

fn explained(rows: &[SpanRow], edition: Edition, look: &Look) -> String {
    if rows.len() > EXPLAINED_ROWS {
        let words = format!(
            "Workings are shown for up to {EXPLAINED_ROWS} rows, and these are {}. Narrow the question.",
            rows.len()
        );
        return wrapped(&words, 2, look);
    }
    let mut text = String::new();
    for SpanRow { case, answer } in rows {
        text.push_str(&format!(
            "How {} {} {} at {} comes about\n",
            case.species,
            case.grade,
            case.size.nominal,
            spacing(case, look)
        ));
        for step in case.working(answer, edition) {
            text.push_str(&wrapped(&format!("  {}", step.write(look.writing)), 6, look));
        }
    }
    text.push_str(&wrapped(
        "  [S..] are the sources in docs/sources.md; inches, pounds and psi throughout.",
        4,
        look,
    ));
    text
}
