//! What the rooms of the page show: one view of the answer for each reader, with every figure written and every
//! drawing drawn, so that the page formats nothing.

mod buy;
mod check;
mod cut;
mod lay;
mod looked;
mod message;
mod model;
mod parts;
mod picture;
mod plan;
mod table;

use serde::Deserialize;

use crate::order::Prices;
use crate::sheet::Look;

use super::{Asker, Input, NoAnswer, NotWritten, json};

pub(super) use looked::View;
pub(super) use plan::{Placed, dragged};

use looked::Looked;

/// A room of the page, one for each reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Room {
    /// The numbers of the roof.
    Plan,
    /// Patterns and the stack, for the cutter.
    Cut,
    /// Layout lines, for the layout hand.
    Lay,
    /// The order and the cutting plans, for the buyer.
    Buy,
    /// Verdicts and the walk, for owner and inspector.
    Check,
    /// The frame in 3-D, which opens from every room.
    Model,
}

/// The room as JSON.
pub(super) fn view(
    room: Room,
    input: Input,
    prices: Option<&Prices>,
    look: &Look,
    view: &View,
    asker: &dyn Asker,
) -> Result<Vec<u8>, NoAnswer> {
    let of = |view: Result<Vec<u8>, NotWritten>| Ok(view.unwrap_or_default());
    let writing = look.writing;
    match room {
        Room::Plan => of(json(&plan::view(&Looked::at(&input)?, &input, writing, view))),
        Room::Cut => of(json(&cut::view(&Looked::at(&input)?, writing, view))),
        Room::Lay => of(json(&lay::view(&Looked::at(&input)?, writing))),
        Room::Check => of(json(&check::view(&Looked::at(&input)?, writing))),
        Room::Model => of(json(&model::view(&Looked::at(&input)?, writing))),
        Room::Buy => of(json(&buy::view(input, prices, writing, asker)?)),
    }
}
