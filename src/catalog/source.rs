//! The source keys of the rows; `docs/sources.md` describes each one.

use std::fmt;

/// Key of a source in `docs/sources.md`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// IRC 2015 to 2024 roof chapter as adopted: rafter span tables.
    S1,
    /// IRC 2015 to 2024: ceiling joist span table.
    S2,
    /// IRC 2015 to 2024: heel joint nail tables.
    S3,
    /// IRC 2015 to 2024: factors for raised ties.
    S4,
    /// IRC 2015 to 2024: uplift table R802.11.
    S5,
    /// IRC 2015 to 2024, chapters 3, 5, 6, 8, 9: single rules.
    S6,
    /// NDS Supplement design values, current; written from memory, in part confirmed by printed cells.
    S7,
    /// NDS Supplement design values, superseded; written from memory.
    S8,
    /// Size factors as read in a grading rule book, same as NDS Supplement table 4A.
    S9,
    /// PS 20 dry sizes; written from memory, in part confirmed by a size list.
    S10,
    /// Nail sizes named in IRC table R602.3(1).
    S11,
    /// Nail sizes and bending yield strengths written from memory (ASTM F1667, NDS appendix I).
    S12,
    /// How the printed tables are calculated: recomputation of every printed cell.
    S14,
    /// Statics, derived in `docs/derivations/`.
    S15,
    /// NDS beam design, written from memory.
    S16,
    /// IRC 2015 to 2024: wood structural panels by span rating, table R503.2.1.1(1).
    S17,
}

impl Source {
    /// True if the values were written from memory, not read.
    #[cfg(test)]
    pub(super) fn is_memory(self) -> bool {
        matches!(self, Source::S7 | Source::S8 | Source::S10 | Source::S12 | Source::S16)
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}
