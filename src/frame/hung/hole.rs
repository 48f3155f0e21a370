//! A hole in a face, with what frames it.

use crate::catalog::lumber::Section;
use crate::geom::{Cell, DVec2, DVec3, Plane, Solid};

use super::face::{Bound, End, FaceAxes, Rim};

/// Air between wood and a masonry chimney that stands inside the building or in its outer wall, inches (IRC R1003.18, 2015 to
/// 2024).
pub const CHIMNEY_GAP_IN: f64 = 2.0;

/// Farther down or up than any stick of a roof is, inches.
const FAR_IN: f64 = 1e4;

/// A framed opening in a face. Its clear edges are measured on the face, where the rafters' top edges are.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its name.
    pub name: String,
    /// The face it lies in.
    pub face: usize,
    /// Its clear sides, stations of the face.
    pub reach: (f64, f64),
    /// Its clear low and high edge, up the face in plan.
    pub up: (f64, f64),
    /// True if its headers stand plumb, false if they stand square to the slope.
    pub is_plumb: bool,
    /// Section of each member of a header.
    pub header: Section,
    /// How many members side by side make a header.
    pub headers: u32,
    /// How many make a trimmer.
    pub trimmers: u32,
    /// True for what has to stay clear of wood: a chimney.
    pub is_chimney: bool,
    /// Half the thickness of the ridge that ends it above; `None` where a header does.
    pub to_ridge: Option<f64>,
}

impl Hole {
    /// The plane across the slope `aside` inches up the slope from one of its clear edges; its outside is up the slope.
    pub(super) fn across(&self, axes: &FaceAxes, end: End, aside: f64) -> Plane {
        let edge = if end == End::Low { self.up.0 } else { self.up.1 };
        let normal = if self.is_plumb { axes.up.extend(0.0) } else { axes.uphill() };
        Plane::through(axes.point(self.reach.0, edge) + normal * aside, normal)
    }

    /// The space under and over it that stays clear all the way down through the building.
    pub(super) fn shaft(&self, axes: &FaceAxes) -> Solid {
        let ((low, high), (from, to)) = (self.reach, self.up);
        let corner = axes.plan(low, from).extend(-FAR_IN);
        let (along, up) = (axes.along * (high - low), axes.up * (to - from));
        Cell::from_box(corner, along.extend(0.0), up.extend(0.0), DVec3::Z * (2.0 * FAR_IN)).into()
    }

    /// How thick a whole header is, square to its wide face.
    #[must_use]
    pub fn thick(&self) -> f64 {
        f64::from(self.headers) * self.header.thickness_in()
    }

    /// The side of a header that rafters end at, its outside in the header.
    #[must_use]
    pub(super) fn landing(&self, axes: &FaceAxes, end: End) -> Plane {
        match end {
            End::Low => self.across(axes, end, -self.thick()),
            End::High => self.across(axes, end, self.thick()).flipped(),
        }
    }

    /// The side of what ends it above that rafters over it end at, its outside in the header or the ridge.
    #[must_use]
    pub(super) fn head(&self, axes: &FaceAxes) -> Plane {
        self.across(axes, End::High, -self.to_ridge.unwrap_or_default())
    }

    /// Its headers: the lower one, and the upper one unless the ridge ends it.
    pub(super) fn ends(&self) -> impl Iterator<Item = End> {
        let high = self.to_ridge.is_none().then_some(End::High);
        std::iter::once(End::Low).chain(high)
    }

    /// What bounds the rafters between its trimmers, as rims of its face.
    pub(super) fn rims(&self, number: usize) -> [Rim; 2] {
        [(End::Low, self.up.0), (End::High, self.up.1)].map(|(end, up)| Rim {
            from: DVec2::new(self.reach.0, up),
            to: DVec2::new(self.reach.1, up),
            bound: Bound::Hole(number, end),
        })
    }

    /// The stations of its trimmers, with their names.
    pub(super) fn trimmer_stations(&self, half: f64) -> Vec<(f64, String)> {
        let name = |side: &str, ply: u32| match ply {
            0 => format!("{}-{side}", self.name),
            _ => format!("{}-{side}-{}", self.name, ply + 1),
        };
        let plies = (0..self.trimmers).flat_map(|ply| {
            let aside = half + 2.0 * half * f64::from(ply);
            [(self.reach.0 - aside, name("first", ply)), (self.reach.1 + aside, name("last", ply))]
        });
        plies.collect()
    }
}
