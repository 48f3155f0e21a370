//! What the sheets of the pattern rafter show.

use crate::frame::{CommonRafter, Member, Role};
use crate::rules::Finding;

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
    /// What other sheets of its set show.
    pub elsewhere: Elsewhere,
}

/// What other sheets of a set show of the pattern: it need not be on the pattern's own.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Elsewhere {
    /// Its card: how it lies on the horses.
    pub card: bool,
    /// Eave and ridge, larger.
    pub details: bool,
    /// The barge rafters, among the other members.
    pub members: bool,
}

impl Pattern<'_> {
    /// The title of a sheet, with the slope if the roof has others.
    pub(super) fn title(&self, before: &str, after: &str) -> String {
        let own = self.rafter.plan.of_slope.as_ref();
        let own = own.map_or(String::new(), |of| format!(", {}", of.name));
        format!("{before}attern rafter{own}{after}")
    }

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
