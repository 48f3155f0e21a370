//! A roof of one's own from six questions.

use serde::Serialize;

use crate::key;
use crate::plan::field::Default;
use crate::plan::{Key, starter};

use super::super::Refused;

/// What is asked, in order.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct Questions {
    questions: Vec<Asked>,
}

#[derive(Debug, Serialize)]
struct Asked {
    key: &'static str,
    words: &'static str,
    /// What holds if nothing is answered; null if it must be answered.
    default: Option<&'static str>,
}

/// The questions.
pub(in crate::answer) fn questions() -> Questions {
    let questions = starter::ASKED.iter().map(|(key, words)| Asked {
        key: key.name(),
        words,
        default: match key.field().default {
            Default::Value(value) => Some(value),
            Default::Needed | Default::Words(_) | Default::Either(..) => None,
        },
    });
    Questions { questions: questions.collect() }
}

/// The roof file of some answers.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct Started {
    /// The starter file with these answers.
    roof: String,
    /// The same with stand-ins for what must still be answered, so that it can be drawn.
    sketch: String,
    /// The fields of the stand-ins.
    stand_ins: Vec<&'static str>,
}

/// The roof file of these answers and the job's name; each is refused as the roof file would refuse it.
pub(in crate::answer) fn started(
    answers: Vec<(Key, String)>,
    name: Option<String>,
) -> Result<Started, Refused> {
    let mut written = answers;
    written.extend(name.filter(|name| !name.is_empty()).map(|name| (key!("job.name"), name)));
    let faults: Vec<_> =
        written.iter().filter_map(|(key, text)| starter::fault(*key, text)).collect();
    if !faults.is_empty() {
        return Err(Refused { faults: faults.into_iter().collect(), file: None });
    }
    let (sketch, stand_ins) = starter::sketch(&written);
    let stand_ins = stand_ins.into_iter().map(Key::name).collect();
    Ok(Started { roof: starter::short(&written), sketch, stand_ins })
}
