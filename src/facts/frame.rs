//! `frame` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::frame::{Edge, Frame, Level, Member, Role};
use crate::geom::DVec3;
use crate::measure::quantity::{in_degrees, in_inches};
use crate::plan::StockLengths;
use crate::rules::Finding;

use super::common::{self, FindingJson, UsedJson};

/// The result of `frame`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FrameReport {
    /// `frame`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Every value used.
    pub used: Vec<UsedJson>,
    /// Every pattern.
    pub sticks: Vec<StickJson>,
    /// Number of sticks in all.
    pub stick_count: usize,
    /// The ridge.
    pub ridge: RidgeJson,
    /// What gable studs one spacing apart differ by; null without gable studs.
    pub gable_stud_difference_in: Option<f64>,
    /// The rakes.
    pub rake: RakeJson,
    /// The heights of the section, from the highest down.
    pub levels: Vec<LevelJson>,
    /// What was left out or differs, and why.
    pub notes: Vec<String>,
    /// The rules that the pattern rafter alone can be held against.
    pub findings: Vec<FindingJson>,
}

/// Heights of the ridge, inches.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RidgeJson {
    /// Rafter's top edge at the ridge face, above the plate: the top of the ridge board.
    pub top_above_plate_in: f64,
    /// Bottom of the ridge board above the plate.
    pub bottom_above_plate_in: f64,
    /// How far the two roof planes meet above the ridge board's top.
    pub planes_meet_above_top_in: f64,
    /// How far the board reaches below the rafters' plumb cut; negative where the cut reaches below it.
    pub below_plumb_cut_in: f64,
    /// Temporary post from the floor to the bottom of the ridge board.
    pub post_in: f64,
}

/// The rakes, inches, level.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RakeJson {
    /// End wall's framing face to the barge rafter's outer face; zero for none.
    pub overhang_in: f64,
    /// The same from the finished wall.
    pub from_finish_in: f64,
}

/// A height of the section, inches.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LevelJson {
    /// What lies at it.
    pub what: &'static str,
    /// Above the top of the plate; below it is negative.
    pub above_plate_in: f64,
    /// Above the floor.
    pub above_floor_in: f64,
    /// Above the ground; null if the floor's height over it was not told.
    pub above_ground_in: Option<f64>,
}

/// One pattern. Lengths in inches, angles in degrees.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StickJson {
    /// Its mark.
    pub mark: String,
    /// What it does.
    pub role: &'static str,
    /// How many.
    pub count: usize,
    /// Nominal name of the section, if it has one.
    pub nominal: Option<String>,
    /// Actual thickness.
    pub thickness_in: f64,
    /// Actual depth.
    pub depth_in: f64,
    /// Shortest board it can be cut from.
    pub blank_in: f64,
    /// Stock length to order, feet; null if none is long enough.
    pub order_length_ft: Option<f64>,
    /// Length of the top edge, on the longer of its faces.
    pub length_top_in: f64,
    /// Length of the bottom edge, on the longer of its faces.
    pub length_bottom_in: f64,
    /// Length of the top edge, on the shorter of its faces.
    pub length_top_short_in: f64,
    /// Length of the bottom edge, on the shorter of its faces.
    pub length_bottom_short_in: f64,
    /// Volume of one, cubic inches.
    pub volume_in3: f64,
    /// The two end cuts, start and end of the pattern.
    pub ends: Vec<EndJson>,
    /// Other cuts: birdsmouths, clips, rips, housings.
    pub other_cuts: Vec<OtherCutJson>,
    /// Corners along the top edge of the near face: a rafter's from the ridge, others from their start.
    pub marks_top_in: Vec<f64>,
    /// Corners along the bottom edge of the near face, likewise.
    pub marks_bottom_in: Vec<f64>,
    /// Where each one lies.
    pub placements: Vec<PlacementJson>,
}

/// One end cut.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EndJson {
    /// The name of the cut.
    pub cut: &'static str,
    /// Off a line square to the edges, on the wide face.
    pub miter_deg: f64,
    /// Blade tilt off square.
    pub bevel_deg: f64,
}

/// One cut beyond the two ends.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OtherCutJson {
    /// The name of the cut.
    pub cut: &'static str,
    /// Off a line square to the edges, on the wide face.
    pub miter_deg: f64,
    /// Blade tilt off square.
    pub bevel_deg: f64,
    /// What a rip leaves of the depth on the higher face.
    pub rip_high_in: Option<f64>,
    /// What a rip leaves of the depth on the lower face.
    pub rip_low_in: Option<f64>,
}

/// Where one stick lies: the middle of its bottom edge at its start, in roof coordinates, and its directions.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlacementJson {
    /// Its id: letters of its role and its place. Unique in the frame; kept while its place stays, whatever else changes.
    pub id: String,
    /// Along the ridge, from the near end wall's framing face.
    pub x_in: f64,
    /// From eave A's building line toward eave B.
    pub y_in: f64,
    /// Up from the top of the plate.
    pub z_in: f64,
    /// Unit vector along the stick.
    pub along: [f64; 3],
    /// Unit vector from its bottom edge to its top edge.
    pub up: [f64; 3],
}

/// The whole result.
#[must_use]
pub fn report(frame: &Frame, findings: &[Finding], levels: &[Level]) -> FrameReport {
    FrameReport {
        command: "frame",
        caution: crate::facts::caution::RAFTER,
        used: common::used(&frame.plan.rafter.used),
        sticks: frame
            .members
            .iter()
            .map(|member| stick(member, &frame.plan.rafter.lengths))
            .collect(),
        stick_count: frame.stick_count(),
        ridge: RidgeJson {
            top_above_plate_in: in_inches(frame.rafter.ridge_top),
            bottom_above_plate_in: in_inches(frame.ridge_bottom()),
            planes_meet_above_top_in: in_inches(frame.rafter.apex - frame.rafter.ridge_top),
            below_plumb_cut_in: in_inches(frame.rafter.ridge_depth() - frame.rafter.plumb_height),
            post_in: in_inches(frame.ridge_post()),
        },
        gable_stud_difference_in: frame
            .members
            .iter()
            .any(|member| member.role == Role::GableStud)
            .then(|| in_inches(frame.gable_stud_difference())),
        rake: RakeJson {
            overhang_in: frame.site.rake,
            from_finish_in: frame.site.rake - in_inches(frame.plan.rafter.finish),
        },
        levels: levels.iter().map(level).collect(),
        notes: common::notes(&frame.notes),
        findings: common::findings(findings),
    }
}

/// A coordinate without the last bits that would print as -0.0000000000000001.
fn clean(value: f64) -> f64 {
    if value.abs() < 1e-12 { 0.0 } else { value }
}

fn vector(v: DVec3) -> [f64; 3] {
    [v.x, v.y, v.z].map(clean)
}

fn level(level: &Level) -> LevelJson {
    LevelJson {
        what: level.what,
        above_plate_in: in_inches(level.above_plate),
        above_floor_in: in_inches(level.above_floor),
        above_ground_in: level.above_ground.map(in_inches),
    }
}

fn stick(member: &Member, lengths: &StockLengths) -> StickJson {
    let section = &member.stick.section;
    let marks = |edge: Edge| member.marks(edge).into_iter().map(in_inches).collect();
    StickJson {
        mark: member.mark.clone(),
        role: member.role.words(),
        count: member.count(),
        nominal: section.nominal.clone(),
        thickness_in: section.thickness_in(),
        depth_in: section.depth_in(),
        blank_in: in_inches(member.blank()),
        order_length_ft: member.order_length(lengths).map(|length| in_inches(length) / 12.0),
        length_top_in: in_inches(member.edge_lengths(Edge::Top).0),
        length_bottom_in: in_inches(member.edge_lengths(Edge::Bottom).0),
        length_top_short_in: in_inches(member.edge_lengths(Edge::Top).1),
        length_bottom_short_in: in_inches(member.edge_lengths(Edge::Bottom).1),
        volume_in3: member.stick.solid().volume(),
        ends: member
            .ends()
            .into_iter()
            .map(|end| EndJson {
                cut: end.cut,
                miter_deg: clean(in_degrees(end.saw.miter)),
                bevel_deg: clean(in_degrees(end.saw.bevel)),
            })
            .collect(),
        other_cuts: member
            .other_cuts()
            .into_iter()
            .map(|cut| OtherCutJson {
                cut: cut.name,
                miter_deg: clean(in_degrees(cut.saw.miter)),
                bevel_deg: clean(in_degrees(cut.saw.bevel)),
                rip_high_in: cut.rip.map(|(high, _)| in_inches(high)),
                rip_low_in: cut.rip.map(|(_, low)| in_inches(low)),
            })
            .collect(),
        marks_top_in: marks(Edge::Top),
        marks_bottom_in: marks(Edge::Bottom),
        placements: member
            .placed_ids()
            .map(|(id, axis)| {
                let [x_in, y_in, z_in] = vector(axis.origin);
                PlacementJson {
                    id: id.to_owned(),
                    x_in,
                    y_in,
                    z_in,
                    along: vector(axis.along),
                    up: vector(axis.up),
                }
            })
            .collect(),
    }
}

/// One stick of the CSV form: a row for each placement.
#[derive(Debug, Serialize)]
pub struct StickRow {
    mark: String,
    number: usize,
    of: usize,
    role: &'static str,
    section: String,
    thickness_in: f64,
    depth_in: f64,
    blank_in: f64,
    order_length_ft: Option<f64>,
    length_top_in: f64,
    length_bottom_in: f64,
    start_cut: &'static str,
    start_miter_deg: f64,
    start_bevel_deg: f64,
    end_cut: &'static str,
    end_miter_deg: f64,
    end_bevel_deg: f64,
    other_cuts: String,
    marks_top_in: String,
    marks_bottom_in: String,
    volume_in3: f64,
    x_in: f64,
    y_in: f64,
    z_in: f64,
    along_x: f64,
    along_y: f64,
    along_z: f64,
    up_x: f64,
    up_y: f64,
    up_z: f64,
    id: String,
}

/// One row for each stick, with every number of the JSON form.
#[must_use]
pub fn rows(frame: &Frame) -> Vec<StickRow> {
    let list = |values: &[f64]| values.iter().map(f64::to_string).collect::<Vec<_>>().join(";");
    let mut rows = Vec::with_capacity(frame.stick_count());
    for member in &frame.members {
        let json = stick(member, &frame.plan.rafter.lengths);
        let [start, end] = json.ends.as_slice() else {
            continue;
        };
        for (number, placement) in json.placements.iter().enumerate() {
            rows.push(StickRow {
                mark: json.mark.clone(),
                number: number + 1,
                of: json.count,
                role: json.role,
                section: member.stick.section.to_string(),
                thickness_in: json.thickness_in,
                depth_in: json.depth_in,
                blank_in: json.blank_in,
                order_length_ft: json.order_length_ft,
                length_top_in: json.length_top_in,
                length_bottom_in: json.length_bottom_in,
                start_cut: start.cut,
                start_miter_deg: start.miter_deg,
                start_bevel_deg: start.bevel_deg,
                end_cut: end.cut,
                end_miter_deg: end.miter_deg,
                end_bevel_deg: end.bevel_deg,
                other_cuts: json
                    .other_cuts
                    .iter()
                    .map(|cut| cut.cut)
                    .collect::<Vec<_>>()
                    .join("; "),
                marks_top_in: list(&json.marks_top_in),
                marks_bottom_in: list(&json.marks_bottom_in),
                volume_in3: json.volume_in3,
                x_in: placement.x_in,
                y_in: placement.y_in,
                z_in: placement.z_in,
                along_x: placement.along[0],
                along_y: placement.along[1],
                along_z: placement.along[2],
                up_x: placement.up[0],
                up_y: placement.up[1],
                up_z: placement.up[2],
                id: placement.id.clone(),
            });
        }
    }
    rows
}
