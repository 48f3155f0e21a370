//! What is asked of each slope of the main block: one answer if they have the same rafter, two if not.

use crate::measure::quantity::inches;
use crate::plan::{RafterPlan, Slopes};
use crate::roof::cannot::CannotRoof;
use crate::roof::slopes;

use super::common::{CannotBuild, CommonRafter};

/// One answer for slope A or for the only slope, and one for slope B if it has another rafter.
#[derive(Debug, Clone, PartialEq)]
pub struct OfSlopes<T> {
    /// That of slope A, or of the only slope.
    pub first: T,
    /// That of slope B, if it is another one.
    pub slope_b: Option<T>,
}

impl<T> OfSlopes<T> {
    /// Both, slope A's first.
    pub fn iter(&self) -> impl Iterator<Item = &T> {
        std::iter::once(&self.first).chain(&self.slope_b)
    }

    /// The same of what is made of each.
    ///
    /// # Errors
    /// The first that `make` gives.
    pub fn each<U, E>(&self, make: impl Fn(&T) -> Result<U, E>) -> Result<OfSlopes<U>, E> {
        let first = make(&self.first)?;
        Ok(OfSlopes { first, slope_b: self.slope_b.as_ref().map(make).transpose()? })
    }
}

/// Why slopes have no rafters.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotSlope {
    /// They do not meet over the building.
    Roof(CannotRoof),
    /// One of their rafters can't be built.
    Rafter(CannotBuild),
}

impl From<CannotRoof> for CannotSlope {
    fn from(why: CannotRoof) -> CannotSlope {
        CannotSlope::Roof(why)
    }
}

impl From<CannotBuild> for CannotSlope {
    fn from(why: CannotBuild) -> CannotSlope {
        CannotSlope::Rafter(why)
    }
}

/// The plans of the rafters that the slopes of the main block want.
///
/// # Errors
/// [`CannotSlope`] if the slopes do not meet over the building, or slope A's rafter, whose heel stand slope B takes, can't be
/// built.
pub fn plans(rafter: &RafterPlan, slopes: &Slopes) -> Result<OfSlopes<RafterPlan>, CannotSlope> {
    let heel_stand = match slopes.are_unlike(rafter.pitch) {
        true => CommonRafter::build(rafter)?.heel_stand,
        false => inches(0.0),
    };
    let (first, slope_b) = slopes::rafters(rafter, slopes, heel_stand)?;
    Ok(OfSlopes { first, slope_b })
}
