//! Every candidate before the rules, without framing each of them.
//!
//! A candidate is a pattern rafter with its eave, a spacing, a joist and lumber. The rules are asked part by
//! part ([`Part`]), each part once for all candidates that are alike in what it depends on; so are the sticks,
//! group by group ([`Group`]). What patterns have in common beyond their own values (seat, overhang) is told
//! by those values themselves, to the last bit. That parts add up to the whole roof is tested on random candidates.

use std::collections::{BTreeMap, HashMap};
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use crate::frame::Pair;
use crate::frame::{Frame, Group};
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::order::Prices;
use crate::plan::{OrderPlan, RakeFraming};
use crate::rules::check::{Part, of_part};
use crate::rules::{Book, Verdict};

use super::figures::{Figures, Lump, Sticks, Woods, sticks_of};
use super::standing::{RulesFailed, Unbuildable, count, field_of};
use super::sweep::{Axis, Parts, Sweep};

/// The caller's hold on a running search.
#[derive(Clone, Copy)]
pub struct Hold<'a> {
    /// Asked often; once it is true the search ends.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Told how many steps of how many are done, and what a step is.
    pub told: &'a (dyn Fn(&Stage, usize) + Sync),
}

impl Hold<'static> {
    /// Never stops, hears nothing.
    #[must_use]
    pub fn none() -> Hold<'static> {
        Hold { stop: &|| false, told: &|_, _| {} }
    }
}

/// A stage of the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    /// What is done one by one.
    pub what: &'static str,
    /// How many there are.
    pub of: usize,
}

/// The search was stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stopped {
    /// In which stage.
    pub stage: Stage,
    /// After how many.
    pub done: usize,
}

/// How all candidates stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    /// Candidates in all.
    pub candidates: usize,
    /// What can't be built, by the field it is reported at.
    pub cannot_build: BTreeMap<&'static str, usize>,
    /// Something fails.
    pub fails: usize,
    /// Nothing fails, but something needs design.
    pub needs_design: usize,
    /// Nothing else is wrong, but a finding waits for an input.
    pub not_checked: usize,
    /// Everything is met, but a piece is longer than every stick that can be bought.
    pub special: usize,
    /// Everything is met.
    pub meets: usize,
    /// Candidates that fail each rule, by its place in the walk.
    pub fails_by: Vec<usize>,
    /// Candidates that need design by each rule.
    pub design_by: Vec<usize>,
    /// Candidates in which each rule waits for an input.
    pub waits_by: Vec<usize>,
}

impl Tally {
    fn new() -> Tally {
        Tally {
            candidates: 0,
            cannot_build: BTreeMap::new(),
            fails: 0,
            needs_design: 0,
            not_checked: 0,
            special: 0,
            meets: 0,
            fails_by: vec![0; 128],
            design_by: vec![0; 128],
            waits_by: vec![0; 128],
        }
    }

    fn add(&mut self, other: &Tally) {
        self.candidates += other.candidates;
        for (key, count) in &other.cannot_build {
            *self.cannot_build.entry(key).or_default() += count;
        }
        self.fails += other.fails;
        self.needs_design += other.needs_design;
        self.not_checked += other.not_checked;
        self.special += other.special;
        self.meets += other.meets;
        for (own, of) in [
            (&mut self.fails_by, &other.fails_by),
            (&mut self.design_by, &other.design_by),
            (&mut self.waits_by, &other.waits_by),
        ] {
            for (sum, count) in own.iter_mut().zip(of) {
                *sum += count;
            }
        }
    }
}

/// What a search came to.
#[derive(Debug, Clone)]
pub struct Found {
    /// How all candidates stand.
    pub tally: Tally,
    /// Those that meet every rule and can be bought, with their figures, by place.
    pub meeting: Vec<(usize, Figures)>,
    /// Those that meet every rule with a piece longer than every stick that can be bought.
    pub special: Vec<(usize, Figures)>,
    /// Every section that any candidate is cut from.
    pub woods: Woods,
    standings: Standings,
}

impl Found {
    /// How any candidate stands; `None` if it can't be built.
    #[must_use]
    pub fn standing_of(&self, sweep: &Sweep, candidate: usize) -> Option<RulesFailed> {
        self.standings.of(sweep.parts(candidate)).ok()
    }
}

/// How the parts of all candidates stand.
#[derive(Debug, Clone)]
struct Standings {
    joists: usize,
    spacings: usize,
    /// Of each pattern its own, and the classes of its heel and of its overhang.
    patterns: Vec<Result<(RulesFailed, usize, usize), Unbuildable>>,
    /// Of each heel, spacing and joist, and there of each lumber.
    heels: Vec<Result<(RulesFailed, Vec<RulesFailed>), Unbuildable>>,
    /// Of each overhang and spacing.
    overhangs: Vec<RulesFailed>,
}

impl Standings {
    /// True if some lumber meets every rule here.
    fn any_meets(&self, at: Parts, lumbers: usize) -> bool {
        (0..lumbers).any(|lumber| {
            self.of(Parts { lumber, ..at })
                .is_ok_and(|standing| standing.verdict() == Verdict::Meets)
        })
    }

    fn of(&self, parts: Parts) -> Result<RulesFailed, Unbuildable> {
        let (own, heel, overhang) = self.patterns[parts.pattern]?;
        let bay = parts.spacing * self.joists + parts.joist;
        let at_heel = heel * self.spacings * self.joists + bay;
        let (of_heel, spans) = self.heels[at_heel].as_ref().map_err(|key| *key)?;
        Ok(own
            .and(*of_heel)
            .and(spans[parts.lumber])
            .and(self.overhangs[overhang * self.spacings + parts.spacing]))
    }
}

/// One pattern rafter with its eave.
struct Pattern {
    heel: HeelKey,
    overhang: u64,
    standing: RulesFailed,
    inner: Vec<Sticks>,
    end: Vec<Sticks>,
    fixed: Vec<Sticks>,
    roof_in2: f64,
}

/// What the rules of the heel depend on in a pattern: values of pitch, rafter, ridge, tail and blocking, then seat and
/// the place where anything else may start over the plate, bit by bit, and under outlookers the tail, from which
/// their places are counted: joists keep clear of them.
type HeelKey = ([usize; 5], [u64; 3]);

/// One heel with a spacing and a joist.
struct Heel {
    standing: RulesFailed,
    /// For each species and grade.
    spans: Vec<RulesFailed>,
    sticks: Vec<Sticks>,
    inner: u32,
    end: u32,
}

/// Stands every candidate before the rules and measures those that meet them.
///
/// # Errors
/// [`Stopped`] where the hold stops it.
pub fn search(sweep: &Sweep, prices: &Prices, hold: &Hold<'_>) -> Result<Found, Stopped> {
    let patterns: Vec<Result<Pattern, Unbuildable>> =
        stage(hold, "pattern rafters", sweep.patterns(), |number| pattern(sweep, number))?;
    let mut heels = Classes::default();
    let mut uplifts = Classes::default();
    let of_pattern: Vec<Option<(usize, usize)>> = patterns
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
            heel(sweep, parts(heels.first[number / bays], number % bays, joists))
        })?;
    let held_down: Vec<RulesFailed> =
        stage(hold, "overhangs", uplifts.first.len() * spacings, |number| {
            let (class, spacing) = (number / spacings, number % spacings);
            held_down(sweep, parts(uplifts.first[class], spacing * joists, joists))
        })?;
    let standings = Standings {
        joists,
        spacings,
        patterns: patterns
            .iter()
            .zip(&of_pattern)
            .map(|(pattern, classes)| match (pattern, classes) {
                (Ok(pattern), Some((heel, overhang))) => Ok((pattern.standing, *heel, *overhang)),
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
    let groups = groups_by_bay(&sweep.present);
    let by_bay: Vec<Result<Vec<Sticks>, Unbuildable>> = if groups.is_empty() {
        Vec::new()
    } else {
        stage(hold, "eaves", patterns.len() * bays, |number| {
            let at = parts(number / bays, number % bays, joists);
            if !standings.any_meets(at, sweep.lumbers()) {
                return Ok(Vec::new());
            }
            let plan = sweep.plan(sweep.candidate(at));
            Frame::of_groups(&plan.gable, &groups)
                .map(|frame| sticks_of(&frame.members, 1))
                .map_err(|why| field_of(&why))
        })?
    };

    let buy = &sweep.present.buy;
    let mut woods = Woods::default();
    let mut lump = |sticks: &[Sticks]| woods.lump(sticks, buy, prices);
    let of_patterns: Vec<Option<[Lump; 3]>> = patterns
        .iter()
        .map(|pattern| {
            let pattern = pattern.as_ref().ok()?;
            Some([lump(&pattern.inner), lump(&pattern.end), lump(&pattern.fixed)])
        })
        .collect();
    let of_heels: Vec<Option<Lump>> =
        at_heel.iter().map(|heel| heel.as_ref().ok().map(|heel| lump(&heel.sticks))).collect();
    let of_bays: Vec<Result<Lump, Unbuildable>> = by_bay
        .iter()
        .map(|sticks| sticks.as_ref().map(|sticks| lump(sticks)).map_err(|key| *key))
        .collect();
    // the walls' plates are the same for all, but the first candidates may be what can't be built
    let plates = patterns
        .iter()
        .position(Result::is_ok)
        .map(|first| sweep.plan(sweep.candidate(parts(first, 0, joists))))
        .and_then(|plan| Frame::of_groups(&plan.gable, &[Group::Plates]).ok())
        .map_or_else(Lump::default, |frame| lump(&sticks_of(&frame.members, 1)));
    let extra = woods.extra(buy, prices);

    // what meets every rule may still have no room at the eave or the rake
    let figures = |at: Parts| -> Result<Figures, Unbuildable> {
        let pattern = patterns[at.pattern].as_ref().map_err(|key| *key)?;
        let (Some([inner, end, fixed]), Some((heel, _))) =
            (&of_patterns[at.pattern], of_pattern[at.pattern])
        else {
            return Err(key!("roof.pitch"));
        };
        let bay = at.spacing * joists + at.joist;
        let of_heel = heel * bays + bay;
        let heel = at_heel[of_heel].as_ref().map_err(|key| *key)?;
        let of_bay = match of_bays.get(at.pattern * bays + bay) {
            Some(lump) => Some(lump.as_ref().map_err(|key| *key)?),
            None => None,
        };
        let lumps = [(inner, heel.inner), (end, heel.end), (fixed, 1), (&plates, 1), (&extra, 1)];
        let rest = of_heels[of_heel].iter().chain(of_bay);
        Ok(woods.figures(
            lumps.into_iter().chain(rest.map(|lump| (lump, 1))),
            sweep.lumber(at.lumber).0,
            pattern.roof_in2,
        ))
    };
    let judged = stage(hold, "candidates by pattern rafter", patterns.len(), |pattern| {
        judge(sweep, pattern, &standings, &figures)
    })?;
    let mut tally = Tally::new();
    let (mut meeting, mut special) = (Vec::new(), Vec::new());
    for (of_one, met) in judged {
        tally.add(&of_one);
        for (place, figures) in met {
            if figures.special == 0 {
                meeting.push((place, figures));
            } else {
                special.push((place, figures));
            }
        }
    }
    Ok(Found { tally, meeting, special, woods, standings })
}

/// Stands the candidates of one pattern before the rules, and measures those that meet them.
fn judge(
    sweep: &Sweep,
    pattern: usize,
    standings: &Standings,
    figures: &impl Fn(Parts) -> Result<Figures, Unbuildable>,
) -> (Tally, Vec<(usize, Figures)>) {
    let mut tally = Tally::new();
    let mut meeting = Vec::new();
    let lumbers = sweep.lumbers();
    for bay in 0..standings.spacings * standings.joists {
        for lumber in 0..lumbers {
            let at = Parts { lumber, ..parts(pattern, bay, standings.joists) };
            tally.candidates += 1;
            let standing = match standings.of(at) {
                Ok(standing) => standing,
                Err(key) => {
                    *tally.cannot_build.entry(key.name()).or_default() += 1;
                    continue;
                }
            };
            count(standing.fails, &mut tally.fails_by);
            count(standing.needs_design, &mut tally.design_by);
            count(standing.not_checked, &mut tally.waits_by);
            match standing.verdict() {
                Verdict::Fails => tally.fails += 1,
                Verdict::NeedsDesign => tally.needs_design += 1,
                Verdict::NotChecked => tally.not_checked += 1,
                Verdict::Meets => match figures(at) {
                    Ok(figures) => {
                        if figures.special == 0 {
                            tally.meets += 1;
                        } else {
                            tally.special += 1;
                        }
                        meeting.push((sweep.candidate(at), figures));
                    }
                    Err(key) => *tally.cannot_build.entry(key.name()).or_default() += 1,
                },
            }
        }
    }
    (tally, meeting)
}

/// Does `of` steps on all threads, in order of their number, unless stopped.
fn stage<T: Send>(
    hold: &Hold<'_>,
    what: &'static str,
    of: usize,
    step: impl Fn(usize) -> T + Sync,
) -> Result<Vec<T>, Stopped> {
    let stage = Stage { what, of };
    let done = AtomicUsize::new(0);
    let steps: Option<Vec<T>> = (0..of)
        .into_par_iter()
        .map(|number| {
            if (hold.stop)() {
                return None;
            }
            let result = step(number);
            (hold.told)(&stage, done.fetch_add(1, Ordering::Relaxed) + 1);
            Some(result)
        })
        .collect();
    steps.ok_or_else(|| Stopped { stage, done: done.load(Ordering::Relaxed) })
}

/// Patterns that are alike, told by the first of each kind.
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

fn parts(pattern: usize, bay: usize, joists: usize) -> Parts {
    Parts { pattern, spacing: bay / joists, joist: bay % joists, lumber: 0 }
}

/// Groups whose sticks depend on pattern, spacing and joist all at once in this roof.
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

/// True if boards along the eave are pieced, for joints lie on rafters.
fn pieced_boards(plan: &OrderPlan) -> bool {
    (plan.gable.length + plan.gable.rake * 2.0).inches() > plan.gable.longest.inches() + HAIR
}

fn pattern(sweep: &Sweep, number: usize) -> Result<Pattern, Unbuildable> {
    let candidate = sweep.candidate(parts(number, 0, 1));
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
