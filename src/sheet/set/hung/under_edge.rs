//! Hips and valleys: a page for each pattern, with its marks, its cuts and how to step it off.

use crate::facts::caution;
use crate::facts::datum::{Datum, Degrees, Feet, Figure, Inches, Of as _, tape};
use crate::facts::record::{Record as _, keys, row};
use crate::facts::under_edges::{CheekJson, FaceMarksJson, UnderEdgeJson, of_sticks};
use crate::frame::hung::measured;
use crate::frame::stick::Side;
use crate::frame::{Edge, Member, Role, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, degrees, in_degrees, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Note, Writing};

use super::super::super::Table;
use super::super::super::drawing::{Anchor, Drawing};
use super::super::super::paper::{
    Flow, HEAD, Job, LEADING, Orientation, Page, SMALL, lines, lines_of,
};
use super::super::super::typeface::Weight;
use super::super::alone::Alone;
use super::super::order::sentence;
use super::alike::{Kin, kin};
use super::matter::HungMatter;
use super::views::{Span, Views};

/// The pages of all hips and valleys.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let figures = of_sticks(matter.sticks());
    let members = matter.frame.members.iter();
    let members = members.filter(|member| matches!(member.role, Role::Hip | Role::Valley));
    let of = |kin: &Kin<'_>| figures.iter().find(|one| one.mark == kin.first.mark);
    let groups = kin(members);
    groups.iter().filter_map(|kin| Some(page(matter, job, kin, of(kin)?))).flatten().collect()
}

fn page(matter: &HungMatter<'_>, job: &Job, kin: &Kin<'_>, figures: &UnderEdgeJson) -> Vec<Page> {
    let (member, writing) = (kin.first, job.writing);
    let title = format!("{} {}", sentence(member.role.words()), kin.marks());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 2, caution::ANY_ROOF);
    let stock = stock(matter.sticks(), member, writing);
    let wide = flow.width() * 2.0 + 0.35;
    let (drawing, scale) = views(member, figures, writing).drawing(wide, writing.units);
    flow.across(head(&title, &format!(
        "{}. {stock}. As it lies on the horses, crown up, its foot at the left and its head at the right, {scale}.",
        kin.counted()
    ), wide));
    flow.across(drawing);
    for table in tables(figures, writing) {
        flow.table(&table);
    }
    flow.head("How to cut it");
    for (number, words) in steps(member, figures, writing).iter().enumerate() {
        flow.indented(&format!("{}. {words}", number + 1), 0.15);
    }
    flow.finish()
}

/// Its lengths, its cuts, and its marks where the drawing of one face does not have them all.
fn tables(figures: &UnderEdgeJson, writing: Writing) -> Vec<Table> {
    let mut tables = vec![lengths(figures, writing), cheeks(figures, writing)];
    // the drawing has those of the near face
    if faces_differ(figures) {
        let title = "Marks along the edges of its two faces, first corner at the lower end";
        let marks = Table::of(title, &figures.face_marks, writing);
        tables.push(marks.picked(keys!(FaceMarksJson: edge, face, at_in)));
    }
    tables
}

/// A hip or a valley by itself.
pub(super) fn alone(
    sticks: Sticks<'_>,
    member: &Member,
    wide: f64,
    writing: Writing,
) -> Option<Alone> {
    let figures = of_sticks(sticks).into_iter().find(|one| one.mark == member.mark)?;
    let (drawing, _) = views(member, &figures, writing).drawing(wide, writing.units);
    let steps = steps(member, &figures, writing);
    Some(Alone { drawing, tables: tables(&figures, writing), steps })
}

/// True if the tape reads otherwise on the far face.
fn faces_differ(figures: &UnderEdgeJson) -> bool {
    let of = |face: &'static str| {
        let own = figures.face_marks.iter().filter(move |marks| marks.face == face);
        own.flat_map(|marks| &marks.at_in).map(|at| at.0.inches()).collect::<Vec<f64>>()
    };
    let (near, far) = (of("near"), of("far"));
    near.len() != far.len() || near.iter().zip(&far).any(|(one, other)| (one - other).abs() > HAIR)
}

/// A head over the whole width, with words under it.
pub(super) fn head(title: &str, words: &str, wide: f64) -> Drawing {
    let titles = lines_of(title, HEAD, wide, Weight::Bold);
    let list = lines(words, SMALL, wide);
    let high = titles.len() as f64 * HEAD * LEADING + list.len() as f64 * SMALL * LEADING + 0.06;
    let mut drawing = Drawing::new(wide, high);
    let mut y = high;
    for line in titles {
        y -= HEAD;
        drawing.bold(DVec2::new(0.0, y), line, HEAD, Anchor::Start);
        y -= HEAD * (LEADING - 1.0);
    }
    for line in list {
        y -= SMALL;
        drawing.text(DVec2::new(0.0, y), line, SMALL, Anchor::Start);
        y -= SMALL * (LEADING - 1.0);
    }
    drawing
}

/// `2x8, blank 16' 6", from 18 ft`.
pub(super) fn stock(sticks: Sticks<'_>, member: &Member, writing: Writing) -> String {
    let section = member.stick.section.write(writing.units);
    let blank = writing.blank(member.blank());
    let from = Option::<Feet>::of(member.order_length(sticks.lengths()));
    match from {
        Some(from) => {
            format!("{section}, blank {blank}, from a {} ft board", from.written(writing))
        }
        None => format!("{section}, blank {blank}: longer than any board that can be bought here"),
    }
}

/// The stick with the lengths along its top, and the corners along the bottom of its near face.
fn views<'a>(member: &'a Member, figures: &UnderEdgeJson, writing: Writing) -> Views<'a> {
    let write = |length: Inches| writing.length(length.0);
    let Some([tail, head]) = measured::ends(&member.stick) else {
        return Views {
            member,
            along_top: Vec::new(),
            along_bottom: Vec::new(),
            lines: Vec::new(),
        };
    };
    let building = head.middle - figures.body_length_in.0.inches();
    let center = building + figures.line_length_in.0.inches();
    let span = |from: f64, to: f64, words: String| Span { from, to, words };
    let mut along_top = vec![
        span(building, head.middle, format!("corner to cut {}", write(figures.body_length_in))),
        span(building, center, format!("corner to center {}", write(figures.line_length_in))),
    ];
    if figures.tail_length_in.0.inches().abs() > HAIR {
        along_top.push(span(
            tail.middle,
            building,
            format!("tail {}", write(figures.tail_length_in)),
        ));
    }
    if figures.shortening_in.0.inches().abs() > HAIR {
        let words = format!("shortening {}", write(figures.shortening_in));
        along_top.push(span(head.middle.min(center), head.middle.max(center), words));
    }
    // the plumb line under the building line, down to the lowest of the birdsmouth there
    let plumb = in_degrees(figures.plumb_cut_deg.0).to_radians();
    let deep = member.stick.section.depth_in();
    let stand = figures.heel_stand_in.0.inches();
    let down = DVec2::new(-plumb.sin(), -plumb.cos()) * stand;
    let top = DVec2::new(building, deep);
    Views {
        member,
        along_top,
        along_bottom: bottom_spans(member, writing),
        lines: vec![[top, top + down]],
    }
}

/// From the end where the tape is hooked to each corner on the bottom edge of the near face.
pub(super) fn bottom_spans(member: &Member, writing: Writing) -> Vec<Span> {
    let Some((low, high)) = member.stick.edge_reach(Edge::Bottom, Side::Near) else {
        return Vec::new();
    };
    let (zero, sign) = if member.hooked_at_end() { (high, -1.0) } else { (low, 1.0) };
    let spans = member.marks(Edge::Bottom).into_iter().skip(1).map(|mark| Span {
        from: zero,
        to: zero + sign * mark.inches(),
        words: writing.length(mark),
    });
    spans.collect()
}

row! {
    /// A figure of the stick.
    Line from (what: &'static str, here: Note) {
        what "what": &'static str = what;
        here "here": Figure = here;
    }
}

fn lengths(figures: &UnderEdgeJson, writing: Writing) -> Table {
    let length = |length: Inches| tape(length.0);
    let angle = |angle: Degrees| Note::from(angle.written(writing));
    let rows = [
        ("corner to the center of what it meets", length(figures.line_length_in)),
        ("shortening at its head, along the stick", length(figures.shortening_in)),
        ("corner to the middle of its head cut", length(figures.body_length_in)),
        ("tail: corner to the middle of its tail cut", length(figures.tail_length_in)),
        ("head: middle back to the shorter face", length(figures.head.middle_past_faces_in)),
        ("tail: middle back to the shorter face", length(figures.tail.middle_past_faces_in)),
        ("plumb cut, off square to the edges", angle(figures.plumb_cut_deg)),
        ("level cut, off square to the edges", angle(figures.level_cut_deg)),
        ("plumb cut with the square held at", figures.on_square.0.clone()),
        ("heel stand: plate to the middle of its top", length(figures.heel_stand_in)),
        ("drop of its square top below the edge", length(figures.drop_in)),
        ("or its top is backed, degrees", figures.backing.0.clone()),
    ];
    let rows = rows.into_iter().map(|(what, here)| Line::of(what, here));
    Table::of("Along the middle of the top", rows, writing)
}

row! {
    /// A cheek of an end.
    CheekRow from (end: &'static str, cheek: &CheekJson) with {
        let bevel = in_degrees(cheek.bevel_deg.0);
    } {
        end "end": &'static str = end;
        cut "cut": &'static str = cheek.cut;
        plumb "on the face": Degrees = degrees(in_degrees(cheek.miter_deg.0).abs());
        tilt "blade tilt": Degrees = degrees(bevel.abs());
        tongue "tongue": Figure = if cheek.blade_for_12_tongue_in.is_some() { tape(inches(12.0)) } else { Note::from("square") };
        blade "blade": Option<Inches> = cheek.blade_for_12_tongue_in.map(|blade| blade.0);
        longer "longer face": &'static str = if bevel > HAIR { "near" } else if bevel < -HAIR { "far" } else { "both alike" };
    }
}

fn cheeks(figures: &UnderEdgeJson, writing: Writing) -> Table {
    let of = |end: &'static str, cheeks: &[CheekJson]| {
        cheeks.iter().map(|cheek| CheekRow::of(end, cheek)).collect::<Vec<_>>()
    };
    let rows = [of("head", &figures.head.cheeks), of("tail", &figures.tail.cheeks)].concat();
    let mut told: Vec<CheekRow> = Vec::new();
    for row in rows {
        // what is cut twice by one plane is one cut
        let known = |other: &CheekRow| other.written(writing) == row.written(writing);
        if !told.iter().any(known) {
            told.push(row);
        }
    }
    Table::of("Cuts of its ends", told, writing)
}

/// How it is stepped off and cut, for one who has never cut one.
fn steps(member: &Member, figures: &UnderEdgeJson, writing: Writing) -> Vec<String> {
    let write = |length: Inches| writing.length(length.0);
    let is_hip = member.role == Role::Hip;
    let cheeked =
        |cheeks: &[CheekJson]| cheeks.iter().any(|cheek| cheek.blade_for_12_tongue_in.is_some());
    let corner = if is_hip { "outside corner" } else { "inside corner" };
    let square_tail = member.stick.trims.iter().any(|trim| trim.name == "tail square cut");
    let mut steps = vec![
        "Crown up. Draw the center line along the top edge: every length above is measured on it."
            .to_owned(),
        format!(
            "Square a line across the top over the building's {corner}. From it measure {} toward the head and {} toward the tail, and square lines across there too.",
            write(figures.body_length_in),
            write(figures.tail_length_in)
        ),
        format!(
            "Carry the lines{} down both faces as plumb lines: the square held at {} (run and rise of this edge), or the saw at {}.",
            if square_tail { " of head and corner" } else { "" },
            figures.on_square.0.write(writing),
            figures.plumb_cut_deg.written(writing)
        ),
    ];
    if cheeked(&figures.head.cheeks) {
        steps.push(format!(
            "Head: draw its cheeks across the top with the square at the tongue and blade figures, marking along the blade, through the line on the center. \
             The cut meets the shorter face {} back from the middle. Saw each cheek along its plumb line with the blade tilted as told; the table says which face stays longer.",
            write(figures.head.middle_past_faces_in)
        ));
    } else {
        steps.push("Head: saw along the plumb line, blade upright.".to_owned());
    }
    steps.push(format!(
        "Birdsmouth: on the plumb line at the corner measure {} down from the top and draw the level line there, the seat. The marks along the bottom edges say where \
         heel and seat meet the faces{}",
        write(figures.heel_stand_in),
        if is_hip { "; the heel is cut to both walls and takes the corner of the plates between its two faces." } else { "; each wall's plate has its own notch." }
    ));
    if square_tail && figures.tail.cheeks.is_empty() {
        steps.push(
            "Tail: its length is to its ends on the two faces; between them two cuts make the notch that takes the inside corner of the fascia, as drawn. They lean as the boards \
             do, square to the rafters of either side: longer on top than a plumb cut and a square cut leave it. Try them with two pieces of the boards."
                .to_owned(),
        );
    } else if square_tail {
        steps.push(
            "Tail: not as the head. Its cuts lean the other way from square than a plumb cut does: longest on top. Draw each across the top at its tongue and blade figures, down \
             the faces at the angle told, the top ahead of the bottom, and saw it with the blade tilted as told, so that both leaning fascias lie flat on it."
                .to_owned(),
        );
    } else if cheeked(&figures.tail.cheeks) {
        steps.push("Tail: cheeks as at the head, so that both fascias lie flat on it.".to_owned());
    } else if figures.tail.cheeks.is_empty() {
        steps.push(
            "Tail: its length is to its ends on the two faces; between them two plumb cuts make the notch that takes the inside corner of the fascia, as drawn."
                .to_owned(),
        );
    } else {
        steps.push("Tail: saw along the plumb line, blade upright.".to_owned());
    }
    if let Some(Inches(below)) = figures.soffit_below_seat_in {
        let (far, way) =
            if below.inches() < 0.0 { (-below, "up from") } else { (below, "down from") };
        steps.push(format!(
            "Under the tail: draw the level soffit line {} plumb {way} the seat's line, and saw along it from the tail in to the walls.",
            writing.length(far)
        ));
    }
    let dropped = figures.drop_in.0.inches() > HAIR;
    if is_hip {
        steps.push(if dropped {
            format!(
                "Its top stays square: this birdsmouth drops it by {}, so that the deck passes over its edges. Backed instead ({}), it would not be dropped: write backed = \"yes\".",
                write(figures.drop_in),
                figures.backing.0.write(writing)
            )
        } else {
            format!("Back its top: {}, from the center line down to both faces.", figures.backing.0.write(writing))
        });
    }
    steps.push("Cut one, try it on the walls with two jacks, then cut the rest.".to_owned());
    steps
}
