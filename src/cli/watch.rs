//! When a long computation has to stop: its time is up, or Ctrl-C was pressed.

use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::output::Failure;

static INTERRUPTED: AtomicBool = AtomicBool::new(false);

/// A clock with a limit, that Ctrl-C stops as well; the second Ctrl-C ends the program.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stopwatch {
    start: Instant,
    limit: Duration,
}

impl Stopwatch {
    /// Starts the clock.
    pub(super) fn start(limit: Duration) -> Stopwatch {
        static HANDLER: OnceLock<()> = OnceLock::new();
        HANDLER.get_or_init(|| {
            // without the handler Ctrl-C ends the program at once, as ever
            let _ = ctrlc::set_handler(|| {
                if INTERRUPTED.swap(true, Ordering::Relaxed) {
                    std::process::exit(130);
                }
            });
        });
        Stopwatch { start: Instant::now(), limit }
    }

    /// Whether to stop now.
    pub(super) fn stopped(&self) -> bool {
        INTERRUPTED.load(Ordering::Relaxed) || self.elapsed() >= self.limit
    }

    /// Time since the start.
    pub(super) fn elapsed(&self) -> Duration {
        self.start.elapsed()
    }
}

/// The value of `--time-limit`.
pub(super) fn time_limit(text: &str) -> Result<Duration, Failure> {
    text.trim()
        .trim_end_matches('s')
        .trim()
        .parse::<f64>()
        .ok()
        .filter(|seconds| *seconds > 0.0 && *seconds <= 86_400.0)
        .map(Duration::from_secs_f64)
        .ok_or_else(|| {
            Failure::of_flag(
                "--time-limit",
                text,
                "this is no time to wait",
                "write seconds above 0, at most 86400",
            )
        })
}
