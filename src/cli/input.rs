//! Turns the flags and files of a command into the engine's input.

use std::path::{Path, PathBuf};

use crate::answer::{Question, Source, What};
use crate::plan::Key;

use super::files::is_stdout as is_stdin;
use super::output::{Failure, OutputArgs};
use super::reader::{self, Kept};

/// A file's text that was written by hand.
pub(super) fn roof(path: &Path) -> Result<Source, Failure> {
    Ok(Source { name: reader::named(path), text: reader::text(path, Kept::Written)? })
}

/// The texts of roof files that are ordered together; reports all that can't be read at once.
pub(super) fn roofs(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    refuse_twice(paths)?;
    let (mut sources, mut failures) = (Vec::new(), Vec::new());
    for path in paths {
        match roof(path) {
            Ok(source) => sources.push(source),
            Err(failure) => failures.push(failure),
        }
    }
    if failures.is_empty() { Ok(sources) } else { Err(Failure::Several(failures)) }
}

/// Refuses a file named twice: it would be ordered twice under two letters.
pub(super) fn refuse_twice(paths: &[PathBuf]) -> Result<(), Failure> {
    let same = |path: &PathBuf| {
        if is_stdin(path) { path.clone() } else { path.canonicalize().unwrap_or(path.clone()) }
    };
    let named: Vec<PathBuf> = paths.iter().map(same).collect();
    match (1..named.len()).find(|place| named[..*place].contains(&named[*place])) {
        Some(place) => Err(Failure::of_flag(
            "FILE",
            &paths[place].display().to_string(),
            "this file is named twice",
            "name it once; for equal buildings set order.buildings in the roof file",
        )),
        None => Ok(()),
    }
}

/// The text of a prices file, if one is named.
pub(super) fn prices(path: Option<&PathBuf>) -> Result<Option<Source>, Failure> {
    path.map(|path| roof(path)).transpose()
}

/// The flags that were given, by field.
pub(super) fn given(flags: &[(Key, Option<&str>)]) -> Vec<(Key, String)> {
    flags.iter().filter_map(|(key, text)| Some((*key, (*text)?.to_owned()))).collect()
}

/// The question of a command.
pub(super) fn question(
    what: What,
    set: Vec<(Key, String)>,
    file: Option<&PathBuf>,
    output: &OutputArgs,
) -> Result<Question, Failure> {
    Ok(Question {
        roofs: file.map(|path| roof(path)).transpose()?.into_iter().collect(),
        set,
        look: output.look_asked(),
        depth: output.depth(),
        ..Question::of(what)
    })
}
