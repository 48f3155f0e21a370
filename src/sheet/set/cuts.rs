//! The cutting plan's bars, drawn to scale.

use crate::geom::DVec2;
use crate::order::cutting::{CuttingProblem, PlannedBar};
use crate::order::{Order, Part, SectionOrder, lumber};

use super::super::drawing::{Anchor, Area, Drawing, Fill, Item, Pen, View};
use super::super::paper::{FINE, Flow, HEAD, Job, LEADING, Orientation, Page, SMALL, lines};
use super::super::scale::fitting_scale;
use super::super::typeface::{self, Weight};
use super::super::{cuts, order};
use super::Kind;
use super::order::sentence;

const CAUTION: &str = "Caution: these are blanks, before their angle cuts. Support both ends, let the offcut fall free, \
     look for nails and knots in the line. Check the first piece of each mark against its drawing before the rest is cut.";

/// Height of a bar on paper.
const BAR: f64 = 0.3;
/// At the left of the bars, for their number.
const LEFT: f64 = 0.55;
/// At the right of the bars, for the length of the stock.
const RIGHT: f64 = 0.8;
/// Air at both ends of a text in a piece.
const AIR: f64 = 0.04;

/// The sheets of a set with these kinds.
pub(super) fn pages(of: &Order, with: &[Kind], job: &Job) -> Vec<Page> {
    let sections = &of.sections;
    let mut flow = Flow::new(job, Kind::Cuts.title(), Orientation::Portrait, 1, CAUTION);
    let all = sentence(&order::of_all_plans(sections, &of.tags(), job.writing));
    // one saw, unless some sections are metric
    let mut saws: Vec<String> =
        sections.iter().map(|section| cuts::saw_cut(section.ask.problem(), job.writing)).collect();
    saws.dedup();
    let saw = if let [saw] = saws.as_slice() { format!(" {saw}") } else { String::new() };
    flow.words(&format!("{all}{saw} Hatched is what is left."));
    // how many of each and how long they are is with its drawing
    let is_told = [Kind::Pattern, Kind::Members].iter().all(|kind| with.contains(kind));
    for section in sections {
        let told = Told { pieces: is_told, saw: !saw.is_empty() };
        add(section, told, job, &mut flow);
    }
    flow.finish()
}

/// What is said of all sections, or elsewhere.
#[derive(Debug, Clone, Copy)]
struct Told {
    pieces: bool,
    saw: bool,
}

fn add(section: &SectionOrder, told: Told, job: &Job, flow: &mut Flow<'_>) {
    let problem = section.ask.problem();
    let longest = section
        .bars()
        .iter()
        .map(|bar| length_of(problem, problem.stock[bar.stock].length))
        .fold(0.0, f64::max);
    let scale = fitting_scale(longest, flow.width() - LEFT - RIGHT, job.writing.units);
    let view = View { scale: 1.0 / scale, origin: DVec2::new(LEFT, 0.0) };
    let mut words = Vec::new();
    if section.plan.is_some() {
        let pieces = match told.pieces {
            true => String::new(),
            false => format!(" Pieces: {}.", legend(section, job)),
        };
        let saw = match told.saw {
            true => String::new(),
            false => format!(" {}", cuts::saw_cut(problem, job.writing)),
        };
        words.push(order::verdict(section, job.writing.units) + &pieces + &saw);
    }
    for part in &section.ask.too_long {
        words.push(order::too_long(section, part, job.writing));
    }
    let bars: Vec<Drawing> =
        section.bars().iter().map(|bar| draw(section, bar, &view, job, flow.width())).collect();
    let said: f64 = words.iter().map(|words| flow.words_height(words)).sum();
    flow.need(HEAD * LEADING + 0.1 + said + Flow::first_of(&bars, 0.0));
    let title = section.title(job.writing.units);
    flow.head(&match section.plan {
        Some(_) => format!("{title}, {}", view.words(job.writing.units)),
        None => title,
    });
    for words in words {
        flow.words(&words);
    }
    flow.drawings(bars, 0.0);
}

fn length_of(problem: &CuttingProblem, units: i64) -> f64 {
    units as f64 / problem.units_per_inch
}

/// `40 common rafter R1 8' 8-5/8", ...`.
fn legend(section: &SectionOrder, job: &Job) -> String {
    let problem = section.ask.problem();
    let list: Vec<String> = section
        .ask
        .parts
        .iter()
        .zip(&problem.pieces)
        .map(|(part, piece)| {
            format!(
                "{} {} {}",
                part.count,
                part.name(),
                cuts::length(problem, piece.length, job.writing)
            )
        })
        .collect();
    list.join("; ")
}

/// The text on a piece: its mark, or its name if it has no mark.
fn mark(part: &Part) -> &str {
    part.mark.as_deref().unwrap_or(&part.what)
}

/// One kind of bar: how many, its pieces from the left, the offcut, its length.
fn draw(section: &SectionOrder, bar: &PlannedBar, view: &View, job: &Job, wide: f64) -> Drawing {
    let problem = section.ask.problem();
    let stock = &section.ask.stock[bar.stock];
    let mut drawing = Drawing::new(wide, 0.0);
    let mut whole = true;
    let end = length_of(problem, problem.stock[bar.stock].length);
    let span = |from: f64, to: f64| {
        let x = |at: f64| view.place(DVec2::new(at, 0.0)).x;
        Area::new(DVec2::new(x(from), 0.0), DVec2::new(x(to), BAR))
    };
    drawing.outline(span(0.0, end).corners().to_vec(), Pen::Context, Fill::Hatch);
    let mut at = problem.end_trim;
    for piece in &bar.pieces {
        let area = span(length_of(problem, at), length_of(problem, at + piece.length));
        drawing.blank(area);
        drawing.outline(area.corners().to_vec(), Pen::Context, Fill::None);
        let name = section.ask.parts.get(piece.piece).map_or(piece.label.as_str(), mark);
        let long = cuts::length(problem, piece.length, job.writing);
        whole &= letter(&mut drawing, area, name, &long);
        at += piece.length + problem.kerf;
    }
    let middle = |height: f64| (BAR - height) / 2.0;
    drawing.bold(
        DVec2::new(LEFT - 0.1, middle(SMALL)),
        format!("{} x", bar.times),
        SMALL,
        Anchor::End,
    );
    let name = lumber::length_name(stock.length, section.ask.names_meters);
    let right = span(0.0, end).high.x + 0.08;
    drawing.bold(DVec2::new(right, BAR - SMALL - 0.03), name, SMALL, Anchor::Start);
    let left_over = cuts::length(problem, bar.offcut, job.writing);
    drawing.text(DVec2::new(right, 0.03), format!("left {left_over}"), FINE, Anchor::Start);
    if stock.in_hand.is_some() {
        drawing.text(DVec2::new(0.0, 0.0), "in hand", FINE, Anchor::Start);
    }
    under(drawing, (!whole).then(|| sequence(section, bar, job)))
}

/// Puts mark and length on a piece, as far as there is room; true if both fit.
fn letter(drawing: &mut Drawing, area: Area, mark: &str, long: &str) -> bool {
    let room = area.size().x - 2.0 * AIR;
    let wide = |text: &str, height, weight| typeface::width(text, height, weight);
    let bold = wide(mark, SMALL, Weight::Bold);
    let middle = area.middle();
    if bold.max(wide(long, FINE, Weight::Regular)) <= room {
        let up = DVec2::new(middle.x, BAR - 0.055 - SMALL);
        drawing.bold(up, mark, SMALL, Anchor::Middle);
        let low = DVec2::new(middle.x, 0.055);
        drawing.text(low, long, FINE, Anchor::Middle);
        return true;
    }
    if bold <= room {
        let at = DVec2::new(middle.x, (BAR - SMALL) / 2.0);
        drawing.bold(at, mark, SMALL, Anchor::Middle);
    } else if FINE <= area.size().x - 0.03 && wide(mark, FINE, Weight::Bold) <= BAR - 0.04 {
        drawing.items.push(Item::Text {
            at: DVec2::new(middle.x + FINE / 2.0, BAR / 2.0),
            text: mark.to_owned(),
            height: FINE,
            anchor: Anchor::Middle,
            turn: 90.0,
            weight: Weight::Bold,
            ink: super::super::Ink::Black,
        });
    }
    false
}

/// The bar's pieces from the left in words, with equal neighbors counted.
fn sequence(section: &SectionOrder, bar: &PlannedBar, job: &Job) -> String {
    let problem = section.ask.problem();
    let mut groups: Vec<(usize, &str, i64)> = Vec::new();
    for piece in &bar.pieces {
        let name = section.ask.parts.get(piece.piece).map_or(piece.label.as_str(), mark);
        match groups.last_mut() {
            Some((count, last, length)) if *last == name && *length == piece.length => *count += 1,
            _ => groups.push((1, name, piece.length)),
        }
    }
    let list: Vec<String> = groups
        .into_iter()
        .map(|(count, name, length)| {
            let long = cuts::length(problem, length, job.writing);
            match count {
                1 => format!("{name} {long}"),
                _ => format!("{count} {name} {long}"),
            }
        })
        .collect();
    format!("From the left: {}", list.join(", "))
}

/// The drawing with words under it and some air around.
fn under(bar: Drawing, words: Option<String>) -> Drawing {
    let room = bar.width - LEFT - RIGHT;
    let list = words.map_or_else(Vec::new, |words| lines(&words, FINE, room));
    let below = list.len() as f64 * FINE * LEADING + 0.08;
    let mut drawing = Drawing::new(bar.width, BAR + below + 0.03);
    drawing.place(bar, DVec2::Y * below);
    for (index, line) in list.iter().enumerate() {
        let y = below - 0.05 - FINE - index as f64 * FINE * LEADING;
        drawing.text(DVec2::new(LEFT, y), line, FINE, Anchor::Start);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, job, with_matter};
    use super::*;
    use crate::measure::Units;

    #[test]
    fn every_piece_stands_on_a_bar_with_its_length() {
        for (text, units) in [(KESTREL, Units::Feet), (METRIC, Units::Millimeters)] {
            with_matter(text, units, |matter| {
                let job = job(Paper::Letter, units);
                let texts: Vec<String> = pages(matter.order, &[], &job)
                    .into_iter()
                    .flat_map(|page| page.drawing.items)
                    .filter_map(|item| match item {
                        Item::Text { text, .. } => Some(text),
                        _ => None,
                    })
                    .collect();
                for section in &matter.order.sections {
                    let problem = section.ask.problem();
                    for (part, piece) in section.ask.parts.iter().zip(&problem.pieces) {
                        let long = cuts::length(problem, piece.length, job.writing);
                        let has = |wanted: &str| texts.iter().any(|text| text.contains(wanted));
                        assert!(has(mark(part)) && has(&long), "{} {long}", part.name());
                    }
                    for bar in section.bars() {
                        let count = format!("{} x", bar.times);
                        assert!(texts.contains(&count), "{count}");
                    }
                }
            });
        }
    }
}
