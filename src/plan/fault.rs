//! What is wrong with the input, where, and what to write instead.

use std::ops::{Deref, Range};

use super::entry::Place;

/// One fault of the input.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Where the input was written, or [`Place::Missing`].
    pub place: Place,
    /// The part of the written text that is wrong, in bytes of that text; all of it if `None`.
    pub part: Option<Range<usize>>,
    /// One lower-case sentence: what was found and why it can't be.
    pub message: String,
    /// What is allowed, and what to write instead.
    pub help: String,
}

impl Fault {
    /// A fault of all that was written at `place`.
    pub fn new(place: Place, message: impl Into<String>, help: impl Into<String>) -> Fault {
        Fault { place, part: None, message: message.into(), help: help.into() }
    }
}

/// Every fault found, in the order of the input.
///
/// The first [`Faults::MOST`] are kept and the others are counted, so that no text, however wrong,
/// takes more memory than its own size.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Faults {
    kept: Vec<Fault>,
    more: usize,
}

impl Faults {
    /// The most faults that are kept; nobody reads more of them.
    pub const MOST: usize = 100;

    /// No fault.
    #[must_use]
    pub fn new() -> Faults {
        Faults::default()
    }

    /// Adds a fault.
    pub fn push(&mut self, fault: Fault) {
        self.push_with(|| fault);
    }

    /// Adds a fault that is put in words only if it is kept.
    pub fn push_with(&mut self, fault: impl FnOnce() -> Fault) {
        if self.kept.len() < Faults::MOST {
            self.kept.push(fault());
        } else {
            self.more += 1;
        }
    }

    /// How many were found, those that are not kept too.
    #[must_use]
    pub fn found(&self) -> usize {
        self.kept.len() + self.more
    }

    /// Removes the faults for which `keep` is false.
    pub fn retain(&mut self, keep: impl FnMut(&Fault) -> bool) {
        self.kept.retain(keep);
    }

    /// Puts them in the order of `key`.
    pub fn sort_by_key<K: Ord>(&mut self, key: impl FnMut(&Fault) -> K) {
        self.kept.sort_by_key(key);
    }

    /// These and then the others.
    pub fn append(&mut self, others: Faults) {
        self.more += others.more;
        self.extend(others.kept);
    }
}

impl Deref for Faults {
    type Target = [Fault];

    fn deref(&self) -> &[Fault] {
        &self.kept
    }
}

impl Extend<Fault> for Faults {
    fn extend<I: IntoIterator<Item = Fault>>(&mut self, faults: I) {
        for fault in faults {
            self.push(fault);
        }
    }
}

impl FromIterator<Fault> for Faults {
    fn from_iter<I: IntoIterator<Item = Fault>>(faults: I) -> Faults {
        let mut all = Faults::new();
        all.extend(faults);
        all
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Faults {
        std::iter::once(fault).collect()
    }
}

impl IntoIterator for Faults {
    type Item = Fault;
    type IntoIter = std::vec::IntoIter<Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.kept.into_iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faults_beyond_the_kept_ones_are_counted_and_not_put_in_words() {
        let mut faults = Faults::new();
        for number in 0..Faults::MOST + 7 {
            faults.push_with(|| {
                assert!(number < Faults::MOST, "nobody reads this one");
                Fault::new(Place::File(0..0), "a", "b")
            });
        }
        let mut all = Faults::new();
        all.append(faults);
        assert_eq!(all.len(), Faults::MOST);
        assert_eq!(all.found(), Faults::MOST + 7);
    }
}
