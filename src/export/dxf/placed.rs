//! Sticks in their places: which ones are shown, and where their marks go.

use super::label::Room;
use super::view::outline;
use super::{MARK_IN, SLAB_IN};
use crate::frame::{Axis, Frame, Member, Pair, Role, Sticks};
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::InInches;
use crate::sheet::projection::Sight;

/// The outline of a stick on the page, and its bounds.
pub(super) struct Outline {
    corners: Vec<DVec2>,
    low: DVec2,
    high: DVec2,
}

impl Outline {
    pub(super) fn of(corners: Vec<DVec2>) -> Outline {
        let low = corners.iter().copied().fold(DVec2::INFINITY, DVec2::min);
        let high = corners.iter().copied().fold(DVec2::NEG_INFINITY, DVec2::max);
        Outline { corners, low, high }
    }

    /// True if a mark of the other could be placed on it.
    pub(super) fn is_near(&self, other: &Outline) -> bool {
        let reach = DVec2::splat(8.0 * MARK_IN);
        (self.low - reach).cmple(other.high).all() && (other.low - reach).cmple(self.high).all()
    }

    pub(super) fn lines(&self) -> impl Iterator<Item = Room> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(from, to)| Room::of_line(*from, *to))
    }
}

/// A stick in its place.
pub(super) struct Placed<'a> {
    pub(super) member: &'a Member,
    pub(super) id: &'a str,
    pub(super) axis: &'a Axis,
    pub(super) low: DVec3,
    pub(super) high: DVec3,
}

pub(super) fn placed(sticks: Sticks<'_>) -> Vec<Placed<'_>> {
    let mut list = Vec::with_capacity(sticks.count());
    for member in sticks.members {
        for (id, axis) in member.placed_ids() {
            let corners = member.stick.solid().corners();
            let (low, high) = corners
                .map(|corner| axis.to_roof(corner))
                .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), corner| {
                    (low.min(corner), high.max(corner))
                });
            list.push(Placed { member, id, axis, low, high });
        }
    }
    list
}

/// The pair that the section shows: the one nearest to the middle that has a tie in the upper third, if
/// there is one.
pub(super) fn shown_pair(frame: &Frame) -> Pair {
    let site = &frame.site;
    let ties: Vec<f64> = frame
        .members
        .iter()
        .filter(|member| matches!(member.role, Role::CollarTie | Role::RafterTie))
        .flat_map(|member| member.placements.iter().map(|axis| axis.origin.x))
        .collect();
    let tied = |pair: &Pair| {
        let center = pair.x_a + site.thick / 2.0;
        ties.iter().any(|tie| (tie - center).abs() < SLAB_IN)
    };
    let off = |pair: &Pair| {
        let from_middle = (pair.x_a + site.thick / 2.0 - site.length / 2.0).abs();
        // end pairs show the least
        (pair.at_end, !tied(pair), from_middle)
    };
    let mut best = frame.pairs[0];
    for pair in &frame.pairs[1..] {
        let (a, b) = (off(pair), off(&best));
        if (a.0, a.1) < (b.0, b.1) || ((a.0, a.1) == (b.0, b.1) && a.2 < b.2) {
            best = *pair;
        }
    }
    best
}

/// A stick as it is drawn in a view: its outlines, and where its mark may go.
pub(super) struct InView<'a> {
    pub(super) placed: &'a Placed<'a>,
    pub(super) outlines: Vec<Vec<DVec2>>,
    /// Its middle line as it is seen.
    pub(super) from: DVec2,
    pub(super) to: DVec2,
    /// From that line to the middle of its mark.
    pub(super) aside: f64,
}

impl<'a> InView<'a> {
    /// As it is seen from one side, the work's origin at `at`.
    pub(super) fn seen(placed: &'a Placed<'a>, sight: Sight, at: DVec2) -> InView<'a> {
        let Placed { member, axis, .. } = placed;
        let ring = outline(sight, member, axis).into_iter().map(|corner| corner + at).collect();
        let up = axis.up * (member.stick.section.depth_in() / 2.0);
        let middle = axis.origin + up;
        let blank = member.blank().inches();
        InView {
            placed,
            outlines: vec![ring],
            from: sight.flat(middle) + at,
            to: sight.flat(middle + axis.along * blank) + at,
            aside: aside(sight, placed),
        }
    }

    /// As a plane cuts it: `rings`, in the view.
    pub(super) fn cut(placed: &'a Placed<'a>, rings: Vec<Vec<DVec2>>) -> InView<'a> {
        let corners = || rings.iter().flatten().copied();
        let low = corners().fold(DVec2::INFINITY, DVec2::min);
        let high = corners().fold(DVec2::NEG_INFINITY, DVec2::max);
        let middle = (low + high) / 2.0;
        let aside = beside((high - low).min_element());
        InView { placed, outlines: rings, from: middle, to: middle, aside }
    }
}

/// From the middle of a stick this thin to the middle of its mark: within it if it fits.
fn beside(thin: f64) -> f64 {
    if thin > 1.6 * MARK_IN { 0.0 } else { thin / 2.0 + 0.9 * MARK_IN }
}

/// Stations along a stick to try for its mark, as parts of its length: different kinds have different
/// stations.
pub(super) fn stations(role: Role) -> Vec<f64> {
    let first = match role {
        Role::CommonRafter | Role::EndRafter | Role::BargeRafter => 0.3,
        Role::CeilingJoist | Role::JoistTrimmer | Role::RafterTie => 0.42,
        Role::CollarTie => 0.6,
        _ => 0.5,
    };
    let steps = [0.0, 0.06, -0.06, 0.12, -0.12, 0.2, -0.2, 0.28, -0.28, 0.36];
    steps.into_iter().map(|step| first + step).filter(|part| (0.02..=0.98).contains(part)).collect()
}

/// How far the mark is from the stick's middle line: seen from above beside the stick, in the section
/// within it if it fits.
fn aside(sight: Sight, placed: &Placed<'_>) -> f64 {
    let size = sight.flat(placed.high) - sight.flat(placed.low);
    let section = &placed.member.stick.section;
    if sight == Sight::PLAN {
        let thin = if placed.axis.across().z.abs() > 0.5 {
            section.depth_in()
        } else {
            section.thickness_in()
        };
        return thin / 2.0 + 0.9 * MARK_IN;
    }
    beside(size.min_element())
}
