//! How far apart the ceiling joists of a roof of any shape stand: where valleys or hips leave no room for some, those beside the gap
//! carry more.

use crate::frame::{Role, Sticks};
use crate::geom::DVec2;
use crate::measure::Amount::Inches;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Note};

use super::book::Code;

/// The joists with the widest gap between them.
pub(super) struct JoistBays {
    /// Width that the most loaded joist carries.
    pub(super) carried: Length,
    /// What to say, if it is more than the spacing.
    pub(super) why: Note,
}

/// A joist seen from above.
struct Laid {
    along: DVec2,
    /// Across it.
    place: f64,
    /// Along it.
    ends: (f64, f64),
}

/// Joists that lie over each other's length by less are not neighbors, inches.
const BESIDE_IN: f64 = 12.0;

fn laid(sticks: &Sticks<'_>) -> Vec<Laid> {
    // what the attic opening cuts and adds carries the ceiling too
    let is_joist = |role| matches!(role, Role::CeilingJoist | Role::TailJoist | Role::JoistTrimmer);
    let joists = sticks.members.iter().filter(|member| is_joist(member.role));
    let mut found: Vec<Laid> = joists
        .flat_map(|member| {
            member.placements.iter().map(|axis| {
                // one way for both halves of a lapped joist
                let along = axis.along.truncate();
                let along = if along.x + along.y < 0.0 { -along } else { along };
                let start = axis.origin.truncate();
                let end = start + axis.along.truncate() * member.blank().inches();
                let (one, other) = (start.dot(along), end.dot(along));
                Laid {
                    along,
                    place: start.dot(along.perp()),
                    ends: (one.min(other), one.max(other)),
                }
            })
        })
        .collect();
    found.sort_by(|one, other| one.place.total_cmp(&other.place));
    found
}

/// The bays between the ceiling joists.
pub(super) fn of(code: &Code<'_>) -> JoistBays {
    let plan = code.plan();
    // a joist may stand on either side of its rafter
    let aside = plan.rafter.stock.thickness_in() + plan.joist.thickness_in();
    let joists = laid(&code.sticks);
    let beside = |one: &Laid, other: &Laid| {
        one.along.dot(other.along) > 0.5
            && one.ends.1.min(other.ends.1) - one.ends.0.max(other.ends.0) > BESIDE_IN
            && (other.place - one.place).abs() > aside
    };
    let mut widest = (0.0_f64, 0.0_f64);
    for (number, joist) in joists.iter().enumerate() {
        let before = joists[..number].iter().rev().find(|other| beside(joist, other));
        let after = joists[number + 1..].iter().find(|other| beside(joist, other));
        if let (Some(before), Some(after)) = (before, after) {
            let carried = (after.place - before.place) / 2.0;
            if carried > widest.0 {
                let gap = (after.place - joist.place).max(joist.place - before.place);
                widest = (carried, gap);
            }
        }
    }
    let (carried, gap) = widest;
    if carried > plan.spacing.inches() + aside {
        let why = Note::with(
            "not every joist has room: one carries {} of the ceiling, for the next one is {} away",
            [Inches(carried), Inches(gap)],
        );
        JoistBays { carried: inches(carried), why }
    } else {
        JoistBays { carried: plan.spacing, why: Note::default() }
    }
}
