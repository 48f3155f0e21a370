//! Why a question has no answer.

use super::Refused;

/// Why a question has no answer.
#[derive(Debug)]
pub enum NoAnswer {
    /// What was written is refused, each file by itself.
    Refused(Vec<Refused>),
    /// The search was stopped before it had anything to show; its progress as a sentence.
    Stopped(String),
}

impl NoAnswer {
    /// Every fault with its place and what to write instead, as text; with a terminal's escape codes if
    /// `styled`.
    #[must_use]
    pub fn text(&self, styled: bool) -> String {
        match self {
            NoAnswer::Refused(all) => all.iter().map(|refused| refused.text(styled)).collect(),
            NoAnswer::Stopped(how_far) => format!("error: {how_far}\n"),
        }
    }
}

impl From<Refused> for NoAnswer {
    fn from(refused: Refused) -> NoAnswer {
        NoAnswer::Refused(vec![refused])
    }
}

/// All values, or the faults of all together.
pub(super) fn all<T>(each: impl Iterator<Item = Result<T, Refused>>) -> Result<Vec<T>, NoAnswer> {
    let (mut values, mut refusals) = (Vec::new(), Vec::new());
    for one in each {
        match one {
            Ok(value) => values.push(value),
            Err(refused) => refusals.push(refused),
        }
    }
    if refusals.is_empty() { Ok(values) } else { Err(NoAnswer::Refused(refusals)) }
}
