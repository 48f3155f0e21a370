//! The order in which a frame goes up: the rows of `erection.csv`.

/// What is said at a step.
struct Words {
    title: &'static str,
    say: &'static str,
    caution: Option<&'static str>,
}

// Step, and WORDS in the same order
include!(concat!(env!("OUT_DIR"), "/erection.rs"));

impl Step {
    fn row(self) -> &'static Words {
        &WORDS[self as usize]
    }

    /// Its title.
    #[must_use]
    pub fn title(self) -> &'static str {
        self.row().title
    }

    /// What to do.
    #[must_use]
    pub fn say(self) -> &'static str {
        self.row().say
    }

    /// What to brace while the frame can still move; `None` if the step adds no danger.
    #[must_use]
    pub fn caution(self) -> Option<&'static str> {
        self.row().caution
    }
}
