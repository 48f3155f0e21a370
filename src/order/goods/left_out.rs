//! What a roof needs but the order does not count, each with the reason.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::frame::Role;
use crate::frame::hung::lines::LineOf;
use crate::measure::quantity::InInches;
use crate::measure::{Amount, Note};
use crate::plan::Joists;

use super::super::need::Need;
use super::super::prices::keys;
use super::covered::How;
use super::roof::{Roof, Sheathed};

impl Roof<'_> {
    /// What this roof needs but the order does not count, each with the reason.
    pub(super) fn left_out(&self, needs: &[Need], has_soffit: bool) -> Vec<Note> {
        let buy = &self.plan.buy;
        let has = |key: &str| needs.iter().any(|need| need.key.starts_with(key));
        let covering =
            keys::COVERINGS.into_iter().find(|covering| has(&format!("shingles {covering}")));
        let mut words = self.of_any_roof();
        let general: [(bool, &str); 5] = [
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
        ];
        let general = general.into_iter().filter(|(applies, _)| *applies);
        words.extend(general.map(|(_, words)| Note::from(words)));
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

    /// What is besides left out of a roof that is more than one gable.
    fn of_any_roof(&self) -> Vec<Note> {
        let Some(frame) = self.sticks.hung else { return Vec::new() };
        let ground = &frame.hung.ground;
        let mut words: Vec<Note> = frame.lacks().into_iter().map(Note::from).collect();
        let mut add = |applies: bool, what: &str| {
            words.extend(applies.then(|| Note::from(what)));
        };
        let checks = &self.plan.checks;
        add(
            checks.roofing.is_none(),
            "covering, and all that goes under it and along its edges: set roofing.kind",
        );
        let no_vents = checks.ridge_vent_in2.is_none() && checks.soffit_vent_in2.is_none();
        add(
            no_vents && self.vent_area().is_some(),
            "vents: set attic.ridge_vent and attic.soffit_vent",
        );
        add(
            checks.tie_down_lb.is_none_or(|rated| rated <= 0.0),
            "rafter tie-downs: set rafter.tie_down",
        );
        let under = ground.lines.iter().any(|line| matches!(line.of, LineOf::Hip | LineOf::Valley));
        add(under, "braces, posts and beams under hips and valleys, and what ties them down");
        let has = |role: Role| frame.members.iter().any(|member| member.role == role);
        add(has(Role::StubJoist), "what ties stub joists to their rafters and on into the ceiling");
        add(!ground.holes.is_empty(), "nails of headers to trimmers");
        add(!ground.laid.is_empty(), "nails of what is laid on the sheathed roof");
        add(
            matches!(self.deck, Sheathed::ByArea(_)),
            "nails of the panels: no layout of these planes was found",
        );
        let has_roofing = checks.roofing.is_some();
        let openings: Vec<&str> =
            self.plan.gable.blocks.openings.iter().map(|one| one.name.as_str()).collect();
        if has_roofing && !openings.is_empty() {
            add(
                true,
                &format!(
                    "flashing of the openings {}; what they take off the covering is not taken off",
                    openings.join(", ")
                ),
            );
        }
        let foot = self.covered.against.iter().any(|against| against.how == How::Foot);
        add(foot, "a cricket where a roof plane falls to a wall");
        let high = self.covered.edges.iter().any(|edge| edge.is_high);
        add(high && checks.vented, "vents along the high edge of a shed");
        words
    }

    /// What holds the headers of an attic opening that cuts joists.
    fn access(&self) -> Option<Note> {
        let opening = self.sticks.attic_opening()?;
        if opening.cut_rows.is_empty() {
            return None;
        }
        let limit = |id| rule_in(id, self.plan.checks.edition, None).and_then(Rule::number);
        // of joists across the rafters nothing is framed
        let what = match self.plan.gable.joists {
            Joists::Across => "headers and trimmers at the attic opening, and their nails",
            _ => "nails and hangers of the headers at the attic opening",
        };
        let mut words = format!("{what} ({})", self.section(RuleId::OpeningHeaderSingle));
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
