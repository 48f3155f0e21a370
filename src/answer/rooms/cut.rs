//! Patterns as cards and the stack to cut.

use serde::Serialize;

use crate::facts::{caution, frame as facts};
use crate::frame::{Edge, Member, Role};
use crate::measure::quantity::in_degrees;
use crate::measure::{Writing, trim};
use crate::sheet::{self, frame as words, pattern, set};

use super::looked::{Looked, View};
use super::picture::Picture;

/// What the cutter works from.
#[derive(Debug, Serialize)]
pub(super) struct CutView {
    /// The pattern rafter as it lies on the horses.
    pattern: Pattern,
    /// Every stick to cut, pattern by pattern.
    sticks: Vec<Card>,
    caution: &'static str,
}

#[derive(Debug, Serialize)]
struct Pattern {
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
}

/// A card is drawn no narrower than its dimensions need, inches.
const NARROWEST: f64 = 5.0;

pub(super) fn view(looked: &Looked, writing: Writing, view: &View) -> CutView {
    let frame = &looked.frame;
    let rafter = &frame.rafter;
    let drawing = pattern::on_the_horses(rafter, writing, view.wide);
    CutView {
        pattern: Pattern {
            drawing: Picture::from(&drawing),
            length: writing.length(rafter.rafter_length),
            hook: sheet::rafter::HOOK,
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
        },
        sticks: frame.members.iter().map(|member| drawn(looked, member, writing, view)).collect(),
        caution: caution::RAFTER,
    }
}

/// The card of a pattern, with its drawing.
fn drawn(looked: &Looked, member: &Member, writing: Writing, view: &View) -> Card {
    let drawn = member.role != Role::CommonRafter && !set::is_square(member);
    let drawing =
        drawn.then(|| Picture::from(&set::alone(member, view.wide.max(NARROWEST), writing)));
    Card { drawing, ..card(looked, member, writing) }
}

/// The card of a pattern, without its drawing.
pub(super) fn card(looked: &Looked, member: &Member, writing: Writing) -> Card {
    let lengths = &looked.frame.plan.rafter.lengths;
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
    }
}
