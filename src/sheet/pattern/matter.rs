//! What the sheets of the pattern rafter show.

use crate::frame::{CommonRafter, Member, Role};
use crate::rules::Finding;

/// The sheets' title.
pub(super) const TITLE: &str = "Pattern rafter";

/// What the sheets show of one rafter.
#[derive(Debug, Clone, Copy)]
pub struct Pattern<'a> {
    /// The rafter.
    pub rafter: &'a CommonRafter,
    /// The findings of its rules.
    pub findings: &'a [Finding],
    /// The patterns of its frame, if there is one: this one's first.
    pub members: &'a [Member],
    /// True if the set's stamp goes on the first sheet.
    pub stamped: bool,
}

impl Pattern<'_> {
    /// Its mark and count, `R1, 36 of them`; empty without a frame.
    pub(super) fn mark(&self) -> String {
        self.members
            .iter()
            .find(|member| member.role == Role::CommonRafter)
            .map_or(String::new(), |member| {
                format!("{}, {} of them: ", member.mark, member.count())
            })
    }
}
