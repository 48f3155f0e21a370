//! The demo's roof with some lines changed, checked: for tests.

use crate::frame::Frame;
use crate::plan::{ChecksPlan, Entries, GablePlan, file};

use super::book::Book;
use super::check;
use super::finding::Finding;

/// The demo with lines replaced, each by its start, and more at its end.
pub(super) fn changed(lines: &[(&str, &str)], more: &str) -> String {
    let mut text = include_str!("../../examples/kestrel-yard.toml").to_owned();
    for (start, instead) in lines {
        let mut found = false;
        let with: Vec<&str> = text
            .lines()
            .map(|line| {
                let is_it = line.starts_with(start);
                found |= is_it;
                if is_it { *instead } else { line }
            })
            .collect();
        assert!(found, "no line starts with {start}");
        text = with.join("\n");
    }
    format!("{text}\n{more}\n")
}

/// What is checked: a frame and what it is held against.
pub(super) fn with_book<T>(text: &str, asked: impl FnOnce(&Book<'_>) -> T) -> T {
    let mut entries = Entries::default();
    let faults = file::read(text, &mut entries).faults;
    assert!(faults.is_empty(), "{faults:?}");
    let plan = GablePlan::read(&entries).unwrap_or_else(|faults| panic!("{faults:?}"));
    let frame = Frame::build(&plan).unwrap_or_else(|why| panic!("{why:?}"));
    let (_, checks, _) = ChecksPlan::read(&entries).unwrap_or_else(|faults| panic!("{faults:?}"));
    asked(&Book { frame: &frame, checks: &checks })
}

/// The finding of a name, if there is one.
pub(super) fn found(text: &str, name: &str) -> Option<Finding> {
    with_book(text, |book| {
        check::findings(book).into_iter().find(|finding| finding.id.name() == name)
    })
}

/// All that a finding says, in US units.
pub(super) fn said(finding: &Finding) -> String {
    let notes = finding.notes.iter().map(|note| note.write(crate::measure::Writing::default()));
    notes.collect::<Vec<_>>().join("; ")
}
