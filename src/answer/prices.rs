//! The prices file of roofs, with blanks to fill.

use crate::measure::Units;
use crate::order::prices::write;
use crate::order::roofs::title;
use crate::order::{Order, Prices};
use crate::sheet::{Depth, Look};

use super::roofs::Roofs;
use super::{Asker, Found, Input, NoAnswer, NotWritten, Status};

/// An order, and the prices that are known already.
pub(super) struct Blanks {
    order: Order,
    known: Option<Prices>,
    title: Option<String>,
}

impl Found for Blanks {
    fn status(&self) -> Status {
        Status::Done
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        NotWritten::or(writer.write_record(write::csv_heads()))?;
        for row in write::csv_rows(&self.order, self.known.as_ref()) {
            NotWritten::or(writer.write_record(row))?;
        }
        NotWritten::or(writer.into_inner())
    }

    /// The file as TOML.
    fn text(&self, _: &Look, _: Depth) -> String {
        write::toml(&self.order, self.known.as_ref(), self.title.as_deref())
    }
}

/// Orders the roofs, to know what may have a price.
pub(super) fn find(
    inputs: Vec<Input>,
    known: Option<Prices>,
    asker: &dyn Asker,
) -> Result<Blanks, NoAnswer> {
    let roofs = Roofs::read(inputs)?;
    let order = roofs.ordered(known.as_ref(), Units::Feet, asker)?;
    Ok(Blanks { order, known, title: title(&roofs.tags) })
}
