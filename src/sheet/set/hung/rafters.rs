//! The pattern rafter as for a gable, and every other rafter that runs square to its eave.

use crate::facts::caution;
use crate::frame::stick::Side;
use crate::frame::{CommonRafter, Member, Role};
use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;
use crate::rules::{Finding, notch};

use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::super::pattern::{Pattern, card as pattern_card, pages as pattern_pages};
use super::super::members::card::{self, Card};
use super::super::stamp;
use super::alike::{Kin, kin};
use super::matter::HungMatter;
use super::under_edge::stock;

/// The roles that are shown here.
pub(super) const ROLES: [Role; 4] =
    [Role::CommonRafter, Role::Trimmer, Role::TailRafter, Role::HeadRafter];

/// The pages.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let known = known(matter);
    let mut pages = shown(matter, |pattern| pattern_pages(pattern, job)).unwrap_or_default();
    let others = matter
        .frame
        .members
        .iter()
        .enumerate()
        .filter(|(at, member)| Some(*at) != known && ROLES.contains(&member.role));
    pages.extend(cards(matter, job, &kin(others.map(|(_, member)| member))));
    pages
}

/// The card of the pattern rafter.
pub(super) fn card(matter: &HungMatter<'_>, job: &Job) -> Option<Page> {
    shown(matter, |pattern| pattern_card(pattern, &matter.frame.members, job))
}

/// What is made of the pattern rafter, if the roof has one.
fn shown<T>(matter: &HungMatter<'_>, made: impl Fn(&Pattern<'_>) -> T) -> Option<T> {
    let rafter = &matter.frame.rafter;
    let at = known(matter)?;
    // the roof's own findings, which know the user's own limits too
    let of_rafter = notch::findings(rafter);
    let is_of_rafter = |finding: &&Finding| {
        of_rafter.iter().any(|one| (one.id, one.title) == (finding.id, finding.title))
    };
    let findings: Vec<Finding> = matter.findings.iter().filter(is_of_rafter).cloned().collect();
    Some(made(&Pattern {
        rafter,
        findings: &findings,
        members: &matter.frame.members[at..=at],
        stamped: stamp::is_wanted(matter.findings),
    }))
}

/// The number of the pattern that is the pattern rafter's, if the roof has one.
pub(super) fn known(matter: &HungMatter<'_>) -> Option<usize> {
    let rafter = &matter.frame.rafter;
    let members = &matter.frame.members;
    members.iter().position(|member| member.role == Role::CommonRafter && is_cut_as(member, rafter))
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
    for group in groups {
        let member = group.first;
        let head = format!(
            "{} {}: {}",
            group.marks(),
            member.role.words(),
            stock(matter, member, job.writing)
        );
        let words = vec![format!("{}.", group.counted())];
        flow.gap(0.14);
        flow.drawing(card::drawing(&Card { member, head, words }, flow.width(), job.writing));
    }
    flow.finish()
}

/// True if a pattern is the one that a gable of this plan has.
fn is_cut_as(member: &Member, rafter: &CommonRafter) -> bool {
    let corners = |profile: &[DVec2]| {
        let first = profile.iter().map(|at| at.x).fold(f64::INFINITY, f64::min);
        profile.iter().map(|at| *at - DVec2::X * first).collect::<Vec<_>>()
    };
    let own = corners(member.stick.profile(Side::Near));
    let known = corners(rafter.stick.profile(Side::Near));
    let near = |at: &DVec2| known.iter().any(|other| other.distance(*at) < HAIR);
    own.len() == known.len() && own.iter().all(near)
}
