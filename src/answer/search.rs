//! The long searches. This is the one place where an [`Asker`] becomes what deck, saw and comparison
//! take.

use std::cell::Cell;

use crate::compare::{Ask, Comparison, Hold, Stage as Step, Sweep, compare};
use crate::deck::{Deck, DeckAsk, DeckFault, LowerStrip, Progress, Watch, lay, lower_strips};
use crate::order::Prices;
use crate::order::cutting::{self, Control, CuttingProblem};
use crate::sheet::Look;
use crate::sheet::compare_measures::bound_words;

use super::{Asker, NoAnswer, Stage};

/// How often the search of a deck may ask whether to stop if the caller sets no limit: at least ten seconds
/// of work. The decks of the tests ask at most 11,000 times until they are proven.
const MOST_ASKS: usize = 20_000;

/// Steps that the search of a cutting plan may take if the caller sets no limit: some ten seconds of work where
/// the program is optimized. The lists in tests/data/cutting are proven within it.
const MOST_STEPS: u64 = 10_000_000_000;

/// Says when a search has to stop: when the caller says so, or after a fixed count if it sets no limit.
fn enough(asker: &dyn Asker) -> impl Fn() -> bool {
    let left = Cell::new((!asker.sets_limit()).then_some(MOST_ASKS));
    move || match left.get() {
        Some(0) => true,
        Some(asks) => {
            left.set(Some(asks - 1));
            asker.stops()
        }
        None => asker.stops(),
    }
}

/// Lays a deck.
pub(super) fn laid(ask: &DeckAsk, asker: &dyn Asker) -> Result<Deck, Vec<DeckFault>> {
    let hears = |progress: Progress| {
        if progress.sheets < usize::MAX {
            let (found, least) = (progress.sheets, progress.lower_bound_sheets);
            asker.hears(
                Stage::Laying,
                format_args!("{found} sheets found, at least {least} needed"),
            );
        }
    };
    asker.hears(Stage::Laying, format_args!(""));
    lay(ask, &Watch { stop: &enough(asker), progress: &hears })
}

/// Lays a deck again with narrower strips.
pub(super) fn lower(ask: &DeckAsk, deck: &Deck, asker: &dyn Asker) -> Vec<LowerStrip> {
    lower_strips(ask, deck, &Watch { stop: &enough(asker), progress: &|_| () })
}

/// Runs a solve of `problem`.
pub(super) fn cut<T>(
    problem: &CuttingProblem,
    asker: &dyn Asker,
    solve: impl FnOnce(&Control<'_>) -> T,
) -> T {
    let priced = problem.stock.iter().any(|stock| stock.price_cents.is_some());
    let hears = |progress: &cutting::Progress| {
        let says = |words| asker.hears(Stage::Cutting, words);
        match progress.best {
            Some(best) if priced && best > 0 => {
                let percent = 100.0 * (best - progress.bound) as f64 / best as f64;
                says(format_args!("best plan at most {percent:.3} % too dear"));
            }
            Some(_) => says(format_args!("a plan is found")),
            None => says(format_args!("no plan yet")),
        }
    };
    asker.hears(Stage::Cutting, format_args!(""));
    let stop = || asker.stops();
    let control = Control::new(&stop, &hears);
    if asker.sets_limit() { solve(&control) } else { control.part(MOST_STEPS, solve) }
}

/// Compares the roofs of a sweep. It counts its own work, so without a clock it runs to its end.
pub(super) fn compared(
    sweep: &Sweep,
    prices: Option<&Prices>,
    ask: Ask,
    look: &Look,
    asker: &dyn Asker,
) -> Result<Comparison, NoAnswer> {
    let told = |step: &Step, done: usize| {
        // most steps are short: a word now and then is enough
        if !done.is_multiple_of(64) && step.of >= 1000 {
            return;
        }
        let best = step.best.map_or_else(String::new, |(rank, best)| {
            format!(", best so far {}", bound_words(rank, best, look))
        });
        asker.hears(Stage::Comparing, format_args!("{done} of {} {}{best}", step.of, step.what));
    };
    asker.hears(Stage::Comparing, format_args!(""));
    let hold = Hold { stop: &|| asker.stops(), told: &told };
    compare(sweep, prices, ask, &hold).map_err(|stopped| {
        NoAnswer::Stopped(format!(
            "stopped after {} of {} {}: nothing is shown and no file was written",
            stopped.done, stopped.stage.of, stopped.stage.what
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::Nobody;

    #[test]
    fn a_search_ends_by_count_unless_the_asker_sets_a_limit() {
        struct Patient;
        impl Asker for Patient {
            fn sets_limit(&self) -> bool {
                true
            }
        }
        let asks = |asker: &dyn Asker| {
            let enough = enough(asker);
            (0..2 * MOST_ASKS).position(|_| enough())
        };
        assert_eq!(asks(&Nobody), Some(MOST_ASKS));
        assert_eq!(asks(&Patient), None);
    }
}
