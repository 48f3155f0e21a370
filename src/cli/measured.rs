//! `stepoff measured`: walls as they stand, and the rafters that fit them.

use std::path::PathBuf;

use crate::export;
use crate::measured::{FittedRafters, NoSurvey, NotSettled, Survey};
use crate::plan::{Fault, Faults, MeasuredPlan, Place, What};
use crate::rules::{Finding, Verdict, notch};
use crate::sheet;

use super::input::Input;
use super::messages;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// Walls as they stand, out of more measurements than are needed: which one disagrees, how far the walls are from
/// square, what to move; or every rafter by itself, so that ridge and fascia are held.
///
/// What was measured stands in the roof file under [measured]: two widths, two lengths, two diagonals, spans
/// anywhere, heights of the plates and of a ridge that stands.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML), with what was measured under [measured]
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let input = Input::read(&[], Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let plan = input.plan(MeasuredPlan::read)?;
    let survey = Survey::of(&plan).map_err(|why| match why {
        NoSurvey::NotSettled(why) => input.refused(Faults::from(not_settled(why))),
        NoSurvey::CannotBuild(why) => input.cannot_build(why),
    })?;
    let found = survey.fitted.as_ref().map(findings).unwrap_or_default();
    match args.output.format {
        Format::Json => print_json(&export::measured::report(&plan, &survey))?,
        Format::Csv => {
            print_csv(survey.fitted.as_ref().map(export::measured::rafters).unwrap_or_default())?;
            if survey.fitted.is_none() {
                messages::tell(
                    "a reading is in doubt, so no rafter is listed; run it without --format csv to see what to measure again",
                );
            }
        }
        Format::Table => {
            print(&sheet::measured::text(&plan, &survey, &found, &look, args.output.explain))?;
        }
    }
    let agrees = survey.adjusted.doubts.is_empty() && survey.heights.doubts.is_empty();
    let as_planned = survey.as_planned(&plan) == Some(true);
    Ok(Status::of(
        found
            .iter()
            .map(|finding| finding.verdict)
            .chain([Verdict::meets_if(agrees && as_planned)]),
    ))
}

fn not_settled(why: NotSettled) -> Fault {
    match why {
        NotSettled::Missing(missing) => {
            let keys: Vec<&str> =
                missing.iter().map(|what| what.key().trim_start_matches("measured.")).collect();
            let words: Vec<&str> = missing.iter().map(|what| what.words()).collect();
            let first = missing.first().copied().unwrap_or(What::DiagonalNearA);
            Fault::new(
                Place::Missing { key: first.key(), flag: None },
                "the corners do not follow from what was measured".to_owned(),
                format!("measure under [measured] {} too: {}", keys.join(", "), words.join("; ")),
            )
        }
        NotSettled::NoSolution => Fault::new(
            Place::Missing { key: "measured.diagonal_near_a", flag: None },
            "no corners come near what was measured: a reading must be feet off, or be written under another's name",
            "check the digits, the units and which corner each was taken from",
        ),
    }
}

/// The rules that a rafter's own notch fails, once each, for the rafter that fails it most.
fn findings(fitted: &FittedRafters) -> Vec<Finding> {
    let mut worst: Vec<Finding> = Vec::new();
    for one in &fitted.rafters {
        for finding in notch::findings(&one.rafter) {
            if !finding.verdict.is_open() {
                continue;
            }
            let finding = finding.note(format!("rafter {} on eave {}", one.pair, one.eave.name()));
            let over = |finding: &Finding| finding.off_by().unwrap_or(0.0);
            match worst.iter_mut().find(|known| known.id == finding.id) {
                Some(known) if over(known) < over(&finding) => *known = finding,
                Some(_) => {}
                None => worst.push(finding),
            }
        }
    }
    worst
}
