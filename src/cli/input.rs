//! What the flags and the files of a command say, as the engine takes it.

use std::path::{Path, PathBuf};

use crate::answer::{Input, Question, Source, What};
use crate::plan::Key;

use super::output::{Failure, OutputArgs};
use super::reader::{self, Kept};

/// The flags by field key, those left out with nothing.
pub(super) type Flags<'a> = [(Key, Option<&'a str>)];

/// A roof file's text.
pub(super) fn roof(path: &Path) -> Result<Source, Failure> {
    Ok(Source { name: reader::named(path), text: reader::text(path, Kept::Written)? })
}

/// Takes in flags, then the roof file if one is named; a flag overrides the file.
pub(super) fn read(flags: &Flags<'_>, path: Option<&PathBuf>) -> Result<Input, Failure> {
    Ok(Input::of(&set(flags), path.map(|path| roof(path)).transpose()?))
}

/// The flags that were given.
pub(super) fn set(flags: &Flags<'_>) -> Vec<(Key, String)> {
    let given = |(key, text): &(Key, Option<&str>)| Some((*key, (*text)?.to_owned()));
    flags.iter().filter_map(given).collect()
}

/// The question of a command.
pub(super) fn question(
    what: What,
    flags: &Flags<'_>,
    file: Option<&PathBuf>,
    output: &OutputArgs,
) -> Result<Question, Failure> {
    Ok(Question {
        what,
        roof: file.map(|path| roof(path)).transpose()?,
        set: set(flags),
        look: output.look_asked(),
        depth: output.depth(),
    })
}
