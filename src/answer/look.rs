//! How to show an answer: units, step of the tape, width.

use crate::measure::{Step, Units, Writing};
use crate::sheet::Look;

use super::Refused;

/// Units and width from the user.
#[derive(Debug, Clone)]
pub struct LookAsked {
    /// Units of lengths; by default those of the roof file.
    pub units: Option<Units>,
    /// Step of the tape: 1/2 to 1/64, or mm.
    pub round: Option<String>,
    /// Width of tables and drawings, columns.
    pub columns: usize,
    /// True for plain ASCII.
    pub ascii: bool,
}

impl Default for LookAsked {
    fn default() -> LookAsked {
        LookAsked { units: None, round: None, columns: 100, ascii: false }
    }
}

impl LookAsked {
    /// How lengths are written and how wide the page is; `written` are the units of the input.
    ///
    /// # Errors
    /// A step that no tape has or that does not fit the units; a width that can't be printed.
    pub fn look(&self, written: Units) -> Result<Look, Refused> {
        let step = self.round.as_deref().map(step).transpose()?;
        let units = match (self.units, step) {
            (Some(units), _) => units,
            (None, Some(Step::Millimeter)) => Units::Millimeters,
            // a step of the tape in inches implies inches
            (None, Some(_)) if written == Units::Millimeters => Units::Feet,
            (None, _) => written,
        };
        let metric = units == Units::Millimeters;
        let step = step.unwrap_or(if metric { Step::Millimeter } else { Step::Sixteenth });
        if metric != (step == Step::Millimeter) {
            return Err(Refused::of_flag(
                "--round",
                self.round.as_deref().unwrap_or_default(),
                "this step does not go with the units",
                "write mm with metric units, or a fraction of an inch with feet or inches",
            ));
        }
        if !(60..=200).contains(&self.columns) {
            return Err(Refused::of_flag(
                "--columns",
                &self.columns.to_string(),
                "this width can't be printed",
                "write a number of columns from 60 to 200",
            ));
        }
        Ok(Look {
            writing: Writing { units, step, ..Writing::default() },
            columns: self.columns,
            ascii: self.ascii,
        })
    }
}

/// A step of the tape by its name.
///
/// # Errors
/// A step that no tape has.
pub fn step(text: &str) -> Result<Step, Refused> {
    let asked = text.trim().trim_end_matches("in").trim_end_matches('"').trim();
    let asked = if asked == "1mm" || asked == "1 mm" { "mm" } else { asked };
    Step::ALL.into_iter().find(|step| step.name().eq_ignore_ascii_case(asked)).ok_or_else(|| {
        Refused::of_flag(
            "--round",
            text,
            "no tape has this step",
            "write 1/2, 1/4, 1/8, 1/16, 1/32, 1/64 or mm",
        )
    })
}
