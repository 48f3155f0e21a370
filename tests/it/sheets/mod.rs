//! The set of sheets as its reader gets it: files, pages, and every number on them.

mod any_roof;
mod command;
mod numbers;
mod plan_set;
mod snapshots;

use crate::pdf_page::{self, PdfPage};
use crate::support::stepoff;

/// The demo and three odd roofs, with the units that each is drawn in.
const ROOFS: [(&str, &str); 4] = [
    ("examples/kestrel-yard.toml", "feet"),
    ("examples/odd/shallow.toml", "feet"),
    ("examples/odd/steep.toml", "feet"),
    ("examples/odd/metric.toml", "metric"),
];

/// The pages of the set, read back from the PDF.
#[track_caller]
fn set(roof: &str, units: &str, more: &[&str]) -> Vec<PdfPage> {
    let mut arguments = vec!["sheets", roof, "-o", "-", "--units", units];
    arguments.extend(more);
    let output = stepoff(&arguments);
    assert!(
        matches!(output.status.code(), Some(0 | 1)),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    pdf_page::pages(&output.stdout)
}
