//! Messages on stderr: told unless `--quiet` asks for silence. Faults are no messages, they are always told.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};

static QUIET: AtomicBool = AtomicBool::new(false);

/// From here on no message is told.
pub(super) fn silence() {
    QUIET.store(true, Ordering::Relaxed);
}

/// Tells one line on stderr, unless messages are silenced.
pub(super) fn tell(line: &str) {
    if !QUIET.load(Ordering::Relaxed) {
        // a message, not a result: nothing is lost if nobody reads it
        let _ = writeln!(io::stderr(), "{line}");
    }
}

/// Tells a fault, whether messages are silenced or not.
pub(super) fn fault(text: &str) {
    // nothing is left to be done if stderr itself is closed
    let _ = io::stderr().write_all(text.as_bytes());
}

/// True if stderr shows color: a terminal, unless `NO_COLOR` is set.
pub(super) fn in_color() -> bool {
    io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// True if somebody sits before stderr and wants to be told what goes on: then progress and hints are shown.
pub(super) fn somebody_watches() -> bool {
    !QUIET.load(Ordering::Relaxed) && io::stderr().is_terminal()
}
