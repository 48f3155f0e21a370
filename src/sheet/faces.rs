//! `frame` on one page for a roof that is more than one gable: its sticks, faces and edges.

use crate::facts::caution;
use crate::facts::faces::{self as facts, EdgeJson, EdgeTotal, PlaneJson};
use crate::facts::frame::{self as cut_list, StickJson};
use crate::facts::record::keys;
use crate::facts::under_edges::{UnderEdgeJson, of_sticks};
use crate::frame::{HungFrame, Sticks};
use crate::measure::{Length, Note, Writing};
use crate::plan::GablePlan;
use crate::roof::{Face, Roof};

use super::page::Page;
use super::{Depth, Look, Table};

/// How many faces there are, how large and how high; and what everything is measured on.
pub(super) fn heading(roof: &Roof, heel: Length, writing: Writing) -> [String; 2] {
    let square_feet = |square_inches: f64| writing.square_feet(square_inches / 144.0, 1);
    let faces = roof.faces.len();
    let of_faces = format!(
        "{faces} face{}, {} in the slopes over {} of plan; highest point {} above the plate of wall A.",
        if faces == 1 { "" } else { "s" },
        square_feet(roof.faces.iter().map(Face::area).sum()),
        square_feet(roof.faces.iter().map(|face| face.plan_area).sum()),
        writing.length(facts::top(roof)),
    );
    let planes = format!(
        "Everything is measured on the planes of the rafters' top edges, {} plumb above the plate at every building line.",
        writing.length(heel),
    );
    [of_faces, planes]
}

/// How many sticks there are, and what is not framed.
pub(super) fn framed(sticks: Sticks<'_>) -> String {
    let patterns = if sticks.members.len() == 1 { "pattern" } else { "patterns" };
    let lacks = sticks.hung.map(HungFrame::lacks).unwrap_or_default();
    let lacks = match lacks.as_slice() {
        [] => String::new(),
        lacks => format!("; not framed here yet: {}", lacks.join(", ")),
    };
    format!("{} sticks in {} {patterns}{lacks}.", sticks.count(), sticks.members.len())
}

/// The faces with their areas, the edges of each kind, and every edge with its true length.
#[must_use]
pub fn tables(roof: &Roof, writing: Writing) -> [Table; 3] {
    let faces = Table::of("Faces", facts::planes(roof), writing);
    let totals = Table::of("Edges of each kind", facts::totals(roof), writing);
    let edges = Table::of("Every edge", facts::edges(roof), writing);
    [
        faces.picked(keys!(PlaneJson: face, block, pitch, area)),
        totals.picked(keys!(EdgeTotal: kind, count, length_in)),
        edges.picked(keys!(EdgeJson: what, faces, length_in, level_in, rise_in)),
    ]
}

/// The page: faces with their areas, edges with their true lengths.
#[must_use]
pub fn text(
    plan: &GablePlan,
    (roof, heel): (&Roof, Length),
    (sticks, notes): (Option<Sticks<'_>>, &[Note]),
    look: &Look,
    depth: Depth,
) -> String {
    let mut page = Page::new(look, depth);
    let writing = look.writing;
    let name = plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let [faces, planes] = heading(roof, heel, writing);
    page.say(&format!("{name}{faces}"));
    page.say(&planes);
    if let Some(sticks) = sticks {
        let list = || cut_list::patterns(sticks).map(StickJson::of);
        page.say(&framed(sticks));
        let first = Table::of("Cut list", list(), writing);
        page.list(
            first.picked(keys!(StickJson: mark, what, count, section, blank_in, order_length_ft)),
        );
        let edges = || {
            Table::of("Hips and valleys, along the middle of the top", of_sticks(sticks), writing)
        };
        let lengths = keys!(UnderEdgeJson: mark, line_length_in, shortening_in, body_length_in, tail_length_in, drop_in, backing);
        page.list(edges().picked(lengths));
        page.more("cuts of hips and valleys", || {
            let cuts =
                keys!(UnderEdgeJson: mark, plumb_cut_deg, level_cut_deg, head_cuts, tail_cuts);
            let table = edges().picked(cuts);
            if table.is_empty() { String::new() } else { table.text(look) }
        });
        page.more("end cuts", || {
            let title = "Cut list (angles in degrees off a square cut)";
            let columns = keys!(StickJson: mark, what, count, blank_in, end_cuts, other_settings);
            Table::of(title, list(), writing).picked(columns).text(look)
        });
        page.more("marks", || {
            let columns = keys!(StickJson: mark, hook, top_edge, bottom_edge);
            Table::of("Marks", list(), writing).picked(columns).text(look)
        });
    }
    for table in tables(roof, writing) {
        page.list(table);
    }
    page.notes(notes);
    page.used(&plan.rafter.used);
    page.caution(caution::ANY_ROOF_IN_SHORT, caution::ANY_ROOF);
    page.end()
}
