//! Values that are dragged on a drawing: the point of the roof that a value moves, and the value that brings it to
//! another place, rounded to what people build by.

use crate::catalog::span_tables::SPACINGS_IN;
use crate::frame::{CannotBuild, CommonRafter, Frame};
use crate::geom::DVec2;
use crate::key;
use crate::measure::quantity::{InInches, in_millimeters, inches, millimeters};
use crate::measure::{Pitch, Units, Writing};
use crate::plan::{GablePlan, Key, OverhangFrom, RafterPlan, nudge};

/// Steps of what is dragged: a pitch in 12 of run or in degrees, an overhang (common practice).
const PITCH_STEP_IN_12: f64 = 0.25;
const PITCH_STEP_DEG: f64 = 0.5;
const OVERHANG_STEP_IN: f64 = 0.25;
const OVERHANG_STEP_MM: f64 = 5.0;
/// The steepest roof that is read, in steps: 24 in 12.
const STEEPEST: (usize, usize) = (96, 126);

/// The rafter that is dragged for the spacing, counted from the near end wall: far enough for its place to show the
/// difference between two spacings.
const RAFTER: usize = 4;

/// A point of the roof that moves with a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grip {
    /// The field that it changes.
    pub field: Key,
    /// Its place in inches: across the building and up for pitch and overhang, along the building and in from eave A
    /// for the spacing.
    pub at: DVec2,
}

/// The points of the section: the ridge for the pitch, the eave's outer edge for the overhang.
#[must_use]
pub fn in_section(frame: &Frame) -> Vec<Grip> {
    let rafter = &frame.rafter;
    let reach = rafter.plan.overhang_from_building_line().inches();
    let low = frame.site.roof_height(-reach) - rafter.plumb_height.inches() / 2.0;
    vec![
        Grip {
            field: key!("roof.pitch"),
            at: DVec2::new(frame.site.run, rafter.ridge_top.inches()),
        },
        Grip { field: key!("eave.overhang"), at: DVec2::new(-reach, low) },
    ]
}

/// The point of the plan: the center of a rafter, for the spacing. A building with too few rafters has none.
#[must_use]
pub fn in_plan(frame: &Frame) -> Option<Grip> {
    let number = counted(frame)?;
    let center = frame.pairs[number].x_a + frame.site.thick / 2.0;
    Some(Grip { field: key!("roof.spacing"), at: DVec2::new(center, frame.site.run / 3.0) })
}

/// The number of the rafter that is dragged, which is not flush with the far end wall.
fn counted(frame: &Frame) -> Option<usize> {
    let between = frame.pairs.len().checked_sub(2)?;
    (between > 0).then(|| between.min(RAFTER))
}

/// What the field is written as when its point is brought to `at`; `None` if it has no point.
///
/// # Errors
///
/// If the roof can't be built.
pub fn written(
    plan: &GablePlan,
    field: Key,
    at: DVec2,
    units: Units,
) -> Result<Option<String>, CannotBuild> {
    let rafter = &plan.rafter;
    if field == key!("roof.pitch") {
        let now = CommonRafter::build(rafter)?;
        let pitch = pitch(rafter, &now, at.y, units);
        return Ok(Some(Writing::of(units).pitch_for_file(pitch)));
    }
    if field == key!("eave.overhang") {
        let from = match rafter.overhang_from {
            OverhangFrom::Framing => 0.0,
            OverhangFrom::Finish => rafter.finish.inches(),
        };
        let reach = inches((-at.x - from).max(0.0));
        let whole = |value: f64, step: f64| (value / step).round() * step;
        let reach = match units {
            Units::Millimeters => millimeters(whole(in_millimeters(reach), OVERHANG_STEP_MM)),
            _ => inches(whole(reach.inches(), OVERHANG_STEP_IN)),
        };
        return Ok(Some(nudge::write(reach, units)));
    }
    // only the spacing needs more than the pattern rafter
    Ok(if field == key!("roof.spacing") { spacing(&Frame::build(plan)?, at, units) } else { None })
}

/// The spacing of the span tables that brings the rafter that is dragged nearest to a place.
fn spacing(frame: &Frame, at: DVec2, units: Units) -> Option<String> {
    let number = counted(frame)? as f64;
    let grip = in_plan(frame)?;
    // the rafters between the end walls are on whole spacings, this one with them
    let off = grip.at.x - number * frame.plan.spacing.inches();
    let wanted = (at.x - off) / number;
    let nearest =
        SPACINGS_IN.into_iter().min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))?;
    Some(nudge::spacing(nearest, units))
}

/// The pitch in whole steps that brings the ridge nearest to a height above the plate.
fn pitch(plan: &RafterPlan, now: &CommonRafter, height: f64, units: Units) -> Pitch {
    let (of, last): (fn(usize) -> Option<Pitch>, usize) = match units {
        Units::Millimeters => (|step| Pitch::degrees(step as f64 * PITCH_STEP_DEG), STEEPEST.1),
        _ => (|step| Pitch::rise_in_12(step as f64 * PITCH_STEP_IN_12), STEEPEST.0),
    };
    let top = |step: usize| {
        let pitch = of(step).unwrap_or(plan.pitch);
        let built = CommonRafter::build(&RafterPlan { pitch, ..plan.clone() });
        // what can't be built is about as high as the heel and the rise of the run
        built.map_or_else(
            |_| now.heel_stand.inches() + plan.run().inches() * pitch.tangent(),
            |rafter| rafter.ridge_top.inches(),
        )
    };
    // the ridge rises with the pitch
    let (mut low, mut high) = (1, last);
    while low < high {
        let middle = usize::midpoint(low, high);
        if top(middle) < height {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    let below = low.saturating_sub(1).max(1);
    let nearest = if (top(below) - height).abs() < (top(low) - height).abs() { below } else { low };
    of(nearest).unwrap_or(plan.pitch)
}
