//! The roof as a screen shows it: small, with the one dimension that matters now in large letters. The section across the
//! building, or, while the spacing is in hand, the rafters from above.

use crate::fit::dragged::{self, Grip};
use crate::frame::Frame;
use crate::geom::DVec2;
use crate::key;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Writing};
use crate::plan::{Key, OverhangFrom};

use super::super::super::drawing::{Drawing, Fill, Pen};
use super::super::glance::{Glance, Held, ROOM, SIDE, dimension, fitted, words};
use super::slice::Section;

/// What is shown of the walls below the plates, inches of work.
const WALL: f64 = 12.0;

/// What is shown along the building of the rafters from above, inches, and beyond what is drawn.
const BAYS_IN: f64 = 112.0;
const END_IN: f64 = 3.0;

/// The dimension that matters while a field is changed.
enum Shown {
    /// Between two points of the work, its line on the side that lies to the left of the way.
    Between(DVec2, DVec2, String),
    /// Words above the way between two points.
    Along(DVec2, DVec2, String),
}

/// The roof on paper of this size, with the dimension that goes with a field: the span, the overhang, the pitch, the
/// ridge's height, the spacing; the rafter's length with all others.
pub(in super::super) fn glance(
    frame: &Frame,
    writing: Writing,
    paper: DVec2,
    field: Option<Key>,
    held: Option<Held>,
) -> Glance {
    match dragged::in_plan(frame) {
        Some(grip) if field == Some(key!("roof.spacing")) => {
            from_above(frame, writing, paper, grip, held)
        }
        _ => across(frame, writing, paper, field, held),
    }
}

/// The section at the pair that has most to show.
fn across(
    frame: &Frame,
    writing: Writing,
    paper: DVec2,
    field: Option<Key>,
    held: Option<Held>,
) -> Glance {
    let section = Section::of(frame);
    let (mut low, high) = section.bounds();
    low.y = low.y.min(-WALL);
    let held = held.unwrap_or_else(|| fitted(low, high, paper));
    let view = held.view;
    let mut drawing = Drawing::new(paper.x, held.height);
    let site = &frame.site;
    for x in [0.0, site.plate, site.span - site.plate, site.span] {
        let ends = [DVec2::new(x, 0.0), DVec2::new(x, low.y)];
        drawing.line(ends.map(|at| view.place(at)).to_vec(), Pen::Context);
    }
    section.draw(&mut drawing, &view);
    match shown(frame, writing, field, low.y) {
        Shown::Between(from, to, text) => {
            dimension(&mut drawing, [from, to].map(|at| view.place(at)), text);
        }
        Shown::Along(from, to, text) => {
            let [from, to] = [from, to].map(|at| view.place(at));
            let along = (to - from).normalize_or_zero();
            let turn = along.y.atan2(along.x).to_degrees();
            let room = from.distance(to);
            words(&mut drawing, (from + to) / 2.0 + along.perp() * 0.07, turn, room, text);
        }
    }
    Glance { drawing, view, grips: dragged::in_section(frame) }
}

/// The first rafters of eave A from above, with their spacing.
fn from_above(
    frame: &Frame,
    writing: Writing,
    paper: DVec2,
    grip: Grip,
    held: Option<Held>,
) -> Glance {
    let site = &frame.site;
    let tail = frame.rafter.tail_projection.inches();
    // room for the dragged rafter at the widest spacing
    let long = site.length.min(BAYS_IN);
    let low = DVec2::new(-END_IN, -tail.max(0.0) - END_IN);
    let deep = (long + END_IN - low.x) * (paper.y - 2.0 * ROOM).max(0.2) / (paper.x - 2.0 * SIDE);
    let top = (low.y + deep).min(site.run - site.half_ridge);
    let held = held.unwrap_or_else(|| fitted(low, DVec2::new(long + END_IN, top), paper));
    let view = held.view;
    let mut drawing = Drawing::new(paper.x, held.height);
    let edge = (paper.x - view.origin.x) / view.scale;
    let right = edge.min(site.length);
    let upper =
        ((held.height - ROOM / 3.0 - view.origin.y) / view.scale).min(site.run - site.half_ridge);
    for y in [0.0, site.plate] {
        let ends = [DVec2::new(0.0, y), DVec2::new(right, y)];
        drawing.line(ends.map(|at| view.place(at)).to_vec(), Pen::Context);
    }
    for x in [0.0, site.plate] {
        let ends = [DVec2::new(x, 0.0), DVec2::new(x, upper)];
        drawing.line(ends.map(|at| view.place(at)).to_vec(), Pen::Context);
    }
    let seen = frame.pairs.iter().filter(|pair| pair.x_a + site.thick < edge);
    for pair in seen {
        let corners = [(0.0, -tail), (site.thick, -tail), (site.thick, upper), (0.0, upper)];
        let corners = corners.map(|(x, y)| view.place(DVec2::new(pair.x_a + x, y)));
        // the plate behind is hidden first
        drawing.outline(corners.to_vec(), Pen::Context, Fill::Paper);
        drawing.outline(corners.to_vec(), Pen::Outline, Fill::None);
    }
    let centers = [1, 2].map(|pair| frame.pairs.get(pair).map(|pair| pair.x_a + site.thick / 2.0));
    if let [Some(from), Some(to)] = centers {
        let below = [from, to].map(|x| view.place(DVec2::new(x, -tail.max(0.0))));
        let text = format!("{} on center", writing.length(frame.plan.spacing));
        dimension(&mut drawing, below, text);
    }
    Glance { drawing, view, grips: vec![grip] }
}

fn shown(frame: &Frame, writing: Writing, field: Option<Key>, low: f64) -> Shown {
    let plan = &frame.plan.rafter;
    let rafter = &frame.rafter;
    let site = &frame.site;
    let named = |name: &str, length: Length| format!("{name} {}", writing.length(length));
    let on_roof = |y: f64| DVec2::new(y, site.roof_height(y));
    let tail = on_roof(-rafter.tail_projection.inches());
    let ridge = on_roof(site.run - site.half_ridge);
    let field = field.unwrap_or(key!("rafter.stock"));
    if field == key!("building.span") {
        return Shown::Between(
            DVec2::new(0.0, low),
            DVec2::new(site.span, low),
            named("span", plan.span),
        );
    }
    if field == key!("eave.overhang") {
        let from = match plan.overhang_from {
            OverhangFrom::Framing => 0.0,
            OverhangFrom::Finish => plan.finish.inches(),
        };
        let reach = plan.overhang_from_building_line().inches();
        if reach - from > HAIR {
            let [outer, inner] = [-reach, -from].map(|x| DVec2::new(x, low));
            return Shown::Between(outer, inner, named("overhang", plan.overhang));
        }
    }
    if field == key!("roof.pitch") {
        return Shown::Along(tail, ridge, writing.pitch(plan.pitch));
    }
    if field == key!("ridge.board") || field == key!("ridge.depth") {
        let [foot, head] = [0.0, rafter.ridge_top.inches()].map(|z| DVec2::new(site.run, z));
        return Shown::Between(head, foot, named("plate to ridge top", rafter.ridge_top));
    }
    Shown::Between(tail, ridge, named("rafter", rafter.rafter_length))
}

#[cfg(test)]
mod tests {
    use super::super::super::super::drawing::Item;
    use super::super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, with_matter};
    use super::*;
    use crate::measure::Units;

    #[test]
    fn a_glance_keeps_on_its_paper_and_says_the_field() {
        for (text, units) in [
            (KESTREL, Units::Feet),
            (STEEP, Units::Feet),
            (SHALLOW, Units::Feet),
            (METRIC, Units::Millimeters),
        ] {
            with_matter(text, units, |matter| {
                for (field, wanted) in [
                    (key!("building.span"), "span "),
                    (key!("roof.pitch"), "deg"),
                    (key!("ridge.board"), "plate to ridge top "),
                    (key!("rafter.stock"), "rafter "),
                    (key!("loads.snow"), "rafter "),
                    (key!("eave.overhang"), ""),
                    (key!("roof.spacing"), " on center"),
                ] {
                    let paper = DVec2::new(3.1, 2.2);
                    let drawing =
                        glance(matter.frame, Writing::of(units), paper, Some(field), None).drawing;
                    assert!(
                        drawing.width == 3.1 && drawing.height <= 2.2 + HAIR,
                        "{}",
                        drawing.height
                    );
                    let text = drawing.items.iter().find(|item| matches!(item, Item::Text { .. }));
                    let text = text.unwrap();
                    let Item::Text { text: words, .. } = text else { unreachable!() };
                    assert!(words.contains(wanted), "{field}: {words}");
                    for corner in text.text_box().unwrap() {
                        let on_it = corner.x > -HAIR && corner.x < drawing.width + HAIR;
                        assert!(
                            on_it && corner.y > -HAIR && corner.y < drawing.height + HAIR,
                            "{field} {words} {corner}"
                        );
                    }
                }
            });
        }
    }
}
