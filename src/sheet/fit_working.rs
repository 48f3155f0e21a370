//! How the figures of a fit are worked out, with their numbers, so that they can be redone by hand.

use crate::fit::{Aim, Answer, Fit};
use crate::measure::quantity::inches;
use crate::measure::{Length, trim};
use crate::plan::{Datum, FitPlan, Quantity, TailCut, Unknown};

use super::Look;
use super::table::wrapped;

/// The working of one answer.
pub(super) fn text(plan: &FitPlan, fit: &Fit, answer: &Answer, look: &Look) -> String {
    let mut text = format!(
        "How it comes about with {}\n",
        super::fit_words::exact(fit.unknown, answer.value, look)
    );
    let mut line = |words: String| text.push_str(&wrapped(&format!("  {words}"), 6, look));
    let exact = |length: Length| look.writing.exact(length);
    let rafter = &answer.eave.rafter;
    let ask = &rafter.plan;
    let tangent = trim(ask.pitch.tangent(), 6);
    line(format!(
        "slope: rise over run {tangent}, slope over run {}",
        trim(ask.pitch.slope_factor(), 6)
    ));
    line(format!(
        "heel stand = depth {} x {} - seat {} x {tangent} = {}",
        exact(ask.stock.depth),
        trim(ask.pitch.slope_factor(), 6),
        exact(rafter.seat.length),
        exact(rafter.heel_stand)
    ));
    line(format!(
        "peak above the plate = heel stand + run {} x {tangent} = {}",
        exact(ask.run()),
        exact(rafter.apex)
    ));
    line(format!(
        "ridge top above the plate = peak - half the ridge {} x {tangent} = {}",
        exact(ask.ridge / 2.0),
        exact(rafter.ridge_top)
    ));
    let out = answer.eave.fascia_top.out;
    line(format!(
        "fascia's top above the plate = heel stand - {} x {tangent} = {}",
        exact(out),
        exact(answer.eave.fascia_top.above_plate)
    ));
    if let (Some(bottom), Some(depth)) = (answer.eave.fascia_bottom, ask.fascia_depth) {
        let depth = if ask.tail == TailCut::Square {
            format!("{} leaning", exact(depth))
        } else {
            exact(depth)
        };
        line(format!(
            "fascia's bottom above the plate = its top - depth {depth} = {}",
            exact(bottom.above_plate)
        ));
    }
    let wall = answer.eave.plan.wall_height;
    let floor = plan.floor_height.unwrap_or(inches(0.0));
    match plan.datum {
        Datum::Plate => {}
        Datum::Floor => line(format!("above the floor: wall height {} more", exact(wall))),
        Datum::Grade => line(format!(
            "above the ground: wall height {} and floor {} more",
            exact(wall),
            exact(floor)
        )),
        Datum::Mark => {
            let mark = plan.mark.unwrap_or(inches(0.0));
            let moved = wall - plan.eave.wall_height;
            line(format!(
                "above the mark: {} less for the mark above the plate{}",
                exact(mark),
                if fit.unknown == Unknown::WallHeight {
                    format!(", {} more for the higher wall", exact(moved))
                } else {
                    String::new()
                }
            ));
        }
    }
    if let Aim::Meet(measured) = fit.aim
        && measured.quantity == Quantity::Rise48
    {
        line(format!("rise over 48 in level = 48 x {tangent}"));
    }
    text
}
