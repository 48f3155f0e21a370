//! What the user meant by an unknown word: by meaning first, by spelling only if little is wrong.

use super::field::{Default, FIELDS, Field, Kind, TABLES, heading, is_list};
use super::hint_words::{COMMANDS, Meaning, OUTPUT, SETTINGS, SHAPES, VALUES};
use super::text::toml_text;

/// The roofs that stepoff frames, for users who want another one.
const GABLE_ONLY: &str = "stepoff frames a gable over a rectangle";

/// The message and the help for an unknown word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// The message to use instead of "not known", if there is more to say.
    pub message: Option<String>,
    /// What to write.
    pub help: String,
}

impl Hint {
    /// Help only, without a message of its own.
    #[must_use]
    pub fn say(help: impl Into<String>) -> Hint {
        Hint { message: None, help: help.into() }
    }
}

/// A roof shape, or part of a roof, that is not framed here.
fn shape(word: &str) -> Option<Hint> {
    SHAPES.iter().find(|(words, _)| words.contains(&word)).map(|(_, help)| Hint {
        message: Some(format!("{word} is not framed yet; {GABLE_ONLY}")),
        help: (*help).to_owned(),
    })
}

/// What to write for a setting: a flag of the command if it has one, otherwise a line of the roof file.
fn setting(meaning: &Meaning, flags: &[String]) -> Hint {
    match meaning {
        Meaning::Field(key) => {
            let field = key.field();
            Hint::say(format!("{}: {}", written(field, flags), field.about))
        }
        Meaning::Say(text) => Hint::say(*text),
    }
}

fn written(field: &Field, flags: &[String]) -> String {
    match field.flag.filter(|flag| flags.iter().any(|own| own == flag)) {
        Some(flag) => format!("write {flag} {}", shell(&field.example())),
        None => format!(
            "write {} = {} under [{}] in a roof file",
            field.name(),
            toml_text(&field.example()),
            field.table()
        ),
    }
}

/// A value in a form that a shell takes as one word.
fn shell(value: &str) -> String {
    if value.contains(char::is_whitespace) { format!("\"{value}\"") } else { value.to_owned() }
}

fn meaning<'a>(table: &'a [(&[&str], Meaning)], word: &str) -> Option<&'a Meaning> {
    table.iter().find(|(words, _)| words.contains(&word)).map(|(_, meaning)| meaning)
}

/// A word in the form of the tables: small letters, without dashes, points and other signs.
fn plain(word: &str) -> String {
    let spaced: String = word
        .to_lowercase()
        .replace(['.', '\'', '’'], "")
        .chars()
        .map(|letter| if letter.is_alphanumeric() { letter } else { ' ' })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The word, and the word without a plural ending.
fn forms(word: &str) -> Vec<String> {
    let word = plain(word);
    match word.strip_suffix('s') {
        Some(one) if one.len() > 2 => vec![word.clone(), one.to_owned()],
        _ => vec![word],
    }
}

/// The fields with this name, in other tables or as flags of other commands.
fn same_name(word: &str) -> Vec<&'static Field> {
    let word = plain(word).replace(' ', "_");
    let mut found: Vec<&Field> = FIELDS
        .iter()
        .filter(|field| {
            let flag = field.flag.map(|flag| flag.trim_start_matches('-').replace('-', "_"));
            // fields under [compare] and [limits] have the same name as the setting itself, and those of a wing
            // or an opening are not what is meant where the whole roof is told
            !["compare", "limits"].contains(&field.table())
                && !is_list(field.table())
                && (field.name() == word || flag.as_deref() == Some(&word))
        })
        .collect();
    found.truncate(3);
    found
}

fn elsewhere(found: &[&Field], flags: &[String]) -> Option<Hint> {
    let (first, others) = found.split_first()?;
    let mut help = format!("{}: {}", written(first, flags), first.about);
    for other in others {
        help.push_str(&format!("; or {} under [{}]: {}", other.name(), other.table(), other.about));
    }
    Some(Hint::say(help))
}

/// For an unknown flag; `flags` are those of the command, with their dashes.
#[must_use]
pub fn flag(written: &str, flags: &[String]) -> Hint {
    let word = written.trim_start_matches('-');
    let found = same_name(word);
    forms(word)
        .iter()
        .find_map(|word| shape(word))
        // the usual meaning of a word comes before a field with the same name in another table
        .or_else(|| {
            let word = plain(word);
            let meaning = meaning(SETTINGS, &word).or_else(|| meaning(OUTPUT, &word));
            meaning.map(|meaning| setting(meaning, flags))
        })
        .or_else(|| elsewhere(&found, flags))
        .or_else(|| {
            forms(word).iter().find_map(|word| {
                meaning(SETTINGS, word)
                    .or_else(|| meaning(OUTPUT, word))
                    .map(|meaning| setting(meaning, flags))
            })
        })
        .or_else(|| {
            nearest(written, flags.iter().map(String::as_str))
                .map(|near| Hint::say(format!("write {near} if that is meant")))
        })
        .unwrap_or_else(|| Hint::say(format!("its flags are {}", flags.join(" "))))
}

/// For an unknown command; `commands` are the known ones.
#[must_use]
pub fn command(written: &str, commands: &[&str]) -> Hint {
    forms(written)
        .iter()
        .find_map(|word| {
            shape(word).or_else(|| {
                meaning(COMMANDS, word)
                    .or_else(|| meaning(SETTINGS, word))
                    .or_else(|| meaning(OUTPUT, word))
                    .map(|meaning| setting(meaning, &[]))
            })
        })
        .or_else(|| elsewhere(&same_name(written), &[]))
        .or_else(|| {
            nearest(written, commands.iter().copied())
                .map(|near| Hint::say(format!("write stepoff {near} if that is meant")))
        })
        .unwrap_or_else(|| Hint::say(format!("the commands are {}", commands.join(", "))))
}

/// For a table of a roof file that there is not.
#[must_use]
pub fn table(written: &str) -> Hint {
    let tables = TABLES.iter().map(|(name, _)| *name);
    forms(written)
        .iter()
        .find_map(|word| {
            shape(word).or_else(|| {
                tables
                    .clone()
                    .find(|table| table == word)
                    .map(|table| Hint::say(format!("write [{table}]")))
            })
        })
        .or_else(|| elsewhere(&same_name(written), &[]))
        .or_else(|| {
            forms(written)
                .iter()
                .find_map(|word| meaning(SETTINGS, word).map(|meaning| setting(meaning, &[])))
        })
        .or_else(|| {
            nearest(written, tables.clone())
                .map(|near| Hint::say(format!("write [{near}] if that is meant")))
        })
        .unwrap_or_else(|| {
            let all: Vec<String> = tables.clone().map(heading).collect();
            Hint::say(format!("the tables are {}", all.join(" ")))
        })
}

/// For an unknown name in a table of a roof file.
#[must_use]
pub fn field(table: &str, written: &str) -> Hint {
    let own = || FIELDS.iter().filter(|field| field.table() == table);
    let near = nearest(written, own().map(Field::name));
    let words = forms(written);
    words
        .iter()
        .find_map(|word| shape(word))
        .or_else(|| {
            // one letter too many is nearer than the same name elsewhere
            let near = own().find(|field| words.iter().any(|word| field.name() == word))?;
            Some(Hint::say(format!("write {}: {}", near.name(), near.about)))
        })
        .or_else(|| elsewhere(&same_name(written), &[]))
        .or_else(|| {
            // "spacing" under [rafter] may have another name in this same table
            let qualified = plain(&format!("{table} {written}"));
            words
                .iter()
                .chain(std::iter::once(&qualified))
                .find_map(|word| meaning(SETTINGS, word).map(|meaning| setting(meaning, &[])))
        })
        .or_else(|| {
            let near = own().find(|field| Some(field.name()) == near)?;
            Some(Hint::say(format!("write {}: {}", near.name(), near.about)))
        })
        .unwrap_or_else(|| {
            Hint::say(format!(
                "{} knows: {}",
                heading(table),
                own().map(Field::name).collect::<Vec<_>>().join(", ")
            ))
        })
}

/// The meaning of a value under another name; `what` is its flag or field.
#[must_use]
pub fn meant(what: &str, written: &str) -> Option<Hint> {
    if written.len() > 40 {
        return None;
    }
    let what = what.trim_start_matches('-');
    forms(written).iter().find_map(|word| {
        let known = VALUES
            .iter()
            .filter(|(fields, ..)| fields.is_empty() || fields.contains(&what))
            .find(|(_, words, _)| words.contains(&word.as_str()))
            .map(|(_, _, help)| Hint::say(*help));
        shape(word).or(known)
    })
}

/// For a value that is not one of the allowed words.
#[must_use]
pub fn value(what: &str, written: &str, allowed: &[&str]) -> Hint {
    meant(what, written)
        .or_else(|| {
            nearest(written, allowed.iter().copied())
                .map(|near| Hint::say(format!("write {near} if that is meant")))
        })
        .unwrap_or_else(|| Hint::say(format!("write {}", one_of(allowed))))
}

/// `a, b or c`.
fn one_of(words: &[&str]) -> String {
    match words {
        [all @ .., last] if !all.is_empty() => format!("{} or {last}", all.join(", ")),
        _ => words.join(", "),
    }
}

/// The word spelled most like `written`, if so little is wrong that it can hardly mean another: one
/// letter (two swapped neighbors count as one), or two in words of six letters and more.
#[must_use]
pub fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let written = written.trim_start_matches('-').to_lowercase();
    let letters = written.chars().count();
    if letters > 40 {
        return None;
    }
    let most = match letters {
        0..=2 => 0,
        3..=5 => 1,
        _ => 2,
    };
    known
        .map(|word| (edits(&written, word.trim_start_matches('-')), word))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, _)| *distance <= most)
        .map(|(_, word)| word)
}

/// Fewest changes of a letter between two words; two swapped neighbors are one change.
#[must_use]
pub fn edits(from: &str, to: &str) -> usize {
    let (from, to): (Vec<char>, Vec<char>) = (from.chars().collect(), to.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (down, letter) in from.iter().enumerate() {
        let mut next = vec![down + 1];
        for (across, other) in to.iter().enumerate() {
            let mut least = (row[across] + usize::from(letter != other))
                .min(row[across + 1] + 1)
                .min(next[across] + 1);
            if down > 0 && across > 0 && from[down - 1] == *other && *letter == to[across - 1] {
                least = least.min(before[across - 1] + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
    }
    row[to.len()]
}

impl Field {
    /// An example value for the field, in a form that needs no quotes in a shell if there is one.
    #[must_use]
    pub fn example(&self) -> String {
        if let Default::Value(value) = self.default
            && value != "none"
        {
            return value.replace("' ", "ft").replace('\'', "ft").replace('"', "in");
        }
        // the plate that most rafters sit on
        if self.key == "rafter.seat" {
            return "3-1/2in".to_owned();
        }
        match self.kind {
            Kind::Length | Kind::SignedLength if self.table() == "building" => "24ft",
            Kind::Length | Kind::SignedLength => "12in",
            Kind::Thickness => "3/4in",
            Kind::Width => "3-1/2in",
            Kind::Section => "2x6",
            Kind::Pitch => "6/12",
            Kind::Choice(words) => words.first().copied().unwrap_or_default(),
            Kind::Load => "30psf",
            Kind::Speed => "115mph",
            Kind::Number(_) | Kind::Counted(_) => "2",
            Kind::Species => "SPF",
            Kind::Grade => "No.2",
            Kind::Panel => "24/16",
            Kind::Jurisdiction => "Oregon",
            Kind::Limit(_) => "... because ...",
            Kind::Lengths => "8ft, 10ft, 12ft",
            Kind::Sticks => "2x4 92-5/8in x 6",
            Kind::Readings => "24ft0-1/8in",
            Kind::Stations => "14ft0-1/8in at 5ft4in",
            Kind::Bearing => "90",
            Kind::Revisions => "A 2026-05-04 first issue",
            Kind::Sweep(_) | Kind::Text => "...",
        }
        .to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spelling_decides_only_where_little_is_wrong() {
        let flags = ["--span", "--pitch", "--overhang", "--plate"];
        let near = |written| nearest(written, flags.iter().copied());
        assert_eq!(near("--pich"), Some("--pitch"));
        assert_eq!(near("--spna"), Some("--span"));
        assert_eq!(near("--overhnag"), Some("--overhang"));
        for far in ["--spacing", "--width", "--hip", "--rate", "--s", "--space"] {
            assert_eq!(near(far), None, "{far}");
        }
        assert_eq!(near(&"a".repeat(1 << 20)), None);
    }

    #[test]
    fn every_word_is_listed_once() {
        let mut seen = std::collections::BTreeSet::new();
        let settings = SETTINGS.iter().chain(OUTPUT);
        for (words, _) in settings {
            for word in *words {
                assert_eq!(plain(word), *word, "as it is looked up");
                assert!(seen.insert(*word), "{word} is listed twice");
            }
        }
        for (words, _) in SHAPES {
            for word in *words {
                assert_eq!(plain(word), *word, "as it is looked up");
                assert!(seen.insert(*word), "{word} is listed twice");
            }
        }
    }

    #[test]
    fn every_example_is_read_by_its_field() {
        use crate::plan::{Asked, Entries};
        for field in FIELDS {
            if matches!(field.kind, Kind::Limit(_) | Kind::Text | Kind::Sweep(_)) {
                continue;
            }
            let mut entries = Entries::default();
            entries.add_flag(field.key(), Some(&field.example()));
            let mut asked = Asked::new(&entries);
            asked.check_the_rest();
            assert!(asked.faults.is_empty(), "{}: {:?}", field.key, asked.faults);
        }
    }
}
