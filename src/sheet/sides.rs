//! `layout` on one page for a roof that is more than one gable: the marks side by side with what stands at them.

use crate::facts::datum::Inches;
use crate::facts::record::row;
use crate::frame::{LayoutLine, Standing, Sticks};
use crate::measure::Writing;

use super::check::count;
use super::layout::HOOK;
use super::page::Page;
use super::{Depth, Look, Table};

row! {
    /// One mark of a side.
    MarkRow from (line: Option<&LayoutLine>, stick: &Standing) {
        on "on": Option<String> = line.map(|line| line.on.clone().into_owned());
        at "mark": Inches = stick.at;
        mark "stick": String = &stick.mark;
        what "what": &'static str = stick.role.words();
        id "id": String = &stick.id;
    }
}

/// What is laid out, in words.
#[must_use]
pub fn what(sticks: Sticks<'_>, writing: Writing) -> String {
    let marks: usize = sticks.layout.iter().map(|line| line.marks.len()).sum();
    format!(
        "layout of rafters at {} on center: {marks} marks along {} of plates, ridges, hips and valleys",
        writing.length(sticks.plan.spacing),
        count(sticks.layout.len(), "side", "sides"),
    )
}

/// Where on a sloped or level stick its marks are.
pub const ON_TOPS: &str = "Marks on ridges, hips and valleys are along the middle of their tops.";

/// The page: every plate, then every side of ridges, hips and valleys, mark by mark.
#[must_use]
pub fn text(sticks: Sticks<'_>, look: &Look, depth: Depth) -> String {
    let plan = sticks.plan;
    let writing = look.writing;
    let name = plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let mut page = Page::new(look, depth);
    page.say(&format!("{name}{}.", what(sticks, writing)));
    page.say(HOOK);
    // one table for each place where the tape is hooked, in the order in which they first come
    let mut hooks: Vec<&str> = sticks.layout.iter().map(|line| line.from).collect();
    let mut seen = std::collections::BTreeSet::new();
    hooks.retain(|from| seen.insert(*from));
    for from in hooks {
        let mut rows = Vec::new();
        for line in sticks.layout.iter().filter(|line| line.from == from) {
            let standing = sticks.standing(line);
            let firsts = std::iter::once(Some(line)).chain(std::iter::repeat(None));
            rows.extend(standing.iter().zip(firsts).map(|(stick, line)| MarkRow::of(line, stick)));
        }
        page.list(Table::of(format!("Tape hooked at: {from}"), rows, writing));
    }
    page.notes(sticks.notes);
    page.used(&plan.rafter.used);
    page.end()
}
