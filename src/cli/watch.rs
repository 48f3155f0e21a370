//! The caller at the terminal: a clock, its limit if one is set, Ctrl-C, and the progress line.

use std::fmt::Arguments;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crate::answer::{self, Answer, Asker, Question, Stage};

use super::output::Failure;
use super::progress::Progress;

static INTERRUPTED: AtomicBool = AtomicBool::new(false);

/// The caller at a terminal.
struct Terminal {
    start: Instant,
    limit: Option<Duration>,
    line: Progress,
}

impl Asker for Terminal {
    fn stops(&self) -> bool {
        INTERRUPTED.load(Ordering::Relaxed)
            || self.limit.is_some_and(|limit| self.start.elapsed() >= limit)
    }

    fn sets_limit(&self) -> bool {
        self.limit.is_some()
    }

    fn seconds(&self) -> Option<f64> {
        Some(self.start.elapsed().as_secs_f64())
    }

    fn hears(&self, stage: Stage, how_far: Arguments<'_>) {
        let doing = match stage {
            Stage::Laying => "laying the deck; Ctrl-C takes it as it is",
            Stage::Cutting => "cutting; Ctrl-C takes it as it is",
            Stage::Comparing => "comparing; Ctrl-C stops",
        };
        self.line.say(doing, how_far);
    }
}

/// Asks a question that may take long: it stops after `limit`, without one after a fixed amount of work, or at
/// Ctrl-C; a second Ctrl-C ends the program.
pub(super) fn ask(question: &Question, limit: Option<Duration>) -> Result<Answer, Failure> {
    static HANDLER: OnceLock<()> = OnceLock::new();
    HANDLER.get_or_init(|| {
        // without the handler Ctrl-C ends the program at once, as ever
        let _ = ctrlc::set_handler(|| {
            if INTERRUPTED.swap(true, Ordering::Relaxed) {
                std::process::exit(130);
            }
        });
    });
    let terminal = Terminal { start: Instant::now(), limit, line: Progress::start("", None) };
    Ok(answer::ask_for(question, &terminal)?)
}

/// The value of `--time-limit`.
pub(super) fn time_limit(text: Option<&String>) -> Result<Option<Duration>, Failure> {
    let Some(text) = text else { return Ok(None) };
    text.trim()
        .trim_end_matches('s')
        .trim()
        .parse::<f64>()
        .ok()
        .filter(|seconds| *seconds > 0.0 && *seconds <= 86_400.0)
        .map(|seconds| Some(Duration::from_secs_f64(seconds)))
        .ok_or_else(|| {
            Failure::of_flag(
                "--time-limit",
                text,
                "this is no time to wait",
                "write seconds above 0, at most 86400",
            )
        })
}
