//! Everything that the measurements show, in the order in which it can be relied on.
//!
//! Walls are moved only if no reading of the corners is in doubt. Rafters are cut only if no corner and
//! no height is in doubt. What can't be relied on is left out.

use crate::frame::CannotBuild;
use crate::measure::Length;
use crate::measure::quantity::inches;
use crate::plan::{HeightAt, MeasuredPlan, Reading, What};

use super::adjust::{Adjusted, Corners, NotSettled, adjust};
use super::heights::Heights;
use super::rafters::FittedRafters;
use super::snoop::{Doubt, Suspect};
use super::walls::Walls;

/// What is compared with the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Planned {
    /// A side, a diagonal or a span; its number distinguishes several readings of it.
    Plan(Reading),
    /// The top of a ridge board that is up, over the mean height of its end's plates.
    Ridge(HeightAt),
}

/// One length compared with the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AgainstPlan {
    /// What.
    pub of: Planned,
    /// What the plan makes it.
    pub planned: Length,
    /// The measured length: reconciled, or as read while a reading is in doubt.
    pub measured: Length,
}

impl AgainstPlan {
    /// Measured less planned.
    #[must_use]
    pub fn off(&self) -> Length {
        self.measured - self.planned
    }

    /// True for a diagonal: it follows from the sides and from how square they are.
    #[must_use]
    fn is_diagonal(&self) -> bool {
        matches!(
            self.of,
            Planned::Plan(Reading { what: What::DiagonalNearA | What::DiagonalNearB, .. })
        )
    }
}

/// What the measurements show.
#[derive(Debug, Clone)]
pub struct Survey {
    /// The readings of the tape, reconciled.
    pub adjusted: Adjusted,
    /// The heights, reconciled.
    pub heights: Heights,
    /// Everything compared with the plan.
    pub against_plan: Vec<AgainstPlan>,
    /// The walls; `None` while a wrong reading of the tape is not identified.
    pub walls: Option<Walls>,
    /// The rafters; `None` while a wrong reading or height is not identified.
    pub fitted: Option<FittedRafters>,
}

/// Why there is no survey.
#[derive(Debug, Clone, PartialEq)]
pub enum NoSurvey {
    /// The corners can't be found.
    NotSettled(NotSettled),
    /// A rafter can't be built over the walls.
    CannotBuild(CannotBuild),
}

impl Survey {
    /// Reconciles the measurements, compares them with the plan, and builds what can be relied on.
    ///
    /// # Errors
    /// [`NoSurvey`] if the corners do not follow from the readings, or a rafter can't be built over them.
    pub fn of(plan: &MeasuredPlan) -> Result<Survey, NoSurvey> {
        let adjusted = adjust(&plan.readings, plan.tape, plan.gable.length, plan.gable.rafter.span)
            .map_err(NoSurvey::NotSettled)?;
        let heights = Heights::of(plan);
        let corners = adjusted.is_settled().then_some(&adjusted.corners);
        let fitted = corners
            .filter(|_| heights.is_settled())
            .map(|corners| FittedRafters::build(plan, corners, &heights))
            .transpose()
            .map_err(NoSurvey::CannotBuild)?;
        let mut against_plan = plan_against(plan, corners);
        if let Some(fitted) = &fitted {
            against_plan.extend(ridge_against(&heights, fitted));
        }
        Ok(Survey { against_plan, walls: corners.map(Walls::of), fitted, adjusted, heights })
    }

    /// True if every side, and a ridge that is up, is within `plan.as_planned` of the plan; `None`
    /// while a reading is in doubt.
    #[must_use]
    pub fn as_planned(&self, plan: &MeasuredPlan) -> Option<bool> {
        self.walls.as_ref().map(|_| self.off_plan(plan).next().is_none())
    }

    /// Of several readings that may be wrong, the only one that is off the plan by more than
    /// `plan.as_planned`.
    #[must_use]
    pub fn first_to_take_again<'a>(
        &self,
        plan: &MeasuredPlan,
        doubt: &'a Doubt,
    ) -> Option<&'a Suspect> {
        if doubt.suspects.len() < 2 {
            return None;
        }
        let is_off = |suspect: &&Suspect| {
            let reading = plan.readings[suspect.index];
            (reading.length - planned(plan, reading.what)).abs() > plan.as_planned
        };
        let mut off = doubt.suspects.iter().filter(is_off);
        off.next().filter(|_| off.next().is_none())
    }

    /// What is off the plan by more than `plan.as_planned`, diagonals aside.
    pub fn off_plan<'a>(
        &'a self,
        plan: &'a MeasuredPlan,
    ) -> impl Iterator<Item = &'a AgainstPlan> + 'a {
        self.against_plan.iter().filter(|of| !of.is_diagonal() && of.off().abs() > plan.as_planned)
    }
}

/// What the plan makes a reading.
fn planned(plan: &MeasuredPlan, what: What) -> Length {
    let (length, span) = (plan.gable.length, plan.gable.rafter.span);
    match what {
        What::WidthNear | What::WidthFar | What::SpanAt(_) => span,
        What::LengthA | What::LengthB => length,
        What::DiagonalNearA | What::DiagonalNearB => length.hypot(span),
    }
}

/// The sides and diagonals of the corners against the plan's, or every reading if there are no corners.
fn plan_against(plan: &MeasuredPlan, corners: Option<&Corners>) -> Vec<AgainstPlan> {
    let against = |reading: Reading| AgainstPlan {
        of: Planned::Plan(reading),
        planned: planned(plan, reading.what),
        measured: reading.length,
    };
    let Some(corners) = corners else {
        return plan.readings.iter().copied().map(against).collect();
    };
    let sides = [
        (What::WidthNear, corners.near_a.distance(corners.near_b)),
        (What::WidthFar, corners.far_a.distance(corners.far_b)),
        (What::LengthA, corners.near_a.distance(corners.far_a)),
        (What::LengthB, corners.near_b.distance(corners.far_b)),
        (What::DiagonalNearA, corners.near_a.distance(corners.far_b)),
        (What::DiagonalNearB, corners.near_b.distance(corners.far_a)),
    ];
    sides
        .into_iter()
        .map(|(what, length)| against(Reading { what, number: 0, length: inches(length) }))
        .collect()
}

/// A ridge that is up, over the mean of its end's plates, compared with the pattern's.
fn ridge_against(heights: &Heights, fitted: &FittedRafters) -> Vec<AgainstPlan> {
    let (Some([near, far]), Some([near_a, far_a, near_b, far_b])) = (heights.ridge, heights.plates)
    else {
        return Vec::new();
    };
    [
        (HeightAt::RidgeNear, near - (near_a + near_b) / 2.0),
        (HeightAt::RidgeFar, far - (far_a + far_b) / 2.0),
    ]
    .into_iter()
    .map(|(at, measured)| AgainstPlan {
        of: Planned::Ridge(at),
        planned: fitted.pattern.ridge_top,
        measured,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::InInches;
    use crate::plan::Entries;

    /// A plan of 22 ft by 14 ft at 6 in 12, and the given measurements of it.
    fn survey(measured: &[(&'static str, &str)]) -> (MeasuredPlan, Survey) {
        let mut entries = Entries::default();
        for (key, text) in
            [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")]
                .iter()
                .chain(measured)
        {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = MeasuredPlan::read(&entries).unwrap();
        let survey = Survey::of(&plan).unwrap();
        (plan, survey)
    }

    /// Square walls of 22 ft by 14 ft, hypot(264, 168) = 312.9217 in.
    const SQUARE: [(&str, &str); 6] = [
        ("measured.width_near", "14'"),
        ("measured.width_far", "14'"),
        ("measured.length_a", "22'"),
        ("measured.length_b", "22'"),
        ("measured.diagonal_near_a", "26' 15/16\""),
        ("measured.diagonal_near_b", "26' 15/16\""),
    ];

    #[test]
    fn walls_a_foot_wider_than_the_plan_are_said_first() {
        // still square within 1/4 in: 22 ft by 15 ft, diagonal hypot(264, 180) = 319.525 in
        let (plan, survey) = survey(&[
            ("measured.width_near", "15'"),
            ("measured.width_far", "15'"),
            ("measured.length_a", "22'"),
            ("measured.length_b", "22'"),
            ("measured.diagonal_near_a", "26' 7-1/2\""),
            ("measured.diagonal_near_b", "26' 7-1/2\""),
        ]);
        assert!(survey.walls.as_ref().unwrap().farthest() < plan.square);
        assert_eq!(survey.as_planned(&plan), Some(false));
        let off: Vec<f64> = survey.off_plan(&plan).map(|of| of.off().inches().round()).collect();
        assert_eq!(off, [12.0, 12.0]);
    }

    #[test]
    fn walls_as_planned_are_so() {
        let (plan, survey) = survey(&SQUARE);
        assert_eq!(survey.as_planned(&plan), Some(true));
        assert!(survey.fitted.is_some() && survey.walls.is_some());
    }

    #[test]
    fn one_reading_wrong_and_unknown_leaves_nothing_to_move_or_cut() {
        let mut read = SQUARE;
        read[4].1 = "26' 2-15/16\"";
        let (plan, survey) = survey(&read);
        assert_eq!(survey.adjusted.doubts[0].suspects.len(), 6);
        assert!(survey.walls.is_none() && survey.fitted.is_none());
        assert_eq!(survey.as_planned(&plan), None);
        let first = survey.first_to_take_again(&plan, &survey.adjusted.doubts[0]);
        assert_eq!(
            first.map(|suspect| plan.readings[suspect.index].what),
            Some(What::DiagonalNearA)
        );
        // every reading is compared with the plan as it was read
        let off: Vec<f64> = survey.against_plan.iter().map(|of| of.off().inches()).collect();
        assert_eq!(off.len(), 6);
        assert!((off[4] - 2.0).abs() < 0.02, "{off:?}");
    }

    #[test]
    fn one_height_in_doubt_leaves_the_walls_and_no_rafters() {
        let heights = [
            ("measured.plate_near_a", "4', 4' 3\""),
            ("measured.plate_far_a", "4'"),
            ("measured.plate_near_b", "4'"),
            ("measured.plate_far_b", "4'"),
        ];
        let (_, survey) = survey(&[&SQUARE[..], &heights[..]].concat());
        assert!(survey.walls.is_some() && survey.fitted.is_none());
        assert_eq!(survey.heights.doubts[0].at, HeightAt::PlateNearA);
    }

    #[test]
    fn a_ridge_that_stands_too_high_is_off_the_plan() {
        // the pattern's ridge top is 46.24 in over its plates (2x6 at 6 in 12 over 14 ft): 3 in higher
        // here
        let heights = [
            ("measured.plate_near_a", "0\""),
            ("measured.plate_far_a", "0\""),
            ("measured.plate_near_b", "0\""),
            ("measured.plate_far_b", "0\""),
            ("measured.ridge_near", "49-1/4\""),
            ("measured.ridge_far", "46-1/4\""),
        ];
        let (plan, survey) = survey(&[&SQUARE[..], &heights[..]].concat());
        let off: Vec<f64> = survey.off_plan(&plan).map(|of| of.off().inches().round()).collect();
        assert_eq!(off, [3.0]);
    }
}
