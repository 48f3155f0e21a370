//! The two inputs, flags and a roof file, combined into one set of entries.

use crate::frame::CannotBuild;
use crate::measure::{Units, Writing};
use crate::plan::{Asked, Entries, Fault, Faults, Key, Place, file};

use super::{Refused, Source};

/// All values from flags and file, with the file's name and text for messages.
#[derive(Debug, Default)]
pub struct Input {
    /// The values.
    pub entries: Entries,
    /// The roof file.
    pub file: Option<Source>,
    reading: file::Reading,
}

impl Input {
    /// Takes in flags by field key, then the roof file if there is one; a flag overrides the file.
    #[must_use]
    pub fn of(flags: &[(Key, String)], file: Option<Source>) -> Input {
        let mut input = Input::default();
        for (key, text) in flags {
            input.entries.add_flag(*key, Some(text));
        }
        if let Some(source) = &file {
            input.reading = file::read(&source.text, &mut input.entries);
        }
        input.file = file;
        input
    }

    /// Values by themselves, whose faults are shown to nobody.
    pub(super) fn of_entries(entries: Entries) -> Input {
        Input { entries, ..Input::default() }
    }

    /// The units of the building: metric if its span is metric (or its length, if the span is the
    /// unknown).
    #[must_use]
    pub fn units(&self) -> Units {
        self.entries.units()
    }

    /// The value that `reader` returns.
    ///
    /// # Errors
    /// Every fault of file and values together.
    pub fn plan<T>(&self, reader: impl Fn(&Entries) -> Result<T, Faults>) -> Result<T, Refused> {
        match reader(&self.entries) {
            Ok(plan) if self.reading.faults.is_empty() => Ok(plan),
            Ok(_) => Err(self.refused(Faults::new())),
            Err(faults) => Err(self.refused(faults)),
        }
    }

    /// The input refused for these faults and the file's own: flags first, then in the order of the
    /// file.
    #[must_use]
    pub fn refused(&self, faults: Faults) -> Refused {
        let mut all = self.reading.faults.clone();
        all.append(faults);
        if self.reading.broken {
            // a field that seems missing may be in the part that can't be read
            all.retain(|fault| !matches!(fault.place, Place::Missing { .. }));
        }
        all.sort_by_key(|fault| match &fault.place {
            Place::Flag { .. } => (0, 0),
            Place::File(span) => (1, span.start),
            Place::Missing { .. } => (2, 0),
        });
        Refused { faults: all, file: self.file.clone() }
    }

    /// The input refused because the parts can't be built together.
    #[must_use]
    pub fn cannot_build(&self, why: CannotBuild) -> Refused {
        let place = Asked::new(&self.entries).place(why.key);
        let writing = Writing::of(self.units());
        let fault = Fault::new(place, why.message.write(writing), why.help.write(writing));
        self.refused(Faults::from(fault))
    }
}
