//! What several test modules need: plans from flags, repository paths.

use std::path::PathBuf;

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
        entries.add_flag(key, Some(text));
    }
    entries
}

/// The pattern rafter of these fields.
#[track_caller]
pub(crate) fn rafter(fields: &[(&'static str, String)]) -> CommonRafter {
    let plan = RafterPlan::read(&entries(fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    CommonRafter::build(&plan).unwrap_or_else(|why| panic!("{why:?}"))
}
