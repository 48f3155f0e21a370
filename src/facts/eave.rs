//! `eave` as JSON and CSV.

use crate::frame::Eave;
use crate::frame::eave::{HighEave, MeasuredTail};
use crate::measure::quantity::inches;
use crate::measure::{Length, Writing};
use crate::plan::MeasuredTo;
use crate::rules::Finding;

use super::common::{self, FindingJson, Row, UsedJson};
use super::datum::Inches;
use super::record::record;

record! {
    /// The result of `eave`.
    EaveReport from (of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>) with {
        let (eave, findings) = of;
        let other = slope_b.map(|(eave, _)| eave);
    } {
        /// `eave`.
        command: &'static str = "eave";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::RAFTER;
        /// Every value used.
        used: Vec<UsedJson> = &eave.rafter.plan.used;
        /// The eave's dimensions.
        eave: EaveJson = (eave, other);
        /// The eave at the high wall of a shed; null if the roof is none.
        high_eave: Option<HighEaveJson> = eave.high.as_ref();
        /// Each measured overhang.
        measured: Vec<MeasuredJson> = (1..).zip(&eave.measured);
        /// What `measured` reaches to: `tail` or `fascia`.
        measured_to: &'static str = match eave.plan.measured_to { MeasuredTo::Tail => "tail", MeasuredTo::Fascia => "fascia" };
        /// The overhang that every measured tail reaches.
        reached_by_all_in: Option<Inches> = eave.reached_by_all;
        /// The eave of slope B, if its rafter is not that of slope A: heights above its own plate.
        slope_b: Option<SlopeEaveJson> = slope_b.map(|slope_b| (slope_b, eave));
        /// Defaults that were used and may surprise.
        notes: Vec<String> = common::notes(&eave.rafter.plan.notes());
        /// Rules and own limits.
        findings: Vec<FindingJson> = findings;
    }
}

/// The eave of one slope, and the rules that it is held against.
pub type OfSlope<'a> = (&'a Eave, &'a [Finding]);

record! {
    /// The eave of slope B.
    SlopeEaveJson from (of: OfSlope<'_>, slope_a: &Eave) with {
        let (eave, findings) = of;
    } {
        /// Its dimensions.
        eave: EaveJson = (eave, Some(slope_a));
        /// Each measured overhang.
        measured: Vec<MeasuredJson> = (1..).zip(&eave.measured);
        /// The overhang that every measured tail reaches.
        reached_by_all_in: Option<Inches> = eave.reached_by_all;
        /// Rules and own limits.
        findings: Vec<FindingJson> = findings;
    }
}

record! {
    /// The eave at the high wall of a shed, inches. `out` is level from the building line of that wall, heights are above its plate.
    HighEaveJson from (high: &HighEave) {
        /// Top corner of the high tail cut, out.
        tail_top_out_in: Inches = high.tail_top.out;
        /// The same above the plate.
        tail_top_above_plate_in: Inches = high.tail_top.above_plate;
        /// Foot of the high tail cut above the plate.
        tail_foot_above_plate_in: Inches = high.tail_foot.above_plate;
        /// Fascia's outer face at its top, out.
        fascia_out_in: Inches = high.fascia_top.out;
        /// Fascia's outer face from the finished wall.
        fascia_from_finish_in: Inches = high.fascia_from_finish;
        /// Fascia's top above the plate.
        fascia_top_above_plate_in: Inches = high.fascia_top.above_plate;
        /// Fascia's bottom above the plate.
        fascia_bottom_above_plate_in: Option<Inches> = high.fascia_bottom.map(|spot| spot.above_plate);
        /// Fascia's top above the tail's top corner.
        fascia_rise_in: Inches = high.fascia_rise;
        /// Least fascia depth that covers tail and soffit.
        least_fascia_depth_in: Inches = high.least_fascia_depth;
        /// Underside of a soffit along the rafters, at the finished wall, above the plate.
        soffit_at_wall_above_plate_in: Inches = high.soffit_at_wall;
        /// The same at the back of the boards.
        soffit_at_boards_above_plate_in: Inches = high.soffit_at_boards;
        /// Along the rafters, finished wall to the back of the boards.
        soffit_width_in: Inches = high.soffit_width;
        /// The high plate above the floor.
        wall_height_in: Inches = high.wall_height;
    }
}

record! {
    /// The eave's dimensions, inches. `out` is level from the building line, outward positive.
    EaveJson from (eave: &Eave, other: Option<&Eave>) {
        /// Level, outer face to outer face of the fascias of both eaves; of the tail cuts if there is
        /// no fascia.
        width_over_all_in: Inches = eave.width_over_all(other);
        /// Top corner of the tail cut, out.
        tail_top_out_in: Inches = eave.tail_top.out;
        /// The same above the plate.
        tail_top_above_plate_in: Inches = eave.tail_top.above_plate;
        /// Lowest point of the tail, out.
        tail_foot_out_in: Inches = eave.tail_foot.out;
        /// The same above the plate.
        tail_foot_above_plate_in: Inches = eave.tail_foot.above_plate;
        /// Fascia's outer face at its top, out.
        fascia_out_in: Inches = eave.fascia_top.out;
        /// Fascia's outer face from the finished wall.
        fascia_from_finish_in: Inches = eave.fascia_from_finish;
        /// Fascia's top above the plate.
        fascia_top_above_plate_in: Inches = eave.fascia_top.above_plate;
        /// Fascia's bottom above the plate.
        fascia_bottom_above_plate_in: Option<Inches> = eave.fascia_bottom.map(|spot| spot.above_plate);
        /// Sub-fascia's top below the tail's top corner.
        subfascia_drop_in: Inches = eave.subfascia_drop;
        /// Fascia's top below the tail's top corner.
        fascia_drop_in: Inches = eave.fascia_drop;
        /// Least fascia depth that covers tail and soffit.
        least_fascia_depth_in: Inches = eave.least_fascia_depth;
        /// Underside of the soffit above the plate.
        soffit_above_plate_in: Inches = eave.soffit;
        /// Finished wall to the back of the boards.
        soffit_width_in: Inches = eave.soffit_width;
        /// Plate above the floor.
        wall_height_in: Inches = eave.plan.wall_height;
        /// Underside of the soffit less the window head.
        soffit_over_window_head_in: Option<Inches> = eave.over_window_head;
    }
}

record! {
    /// One measured overhang.
    MeasuredJson from (number: usize, tail: &MeasuredTail) with {
        let is_over = tail.over >= inches(0.0);
        let lose = |length: Length| is_over.then_some(length);
        let lack = |length: Length| (!is_over).then(|| -length);
    } {
        /// Its number, from 1 at the near end.
        number "tail" on page: usize = number;
        /// As measured.
        measured_in "measured": Inches = tail.measured;
        /// Level: cut off a positive amount; a negative one is missing.
        over_in: Inches = tail.over;
        /// The same along the slope.
        over_along_slope_in: Inches = tail.over_along_slope;
        /// What must come off.
        lose "must lose, level" on page: Option<Inches> = lose(tail.over);
        /// The same along the slope.
        lose_along_slope "along the slope" on page: Option<Inches> = lose(tail.over_along_slope);
        /// What is lacking.
        lack "lacks, level" on page: Option<Inches> = lack(tail.over);
        /// The same along the slope.
        lack_along_slope "along the slope" on page: Option<Inches> = lack(tail.over_along_slope);
    }
}

/// The same as rows.
#[must_use]
pub fn rows(of: OfSlope<'_>, slope_b: Option<OfSlope<'_>>, writing: Writing) -> Vec<Row> {
    let mut rows = slope_rows(of, slope_b.map(|(eave, _)| eave), writing);
    let own = slope_b.into_iter().flat_map(|slope| slope_rows(slope, Some(of.0), writing));
    rows.extend(own.map(|row| Row { table: format!("slope_b {}", row.table), ..row }));
    rows
}

fn slope_rows((eave, findings): OfSlope<'_>, other: Option<&Eave>, writing: Writing) -> Vec<Row> {
    let mut rows: Vec<Row> = Row::all("eave", "", &EaveJson::of(eave, other), writing).collect();
    if let Some(high) = &eave.high {
        rows.extend(Row::all("high_eave", "", &HighEaveJson::of(high), writing));
    }
    for (number, tail) in (1..).zip(&eave.measured) {
        let tail = MeasuredJson::of(number, tail);
        for (what, length) in [
            ("measured", tail.measured_in),
            ("over", tail.over_in),
            ("over along the slope", tail.over_along_slope_in),
        ] {
            rows.push(Row::length("measured", &format!("{number} {what}"), length.0, writing));
        }
    }
    rows.extend(
        eave.reached_by_all
            .map(|reached| Row::length("measured", "reached by all", reached, writing)),
    );
    rows.extend(common::finding_rows(findings, writing));
    rows
}
