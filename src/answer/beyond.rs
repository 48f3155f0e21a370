//! Which questions are answered for a roof that is more than one gable.

use crate::key;
use crate::plan::{Asked, Blocks, Fault, Faults};

use super::{Input, Refused, What};

/// Refuses a roof that is more than one gable, where a question would be answered as if it were one.
pub(super) fn refuse_what_is_not_a_gable(what: &What, input: &Input) -> Result<(), Refused> {
    let beyond = Blocks::beyond(&input.entries);
    let unlike = [key!("roof.shape"), key!("roof.pitch_b"), key!("building.wall_height_b")];
    let first = match what {
        What::Square { .. } | What::Spans(_) | What::Frame => None,
        // the common rafter of slope A is that of a gable, but not where the ridge is not over the middle
        What::Rafter { .. } | What::Eave { .. } | What::Prove { .. } | What::Effect { .. } => {
            beyond.iter().find(|(key, _)| unlike.contains(key))
        }
        _ => beyond.first(),
    };
    let Some((key, _)) = first else { return Ok(()) };
    let mut words: Vec<&str> = beyond.iter().map(|(_, word)| *word).collect();
    words.dedup();
    let fault = Fault::new(
        Asked::new(&input.entries).place(*key),
        format!("this is not worked out yet for a roof with {}", words.join(", ")),
        "stepoff frame shows its faces and edges; take this out to work with the gable alone",
    );
    Err(input.refused(Faults::from(fault)))
}
