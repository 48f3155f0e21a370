//! Layout lines to be ticked off: every mark of plates, ridge and the others in large figures, in the order of the tape, with the
//! number of its pair and its stick. What is marked alike is said once.

use crate::frame::{Frame, LayoutLine, LineKind, Role, Standing, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Writing};

use super::super::drawing::{Anchor, Area, Drawing, Fill, Pen};
use super::super::layout;
use super::super::paper::{
    FINE, Flow, Job, LEADING, Orientation, Page, SMALL, lines_of, shortened,
};
use super::super::typeface::{self, Weight};
use super::{Kind, Matter};

/// Height of a row, of its reading, and of what stands beside it.
const ROW: f64 = 0.245;
const LARGE: f64 = 0.15;
/// The box to tick, and air between the parts of a row.
const BOX: f64 = 0.13;
const AIR: f64 = 0.08;
/// Room for the number of a pair.
const NUMBER: f64 = 0.24;
/// Columns of a page.
const COLUMNS: usize = 3;
/// Rows that stay with the title above them.
const TOGETHER: usize = 3;
/// Height of the picture over the rows of a tape.
const PICTURE: f64 = 0.3;

/// One mark of a tape.
#[derive(Debug, Clone)]
struct Mark {
    /// The pair of rafters, or the course of panels.
    number: Option<usize>,
    /// From the hook.
    at: Length,
    /// What stands there.
    what: String,
}

impl Mark {
    fn is_like(&self, other: &Mark) -> bool {
        (self.at - other.at).inches().abs() < HAIR
            && self.number == other.number
            && self.what == other.what
    }
}

/// The marks that are made with one pull of the tape.
#[derive(Debug, Clone)]
pub(super) struct Tape {
    /// What all of it is, before their names; empty for sticks.
    kind: &'static str,
    /// Everything that is marked so.
    on: Vec<String>,
    /// Where to hook the tape.
    hook: String,
    /// What is done at each mark.
    say: String,
    /// True if a stick stands on an X beyond each mark.
    has_x: bool,
    marks: Vec<Mark>,
}

impl Tape {
    /// The tape of a line with the sticks at its marks.
    fn of(line: &LayoutLine, standing: &[Standing]) -> Tape {
        let mut marks: Vec<Mark> = Vec::new();
        for stick in standing {
            let what = stick.mark.clone();
            match marks.last_mut().filter(|last| (last.at - stick.at).inches().abs() < HAIR) {
                Some(last) if last.what.split(", ").any(|own| own == what) => {}
                Some(last) => last.what = format!("{}, {what}", last.what),
                None => marks.push(Mark { number: None, at: stick.at, what }),
            }
        }
        Tape {
            kind: "",
            on: vec![line.title()],
            hook: line.from.to_owned(),
            say: format!("X {}", line.x_side),
            has_x: true,
            marks,
        }
    }

    /// Adds a line that is marked like one before it to that one.
    pub(super) fn put(self, tapes: &mut Vec<Tape>) {
        if self.marks.is_empty() {
            return;
        }
        let alike = |other: &&mut Tape| {
            other.hook == self.hook
                && other.say == self.say
                && other.marks.len() == self.marks.len()
                && other.marks.iter().zip(&self.marks).all(|(one, other)| one.is_like(other))
        };
        match tapes.iter_mut().find(alike) {
            Some(other) => other.on.extend(self.on),
            None => tapes.push(self),
        }
    }

    /// The lines of panels: how far up the slope each course ends.
    pub(super) fn of_courses(name: String, hook: &str, ends: impl Iterator<Item = Length>) -> Tape {
        let mark = |(number, at)| Mark { number: Some(number), at, what: String::new() };
        Tape {
            kind: "Panels of ",
            on: vec![name],
            hook: hook.to_owned(),
            say: "snap a chalk line at each".to_owned(),
            has_x: false,
            marks: (1..).zip(ends).map(mark).collect(),
        }
    }

    fn title(&self) -> String {
        let on = match self.on.split_last() {
            Some((last, rest)) if !rest.is_empty() => {
                format!("{} and {last}, alike", rest.join(", "))
            }
            _ => self.on.concat(),
        };
        layout::capital(&format!("{}{on}", self.kind))
    }
}

/// The sheets of a gable.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let frame = matter.frame;
    let writing = job.writing;
    let mut words = vec![layout::capital(&layout::what(frame, writing)) + "."];
    words.push(layout::HOOK.to_owned());
    words.push("The small number before a mark is that of its pair.".to_owned());
    words.push(layout::eaves_differ(frame, writing));
    if frame.plan.rafter.boards() + frame.plan.rafter.ridge > inches(0.0) {
        words.push(layout::joints(frame, writing));
    }
    words.extend(layout::collar_ties(frame, writing));
    if frame.site.rake > 0.0 && frame.layout.iter().any(|line| line.kind == LineKind::EndWalls) {
        words.push("End walls and rakes are laid out alike at both ends.".to_owned());
    }
    let mut tapes = tapes_of(frame, writing);
    let (ask, deck) = matter.laid;
    for (plane, laid) in ask.ask.planes.iter().zip(&deck.planes) {
        let ends = laid.courses.iter().map(|course| course.chalk_line.length());
        Tape::of_courses(plane.name.clone(), ask.ask.datum.words(), ends).put(&mut tapes);
    }
    drawn(&tapes, &words.join(" "), job)
}

/// The tapes of a gable's lines.
fn tapes_of(frame: &Frame, writing: Writing) -> Vec<Tape> {
    let collars = frame.pairs_with(Role::CollarTie);
    let collar = frame.marks_of(Role::CollarTie).join(", ");
    let mut tapes = Vec::new();
    for line in &frame.layout {
        let standing = frame.standing(line);
        let mut tape = Tape::of(line, &standing);
        if line.kind.is_of_pairs() {
            number(&mut tape, &standing);
        }
        if matches!(line.kind, LineKind::Plate(_)) {
            let with_collar = |mark: &&mut Mark| {
                mark.number.is_some_and(|number| collars.contains(&number))
                    && standing.iter().any(|stick| is_rafter(stick) && stick.at == mark.at)
            };
            for mark in tape.marks.iter_mut().filter(with_collar) {
                mark.what = format!("{} + {collar}", mark.what);
            }
        }
        if matches!(line.kind, LineKind::Ridge(_)) {
            tape.say = format!("{}; {}", tape.say, pieces(frame, writing));
        }
        tape.put(&mut tapes);
    }
    tapes
}

/// How many pieces the ridge board has, and where they meet.
fn pieces(frame: &Frame, writing: Writing) -> String {
    let joints: Vec<String> =
        layout::ends_of(frame, Role::RidgeBoard).map(|end| writing.length(end)).collect();
    if joints.is_empty() {
        "one piece".to_owned()
    } else {
        format!("joints at {}", joints.join(", "))
    }
}

fn is_rafter(stick: &Standing) -> bool {
    matches!(stick.role, Role::CommonRafter | Role::EndRafter)
}

/// Gives every mark the number of the pair whose rafter is nearest; barge rafters belong to none.
fn number(tape: &mut Tape, standing: &[Standing]) {
    let rafters: Vec<&Standing> = standing.iter().filter(|stick| is_rafter(stick)).collect();
    let middle = |stick: &Standing| (stick.at + stick.covers / 2.0).inches();
    for mark in &mut tape.marks {
        let Some(own) = standing.iter().find(|stick| stick.at == mark.at) else { continue };
        if own.role == Role::BargeRafter {
            continue;
        }
        let off = |rafter: &&Standing| (middle(rafter) - middle(own)).abs();
        let near =
            (1..).zip(&rafters).min_by(|(_, one), (_, other)| off(one).total_cmp(&off(other)));
        mark.number = near.map(|(number, _)| number);
    }
}

/// The tapes of every side that is marked on a roof that is more than one gable.
pub(super) fn side_tapes(sticks: Sticks<'_>) -> Vec<Tape> {
    let mut tapes = Vec::new();
    for line in sticks.layout.iter().filter(|line| !line.marks.is_empty()) {
        Tape::of(line, &sticks.standing(line)).put(&mut tapes);
    }
    tapes
}

/// The pages of some tapes, with words before the first.
pub(super) fn drawn(tapes: &[Tape], words: &str, job: &Job) -> Vec<Page> {
    let writing = job.writing;
    let mut flow = Flow::new(job, Kind::Layout.title(), Orientation::Portrait, COLUMNS, "");
    let room = flow.page_width();
    let head = lines_of(words, SMALL, room, Weight::Regular);
    let mut over = Drawing::new(room, (head.len() as f64 + 0.5) * SMALL * LEADING);
    for (row, line) in head.into_iter().enumerate() {
        let y = over.height - SMALL - row as f64 * SMALL * LEADING;
        over.text(DVec2::new(0.0, y), line, SMALL, Anchor::Start);
    }
    flow.across(over);
    for tape in tapes {
        let head = heading(tape, "", flow.width());
        let rows = tape.marks.len().min(TOGETHER) as f64;
        flow.gap(0.14);
        flow.need(head.height + rows * ROW);
        flow.drawing(head);
        let reading = |mark: &Mark| typeface::width(&writing.length(mark.at), LARGE, Weight::Bold);
        let widest = tape.marks.iter().map(reading).fold(0.0, f64::max);
        for (at, mark) in tape.marks.iter().enumerate() {
            if flow.left_over() < ROW {
                flow.next();
                let rest = format!(", {} to go", tape.marks.len() - at);
                flow.drawing(heading(tape, &rest, flow.width()));
            }
            flow.drawing(row(mark, widest, flow.width(), writing));
        }
    }
    flow.finish()
}

/// What is marked, where the tape is hooked, and how a mark is made.
fn heading(tape: &Tape, more: &str, wide: f64) -> Drawing {
    let title = lines_of(&format!("{}{more}", tape.title()), SMALL, wide, Weight::Bold);
    let say = format!("Hook: {}. {}.", tape.hook, layout::capital(&tape.say));
    let say = lines_of(&say, FINE, wide, Weight::Regular);
    let picture = if tape.has_x { PICTURE } else { 0.04 };
    let high = title.len() as f64 * SMALL * LEADING + say.len() as f64 * FINE * LEADING + picture;
    let mut drawing = Drawing::new(wide, high);
    let mut y = high;
    for line in title {
        y -= SMALL;
        drawing.bold(DVec2::new(0.0, y), line, SMALL, Anchor::Start);
        y -= SMALL * (LEADING - 1.0);
    }
    for line in say {
        y -= FINE;
        drawing.text(DVec2::new(0.0, y), line, FINE, Anchor::Start);
        y -= FINE * (LEADING - 1.0);
    }
    if tape.has_x {
        hooked(&mut drawing, Area::new(DVec2::new(0.06, 0.07), DVec2::new(wide, PICTURE - 0.05)));
    }
    let rule = [0.0, wide].map(|x| DVec2::new(x, 0.0));
    drawing.line(rule.to_vec(), Pen::Outline);
    drawing
}

/// The tape hooked over the end of what is marked, and an X beyond a mark.
fn hooked(drawing: &mut Drawing, area: Area) {
    let (low, high) = (area.low, area.high);
    let at = |x: f64, y: f64| DVec2::new(x, y);
    let board = vec![at(high.x, low.y), low, at(low.x, high.y), at(high.x, high.y)];
    drawing.line(board, Pen::Context);
    let hook = vec![at(low.x - 0.05, low.y), at(low.x - 0.05, high.y + 0.03)];
    drawing.line(hook, Pen::Accent);
    let mark = low.x + area.size().x * 0.6;
    let tape = [low.x - 0.05, mark].map(|x| at(x, high.y + 0.03));
    drawing.line(tape.to_vec(), Pen::Accent);
    drawing.line(vec![at(mark, low.y), at(mark, high.y + 0.03)], Pen::Outline);
    let side = area.size().y;
    for (foot, top) in [(low.y, high.y), (high.y, low.y)] {
        drawing.line(vec![at(mark + 0.02, foot), at(mark + 0.02 + side, top)], Pen::Outline);
    }
}

/// One mark: a box to tick, the number of its pair, the reading, and what stands there.
fn row(mark: &Mark, widest: f64, wide: f64, writing: Writing) -> Drawing {
    let mut drawing = Drawing::new(wide, ROW);
    let foot = (ROW - LARGE) / 2.0;
    let tick = (ROW - BOX) / 2.0;
    let corners = Area::new(DVec2::new(0.0, tick), DVec2::new(BOX, tick + BOX)).corners();
    drawing.outline(corners.to_vec(), Pen::Thin, Fill::None);
    let mut x = BOX + AIR + NUMBER;
    if let Some(number) = mark.number {
        drawing.text(DVec2::new(x, foot), number.to_string(), SMALL, Anchor::End);
    }
    x += AIR;
    drawing.bold(DVec2::new(x, foot), writing.length(mark.at), LARGE, Anchor::Start);
    x += widest + AIR;
    let what = shortened(&mark.what, SMALL, (wide - x).max(0.0));
    drawing.text(DVec2::new(x, foot), what, SMALL, Anchor::Start);
    let rule = [0.0, wide].map(|x| DVec2::new(x, 0.0));
    drawing.line(rule.to_vec(), Pen::Thin);
    drawing
}

#[cfg(test)]
mod tests {
    use super::super::super::clash::clashes;
    use super::super::super::drawing::Item;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_matter};
    use super::*;
    use crate::measure::Units;

    /// The rows of all pages: what is written on the height of each large reading, from left to right.
    fn rows(pages: &[Page]) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        for page in pages {
            let texts = || {
                page.drawing.items.iter().filter_map(|item| match item {
                    Item::Text { at, text, height, .. } => Some((*at, text, *height)),
                    _ => None,
                })
            };
            for (at, text, _) in texts().filter(|(.., height)| (height - LARGE).abs() < HAIR) {
                let beside = |other: &DVec2| {
                    (other.y - at.y).abs() < HAIR && other.x > at.x && other.x < at.x + 2.0
                };
                let more = texts().filter(|(other, ..)| beside(other));
                let mut row = vec![text.clone()];
                row.extend(more.map(|(_, text, _)| text.clone()).take(1));
                rows.push(row);
            }
        }
        rows
    }

    /// Every mark of every line is on the sheet, and none that is not in the layout.
    #[track_caller]
    fn every_mark_is_read(text: &str, units: Units) {
        with_matter(text, units, |matter| {
            let job = job(Paper::Letter, units);
            let pages = pages(matter, &job);
            let found = rows(&pages);
            let mut wanted = 0;
            for line in &matter.frame.layout {
                let standing = matter.frame.standing(line);
                for stick in &standing {
                    let at = job.writing.length(stick.at);
                    let is_told = |row: &Vec<String>| row[0] == at && row[1].contains(&stick.mark);
                    assert!(found.iter().any(is_told), "{} {at} {}", line.on, stick.mark);
                }
                wanted += standing.len();
            }
            assert!(!found.is_empty() && found.len() < wanted + 10);
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
    fn a_long_tape_goes_on_in_further_columns() {
        let text = KESTREL.replace("length = \"22'\"", "length = \"90'\"");
        every_mark_is_read(&text, Units::Feet);
    }

    #[test]
    fn kestrel_yards_marks_are_those_done_by_hand() {
        // centers 16 in apart, half of a 1-1/2 in rafter before each; the ridge starts 8 in out
        with_matter(KESTREL, Units::Feet, |matter| {
            let rows = rows(&pages(matter, &job(Paper::Letter, Units::Feet)));
            for (at, mark) in [
                ("1' 3-1/4\"", "R1"),
                ("21' 3-1/4\"", "R1"),
                ("21' 10-1/2\"", "R1"),
                ("1' 4-3/4\"", "J1"),
                ("1' 11-1/4\"", "R1"),
                ("23' 2-1/2\"", "RB1"),
            ] {
                assert!(
                    rows.iter().any(|row| row[0] == at && row[1].starts_with(mark)),
                    "{at} {mark}"
                );
            }
        });
    }

    #[test]
    fn plates_that_are_marked_alike_are_said_once() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let tapes = tapes_of(matter.frame, job(Paper::Letter, Units::Feet).writing);
            let titles: Vec<String> = tapes.iter().map(Tape::title).collect();
            assert!(titles.contains(&"Plate A and plate B, alike".to_owned()), "{titles:?}");
            // 16 pairs between two end pairs, each with a joist beyond its rafter; a trimmer joist on each side of the opening
            let plates = &tapes[0].marks;
            let of = |letter: char| plates.iter().filter(move |mark| mark.what.starts_with(letter));
            assert_eq!(of('R').count(), 18);
            assert_eq!(of('J').count(), 16 + 2);
            for (rafter, number) in of('R').zip(1..) {
                assert_eq!(rafter.number, Some(number));
            }
            // pairs 2 to 17 have joists, beside their rafters
            for joist in of('J').filter(|mark| !mark.what.starts_with("JR")) {
                let rafter = of('R').find(|mark| mark.number == joist.number).unwrap();
                assert!(((joist.at - rafter.at).inches() - 1.5).abs() < 1e-9, "{joist:?}");
            }
        });
    }
}
