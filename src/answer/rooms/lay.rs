//! Layout lines, row by row.

use serde::Serialize;

use crate::frame::{LayoutLine, Sticks};
use crate::measure::quantity::InInches;
use crate::measure::{Length, Writing};
use crate::sheet::{layout, sides};

use super::looked::Looked;

/// What the layout hand works from.
#[derive(Debug, Serialize)]
pub(super) struct LayView {
    /// What is laid out, in a line.
    what: String,
    /// How every line is marked.
    hook: &'static str,
    lines: Vec<Line>,
    /// How the two eaves differ, joints, collar ties, where on a stick the marks are: a sentence each.
    notes: Vec<String>,
}

/// One line to mark.
#[derive(Debug, Serialize)]
struct Line {
    on: String,
    /// Where the tape is hooked.
    from: &'static str,
    x_side: &'static str,
    length: String,
    rows: Vec<Row>,
}

/// One stick at its mark.
#[derive(Debug, Serialize)]
struct Row {
    number: usize,
    mark: String,
    what: &'static str,
    at: String,
    said: String,
    /// Where the stick starts and how much it covers, as parts of the line's length: for a strip drawn to scale.
    part: f64,
    covers: f64,
}

pub(super) fn view(looked: &Looked, writing: Writing) -> LayView {
    let sticks = looked.sticks();
    let (what, notes) = match sticks.gable {
        Some(frame) => (
            layout::what(frame, writing),
            vec![
                layout::eaves_differ(frame, writing),
                layout::joints(frame, writing),
                layout::collar_ties(frame, writing).unwrap_or_default(),
            ],
        ),
        None => (sides::what(sticks, writing), vec![sides::ON_TOPS.to_owned()]),
    };
    LayView {
        what,
        hook: layout::HOOK,
        lines: sticks.layout.iter().map(|line| of_line(sticks, line, writing)).collect(),
        notes: notes.into_iter().filter(|note| !note.is_empty()).collect(),
    }
}

fn of_line(sticks: Sticks<'_>, line: &LayoutLine, writing: Writing) -> Line {
    let whole = line.length.inches();
    let part = |of: Length| if whole > 0.0 { of.inches() / whole } else { 0.0 };
    let rows = sticks.standing(line).into_iter().zip(1..).map(|(stick, number)| Row {
        number,
        mark: stick.mark,
        what: stick.role.words(),
        at: writing.length(stick.at),
        said: writing.said(stick.at),
        part: part(stick.at),
        covers: part(stick.covers),
    });
    Line {
        on: line.on.clone().into_owned(),
        from: line.from,
        x_side: line.x_side,
        length: writing.length(line.length),
        rows: rows.collect(),
    }
}
