//! The eave: the places of fascia, soffit and tail, and how much to cut off measured tails or how much
//! they are short.

use crate::geom::DVec3;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::eave::{EavePlan, EavesPlan, MeasuredTo};
use crate::plan::{OverhangFrom, OverhangTo, TailCut};

use super::common::{CannotBuild, CommonRafter, HighEnd};
use super::slopes::{self, CannotSlope, OfSlopes};
use super::stick::Edge;

/// A place of the eave: level distance out from the building line, height over the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Level, from the building line outward.
    pub out: Length,
    /// Plumb, from the top of the plate; below it is negative.
    pub above_plate: Length,
}

/// A measured overhang compared with the plan's.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredTail {
    /// As measured.
    pub measured: Length,
    /// Level, measured less planned: cut off a positive amount; a negative one is missing.
    pub over: Length,
    /// The same along the slope.
    pub over_along_slope: Length,
}

/// The eave at the high wall of a shed, where the roof rises outward. Places are level from the building line of that wall, and plumb
/// from its plate.
#[derive(Debug, Clone, PartialEq)]
pub struct HighEave {
    /// Top of the floor to the top of the high plate.
    pub wall_height: Length,
    /// Top corner of the high tail cut.
    pub tail_top: Spot,
    /// Foot of the high tail cut.
    pub tail_foot: Spot,
    /// The fascia's outer face at its top; the tail cut's if there is no fascia.
    pub fascia_top: Spot,
    /// The fascia's outer face at its bottom, if its depth is known.
    pub fascia_bottom: Option<Spot>,
    /// The fascia's outer face, level from the finished wall.
    pub fascia_from_finish: Length,
    /// How far the fascia's top is above the tail's top corner, plumb: its inner edge is in the roof plane.
    pub fascia_rise: Length,
    /// Least fascia depth that reaches from its top to the underside of tail and soffit.
    pub least_fascia_depth: Length,
    /// Underside of a soffit along the rafters at the finished wall, where it is lowest, above the plate.
    pub soffit_at_wall: Length,
    /// The same at the back of the boards.
    pub soffit_at_boards: Length,
    /// Along the rafters, finished wall to the back of the boards: the soffit's width.
    pub soffit_width: Length,
}

/// All dimensions of the eave.
#[derive(Debug, Clone)]
pub struct Eave {
    /// The plan.
    pub plan: EavePlan,
    /// Its pattern rafter.
    pub rafter: CommonRafter,
    /// Top corner of the tail cut.
    pub tail_top: Spot,
    /// Lowest point of the tail.
    pub tail_foot: Spot,
    /// The fascia's outer face at its top; the tail cut's if there is no fascia.
    pub fascia_top: Spot,
    /// The fascia's outer face at its bottom, if its depth is known.
    pub fascia_bottom: Option<Spot>,
    /// The fascia's outer face, level from the finished wall.
    pub fascia_from_finish: Length,
    /// How far the sub-fascia's top is below the tail's top corner, plumb.
    pub subfascia_drop: Length,
    /// How far the fascia's top is below the tail's top corner, plumb.
    pub fascia_drop: Length,
    /// Least fascia depth that reaches from its top to the underside of tail and soffit.
    pub least_fascia_depth: Length,
    /// Underside of the soffit, above the plate.
    pub soffit: Length,
    /// Level, finished wall to the back of the boards: the soffit's width.
    pub soffit_width: Length,
    /// Underside of the soffit less the window head; negative if the soffit hangs below it.
    pub over_window_head: Option<Length>,
    /// Each measured overhang.
    pub measured: Vec<MeasuredTail>,
    /// The overhang that every measured tail reaches without being pieced out.
    pub reached_by_all: Option<Length>,
    /// The eave at the high wall of a shed.
    pub high: Option<HighEave>,
}

impl Eave {
    /// Builds the pattern rafter and measures its eave.
    ///
    /// # Errors
    /// [`CannotBuild`] as the rafter's.
    pub fn build(plan: &EavePlan) -> Result<Eave, CannotBuild> {
        let rafter = CommonRafter::build(&plan.rafter)?;
        let ask = &rafter.plan;
        let (tangent, secant) = (ask.pitch.tangent(), ask.pitch.slope_factor());
        let spot = |point: DVec3| Spot { out: inches(-point.y), above_plate: inches(point.z) };
        let top = rafter
            .marks
            .iter()
            .find(|mark| mark.edge == Edge::Top && mark.name == "tail")
            .map_or(DVec3::ZERO, |mark| mark.point);
        let foot = rafter.tail_foot();
        let square = ask.tail == TailCut::Square;
        // boards on a plumb tail are plumb with square edges and must drop below the roof plane; boards
        // on a square tail lean with it and are in the plane without a drop
        let subfascia_drop = rafter.board_drop(ask.subfascia);
        let fascia_drop = rafter.board_drop(ask.boards());
        let level_boards = if square { ask.boards() / secant } else { ask.boards() };
        let plane_fall = level_boards * tangent;
        let tail_top = spot(top);
        let tail_foot = spot(foot);
        let fascia_top = Spot {
            out: tail_top.out + level_boards,
            above_plate: tail_top.above_plate - plane_fall,
        };
        let soffit = tail_foot.above_plate - plan.soffit;
        let (down, in_per_depth) =
            if square { (1.0 / secant, tangent / secant) } else { (1.0, 0.0) };
        let fascia_bottom = ask.fascia_depth.map(|depth| Spot {
            out: fascia_top.out - depth * in_per_depth,
            above_plate: fascia_top.above_plate - depth * down,
        });
        let least_fascia_depth = rafter.covering_depth(ask.boards(), plan.soffit);
        let from_asked_face = match ask.overhang_from {
            OverhangFrom::Framing => inches(0.0),
            OverhangFrom::Finish => ask.finish,
        };
        let asked_to_tail = tail_top.out - from_asked_face;
        let boards_beyond = |to: MeasuredTo| match to {
            MeasuredTo::Tail => inches(0.0),
            MeasuredTo::Fascia => level_boards,
        };
        let target = asked_to_tail + boards_beyond(plan.measured_to);
        let reached_by_all = plan
            .measured
            .iter()
            .copied()
            .reduce(|least, next| if next < least { next } else { least })
            .map(|shortest| {
                let to_tail = shortest - boards_beyond(plan.measured_to);
                match ask.overhang_to {
                    OverhangTo::Tail => to_tail,
                    OverhangTo::Fascia => to_tail + level_boards,
                }
            });
        Ok(Eave {
            fascia_from_finish: fascia_top.out - ask.finish,
            soffit_width: tail_foot.out - ask.finish,
            over_window_head: plan.window_head.map(|head| plan.wall_height + soffit - head),
            plan: plan.clone(),
            tail_top,
            tail_foot,
            fascia_top,
            fascia_bottom,
            subfascia_drop,
            fascia_drop,
            least_fascia_depth,
            soffit,
            measured: measured_tails(plan, target, secant),
            reached_by_all,
            high: rafter.high.map(|high| high_eave(plan, &rafter, &high)),
            rafter,
        })
    }

    /// A height above the plate as a height above the floor.
    #[must_use]
    pub fn above_floor(&self, above_plate: Length) -> Length {
        self.plan.wall_height + above_plate
    }

    /// Level, over the whole building: outer face of one fascia to that of the other, or tail cut to
    /// tail cut if there are no boards. `other` is the eave of slope B, if it is another one.
    #[must_use]
    pub fn width_over_all(&self, other: Option<&Eave>) -> Length {
        let high = self.high.as_ref().map(|high| high.fascia_top.out);
        let across = high.or(other.map(|other| other.fascia_top.out));
        self.rafter.plan.span + self.fascia_top.out + across.unwrap_or(self.fascia_top.out)
    }

    /// True if the fascia's depth is known and too small to cover the tail and soffit.
    #[must_use]
    pub fn fascia_falls_short(&self) -> bool {
        self.rafter
            .plan
            .fascia_depth
            .is_some_and(|depth| depth.inches() < self.least_fascia_depth.inches() - LAST_BITS)
    }
}

/// The eaves of the slopes of the main block.
///
/// # Errors
/// [`CannotSlope`] if the slopes have no rafters.
pub fn eaves(plan: &EavesPlan) -> Result<OfSlopes<Eave>, CannotSlope> {
    let EavesPlan { eave, slopes } = plan;
    let OfSlopes { first, slope_b } = slopes::plans(&eave.rafter, slopes)?;
    let plans = OfSlopes {
        first: eave.of_slope(first, inches(0.0)),
        slope_b: slope_b.map(|rafter| eave.of_slope(rafter, slopes.plate_b)),
    };
    Ok(plans.each(Eave::build)?)
}

/// The eave at the high wall of a shed: the boards stand plumb against a plumb cut.
fn high_eave(plan: &EavePlan, rafter: &CommonRafter, high: &HighEnd) -> HighEave {
    let ask = &rafter.plan;
    let (tangent, secant) = (ask.pitch.tangent(), ask.pitch.slope_factor());
    let out = high.tail_projection;
    // over the high heel, at the wall's inner face, the top is a heel stand above the plate
    let top = |out: Length| rafter.heel_stand + (ask.plate + out) * tangent;
    let under = |out: Length| top(out) - rafter.plumb_height - plan.soffit * secant;
    let fascia_rise = -rafter.high_board_drop(ask.subfascia);
    let fascia_top = Spot { out: out + ask.boards(), above_plate: top(out) + fascia_rise };
    HighEave {
        wall_height: plan.wall_height + high.plate,
        tail_top: Spot { out, above_plate: top(out) },
        tail_foot: Spot { out, above_plate: top(out) - rafter.plumb_height },
        fascia_bottom: ask
            .fascia_depth
            .map(|depth| Spot { above_plate: fascia_top.above_plate - depth, ..fascia_top }),
        fascia_from_finish: fascia_top.out - ask.finish,
        fascia_rise,
        least_fascia_depth: fascia_top.above_plate - under(out),
        soffit_at_wall: under(ask.finish),
        soffit_at_boards: under(out),
        soffit_width: (out - ask.finish) * secant,
        fascia_top,
    }
}

/// Every measured overhang against the one that was asked for.
fn measured_tails(plan: &EavePlan, asked: Length, secant: f64) -> Vec<MeasuredTail> {
    let against = |&measured: &Length| {
        let over = measured - asked;
        MeasuredTail { measured, over, over_along_slope: over * secant }
    };
    plan.measured.iter().map(against).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Entries;
    use approx::assert_abs_diff_eq;

    fn eave(flags: &[(&'static str, &str)], measured: &[f64]) -> Eave {
        let mut entries = Entries::default();
        entries.add_flag(crate::key!("building.span"), Some("24'"));
        entries.add_flag(crate::key!("roof.pitch"), Some("9/12"));
        for (key, text) in flags {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let mut plan = EavePlan::read(&entries).unwrap();
        plan.measured = measured.iter().map(|value| inches(*value)).collect();
        Eave::build(&plan).unwrap()
    }

    #[track_caller]
    fn close(length: Length, expected: f64) {
        assert_abs_diff_eq!(length.inches(), expected, epsilon = 1e-9);
    }

    #[test]
    fn a_plumb_tail_with_both_boards() {
        // 2x6 at 9 in 12, seat 1.375/0.6 = 2.2917 in: heel stand 6.875 - 1.71875 = 5.15625 in
        let eave = eave(&[("eave.fascia", "1x8"), ("eave.subfascia", "2x6")], &[10.0, 9.75, 9.5]);
        close(eave.tail_top.out, 9.75);
        close(eave.tail_top.above_plate, 5.15625 - 9.75 * 0.75);
        close(eave.fascia_top.out, 12.0);
        close(eave.fascia_drop, 2.25 * 0.75);
        close(eave.subfascia_drop, 1.5 * 0.75);
        close(eave.fascia_top.above_plate, 5.15625 - 12.0 * 0.75);
        close(eave.tail_foot.above_plate, 5.15625 - 9.75 * 0.75 - 6.875);
        close(eave.least_fascia_depth, 6.875 - 2.25 * 0.75);
        close(eave.fascia_bottom.unwrap().above_plate, 5.15625 - 9.0 - 7.25);
        // 24 ft and 12 in on either side
        close(eave.width_over_all(None), 312.0);
        assert!(!eave.fascia_falls_short());
        let over: Vec<f64> = eave.measured.iter().map(|tail| tail.over.inches()).collect();
        assert_eq!(over, [0.25, 0.0, -0.25]);
        close(eave.measured[0].over_along_slope, 0.3125);
        close(eave.reached_by_all.unwrap(), 11.75);
    }

    #[test]
    fn a_square_tail_leans_and_needs_no_drop() {
        let eave = eave(&[("eave.fascia", "1\""), ("rafter.tail", "square")], &[]);
        close(eave.fascia_top.out, 12.0);
        close(eave.fascia_drop, 0.0);
        close(eave.fascia_top.above_plate, 5.15625 - 9.0);
        close(eave.least_fascia_depth, 5.5);
    }
}
