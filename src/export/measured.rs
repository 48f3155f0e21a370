//! `measured` and `effect` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::measure::Length;
use crate::measure::quantity::in_inches;
use crate::measured::adjust::{CRITICAL, DoubtedReading};
use crate::measured::walls::{CORNER_NAMES, WALL_NAMES};
use crate::measured::{Adjusted, Effect, FittedRafters, Outcome, Walls};
use crate::plan::{MeasuredPlan, Reading, What};

/// The result of `measured`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MeasuredReport {
    /// `measured`.
    pub command: &'static str,
    /// Readings of the tape beyond those that are needed.
    pub redundancy: usize,
    /// A standardized residual above this disagrees.
    pub critical: f64,
    /// Every reading against the corners, in the order of the roof file's fields.
    pub readings: Vec<ReadingJson>,
    /// What disagrees, one after the other; each with those named alone before it left out.
    pub doubts: Vec<DoubtJson>,
    /// The corners of the wall framing: near A at the origin, x along eave A.
    pub corners: Vec<CornerJson>,
    /// Both diagonals as reconciled: from near A, from near B.
    pub diagonals_in: [f64; 2],
    /// True if no corner lies farther off a rectangle than asked.
    pub square: bool,
    /// The wall that is held for least moving.
    pub held: &'static str,
    /// What moves.
    pub moves: Vec<MoveJson>,
    /// The rectangle that comes of it: along the held wall, and square to it.
    pub rectangle_in: [f64; 2],
    /// Where the rafters' top edges meet, above the level line, or above the plates where no heights were measured.
    pub apex_in: f64,
    /// Level, middle of the ridge to the fascia's outer face.
    pub ridge_to_fascia_in: f64,
    /// What each end of a ridge that stands must rise to be level: near, far.
    pub ridge_rise_in: Option<[f64; 2]>,
    /// Every rafter.
    pub rafters: Vec<FittedRafterJson>,
}

/// One reading.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ReadingJson {
    /// The field it is written in.
    pub field: &'static str,
    /// Its number among readings of the same, from 1; 0 where there is only one.
    pub number: usize,
    /// Where a span was taken.
    pub at_in: Option<f64>,
    /// As read.
    pub read_in: f64,
    /// What the corners make it.
    pub adjusted_in: f64,
    /// Read less adjusted.
    pub residual_in: f64,
    /// Its share of the redundancy, 0 to 1.
    pub redundancy: f64,
    /// Standardized residual with every reading in; null where nothing checks the reading.
    pub standardized: Option<f64>,
    /// True if it disagrees and was left out of the corners.
    pub left_out: bool,
}

/// Readings one of which is wrong.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DoubtJson {
    /// The likeliest first.
    pub readings: Vec<DoubtedJson>,
    /// Greatest standardized residual of the rest without the one named; null where none is left out.
    pub left: Option<f64>,
}

/// A reading that may be wrong.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DoubtedJson {
    /// Its place among the readings, from 0.
    pub index: usize,
    /// The field it is written in.
    pub field: &'static str,
    /// Its standardized residual.
    pub standardized: f64,
    /// By how much it is wrong, if it alone is.
    pub wrong_by_in: f64,
}

/// A corner.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CornerJson {
    /// Its name.
    pub corner: &'static str,
    /// Along eave A.
    pub x_in: f64,
    /// Square to it.
    pub y_in: f64,
    /// Standard deviation of its place.
    pub deviation_in: f64,
    /// Out of square over the shorter of its walls; positive if too wide.
    pub out_of_square_in: f64,
}

/// A corner's way.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MoveJson {
    /// The corner.
    pub corner: &'static str,
    /// Toward the far end.
    pub toward_far_in: f64,
    /// Toward eave B's side.
    pub toward_b_in: f64,
}

/// One rafter; also the rows of the CSV form.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FittedRafterJson {
    /// Number of its pair, from 1.
    pub pair: usize,
    /// Its eave.
    pub eave: &'static str,
    /// Its middle along the ridge from the near end.
    pub at_in: f64,
    /// Building line to the middle of the ridge, level.
    pub run_in: f64,
    /// Building line to the ridge cut, along the top edge.
    pub body_length_in: f64,
    /// Building line to the tail cut, along the top edge.
    pub tail_length_in: f64,
    /// Ridge cut to tail cut.
    pub rafter_length_in: f64,
    /// Seat.
    pub seat_in: f64,
    /// Heel stand.
    pub heel_stand_in: f64,
    /// Depth of the birdsmouth, square to the edge.
    pub notch_depth_in: f64,
    /// Top of its plate above the level line.
    pub plate_in: f64,
    /// Packing over the plate.
    pub packing_in: f64,
}

fn place(reading: &Reading) -> Option<f64> {
    match reading.what {
        What::SpanAt(at) => Some(in_inches(at)),
        _ => None,
    }
}

/// The report.
#[must_use]
pub fn report(
    plan: &MeasuredPlan,
    adjusted: &Adjusted,
    walls: &Walls,
    fitted: &FittedRafters,
) -> MeasuredReport {
    let corners = &adjusted.corners;
    MeasuredReport {
        command: "measured",
        redundancy: adjusted.redundancy,
        critical: CRITICAL,
        readings: adjusted
            .residuals
            .iter()
            .enumerate()
            .map(|(index, residual)| ReadingJson {
                left_out: adjusted.left_out.contains(&index),
                field: residual.reading.what.key(),
                number: residual.reading.number,
                at_in: place(&residual.reading),
                read_in: in_inches(residual.reading.length),
                adjusted_in: in_inches(residual.adjusted),
                residual_in: in_inches(residual.residual),
                redundancy: residual.redundancy,
                standardized: residual.standardized,
            })
            .collect(),
        doubts: adjusted
            .doubts
            .iter()
            .map(|doubt| DoubtJson {
                readings: doubt.readings.iter().map(doubted).collect(),
                left: doubt.left,
            })
            .collect(),
        corners: CORNER_NAMES
            .into_iter()
            .zip([corners.near_a, corners.far_a, corners.far_b, corners.near_b])
            .zip(adjusted.deviations.into_iter().zip(walls.out_of_square))
            .map(|((corner, place), (deviation, off))| CornerJson {
                corner,
                x_in: place.x,
                y_in: place.y,
                deviation_in: in_inches(deviation),
                out_of_square_in: in_inches(off),
            })
            .collect(),
        diagonals_in: walls.diagonals.map(in_inches),
        square: walls.farthest() <= plan.square,
        held: WALL_NAMES[walls.held],
        moves: walls
            .moves
            .iter()
            .map(|step| MoveJson {
                corner: CORNER_NAMES[step.corner],
                toward_far_in: in_inches(step.toward_far),
                toward_b_in: in_inches(step.toward_b),
            })
            .collect(),
        rectangle_in: walls.rectangle.map(in_inches),
        apex_in: in_inches(fitted.apex),
        ridge_to_fascia_in: in_inches(fitted.ridge_to_fascia),
        ridge_rise_in: fitted.ridge_rise.map(|ends| ends.map(in_inches)),
        rafters: rafters(fitted),
    }
}

fn doubted(doubted: &DoubtedReading) -> DoubtedJson {
    DoubtedJson {
        index: doubted.index,
        field: doubted.reading.what.key(),
        standardized: doubted.standardized,
        wrong_by_in: in_inches(doubted.wrong_by),
    }
}

/// Every rafter, for JSON and CSV.
#[must_use]
pub fn rafters(fitted: &FittedRafters) -> Vec<FittedRafterJson> {
    fitted
        .rafters
        .iter()
        .map(|one| FittedRafterJson {
            pair: one.pair,
            eave: one.eave.name(),
            at_in: in_inches(one.at),
            run_in: in_inches(one.rafter.plan.run()),
            body_length_in: in_inches(one.rafter.body_length),
            tail_length_in: in_inches(one.rafter.tail_length),
            rafter_length_in: in_inches(one.rafter.rafter_length),
            seat_in: in_inches(one.rafter.seat.length),
            heel_stand_in: in_inches(one.rafter.heel_stand),
            notch_depth_in: in_inches(one.rafter.notch_depth),
            plate_in: in_inches(one.plate),
            packing_in: in_inches(one.packing),
        })
        .collect()
}

/// The result of `effect`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EffectReport {
    /// `effect`.
    pub command: &'static str,
    /// The change of each input.
    pub by_in: f64,
    /// What each does, the worst first.
    pub effects: Vec<EffectJson>,
}

/// What one input does; also the rows of the CSV form. `_more` is for more of it, `_less` for less; null where
/// that can't be built.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs)] // each name says it: the outcome, and for which change
pub struct EffectJson {
    /// The input.
    pub input: &'static str,
    /// The greatest of all changes.
    pub worst_in: f64,
    pub rafter_length_more_in: Option<f64>,
    pub rafter_length_less_in: Option<f64>,
    pub body_length_more_in: Option<f64>,
    pub body_length_less_in: Option<f64>,
    pub tail_length_more_in: Option<f64>,
    pub tail_length_less_in: Option<f64>,
    pub ridge_height_more_in: Option<f64>,
    pub ridge_height_less_in: Option<f64>,
    pub fascia_height_more_in: Option<f64>,
    pub fascia_height_less_in: Option<f64>,
    pub overhang_more_in: Option<f64>,
    pub overhang_less_in: Option<f64>,
    pub seat_more_in: Option<f64>,
    pub seat_less_in: Option<f64>,
    pub soffit_height_more_in: Option<f64>,
    pub soffit_height_less_in: Option<f64>,
}

/// The report of `effect`.
#[must_use]
pub fn effect_report(effects: &[Effect], by: Length) -> EffectReport {
    EffectReport {
        command: "effect",
        by_in: in_inches(by),
        effects: effect_rows(effects),
    }
}

/// What each input does, for JSON and CSV.
#[must_use]
pub fn effect_rows(effects: &[Effect]) -> Vec<EffectJson> {
    effects
        .iter()
        .map(|effect| {
            let of = |outcome: Outcome| {
                effect
                    .changes
                    .iter()
                    .find(|(own, _)| *own == outcome)
                    .map_or([None; 2], |(_, changes)| {
                        changes.map(|change| change.map(in_inches))
                    })
            };
            let [rafter_length_more_in, rafter_length_less_in] = of(Outcome::Rafter);
            let [body_length_more_in, body_length_less_in] = of(Outcome::Body);
            let [tail_length_more_in, tail_length_less_in] = of(Outcome::Tail);
            let [ridge_height_more_in, ridge_height_less_in] = of(Outcome::Ridge);
            let [fascia_height_more_in, fascia_height_less_in] = of(Outcome::Fascia);
            let [overhang_more_in, overhang_less_in] = of(Outcome::Overhang);
            let [seat_more_in, seat_less_in] = of(Outcome::Seat);
            let [soffit_height_more_in, soffit_height_less_in] = of(Outcome::Soffit);
            EffectJson {
                input: effect.input.words(),
                worst_in: in_inches(effect.worst),
                rafter_length_more_in,
                rafter_length_less_in,
                body_length_more_in,
                body_length_less_in,
                tail_length_more_in,
                tail_length_less_in,
                ridge_height_more_in,
                ridge_height_less_in,
                fascia_height_more_in,
                fascia_height_less_in,
                overhang_more_in,
                overhang_less_in,
                seat_more_in,
                seat_less_in,
                soffit_height_more_in,
                soffit_height_less_in,
            }
        })
        .collect()
}
