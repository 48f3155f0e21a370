//! What is written into the roof file if an answer is taken.

use serde::Serialize;

use crate::measure::{Units, Writing};
use crate::plan::{Asked, Entries, Key, Kind};

/// A field and its new text; null takes the field out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Taken(pub(super) &'static str, pub(super) Option<String>);

impl Taken {
    pub(super) fn of(key: Key, text: Option<String>) -> Taken {
        // inches and feet in letters need no escapes in the file
        Taken(key.name(), text.map(|text| text.replace('\'', "ft").replace('"', "in")))
    }
}

/// The value of a text for people, in these units; the text itself if it can't be read, or if it is a
/// nominal size, which says more than the thickness that it stands for.
pub(super) fn in_words(key: Key, text: &str, units: Units) -> String {
    if key.field().kind == Kind::Thickness && text.contains('x') {
        return text.to_owned();
    }
    let mut entries = Entries::default();
    entries.add_flag(key, Some(text));
    let value = Asked::new(&entries).value(key);
    value.map_or_else(|| text.to_owned(), |value| value.write(Writing::of(units)))
}
