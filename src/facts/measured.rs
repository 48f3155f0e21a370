//! `measured` and `effect` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::measure::Length;
use crate::measure::quantity::in_inches;
use crate::measured::snoop::{CRITICAL, Doubt};
use crate::measured::survey::{AgainstPlan, Planned};
use crate::measured::walls::{CORNER_NAMES, WALL_NAMES};
use crate::measured::{Effect, FittedRafters, Outcome, Survey, Walls};
use crate::plan::{MeasuredPlan, Reading, What};

/// The result of `measured`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MeasuredReport {
    /// `measured`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// True if every reading agrees, or those that don't are known and left out. If not, nothing is listed to move or
    /// to cut that rests on a reading in doubt.
    pub settled: bool,
    /// True if every wall is within `measured.as_planned` of the plan; null while a reading of the tape is in doubt.
    pub as_planned: Option<bool>,
    /// What was measured against the plan: sides and diagonals as reconciled, or every reading while one is in doubt.
    pub planned: Vec<AgainstPlanJson>,
    /// Readings of the tape beyond those that are needed.
    pub redundancy: usize,
    /// A standardized residual above this disagrees.
    pub critical: f64,
    /// Every reading against the corners, in the order of the roof file's fields.
    pub readings: Vec<ReadingJson>,
    /// What disagrees, one after the other; each with those named alone before it left out.
    pub doubts: Vec<DoubtJson>,
    /// Every height that was read, place by place.
    pub heights: Vec<HeightJson>,
    /// Heights whose readings disagree.
    pub height_doubts: Vec<HeightDoubtJson>,
    /// The corners of the wall framing: near A at the origin, x along eave A. Empty while a reading of the tape is in
    /// doubt, as are the moves.
    pub corners: Vec<CornerJson>,
    /// Both diagonals as reconciled: from near A, from near B. Null while a reading of the tape is in doubt, as are
    /// `square`, `held` and `rectangle_in`.
    pub diagonals_in: Option<[f64; 2]>,
    /// True if no corner lies farther off a rectangle than `measured.square`.
    pub square: Option<bool>,
    /// The wall that is held for least moving.
    pub held: Option<&'static str>,
    /// What moves.
    pub moves: Vec<MoveJson>,
    /// The rectangle that comes of it: along the held wall, and square to it.
    pub rectangle_in: Option<[f64; 2]>,
    /// Where the rafters' top edges meet, above the level line, or above the plates if no heights were measured. Null
    /// while a reading or a height is in doubt, as is `ridge_to_fascia_in`; there are no rafters then.
    pub apex_in: Option<f64>,
    /// Level, middle of the ridge to the fascia's outer face.
    pub ridge_to_fascia_in: Option<f64>,
    /// What each end of a ridge that stands must rise to be level: near, far.
    pub ridge_rise_in: Option<[f64; 2]>,
    /// Every rafter.
    pub rafters: Vec<FittedRafterJson>,
}

/// One length against the plan.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AgainstPlanJson {
    /// The field of what was measured.
    pub field: &'static str,
    /// Its number among readings of the same, from 1; 0 if there is only one, or if it is reconciled out of several.
    pub number: usize,
    /// Where a span was taken.
    pub at_in: Option<f64>,
    /// What the plan makes it.
    pub planned_in: f64,
    /// As reconciled, or as read while a reading is in doubt.
    pub measured_in: f64,
    /// Measured less planned.
    pub off_in: f64,
    /// True if that is no more than `measured.as_planned`.
    pub within: bool,
}

/// One reading of a height.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HeightJson {
    /// The field it is written in.
    pub field: &'static str,
    /// Its number among readings of the same place, from 1; 0 if there is only one.
    pub number: usize,
    /// As read.
    pub read_in: f64,
    /// The height used there: the mean without those left out.
    pub used_in: f64,
    /// Standardized residual with every reading in; null if it is the only one.
    pub standardized: Option<f64>,
    /// True if it disagrees and was left out.
    pub left_out: bool,
}

/// Readings of one height that disagree.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HeightDoubtJson {
    /// The field of its place.
    pub field: &'static str,
    /// The corner or the end, in words.
    pub at: &'static str,
    /// The suspects, the likeliest first; their index is that among the readings of this place, from 0.
    pub readings: Vec<DoubtedJson>,
    /// Greatest standardized residual of the rest without the one named; null if none is left out.
    pub left: Option<f64>,
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
    /// Greatest standardized residual of the rest without the one named; null if none is left out: measure those named
    /// again.
    pub left: Option<f64>,
}

/// A reading that may be wrong.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DoubtedJson {
    /// Its place among the readings, from 0.
    pub index: usize,
    /// The field it is written in.
    pub field: &'static str,
    /// Its number among readings of the same, from 1; 0 if there is only one.
    pub number: usize,
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
pub fn report(plan: &MeasuredPlan, survey: &Survey) -> MeasuredReport {
    let adjusted = &survey.adjusted;
    let walls = survey.walls.as_ref();
    let fitted = survey.fitted.as_ref();
    MeasuredReport {
        command: "measured",
        caution: crate::facts::caution::MEASURED,
        settled: adjusted.is_settled() && survey.heights.is_settled(),
        as_planned: survey.as_planned(plan),
        planned: survey.against_plan.iter().map(|of| against_plan(plan, of)).collect(),
        redundancy: adjusted.redundancy,
        critical: CRITICAL,
        readings: adjusted
            .residuals
            .iter()
            .enumerate()
            .map(|(index, residual)| ReadingJson {
                left_out: adjusted.left_out.contains(&index),
                field: residual.reading.what.key().name(),
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
                readings: suspects(doubt, |index| {
                    let reading = &adjusted.residuals[index].reading;
                    (reading.what.key().name(), reading.number)
                }),
                left: doubt.left,
            })
            .collect(),
        heights: heights(survey),
        height_doubts: height_doubts(survey),
        corners: walls.map(|walls| corners(survey, walls)).unwrap_or_default(),
        diagonals_in: walls.map(|walls| walls.diagonals.map(in_inches)),
        square: walls.map(|walls| walls.farthest() <= plan.square),
        held: walls.map(|walls| WALL_NAMES[walls.held]),
        moves: walls.map(moves).unwrap_or_default(),
        rectangle_in: walls.map(|walls| walls.rectangle.map(in_inches)),
        apex_in: fitted.map(|fitted| in_inches(fitted.apex)),
        ridge_to_fascia_in: fitted.map(|fitted| in_inches(fitted.ridge_to_fascia)),
        ridge_rise_in: fitted.and_then(|fitted| fitted.ridge_rise).map(|ends| ends.map(in_inches)),
        rafters: fitted.map(rafters).unwrap_or_default(),
    }
}

fn against_plan(plan: &MeasuredPlan, of: &AgainstPlan) -> AgainstPlanJson {
    let (field, number, at_in) = match &of.of {
        Planned::Plan(reading) => (reading.what.key().name(), reading.number, place(reading)),
        Planned::Ridge(at) => (at.key().name(), 0, None),
    };
    AgainstPlanJson {
        field,
        number,
        at_in,
        planned_in: in_inches(of.planned),
        measured_in: in_inches(of.measured),
        off_in: in_inches(of.off()),
        within: of.off().abs() <= plan.as_planned,
    }
}

fn corners(survey: &Survey, walls: &Walls) -> Vec<CornerJson> {
    let corners = &walls.corners;
    CORNER_NAMES
        .into_iter()
        .zip([corners.near_a, corners.far_a, corners.far_b, corners.near_b])
        .zip(survey.adjusted.deviations.into_iter().zip(walls.out_of_square))
        .map(|((corner, place), (deviation, off))| CornerJson {
            corner,
            x_in: place.x,
            y_in: place.y,
            deviation_in: in_inches(deviation),
            out_of_square_in: in_inches(off),
        })
        .collect()
}

fn moves(walls: &Walls) -> Vec<MoveJson> {
    walls
        .moves
        .iter()
        .map(|step| MoveJson {
            corner: CORNER_NAMES[step.corner],
            toward_far_in: in_inches(step.toward_far),
            toward_b_in: in_inches(step.toward_b),
        })
        .collect()
}

fn heights(survey: &Survey) -> Vec<HeightJson> {
    survey
        .heights
        .readings
        .iter()
        .map(|of| HeightJson {
            field: of.at.key().name(),
            number: of.number,
            read_in: in_inches(of.read),
            used_in: in_inches(of.used),
            standardized: of.standardized,
            left_out: of.left_out,
        })
        .collect()
}

fn height_doubts(survey: &Survey) -> Vec<HeightDoubtJson> {
    survey
        .heights
        .doubts
        .iter()
        .map(|of| HeightDoubtJson {
            field: of.at.key().name(),
            at: of.at.words(),
            readings: suspects(&of.doubt, |index| (of.at.key().name(), index + 1)),
            left: of.doubt.left,
        })
        .collect()
}

/// The suspects of a doubt; `named` gives a reading's field and its number.
fn suspects(doubt: &Doubt, named: impl Fn(usize) -> (&'static str, usize)) -> Vec<DoubtedJson> {
    doubt
        .suspects
        .iter()
        .map(|suspect| {
            let (field, number) = named(suspect.index);
            DoubtedJson {
                index: suspect.index,
                field,
                number,
                standardized: suspect.standardized,
                wrong_by_in: suspect.wrong_by,
            }
        })
        .collect()
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
    /// The run in which unit rise changes by that much: 12 in, or 300 mm with metric units.
    pub unit_run_in: f64,
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
pub fn effect_report(effects: &[Effect], by: Length, unit_run: Length) -> EffectReport {
    EffectReport {
        command: "effect",
        by_in: in_inches(by),
        unit_run_in: in_inches(unit_run),
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
                    .map_or([None; 2], |(_, changes)| changes.map(|change| change.map(in_inches)))
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
