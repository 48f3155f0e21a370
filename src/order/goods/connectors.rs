//! Ties, straps, gussets and hangers.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::frame::hung::Hung;
use crate::frame::{Member, Role};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Amount, Note, trim};

use super::super::fasteners;
use super::super::line::Trade;
use super::super::need::Need;
use super::roof::{Roof, Trades, pieces};

impl Roof<'_> {
    pub(super) fn connectors(&self, trades: &mut Trades) {
        let checks = &self.plan.checks;
        let has_straps = checks.straps == Some(true);
        let pairs = if has_straps || self.has_no_ridge_board() {
            fasteners::ridge_pairs(self.sticks)
        } else {
            0
        };
        match checks.tie_down_lb.filter(|rated| *rated > 0.0) {
            Some(rated) => trades.needs.push(Need::new(
                Trade::Connectors,
                format!("tie-down {}", trim(rated, 0)),
                Note::with(
                    "rafter tie-down rated for {} uplift",
                    [Amount::Pounds(rated).or_in_us(format!("{} lb", trim(rated, 0)))],
                ),
                pieces(fasteners::seats_on_plates(self.sticks)),
                "each rafter at its plate",
                if self.sticks.gable.is_some() {
                    "one a rafter"
                } else {
                    "one where a rafter, a jack, a hip or a valley sits on a plate; hips and valleys lift more: see the designer"
                },
            )),
            None => trades.notes.push(
                "No rafter tie-downs are listed: set rafter.tie_down. Where loads.wind is set, stepoff check shows the uplift they must hold."
                    .into(),
            ),
        }
        if self.has_no_ridge_board() && pairs > 0 {
            trades.needs.push(Need::new(
                Trade::Connectors,
                "gusset plate",
                "gusset plate at the peak",
                pieces(pairs),
                "each pair of rafters that butts without a ridge board",
                format!("one a pair ({})", self.section(RuleId::RafterGussetOption)),
            ));
        }
        if has_straps && pairs > 0 {
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
        self.at_openings(trades);
    }

    fn has_no_ridge_board(&self) -> bool {
        let hung = self.sticks.hung.map(|frame| frame.hung.ground.choices.ridge.inches());
        self.sticks.gable.map(|frame| frame.site.half_ridge).or(hung).is_some_and(|t| t <= 0.0)
    }

    /// What hangs wide headers and long tail rafters in framed openings of the roof.
    fn at_openings(&self, trades: &mut Trades) {
        let Some(frame) = self.sticks.hung else { return };
        let figure = |id| rule_in(id, self.plan.checks.edition, None).and_then(Rule::number);
        let (Some(widest), Some(longest)) =
            (figure(RuleId::OpeningHangers), figure(RuleId::OpeningTailJoist))
        else {
            return;
        };
        let mut hangers: Vec<(String, u64)> = Vec::new();
        for hole in &frame.hung.ground.holes {
            if hole.reach.1 - hole.reach.0 <= widest + LAST_BITS {
                continue;
            }
            let own = format!("-{}-", hole.name);
            let is_own = |stick: &&Hung| stick.role == Role::Header && stick.id.contains(&own);
            let plies = frame.hung.sticks.iter().filter(is_own).count() as u64;
            let ends = 2 * plies / u64::from(hole.headers);
            let what = match hole.headers {
                1 => hole.header.to_string(),
                many => format!("{many} x {}", hole.header),
            };
            match hangers.iter_mut().find(|(known, _)| *known == what) {
                Some((_, count)) => *count += ends,
                None => hangers.push((what, ends)),
            }
        }
        for (header, count) in hangers {
            trades.needs.push(Need::new(
                Trade::Connectors,
                "header hanger",
                format!("hanger for a header of {header}"),
                pieces(count),
                "both ends of wide headers at framed openings",
                Note::with(
                    format!("headers over {{}} ({})", self.section(RuleId::OpeningHangers)),
                    [Amount::Feet(widest / 12.0)],
                ),
            ));
        }
        let long = |member: &&Member| {
            member.role == Role::TailRafter && member.blank().inches() > longest + LAST_BITS
        };
        let anchors: u64 =
            frame.members.iter().filter(long).map(|member| member.count() as u64).sum();
        if anchors > 0 {
            trades.needs.push(Need::new(
                Trade::Connectors,
                "framing anchor",
                "framing anchor",
                pieces(anchors),
                "tail rafters at the headers of framed openings",
                Note::with(
                    format!(
                        "those over {{}}; or ledgers ({})",
                        self.section(RuleId::OpeningTailJoist)
                    ),
                    [Amount::Feet(longest / 12.0)],
                ),
            ));
        }
    }
}
