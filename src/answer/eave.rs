//! The eave: overhang to fascia.

use crate::facts;
use crate::frame::eave::eaves;
use crate::frame::{Eave, OfSlopes};
use crate::measure::Length;
use crate::plan::{EavesPlan, Fault, Faults, MeasuredTo, Place};
use crate::rules::{Finding, eave as eave_rules};
use crate::sheet::{self, Depth, Look};

use super::flags::Reader;
use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// The eave of each slope and its findings.
pub(super) struct Eaves {
    slopes: OfSlopes<(Eave, Vec<Finding>)>,
}

impl Eaves {
    fn figures(&self) -> (facts::eave::OfSlope<'_>, Option<facts::eave::OfSlope<'_>>) {
        fn of(slope: &(Eave, Vec<Finding>)) -> facts::eave::OfSlope<'_> {
            (&slope.0, &slope.1)
        }
        (of(&self.slopes.first), self.slopes.slope_b.as_ref().map(of))
    }
}

impl Found for Eaves {
    fn status(&self) -> Status {
        let all = self.slopes.iter().flat_map(|(_, findings)| findings);
        Status::of_findings(&all.cloned().collect::<Vec<Finding>>())
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        json(&facts::eave::EaveReport::of(first, slope_b))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        csv(facts::eave::rows(first, slope_b, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let text =
            |(eave, found): &(Eave, Vec<Finding>)| sheet::eave::text(eave, found, look, depth);
        self.slopes.iter().map(text).collect::<Vec<_>>().join("\n")
    }
}

/// Builds the eave, with the overhangs measured on site and the face that they were measured to.
pub(super) fn find(input: &Input, texts: &[String], to: &str) -> Result<Eaves, Refused> {
    let mut reader = Reader::default();
    let measured: Vec<Length> =
        texts.iter().filter_map(|text| reader.length("--measured", Some(text))).collect();
    let faults = reader.faults;
    let measured_to = measured_to(to);
    let mut plan = input.plan(|entries| {
        let mut plan = EavesPlan::read(entries);
        let extra = faults.iter().chain(measured_to.as_ref().err()).cloned();
        match &mut plan {
            Err(all) => all.extend(extra),
            Ok(_) => {
                let all: Faults = extra.collect();
                if !all.is_empty() {
                    plan = Err(all);
                }
            }
        }
        plan
    })?;
    plan.eave.measured = measured;
    plan.eave.measured_to = measured_to.unwrap_or_default();
    let eaves = eaves(&plan).map_err(|why| any_roof::cannot_slope(input, why))?;
    let slopes = eaves.each(|eave| {
        let findings = eave_rules::findings(eave);
        Ok::<(Eave, Vec<Finding>), Refused>((eave.clone(), findings))
    })?;
    Ok(Eaves { slopes })
}

fn measured_to(text: &str) -> Result<MeasuredTo, Fault> {
    match text.to_lowercase().as_str() {
        "tail" => Ok(MeasuredTo::Tail),
        "fascia" => Ok(MeasuredTo::Fascia),
        _ => Err(Fault::new(
            Place::Flag { flag: "--measured-to", text: text.to_owned() },
            format!("{text:?} is not one of the choices"),
            "write tail or fascia",
        )),
    }
}
