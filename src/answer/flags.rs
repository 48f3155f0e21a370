//! Texts of flags that are read without a roof file, each fault at its flag.

use crate::measure::Length;
use crate::measure::quantity::inches;
use crate::measure::read::{self, Sides};
use crate::plan::{Fault, Faults, Place};

use super::Refused;

/// Reads the texts of flags, collecting every fault.
#[derive(Default)]
pub(super) struct Reader {
    pub(super) faults: Faults,
}

impl Reader {
    fn fault(&mut self, flag: &'static str, text: &str, error: &read::ReadError) {
        self.faults.push(Fault {
            place: Place::Flag { flag, text: text.to_owned() },
            part: Some(error.span.clone()),
            message: error.to_string(),
            help: error.problem.help(),
        });
    }

    /// What was found wrong, if anything was.
    pub(super) fn done(self) -> Result<(), Refused> {
        if self.faults.is_empty() { Ok(()) } else { Err(Refused::of(self.faults)) }
    }

    /// What `read` makes of a flag's text.
    pub(super) fn read<T>(
        &mut self,
        flag: &'static str,
        text: Option<&str>,
        read: impl Fn(&str) -> Result<T, read::ReadError>,
    ) -> Option<T> {
        let text = text?;
        read(text).map_err(|error| self.fault(flag, text, &error)).ok()
    }

    /// The length of a flag.
    pub(super) fn length(&mut self, flag: &'static str, text: Option<&str>) -> Option<Length> {
        self.read(flag, text, read::length)
    }

    /// The length in a required flag; `what` it measures is for the message.
    pub(super) fn needed(&mut self, flag: &'static str, text: Option<&str>, about: &str) -> Length {
        if text.is_none() {
            self.faults.push(Fault::new(
                Place::Missing { key: flag, flag: Some(flag) },
                format!("give {flag}: {about}"),
                format!("write {}", read::LENGTH_IS_WRITTEN),
            ));
        }
        self.length(flag, text).unwrap_or(inches(96.0))
    }

    /// Height and length of a sheet.
    pub(super) fn sheet(&mut self, text: Option<&str>) -> Option<(Length, Length)> {
        let text = text?;
        let read = read::sides(text).or_else(|error| {
            // 47.875x95.875: sheets are named by bare inches
            match text.split_once(['x', 'X', '×']) {
                Some((a, b)) => read::sides(&format!("{}in x {}in", a.trim(), b.trim())),
                None => Err(error.clone()),
            }
            .map_err(|_| error)
        });
        let (a, b) = match read {
            // Bare numbers are inches if possible, as in the names of sheets.
            Ok(Sides::Nominal(a, b)) if a.max(b) <= 360.0 => (inches(a), inches(b)),
            Ok(Sides::Nominal(..)) => {
                self.faults.push(Fault::new(
                    Place::Flag { flag: "--sheet", text: text.to_owned() },
                    "no sheet has so many inches",
                    format!("write {text}mm if millimeters are meant"),
                ));
                return None;
            }
            Ok(Sides::Actual(a, b)) => (a, b),
            Err(error) => {
                self.fault("--sheet", text, &error);
                return None;
            }
        };
        Some(if a < b { (a, b) } else { (b, a) })
    }
}
