//! One stick in its place.

use crate::catalog::lumber::Section;
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Stick, Trim};
use crate::geom::{Cut, DVec2, Plane};
use crate::measure::tolerance::HAIR;
use crate::roof::Slope;

/// The name of the cut over a plate.
pub(super) const BIRDSMOUTH: &str = "birdsmouth";

/// A stick that hangs on a face or on a line.
#[derive(Debug, Clone)]
pub struct Hung {
    /// What it does.
    pub role: Role,
    /// Its section.
    pub section: Section,
    /// Its place.
    pub axis: Axis,
    /// Its cuts in roof coordinates, the two end cuts first.
    pub trims: Vec<Trim>,
    /// Its name: from face or line and station, so that nothing that stays is renamed.
    pub id: String,
    /// The face it lies in.
    pub face: Option<usize>,
    /// The line it lies under.
    pub line: Option<usize>,
}

impl Hung {
    /// The stick as it is cut; `None` if its cuts leave nothing of it.
    #[must_use]
    pub fn stick(&self) -> Option<Stick> {
        let [first, last, others @ ..] = self.trims.as_slice() else {
            return None;
        };
        Stick::new(self.section.clone(), self.axis, [first.clone(), last.clone()], others)
    }
}

/// An end cut by one plane.
pub(super) fn off(name: &'static str, plane: Plane) -> Trim {
    Trim { name, cut: Cut::off(plane) }
}

/// The plane of a slope, its outside up.
pub(super) fn plane_of(slope: &Slope) -> Plane {
    Plane::through(slope.point(DVec2::ZERO), slope.outward())
}

/// The name of a cut behind the boards of an eave.
pub(super) fn tail_cut(plane: &Plane) -> &'static str {
    if plane.normal.z.abs() < HAIR { "tail plumb cut" } else { "tail square cut" }
}
