//! `frame` on one page for a roof that is more than one gable: its faces and edges.

use crate::facts::caution;
use crate::facts::faces::{self as facts, EdgeJson, EdgeTotal, PlaneJson};
use crate::facts::record::keys;
use crate::measure::Length;
use crate::plan::GablePlan;
use crate::roof::{Face, Roof};

use super::page::Page;
use super::{Depth, Look, Table};

/// The page: faces with their areas, edges with their true lengths.
#[must_use]
pub fn text(plan: &GablePlan, roof: &Roof, heel: Length, look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    let writing = look.writing;
    let square_feet = |square_inches: f64| writing.square_feet(square_inches / 144.0, 1);
    let name = plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let faces = roof.faces.len();
    page.say(&format!(
        "{name}{faces} face{}, {} in the slopes over {} of plan; highest point {} above the plate of wall A.",
        if faces == 1 { "" } else { "s" },
        square_feet(roof.faces.iter().map(Face::area).sum()),
        square_feet(roof.faces.iter().map(|face| face.plan_area).sum()),
        writing.length(facts::top(roof)),
    ));
    page.say(&format!(
        "Everything is measured on the planes of the rafters' top edges, {} plumb above the plate at every building line.",
        writing.length(heel),
    ));
    let faces = Table::of("Faces", facts::planes(roof), writing);
    page.list(faces.picked(keys!(PlaneJson: face, block, pitch, area)));
    let totals = Table::of("Edges of each kind", facts::totals(roof), writing);
    page.list(totals.picked(keys!(EdgeTotal: kind, count, length_in)));
    let edges = Table::of("Every edge", facts::edges(roof), writing);
    page.list(edges.picked(keys!(EdgeJson: kind, faces, length_in, level_in, rise_in)));
    page.notes(&facts::unlike_eaves(roof));
    page.used(&plan.rafter.used);
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}
