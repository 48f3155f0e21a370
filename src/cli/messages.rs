//! Messages on stderr, unless `--quiet` silences them. Faults are always printed.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};

static QUIET: AtomicBool = AtomicBool::new(false);

/// Silences all messages from now on.
pub(super) fn silence() {
    QUIET.store(true, Ordering::Relaxed);
}

/// Prints one line on stderr, unless messages are silenced.
pub(super) fn tell(line: &str) {
    if !QUIET.load(Ordering::Relaxed) {
        // a message, not a result: nothing is lost if nobody reads it
        let _ = writeln!(io::stderr(), "{line}");
    }
}

/// Prints a fault, even if messages are silenced.
pub(super) fn fault(text: &str) {
    // there is nothing left to do if stderr itself is closed
    let _ = io::stderr().write_all(text.as_bytes());
}

/// True if stderr shows color: a terminal, unless `NO_COLOR` is set.
pub(super) fn in_color() -> bool {
    io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// True if stderr is a terminal and messages are not silenced: then progress and hints are shown.
pub(super) fn somebody_watches() -> bool {
    !QUIET.load(Ordering::Relaxed) && io::stderr().is_terminal()
}
