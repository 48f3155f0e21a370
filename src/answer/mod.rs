//! One question in, one answer out: the whole engine behind one call.
//!
//! A [`Question`] has the kind of question, the text of the roof file and the values that override it.
//! [`ask`] reads, frames, checks and returns an [`Answer`], which writes itself as terminal text, JSON
//! or CSV. Command line and page read answers. Nothing here touches files, clock, environment or
//! terminal: a long search gets them from its caller.

mod any_roof;
mod asker;
mod beyond;
mod check;
mod compare;
mod cuts;
mod eave;
mod effect;
mod export;
mod faces;
mod faces_deck;
mod faults;
mod file;
mod fit;
mod flags;
mod forms;
mod found;
mod frame;
mod framing;
mod input;
mod layout;
mod look;
mod measured;
mod no_answer;
mod on_page;
mod order;
mod plane;
mod prices;
mod prove;
mod question;
mod rafter;
mod refused;
mod roofs;
mod rooms;
mod search;
mod sheathing;
mod sheets;
mod source;
mod spans;
mod square;
mod status;
mod ties;
mod trial;
pub mod wire;

pub use asker::{Asker, Nobody, Stage};
pub use compare::CompareAsked;
pub use cuts::{List, ListForm};
pub use export::ExportTo;
pub use file::File;
pub use forms::{Form, NotWritten, csv, json};
pub use found::Found;
pub use input::Input;
pub use look::{LookAsked, step};
pub use no_answer::NoAnswer;
pub use plane::DeckAsked;
pub use question::{Question, What};
pub use refused::Refused;
pub use sheets::{SetForm, SheetsAsked};
pub use source::Source;
pub use spans::SpansAsked;
pub use status::Status;

use crate::sheet::{Depth, Look};

/// What was found, and how it is to be shown.
pub struct Answer {
    found: Box<dyn Found>,
    look: Look,
    depth: Depth,
}

impl Answer {
    /// Whether anything fails or needs design.
    #[must_use]
    pub fn status(&self) -> Status {
        self.found.status()
    }

    /// The answer in a form.
    ///
    /// # Errors
    /// What can't be written.
    pub fn write(&self, form: Form) -> Result<Vec<u8>, NotWritten> {
        match form {
            Form::Table => Ok(self.found.text(&self.look, self.depth).into_bytes()),
            Form::Json => self.found.json(self.depth.explains()),
            Form::Csv => self.found.csv(&self.look),
        }
    }

    /// The same answer shown otherwise, without asking again: so many columns wide, down to this depth.
    #[must_use]
    pub fn shown(mut self, columns: usize, depth: Depth) -> Answer {
        (self.look.columns, self.depth) = (columns, depth);
        self
    }

    /// A message for the reader besides this form of the answer, or besides its files.
    #[must_use]
    pub fn word(&self, form: Option<Form>) -> Option<&'static str> {
        self.found.word(form)
    }

    /// The files that go with it: a drawing, a spreadsheet.
    #[must_use]
    pub fn files(&self) -> Vec<File<'_>> {
        self.found.files(&self.look)
    }
}

/// Answers a question in memory, without a clock or a limit.
///
/// ```
/// use stepoff::answer::{Form, Question, What, ask};
/// use stepoff::key;
///
/// let mut question = Question::of(What::Rafter { drawing: false });
/// question.set.push((key!("building.span"), "24ft".to_owned()));
/// question.set.push((key!("roof.pitch"), "6/12".to_owned()));
/// let answer = ask(&question).unwrap();
/// let json = String::from_utf8(answer.write(Form::Json).unwrap()).unwrap();
/// assert!(json.contains("\"run_in\": 144.0"));
/// ```
///
/// # Errors
/// Every fault of the input, each with its place and what to write instead.
pub fn ask(question: &Question) -> Result<Answer, NoAnswer> {
    ask_for(question, &Nobody)
}

/// Answers a question for a caller that waits: `asker` has the clock, says when to stop, and gets the
/// progress.
///
/// # Errors
/// As [`ask`]; or that it was stopped before it had anything to show.
pub fn ask_for(question: &Question, asker: &dyn Asker) -> Result<Answer, NoAnswer> {
    let mut inputs = question.inputs();
    let written = match &question.what {
        What::Sheathing(asked) if question.roofs.is_empty() => asked.units(),
        _ => inputs[0].units(),
    };
    if let What::Cuts { list: Some(list) } = &question.what {
        let prices = question.prices.as_ref();
        let (look, found) = cuts::of_list(list, &inputs[0], &question.look, prices, asker)?;
        return Ok(Answer { found: Box::new(found), look, depth: question.depth });
    }
    let look = question.look.look(written)?;
    inputs
        .iter()
        .try_for_each(|input| beyond::refuse_what_is_not_a_gable(&question.what, input))?;
    let input = &inputs[0];
    let found: Box<dyn Found> = match &question.what {
        What::Order => Box::new(order::find(inputs, question.prices()?, &look, asker)?),
        What::Prices => Box::new(prices::find(inputs, question.prices()?, asker)?),
        What::Cuts { .. } => Box::new(cuts::of_roofs(inputs, question.prices()?, &look, asker)?),
        _ if inputs.len() > 1 => {
            return Err(NoAnswer::from(Refused::of_flag(
                "FILE",
                &question.roofs[1].name,
                "this is answered for one roof at a time",
                "name one roof file",
            )));
        }
        What::Square { rises } => Box::new(square::find(rises)?),
        What::Spans(asked) => Box::new(spans::find(asked)?),
        What::Rafter { drawing } => Box::new(rafter::find(input, &look, *drawing)?),
        What::Eave { measured, measured_to } => Box::new(eave::find(input, measured, measured_to)?),
        What::Ties => Box::new(ties::find(input)?),
        What::Frame => frame::find(input)?,
        What::Layout => Box::new(layout::find(input)?),
        What::Check { walkthrough } => Box::new(check::find(input, *walkthrough)?),
        What::Measured => Box::new(measured::find(input)?),
        What::Effect { by } => Box::new(effect::find(input, &look, by.as_deref())?),
        What::Prove { readings, readings_b } => {
            let readings = [readings.as_deref(), readings_b.as_deref()];
            Box::new(prove::find(input, &look, readings)?)
        }
        What::Fit => fit::find(input, &look)?,
        What::Sheathing(asked) => {
            sheathing::find(inputs.swap_remove(0), asked, question.depth.explains(), asker)?
        }
        What::Compare(asked) => {
            Box::new(compare::find(input, question.prices()?, asked, &look, asker)?)
        }
        What::Sheets(asked) => {
            Box::new(sheets::find(inputs.swap_remove(0), question.prices()?, asked, &look, asker)?)
        }
        What::Export { to, unit } => {
            Box::new(export::find(inputs.swap_remove(0), *to, *unit, asker)?)
        }
    };
    Ok(Answer { found, look, depth: question.depth })
}
