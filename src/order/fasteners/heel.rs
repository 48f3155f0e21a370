//! Nails of heel joints, laps over the bearing and splices, from the heel joint table.

use crate::frame::hung::tied::tied;
use crate::frame::{Frame, HungFrame, Role, Sticks, TieKind};
use crate::measure::Note;
use crate::measure::quantity::psf;
use crate::plan::ChecksPlan;
use crate::rules::tie_zone::{heel, heel_of_block};
use crate::rules::{Book, Code};
use crate::strength::heel_joint::TABLE_DEAD_PSF;

use super::total::{COMMON_16D, NailUse};

/// Where the count of a joint comes from.
const BY_TABLE: &str = "heel joint table";
const BY_PLAN: &str = "as the plan specifies";

/// Joints of the ties of one block, which are alike.
struct Joints {
    /// In the row: `a joint`, with the block where there are several.
    of: String,
    /// Nails of each by the table.
    each: u64,
    heels: u64,
    laps: u64,
}

/// The nails of the joints that hold the rafters together at their feet.
pub(super) fn uses(sticks: Sticks<'_>, checks: &ChecksPlan, notes: &mut Vec<Note>) -> Vec<NailUse> {
    let joints = match (sticks.gable, sticks.hung) {
        (Some(frame), _) => of_gable(frame, checks),
        (_, Some(frame)) => of_blocks(frame, checks),
        (None, None) => Some(Vec::new()),
    };
    let Some(joints) = joints else {
        notes.push(
            "Nails of the heel joints are not counted: the heel joint table has no row for the ties of this roof."
                .into(),
        );
        return Vec::new();
    };
    if joints.is_empty() {
        return Vec::new();
    }
    if checks.snow.is_none() {
        let mut each: Vec<String> = joints.iter().map(|of| of.each.to_string()).collect();
        each.dedup();
        let each = each.join(" or ");
        notes.push(format!(
            "No ground snow load is set: heel joints are counted for roof live load alone, {each} nails each."
        ).into());
    }
    let nails = |(each, by): (u64, &str), count: u64, joint: &str, what: &str| NailUse {
        nail: COMMON_16D,
        count: each * count,
        joint: joint.to_owned(),
        how: format!("{each} {what}").into(),
        by: by.to_owned(),
    };
    let splices = sticks.members.iter().filter(|member| member.role == Role::SplicePiece);
    let splices: u64 = splices.map(|member| member.count() as u64).sum();
    let mut uses = Vec::new();
    for of in &joints {
        // the plan's own counts override those of the table
        let specified =
            |count: Option<f64>| count.map_or((of.each, BY_TABLE), |count| (count as u64, BY_PLAN));
        uses.push(nails(specified(checks.heel_nails), of.heels, "heel joints", &of.of));
        if of.laps > 0 {
            let lap = specified(checks.lap_nails);
            let joint = "joists over the bearing";
            uses.push(nails(lap, of.laps, joint, "a lap, twice at a splice piece"));
            uses.push(nails(lap, splices, "splice pieces, second side", "a side"));
        }
    }
    uses
}

/// Loads that are not set: a dead load as in the table, no snow load.
fn with_loads(checks: &ChecksPlan) -> ChecksPlan {
    ChecksPlan {
        dead: Some(checks.dead.unwrap_or(psf(TABLE_DEAD_PSF))),
        snow: Some(checks.snow.unwrap_or_default()),
        ..checks.clone()
    }
}

/// The joints of one gable under the worst of the roof's loads, as the rules find them; `None` if the table has none.
fn of_gable(frame: &Frame, checks: &ChecksPlan) -> Option<Vec<Joints>> {
    let ties = &frame.ties;
    if ties.kind == TieKind::None {
        return Some(Vec::new());
    }
    let joint = heel(&Book { frame, checks: &with_loads(checks) }).ok()?;
    let each = joint.nails().map(u64::from)?;
    let pairs = ties.nailed_pairs() as u64;
    let laps = if ties.kind == TieKind::JoistsLapped { pairs } else { 0 };
    Some(vec![Joints { of: "a joint".into(), each, heels: 2 * pairs, laps }])
}

/// The joints of every block of any other roof whose ties lie on its plates; `None` if the table is not for one of them.
fn of_blocks(frame: &HungFrame, checks: &ChecksPlan) -> Option<Vec<Joints>> {
    let checks = with_loads(checks);
    let code = Code { sticks: frame.sticks(), checks: &checks };
    let blocks = tied(&frame.hung).blocks;
    let is_single = blocks.len() == 1;
    let joints = blocks.iter().map(|block| {
        let each = heel_of_block(&code, block, None).ok()??.nails().map(u64::from)?;
        let held = block.held as u64;
        // a bearing is told for the main block
        let lapped = block.name == "main" && frame.plan.bearing.is_some();
        let of = if is_single { "a joint".into() } else { format!("a joint, {}", block.name) };
        Some(Joints { of, each, heels: 2 * held, laps: if lapped { held } else { 0 } })
    });
    joints.collect()
}
