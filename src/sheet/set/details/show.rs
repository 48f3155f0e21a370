//! What the details are made from, and what they share.

use crate::catalog::code_rules::RuleId;
use crate::frame::stick::Side;
use crate::frame::{EaveSide, Member, Pair, Role};
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::order::fasteners;
use crate::rules::{Finding, Verdict};
use crate::sheet::drawing::{Drawing, Fill, Pen};
use crate::sheet::paper::Job;
use crate::sheet::projection::{Sight, Style, draw, draw_cut};

use super::super::{Kind, Matter};
use super::scene::Scene;

/// The caution on all details.
pub(super) const CAUTION: &str = "Caution: drawn from the roof file's numbers and held against prescriptive rules only as far as the inspection walk \
     tells. Local amendments, the building department and its inspector decide, and beyond the prescriptive rules a licensed \
     professional. Brace the frame before anyone works on it, and work at heights with fall protection.";

/// Thickness of a plate, inches.
pub(super) const PLATE_IN: f64 = 1.5;

/// What the details are made from, and their way of writing.
pub(super) struct Show<'a> {
    pub(super) matter: &'a Matter<'a>,
    pub(super) with: &'a [Kind],
    pub(super) job: &'a Job,
}

impl Show<'_> {
    pub(super) fn length(&self, length: Length) -> String {
        self.job.writing.length(length)
    }

    pub(super) fn inches(&self, value: f64) -> String {
        self.length(inches(value))
    }

    /// The members of a role.
    pub(super) fn members(&self, role: Role) -> impl Iterator<Item = &Member> {
        self.matter.frame.members.iter().filter(move |member| member.role == role)
    }

    /// `2x6 blocking B1 to B3`; `None` if the frame has none.
    pub(super) fn named(&self, role: Role) -> Option<String> {
        let first = self.members(role).next()?;
        Some(format!(
            "{} {} {}",
            first.stick.section.write(self.job.writing.units),
            role.words(),
            self.marks(role)?
        ))
    }

    /// `B1 to B3`.
    pub(super) fn marks(&self, role: Role) -> Option<String> {
        let marks: Vec<&str> = self.members(role).map(|member| member.mark.as_str()).collect();
        match marks[..] {
            [] => None,
            [only] => Some(only.to_owned()),
            [first, last] => Some(format!("{first}, {last}")),
            [first, .., last] => Some(format!("{first} to {last}")),
        }
    }

    /// The finding of a rule.
    pub(super) fn finding(&self, id: RuleId) -> Option<&Finding> {
        self.matter.findings.iter().find(|found| found.id == id)
    }

    /// ` (R806.3)`: where a rule stands. The inspection walk says so too, if the set has that.
    pub(super) fn section(&self, found: &Finding) -> String {
        match self.with.contains(&Kind::Walk) {
            true => String::new(),
            false => format!(" ({})", found.section),
        }
    }

    /// `at most 1-3/8" (R802.7.1)`: what a rule requires, with its section; empty if it requires
    /// nothing. A limit that the roof keeps is in the inspection walk, if the set has that.
    pub(super) fn limit(&self, id: RuleId) -> String {
        let Some(found) = self.finding(id) else {
            return String::new();
        };
        if found.verdict != Verdict::Fails && self.with.contains(&Kind::Walk) {
            return String::new();
        }
        let Some(limit) = found.limit else {
            return format!(" ({})", found.section);
        };
        let beyond = if found.verdict == Verdict::Fails { " FAILS:" } else { "" };
        format!(
            ";{beyond} {} {} ({})",
            found.sense.words(),
            found.unit.write(limit, self.job.writing),
            found.section
        )
    }

    /// `; 3 a rafter, toenailed 10d common (R602.3(1))`: the nails of a joint.
    pub(super) fn nails(&self, joint: &str) -> Option<String> {
        let order = &self.matter.order.first().nails;
        order.iter().flat_map(|total| &total.uses).find(|one| one.joint == joint).map(|one| {
            let nail = fasteners::called(one.nail).write(self.job.writing);
            // the table of the nails says by which row
            let how = match self.with.contains(&Kind::Nailing) {
                true => one.how.clone(),
                false => one.basis(),
            };
            format!("{nail}: {}", how.write(self.job.writing))
        })
    }

    /// Thickness of the roof sheathing, inches.
    pub(super) fn deck_thickness(&self) -> Length {
        self.matter.order.first().panel_thickness
    }

    /// `24/16 roof sheathing, 7/16"`.
    pub(super) fn deck_words(&self) -> String {
        format!(
            "roof sheathing {}, {} thick",
            self.matter.order.first().panel.rating,
            self.length(self.deck_thickness())
        )
    }

    /// `its edge 1/2" past the barge rafter's outer face`: where the roof sheathing ends.
    pub(super) fn deck_edge(&self, past: Length, face: &str) -> String {
        if past.inches().abs() < LAST_BITS {
            format!("its edge at {face}")
        } else if past > inches(0.0) {
            format!("its edge {} past {face}", self.length(past))
        } else {
            format!("its edge {} short of {face}", self.length(-past))
        }
    }

    /// The pair that is shown, and a plane square to the ridge between it and the next one.
    pub(super) fn shown_pair(&self) -> (Pair, f64) {
        let frame = self.matter.frame;
        let pairs = &frame.pairs;
        let middle = pairs.len() / 2;
        let far = |at: usize| at.abs_diff(middle);
        let best = (0..pairs.len().saturating_sub(1))
            .filter(|at| !pairs[*at].at_end && pairs[*at].joist_side != 0.0)
            .min_by_key(|at| far(*at))
            .or_else(|| {
                (0..pairs.len().saturating_sub(1))
                    .filter(|at| !pairs[*at].at_end)
                    .min_by_key(|at| far(*at))
            })
            .unwrap_or(0);
        let pair = pairs[best];
        let thick = frame.site.thick;
        let x = pairs.get(best + 1).map_or(frame.site.length / 2.0, |next| {
            let x = next.x_a.min(next.x_b);
            (pair.x_a.max(pair.x_b) + thick + x) / 2.0
        });
        (pair, x)
    }

    /// Draws the frame across the ridge, seen from a plane toward `pair`: the cut of the plane is
    /// hatched, and the members of the bay beyond are drawn behind it.
    pub(super) fn slice_across(&self, pair: &Pair, x: f64, work: &mut Drawing) {
        let thick = self.matter.frame.site.thick;
        let back = pair.x_a.min(pair.x_b) - thick * 2.0;
        let rafter = |role: Role| matches!(role, Role::CommonRafter | Role::EndRafter);
        let (mut cut, mut behind) = (Vec::new(), Vec::new());
        let mut rafters: Vec<Vec<DVec2>> = Vec::new();
        for member in &self.matter.frame.members {
            for axis in &member.placements {
                let solid = member.placed(axis);
                let Some((low, high)) = solid.extent(DVec3::X) else {
                    continue;
                };
                let style = Style { pen: Pen::Context, fill: Fill::Paper };
                if low < x && high > x {
                    cut.push((solid, Style { pen: Pen::Outline, fill: Fill::Hatch }));
                } else if low >= back && high <= x {
                    if rafter(member.role) {
                        rafters.push(
                            member
                                .stick
                                .profile(Side::Near)
                                .iter()
                                .map(|corner| axis.to_roof(corner.extend(0.0)))
                                .map(|point| Sight::ACROSS.flat(point))
                                .collect(),
                        );
                    } else {
                        behind.push((solid, style));
                    }
                }
            }
        }
        let view = Scene::view();
        draw(work, &view, Sight::ACROSS, &behind);
        for ring in rafters {
            work.outline(ring, Pen::Outline, Fill::None);
        }
        let plane = Plane::through(DVec3::X * x, DVec3::X);
        draw_cut(work, &view, Sight::ACROSS, &plane, &cut);
    }

    /// Adds the roof sheathing over one eave.
    pub(super) fn deck(&self, eave: EaveSide, work: &mut Drawing) {
        let ring = self.deck_ring(eave);
        work.outline(ring.clone(), Pen::Outline, Fill::Paper);
        work.outline(ring, Pen::Outline, Fill::None);
    }

    /// The roof sheathing over one eave, as a band on the roof plane: its level places along y
    /// from the tail's edge to the ridge slot, and its ring.
    pub(super) fn deck_ring(&self, eave: EaveSide) -> Vec<DVec2> {
        let site = &self.matter.frame.site;
        let deck = self.matter.laid.0;
        let up = DVec2::new(1.0, site.tangent) / site.secant;
        let off = up.perp();
        let apex = DVec2::new(site.run, site.roof_height(site.run));
        let width = deck.slope_width.inches();
        let past = deck.ask.past_tail.inches();
        let slot = deck.ask.ridge_slot.inches();
        let thick = self.deck_thickness().inches();
        let low = apex - up * (width + past);
        let high = apex - up * slot;
        let mut ring = vec![low, high, high + off * thick, low + off * thick];
        if slot < LAST_BITS {
            // the two sheets meet plumb over the ridge
            ring[2] = apex + DVec2::Y * thick * site.secant;
        }
        match eave {
            EaveSide::A => ring,
            EaveSide::B => ring
                .into_iter()
                .rev()
                .map(|point| DVec2::new(site.span - point.x, point.y))
                .collect(),
        }
    }
}
