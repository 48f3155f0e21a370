//! Which questions are answered for a roof that is more than one gable.

use crate::plan::Blocks;

use super::{Input, Refused, What, any_roof};

/// Refuses a roof that is more than one gable, where a question would be answered as if it were one.
pub(super) fn refuse_what_is_not_a_gable(what: &What, input: &Input) -> Result<(), Refused> {
    let beyond = Blocks::beyond(&input.entries);
    let first = match what {
        What::Square { .. }
        | What::Spans(_)
        | What::Rafter { .. }
        | What::Eave { .. }
        | What::Prove { .. }
        | What::Effect { .. }
        | What::Frame
        | What::Layout
        | What::Check { .. }
        | What::Sheathing(_)
        | What::Order
        | What::Prices
        | What::Cuts { .. }
        | What::Export { .. }
        | What::Sheets(_) => None,
        _ => beyond.first(),
    };
    first.map_or(Ok(()), |(key, _)| Err(any_roof::not_worked_out(input, *key, &beyond)))
}

/// Refuses a roof that is more than one gable for a question that is answered for one gable alone.
pub(super) fn refuse_beyond_a_gable(input: &Input) -> Result<(), Refused> {
    let beyond = Blocks::beyond(&input.entries);
    beyond.first().map_or(Ok(()), |(key, _)| Err(any_roof::not_worked_out(input, *key, &beyond)))
}
