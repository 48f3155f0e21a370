//! Everything but lumber, by trade: the panels, ties, roofing, vents and soffit for one building, with
//! their nails.

mod connectors;
pub(super) mod covered;
mod covering;
mod flashing;
mod framed;
mod left_out;
mod roof;
pub(super) mod sheathing;
pub(super) mod soffit;
#[cfg(test)]
mod tests;
mod underlayment;
mod vents;

pub(super) use covered::Covered;
pub(super) use roof::{Roof, Sheathed};

use crate::catalog::panels::Panel;
use crate::deck::EdgeSupport;
use crate::measure::Note;

use super::fasteners::{self, NailUse, PanelNailing};
use super::need::Need;
use roof::Trades;

/// The goods for one building.
pub(super) struct Taken {
    pub(super) needs: Vec<Need>,
    pub(super) nails: Vec<NailUse>,
    /// What its soffit is cut from; sheets are shared with other buildings.
    pub(super) soffit: Option<soffit::Soffit>,
    /// The panel, and what its edges need.
    pub(super) panel: &'static Panel,
    pub(super) support: EdgeSupport,
    pub(super) panel_nailing: PanelNailing,
    /// What was assumed or found wanting.
    pub(super) notes: Vec<Note>,
    /// What the roof needs but the order does not count, each with the reason.
    pub(super) left_out: Vec<Note>,
}

/// The goods for one building, except lumber.
pub(super) fn of(roof: &Roof<'_>) -> Taken {
    let mut trades = Trades::default();
    let (panel, support) = roof.panel(&mut trades.notes);
    let thickness = sheathing::thickness(roof.plan, panel);
    let panel_nailing = fasteners::panel_nailing(&roof.plan.checks, thickness);
    let of_frame = fasteners::of_frame(roof.sticks, &roof.plan.checks, &mut trades.notes);
    trades.nails.extend(of_frame);
    trades.nails.extend(roof.panel_nails(&panel_nailing));
    roof.sheathing(panel, support, panel_nailing.edge, &mut trades);
    roof.roofing(&mut trades);
    roof.vents(&mut trades);
    roof.connectors(&mut trades);
    let soffit = roof.soffit(&mut trades.notes);
    let left_out = roof.left_out(&trades.needs, soffit.is_some());
    let Trades { needs, nails, notes } = trades;
    Taken { needs, nails, soffit, panel, support, panel_nailing, notes, left_out }
}
