//! What the rules say of a roof that is more than one gable: what they ask of any shape, and of faces, ridges, hips and
//! valleys what they ask of such roofs alone. What no rule covers is for a designer, and everything else is listed as not
//! looked at.

use crate::catalog::code_rules::RuleId;
use crate::catalog::sizes::sizes;
use crate::frame::hung::bays::Reach;
use crate::frame::hung::lines::LineOf;
use crate::frame::{HungFrame, Role};
use crate::measure::Amount::{Inches, RiseIn12};
use crate::measure::Note;
use crate::measure::quantity::{InInches, square_inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::ChecksPlan;
use crate::strength::loads::{psf_figure, roof_live_rule};

use super::any_ties::{self, leans, lines};
use super::book::Code;
use super::check::with_own_limits;
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::id::{CheckId, FindingId};
use super::panels::Bay;
use super::spans::{Rafters, off_the_table};
use super::{
    attic, dead, eave, joist_bays, opening, panels, roofing, scope, spans, support, uplift, walk,
};

/// The findings of a roof that is more than one gable, in the order of the walk, with the user's own limits.
#[must_use]
pub fn findings(frame: &HungFrame, checks: &ChecksPlan) -> Vec<Finding> {
    let code = Code { sticks: frame.sticks(), checks };
    let roof = Roof { frame, code };
    let mut found = scope::of_any_roof(&code);
    found.extend(
        [
            roof.live(),
            roof.wall_height(),
            roof.notch(),
            roof.bearing(),
            roof.tail_left(),
            roof.tail_length(),
            spans::engineered_cuts(&code),
            roof.openings(),
            roof.carrying(),
            roof.dormer_heads(),
            Some(roof.rafter_span()),
            roof.low_slope(),
            roof.ridge_depth(),
            roof.ridge_thickness(),
            roof.hip_size(),
            roof.hip_support(),
        ]
        .into_iter()
        .flatten(),
    );
    found.extend(opening::findings(&code));
    found.extend(scope::on_the_lot(&code));
    found.extend(dead::finding(&code));
    found.extend(uplift::findings(&code));
    found.extend(support::upright(&code));
    found.extend(eave::of_roof(&code));
    found.extend(roof.joists());
    found.extend(any_ties::findings(code, frame));
    found.extend(attic::air_gap_of_any_roof(&code));
    found.extend(panels::findings(&code, &Bay::of(frame)));
    found.extend(attic::access(&code));
    found.extend(attic::vents(&code));
    found.extend(roofing::findings(&code));
    found.extend(roof.limits_of_gables());
    let mut found = with_own_limits(&checks.limits, found);
    found.sort_by_key(|finding| walk::PLACES.iter().position(|place| place.id == finding.id));
    found
}

/// Cautious words of every finding that rests on ties.
const WITHOUT_TIES: &str = "the tables assume joists or ties at the plate on both sides of the ridge: see the findings on ties";

struct Roof<'a> {
    frame: &'a HungFrame,
    code: Code<'a>,
}

impl Roof<'_> {
    /// The user's own limits on what is looked at on one gable alone.
    fn limits_of_gables(&self) -> impl Iterator<Item = Finding> {
        self.code.checks.limits.iter().filter_map(|(key, _)| {
            let own = || walk::PLACES.iter().filter(|place| place.limit_key == Some(*key));
            if own().any(|place| place.any_shape) {
                return None;
            }
            let finding = own().find_map(|place| match place.id {
                FindingId::Rule(rule) => self.code.of_rule(rule, place.measure),
                FindingId::Check(check) => {
                    Some(self.code.of_table(check, place.measure, "your own limit".to_owned()))
                }
            })?;
            Some(finding.told().note(format!(
                "{} is your own limit; only one plain gable is held against it",
                key.name()
            )))
        })
    }

    /// The span of the ceiling joists, by the one that carries the most.
    fn joists(&self) -> Vec<Finding> {
        let bays = joist_bays::of(&self.code);
        let found = spans::joists(&self.code, bays.carried).into_iter();
        let told = found.map(|finding| match finding.id {
            FindingId::Check(CheckId::CeilingJoistSpan) => finding.note(bays.why.clone()),
            _ => finding,
        });
        told.collect()
    }

    fn live(&self) -> Option<Finding> {
        let rise = self.code.lowest_rise();
        let id = roof_live_rule(rise, square_inches(0.0));
        let load = psf_figure(self.code.checks.live);
        Some(
            self.code
                .of_rule(id, "roof live load")?
                .held(Unit::Psf, load, Sense::AtLeast, self.code.figure(id)?)
                .note(Note::with(
                    "lowest slope {}; less is allowed for a member that carries over 200 square feet",
                    [RiseIn12(rise)],
                )),
        )
    }

    fn wall_height(&self) -> Option<Finding> {
        let limit = self.code.figure(RuleId::ScopeStoryHeight)?;
        let ground = &self.frame.hung.ground;
        // those of a dormer stand on the roof
        let walls = ground.walls.iter().filter(|wall| ground.dormer(&wall.block).is_none());
        let above = walls.map(|wall| ground.plate_top(wall)).fold(0.0, f64::max);
        Some(
            self.code
                .of_rule(RuleId::ScopeStoryHeight, "height of the walls")?
                .or_design()
                .held(
                    Unit::Inches,
                    self.code.plan().wall_height.inches() + above,
                    Sense::AtMost,
                    limit,
                )
                .note("floor to the highest plate; for the wind and seismic provisions"),
        )
    }

    /// For each face on a plate: its name, how deep its birdsmouth is square to the edge, and how long its level seat is.
    fn seats(&self) -> Vec<(&str, f64, f64)> {
        let ground = &self.frame.hung.ground;
        let on_plate = |face: &usize| ground.walls_of(*face).next().is_some();
        let faces = (0..ground.faces.len()).filter(on_plate);
        let seats = faces.map(|face| {
            let slope = ground.faces[face].slope;
            let heel = ground.heel_of(&ground.roof.faces[face].block);
            let plumb = ground.depth * slope.stretch() - heel;
            let seat = (plumb / slope.tangent()).min(ground.plate);
            (ground.roof.faces[face].name.as_str(), plumb / slope.stretch(), seat)
        });
        seats.collect()
    }

    fn notch(&self) -> Option<Finding> {
        let depth = self.frame.hung.ground.depth;
        let limit = self.code.figure(RuleId::NotchEnd)? * depth;
        let (face, deep, _) =
            self.seats().into_iter().max_by(|one, other| one.1.total_cmp(&other.1))?;
        Some(
            self.code
                .of_rule(RuleId::NotchEnd, "birdsmouth depth")?
                .held(Unit::Inches, deep, Sense::AtMost, limit)
                .note(Note::with(
                    format!("square to the edge; the deepest, in face {face}; {} of {{}} allowed; hips and valleys are not among them", RuleId::NotchEnd.value_words()),
                    [Inches(depth)],
                ))
                .told(),
        )
    }

    /// The wood over the notch of a tail, and of the one with the deepest notch.
    fn tail_left(&self) -> Option<Finding> {
        self.code.longest_tail()?;
        let depth = self.frame.hung.ground.depth;
        let (face, deep, _) =
            self.seats().into_iter().max_by(|one, other| one.1.total_cmp(&other.1))?;
        // a level soffit cut over the plate notches deeper than the seat
        let by_soffit = self.frame.pattern_rafters.iter().map(|(rafter, _)| rafter.remaining);
        let left = by_soffit.map(InInches::inches).fold(depth - deep, f64::min);
        Some(
            self.code
                .of_rule(RuleId::TailNotchRemaining, "wood left over the tail's notch")?
                .held(
                    Unit::Inches,
                    left,
                    Sense::AtLeast,
                    self.code.figure(RuleId::TailNotchRemaining)?,
                )
                .note(Note::with(
                    format!("depth {{}} less the deepest notch, {{}} in face {face}"),
                    [Inches(depth), Inches(depth - left)],
                )),
        )
    }

    fn tail_length(&self) -> Option<Finding> {
        let (tail, id) = self.code.longest_tail()?;
        let limit = self.code.figure(RuleId::TailNotchCantilever)?;
        Some(
            self.code
                .of_rule(RuleId::TailNotchCantilever, "cantilever of the notched tail")?
                .held(Unit::Inches, tail, Sense::AtMost, limit)
                .note(format!("level, building line to tail cut; the longest, {id}")),
        )
    }

    fn bearing(&self) -> Option<Finding> {
        let limit = self.code.figure(RuleId::BearingWood)?;
        let (face, _, seat) =
            self.seats().into_iter().min_by(|one, other| one.2.total_cmp(&other.2))?;
        let of_dormer = face
            .rsplit_once('.')
            .is_some_and(|(block, _)| self.frame.hung.ground.dormer(block).is_some());
        let cure = if of_dormer { ": write a seat under its [[dormer]]" } else { "" };
        Some(
            self.code
                .of_rule(RuleId::BearingWood, "bearing on the plate")?
                .held(Unit::Inches, seat, Sense::AtLeast, limit)
                .note(format!(
                    "level length of the seat on the plate; the shortest, in face {face}{cure}"
                )),
        )
    }

    /// Openings in the roof: their headers and trimmers are framed, but no figure here is held against them.
    fn openings(&self) -> Option<Finding> {
        (!self.code.plan().blocks.openings.is_empty()).then_some(())?;
        Some(
            self.code
                .of_rule(RuleId::OpeningHeaderSingle, "headers and trimmers of openings in the roof")?
                .told()
                .note("as framed they are not held against this rule here: look at their number, their hangers, and what the rafters beside an opening carry"),
        )
    }

    /// Rafters under a dormer or under a wing laid over them carry more than the tables assume.
    fn carrying(&self) -> Option<Finding> {
        let blocks = &self.code.plan().blocks;
        (!blocks.dormers.is_empty() || !blocks.laid_over.is_empty()).then_some(())?;
        let section = off_the_table(self.code.checks.edition, true);
        Some(
            self.code
                .of_table(
                    CheckId::RafterSpan,
                    "rafters that carry a dormer or a wing laid over them",
                    section.to_owned(),
                )
                .verdict(Verdict::NeedsDesign)
                .told()
                .note("the tables are for the load of one roof, spread evenly"),
        )
    }

    /// What carries the upper ends of a shed dormer's rafters: a header over trimmers, or the ridge.
    fn dormer_heads(&self) -> Option<Finding> {
        let ground = &self.frame.hung.ground;
        let sheds = || ground.laid.iter().filter(|laid| laid.is_shed());
        let widest = sheds()
            .filter_map(|laid| ground.holes.iter().find(|hole| hole.name == laid.block))
            .max_by(|one, other| {
                (one.reach.1 - one.reach.0).total_cmp(&(other.reach.1 - other.reach.0))
            })?;
        let names: Vec<&str> = sheds().map(|laid| laid.block.as_str()).collect();
        Some(
            self.code
                .of_rule(RuleId::OpeningHeaderSingle, "what carries the rafters of shed dormers at their heads")?
                .verdict(Verdict::NeedsDesign)
                .told()
                .note(Note::with(
                    format!(
                        "{}: the rule doubles a header over 4 ft and gives it no size; here it carries the dormer's rafters and the roof above, at most {{}} clear between its trimmers. One that rises to the ridge wants a ridge beam",
                        names.join(", ")
                    ),
                    [Inches(widest.reach.1 - widest.reach.0)],
                )),
        )
    }

    /// The span of the longest rafter, level.
    fn rafter_span(&self) -> Finding {
        let (run, id) = self.longest();
        let of = Rafters { run, carried: self.code.plan().spacing, rise: self.code.lowest_rise() };
        let to =
            if leans(self.frame) { "the middle of the ridge" } else { "the other building line" };
        let how = format!("level, building line to {to}; the longest, {id}");
        of.held(&self.code, how.into(), |finding, span_in| {
            let finding = finding.held(Unit::Inches, run, Sense::AtMost, f64::from(span_in));
            if leans(self.frame) && finding.verdict == Verdict::Meets {
                finding.told().note(WITHOUT_TIES)
            } else {
                finding
            }
        })
    }

    /// How far the longest rafter spans, level from over its wall (or its foot) to what it leans on, and its id.
    fn longest(&self) -> (f64, &str) {
        let ground = &self.frame.hung.ground;
        let half_ridge = ground.choices.ridge.inches() / 2.0;
        let mut longest = (0.0, "");
        for Reach { id, face, at: station, from: foot, to: head, .. } in
            self.frame.reaches.iter().filter(|reach| reach.role != Role::BargeRafter)
        {
            let (face, station, foot, head) = (*face, *station, *foot, *head);
            let up = ground.faces[face].up;
            let over = ground
                .seats(face)
                .into_iter()
                .filter(|seat| station > seat.reach.0 - HAIR && station < seat.reach.1 + HAIR);
            // a rafter on the end of a ridge reaches its middle line already
            let outline = &ground.roof.faces[face].outline;
            let top = outline.iter().map(|corner| corner.truncate().dot(up)).fold(head, f64::max);
            let (mut from, mut to) = (foot, (head + half_ridge).min(top));
            for seat in over {
                if seat.is_high {
                    to = to.min(seat.up + seat.width);
                } else {
                    from = from.max(seat.up);
                }
            }
            if to - from > longest.0 + LAST_BITS {
                longest = (to - from, id);
            }
        }
        longest
    }

    fn low_slope(&self) -> Option<Finding> {
        lines(self.frame, &[LineOf::Ridge, LineOf::Hip, LineOf::Valley]).next()?;
        let limit = self.code.figure(RuleId::RidgeLowSlopeBeam)?;
        Some(
            self.code
                .of_rule(RuleId::RidgeLowSlopeBeam, "pitch for ridge boards, hips and valleys")?
                .or_design()
                .held(Unit::RiseIn12, self.code.lowest_rise(), Sense::AtLeast, limit)
                .note("the lowest slope; below it ridge, hips and valleys are designed as beams and the rafters bear on them"),
        )
    }

    /// Of some lines: the one whose stick is least deep against the deepest rafter cut on it. Its name, the depth, the cut.
    fn shallowest(&self, of: &[LineOf]) -> Option<(&str, f64, f64)> {
        let ground = &self.frame.hung.ground;
        let each = ground.lines.iter().filter(|line| of.contains(&line.of) && line.half > 0.0).map(
            |line| {
                let faces = line.borders.iter().map(|border| &ground.faces[border.face]);
                let cut = faces.map(|face| ground.depth * face.slope.stretch()).fold(0.0, f64::max);
                (line.name.as_str(), ground.section_of(line).depth_in(), cut)
            },
        );
        each.min_by(|one, other| (one.1 - one.2).total_cmp(&(other.1 - other.2)))
    }

    fn ridge_depth(&self) -> Option<Finding> {
        let (name, depth, cut) = self.shallowest(&[LineOf::Ridge])?;
        Some(
            self.code
                .of_rule(RuleId::RidgeBoardDepth, "depth of the ridge board")?
                .held(Unit::Inches, depth, Sense::AtLeast, cut)
                .note(format!("between {name}, against the longest plumb cut on it, the deeper reading of the rule")),
        )
    }

    fn ridge_thickness(&self) -> Option<Finding> {
        let ridge = lines(self.frame, &[LineOf::Ridge]).find(|line| line.half > 0.0)?;
        let nominal = self.code.figure(RuleId::RidgeBoardThickness)?;
        let least = sizes().iter().find(|size| size.nominal_in().0 == nominal)?.thickness_in;
        Some(
            self.code
                .of_rule(RuleId::RidgeBoardThickness, "thickness of the ridge board")?
                .held(Unit::Inches, ridge.half * 2.0, Sense::AtLeast, least)
                .note(Note::with("1x nominal is {} actual", [Inches(least)])),
        )
    }

    fn hip_size(&self) -> Option<Finding> {
        let of = &[LineOf::Hip, LineOf::Valley];
        let (name, depth, cut) = self.shallowest(of)?;
        let nominal = self.code.figure(RuleId::HipValleySize)?;
        let least = sizes().iter().find(|size| size.nominal_in().0 == nominal)?.thickness_in;
        let thin = lines(self.frame, of).map(|line| line.half * 2.0).fold(f64::INFINITY, f64::min);
        let finding = self.code.of_rule(RuleId::HipValleySize, "size of hips and valleys")?;
        Some(if thin < least - LAST_BITS {
            finding.extent(Extent::Thickness).held(Unit::Inches, thin, Sense::AtLeast, least)
        } else {
            finding.held(Unit::Inches, depth, Sense::AtLeast, cut).note(Note::with(
                format!("between {name}, its depth against the longest plumb cut of the rafters on it; {{}} is the least thickness"),
                [Inches(least)],
            ))
        })
    }

    fn hip_support(&self) -> Option<Finding> {
        lines(self.frame, &[LineOf::Hip, LineOf::Valley]).next()?;
        let finding = self
            .code
            .of_rule(RuleId::HipValleySize, "support of hips and valleys at their heads")?
            .verdict(Verdict::NeedsDesign)
            .told()
            .note("each is held at the ridge by a brace to a bearing partition, or is designed for its load: no brace is in the plan");
        let alone = self.frame.hung.without_post();
        Some(if alone.is_empty() {
            finding
        } else {
            finding.note(format!("nothing at all carries the head of {}", alone.join(", ")))
        })
    }
}
