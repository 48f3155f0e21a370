//! Nails of the frame: the schedule's rows over the sticks of this frame.

use crate::catalog::nailing::{CountedBy, STUDS_IN, nailing};
use crate::frame::{Frame, Member, Role};
use crate::measure::Note;
use crate::measure::quantity::InInches;
use crate::plan::{ChecksPlan, Joists};

use super::heel;
use super::total::NailUse;

/// The nails of the frame.
///
/// Joints in the schedule have the schedule's counts, with common nails. The others are common practice
/// and marked so. `notes` gets what could not be counted.
#[must_use]
pub fn of_frame(frame: &Frame, checks: &ChecksPlan, notes: &mut Vec<Note>) -> Vec<NailUse> {
    let edition = checks.edition;
    let mut uses = heel::uses(frame, checks, notes);
    uses.extend(nailing().iter().map(|row| NailUse {
        nail: row.nail,
        count: row.places * row.nails(edition) * counted(frame, checks, row.counted_by),
        joint: row.joint.to_owned(),
        how: row.how(edition),
        by: row.section(edition).to_owned(),
    }));
    uses
}

/// How many there are in the frame of the things that nails are counted by.
fn counted(frame: &Frame, checks: &ChecksPlan, by: CountedBy) -> u64 {
    let has = |role: Role| frame.members.iter().any(|member| member.role == role);
    let on_plates = || {
        let height = frame.plan.tie_height;
        frame.plan.joists == Joists::Beside && height.is_none_or(|height| height.inches() == 0.0)
    };
    let applies = match by {
        CountedBy::RidgeStrap => {
            return if checks.straps == Some(true) { frame.pairs.len() as u64 } else { 0 };
        }
        CountedBy::RafterAtRidgeBoard => frame.site.half_ridge > 0.0,
        CountedBy::JoistOnPlate => on_plates(),
        CountedBy::TailAtSubfascia => has(Role::Subfascia),
        CountedBy::TailAtFascia => has(Role::Fascia),
        _ => true,
    };
    let members = || frame.members.iter().filter(|member| member.role.nailed_by().contains(&by));
    match by {
        _ if !applies => 0,
        CountedBy::StudAtLedger => {
            let length = |member: &Member| member.blank().inches() * member.count() as f64;
            (members().map(length).sum::<f64>() / STUDS_IN).ceil() as u64
        }
        _ => members().map(|member| member.count() as u64).sum(),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::plan::{Entries, OrderPlan};

    fn built(fields: &[(&'static str, &str)]) -> (Frame, Vec<NailUse>) {
        let mut entries = Entries::default();
        let needed = [("building.length", "24'"), ("building.span", "16'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        let uses = of_frame(&frame, &plan.checks, &mut Vec::new());
        (frame, uses)
    }

    /// Everything framed has nails: each kind of stick is counted by a row of the schedule, wherever it
    /// is.
    #[test]
    fn every_kind_of_stick_is_nailed() {
        let roofs: [&[(&str, &str)]; 4] = [
            &[
                ("rake.framing", "ladder"),
                ("rake.overhang", "8\""),
                ("eave.fascia", "1x8"),
                ("eave.blocking", "held"),
            ],
            &[
                ("rake.framing", "over"),
                ("rake.overhang", "16\""),
                ("eave.subfascia", "2x6"),
                ("gable.vent_width", "14.5\""),
            ],
            &[("ceiling.bearing", "8'"), ("ceiling.meeting", "offset")],
            &[
                ("ceiling.bearing", "8'"),
                ("ceiling.meeting", "filler"),
                ("eave.soffit", "3/8\""),
                ("eave.overhang", "16\""),
            ],
        ];
        let mut seen = BTreeSet::new();
        for fields in roofs {
            let (frame, uses) = built(fields);
            for role in frame.members.iter().map(|member| member.role) {
                seen.insert(role);
                for by in role.nailed_by() {
                    let rows: Vec<_> =
                        nailing().iter().filter(|row| row.counted_by == *by).collect();
                    let counts =
                        uses.iter().filter(|one| rows.iter().any(|row| row.joint == one.joint));
                    let conditional =
                        matches!(by, CountedBy::TailAtSubfascia | CountedBy::TailAtFascia);
                    assert!(
                        conditional || counts.map(|one| one.count).sum::<u64>() > 0,
                        "{role:?} {by:?}"
                    );
                }
            }
        }
        for role in
            [Role::CollarFiller, Role::Filler, Role::Outlooker, Role::LadderRung, Role::VentFrame]
        {
            assert!(seen.contains(&role), "{role:?}: {seen:?}");
        }
    }

    #[test]
    fn blocks_between_collar_ties_and_rafters_have_their_nails() {
        let (frame, uses) = built(&[("ceiling.bearing", "8'"), ("ceiling.meeting", "offset")]);
        let of = frame.members.iter().filter(|member| member.role == Role::CollarFiller);
        let fillers: u64 = of.map(|member| member.count() as u64).sum();
        assert!(fillers > 0);
        let nails = uses.iter().find(|one| one.joint == "fillers of collar ties").unwrap();
        assert_eq!(nails.count, 4 * fillers);
    }
}
