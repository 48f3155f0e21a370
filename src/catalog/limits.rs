//! The few code limits that the pattern rafter needs, each with its rule.

use super::code_rules::RuleId;
use crate::measure::quantity::{Length, inches};

/// One limit: its rule, and a section number that fits every edition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The rule.
    pub id: RuleId,
    /// The section of the model code, 2018 numbering and later.
    pub section: &'static str,
}

impl Limit {
    /// The figure, in the row's unit.
    #[must_use]
    pub const fn value(&self) -> f64 {
        self.id.figure()
    }

    /// The figure as a length in inches.
    #[must_use]
    pub fn inches(&self) -> Length {
        inches(self.value())
    }
}

/// Editions of the model code in which these limits read the same.
pub const EDITIONS: &str = "IRC 2015 to 2024";

/// Deepest notch at the end of a member, as a part of its depth.
pub const NOTCH_AT_END: Limit = Limit { id: RuleId::NotchEnd, section: "R802.7.1 (R502.8.1)" };

/// Least bearing of a rafter or ceiling joist end on wood, in.
pub const BEARING_ON_WOOD: Limit = Limit { id: RuleId::BearingWood, section: "R802.6" };

/// Least wood left over the notch of a cantilevered tail, in.
pub const TAIL_REMAINING: Limit = Limit { id: RuleId::TailNotchRemaining, section: "R802.7.1.1" };

/// Longest cantilever to which the tail notch rule applies, in.
pub const TAIL_CANTILEVER: Limit = Limit { id: RuleId::TailNotchCantilever, section: "R802.7.1.1" };

/// Least pitch, rise in 12, at which a ridge board is enough.
pub const RIDGE_BOARD_PITCH: Limit = Limit { id: RuleId::RidgeLowSlopeBeam, section: "R802.4.4" };
