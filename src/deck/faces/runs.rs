//! The courses of a face, the runs of each course, and every way to part a run at rafters.

use crate::deck::ask::LayingRules;
use crate::deck::courses::NarrowStrip;
use crate::deck::ticks::Ticks;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};

use super::ask::{FaceAsk, FaceCourse};
use crate::geom::Region;

/// How far a joint may go on past the end of its rafter, up the slope, inches: at the eave over the boards on the tails, at
/// a hip or valley over half its thickness.
const PAST_RAFTER_IN: f64 = 6.0;

/// A part of a course that hangs together.
#[derive(Clone, Debug)]
pub(super) struct Run {
    pub course: usize,
    pub region: Region,
    pub left: f64,
    pub right: f64,
    /// Places where it may break, from left to right.
    pub joints: Vec<f64>,
    /// Length of the joint at each place, inches.
    pub tall: Vec<f64>,
    /// Area left of each place where a piece may begin or end, square inches.
    pub areas: Vec<f64>,
    /// True if it can only be parted where it is lower than half the least strip.
    pub breaks_low: bool,
}

/// The courses up a slope: full ones and the rest, and if the rest is too low, a ripped one at the eave.
pub(super) fn courses(
    up: f64,
    sheet_height: f64,
    rules: &LayingRules,
) -> Option<(Vec<FaceCourse>, Option<NarrowStrip>)> {
    let (gap, least) = (rules.gap.inches(), rules.least_strip.inches());
    let count = (((up + gap) / (sheet_height + gap)) - LAST_BITS).ceil().max(1.0);
    let left_over = up - (sheet_height + gap) * (count - 1.0);
    let is_narrow = count > 1.0 && left_over < least - HAIR;
    let ticks = |value: f64| Ticks::nearest(inches(value));
    let (first, narrow) = if is_narrow {
        let narrow = NarrowStrip {
            left_over: ticks(left_over),
            lengthen: ticks(least - left_over),
            shorten: ticks(left_over + gap),
        };
        (sheet_height - (least - left_over), Some(narrow))
    } else {
        (sheet_height.min(up), None)
    };
    if is_narrow && first < least - HAIR {
        return None;
    }
    let mut courses = Vec::new();
    let (mut low, mut height) = (0.0, first);
    for _ in 0..count as usize {
        let high = (low + height).min(up);
        courses.push(FaceCourse { low, high });
        (low, height) = (high + gap, sheet_height);
    }
    Some((courses, narrow))
}

/// The runs of every course of a face, of panels so long.
pub(super) fn runs(
    face: &FaceAsk,
    courses: &[FaceCourse],
    (rules, longest): (&LayingRules, f64),
) -> Vec<Run> {
    let mut places: Vec<f64> = face.rafters.iter().map(|rafter| rafter.at).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|one, other| (*one - *other).abs() <= HAIR);
    let any = Limits { gap: rules.gap.inches(), longest, shortest: 0.0 };
    let mut runs = Vec::new();
    for (course, FaceCourse { low, high }) in courses.iter().enumerate() {
        for region in face.region.between_levels(*low, *high).pieces() {
            let (first, last) = region.extent();
            let least = rules.least_strip.inches().min(last.y - first.y) / 2.0;
            let inside = |at: &f64| *at > first.x + HAIR && *at < last.x - HAIR;
            let carried = places.iter().copied().filter(inside);
            let carried: Vec<f64> = carried.filter(|at| is_carried(face, &region, *at)).collect();
            let tall = carried.iter().copied().filter(|at| region.tallest(*at) >= least).collect();
            let mut run = Run::of(course, region, tall);
            if run.parted(any, &[], &mut |_, _, _| 1.0).is_err() {
                run = Run { breaks_low: true, ..Run::of(course, run.region, carried) };
            }
            runs.push(run);
        }
    }
    runs
}

/// True if rafters lie under the whole joint.
fn is_carried(face: &FaceAsk, region: &Region, at: f64) -> bool {
    let own: Vec<_> = face.rafters.iter().filter(|rafter| (rafter.at - at).abs() <= HAIR).collect();
    region.uprights(at).iter().all(|(low, high)| {
        own.iter()
            .any(|rafter| rafter.from <= low + PAST_RAFTER_IN && rafter.to >= high - PAST_RAFTER_IN)
    })
}

/// What a way to part a run has to keep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    pub gap: f64,
    pub longest: f64,
    pub shortest: f64,
}

impl Run {
    /// A part of a course that may break at these places.
    fn of(course: usize, region: Region, joints: Vec<f64>) -> Run {
        let (first, last) = region.extent();
        let length = |at: &f64| region.uprights(*at).iter().map(|(low, high)| high - low).sum();
        let tall = joints.iter().map(length).collect();
        let (left, right) = (first.x, last.x);
        let mut run =
            Run { course, region, left, right, joints, tall, areas: Vec::new(), breaks_low: false };
        run.areas =
            run.places().iter().map(|at| run.region.between(left - 1.0, *at).area()).collect();
        run
    }

    /// The places where pieces may begin or end: its left end, its joints, its right end.
    fn places(&self) -> Vec<f64> {
        let mut places = vec![self.left];
        places.extend(&self.joints);
        places.push(self.right);
        places
    }

    /// Up the slope.
    pub(super) fn height(&self) -> f64 {
        let (low, high) = self.region.extent();
        high.y - low.y
    }

    /// Area between two of its places, square inches.
    pub(super) fn area_between(&self, from: usize, to: usize) -> f64 {
        self.areas[to] - self.areas[from]
    }

    /// The way to part it that costs least, as numbers of its joints: no joint at a forbidden place. `cost` prices a piece
    /// from its first to its last place, by its cut length. Gives back how far it came if there is no way.
    pub(super) fn parted(
        &self,
        limits: Limits,
        forbidden: &[f64],
        cost: &mut dyn FnMut(usize, usize, f64) -> f64,
    ) -> Result<Vec<usize>, f64> {
        let places = self.places();
        let last = places.len() - 1;
        let is_open = |at: usize| {
            at == 0 || at == last || !forbidden.iter().any(|x| (x - places[at]).abs() <= HAIR)
        };
        // a run shorter than the least piece is one piece
        let shortest = limits.shortest.min(self.right - self.left);
        let mut best: Vec<Option<(f64, usize)>> = vec![None; places.len()];
        best[0] = Some((0.0, 0));
        let mut reached = 0;
        for from in 0..last {
            let Some((paid, _)) = best[from] else { continue };
            reached = from;
            for to in from + 1..=last {
                let nominal = places[to] - places[from];
                let halves = usize::from(from > 0) + usize::from(to < last);
                let length = nominal - limits.gap / 2.0 * halves as f64;
                if length > limits.longest + HAIR {
                    break;
                }
                if nominal < shortest - HAIR || !is_open(to) {
                    continue;
                }
                let total = paid + cost(from, to, length);
                if best[to].is_none_or(|(least, _)| total < least) {
                    best[to] = Some((total, from));
                }
            }
        }
        best[last].ok_or(places[reached])?;
        let mut joints = Vec::new();
        let mut at = last;
        while let Some((_, from)) = best[at].filter(|_| at > 0) {
            if from > 0 {
                joints.push(from - 1);
            }
            at = from;
        }
        joints.reverse();
        Ok(joints)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::faces::ask::RafterReach;
    use crate::geom::DVec2;

    fn triangle() -> FaceAsk {
        // a hip end of 240 with its slope as long as half its base
        let outline = vec![DVec2::ZERO, DVec2::new(240.0, 0.0), DVec2::new(120.0, 120.0)];
        let rafters = (0..=10).map(|n| {
            let at = f64::from(n) * 24.0;
            RafterReach { at, from: 0.0, to: at.min(240.0 - at) }
        });
        FaceAsk {
            name: "near".to_owned(),
            region: Region::within(&[outline]),
            origin: DVec2::ZERO,
            rafters: rafters.collect(),
        }
    }

    #[test]
    fn joints_stand_on_rafters_that_reach_that_far() {
        let face = triangle();
        let rules = LayingRules::default();
        let (courses, narrow) = courses(120.0, 48.0, &rules).unwrap();
        assert!(narrow.is_some() == (120.0 - 2.0 * 48.125 < 24.0));
        let runs = runs(&face, &courses, (&rules, 96.0));
        assert_eq!(runs.len(), courses.len());
        // the top of the face is one piece, or parted at the middle rafters alone
        let top = runs.last().unwrap();
        assert!(top.joints.iter().all(|at| (96.0..=144.0).contains(at)), "{:?}", top.joints);
        let limits = Limits { gap: 0.125, longest: 96.0, shortest: 24.0 };
        let joints = runs[0].parted(limits, &[], &mut |_, _, _| 1.0).unwrap();
        assert_eq!(joints.len(), 2, "240 in of three pieces");
    }

    /// Sheets of 48 in with 1/8 in between, no strip under 24 in, by hand: what is left after whole courses, and what the eave
    /// course gives for a strip that is too low.
    #[test]
    fn courses_up_a_slope_by_hand() {
        let rules = LayingRules::default();
        assert_eq!((rules.gap.inches(), rules.least_strip.inches()), (0.125, 24.0));
        let heights = |up: f64| {
            let (list, narrow) = courses(up, 48.0, &rules).unwrap();
            assert_eq!(list[0].low, 0.0);
            assert!((list[list.len() - 1].high - up).abs() < 1e-9);
            for two in list.windows(2) {
                assert!((two[1].low - two[0].high - 0.125).abs() < 1e-9);
            }
            let heights: Vec<f64> = list.iter().map(|course| course.high - course.low).collect();
            let inches = |ticks: Ticks| ticks.in_inches();
            let narrow =
                narrow.map(|it| [inches(it.left_over), inches(it.lengthen), inches(it.shorten)]);
            (heights, narrow)
        };
        assert_eq!(heights(40.0), (vec![40.0], None));
        assert_eq!(heights(96.125), (vec![48.0, 48.0], None));
        assert_eq!(heights(72.125), (vec![48.0, 24.0], None));
        // 23-3/4 in are left of 120: a quarter is taken from the eave course. A slope longer by that, or shorter by the strip
        // and its gap, would need none
        assert_eq!(heights(120.0), (vec![47.75, 48.0, 24.0], Some([23.75, 0.25, 23.875])));
        assert_eq!(heights(52.125), (vec![28.0, 24.0], Some([4.0, 20.0, 4.125])));
        // of sheets of 40 in a strip of 4-7/8 in would leave 20-7/8 at the eave
        assert!(courses(45.0, 40.0, &rules).is_none());
    }

    /// Whatever joint is taken by the course below, none of the run's own stands there.
    #[test]
    fn no_joint_stands_over_another() {
        let face = triangle();
        let rules = LayingRules::default();
        let (courses, _) = courses(120.0, 48.0, &rules).unwrap();
        let runs = runs(&face, &courses, (&rules, 96.0));
        let limits = Limits { gap: 0.125, longest: 96.0, shortest: 24.0 };
        let run = &runs[0];
        for taken in &run.joints {
            let Ok(joints) = run.parted(limits, &[*taken], &mut |_, _, _| 1.0) else { continue };
            let places: Vec<f64> = joints.iter().map(|joint| run.joints[*joint]).collect();
            assert!(places.iter().all(|at| (at - taken).abs() > 1.0), "{taken}: {places:?}");
            let mut ends = vec![run.left];
            ends.extend(&places);
            ends.push(run.right);
            let lengths = ends.windows(2).map(|two| two[1] - two[0]);
            assert!(lengths.clone().all(|length| (24.0..=96.125).contains(&length)), "{places:?}");
            assert_eq!(lengths.count(), 3);
        }
        // all taken: there is no way, and it is told how far it came
        assert_eq!(run.parted(limits, &run.joints, &mut |_, _, _| 1.0), Err(run.left));
        // the price decides: as few pieces as there can be, of which the first is to be short
        let mut price = |from: usize, _, length: f64| if from == 0 { length } else { 100.0 };
        let joints = run.parted(limits, &[], &mut price).unwrap();
        assert_eq!((run.joints[joints[0]], joints.len()), (48.0, 2));
    }

    #[test]
    fn a_run_without_a_rafter_near_is_refused_where_it_stops() {
        let mut face = triangle();
        face.rafters.retain(|rafter| rafter.at < 60.0);
        let rules = LayingRules::default();
        let (courses, _) = courses(120.0, 48.0, &rules).unwrap();
        let runs = runs(&face, &courses, (&rules, 96.0));
        let limits = Limits { gap: 0.125, longest: 96.0, shortest: 24.0 };
        assert_eq!(runs[0].parted(limits, &[], &mut |_, _, _| 1.0), Err(48.0));
    }
}
