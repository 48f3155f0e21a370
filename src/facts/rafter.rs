//! `rafter` as JSON and CSV.

use crate::frame::{CommonRafter, CutSetting, Edge, HighEnd, Mark, Proof};
use crate::measure::quantity::in_degrees;
use crate::measure::{Length, Note, Units, Writing};
use crate::rules::Finding;
use crate::square::{Compared, SquareRow, StepOff, step_off};

use super::common::{self, FindingJson, Row, UsedJson};
use super::datum::{ByHand, Degrees, Exact, Feet, Inches, RiseIn12, by_units};
use super::record::record;

record! {
    /// The result of `rafter`.
    RafterReport from (of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>) with {
        let (rafter, compared, findings) = of;
    } {
        /// `rafter`.
        command: &'static str = "rafter";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::RAFTER;
        /// Every value used.
        used: Vec<UsedJson> = &rafter.plan.used;
        /// The pattern rafter's numbers.
        pattern_rafter: PatternRafter = rafter;
        /// The marks, along the top edge and the bottom edge.
        marks: Vec<MarkJson> = &rafter.marks;
        /// The cuts and their settings.
        cuts: Vec<CutJson> = &rafter.cuts;
        /// The tape dimensions that prove the pattern after it is cut: five, and three more for a shed's high birdsmouth.
        proofs: Vec<ProofJson> = &rafter.proofs();
        /// The numbers by the framing square, the second route.
        by_square: Vec<BySquare> = compared;
        /// The rafter of slope B, if it is not that of slope A: heights above its own plate.
        slope_b: Option<SlopeReport> = slope_b;
        /// What was used without being asked for and may surprise.
        notes: Vec<String> = common::notes(&rafter.plan.notes());
        /// The rules that the rafter alone can be held against.
        findings: Vec<FindingJson> = findings;
    }
}

/// The pattern rafter of one slope, the second route, and the rules that it is held against.
pub type OfSlope<'a> = (&'a CommonRafter, &'a [Compared], &'a [Finding]);

record! {
    /// The pattern rafter of one of two slopes that are unlike.
    SlopeReport from (rafter: &CommonRafter, compared: &[Compared], findings: &[Finding]) {
        /// Its numbers.
        pattern_rafter: PatternRafter = rafter;
        /// The marks, along the top edge and the bottom edge.
        marks: Vec<MarkJson> = &rafter.marks;
        /// The cuts and their settings.
        cuts: Vec<CutJson> = &rafter.cuts;
        /// The tape dimensions that prove the pattern after it is cut: five, and three more for a shed's high birdsmouth.
        proofs: Vec<ProofJson> = &rafter.proofs();
        /// The numbers by the framing square, the second route.
        by_square: Vec<BySquare> = compared;
        /// The rules that the rafter alone can be held against.
        findings: Vec<FindingJson> = findings;
    }
}

record! {
    /// The pattern rafter's numbers. Lengths in inches, angles in degrees.
    PatternRafter from (rafter: &CommonRafter) with {
        let row = SquareRow::at(rafter.plan.pitch);
    } {
        /// Building line to the center of the ridge, level: half the span, unless the slopes are unlike; of a shed's, heel to heel.
        run_in: Inches = rafter.plan.run();
        /// Angle of the slope.
        slope_deg: Degrees = rafter.slope;
        /// Rise in 12.
        unit_rise_in: Inches = rafter.plan.pitch.unit_rise();
        /// Building line to the center of the ridge, along the slope; of a shed's, heel to heel.
        line_length_in: Inches = rafter.line_length;
        /// What the ridge takes off, along the slope; nothing of a shed's.
        ridge_shortening_in: Inches = rafter.ridge_shortening;
        /// Building line to the upper plumb cut: the ridge's, or that of a shed's high tail.
        body_length_in: Inches = rafter.body_length;
        /// Building line to the tail cut.
        tail_length_in: Inches = rafter.tail_length;
        /// Upper plumb cut to tail cut, top edge.
        rafter_length_in: Inches = rafter.rafter_length;
        /// The blank: shortest board it can be cut from.
        stock_length_in: Inches = rafter.blank_length;
        /// Length of a plumb cut through the whole depth.
        plumb_height_in: Inches = rafter.plumb_height;
        /// Level seat cut.
        seat_in: Inches = rafter.seat.length;
        /// Plumb heel cut, seat to bottom edge at the building line.
        heel_plumb_in: Inches = rafter.heel_plumb;
        /// Depth of the notch square to the edge.
        notch_depth_in: Inches = rafter.notch_depth;
        /// Plate to top edge, plumb, at the building line.
        heel_stand_in: Inches = rafter.heel_stand;
        /// Top edge at the ridge face, above the plate; of a shed's, at the high tail cut, above the low plate.
        ridge_top_above_plate_in: Inches = rafter.ridge_top;
        /// The same line at the center of the ridge; of a shed's, over the high heel.
        apex_above_plate_in: Inches = rafter.apex;
        /// Stock length to order, feet; null if none is long enough.
        order_length_ft: Option<Feet> = rafter.order_length;
        /// What is left of the stock length.
        order_margin_in: Option<Inches> = rafter.margin;
        /// Level length of the seat on the plate.
        bearing_in: Inches = rafter.bearing;
        /// Level, building line to tail cut at the top edge.
        tail_projection_in: Inches = rafter.tail_projection;
        /// What decided the seat.
        seat_decided_by: String = rafter.seat.decided_by.words().write(Writing::default());
        /// Step-offs of the body, to the center of the ridge.
        step_off: StepOffJson = step_off(row, rafter.plan.run());
        /// Step-offs of the tail.
        tail_step_off: StepOffJson = step_off(row, rafter.tail_projection);
        /// The upper end of a shed's rafter, on the high plate; null if the rafter ends at a ridge.
        high_end: Option<HighEndJson> = rafter.high.map(|high| (high, rafter.plan.plate, row));
    }
}

record! {
    /// How a shed's rafter lies on the high plate. The high seat and heel cut are those of the low birdsmouth.
    HighEndJson from (high: HighEnd, plate: Length, row: SquareRow) {
        /// The high plate above the low one.
        plate_above_in: Inches = high.plate;
        /// Over the high heel to the high tail cut, along the slope.
        high_tail_length_in: Inches = high.tail_length;
        /// Level, building line of the high wall to the high tail cut.
        high_tail_projection_in: Inches = high.tail_projection;
        /// Level length of the high seat on its plate.
        bearing_in: Inches = high.bearing;
        /// Step-offs of the high tail, past the high heel.
        high_tail_step_off: StepOffJson = step_off(row, plate + high.tail_projection);
    }
}

record! {
    /// How often the square is stepped.
    StepOffJson from (step: StepOff) {
        /// Whole steps of 12 in of run.
        full_steps: u32 = step.full_steps;
        /// Length of a step along the rafter.
        step_in: Inches = step.step;
        /// Run of the last part step.
        last_run_in: Inches = step.last_run;
        /// Rise of the last part step.
        last_rise_in: Inches = step.last_rise;
    }
}

record! {
    /// One mark.
    MarkJson from (mark: &Mark) {
        /// Its number on the drawing.
        number "no.": u32 = mark.number;
        /// `top` or `bottom`.
        edge "edge": &'static str = match mark.edge { Edge::Top => "top", Edge::Bottom => "bottom" };
        /// What is marked.
        name "mark": &'static str = mark.name;
        /// The line drawn through it.
        line "draw through it": &'static str = mark.line;
        /// From the upper cut's long point on the top edge, from its short point on the bottom edge.
        at_in "tape": Inches = mark.at;
        /// The same, to check a calculation by.
        exact "exact" on page: Exact = mark.at;
    }
}

record! {
    /// One cut.
    CutJson from (cut: &CutSetting) {
        /// The cut.
        name "cut": &'static str = cut.name;
        /// Off a line square to the edges, on the wide face.
        miter_deg "saw miter": Degrees = cut.saw.miter;
        /// Blade tilt off square.
        bevel_deg "blade tilt": Degrees = cut.saw.bevel;
        /// The miter as rise in 12.
        rise_in_12 "as rise in 12": RiseIn12 = cut.saw.rise_in_12();
        /// Length of the cut's line.
        length_in "line length": Inches = cut.length;
        /// Which leg of the square draws it, held on the rise and 12, or 100 mm.
        draw "draw" on page: Note = along(cut.square);
    }
}

/// A leg of the square, which is held at 100 mm where lengths are metric.
fn along(leg: &str) -> Note {
    by_units(|units| match units {
        Units::Millimeters => leg.replace("along the 12 side", "along the 100 mm side"),
        Units::Feet | Units::Inches => leg.to_owned(),
    })
}

record! {
    /// One dimension that proves the cut pattern, straight between two of its corners.
    ProofJson from (proof: &Proof) {
        /// Its letter on the drawing.
        letter "": char = proof.letter;
        /// From where to where.
        what "from where to where": &'static str = proof.what;
        /// What it proves.
        proves "proves": &'static str = proof.proves;
        /// What the tape reads.
        length_in "has to read": Inches = proof.length();
        /// Room to write down what was measured.
        measured "measured" on page: ByHand = "";
    }
}

record! {
    /// One number by the second route.
    BySquare from (compared: &Compared) {
        /// The number's name in `pattern_rafter`, or in its `high_end`.
        key: &'static str = compared.by_square.key;
        /// As measured on the stick.
        measured: f64 = compared.measured;
        /// By unit length, step-off and rise in 12.
        by_square: f64 = compared.by_square.value;
        /// Measured less by the square.
        difference: f64 = compared.difference();
        /// The working.
        how: String = &compared.by_square.how;
    }
}

/// The same as rows: every number of the JSON form.
#[must_use]
pub fn rows(of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>, writing: Writing) -> Vec<Row> {
    let mut rows = slope_rows(of, writing);
    let own = slope_b.into_iter().flat_map(|slope| slope_rows(slope, writing));
    rows.extend(own.map(|row| Row { table: format!("slope_b {}", row.table), ..row }));
    rows
}

fn slope_rows((rafter, compared, findings): OfSlope<'_>, writing: Writing) -> Vec<Row> {
    let report = SlopeReport::of(rafter, compared, findings);
    let mut rows: Vec<Row> =
        Row::all("pattern_rafter", "", &report.pattern_rafter, writing).collect();
    let pattern = &report.pattern_rafter;
    for (name, step) in [("step_off", &pattern.step_off), ("tail_step_off", &pattern.tail_step_off)]
    {
        rows.extend(Row::all(name, "", step, writing));
    }
    if let Some(high) = &pattern.high_end {
        rows.extend(Row::all("high_end", "", high, writing));
        rows.extend(Row::all("high_tail_step_off", "", &high.high_tail_step_off, writing));
    }
    for mark in &report.marks {
        let name = format!("{} {}", mark.number, mark.name);
        rows.push(Row::length(&format!("marks_{}_edge", mark.edge), &name, mark.at_in.0, writing));
    }
    for cut in &report.cuts {
        rows.push(Row::figure(
            "cuts",
            &format!("{}: miter", cut.name),
            in_degrees(cut.miter_deg.0),
            "deg",
        ));
        rows.push(Row::figure(
            "cuts",
            &format!("{}: bevel", cut.name),
            in_degrees(cut.bevel_deg.0),
            "deg",
        ));
        rows.push(Row::figure(
            "cuts",
            &format!("{}: rise in 12", cut.name),
            cut.rise_in_12.0,
            "in",
        ));
        rows.push(Row::length("cuts", &format!("{}: length", cut.name), cut.length_in.0, writing));
    }
    for proof in &report.proofs {
        let name = format!("{} {}", proof.letter, proof.what);
        rows.push(Row::length("proofs", &name, proof.length_in.0, writing));
    }
    for number in compared {
        let unit = if number.by_square.is_angle() { "deg" } else { "in" };
        rows.push(Row::figure("by_square", number.by_square.key, number.by_square.value, unit));
        rows.push(Row::figure(
            "by_square",
            &format!("{}: difference", number.by_square.key),
            number.difference(),
            unit,
        ));
    }
    rows.extend(common::finding_rows(findings, writing));
    rows
}
