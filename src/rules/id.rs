//! What a finding is about: a rule in the code's data, or a check that has no row there.

use std::fmt;

use crate::catalog::code_rules::RuleId;

/// A check without a row in the rules' data: tables of the code, the user's own height limit, and the
/// boards of eave and rake, which common practice and the plan itself require.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CheckId {
    /// Height of the building against the user's own limit.
    HeightCap,
    /// Ceiling joists in the code's span tables.
    CeilingJoistSpan,
    /// Rafters in the code's span tables.
    RafterSpan,
    /// The fascia hides the rafters' tails.
    FasciaCoversTail,
    /// The sub-fascia reaches down to the soffit.
    SubfasciaReachesSoffit,
    /// The soffit stays over the window heads.
    SoffitOverWindowHead,
    /// How far a rake on a ladder may extend.
    RakeLadder,
    /// How far the rake's outlookers reach back inside.
    RakeOutlookerBackspan,
    /// What the rake's outlookers bear on.
    RakeOutlookerBearing,
}

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingId {
    /// A rule of the code's data.
    Rule(RuleId),
    /// A check that is no row of it.
    Check(CheckId),
}

impl FindingId {
    /// The name in the output, such as `rafter_span`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FindingId::Rule(rule) => rule.name(),
            FindingId::Check(CheckId::HeightCap) => "height_cap",
            FindingId::Check(CheckId::CeilingJoistSpan) => "ceiling_joist_span",
            FindingId::Check(CheckId::RafterSpan) => "rafter_span",
            FindingId::Check(CheckId::FasciaCoversTail) => "fascia_covers_tail",
            FindingId::Check(CheckId::SubfasciaReachesSoffit) => "subfascia_reaches_soffit",
            FindingId::Check(CheckId::SoffitOverWindowHead) => "soffit_over_window_head",
            FindingId::Check(CheckId::RakeLadder) => "rake_ladder",
            FindingId::Check(CheckId::RakeOutlookerBackspan) => "rake_outlooker_backspan",
            FindingId::Check(CheckId::RakeOutlookerBearing) => "rake_outlooker_bearing",
        }
    }

    /// The rule of the code's data that it is about, if there is one.
    #[must_use]
    pub const fn rule(self) -> Option<RuleId> {
        match self {
            FindingId::Rule(rule) => Some(rule),
            FindingId::Check(_) => None,
        }
    }
}

impl From<RuleId> for FindingId {
    fn from(rule: RuleId) -> FindingId {
        FindingId::Rule(rule)
    }
}

impl From<CheckId> for FindingId {
    fn from(check: CheckId) -> FindingId {
        FindingId::Check(check)
    }
}

impl PartialEq<RuleId> for FindingId {
    fn eq(&self, rule: &RuleId) -> bool {
        self.rule() == Some(*rule)
    }
}

impl PartialEq<CheckId> for FindingId {
    fn eq(&self, check: &CheckId) -> bool {
        *self == FindingId::Check(*check)
    }
}

impl fmt::Display for FindingId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
