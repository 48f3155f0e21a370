//! Flags that set a field of the roof file; their names come from the table of fields.

use std::marker::PhantomData;

use clap::{Arg, ArgMatches, Command, Error};

use crate::plan::{Key, Kind};

/// A flag of a field: the name of its value, and its help text.
pub(super) struct FieldFlag {
    pub(super) key: Key,
    pub(super) value: &'static str,
    pub(super) help: &'static str,
}

impl FieldFlag {
    /// Its name without dashes.
    fn long(&self) -> &'static str {
        let field = self.key.field();
        field.flag.unwrap_or(field.key).trim_start_matches('-')
    }

    fn arg(&self, heading: &'static str) -> Arg {
        Arg::new(self.key.name())
            .long(self.long())
            .value_name(self.value)
            .help(self.help)
            .help_heading(Some(heading).filter(|heading| !heading.is_empty()))
            .allow_hyphen_values(self.key.field().kind == Kind::SignedLength)
    }
}

/// Makes the type of a command's flags: the heading in the help, then one flag on each line.
macro_rules! flags {
    ($of:ident $heading:literal: $($key:literal: $value:literal $help:literal;)*) => {
        #[derive(Debug)]
        pub(super) struct $of;

        impl $crate::cli::fields::FlagsOf for $of {
            const HEADING: &'static str = $heading;
            const FLAGS: &'static [$crate::cli::fields::FieldFlag] = &[$(
                $crate::cli::fields::FieldFlag { key: $crate::key!($key), value: $value, help: $help }
            ),*];
        }
    };
}
pub(super) use flags;

/// The flags of fields that a command takes.
pub(super) trait FlagsOf {
    /// The heading in the help; empty for the usual words.
    const HEADING: &'static str;
    /// The flags.
    const FLAGS: &'static [FieldFlag];
}

/// The fields that flags gave a value, as it is written.
#[derive(Debug)]
pub(super) struct Fields<T> {
    set: Vec<(Key, String)>,
    of: PhantomData<T>,
}

impl<T> Fields<T> {
    /// Every value by its field.
    pub(super) fn set(&self) -> Vec<(Key, String)> {
        self.set.clone()
    }
}

impl<T: FlagsOf> clap::Args for Fields<T> {
    fn augment_args(command: Command) -> Command {
        command.args(T::FLAGS.iter().map(|flag| flag.arg(T::HEADING)))
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

impl<T: FlagsOf> clap::FromArgMatches for Fields<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Fields<T>, Error> {
        let given = |flag: &FieldFlag| {
            Some((flag.key, matches.get_one::<String>(flag.key.name())?.clone()))
        };
        Ok(Fields { set: T::FLAGS.iter().filter_map(given).collect(), of: PhantomData })
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}
