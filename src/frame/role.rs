//! What a stick does, and what carries it.

use crate::key;
use crate::plan::Key;

/// What a member does in the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    /// Common rafter.
    CommonRafter,
    /// Rafter flush with an end wall, where it differs from the common one.
    EndRafter,
    /// Barge rafter outside an end wall.
    BargeRafter,
    /// Piece of the ridge board.
    RidgeBoard,
    /// Ceiling joist.
    CeilingJoist,
    /// Piece beside the joint of two joists in line.
    SplicePiece,
    /// Block that fills between a joist and its rafter.
    Filler,
    /// Rafter tie where joists do not tie.
    RafterTie,
    /// Collar tie.
    CollarTie,
    /// Block that fills between a collar tie and an offset rafter.
    CollarFiller,
    /// Gable stud.
    GableStud,
    /// Sill or head of a vent opening.
    VentFrame,
    /// Rung of a rake ladder.
    LadderRung,
    /// Outlooker.
    Outlooker,
    /// Blocking over the plate.
    Blocking,
    /// Sub-fascia.
    Subfascia,
    /// Fascia.
    Fascia,
    /// Ledger of a soffit.
    SoffitLedger,
    /// Lookout of a soffit.
    SoffitLookout,
    /// Top plate that the roof stands on; cut with the walls.
    Plate,
    /// Plate of the inside bearing; cut with the walls.
    BearingPlate,
}

impl Role {
    /// The letters of its marks.
    #[must_use]
    pub fn letters(self) -> &'static str {
        match self {
            Role::CommonRafter => "R",
            Role::EndRafter => "RE",
            Role::BargeRafter => "RB",
            Role::RidgeBoard => "D",
            Role::CeilingJoist => "J",
            Role::SplicePiece => "JS",
            Role::Filler => "JF",
            Role::RafterTie => "T",
            Role::CollarTie => "C",
            Role::CollarFiller => "CF",
            Role::GableStud => "G",
            Role::VentFrame => "GV",
            Role::LadderRung => "L",
            Role::Outlooker => "O",
            Role::Blocking => "B",
            Role::Subfascia => "FS",
            Role::Fascia => "F",
            Role::SoffitLedger => "SL",
            Role::SoffitLookout => "S",
            Role::Plate => "P",
            Role::BearingPlate => "PB",
        }
    }

    /// The role in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Role::CommonRafter => "common rafter",
            Role::EndRafter => "end rafter",
            Role::BargeRafter => "barge rafter",
            Role::RidgeBoard => "ridge board",
            Role::CeilingJoist => "ceiling joist",
            Role::SplicePiece => "splice piece",
            Role::Filler => "joist filler",
            Role::CollarFiller => "collar tie filler",
            Role::RafterTie => "rafter tie",
            Role::CollarTie => "collar tie",
            Role::GableStud => "gable stud",
            Role::VentFrame => "vent sill or head",
            Role::LadderRung => "ladder rung",
            Role::Outlooker => "outlooker",
            Role::Blocking => "blocking",
            Role::Subfascia => "sub-fascia",
            Role::Fascia => "fascia",
            Role::SoffitLedger => "soffit ledger",
            Role::SoffitLookout => "soffit lookout",
            Role::Plate => "top plate",
            Role::BearingPlate => "bearing plate",
        }
    }

    /// The field that decides its cuts, and what to write there if they leave no stick.
    pub(super) fn decided_by(self) -> (Key, &'static str) {
        match self {
            Role::CommonRafter => {
                (key!("rafter.stock"), "write deeper rafters, a shorter seat or another tail")
            }
            Role::EndRafter | Role::Outlooker => (
                key!("rake.framing"),
                "write framing = \"ladder\", deeper rafters or thinner outlookers",
            ),
            Role::BargeRafter | Role::LadderRung => {
                (key!("rake.overhang"), "write another rake overhang, or 0")
            }
            Role::RidgeBoard => (key!("ridge.depth"), "write another ridge board"),
            Role::CeilingJoist | Role::SplicePiece | Role::Filler => (
                key!("ceiling.stock"),
                "write shallower joists, another bearing or another meeting",
            ),
            Role::RafterTie => {
                (key!("ceiling.tie_stock"), "write shallower ties, or set them lower")
            }
            Role::CollarTie | Role::CollarFiller => (
                key!("collar.height"),
                "write another height, a shallower section, or ties = \"no\"",
            ),
            Role::GableStud => (key!("gable.studs"), "write another spacing, or studs = \"no\""),
            Role::VentFrame => (key!("gable.vent_width"), "write another opening, or none"),
            Role::Blocking => (key!("eave.blocking"), "write blocking = \"none\""),
            Role::Subfascia => (key!("eave.subfascia"), "write another board, or none"),
            Role::Fascia => (key!("eave.fascia"), "write another board, or none"),
            Role::SoffitLedger | Role::SoffitLookout => {
                (key!("eave.soffit_framing"), "write soffit_framing = \"no\"")
            }
            Role::Plate => (key!("building.plate"), "write another plate"),
            Role::BearingPlate => (key!("ceiling.bearing_width"), "write another width"),
        }
    }

    /// What a stick of this role hangs on or stands on: of each line it touches at least so many
    /// sticks with one of the roles. Empty for what the walls carry.
    #[must_use]
    pub fn carried_by(self) -> &'static [(&'static [Role], usize)] {
        const RAFTERS: &[Role] = &[Role::CommonRafter, Role::EndRafter];
        const TAILS: &[Role] = &[Role::CommonRafter, Role::EndRafter, Role::BargeRafter];
        match self {
            Role::CommonRafter | Role::EndRafter => &[
                (&[Role::RidgeBoard, Role::CommonRafter, Role::EndRafter], 1),
                (&[Role::Plate], 1),
            ],
            Role::BargeRafter => &[
                (&[Role::RidgeBoard, Role::BargeRafter], 1),
                (&[Role::LadderRung, Role::Outlooker], 1),
            ],
            Role::RidgeBoard => &[(RAFTERS, 1)],
            Role::CeilingJoist => &[(&[Role::CommonRafter, Role::EndRafter, Role::Filler], 1)],
            Role::SplicePiece => &[(&[Role::CeilingJoist], 2)],
            Role::Filler => &[(RAFTERS, 1), (&[Role::CeilingJoist], 1)],
            Role::RafterTie => &[(RAFTERS, 2)],
            Role::CollarTie => &[(&[Role::CommonRafter, Role::EndRafter, Role::CollarFiller], 2)],
            Role::CollarFiller => &[(RAFTERS, 1), (&[Role::CollarTie], 1)],
            Role::GableStud => &[
                (&[Role::Plate, Role::VentFrame], 1),
                (&[Role::CommonRafter, Role::EndRafter, Role::RidgeBoard, Role::VentFrame], 1),
            ],
            Role::VentFrame => &[(&[Role::GableStud], 2)],
            Role::LadderRung => &[(&[Role::BargeRafter], 1), (RAFTERS, 1)],
            // where no pair stands between the end walls they run from barge to barge
            Role::Outlooker => &[
                (&[Role::BargeRafter], 1),
                (&[Role::EndRafter], 1),
                (&[Role::CommonRafter, Role::BargeRafter], 2),
            ],
            Role::Blocking => &[
                (&[Role::Plate], 1),
                (
                    &[
                        Role::CommonRafter,
                        Role::EndRafter,
                        Role::CeilingJoist,
                        Role::Filler,
                        Role::RafterTie,
                    ],
                    2,
                ),
            ],
            Role::Subfascia => &[(TAILS, 1)],
            Role::Fascia => {
                &[(&[Role::CommonRafter, Role::EndRafter, Role::BargeRafter, Role::Subfascia], 1)]
            }
            Role::SoffitLookout => &[(TAILS, 1)],
            Role::SoffitLedger | Role::Plate | Role::BearingPlate => &[],
        }
    }
}
