//! The one place where files are read: plain files or standard input, up to a limit, and text without control characters.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::answer::{Refused, Source};
use crate::plan::text::Control;
use crate::plan::{Fault, Faults, Place};

use super::files::is_stdout as is_stdin;
use super::output::Failure;

/// What a file is, which limits its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kept {
    /// A roof file or a price file: TOML, written by hand.
    Written,
    /// A list of pieces, which another program may have written.
    List,
}

impl Kept {
    /// Most bytes.
    pub(super) fn most(self) -> u64 {
        match self {
            Kept::Written => 1 << 20,
            Kept::List => 64 << 20,
        }
    }

    /// The refusal of a file of this size.
    pub(super) fn too_large(self, path: &Path, bytes: u64) -> Failure {
        let limit = match self {
            Kept::Written => "a TOML file has at most 1 MiB",
            Kept::List => "a cut list has at most 64 MiB",
        };
        Failure::file(
            named(path).as_ref(),
            "read",
            &format!("{limit}, and this has more ({})", size(bytes)),
        )
    }
}

/// Reads a text file; `-` is standard input.
///
/// # Errors
/// A file that is not a plain file, is larger than its kind may be, is not UTF-8, or has control
/// characters.
pub(super) fn text(path: &Path, kept: Kept) -> Result<String, Failure> {
    let refuse = |why: &str| Failure::file(named(path).as_ref(), "read", &why);
    let broken = |error: &io::Error| match error.kind() {
        io::ErrorKind::NotFound => refuse(
            "there is no such file; check its name and folder (stepoff start writes a roof file, stepoff prices a prices file)",
        ),
        io::ErrorKind::PermissionDenied => {
            refuse("you are not allowed to read it; change its permissions or copy it")
        }
        _ => Failure::file(named(path).as_ref(), "read", error),
    };
    let most = kept.most();
    let mut bytes = Vec::new();
    if is_stdin(path) {
        static READ: AtomicBool = AtomicBool::new(false);
        if READ.swap(true, Ordering::Relaxed) {
            return Err(refuse("it can be read only once; name a file for one of the two"));
        }
        io::stdin()
            .lock()
            .take(most + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| broken(&error))?;
    } else {
        // check before opening: opening a pipe that nobody writes to would wait forever
        let found = std::fs::metadata(path).map_err(|error| broken(&error))?;
        if found.is_dir() {
            return Err(refuse("it is a folder; name a file"));
        }
        if !found.is_file() {
            return Err(refuse(
                "name a plain file, or - to read standard input; this is a device or a pipe",
            ));
        }
        if found.len() > most {
            return Err(kept.too_large(path, found.len()));
        }
        File::open(path)
            .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
            .map_err(|error| broken(&error))?;
    }
    if bytes.len() as u64 > most {
        return Err(kept.too_large(path, bytes.len() as u64));
    }
    let text = decoded(bytes).map_err(|why| refuse(&why))?;
    match Control::first_in_file(&text) {
        None => Ok(text),
        Some(control) => {
            let place = Place::File(control.span.clone());
            let faults = Faults::from(Fault::new(place, control.message(), control.help()));
            let file = Some(Source { name: named(path), text });
            Err(Refused { faults, file }.into())
        }
    }
}

/// Checks the command line before any of it is printed.
///
/// # Errors
/// If it has a control character; line ends and tabs are read as spaces.
pub(super) fn arguments() -> Result<(), Failure> {
    for (number, argument) in std::env::args_os().enumerate().skip(1) {
        let text = argument.to_string_lossy();
        if let Some(control) = Control::first_in_file(&text) {
            let place = Place::Missing { key: "", flag: None };
            let message = format!("{} in argument {number}, {text:?}", control.message());
            let fault = Fault::new(place, message, control.help());
            return Err(Refused::of(Faults::from(fault)).into());
        }
    }
    Ok(())
}

/// The file's name for messages.
pub(super) fn named(path: &Path) -> String {
    if is_stdin(path) { "standard input".to_owned() } else { path.display().to_string() }
}

/// The text of UTF-8 bytes, without the byte order mark that some editors write.
fn decoded(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err("save it as UTF-8; this is UTF-16".into());
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(match text.strip_prefix('\u{feff}') {
            Some(rest) => rest.to_owned(),
            None => text,
        }),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let line = 1 + error.as_bytes()[..good].iter().filter(|&&byte| byte == b'\n').count();
            Err(format!("save it as a text file in UTF-8; line {line} has a byte that is not"))
        }
    }
}

/// A size for people.
fn size(bytes: u64) -> String {
    format!("{:.1} MiB", bytes as f64 / (1 << 20) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_utf_8_with_or_without_a_mark() {
        assert_eq!(decoded(b"a = 1".to_vec()).unwrap(), "a = 1");
        assert_eq!(decoded("\u{feff}a = 1".into()).unwrap(), "a = 1");
        assert!(decoded(vec![0xff, 0xfe, b'a', 0]).unwrap_err().contains("UTF-16"));
        let why = decoded(b"a = 1\nb = \"26\xb0\"".to_vec()).unwrap_err();
        assert!(why.contains("line 2"), "{why}");
    }
}
