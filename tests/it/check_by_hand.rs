//! The whole check of Kestrel Yard against `docs/derivations/kestrel-check.md`, redone by hand.

use stepoff::frame::Frame;
use stepoff::plan::{ChecksPlan, Entries, file};
use stepoff::rules::{Book, Finding, check};

use crate::support::text;

const BY_HAND: &str = include_str!("../../docs/derivations/kestrel-check.md");

/// The cell's figure, if it has one, and the tolerance from its last digit.
fn figure(cell: &str) -> Option<(f64, f64)> {
    let number = cell.split_whitespace().next()?;
    let value = number.parse().ok()?;
    let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    // the hand calculation rounds at every step, so a unit of the last digit is allowed
    Some((value, 10.0_f64.powi(-(decimals as i32)) * if decimals == 0 { 1e-6 } else { 1.01 }))
}

#[track_caller]
fn same(row: &str, cell: &str, program: Option<f64>) {
    match (figure(cell), program) {
        (Some((by_hand, last_digit)), Some(program)) => {
            assert!((by_hand - program).abs() <= last_digit, "{row}\nprogram: {program}");
        }
        (None, None) => assert_eq!(cell, "-", "{row}"),
        _ => panic!("{row}\nprogram: {program:?}"),
    }
}

#[test]
fn every_finding_stands_there_with_its_figures() {
    let mut entries = Entries::default();
    file::read(&text("examples/kestrel-yard.toml"), &mut entries);
    let (plan, checks, _) = ChecksPlan::read(&entries).unwrap();
    let frame = Frame::build(&plan).unwrap();
    let mut left: Vec<Finding> = check::findings(&Book { frame: &frame, checks: &checks });
    for row in BY_HAND.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let (id, which) = cells[1].trim_start_matches('`').split_once('`').unwrap();
        let at = left
            .iter()
            .position(|finding| finding.id.name() == id && finding.title.contains(which.trim()))
            .unwrap_or_else(|| panic!("the program has no such finding: {row}"));
        let finding = left.remove(at);
        same(row, cells[3], finding.found);
        same(row, cells[4], finding.limit);
    }
    assert!(left.is_empty(), "not on the page: {left:?}");
}
