//! What a result has to say beside its numbers.

use crate::measure::{Length, Writing};

/// A sentence with lengths in it, written in any units; each `{}` takes the next length.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    words: String,
    lengths: Vec<Length>,
}

impl Note {
    /// A sentence without lengths.
    pub fn new(words: impl Into<String>) -> Note {
        Note { words: words.into(), lengths: Vec::new() }
    }

    /// A sentence with as many lengths as it has `{}`.
    pub fn with(words: impl Into<String>, lengths: impl Into<Vec<Length>>) -> Note {
        Note { words: words.into(), lengths: lengths.into() }
    }

    /// The sentence with its lengths written.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        let mut lengths = self.lengths.iter();
        let mut parts = self.words.split("{}");
        let mut text = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            if let Some(length) = lengths.next() {
                text.push_str(&writing.length(*length));
            }
            text.push_str(part);
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::inches;

    #[test]
    fn lengths_go_where_they_belong() {
        let note = Note::with("{} of {}", [inches(1.5), inches(14.0)]);
        assert_eq!(note.write(Writing::default()), "1-1/2\" of 1' 2\"");
        assert_eq!(note.write(Writing::METRIC), "38 mm of 356 mm");
    }
}
