//! The two doors: flags and a roof file, into one set of entries.

use std::path::PathBuf;

use crate::frame::CannotBuild;
use crate::measure::Units;
use crate::measure::read::is_metric;
use crate::plan::{Asked, Entries, Fault, Faults, Place, file};

use super::output::Failure;
use super::reader::{self, Kept};

/// What was written, from both doors, with the file's name and text for messages.
#[derive(Debug, Default)]
pub(super) struct Input {
    /// The values.
    pub(super) entries: Entries,
    /// The roof file.
    pub(super) file: Option<(PathBuf, String)>,
    reading: file::Reading,
}

impl Input {
    /// Takes in flags, then the roof file if one is named; a flag stands before the file.
    pub(super) fn read(
        flags: &[(&'static str, Option<&str>)],
        path: Option<&PathBuf>,
    ) -> Result<Input, Failure> {
        let file = path
            .map(|path| Ok((reader::named(path), reader::text(path, Kept::Written)?)))
            .transpose()?;
        Ok(Input::of(flags, file))
    }

    /// As [`Input::read`], of a roof file that was read already: its name and its text.
    pub(super) fn of(
        flags: &[(&'static str, Option<&str>)],
        file: Option<(PathBuf, String)>,
    ) -> Input {
        let mut input = Input::default();
        for (key, text) in flags {
            input.entries.add_flag(key, *text);
        }
        if let Some((_, text)) = &file {
            input.reading = file::read(text, &mut input.entries);
        }
        input.file = file;
        input
    }

    /// The units that the building is written in: metric if its span is (its length, where the span is to be found).
    pub(super) fn units(&self) -> Units {
        let written =
            ["building.span", "building.length"].into_iter().find_map(|key| self.entries.get(key));
        match written {
            Some(entry) if is_metric(&entry.text) => Units::Millimeters,
            _ => Units::Feet,
        }
    }

    /// The value that `reader` gives, or every fault of file and values together.
    pub(super) fn plan<T>(
        &self,
        reader: impl Fn(&Entries) -> Result<T, Faults>,
    ) -> Result<T, Failure> {
        match reader(&self.entries) {
            Ok(plan) if self.reading.faults.is_empty() => Ok(plan),
            Ok(_) => Err(self.refused(Faults::new())),
            Err(faults) => Err(self.refused(faults)),
        }
    }

    /// The input refused for these faults and the file's own: flags first, then down the file.
    pub(super) fn refused(&self, faults: Faults) -> Failure {
        let mut all = self.reading.faults.clone();
        all.append(faults);
        if self.reading.broken {
            // what seems missing may stand in the part that can't be read
            all.retain(|fault| !matches!(fault.place, Place::Missing { .. }));
        }
        all.sort_by_key(|fault| match &fault.place {
            Place::Flag { .. } => (0, 0),
            Place::File(span) => (1, span.start),
            Place::Missing { .. } => (2, 0),
        });
        Failure::Refused { faults: all, file: self.file.clone() }
    }

    /// The input refused because the parts can't be built together.
    pub(super) fn cannot_build(&self, why: CannotBuild) -> Failure {
        let place = Asked::new(&self.entries).place(why.key);
        self.refused(Faults::from(Fault::new(place, why.message, why.help)))
    }
}
