//! The roofs of one order: each with its letter, how often it is built, and its notes.

use std::fmt::Write as _;

use crate::measure::{Amount, Note};

/// The name of a roof in an order, and how often it is built.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tag {
    /// Its letter, with which its marks begin; none if the order is for one roof file.
    pub letter: Option<String>,
    /// Name of the job, if there is one.
    pub name: Option<String>,
    /// How many buildings have it.
    pub buildings: u32,
}

impl Tag {
    /// The only roof of an order.
    #[must_use]
    pub fn only(name: Option<&str>, buildings: u32) -> Tag {
        Tag { letter: None, name: name.map(str::to_owned), buildings }
    }

    /// The tags of roof files in the order in which they are named: A to Z, then AA, AB ...; a single
    /// one has no letter.
    #[must_use]
    pub fn of_files(files: &[(Option<String>, u32)]) -> Vec<Tag> {
        let tag = |(place, (name, buildings)): (usize, &(Option<String>, u32))| Tag {
            letter: (files.len() > 1).then(|| letter(place)),
            name: name.clone(),
            buildings: *buildings,
        };
        files.iter().enumerate().map(tag).collect()
    }

    /// `Kestrel Yard`; `A Kestrel Yard (2 buildings)` if it is one of several; empty if it has neither
    /// letter nor name.
    fn title(&self) -> String {
        let words = [self.letter.as_deref(), self.name.as_deref()];
        let mut title = words.into_iter().flatten().collect::<Vec<_>>().join(" ");
        if self.letter.is_some() && self.buildings > 1 {
            let _ = write!(title, " ({} buildings)", self.buildings);
        }
        title
    }

    /// A mark with the roof's letter before it: `A-R1`.
    #[must_use]
    pub fn mark(&self, mark: &str) -> String {
        match &self.letter {
            Some(letter) => format!("{letter}-{mark}"),
            None => mark.to_owned(),
        }
    }

    /// The words before a statement about one building of this roof; empty if there is only one.
    fn of_each(&self) -> String {
        match (&self.letter, self.buildings) {
            (None, 1) => String::new(),
            (None, many) => format!("each of {many} buildings"),
            (Some(letter), 1) => letter.clone(),
            (Some(letter), _) => format!("each {letter}"),
        }
    }
}

/// The title for all roofs: `A Kestrel Yard, B Garden House (2 buildings)`; `None` if it would be
/// empty.
#[must_use]
pub fn title(roofs: &[Tag]) -> Option<String> {
    let titles: Vec<String> = roofs.iter().map(Tag::title).collect();
    Some(titles.join(", ")).filter(|title| !title.is_empty())
}

/// The letters for an index: 0 is A, 25 is Z, 26 is AA.
fn letter(place: usize) -> String {
    let last = char::from(b'A' + u8::try_from(place % 26).unwrap_or(0));
    match place / 26 {
        0 => last.to_string(),
        more => format!("{}{last}", letter(more - 1)),
    }
}

/// Notes on some roofs, each with the roof's index, as one text: equal notes once, with the letters of
/// their roofs unless all of `roofs` share them.
pub(super) fn together(said: &[(usize, Note)], roofs: &[Tag]) -> Note {
    match by_words(said).as_slice() {
        [(words, places)] if places.len() == roofs.len() => (*words).clone(),
        groups => {
            let each = groups.iter().map(|(words, places)| about(words, &letters(places, roofs)));
            Note::list(each.collect(), "; ")
        }
    }
}

/// As [`together`], for notes on one building of each roof: if a roof is built several times, the note
/// says so.
pub(super) fn of_each_building(said: &[(usize, Note)], roofs: &[Tag]) -> Note {
    if roofs.iter().all(|tag| tag.buildings <= 1) {
        return together(said, roofs);
    }
    let each = by_words(said).into_iter().map(|(words, places)| {
        let whose: Vec<String> = places.iter().map(|place| roofs[*place].of_each()).collect();
        about(words, &whose.join(", "))
    });
    Note::list(each.collect(), "; ")
}

/// Notes on every roof: each once, with the letters of its roofs unless all share it.
pub(super) fn notes(said: &[Vec<Note>], roofs: &[Tag]) -> Vec<Note> {
    let flat: Vec<(usize, Note)> = said
        .iter()
        .enumerate()
        .flat_map(|(place, notes)| notes.iter().map(move |note| (place, note.clone())))
        .collect();
    by_words(&flat)
        .into_iter()
        .map(|(words, places)| {
            if places.len() == roofs.len() {
                words.clone()
            } else {
                about(words, &letters(&places, roofs))
            }
        })
        .collect()
}

/// The letters of roofs by their places.
fn letters(places: &[usize], roofs: &[Tag]) -> String {
    let letters: Vec<&str> =
        places.iter().map(|place| roofs[*place].letter.as_deref().unwrap_or_default()).collect();
    letters.join(", ")
}

/// A note with its roofs before it.
fn about(words: &Note, whose: &str) -> Note {
    Note::with("{}: {}", [Amount::from(whose), Amount::from(words.clone())])
}

/// Equal notes with the indices of their roofs, in the order of their first appearance.
fn by_words(said: &[(usize, Note)]) -> Vec<(&Note, Vec<usize>)> {
    let mut groups: Vec<(&Note, Vec<usize>)> = Vec::new();
    for (place, words) in said {
        match groups.iter_mut().find(|(known, _)| *known == words) {
            Some((_, places)) if places.last() == Some(place) => {}
            Some((_, places)) => places.push(*place),
            None => groups.push((words, vec![*place])),
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;

    fn files(buildings: &[u32]) -> Vec<Tag> {
        let named: Vec<_> = buildings.iter().map(|many| (Some("Shed".to_owned()), *many)).collect();
        Tag::of_files(&named)
    }

    #[test]
    fn letters_go_on_after_z() {
        let letters = |place| letter(place);
        assert_eq!(
            [0, 1, 25, 26, 27, 51, 52, 701, 702].map(letters),
            ["A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"]
        );
        assert_eq!(files(&[3])[0].mark("R1"), "R1");
        assert_eq!(files(&[1, 2])[1].mark("R1"), "B-R1");
        assert_eq!(title(&files(&[1, 2])).unwrap(), "A Shed, B Shed (2 buildings)");
        assert_eq!(title(&[Tag::only(Some("Shed"), 3)]).unwrap(), "Shed");
        assert_eq!(title(&[Tag::only(None, 3)]), None);
    }

    #[test]
    fn words_that_all_share_stand_alone() {
        let said = |words: &[&str]| -> Vec<(usize, Note)> {
            words.iter().enumerate().map(|(place, words)| (place, Note::from(*words))).collect()
        };
        let write = |note: Note| note.write(Writing::default());
        let of_each_building = |said: &[_], roofs: &[_]| write(of_each_building(said, roofs));
        let together = |said: &[_], roofs: &[_]| write(together(said, roofs));
        let one = files(&[1]);
        assert_eq!(of_each_building(&said(&["ridge"]), &one), "ridge");
        assert_eq!(
            of_each_building(&said(&["4 counted"]), &files(&[3])),
            "each of 3 buildings: 4 counted"
        );
        let two = files(&[1, 2]);
        assert_eq!(together(&said(&["ridge", "ridge"]), &two), "ridge");
        assert_eq!(together(&said(&["ridge", "eave"]), &two), "A: ridge; B: eave");
        assert_eq!(together(&said(&["ridge"]), &two), "A: ridge");
        assert_eq!(of_each_building(&said(&["4", "5"]), &two), "A: 4; each B: 5");
        let notes_of = |a: &[&str], b: &[&str]| {
            let own = |notes: &[&str]| notes.iter().map(|note| Note::from(*note)).collect();
            notes(&[own(a), own(b)], &two).into_iter().map(write).collect::<Vec<_>>()
        };
        assert_eq!(notes_of(&["x", "y"], &["y", "z"]), ["A: x", "y", "B: z"]);
    }
}
