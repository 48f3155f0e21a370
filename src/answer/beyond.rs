//! Which questions are answered for a roof that is more than one gable.

use crate::key;
use crate::plan::Blocks;

use super::{Input, Refused, What, any_roof};

/// Refuses a roof that is more than one gable, where a question would be answered as if it were one.
pub(super) fn refuse_what_is_not_a_gable(what: &What, input: &Input) -> Result<(), Refused> {
    let beyond = Blocks::beyond(&input.entries);
    let first = match what {
        What::Square { .. }
        | What::Spans(_)
        | What::Rafter { .. }
        | What::Frame
        | What::Layout
        | What::Check { .. }
        | What::Sheathing(_)
        | What::Order
        | What::Prices
        | What::Cuts { .. }
        | What::Export { .. }
        | What::Sheets(_) => None,
        // the common rafter of slope A is that of a gable, but not where the ridge is not over the middle
        What::Eave { .. } | What::Prove { .. } | What::Effect { .. } => {
            let unlike = [key!("roof.shape"), key!("roof.pitch_b"), key!("building.wall_height_b")];
            beyond.iter().find(|(key, _)| unlike.contains(key))
        }
        _ => beyond.first(),
    };
    first.map_or(Ok(()), |(key, _)| Err(any_roof::not_worked_out(input, *key, &beyond)))
}

/// Refuses a roof that is more than one gable for a question that is answered for one gable alone.
pub(super) fn refuse_beyond_a_gable(input: &Input) -> Result<(), Refused> {
    let beyond = Blocks::beyond(&input.entries);
    beyond.first().map_or(Ok(()), |(key, _)| Err(any_roof::not_worked_out(input, *key, &beyond)))
}
