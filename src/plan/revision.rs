//! One revision of the sheets, as the title block lists it.

/// A revision: its mark, its date, and what changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// Its letter or number.
    pub mark: String,
    /// Its date, as written, without spaces.
    pub date: String,
    /// What changed.
    pub what: String,
}

impl Revision {
    /// Reads `A 2026-05-04 first issue`; `None` if a part is missing.
    #[must_use]
    pub fn read(text: &str) -> Option<Revision> {
        let mut words = text.split_whitespace();
        let (mark, date) = (words.next()?.to_owned(), words.next()?.to_owned());
        let what = words.collect::<Vec<_>>().join(" ");
        (!what.is_empty()).then_some(Revision { mark, date, what })
    }

    /// As it is written in the roof file.
    #[must_use]
    pub fn words(&self) -> String {
        format!("{} {} {}", self.mark, self.date, self.what)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_revision_needs_mark_date_and_words() {
        let read = Revision::read(" B  2026-06-02 rafters are  2x8 ").unwrap();
        assert_eq!(read.words(), "B 2026-06-02 rafters are 2x8");
        for text in ["", "B", "B 2026-06-02"] {
            assert_eq!(Revision::read(text), None, "{text}");
        }
    }
}
