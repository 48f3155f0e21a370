//! Layout lines: plates, ridge and the others as a tape drawn to scale, each mark with its reading, its
//! stick and the side of its X.

use crate::frame::{EaveSide, Frame, LayoutLine, LineKind, Role, Standing, Sticks};
use crate::geom::DVec2;
use crate::measure::Writing;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};

use super::super::drawing::{Anchor, Area, Drawing, Ink, Item, Pen};
use super::super::layout;
use super::super::paper::notes::spread;
use super::super::paper::{FINE, Flow, Job, Orientation, Page, SMALL};
use super::super::scale::scales;
use super::super::typeface::{self, Weight};
use super::{Kind, Matter};

/// Height of a strip, and of its leaders to the readings.
const STRIP: f64 = 0.2;
const LEADER: f64 = 0.12;
/// Between two strips.
const BETWEEN: f64 = 0.04;
/// Width of an X if the stick itself is drawn narrower.
const CROSS: f64 = 0.065;
/// Between the middles of two readings, and at both ends of a strip.
const LANE: f64 = 0.12;
const RIM: f64 = 0.12;
/// The smallest scale of a strip, inches of work to one of paper.
const SMALLEST: f64 = 64.0;
/// Least distance of two rafters on paper.
const LEAST_PITCH: f64 = 0.15;

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let frame = matter.frame;
    let writing = job.writing;
    let mut flow = Flow::new(job, Kind::Layout.title(), Orientation::Landscape, 1, "");
    let mut words = vec![layout::capital(&layout::what(frame, writing)) + "."];
    words.push(layout::HOOK.to_owned());
    words.push(layout::eaves_differ(frame, writing));
    if frame.plan.rafter.boards() + frame.plan.rafter.ridge > inches(0.0) {
        words.push(layout::joints(frame, writing));
    }
    words.extend(collar_ties(frame, writing));
    if frame.site.rake > 0.0 && frame.layout.iter().any(|line| line.kind == LineKind::EndWalls) {
        words.push("End walls and rakes are laid out alike at both ends.".to_owned());
    }
    flow.words(&words.join(" "));
    let room = flow.width() - 2.0 * RIM;
    let strips: Vec<Strip> = groups(frame)
        .into_iter()
        .flat_map(|group| strips_of(frame, &group, room, writing))
        .collect();
    let mut drawings = Vec::new();
    let mut rest = strips.iter().peekable();
    while let Some(strip) = rest.next() {
        let drawing = strip.drawing(flow.width(), writing);
        // eave B's right under eave A's, so that differences are seen
        let first =
            matches!(strip.kind, LineKind::Plate(EaveSide::A) | LineKind::Ridge(EaveSide::A));
        drawings.push(match rest.next_if(|_| first) {
            Some(next) => above(drawing, next.drawing(flow.width(), writing)),
            None => drawing,
        });
    }
    flow.drawings(drawings, BETWEEN);
    flow.finish()
}

/// Two drawings of one width as one, the first above the second.
fn above(first: Drawing, second: Drawing) -> Drawing {
    let low = second.height + BETWEEN;
    let mut both = Drawing::new(first.width, first.height + low);
    both.place(first, DVec2::Y * low);
    both.place(second, DVec2::ZERO);
    both
}

/// The places of the collar ties: their height and the pairs that have one.
fn collar_ties(frame: &Frame, writing: Writing) -> Option<String> {
    let words = layout::collar_ties(frame, writing)?;
    let numbers: Vec<String> =
        frame.pairs_with(Role::CollarTie).into_iter().map(|number| number.to_string()).collect();
    Some(format!(
        "{} {} at pairs {}.",
        words,
        frame.marks_of(Role::CollarTie).join(", "),
        numbers.join(", ")
    ))
}

/// The lines that are drawn part by part, one below another; those of the pairs together.
fn groups(frame: &Frame) -> Vec<Vec<&LayoutLine>> {
    let (pairs, others): (Vec<&LayoutLine>, Vec<&LayoutLine>) =
        frame.layout.iter().partition(|line| line.kind.is_of_pairs());
    let mut groups = vec![pairs];
    groups.extend(others.into_iter().map(|line| vec![line]));
    groups.retain(|group| !group.is_empty());
    groups
}

/// A part of a line on paper.
struct Strip {
    kind: LineKind,
    title: String,
    /// The start and end of the line that it shows, inches from the hook.
    from: f64,
    to: f64,
    /// Where the line itself starts and ends.
    length: f64,
    /// The place of the line's hook on paper, if the whole line were drawn; for lines that start at
    /// different places of the building.
    shift: f64,
    scale: f64,
    over: Vec<Standing>,
    under: Vec<Standing>,
    /// Height of the readings over and under the strip.
    rooms: [f64; 2],
}

/// A line with the sticks at its marks, and the place of its hook in the building.
type Read<'a> = (&'a LayoutLine, Vec<Standing>, f64);

/// The strips of a gable's lines that belong together.
fn strips_of(frame: &Frame, group: &[&LayoutLine], room: f64, writing: Writing) -> Vec<Strip> {
    let hook = |line: &LayoutLine| match line.kind {
        LineKind::Ridge(_) => -frame.site.rake,
        _ => 0.0,
    };
    let lines: Vec<Read<'_>> =
        group.iter().map(|line| (*line, frame.standing(line), hook(line))).collect();
    let pitch = if group.iter().any(|line| line.kind.is_of_pairs()) {
        frame
            .spaces()
            .filter(|spaces| spaces.count > 0)
            .map_or(f64::INFINITY, |spaces| spaces.each.inches())
    } else {
        f64::INFINITY
    };
    strips(&lines, pitch, &|even| between_pairs(frame, even), room, writing)
}

/// The strips of every side that is marked on a roof that is more than one gable, `wide` inches wide.
pub(super) fn side_strips(sticks: Sticks<'_>, wide: f64, writing: Writing) -> Vec<Drawing> {
    let room = wide - 2.0 * RIM;
    let marked = sticks.layout.iter().filter(|line| !line.marks.is_empty());
    marked
        .flat_map(|line| {
            let lines = [(line, sticks.standing(line), 0.0)];
            strips(&lines, sticks.plan.spacing.inches(), &|even| even, room, writing)
        })
        .map(|strip| strip.drawing(wide, writing))
        .collect()
}

/// The strips of lines that belong together: as few parts as the scale allows, each beginning where `cut` moves it.
fn strips(
    lines: &[Read<'_>],
    pitch: f64,
    cut: &dyn Fn(f64) -> f64,
    room: f64,
    writing: Writing,
) -> Vec<Strip> {
    let low = lines.iter().map(|(.., hook)| *hook).fold(f64::INFINITY, f64::min);
    let high = lines
        .iter()
        .map(|(line, _, hook)| hook + line.length.inches())
        .fold(f64::NEG_INFINITY, f64::max);
    let in_use = scales(writing.units).iter().copied();
    let ratio = in_use
        .clone()
        .filter(|ratio| *ratio <= SMALLEST && pitch / ratio >= LEAST_PITCH)
        .find(|ratio| (high - low) / ratio <= room)
        .or_else(|| in_use.rev().find(|ratio| *ratio <= SMALLEST && pitch / ratio >= LEAST_PITCH))
        .unwrap_or(1.0);
    let parts = ((high - low) / ratio / room - LAST_BITS).ceil().max(1.0) as usize;
    let cuts: Vec<f64> = (0..=parts)
        .map(|at| {
            let even = low + (high - low) * at as f64 / parts as f64;
            if at == 0 || at == parts { even } else { cut(even) }
        })
        .collect();
    let mut strips = Vec::new();
    for (number, cut) in cuts.windows(2).enumerate() {
        for (line, standing, hook) in lines {
            let (from, to) = ((cut[0] - hook).max(0.0), (cut[1] - hook).min(line.length.inches()));
            let here = |stick: &&Standing| (from - HAIR..to - HAIR).contains(&stick.at.inches());
            let shown: Vec<Standing> = standing.iter().filter(here).cloned().collect();
            let (over, under) = parted(line.kind, shown, ratio);
            let continued = if number > 0 {
                format!(", continued from {}", writing.length(inches(from)))
            } else {
                String::new()
            };
            let tall = |list: &[Standing]| {
                list.iter()
                    .map(|stick| typeface::width(&reading(stick, writing), FINE, Weight::Regular))
                    .fold(0.0, f64::max)
            };
            strips.push(Strip {
                kind: line.kind,
                title: format!(
                    "{}{continued}. Hook: {}. X {}. {}",
                    layout::capital(&line.title()),
                    line.from,
                    line.x_side,
                    crate::sheet::scale::words(ratio, writing.units)
                ),
                from,
                to,
                length: line.length.inches(),
                shift: (hook - cut[0]) / ratio,
                scale: 1.0 / ratio,
                rooms: [tall(&over), tall(&under)],
                over,
                under,
            });
        }
    }
    strips
}

/// The middle of the bay next to a place along the building.
fn between_pairs(frame: &Frame, place: f64) -> f64 {
    frame
        .pairs
        .windows(2)
        .map(|two| {
            let end = two[0].x_a.max(two[0].x_b) + frame.site.thick;
            (end + two[1].x_a.min(two[1].x_b)) / 2.0
        })
        .min_by(|a, b| (a - place).abs().total_cmp(&(b - place).abs()))
        .unwrap_or(place)
}

/// The readings over a strip and under it: joists and ties go under a plate's; elsewhere every second
/// stick goes under if they are closer than readings allow.
fn parted(kind: LineKind, list: Vec<Standing>, ratio: f64) -> (Vec<Standing>, Vec<Standing>) {
    if matches!(kind, LineKind::Plate(_)) {
        return list
            .into_iter()
            .partition(|stick| !matches!(stick.role, Role::CeilingJoist | Role::RafterTie));
    }
    let close = |two: &[Standing]| (two[1].at - two[0].at).inches() / ratio < LANE;
    if kind != LineKind::Bearing || !list.windows(2).any(close) {
        return (list, Vec::new());
    }
    let (mut over, mut under) = (Vec::new(), Vec::new());
    for (number, stick) in list.into_iter().enumerate() {
        if number.is_multiple_of(2) {
            over.push(stick);
        } else {
            under.push(stick);
        }
    }
    (over, under)
}

/// A mark's reading with the stick's mark.
fn reading(stick: &Standing, writing: Writing) -> String {
    format!("{} {}", writing.length(stick.at), stick.mark)
}

impl Strip {
    /// Height of the strip with all that belongs to it.
    fn high(&self) -> f64 {
        let band = |room: f64| {
            if room > 0.0 { room + LEADER + 0.02 } else { 0.0 }
        };
        SMALL * 1.7 + band(self.rooms[0]) + STRIP + band(self.rooms[1]) + 0.02
    }

    fn drawing(&self, wide: f64, writing: Writing) -> Drawing {
        let high = self.high();
        let mut drawing = Drawing::new(wide, high);
        drawing.bold(DVec2::new(0.0, high - SMALL), self.title.clone(), FINE, Anchor::Start);
        let low = if self.rooms[1] > 0.0 { self.rooms[1] + LEADER + 0.04 } else { 0.02 };
        let x = |at: f64| RIM + self.shift + at * self.scale;
        let strip = Area::new(DVec2::new(x(self.from), low), DVec2::new(x(self.to), low + STRIP));
        self.edges(&mut drawing, strip);
        // sticks read over the strip are marked in its upper half, the others in its lower half
        let half = if self.over.is_empty() || self.under.is_empty() {
            strip.size().y
        } else {
            strip.size().y / 2.0
        };
        let upper = (strip.high.y - half, strip.high.y, 0.05, 0.0);
        let lower = (strip.low.y, strip.low.y + half, 0.0, 0.05);
        for (list, (foot, top, over, under)) in [(&self.over, upper), (&self.under, lower)] {
            for stick in list {
                let mark = x(stick.at.inches());
                let line = [foot - under, top + over].map(|y| DVec2::new(mark, y));
                drawing.line(line.to_vec(), Pen::Context);
                // the X is on the stick's side of the mark, large enough to be seen
                let wide = (stick.covers.inches() * self.scale).max(CROSS);
                let far = (mark + wide).min(strip.high.x.max(mark + 0.02));
                let middle = (foot + top) / 2.0;
                let high = (half - 0.04).min(CROSS * 1.4) / 2.0;
                for turn in [1.0, -1.0] {
                    let ends = [
                        DVec2::new(mark, middle - turn * high),
                        DVec2::new(far, middle + turn * high),
                    ];
                    drawing.line(ends.to_vec(), Pen::Thin);
                }
            }
        }
        let room = (RIM - 0.07, wide - RIM + 0.07);
        readings(&mut drawing, &self.over, x, (strip.high.y, 1.0), room, writing);
        readings(&mut drawing, &self.under, x, (strip.low.y, -1.0), room, writing);
        drawing
    }

    /// The strip's long edges, its ends, and open ends where it continues.
    fn edges(&self, drawing: &mut Drawing, strip: Area) {
        for y in [strip.low.y, strip.high.y] {
            let ends = [strip.low.x, strip.high.x].map(|x| DVec2::new(x, y));
            drawing.line(ends.to_vec(), Pen::Context);
        }
        for (x, is_end) in
            [(strip.low.x, self.from <= HAIR), (strip.high.x, self.to >= self.length - HAIR)]
        {
            let pen = if is_end { Pen::Outline } else { Pen::Dashed };
            let ends = [strip.low.y, strip.high.y].map(|y| DVec2::new(x, y));
            drawing.line(ends.to_vec(), pen);
        }
        if self.from <= HAIR {
            // the hook of the tape
            let top = DVec2::new(strip.low.x - 0.05, strip.high.y);
            let foot = DVec2::new(strip.low.x - 0.05, strip.low.y);
            drawing.line(vec![DVec2::new(strip.low.x, strip.high.y), top, foot], Pen::Accent);
        }
    }
}

/// Readings along a strip's edge, upright, spread so that none hides another, each with a leader.
fn readings(
    drawing: &mut Drawing,
    list: &[Standing],
    x: impl Fn(f64) -> f64,
    (edge, up): (f64, f64),
    (low, high): (f64, f64),
    writing: Writing,
) {
    // `spread` goes down from the top: mirrored, it goes along the strip
    let wanted: Vec<f64> = list.iter().map(|stick| -x(stick.at.inches()) + LANE / 2.0).collect();
    let lanes = vec![LANE; list.len()];
    let tops = spread(&wanted, &lanes, -low, -high);
    for (stick, top) in list.iter().zip(tops) {
        let middle = -(top - LANE / 2.0);
        let foot = DVec2::new(x(stick.at.inches()), edge + up * 0.05);
        let bend = DVec2::new(middle, edge + up * (LEADER - 0.02));
        drawing.line(vec![foot, bend], Pen::Thin);
        drawing.items.push(Item::Text {
            at: DVec2::new(middle + FINE / 2.0, edge + up * LEADER),
            text: reading(stick, writing),
            height: FINE,
            anchor: if up > 0.0 { Anchor::Start } else { Anchor::End },
            turn: 90.0,
            weight: Weight::Regular,
            ink: Ink::Black,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::clash::clashes;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, texts, with_matter};
    use super::*;
    use crate::measure::Units;

    /// Every mark of every line is on the sheet as often as in the layout.
    #[track_caller]
    fn every_mark_is_read(text: &str, units: Units) {
        with_matter(text, units, |matter| {
            let job = job(Paper::Letter, units);
            let pages = pages(matter, &job);
            let texts = texts(&pages);
            let mut wanted: Vec<String> = matter
                .frame
                .layout
                .iter()
                .flat_map(|line| matter.frame.standing(line))
                .map(|stick| reading(&stick, job.writing))
                .collect();
            wanted.sort();
            let mut found: Vec<String> =
                texts.into_iter().filter(|text| wanted.binary_search(text).is_ok()).collect();
            found.sort();
            assert_eq!(found, wanted);
            for page in &pages {
                assert_eq!(clashes(&page.drawing), []);
            }
        });
    }

    #[test]
    fn every_mark_of_four_roofs_is_read() {
        every_mark_is_read(KESTREL, Units::Feet);
        every_mark_is_read(SHALLOW, Units::Feet);
        every_mark_is_read(STEEP, Units::Inches);
        every_mark_is_read(METRIC, Units::Millimeters);
    }

    #[test]
    fn a_long_line_goes_on_in_further_strips() {
        let text = KESTREL.replace("length = \"22'\"", "length = \"90'\"");
        every_mark_is_read(&text, Units::Feet);
    }

    #[test]
    fn kestrel_yards_marks_are_those_done_by_hand() {
        // centers 16 in apart, half of a 1-1/2 in rafter before each; the ridge starts 8 in out
        with_matter(KESTREL, Units::Feet, |matter| {
            let texts = texts(&pages(matter, &job(Paper::Letter, Units::Feet)));
            for wanted in [
                "1' 3-1/4\" R1",
                "21' 3-1/4\" R1",
                "21' 10-1/2\" R1",
                "1' 4-3/4\" J1",
                "1' 11-1/4\" R1",
                "23' 2-1/2\" RB1",
            ] {
                assert!(texts.iter().any(|text| text == wanted), "{wanted}");
            }
        });
    }
}
