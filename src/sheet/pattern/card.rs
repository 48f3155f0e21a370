//! The card: one page for the wall by the saw, to be read at arm's length.
//!
//! What the cutter needs of one pattern and nothing else: how many, from which board, where the tape marks, how square and
//! saw are set, the numbers that prove it, and which sticks look like it and are not it.

use std::collections::BTreeMap;

use crate::facts::caution;
use crate::frame::{CommonRafter, Edge, Member, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::{Writing, trim};

use super::super::Anchor;
use super::super::drawing::{Area, Drawing, Pen};
use super::super::paper::notes::spread;
use super::super::paper::{Job, Orientation, Page, lines_of, shortened};
use super::super::rafter::{square_held, stock_words};
use super::super::typeface::{self, Weight};
use super::cutting::{flat, laid};
use super::laid::Laid;
use super::matter::Pattern;

/// Height of capitals: an 18 point letter.
const LETTERS: f64 = 0.182;
/// Height of the mark.
const MARK: f64 = 0.5;
/// From one base line to the next.
const LINE: f64 = LETTERS * 1.62;
/// How much closer lines may stand before their letters touch.
const CLOSEST: f64 = 0.76;
/// Room for the stamp.
const STAMP: f64 = 0.42;
/// Depth of the rafter on paper, at most.
const DEEP: f64 = 1.0;
/// From an edge of the rafter to the number of a mark on it.
const LEADER: f64 = 0.16;
/// From there to the number itself.
const CLEAR: f64 = 0.07;
/// How many sticks are named that look like it.
const LOOK_ALIKE: usize = 2;

/// The card of the pattern rafter, which lies among the other sticks of its frame.
#[must_use]
pub fn card(pattern: &Pattern<'_>, frame: &[Member], job: &Job) -> Page {
    let blank = job.open(
        &pattern.title("Card of the p", ""),
        Orientation::Landscape,
        caution::RAFTER_IN_SHORT,
    );
    let (mut page, area) = (blank.page, blank.area);
    let (rafter, writing) = (pattern.rafter, job.writing);
    let wide = area.size().x;
    let mut y = head(pattern, frame, area, writing, &mut page.drawing);
    page.stamp = Some((DVec2::new(area.low.x, y), wide));
    y -= STAMP;
    let drawing = numbered(rafter, writing, wide);
    y -= drawing.height;
    page.drawing.place(drawing, DVec2::new(area.low.x, y));
    y -= LETTERS * 1.3;
    let half = wide / 2.0;
    for (x, rows) in [(0.0, tapes(rafter, writing)), (half + 0.15, settings(rafter, writing))] {
        let low = DVec2::new(area.low.x + x, y);
        let column = Column { low, wide: half - 0.15, letters: LETTERS, line: LINE };
        let room = y - area.low.y;
        let used = |column: &Column| y - column.write(&rows, &mut Drawing::new(wide, y));
        // many lines stand closer, for the letters keep their size as long as they are apart
        let closer = (room / used(&column)).min(1.0);
        let column = match closer < CLOSEST {
            true => Column { letters: LETTERS * closer / CLOSEST, line: LINE * closer, ..column },
            false => Column { line: LINE * closer, ..column },
        };
        column.write(&rows, &mut page.drawing);
    }
    page
}

/// The mark, how many, of what; and what it is not. Gives the height below it.
fn head(
    pattern: &Pattern<'_>,
    frame: &[Member],
    area: Area,
    writing: Writing,
    drawing: &mut Drawing,
) -> f64 {
    let rafter = pattern.rafter;
    let top = area.high.y;
    let own = pattern.members.iter().find(|member| member.role == Role::CommonRafter);
    let mut left = area.low.x;
    if let Some(member) = own {
        drawing.bold(DVec2::new(left, top - MARK), &member.mark, MARK, Anchor::Start);
        left += typeface::width(&member.mark, MARK, Weight::Bold) + 0.3;
    }
    let room = area.high.x - left;
    let count = own.map_or(String::new(), |member| format!("{} of ", member.count()));
    let board = match stock_words(rafter, writing) {
        Some(board) => format!("each from {board}"),
        None => "longer than any stock".to_owned(),
    };
    let first = format!(
        "{count}{}, {board}: blank {}",
        rafter.plan.stock.write(writing.units),
        writing.blank(rafter.blank_length),
    );
    let second = format!(
        "Rafter {}, {} cut to tail cut, {}",
        writing.length(rafter.rafter_length),
        rafter.upper().end,
        writing.pitch(rafter.plan.pitch),
    );
    for (text, y) in [(first, top - LETTERS), (second, top - LETTERS - LINE)] {
        drawing.bold(DVec2::new(left, y), shortened(&text, LETTERS, room), LETTERS, Anchor::Start);
    }
    let mut y = top - LETTERS - LINE - 0.1;
    let like = look_alikes(own, frame, writing);
    if !like.is_empty() {
        for line in lines_of(&like, LETTERS, area.size().x, Weight::Regular) {
            y -= LINE;
            drawing.text(DVec2::new(area.low.x, y), line, LETTERS, Anchor::Start);
        }
    }
    y - 0.14
}

/// Sticks of the same section that are about as long, the most alike first: how they are told from this one.
fn look_alikes(own: Option<&Member>, frame: &[Member], writing: Writing) -> String {
    let Some(own) = own else {
        return String::new();
    };
    let off = |member: &Member| (member.blank().inches() - own.blank().inches()).abs();
    let mut like: Vec<&Member> = frame
        .iter()
        .filter(|member| {
            member.mark != own.mark
                && member.stick.section == own.stick.section
                && member.role.words().contains("rafter")
                && off(member) < own.blank().inches() / 4.0
        })
        .collect();
    like.sort_by(|a, b| off(a).total_cmp(&off(b)).then_with(|| a.mark.cmp(&b.mark)));
    let named: Vec<String> = like
        .iter()
        .take(LOOK_ALIKE)
        .map(|member| {
            format!(
                "{} ({}, {}, {})",
                member.mark,
                member.role.words(),
                member.count(),
                writing.length(member.top_length()),
            )
        })
        .collect();
    if named.is_empty() { String::new() } else { format!("Not {}.", named.join(", not ")) }
}

/// The rafter as it lies on the horses, with the numbers of its marks.
fn numbered(rafter: &CommonRafter, writing: Writing, wide: f64) -> Drawing {
    let bare = Laid { top: Vec::new(), bottom: Vec::new(), ..laid(rafter, writing) };
    let deep = bare.deep;
    let (stick, placed) = bare.draw(wide, DEEP);
    let beyond = LEADER + CLEAR + LETTERS + 0.02;
    let mut all = Drawing::new(wide, stick.height + 2.0 * beyond - 0.3);
    let by = DVec2::Y * (beyond - 0.15);
    all.place(stick, by);
    for (edge, side) in [(Edge::Top, 1.0), (Edge::Bottom, -1.0)] {
        let height = if side > 0.0 { deep } else { 0.0 };
        // from right to left, because boxes are spread downward from a top
        let mut marks: Vec<(f64, u32)> = rafter
            .marks
            .iter()
            .filter(|mark| mark.edge == edge)
            .map(|mark| (flat(rafter, mark.point).x, mark.number))
            .collect();
        marks.sort_by(|a, b| b.0.total_cmp(&a.0));
        let widths: Vec<f64> = marks
            .iter()
            .map(|(_, number)| typeface::width(&number.to_string(), LETTERS, Weight::Bold) + 0.1)
            .collect();
        let points: Vec<DVec2> =
            marks.iter().map(|(x, _)| placed.place(DVec2::new(*x, height)) + by).collect();
        let wanted: Vec<f64> =
            points.iter().zip(&widths).map(|(at, width)| at.x + width / 2.0).collect();
        for (((_, number), width), (at, top)) in
            marks.iter().zip(&widths).zip(points.iter().zip(spread(&wanted, &widths, wide, 0.0)))
        {
            let knee = DVec2::new(top - width / 2.0, at.y + side * LEADER);
            all.line(vec![*at, knee], Pen::Context);
            let low = if side > 0.0 { knee.y + CLEAR } else { knee.y - CLEAR - LETTERS };
            all.bold(DVec2::new(knee.x, low), number.to_string(), LETTERS, Anchor::Middle);
        }
    }
    all
}

/// What stands in a column.
enum Row {
    /// A head.
    Head(String),
    /// A number or a letter, what is read, and what it is.
    Reading(String, String, &'static str),
    /// Words over the whole width.
    Words(String),
}

/// What the tape reads along both edges.
fn tapes(rafter: &CommonRafter, writing: Writing) -> Vec<Row> {
    let end = rafter.upper().end;
    [
        (Edge::Top, format!("TOP, tape on the {end}'s long point")),
        (Edge::Bottom, "BOTTOM, on its short point".to_owned()),
    ]
    .into_iter()
    .flat_map(|(edge, head)| {
        let marks = rafter.marks.iter().filter(move |mark| mark.edge == edge);
        let rows = marks.map(move |mark| {
            Row::Reading(mark.number.to_string(), writing.length(mark.at), mark.name)
        });
        std::iter::once(Row::Head(head)).chain(rows)
    })
    .collect()
}

/// How square and saw are set, the heel stand, and the numbers that prove it.
fn settings(rafter: &CommonRafter, writing: Writing) -> Vec<Row> {
    let mut saws: BTreeMap<i64, Vec<&'static str>> = BTreeMap::new();
    for cut in &rafter.cuts {
        // whole hundredths of a degree
        let key = (in_degrees(cut.saw.miter) * 100.0).round() as i64;
        saws.entry(key).or_default().push(cut.name);
    }
    let mut rows =
        vec![Row::Head(format!("Square at {}", square_held(rafter.plan.pitch, writing.units)))];
    rows.extend(saws.into_iter().map(|(key, names)| {
        Row::Words(format!("Saw {} deg: {}", trim(key as f64 / 100.0, 2), names.join(", ")))
    }));
    rows.push(Row::Head(format!("Heel stand {}", writing.length(rafter.heel_stand))));
    rows.push(Row::Head("Prove it by".to_owned()));
    rows.extend(rafter.proofs().into_iter().map(|proof| {
        Row::Reading(proof.letter.to_string(), writing.length(proof.length()), proof.short)
    }));
    rows
}

/// A column of a card, from the base line of its first row down.
struct Column {
    /// The left end of the first base line.
    low: DVec2,
    /// Its width.
    wide: f64,
    /// Height of its capitals.
    letters: f64,
    /// From one base line to the next.
    line: f64,
}

impl Column {
    /// Writes the rows; returns the height below the last one.
    fn write(&self, rows: &[Row], drawing: &mut Drawing) -> f64 {
        let widest = |part: fn(&Row) -> &str| {
            let texts = rows.iter().map(part);
            texts.map(|text| typeface::width(text, self.letters, Weight::Bold)).fold(0.0, f64::max)
        };
        let letter = widest(|row| if let Row::Reading(letter, ..) = row { letter } else { "" });
        let length = widest(|row| if let Row::Reading(_, length, _) = row { length } else { "" });
        let [read, name] = [letter + 0.12 + length, letter + length + 0.28];
        let mut at = self.low;
        for (index, row) in rows.iter().enumerate() {
            if index > 0 && matches!(row, Row::Head(_)) {
                at.y -= self.line * 0.37;
            }
            let (words, indent, weight) = match row {
                Row::Head(words) => (words.as_str(), 0.0, Weight::Bold),
                Row::Words(words) => (words.as_str(), 0.0, Weight::Regular),
                Row::Reading(letter, length, what) => {
                    drawing.bold(at, letter, self.letters, Anchor::Start);
                    drawing.bold(at + DVec2::X * read, length, self.letters, Anchor::End);
                    (*what, name, Weight::Regular)
                }
            };
            for line in lines_of(words, self.letters, self.wide - indent, weight) {
                let from = at + DVec2::X * indent;
                match weight {
                    Weight::Bold => drawing.bold(from, line, self.letters, Anchor::Start),
                    Weight::Regular => drawing.text(from, line, self.letters, Anchor::Start),
                }
                at.y -= self.line;
            }
        }
        at.y + self.line - self.letters * 0.4
    }
}
