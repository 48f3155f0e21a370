//! The two routes side by side: what was measured on the stick, and what the square says.

use crate::frame::CommonRafter;
use crate::measure::Units;
use crate::measure::quantity::{in_degrees, in_inches};

use super::rafter::{Number, numbers};

/// One number by both routes.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// The second route's number, with its working.
    pub by_square: Number,
    /// What was measured on the stick, inches or degrees.
    pub measured: f64,
}

impl Compared {
    /// Measured less by the square, inches or degrees.
    #[must_use]
    pub fn difference(&self) -> f64 {
        self.measured - self.by_square.value
    }
}

/// Sets every number of the second route beside the stick's own measure.
#[must_use]
pub fn compare(rafter: &CommonRafter, units: Units) -> Vec<Compared> {
    numbers(&rafter.plan, rafter.seat.length, units)
        .into_iter()
        .filter_map(|by_square| {
            let measured = match by_square.key {
                "run_in" => in_inches(rafter.plan.run()),
                "slope_deg" => in_degrees(rafter.slope),
                "line_length_in" => in_inches(rafter.line_length),
                "ridge_shortening_in" => in_inches(rafter.ridge_shortening),
                "body_length_in" => in_inches(rafter.body_length),
                "tail_length_in" => in_inches(rafter.tail_length),
                "rafter_length_in" => in_inches(rafter.rafter_length),
                "stock_length_in" => in_inches(rafter.blank_length),
                "plumb_height_in" => in_inches(rafter.plumb_height),
                "heel_plumb_in" => in_inches(rafter.heel_plumb),
                "notch_depth_in" => in_inches(rafter.notch_depth),
                "heel_stand_in" => in_inches(rafter.heel_stand),
                "ridge_top_above_plate_in" => in_inches(rafter.ridge_top),
                "apex_above_plate_in" => in_inches(rafter.apex),
                _ => return None,
            };
            Some(Compared { by_square, measured })
        })
        .collect()
}
