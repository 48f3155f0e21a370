//! What a roof takes and no line counts, each with the reason.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};

use super::super::need::Need;
use super::super::prices::keys;
use super::roof::Roof;

impl Roof<'_> {
    /// What this roof takes and no line counts, each with the reason.
    pub(super) fn left_out(&self, needs: &[Need], has_soffit: bool) -> Vec<String> {
        let buy = &self.plan.buy;
        let has = |key: &str| needs.iter().any(|need| need.key.starts_with(key));
        let covering =
            keys::COVERINGS.into_iter().find(|covering| has(&format!("shingles {covering}")));
        let mut words: Vec<String> = [
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
        .map(|(_, words)| words.to_owned())
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
            ));
        }
        words
    }

    /// What frames an attic access that cuts joists.
    fn access(&self) -> Option<String> {
        let opening = self.frame.ties.opening.as_ref()?;
        if opening.cut_pairs.is_empty() {
            return None;
        }
        let longer_than = |id: RuleId, length: f64| {
            let limit = rule_in(id, self.plan.checks.edition, None).and_then(Rule::number);
            limit.is_some_and(|limit| length > limit)
        };
        let mut words = format!(
            "headers and trimmers at the attic access, and their nails ({})",
            self.section(RuleId::OpeningHeaderSingle)
        );
        if longer_than(RuleId::OpeningHangers, opening.between) {
            words.push_str("; the headers hang in joist hangers, being over 6 ft long");
        }
        if longer_than(RuleId::OpeningTailJoist, opening.tail) {
            words.push_str(
                "; the cut joists sit on framing anchors or ledgers, being over 12 ft long",
            );
        }
        Some(words)
    }
}
