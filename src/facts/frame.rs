//! `frame` as JSON and CSV.

use crate::frame::member::{End, OtherCut};
use crate::frame::stick::{Axis, SawSetting};
use crate::frame::{EaveSide, Edge, Frame, Level, Member, Role, Sticks};
use crate::geom::DVec3;
use crate::measure::quantity::{InInches, degrees, in_degrees, inches};
use crate::measure::tolerance::{HAIR, ZERO};
use crate::measure::{Amount, Angle, Note, trim};
use crate::plan::StockLengths;
use crate::rules::Finding;

use super::common::{self, FindingJson, UsedJson};
use super::datum::{Blank, Degrees, Feet, Figure, Inches, tape};
use super::faces::{EdgeJson, PlaneJson};
use super::record::record;

record! {
    /// The result of `frame`.
    FrameReport from (frame: &Frame, findings: &[Finding], levels: &[Level]) {
        /// `frame`.
        command: &'static str = "frame";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::RAFTER;
        /// Every value used.
        used: Vec<UsedJson> = &frame.plan.rafter.used;
        /// Every pattern.
        sticks: Vec<StickJson> = patterns(frame.sticks());
        /// Number of sticks in all.
        stick_count: usize = frame.stick_count();
        /// The faces of the roof: the planes of the rafters' top edges, as seen from straight above.
        planes: Vec<PlaneJson> = &frame.roof.faces;
        /// The edges of the faces.
        edges: Vec<EdgeJson> = frame.roof.edges.iter().map(|edge| (edge, &frame.roof));
        /// The ridge.
        ridge: RidgeJson = frame;
        /// Difference in length of gable studs one spacing apart; null without gable studs.
        gable_stud_difference_in: Option<Inches> = frame.members.iter().any(|member| member.role == Role::GableStud).then(|| frame.gable_stud_difference());
        /// The rakes.
        rake: RakeJson = frame;
        /// The heights of the section, from the highest down.
        levels: Vec<LevelJson> = levels;
        /// What was left out or differs, and why.
        notes: Vec<String> = common::notes(&frame.notes);
        /// Findings of the rules that apply to the pattern rafter alone.
        findings: Vec<FindingJson> = findings;
    }
}

record! {
    /// Heights of the ridge, inches.
    RidgeJson from (frame: &Frame) {
        /// Rafter's top edge at the ridge face, above the plate: the top of the ridge board.
        top_above_plate_in: Inches = frame.rafter.ridge_top;
        /// Bottom of the ridge board above the plate.
        bottom_above_plate_in: Inches = frame.ridge_bottom();
        /// How far above the ridge board's top the two roof planes meet.
        planes_meet_above_top_in: Inches = frame.rafter.apex - frame.rafter.ridge_top;
        /// How far the board reaches below the rafters' plumb cut; negative if the cut reaches below
        /// it.
        below_plumb_cut_in: Inches = frame.rafter.ridge_depth() - frame.rafter.plumb_height;
        /// Temporary post from the floor to the bottom of the ridge board.
        post_in: Inches = frame.ridge_post();
    }
}

record! {
    /// The rakes, inches, level.
    RakeJson from (frame: &Frame) {
        /// End wall's framing face to the barge rafter's outer face; zero for none.
        overhang_in: Inches = frame.site.rake;
        /// The same from the finished wall.
        from_finish_in: Inches = inches(frame.site.rake) - frame.plan.rafter.finish;
    }
}

record! {
    /// A height of the section, inches.
    LevelJson from (level: &Level) {
        /// What is at this height.
        what "of what": &'static str = level.what;
        /// Above the top of the plate; below it is negative.
        above_plate_in "above the plate": Inches = level.above_plate;
        /// Above the floor.
        above_floor_in "above the floor": Inches = level.above_floor;
        /// Above the ground; null if the height of the floor is not given.
        above_ground_in: Option<Inches> = level.above_ground;
        /// The same.
        ground "above the ground" on page: Figure = level.above_ground.map_or_else(|| "not given".into(), tape);
    }
}

record! {
    /// One pattern. Lengths in inches, angles in degrees.
    StickJson from (pattern: Pattern<'_>) with {
        let Pattern { member, lengths, .. } = pattern;
        let section = &member.stick.section;
        let [top, bottom] = [Edge::Top, Edge::Bottom].map(|edge| member.edge_lengths(edge));
        // the first mark is where the tape is hooked
        let marks_beyond_first = |edge| member.marks(edge).into_iter().skip(1);
    } {
        /// Its mark.
        mark "mark": String = &member.mark;
        /// What it does.
        role: &'static str = member.role.words();
        /// What it does, and on which eave where several patterns do the same.
        what "what" on page: String = what(&pattern);
        /// How many.
        count "count": usize = member.count();
        /// Its section.
        section "section" on page: Note = section;
        /// Nominal name of the section, if it has one.
        nominal: Option<String> = section.nominal.clone();
        /// Actual thickness.
        thickness_in: Inches = section.thickness_in();
        /// Actual depth.
        depth_in: Inches = section.depth_in();
        /// Shortest board it can be cut from.
        blank_in "blank": Blank = member.blank();
        /// Stock length to order, feet; null if none is long enough.
        order_length_ft "from": Option<Feet> = member.order_length(lengths);
        /// Length of the top edge, on the longer of its faces.
        length_top_in: Inches = top.0;
        /// Length of the bottom edge, on the longer of its faces.
        length_bottom_in: Inches = bottom.0;
        /// Length of the top edge, on the shorter of its faces.
        length_top_short_in: Inches = top.1;
        /// Length of the bottom edge, on the shorter of its faces.
        length_bottom_short_in: Inches = bottom.1;
        /// Volume of one, cubic inches.
        volume_in3: f64 = member.stick.solid().volume();
        /// The two end cuts, start and end of the pattern.
        ends: Vec<EndJson> = member.ends();
        /// The saw's settings for both.
        end_cuts "end cuts" on page: String = ends(member);
        /// Other cuts: birdsmouths, clips, rips, housings.
        other_cuts: Vec<OtherCutJson> = member.other_cuts();
        /// Their settings, and what they leave.
        other_settings "other cuts" on page: Note = other_cuts(member);
        /// Where the tape is hooked for its marks.
        hook "hooked at" on page: &'static str = hook(member);
        /// Corners along the top edge of the near face: a rafter's from the ridge, others from their start.
        marks_top_in: Vec<Inches> = member.marks(Edge::Top);
        /// Corners along the bottom edge of the near face, likewise.
        marks_bottom_in: Vec<Inches> = member.marks(Edge::Bottom);
        /// The marks of the top edge but the first.
        top_edge "top edge" on page: Vec<Inches> = marks_beyond_first(Edge::Top);
        /// The marks of the bottom edge but the first.
        bottom_edge "bottom edge" on page: Vec<Inches> = marks_beyond_first(Edge::Bottom);
        /// The place of each one.
        placements: Vec<PlacementJson> = member.placed_ids();
    }
}

/// A pattern, with what its own cuts do not show: where it is bought from, and its eave.
#[derive(Debug, Clone, Copy)]
pub struct Pattern<'a> {
    /// The sticks that are cut alike.
    pub member: &'a Member,
    /// The lengths that can be bought.
    pub lengths: &'a StockLengths,
    /// The eave on which all of them lie, where other patterns of the kind lie on the other.
    pub eave: Option<EaveSide>,
}

impl<'a> Pattern<'a> {
    /// One of a roof's.
    #[must_use]
    pub fn of(sticks: Sticks<'a>, member: &'a Member) -> Pattern<'a> {
        let several = sticks.members.iter().filter(|other| other.role == member.role).count() > 1;
        let eave = sticks.gable.and_then(|frame| match member.role {
            Role::CeilingJoist | Role::TailJoist | Role::Filler if several => {
                member.only_eave(frame.site.run)
            }
            _ => None,
        });
        Pattern { member, lengths: sticks.lengths(), eave }
    }
}

/// What a member does, with its eave where the patterns of its kind lie on one each.
fn what(pattern: &Pattern<'_>) -> String {
    let words = pattern.member.role.words();
    pattern.eave.map_or_else(|| words.to_owned(), |eave| format!("{words}, eave {}", eave.name()))
}

/// Where the tape is hooked for the marks of a member.
fn hook(member: &Member) -> &'static str {
    match member.role {
        _ if member.hooked_at_end() => "ridge",
        Role::GableStud => "foot",
        _ => "first end",
    }
}

/// `plumb cut 26.57`, with the tilt where there is one.
fn setting(name: &str, saw: SawSetting) -> String {
    let (miter, bevel) = (in_degrees(saw.miter), in_degrees(saw.bevel));
    let mut words = name.to_owned();
    if miter > HAIR {
        words.push_str(&format!(" {}", trim(miter, 2)));
    }
    if bevel > HAIR {
        words.push_str(&format!(", tilt {}", trim(bevel, 2)));
    }
    words
}

/// The settings of both end cuts, that of the first end before that of the last.
#[must_use]
pub fn ends(member: &Member) -> String {
    let mut list: Vec<String> = member.ends().iter().map(|end| setting(end.cut, end.saw)).collect();
    list.dedup();
    if list.len() == 1 { format!("both {}", list[0]) } else { list.join(" / ") }
}

/// Other cuts: notches by name, plain cuts with their setting, rips with what they leave.
#[must_use]
pub fn other_cuts(member: &Member) -> Note {
    let cuts = member.other_cuts().into_iter().map(|cut| match cut.rip {
        Some((high, low)) if high == low => {
            Note::with("{}, leaves {}", [Amount::from(cut.name), high.into()])
        }
        Some((high, low)) => {
            let tilt = ((high - low).inches() / member.stick.section.thickness_in()).atan();
            let tilt = trim(tilt.to_degrees(), 2);
            Note::with(
                "{}, tilt {}, leaves {} and {}",
                [cut.name.into(), tilt.into(), Amount::from(high), low.into()],
            )
        }
        None if cut.planes == 1 => setting(cut.name, cut.saw).into(),
        None => cut.name.into(),
    });
    Note::list(cuts.collect(), "; ")
}

record! {
    /// One end cut.
    EndJson from (end: End) {
        /// The name of the cut.
        cut: &'static str = end.cut;
        /// Off a line square to the edges, on the wide face.
        miter_deg: Degrees = clean_angle(end.saw.miter);
        /// Blade tilt off square.
        bevel_deg: Degrees = clean_angle(end.saw.bevel);
    }
}

record! {
    /// One cut beyond the two ends.
    OtherCutJson from (cut: OtherCut) {
        /// The name of the cut.
        cut: &'static str = cut.name;
        /// Off a line square to the edges, on the wide face.
        miter_deg: Degrees = clean_angle(cut.saw.miter);
        /// Blade tilt off square.
        bevel_deg: Degrees = clean_angle(cut.saw.bevel);
        /// What a rip leaves of the depth on the higher face.
        rip_high_in: Option<Inches> = cut.rip.map(|(high, _)| high);
        /// What a rip leaves of the depth on the lower face.
        rip_low_in: Option<Inches> = cut.rip.map(|(_, low)| low);
    }
}

record! {
    /// The place of one stick: the middle of its bottom edge at its start, in roof coordinates, and its
    /// directions.
    PlacementJson from (id: &str, axis: &Axis) with {
        let [x, y, z] = vector(axis.origin);
    } {
        /// Its id: letters of its role and its place. Unique in the frame, and unchanged while its
        /// place stays the same.
        id: String = id;
        /// Along the ridge, from the near end wall's framing face.
        x_in: Inches = x;
        /// From eave A's building line toward eave B.
        y_in: Inches = y;
        /// Up from the top of the plate.
        z_in: Inches = z;
        /// Unit vector along the stick.
        along: [f64; 3] = vector(axis.along);
        /// Unit vector from its bottom edge to its top edge.
        up: [f64; 3] = vector(axis.up);
    }
}

/// A coordinate without the last bits that would print as -0.0000000000000001.
fn clean(value: f64) -> f64 {
    if value.abs() < ZERO { 0.0 } else { value }
}

/// The same for an angle.
fn clean_angle(angle: Angle) -> Angle {
    if in_degrees(angle).abs() < ZERO { degrees(0.0) } else { angle }
}

fn vector(v: DVec3) -> [f64; 3] {
    [v.x, v.y, v.z].map(clean)
}

record! {
    /// One stick of the CSV form: a row for each placement.
    StickRow from (member: &Member, stick: &StickJson, number: usize, placement: &PlacementJson) with {
        let list = |values: &[Inches]| values.iter().map(|value| value.0.inches().to_string()).collect::<Vec<_>>().join(";");
        let cuts: Vec<&str> = stick.other_cuts.iter().map(|cut| cut.cut).collect();
        let [start, end] = [&stick.ends[0], &stick.ends[1]];
    } {
        /// Its mark.
        mark: String = &stick.mark;
        /// Its number in its pattern, from 1.
        number: usize = number;
        /// How many the pattern has.
        of: usize = stick.count;
        /// What it does.
        role: &'static str = stick.role;
        /// Its section.
        section: String = member.stick.section.to_string();
        /// Actual thickness.
        thickness_in: Inches = stick.thickness_in;
        /// Actual depth.
        depth_in: Inches = stick.depth_in;
        /// Shortest board it can be cut from.
        blank_in: Blank = stick.blank_in;
        /// Stock length to order, feet; null if none is long enough.
        order_length_ft: Option<Feet> = stick.order_length_ft;
        /// Length of the top edge, on the longer of its faces.
        length_top_in: Inches = stick.length_top_in;
        /// Length of the bottom edge, on the longer of its faces.
        length_bottom_in: Inches = stick.length_bottom_in;
        /// The cut at its start.
        start_cut: &'static str = start.cut;
        /// Off a line square to the edges, on the wide face.
        start_miter_deg: Degrees = start.miter_deg;
        /// Blade tilt off square.
        start_bevel_deg: Degrees = start.bevel_deg;
        /// The cut at its end.
        end_cut: &'static str = end.cut;
        /// Off a line square to the edges, on the wide face.
        end_miter_deg: Degrees = end.miter_deg;
        /// Blade tilt off square.
        end_bevel_deg: Degrees = end.bevel_deg;
        /// Other cuts by name.
        other_cuts: String = cuts.join("; ");
        /// Corners along the top edge of the near face: a rafter's from the ridge, others from their start.
        marks_top_in: String = list(&stick.marks_top_in);
        /// Corners along the bottom edge of the near face, likewise.
        marks_bottom_in: String = list(&stick.marks_bottom_in);
        /// Volume of one, cubic inches.
        volume_in3: f64 = stick.volume_in3;
        /// Along the ridge, from the near end wall's framing face.
        x_in: Inches = placement.x_in;
        /// From eave A's building line toward eave B.
        y_in: Inches = placement.y_in;
        /// Up from the top of the plate.
        z_in: Inches = placement.z_in;
        /// Unit vector along the stick.
        along_x: f64 = placement.along[0];
        /// The same.
        along_y: f64 = placement.along[1];
        /// The same.
        along_z: f64 = placement.along[2];
        /// Unit vector from its bottom edge to its top edge.
        up_x: f64 = placement.up[0];
        /// The same.
        up_y: f64 = placement.up[1];
        /// The same.
        up_z: f64 = placement.up[2];
        /// Its id: letters of its role and its place. Unique in the frame; kept while its place stays, whatever else changes.
        id: String = &placement.id;
    }
}

/// One row for each stick, with every number of the JSON form.
#[must_use]
pub fn rows<'a>(patterns: impl IntoIterator<Item = Pattern<'a>>) -> Vec<StickRow> {
    let mut rows = Vec::new();
    for pattern in patterns {
        let stick = StickJson::of(pattern);
        for (number, placement) in stick.placements.iter().enumerate() {
            rows.push(StickRow::of(pattern.member, &stick, number + 1, placement));
        }
    }
    rows
}

/// The patterns of a roof.
pub fn patterns(sticks: Sticks<'_>) -> impl Iterator<Item = Pattern<'_>> {
    sticks.members.iter().map(move |member| Pattern::of(sticks, member))
}
