//! Nails of heel joints, laps over the bearing and splices, from the heel joint table.

use crate::frame::{Frame, Role, TieKind};
use crate::measure::Note;
use crate::measure::quantity::psf;
use crate::plan::ChecksPlan;
use crate::rules::Book;
use crate::rules::tie_zone::heel;
use crate::strength::heel_joint::TABLE_DEAD_PSF;

use super::total::{COMMON_16D, NailUse};

/// Where the count of a joint comes from.
const BY_TABLE: &str = "heel joint table";
const BY_PLAN: &str = "as the plan specifies";

/// The nails of the joints that hold the rafters together at their feet.
pub(super) fn uses(frame: &Frame, checks: &ChecksPlan, notes: &mut Vec<Note>) -> Vec<NailUse> {
    let ties = &frame.ties;
    if ties.kind == TieKind::None {
        return Vec::new();
    }
    let Some(each) = by_table(frame, checks) else {
        notes.push(
            "Nails of the heel joints are not counted: the heel joint table has no row for the ties of this roof."
                .into(),
        );
        return Vec::new();
    };
    if checks.snow.is_none() {
        notes.push(format!(
            "No ground snow load is set: heel joints are counted for roof live load alone, {each} nails each."
        ).into());
    }
    // the plan's own counts override those of the table
    let specified =
        |count: Option<f64>| count.map_or((each, BY_TABLE), |count| (count as u64, BY_PLAN));
    let of = |(each, by): (u64, &str), joints: u64, joint: &str, what: &str| NailUse {
        nail: COMMON_16D,
        count: each * joints,
        joint: joint.to_owned(),
        how: format!("{each} {what}").into(),
        by: by.to_owned(),
    };
    let pairs = ties.nailed_pairs() as u64;
    let mut uses = vec![of(specified(checks.heel_nails), 2 * pairs, "heel joints", "a joint")];
    if ties.kind == TieKind::JoistsLapped {
        let lap = specified(checks.lap_nails);
        let splices = frame.members.iter().filter(|member| member.role == Role::SplicePiece);
        let splices = splices.map(|member| member.count() as u64).sum();
        uses.push(of(lap, pairs, "joists over the bearing", "a lap, twice at a splice piece"));
        uses.push(of(lap, splices, "splice pieces, second side", "a side"));
    }
    uses
}

/// Nails of one heel joint under the worst of the roof's loads, as the rules find them; `None` if the table has none. A
/// dead load that is not set is that of the table, a snow load that is not set none.
fn by_table(frame: &Frame, checks: &ChecksPlan) -> Option<u64> {
    let checks = ChecksPlan {
        dead: Some(checks.dead.unwrap_or(psf(TABLE_DEAD_PSF))),
        snow: Some(checks.snow.unwrap_or_default()),
        ..checks.clone()
    };
    let joint = heel(&Book { frame, checks: &checks }).ok()?;
    joint.nails().map(u64::from)
}
