//! The text of one value, read.

use super::entry::Entry;
use super::fault::Fault;
use super::field::Kind;
use super::hint;
use crate::catalog::lumber::{Section, nominal_names};
use crate::measure::load::{LOAD_IS_WRITTEN, load as read_load, number as read_number};
use crate::measure::quantity::{in_psf, inches};
use crate::measure::read::{self, ReadError, Sides};
use crate::measure::{Length, Pressure};

/// Equal sticks as they were written.
#[derive(Debug, Clone, PartialEq)]
pub struct Sticks {
    /// Section.
    pub section: Section,
    /// Length of each.
    pub length: Length,
    /// How many.
    pub count: u32,
}

pub(super) fn load(text: &str) -> Result<Pressure, Problem> {
    read_load(text).filter(|load| (0.0..=300.0).contains(&in_psf(*load))).ok_or_else(|| {
        Problem::Other {
            message: format!("{text:?} is no load from 0 to 300 psf"),
            help: format!("write {LOAD_IS_WRITTEN}"),
        }
    })
}

pub(super) fn plain_number(text: &str) -> Result<f64, Problem> {
    read_number(text).filter(|number| *number >= 0.0).ok_or_else(|| Problem::Other {
        message: format!("{text:?} is no number of zero or more"),
        help: "write a plain number such as 9 or 12.5".into(),
    })
}

/// The parts of a list with the byte that each starts at.
pub(super) fn parts(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    text.split(',').map(move |part| {
        let start = at + part.len() - part.trim_start().len();
        at += part.len() + 1;
        (start, part.trim())
    })
}

/// A fault of one part of a list, pointing at it.
pub(super) fn shifted(mut error: ReadError, start: usize) -> Problem {
    error.span = error.span.start + start..error.span.end + start;
    Problem::Read(error)
}

/// `14' 0-1/8" at 5' 4"`, starting at byte `start` of its list: a span and the place where it was
/// taken.
pub(super) fn station(start: usize, part: &str) -> Result<(Length, Length), Problem> {
    let (span, at) = part.split_once(" at ").ok_or_else(|| Problem::Other {
        message: format!("{part:?} does not say where the span was taken"),
        help: format!("write {}", Kind::Stations.how_written()),
    })?;
    let after = start + span.len() + " at ".len();
    Ok((
        read::length(span).map_err(|error| shifted(error, start))?,
        read::length(at).map_err(|error| shifted(error, after))?,
    ))
}

/// The most sticks of one kind that may be listed.
const MOST_STICKS: u32 = 10_000;

/// `2x4 92-5/8" x 6`, starting at byte `start` of its list; one stick if no count is written.
pub(super) fn some_sticks(start: usize, part: &str) -> Result<Sticks, Problem> {
    let wrong = |message: String| {
        Problem::Other {
        message,
        help: "write a section, a length and how many, separated by commas: 2x4 92-5/8in x 6, 2x6 14ft x 2".into(),
    }
    };
    let (stick, count) = match part.rsplit_once(" x ") {
        Some((stick, count)) => {
            let count = count
                .trim()
                .parse()
                .ok()
                .filter(|count| (1..=MOST_STICKS).contains(count))
                .ok_or_else(|| {
                    wrong(format!("{count:?} is no number of sticks from 1 to {MOST_STICKS}"))
                })?;
            (stick.trim_end(), count)
        }
        None => (part, 1),
    };
    let (name, length) = stick
        .split_once(char::is_whitespace)
        .ok_or_else(|| wrong(format!("{part:?} names no section and length")))?;
    let section = section(name).map_err(|problem| match problem {
        Problem::Read(error) => shifted(error, start),
        other => other,
    })?;
    let at = start + stick.len() - length.len();
    let length = read::length(length).map_err(|error| shifted(error, at))?;
    if length <= inches(0.0) {
        return Err(wrong(format!("{part:?} has no length")));
    }
    Ok(Sticks { section, length, count })
}

/// Why a value could not be read.
pub(super) enum Problem {
    Read(ReadError),
    Other { message: String, help: String },
}

impl From<ReadError> for Problem {
    fn from(error: ReadError) -> Problem {
        Problem::Read(error)
    }
}

impl Problem {
    pub(super) fn at(self, entry: &Entry) -> Fault {
        if let Some(hint) = hint::meant("", &entry.text)
            && let Some(message) = hint.message
        {
            return Fault::new(entry.place.clone(), message, hint.help);
        }
        let quotes = |help: String| {
            if entry.quoted {
                help
            } else {
                format!("{help}; in quotes, as {} = \"...\"", entry.field.name())
            }
        };
        match self {
            Problem::Read(error) => Fault {
                place: entry.place.clone(),
                part: Some(error.span.clone()),
                message: error.to_string(),
                help: quotes(error.problem.help()),
            },
            Problem::Other { message, help } => Fault::new(entry.place.clone(), message, help),
        }
    }
}

pub(super) fn section(text: &str) -> Result<Section, Problem> {
    let section = match read::sides(text)? {
        Sides::Nominal(thick, deep) => {
            Section::nominal(thick, deep).ok_or_else(|| no_such_size(text))?
        }
        Sides::Actual(a, b) => Section::actual(a, b),
    };
    if section.thickness <= inches(0.0) || section.depth <= inches(0.0) {
        return Err(Problem::Other {
            message: "a section needs two sides greater than zero".into(),
            help: Kind::Section.how_written(),
        });
    }
    if section.thickness > section.depth {
        return Err(Problem::Other {
            message: "the thickness comes first and is the narrow side".into(),
            help: "exchange the two sides; lumber on the flat is not a rafter here".into(),
        });
    }
    Ok(section)
}

fn no_such_size(text: &str) -> Problem {
    Problem::Other {
        message: format!("{} is not in the table of lumber sizes", text.trim()),
        help: format!(
            "write actual sides (1.5in x 5.5in, 45x195mm) or one of {}",
            nominal_names().collect::<Vec<_>>().join(" ")
        ),
    }
}

/// A board's thickness, and its width if a nominal size gives one; `None` for `none`.
pub(super) fn board(text: &str) -> Result<Option<(Length, Option<Length>)>, Problem> {
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(None);
    }
    if is_section(text) {
        let section = section(text)?;
        return Ok(Some((section.thickness, Some(section.depth))));
    }
    Ok(Some((read::length(text)?, None)))
}

pub(super) fn width(text: &str) -> Result<Length, Problem> {
    if is_section(text) {
        return Ok(section(text)?.depth);
    }
    Ok(read::length(text)?)
}

/// True if the text has the `x` of a section, so that its faults are reported as a section's.
fn is_section(text: &str) -> bool {
    text.contains(['x', 'X', '×'])
}
