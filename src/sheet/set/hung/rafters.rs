//! The pattern rafter as for a gable, and every other rafter that runs square to its eave.

use crate::facts::caution;
use crate::frame::{CommonRafter, Role};
use crate::measure::tolerance::HAIR;
use crate::rules::{Finding, notch};

use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::super::pattern::{
    Elsewhere, Pattern, card as pattern_card, pages as pattern_pages,
};
use super::super::Kind;
use super::super::members::TALL;
use super::super::members::card::{self, Card};
use super::super::stamp;
use super::alike::{Kin, kin};
use super::matter::HungMatter;
use super::under_edge::stock;

/// The roles that are shown here.
pub(super) const ROLES: [Role; 4] =
    [Role::CommonRafter, Role::Trimmer, Role::TailRafter, Role::HeadRafter];

/// The pages of a set with these kinds.
pub(super) fn pages(matter: &HungMatter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let leading = leading(matter);
    // its details show what is laid on the deck: eave and ridge are on the pattern's sheets
    let elsewhere = Elsewhere { card: with.contains(&Kind::Card), ..Elsewhere::default() };
    let pages = |pattern: &Pattern<'_>| pattern_pages(pattern, job);
    let shown = leading.iter().map(|one| shown(matter, one, elsewhere, pages));
    let mut pages: Vec<Page> = shown.flatten().collect();
    let others = matter.frame.members.iter().enumerate().filter(|(at, member)| {
        !leading.iter().any(|(_, own)| own == at) && ROLES.contains(&member.role)
    });
    pages.extend(cards(matter, job, &kin(others.map(|(_, member)| member))));
    pages
}

/// The cards of the pattern rafters.
pub(super) fn cards_for_the_wall(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let card = |one| {
        shown(matter, one, Elsewhere::default(), |pattern| {
            pattern_card(pattern, &matter.frame.members, job)
        })
    };
    matter.frame.pattern_rafters.iter().map(card).collect()
}

/// The pattern rafters that have pages and templates of their own: of those that differ in length only, the first.
pub(super) fn leading<'a>(matter: &HungMatter<'a>) -> Vec<&'a (CommonRafter, usize)> {
    let mut leading: Vec<&(CommonRafter, usize)> = Vec::new();
    for one in &matter.frame.pattern_rafters {
        let plan = &one.0.plan;
        let alike = |other: &&&(CommonRafter, usize)| {
            let known = &other.0.plan;
            (known.pitch, known.overhang) == (plan.pitch, plan.overhang)
        };
        if !leading.iter().any(|other| alike(&other)) {
            leading.push(one);
        }
    }
    leading
}

/// What is made of a pattern rafter.
fn shown<T>(
    matter: &HungMatter<'_>,
    (rafter, at): &(CommonRafter, usize),
    elsewhere: Elsewhere,
    made: impl Fn(&Pattern<'_>) -> T,
) -> T {
    // its own figures; where they are the roof's worst, the roof's finding, which knows the user's own limits too
    let findings: Vec<Finding> = notch::findings(rafter)
        .into_iter()
        .map(|own| {
            let worst = matter.findings.iter().find(|one| {
                let apart = one.found.zip(own.found).map(|(one, own)| (one - own).abs());
                (one.id, one.title) == (own.id, own.title) && apart.is_some_and(|by| by < HAIR)
            });
            worst.cloned().unwrap_or(own)
        })
        .collect();
    made(&Pattern {
        rafter,
        findings: &findings,
        members: &matter.frame.members[*at..=*at],
        stamped: stamp::is_wanted(matter.findings),
        elsewhere,
    })
}

fn cards(matter: &HungMatter<'_>, job: &Job, groups: &[Kin<'_>]) -> Vec<Page> {
    if groups.is_empty() {
        return Vec::new();
    }
    let mut flow = Flow::new(job, "Other rafters", Orientation::Portrait, 1, caution::RAFTER);
    flow.words(
        "Tape marks run along an edge from the upper end at the right on common rafters, from the left end on the others. Angles in degrees: the first off a line square \
         to the edges on the wide face, a tilt off square to that face.",
    );
    flow.introduces(TALL);
    for group in groups {
        let member = group.first;
        let head = format!(
            "{} {}: {}",
            group.marks(),
            member.role.words(),
            stock(matter.sticks(), member, job.writing)
        );
        let words = vec![format!("{}.", group.counted())];
        flow.gap(0.14);
        flow.drawing(card::drawing(&Card { member, head, words }, flow.width(), job.writing));
    }
    flow.finish()
}
