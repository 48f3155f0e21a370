//! Kinds of members: what layers, colors and materials of exported files are told apart by.

use crate::frame::Role;

/// A kind of member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Kind {
    /// Common, end and barge rafters.
    Rafters,
    /// Ridge board.
    Ridge,
    /// Ceiling joists with their splices and fillers.
    Joists,
    /// Rafter ties, collar ties and their fillers.
    Ties,
    /// Gable studs and vent frames.
    Gables,
    /// Ladder rungs and outlookers.
    Rakes,
    /// Blocking over the plates.
    Blocking,
    /// Fascia and sub-fascia.
    Fascia,
    /// Soffit ledgers and lookouts.
    Soffit,
    /// Plates of the walls and of an inside bearing.
    Plates,
}

impl Kind {
    /// The kind of a role.
    pub(super) fn of(role: Role) -> Kind {
        match role {
            Role::CommonRafter | Role::EndRafter | Role::BargeRafter => Kind::Rafters,
            Role::RidgeBoard => Kind::Ridge,
            Role::CeilingJoist | Role::SplicePiece | Role::Filler => Kind::Joists,
            Role::RafterTie | Role::CollarTie | Role::CollarFiller => Kind::Ties,
            Role::GableStud | Role::VentFrame => Kind::Gables,
            Role::LadderRung | Role::Outlooker => Kind::Rakes,
            Role::Blocking => Kind::Blocking,
            Role::Subfascia | Role::Fascia => Kind::Fascia,
            Role::SoffitLedger | Role::SoffitLookout => Kind::Soffit,
            Role::Plate | Role::BearingPlate => Kind::Plates,
        }
    }

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

    /// Red, green and blue, 0 to 1 (linear), for programs that show solids: browns of wood, told
    /// apart by how light they are.
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
