//! The plan of any roof as a screen shows it: faces and edges from above, with the one dimension that matters now in large
//! letters.

use crate::frame::HungFrame;
use crate::geom::DVec2;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Length, Writing};
use crate::plan::Key;
use crate::roof::{EdgeKind, Wall, WallLine};

use super::super::super::drawing::{Drawing, Pen};
use super::super::glance::{Glance, Held, LARGE, fitted_below, mark, words};
use super::ground_plan::outer_walls;
use super::roof_plan::{arrow, name, pen};

/// Where the words stand: in the room under the work.
const WORDS_AT: f64 = 0.06;
/// Room above the work, where nothing stands.
const ABOVE: f64 = 0.06;

/// The dimension that goes with a field: its ends in plan, and its words.
struct Shown {
    ends: Option<[DVec2; 2]>,
    text: String,
}

/// The plan on paper of this size, with the dimension that goes with a field: length, span, overhang, pitch; the longest ridge
/// with all others, or the length of the building where there is none.
pub(in super::super) fn glance(
    frame: &HungFrame,
    writing: Writing,
    paper: DVec2,
    field: Option<Key>,
    held: Option<Held>,
) -> Glance {
    let (low, high) = frame.sticks().extent();
    let held = held.unwrap_or_else(|| fitted_below(low.truncate(), high.truncate(), paper, ABOVE));
    let view = held.view;
    let mut drawing = Drawing::new(paper.x, held.height);
    for wall in outer_walls(frame) {
        let ends = [wall.from, wall.to].map(|at| view.place(at));
        drawing.line(ends.to_vec(), Pen::Dashed);
    }
    let roof = &frame.hung.seen;
    for edge in &roof.edges {
        let ends = [edge.from, edge.to].map(|end| view.place(end.truncate()));
        drawing.line(ends.to_vec(), pen(edge.kind));
    }
    let shown = shown(frame, writing, field);
    if let Some(ends) = shown.ends {
        mark(&mut drawing, ends.map(|at| view.place(at)));
    }
    for face in &roof.faces {
        arrow(face, &view, &mut drawing);
    }
    for face in &roof.faces {
        name(face, &view, writing, &mut drawing);
    }
    let middle = shown.ends.map_or(paper.x / 2.0, |[from, to]| view.place(from.midpoint(to)).x);
    words(&mut drawing, DVec2::new(middle, WORDS_AT), 0.0, paper.x - LARGE, shown.text);
    Glance { drawing, view, grips: Vec::new() }
}

fn shown(frame: &HungFrame, writing: Writing, field: Option<Key>) -> Shown {
    let plan = &frame.plan;
    let named = |name: &str, length: Length| format!("{name} {}", writing.length(length));
    let wall = |wanted: Wall| {
        let walls = &frame.hung.ground.walls;
        walls.iter().find(|wall| wall.block == "main" && wall.wall == wanted)
    };
    let over = |wall: &WallLine, part: f64| wall.from.lerp(wall.to, part);
    let length = || {
        let ends = wall(Wall::A).map(|wall| [wall.from, wall.to]);
        Shown { ends, text: named("length", plan.length) }
    };
    let Some(field) = field else { return ridge(frame, writing).unwrap_or_else(length) };
    if field == key!("building.length") {
        return length();
    }
    if field == key!("building.span") {
        let ends = wall(Wall::A).zip(wall(Wall::B)).map(|(a, b)| [over(a, 0.5), over(b, 0.5)]);
        return Shown { ends, text: named("span", plan.rafter.span) };
    }
    if field == key!("eave.overhang") {
        let ends = wall(Wall::A).map(|wall| {
            let at = over(wall, 0.25);
            [at, at + wall.out * wall.reach]
        });
        return Shown { ends, text: named("overhang", plan.rafter.overhang) };
    }
    let pitches = [
        (key!("roof.pitch"), Some(plan.rafter.pitch)),
        (key!("roof.pitch_b"), plan.blocks.pitch_b),
    ];
    let pitch = pitches.into_iter().find(|(key, _)| *key == field);
    if let Some((_, Some(pitch))) = pitch {
        return Shown { ends: None, text: writing.pitch(pitch) };
    }
    ridge(frame, writing).unwrap_or_else(length)
}

/// The longest ridge.
fn ridge(frame: &HungFrame, writing: Writing) -> Option<Shown> {
    let ridges = frame.hung.seen.edges.iter().filter(|edge| edge.kind == EdgeKind::Ridge);
    let longest = ridges.max_by(|one, other| one.length().total_cmp(&other.length()))?;
    let ends = [longest.from, longest.to].map(|end| end.truncate());
    let text = format!("ridge {}", writing.length(inches(longest.length())));
    Some(Shown { ends: Some(ends), text })
}
