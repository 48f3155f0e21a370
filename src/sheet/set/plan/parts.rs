//! How a plan is divided into parts that fit a page: scale, orientation and match lines.

use crate::frame::Frame;
use crate::geom::DVec2;
use crate::measure::quantity::InInches;

use super::super::super::drawing::Area;
use super::super::super::paper::{Job, Orientation};
use super::super::super::scale::scales;

/// The caution on every plan.
pub(super) const CAUTION: &str = "Caution: the plan shows where sticks go, not how they are held while they go up. Brace the ridge and the first pairs \
                       before anything is loaded; work on a roof needs protection against falls.";

/// Margins around the work for dimensions and names, inches of paper: left, right, below, above.
pub(super) const LEFT: f64 = 1.0;
pub(super) const RIGHT: f64 = 0.65;
pub(super) const BELOW: f64 = 1.26;
pub(super) const ABOVE: f64 = 0.98;

/// From this scale on a plan is hard to read: that costs as much as this many more parts.
const HARD: f64 = 64.0;
const HARD_PARTS: f64 = 1.5;
/// The smallest scale that a plan is drawn at, and the least distance of rafters on paper that
/// leaves room for a mark between them.
const SMALLEST: f64 = 100.0;
const LEAST_PITCH: f64 = 0.12;

/// A plan divided into parts.
pub(super) struct Parts {
    /// Inches of work to one of paper.
    pub(super) ratio: f64,
    /// The orientation of the paper.
    pub(super) orientation: Orientation,
    /// The parts, inches of work, starting from the near end and from eave A.
    pub(super) windows: Vec<Area>,
}

/// The fewest parts, and then the largest scale, at which the work from `low` to `high` has room
/// between its marks; one more part is better than a scale that is hard to read. Lines that divide the
/// work along the ridge run between pairs of rafters.
pub(super) fn of(frame: &Frame, job: &Job, (low, high): (DVec2, DVec2)) -> Parts {
    let work = high - low;
    let pitch = frame.spaces().map_or(f64::INFINITY, |spaces| {
        if spaces.count == 0 { f64::INFINITY } else { spaces.each.inches() }
    });
    let mut best: Option<(f64, f64, Orientation, [usize; 2])> = None;
    for orientation in [Orientation::Landscape, Orientation::Portrait] {
        let room = job.open("", orientation, CAUTION).area.size()
            - DVec2::new(LEFT + RIGHT, BELOW + ABOVE);
        for ratio in scales(job.writing.units).iter().copied() {
            if ratio > SMALLEST || pitch / ratio < LEAST_PITCH {
                continue;
            }
            let parts = (work / ratio / room).ceil().max(DVec2::ONE);
            let (across, up) = (parts.x as usize, parts.y as usize);
            let hard = if ratio > HARD { HARD_PARTS } else { 0.0 };
            // parts along the ridge read better than parts across it
            let cost = (across * up) as f64 + hard + 0.1 * (up - 1) as f64;
            // upright paper is better at the same scale: its table is below the plan, and the rest of it is for others
            let whole = orientation == Orientation::Portrait && across * up == 1;
            let better = |scale: f64| ratio < scale || whole && ratio <= scale;
            if best.is_none_or(|(least, scale, ..)| cost < least || cost == least && better(scale))
            {
                best = Some((cost, ratio, orientation, [across, up]));
            }
        }
    }
    let (_, ratio, orientation, [across, up]) =
        best.unwrap_or((1.0, SMALLEST, Orientation::Landscape, [1, 1]));
    let gaps: Vec<f64> = frame
        .pairs
        .windows(2)
        .map(|two| {
            let end = two[0].x_a.max(two[0].x_b) + frame.site.thick;
            (end + two[1].x_a.min(two[1].x_b)) / 2.0
        })
        .collect();
    let columns = cuts(low.x, high.x, across, |even| nearest(&gaps, even));
    let rows = cuts(low.y, high.y, up, |even| even);
    let windows = rows
        .windows(2)
        .flat_map(|y| {
            columns
                .windows(2)
                .map(|x| Area::new(DVec2::new(x[0], y[0]), DVec2::new(x[1], y[1])))
                .collect::<Vec<_>>()
        })
        .collect();
    Parts { ratio, orientation, windows }
}

fn nearest(list: &[f64], wanted: f64) -> f64 {
    list.iter()
        .copied()
        .min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
        .unwrap_or(wanted)
}

/// The ends, and the lines that divide a length evenly, each moved by `place`.
fn cuts(from: f64, to: f64, count: usize, place: impl Fn(f64) -> f64) -> Vec<f64> {
    let mut list = vec![from];
    list.extend((1..count).map(|at| place(from + (to - from) * at as f64 / count as f64)));
    list.push(to);
    list.dedup();
    list
}
