//! The check sheet before the stack is cut, and what readings of a pattern mean.

use crate::facts;
use crate::fit::ProvingSheet;
use crate::fit::prove::Diagnosis;
use crate::frame::OfSlopes;
use crate::measure::{Length, Writing, read};
use crate::plan::{GablePlan, Slopes};
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// The check sheet of each slope, and what the readings mean, if there are any.
pub(super) struct Proved {
    slopes: OfSlopes<(ProvingSheet, Option<Diagnosis>)>,
    writing: Writing,
}

impl Proved {
    fn figures(&self) -> (facts::prove::OfSlope<'_>, Option<facts::prove::OfSlope<'_>>) {
        fn of(slope: &(ProvingSheet, Option<Diagnosis>)) -> facts::prove::OfSlope<'_> {
            (&slope.0, slope.1.as_ref())
        }
        (of(&self.slopes.first), self.slopes.slope_b.as_ref().map(of))
    }

    fn diagnoses(&self) -> impl Iterator<Item = &Diagnosis> {
        self.slopes.iter().filter_map(|(_, diagnosis)| diagnosis.as_ref())
    }
}

impl Found for Proved {
    fn status(&self) -> Status {
        Status::of(self.diagnoses().map(|found| Verdict::meets_if(found.is_right())))
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        json(&facts::prove::ProveReport::of(first, slope_b, self.writing))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        csv(facts::prove::rows(first, slope_b, look.writing))
    }

    /// With readings, what those mean; else the sheet of every slope.
    fn text(&self, look: &Look, depth: Depth) -> String {
        let is_read = self.diagnoses().next().is_some();
        let text = |(sheet, diagnosis): &(ProvingSheet, Option<Diagnosis>)| match diagnosis {
            Some(found) => Some(sheet::prove::diagnosis(sheet, found, look, depth)),
            None if is_read => None,
            None => Some(sheet::prove::text(sheet, look, depth)),
        };
        self.slopes.iter().filter_map(text).collect::<Vec<_>>().join("\n")
    }
}

/// The check sheet of each slope of a roof, and what the readings of their patterns mean: those of the only slope or of slope A, and
/// those of slope B.
pub(super) fn find(
    input: &Input,
    look: &Look,
    [text, text_b]: [Option<&str>; 2],
) -> Result<Proved, Refused> {
    let plan = input.plan(GablePlan::read)?;
    let plans = any_roof::plans_of_slopes(input, &plan.rafter, &Slopes::of(&plan))?;
    let sheets = plans
        .each(|rafter| ProvingSheet::build(&plan, rafter).map_err(|why| input.cannot_build(why)))?;
    let read = |sheet: ProvingSheet, (flag, text): (&'static str, Option<&str>)| {
        let taken = text.map(|text| readings(flag, text, sheet.readings())).transpose()?;
        let diagnosis = taken.map(|taken| sheet.diagnose(taken, look.writing.step));
        Ok::<_, Refused>((sheet, diagnosis))
    };
    let first = read(sheets.first, ("--read", text))?;
    let slope_b = match (sheets.slope_b, text_b) {
        (Some(sheet), text) => Some(read(sheet, ("--read-b", text))?),
        (None, None) => None,
        (None, Some(text)) => {
            return Err(Refused::of_flag(
                "--read-b",
                text,
                "the slopes of this roof have one pattern",
                "write its readings after --read",
            ));
        }
    };
    Ok(Proved { slopes: OfSlopes { first, slope_b }, writing: look.writing })
}

/// The readings of a pattern as they were written.
fn readings(flag: &'static str, text: &str, count: usize) -> Result<Vec<Option<Length>>, Refused> {
    let refused = |message: String, help: String| Refused::of_flag(flag, text, message, help);
    let parts: Vec<Option<Length>> = text
        .split(',')
        .map(|part| match part.trim() {
            "-" => Ok(None),
            part => read::length(part)
                .map(Some)
                .map_err(|error| refused(error.to_string(), error.problem.help())),
        })
        .collect::<Result<_, _>>()?;
    if parts.len() != count {
        return Err(refused(
            format!(
                "these are {} readings, and the check sheet has {count} on the pattern",
                parts.len()
            ),
            "write all of them in order, separated by commas, and a dash for one not taken".into(),
        ));
    }
    Ok(parts)
}
