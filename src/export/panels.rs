//! Roof panels in their places on the rafters, of any deck that is laid.

use std::collections::HashSet;

use crate::deck::faces::{FacePiece, FacesAsk, FacesDeck};
use crate::deck::{Deck, Piece, RoofDeck};
use crate::frame::{Frame, HungFrame, Sticks};
use crate::geom::{DVec2, DVec3, Mesh, Region};
use crate::measure::quantity::InInches;
use crate::measure::trim;
use crate::plan::{ChecksPlan, OrderPlan};

/// A deck as it is laid.
#[derive(Debug, Clone, Copy)]
pub enum Laid<'a> {
    /// That of one gable.
    Gable(&'a RoofDeck, &'a Deck),
    /// That of any other roof.
    Faces(&'a FacesAsk, &'a FacesDeck),
}

/// One panel as it is cut, flat on the rafters.
#[derive(Debug, Clone)]
pub(super) struct Panel {
    /// `SH-A-2-48`: face, course from 1, and where it begins along its face.
    pub(super) id: String,
    /// The face that it lies on.
    pub(super) face: String,
    /// Origin of its outline, on the plane of the rafters' tops.
    pub(super) corner: DVec3,
    /// Unit vector along its outline's x.
    pub(super) along: DVec3,
    /// Unit vector out of the roof; its outline's y is up the slope.
    pub(super) out: DVec3,
    /// Its corners, counterclockwise as seen from outside.
    pub(super) outline: Vec<DVec2>,
}

impl Panel {
    /// Area of its face, square inches.
    pub(super) fn area(&self) -> f64 {
        self.sides().map(|(from, to)| from.perp_dot(to)).sum::<f64>() / 2.0
    }

    /// Length around it, inches.
    pub(super) fn around(&self) -> f64 {
        self.sides().map(|(from, to)| from.distance(to)).sum()
    }

    /// Its surface in its own axes: convex parts of its outline below and above, and its edges.
    pub(super) fn mesh(&self, thick: f64) -> Mesh {
        let mut mesh = Mesh::default();
        let mut face = |corners: Vec<DVec3>| {
            let first = mesh.corners.len();
            mesh.faces.push((first..first + corners.len()).collect());
            mesh.corners.extend(corners);
        };
        let flat = Region::within(std::slice::from_ref(&self.outline));
        for part in flat.parts() {
            face(part.corners().iter().rev().map(|corner| corner.extend(0.0)).collect());
            face(part.corners().iter().map(|corner| corner.extend(thick)).collect());
        }
        for (from, to) in self.sides() {
            let low = [from, to].map(|corner| corner.extend(0.0));
            let high = [to, from].map(|corner| corner.extend(thick));
            face([low, high].concat());
        }
        mesh
    }

    fn sides(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        let next = self.outline.iter().cycle().skip(1);
        self.outline.iter().copied().zip(next.copied())
    }
}

/// Thickness of the panels, inches: as given, otherwise the least in which their rating is made; `None` if the roof names
/// neither.
pub(super) fn thickness(checks: &ChecksPlan) -> Option<f64> {
    let written = checks.panel_thickness.map(InInches::inches);
    written.or_else(|| checks.panel.map(|panel| panel.least_thickness_in()))
}

/// Every panel.
pub(super) fn panels(sticks: Sticks<'_>, plan: &OrderPlan, laid: Laid<'_>) -> Vec<Panel> {
    let mut list = match (laid, sticks.gable, sticks.hung) {
        (Laid::Gable(asked, deck), Some(frame), _) => {
            of_gable(frame, plan.deck.past_rake.inches(), (asked, deck))
        }
        (Laid::Faces(asked, deck), _, Some(frame)) => of_faces(frame, asked, deck),
        _ => Vec::new(),
    };
    // two pieces of a course that begin one above the other, beside an opening
    let mut known = HashSet::new();
    for panel in &mut list {
        let own = panel.id.clone();
        let mut number = 2;
        while !known.insert(panel.id.clone()) {
            panel.id = format!("{own}-{number}");
            number += 1;
        }
    }
    list
}

fn id(face: &str, course: usize, x: f64) -> String {
    format!("SH-{face}-{}-{}", course + 1, trim((x * 16.0).round() / 16.0 + 0.0, 4))
}

fn of_gable(frame: &Frame, past_rake: f64, (asked, laid): (&RoofDeck, &Deck)) -> Vec<Panel> {
    let site = &frame.site;
    let panel = |piece: &Piece| {
        let face = &frame.roof.faces[piece.plane];
        let out = face.slope.outward();
        let course = &laid.planes[piece.plane].courses[piece.course];
        let (width, height) = (piece.width.in_inches(), piece.height.in_inches());
        // pieces are measured from the near rake and, up the slope, from the tail line
        let x = piece.x.in_inches() - site.rake - past_rake;
        let from_ridge = asked.slope_width.inches() - course.lower_edge.in_inches();
        let up =
            DVec3::new(0.0, if piece.plane == 0 { 1.0 } else { -1.0 }, site.tangent) / site.secant;
        let ridge = DVec3::new(0.0, site.run, site.roof_height(site.run));
        let low = ridge + DVec3::X * x - up * from_ridge;
        // x along the ridge on plane A and the other way on plane B, so that y is up the slope
        let (corner, along) = if DVec3::X.cross(up).dot(out) > 0.0 {
            (low, DVec3::X)
        } else {
            (low + DVec3::X * width, -DVec3::X)
        };
        Panel {
            id: id(&face.name, piece.course, x),
            face: face.name.clone(),
            corner,
            along,
            out,
            outline: vec![
                DVec2::ZERO,
                DVec2::new(width, 0.0),
                DVec2::new(width, height),
                DVec2::new(0.0, height),
            ],
        }
    };
    laid.pieces.iter().map(panel).collect()
}

fn of_faces(frame: &HungFrame, asked: &FacesAsk, laid: &FacesDeck) -> Vec<Panel> {
    let ground = &frame.hung.ground;
    let panel = |piece: &FacePiece| {
        let (axes, own) = (&ground.faces[piece.face], &asked.faces[piece.face]);
        let left = piece.outline.iter().map(|corner| corner.x).fold(f64::INFINITY, f64::min);
        let place = axes.plan(own.origin.x, own.origin.y / axes.slope.stretch());
        Panel {
            id: id(&own.name, piece.course, own.origin.x + left),
            face: own.name.clone(),
            corner: axes.slope.point(place),
            along: axes.along.extend(0.0),
            out: axes.slope.outward(),
            outline: piece.outline.clone(),
        }
    };
    laid.pieces.iter().map(panel).collect()
}
