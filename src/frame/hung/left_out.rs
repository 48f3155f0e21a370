//! Sticks that a roof should have and that found no place in it.

use crate::frame::role::Role;

/// Why the headers of the attic opening are left out where they would run into other sticks.
pub const NO_ROOM_FOR_OPENING: &str = "the attic opening has no room there";

/// Sticks of one role that a part of a roof lacks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// What they would be.
    pub role: Role,
    /// The block, with the wall if it is one of an end.
    pub place: String,
    /// How many; `None` for all of them.
    pub count: Option<usize>,
    /// Why.
    pub why: &'static str,
}

impl LeftOut {
    /// All of a place.
    pub(super) fn whole(role: Role, place: &str, why: &'static str) -> LeftOut {
        LeftOut { role, place: place.to_owned(), count: None, why }
    }

    /// Some of a place, which would run into others or lie on nothing.
    pub(super) fn some(role: Role, place: &str, count: usize) -> LeftOut {
        LeftOut { role, place: place.to_owned(), count: Some(count), why: "no room" }
    }

    /// What is left out, in the reader's words.
    #[must_use]
    pub fn told(&self) -> String {
        let LeftOut { role, place, count, why } = self;
        let words = role.words();
        match count {
            None => format!("{words}s of {place} ({why})"),
            Some(1) => format!("1 {words} of {place} ({why})"),
            Some(count) => format!("{count} {words}s of {place} ({why})"),
        }
    }
}
