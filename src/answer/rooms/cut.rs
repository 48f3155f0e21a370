//! Patterns as cards and the stack to cut.

use serde::Serialize;

use crate::facts::{caution, frame as facts};
use crate::frame::{CommonRafter, Edge, Member};
use crate::measure::quantity::in_degrees;
use crate::measure::{Writing, trim};
use crate::sheet::{frame as words, pattern, set};

use super::looked::{Looked, View};
use super::picture::Picture;
use super::table::TableView;

/// What the cutter works from.
#[derive(Debug, Serialize)]
pub(super) struct CutView {
    /// The pattern rafter as it lies on the horses; null if the roof has none.
    pattern: Option<Pattern>,
    /// Every stick to cut, pattern by pattern.
    sticks: Vec<Card>,
    caution: &'static str,
}

#[derive(Debug, Serialize)]
struct Pattern {
    mark: String,
    drawing: Picture,
    /// Rafter, ridge cut to tail cut.
    length: String,
    /// Where the tape is hooked for each edge.
    hook: &'static str,
    marks: Vec<MarkRow>,
    cuts: Vec<CutRow>,
    /// Corner to corner, to prove the pattern by.
    proofs: Vec<ProofRow>,
}

#[derive(Debug, Serialize)]
struct MarkRow {
    number: u32,
    edge: &'static str,
    at: String,
    said: String,
    name: &'static str,
    line: &'static str,
}

#[derive(Debug, Serialize)]
struct CutRow {
    name: &'static str,
    line: &'static str,
    /// Saw miter, degrees.
    miter: String,
    /// The same as rise in 12.
    rise: String,
    length: String,
}

#[derive(Debug, Serialize)]
struct ProofRow {
    letter: char,
    what: &'static str,
    proves: &'static str,
    length: String,
}

/// One pattern of the frame.
#[derive(Debug, Serialize)]
pub(super) struct Card {
    mark: String,
    what: &'static str,
    count: usize,
    section: String,
    blank: String,
    from: Option<String>,
    ends: String,
    other: String,
    /// Its drawing; a square-cut stick has none, and neither has a card for a list.
    drawing: Option<Picture>,
    /// Figures that the drawing does not have.
    tables: Vec<TableView>,
    /// How to cut it, step by step.
    steps: Vec<String>,
}

/// A card is drawn no narrower than its dimensions need, inches.
const NARROWEST: f64 = 5.0;

pub(super) fn view(looked: &Looked, writing: Writing, view: &View) -> CutView {
    let sticks = looked.sticks();
    let known = sticks.pattern();
    let number = known.map(|(_, at)| at);
    let card = |(at, member)| drawn(looked, member, Some(at) == number, writing, view);
    CutView {
        pattern: known
            .map(|(rafter, at)| of_rafter(rafter, &sticks.members[at].mark, writing, view)),
        sticks: sticks.members.iter().enumerate().map(card).collect(),
        caution: if sticks.gable.is_some() { caution::RAFTER } else { caution::ANY_ROOF },
    }
}

fn of_rafter(rafter: &CommonRafter, mark: &str, writing: Writing, view: &View) -> Pattern {
    Pattern {
        mark: mark.to_owned(),
        drawing: Picture::from(&pattern::on_the_horses(rafter, writing, view.wide)),
        length: writing.length(rafter.rafter_length),
        hook: rafter.upper().hook,
        marks: rafter
            .marks
            .iter()
            .map(|mark| MarkRow {
                number: mark.number,
                edge: match mark.edge {
                    Edge::Top => "top",
                    Edge::Bottom => "bottom",
                },
                at: writing.length(mark.at),
                said: writing.said(mark.at),
                name: mark.name,
                line: mark.line,
            })
            .collect(),
        cuts: rafter
            .cuts
            .iter()
            .map(|cut| CutRow {
                name: cut.name,
                line: cut.square,
                miter: trim(in_degrees(cut.saw.miter), 2),
                rise: trim(cut.saw.rise_in_12(), 2),
                length: writing.length(cut.length),
            })
            .collect(),
        proofs: rafter
            .proofs()
            .into_iter()
            .map(|proof| ProofRow {
                letter: proof.letter,
                what: proof.what,
                proves: proof.proves,
                length: writing.length(proof.length()),
            })
            .collect(),
    }
}

/// The card of a pattern, with its drawing. That of the pattern rafter is drawn on the horses.
fn drawn(
    looked: &Looked,
    member: &Member,
    is_pattern: bool,
    writing: Writing,
    view: &View,
) -> Card {
    let card = card(looked, member, writing);
    let wide = view.wide.max(NARROWEST);
    let alone = (!is_pattern).then(|| set::alone(looked.sticks(), member, wide, writing)).flatten();
    match alone {
        Some(alone) => Card {
            drawing: Some(Picture::from(&alone.drawing)),
            tables: alone.tables.iter().map(TableView::from).collect(),
            steps: alone.steps,
            ..card
        },
        None => card,
    }
}

/// The card of a pattern, without its drawing.
pub(super) fn card(looked: &Looked, member: &Member, writing: Writing) -> Card {
    let lengths = looked.sticks().lengths();
    Card {
        mark: member.mark.clone(),
        what: member.role.words(),
        count: member.count(),
        section: member.stick.section.write(writing.units),
        blank: writing.blank(member.blank()),
        from: member.order_length(lengths).map(|length| writing.length(length)),
        ends: facts::ends(member),
        other: words::other_cuts(member, writing),
        drawing: None,
        tables: Vec::new(),
        steps: Vec::new(),
    }
}
