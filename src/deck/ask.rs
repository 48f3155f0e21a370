//! The input: the planes, the places of the rafters, the panel, and the rules of laying.

use super::ticks::Ticks;
use crate::measure::quantity::inches;
use crate::measure::{Amount, Angle, Length, Note, Writing};
use crate::plan::limits::{
    LEAST_SPACING_IN, LONGEST_REACH_IN, longest_deck_in, most_rafters, widest_slope_in,
};

/// One roof plane, drawn in its own surface.
///
/// Corners are (along, up): along the eave from the left rake as seen from the ground, and up the slope
/// from the tail line (the outer face of the fascia, in the plane of the deck). Only rectangles are
/// laid so far; the whole outline is kept so that planes with hips and valleys can be added.
#[derive(Clone, Debug, PartialEq)]
pub struct RoofPlane {
    /// What the plane is called, such as "south".
    pub name: String,
    /// Corners in order, the last joined to the first.
    pub outline: Vec<(Length, Length)>,
    /// True if `along` runs from the right rake as seen from the ground, so that both planes of a gable
    /// are measured from the same end wall.
    pub from_right: bool,
}

impl RoofPlane {
    /// A rectangle `length` along the eave and `slope_width` up the slope, from the tail line
    /// to the center line of the ridge.
    #[must_use]
    pub fn rectangle(name: &str, length: Length, slope_width: Length) -> Self {
        let none = inches(0.0);
        Self {
            name: name.to_owned(),
            outline: vec![(none, none), (length, none), (length, slope_width), (none, slope_width)],
            from_right: false,
        }
    }

    /// Length along the eave and slope width, if the outline is a rectangle that starts at the tail
    /// line's left end; `None` for any other shape.
    #[must_use]
    pub fn as_rectangle(&self) -> Option<(Length, Length)> {
        let corners: Vec<(Ticks, Ticks)> = self
            .outline
            .iter()
            .map(|&(along, up)| (Ticks::nearest(along), Ticks::nearest(up)))
            .collect();
        let far = corners.iter().max()?;
        let wanted = [(Ticks::ZERO, Ticks::ZERO), (far.0, Ticks::ZERO), *far, (Ticks::ZERO, far.1)];
        let is_rectangle = corners.len() == 4 && wanted.iter().all(|c| corners.contains(c));
        (is_rectangle && far.0 > Ticks::ZERO && far.1 > Ticks::ZERO)
            .then(|| (far.0.length(), far.1.length()))
    }
}

/// The rafter centers, along the eave from the left edge of the deck.
#[derive(Clone, Debug, PartialEq)]
pub enum RafterLines {
    /// Centers at 1, 2, 3, ... spacings from the left edge; the last bay gets the rest of the length.
    Spacing(Length),
    /// Each center, including those at the rakes, in any order. Those at or past an edge carry no
    /// joint.
    Centers(Vec<Length>),
    /// The same for each plane in the order of the planes, if rafters are offset across the ridge.
    EachPlane(Vec<Vec<Length>>),
}

/// The panel as it is sold and cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelSheet {
    /// Along the strength axis, laid along the eave: 96 in by default.
    pub length: Length,
    /// Up the slope: 48 in by default.
    pub height: Length,
    /// Width of a saw cut.
    pub kerf: Length,
}

impl Default for PanelSheet {
    /// 48 x 96 in actual size, saw cut 1/8 in.
    fn default() -> Self {
        Self { length: inches(96.0), height: inches(48.0), kerf: inches(0.125) }
    }
}

/// How the panels are laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayingRules {
    /// Space between panels, along and across: 0, 1/16 or 1/8 in.
    pub gap: Length,
    /// Least height of any course: by default 24 in, the least width that the span table covers (IRC
    /// Table R503.2.1.1(1) footnote c).
    pub least_strip: Length,
    /// Least length of a piece, joint to joint: 24 in by default (common practice).
    pub least_piece: Length,
}

impl Default for LayingRules {
    fn default() -> Self {
        Self { gap: inches(0.125), least_strip: inches(24.0), least_piece: inches(24.0) }
    }
}

/// What the courses are measured from at the eave: an edge that you can hook a tape on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EaveDatum {
    /// The fascia's outer face, at its top corner, in the plane of the deck.
    Fascia {
        /// Up the slope from there to the tail cut, for rafters without a fascia yet.
        to_tail_cut: Length,
    },
    /// The tail cut's top corner: there is no fascia.
    TailCut,
    /// The lower edge of a plane that is given by its sides.
    Edge,
}

impl EaveDatum {
    /// Its name, after "from".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            EaveDatum::Fascia { .. } => "the fascia's outer face",
            EaveDatum::TailCut => "the tail cut",
            EaveDatum::Edge => "the plane's lower edge",
        }
    }

    /// Up the slope from it to the tail cut, if that is another edge.
    #[must_use]
    pub fn to_tail_cut(self) -> Option<Length> {
        match self {
            EaveDatum::Fascia { to_tail_cut } => Some(to_tail_cut),
            EaveDatum::TailCut | EaveDatum::Edge => None,
        }
    }
}

/// Everything a deck is laid from.
#[derive(Clone, Debug, PartialEq)]
pub struct DeckAsk {
    /// The planes. Planes of equal size share courses' heights and offcuts.
    pub planes: Vec<RoofPlane>,
    /// Usually the same for all planes: rafters come in pairs.
    pub rafters: RafterLines,
    /// The panel.
    pub sheet: PanelSheet,
    /// The rules.
    pub rules: LayingRules,
    /// Open slot below the ridge's center line on each plane, along the slope, for a vent.
    pub ridge_slot: Length,
    /// How far the deck reaches past the tail line, along the slope (0 if flush).
    pub past_tail: Length,
    /// Slope of the planes, to give changes of overhang on the level; optional.
    pub slope: Option<Angle>,
    /// The place of the tail line on the roof.
    pub datum: EaveDatum,
}

impl DeckAsk {
    /// `planes` equal rectangles with rafters at `spacing` and defaults for everything else.
    #[must_use]
    pub fn rectangles(planes: usize, length: Length, slope_width: Length, spacing: Length) -> Self {
        Self {
            planes: (1..=planes)
                .map(|n| RoofPlane::rectangle(&format!("plane {n}"), length, slope_width))
                .collect(),
            rafters: RafterLines::Spacing(spacing),
            sheet: PanelSheet::default(),
            rules: LayingRules::default(),
            ridge_slot: inches(0.0),
            past_tail: inches(0.0),
            slope: None,
            datum: EaveDatum::Edge,
        }
    }
}

/// The input in ticks, for one group of equal planes.
#[derive(Clone, Debug)]
pub(super) struct Exact {
    pub(super) length: Ticks,
    /// Slope width to be covered: less the slot, plus the reach past the tail.
    pub(super) width: Ticks,
    pub(super) centers: Vec<i64>,
    pub(super) sheet_length: Ticks,
    pub(super) sheet_height: Ticks,
    pub(super) kerf: Ticks,
    pub(super) gap: Ticks,
    pub(super) least_strip: Ticks,
    pub(super) least_piece: Ticks,
    pub(super) past_tail: Ticks,
    /// Numbers of the planes in the input.
    pub(super) planes: Vec<usize>,
}

/// Why an input is refused. Each variant says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq)]
pub enum DeckFault {
    /// There is no plane.
    NoPlane,
    /// The outline is not a rectangle.
    NotRectangle {
        /// Name of the plane.
        plane: String,
    },
    /// A measure that has to be more than zero (or at least zero) is not, or it is too large.
    OutOfRange {
        /// Which measure.
        what: &'static str,
        /// What was found.
        found: Ticks,
        /// Least allowed.
        least: Ticks,
        /// Most allowed.
        most: Ticks,
    },
    /// There is no rafter center between the edges, and the plane is longer than a sheet.
    NoRafter {
        /// Length of the plane.
        length: Ticks,
    },
    /// More rafter lines than a dwelling has.
    TooManyRafters {
        /// What was found.
        found: usize,
    },
    /// With such a high least strip, the width can't be divided into courses.
    NoCourses {
        /// Slope width to be covered.
        width: Ticks,
        /// The least strip of the input.
        least_strip: Ticks,
        /// Height that the eave course would have.
        eave_course: Ticks,
    },
    /// No course can be laid, whatever the stagger.
    NoCourse {
        /// Farthest joint that can be reached from the left edge.
        reached: Ticks,
        /// The next rafter center (or the right edge) after it.
        next: Ticks,
        /// Longest piece.
        sheet_length: Ticks,
        /// Least piece.
        least_piece: Ticks,
    },
    /// Single courses can be laid, but no two without a joint on the same rafter.
    NoStagger {
        /// Rafter centers where a course can break at all.
        joints: Vec<Ticks>,
        /// Least piece.
        least_piece: Ticks,
    },
    /// Rafters so irregular that the ways to cut a sheet can't be listed.
    TooIrregular,
}

impl std::fmt::Display for DeckFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message().write(Writing::default()))
    }
}

impl std::error::Error for DeckFault {}

impl DeckFault {
    /// What was found, and why it can't be.
    #[must_use]
    pub fn message(&self) -> Note {
        match self {
            Self::NoPlane => "there is no roof plane to sheathe".into(),
            Self::NotRectangle { plane } => Note::with(
                "{} is not a rectangle, and only rectangles are laid so far",
                [plane.as_str()],
            ),
            Self::OutOfRange { what, found, least, most } => Note::with(
                format!("{what} is {{}}, allowed is {{}} to {{}}"),
                [*found, *least, *most],
            ),
            Self::NoRafter { length } => {
                Note::with("the plane is {} long and has no rafter to break a course on", [*length])
            }
            Self::TooManyRafters { found } => {
                format!("found {found} rafter lines, allowed is {}", most_rafters()).into()
            }
            Self::NoCourses { width, least_strip, eave_course } => Note::with(
                "no courses on a slope width of {}: with strips of at least {} at the ridge the eave course would be {}",
                [*width, *least_strip, *eave_course],
            ),
            Self::NoCourse { reached, next, sheet_length, least_piece } => Note::with(
                "no course can be laid: joints can be reached up to {} from the left edge, and from there no piece of {} to {} \
                 ends on a rafter (the next is at {}) or at the right edge",
                [*reached, *least_piece, *sheet_length, *next],
            ),
            Self::NoStagger { joints, least_piece } => {
                let mut places = String::new();
                for at in 0..joints.len() {
                    places.push_str(match at {
                        0 => "{}",
                        _ if at + 1 == joints.len() => " and {}",
                        _ => ", {}",
                    });
                }
                Note::with(
                    format!(
                        "neighboring courses cannot be staggered: with pieces of at least {{}} a course can break only at \
                         {places}, and no two courses differ in all joints"
                    ),
                    std::iter::once(*least_piece).chain(joints.iter().copied()),
                )
            }
            Self::TooIrregular => Note::with(
                "the rafter centers are too irregular to list the ways to cut a sheet; round them to {}",
                [finest()],
            ),
        }
    }

    /// What to enter instead.
    #[must_use]
    pub fn help(&self) -> Note {
        match self {
            Self::NoPlane => "give one plane for a shed roof, two for a gable".into(),
            Self::NotRectangle { .. } => {
                "lay it by hand, or ask for the rectangle around it and count the offcuts".into()
            }
            Self::OutOfRange { least, most, .. } => {
                Note::with("write a length from {} to {}", [*least, *most])
            }
            Self::NoRafter { .. } => "give the rafter spacing or the rafter centers".into(),
            Self::TooManyRafters { .. } => "check the rafter centers".into(),
            Self::NoCourses { .. } => "ask for a lower least strip, or change the overhang".into(),
            Self::NoCourse { .. } => {
                "allow shorter pieces, or move a rafter so that a panel reaches it".into()
            }
            Self::NoStagger { .. } => {
                "allow shorter pieces, space the rafters closer, or change the length".into()
            }
            Self::TooIrregular => Note::with("round the rafter centers to {}", [finest()]),
        }
    }
}

/// What rafter centers should be rounded to if they are too irregular.
fn finest() -> Amount {
    Amount::Either { us: "1/16 in".into(), metric: "1 mm".into() }
}

/// Number of a plane, its length and its width to cover.
type Shape = (usize, Ticks, Ticks);

impl DeckAsk {
    /// The groups of equal planes, or every fault of the input.
    pub(super) fn exact(&self) -> Result<Vec<Exact>, Vec<DeckFault>> {
        let (measures, shapes) = self.measures()?;
        let mut groups: Vec<Exact> = Vec::new();
        for (number, length, width) in shapes {
            let centers = self.centers(number, length);
            let same =
                |g: &&mut Exact| g.length == length && g.width == width && g.centers == centers;
            if let Some(group) = groups.iter_mut().find(same) {
                group.planes.push(number);
                continue;
            }
            if centers.len() > most_rafters() {
                return Err(vec![DeckFault::TooManyRafters { found: centers.len() }]);
            }
            if centers.is_empty() && length > measures.sheet_length {
                return Err(vec![DeckFault::NoRafter { length }]);
            }
            let planes = vec![number];
            groups.push(Exact { length, width, centers, planes, ..measures.clone() });
        }
        Ok(groups)
    }

    /// What all planes have in common, and number, length and width to cover of each; or every measure that is out of
    /// range, and every plane that is no rectangle.
    fn measures(&self) -> Result<(Exact, Vec<Shape>), Vec<DeckFault>> {
        let mut faults = Vec::new();
        let mut range = |what, length: Length, least: i64, most: i64| {
            let found = Ticks::nearest(length);
            let (least, most) = (Ticks::new(least), Ticks::new(most));
            if found < least || found > most {
                faults.push(DeckFault::OutOfRange { what, found, least, most });
            }
            found
        };
        let inch = Ticks::PER_INCH;
        let largest = |limit_in: f64| Ticks::nearest(inches(limit_in)).count();
        let reach = largest(LONGEST_REACH_IN);
        let sheet_length = range("sheet length", self.sheet.length, 12 * inch, 360 * inch);
        let sheet_height = range("sheet height", self.sheet.height, 12 * inch, 120 * inch);
        let kerf = range("saw kerf", self.sheet.kerf, 0, inch);
        let gap = range("gap", self.rules.gap, 0, inch);
        let least_strip = range("least strip", self.rules.least_strip, inch, sheet_height.count());
        let least_piece = range("least piece", self.rules.least_piece, 0, sheet_length.count());
        let slot = range("ridge slot", self.ridge_slot, 0, 24 * inch);
        let past_tail = range("reach past the tail line", self.past_tail, -reach, reach);
        if let RafterLines::Spacing(spacing) = &self.rafters {
            range("rafter spacing", *spacing, largest(LEAST_SPACING_IN), 96 * inch);
        }
        let mut shapes = Vec::new();
        for (number, plane) in self.planes.iter().enumerate() {
            if let Some((length, width)) = plane.as_rectangle() {
                let longest = largest(longest_deck_in());
                let length = range("length along the eave", length, inch, longest);
                let width = (Ticks::nearest(width) - slot + past_tail).length();
                let width = range("slope width to cover", width, inch, largest(widest_slope_in()));
                shapes.push((number, length, width));
            }
        }
        for plane in self.planes.iter().filter(|plane| plane.as_rectangle().is_none()) {
            faults.push(DeckFault::NotRectangle { plane: plane.name.clone() });
        }
        if self.planes.is_empty() {
            faults.push(DeckFault::NoPlane);
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let measures = Exact {
            length: Ticks::ZERO,
            width: Ticks::ZERO,
            centers: Vec::new(),
            sheet_length,
            sheet_height,
            kerf,
            gap,
            least_strip,
            least_piece,
            past_tail,
            planes: Vec::new(),
        };
        Ok((measures, shapes))
    }

    /// Centers inside the plane, ascending. Listed ones are rounded to the nearest 1/64 in, so that
    /// positions from trigonometry do not each make new lengths.
    fn centers(&self, plane: usize, length: Ticks) -> Vec<i64> {
        let mut centers: Vec<i64> = match &self.rafters {
            RafterLines::Spacing(spacing) => {
                let spacing = Ticks::nearest(*spacing);
                (1..).map(|n| (spacing * n).count()).take_while(|&x| x < length.count()).collect()
            }
            RafterLines::Centers(_) | RafterLines::EachPlane(_) => {
                let listed: &[Length] = match &self.rafters {
                    RafterLines::Centers(listed) => listed,
                    RafterLines::EachPlane(each) => each.get(plane).map_or(&[], Vec::as_slice),
                    RafterLines::Spacing(_) => &[],
                };
                let fine = Ticks::sixty_fourths(1).count();
                let nearest = |x: &Length| {
                    let ticks = Ticks::nearest(*x).count();
                    // Already whole in inches/64, fifths or millimeters: kept.
                    if ticks % (Ticks::PER_INCH / 80) == 0 || ticks % Ticks::PER_MILLIMETER == 0 {
                        ticks
                    } else {
                        (ticks + fine / 2).div_euclid(fine) * fine
                    }
                };
                listed.iter().map(nearest).filter(|&x| x > 0 && x < length.count()).collect()
            }
        };
        centers.sort_unstable();
        centers.dedup();
        centers
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rectangles_are_known_in_any_order_of_corners() {
        let plane = RoofPlane::rectangle("a", inches(120.5), inches(60.0));
        assert_eq!(plane.as_rectangle(), Some((inches(120.5), inches(60.0))));
        let mut turned = plane.clone();
        turned.outline.rotate_left(2);
        turned.outline.reverse();
        assert_eq!(turned.as_rectangle(), plane.as_rectangle());
        let mut trapezoid = plane;
        trapezoid.outline[2].0 = inches(100.0);
        assert_eq!(trapezoid.as_rectangle(), None);
    }

    #[test]
    fn every_fault_is_told_at_once() {
        let mut ask = DeckAsk::rectangles(2, inches(200.0), inches(0.0), inches(2.0));
        ask.rules.gap = inches(2.0);
        let faults = ask.exact().expect_err("three faults");
        assert_eq!(faults.len(), 4, "{faults:?}"); // two planes without width
    }

    /// By hand: 24 in is 609.6 mm, 2 in is 50.8 mm, 1 in is 25.4 mm.
    #[test]
    fn a_refusal_is_written_in_either_system() {
        let mut ask = DeckAsk::rectangles(1, inches(200.0), inches(60.0), inches(24.0));
        ask.rules.gap = inches(2.0);
        let faults = ask.exact().expect_err("a gap of 2 in");
        let said = |writing| faults[0].message().write(writing);
        assert_eq!(said(Writing::default()), "gap is 2 in, allowed is 0 in to 1 in");
        assert_eq!(said(Writing::METRIC), "gap is 50.8 mm, allowed is 0 mm to 25.4 mm");
        let none = DeckFault::NoStagger {
            joints: [24, 48, 72].map(|at| Ticks::nearest(inches(f64::from(at)))).to_vec(),
            least_piece: Ticks::nearest(inches(24.0)),
        };
        let said = none.message().write(Writing::METRIC);
        assert!(
            said.contains(
                "least 609.6 mm a course can break only at 609.6 mm, 1219.2 mm and 1828.8 mm,"
            ),
            "{said}"
        );
    }

    #[test]
    fn listed_centers_are_sorted_and_kept_inside() {
        let mut ask = DeckAsk::rectangles(1, inches(100.0), inches(48.0), inches(24.0));
        let listed = [48.0, 0.0, 24.000_1, 72.0, 100.0, 130.0];
        ask.rafters = RafterLines::Centers(listed.iter().map(|&x| inches(x)).collect());
        let groups = ask.exact().expect("no faults");
        let inch = Ticks::PER_INCH;
        assert_eq!(groups[0].centers, [24 * inch, 48 * inch, 72 * inch]);
        assert_eq!(groups[0].planes, [0]);
    }
}
