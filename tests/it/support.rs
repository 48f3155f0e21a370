//! What several test modules need: plans from flags, repository paths.

use std::path::PathBuf;
use std::process::{Command, Output};
use std::sync::atomic::{AtomicU32, Ordering};

use stepoff::frame::CommonRafter;
use stepoff::plan::{Entries, RafterPlan};

/// A file of the repository.
pub(crate) fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// The text of a file of the repository.
pub(crate) fn text(name: &str) -> String {
    std::fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The entries of a plan, by field key.
pub(crate) fn entries(fields: &[(&'static str, String)]) -> Entries {
    let mut entries = Entries::default();
    for (key, text) in fields {
        entries.add_flag(stepoff::plan::Key::of(key).unwrap(), Some(text));
    }
    entries
}

/// The pattern rafter of these fields.
#[track_caller]
pub(crate) fn rafter(fields: &[(&'static str, String)]) -> CommonRafter {
    let plan = RafterPlan::read(&entries(fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    CommonRafter::build(&plan).unwrap_or_else(|why| panic!("{why:?}"))
}

/// The program with these arguments, run at the root of the repository.
pub(crate) fn stepoff(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(arguments)
        .current_dir(path(""))
        .output()
        .unwrap()
}

/// A file with this text, removed when the value is dropped.
pub(crate) struct File(PathBuf);

impl File {
    pub(crate) fn new(name: &str, text: &str) -> File {
        // tests run at the same time, so each file needs its own name
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let file =
            std::env::temp_dir().join(format!("stepoff-{}-{number}-{name}", std::process::id()));
        std::fs::write(&file, text).unwrap();
        File(file)
    }

    pub(crate) fn name(&self) -> &str {
        self.0.to_str().unwrap()
    }
}

impl Drop for File {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}
