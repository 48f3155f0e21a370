//! Jacks: a page for each set that differs in length only, left and right as in a mirror.

use std::collections::{BTreeMap, BTreeSet};

use crate::facts::caution;
use crate::facts::datum::{Degrees, Inches};
use crate::facts::record::row;
use crate::facts::under_edges::{self as facts, CheekJson};
use crate::frame::stick::Side;
use crate::frame::{Edge, HungFrame, Member, Role, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, degrees, in_degrees, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Writing};

use super::super::super::frame::other_cuts;
use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::super::pattern::laid::{Laid, Reading, captioned};
use super::super::super::rafter::beyond_saw_scale;
use super::super::super::scale;
use super::super::super::{Drawing, Table};
use super::super::alone::Alone;
use super::super::members::families;
use super::super::order::sentence;
use super::alike::{Hand, Kin, kin};
use super::matter::HungMatter;
use super::under_edge::{bottom_spans, head, stock};
use super::views::{Span, Views};

/// The roles that are cut in sets.
pub(super) const ROLES: [Role; 3] = [Role::HipJack, Role::ValleyJack, Role::CrippleJack];

/// Depth of the jack on paper in the drawing with all cuts, at most.
const DEEP: f64 = 0.5;

/// The pages of every set.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let members: Vec<&Member> =
        matter.frame.members.iter().filter(|member| ROLES.contains(&member.role)).collect();
    sets(&members).iter().flat_map(|set| page(matter, job, set)).collect()
}

/// Jacks that differ in length only: their notches are as far from the end that has no cheek.
pub(super) fn sets<'a>(members: &[&'a Member]) -> Vec<Vec<&'a Member>> {
    let mut sets: Vec<Vec<&Member>> = Vec::new();
    for family in families(members) {
        let mut parts: Vec<(Vec<f64>, Vec<&Member>)> = Vec::new();
        for member in family {
            let own = notches(member);
            let same = |(known, _): &&mut (Vec<f64>, Vec<&Member>)| {
                known.len() == own.len()
                    && known.iter().zip(&own).all(|(one, other)| (one - other).abs() < HAIR)
            };
            match parts.iter_mut().find(same) {
                Some((_, part)) => part.push(member),
                None => parts.push((own, vec![member])),
            }
        }
        sets.extend(parts.into_iter().map(|(_, part)| part));
    }
    sets
}

/// The corners along the bottom edge of the longer face, but for its ends, from the end that has no cheek; and how much that
/// edge is shorter than the top edge.
fn notches(member: &Member) -> Vec<f64> {
    let side = longer_side(member);
    let corners = member.stick.profile(side).iter().filter(|corner| corner.y.abs() < HAIR);
    let mut at: Vec<f64> = corners.map(|corner| corner.x).collect();
    at.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (at.first().copied(), at.last().copied()) else {
        return Vec::new();
    };
    let inner = at.get(1..at.len() - 1).unwrap_or_default();
    let mut notches: Vec<f64> = match cheek_at(member) {
        CheekAt::Foot => inner.iter().map(|at| last - at).collect(),
        CheekAt::Head | CheekAt::Both => inner.iter().map(|at| at - first).collect(),
    };
    notches.push(long(member) - (last - first));
    notches
}

/// The marks of a set: `VJ10, VJ11, VJ13 to VJ16`.
pub(super) fn marks(set: &[&Member]) -> String {
    let number = |mark: &str| -> Option<u32> {
        mark.trim_start_matches(|letter: char| !letter.is_ascii_digit()).parse().ok()
    };
    let mut runs: Vec<Vec<&str>> = Vec::new();
    for member in set {
        let own = member.mark.as_str();
        let goes_on = |run: &&mut Vec<&str>| {
            let last = run.last().and_then(|last| number(last));
            last.zip(number(own)).is_some_and(|(last, own)| own == last + 1)
        };
        match runs.last_mut().filter(goes_on) {
            Some(run) => run.push(own),
            None => runs.push(vec![own]),
        }
    }
    let words = runs.iter().map(|run| match run.as_slice() {
        [first, _, .., last] => format!("{first} to {last}"),
        _ => run.join(", "),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// Where the cheek of a jack is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum CheekAt {
    Head,
    Foot,
    Both,
}

fn cheek_at(member: &Member) -> CheekAt {
    let at =
        |end: usize| member.ends().get(end).is_some_and(|end| in_degrees(end.saw.bevel) > HAIR);
    match (at(0), at(1)) {
        (true, true) => CheekAt::Both,
        (true, false) => CheekAt::Foot,
        _ => CheekAt::Head,
    }
}

fn page(matter: &HungMatter<'_>, job: &Job, family: &[&Member]) -> Vec<Page> {
    let writing = job.writing;
    let mut set = kin(family.iter().copied());
    set.sort_by(|one, other| long(other.first).total_cmp(&long(one.first)));
    let Some(first) = set.first() else { return Vec::new() };
    let member = first.first;
    let marks = marks(family);
    let title = format!("{}s {marks}", sentence(member.role.words()));
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 2, caution::ANY_ROOF);
    let wide = flow.width() * 2.0 + 0.35;
    let count: usize = family.iter().map(|member| member.count()).sum();
    let on_deck = lies_on_deck(member);
    let lies = match cheek_at(member) {
        CheekAt::Foot if on_deck => {
            "Its foot on the sheathed roof is at the left, its head at the right."
        }
        CheekAt::Head => "Its foot is at the left, its cheek at the right.",
        CheekAt::Foot => "Its cheek is at the left, its plumb head at the right.",
        CheekAt::Both => "It has a cheek at both ends.",
    };
    let (drawing, scale) = views(member, writing).drawing(wide, writing.units);
    flow.across(head(
        &title,
        &format!(
            "{count} in all, cut alike but for their length. {} is drawn, the longest: {}, crown up, {scale}. {lies}",
            member.mark,
            stock(matter.sticks(), member, writing)
        ),
        wide,
    ));
    flow.across(drawing);
    if set.len() > 1 {
        flow.across(cuts(&set, writing, wide));
    }
    flow.table(&lengths(matter.frame, &set, writing));
    flow.table(&cheeks(matter.sticks(), member, writing));
    flow.head("How to cut them");
    for words in how_to_cut(member, writing) {
        flow.words(&words);
    }
    flow.finish()
}

/// A jack from above and its near face, with both lengths of its top.
fn views(member: &Member, writing: Writing) -> Views<'_> {
    Views {
        member,
        along_top: top_spans(member, writing),
        along_bottom: bottom_spans(member, writing),
        lines: Vec::new(),
    }
}

/// How a set is cut, in sentences.
fn how_to_cut(member: &Member, writing: Writing) -> Vec<String> {
    let on_deck = lies_on_deck(member);
    let mut words = Vec::new();
    let others = other_cuts(member, writing);
    if !others.is_empty() {
        words
            .push(format!("Other cuts: {others}, as marked along the bottom edge of the longest."));
    }
    words.push(
        "Left and right jacks are as in a mirror. Lay them in pairs, top edges up, long points on opposite sides, and mark each with its mark and an arrow to its \
         long point before you saw."
            .to_owned(),
    );
    words.push(if on_deck {
        "Foot: draw the level line on the face that stays longer and across the top with the tongue and blade figures, marking along the blade. Saw along the level line, \
         the blade tilted as told."
            .to_owned()
    } else {
        "Draw the cheek across the top with the tongue and blade figures, marking along the blade. Saw along the plumb line of the face that stays longer, the blade tilted \
         as told."
            .to_owned()
    });
    words.extend(beyond_saw_scale(member.ends().iter().map(|end| &end.saw)).map(str::to_owned));
    words
}

/// A jack by itself.
pub(super) fn alone(sticks: Sticks<'_>, member: &Member, wide: f64, writing: Writing) -> Alone {
    let (drawing, _) = views(member, writing).drawing(wide, writing.units);
    let tables = vec![cheeks(sticks, member, writing)];
    Alone { drawing, tables, steps: how_to_cut(member, writing) }
}

/// True if its foot lies level-cut on a roof that is sheathed already.
fn lies_on_deck(member: &Member) -> bool {
    member
        .ends()
        .first()
        .is_some_and(|end| end.cut.starts_with("level") || end.cut.contains("deck"))
}

/// Its top edge on the longer face.
fn long(member: &Member) -> f64 {
    member.edge_lengths(Edge::Top).0.inches()
}

/// The top edges of both faces.
fn top_spans(member: &Member, writing: Writing) -> Vec<Span> {
    let reach = |side: Side| member.stick.edge_reach(Edge::Top, side);
    let (Some(near), Some(far)) = (reach(Side::Near), reach(Side::Far)) else {
        return Vec::new();
    };
    let near_is_long = near.1 - near.0 >= far.1 - far.0;
    let (long, short) = if near_is_long { (near, far) } else { (far, near) };
    let span = |(from, to): (f64, f64), words: &str| Span {
        from,
        to,
        words: format!("{words} {}", writing.length(inches(to - from))),
    };
    vec![span(long, "top, long side"), span(short, "short side")]
}

row! {
    /// A pair of jacks.
    Pair from (kin: &Kin<'_>, less: Option<Length>) with {
        let (drawn, drawn_count) = kin.of(Hand::Same);
        let (mirrored, mirrored_count) = kin.of(Hand::Mirrored);
        let (long, short) = kin.first.edge_lengths(Edge::Top);
        let told = |marks: Vec<&str>, count: usize| (count > 0).then(|| format!("{count} x {}", marks.join(", ")));
    } {
        drawn "as drawn": Option<String> = told(drawn, drawn_count);
        mirrored "as in a mirror": Option<String> = told(mirrored, mirrored_count);
        long "long point": Inches = long;
        short "short point": Inches = short;
        less "less by": Option<Inches> = less;
    }
}

/// Every pair, the longest first.
fn lengths(frame: &HungFrame, set: &[Kin<'_>], writing: Writing) -> Table {
    // of a face's jacks, each is so much shorter than the next longer one
    let faces = |kin: &Kin<'_>| faces_of(frame, kin);
    let rows = set.iter().enumerate().map(|(at, kin)| {
        let own = faces(kin);
        let longer = set[..at].iter().rev().find(|other| !faces(other).is_disjoint(&own));
        Pair::of(kin, longer.map(|longer| inches(long(longer.first) - long(kin.first))))
    });
    let title = match common_difference(frame, set) {
        Some(common) => format!(
            "Lengths along the top; common difference of a face's jacks {}",
            writing.length(inches(common))
        ),
        None => "Lengths along the top".to_owned(),
    };
    Table::of(title, rows.collect::<Vec<_>>(), writing).without_empty_columns()
}

/// The faces that jacks cut alike stand in.
fn faces_of(frame: &HungFrame, kin: &Kin<'_>) -> BTreeSet<usize> {
    let ids = kin.all.iter().flat_map(|(member, _)| &member.ids);
    let face_of = |id: &String| frame.hung.sticks.iter().find(|stick| stick.id == *id)?.face;
    ids.filter_map(face_of).collect()
}

/// How much each jack of a face is shorter than the next longer one, if that is the same on every face.
fn common_difference(frame: &HungFrame, set: &[Kin<'_>]) -> Option<f64> {
    let face_of = |id: &str| frame.hung.sticks.iter().find(|stick| stick.id == id)?.face;
    let mut faces: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for (member, _) in set.iter().flat_map(|kin| &kin.all) {
        for face in member.ids.iter().filter_map(|id| face_of(id)) {
            let lengths = faces.entry(face).or_default();
            if !lengths.iter().any(|known| (known - long(member)).abs() < HAIR) {
                lengths.push(long(member));
            }
        }
    }
    let mut steps: Vec<f64> = Vec::new();
    for lengths in faces.values_mut() {
        lengths.sort_by(f64::total_cmp);
        steps.extend(lengths.windows(2).map(|two| two[1] - two[0]));
    }
    let first = *steps.first()?;
    steps.iter().all(|step| (step - first).abs() < HAIR).then_some(first)
}

row! {
    /// A cut of an end as the saw and the square make it.
    CheekRow from (end: &'static str, cheek: &CheekJson) {
        end "end": &'static str = end;
        cut "cut": &'static str = cheek.cut;
        plumb "on the face": Degrees = degrees(in_degrees(cheek.miter_deg.0).abs());
        tilt "blade tilt": Degrees = degrees(in_degrees(cheek.bevel_deg.0).abs());
        tongue "tongue": Option<Inches> = cheek.blade_for_12_tongue_in.map(|_| inches(12.0));
        blade "blade": Option<Inches> = cheek.blade_for_12_tongue_in.map(|blade| blade.0);
    }
}

fn cheeks(sticks: Sticks<'_>, member: &Member, writing: Writing) -> Table {
    let ends = facts::jacks(sticks);
    let own = ends.iter().filter(|jack| jack.mark == member.mark);
    let rows = own.flat_map(|jack| [("left", &jack.tail), ("right", &jack.head)]);
    let rows =
        rows.flat_map(|(end, cuts)| cuts.cheeks.iter().map(move |cheek| CheekRow::of(end, cheek)));
    Table::of("Saw and square", rows.collect::<Vec<_>>(), writing).without_empty_columns()
}

/// The longest with the place where each shorter one is cut.
fn cuts(set: &[Kin<'_>], writing: Writing, wide: f64) -> Drawing {
    let longest = set[0].first;
    let at_foot = cheek_at(longest) == CheekAt::Foot;
    let deep = longest.stick.section.depth_in();
    let side = longer_side(longest);
    let profile = longest.stick.profile(side).to_vec();
    let reach = |member: &Member| {
        member.stick.edge_reach(Edge::Top, longer_side(member)).unwrap_or_default()
    };
    let own = reach(longest);
    // the face's own line at the cheek, from the top edge to the bottom edge
    let end = if at_foot { own.0 } else { own.1 };
    let slant = slant(&profile, DVec2::new(end, deep));
    let mut top = Vec::new();
    let mut lines = Vec::new();
    for kin in set {
        let (from, to) = reach(kin.first);
        let at = if at_foot { own.1 - (to - from) } else { own.0 + (to - from) };
        top.push(Reading {
            station: at,
            number: None,
            text: format!("{} {}", short_marks(kin), writing.length(inches(to - from))),
        });
        if kin.first.mark != longest.mark {
            lines.push([DVec2::new(at, deep), DVec2::new(at + slant, 0.0)]);
        }
    }
    let laid = Laid { profile, deep, top, bottom: Vec::new(), lines, units: writing.units };
    let (drawing, placed) = laid.draw(wide, DEEP);
    captioned(
        drawing,
        &format!(
            "Where each is cut, on the face that stays longer, {}: length of its top edge from the {} to the long point.",
            scale::words(1.0 / placed.scale, writing.units),
            if at_foot { "head at the right" } else { "foot at the left" }
        ),
    )
}

/// `HJ3, HJ4`, or the first and the last of more.
fn short_marks(kin: &Kin<'_>) -> String {
    match kin.all.as_slice() {
        [(first, _), _, .., (last, _)] => format!("{} to {}", first.mark, last.mark),
        _ => kin.marks(),
    }
}

fn longer_side(member: &Member) -> Side {
    let long =
        |side: Side| member.stick.edge_reach(Edge::Top, side).map_or(0.0, |(from, to)| to - from);
    if long(Side::Near) >= long(Side::Far) { Side::Near } else { Side::Far }
}

/// How far the cut through a corner on the top edge has moved along the stick where it is at the bottom edge.
fn slant(profile: &[DVec2], corner: DVec2) -> f64 {
    let near = |at: &DVec2| at.distance(corner) < HAIR;
    let Some(at) = profile.iter().position(near) else { return 0.0 };
    let next =
        [profile[(at + 1) % profile.len()], profile[(at + profile.len() - 1) % profile.len()]];
    let down = next.into_iter().find(|other| (other.y - corner.y).abs() > HAIR);
    down.map_or(0.0, |down| (down.x - corner.x) * corner.y / (corner.y - down.y))
}
