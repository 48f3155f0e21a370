//! Every other stick of any roof: those with cuts drawn, the square ones in a table.

use crate::facts::frame::StickJson;
use crate::facts::record::keys;
use crate::frame::{Member, Role};

use super::super::super::frame::cut_list;
use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::Kind;
use super::super::members::card::Card;
use super::super::members::{
    CAUTION, INTRODUCTION, TALL, ends_in_words, families, is_square, lengths, named, show,
};
use super::alike::{Hand, kin};
use super::matter::HungMatter;
use super::{jacks, rafters};

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &HungMatter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let is_shown_before = |role: Role| {
        matches!(role, Role::Hip | Role::Valley)
            || jacks::ROLES.contains(&role)
            || rafters::ROLES.contains(&role)
    };
    let others = matter.frame.members.iter().filter(|member| !is_shown_before(member.role));
    let (square, cut): (Vec<&Member>, Vec<&Member>) = others.partition(|member| is_square(member));
    if square.is_empty() && cut.is_empty() {
        return Vec::new();
    }
    let mut flow = Flow::new(job, Kind::Members.title(), Orientation::Portrait, 1, CAUTION);
    flow.words(INTRODUCTION);
    flow.introduces(TALL);
    for family in families(&cut) {
        let Some(member) = family.first() else { continue };
        let section = member.stick.section.write(job.writing.units);
        let count: usize = family.iter().map(|member| member.count()).sum();
        let mut head = format!("{}, {count} of {section}", named(&family));
        let groups = kin(family.iter().copied());
        if groups.len() > 1 {
            head.push_str(&format!("; {} is drawn, the others differ in length only", member.mark));
        }
        // left and right ones are not one pattern
        let mirrored: Vec<&str> = groups.iter().flat_map(|kin| kin.of(Hand::Mirrored).0).collect();
        let words = match mirrored.is_empty() {
            true => Vec::new(),
            false => vec![format!("As in a mirror: {}.", mirrored.join(", "))],
        };
        let card = Card { member, head, words };
        let table = (groups.len() > 1).then(|| lengths(job, &family));
        show(&card, table.as_ref(), job, &mut flow);
    }
    if !square.is_empty() && with.contains(&Kind::Plan) {
        let ends = ends_in_words(square.into_iter());
        flow.words(&format!(
            "Not drawn, with their lengths in the framing plan's table of marks: {ends}."
        ));
    } else if !square.is_empty() {
        flow.head("Square-cut sticks");
        let columns = keys!(StickJson: mark, what, count, section, blank_in, end_cuts);
        flow.table(&cut_list("", matter.sticks(), square, columns, job.writing));
    }
    flow.finish()
}
