//! Ties, straps and gussets.

use crate::catalog::code_rules::RuleId;
use crate::frame::Role;
use crate::measure::{Amount, Note, trim};

use super::super::line::Trade;
use super::super::need::Need;
use super::roof::{Roof, Trades, pieces};

impl Roof<'_> {
    pub(super) fn connectors(&self, trades: &mut Trades) {
        let checks = &self.plan.checks;
        let pairs = self.frame.pairs.len() as u64;
        match checks.tie_down_lb.filter(|rated| *rated > 0.0) {
            Some(rated) => trades.needs.push(Need::new(
                Trade::Connectors,
                format!("tie-down {}", trim(rated, 0)),
                Note::with(
                    "rafter tie-down rated for {} uplift",
                    [Amount::Pounds(rated).or_in_us(format!("{} lb", trim(rated, 0)))],
                ),
                pieces(self.count(&[Role::CommonRafter, Role::EndRafter])),
                "each rafter at its plate",
                "one a rafter",
            )),
            None => trades.notes.push(
                "No rafter tie-downs are listed: set rafter.tie_down. Where loads.wind is set, stepoff check shows the uplift they must hold."
                    .into(),
            ),
        }
        if self.frame.site.half_ridge <= 0.0 {
            trades.needs.push(Need::new(
                Trade::Connectors,
                "gusset plate",
                "gusset plate at the peak",
                pieces(pairs),
                "each pair of rafters that butts without a ridge board",
                format!("one a pair ({})", self.section(RuleId::RafterGussetOption)),
            ));
        }
        if checks.straps == Some(true) {
            trades.needs.push(Need::new(
                Trade::Connectors,
                "ridge strap",
                Note::with(
                    "ridge strap, {} x 20 gage",
                    [Amount::Inches(1.25).or_in_us("1-1/4 in")],
                ),
                pieces(pairs),
                "over the ridge at each pair",
                "R802.4.6",
            ));
        }
    }
}
