//! Why a proof is ignored.

/// Why a proof is not one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// Numbers are missing, of the wrong sign, or point nowhere.
    Malformed(&'static str),
    /// It leans on an earlier level that is not proven, as when the caller stopped before that was checked.
    Leaning,
    /// Sums grow too large.
    TooLarge,
    /// Too many columns to list.
    TooMany,
    /// The caller would not wait for the end.
    Stopped,
}
