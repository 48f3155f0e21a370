//! The heel joint under every load that the roof must carry.

use crate::catalog::Edition;
use crate::measure::quantity::{in_pounds, pounds};
use crate::measure::{Force, Length, Pressure};
use crate::strength::heel_joint::{HeelBasis, OutsideTable, TieKind};
use crate::strength::{HeelJoint, HeelJointAnswer, RoofLoad, StrengthFault, WorkingStep};

/// One heel joint, to be solved for each load.
#[derive(Debug, Clone, PartialEq)]
pub struct HeelQuestion {
    /// Roof span, wall to wall.
    pub roof_span: Length,
    /// Rise in 12.
    pub rise_in_12: f64,
    /// Spacing of the ties.
    pub spacing: Length,
    /// The loads, each for itself.
    pub loads: Vec<RoofLoad>,
    /// Dead load, of level projection.
    pub dead: Pressure,
    /// Edition.
    pub edition: Edition,
    /// Tie above the plate.
    pub tie_height: Length,
    /// What crosses the building.
    pub tie: TieKind,
}

/// The joint under one load.
#[derive(Debug, Clone, PartialEq)]
pub struct HeelCase {
    /// The question.
    pub joint: HeelJoint,
    /// Its answer.
    pub answer: HeelJointAnswer,
}

/// The joint under all loads.
#[derive(Debug, Clone, PartialEq)]
pub struct Heel {
    /// One case for each load; never empty.
    pub cases: Vec<HeelCase>,
}

impl HeelQuestion {
    /// Solves the joint under each load.
    ///
    /// # Errors
    /// [`StrengthFault`] of the first load that can't be answered, or if there is no load.
    pub fn solve(&self) -> Result<Heel, StrengthFault> {
        let cases: Result<Vec<HeelCase>, StrengthFault> = self
            .loads
            .iter()
            .map(|&load| {
                let joint = HeelJoint {
                    roof_span: self.roof_span,
                    rise_in_12: self.rise_in_12,
                    spacing: self.spacing,
                    load,
                    dead: self.dead,
                    edition: self.edition,
                    tie_height: self.tie_height,
                    tie: self.tie,
                };
                Ok(HeelCase { answer: joint.solve()?, joint })
            })
            .collect();
        let cases = cases?;
        if cases.is_empty() {
            return Err(StrengthFault::NotPositive {
                what: "number of loads",
                found: 0.0,
                unit: "",
            });
        }
        Ok(Heel { cases })
    }
}

impl Heel {
    /// Nails for every load; `None` if for some load no tie counts.
    #[must_use]
    pub fn nails(&self) -> Option<u32> {
        self.cases
            .iter()
            .map(|case| case.answer.nails)
            .collect::<Option<Vec<u32>>>()?
            .into_iter()
            .max()
    }

    /// The greatest thrust on one tie.
    #[must_use]
    pub fn thrust(&self) -> Force {
        let most = self.cases.iter().map(|case| in_pounds(case.answer.thrust)).fold(0.0, f64::max);
        pounds(most)
    }

    /// The case that requires the most nails; among equals the one with the most thrust.
    #[must_use]
    pub fn governing(&self) -> Option<&HeelCase> {
        self.cases.iter().max_by(|a, b| {
            let nails = |case: &HeelCase| case.answer.nails.unwrap_or(u32::MAX);
            nails(a)
                .cmp(&nails(b))
                .then(in_pounds(a.answer.thrust).total_cmp(&in_pounds(b.answer.thrust)))
        })
    }

    /// Why the joint needs design, each reason once; empty if it does not.
    #[must_use]
    pub fn outside(&self) -> Vec<OutsideTable> {
        let mut reasons = Vec::new();
        for case in &self.cases {
            if let HeelBasis::NeedsDesign(outside) = &case.answer.basis {
                for reason in outside {
                    if !reasons.contains(reason) {
                        reasons.push(*reason);
                    }
                }
            }
        }
        reasons
    }

    /// The greatest printed count that covers a case which is not in the table.
    #[must_use]
    pub fn covering(&self) -> Option<u32> {
        self.cases
            .iter()
            .filter(|case| case.answer.printed.is_none())
            .filter_map(|case| case.answer.covering.map(|covering| covering.nails))
            .max()
    }

    /// The source of the governing count, as one of a few words.
    #[must_use]
    pub fn rests_on(&self) -> &'static str {
        match self.governing().map(|case| &case.answer.basis) {
            Some(HeelBasis::Printed) => "printed count",
            Some(HeelBasis::Computed) => "computed, no place of the table",
            Some(HeelBasis::NeedsDesign(_)) | None => "needs design",
        }
    }

    /// The same as a phrase for a page.
    #[must_use]
    pub fn rests_on_in_words(&self) -> &'static str {
        match self.governing().map(|case| &case.answer.basis) {
            Some(HeelBasis::Computed) => "calculated, not in the table",
            _ => self.rests_on(),
        }
    }

    /// The working, load by load.
    #[must_use]
    pub fn working(&self) -> Vec<WorkingStep> {
        self.cases.iter().flat_map(|case| case.joint.working(&case.answer)).collect()
    }
}
