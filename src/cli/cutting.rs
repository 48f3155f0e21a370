//! Cutting plans with the clock, Ctrl-C and the progress line in hand.

use crate::answer::Input;
use crate::frame::Frame;
use crate::measure::Units;
use crate::order::cutting::{Control, CuttingProblem, NoPlan, Progress};
use crate::order::{Prices, SectionAsk, SectionOrder, lumber};
use crate::plan::{Fault, Faults, OrderPlan, Place};

use super::output::Failure;
use super::progress;
use super::watch::Stopwatch;

/// Cuts every section of the frame.
pub(super) fn cut(
    frame: &Frame,
    plan: &OrderPlan,
    prices: Option<&Prices>,
    units: Units,
    watch: Stopwatch,
    input: &Input,
) -> Result<Vec<SectionOrder>, Failure> {
    let none = Prices::default();
    lumber::asks(frame, &plan.buy, prices.unwrap_or(&none), units)
        .into_iter()
        .map(|ask| {
            let title = ask.section.write(units);
            controlled(ask.problem(), watch, |control| SectionAsk::solve(ask.clone(), control))
                .map_err(|why| input.refused(cannot_cut(&title, why)).into())
        })
        .collect()
}

fn cannot_cut(title: &str, why: NoPlan) -> Faults {
    let place = || Place::Missing { key: "order.lengths", flag: None };
    match why {
        NoPlan::Faults(faults) => faults
            .into_iter()
            .map(|fault| Fault::new(place(), format!("{title}: {}", fault.message), fault.help))
            .collect(),
        NoPlan::NotEnoughStock { .. } => Faults::from(Fault::new(
            place(),
            format!("{title}: the sticks on hand do not suffice for all pieces"),
            "name more lengths that can be bought under [order] lengths or in the prices file, or leave on_hand blank there",
        )),
    }
}

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
