//! The few code limits that the pattern rafter needs, as constants.
//!
//! Each carries the id of its row in `data/code_rules.toml`; a test holds the two
//! together. They stand apart so that printing one rafter does not read the whole
//! rules file.

use super::code_rules::RuleId;
use crate::measure::quantity::{Length, inches};

/// One limit: its id in the rules file, its section, and the value there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The `id` of the row.
    pub id: RuleId,
    /// The section of the model code, 2018 numbering and later.
    pub section: &'static str,
    /// The figure, in the row's unit.
    pub value: f64,
}

impl Limit {
    /// The figure as a length in inches.
    #[must_use]
    pub fn inches(&self) -> Length {
        inches(self.value)
    }
}

/// Editions of the model code in which these limits read the same.
pub const EDITIONS: &str = "IRC 2015 to 2024";

/// Deepest notch at the end of a member, as a part of its depth.
pub const NOTCH_AT_END: Limit =
    Limit { id: RuleId::NotchEnd, section: "R802.7.1 (R502.8.1)", value: 0.25 };

/// Least bearing of a rafter or ceiling joist end on wood, in.
pub const BEARING_ON_WOOD: Limit = Limit { id: RuleId::BearingWood, section: "R802.6", value: 1.5 };

/// Least wood left over the notch of a cantilevered tail, in.
pub const TAIL_REMAINING: Limit =
    Limit { id: RuleId::TailNotchRemaining, section: "R802.7.1.1", value: 3.5 };

/// Longest cantilever to which the tail notch rule applies, in.
pub const TAIL_CANTILEVER: Limit =
    Limit { id: RuleId::TailNotchCantilever, section: "R802.7.1.1", value: 24.0 };

/// Least pitch, rise in 12, at which a ridge board will do.
pub const RIDGE_BOARD_PITCH: Limit =
    Limit { id: RuleId::RidgeLowSlopeBeam, section: "R802.4.4", value: 3.0 };
