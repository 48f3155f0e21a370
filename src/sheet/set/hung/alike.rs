//! Sticks that are cut alike, or as in a mirror.

use crate::frame::Member;
use crate::frame::stick::Side;
use crate::geom::DVec2;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;

/// How one stick is to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hand {
    /// Cut as it is.
    Same,
    /// Cut as in a mirror: what is on the near face of one is on the far face of the other.
    Mirrored,
}

/// Patterns that are one but for the hand: the first as it is drawn.
pub(super) struct Kin<'a> {
    /// The one that is drawn.
    pub(super) first: &'a Member,
    /// All of them, the first too.
    pub(super) all: Vec<(&'a Member, Hand)>,
}

impl Kin<'_> {
    /// The marks of those of a hand, and how many sticks they are.
    pub(super) fn of(&self, hand: Hand) -> (Vec<&str>, usize) {
        let own = || self.all.iter().filter(|(_, own)| *own == hand).map(|(member, _)| *member);
        (own().map(|member| member.mark.as_str()).collect(), own().map(Member::count).sum())
    }

    /// All marks: `H1, H2`.
    pub(super) fn marks(&self) -> String {
        let marks: Vec<&str> = self.all.iter().map(|(member, _)| member.mark.as_str()).collect();
        marks.join(", ")
    }

    /// How many of which hand: `H1: 2 as drawn; H2: 2 as in a mirror`.
    pub(super) fn counted(&self) -> String {
        let hands = [(Hand::Same, "as drawn"), (Hand::Mirrored, "as in a mirror")];
        let told = hands.into_iter().filter_map(|(hand, words)| {
            let (marks, count) = self.of(hand);
            (count > 0).then(|| format!("{}: {count} {words}", marks.join(", ")))
        });
        told.collect::<Vec<_>>().join("; ")
    }
}

/// The patterns in groups of those that are one but for the hand.
pub(super) fn kin<'a>(members: impl IntoIterator<Item = &'a Member>) -> Vec<Kin<'a>> {
    let mut groups: Vec<Kin<'a>> = Vec::new();
    for member in members {
        let found = groups.iter_mut().find_map(|kin| Some((hand(kin.first, member)?, kin)));
        match found {
            Some((hand, kin)) => kin.all.push((member, hand)),
            None => groups.push(Kin { first: member, all: vec![(member, Hand::Same)] }),
        }
    }
    groups
}

/// How one pattern is to another; `None` if they differ.
fn hand(one: &Member, other: &Member) -> Option<Hand> {
    let section = |member: &Member| {
        let section = &member.stick.section;
        DVec2::new(section.thickness_in(), section.depth_in())
    };
    let volume = |member: &Member| member.stick.solid().volume();
    let near = (volume(one) - volume(other)).abs() < HAIR * volume(one)
        && (one.blank() - other.blank()).inches().abs() < HAIR
        && section(one).distance(section(other)) < HAIR
        && one.role == other.role;
    if !near {
        return None;
    }
    let faces = |member: &Member, sides: [Side; 2]| sides.map(|side| sorted(member, side));
    let own = faces(one, [Side::Near, Side::Far]);
    let is = |sides: [Side; 2]| {
        let theirs = faces(other, sides);
        own.iter().zip(&theirs).all(|(one, other)| same(one, other))
    };
    if is([Side::Near, Side::Far]) {
        Some(Hand::Same)
    } else if is([Side::Far, Side::Near]) {
        Some(Hand::Mirrored)
    } else {
        None
    }
}

/// The corners of a face, from the stick's start.
fn sorted(member: &Member, side: Side) -> Vec<DVec2> {
    let mut corners = member.stick.profile(side).to_vec();
    let fine = |at: f64| (at / HAIR).round() as i64;
    corners.sort_by_key(|at| (fine(at.x), fine(at.y)));
    corners
}

fn same(one: &[DVec2], other: &[DVec2]) -> bool {
    // corners that change places by last bits are still near some corner of the other
    let near = |at: &DVec2| other.iter().any(|other| at.distance(*other) < 4.0 * HAIR);
    one.len() == other.len() && one.iter().all(near)
}
