//! Diving: fix the whole part of the relaxation, solve again, round one pattern up if nothing is whole,
//! and so on to the end of the demand; near the top, try a few second choices (limited discrepancy
//! search). A failed dive leaves a small remainder, which is solved as a separate problem, from a few
//! steps back.

use super::control::Control;
use super::greedy;
use super::incumbent::Incumbent;
use super::instance::{Instance, Packing, Pattern};
use super::master::{End, Master};

/// Most pieces for which the remainder of a failed dive is solved.
const REST: i64 = 140;

/// How wide a dive looks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Width {
    /// How many second choices in all.
    pub(super) discrepancies: usize,
    /// Down to which depth.
    pub(super) depth: usize,
    /// The solver for the remainder of a failed dive, if there is one.
    pub(super) rest: Option<RestSolver>,
}

/// Looks for a packing below a given cost; also returns the number of relaxations used.
pub(super) type RestSolver = fn(&Instance, i64, &Control<'_>) -> (Option<Packing>, u64);

/// Dives from a master, solved or not, and improves the incumbent; ends when `until` relaxations have
/// been used in total.
pub(super) fn dive(
    mut master: Master<'_>,
    mut fixed: Packing,
    width: Width,
    until: u64,
    incumbent: &mut Incumbent,
    control: &Control<'_>,
) {
    let instance = master.instance;
    master.hurried = true;
    let mut trail: Vec<Packing> = Vec::new();
    loop {
        if incumbent.is_closed() || control.stopped() || incumbent.relaxations >= until {
            return;
        }
        if master.demand.iter().all(|&d| d == 0) {
            incumbent.offer(instance, &fixed);
            return;
        }
        incumbent.relaxations += 1;
        if incumbent.relaxations.is_multiple_of(16) {
            incumbent.tell(control);
        }
        let relaxed = master.solve(incumbent.upper - fixed.cost, control);
        if relaxed.end != End::Solved || master.uncut() > 1e-6 {
            if let Some(solver) = width.rest
                && relaxed.end == End::Pruned
            {
                let failed = master.demand.iter().sum();
                solve_rest(instance, failed, &trail, solver, incumbent, control);
            }
            return;
        }
        if width.rest.is_some() {
            trail.push(fixed.clone());
        }
        complete_greedily(&master, &fixed, &relaxed.profit, incumbent);
        if commit_whole(&mut master, &mut fixed) {
            continue;
        }
        let fractional = fractional(&master);
        let Some(first) = fractional.first() else {
            return;
        };
        if width.discrepancies > 0 && width.depth > 0 {
            let choices = (width.discrepancies + 1).min(fractional.len());
            for (rank, &p) in fractional.iter().take(choices).enumerate() {
                let mut child = master.clone();
                for &earlier in &fractional[..rank] {
                    child.ban(earlier);
                }
                let pattern = master.patterns[p].clone();
                child.commit(&pattern, 1);
                let mut with = fixed.clone();
                with.push(instance, pattern, 1);
                let narrower = Width {
                    discrepancies: width.discrepancies - rank,
                    depth: width.depth - 1,
                    ..width
                };
                dive(child, with, narrower, until, incumbent, control);
            }
            return;
        }
        let pattern = master.patterns[*first].clone();
        master.commit(&pattern, 1);
        fixed.push(instance, pattern, 1);
    }
}

/// Fixes the whole part of the relaxation; false if there is none.
fn commit_whole(master: &mut Master<'_>, fixed: &mut Packing) -> bool {
    let whole: Vec<(Pattern, i64)> = (0..master.patterns.len())
        .map(|p| (p, (master.value(p) + 1e-6).floor() as i64))
        .filter(|&(_, times)| times >= 1)
        .map(|(p, times)| (master.patterns[p].clone(), times))
        .collect();
    let any = !whole.is_empty();
    for (pattern, times) in whole {
        let times = times.min(useful(master, &pattern));
        if times > 0 {
            master.commit(&pattern, times);
            fixed.push(master.instance, pattern, times);
        }
    }
    any
}

/// The patterns in use, the most used first.
fn fractional(master: &Master<'_>) -> Vec<usize> {
    let mut used: Vec<(f64, usize)> = (0..master.patterns.len())
        .map(|p| (master.value(p), p))
        .filter(|&(x, _)| x > 1e-6)
        .collect();
    used.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    used.into_iter().map(|(_, p)| p).collect()
}

/// Solves what a failed dive left, starting where about twice as many pieces were left. The trail is
/// what was fixed on the way.
pub(super) fn solve_rest(
    instance: &Instance,
    failed: i64,
    trail: &[Packing],
    solver: RestSolver,
    incumbent: &mut Incumbent,
    control: &Control<'_>,
) {
    let most = (2 * failed + 10).min(REST);
    let rests = trail.iter().map(|fixed| (fixed, instance.without(fixed)));
    let Some((fixed, (rest, kinds))) =
        rests.into_iter().find(|(_, (rest, _))| rest.demand.iter().sum::<i64>() <= most)
    else {
        return;
    };
    let (found, relaxations) = solver(&rest, incumbent.upper - fixed.cost, control);
    incumbent.relaxations += relaxations;
    if let Some(last) = found {
        let last = last.patterns.into_iter().map(|(mut pattern, times)| {
            for (item, _) in &mut pattern.takes {
                *item = kinds[*item as usize];
            }
            (pattern, times)
        });
        let all = Packing::of(instance, fixed.patterns.iter().cloned().chain(last));
        incumbent.offer(instance, &all);
    }
}

/// The most times a pattern can be cut without cutting more than is still wanted.
fn useful(master: &Master<'_>, pattern: &Pattern) -> i64 {
    pattern
        .takes
        .iter()
        .map(|&(i, a)| (master.demand[i as usize] + i64::from(a) - 1) / i64::from(a))
        .max()
        .unwrap_or(0)
        .min(master.counts[pattern.bar].1)
}

/// Completes the fixed part with quick plans for the rest.
fn complete_greedily(
    master: &Master<'_>,
    fixed: &Packing,
    profit: &[i64],
    incumbent: &mut Incumbent,
) {
    let instance = master.instance;
    let mut tries = Vec::new();
    for k in 0..instance.bars.len() {
        if master.counts[k].1 > 0 {
            tries.extend(greedy::best_fit(instance, &master.demand, &master.counts, k));
        }
    }
    let worth: Vec<f64> = profit.iter().map(|&p| (p as f64).max(1.0)).collect();
    if instance.items() as i64 * instance.largest_capacity() < 400_000 {
        tries.extend(greedy::best_pattern_each(instance, &master.demand, &master.counts, &worth));
    }
    for rest in tries {
        let mut all = fixed.clone();
        for (pattern, times) in rest.patterns {
            all.push(instance, pattern, times);
        }
        incumbent.offer(instance, &all);
    }
}
