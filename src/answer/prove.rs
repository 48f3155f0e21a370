//! The check sheet before the stack is cut, and what readings of a pattern mean.

use crate::facts;
use crate::fit::ProvingSheet;
use crate::fit::prove::Diagnosis;
use crate::frame::miscut::READINGS;
use crate::measure::{Length, Writing, read};
use crate::plan::GablePlan;
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// The check sheet, and what the readings mean, if there are any.
pub(super) struct Proved {
    sheet: ProvingSheet,
    diagnosis: Option<Diagnosis>,
    writing: Writing,
}

impl Found for Proved {
    fn status(&self) -> Status {
        Status::of(self.diagnosis.iter().map(|found| Verdict::meets_if(found.is_right())))
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::prove::ProveReport::of(&self.sheet, self.diagnosis.as_ref(), self.writing))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::prove::rows(&self.sheet, self.diagnosis.as_ref(), look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        match &self.diagnosis {
            Some(found) => sheet::prove::diagnosis(&self.sheet, found, look, depth),
            None => sheet::prove::text(&self.sheet, look, depth),
        }
    }
}

/// The check sheet of a roof, and what the readings mean, if `text` has any.
pub(super) fn find(input: &Input, look: &Look, text: Option<&str>) -> Result<Proved, Refused> {
    let plan = input.plan(GablePlan::read)?;
    let sheet = ProvingSheet::build(&plan).map_err(|why| input.cannot_build(why))?;
    let readings = text.map(readings).transpose()?;
    let diagnosis = readings.map(|readings| sheet.diagnose(readings, look.writing.step));
    Ok(Proved { sheet, diagnosis, writing: look.writing })
}

/// The six readings as they were written.
fn readings(text: &str) -> Result<[Option<Length>; READINGS], Refused> {
    let refused = |message: String, help: String| Refused::of_flag("--read", text, message, help);
    let parts: Vec<Option<Length>> = text
        .split(',')
        .map(|part| match part.trim() {
            "-" => Ok(None),
            part => read::length(part)
                .map(Some)
                .map_err(|error| refused(error.to_string(), error.problem.help())),
        })
        .collect::<Result<_, _>>()?;
    let count = parts.len();
    parts.try_into().map_err(|_| {
        refused(
            format!(
                "these are {count} readings, and the check sheet has {READINGS} on the pattern"
            ),
            "write all of them in order, separated by commas, and a dash for one not taken".into(),
        )
    })
}
