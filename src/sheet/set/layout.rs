//! Layout lines: plates, ridge and the rest as a tape drawn to scale, each mark with its reading,
//! the stick that stands there and the side of its X.

use crate::frame::{Frame, LayoutLine, LineKind, Role, Standing};
use crate::geom::DVec2;
use crate::measure::Writing;
use crate::measure::quantity::inches;

use super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, SCALES};
use super::super::layout;
use super::super::paper::notes::spread;
use super::super::paper::{FINE, Flow, Job, Orientation, Page, SMALL};
use super::super::typeface::{self, Weight};
use super::{Kind, Matter};

/// Height of a strip, and of its leaders to the readings.
const STRIP: f64 = 0.2;
const LEADER: f64 = 0.14;
/// Between the middles of two readings, and kept at both ends of a strip.
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
    let mut flow = Flow::new(
        job,
        Kind::Layout.title(),
        Orientation::Landscape,
        1,
        "Caution: mark both plates and the ridge before anything stands on them, and check the last mark of each line from the far end.",
    );
    let mut words = vec![layout::capital(&layout::what(frame, writing)) + "."];
    words.push(layout::HOOK.to_owned());
    words.push(layout::eaves_differ(frame, writing));
    if frame.plan.rafter.boards() + frame.plan.rafter.ridge > inches(0.0) {
        words.push(layout::joints(frame, writing));
    }
    words.extend(collar_ties(frame, writing));
    flow.words(&words.join(" "));
    flow.gap(0.05);
    let room = flow.width() - 2.0 * RIM;
    let strips: Vec<Strip> = groups(frame)
        .into_iter()
        .flat_map(|group| strips_of(frame, &group, room, writing))
        .collect();
    for strip in strips {
        flow.need(strip.high());
        let drawing = strip.drawing(flow.width(), writing);
        flow.drawing(drawing);
        flow.gap(0.1);
    }
    flow.finish()
}

/// Where the collar ties go: their height and the pairs that have one.
fn collar_ties(frame: &Frame, writing: Writing) -> Option<String> {
    let words = layout::collar_ties(frame, writing)?;
    let numbers: Vec<String> = frame
        .pairs_with(Role::CollarTie)
        .into_iter()
        .map(|number| number.to_string())
        .collect();
    Some(format!(
        "{} {} at pairs {}.",
        words,
        frame.marks_of(Role::CollarTie).join(", "),
        numbers.join(", ")
    ))
}

/// The lines that are drawn part by part, one under another: those of the pairs together.
fn groups(frame: &Frame) -> Vec<Vec<&LayoutLine>> {
    let (pairs, others): (Vec<&LayoutLine>, Vec<&LayoutLine>) = frame
        .layout
        .iter()
        .partition(|line| line.kind.is_of_pairs());
    let mut groups = vec![pairs];
    groups.extend(others.into_iter().map(|line| vec![line]));
    groups.retain(|group| !group.is_empty());
    groups
}

/// A part of a line on paper.
struct Strip {
    title: String,
    /// From where to where it shows the line, inches from the hook.
    from: f64,
    to: f64,
    /// Where the line itself starts and ends.
    length: f64,
    /// Paper place of the line's hook, if the whole of it were drawn; for lines that start at
    /// different places of the building.
    shift: f64,
    scale: f64,
    over: Vec<Standing>,
    under: Vec<Standing>,
    /// Height of the readings over and under the strip.
    rooms: [f64; 2],
}

/// The strips of lines that belong together: as few parts as the scale lets them be.
fn strips_of(frame: &Frame, group: &[&LayoutLine], room: f64, writing: Writing) -> Vec<Strip> {
    let standing: Vec<Vec<Standing>> = group.iter().map(|line| frame.standing(line)).collect();
    // where each line's hook lies in the building
    let hook = |line: &LayoutLine| match line.kind {
        LineKind::Ridge(_) => -frame.site.rake,
        _ => 0.0,
    };
    let low = group
        .iter()
        .map(|line| hook(line))
        .fold(f64::INFINITY, f64::min);
    let high = group
        .iter()
        .map(|line| hook(line) + line.length)
        .fold(f64::NEG_INFINITY, f64::max);
    let pitch = if group.iter().any(|line| line.kind.is_of_pairs()) {
        frame
            .spaces()
            .filter(|spaces| spaces.count > 0)
            .map_or(f64::INFINITY, |spaces| spaces.each)
    } else {
        f64::INFINITY
    };
    let last = SCALES[0];
    let ratio = SCALES
        .into_iter()
        .filter(|ratio| *ratio <= SMALLEST && pitch / ratio >= LEAST_PITCH)
        .find(|ratio| (high - low) / ratio <= room)
        .or_else(|| {
            SCALES
                .into_iter()
                .rev()
                .find(|ratio| *ratio <= SMALLEST && pitch / ratio >= LEAST_PITCH)
        })
        .unwrap_or(last);
    let parts = ((high - low) / ratio / room - 1e-9).ceil().max(1.0) as usize;
    let cuts: Vec<f64> = (0..=parts)
        .map(|at| {
            let even = low + (high - low) * at as f64 / parts as f64;
            if at == 0 || at == parts {
                even
            } else {
                between_pairs(frame, even)
            }
        })
        .collect();
    let mut strips = Vec::new();
    for (number, cut) in cuts.windows(2).enumerate() {
        for (line, standing) in group.iter().zip(&standing) {
            let (from, to) = (
                (cut[0] - hook(line)).max(0.0),
                (cut[1] - hook(line)).min(line.length),
            );
            let here = |stick: &&Standing| stick.at >= from - 1e-6 && stick.at < to - 1e-6;
            let is_over = |stick: &&Standing| is_over(line.kind, stick.role);
            let over: Vec<Standing> = standing
                .iter()
                .filter(here)
                .filter(is_over)
                .cloned()
                .collect();
            let under: Vec<Standing> = standing
                .iter()
                .filter(here)
                .filter(|stick| !is_over(stick))
                .cloned()
                .collect();
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
                title: format!(
                    "{}{continued}. Hook: {}. X {}. 1 to {}",
                    layout::capital(line.on),
                    line.from,
                    line.x_side,
                    crate::measure::trim(ratio, 2)
                ),
                from,
                to,
                length: line.length,
                shift: (hook(line) - cut[0]) / ratio,
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

/// True for what is read over a strip; joists and ties are read under it.
fn is_over(kind: LineKind, role: Role) -> bool {
    !matches!(kind, LineKind::Plate(_)) || !matches!(role, Role::CeilingJoist | Role::RafterTie)
}

/// A mark's reading with the stick's mark.
fn reading(stick: &Standing, writing: Writing) -> String {
    format!("{} {}", writing.length(inches(stick.at)), stick.mark)
}

impl Strip {
    /// Height of the strip with all that belongs to it.
    fn high(&self) -> f64 {
        let band = |room: f64| {
            if room > 0.0 {
                room + LEADER + 0.02
            } else {
                0.0
            }
        };
        SMALL * 1.9 + band(self.rooms[0]) + STRIP + band(self.rooms[1]) + 0.02
    }

    fn drawing(&self, wide: f64, writing: Writing) -> Drawing {
        let high = self.high();
        let mut drawing = Drawing::new(wide, high);
        drawing.bold(
            DVec2::new(0.0, high - SMALL),
            self.title.clone(),
            FINE,
            Anchor::Start,
        );
        let low = if self.rooms[1] > 0.0 {
            self.rooms[1] + LEADER + 0.04
        } else {
            0.02
        };
        let x = |at: f64| RIM + self.shift + at * self.scale;
        let strip = Area::new(
            DVec2::new(x(self.from), low),
            DVec2::new(x(self.to), low + STRIP),
        );
        self.edges(&mut drawing, strip);
        for stick in self.over.iter().chain(&self.under) {
            let far = (stick.at + stick.covers).min(self.to);
            let place = Area::new(
                DVec2::new(x(stick.at), strip.low.y),
                DVec2::new(x(far), strip.high.y),
            );
            // the X lies on the side of the mark where the stick goes
            let [a, b, c, d] = place.corners();
            drawing.outline(vec![a, b, c, d], Pen::Thin, Fill::None);
            drawing.line(vec![a, c], Pen::Thin);
            drawing.line(vec![b, d], Pen::Thin);
            let is_over = self.over.iter().any(|other| other == stick);
            let (from, to) = if is_over {
                (strip.low.y, strip.high.y + 0.05)
            } else {
                (strip.low.y - 0.05, strip.high.y)
            };
            drawing.line(
                vec![DVec2::new(place.low.x, from), DVec2::new(place.low.x, to)],
                Pen::Context,
            );
        }
        let room = (RIM - 0.07, wide - RIM + 0.07);
        readings(
            &mut drawing,
            &self.over,
            x,
            (strip.high.y, 1.0),
            room,
            writing,
        );
        readings(
            &mut drawing,
            &self.under,
            x,
            (strip.low.y, -1.0),
            room,
            writing,
        );
        drawing
    }

    /// The strip's long edges, its ends, and open ends where it goes on.
    fn edges(&self, drawing: &mut Drawing, strip: Area) {
        for y in [strip.low.y, strip.high.y] {
            let ends = [strip.low.x, strip.high.x].map(|x| DVec2::new(x, y));
            drawing.line(ends.to_vec(), Pen::Context);
        }
        for (x, is_end) in [
            (strip.low.x, self.from <= 1e-6),
            (strip.high.x, self.to >= self.length - 1e-6),
        ] {
            let pen = if is_end { Pen::Outline } else { Pen::Dashed };
            let ends = [strip.low.y, strip.high.y].map(|y| DVec2::new(x, y));
            drawing.line(ends.to_vec(), pen);
        }
        if self.from <= 1e-6 {
            // the hook of the tape
            let top = DVec2::new(strip.low.x - 0.05, strip.high.y);
            let foot = DVec2::new(strip.low.x - 0.05, strip.low.y);
            drawing.line(
                vec![DVec2::new(strip.low.x, strip.high.y), top, foot],
                Pen::Accent,
            );
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
    let wanted: Vec<f64> = list.iter().map(|stick| -x(stick.at) + LANE / 2.0).collect();
    let lanes = vec![LANE; list.len()];
    let tops = spread(&wanted, &lanes, -low, -high);
    for (stick, top) in list.iter().zip(tops) {
        let middle = -(top - LANE / 2.0);
        let foot = DVec2::new(x(stick.at), edge + up * 0.05);
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
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_matter};
    use super::*;
    use crate::measure::Units;

    fn texts(pages: &[Page]) -> Vec<String> {
        pages
            .iter()
            .flat_map(|page| &page.drawing.items)
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text.clone()),
                _ => None,
            })
            .collect()
    }

    /// Every mark of every line stands on the sheet as often as the layout has it.
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
            let mut found: Vec<String> = texts
                .into_iter()
                .filter(|text| wanted.binary_search(text).is_ok())
                .collect();
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
