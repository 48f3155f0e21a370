//! The progress line: on stderr, for people who wait longer than a second.

use std::fmt::Arguments;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::messages;

/// A shorter job shows no line.
const SHOWN_AFTER: Duration = Duration::from_secs(1);

/// A line with the progress of a long job. It appears after a second, only if stderr is a terminal and
/// without `--quiet`, and is erased when the value is dropped.
///
/// Several threads may report steps to it.
#[derive(Debug)]
pub(super) struct Progress {
    bar: ProgressBar,
    waits: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Begins a job, such as `laying the deck`; `steps` if their number is known.
    pub(super) fn start(what: &'static str, steps: Option<u64>) -> Progress {
        let bar = ProgressBar::with_draw_target(steps, ProgressDrawTarget::hidden());
        if !messages::somebody_watches() {
            return Progress { bar, waits: None };
        }
        let template = match steps {
            Some(_) => "{spinner} {prefix}: {pos} of {len} {bar:20} {wide_msg}",
            None => "{spinner} {prefix}: {elapsed} {wide_msg}",
        };
        // the template is a constant: if it were wrong, the plain bar would be used
        let style = ProgressStyle::with_template(template)
            .unwrap_or_else(|_| ProgressStyle::default_bar())
            .tick_chars("|/-\\ ")
            .progress_chars("=>.");
        bar.set_style(style);
        bar.set_prefix(what);
        let (done, told) = mpsc::channel::<()>();
        let shown = bar.clone();
        let thread = thread::spawn(move || {
            if told.recv_timeout(SHOWN_AFTER) == Err(RecvTimeoutError::Timeout) {
                shown.set_draw_target(ProgressDrawTarget::stderr());
                shown.enable_steady_tick(Duration::from_millis(120));
            }
        });
        Progress { bar, waits: Some((done, thread)) }
    }

    /// One step more is done.
    pub(super) fn step(&self) {
        self.bar.inc(1);
    }

    /// What is being done now, and how far it is.
    pub(super) fn say(&self, what: &'static str, how_far: Arguments<'_>) {
        if self.waits.is_some() {
            self.bar.set_prefix(what);
            self.bar.set_message(how_far.to_string());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((done, thread)) = self.waits.take() {
            drop(done);
            // the thread returns nothing; if it failed, only the line is missing
            let _ = thread.join();
        }
        self.bar.finish_and_clear();
    }
}
