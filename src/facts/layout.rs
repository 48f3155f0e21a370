//! `layout` as JSON and CSV.

use std::borrow::Cow;

use crate::frame::{Frame, LayoutLine, Standing, Sticks};
use crate::measure::{Length, Writing};

use super::common::{self, UsedJson};
use super::datum::Inches;
use super::record::record;

record! {
    /// The result of `layout`.
    LayoutReport from (sticks: Sticks<'_>) {
        /// `layout`.
        command: &'static str = "layout";
        /// Every value used.
        used: Vec<UsedJson> = &sticks.plan.rafter.used;
        /// One line for each plate and each face of the ridge; of other roofs also for each side of a hip or valley.
        lines: Vec<LineJson> = sticks.layout.iter().map(|line| (sticks, line));
        /// Which marks of eave B differ from eave A, if the roof is one gable: their numbers, from 1.
        differing_marks: Vec<usize> = sticks.gable.map_or_else(Vec::new, Frame::differing_marks);
        /// What was left out or differs, and why.
        notes: Vec<String> = common::notes(sticks.notes);
    }
}

record! {
    /// Tape marks along one line, inches from its named end.
    LineJson from (sticks: Sticks<'_>, line: &LayoutLine) {
        /// What is marked.
        on: Cow<'static, str> = line.on.clone();
        /// Where the tape is hooked.
        from: &'static str = line.from;
        /// Leading edges of the rafters.
        marks_in: Vec<Inches> = line.marks.iter().copied();
        /// Leading edges of the joists that stand on the plate; joists off it stand beside their rafters.
        joist_marks_in: Vec<Inches> = line.joist_marks.iter().copied();
        /// On which side of its mark the stick goes.
        x_side: &'static str = line.x_side;
        /// From the hook to the line's other end.
        length_in: Inches = line.length;
        /// The sticks that stand at the marks, in the order of the tape; rafter ties and joists off the
        /// plate too, which stand beside a rafter's.
        sticks: Vec<StandingJson> = sticks.standing(line);
    }
}

record! {
    /// One stick at its mark.
    StandingJson from (stick: Standing) {
        /// The mark of its pattern.
        mark: String = stick.mark;
        /// Its id, as `frame` has it.
        id: String = stick.id;
        /// What it does.
        role: &'static str = stick.role.words();
        /// Leading edge, from the hook.
        at_in: Inches = stick.at;
    }
}

record! {
    /// One mark.
    MarkRow from (line: &LayoutLine, what: &'static str, number: usize, mark: Length, writing: Writing) {
        /// What is marked.
        on: Cow<'static, str> = line.on.clone();
        /// Where the tape is hooked.
        from: &'static str = line.from;
        /// `rafter` or `joist`.
        what: &'static str = what;
        /// Number of the mark along the tape, from 1.
        number: usize = number;
        /// Leading edge, from the hook.
        mark_in: Inches = mark;
        /// The same as the tape shows it.
        tape: String = writing.length(mark);
        /// On which side of its mark the stick goes.
        x_side: &'static str = line.x_side;
    }
}

/// One row for each mark.
#[must_use]
pub fn rows(sticks: Sticks<'_>, writing: Writing) -> Vec<MarkRow> {
    let mut rows = Vec::new();
    for line in sticks.layout {
        for (what, marks) in [("rafter", &line.marks), ("joist", &line.joist_marks)] {
            let numbered = (1..).zip(marks);
            rows.extend(
                numbered.map(|(number, mark)| MarkRow::of(line, what, number, *mark, writing)),
            );
        }
    }
    rows
}
