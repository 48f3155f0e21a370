//! Every candidate checked against the rules, without framing each of them.
//!
//! A candidate is a pattern rafter with its eave, a spacing, a joist and lumber. The rules are checked
//! part by part ([`Part`]), each part once for all candidates that agree in what it depends on. Sticks
//! are measured the same way, group by group ([`Group`]). Values that patterns share beyond their own
//! inputs (seat, overhang) are compared to the last bit. A test on random candidates checks that the
//! parts add up to the whole roof.

use crate::frame::{Frame, Group};
use crate::key;
use crate::order::Prices;
use crate::rules::Verdict;

use super::alike::Alike;
use super::figures::{Figures, Lump, Sticks, Woods, sticks_of};
use super::hold::{Hold, Stopped, stage};
use super::standing::{RulesFailed, Standings, Unbuildable, count};
use super::sweep::{Parts, Sweep};
use super::tally::Tally;

/// The result of a search.
#[derive(Debug, Clone)]
pub struct Found {
    /// The verdicts of all candidates.
    pub tally: Tally,
    /// Those that meet every rule and can be bought, with their figures, by index.
    pub meeting: Vec<(usize, Figures)>,
    /// Those that meet every rule with a piece longer than every stick that can be bought.
    pub special: Vec<(usize, Figures)>,
    /// Every section that any candidate is cut from.
    pub woods: Woods,
    standings: Standings,
}

impl Found {
    /// The verdict of any candidate; `None` if it can't be built.
    #[must_use]
    pub fn standing_of(&self, sweep: &Sweep, candidate: usize) -> Option<RulesFailed> {
        self.standings.of(sweep.parts(candidate)).ok()
    }
}

/// What the sticks of the parts come to.
struct Lumps<'a> {
    sweep: &'a Sweep,
    alike: &'a Alike,
    woods: Woods,
    /// Inner pair, end pair and the rest of each pattern; `None` if it can't be built.
    patterns: Vec<Option<[Lump; 3]>>,
    heels: Vec<Option<Lump>>,
    bays: Vec<Result<Lump, Unbuildable>>,
    /// The walls' plates, the same for all.
    plates: Lump,
    /// Pieces beyond the frame.
    extra: Lump,
}

impl<'a> Lumps<'a> {
    fn of(sweep: &'a Sweep, alike: &'a Alike, prices: &Prices) -> Lumps<'a> {
        let buy = &sweep.present.buy;
        let mut woods = Woods::default();
        let mut lump = |sticks: &[Sticks]| woods.lump(sticks, buy, prices);
        let patterns = alike
            .patterns
            .iter()
            .map(|pattern| {
                let pattern = pattern.as_ref().ok()?;
                Some([lump(&pattern.inner), lump(&pattern.end), lump(&pattern.fixed)])
            })
            .collect();
        let heels = alike
            .heels
            .iter()
            .map(|heel| heel.as_ref().ok().map(|heel| lump(&heel.sticks)))
            .collect();
        let bays = alike
            .bays
            .iter()
            .map(|sticks| sticks.as_ref().map(|sticks| lump(sticks)).map_err(|key| *key))
            .collect();
        // the first candidates may be what can't be built
        let plates = alike
            .patterns
            .iter()
            .position(Result::is_ok)
            .map(|first| sweep.plan(sweep.candidate(Parts::of_bay(first, 0, 1))))
            .and_then(|plan| Frame::of_groups(&plan.gable, &[Group::Plates]).ok())
            .map_or_else(Lump::default, |frame| lump(&sticks_of(&frame.members, 1)));
        let extra = woods.extra(buy, prices);
        Lumps { sweep, alike, woods, patterns, heels, bays, plates, extra }
    }

    /// The figures of a candidate. What meets every rule may still have no room at the eave or the rake.
    fn figures(&self, at: Parts) -> Result<Figures, Unbuildable> {
        let alike = self.alike;
        let pattern = alike.patterns[at.pattern].as_ref().map_err(|key| *key)?;
        let (Some([inner, end, fixed]), Some(heel)) =
            (&self.patterns[at.pattern], alike.heel_of[at.pattern])
        else {
            return Err(key!("roof.pitch"));
        };
        let (bays, bay) = (alike.standings.bays(), at.spacing * alike.standings.joists + at.joist);
        let of_heel = heel * bays + bay;
        let heel = alike.heels[of_heel].as_ref().map_err(|key| *key)?;
        let of_bay = match self.bays.get(at.pattern * bays + bay) {
            Some(lump) => Some(lump.as_ref().map_err(|key| *key)?),
            None => None,
        };
        let lumps =
            [(inner, heel.inner), (end, heel.end), (fixed, 1), (&self.plates, 1), (&self.extra, 1)];
        let rest = self.heels[of_heel].iter().chain(of_bay);
        Ok(self.woods.figures(
            lumps.into_iter().chain(rest.map(|lump| (lump, 1))),
            self.sweep.lumber(at.lumber).0,
            pattern.roof_in2,
        ))
    }
}

/// Checks every candidate against the rules and measures those that meet them.
///
/// # Errors
/// [`Stopped`] if the hold stops it.
pub fn search(sweep: &Sweep, prices: &Prices, hold: &Hold<'_>) -> Result<Found, Stopped> {
    let alike = Alike::find(sweep, hold)?;
    let lumps = Lumps::of(sweep, &alike, prices);
    let judged = stage(hold, "candidates by pattern rafter", alike.patterns.len(), |pattern| {
        judge(pattern, &lumps)
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
    let woods = lumps.woods;
    Ok(Found { tally, meeting, special, woods, standings: alike.standings })
}

/// Checks the candidates of one pattern against the rules, and measures those that meet them.
fn judge(pattern: usize, lumps: &Lumps<'_>) -> (Tally, Vec<(usize, Figures)>) {
    let mut tally = Tally::new();
    let mut meeting = Vec::new();
    let (sweep, standings) = (lumps.sweep, &lumps.alike.standings);
    let lumbers = sweep.lumbers();
    for bay in 0..standings.bays() {
        for lumber in 0..lumbers {
            let at = Parts { lumber, ..Parts::of_bay(pattern, bay, standings.joists) };
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
                Verdict::Meets => match lumps.figures(at) {
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
