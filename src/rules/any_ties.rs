//! What ties a roof that is more than one gable: pairs of opposite rafters and what holds their feet, heel joints, laps and
//! collar ties, each held where it is worst.

use crate::catalog::code_rules::RuleId;
use crate::frame::HungFrame;
use crate::frame::Role;
use crate::frame::hung::collared::{Collared, collared};
use crate::frame::hung::lines::{Line, LineOf};
use crate::frame::hung::tied::{Tied, TiedBlock, tied};
use crate::frame::hung::told::opens;
use crate::measure::quantity::{InInches, in_pounds};
use crate::measure::tolerance::HAIR;
use crate::plan::Joists;

use super::book::Code;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::heel::Heel;
use super::opening::CutTies;
use super::ridge::{self, Collars};
use super::tie_zone::{carried_by_tie, heel_of_block, ridge_height_of};
use super::{opening, ties};

/// The findings about ties, then those about collar ties.
pub(super) fn findings(code: Code<'_>, frame: &HungFrame) -> Vec<Finding> {
    let tied = tied(&frame.hung);
    let roof = Ties { code, frame, tied: &tied };
    let mut found: Vec<Finding> =
        [roof.ties(), roof.heel_nails(), roof.alone(), roof.hip_ends(), roof.joists_at_openings()]
            .into_iter()
            .flatten()
            .collect();
    found.extend(roof.of_blocks());
    found.extend(roof.collars());
    found
}

/// The lines under edges of some kinds.
pub(super) fn lines<'a>(frame: &'a HungFrame, of: &'a [LineOf]) -> impl Iterator<Item = &'a Line> {
    frame.hung.ground.lines.iter().filter(|line| of.contains(&line.of))
}

/// True if rafters lean against each other or against a hip: what opposes them must hold their feet together.
pub(super) fn leans(frame: &HungFrame) -> bool {
    lines(frame, &[LineOf::Ridge, LineOf::Hip]).next().is_some()
}

struct Ties<'a> {
    code: Code<'a>,
    frame: &'a HungFrame,
    /// What holds opposite rafters together.
    tied: &'a Tied,
}

impl Ties<'_> {
    /// What holds the feet of opposing rafters together.
    fn ties(&self) -> Option<Finding> {
        leans(self.frame).then_some(())?;
        let blocks = &self.code.plan().blocks;
        let finding =
            self.code.of_rule(RuleId::CjContinuity, "what ties the rafters at the plates")?.told();
        let unlike = blocks
            .pitch_b
            .is_some_and(|other| other.tangent() != self.code.plan().rafter.pitch.tangent());
        let unlike_plates = blocks.plate_b.inches().abs() > HAIR;
        Some(match (unlike, unlike_plates) {
            (true, _) => finding.verdict(Verdict::NeedsDesign).note(
                "slopes of unlike pitch push unlike on ridge and plates: the heel joint table is for a ridge over the middle",
            ),
            (_, true) => finding.verdict(Verdict::NeedsDesign).note(
                "plates of unlike height: joists run from the lower plate to a ledger on the higher wall and tie no pair; the heel joint table is for level ties",
            ),
            _ => {
                let tied = &self.tied;
                if tied.pairs == 0 || self.code.plan().joists == Joists::None {
                    finding.verdict(Verdict::NeedsDesign).note(
                        "nothing ties opposite rafters: a wall or an engineered ridge beam carries the ridge",
                    )
                } else {
                    let finding = finding
                        .or_design()
                        .held(Unit::Count, tied.held as f64, Sense::AtLeast, tied.pairs as f64)
                        .note("pairs of opposite rafters between the end walls with a joist or a tie face to face with both, of all such pairs");
                    self.past_the_opening(finding)
                }
            }
        })
    }

    /// The finding on ties with those that the attic opening cuts.
    fn past_the_opening(&self, finding: Finding) -> Finding {
        let own = self.tied.blocks.iter().find(|block| block.name == "main");
        let (Some(opening), Some(block)) = (self.frame.hung.attic.as_ref(), own) else {
            return finding;
        };
        // a cut joist may have tied a pair of hip jacks, which are not counted here
        let pairs = self.tied.cut;
        let cut = CutTies {
            opening,
            pairs,
            are_all: self.tied.held + pairs >= self.tied.pairs,
            carried: carried_by_tie(&self.code).0,
            beside: self.code.plan().spacing,
            heel: &|spacing| heel_of_block(&self.code, block, Some(spacing)).ok().flatten(),
            nails_that_fit: block.nails_that_fit,
        };
        opening::of_ties(&self.code, &cut, finding)
    }

    /// The nails of each heel, in the block that needs the most.
    fn heel_nails(&self) -> Option<Finding> {
        let finding = ties::heel_joint_finding(&self.code)?;
        let solved: Result<Vec<_>, _> = self
            .tied
            .blocks
            .iter()
            .filter_map(|block| {
                let heel = heel_of_block(&self.code, block, None).transpose()?;
                Some(heel.map(|heel| (block, heel)))
            })
            .collect();
        let solved = match solved {
            Ok(solved) => solved,
            Err(missing) => return Some(finding.missing(&missing)),
        };
        let (block, heel) = solved.into_iter().max_by(|(_, one), (_, other)| {
            let key = |heel: &Heel| (!heel.outside().is_empty(), heel.nails());
            let thrust = |heel: &Heel| in_pounds(heel.thrust());
            key(one).cmp(&key(other)).then(thrust(one).total_cmp(&thrust(other)))
        })?;
        let finding = if self.tied.blocks.len() > 1 {
            finding.note(format!("the most, in block {}", block.name))
        } else {
            finding
        };
        let specified = self.code.checks.heel_nails;
        Some(ties::nails_of(finding, &heel, specified, block.nails_that_fit))
    }

    /// Rafters on a plate that have no rafter opposite them.
    fn alone(&self) -> Option<Finding> {
        leans(self.frame).then_some(())?;
        let tied = &self.tied;
        let first = tied.alone.first()?;
        Some(
            self.code
                .of_rule(RuleId::CjContinuity, "rafters without an opposite one on a plate")?
                .verdict(Verdict::NeedsDesign)
                .told()
                .note(format!(
                    "{}, the first {first}: beside an opening in the roof, where a wing opens, or where the layouts of both slopes differ; no rafter opposite takes their push, so what holds their feet is to be designed",
                    tied.alone.len()
                )),
        )
    }

    /// What the joists lie on where a wing opens into the block that it stands before.
    fn joists_at_openings(&self) -> Option<Finding> {
        let joists = self.frame.hung.sticks.iter().any(|stick| stick.role == Role::CeilingJoist);
        let open: Vec<&str> =
            opens(&self.frame.hung.ground).map(|wall| wall.block.as_str()).collect();
        (joists && !open.is_empty()).then_some(())?;
        Some(
            self.code
                .of_rule(RuleId::CjContinuity, "what carries ceiling joists where a wing opens")?
                .verdict(Verdict::NeedsDesign)
                .told()
                .note(format!(
                    "joists end on the plate line before {}: the header or beam there is not sized here",
                    open.join(", ")
                )),
        )
    }

    /// Hip ends: nothing runs opposite their jacks.
    fn hip_ends(&self) -> Option<Finding> {
        lines(self.frame, &[LineOf::Hip]).next()?;
        let finding = self
            .code
            .of_rule(RuleId::CjPerpendicularTie, "what ties the hip ends")?
            .verdict(Verdict::NeedsDesign)
            .told();
        let tied = &self.tied;
        let sides = format!(
            "a joist or a tie lies face to face with both jacks of {} of the {} pairs over the side walls",
            tied.jacks_held, tied.jacks
        );
        let has_stubs = self.frame.hung.sticks.iter().any(|stick| stick.role == Role::StubJoist);
        let finding = finding.note(if has_stubs {
            "no rafter stands opposite the jacks and commons of a hip end; stub joists run from its plate to the first joist across (common practice): how far the tie goes on into the ceiling, and its nails, are to be designed"
        } else {
            "no rafter stands opposite the jacks and commons of a hip end, and joists run across them: ties or stub joists from the plate back to the first joists, or a designed ridge and hips"
        });
        Some(if tied.jacks > 0 { finding.note(sides) } else { finding })
    }

    /// Height, spacing, size, ends and laps of what ties pairs, each in the block where it is worst.
    fn of_blocks(&self) -> Vec<Finding> {
        let code = &self.code;
        let plan = code.plan();
        let blocks = &self.tied.blocks;
        let most = |of: &dyn Fn(&TiedBlock) -> f64| {
            blocks.iter().max_by(|one, other| of(one).total_cmp(&of(other)))
        };
        let (Some(first), Some(widest), Some(sparse)) =
            (blocks.first(), most(&|block| block.span), most(&|block| block.apart))
        else {
            return Vec::new();
        };
        let ridge = |block: &TiedBlock| {
            ridge_height_of(code.checks.edition, block.rise, block.ridge_bottom)
        };
        // beside the lowest ridge a tie is highest
        let low = most(&|block| -ridge(block).0).unwrap_or(first);
        let named = |finding: Option<Finding>, block: &TiedBlock| {
            finding.map(|finding| match blocks.len() {
                1 => finding,
                _ => finding.note(format!("the worst, in block {}", block.name)),
            })
        };
        let mut found = vec![
            named(ties::height(code, code.sticks.tie_height().inches(), ridge(low)), low),
            named(ties::table_span(code, widest.span), widest),
        ];
        if plan.joists == Joists::Across {
            let how = "greatest distance between neighboring pairs that are tied, as framed";
            found.push(named(ties::tie_spacing(code, sparse.apart, how), sparse));
            found.push(ties::tie_size(code));
        } else {
            found.push(ties::taper(code, self.tied.clip));
        }
        for block in blocks {
            let Some(lap) = block.lap else { continue };
            found.push(ties::lap(code, lap.length));
            let heel = heel_of_block(code, block, None).transpose();
            found.extend(heel.map(|heel| ties::lap_nails(code, lap.nails_that_fit, heel)));
        }
        found.into_iter().flatten().collect()
    }

    /// What holds ridges together from above: collar ties of the least size, or straps.
    fn collars(&self) -> Vec<Finding> {
        if lines(self.frame, &[LineOf::Ridge]).next().is_none() {
            return Vec::new();
        }
        let hung = &self.frame.hung;
        let has_some = hung.sticks.iter().any(|stick| stick.role == Role::CollarTie);
        let left_out = hung.left_out.iter().filter(|left| left.role == Role::CollarTie);
        let without: Vec<&str> = left_out.map(|left| left.place.as_str()).collect();
        let straps = || {
            let finding = ridge::straps(&self.code)?;
            Some(if has_some {
                finding.note(format!(
                    "that is so in {} alone, where they have no room",
                    without.join(", ")
                ))
            } else {
                finding
            })
        };
        let mut found = self.collar_ties();
        let is_bare = lines(self.frame, &[LineOf::Ridge]).all(|ridge| ridge.half == 0.0);
        found.extend(is_bare.then(|| ridge::gussets(&self.code)).flatten());
        found.extend((!has_some || !without.is_empty()).then(straps).flatten());
        found
    }

    /// The collar ties, each figure in the block where it is worst.
    fn collar_ties(&self) -> Vec<Finding> {
        let code = &self.code;
        let blocks = collared(&self.frame.hung);
        let at = |block: &Collared| Collars {
            bottom: block.bottom,
            attic_top: block.attic_top,
            peak: block.peak,
        };
        let most = |of: &dyn Fn(&Collared) -> f64| {
            blocks.iter().max_by(|one, other| of(one).total_cmp(&of(other)))
        };
        let short = |block: &Collared| ridge::upper_third_of(code, block.attic_top) - block.bottom;
        let (Some(low), Some(sparse)) = (most(&short), most(&|block| block.apart)) else {
            return Vec::new();
        };
        let named = |finding: Option<Finding>, block: &Collared| {
            finding.map(|finding| match blocks.len() {
                1 => finding,
                _ => finding.note(format!("the worst, in block {}", block.name)),
            })
        };
        let found = [
            named(ridge::collar_place(code, &at(low)), low),
            ridge::collar_size(code),
            named(ridge::collar_spacing(code, sparse.apart), sparse),
        ];
        found.into_iter().flatten().collect()
    }
}
