//! One list for the yard, by trade.

#[cfg(feature = "spreadsheet")]
use crate::export;
use crate::facts;
use crate::measure::Units;
use crate::order::{Order, Prices};
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

#[cfg(feature = "spreadsheet")]
use super::File;
use super::roofs::Roofs;
use super::{Asker, Found, Input, NoAnswer, NotWritten, Status, csv, json};

/// Roofs with the goods that they need.
pub(super) struct Ordered {
    roofs: Roofs,
    order: Order,
    units: Units,
}

impl Found for Ordered {
    fn status(&self) -> Status {
        Status::of([Verdict::meets_if(!self.order.fails())])
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::order::OrderReport::of(&self.order, &self.roofs.plans(), self.units))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(self.order.lines.iter().map(facts::order::OrderLine::of))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::order::text(&self.order, &self.roofs.used(), look, depth)
    }

    #[cfg(feature = "spreadsheet")]
    fn files(&self, _: &Look) -> Vec<File<'_>> {
        let book = || NotWritten::or(export::order_book::workbook(&self.order, self.units));
        vec![File::new("order.xlsx", book)]
    }
}

/// Orders the roofs.
pub(super) fn find(
    inputs: Vec<Input>,
    prices: Option<Prices>,
    look: &Look,
    asker: &dyn Asker,
) -> Result<Ordered, NoAnswer> {
    let roofs = Roofs::read(inputs)?;
    let units = look.writing.units;
    let order = roofs.ordered(prices.as_ref(), units, asker)?;
    Ok(Ordered { roofs, order, units })
}
