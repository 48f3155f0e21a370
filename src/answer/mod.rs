//! One question in, one answer out: the whole engine behind one call.
//!
//! A [`Question`] holds what is asked, the text of the roof file and what overrides it; [`ask`] reads, frames, checks and gives an
//! [`Answer`], which writes itself as the text of a terminal, as JSON or as CSV. Command line and page are readers of answers.
//! Nothing here touches files, clock, environment or terminal: what a long search needs of them is handed in.

mod check;
mod eave;
mod effect;
mod faults;
mod fit;
mod forms;
mod found;
mod frame;
mod input;
mod layout;
mod look;
mod measured;
mod prove;
mod question;
mod rafter;
mod refused;
mod source;
mod spans;
mod square;
mod status;
mod ties;

pub use forms::{Form, NotWritten, csv, json};
pub use found::Found;
pub use frame::{Held, framed, held};
pub use input::Input;
pub use look::{LookAsked, step};
pub use question::{Question, What};
pub use refused::Refused;
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

    /// What a reader has to be told beside this form of the answer.
    #[must_use]
    pub fn word(&self, form: Form) -> Option<&'static str> {
        self.found.word(form)
    }

    /// The drawing that goes with it, if there is one.
    #[must_use]
    pub fn drawing(&self) -> Option<crate::sheet::Drawing> {
        self.found.drawing(&self.look)
    }
}

/// Answers a question.
///
/// # Errors
/// Every fault of what was written, each with its place and what to write instead.
pub fn ask(question: &Question) -> Result<Answer, Refused> {
    let input = Input::of(&question.set, question.roof.clone());
    let look = question.look.look(input.units())?;
    let found: Box<dyn Found> = match &question.what {
        What::Square { rises } => Box::new(square::find(rises)?),
        What::Spans(asked) => Box::new(spans::find(asked)?),
        What::Rafter { drawing } => Box::new(rafter::find(&input, &look, *drawing)?),
        What::Eave { measured, measured_to } => {
            Box::new(eave::find(&input, measured, measured_to)?)
        }
        What::Ties => Box::new(ties::find(&input)?),
        What::Frame => Box::new(frame::find(&input)?),
        What::Layout => Box::new(layout::find(&input)?),
        What::Check { walkthrough } => Box::new(check::find(&input, *walkthrough)?),
        What::Measured => Box::new(measured::find(&input)?),
        What::Effect { by } => Box::new(effect::find(&input, &look, by.as_deref())?),
        What::Prove { readings } => Box::new(prove::find(&input, &look, readings.as_deref())?),
        What::Fit => fit::find(&input, &look)?,
    };
    Ok(Answer { found, look, depth: question.depth })
}
