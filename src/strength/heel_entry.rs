//! Looking up the heel joint table, and the rules that its counts follow.

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::catalog::heel_nails::{self, HeelNailCell};
use crate::measure::tolerance::HAIR;

use super::loads::ROOF_SNOW_PER_GROUND_SNOW;
use super::working::round_up;

/// Fewest nails in a heel joint.
pub const LEAST_NAILS: u32 = 3;
/// Dead load of the tables, psf of projection.
pub const TABLE_DEAD_PSF: f64 = RuleId::HeelDeadLoad.figure();
/// Roof live load of the 20 psf column, which covers any lower load.
pub const TABLE_LIVE_PSF: f64 = RuleId::Heel20psfMeaning.figure();
/// A 16d common nail in Spruce-pine-fir, pounds: used for the counts of 2021 and 2024.
pub const NAIL_LB: f64 = 120.0;
/// The same with 1-1/2 in of penetration over twelve diameters: used for the counts of 2015 and 2018.
pub const NAIL_LB_BEFORE_2021: f64 = 92.5;
/// Snow on the roof per ground snow, for the counts of 2015 and 2018.
const ROOF_SNOW_BEFORE_2021: f64 = 0.7;
/// Subtracted from the span in the snow columns of 2015 and 2018, feet (fitted, unexplained).
const SPAN_LESS_BEFORE_2021_FT: f64 = 1.5;

/// Slope, spacing, load and span at which the table is read.
#[derive(Debug, Clone, Copy)]
pub(super) struct TableEntry {
    pub(super) rise_in_12: f64,
    pub(super) spacing_in: f64,
    pub(super) load_psf: f64,
    pub(super) is_snow: bool,
    pub(super) dead_psf: f64,
    pub(super) span_ft: f64,
}

impl TableEntry {
    pub(super) fn printed(&self, edition: Edition) -> Option<HeelNailCell> {
        if self.dead_psf > TABLE_DEAD_PSF + HAIR {
            return None;
        }
        let near = |a: f64, b: f64| (a - b).abs() <= HAIR;
        heel_nails::cells()
            .iter()
            .find(|cell| {
                cell.editions.contains(edition)
                    && cell.is_snow == self.is_snow
                    && near(cell.rise_in_12, self.rise_in_12)
                    && near(cell.spacing_in, self.spacing_in)
                    && near(cell.load_psf, self.load_psf)
                    && near(cell.roof_span_ft, self.span_ft)
            })
            .copied()
    }

    /// The printed case with the fewest nails that is no lighter in any respect.
    pub(super) fn covering(&self, edition: Edition) -> Option<HeelNailCell> {
        if self.dead_psf > TABLE_DEAD_PSF + HAIR {
            return None;
        }
        heel_nails::cells()
            .iter()
            .filter(|cell| {
                cell.editions.contains(edition)
                    && cell.is_snow == self.is_snow
                    && cell.rise_in_12 <= self.rise_in_12 + HAIR
                    && cell.spacing_in >= self.spacing_in - HAIR
                    && cell.load_psf >= self.load_psf - HAIR
                    && cell.roof_span_ft >= self.span_ft - HAIR
            })
            .min_by_key(|cell| cell.nails)
            .copied()
    }

    /// The greatest count printed for a case that is no heavier in any respect.
    fn covered(&self, edition: Edition) -> Option<u32> {
        heel_nails::cells()
            .iter()
            .filter(|cell| {
                cell.editions.contains(edition)
                    && (cell.is_snow == self.is_snow
                        // The minimum roof live load applies to every roof.
                        || (self.is_snow && self.load_psf >= cell.load_psf))
                    && cell.rise_in_12 >= self.rise_in_12 - HAIR
                    && cell.spacing_in <= self.spacing_in + HAIR
                    && cell.load_psf <= self.load_psf + HAIR
                    && cell.roof_span_ft <= self.span_ft + HAIR
            })
            .map(|cell| cell.nails)
            .max()
    }

    /// The count from the rules for a tie at the plate.
    pub(super) fn count(&self, edition: Edition) -> u32 {
        let by_rule = self.rules(edition).iter().map(RuleCount::nails).max().unwrap_or(LEAST_NAILS);
        if edition >= Edition::Irc2021 {
            return by_rule;
        }
        let no_less = by_rule.max(self.covered(edition).unwrap_or(LEAST_NAILS));
        match self.covering(edition) {
            Some(cell) => no_less.min(cell.nails),
            None => no_less,
        }
    }

    /// The rules of an edition, each with its thrust and nail value; the one with the most nails
    /// counts.
    pub(super) fn rules(&self, edition: Edition) -> Vec<RuleCount> {
        let live_psf = if self.is_snow {
            // a snow roof carries the least roof live load as well
            TABLE_LIVE_PSF
        } else {
            self.load_psf
        };
        let mut rules = vec![self.rule("2021 rule, roof live", live_psf, 0.0, NAIL_LB * 1.25)];
        if self.is_snow {
            let on_roof = ROOF_SNOW_PER_GROUND_SNOW * self.load_psf;
            rules.push(self.rule("2021 rule, snow", on_roof, 0.0, NAIL_LB * 1.15));
        }
        if edition <= Edition::Irc2018 {
            rules.push(self.rule_before_2021());
        }
        rules
    }

    fn rule_before_2021(&self) -> RuleCount {
        if self.is_snow {
            self.rule(
                "2015 and 2018 rule, snow",
                ROOF_SNOW_BEFORE_2021 * self.load_psf,
                SPAN_LESS_BEFORE_2021_FT,
                NAIL_LB_BEFORE_2021 * 1.15,
            )
        } else {
            self.rule(
                "2015 and 2018 rule, roof live",
                self.load_psf,
                0.0,
                NAIL_LB_BEFORE_2021 * 1.25,
            )
        }
    }

    fn rule(
        &self,
        name: &'static str,
        on_roof_psf: f64,
        span_less_ft: f64,
        nail_lb: f64,
    ) -> RuleCount {
        RuleCount {
            name,
            on_roof_psf,
            span_ft: self.span_ft - span_less_ft,
            thrust_lb: (self.dead_psf + on_roof_psf) * self.spacing_in / 12.0
                * (self.span_ft - span_less_ft)
                / (4.0 * self.rise_in_12 / 12.0),
            nail_lb,
        }
    }
}

/// The nails that one rule requires for a tie at the plate.
#[derive(Debug, Clone, Copy)]
pub(super) struct RuleCount {
    pub(super) name: &'static str,
    pub(super) on_roof_psf: f64,
    pub(super) span_ft: f64,
    pub(super) thrust_lb: f64,
    pub(super) nail_lb: f64,
}

impl RuleCount {
    pub(super) fn nails(&self) -> u32 {
        round_up(self.thrust_lb / self.nail_lb).max(LEAST_NAILS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::heel_nails::cells;

    fn entry(cell: &HeelNailCell) -> TableEntry {
        TableEntry {
            rise_in_12: cell.rise_in_12,
            spacing_in: cell.spacing_in,
            load_psf: cell.load_psf,
            is_snow: cell.is_snow,
            dead_psf: TABLE_DEAD_PSF,
            span_ft: cell.roof_span_ft,
        }
    }

    /// The rule alone, without the table, against the printed counts of 2021 and 2024: 288 of 288.
    #[test]
    fn the_rule_of_2021_reproduces_all_288_counts() {
        let print: Vec<_> =
            cells().iter().filter(|cell| cell.editions.contains(Edition::Irc2021)).collect();
        let matched = print
            .iter()
            .filter(|cell| {
                entry(cell)
                    .rules(Edition::Irc2021)
                    .last()
                    .is_some_and(|rule| rule.nails() == cell.nails)
            })
            .count();
        assert_eq!((matched, print.len()), (288, 288));
    }

    /// The rule of the older table: every snow count and the end columns of 20 psf. The 36 counts at 20
    /// and 28 ft are linear between those, to the nearest nail.
    #[test]
    fn the_rule_before_2021_reproduces_all_288_counts() {
        let print: Vec<_> =
            cells().iter().filter(|cell| cell.editions.contains(Edition::Irc2015)).collect();
        let mut matched = 0;
        for cell in &print {
            let between = !cell.is_snow && (cell.roof_span_ft == 20.0 || cell.roof_span_ft == 28.0);
            let got = if between {
                let end = |span_ft| {
                    let at = TableEntry { span_ft, ..entry(cell) };
                    f64::from(at.rule_before_2021().nails())
                };
                let (low, high) = (end(12.0), end(36.0));
                (low + (high - low) * (cell.roof_span_ft - 12.0) / 24.0).round() as u32
            } else {
                entry(cell).rule_before_2021().nails()
            };
            matched += usize::from(got == cell.nails);
        }
        assert_eq!((matched, print.len()), (288, 288));
    }

    /// A count between printed cases lies between them: a roof a little lighter than a printed case in every respect takes no
    /// more nails than its print, one a little heavier takes no fewer.
    #[test]
    fn a_count_beside_a_printed_case_keeps_to_its_side() {
        for edition in [Edition::Irc2015, Edition::Irc2018] {
            let print: Vec<_> =
                cells().iter().filter(|cell| cell.editions.contains(edition)).collect();
            assert_eq!(print.len(), 288);
            for cell in print {
                let here = entry(cell);
                assert_eq!(here.printed(edition).map(|found| found.nails), Some(cell.nails));
                let beside = |by: f64| TableEntry {
                    rise_in_12: here.rise_in_12 - 0.125 * by,
                    spacing_in: here.spacing_in + 0.5 * by,
                    load_psf: here.load_psf + 0.5 * by,
                    span_ft: here.span_ft + 0.25 * by,
                    ..here
                };
                assert!(beside(-1.0).count(edition) <= cell.nails, "{cell:?}");
                assert!(beside(1.0).count(edition) >= cell.nails, "{cell:?}");
                assert!(beside(1.0).printed(edition).is_none(), "{cell:?}");
                // the table is for 10 psf of dead load, and says nothing of more
                let dead = TableEntry { dead_psf: TABLE_DEAD_PSF + 1.0, ..here };
                assert!(dead.printed(edition).is_none() && dead.covering(edition).is_none());
            }
        }
    }

    /// So a computed count that is limited by an older printed one is still no less than the 2021 rule.
    #[test]
    fn the_older_print_never_asks_fewer_nails_than_the_2021_rule() {
        for cell in cells() {
            let by_rule = entry(cell).rules(Edition::Irc2021);
            let most = by_rule.iter().map(RuleCount::nails).max();
            assert!(Some(cell.nails) >= most, "{cell:?} {by_rule:?}");
        }
    }
}
