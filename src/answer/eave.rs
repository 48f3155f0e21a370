//! The eave: overhang to fascia.

use crate::facts;
use crate::frame::Eave;
use crate::measure::Length;
use crate::plan::{EavePlan, Fault, Faults, MeasuredTo, Place};
use crate::rules::{Finding, eave as eave_rules};
use crate::sheet::{self, Depth, Look};

use super::flags::Reader;
use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// The eave and its findings.
pub(super) struct Eaves {
    eave: Eave,
    findings: Vec<Finding>,
}

impl Found for Eaves {
    fn status(&self) -> Status {
        Status::of_findings(&self.findings)
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::eave::EaveReport::of(&self.eave, &self.findings))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::eave::rows(&self.eave, &self.findings, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::eave::text(&self.eave, &self.findings, look, depth)
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
        let mut plan = EavePlan::read(entries);
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
    plan.measured = measured;
    plan.measured_to = measured_to.unwrap_or_default();
    let eave = Eave::build(&plan).map_err(|why| input.cannot_build(why))?;
    let findings = eave_rules::findings(&eave);
    Ok(Eaves { eave, findings })
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
