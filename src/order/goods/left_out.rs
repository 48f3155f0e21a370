//! What a roof needs but the order does not count, each with the reason.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::measure::quantity::InInches;
use crate::measure::{Amount, Note};

use super::super::need::Need;
use super::super::prices::keys;
use super::roof::Roof;

impl Roof<'_> {
    /// What this roof needs but the order does not count, each with the reason.
    pub(super) fn left_out(&self, needs: &[Need], has_soffit: bool) -> Vec<Note> {
        let buy = &self.plan.buy;
        let has = |key: &str| needs.iter().any(|need| need.key.starts_with(key));
        let covering =
            keys::COVERINGS.into_iter().find(|covering| has(&format!("shingles {covering}")));
        let mut words: Vec<Note> = [
            (
                buy.culls <= 0.0,
                "spare sticks for culls and slips of the saw: none (order.culls, percent)",
            ),
            (
                buy.plate_layers == 1,
                "the lower layer of the top plates: order.plates = \"double\" counts both",
            ),
            (buy.plate_layers > 0, "nails of the top plates: they go with the walls"),
            (has("tie-down"), "nails of the rafter tie-downs: as many as the maker's table says"),
            (
                has("gusset plate"),
                "nails of the gusset plates: the code names no number; whoever designs them does",
            ),
        ]
        .into_iter()
        .filter(|(applies, _)| *applies)
        .map(|(_, words)| words.into())
        .collect();
        words.extend(self.access());
        if has("roll roofing") {
            words.push("lap cement: as the maker of the roll roofing says".into());
        }
        if has_soffit {
            words.push("nails of the soffit panels: 6d or as the panel's maker says".into());
        }
        if let Some(covering) = covering {
            words.push(format!(
                "pieces, battens, fasteners and ridge of {covering}: they go by the exposure and the maker's table"
            ).into());
        }
        words
    }

    /// What frames an attic access that cuts joists.
    fn access(&self) -> Option<Note> {
        let opening = self.frame.ties.opening.as_ref()?;
        if opening.cut_pairs.is_empty() {
            return None;
        }
        let limit = |id| rule_in(id, self.plan.checks.edition, None).and_then(Rule::number);
        let mut words = format!(
            "headers and trimmers at the attic access, and their nails ({})",
            self.section(RuleId::OpeningHeaderSingle)
        );
        let mut limits = Vec::new();
        for (id, length, held) in [
            (RuleId::OpeningHangers, opening.between, "the headers hang in joist hangers"),
            (
                RuleId::OpeningTailJoist,
                opening.tail,
                "the cut joists sit on framing anchors or ledgers",
            ),
        ] {
            if let Some(limit) = limit(id).filter(|limit| length.inches() > *limit) {
                words.push_str(&format!("; {held}, being over {{}} long"));
                limits.push(Amount::Feet(limit / 12.0));
            }
        }
        Some(Note::with(words, limits))
    }
}
