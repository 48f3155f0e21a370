//! Deeper stock in the same roof plane: how much lower its plate lies.

use crate::catalog::lumber::Section;
use crate::frame::{CannotBuild, Eave};
use crate::measure::Length;
use crate::plan::{FitPlan, Measurement, Quantity, Unknown};
use crate::rules::Finding;

use super::held::{self, failing};
use super::model::Model;
use super::one;
use super::search::Root;

/// A plate drop, with what would do instead.
#[derive(Debug, Clone)]
pub struct PlateDrop {
    /// The plan's own rafter.
    pub rafter: Eave,
    /// The deeper one, with your seat or the one that the rules choose for it.
    pub deeper: Eave,
    /// How much lower the deeper rafter's plate must be, so that both top edges are in one plane.
    pub drop: Length,
    /// How much lower the deeper rafter's plumb tail cut reaches.
    pub hangs_lower: Length,
    /// The findings of the rules that apply to the deeper rafter.
    pub findings: Vec<Finding>,
    /// Seats that keep one plate height for both instead, in order, each with the rules it fails.
    pub seats: Vec<(Root, Vec<&'static str>)>,
}

/// Builds both rafters and measures their heel stands.
///
/// # Errors
/// [`CannotBuild`] if one of them can't be built.
pub fn find(plan: &FitPlan, stock: &Section) -> Result<PlateDrop, CannotBuild> {
    let model = Model::of(plan);
    let rafter = model.build()?;
    let mut with_stock = plan.clone();
    with_stock.eave.rafter.stock = stock.clone();
    let deep = Model::of(&with_stock);
    let deeper = deep.build()?;
    let keep = Measurement { quantity: Quantity::HeelStand, asked: rafter.rafter.heel_stand };
    let seats = one::search_for(&deep, Unknown::Seat, keep)
        .roots
        .into_iter()
        .filter_map(|root| {
            let eave = deep.with(Unknown::Seat, root.value).build().ok()?;
            Some((root, failing(&with_stock, &eave)))
        })
        .collect();
    Ok(PlateDrop {
        drop: deeper.rafter.heel_stand - rafter.rafter.heel_stand,
        // both tops are in one plane, so compare the lower corners
        hangs_lower: (rafter.tail_foot.above_plate - rafter.tail_top.above_plate)
            - (deeper.tail_foot.above_plate - deeper.tail_top.above_plate),
        findings: held::findings(&with_stock, &deeper),
        rafter,
        deeper,
        seats,
    })
}
