//! Starter roof files: a short one to fill in, a long one with every field.

use super::Asked;
use super::entry::Entries;
use super::fault::Fault;
use super::field::{Default, FIELDS, Field, Key, Kind, TABLES, heading, is_list};
use super::text::{toml_length, toml_text};
use crate::key;

/// What differs most between roofs, by field key: the lines of the short file.
const SHORT: [Key; 22] = [
    key!("job.name"),
    key!("building.length"),
    key!("building.span"),
    key!("building.wall_height"),
    key!("roof.pitch"),
    key!("roof.spacing"),
    key!("rafter.stock"),
    key!("ridge.board"),
    key!("eave.overhang"),
    key!("eave.fascia"),
    key!("rake.overhang"),
    key!("ceiling.joists"),
    key!("ceiling.stock"),
    key!("lumber.species"),
    key!("lumber.grade"),
    key!("loads.snow"),
    key!("loads.dead"),
    key!("loads.wind"),
    key!("loads.exposure"),
    key!("loads.seismic"),
    key!("sheathing.panel"),
    key!("roofing.kind"),
];

/// The questions at the terminal, by field key, in words: without these values there is no rafter, or a
/// different one.
pub const ASKED: [(Key, &str); 6] = [
    (key!("building.span"), "Span across the ridge, over the framing"),
    (key!("roof.pitch"), "Pitch"),
    (key!("building.length"), "Length along the ridge, over the framing"),
    (
        key!("eave.overhang"),
        "Overhang, level, to the fascia's outer face, or to the tail cut without one",
    ),
    (key!("rafter.stock"), "Rafters"),
    (key!("ridge.board"), "Ridge board"),
];

/// The fault of a text as the value of a field, if it has one.
#[must_use]
pub fn fault(key: Key, text: &str) -> Option<Fault> {
    let mut entries = Entries::default();
    entries.add_flag(key, Some(text));
    let mut asked = Asked::new(&entries);
    asked.check_the_rest();
    asked.faults.iter().next().cloned()
}

/// The short file, with these values filled in by field key. Required values that are not given stay
/// blank.
#[must_use]
pub fn short(written: &[(Key, String)]) -> String {
    let mut text = String::from(
        "# A roof file for stepoff. Fill in length, span and pitch. A line behind a # shows what holds\n\
         # without it: take the # away and write your own value to set it.\n\
         # Lengths: \"24ft\" \"24ft 3-1/2in\" \"7.4 m\". Pitches: \"6/12\" \"26.57deg\". Sections: \"2x6\".\n\
         # stepoff start --full writes every field there is, with its meaning.\n",
    );
    for (table, _) in TABLES {
        let mut head = format!("\n[{table}]\n");
        let of = SHORT.into_iter().map(Key::field);
        for field in of.filter(|field| field.table() == *table) {
            text.push_str(&std::mem::take(&mut head));
            let value = written.iter().find(|(key, _)| *key == field.key());
            text.push_str(&short_field(field, value.map(|(_, value)| value.as_str())));
        }
    }
    text
}

fn short_field(field: &Field, written: Option<&str>) -> String {
    let name = field.name();
    let line = match (written, field.default) {
        (Some(value), _) if field.kind == Kind::Text => format!("{name} = {}", toml_text(value)),
        (Some(value), _) => format!("{name} = {}", toml_length(value)),
        (None, Default::Needed) => format!("{name} = \"\""),
        (None, Default::Value(value)) => format!("# {name} = {}", toml_length(value)),
        (None, Default::Words(_) | Default::Either(..)) => format!("# {name} = \"\""),
    };
    format!("{line:<30} # {}\n", field.about)
}

/// Values that stand in a drawing for those that were not answered yet, by field key: those of the one
/// demo.
const STANDS_IN: [(Key, &str); 3] = [
    (key!("building.length"), "22ft"),
    (key!("building.span"), "14ft"),
    (key!("roof.pitch"), "6/12"),
];

/// The short file with stand-ins for required values that are not given yet, so that it can be drawn;
/// and the keys of the stand-ins.
#[must_use]
pub fn sketch(written: &[(Key, String)]) -> (String, Vec<Key>) {
    let missing = |key: &Key| written.iter().all(|(given, _)| given != key);
    let stand_ins: Vec<(Key, String)> = STANDS_IN
        .into_iter()
        .filter(|(key, _)| missing(key))
        .map(|(key, text)| (key, text.to_owned()))
        .collect();
    let keys = stand_ins.iter().map(|(key, _)| *key).collect();
    (short(&[written, &stand_ins].concat()), keys)
}

/// The long one: every field with its meaning and its default.
#[must_use]
pub fn full() -> String {
    let mut text = String::from(
        "# A roof file for stepoff. Fill in length, span and pitch. What stands behind a # is a note or a\n\
         # default: take the # away and write your own value to set it.\n\
         #\n\
         # lengths      \"24'\"  \"24' 3-1/2\\\"\"  \"24ft 3.5in\"  '291.5\"'  \"7.4 m\"  \"7400mm\"\n\
         # pitches      \"6/12\"  \"6 in 12\"  \"26.57deg\"  \"50%\"\n\
         # sections     \"2x6\" (nominal)  \"1.5in x 5.5in\"  \"45x195mm\" (actual)\n\
         # thicknesses  a length, a nominal size (its thin side is meant), or \"none\"\n\
         # widths       a length, or a nominal size (its wide side is meant)\n\
         # loads        \"20 psf\"  \"0.96kPa\"\n",
    );
    for (table, about) in TABLES {
        // a wing that nobody has is not there: all of it is a note
        let note = if is_list(table) { "# " } else { "" };
        text.push_str(&format!("\n# {about}\n{note}{}\n", heading(table)));
        for field in FIELDS.iter().filter(|field| field.table() == *table) {
            for line in long_field(field).split_inclusive('\n') {
                text.push_str(if line.starts_with('#') { "" } else { note });
                text.push_str(line);
            }
        }
    }
    text
}

fn long_field(field: &Field) -> String {
    let kind = match field.kind {
        Kind::Choice(words) => format!(" ({})", words.join(", ")),
        Kind::Length | Kind::Text => String::new(),
        Kind::Thickness => " (thickness)".into(),
        Kind::Width => " (width)".into(),
        Kind::Section => " (section)".into(),
        Kind::Pitch => " (pitch)".into(),
        Kind::Load => " (load)".into(),
        Kind::Speed => " (mph)".into(),
        Kind::Species => " (DFL, HF, SP, SPF)".into(),
        Kind::Grade => " (SS, No.1, No.2, No.3)".into(),
        Kind::Panel => " (24/16, 32/16, ...)".into(),
        Kind::Jurisdiction => " (North Carolina, Oregon)".into(),
        Kind::Sweep(_)
        | Kind::Readings
        | Kind::Stations
        | Kind::Bearing
        | Kind::Revisions
        | Kind::Number(_)
        | Kind::Counted(_)
        | Kind::Limit(_)
        | Kind::SignedLength
        | Kind::Lengths
        | Kind::Sticks => String::new(),
    };
    let name = field.name();
    let line = match field.default {
        Default::Needed => format!("{name} = \"\""),
        Default::Value(value) => format!("# {name} = {}", toml_text(value)),
        Default::Words(words) | Default::Either(words, _) => {
            format!("# {name} =        by default: {words}")
        }
    };
    format!("# {}{kind}\n{line}\n", field.about)
}

#[cfg(test)]
mod tests {
    use super::super::file::{Reading, read};
    use super::super::{GablePlan, RafterPlan};
    use super::*;

    /// The file with the needed blanks filled in.
    fn filled(text: &str) -> String {
        let values = [("length", "24ft"), ("span", "14ft"), ("pitch", "6/12")];
        values.iter().fold(text.to_owned(), |text, (name, value)| {
            text.replacen(&format!("\n{name} = \"\""), &format!("\n{name} = \"{value}\""), 1)
        })
    }

    #[test]
    fn the_short_one_is_short_and_says_what_to_fill_in() {
        let text = short(&[]);
        assert!(text.lines().count() < 60, "{}", text.lines().count());
        let mut entries = Entries::default();
        assert_eq!(read(&text, &mut entries), Reading::default());
        let faults = GablePlan::read(&entries).unwrap_err();
        let told: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(told, ["nothing is written here"; 3]);
        let mut entries = Entries::default();
        read(&filled(&text), &mut entries);
        GablePlan::read(&entries).unwrap();
    }

    #[test]
    fn what_is_asked_is_written() {
        for (key, _) in &ASKED {
            assert!(SHORT.contains(key), "{key} is asked and not written");
        }
    }

    #[test]
    fn what_is_answered_is_written_as_it_is_read() {
        let written = [
            (key!("building.length"), "24' 3-1/2\"".to_owned()),
            (key!("building.span"), "7.4 m".to_owned()),
            (key!("roof.pitch"), "6-1/2 in 12".to_owned()),
            (key!("ridge.board"), "1-3/4\"".to_owned()),
        ];
        let mut entries = Entries::default();
        assert_eq!(read(&short(&written), &mut entries), Reading::default());
        let plan = RafterPlan::read(&entries).unwrap();
        assert_eq!(plan.pitch.unit_rise(), 6.5);
        let mut flags = Entries::default();
        for (key, text) in &written {
            flags.add_flag(*key, Some(text));
        }
        let same = RafterPlan::read(&flags).unwrap();
        assert_eq!((plan.span, plan.ridge), (same.span, same.ridge));
    }

    #[test]
    fn an_answer_is_refused_as_the_file_would_be() {
        assert!(fault(key!("roof.pitch"), "6/12").is_none());
        assert!(fault(key!("building.span"), "16-3").is_some());
        assert!(fault(key!("rafter.stock"), "").is_some());
    }

    #[test]
    fn the_long_one_can_be_read() {
        let mut entries = Entries::default();
        assert_eq!(read(&filled(&full()), &mut entries), Reading::default());
        assert_eq!(entries.get(key!("roof.pitch")).unwrap().text, "6/12");
        // and so it can with every default set
        let all: String = filled(&full())
            .lines()
            .map(|line| match line.strip_prefix("# ") {
                Some(rest)
                    if rest.starts_with("[[")
                        || rest.contains(" = ") && !rest.contains("by default") =>
                {
                    format!("{rest}\n")
                }
                _ => format!("{line}\n"),
            })
            .collect();
        let mut entries = Entries::default();
        assert_eq!(read(&all, &mut entries), Reading::default());
        assert!(entries.get(key!("ridge.board")).is_some());
    }
}
