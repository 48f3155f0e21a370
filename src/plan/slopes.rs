//! The inputs of the pattern rafters of both slopes, which may be unlike in pitch or in the height of their walls.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::rafter::RafterPlan;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Length, Pitch};

/// What decides the pattern rafters of both slopes.
#[derive(Debug, Clone, PartialEq)]
pub struct SlopesPlan {
    /// The rafter of slope A.
    pub rafter: RafterPlan,
    /// Pitch of slope B.
    pub pitch_b: Pitch,
    /// Plate of wall B above that of wall A.
    pub plate_b: Length,
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
        let pitch_b = asked.pitch(key!("roof.pitch_b"));
        if let Some(pitch) = pitch_b {
            asked.refuse_pitch(key!("roof.pitch_b"), pitch);
        }
        // the height of the walls matters only if they are unlike
        let height_b = asked.optional_length(key!("building.wall_height_b"));
        let plate_b = match height_b {
            Some(height) => height - asked.length(key!("building.wall_height"))?,
            None => inches(0.0),
        };
        let pitch_b = pitch_b.unwrap_or(rafter.pitch);
        Some(SlopesPlan { rafter, pitch_b, plate_b })
    }

    /// True if the ridge is not over the middle of the building, or the slopes have unlike rafters.
    #[must_use]
    pub fn are_unlike(&self) -> bool {
        self.pitch_b.tangent() != self.rafter.pitch.tangent() || self.plate_b != inches(0.0)
    }
}
