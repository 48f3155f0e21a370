//! `layout` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::frame::Frame;
use crate::measure::Writing;
use crate::measure::quantity::inches;

use super::common::{self, UsedJson};

/// The result of `layout`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LayoutReport {
    /// `layout`.
    pub command: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// One line for each plate and each face of the ridge.
    pub lines: Vec<LineJson>,
    /// Which marks of eave B differ from eave A: their numbers, from 1.
    pub differing_marks: Vec<usize>,
    /// What was left out or differs, and why.
    pub notes: Vec<String>,
}

/// Tape marks along one line, inches from its named end.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LineJson {
    /// What is marked.
    pub on: &'static str,
    /// Where the tape is hooked.
    pub from: &'static str,
    /// Leading edges of the rafters.
    pub marks_in: Vec<f64>,
    /// Leading edges of the joists that stand on the plate; joists off it stand beside their rafters.
    pub joist_marks_in: Vec<f64>,
    /// On which side of its mark the stick goes.
    pub x_side: &'static str,
    /// From the hook to the line's other end.
    pub length_in: f64,
    /// The sticks that stand at the marks, in the order of the tape; rafter ties and joists off the
    /// plate too, which stand beside a rafter's.
    pub sticks: Vec<StandingJson>,
}

/// One stick at its mark.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StandingJson {
    /// The mark of its pattern.
    pub mark: String,
    /// What it does.
    pub role: &'static str,
    /// Leading edge, from the hook.
    pub at_in: f64,
}

/// The whole result.
#[must_use]
pub fn report(frame: &Frame) -> LayoutReport {
    LayoutReport {
        command: "layout",
        used: common::used(&frame.plan.rafter.used),
        lines: frame
            .layout
            .iter()
            .map(|line| LineJson {
                on: line.on,
                from: line.from,
                marks_in: line.marks.clone(),
                joist_marks_in: line.joist_marks.clone(),
                x_side: line.x_side,
                length_in: line.length,
                sticks: frame
                    .standing(line)
                    .into_iter()
                    .map(|stick| StandingJson {
                        mark: stick.mark,
                        role: stick.role.words(),
                        at_in: stick.at,
                    })
                    .collect(),
            })
            .collect(),
        differing_marks: frame.differing_marks(),
        notes: common::notes(&frame.notes),
    }
}

/// One mark.
#[derive(Debug, Serialize)]
pub struct MarkRow {
    /// What is marked.
    pub on: &'static str,
    /// Where the tape is hooked.
    pub from: &'static str,
    /// `rafter` or `joist`.
    pub what: &'static str,
    /// Number of the mark along the tape, from 1.
    pub number: usize,
    /// Leading edge, from the hook.
    pub mark_in: f64,
    /// The same as the tape shows it.
    pub tape: String,
    /// On which side of its mark the stick goes.
    pub x_side: &'static str,
}

/// One row for each mark.
#[must_use]
pub fn rows(frame: &Frame, writing: Writing) -> Vec<MarkRow> {
    frame
        .layout
        .iter()
        .flat_map(|line| {
            let rafters = line.marks.iter().map(|mark| ("rafter", *mark));
            let joists = line.joist_marks.iter().map(|mark| ("joist", *mark));
            let number = |index: usize| {
                if index < line.marks.len() { index } else { index - line.marks.len() }
            };
            rafters.chain(joists).enumerate().map(move |(index, (what, mark))| MarkRow {
                on: line.on,
                from: line.from,
                what,
                number: number(index) + 1,
                mark_in: mark,
                tape: writing.length(inches(mark)),
                x_side: line.x_side,
            })
        })
        .collect()
}
