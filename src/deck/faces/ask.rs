//! What the deck of a roof with any faces is laid from, and what comes out.

use crate::deck::ask::{LayingRules, PanelSheet};
use crate::deck::courses::NarrowStrip;
use crate::geom::{DVec2, Region};
use crate::measure::quantity::inches;
use crate::measure::{Note, Writing};

use super::sheet::OnSheet;

/// The places where one rafter, or several pieces of it in a line, carry the deck.
#[derive(Clone, Debug, PartialEq)]
pub struct RafterReach {
    /// Its center, along the eave, inches.
    pub at: f64,
    /// From where to where it reaches up the slope, inches.
    pub from: f64,
    /// The upper end.
    pub to: f64,
}

/// One face, in its own surface.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceAsk {
    /// Its name in the frame.
    pub name: String,
    /// What is to be covered: x along the eave from left to right as seen from the ground in front of it, y up the slope
    /// from its lowest edge, inches.
    pub region: Region,
    /// Where that surface's origin lies in the face's own axes: along the eave, and up the slope, inches.
    pub origin: DVec2,
    /// What joints may fall on.
    pub rafters: Vec<RafterReach>,
}

/// A roof to be covered.
#[derive(Clone, Debug, PartialEq)]
pub struct FacesAsk {
    /// Its faces.
    pub faces: Vec<FaceAsk>,
    /// The panel.
    pub sheet: PanelSheet,
    /// The rules.
    pub rules: LayingRules,
}

/// One course of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceCourse {
    /// Its lower edge, up the slope from the face's lowest edge, inches.
    pub low: f64,
    /// Its upper edge: the chalk line.
    pub high: f64,
}

/// One piece of panel on a face.
#[derive(Clone, Debug, PartialEq)]
pub struct FacePiece {
    /// The face, from 0.
    pub face: usize,
    /// The course, from 0 at the eave.
    pub course: usize,
    /// What it covers, in the face's surface.
    pub region: Region,
    /// Its outline as it is cut: half of each gap is off its ends.
    pub outline: Vec<DVec2>,
    /// Along the eave, between its farthest points, inches.
    pub length: f64,
    /// Up the slope, inches.
    pub height: f64,
    /// Where it is cut from.
    pub place: OnSheet,
}

/// A face as it is laid.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidFace {
    /// Its courses from the eave up.
    pub courses: Vec<FaceCourse>,
    /// Set if full courses would have left less than the least strip at its top.
    pub narrow: Option<NarrowStrip>,
    /// The rules that could not be kept there.
    pub broken: Vec<Broken>,
}

/// A rule of laying that a face left no way to keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Broken {
    /// Two neighboring courses break on one rafter.
    Stagger,
    /// A piece is shorter than the least piece.
    LeastPiece,
    /// A joint stands where its strip is lower than half the least strip.
    LeastStrip,
}

impl Broken {
    /// What the reader has to know.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Broken::Stagger => "neighboring courses break on one rafter",
            Broken::LeastPiece => "some pieces are shorter than the least piece",
            Broken::LeastStrip => {
                "a strip is joined where it is lower than half the least strip: at an opening or a dormer"
            }
        }
    }
}

/// The deck of a roof with any faces.
#[derive(Clone, Debug, PartialEq)]
pub struct FacesDeck {
    /// One for each face, in that order.
    pub faces: Vec<LaidFace>,
    /// By face, course, and place along the eave.
    pub pieces: Vec<FacePiece>,
    /// Whole sheets that all pieces are cut from.
    pub sheets: usize,
    /// No layout by the same rules and cuts takes fewer.
    pub least: usize,
    /// Area of all faces, square inches.
    pub area: f64,
}

impl FacesDeck {
    /// True if no layout by the same rules and cuts takes fewer sheets. The bound is worked out in floating point: what is
    /// `Proven` only the checker of `solve` can say.
    #[must_use]
    pub fn is_at_bound(&self) -> bool {
        self.sheets == self.least
    }

    /// How much of the sheets is not on the roof, from 0 to 1.
    #[must_use]
    pub fn waste(&self, sheet: &PanelSheet) -> f64 {
        use crate::measure::quantity::InInches;
        let bought = self.sheets as f64 * sheet.length.inches() * sheet.height.inches();
        if bought > 0.0 { 1.0 - self.area / bought } else { 0.0 }
    }
}

/// Why a face can't be covered.
#[derive(Clone, Debug, PartialEq)]
pub enum CannotCover {
    /// The lowest strip allowed leaves no way to part the slope into courses.
    Courses {
        /// The face.
        face: String,
        /// Up its slope, inches.
        up_in: f64,
    },
    /// No joint can be reached with a sheet.
    NoJoint {
        /// The face.
        face: String,
        /// The course, from 1 at the eave.
        course: usize,
        /// From where no rafter is near enough, along the eave, inches.
        from_in: f64,
    },
    /// It has more rafters, or is larger, than any dwelling's.
    TooLarge,
}

impl CannotCover {
    /// Why, in the reader's words.
    #[must_use]
    pub fn told(&self) -> Note {
        match self {
            CannotCover::Courses { face, up_in } => Note::with(
                format!(
                    "the slope of {face}, {{}}, can't be parted into courses with so high a least strip"
                ),
                [inches(*up_in)],
            ),
            CannotCover::NoJoint { face, course, from_in } => Note::with(
                format!(
                    "no rafter of {face} within a sheet's length carries a joint in course {course}, from {{}} on"
                ),
                [inches(*from_in)],
            ),
            CannotCover::TooLarge => "this roof is larger than any dwelling's".into(),
        }
    }
}

impl std::fmt::Display for CannotCover {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.told().write(Writing::default()))
    }
}

impl std::error::Error for CannotCover {}
