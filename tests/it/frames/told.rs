//! Every stick of the plan is there or a note says why not, and the statements on each stick are true.

use proptest::prelude::*;
use stepoff::frame::layout::LineKind;
use stepoff::frame::{EaveSide, Edge, Frame, Role};
use stepoff::geom::Cell;
use stepoff::measure::Writing;
use stepoff::measure::quantity::{InInches, inches};
use stepoff::plan::{Blocking, Joists};

use super::count;
use super::touching::{Placed, placed};

/// Every stick has its own id from its place alone: no id needed a running count.
pub(super) fn every_id_is_its_own(frame: &Frame) -> Result<(), TestCaseError> {
    let mut ids: Vec<&str> =
        frame.members.iter().flat_map(|member| member.placed_ids().map(|(id, _)| id)).collect();
    prop_assert_eq!(ids.len(), frame.stick_count());
    ids.sort_unstable();
    for two in ids.windows(2) {
        prop_assert!(two[0] != two[1], "{} twice", two[0]);
    }
    prop_assert!(ids.iter().all(|id| !id.contains('~')), "{ids:?}");
    Ok(())
}

/// Every stick that the plan requires is there, or a note says what is missing and what follows.
pub(super) fn nothing_is_dropped_unsaid(frame: &Frame) -> Result<(), TestCaseError> {
    let plan = &frame.plan;
    let told =
        |what: &str| frame.notes.iter().any(|note| note.write(Writing::default()).contains(what));
    let inner = frame.pairs.iter().filter(|pair| !pair.at_end).count();
    let count = |role: Role| count(frame, role);
    let wanted = |wanted: bool, found: bool, what: &str| {
        prop_assert!(!wanted || found || told(what), "{what}: {:?}", frame.notes);
        Ok(())
    };
    prop_assert!(count(Role::CommonRafter) + count(Role::EndRafter) == 2 * frame.pairs.len());
    wanted(plan.rafter.ridge > inches(0.0), count(Role::RidgeBoard) > 0, "ridge")?;
    wanted(plan.rafter.fascia > inches(0.0), count(Role::Fascia) >= 2, "fascia")?;
    wanted(plan.rafter.subfascia > inches(0.0), count(Role::Subfascia) >= 2, "sub-fascia")?;
    let lengths = if plan.bearing.is_some() { 2 } else { 1 };
    let tied = match plan.joists {
        Joists::Beside => count(Role::CeilingJoist) == lengths * inner,
        Joists::Across | Joists::None => true,
    };
    wanted(true, tied, "no room for a joist")?;
    if plan.joists == Joists::Across && inner > 0 {
        let every = (plan.tie_spacing.inches() / plan.spacing.inches() + 1e-9).floor().max(1.0);
        let least = (inner as f64 / every).ceil() as usize;
        wanted(true, count(Role::RafterTie) == least, "no room for a rafter tie")?;
    }
    wanted(plan.collars && inner > 0, count(Role::CollarTie) > 0, "collar tie")?;
    wanted(plan.gable_studs, count(Role::GableStud) > 0, "no gable studs")?;
    wanted(
        plan.gable_studs && plan.vent.is_some() && count(Role::GableStud) > 0,
        count(Role::VentFrame) >= 4,
        "vent opening",
    )?;
    wanted(plan.soffit_framing, count(Role::SoffitLookout) == 2 * frame.pairs.len(), "soffit")?;
    wanted(plan.soffit_framing, count(Role::SoffitLedger) > 0, "soffit")?;
    every_bay_is_blocked(frame, &told)?;
    barges_are_carried_as_asked(frame, &told)?;
    // what is cut is one piece
    for member in &frame.members {
        prop_assert_eq!(member.stick.solid().pieces(), 1, "{}", &member.mark);
    }
    Ok(())
}

/// There is a block between every two rafters, in one piece or in pieces beside the sticks between
/// them.
fn every_bay_is_blocked(frame: &Frame, told: &dyn Fn(&str) -> bool) -> Result<(), TestCaseError> {
    if frame.plan.blocking == Blocking::None || told("no blocking") {
        return Ok(());
    }
    let list = placed(frame);
    for eave in EaveSide::BOTH {
        let at_eave =
            |one: &&Placed| (one.low.y + one.high.y < frame.site.span) == (eave == EaveSide::A);
        let blocks: Vec<&Placed> =
            list.iter().filter(|one| one.role == Role::Blocking).filter(at_eave).collect();
        for two in frame.pairs.windows(2) {
            let (from, to) = (two[0].x(eave) + frame.site.thick, two[1].x(eave));
            // the widest stretch of the bay without a block or anything else on the plate
            let top = blocks
                .iter()
                .map(|block| block.high.z)
                .reduce(f64::max)
                .unwrap_or(frame.site.depth);
            let mut taken: Vec<(f64, f64)> = list
                .iter()
                .filter(at_eave_or_level)
                .filter(|one| {
                    one.low.z < top - 1e-6
                        && one.role != Role::Plate
                        && one.role != Role::BearingPlate
                })
                .filter(|one| {
                    matches!(
                        one.role,
                        Role::Blocking | Role::CeilingJoist | Role::RafterTie | Role::Filler
                    )
                })
                .filter(|one| one.role != Role::Blocking || at_eave(one))
                .filter(|one| one.role != Role::CeilingJoist || near_eave(frame, one, eave))
                .filter(|one| one.role != Role::Filler || at_eave(one))
                .map(|one| (one.low.x, one.high.x))
                .filter(|(low, high)| *high > from - 1e-6 && *low < to + 1e-6)
                .collect();
            taken.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut at = from;
            let mut widest: f64 = 0.0;
            for (low, high) in taken {
                widest = widest.max(low - at);
                at = at.max(high);
            }
            widest = widest.max(to - at);
            prop_assert!(
                widest < 1e-6 || (widest < 1.0 && told("get no block")),
                "{widest} in of the bay from {from} to {to} over eave {} is open",
                eave.name()
            );
        }
    }
    Ok(())
}

fn at_eave_or_level(one: &&Placed) -> bool {
    one.high.z > 0.0
}

/// True if a level stick reaches the plate of an eave.
fn near_eave(frame: &Frame, one: &Placed, eave: EaveSide) -> bool {
    match eave {
        EaveSide::A => one.low.y < frame.site.plate,
        EaveSide::B => one.high.y > frame.site.span - frame.site.plate,
    }
}

/// Rungs or outlookers are no farther apart than set, starting from the tail, or a note says so.
fn barges_are_carried_as_asked(
    frame: &Frame,
    told: &dyn Fn(&str) -> bool,
) -> Result<(), TestCaseError> {
    if frame.site.rake <= 0.0 {
        return Ok(());
    }
    let line = frame.layout.iter().find(|line| matches!(line.kind, LineKind::Rakes(_)));
    let Some(line) = line else {
        return Err(TestCaseError::fail("nothing carries the barge rafters"));
    };
    let LineKind::Rakes(role) = line.kind else {
        return Ok(());
    };
    prop_assert_eq!(count(frame, role) % (2 * line.marks.len()), 0);
    let wide =
        if role == Role::Outlooker { frame.plan.outlooker.depth_in() } else { frame.site.thick };
    let spacing = frame.plan.rake_spacing.inches();
    let mut at = 0.0;
    for mark in &line.marks {
        let middle = mark.inches() + wide / 2.0;
        prop_assert!(
            middle - at <= spacing + 1e-6 || told("there the barge rafter spans"),
            "{at} to {middle}"
        );
        at = middle;
    }
    Ok(())
}

/// Every stick starts where the record says.
pub(super) fn each_starts_where_it_is_said(frame: &Frame) -> Result<(), TestCaseError> {
    for member in &frame.members {
        let (first, last) = member.stick.reach();
        prop_assert!(first.abs() < 1e-7, "{} starts at {first}", member.mark);
        prop_assert!((last - member.blank().inches()).abs() < 1e-7);
        for axis in &member.placements {
            let start = axis.origin.dot(axis.along);
            let (low, _) = member.placed(axis).extent(axis.along).unwrap();
            prop_assert!((low - start).abs() < 1e-6, "{} at {:?}", member.mark, axis.origin);
        }
    }
    Ok(())
}

/// The named cuts at the ends are there, and the remaining edges are measured.
pub(super) fn each_is_measured(frame: &Frame) -> Result<(), TestCaseError> {
    for member in &frame.members {
        for end in member.ends() {
            let cuts = member.stick.trims.iter().filter(|trim| trim.name == end.cut);
            let shown = cuts.flat_map(|trim| &trim.cut.planes).any(|plane| {
                let mut faces = member.stick.solid().cells().iter().flat_map(Cell::faces);
                faces.any(|face| {
                    face.plane.normal.dot(plane.normal) > 1.0 - 1e-9
                        && plane.distance(face.corner()).abs() < 1e-7
                })
            });
            prop_assert!(shown, "{}: no {} on it", member.mark, end.cut);
        }
        if member.role == Role::Blocking {
            let blank = member.blank();
            for edge in [Edge::Top, Edge::Bottom] {
                prop_assert_eq!(member.marks(edge).len(), 2, "{}", &member.mark);
                prop_assert!(((member.edge_lengths(edge).0 - blank).inches()).abs() < 1e-9);
            }
        }
    }
    Ok(())
}
