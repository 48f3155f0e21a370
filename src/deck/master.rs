//! The relaxation: courses as one flow, sheets in any fraction, and the bound it proves.
//!
//! Columns are whole courses and whole sheets, found when they are wanted (column
//! generation): a course is a shortest path over the rafters at the current prices of
//! pieces, a sheet a knapsack. Stagger is kept as "at most every other course, rounded up,
//! breaks at one rafter". Some courses may be fixed already, and the next one may be kept
//! off the joints of its neighbor.

use super::bound::{Goal, Prices, UNIT};
use super::grid::Joints;
use super::program::{Column, Program, Side};
use super::stage::{Class, Model, Stage};
use std::collections::BTreeSet;

/// The result of the relaxation.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    /// Proven: no layout of this stage has less (of the goal, rounded up to whole ones).
    pub(super) bound: i64,
    /// Whether the fractional program has a solution at all (a guide, not a proof).
    pub(super) possible: bool,
    /// Courses used for the next one, with their share, greatest first.
    pub(super) next: Vec<(Joints, f64)>,
    /// The prices that prove the bound.
    pub(super) prices: Option<Prices>,
    /// Integer slack of the bound in path price: a next course that costs more than the cheapest by
    /// more than this breaks the given limit.
    pub(super) allowance: i64,
}

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
    /// Stagger rows needed so far: position, and whether closing courses count too.
    caps: Vec<(usize, bool)>,
    /// Added to the price of each arc, to reach other layouts of equal worth.
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

/// One relaxation while its columns are found.
struct Relaxation<'s> {
    stage: &'s Stage,
    goal: Goal,
    rows: Rows,
    program: Program<Variable>,
}

impl Rows {
    fn sheet_column(&self, goal: Goal, column: &SheetColumn) -> Column {
        let mut entries: Vec<(usize, f64)> = column.full.iter().map(|&item| (item, 1.0)).collect();
        if let Some(base) = self.closing {
            let items = column.tracks.iter().flatten();
            entries.extend(items.map(|&item| (base + item, 1.0)));
        }
        entries.extend(self.sheets.map(|row| (row, 1.0)));
        Column { cost: if goal == Goal::Sheets { 1.0 } else { 0.0 }, entries }
    }
}

/// Courses that are priced alike: their class, where they may not break, how many, and the row that counts them.
type Courses<'a> = (Class, &'a [bool], u32, Option<usize>);

impl<'s> Relaxation<'s> {
    /// The courses that are still to be laid. One that may break anywhere is kept off `nowhere`.
    fn blocks<'a>(&self, nowhere: &'a [bool]) -> Vec<Courses<'a>>
    where
        's: 'a,
    {
        let (stage, rows) = (self.stage, &self.rows);
        let free = [
            (Class::Full, nowhere, stage.free_full, rows.free_full),
            (Class::Closing, nowhere, stage.free_closing, rows.free_closing),
        ];
        let next = stage.next.as_ref();
        let next = next.map(|(class, forbidden)| (*class, forbidden.as_slice(), 1, rows.next));
        free.into_iter().filter(|block| block.2 > 0).chain(next).collect()
    }
}

impl<'a> Master<'a> {
    /// The only columns are one sheet for each length, cut as often as it fits.
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
            let mut of = self.build(stage, goal);
            if !self.generate(&mut of, limit, &mut result, stop) {
                return result;
            }
            if !self.add_broken_caps(&of) {
                result.possible = of.program.shortage() < 1e-3;
                self.collect_next(&of.program, &mut result);
                break;
            }
        }
        result
    }

    /// Column generation on one program; false if it was stopped or the limit is passed.
    fn generate(
        &mut self,
        of: &mut Relaxation<'_>,
        limit: i64,
        result: &mut Relaxed,
        stop: &dyn Fn() -> bool,
    ) -> bool {
        let grid = &self.model.grid;
        let nowhere = vec![false; grid.positions.len()];
        let (stage, goal) = (of.stage, of.goal);
        for _ in 0..MOST_ROUNDS {
            of.program.optimize(stop);
            let mut prices = self.integer_prices(&of.rows, of.program.prices(), goal);
            let worth = self.model.stock.most_worth(&prices.full, &prices.closing);
            prices.sheet = worth.value;
            let mut value = prices.fixed_value(stage);
            let mut fresh = Vec::new();
            for (class, forbidden, count, row) in of.blocks(&nowhere) {
                let arcs = &prices.arcs[usize::from(class == Class::Closing)];
                let Some((price, joints)) = grid.cheapest(arcs, forbidden) else {
                    result.possible = false;
                    result.bound = i64::MAX;
                    return false;
                };
                value += i128::from(price) * i128::from(count);
                let paid = row.map_or(0.0, |row| of.program.prices()[row]);
                if (price as f64) < (paid - 1e-6) * UNIT as f64 {
                    fresh.push(joints);
                }
            }
            let (bound, allowance) = prices.proven(value, goal, limit);
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
            for joints in fresh {
                improved |= self.offer_course(joints, of);
            }
            let cost = if goal == Goal::Sheets { UNIT } else { prices.sheet_limit };
            if worth.value > cost + UNIT / 1_000_000 {
                let column = SheetColumn { full: worth.full, tracks: worth.tracks };
                of.program.add(&of.rows.sheet_column(goal, &column), Variable::Sheet);
                self.sheets.push(column);
                improved = true;
            }
            if !improved {
                break;
            }
        }
        true
    }

    /// Puts a new course into the pool and the program, in every block that may use it. False if it is known: then it
    /// stands in the program already, and only rounding calls it cheaper.
    fn offer_course(&mut self, joints: Joints, of: &mut Relaxation<'_>) -> bool {
        let Some(number) = self.add_course(joints) else {
            return false;
        };
        self.place_course(number, of);
        true
    }

    fn place_course(&self, number: usize, of: &mut Relaxation<'_>) {
        let course = &self.courses[number];
        for block in [Block::Full, Block::Closing, Block::Next] {
            let (class, row) = match (block, &of.stage.next) {
                (Block::Full, _) => (Class::Full, of.rows.free_full),
                (Block::Closing, _) => (Class::Closing, of.rows.free_closing),
                (Block::Next, Some((class, forbidden)))
                    if !course.joints.iter().any(|&j| forbidden[j]) =>
                {
                    (*class, of.rows.next)
                }
                (Block::Next, _) => continue,
            };
            if let Some(row) = row {
                let column = self.course_column(&of.rows, of.goal, course, class, row);
                of.program.add(&column, Variable::Course(number, block));
            }
        }
    }

    fn build<'s>(&self, stage: &'s Stage, goal: Goal) -> Relaxation<'s> {
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
            program.add(&rows.sheet_column(goal, column), Variable::Sheet);
        }
        let mut of = Relaxation { stage, goal, rows, program };
        for number in 0..self.courses.len() {
            self.place_course(number, &mut of);
        }
        of
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

    fn add_broken_caps(&mut self, of: &Relaxation<'_>) -> bool {
        let stage = of.stage;
        let size = self.model.grid.positions.len();
        let mut breaks = [vec![0.0; size], vec![0.0; size]];
        for (variable, amount) in of.program.amounts() {
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
