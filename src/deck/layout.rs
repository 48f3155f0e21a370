//! The laid deck: every piece, the sheet it is cut from, the bound, and the notes on it.

use super::ask::{DeckAsk, DeckFault, Exact, LayingRules};
use super::bound::{Goal, Prices};
use super::courses::{self, Course, NarrowStrip};
use super::cut::{SheetCut, Stock};
use super::grid::{Grid, PieceRules};
use super::question::{Asked, Layout};
use super::search::{self, Answer, Progress, Watch};
use super::stage::{Class, Model};
use super::ticks::Ticks;
use super::worth::Needs;
use crate::measure::Length;
use crate::solve::{Floor, Kind, Rate, Settled, settle};

/// One piece of panel on a plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Plane, counted from 0 in the order of the input.
    pub plane: usize,
    /// Course, counted from 0 at the eave.
    pub course: usize,
    /// Left end, along the eave from the left edge.
    pub x: Ticks,
    /// Cut length, along the eave.
    pub width: Ticks,
    /// Cut height, up the slope.
    pub height: Ticks,
    /// Sheet it is cut from, counted from 0.
    pub sheet: usize,
    /// Left end on the sheet.
    pub sheet_x: Ticks,
    /// Lower edge on the sheet.
    pub sheet_y: Ticks,
    /// Bays it spans: rafter centers strictly inside it, and one.
    pub spans: usize,
}

/// The courses of one plane.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaidPlane {
    /// Length along the eave.
    pub length: Ticks,
    /// Slope width that is covered.
    pub width: Ticks,
    /// From the eave up.
    pub courses: Vec<Course>,
    /// Rafter centers between the edges.
    pub centers: Vec<Ticks>,
    /// Set if full courses would have left less than the least strip at the ridge.
    pub narrow: Option<NarrowStrip>,
}

/// The deck with the fewest sheets found, and the checker's result.
#[derive(Clone, Debug, PartialEq)]
pub struct Deck {
    /// One for each plane of the input, in that order.
    pub planes: Vec<LaidPlane>,
    /// By plane, course and place along the eave.
    pub pieces: Vec<Piece>,
    /// Steps of the search.
    pub steps: usize,
    groups: Vec<Group>,
    area: Floor,
    laid_by: LayingRules,
}

/// Equal planes, cut from separate sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Group {
    sheets: Settled<Layout>,
    pieces: Floor,
}

/// What is proven of a deck under its rules of laying.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeckProof {
    /// No layout takes fewer sheets.
    Fewest,
    /// Planes differ and are cut from separate sheets; none of them can take fewer by itself.
    EachPlane {
        /// With offcuts shared between them, no layout takes fewer than this.
        least: usize,
    },
    /// A layout with fewer sheets may exist.
    Open {
        /// No layout takes fewer than this.
        least: usize,
    },
}

impl Deck {
    /// Whole sheets that all pieces are cut from, as the checker counted them.
    #[must_use]
    pub fn sheets(&self) -> usize {
        self.groups.iter().map(|group| whole(group.sheets.value()[0])).sum()
    }

    /// What the checker found to be proven.
    #[must_use]
    pub fn proof(&self) -> DeckProof {
        let least = self.lower_bound_sheets();
        let each = self.groups.iter().all(|group| group.sheets.is_proven());
        match self.groups.len() {
            1 if each => DeckProof::Fewest,
            1 => DeckProof::Open { least },
            // The area bounds what the planes could do together.
            _ if self.sheets() == least => DeckProof::Fewest,
            _ if each => DeckProof::EachPlane { least },
            _ => DeckProof::Open { least },
        }
    }

    /// Whether the number of sheets is proven to be the least.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.proof() == DeckProof::Fewest
    }

    /// The least for any layout with unequal planes each cut from separate sheets, as they are laid
    /// here.
    #[must_use]
    pub fn floor(&self) -> Floor {
        self.groups.iter().map(|group| group.sheets.floor()).sum()
    }

    /// The least for any layout, as the checker worked it out.
    #[must_use]
    pub fn lower_bound_sheets(&self) -> usize {
        let floors = self.groups.iter().map(|group| group.sheets.floor());
        let floor = match self.groups.len() {
            1 => floors.max(),
            // Sharing offcuts between unequal planes might save some. So all of them together are
            // bounded only by area, and by what one group takes.
            _ => floors.chain([self.area]).max(),
        };
        whole(floor.unwrap_or(Floor::ZERO).value())
    }

    /// The fewest pieces of any layout with this number of sheets, as the checker worked it out.
    #[must_use]
    pub fn lower_bound_pieces(&self) -> usize {
        whole(self.groups.iter().map(|group| group.pieces).sum::<Floor>().value())
    }

    /// Sheets by area alone, including gaps: no rule of laying could make it fewer.
    #[must_use]
    pub fn area_sheets(&self) -> usize {
        whole(self.area.value())
    }

    /// Whether the planes are cut from separate sheets, each proven to take the fewest by itself.
    #[must_use]
    pub fn proven_by_plane(&self) -> bool {
        self.groups.len() > 1 && self.groups.iter().all(|group| group.sheets.is_proven())
    }

    /// The rules under which the proof holds: those of the question that the checker got, in the
    /// reader's units.
    #[must_use]
    pub fn rules(&self, write: impl Fn(Length) -> String) -> String {
        self.laid_by.words(write)
    }

    /// Panels that span fewer than two bays: the span table covers two or more.
    #[must_use]
    pub fn single_span_pieces(&self) -> usize {
        self.pieces.iter().filter(|piece| piece.spans < 2).count()
    }
}

fn whole(number: i64) -> usize {
    usize::try_from(number).unwrap_or(0)
}

/// Lays the deck with the fewest whole sheets.
///
/// ```
/// use stepoff::deck::{DeckAsk, Watch, lay};
/// use stepoff::measure::quantity::inches;
///
/// // two courses of 32 ft: four sheets each
/// let ask = DeckAsk::rectangles(1, inches(384.0), inches(96.125), inches(24.0));
/// let deck = lay(&ask, &Watch::none()).unwrap();
/// assert_eq!((deck.sheets(), deck.proven()), (8, true));
/// ```
///
/// Stops early when `watch` says so. The layout is then the best found, with the true gap between its
/// sheets and the bound.
///
/// # Errors
/// Every fault of the input, or why no layout is possible.
pub fn lay(ask: &DeckAsk, watch: &Watch<'_>) -> Result<Deck, Vec<DeckFault>> {
    let groups = ask.exact()?;
    let mut deck = Deck {
        planes: Vec::new(),
        pieces: Vec::new(),
        steps: 0,
        groups: Vec::new(),
        area: area_sheets(&groups),
        laid_by: ask.rules,
    };
    let mut planes: Vec<Option<LaidPlane>> = vec![None; ask.planes.len()];
    for group in &groups {
        lay_group(group, ask.rules, watch, &mut deck, &mut planes).map_err(|fault| vec![fault])?;
    }
    deck.planes = planes.into_iter().flatten().collect();
    deck.pieces.sort_by_key(|piece| (piece.plane, piece.course, piece.x));
    Ok(deck)
}

/// The covered area divided by the sheet's area, rounded up, both enlarged by the gap (or by the saw
/// cut, if the sheet needs more): the enlarged pieces tile the planes and still fit the enlarged sheet.
fn area_sheets(groups: &[Exact]) -> Floor {
    let mut total = 0_i128;
    let mut sheet = 1_i128;
    for group in groups {
        // Enlarged by the lesser of gap and kerf, the pieces cover at most their share of the plane,
        // and those cut from one sheet never overlap.
        let grow = group.gap.min(group.kerf);
        let area =
            |a: Ticks, b: Ticks| i128::from((a + grow).count()) * i128::from((b + grow).count());
        // If the gap is wider than the saw cut, part of each gap is not covered at all.
        let uncovered = if group.gap > group.kerf { gaps_beyond(group, grow) } else { 0 };
        total += group.planes.len() as i128 * (area(group.length, group.width) - uncovered);
        sheet = area(group.sheet_length, group.sheet_height);
    }
    let whole = |area: i128| i64::try_from(area.max(0)).ok();
    let floor = whole(total).zip(whole(sheet));
    let rate = |sheet| Rate::new([Kind { cost: 1, holds: sheet, most: None }]);
    floor.map_or(Floor::ZERO, |(total, sheet)| rate(sheet).floor(total))
}

/// Greatest area that gaps wider than the saw cut can leave open on one plane.
fn gaps_beyond(group: &Exact, grow: Ticks) -> i128 {
    let extra = i128::from((group.gap - grow).count());
    let joints = group.centers.len() as i128;
    let rows = i128::from(group.width.count() / group.sheet_height.count().max(1) + 1);
    extra * (joints * i128::from(group.width.count()) + rows * i128::from(group.length.count()))
}

fn lay_group(
    group: &Exact,
    rules: LayingRules,
    watch: &Watch<'_>,
    deck: &mut Deck,
    planes: &mut [Option<LaidPlane>],
) -> Result<(), DeckFault> {
    let heights = courses::courses(group)?;
    let grid = Grid::new(
        group.length.count(),
        &group.centers,
        PieceRules {
            gap: group.gap.count(),
            longest: group.sheet_length.count(),
            shortest: group.least_piece.count(),
        },
    );
    let (sheet, kerf) = (group.sheet_length.count(), group.kerf.count());
    let (planes_alike, strips) = (group.planes.len(), heights.strips_per_sheet);
    let full_courses = heights.courses.len() - usize::from(strips > 1);
    let needs = [full_courses, 1].map(|courses| Needs::new(&grid, planes_alike, courses));
    let stock =
        Stock::new(&grid.lengths, sheet, kerf, strips, needs).ok_or(DeckFault::TooIrregular)?;
    let model = Model { grid, stock, planes: group.planes.len(), courses: heights.courses.len() };
    let Some(answer) = search::search(&model, watch) else {
        return Err(no_layout(&model, group));
    };
    let layout = &answer.found;
    for &plane in &group.planes {
        planes[plane] = Some(LaidPlane {
            length: group.length,
            width: group.width,
            courses: heights.courses.clone(),
            centers: group.centers.iter().map(|&x| Ticks::new(x)).collect(),
            narrow: heights.narrow,
        });
    }
    let sheets_before = deck.sheets();
    let mut sheets = OpenSheets::new(&model, group, &heights.courses, &layout.cuts);
    for (plane, laid) in group.planes.iter().zip(&layout.planes) {
        for (course, joints) in laid.iter().enumerate() {
            let class = model.class(course);
            for arc in model.grid.arcs_of(joints).unwrap_or_default() {
                let arc = model.grid.arcs[arc];
                let place = sheets.take(class, arc.length);
                let left = model.grid.positions[arc.from];
                let half_gap = if arc.from == 0 { 0 } else { group.gap.count() / 2 };
                deck.pieces.push(Piece {
                    plane: *plane,
                    course,
                    x: Ticks::new(left + half_gap),
                    width: Ticks::new(model.grid.lengths[arc.length]),
                    height: heights.courses[course].height,
                    sheet: sheets_before + place.sheet,
                    sheet_x: place.x,
                    sheet_y: place.y,
                    spans: arc.to - arc.from,
                });
            }
        }
    }
    deck.steps += answer.steps;
    deck.groups.push(settled(&model, rules, answer, watch));
    (watch.progress)(Progress {
        sheets: deck.sheets(),
        lower_bound_sheets: deck.lower_bound_sheets(),
    });
    Ok(())
}

/// The layout as counted by the checker, with the bounds that it derives from the search's prices.
fn settled(model: &Model, rules: LayingRules, answer: Answer, watch: &Watch<'_>) -> Group {
    let layout = answer.found;
    let fewest = |goal, prices: Option<Prices>| {
        let asked = Asked { model, goal, rules };
        let certificate = prices.map(|prices| asked.certificate(&prices)).unwrap_or_default();
        settle(&asked, layout.clone(), &certificate, watch.stop)
            .expect("the search keeps the rules")
    };
    let pieces = fewest(Goal::Pieces(layout.cuts.len()), answer.pieces).floor();
    Group { sheets: fewest(Goal::Sheets, answer.sheets), pieces }
}

/// The place of a piece on its sheet.
#[derive(Clone, Copy, Debug)]
struct Place {
    class: Class,
    length: usize,
    cut: usize,
    sheet: usize,
    x: Ticks,
    y: Ticks,
}

/// Places on all sheets that have no piece yet. Sheets are numbered in the order in which pieces, in
/// laying order, first need one.
struct OpenSheets {
    free: Vec<Place>,
    numbers: Vec<Option<usize>>,
    opened: usize,
}

impl OpenSheets {
    fn new(model: &Model, group: &Exact, courses: &[Course], cuts: &[SheetCut]) -> Self {
        let mut free = Vec::new();
        let strip = courses.last().map_or(Ticks::ZERO, |course| course.height);
        for (cut, sheet) in cuts.iter().enumerate() {
            let mut run = |class, items: &[usize], mut x: Ticks, y: Ticks| {
                for &length in items {
                    free.push(Place { class, length, cut, sheet: 0, x, y });
                    x += Ticks::new(model.grid.lengths[length]) + group.kerf;
                }
                x
            };
            let rest = run(Class::Full, &sheet.full, Ticks::ZERO, Ticks::ZERO);
            let mut y = Ticks::ZERO;
            for track in &sheet.tracks {
                run(Class::Closing, track, rest, y);
                y += strip + group.kerf;
            }
        }
        Self { free, numbers: vec![None; cuts.len()], opened: 0 }
    }

    /// A place for a piece: on the lowest-numbered sheet in use, or on a new one.
    fn take(&mut self, class: Class, length: usize) -> Place {
        let fits = |place: &Place| place.class == class && place.length == length;
        let chosen = self
            .free
            .iter()
            .enumerate()
            .filter(|(_, place)| fits(place))
            .min_by_key(|(_, place)| (self.numbers[place.cut].unwrap_or(usize::MAX), place.cut))
            .map(|(at, _)| at);
        let at = chosen.expect("the cuts were packed from just these pieces");
        let mut place = self.free.remove(at);
        place.sheet = *self.numbers[place.cut].get_or_insert_with(|| {
            self.opened += 1;
            self.opened - 1
        });
        place
    }
}

/// Why no layout is possible: no course at all, or no two that can be neighbors.
fn no_layout(model: &Model, group: &Exact) -> DeckFault {
    let grid = &model.grid;
    let mut from_left = vec![false; grid.positions.len()];
    from_left[0] = true;
    for arc in &grid.arcs {
        from_left[arc.to] |= from_left[arc.from];
    }
    let free = vec![0; grid.arcs.len()];
    let to_right = grid.prices_to_go(&free, &vec![false; grid.positions.len()]);
    if !from_left[grid.last()] {
        let reached = (0..=grid.last()).rev().find(|&at| from_left[at]).unwrap_or(0);
        return DeckFault::NoCourse {
            reached: Ticks::new(grid.positions[reached]),
            next: Ticks::new(grid.positions[(reached + 1).min(grid.last())]),
            sheet_length: group.sheet_length,
            least_piece: group.least_piece,
        };
    }
    let joints = (1..grid.last()).filter(|&at| from_left[at] && to_right[at].is_some());
    DeckFault::NoStagger {
        joints: joints.map(|at| Ticks::new(grid.positions[at])).collect(),
        least_piece: group.least_piece,
    }
}
