//! Nails of the frame: the schedule's rows over the sticks of this frame.

use crate::catalog::nailing::{CountedBy, STUDS_IN, nailing};
use crate::frame::hung::Hung;
use crate::frame::hung::lines::{Line, LineOf};
use crate::frame::{Member, Role, Sticks};
use crate::measure::Note;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::{ChecksPlan, Joists};

use super::heel;
use super::total::NailUse;

/// The nails of the frame.
///
/// Joints in the schedule have the schedule's counts, with common nails. The others are common practice
/// and marked so. `notes` gets what could not be counted.
#[must_use]
pub fn of_frame(sticks: Sticks<'_>, checks: &ChecksPlan, notes: &mut Vec<Note>) -> Vec<NailUse> {
    let edition = checks.edition;
    let mut uses = heel::uses(sticks, checks, notes);
    uses.extend(nailing().iter().map(|row| NailUse {
        nail: row.nail,
        count: row.places * row.nails(edition) * counted(sticks, checks, row.counted_by),
        joint: row.joint.to_owned(),
        how: row.how(edition),
        by: row.section(edition).to_owned(),
    }));
    uses
}

/// How many there are in the frame of the things that nails are counted by.
fn counted(sticks: Sticks<'_>, checks: &ChecksPlan, by: CountedBy) -> u64 {
    let has = |role: Role| sticks.members.iter().any(|member| member.role == role);
    let on_plates = || {
        let height = sticks.plan.tie_height;
        sticks.plan.joists == Joists::Beside && height.is_none_or(|height| height.inches() == 0.0)
    };
    let applies = match by {
        CountedBy::RidgeStrap => {
            return if checks.straps == Some(true) { ridge_pairs(sticks) } else { 0 };
        }
        CountedBy::RafterAtRidgeBoard => has(Role::RidgeBoard) || has(Role::Hip),
        CountedBy::JoistOnPlate => on_plates(),
        CountedBy::TailAtSubfascia => has(Role::Subfascia),
        CountedBy::TailAtFascia => has(Role::Fascia),
        _ => true,
    };
    let members = || sticks.members.iter().filter(|member| member.role.nailed_by().contains(&by));
    match by {
        _ if !applies => 0,
        CountedBy::StudAtLedger => {
            let length = |member: &Member| member.blank().inches() * member.count() as f64;
            (members().map(length).sum::<f64>() / STUDS_IN).ceil() as u64
        }
        CountedBy::Rafter => seats_on_plates(sticks),
        _ => members().map(|member| member.count() as u64).sum(),
    }
}

/// Seats of rafters, jacks, hips and valleys on plates: a shed's rafter sits on two.
pub(in crate::order) fn seats_on_plates(sticks: Sticks<'_>) -> u64 {
    sticks.members.iter().map(|member| seats(member) * member.count() as u64).sum()
}

/// Pairs of rafters over ridges; where one side of a ridge has more rafters than the other, those count.
pub(in crate::order) fn ridge_pairs(sticks: Sticks<'_>) -> u64 {
    if let Some(frame) = sticks.gable {
        return frame.pairs.len() as u64;
    }
    let Some(frame) = sticks.hung else { return 0 };
    let ground = &frame.hung.ground;
    let ridges = ground.lines.iter().filter(|line| line.of == LineOf::Ridge);
    let of = |ridge: &Line| {
        let mut sides = [0, 0];
        for border in &ridge.borders {
            let axes = &ground.faces[border.face];
            let top = axes.place(border.from).y;
            let (one, other) = (axes.place(border.from).x, axes.place(border.to).x);
            let ends_there = |stick: &&Hung| {
                let at = stick.axis.origin.truncate().dot(axes.along);
                let within = at > one.min(other) - HAIR && at < one.max(other) + HAIR;
                let reach = stick.stick().and_then(|own| own.solid().extent(axes.up.extend(0.0)));
                let is_near = |(_, high): (f64, f64)| top - high <= ridge.half + HAIR;
                within && reach.is_some_and(is_near)
            };
            let own = frame.hung.sticks.iter().filter(|stick| stick.face == Some(border.face));
            let rafters = own.filter(|stick| {
                let by = stick.role.nailed_by();
                by.contains(&CountedBy::RafterAtRidgeBoard) && stick.role != Role::BargeRafter
            });
            sides[usize::from(border.on_left)] += rafters.filter(ends_there).count() as u64;
        }
        sides[0].max(sides[1])
    };
    ridges.map(of).sum()
}

/// On how many plates a stick sits, by its birdsmouths: one over a corner counts once.
fn seats(member: &Member) -> u64 {
    let trims = member.stick.trims.iter().enumerate();
    let seats =
        trims.filter(|(number, trim)| trim.name == "birdsmouth" && member.stick.takes_off(*number));
    let count = seats.count() as u64;
    if matches!(member.role, Role::Hip | Role::Valley) { count.min(1) } else { count }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::frame::Frame;
    use crate::plan::{Entries, OrderPlan};

    fn built(fields: &[(&'static str, &str)]) -> (Frame, Vec<NailUse>) {
        let mut entries = Entries::default();
        let needed = [("building.length", "24'"), ("building.span", "16'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        let uses = of_frame(frame.sticks(), &plan.checks, &mut Vec::new());
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
