//! One unknown: roots of a function, and where a condition holds, each with its bracket.
//!
//! Works on numbers only and knows nothing about roofs. A function may be undefined in places (`None`:
//! nothing can be built there) and may jump. Nothing is assumed about its shape beyond what a scan
//! shows. Every sign change between two neighbors of the scan is closed in by halving. Every dip toward
//! zero is followed to its bottom, so that two roots within one step are found too.

/// Residual, in the function's unit, at which a root counts as met.
pub const RESIDUAL: f64 = 1e-9;
/// Two roots nearer than this are one.
const SAME: f64 = 1e-7;
/// Most halvings of a bracket: a double has no more bits.
const MOST_HALVINGS: u32 = 200;
/// Narrowest bracket, as a part of the numbers in it.
const LAST_BITS: f64 = 4.0 * f64::EPSILON;
/// Most steps toward the bottom of a dip.
const MOST_DIP_STEPS: u32 = 64;

/// A value at which the function is zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    /// The value.
    pub value: f64,
    /// What the function leaves there.
    pub residual: f64,
    /// The final bracket: the sign changes between its ends. Both are the value itself if the function
    /// is met exactly or touches zero without crossing it.
    pub bracket: (f64, f64),
    /// How the bracket was closed.
    pub halvings: u32,
    /// True if the function touches zero here without crossing it.
    pub touches: bool,
}

/// A place where the function jumps over zero: no value there meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jump {
    /// Just before it, and the function there.
    pub below: (f64, f64),
    /// Just after it, and the function there.
    pub above: (f64, f64),
}

/// A stretch all along which the function is zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Everything that a search for roots found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Isolated roots, in order.
    pub roots: Vec<Root>,
    /// Stretches of roots.
    pub stretches: Vec<Stretch>,
    /// Leaps over zero.
    pub jumps: Vec<Jump>,
    /// Where the function is least, and its value there; `None` if it is defined nowhere.
    pub least: Option<(f64, f64)>,
    /// Where it is greatest.
    pub greatest: Option<(f64, f64)>,
    /// How often the function was evaluated.
    pub evaluations: u32,
}

impl Found {
    /// True if the function does not move at all.
    #[must_use]
    pub fn is_flat(&self) -> bool {
        match (self.least, self.greatest) {
            (Some((_, least)), Some((_, greatest))) => greatest - least <= RESIDUAL,
            _ => false,
        }
    }
}

/// A function that counts its evaluations.
struct Counted<F> {
    function: F,
    asked: u32,
}

impl<F: FnMut(f64) -> Option<f64>> Counted<F> {
    fn at(&mut self, value: f64) -> Option<f64> {
        self.asked += 1;
        (self.function)(value).filter(|found| found.is_finite())
    }
}

/// One value of the scan with the function there.
type Point = (f64, f64);

/// Every root of `function` over the ascending `nodes`.
pub fn roots(nodes: &[f64], function: impl FnMut(f64) -> Option<f64>) -> Found {
    let mut counted = Counted { function, asked: 0 };
    let runs = defined_runs(nodes, &mut counted);
    let mut found = Found {
        roots: Vec::new(),
        stretches: Vec::new(),
        jumps: Vec::new(),
        least: None,
        greatest: None,
        evaluations: 0,
    };
    for run in &runs {
        stretches(run, &mut counted, &mut found);
        crossings(run, &mut counted, &mut found);
        dips(run, &mut counted, &mut found);
    }
    let all = || runs.iter().flatten().copied();
    found.least = all().min_by(|a, b| a.1.total_cmp(&b.1));
    found.greatest = all().max_by(|a, b| a.1.total_cmp(&b.1));
    tidy(&mut found);
    found.evaluations = counted.asked;
    found
}

/// The scan, divided where the function is undefined; each part reaches to its exact edge.
fn defined_runs<F>(nodes: &[f64], counted: &mut Counted<F>) -> Vec<Vec<Point>>
where
    F: FnMut(f64) -> Option<f64>,
{
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut before: Option<(f64, Option<f64>)> = None;
    for &node in nodes {
        let here = counted.at(node);
        if let Some((last, there)) = before
            && there.is_some() != here.is_some()
        {
            let (inside, outside) = if here.is_some() { (node, last) } else { (last, node) };
            let edge = edge_of(inside, outside, |value| counted.at(value).is_some());
            let value = edge.0;
            if let Some(found) = counted.at(value) {
                if here.is_some() {
                    runs.push(vec![(value, found)]);
                } else if let Some(run) = runs.last_mut()
                    && value > last
                {
                    run.push((value, found));
                }
            }
        } else if here.is_some() && there_is_none(before) {
            runs.push(Vec::new());
        }
        if let (Some(found), Some(run)) = (here, runs.last_mut())
            && run.last().is_none_or(|(last, _)| *last < node)
        {
            run.push((node, found));
        }
        before = Some((node, here));
    }
    runs
}

fn there_is_none(before: Option<(f64, Option<f64>)>) -> bool {
    before.is_none_or(|(_, found)| found.is_none())
}

/// The last value inside and the first one outside, by halving between the two.
fn edge_of(
    mut inside: f64,
    mut outside: f64,
    mut holds: impl FnMut(f64) -> bool,
) -> (f64, f64, u32) {
    let mut halvings = 0;
    while halvings < MOST_HALVINGS && !is_closed(inside, outside) {
        let middle = f64::midpoint(inside, outside);
        if holds(middle) {
            inside = middle;
        } else {
            outside = middle;
        }
        halvings += 1;
    }
    (inside, outside, halvings)
}

fn is_closed(one: f64, other: f64) -> bool {
    (one - other).abs() <= LAST_BITS * one.abs().max(other.abs()).max(1e-3)
}

fn is_met(found: f64) -> bool {
    found.abs() <= RESIDUAL
}

fn stretches<F>(run: &[Point], counted: &mut Counted<F>, found: &mut Found)
where
    F: FnMut(f64) -> Option<f64>,
{
    let mut at = 0;
    while at < run.len() {
        let end = run[at..]
            .iter()
            .position(|point| !is_met(point.1))
            .map_or(run.len(), |count| at + count);
        if end - at >= 2 {
            let mut met = |value: f64| counted.at(value).is_some_and(is_met);
            let from = match at.checked_sub(1) {
                Some(before) => edge_of(run[at].0, run[before].0, &mut met).0,
                None => run[at].0,
            };
            let to = match run.get(end) {
                Some(after) => edge_of(run[end - 1].0, after.0, &mut met).0,
                None => run[end - 1].0,
            };
            found.stretches.push(Stretch { from, to });
        }
        at = end.max(at + 1);
    }
}

fn crossings<F>(run: &[Point], counted: &mut Counted<F>, found: &mut Found)
where
    F: FnMut(f64) -> Option<f64>,
{
    for &(value, residual) in run.iter().filter(|point| is_met(point.1)) {
        found.roots.push(on_the_spot(value, residual));
    }
    for pair in run.windows(2) {
        if !is_met(pair[0].1) && !is_met(pair[1].1) && pair[0].1 * pair[1].1 < 0.0 {
            close(pair[0], pair[1], counted, found);
        }
    }
}

fn on_the_spot(value: f64, residual: f64) -> Root {
    Root { value, residual, bracket: (value, value), halvings: 0, touches: false }
}

/// Halves a bracket across which the sign changes, down to the last bits.
fn close<F>(low: Point, high: Point, counted: &mut Counted<F>, found: &mut Found)
where
    F: FnMut(f64) -> Option<f64>,
{
    let (mut low, mut high) = (low, high);
    let mut halvings = 0;
    while halvings < MOST_HALVINGS && !is_closed(low.0, high.0) {
        let middle = f64::midpoint(low.0, high.0);
        halvings += 1;
        match counted.at(middle) {
            Some(0.0) => {
                found.roots.push(Root {
                    value: middle,
                    residual: 0.0,
                    bracket: (low.0, high.0),
                    halvings,
                    touches: false,
                });
                return;
            }
            Some(there) if there * low.1 > 0.0 => low = (middle, there),
            Some(there) => high = (middle, there),
            // a hole in the bracket: nothing can be built there, so the sign jumps
            None => break,
        }
    }
    let best = if low.1.abs() <= high.1.abs() { low } else { high };
    if is_met(best.1) {
        found.roots.push(Root {
            value: best.0,
            residual: best.1,
            bracket: (low.0, high.0),
            halvings,
            touches: false,
        });
    } else {
        found.jumps.push(Jump { below: low, above: high });
    }
}

/// Follows every dip toward zero that does not cross zero on the scan.
fn dips<F>(run: &[Point], counted: &mut Counted<F>, found: &mut Found)
where
    F: FnMut(f64) -> Option<f64>,
{
    for three in run.windows(3) {
        let sign = three[1].1.signum();
        let same = three.iter().all(|point| !is_met(point.1) && point.1 * sign > 0.0);
        let size = |at: usize| three[at].1.abs();
        // a level stretch is no dip, nor are its last bits
        let lower = size(0).max(size(2)) - size(1) > RESIDUAL;
        if same && lower && size(1) <= size(0) && size(1) <= size(2) {
            bottom(three[0], three[1], three[2], counted, found);
        }
    }
}

fn bottom<F>(low: Point, middle: Point, high: Point, counted: &mut Counted<F>, found: &mut Found)
where
    F: FnMut(f64) -> Option<f64>,
{
    let golden = f64::midpoint(-1.0, 5.0_f64.sqrt());
    let sign = middle.1.signum();
    let (mut from, mut to) = (low.0, high.0);
    let mut best = middle;
    for _ in 0..MOST_DIP_STEPS {
        if is_closed(from, to) {
            break;
        }
        let left = to - (to - from) * golden;
        let right = from + (to - from) * golden;
        let (Some(at_left), Some(at_right)) = (counted.at(left), counted.at(right)) else {
            return;
        };
        for point in [(left, at_left), (right, at_right)] {
            if point.1 * sign < 0.0 {
                // two roots within one step of the scan
                close(low, point, counted, found);
                close(point, high, counted, found);
                return;
            }
            if point.1.abs() < best.1.abs() {
                best = point;
            }
        }
        if at_left.abs() < at_right.abs() {
            to = right;
        } else {
            from = left;
        }
    }
    if is_met(best.1) {
        found.roots.push(Root { touches: true, ..on_the_spot(best.0, best.1) });
    }
}

/// Roots in order, each once, without those inside an interval of zeros.
fn tidy(found: &mut Found) {
    found.stretches.dedup_by(|a, b| a.from <= b.to + SAME);
    let stretches = found.stretches.clone();
    found.roots.retain(|root| {
        !stretches
            .iter()
            .any(|stretch| (stretch.from - SAME..=stretch.to + SAME).contains(&root.value))
    });
    found.roots.sort_by(|a, b| a.value.total_cmp(&b.value));
    found.roots.dedup_by(|a, b| (a.value - b.value).abs() <= SAME);
}

/// One end of an interval in which a condition holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// The last value at which it holds.
    pub inside: f64,
    /// The first one at which it does not; `None` at the end of the range that was tried.
    pub outside: Option<f64>,
    /// Halvings between the two.
    pub halvings: u32,
}

/// An interval in which a condition holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub from: End,
    /// Its upper end.
    pub to: End,
}

/// Every interval of the ascending `nodes` in which `holds`, and how often it was evaluated.
pub fn intervals(nodes: &[f64], mut holds: impl FnMut(f64) -> bool) -> (Vec<Interval>, u32) {
    let mut asked = 0;
    let mut ask = |value: f64| {
        asked += 1;
        holds(value)
    };
    let mut list: Vec<Interval> = Vec::new();
    let mut open: Option<End> = None;
    let mut before: Option<(f64, bool)> = None;
    for &node in nodes {
        let here = ask(node);
        match (before, here) {
            (None, true) => open = Some(at_the_limit(node)),
            (Some((last, false)), true) => {
                let (inside, outside, halvings) = edge_of(node, last, &mut ask);
                open = Some(End { inside, outside: Some(outside), halvings });
            }
            (Some((last, true)), false) => {
                let (inside, outside, halvings) = edge_of(last, node, &mut ask);
                if let Some(from) = open.take() {
                    list.push(Interval {
                        from,
                        to: End { inside, outside: Some(outside), halvings },
                    });
                }
            }
            _ => {}
        }
        before = Some((node, here));
    }
    if let (Some(from), Some((last, true))) = (open, before) {
        list.push(Interval { from, to: at_the_limit(last) });
    }
    (list, asked)
}

fn at_the_limit(value: f64) -> End {
    End { inside: value, outside: None, halvings: 0 }
}

/// Evenly spaced values from `from` to `to`, at most `step` apart, plus the values in `more`.
#[must_use]
pub fn nodes(from: f64, to: f64, step: f64, more: &[f64]) -> Vec<f64> {
    let count = ((to - from) / step).ceil().max(1.0) as u32;
    let own: Vec<f64> = more.iter().copied().filter(|value| (from..=to).contains(value)).collect();
    // a step that is one of them but for its last bits would make a stretch of what is met in one place
    let apart = |value: &f64| own.iter().all(|other| !is_closed(*other, *value));
    let mut list: Vec<f64> = (0..=count)
        .map(|at| from + (to - from) * f64::from(at) / f64::from(count))
        .filter(apart)
        .collect();
    list.extend(&own);
    list.sort_by(f64::total_cmp);
    list.dedup();
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;

    fn scan() -> Vec<f64> {
        nodes(0.0, 10.0, 0.5, &[])
    }

    fn values(found: &Found) -> Vec<f64> {
        found.roots.iter().map(|root| root.value).collect()
    }

    #[test]
    fn one_root_is_bracketed_to_the_last_bits() {
        assert!(roots(&scan(), |_| Some(1.0)).evaluations < 30);
        let found = roots(&scan(), |x| Some(x * x - 2.0));
        assert_eq!(found.roots.len(), 1);
        let root = found.roots[0];
        assert_abs_diff_eq!(root.value, 2.0_f64.sqrt(), epsilon = 1e-14);
        assert!(root.bracket.0 <= 2.0_f64.sqrt() && 2.0_f64.sqrt() <= root.bracket.1);
        assert!(root.bracket.1 - root.bracket.0 < 1e-14);
        assert!(root.residual.abs() <= RESIDUAL && root.halvings > 40);
    }

    #[test]
    fn two_roots_in_one_step_are_both_found_and_a_touch_is_one() {
        let found = roots(&scan(), |x| Some((x - 3.1) * (x - 3.3)));
        let both = values(&found);
        assert_eq!(both.len(), 2, "{both:?}");
        assert_abs_diff_eq!(both[0], 3.1, epsilon = 1e-9);
        assert_abs_diff_eq!(both[1], 3.3, epsilon = 1e-9);
        let touch = roots(&scan(), |x| Some(-(x - 3.2).powi(2)));
        assert_eq!(touch.roots.len(), 1);
        assert!(touch.roots[0].touches);
        assert_abs_diff_eq!(touch.roots[0].value, 3.2, epsilon = 1e-4);
        let none = roots(&scan(), |x| Some((x - 3.2).powi(2) + 1e-6));
        assert!(none.roots.is_empty());
    }

    #[test]
    fn a_leap_over_zero_is_no_root() {
        let found = roots(&scan(), |x| Some(if x < 4.3 { x - 6.0 } else { x }));
        assert!(found.roots.is_empty());
        assert_eq!(found.jumps.len(), 1);
        let jump = found.jumps[0];
        assert_abs_diff_eq!(jump.below.0, 4.3, epsilon = 1e-12);
        assert_abs_diff_eq!(jump.below.1, -1.7, epsilon = 1e-9);
        assert_abs_diff_eq!(jump.above.1, 4.3, epsilon = 1e-9);
    }

    #[test]
    fn the_edge_of_what_can_be_built_is_searched_too() {
        // defined from 2.2 on only, where it starts at -0.01 and crosses at once
        let found = roots(&scan(), |x| (x >= 2.2).then_some(x - 2.21));
        assert_abs_diff_eq!(found.roots[0].value, 2.21, epsilon = 1e-12);
        assert_abs_diff_eq!(found.least.unwrap().0, 2.2, epsilon = 1e-12);
        // and up to 7.7 only
        let found = roots(&scan(), |x| (x <= 7.7).then_some(x - 7.69));
        assert_abs_diff_eq!(found.roots[0].value, 7.69, epsilon = 1e-12);
        assert_eq!(roots(&scan(), |_| None).least, None);
    }

    #[test]
    fn a_stretch_of_roots_is_told_as_one() {
        let found = roots(&scan(), |x| Some((x - 6.25).max(0.0)));
        assert!(found.roots.is_empty());
        assert_eq!(found.stretches.len(), 1);
        assert_eq!(found.stretches[0].from, 0.0);
        assert_abs_diff_eq!(found.stretches[0].to, 6.25, epsilon = 2e-9);
        assert!(roots(&scan(), |_| Some(1.0)).is_flat());
    }

    #[test]
    fn intervals_are_bracketed_on_both_sides() {
        let (list, _) = intervals(&scan(), |x| (2.0..=4.25).contains(&x) || x > 9.9);
        assert_eq!(list.len(), 2);
        assert_eq!(list[0].from.inside, 2.0);
        assert_eq!(list[0].to.inside, 4.25);
        assert!(list[0].to.outside.unwrap() > 4.25);
        assert_eq!(list[1].to.outside, None);
        assert_eq!(intervals(&scan(), |_| false).0, []);
    }

    proptest! {
        /// A cubic with three known roots far enough apart for the scan, at any scale.
        #[test]
        fn every_root_of_a_cubic(a in 0.1_f64..3.0, b in 3.2_f64..6.4, c in 6.6_f64..9.9, scale in 1e-3_f64..1e3) {
            let found = roots(&scan(), |x| Some(scale * (x - a) * (x - b) * (x - c)));
            let list = values(&found);
            prop_assert_eq!(list.len(), 3);
            for (root, expected) in list.iter().zip([a, b, c]) {
                prop_assert!((root - expected).abs() < 1e-6);
            }
        }
    }

    /// x - 2.5 on whole numbers: one halving of 2 to 3 finds it. x - 3 is met on a node itself, without any.
    #[test]
    fn halvings_are_counted_from_the_nodes_around_the_root() {
        let whole = nodes(0.0, 10.0, 1.0, &[]);
        assert_eq!(whole.len(), 11);
        let half = roots(&whole, |x| Some(x - 2.5)).roots;
        let [root] = half.as_slice() else { panic!("{half:?}") };
        assert_eq!((root.value, root.residual, root.halvings), (2.5, 0.0, 1));
        assert_eq!((root.bracket, root.touches), ((2.0, 3.0), false));
        let on_node = roots(&whole, |x| Some(3.0 - x)).roots;
        let [root] = on_node.as_slice() else { panic!("{on_node:?}") };
        assert_eq!((root.value, root.halvings, root.bracket), (3.0, 0, (3.0, 3.0)));
        // at the ends too
        for end in [0.0, 10.0] {
            let found = roots(&whole, |x| Some(x - end)).roots;
            assert_eq!(found.len(), 1, "{end}: {found:?}");
            assert_eq!(found[0].value, end);
        }
        // three quarters: two halvings, whichever way it rises
        for sign in [1.0, -1.0] {
            let found = roots(&whole, |x| Some(sign * (x - 6.75))).roots;
            assert_eq!(found.len(), 1);
            assert_eq!((found[0].value, found[0].halvings), (6.75, 2));
            assert_eq!(found[0].bracket, (6.5, 7.0));
        }
    }

    /// What is met all along is a stretch, and not one root after another.
    #[test]
    fn a_stretch_is_met_from_end_to_end() {
        let whole = nodes(0.0, 10.0, 1.0, &[]);
        let found = roots(&whole, |x| Some(if x < 2.5 { x - 2.5 } else { (x - 6.25).max(0.0) }));
        let [stretch] = found.stretches.as_slice() else { panic!("{:?}", found.stretches) };
        assert_abs_diff_eq!(stretch.from, 2.5, epsilon = 1e-8);
        assert_abs_diff_eq!(stretch.to, 6.25, epsilon = 1e-8);
        assert!(found.roots.is_empty(), "{:?}", found.roots);
        let all = roots(&whole, |_| Some(0.0));
        assert_eq!((all.stretches[0].from, all.stretches[0].to), (0.0, 10.0));
        assert_eq!((all.stretches.len(), all.roots.len()), (1, 0));
    }

    /// A value that is named falls on a step but for its last bits, as the middle of a building of 24 ft in 400 parts: it is there once, and
    /// what is met there is one root.
    #[test]
    fn a_value_that_is_named_stands_once() {
        let scan = nodes(288.0 / 400.0, 288.0 - 288.0 / 400.0, 288.0 / 400.0, &[144.0, 144.0]);
        let near = scan.iter().filter(|value| (**value - 144.0).abs() < 0.01).count();
        assert_eq!(near, 1);
        assert!(scan.contains(&144.0) && scan.is_sorted());
        let found = roots(&scan, |x| Some(x - 144.0));
        assert_eq!((values(&found), found.stretches.len()), (vec![144.0], 0));
        // what lies beyond the ends is left out, an end is kept
        assert_eq!(nodes(0.0, 2.0, 1.0, &[-1.0, 2.0, 3.0, 0.5]), [0.0, 0.5, 1.0, 2.0]);
    }
}
