//! The two routes side by side: the measure of the stick, and the square's.

use crate::frame::CommonRafter;
use crate::measure::Units;
use crate::measure::quantity::{InInches, in_degrees};

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

/// Puts every number of the second route beside the stick's own measure.
#[must_use]
pub fn compare(rafter: &CommonRafter, units: Units) -> Vec<Compared> {
    numbers(&rafter.plan, rafter.seat.length, units)
        .into_iter()
        .filter_map(|by_square| {
            let high = rafter.high;
            let measured = match by_square.key {
                "high_tail_length_in" => high?.tail_length.inches(),
                "plate_above_in" => high?.plate.inches(),
                "run_in" => rafter.plan.run().inches(),
                "slope_deg" => in_degrees(rafter.slope),
                "line_length_in" => rafter.line_length.inches(),
                "ridge_shortening_in" => rafter.ridge_shortening.inches(),
                "body_length_in" => rafter.body_length.inches(),
                "tail_length_in" => rafter.tail_length.inches(),
                "rafter_length_in" => rafter.rafter_length.inches(),
                "stock_length_in" => rafter.blank_length.inches(),
                "plumb_height_in" => rafter.plumb_height.inches(),
                "heel_plumb_in" => rafter.heel_plumb.inches(),
                "notch_depth_in" => rafter.notch_depth.inches(),
                "heel_stand_in" => rafter.heel_stand.inches(),
                "ridge_top_above_plate_in" => rafter.ridge_top.inches(),
                "apex_above_plate_in" => rafter.apex.inches(),
                _ => return None,
            };
            Some(Compared { by_square, measured })
        })
        .collect()
}
