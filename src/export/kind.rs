//! Names and colors of the kinds of members.

use crate::frame::Kind;

/// Red, green and blue of the panels, as those of [`Kind::color`].
pub(super) const PANELS: [f32; 3] = [0.78, 0.66, 0.44];

impl Kind {
    /// Its name in layers and materials.
    pub(super) fn name(self) -> &'static str {
        match self {
            Kind::Rafters => "RAFTERS",
            Kind::Ridge => "RIDGE",
            Kind::Joists => "JOISTS",
            Kind::Ties => "TIES",
            Kind::Gables => "GABLES",
            Kind::Rakes => "RAKES",
            Kind::Blocking => "BLOCKING",
            Kind::Fascia => "FASCIA",
            Kind::Soffit => "SOFFIT",
            Kind::Plates => "PLATES",
        }
    }

    /// Red, green and blue, 0 to 1 (linear), for programs that show solids: browns of wood that differ
    /// in brightness.
    pub(super) fn color(self) -> [f32; 3] {
        match self {
            Kind::Rafters => [0.62, 0.42, 0.22],
            Kind::Ridge => [0.45, 0.26, 0.12],
            Kind::Joists => [0.70, 0.54, 0.34],
            Kind::Ties => [0.52, 0.30, 0.20],
            Kind::Gables => [0.74, 0.62, 0.44],
            Kind::Rakes => [0.56, 0.44, 0.30],
            Kind::Blocking => [0.66, 0.50, 0.40],
            Kind::Fascia => [0.80, 0.76, 0.68],
            Kind::Soffit => [0.60, 0.56, 0.50],
            Kind::Plates => [0.36, 0.30, 0.22],
        }
    }
}
