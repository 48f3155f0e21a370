//! The laid deck: every piece, the sheet it is cut from, the bound, and what to know about it.

use super::ask::{DeckAsk, DeckFault, Exact};
use super::courses::{self, Course, NarrowStrip};
use super::cut::{SheetCut, Stock};
use super::grid::{Grid, PieceRules};
use super::master::{Class, Model};
use super::search::{self, Progress, Watch};
use super::ticks::Ticks;
use super::worth::Needs;

/// One piece of panel on a plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Plane, counted from 0 in the order asked.
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
    /// Told where full courses would have left less than the least strip at the ridge.
    pub narrow: Option<NarrowStrip>,
}

/// The deck laid with the fewest sheets found, and the proof.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deck {
    /// One for each plane asked, in that order.
    pub planes: Vec<LaidPlane>,
    /// By plane, course and place along the eave.
    pub pieces: Vec<Piece>,
    /// Whole sheets that all pieces are cut from.
    pub sheets: usize,
    /// Proven: under the rules no layout takes fewer sheets.
    pub lower_bound_sheets: usize,
    /// Proven: no layout with `sheets` sheets has fewer pieces.
    pub lower_bound_pieces: usize,
    /// Sheets by area alone, gaps counted in: no rule of laying could do with fewer.
    pub area_sheets: usize,
    /// Groups of equal planes with equal rafters; each group is cut from its own sheets.
    pub groups: usize,
    /// Whether each group for itself is proven to take the fewest sheets.
    pub groups_proven: bool,
    /// Steps of the search.
    pub steps: usize,
}

impl Deck {
    /// Whether the number of sheets is proven to be the least.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.sheets == self.lower_bound_sheets
    }

    /// Panels that span fewer than two bays: the span table holds for two or more.
    #[must_use]
    pub fn single_span_pieces(&self) -> usize {
        self.pieces.iter().filter(|piece| piece.spans < 2).count()
    }
}

/// Lays the deck with the fewest whole sheets.
///
/// Stops early when `watch` says so; the layout is then the best found, and the gap between
/// `sheets` and `lower_bound_sheets` the true one.
///
/// # Errors
/// Every fault of the ask, or why no layout is possible.
pub fn lay(ask: &DeckAsk, watch: &Watch<'_>) -> Result<Deck, Vec<DeckFault>> {
    let groups = ask.exact()?;
    let mut deck = Deck {
        planes: Vec::new(),
        pieces: Vec::new(),
        sheets: 0,
        lower_bound_sheets: 0,
        lower_bound_pieces: 0,
        area_sheets: area_sheets(&groups),
        groups: groups.len(),
        groups_proven: true,
        steps: 0,
    };
    let mut most_of_a_group = 0;
    let mut planes: Vec<Option<LaidPlane>> = vec![None; ask.planes.len()];
    for group in &groups {
        let (sheets, bound) = (deck.sheets, deck.lower_bound_sheets);
        lay_group(group, watch, &mut deck, &mut planes).map_err(|fault| vec![fault])?;
        let of_the_group = deck.lower_bound_sheets - bound;
        deck.groups_proven &= deck.sheets - sheets == of_the_group;
        most_of_a_group = most_of_a_group.max(of_the_group);
    }
    if groups.len() > 1 {
        // Unequal planes are laid each from their own sheets. Sharing offcuts between them
        // might save some, so only the area bounds them all together, and what one group takes.
        deck.lower_bound_sheets = deck.area_sheets.max(most_of_a_group);
    }
    deck.planes = planes.into_iter().flatten().collect();
    deck.pieces.sort_by_key(|piece| (piece.plane, piece.course, piece.x));
    Ok(deck)
}

/// Ceiling of the covered area over the sheet's, each grown by the gap (or the saw cut, if that
/// is wider for the sheet): pieces so grown tile the planes and still fit the grown sheet.
fn area_sheets(groups: &[Exact]) -> usize {
    let mut total = 0_i128;
    let mut sheet = 1_i128;
    for group in groups {
        // Grown by the lesser of gap and kerf, the pieces cover no more than they do, and
        // those cut from one sheet never overlap.
        let grow = group.gap.min(group.kerf);
        let area =
            |a: Ticks, b: Ticks| i128::from((a + grow).count()) * i128::from((b + grow).count());
        // With a gap wider than the saw cut, the gaps between pieces are not covered at all.
        let uncovered = if group.gap > group.kerf { gaps_beyond(group, grow) } else { 0 };
        total += group.planes.len() as i128 * (area(group.length, group.width) - uncovered);
        sheet = area(group.sheet_length, group.sheet_height);
    }
    usize::try_from((total + sheet - 1).div_euclid(sheet)).unwrap_or(0)
}

/// Most area that gaps wider than the saw cut can leave open on one plane.
fn gaps_beyond(group: &Exact, grow: Ticks) -> i128 {
    let extra = i128::from((group.gap - grow).count());
    let joints = group.centers.len() as i128;
    let rows = i128::from(group.width.count() / group.sheet_height.count().max(1) + 1);
    extra * (joints * i128::from(group.width.count()) + rows * i128::from(group.length.count()))
}

fn lay_group(
    group: &Exact,
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
    for &plane in &group.planes {
        planes[plane] = Some(LaidPlane {
            length: group.length,
            width: group.width,
            courses: heights.courses.clone(),
            centers: group.centers.iter().map(|&x| Ticks::new(x)).collect(),
            narrow: heights.narrow,
        });
    }
    let mut sheets = OpenSheets::new(&model, group, &heights.courses, &answer.found.cuts);
    for (plane, laid) in group.planes.iter().zip(&answer.found.planes) {
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
                    sheet: deck.sheets + place.sheet,
                    sheet_x: place.x,
                    sheet_y: place.y,
                    spans: arc.to - arc.from,
                });
            }
        }
    }
    deck.sheets += answer.found.cuts.len();
    deck.lower_bound_sheets += answer.sheets_bound;
    deck.lower_bound_pieces += answer.pieces_bound;
    deck.steps += answer.steps;
    (watch.progress)(Progress { sheets: deck.sheets, lower_bound_sheets: deck.lower_bound_sheets });
    Ok(())
}

/// Where a piece lies on its sheet.
#[derive(Clone, Copy, Debug)]
struct Place {
    class: Class,
    length: usize,
    cut: usize,
    sheet: usize,
    x: Ticks,
    y: Ticks,
}

/// Places on all sheets that no piece has taken yet. Sheets are numbered as the pieces,
/// in laying order, first ask for one.
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
