//! The roof plan: faces with their pitches, edges with their true lengths, walls and overall dimensions.

use crate::facts::datum::Inches;
use crate::facts::record::row;
use crate::geom::DVec2;
use crate::measure::quantity::inches;
use crate::measure::{Amount, Note, Writing};
use crate::roof::shape::Opening;
use crate::roof::{EdgeKind, Face, RoofEdge};

use super::super::super::Table;
use super::super::super::clash::has_room;
use super::super::super::drawing::{Anchor, Drawing, Ink, Item, Pen, View};
use super::super::super::faces::tables;
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::super::typeface::Weight;
use super::ground_plan::GroundPlan;
use super::labels::beside;
use super::matter::HungMatter;

/// The sheet's title.
const TITLE: &str = "Roof plan";
/// The caution on it.
const CAUTION: &str = "Caution: the plan shows faces and edges of the framing, not what carries them. What holds hips, valleys, wings and dormers up is for a \
     designer and the local code. Work on a roof needs protection against falls.";

/// The page, with the tables of faces and edges.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let writing = job.writing;
    let roof = matter.sticks().roof;
    let mut flow = Flow::new(job, TITLE, Orientation::Portrait, 1, CAUTION);
    let room = DVec2::new(flow.width(), flow.height() * 0.62);
    let mut plan = GroundPlan::new(matter.frame, room, writing);
    let scale = plan.view.words(writing.units);
    plan.walls();
    let view = plan.view;
    for edge in &roof.edges {
        let ends = [edge.from, edge.to].map(|end| view.place(end.truncate()));
        plan.drawing.line(ends.to_vec(), pen(edge.kind));
    }
    let openings = openings(matter);
    for (_, corners) in &openings {
        let closed = corners.iter().chain(&corners[..1]).map(|at| view.place(*at));
        plan.drawing.line(closed.collect(), Pen::Outline);
    }
    // first, so that no name stands on one of them
    plan.dimensions();
    // all arrows before the first name, so that no arrow crosses the name of a neighbor
    for face in &roof.faces {
        arrow(face, &view, &mut plan.drawing);
    }
    for face in &roof.faces {
        name(face, &view, writing, &mut plan.drawing);
    }
    for (name, corners) in &openings {
        let sides = (0..4).map(|side| [corners[side], corners[(side + 1) % 4]]);
        let mut sides: Vec<[DVec2; 2]> = sides.collect();
        sides.sort_by(|one, other| {
            let long = |side: &[DVec2; 2]| side[0].distance(side[1]);
            long(other).total_cmp(&long(one))
        });
        for side in sides {
            let ends = side.map(|at| view.place(at));
            if beside(&mut plan.drawing, (ends[0], ends[1]), 0.0, name, SMALL) {
                break;
            }
        }
    }
    let mut without = 0;
    // short edges first: long ones have more places to choose from
    let mut edges: Vec<&RoofEdge> = roof.edges.iter().collect();
    edges.sort_by(|one, other| one.length().total_cmp(&other.length()));
    for edge in edges {
        let ends = (view.place(edge.from.truncate()), view.place(edge.to.truncate()));
        let text = format!("{} {}", edge.kind.words(), writing.length(inches(edge.length())));
        without += usize::from(!beside(&mut plan.drawing, ends, 0.0, &text, SMALL));
    }
    let mut words = format!(
        "From above, {scale}. Arrows point down the slope. Lengths of edges are true lengths, along the edge. Dashed: building lines, the outer \
         faces of the wall framing."
    );
    if without > 0 {
        words.push_str(" Edges without room for their length on the plan are in the table.");
    }
    flow.need(flow.words_height(&words) + plan.drawing.height);
    flow.words(&words);
    flow.drawing(plan.drawing);
    let [faces, totals, edges] = tables(roof, writing);
    flow.table(&faces);
    let opened = matter.frame.plan.blocks.openings.iter().map(OpeningRow::of);
    let opened: Vec<OpeningRow> = opened.collect();
    if !opened.is_empty() {
        flow.table(&Table::of("Openings", opened, writing));
    }
    flow.table(&totals);
    flow.table(&edges);
    flow.finish()
}

row! {
    /// An opening as the roof file has it.
    OpeningRow from (opening: &Opening) {
        name "opening": String = &opening.name;
        wall "face": &'static str = opening.on.word();
        start "from the wall's start": Inches = opening.start;
        width "width": Inches = opening.width;
        from "level, building line to low edge": Inches = opening.from;
        length "length up the slope": Inches = opening.length;
    }
}

/// The openings, each with the corners of its clear edges in plan.
fn openings<'a>(matter: &HungMatter<'a>) -> Vec<(&'a str, [DVec2; 4])> {
    let ground = &matter.frame.hung.ground;
    let is_own = |name: &str| ground.laid.iter().all(|laid| laid.block != name);
    let own = ground.holes.iter().filter(|hole| is_own(&hole.name));
    let corners = own.map(|hole| {
        let axes = &ground.faces[hole.face];
        let ((first, last), (low, high)) = (hole.reach, hole.up);
        let places = [(first, low), (last, low), (last, high), (first, high)];
        (hole.name.as_str(), places.map(|(along, up)| axes.plan(along, up)))
    });
    corners.collect()
}

pub(super) fn pen(kind: EdgeKind) -> Pen {
    match kind {
        EdgeKind::Ridge | EdgeKind::Hip | EdgeKind::Valley => Pen::Outline,
        _ => Pen::Context,
    }
}

/// An arrow down the slope of a face.
pub(super) fn arrow(face: &Face, view: &View, drawing: &mut Drawing) {
    let down = -face.slope.gradient.normalize_or_zero();
    let middle = view.place(inmost(face));
    let long = (clearance(face, inmost(face)) * view.scale * 0.8).clamp(0.12, 0.4);
    let (tail, tip) = (middle - down * long / 2.0, middle + down * long / 2.0);
    drawing.line(vec![tail, tip], Pen::Context);
    for side in [1.0, -1.0] {
        let wing = tip - down * 0.08 + down.perp() * (side * 0.035);
        drawing.line(vec![wing, tip], Pen::Context);
    }
}

/// The name of a face with its pitch, beside its arrow.
pub(super) fn name(face: &Face, view: &View, writing: Writing, drawing: &mut Drawing) {
    let pitch = Note::with("{}", [Amount::RiseIn12(face.slope.tangent() * 12.0)]).write(writing);
    let middle = view.place(inmost(face));
    for step in 0..12 {
        for way in [DVec2::X, DVec2::NEG_X, DVec2::Y, DVec2::NEG_Y] {
            let anchor = match way {
                DVec2::X => Anchor::Start,
                DVec2::NEG_X => Anchor::End,
                _ => Anchor::Middle,
            };
            let base = middle + way * (0.07 + 0.04 * f64::from(step));
            let line = |up: f64, text: &str, weight: Weight| Item::Text {
                at: base + DVec2::Y * up,
                text: text.to_owned(),
                height: SMALL,
                anchor,
                turn: 0.0,
                weight,
                ink: Ink::Black,
            };
            let pair = [
                line(0.05, &face.name, Weight::Bold),
                line(-0.05 - SMALL, &pitch, Weight::Regular),
            ];
            if pair.iter().all(|text| has_room(drawing, text, &[Pen::Thin])) {
                drawing.items.extend(pair);
                return;
            }
        }
    }
}

/// The least distance of a place in plan to the borders of a face.
fn clearance(face: &Face, place: DVec2) -> f64 {
    let loops = std::iter::once(&face.outline).chain(&face.holes);
    let distances = loops.flat_map(|corners| {
        corners.iter().zip(corners.iter().cycle().skip(1)).map(|(from, to)| {
            let (from, to) = (from.truncate(), to.truncate());
            let along = to - from;
            let part = (place - from).dot(along) / along.length_squared().max(f64::MIN_POSITIVE);
            place.distance(from + along * part.clamp(0.0, 1.0))
        })
    });
    distances.fold(f64::INFINITY, f64::min)
}

/// The place in plan that is farthest from the borders of a face, of a fine grid.
fn inmost(face: &Face) -> DVec2 {
    const STEPS: usize = 24;
    let corners = face.outline.iter().map(|corner| corner.truncate());
    let (low, high) = corners.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    let mut best = (f64::NEG_INFINITY, (low + high) / 2.0);
    for across in 1..STEPS {
        for up in 1..STEPS {
            let part = DVec2::new(across as f64, up as f64) / STEPS as f64;
            let place = low + (high - low) * part;
            let clear = clearance(face, place);
            if clear > best.0 && inside(face, place) {
                best = (clear, place);
            }
        }
    }
    best.1
}

/// True if a place in plan is on the face.
fn inside(face: &Face, place: DVec2) -> bool {
    let loops = std::iter::once(&face.outline).chain(&face.holes);
    let crossed = loops.flat_map(|corners| corners.iter().zip(corners.iter().cycle().skip(1)));
    let crossed = crossed.filter(|(from, to)| {
        (from.y > place.y) != (to.y > place.y)
            && place.x < from.x + (to.x - from.x) * (place.y - from.y) / (to.y - from.y)
    });
    crossed.count() % 2 == 1
}
