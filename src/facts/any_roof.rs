//! `frame` for a roof that is more than one gable: its sticks, faces and edges as JSON.

use crate::frame::Sticks;
use crate::measure::{Length, Note};
use crate::plan::GablePlan;
use crate::roof::{Face, Roof};

use super::common::{self, UsedJson};
use super::datum::Inches;
use super::faces::{EdgeJson, EdgeTotal, PlaneJson, square_feet, top, totals};
use super::frame::{StickJson, patterns};
use super::laid::{DormerJson, SnapLineJson, dormers, snap_lines};
use super::record::record;
use super::under_edges::{JackJson, UnderEdgeJson, jacks, of_sticks};

record! {
    /// The result of `frame` for a roof that is more than one gable: its faces and edges.
    FacesReport from (plan: &GablePlan, roof: &Roof, heel_stand: Length, sticks: Option<Sticks<'_>>, lacks: Vec<String>, notes: &[Note]) {
        /// `frame`.
        command: &'static str = "frame";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::ANY_ROOF;
        /// Every value used.
        used: Vec<UsedJson> = &plan.rafter.used;
        /// Every pattern; none where the sticks are not framed, and then a note says why.
        sticks: Vec<StickJson> = sticks.into_iter().flat_map(patterns);
        /// Number of sticks in all.
        stick_count: usize = sticks.map_or(0, |sticks| sticks.count());
        /// Plumb, plate to the rafters' top edges at every building line.
        heel_stand_in: Inches = heel_stand;
        /// The highest point of the faces above the plate of wall A.
        top_in: Inches = top(roof);
        /// Area in the slopes.
        area_sqft: f64 = square_feet(roof.faces.iter().map(Face::area).sum());
        /// Area in plan.
        plan_area_sqft: f64 = square_feet(roof.faces.iter().map(|face| face.plan_area).sum());
        /// The faces of the roof: the planes of the rafters' top edges, as seen from straight above.
        planes: Vec<PlaneJson> = &roof.faces;
        /// The edges of the faces.
        edges: Vec<EdgeJson> = roof.edges.iter().map(|edge| (edge, roof));
        /// The length of all edges of each kind.
        totals: Vec<EdgeTotal> = totals(roof);
        /// The figures of each pattern of hips and valleys.
        under_edges: Vec<UnderEdgeJson> = sticks.into_iter().flat_map(of_sticks);
        /// The ends of each pattern of jacks.
        jacks: Vec<JackJson> = sticks.into_iter().flat_map(jacks);
        /// Where dormers stand on the sheathed roof.
        dormers: Vec<DormerJson> = sticks.into_iter().flat_map(dormers);
        /// The lines to snap on the sheathed roof for the valley boards of what is laid on it.
        snap_lines: Vec<SnapLineJson> = sticks.into_iter().flat_map(snap_lines);
        /// What the roof has besides but what is not framed here.
        not_framed: Vec<String> = lacks;
        /// What is to be known besides.
        notes: Vec<String> = common::notes(notes);
    }
}
