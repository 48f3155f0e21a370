//! Flags that take one of a few words.

use clap::ValueEnum;
use clap::builder::PossibleValue;

/// A word of a flag, with the value it stands for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice<T> {
    /// The value.
    pub(super) value: T,
    word: &'static str,
    about: &'static str,
}

impl<T> Choice<T> {
    /// A word, and its help text.
    pub(super) const fn new(value: T, word: &'static str, about: &'static str) -> Choice<T> {
        Choice { value, word, about }
    }
}

/// What is chosen by a word.
pub(super) trait Chosen: Clone + Send + Sync + 'static {
    /// Every word.
    fn choices() -> &'static [Choice<Self>];
}

/// Gives a type its words, one on each line, with the help text of each.
macro_rules! choices {
    ($of:ty: $($value:expr => $word:literal $about:literal;)*) => {
        impl $crate::cli::choice::Chosen for $of {
            fn choices() -> &'static [$crate::cli::choice::Choice<$of>] {
                const ALL: &[$crate::cli::choice::Choice<$of>] =
                    &[$($crate::cli::choice::Choice::new($value, $word, $about)),*];
                ALL
            }
        }
    };
}
pub(super) use choices;

impl<T: Chosen> ValueEnum for Choice<T> {
    fn value_variants<'a>() -> &'a [Self] {
        T::choices()
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        let value = PossibleValue::new(self.word);
        Some(if self.about.is_empty() { value } else { value.help(self.about) })
    }
}
