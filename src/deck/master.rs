//! The relaxation: courses as one flow, sheets in any fraction, and the bound it proves.
//!
//! Columns are whole courses and whole sheets, found when they are wanted (column
//! generation): a course is a shortest path over the rafters at the current prices of
//! pieces, a sheet a knapsack. Stagger is kept as "at most every other course, rounded up,
//! breaks at one rafter". Some courses may be fixed already, and the next one may be kept
//! off the joints of its neighbor.
//!
//! A bound is never read from the floating-point program: its prices are rounded to
//! integers, the worthiest sheet and the cheapest courses at THOSE prices are exact, and
//! the bound follows by weak duality in `i128`.

use super::cut::Stock;
use super::grid::{Grid, Joints};
use super::program::{Column, Program, Side};
use std::collections::BTreeSet;

/// The whole problem, in ticks.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub(super) grid: Grid,
    pub(super) stock: Stock,
    pub(super) planes: usize,
    /// Courses of one plane.
    pub(super) courses: usize,
}

/// Which part of a sheet's height a course takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    Full,
    Closing,
}

impl Model {
    /// Courses of one plane that take the whole sheet height.
    pub(super) fn full_courses(&self) -> usize {
        self.courses - usize::from(self.stock.has_closing())
    }

    /// Class of the course so many above the eave course.
    pub(super) fn class(&self, above_eave: usize) -> Class {
        if above_eave + 1 == self.courses && self.stock.has_closing() {
            Class::Closing
        } else {
            Class::Full
        }
    }
}

/// What is fixed and what is still to be laid.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    /// Pieces of the fixed courses, by length.
    pub(super) full: Vec<u32>,
    pub(super) closing: Vec<u32>,
    /// Courses to come after the next one, by class.
    pub(super) free_full: u32,
    pub(super) free_closing: u32,
    /// The next course and where it may not break.
    pub(super) next: Option<(Class, Vec<bool>)>,
    /// At each position, how many of the courses to come may break there.
    pub(super) most_full: Vec<u32>,
    pub(super) most_all: Vec<u32>,
}

/// What is made least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Goal {
    /// Sheets.
    Sheets,
    /// Pieces, with at most so many sheets.
    Pieces(usize),
}

/// What the relaxation tells.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    /// Proven: no layout of this stage has less (of the goal, rounded up to whole ones).
    pub(super) bound: i64,
    /// Whether the fractional program has a solution at all (a guide, not a proof).
    pub(super) possible: bool,
    /// Courses taken for the next one, with their share, greatest first.
    pub(super) next: Vec<(Joints, f64)>,
    /// The prices that prove the bound.
    pub(super) prices: Option<Prices>,
    /// Integer slack of the bound in path price: a next course dearer than the cheapest by
    /// more than this breaks the limit that was asked about.
    pub(super) allowance: i64,
}

/// One unit of price, as an integer.
pub(super) const UNIT: i64 = 1 << 24;
const MOST_ROUNDS: usize = 400;

struct CourseColumn {
    joints: Joints,
    arcs: Vec<usize>,
}

struct SheetColumn {
    full: Vec<usize>,
    tracks: Vec<Vec<usize>>,
}

/// The columns found so far, and the relaxations solved with them.
pub(super) struct Master<'a> {
    model: &'a Model,
    courses: Vec<CourseColumn>,
    sheets: Vec<SheetColumn>,
    known: BTreeSet<Joints>,
    /// Stagger rows wanted so far: position, and whether closing courses count too.
    caps: Vec<(usize, bool)>,
    /// Added to the price of each arc, to reach other layouts of the same worth.
    pub(super) noise: Vec<i64>,
}

/// The rows of one program.
struct Rows {
    lengths: usize,
    closing: Option<usize>,
    free_full: Option<usize>,
    free_closing: Option<usize>,
    next: Option<usize>,
    sheets: Option<usize>,
    caps: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Block {
    Full,
    Closing,
    Next,
}

enum Variable {
    Course(usize, Block),
    Sheet,
}

/// Prices as integers of 1/[`UNIT`].
#[derive(Clone, Debug)]
pub(super) struct Prices {
    /// Of a piece of each length.
    pub(super) full: Vec<i64>,
    pub(super) closing: Vec<i64>,
    /// Of each arc for a full and a closing course, joints and all.
    pub(super) arcs: [Vec<i64>; 2],
    /// Of breaking at a position, and whether closing courses pay too.
    pub(super) caps: Vec<(usize, bool, i64)>,
    /// What the worthiest sheet is worth.
    pub(super) sheet: i64,
    sheet_limit: i64,
}

impl<'a> Master<'a> {
    /// No columns but one sheet for each length, cut as often as it goes.
    pub(super) fn new(model: &'a Model) -> Self {
        let mut master = Self {
            model,
            courses: Vec::new(),
            sheets: Vec::new(),
            known: BTreeSet::new(),
            caps: Vec::new(),
            noise: vec![0; model.grid.arcs.len()],
        };
        for item in 0..model.grid.lengths.len() {
            let mut prices = vec![0; model.grid.lengths.len()];
            let none = prices.clone();
            prices[item] = 1;
            for (full, closing) in [(&prices, &none), (&none, &prices)] {
                let worth = model.stock.most_worth(full, closing);
                if worth.value > 0 {
                    master.sheets.push(SheetColumn { full: worth.full, tracks: worth.tracks });
                }
            }
        }
        master
    }

    fn add_course(&mut self, joints: Joints) -> Option<usize> {
        if !self.known.insert(joints.clone()) {
            return None;
        }
        let arcs = self.model.grid.arcs_of(&joints)?;
        self.courses.push(CourseColumn { joints, arcs });
        Some(self.courses.len() - 1)
    }

    /// Solves the relaxation of `stage`. Stops early once the bound is over `limit`.
    pub(super) fn relax(
        &mut self,
        stage: &Stage,
        goal: Goal,
        limit: i64,
        stop: &dyn Fn() -> bool,
    ) -> Relaxed {
        let mut result = Relaxed {
            bound: 0,
            possible: true,
            next: Vec::new(),
            prices: None,
            allowance: i64::MAX,
        };
        // Each pass adds the stagger rows that the last solution broke.
        for _ in 0..40 {
            let (mut program, rows) = self.build(stage, goal);
            if !self.generate(stage, goal, limit, &rows, &mut program, &mut result, stop) {
                return result;
            }
            if !self.add_broken_caps(stage, &program) {
                result.possible = program.shortage() < 1e-3;
                self.collect_next(&program, &mut result);
                break;
            }
        }
        result
    }

    /// Column generation on one program; false if it was stopped or the limit is passed.
    #[allow(clippy::too_many_arguments)] // one step of `relax`, split off for reading
    fn generate(
        &mut self,
        stage: &Stage,
        goal: Goal,
        limit: i64,
        rows: &Rows,
        program: &mut Program<Variable>,
        result: &mut Relaxed,
        stop: &dyn Fn() -> bool,
    ) -> bool {
        let grid = &self.model.grid;
        let nowhere = vec![false; grid.positions.len()];
        for _ in 0..MOST_ROUNDS {
            program.optimize(stop);
            let mut prices = self.integer_prices(rows, program.prices(), goal);
            let worth = self.model.stock.most_worth(&prices.full, &prices.closing);
            prices.sheet = worth.value;
            let mut blocks = Vec::new();
            if stage.free_full > 0 {
                blocks.push((Block::Full, Class::Full, &nowhere, stage.free_full, rows.free_full));
            }
            if stage.free_closing > 0 {
                blocks.push((
                    Block::Closing,
                    Class::Closing,
                    &nowhere,
                    stage.free_closing,
                    rows.free_closing,
                ));
            }
            if let Some((class, forbidden)) = &stage.next {
                blocks.push((Block::Next, *class, forbidden, 1, rows.next));
            }
            let mut value = self.fixed_value(stage, &prices);
            let mut fresh = Vec::new();
            for (block, class, forbidden, count, row) in blocks {
                let arcs = &prices.arcs[usize::from(class == Class::Closing)];
                let Some((price, joints)) = grid.cheapest(arcs, forbidden) else {
                    result.possible = false;
                    result.bound = i64::MAX;
                    return false;
                };
                value += i128::from(price) * i128::from(count);
                let paid = row.map_or(0.0, |row| program.prices()[row]);
                if (price as f64) < (paid - 1e-6) * UNIT as f64 {
                    fresh.push((block, joints));
                }
            }
            let (bound, allowance) = proven(value, worth.value, &prices, goal, limit);
            let tighter = bound == result.bound && allowance < result.allowance;
            if bound > result.bound || result.prices.is_none() || tighter {
                result.bound = result.bound.max(bound);
                result.allowance = allowance;
                result.prices = Some(prices.clone());
            }
            if result.bound > limit || stop() {
                return false;
            }
            let mut improved = false;
            for (block, joints) in fresh {
                improved |= self.offer_course(stage, goal, rows, joints, block, program);
            }
            let cost = if goal == Goal::Sheets { UNIT } else { prices.sheet_limit };
            if worth.value > cost + UNIT / 1_000_000 {
                let column = SheetColumn { full: worth.full, tracks: worth.tracks };
                program.add(&self.sheet_column(rows, goal, &column), Variable::Sheet);
                self.sheets.push(column);
                improved = true;
            }
            if !improved {
                break;
            }
        }
        true
    }

    /// Puts a new course into the pool and the program, in every block that may use it.
    #[allow(clippy::too_many_arguments)] // one step of `generate`, split off for reading
    fn offer_course(
        &mut self,
        stage: &Stage,
        goal: Goal,
        rows: &Rows,
        joints: Joints,
        block: Block,
        program: &mut Program<Variable>,
    ) -> bool {
        if let Some(number) = self.add_course(joints) {
            for place in [Block::Full, Block::Closing, Block::Next] {
                self.place(stage, goal, rows, number, place, program);
            }
            return true;
        }
        // Known, so it stands in the program already: only rounding calls it cheaper.
        debug_assert!(block != Block::Next || stage.next.is_some());
        false
    }

    #[allow(clippy::too_many_arguments)] // one step of `generate`, split off for reading
    fn place(
        &self,
        stage: &Stage,
        goal: Goal,
        rows: &Rows,
        number: usize,
        block: Block,
        program: &mut Program<Variable>,
    ) {
        let course = &self.courses[number];
        let (class, row) = match block {
            Block::Full => (Class::Full, rows.free_full),
            Block::Closing => (Class::Closing, rows.free_closing),
            Block::Next => {
                let Some((class, forbidden)) = &stage.next else {
                    return;
                };
                if course.joints.iter().any(|&j| forbidden[j]) {
                    return;
                }
                (*class, rows.next)
            }
        };
        if let Some(row) = row {
            let column = self.course_column(rows, goal, course, class, row);
            program.add(&column, Variable::Course(number, block));
        }
    }

    fn build(&self, stage: &Stage, goal: Goal) -> (Program<Variable>, Rows) {
        let lengths = self.model.grid.lengths.len();
        let mut sides: Vec<Side> = Vec::new();
        let demand = |counts: &[u32], sides: &mut Vec<Side>| {
            sides.extend(counts.iter().map(|&n| Side::Least(n)));
        };
        demand(&stage.full, &mut sides);
        let closing = self.model.stock.has_closing().then(|| {
            demand(&stage.closing, &mut sides);
            lengths
        });
        let mut row = |wanted: bool, side: Side| {
            wanted.then(|| {
                sides.push(side);
                sides.len() - 1
            })
        };
        let rows = Rows {
            lengths,
            closing,
            free_full: row(stage.free_full > 0, Side::Equal(stage.free_full)),
            free_closing: row(stage.free_closing > 0, Side::Equal(stage.free_closing)),
            next: row(stage.next.is_some(), Side::Equal(1)),
            sheets: match goal {
                Goal::Sheets => None,
                Goal::Pieces(sheets) => {
                    row(true, Side::Most(u32::try_from(sheets).unwrap_or(u32::MAX)))
                }
            },
            caps: sides.len(),
        };
        sides.extend(self.caps.iter().map(|&(at, all)| {
            let most = if all { stage.most_all[at] } else { stage.most_full[at] };
            Side::Most(most)
        }));
        let mut program = Program::new(&sides);
        for column in &self.sheets {
            program.add(&self.sheet_column(&rows, goal, column), Variable::Sheet);
        }
        for number in 0..self.courses.len() {
            for block in [Block::Full, Block::Closing, Block::Next] {
                self.place(stage, goal, &rows, number, block, &mut program);
            }
        }
        (program, rows)
    }

    fn sheet_column(&self, rows: &Rows, goal: Goal, column: &SheetColumn) -> Column {
        let mut entries: Vec<(usize, f64)> = column.full.iter().map(|&item| (item, 1.0)).collect();
        if let Some(base) = rows.closing {
            let items = column.tracks.iter().flatten();
            entries.extend(items.map(|&item| (base + item, 1.0)));
        }
        entries.extend(rows.sheets.map(|row| (row, 1.0)));
        Column { cost: if goal == Goal::Sheets { 1.0 } else { 0.0 }, entries }
    }

    fn course_column(
        &self,
        rows: &Rows,
        goal: Goal,
        course: &CourseColumn,
        class: Class,
        row: usize,
    ) -> Column {
        let base = if class == Class::Closing { rows.closing.unwrap_or(0) } else { 0 };
        let mut entries = vec![(row, 1.0)];
        let mut cost = 0.0;
        for &arc in &course.arcs {
            entries.push((base + self.model.grid.arcs[arc].length, -1.0));
            cost += self.noise[arc] as f64 / UNIT as f64;
            if goal != Goal::Sheets {
                cost += 1.0;
            }
        }
        for (cap, &(at, all)) in self.caps.iter().enumerate() {
            if (all || class == Class::Full) && course.joints.binary_search(&at).is_ok() {
                entries.push((rows.caps + cap, 1.0));
            }
        }
        Column { cost, entries }
    }

    fn integer_prices(&self, rows: &Rows, prices: &[f64], goal: Goal) -> Prices {
        let whole = |x: f64| (x * UNIT as f64).round().max(0.0) as i64;
        let full: Vec<i64> = prices[..rows.lengths].iter().map(|&x| whole(x)).collect();
        let closing: Vec<i64> = match rows.closing {
            Some(base) => prices[base..base + rows.lengths].iter().map(|&x| whole(x)).collect(),
            None => vec![0; rows.lengths],
        };
        let caps: Vec<(usize, bool, i64)> = self
            .caps
            .iter()
            .zip(&prices[rows.caps..])
            .map(|(&(at, all), &x)| (at, all, whole(-x)))
            .collect();
        let grid = &self.model.grid;
        let mut joint_full = vec![0; grid.positions.len()];
        let mut joint_all = joint_full.clone();
        for &(at, all, price) in &caps {
            if all {
                joint_all[at] += price;
            } else {
                joint_full[at] += price;
            }
        }
        let piece = if goal == Goal::Sheets { 0 } else { UNIT };
        let arc_prices = |lengths: &[i64], with_full: bool| -> Vec<i64> {
            let priced = grid.arcs.iter().zip(&self.noise).map(|(arc, noise)| {
                let joint = joint_all[arc.to] + if with_full { joint_full[arc.to] } else { 0 };
                piece + noise + lengths[arc.length] + joint
            });
            priced.collect()
        };
        Prices {
            arcs: [arc_prices(&full, true), arc_prices(&closing, false)],
            full,
            closing,
            caps,
            sheet: 0,
            sheet_limit: rows.sheets.map_or(0, |row| whole(-prices[row])),
        }
    }

    /// Worth of the fixed pieces less what the stagger rows give back.
    fn fixed_value(&self, stage: &Stage, prices: &Prices) -> i128 {
        let pieces = |counts: &[u32], price: &[i64]| -> i128 {
            counts.iter().zip(price).map(|(&n, &p)| i128::from(n) * i128::from(p)).sum()
        };
        let given_back: i128 = prices
            .caps
            .iter()
            .map(|&(at, all, price)| {
                let most = if all { stage.most_all[at] } else { stage.most_full[at] };
                i128::from(most) * i128::from(price)
            })
            .sum();
        pieces(&stage.full, &prices.full) + pieces(&stage.closing, &prices.closing) - given_back
    }

    fn add_broken_caps(&mut self, stage: &Stage, program: &Program<Variable>) -> bool {
        let size = self.model.grid.positions.len();
        let mut breaks = [vec![0.0; size], vec![0.0; size]];
        for (variable, amount) in program.amounts() {
            if let &Variable::Course(course, block) = variable {
                let closing = match (block, &stage.next) {
                    (Block::Next, Some((class, _))) => *class == Class::Closing,
                    (block, _) => block == Block::Closing,
                };
                for &at in &self.courses[course].joints {
                    breaks[1][at] += amount;
                    if !closing {
                        breaks[0][at] += amount;
                    }
                }
            }
        }
        let mut added = false;
        let [full, all] = breaks;
        for (at, (full, all)) in full.into_iter().zip(all).enumerate() {
            let over_all = all > f64::from(stage.most_all[at]) + 1e-3;
            let over_full = full > f64::from(stage.most_full[at]) + 1e-3;
            let broken = [(over_all, (at, true)), (over_full, (at, false))];
            let new = broken.into_iter().find(|(over, cap)| *over && !self.caps.contains(cap));
            if let Some((_, cap)) = new {
                self.caps.push(cap);
                added = true;
            }
        }
        added
    }

    fn collect_next(&self, program: &Program<Variable>, result: &mut Relaxed) {
        for (variable, amount) in program.amounts() {
            if let &Variable::Course(course, Block::Next) = variable {
                result.next.push((self.courses[course].joints.clone(), amount));
            }
        }
        result.next.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    }
}

/// The bound that integer prices prove, and by how much a course may be dearer than the
/// cheapest before the bound passes `limit`.
///
/// Sheets: every sheet is worth at most `worth`, all pieces at least `value`, so there
/// are at least value / worth sheets. Pieces: with at most N sheets, the price of a sheet
/// may be raised to `worth`, and then value - N x worth is least.
fn proven(value: i128, worth: i64, prices: &Prices, goal: Goal, limit: i64) -> (i64, i64) {
    let ceil = |a: i128, b: i128| -> i64 {
        let up = a.div_euclid(b) + i128::from(a.rem_euclid(b) != 0);
        i64::try_from(up.max(0)).unwrap_or(i64::MAX)
    };
    let (bound, allowance) = match goal {
        Goal::Sheets if worth == 0 => (0, i128::MAX),
        Goal::Sheets => {
            let worth = i128::from(worth);
            (ceil(value, worth), i128::from(limit) * worth - value)
        }
        Goal::Pieces(sheets) => {
            let sheet = i128::from(prices.sheet_limit.max(worth));
            let net = value - sheet * sheets as i128;
            let unit = i128::from(UNIT);
            (ceil(net, unit), i128::from(limit) * unit - net)
        }
    };
    (bound, i64::try_from(allowance).unwrap_or(i64::MAX))
}
