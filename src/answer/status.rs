//! Whether what was found needs anybody.

use crate::rules::{Finding, Verdict};

/// The outcome of a question that was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Nothing fails or needs design.
    Done,
    /// Something fails or needs design.
    Open,
}

impl Status {
    /// The status that follows from verdicts: the one place that decides it.
    pub fn of(verdicts: impl IntoIterator<Item = Verdict>) -> Status {
        if verdicts.into_iter().any(Verdict::is_open) { Status::Open } else { Status::Done }
    }

    /// The status that follows from findings.
    #[must_use]
    pub fn of_findings(findings: &[Finding]) -> Status {
        Status::of(findings.iter().map(|finding| finding.verdict))
    }
}
