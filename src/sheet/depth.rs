//! How much of a page is shown.

/// How much of a page is shown, from what was asked to all that led to it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// What was asked, on one screen.
    #[default]
    First,
    /// The whole page: every table, every value used, every note.
    More,
    /// The whole page, and how each number comes about.
    Explain,
}

impl Depth {
    /// True if the page says how its numbers come about.
    #[must_use]
    pub fn explains(self) -> bool {
        self == Depth::Explain
    }
}
