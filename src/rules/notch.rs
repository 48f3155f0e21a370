//! The birdsmouth, the bearing and the tail of the pattern rafter.

use crate::catalog::Source;
use crate::catalog::limits::{
    BEARING_ON_WOOD, EDITIONS, Limit, NOTCH_AT_END, RIDGE_BOARD_PITCH, TAIL_CANTILEVER,
    TAIL_REMAINING,
};
use crate::frame::CommonRafter;
use crate::measure::Amount::Inches;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Note, trim};
use crate::strength::WorkingStep;

use super::finding::{Finding, Sense, Unit};
use super::id::FindingId;

/// The rules that apply to the pattern rafter alone.
#[must_use]
pub fn findings(rafter: &CommonRafter) -> Vec<Finding> {
    let depth = rafter.plan.stock.depth_in();
    let left = rafter.remaining.inches();
    let notch = depth - left;
    let mut findings = vec![
        finding(
            &NOTCH_AT_END,
            "birdsmouth depth",
            Sense::AtMost,
            notch,
            NOTCH_AT_END.value() * depth,
            Note::with(
                format!(
                    "{{}} deep square to the edge; {} of {{}} allowed",
                    NOTCH_AT_END.id.value_words()
                ),
                [Inches(notch), Inches(depth)],
            ),
        ),
        finding(
            &BEARING_ON_WOOD,
            "bearing on the plate",
            Sense::AtLeast,
            rafter.bearing.inches(),
            BEARING_ON_WOOD.value(),
            "level length of the seat on the plate".into(),
        ),
    ];
    if let Some(high) = &rafter.high {
        findings.push(finding(
            &BEARING_ON_WOOD,
            "bearing on the high plate",
            Sense::AtLeast,
            high.bearing.inches(),
            BEARING_ON_WOOD.value(),
            "level length of the high seat on the plate".into(),
        ));
    }
    // both tails of a rafter on two plates are notched alike; the longer one is held against the rules
    let high_tail = rafter.high.map_or(0.0, |high| high.tail_projection.inches());
    let tail = rafter.tail_projection.inches().max(high_tail);
    if tail > LAST_BITS {
        findings.push(finding(
            &TAIL_REMAINING,
            "wood left over the tail's notch",
            Sense::AtLeast,
            left,
            TAIL_REMAINING.value(),
            Note::with("depth {} less notch {}", [Inches(depth), Inches(notch)]),
        ));
        findings.push(finding(
            &TAIL_CANTILEVER,
            "cantilever of the notched tail",
            Sense::AtMost,
            tail,
            TAIL_CANTILEVER.value(),
            "level, building line to tail cut".into(),
        ));
    }
    if rafter.high.is_none() && rafter.plan.pitch.unit_rise() < RIDGE_BOARD_PITCH.value() {
        let mut low = finding(
            &RIDGE_BOARD_PITCH,
            "pitch for a ridge board",
            Sense::AtLeast,
            rafter.plan.pitch.unit_rise(),
            RIDGE_BOARD_PITCH.value(),
            "below it the ridge is designed as a beam and the rafters bear on it".into(),
        );
        low.verdict = super::Verdict::NeedsDesign;
        low.unit = Unit::RiseIn12;
        findings.push(low);
    }
    findings
}

/// The rules for an end rafter that is ripped by `rip` inches for outlookers and has the common
/// rafter's birdsmouth.
#[must_use]
pub(super) fn ripped_end(rafter: &CommonRafter, rip: f64) -> Vec<Finding> {
    let depth = rafter.plan.stock.depth_in() - rip;
    let notch = rafter.plan.stock.depth_in() - rafter.remaining.inches();
    let note = Note::with(
        "the end rafter is ripped to {} and keeps a notch of {}",
        [Inches(depth), Inches(notch)],
    );
    let mut findings = vec![finding(
        &NOTCH_AT_END,
        "birdsmouth depth in the ripped end rafter",
        Sense::AtMost,
        notch,
        NOTCH_AT_END.value() * depth,
        note.clone(),
    )];
    if rafter.tail_projection.inches() > LAST_BITS {
        findings.push(finding(
            &TAIL_REMAINING,
            "wood left over the ripped end rafter's notch",
            Sense::AtLeast,
            depth - notch,
            TAIL_REMAINING.value(),
            note,
        ));
    }
    findings
}

/// The working of the finding `id` of the pattern rafter.
pub(super) fn working(rafter: &CommonRafter, id: FindingId) -> Vec<WorkingStep> {
    let show = |value: f64| trim(value, 4);
    let pitch = rafter.plan.pitch;
    let seat = rafter.seat.length.inches();
    let depth = rafter.plan.stock.depth_in();
    let left = rafter.remaining.inches();
    let notch = depth - left;
    // a level soffit cut above the plate notches deeper than the seat
    let by_seat = (rafter.notch_depth.inches() - notch).abs() < HAIR;
    let step = |what, formula, numbers, result: f64| {
        vec![WorkingStep::new(
            what,
            formula,
            numbers,
            Note::with("{}", [Inches(result)]),
            Source::S6,
        )]
    };
    if id == NOTCH_AT_END.id && by_seat {
        step(
            "birdsmouth depth",
            "seat x sin(slope)",
            format!("{} x {} / {}", show(seat), show(pitch.tangent()), show(pitch.slope_factor())),
            notch,
        )
    } else if id == TAIL_REMAINING.id {
        step(
            "wood left over the notch",
            "depth - notch",
            format!("{} - {}", show(depth), show(notch)),
            left,
        )
    } else {
        Vec::new()
    }
}

fn finding(
    limit: &Limit,
    title: &'static str,
    sense: Sense,
    found: f64,
    allowed: f64,
    note: Note,
) -> Finding {
    Finding {
        id: limit.id.into(),
        title,
        verdict: sense.verdict(found, allowed),
        found: Some(found),
        limit: Some(allowed),
        sense,
        unit: Unit::Inches,
        section: limit.section.to_owned(),
        edition: EDITIONS.to_owned(),
        notes: vec![note],
        ..Finding::of(limit.id, title)
    }
}
