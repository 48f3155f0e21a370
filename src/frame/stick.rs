//! A member: a prism trimmed by planes, and the measurements on it.

use std::sync::OnceLock;

use crate::catalog::lumber::Section;
use crate::geom::{Cell, Cut, DVec2, DVec3, Plane, Solid};
use crate::measure::quantity::{Angle, Length, in_degrees, inches, radians};
use crate::measure::tolerance::ON_IT;

/// The place of a stick: a point on the center line of its bottom edge, the direction along it, and the
/// direction from its bottom edge to its top edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// A point on the middle of the bottom edge.
    pub origin: DVec3,
    /// Unit vector along the stick.
    pub along: DVec3,
    /// Unit vector from the bottom edge to the top edge, square to `along`.
    pub up: DVec3,
}

impl Axis {
    /// The axis in which a pattern is described: along x from the origin, its top edge toward y.
    pub const PATTERN: Axis = Axis { origin: DVec3::ZERO, along: DVec3::X, up: DVec3::Y };

    /// Unit vector across the stick, from its far face to its near face.
    #[must_use]
    pub fn across(&self) -> DVec3 {
        self.along.cross(self.up)
    }

    /// The axis moved along itself.
    #[must_use]
    pub fn moved(&self, along: f64) -> Axis {
        Axis { origin: self.origin + self.along * along, ..*self }
    }

    /// A point of the pattern in roof coordinates.
    #[must_use]
    pub fn to_roof(&self, point: DVec3) -> DVec3 {
        self.origin + self.along * point.x + self.up * point.y + self.across() * point.z
    }

    /// A point of the roof as the stick sees it.
    #[must_use]
    pub(super) fn to_pattern(self, point: DVec3) -> DVec3 {
        let from = point - self.origin;
        DVec3::new(from.dot(self.along), from.dot(self.up), from.dot(self.across()))
    }

    /// A plane of the roof as the stick sees it.
    #[must_use]
    pub(super) fn plane_to_pattern(&self, plane: &Plane) -> Plane {
        Plane {
            normal: DVec3::new(
                plane.normal.dot(self.along),
                plane.normal.dot(self.up),
                plane.normal.dot(self.across()),
            ),
            offset: plane.offset - plane.normal.dot(self.origin),
        }
    }
}

/// A cut of a stick, with the carpenter's name for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// The name of the cut.
    pub name: &'static str,
    /// The part it removes.
    pub cut: Cut,
}

/// The two edges that are marked, each on the near or the far face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The top edge.
    Top,
    /// The bottom edge.
    Bottom,
}

/// The two wide faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The face that [`Axis::across`] points to.
    Near,
    /// The other one.
    Far,
}

/// A stick of lumber as it is cut.
#[derive(Debug, Clone)]
pub struct Stick {
    /// Actual section.
    pub section: Section,
    /// Its place.
    pub axis: Axis,
    /// The cuts, the two end cuts first.
    pub trims: Vec<Trim>,
    solid: Solid,
    // which trims took something off
    effective: Vec<bool>,
    // outlines are used many times while a stick is measured
    outlines: [OnceLock<Vec<DVec2>>; 2],
}

/// Saw settings for one plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SawSetting {
    /// Angle of the cut on the wide face, off a line square to the edges.
    pub miter: Angle,
    /// Tilt of the blade off square to the wide face.
    pub bevel: Angle,
}

impl SawSetting {
    /// The miter as inches of rise in 12: its tangent times 12.
    #[must_use]
    pub fn rise_in_12(&self) -> f64 {
        12.0 * in_degrees(self.miter).to_radians().tan()
    }
}

impl Stick {
    /// The stick between two end cuts, less what the other trims remove.
    ///
    /// `None` if an end cut runs along the stick, so that it would never end, or if nothing remains.
    #[must_use]
    pub fn new(section: Section, axis: Axis, ends: [Trim; 2], others: &[Trim]) -> Option<Stick> {
        let mut stick = Stick {
            section,
            axis,
            trims: ends.iter().chain(others).cloned().collect(),
            solid: Solid::default(),
            effective: Vec::new(),
            outlines: [OnceLock::new(), OnceLock::new()],
        };
        let mut reach = (f64::INFINITY, f64::NEG_INFINITY);
        for trim in &ends {
            let [plane] = trim.cut.planes.as_slice() else {
                return None;
            };
            for edge in [Edge::Top, Edge::Bottom] {
                for side in [Side::Near, Side::Far] {
                    let station = stick.station(plane, edge, side)?;
                    reach = (reach.0.min(station), reach.1.max(station));
                }
            }
        }
        let spare = 1.0; // any length: the end cuts remove it again
        let (thick, deep) = (stick.section.thickness_in(), stick.section.depth_in());
        let corner = axis.origin + axis.along * (reach.0 - spare) - axis.across() * (thick / 2.0);
        let whole = Cell::from_box(
            corner,
            axis.along * (reach.1 - reach.0 + 2.0 * spare),
            axis.up * deep,
            axis.across() * thick,
        );
        let mut solid = Solid::from(whole);
        for trim in &stick.trims {
            let takes = solid.loses_to(&trim.cut);
            if takes {
                solid = solid.after(&trim.cut);
            }
            stick.effective.push(takes);
        }
        stick.solid = solid;
        (!stick.solid.is_empty()).then_some(stick)
    }

    /// The same stick in another place, where its cuts are `trims`; `place` moves points there, without turning it over.
    pub(super) fn elsewhere(
        &self,
        axis: Axis,
        trims: Vec<Trim>,
        place: impl Fn(DVec3) -> DVec3,
    ) -> Stick {
        Stick {
            section: self.section.clone(),
            axis,
            trims,
            solid: self.solid.moved(place),
            effective: self.effective.clone(),
            outlines: [OnceLock::new(), OnceLock::new()],
        }
    }

    /// True if the trim of this number took something off.
    #[must_use]
    pub(crate) fn takes_off(&self, trim: usize) -> bool {
        self.effective.get(trim).copied().unwrap_or(false)
    }

    /// The body after all cuts.
    #[must_use]
    pub fn solid(&self) -> &Solid {
        &self.solid
    }

    /// Where `plane` crosses an edge of the prism, inches along the axis from its origin; `None` if it
    /// runs along the edge. The edge is extended as far as necessary.
    #[must_use]
    pub fn station(&self, plane: &Plane, edge: Edge, side: Side) -> Option<f64> {
        plane.along_line(self.edge_origin(edge, side), self.axis.along)
    }

    fn edge_origin(&self, edge: Edge, side: Side) -> DVec3 {
        let rise = match edge {
            Edge::Top => self.section.depth_in(),
            Edge::Bottom => 0.0,
        };
        let aside = match side {
            Side::Near => 0.5,
            Side::Far => -0.5,
        } * self.section.thickness_in();
        self.axis.origin + self.axis.up * rise + self.axis.across() * aside
    }

    /// The point on an edge, `station` inches along the axis.
    #[must_use]
    pub fn point(&self, station: f64, edge: Edge, side: Side) -> DVec3 {
        self.edge_origin(edge, side) + self.axis.along * station
    }

    /// First and last station of the stick after all cuts, inches along the axis.
    #[must_use]
    pub fn reach(&self) -> (f64, f64) {
        let start = self.axis.origin.dot(self.axis.along);
        self.solid
            .extent(self.axis.along)
            .map_or((0.0, 0.0), |(low, high)| (low - start, high - start))
    }

    /// The shortest board it can be cut from.
    #[must_use]
    pub fn blank_length(&self) -> Length {
        let (first, last) = self.reach();
        inches(last - first)
    }

    /// Height of an edge of one face above the bottom edge: the section's own, or where a rip along the
    /// stick has moved it. `None` if the face no longer has the edge: it is cut away, or comes to a
    /// point.
    #[must_use]
    pub fn edge_level(&self, edge: Edge, side: Side) -> Option<f64> {
        let corners = self.profile(side);
        let (own, last): (f64, fn(f64, f64) -> f64) = match edge {
            Edge::Top => (self.section.depth_in(), f64::max),
            Edge::Bottom => (0.0, f64::min),
        };
        let level = corners.iter().map(|corner| corner.y).reduce(last)?;
        let on_it = |corner: &DVec2| (corner.y - level).abs() < ON_IT;
        let ripped = || {
            (0..corners.len())
                .any(|at| on_it(&corners[at]) && on_it(&corners[(at + 1) % corners.len()]))
        };
        ((level - own).abs() < ON_IT || ripped()).then_some(level)
    }

    /// Stations of the corners on an edge, in order along the axis; empty if the edge is cut away.
    #[must_use]
    pub(super) fn edge_corners(&self, edge: Edge, side: Side) -> Vec<f64> {
        let Some(level) = self.edge_level(edge, side) else {
            return Vec::new();
        };
        let mut at: Vec<f64> = self
            .profile(side)
            .iter()
            .filter(|corner| (corner.y - level).abs() < ON_IT)
            .map(|corner| corner.x)
            .collect();
        at.sort_by(f64::total_cmp);
        at
    }

    /// First and last station of the remaining edge; `None` if all of it is cut away.
    #[must_use]
    pub fn edge_reach(&self, edge: Edge, side: Side) -> Option<(f64, f64)> {
        let at = self.edge_corners(edge, side);
        Some((*at.first()?, *at.last()?))
    }

    /// Length of the remaining edge between its first and last point; zero if none remains.
    #[must_use]
    pub(super) fn edge_length(&self, edge: Edge, side: Side) -> Length {
        inches(self.edge_reach(edge, side).map_or(0.0, |(low, high)| high - low))
    }

    /// The outline of one wide face: corners as (station, height above the bottom edge),
    /// inches, counterclockwise seen from that face's own side with the axis to the right
    /// for the near face. Empty if the face is cut away or falls into two parts.
    #[must_use]
    pub fn profile(&self, side: Side) -> &[DVec2] {
        let place = match side {
            Side::Near => 0,
            Side::Far => 1,
        };
        self.outlines[place].get_or_init(|| self.outline(side))
    }

    fn outline(&self, side: Side) -> Vec<DVec2> {
        let outward = match side {
            Side::Near => self.axis.across(),
            Side::Far => -self.axis.across(),
        };
        let face = Plane::through(self.point(0.0, Edge::Bottom, side), outward);
        let mesh = self.solid.mesh();
        let on_face = |corner: usize| face.distance(mesh.corners[corner]).abs() < ON_IT;
        let mut steps: Vec<(usize, usize)> = mesh
            .faces
            .iter()
            .filter(|corners| corners.iter().all(|&corner| on_face(corner)))
            .flat_map(|corners| {
                (0..corners.len()).map(|at| (corners[at], corners[(at + 1) % corners.len()]))
            })
            .collect();
        // an edge walked both ways is between two pieces of the face
        let all = steps.clone();
        steps.retain(|&(from, to)| !all.contains(&(to, from)));
        let Some(&(start, mut here)) = steps.first() else {
            return Vec::new();
        };
        let mut ring = vec![start];
        while here != start && ring.len() <= steps.len() {
            ring.push(here);
            match steps.iter().find(|(from, _)| *from == here) {
                Some(&(_, next)) => here = next,
                None => return Vec::new(),
            }
        }
        if ring.len() != steps.len() {
            return Vec::new();
        }
        let flat: Vec<DVec2> = ring
            .into_iter()
            .map(|corner| {
                let arm = mesh.corners[corner] - self.axis.origin;
                DVec2::new(arm.dot(self.axis.along), arm.dot(self.axis.up))
            })
            .collect();
        straightened(&flat)
    }

    /// The saw settings that cut along `plane`.
    #[must_use]
    pub(super) fn saw_setting(&self, plane: &Plane) -> SawSetting {
        let along = plane.normal.dot(self.axis.along);
        let up = plane.normal.dot(self.axis.up);
        let across = plane.normal.dot(self.axis.across());
        SawSetting {
            miter: radians(up.abs().atan2(along.abs())),
            bevel: radians(across.abs().min(1.0).asin()),
        }
    }
}

/// An outline without the corners that are on a straight line.
fn straightened(ring: &[DVec2]) -> Vec<DVec2> {
    (0..ring.len())
        .filter(|&at| {
            let before = ring[(at + ring.len() - 1) % ring.len()];
            let after = ring[(at + 1) % ring.len()];
            (ring[at] - before).perp_dot(after - ring[at]).abs() > ON_IT
        })
        .map(|at| ring[at])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::InInches;
    use approx::assert_abs_diff_eq;

    fn off(point: DVec3, normal: DVec3) -> Trim {
        Trim { name: "end", cut: Cut::off(Plane::through(point, normal)) }
    }

    fn level_stick(other: &[Trim]) -> Stick {
        let axis = Axis { origin: DVec3::ZERO, along: DVec3::Y, up: DVec3::Z };
        let section = Section::nominal(2.0, 6.0).unwrap();
        // a mitered far end: 45 degrees in the face
        let ends = [off(DVec3::ZERO, -DVec3::Y), off(DVec3::Y * 100.0, DVec3::new(0.0, 1.0, 1.0))];
        Stick::new(section, axis, ends, other).unwrap()
    }

    #[test]
    fn a_mitered_stick_is_measured_on_both_edges() {
        let stick = level_stick(&[]);
        assert_abs_diff_eq!(stick.blank_length().inches(), 100.0, epsilon = 1e-9);
        let top = stick.edge_length(Edge::Top, Side::Near).inches();
        assert_abs_diff_eq!(top, 94.5, epsilon = 1e-9);
        let plane = stick.trims[1].cut.planes[0];
        let setting = stick.saw_setting(&plane);
        assert_abs_diff_eq!(in_degrees(setting.miter), 45.0, epsilon = 1e-9);
        assert_abs_diff_eq!(in_degrees(setting.bevel), 0.0, epsilon = 1e-9);
        // section x middle length
        assert_abs_diff_eq!(stick.solid().volume(), 1.5 * 5.5 * 97.25, epsilon = 1e-7);
    }

    #[test]
    fn a_notch_shows_in_the_profile() {
        let notch = Trim {
            name: "notch",
            cut: Cut::out([
                Plane::through(DVec3::Z, -DVec3::Z),
                Plane::through(DVec3::Y * 20.0, -DVec3::Y),
            ]),
        };
        let stick = level_stick(&[notch]);
        let profile = stick.profile(Side::Near);
        assert_eq!(profile.len(), 6);
        assert!(profile.iter().any(|corner| corner.distance(DVec2::new(20.0, 1.0)) < 1e-9));
    }

    #[test]
    fn a_cut_along_the_stick_never_ends_it() {
        let axis = Axis { origin: DVec3::ZERO, along: DVec3::Y, up: DVec3::Z };
        let ends = [off(DVec3::ZERO, -DVec3::Y), off(DVec3::X * 3.0, DVec3::X)];
        assert!(Stick::new(Section::nominal(2.0, 4.0).unwrap(), axis, ends, &[]).is_none());
    }
}
