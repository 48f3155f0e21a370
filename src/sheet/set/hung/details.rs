//! What is laid on the sheathed roof: each wing and dormer from above, larger, with the lines to snap on the deck.

use crate::facts::laid::{SnapLineJson, dormers, snap_lines};
use crate::facts::record::keys;
use crate::frame::Member;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::roof::{Laid, Wall, WallLine};

use super::super::super::Table;
use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Area, Drawing, Pen, View};
use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::Kind;
use super::super::order::sentence;
use super::framing::Shown;
use super::layers::Layers;
use super::matter::HungMatter;
use super::side_walls::side_walls;

/// The caution.
const CAUTION: &str = "Caution: what carries a wing or a dormer that stands on the roof is for a designer and the local code. Sheathe and brace the roof below first; \
     work on a deck needs protection against falls.";
/// Room around the work for dimensions and marks.
const AROUND: f64 = 0.65;

/// A page for each.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let layers = Layers::of(matter.frame);
    let members: Vec<&Member> = matter.frame.members.iter().collect();
    let laid = matter.frame.hung.ground.laid.iter().enumerate();
    laid.flat_map(|(number, laid)| {
        let shown = Shown::of(&members, &layers, Some(number));
        if shown.is_empty() { Vec::new() } else { page(matter, job, laid, shown) }
    })
    .collect()
}

fn page(matter: &HungMatter<'_>, job: &Job, laid: &Laid, shown: Shown<'_>) -> Vec<Page> {
    let (writing, name) = (job.writing, laid.block.as_str());
    let title = format!("{}, {name} on the sheathed roof", Kind::Plan.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, CAUTION);
    let walls: Vec<&WallLine> =
        matter.frame.hung.ground.walls.iter().filter(|wall| wall.block == name).collect();
    let (low, high) = shown.extent();
    let part = if laid.dormer.is_some() { 0.46 } else { 0.66 };
    let room = DVec2::new(flow.width(), flow.height() * part);
    let area = Area::new(DVec2::ZERO, room - DVec2::splat(2.0 * AROUND));
    let scale = View::fitting(low, high, area, writing.units).scale;
    let size = (high - low) * scale;
    let corner = DVec2::new((room.x - size.x) / 2.0, AROUND);
    let view = View { scale, origin: corner - low * scale };
    let mut drawing = Drawing::new(room.x, size.y + 2.0 * AROUND);
    // a shed dormer has no wall where its slope meets the roof
    let standing = walls.iter().filter(|wall| laid.dormer.is_none() || wall.wall != Wall::Far);
    for wall in standing {
        drawing.line([wall.from, wall.to].map(|at| view.place(at)).to_vec(), Pen::Dashed);
    }
    let paper_low = view.place(low);
    for (axis, out, edge) in
        [(DVec2::X, DVec2::NEG_Y, paper_low), (DVec2::Y, DVec2::NEG_X, paper_low)]
    {
        let mut rows = Dimensions::new(out, edge.dot(out) + 0.3);
        let mut told: Vec<(f64, f64)> = Vec::new();
        for wall in &walls {
            let (one, other) = (wall.from.dot(axis), wall.to.dot(axis));
            let own = (one.min(other), one.max(other));
            let is_known = told
                .iter()
                .any(|known| (known.0 - own.0).abs() < HAIR && (known.1 - own.1).abs() < HAIR);
            if own.1 - own.0 < HAIR || is_known {
                continue;
            }
            told.push(own);
            let place = |at: f64| view.place(axis * at) * axis + edge * out.abs();
            rows.add(place(own.0), place(own.1), writing.length(inches(own.1 - own.0)));
        }
        rows.draw(&mut drawing);
    }
    let without = shown.draw(&view, &mut drawing);
    flow.words(&format!(
        "{}, from above, {}. Dashed: its walls. It stands on the deck of the roof below, which is framed on under it.{without}",
        sentence(name),
        view.words(writing.units)
    ));
    flow.introduces(drawing.height);
    flow.drawing(drawing);
    where_it_stands(matter, job, laid, &mut flow);
    let lines = snap_lines(matter.sticks());
    let own: Vec<&SnapLineJson> = lines.iter().filter(|line| line.block == name).collect();
    if let Some(first) = own.first() {
        flow.head("Lines to snap on the deck");
        flow.words(&format!(
            "Snap the center line of {name} up the deck. The ridge hits it {} up the deck from the building line of the roof below: that is the hit point. From there snap a \
             line down to each lower end; the outer edges of the valley boards lie on these lines.",
            writing.length(inches(first.head_up_in.0.inches()))
        ));
        let table = Table::of("", own, writing);
        flow.table(
            &table.picked(
                keys!(SnapLineJson: mark, foot_up_in, foot_aside_in, head_up_in, length_in),
            ),
        );
    }
    flow.finish()
}

/// Of a dormer: where its walls stand on the deck, and its side walls from outside.
fn where_it_stands(matter: &HungMatter<'_>, job: &Job, laid: &Laid, flow: &mut Flow<'_>) {
    let writing = job.writing;
    let places = dormers(matter.sticks());
    let Some(place) = places.iter().find(|place| place.dormer == laid.block) else { return };
    let head = if laid.is_shed() {
        "its slope meets the tops of the rafters below, at the low edge of the header, at"
    } else {
        "its side walls end at"
    };
    flow.head("Where its walls stand on the deck");
    flow.words(&format!(
        "Up the deck from the building line of the roof below: the outer face of its front wall at {}, and {head} {}.",
        writing.length(inches(place.front_up_in.0.inches())),
        writing.length(inches(place.head_up_in.0.inches())),
    ));
    let room = DVec2::new(flow.width(), flow.height() * 0.3);
    let Some((drawing, view)) = side_walls(matter, laid, room, writing) else { return };
    flow.words(&format!(
        "Its side walls from outside, {}. Their studs stand on the deck, over the trimmers; the table of marks has their lengths.",
        view.words(writing.units)
    ));
    flow.introduces(drawing.height);
    flow.drawing(drawing);
}
