//! `measured` and `effect` as JSON and CSV.

use crate::geom::DVec2;
use crate::measure::{Amount, Length, Note};
use crate::measured::effect::Changes;
use crate::measured::heights::{HeightDoubt, HeightReading};
use crate::measured::snoop::{CRITICAL, Doubt, Suspect};
use crate::measured::survey::{AgainstPlan, Planned};
use crate::measured::walls::{CORNER_NAMES, WALL_NAMES};
use crate::measured::{Effect, FittedRafter, Move, Outcome, Residual, Survey, Walls};
use crate::plan::{MeasuredPlan, Reading, What};

use super::datum::{Change, Deviations, Figure, Inches, tape};
use super::record::record;

record! {
    /// The result of `measured`.
    MeasuredReport from (plan: &MeasuredPlan, survey: &Survey) with {
        let adjusted = &survey.adjusted;
        let walls = survey.walls.as_ref();
        let fitted = survey.fitted.as_ref();
        let name_of = |index: usize| {
        let reading = &adjusted.residuals[index].reading;
        (reading.what.key().name(), reading.number)
        };
    } {
        /// `measured`.
        command: &'static str = "measured";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::MEASURED;
        /// True if every reading agrees, or if the wrong ones are known and left out. If not, nothing
        /// that depends on a reading in doubt is listed to move or to cut.
        settled: bool = adjusted.is_settled() && survey.heights.is_settled();
        /// True if every wall is within `measured.as_planned` of the plan; null while a reading of the tape is in doubt.
        as_planned: Option<bool> = survey.as_planned(plan);
        /// The measurements compared with the plan: sides and diagonals as reconciled, or every reading
        /// while one is in doubt.
        planned: Vec<AgainstPlanJson> = survey.against_plan.iter().map(|of| (plan, of));
        /// Readings of the tape beyond those that are needed.
        redundancy: usize = adjusted.redundancy;
        /// A standardized residual above this disagrees.
        critical: f64 = CRITICAL;
        /// Every reading against the corners, in the order of the roof file's fields.
        readings: Vec<ReadingJson> = readings(survey);
        /// The disagreements, in order; each found after leaving out the single suspects before it.
        doubts: Vec<DoubtJson> = adjusted.doubts.iter().map(|doubt| (doubt, suspects(doubt, name_of)));
        /// Every height that was read, place by place.
        heights: Vec<HeightJson> = survey.heights.readings.iter().map(|height| (height, is_in_doubt(survey, height)));
        /// Heights with readings that disagree.
        height_doubts: Vec<HeightDoubtJson> = &survey.heights.doubts;
        /// The corners of the wall framing: near A at the origin, x along eave A. Empty while a reading
        /// of the tape is in doubt, as are the moves.
        corners: Vec<CornerJson> = walls.map(|walls| corners(survey, walls)).into_iter().flatten();
        /// Both diagonals as reconciled: from near A, from near B. Null while a reading of the tape is in doubt, as are
        /// `square`, `held` and `rectangle_in`.
        diagonals_in: Option<[Inches; 2]> = walls.map(|walls| walls.diagonals);
        /// True if no corner is farther off a rectangle than `measured.square`.
        square: Option<bool> = walls.map(|walls| walls.farthest() <= plan.square);
        /// The wall to keep for the least moving.
        held: Option<&'static str> = walls.map(|walls| WALL_NAMES[walls.held]);
        /// What moves.
        moves: Vec<MoveJson> = walls.map(|walls| &walls.moves).into_iter().flatten();
        /// The resulting rectangle: along the kept wall, and square to it.
        rectangle_in: Option<[Inches; 2]> = walls.map(|walls| walls.rectangle);
        /// Where the rafters' top edges meet, above the level line, or above the plates if no heights were measured. Null
        /// while a reading or a height is in doubt, as is `ridge_to_fascia_in`; there are no rafters then.
        apex_in: Option<Inches> = fitted.map(|fitted| fitted.apex);
        /// Level, middle of the ridge to the fascia's outer face.
        ridge_to_fascia_in: Option<Inches> = fitted.map(|fitted| fitted.ridge_to_fascia);
        /// How much to raise each end of a ridge that is up to make it level: near, far.
        ridge_rise_in: Option<[Inches; 2]> = fitted.and_then(|fitted| fitted.ridge_rise);
        /// Every rafter.
        rafters: Vec<FittedRafterJson> = fitted.map(|fitted| &fitted.rafters).into_iter().flatten();
    }
}

/// Behind a reading that counts no more.
const LEFT_OUT: &str = ", left out";

/// Every reading of the tape, and whether it was left out.
pub fn readings(survey: &Survey) -> impl Iterator<Item = (&Residual, bool)> {
    let adjusted = &survey.adjusted;
    let all = adjusted.residuals.iter().enumerate();
    all.map(|(index, residual)| (residual, adjusted.left_out.contains(&index)))
}

/// True if the readings of its place disagree, and which is wrong is not known.
#[must_use]
pub fn is_in_doubt(survey: &Survey, height: &HeightReading) -> bool {
    let mut doubts = survey.heights.doubts.iter();
    doubts.any(|doubt| doubt.at == height.at && !doubt.doubt.is_settled())
}

/// A reading in words: `width at the near end (2)`, `span at 5' 4"`.
#[must_use]
pub fn reading(reading: &Reading) -> Note {
    let words = reading.what.words();
    match (reading.what, reading.number) {
        (What::SpanAt(at), _) => Note::with("{} at {}", [words.into(), Amount::from(at)]),
        (_, number) => numbered(words, number).into(),
    }
}

/// What is held against the plan, in words.
#[must_use]
pub fn planned(of: &Planned) -> Note {
    match of {
        Planned::Plan(own) => reading(own),
        Planned::Ridge(at) => format!("{}, over its plates", at.words()).into(),
    }
}

/// Words with the number of a reading, if there are several of its kind.
#[must_use]
pub fn numbered(words: &str, number: usize) -> String {
    match number {
        0 => words.to_owned(),
        number => format!("{words} ({number})"),
    }
}

record! {
    /// One length against the plan.
    AgainstPlanJson from (plan: &MeasuredPlan, of: &AgainstPlan) with {
        let (named, number, at) = match &of.of {
        Planned::Plan(reading) => (reading.what.key().name(), reading.number, place(reading)),
        Planned::Ridge(at) => (at.key().name(), 0, None),
        };
    } {
        /// What was measured, in words.
        what "what" on page: Note = planned(&of.of);
        /// The field of what was measured.
        field: &'static str = named;
        /// Its number among readings of the same measure, from 1; 0 if there is only one, or if it is
        /// reconciled from several.
        number: usize = number;
        /// The place of a span.
        at_in: Option<Inches> = at;
        /// What the plan makes it.
        planned_in "planned": Inches = of.planned;
        /// As reconciled, or as read while a reading is in doubt.
        measured_in "measured": Inches = of.measured;
        /// Measured less planned.
        off_in "off the plan": Change = of.off();
        /// True if that is no more than `measured.as_planned`.
        within: bool = of.off().abs() <= plan.as_planned;
    }
}

record! {
    /// One reading of a height.
    HeightJson from (height: &HeightReading, in_doubt: bool) with {
        let words = numbered(height.at.words(), height.number);
    } {
        /// What was read, in words.
        height "height" on page: String = words + if height.left_out { LEFT_OUT } else { "" };
        /// The field it is written in.
        field: &'static str = height.at.key().name();
        /// Its number among readings of the same place, from 1; 0 if there is only one.
        number: usize = height.number;
        /// As read.
        read_in "read": Inches = height.read;
        /// The height used there: the mean without those left out.
        used_in: Inches = height.used;
        /// The same, unless its readings disagree.
        used "used" on page: Figure = if in_doubt { "in doubt".into() } else { tape(height.used) };
        /// Read less used.
        off "off by" on page: Option<Change> = (!in_doubt).then(|| height.read - height.used);
        /// Standardized residual with every reading included; null if it is the only one.
        standardized "against the others": Option<Deviations> = height.standardized;
        /// True if it disagrees and was left out.
        left_out: bool = height.left_out;
    }
}

record! {
    /// Readings of one height that disagree.
    HeightDoubtJson from (of: &HeightDoubt) {
        /// The field of its place.
        field: &'static str = of.at.key().name();
        /// The corner or the end, in words.
        at: &'static str = of.at.words();
        /// The suspects, the likeliest first; their index is that among the readings of this place, from 0.
        readings: Vec<DoubtedJson> = suspects(&of.doubt, |index| (of.at.key().name(), index + 1));
        /// Greatest standardized residual of the others without the named one; null if none is left
        /// out.
        left: Option<f64> = of.doubt.left;
    }
}

record! {
    /// One reading.
    ReadingJson from (residual: &Residual, left_out: bool) {
        /// What was measured, in words.
        what "measured" on page: Note = Note::with("{}{}", [reading(&residual.reading), if left_out { LEFT_OUT } else { "" }.into()]);
        /// The field it is written in.
        field: &'static str = residual.reading.what.key().name();
        /// Its number among readings of the same measure, from 1; 0 if there is only one.
        number: usize = residual.reading.number;
        /// The place of a span.
        at_in: Option<Inches> = place(&residual.reading);
        /// As read.
        read_in "read": Inches = residual.reading.length;
        /// What the corners make it.
        adjusted_in "works out to": Inches = residual.adjusted;
        /// Read less adjusted.
        residual_in "off by": Change = residual.residual;
        /// Its share of the redundancy, 0 to 1.
        redundancy: f64 = residual.redundancy;
        /// Standardized residual with every reading included; null if nothing checks the reading.
        standardized "against the others": Option<Deviations> = residual.standardized;
        /// True if it disagrees and was left out of the corners.
        left_out: bool = left_out;
    }
}

record! {
    /// Readings one of which is wrong.
    DoubtJson from (doubt: &Doubt, suspects: Vec<DoubtedJson>) {
        /// The likeliest first.
        readings: Vec<DoubtedJson> = suspects;
        /// Greatest standardized residual of the others without the named one; null if none is left
        /// out: measure the named ones again.
        left: Option<f64> = doubt.left;
    }
}

record! {
    /// A reading that may be wrong.
    DoubtedJson from (suspect: &Suspect, field: &'static str, number: usize) {
        /// Its place among the readings, from 0.
        index: usize = suspect.index;
        /// The field it is written in.
        field: &'static str = field;
        /// Its number among readings of the same measure, from 1; 0 if there is only one.
        number: usize = number;
        /// Its standardized residual.
        standardized: f64 = suspect.standardized;
        /// By how much it is wrong, if it alone is.
        wrong_by_in: Inches = suspect.wrong_by;
    }
}

record! {
    /// A corner.
    CornerJson from (corner: &'static str, place: DVec2, deviation: Length, out_of_square: Length) {
        /// Its name.
        corner: &'static str = corner;
        /// Along eave A.
        x_in: Inches = place.x;
        /// Square to it.
        y_in: Inches = place.y;
        /// Standard deviation of its place.
        deviation_in: Inches = deviation;
        /// Out of square over the shorter of its walls; positive if too wide.
        out_of_square_in: Inches = out_of_square;
    }
}

record! {
    /// A corner's way.
    MoveJson from (step: &Move) {
        /// The corner.
        corner: &'static str = CORNER_NAMES[step.corner];
        /// Toward the far end.
        toward_far_in: Inches = step.toward_far;
        /// Toward eave B's side.
        toward_b_in: Inches = step.toward_b;
    }
}

record! {
    /// One rafter; also the rows of the CSV form.
    FittedRafterJson from (one: &FittedRafter) {
        /// Number of its pair, from 1.
        pair: usize = one.pair;
        /// Its eave.
        eave: &'static str = one.eave.name();
        /// Its middle along the ridge from the near end.
        at_in: Inches = one.at;
        /// Building line to the middle of the ridge, level.
        run_in: Inches = one.rafter.plan.run();
        /// Building line to the ridge cut, along the top edge.
        body_length_in: Inches = one.rafter.body_length;
        /// Building line to the tail cut, along the top edge.
        tail_length_in: Inches = one.rafter.tail_length;
        /// Ridge cut to tail cut.
        rafter_length_in: Inches = one.rafter.rafter_length;
        /// Seat.
        seat_in: Inches = one.rafter.seat.length;
        /// Heel stand.
        heel_stand_in: Inches = one.rafter.heel_stand;
        /// Depth of the birdsmouth, square to the edge.
        notch_depth_in: Inches = one.rafter.notch_depth;
        /// Top of its plate above the level line.
        plate_in: Inches = one.plate;
        /// Packing over the plate.
        packing_in: Inches = one.packing;
    }
}

fn place(reading: &Reading) -> Option<Length> {
    match reading.what {
        What::SpanAt(at) => Some(at),
        _ => None,
    }
}

fn corners(
    survey: &Survey,
    walls: &Walls,
) -> impl Iterator<Item = (&'static str, DVec2, Length, Length)> {
    let corners = &walls.corners;
    CORNER_NAMES
        .into_iter()
        .zip([corners.near_a, corners.far_a, corners.far_b, corners.near_b])
        .zip(survey.adjusted.deviations.into_iter().zip(walls.out_of_square))
        .map(|((corner, place), (deviation, off))| (corner, place, deviation, off))
}

/// The suspects of a doubt; `named` returns a reading's field and its number.
fn suspects(doubt: &Doubt, named: impl Fn(usize) -> (&'static str, usize)) -> Vec<DoubtedJson> {
    let own = doubt.suspects.iter();
    own.map(|suspect| {
        let (field, number) = named(suspect.index);
        DoubtedJson::of(suspect, field, number)
    })
    .collect()
}

record! {
    /// The result of `effect`.
    EffectReport from (effects: &[Effect], by: Length, unit_run: Length) {
        /// `effect`.
        command: &'static str = "effect";
        /// The change of each input.
        by_in: Inches = by;
        /// The run in which the unit rise changes by that much: 12 in, or 300 mm with metric units.
        unit_run_in: Inches = unit_run;
        /// What each does, the worst first: to slope A, if the slopes have unlike rafters.
        effects: Vec<EffectJson> = on_slope_a(effects);
        /// What each does to slope B, if its rafter is another one: heights above the floor.
        slope_b: Vec<EffectJson> = on_slope_b(effects);
    }
}

/// What inputs do to slope A or to the only slope.
fn on_slope_a(effects: &[Effect]) -> impl Iterator<Item = (&Effect, &Changes, &'static str)> {
    effects.iter().map(|effect| {
        let slope = if effect.changes.slope_b.is_some() { "A" } else { "" };
        (effect, &effect.changes.first, slope)
    })
}

/// What they do to slope B, if its rafter is another one.
fn on_slope_b(effects: &[Effect]) -> impl Iterator<Item = (&Effect, &Changes, &'static str)> {
    effects.iter().filter_map(|effect| Some((effect, effect.changes.slope_b.as_ref()?, "B")))
}

/// The rows of the CSV form.
pub fn effect_rows(effects: &[Effect]) -> impl Iterator<Item = EffectJson> {
    on_slope_a(effects)
        .chain(on_slope_b(effects))
        .map(|(effect, changes, slope)| EffectJson::of(effect, changes, slope))
}

record! {
    /// The effects of one input on one slope; also the rows of the CSV form. Null if that can't be built, or if the roof does not have
    /// it.
    EffectJson from (effect: &Effect, changes: &Changes, slope: &'static str) with {
        let change = |outcome: Outcome| {
            let own = changes.iter().find(|(own, _)| *own == outcome);
            own.map_or([None; 2], |(_, changes)| *changes)
        };
    } {
        /// The input.
        input: &'static str = effect.input.words();
        /// The greatest of all changes.
        worst_in: Inches = effect.worst;
        /// What more of it does to the rafter's length.
        rafter_length_more_in: Option<Inches> = change(Outcome::Rafter)[0];
        /// What less of it does to the rafter's length.
        rafter_length_less_in: Option<Inches> = change(Outcome::Rafter)[1];
        /// What more of it does to the body's length.
        body_length_more_in: Option<Inches> = change(Outcome::Body)[0];
        /// What less of it does to the body's length.
        body_length_less_in: Option<Inches> = change(Outcome::Body)[1];
        /// What more of it does to the tail's length.
        tail_length_more_in: Option<Inches> = change(Outcome::Tail)[0];
        /// What less of it does to the tail's length.
        tail_length_less_in: Option<Inches> = change(Outcome::Tail)[1];
        /// What more of it does to the ridge's height.
        ridge_height_more_in: Option<Inches> = change(Outcome::Ridge)[0];
        /// What less of it does to the ridge's height.
        ridge_height_less_in: Option<Inches> = change(Outcome::Ridge)[1];
        /// What more of it does to the fascia's height.
        fascia_height_more_in: Option<Inches> = change(Outcome::Fascia)[0];
        /// What less of it does to the fascia's height.
        fascia_height_less_in: Option<Inches> = change(Outcome::Fascia)[1];
        /// What more of it does to the overhang.
        overhang_more_in: Option<Inches> = change(Outcome::Overhang)[0];
        /// What less of it does to the overhang.
        overhang_less_in: Option<Inches> = change(Outcome::Overhang)[1];
        /// What more of it does to the seat.
        seat_more_in: Option<Inches> = change(Outcome::Seat)[0];
        /// What less of it does to the seat.
        seat_less_in: Option<Inches> = change(Outcome::Seat)[1];
        /// What more of it does to the soffit's height.
        soffit_height_more_in: Option<Inches> = change(Outcome::Soffit)[0];
        /// What less of it does to the soffit's height.
        soffit_height_less_in: Option<Inches> = change(Outcome::Soffit)[1];
        /// What more of it does to the length of a shed's high tail.
        high_tail_more_in: Option<Inches> = change(Outcome::HighTail)[0];
        /// What less of it does to the length of a shed's high tail.
        high_tail_less_in: Option<Inches> = change(Outcome::HighTail)[1];
        /// What more of it does to the height of a shed's high wall.
        high_wall_more_in: Option<Inches> = change(Outcome::HighWall)[0];
        /// What less of it does to the height of a shed's high wall.
        high_wall_less_in: Option<Inches> = change(Outcome::HighWall)[1];
        /// What more of it does to the height of the fascia there.
        high_fascia_more_in: Option<Inches> = change(Outcome::HighFascia)[0];
        /// What less of it does to the height of the fascia there.
        high_fascia_less_in: Option<Inches> = change(Outcome::HighFascia)[1];
        /// The slope whose changes these are: `A` or `B` if their rafters are unlike.
        slope: &'static str = slope;
    }
}
