//! The members other than the common rafter, each drawn from its own solid, and the square-cut ones in
//! a table.

pub(super) mod broken;
pub(super) mod card;
pub(super) mod rows;

use crate::facts::datum::{Blank, Datum, Inches};
use crate::facts::frame::StickJson;
use crate::facts::record::{keys, row};
use crate::frame::{Edge, Frame, Member, Role};
use crate::measure::Writing;
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::tolerance::HAIR;
use crate::plan::{Meeting, RidgeJoints};
use crate::sheet::frame::{cut_list, ends};
use crate::sheet::paper::{Flow, Job, Orientation, Page};
use crate::sheet::{Drawing, Table};

use super::{Kind, Matter};
use card::{Card, beveled};

#[cfg(test)]
mod tests;

pub(super) const CAUTION: &str = "Caution: cut one, try it in its place, then the rest. Check every angle on a scrap. Short and narrow pieces are \
     held by a clamp or a jig, never by hand; rips and bevels throw pieces back: guards, push sticks, eye protection.";

/// More marks than this are told from the first to the last.
const MOST_MARKS: usize = 6;

/// Over the drawing of a member.
const GAP: f64 = 0.14;

/// Height of the drawing of a member that is as wide as a page, about.
pub(super) const TALL: f64 = 2.6;

/// What all of them have in common.
pub(super) const INTRODUCTION: &str = "Angles in degrees: the first off a line square to the edges on the wide face, a tilt off square to that face. \
     Tape marks run along an edge from its left end, on rafters from the ridge at the right.";

/// Height of the head of the pieces in line, its words and the first row, inches.
const PIECES_HEAD: f64 = 1.6;

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let frame = matter.frame;
    let mut flow = Flow::new(job, Kind::Members.title(), Orientation::Portrait, 1, CAUTION);
    let (plain, cut) = plain_and_cut(frame);
    let cards = families(&cut).into_iter().map(|family| {
        let table = (!are_one_length(&family)).then(|| lengths(job, &family));
        (card(matter, job, &family), table)
    });
    let mut cards: Vec<(Card<'_>, Option<Table>)> = cards.collect();
    // the wide ones, and then the tallest first, so that those side by side are about as tall
    let tall = |(card, table): &(Card<'_>, Option<Table>), flow: &Flow<'_>| {
        let wide = flow.block_width(2);
        let under = table.as_ref().map_or(0.0, |table| flow.table_height(table));
        match card::has_room(card.member, wide, job.writing) {
            true => card::drawing(card, wide, job.writing).height + under,
            false => f64::INFINITY,
        }
    };
    cards.sort_by(|one, other| tall(other, &flow).total_cmp(&tall(one, &flow)));
    flow.words(INTRODUCTION);
    // not without the first of them
    let first = cards.first().map_or(0.0, |first| tall(first, &flow));
    let first = if first.is_finite() { first } else { TALL };
    flow.introduces(GAP + first);
    for (card, table) in &cards {
        show(card, table.as_ref(), job, &mut flow);
    }
    // a plan has its joints and its sticks with their lengths
    let has_plan = with.contains(&Kind::Plan);
    let rows = rows::rows(frame);
    if !rows.is_empty() && !has_plan {
        flow.need(PIECES_HEAD);
        flow.head("Pieces in line");
        flow.words(&joints_in_words(matter));
        for row in &rows {
            flow.drawing(row.drawing(flow.width(), job.writing));
        }
    }
    if !plain.is_empty() && !has_plan {
        flow.head("Square-cut sticks");
        // the stock of each is in the cutting plan, which may differ from the shortest stock
        let columns = keys!(StickJson: mark, what, count, section, blank_in, end_cuts);
        flow.folded(&cut_list("", frame.sticks(), plain, columns, job.writing));
    }
    flow.finish()
}

/// The members but the common rafter: those that need no drawing, and the others.
fn plain_and_cut(frame: &Frame) -> (Vec<&Member>, Vec<&Member>) {
    let others = frame.members.iter().filter(|member| member.role != Role::CommonRafter);
    let (square, cut): (Vec<&Member>, Vec<&Member>) = others.partition(|member| is_square(member));
    let drawn = |member: &&Member| cut.iter().any(|other| other.mark == member.mark);
    (square.into_iter().filter(|member| !drawn(member)).collect(), cut)
}

/// How the ends of the sticks that have no drawing of their own are cut, of those of which `shows` is true: a plan says so where the set
/// has both; `None` if there are none.
pub(super) fn square_ends(frame: &Frame, shows: impl Fn(Role) -> bool) -> Option<String> {
    let plain = plain_and_cut(frame).0.into_iter().filter(|member| shows(member.role));
    let told = ends_in_words(plain);
    (!told.is_empty()).then(|| format!("Ends: {told}."))
}

/// `D1, D2 both square cut; G4 square cut / ...`: how the ends of sticks are cut, with the marks of those that are alike.
pub(super) fn ends_in_words<'a>(members: impl Iterator<Item = &'a Member>) -> String {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for member in members {
        let cut = ends(member);
        match groups.iter_mut().find(|(known, _)| *known == cut) {
            Some((_, marks)) => marks.push(&member.mark),
            None => groups.push((cut, vec![&member.mark])),
        }
    }
    let told = groups.into_iter().map(|(cut, marks)| format!("{} {cut}", marks.join(", ")));
    told.collect::<Vec<_>>().join("; ")
}

/// A card in half a page's width if that is enough, over the lengths of its family.
pub(super) fn show(card: &Card<'_>, table: Option<&Table>, job: &Job, flow: &mut Flow<'_>) {
    flow.gap(GAP);
    let columns = if card::has_room(card.member, flow.block_width(2), job.writing) { 2 } else { 1 };
    flow.block(columns, |flow| {
        let drawing = card::drawing(card, flow.width(), job.writing);
        // the lengths stay beside the drawing as long as a page has room for both
        let both = drawing.height + table.map_or(0.0, |table| flow.table_height(table));
        if both <= flow.height() {
            flow.need(both);
        }
        flow.drawing(drawing);
        if let Some(table) = table {
            flow.table(table);
        }
    });
}

/// One member by itself, `wide` inches wide: its faces with what is marked along the edges, its cuts.
pub(super) fn alone(member: &Member, wide: f64, writing: Writing) -> Drawing {
    card::drawing(&Card { member, head: String::new(), words: Vec::new() }, wide, writing)
}

/// True if it is a plain prism that needs no drawing. A joist or tie is always drawn.
pub(super) fn is_square(member: &Member) -> bool {
    let drawn = matches!(
        member.role,
        Role::CeilingJoist | Role::TailJoist | Role::RafterTie | Role::CollarTie
    );
    let square = member
        .ends()
        .iter()
        .all(|end| in_degrees(end.saw.miter) < 1e-6 && in_degrees(end.saw.bevel) < 1e-6);
    !drawn && square && member.other_cuts().is_empty()
}

/// Members with the same section and cuts, which differ only in length; longest first. Another kind of member is among them if it is
/// as long as one of them too.
pub(super) fn families<'a>(members: &[&'a Member]) -> Vec<Vec<&'a Member>> {
    let fine = |value: f64| (value * 1e4).round() as i64;
    let key = |member: &Member| {
        let section = &member.stick.section;
        let ends: Vec<_> = member
            .ends()
            .iter()
            .map(|end| (end.cut, fine(in_degrees(end.saw.miter)), fine(in_degrees(end.saw.bevel))))
            .collect();
        let others: Vec<_> = member
            .other_cuts()
            .iter()
            .map(|cut| {
                let rip = cut.rip.map(|(high, low)| (fine(high.inches()), fine(low.inches())));
                (cut.name, fine(in_degrees(cut.saw.miter)), fine(in_degrees(cut.saw.bevel)), rip)
            })
            .collect();
        (fine(section.thickness_in()), fine(section.depth_in()), ends, others)
    };
    let lengths = |member: &Member| {
        let (top, bottom) = (member.edge_lengths(Edge::Top), member.edge_lengths(Edge::Bottom));
        [top.0, top.1, bottom.0, bottom.1].map(|length| fine(length.inches()))
    };
    let is_kin = |one: &Member, other: &Member| {
        key(one) == key(other) && (one.role == other.role || lengths(one) == lengths(other))
    };
    let mut families: Vec<Vec<&Member>> = Vec::new();
    for member in members {
        match families.iter_mut().find(|family| is_kin(family[0], member)) {
            Some(family) => family.push(member),
            None => families.push(vec![member]),
        }
    }
    families
}

fn card<'a>(matter: &Matter<'_>, job: &Job, family: &[&'a Member]) -> Card<'a> {
    let member = family[0];
    let section = member.stick.section.write(job.writing.units);
    let head = if are_one_length(family) {
        let each = family.iter().map(|member| {
            format!("{} {}, {}", member.mark, member.role.words(), pieces(member.count()))
        });
        let each: Vec<String> = each.collect();
        format!("{} of {section}, blank {}", each.join("; "), job.writing.blank(member.blank()))
    } else {
        format!(
            "{}, {section}; {} is drawn, the others differ in length only",
            named(family),
            member.mark
        )
    };
    let mut words = Vec::new();
    let length = |length| job.writing.length(length);
    let frame = matter.frame;
    match member.role {
        Role::CeilingJoist => {
            words.extend(over_bearing(matter, job));
            words.push(format!(
                "Bottom edge {} above the plate; crown up.",
                length(frame.ties.height)
            ));
        }
        Role::RafterTie => {
            words.push(format!("Bottom edge {} above the plate.", length(frame.ties.height)));
        }
        Role::CollarTie => {
            words
                .push(format!("Bottom edge {} above the plate.", length(frame.ties.collar_height)));
        }
        Role::EndRafter => words
            .push("Birdsmouth, ridge and tail cuts as on the common rafter's sheet.".to_owned()),
        Role::BargeRafter => words.push(
            "It hangs free of the plate: no birdsmouth. Its other cuts are the common rafter's."
                .to_owned(),
        ),
        Role::GableStud if beveled(member) => {
            let steps = family.len() > 1;
            if steps {
                words.push(format!(
                    "Studs one spacing ({}) apart differ by {}.",
                    length(frame.plan.gable_spacing),
                    length(frame.gable_stud_difference())
                ));
            }
        }
        _ => {}
    }
    Card { member, head, words }
}

/// How two lengths of joist meet over an inside bearing.
fn over_bearing(matter: &Matter<'_>, job: &Job) -> Option<String> {
    let frame = matter.frame;
    let length = |length| job.writing.length(length);
    let middle = length(frame.plan.bearing?);
    let lap = length(frame.ties.joist_lap?);
    let how = match frame.plan.meeting {
        Meeting::Splice => "meet end to end, a splice piece beside them,".to_owned(),
        Meeting::Offset | Meeting::Filler => format!("lap {lap}"),
    };
    Some(format!(
        "Two lengths {how} over the bearing, whose middle is {middle} from eave A's building line."
    ))
}

/// True if members that are cut alike are all as long as the first.
fn are_one_length(family: &[&Member]) -> bool {
    let blank = |member: &Member| member.blank().inches();
    family.iter().all(|member| (blank(member) - blank(family[0])).abs() < HAIR)
}

/// `J1, J2 ceiling joist, JR1 trimmer joist`: the marks of members, with the words of their kinds.
pub(super) fn named(family: &[&Member]) -> String {
    let kinds = family.chunk_by(|one, next| one.role == next.role);
    let kinds = kinds.map(|kind| {
        let marks: Vec<&str> = kind.iter().map(|member| member.mark.as_str()).collect();
        let marks = match marks.as_slice() {
            [first, .., last] if marks.len() > MOST_MARKS => format!("{first} to {last}"),
            _ => marks.join(", "),
        };
        format!("{marks} {}", kind[0].role.words())
    });
    kinds.collect::<Vec<_>>().join(", ")
}

fn pieces(count: usize) -> String {
    if count == 1 { "1 piece".to_owned() } else { format!("{count} pieces") }
}

row! {
    /// The lengths of a member: of both faces, and of both edges.
    Lengths from (member: &Member) with {
        let (long, short) = member.edge_lengths(Edge::Top);
        let (bottom, _) = member.edge_lengths(Edge::Bottom);
    } {
        mark "mark": String = &member.mark;
        pieces "pieces": usize = member.count();
        blank "blank": Blank = member.blank();
        long "long face": Inches = long;
        short "short face": Inches = short;
        top "top edge": Inches = long;
        bottom "bottom edge": Inches = bottom;
    }
}

/// The lengths of a family's members: of both faces if they differ, otherwise of both edges if one does
/// not read as the blank does.
pub(super) fn lengths(job: &Job, family: &[&Member]) -> Table {
    let tilted = family.first().is_some_and(|member| beveled(member));
    let rows = || family.iter().map(|member| Lengths::of(member));
    let more = rows().any(|row| {
        let other = if tilted { row.short } else { row.bottom };
        let blank = row.blank.written(job.writing);
        [row.long, other]
            .iter()
            .any(|edge| edge.0.inches() > 1e-9 && edge.written(job.writing) != blank)
    });
    Table::of("", rows(), job.writing).picked(match (more, tilted) {
        (false, _) => keys!(Lengths: mark, pieces, blank),
        (true, true) => keys!(Lengths: mark, pieces, blank, long, short),
        (true, false) => keys!(Lengths: mark, pieces, blank, top, bottom),
    })
}

fn joints_in_words(matter: &Matter<'_>) -> String {
    let ridge = match matter.frame.plan.ridge_joints {
        RidgeJoints::Between => {
            "Joints of the ridge board lie midway between two pairs of rafters."
        }
        RidgeJoints::Pair => {
            "Joints of the ridge board lie in the middle of a pair, which clasps them."
        }
        RidgeJoints::None => "",
    };
    format!(
        "Drawn to scale along the roof only. Joints are measured from the near end of each row, the ridge board's and the boards' at the \
         rake. {ridge}"
    )
    .trim_end()
    .to_owned()
}
