//! The inputs of the eave.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::gable::GablePlan;
use super::rafter::RafterPlan;
use super::slopes::Slopes;
use crate::key;
use crate::measure::Length;

/// What measured overhangs reach to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum MeasuredTo {
    /// The tail cut, to which the string is stretched before the boards are on.
    #[default]
    Tail,
    /// The fascia's outer face.
    Fascia,
}

/// The rafter's plan with what surrounds its tail.
#[derive(Debug, Clone, PartialEq)]
pub struct EavePlan {
    /// The rafter.
    pub rafter: RafterPlan,
    /// Top of floor to top of plate.
    pub wall_height: Length,
    /// Top of floor to the window head.
    pub window_head: Option<Length>,
    /// Thickness of the soffit panel, or zero.
    pub soffit: Length,
    /// Overhangs as measured on site, level, from the face that the plan's overhang is measured from.
    pub measured: Vec<Length>,
    /// What they were measured to.
    pub measured_to: MeasuredTo,
}

impl EavePlan {
    /// Reads the plan from the entries, without measured overhangs.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<EavePlan, Faults> {
        let (mut plan, used) = Asked::whole(entries, EavePlan::ask)?;
        plan.rafter.used = used;
        Ok(plan)
    }

    /// The eave of a whole roof, without measured overhangs.
    #[must_use]
    pub fn of(plan: &GablePlan) -> EavePlan {
        EavePlan {
            rafter: plan.rafter.clone(),
            wall_height: plan.wall_height,
            window_head: plan.window_head,
            soffit: plan.soffit,
            measured: Vec::new(),
            measured_to: MeasuredTo::default(),
        }
    }

    /// The eave of the slope of another rafter, whose plate is so much higher.
    #[must_use]
    pub fn of_slope(&self, rafter: RafterPlan, higher: Length) -> EavePlan {
        EavePlan { rafter, wall_height: self.wall_height + higher, ..self.clone() }
    }

    /// Reads every field; `None` if a required one could not be read.
    pub fn ask(asked: &mut Asked<'_>) -> Option<EavePlan> {
        let rafter = RafterPlan::ask(asked);
        let wall_height = asked.length(key!("building.wall_height"));
        let window_head = asked.optional_length(key!("building.window_head"));
        let soffit = asked.thickness(key!("eave.soffit"));
        Some(EavePlan {
            rafter: rafter?,
            wall_height: wall_height?,
            window_head,
            soffit: soffit?,
            measured: Vec::new(),
            measured_to: MeasuredTo::default(),
        })
    }
}

/// The eave of slope A, and how the slopes of the main block differ.
#[derive(Debug, Clone, PartialEq)]
pub struct EavesPlan {
    /// The eave of slope A.
    pub eave: EavePlan,
    /// How the slopes differ.
    pub slopes: Slopes,
}

impl EavesPlan {
    /// Reads the plan from the entries, without measured overhangs.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<EavesPlan, Faults> {
        let (mut plan, used) = Asked::whole(entries, EavesPlan::ask)?;
        plan.eave.rafter.used = used;
        Ok(plan)
    }

    fn ask(asked: &mut Asked<'_>) -> Option<EavesPlan> {
        let eave = EavePlan::ask(asked)?;
        let slopes = Slopes::ask(asked, &eave.rafter, Some(eave.wall_height))?;
        Some(EavesPlan { eave, slopes })
    }
}
