//! What a framer decides about the sticks of a roof.

use crate::catalog::lumber::Section;
use crate::measure::Length;
use crate::plan::GablePlan;

/// Sections, spacing and cuts of the sticks that hang on faces and edges.
#[derive(Debug, Clone, PartialEq)]
pub struct Choices {
    /// Rafters and jacks.
    pub rafter: Section,
    /// Hips.
    pub hip: Section,
    /// Valleys, and headers in a roof's face.
    pub valley: Section,
    /// Thickness of ridge boards; zero if rafters butt.
    pub ridge: Length,
    /// Depth of ridge boards; `None` for the least board that covers every plumb cut on it.
    pub ridge_depth: Option<Length>,
    /// Center to center of rafters.
    pub spacing: Length,
    /// Width of the plates.
    pub plate: Length,
    /// The board on the tails whose outer face is the eave; `None` if there is none.
    pub fascia: Option<Section>,
    /// The board behind it, or on the tails alone.
    pub subfascia: Option<Section>,
    /// True if tails are cut square to the rafters' edges, where no hip and no valley comes down to an eave.
    pub square_tails: bool,
    /// Plumb face of a tail above a level soffit cut; `None` if tails are cut plumb through.
    pub tail_face: Option<Length>,
    /// True if the layout's whole spacings are told from the outer face of a near rake, false from the end wall.
    pub from_rake: bool,
    /// The longest lumber for plates, ridges and boards.
    pub longest: Length,
    /// Thickness of the deck, on which roofs are laid.
    pub deck: Length,
    /// Names of the wings that are laid on the sheathed roof.
    pub laid_over: Vec<String>,
    /// True if edge sticks are backed: their top corners cut to the faces. False if they are dropped instead.
    pub backed: bool,
    /// The plan of what stands between and beside the rafters: joists and ties, gable ends, rakes, blocks. `None` for none of it.
    pub infill: Option<Box<GablePlan>>,
}

impl Choices {
    /// Level thickness of the boards on the tails, which the overhang includes, inches.
    #[must_use]
    pub fn boards_in(&self) -> f64 {
        [&self.fascia, &self.subfascia].into_iter().flatten().map(Section::thickness_in).sum()
    }
}
