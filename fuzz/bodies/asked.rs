//! Questions to the engine, by a caller that loses patience after a fixed amount of work: no clock, so that the same bytes do
//! the same everywhere.

use std::sync::atomic::{AtomicU32, Ordering};

use serde_json::Value;
use stepoff::answer::{Answer, Asker, Form, NoAnswer, Question, Source, What, ask_for};

/// How often a search asks whether to stop before it is told to: about so many milliseconds.
const PATIENCE: u32 = 40;

/// A caller who stops a search that goes on for long.
#[derive(Default)]
pub(super) struct Impatient(AtomicU32);

impl Asker for Impatient {
    fn stops(&self) -> bool {
        self.0.fetch_add(1, Ordering::Relaxed) > PATIENCE
    }
}

/// The answer to a question about a roof file.
pub(super) fn answer(what: What, roof: &str) -> Result<Answer, NoAnswer> {
    let source = Source { name: "roof.toml".into(), text: roof.to_owned() };
    let question = Question { roofs: vec![source], ..Question::of(what) };
    ask_for(&question, &Impatient::default())
}

/// The JSON of an answer.
#[track_caller]
pub(super) fn json(answer: &Answer) -> Value {
    let bytes = answer.write(Form::Json).unwrap_or_else(|why| panic!("{why}"));
    let value = serde_json::from_slice(&bytes);
    value.unwrap_or_else(|why| panic!("{why} in {}", String::from_utf8_lossy(&bytes)))
}
