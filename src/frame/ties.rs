//! The ties: what holds each pair, where, and how much room its nails have.

use crate::geom::{Cell, DVec2, DVec3};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{GablePlan, Joists};

use super::beside::tie_bottom;
use super::ceiling::{self, collar_bottom};
use super::common::CommonRafter;
use super::member::Member;
use super::opening::Opening;
use super::pair::Pair;
use super::role::Role;
use super::site::Site;

/// What keeps the walls from spreading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TieKind {
    /// Ceiling joists beside the rafters, in one length.
    JoistsContinuous,
    /// Ceiling joists beside the rafters, in two lengths.
    JoistsLapped,
    /// Separate rafter ties, joists running across.
    RafterTies,
    /// Nothing: the ridge must be supported.
    None,
}

impl TieKind {
    /// The kind in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            TieKind::JoistsContinuous => "ceiling joists beside the rafters, one length",
            TieKind::JoistsLapped => "ceiling joists beside the rafters, two lengths",
            TieKind::RafterTies => "rafter ties",
            TieKind::None => "none",
        }
    }
}

/// What ties the roof.
#[derive(Debug, Clone, PartialEq)]
pub struct TieStory {
    /// What keeps the walls from spreading.
    pub kind: TieKind,
    /// Greatest distance on center between tied pairs.
    pub spacing: Length,
    /// Pairs tied by joists or rafter ties, without those that the attic opening cuts.
    pub count: usize,
    /// Pairs between the end walls.
    pub inner_pairs: usize,
    /// Bottom of the ties above the plate.
    pub height: Length,
    /// Height of the ties divided by the height of the ridge, both above the plate.
    pub hc_over_hr: f64,
    /// Level length over which rafter and tie touch face to face at the heel.
    pub heel_lap: Length,
    /// Area of that contact, square inches.
    pub heel_area_in2: f64,
    /// Its corners at eave A, counterclockwise: inches in from the building line and up from the plate.
    pub heel_contact: Vec<DVec2>,
    /// Nails of 0.162 in (16d common) that fit the contact.
    pub nails_that_fit: usize,
    /// Lap of two lengths over the bearing, if there are two.
    pub joist_lap: Option<Length>,
    /// Nails that fit that lap.
    pub lap_nails_that_fit: Option<usize>,
    /// Height of the clip at the joist's end, plumb; zero if the joist does not stick out above the
    /// rafter.
    pub clip_height: Length,
    /// Level length of the clip.
    pub clip_length: Length,
    /// Collar ties: how many, and their bottom above the plate.
    pub collars: usize,
    /// Bottom of the collar ties above the plate.
    pub collar_height: Length,
    /// The opening to the attic among them.
    pub opening: Option<Opening>,
}

impl TieStory {
    /// Pairs with rafters nailed to a joist or a tie: both those that are tied and those with a cut
    /// joist or tie.
    #[must_use]
    pub fn nailed_pairs(&self) -> usize {
        match self.kind {
            // a tie in the way of the opening is not there
            TieKind::RafterTies => self.count,
            _ => self.count + self.opening.as_ref().map_or(0, |of| of.cut_rows.len()),
        }
    }
}

/// The ties of a frame.
pub(super) fn story(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    members: &[Member],
) -> TieStory {
    let count_of = |role: Role| -> usize {
        members.iter().filter(|member| member.role == role).map(Member::count).sum()
    };
    let inner: Vec<&Pair> = pairs.iter().filter(|pair| !pair.at_end).collect();
    let (kind, section, tied) = match plan.joists {
        Joists::Beside => {
            let tied = inner.iter().filter(|pair| pair.joist_side != 0.0).count();
            let kind = if plan.bearing.is_some() {
                TieKind::JoistsLapped
            } else {
                TieKind::JoistsContinuous
            };
            (kind, Some(&plan.joist), tied)
        }
        Joists::Across => (TieKind::RafterTies, Some(&plan.tie), count_of(Role::RafterTie)),
        Joists::None => (TieKind::None, None, 0),
    };
    let bottom = tie_bottom(plan);
    let ridge_rise = site.run * site.tangent;
    let contact = section
        .map_or_else(Vec::new, |section| heel_contact(rafter, site, bottom, section.depth_in()));
    let (low, high) =
        contact.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), spot| {
            (low.min(spot.x), high.max(spot.x))
        });
    let proud =
        section.map_or(0.0, |section| (bottom + section.depth_in() - site.heel_stand).max(0.0));
    let opening = ceiling::opening(plan, site, pairs);
    let cut = match kind {
        // a tie in the way of the opening is not there
        TieKind::RafterTies => 0,
        _ => opening.as_ref().map_or(0, |opening| opening.cut_rows.len()),
    };
    let two = kind == TieKind::JoistsLapped;
    let lap = plan.lap.inches();
    let lap_area = [
        DVec2::ZERO,
        DVec2::new(lap, 0.0),
        DVec2::new(lap, plan.joist.depth_in()),
        DVec2::new(0.0, plan.joist.depth_in()),
    ];
    TieStory {
        kind,
        spacing: inches(tied_spacing(plan, &inner)),
        count: tied.saturating_sub(cut),
        inner_pairs: inner.len(),
        height: inches(bottom),
        hc_over_hr: bottom / ridge_rise,
        heel_lap: inches((high - low).max(0.0)),
        heel_area_in2: area(&contact),
        nails_that_fit: nails_that_fit(&contact),
        heel_contact: contact,
        joist_lap: two.then_some(plan.lap),
        lap_nails_that_fit: two.then(|| nails_that_fit(&lap_area)),
        clip_height: inches(proud),
        clip_length: inches(proud / site.tangent),
        collars: count_of(Role::CollarTie),
        collar_height: inches(collar_bottom(plan, site)),
        opening,
    }
}

/// Greatest distance between neighboring tied pairs, inches; the end walls count as tied.
fn tied_spacing(plan: &GablePlan, inner: &[&Pair]) -> f64 {
    let spacing = plan.spacing.inches();
    match plan.joists {
        Joists::Beside => spacing,
        Joists::Across => {
            let every = ((plan.tie_spacing.inches() / spacing) + LAST_BITS).floor().max(1.0);
            if inner.is_empty() { 0.0 } else { every * spacing }
        }
        Joists::None => 0.0,
    }
}

/// Where rafter and tie touch face to face at the heel: corners as (y, z), counterclockwise.
///
/// The rafter's side view cut to the tie's: between its bottom and top edge, below the roof
/// plane, and from the building line inward.
fn heel_contact(rafter: &CommonRafter, site: &Site, bottom: f64, depth: f64) -> Vec<DVec2> {
    let far = site.run - site.half_ridge;
    let tie =
        Cell::from_box(DVec3::new(-0.5, 0.0, bottom), DVec3::X, DVec3::Y * far, DVec3::Z * depth);
    let under_roof = site.roof_plane(super::site::EaveSide::A, 0.0);
    let over_bottom = site.rafter_bottom(super::site::EaveSide::A).flipped();
    let on_plate = rafter
        .stick
        .trims
        .iter()
        .flat_map(|trim| trim.cut.planes.iter())
        .find(|plane| plane.normal.z < -0.999);
    let body =
        tie.inside(&under_roof).and_then(|cell| cell.inside(&over_bottom)).and_then(|cell| {
            match on_plate {
                Some(plane) => cell.inside(plane),
                None => Some(cell),
            }
        });
    let Some(body) = body else { return Vec::new() };
    // the face toward +x is the side view
    body.faces().find(|face| face.plane.normal.x > 0.999).map_or_else(Vec::new, |face| {
        face.corners().map(|corner| DVec2::new(corner.y, corner.z)).collect()
    })
}

fn area(ring: &[DVec2]) -> f64 {
    let twice: f64 = (0..ring.len()).map(|at| ring[at].perp_dot(ring[(at + 1) % ring.len()])).sum();
    twice.abs() / 2.0
}

/// Diameter of a 16d common nail, inches (ASTM F1667, as Table R802.5.2(1) names it).
const NAIL_IN: f64 = 0.162;
/// Least distances of nails that are not prebored, in nail diameters: from an edge, from an end,
/// along a row, between rows (from memory: NDS commentary's recommended minimums).
const EDGE: f64 = 2.5 * NAIL_IN;
const ALONG: f64 = 15.0 * NAIL_IN;
const BETWEEN: f64 = 5.0 * NAIL_IN;

/// The number of nails that fit a convex contact: level rows, as close as splitting allows.
#[must_use]
pub fn nails_that_fit(contact: &[DVec2]) -> usize {
    let (low, high) =
        contact.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), spot| {
            (low.min(spot.y), high.max(spot.y))
        });
    // rows may be shifted up; use the shift that holds the most
    (0..8)
        .map(|shift| {
            let mut row = low + EDGE + BETWEEN * f64::from(shift) / 8.0;
            let mut nails = 0;
            while row <= high - EDGE + LAST_BITS {
                nails += row_of_nails(contact, row);
                row += BETWEEN;
            }
            nails
        })
        .max()
        .unwrap_or(0)
}

fn row_of_nails(contact: &[DVec2], level: f64) -> usize {
    let chord = |at: f64| -> Option<(f64, f64)> {
        let hits: Vec<f64> = (0..contact.len())
            .filter_map(|index| {
                let (from, to) = (contact[index], contact[(index + 1) % contact.len()]);
                ((from.y > at) != (to.y > at))
                    .then(|| from.x + (to.x - from.x) * (at - from.y) / (to.y - from.y))
            })
            .collect();
        let low = hits.iter().copied().fold(f64::INFINITY, f64::min);
        let high = hits.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (high > low).then_some((low, high))
    };
    // clear of sloping edges above and below too
    let rows = [level - EDGE + LAST_BITS, level, level + EDGE - LAST_BITS];
    let mut clear = (f64::NEG_INFINITY, f64::INFINITY);
    for at in rows {
        let Some((low, high)) = chord(at) else {
            return 0;
        };
        clear = (clear.0.max(low), clear.1.min(high));
    }
    let length = clear.1 - clear.0 - 2.0 * EDGE;
    if length < 0.0 {
        return 0;
    }
    (length / ALONG + LAST_BITS).floor() as usize + 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_foot_of_contact_holds_rows_of_nails() {
        let side = 12.0;
        let square =
            [DVec2::ZERO, DVec2::new(side, 0.0), DVec2::new(side, side), DVec2::new(0.0, side)];
        // along: (12 - 0.81) / 2.43 = 4.6, so 5 in a row; rows: (12 - 0.81) / 0.81 = 13.8, so 14
        assert_eq!(nails_that_fit(&square), 5 * 14);
        assert_eq!(nails_that_fit(&[]), 0);
        assert!((area(&square) - 144.0).abs() < 1e-12);
    }
}
