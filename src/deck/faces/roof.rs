//! The faces of a framed roof, as they are to be covered.

use crate::deck::ask::{LayingRules, PanelSheet};
use crate::frame::hung::face::FaceAxes;
use crate::frame::hung::{Ground, Hung};
use crate::frame::{HungRoof, Role};
use crate::geom::{DVec2, DVec3, Region};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::ZERO;
use crate::plan::{DeckPlan, RakeFraming};
use crate::roof::{Face, Shape};

use super::ask::{FaceAsk, FacesAsk, RafterReach};

impl FacesAsk {
    /// The deck of a roof hung on its faces. It reaches past the fascia and past the rakes as far as the plan says; where
    /// that leaves no roof, it ends at them.
    ///
    /// A face that goes on under what is laid on it is covered there too, but for the hole that a dormer stands around. Joints may fall on every stick that runs up a face. Nothing is left open at ridges and hips: a slot for a vent is
    /// sawn in place (common practice).
    #[must_use]
    pub fn of(shape: &Shape, hung: &HungRoof, plan: &DeckPlan) -> FacesAsk {
        let ground = &hung.ground;
        let choices = &ground.choices;
        // a rafter ripped for outlookers lies under the deck without touching it
        let is_ripped = |stick: &Hung| {
            let over =
                choices.infill.as_ref().is_some_and(|plan| plan.rake_framing == RakeFraming::Over);
            over && stick.role == Role::EndRafter
        };
        let wider = shape
            .reaching(plan.past_fascia, plan.past_rake)
            .framed(&choices.laid_over, choices.deck.inches())
            .ok();
        let faces = ground.faces.iter().zip(&ground.roof.faces).enumerate().map(
            |(number, (axes, face))| {
                let own = |other: &&Face| other.name == face.name;
                let wide = wider
                    .as_ref()
                    .and_then(|(_, framed, _)| framed.roof.faces.iter().find(own))
                    .unwrap_or(face);
                let (region, low) = region(axes, wide, open_under_dormers(ground, number));
                let here = hung
                    .sticks
                    .iter()
                    .filter(|stick| stick.face == Some(number) && !is_ripped(stick));
                FaceAsk {
                    name: face.name.clone(),
                    region,
                    origin: low,
                    rafters: here.filter_map(|stick| reach(axes, stick, low)).collect(),
                }
            },
        );
        FacesAsk {
            faces: faces.collect(),
            sheet: PanelSheet {
                length: plan.sheet_length,
                height: plan.sheet_height,
                kerf: plan.kerf,
            },
            rules: LayingRules {
                gap: plan.gap,
                least_strip: plan.least_strip,
                least_piece: plan.least_piece,
            },
        }
    }
}

/// The holes of a face that stay open under dormers, in its axes: clear between their walls, up to where they end.
fn open_under_dormers(ground: &Ground, face: usize) -> impl Iterator<Item = [DVec2; 4]> {
    let own = ground.holes.iter().filter(move |hole| hole.face == face);
    own.filter_map(move |hole| {
        let laid = ground.dormer(&hole.name)?;
        let ((first, last), low) = (hole.reach, hole.up.0);
        let high = ground.faces[face].place(laid.from).y;
        let corners = [(first, low), (first, high), (last, high), (last, low)];
        Some(corners.map(|(x, y)| DVec2::new(x, y)))
    })
}

/// A face without its open holes in its own surface, and what was its lowest left place in its axes.
fn region(axes: &FaceAxes, face: &Face, open: impl Iterator<Item = [DVec2; 4]>) -> (Region, DVec2) {
    let stretch = axes.slope.stretch();
    let flat = |corner: DVec3| {
        let place = axes.place(corner.truncate());
        DVec2::new(place.x, place.y * stretch)
    };
    let mut loops = face.loops(flat);
    loops.extend(open.map(|corners| corners.map(|at| DVec2::new(at.x, at.y * stretch)).to_vec()));
    let low = loops.iter().flatten().fold(DVec2::INFINITY, |low, corner| low.min(*corner));
    for corner in loops.iter_mut().flatten() {
        *corner -= low;
    }
    (Region::within(&loops), low)
}

/// Where a stick that runs straight up a face carries its deck.
fn reach(axes: &FaceAxes, stick: &Hung, low: DVec2) -> Option<RafterReach> {
    let level = DVec2::new(stick.axis.along.x, stick.axis.along.y);
    if level.dot(axes.along).abs() > ZERO.sqrt() || level.length() < ZERO.sqrt() {
        return None;
    }
    let solid = stick.stick()?;
    let (from, to) = solid.solid().extent(DVec3::new(axes.up.x, axes.up.y, 0.0))?;
    let stretch = axes.slope.stretch();
    let at = stick.axis.origin.truncate().dot(axes.along) - low.x;
    Some(RafterReach { at, from: from * stretch - low.y, to: to * stretch - low.y })
}
