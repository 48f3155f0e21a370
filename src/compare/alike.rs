//! What candidates have in common, found once for all of them: pattern rafters, heels, overhangs and bays.

use std::collections::HashMap;

use crate::frame::{Frame, Group, Pair};
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::{OrderPlan, RakeFraming};
use crate::rules::Book;
use crate::rules::check::{Part, of_part};

use super::axis::Axis;
use super::figures::{Sticks, sticks_of};
use super::hold::{Hold, Stopped, stage};
use super::standing::{RulesFailed, Standings, Unbuildable, field_of};
use super::sweep::{Parts, Sweep};

/// Everything that any candidate is made of.
pub(super) struct Alike {
    pub(super) patterns: Vec<Result<Pattern, Unbuildable>>,
    /// The class of each pattern's heel; `None` if the pattern can't be built.
    pub(super) heel_of: Vec<Option<usize>>,
    /// Of each class of heel, spacing and joist.
    pub(super) heels: Vec<Result<Heel, Unbuildable>>,
    /// Sticks of each pattern, spacing and joist that depend on all three; empty where none do.
    pub(super) bays: Vec<Result<Vec<Sticks>, Unbuildable>>,
    pub(super) standings: Standings,
}

impl Alike {
    /// Frames each part once, and asks the rules that depend on it alone.
    pub(super) fn find(sweep: &Sweep, hold: &Hold<'_>) -> Result<Alike, Stopped> {
        let patterns: Vec<Result<Pattern, Unbuildable>> =
            stage(hold, "pattern rafters", sweep.patterns(), |number| pattern(sweep, number))?;
        let mut heels = Classes::default();
        let mut uplifts = Classes::default();
        let classes: Vec<Option<(usize, usize)>> = patterns
            .iter()
            .enumerate()
            .map(|(number, pattern)| {
                let pattern = pattern.as_ref().ok()?;
                let heel = heels.of((pattern.heel, 0), number);
                Some((heel, uplifts.of((pattern.heel, pattern.overhang), number)))
            })
            .collect();
        let (spacings, joists) = (sweep.count(Axis::Spacing), sweep.count(Axis::Joist));
        let bays = spacings * joists;
        let at_heel: Vec<Result<Heel, Unbuildable>> =
            stage(hold, "heels", heels.first.len() * bays, |number| {
                heel(sweep, Parts::of_bay(heels.first[number / bays], number % bays, joists))
            })?;
        let held_down: Vec<RulesFailed> =
            stage(hold, "overhangs", uplifts.first.len() * spacings, |number| {
                let (class, spacing) = (number / spacings, number % spacings);
                held_down(sweep, Parts::of_bay(uplifts.first[class], spacing * joists, joists))
            })?;
        let standings = Standings {
            joists,
            spacings,
            patterns: patterns
                .iter()
                .zip(&classes)
                .map(|(pattern, classes)| match (pattern, classes) {
                    (Ok(pattern), Some((heel, overhang))) => {
                        Ok((pattern.standing, *heel, *overhang))
                    }
                    (Err(key), _) => Err(*key),
                    (Ok(_), None) => Err(key!("roof.pitch")),
                })
                .collect(),
            heels: at_heel
                .iter()
                .map(|heel| match heel {
                    Ok(heel) => Ok((heel.standing, heel.spans.clone())),
                    Err(key) => Err(*key),
                })
                .collect(),
            overhangs: held_down,
        };
        let bays = by_bay(sweep, &standings, hold)?;
        let heel_of = classes.iter().map(|classes| classes.map(|(heel, _)| heel)).collect();
        Ok(Alike { patterns, heel_of, heels: at_heel, bays, standings })
    }
}

/// The sticks of each pattern, spacing and joist that depend on all three, where some lumber meets every rule there.
fn by_bay(
    sweep: &Sweep,
    standings: &Standings,
    hold: &Hold<'_>,
) -> Result<Vec<Result<Vec<Sticks>, Unbuildable>>, Stopped> {
    let groups = groups_by_bay(&sweep.present);
    if groups.is_empty() {
        return Ok(Vec::new());
    }
    let bays = standings.bays();
    stage(hold, "eaves", sweep.patterns() * bays, |number| {
        let at = Parts::of_bay(number / bays, number % bays, standings.joists);
        if !standings.any_meets(at, sweep.lumbers()) {
            return Ok(Vec::new());
        }
        let plan = sweep.plan(sweep.candidate(at));
        Frame::of_groups(&plan.gable, &groups)
            .map(|frame| sticks_of(&frame.members, 1))
            .map_err(|why| field_of(&why))
    })
}

/// One pattern rafter with its eave.
pub(super) struct Pattern {
    heel: HeelKey,
    overhang: u64,
    standing: RulesFailed,
    pub(super) inner: Vec<Sticks>,
    pub(super) end: Vec<Sticks>,
    pub(super) fixed: Vec<Sticks>,
    pub(super) roof_in2: f64,
}

/// What the heel's rules depend on in a pattern: the values of pitch, rafter, ridge, tail and blocking;
/// then, bit by bit, the seat and the place where anything else may start over the plate; and with
/// outlookers the tail, because their places start there and joists keep clear of them.
type HeelKey = ([usize; 5], [u64; 3]);

/// One heel with a spacing and a joist.
pub(super) struct Heel {
    standing: RulesFailed,
    /// For each species and grade.
    spans: Vec<RulesFailed>,
    pub(super) sticks: Vec<Sticks>,
    pub(super) inner: u32,
    pub(super) end: u32,
}

/// Classes of equal patterns, each represented by the first of its kind.
#[derive(Default)]
struct Classes {
    known: HashMap<(HeelKey, u64), usize>,
    /// The first pattern of each class.
    first: Vec<usize>,
}

impl Classes {
    fn of(&mut self, key: (HeelKey, u64), pattern: usize) -> usize {
        let next = self.first.len();
        let class = *self.known.entry(key).or_insert(next);
        if class == next {
            self.first.push(pattern);
        }
        class
    }
}

/// Groups with sticks that depend on pattern, spacing and joist all at once in this roof.
fn groups_by_bay(plan: &OrderPlan) -> Vec<Group> {
    let gable = &plan.gable;
    let mut groups = Vec::new();
    if outlookers(plan) {
        groups.push(Group::Rake);
    }
    if pieced_boards(plan) {
        groups.push(Group::Boards);
    }
    if gable.soffit_framing {
        groups.push(Group::Soffit);
    }
    groups
}

fn outlookers(plan: &OrderPlan) -> bool {
    plan.gable.rake > inches(0.0) && plan.gable.rake_framing != RakeFraming::Ladder
}

/// True if boards along the eave are made of pieces, because joints lie on rafters.
fn pieced_boards(plan: &OrderPlan) -> bool {
    (plan.gable.length + plan.gable.rake * 2.0).inches() > plan.gable.longest.inches() + HAIR
}

fn pattern(sweep: &Sweep, number: usize) -> Result<Pattern, Unbuildable> {
    let candidate = sweep.candidate(Parts::of_bay(number, 0, 1));
    let plan = sweep.plan(candidate);
    let mut groups = vec![Group::Barges];
    if !outlookers(&plan) {
        groups.push(Group::Rake);
    }
    if !pieced_boards(&plan) {
        groups.push(Group::Boards);
    }
    let frame = Frame::of_groups(&plan.gable, &groups).map_err(|why| field_of(&why))?;
    let book = Book { frame: &frame, checks: &plan.checks };
    let pair = |at_end: bool| {
        let pair = Pair { x_a: 0.0, x_b: 0.0, at_end, joist_side: 0.0 };
        frame
            .rafters_of(&[pair])
            .map(|members| sticks_of(&members, 1))
            .map_err(|why| field_of(&why))
    };
    let values = sweep.value_numbers(candidate);
    let rafter = &plan.gable.rafter;
    let site = &frame.site;
    let up_the_slope = (site.run + site.tail + rafter.boards().inches()) * site.secant;
    Ok(Pattern {
        heel: (
            [Axis::Pitch, Axis::Rafter, Axis::Ridge, Axis::Tail, Axis::Blocking]
                .map(|axis| values[axis as usize]),
            [site.seat, site.start, if site.outlookers { site.tail } else { 0.0 }]
                .map(f64::to_bits),
        ),
        overhang: rafter.overhang_from_building_line().inches().to_bits(),
        standing: RulesFailed::of(&of_part(&book, Part::Pattern)),
        inner: pair(false)?,
        end: pair(true)?,
        fixed: sticks_of(&frame.members, 1),
        roof_in2: 2.0 * up_the_slope * (site.length + 2.0 * site.rake),
    })
}

fn heel(sweep: &Sweep, parts: Parts) -> Result<Heel, Unbuildable> {
    const GROUPS: [Group; 4] = [Group::Ridge, Group::Ceiling, Group::GableEnds, Group::Blocking];
    let mut plan = sweep.plan(sweep.candidate(parts));
    let frame = Frame::of_groups(&plan.gable, &GROUPS).map_err(|why| field_of(&why))?;
    let standing =
        RulesFailed::of(&of_part(&Book { frame: &frame, checks: &plan.checks }, Part::Heel));
    let spans = (0..sweep.lumbers())
        .map(|lumber| {
            (plan.checks.species, plan.checks.grade) = sweep.lumber(lumber);
            let book = Book { frame: &frame, checks: &plan.checks };
            RulesFailed::of(&of_part(&book, Part::Spans))
        })
        .collect();
    let inner = frame.pairs.iter().filter(|pair| !pair.at_end).count();
    Ok(Heel {
        standing,
        spans,
        sticks: sticks_of(&frame.members, 1),
        inner: u32::try_from(inner).unwrap_or(u32::MAX),
        end: u32::try_from(frame.pairs.len() - inner).unwrap_or(u32::MAX),
    })
}

/// Uplift of a pattern at a spacing. What can't be built is reported with the pattern.
fn held_down(sweep: &Sweep, parts: Parts) -> RulesFailed {
    let plan = sweep.plan(sweep.candidate(parts));
    Frame::of_groups(&plan.gable, &[]).map_or_else(
        |_| RulesFailed::default(),
        |frame| {
            let book = Book { frame: &frame, checks: &plan.checks };
            RulesFailed::of(&of_part(&book, Part::Uplift))
        },
    )
}
