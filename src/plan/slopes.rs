//! How the slopes of the main block differ: in pitch, in the height of their walls, or because there is only one.

use super::asked::Asked;
use super::blocks::{SHAPES, refuse_of_a_shed};
use super::entry::Entries;
use super::fault::Faults;
use super::gable::GablePlan;
use super::rafter::RafterPlan;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Length, Pitch};

/// How the slopes of the main block differ from slope A, which has the rafter's own pitch and plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slopes {
    /// Pitch of slope B; `None` for a shed, whose one slope rises from wall A to wall B.
    pub pitch_b: Option<Pitch>,
    /// Plate of wall B above that of wall A; nothing for a shed, whose slope makes it as high as it is.
    pub plate_b: Length,
}

impl Slopes {
    /// The slopes of a whole roof.
    #[must_use]
    pub fn of(plan: &GablePlan) -> Slopes {
        let blocks = &plan.blocks;
        let pitch_b = (!blocks.shed).then(|| blocks.pitch_b.unwrap_or(plan.rafter.pitch));
        Slopes { pitch_b, plate_b: blocks.plate_b }
    }

    /// Reads them beside the rafter; `wall_height` is the height of wall A where it was read already.
    pub(super) fn ask(
        asked: &mut Asked<'_>,
        rafter: &RafterPlan,
        wall_height: Option<Length>,
    ) -> Option<Slopes> {
        let shed = asked.choice(key!("roof.shape"), &SHAPES)?;
        asked.forget(&[key!("roof.shape")]);
        let pitch_b = asked.pitch(key!("roof.pitch_b"));
        if let Some(pitch) = pitch_b {
            asked.refuse_pitch(key!("roof.pitch_b"), pitch);
        }
        let height_b = asked.optional_length(key!("building.wall_height_b"));
        refuse_of_a_shed(asked, shed, pitch_b, height_b);
        // the height of the walls matters only if they are unlike
        let plate_b = match (height_b, wall_height) {
            (Some(height), Some(wall_height)) => height - wall_height,
            (Some(height), None) => height - asked.length(key!("building.wall_height"))?,
            (None, _) => inches(0.0),
        };
        if shed {
            // it has no ridge board and no slope B
            asked.forget(&[
                key!("ridge.board"),
                key!("ridge.depth"),
                key!("roof.pitch_b"),
                key!("building.wall_height_b"),
            ]);
            return Some(Slopes { pitch_b: None, plate_b });
        }
        Some(Slopes { pitch_b: Some(pitch_b.unwrap_or(rafter.pitch)), plate_b })
    }

    /// True for one slope, which rises from wall A to wall B.
    #[must_use]
    pub fn is_shed(&self) -> bool {
        self.pitch_b.is_none()
    }

    /// True if two slopes have unlike rafters, or the ridge is not over the middle of the building.
    #[must_use]
    pub fn are_unlike(&self, pitch: Pitch) -> bool {
        let is_own = |other: Pitch| other.tangent() != pitch.tangent();
        !self.is_shed() && (self.pitch_b.is_some_and(is_own) || self.plate_b != inches(0.0))
    }
}

/// What decides the pattern rafters of the main block.
#[derive(Debug, Clone, PartialEq)]
pub struct SlopesPlan {
    /// The rafter of slope A.
    pub rafter: RafterPlan,
    /// How the slopes differ.
    pub slopes: Slopes,
}

impl SlopesPlan {
    /// Reads the plan from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<SlopesPlan, Faults> {
        let (mut plan, used) = Asked::whole(entries, SlopesPlan::ask)?;
        plan.rafter.used = used;
        Ok(plan)
    }

    fn ask(asked: &mut Asked<'_>) -> Option<SlopesPlan> {
        let rafter = RafterPlan::ask(asked)?;
        let slopes = Slopes::ask(asked, &rafter, None)?;
        Some(SlopesPlan { rafter, slopes })
    }
}
