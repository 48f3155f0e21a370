//! Cutting plans with the clock, Ctrl-C and the progress line in hand.

use crate::order::cutting::{Control, CuttingProblem, Progress};

use super::progress;
use super::watch::Stopwatch;

/// Runs a solve of `problem` with the clock, Ctrl-C and the progress line in hand.
pub(super) fn controlled<T>(
    problem: &CuttingProblem,
    watch: Stopwatch,
    solve: impl FnOnce(&Control<'_>) -> T,
) -> T {
    let stop = || watch.stopped();
    let line = progress::Progress::start("cutting; Ctrl-C takes it as it is", None);
    let priced = problem.stock.iter().any(|s| s.price_cents.is_some());
    let tell = |progress: &Progress| {
        line.say(match progress.best {
            Some(best) if priced && best > 0 => {
                let percent = 100.0 * (best - progress.bound) as f64 / best as f64;
                format!("best plan at most {percent:.3} % too dear")
            }
            Some(_) => "a plan is found".into(),
            None => "no plan yet".into(),
        });
    };
    solve(&Control::new(&stop, &tell))
}
