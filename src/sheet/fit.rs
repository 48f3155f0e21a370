//! `fit` for one number of the plan, on one page.

use crate::facts::caution;
use crate::facts::datum::Figure;
use crate::facts::record::row;
use crate::fit::{Aim, Answer, Fit, Instead, Mismatch, Proof};
use crate::measure::Note;
use crate::measure::quantity::inches;
use crate::plan::text::toml_text;
use crate::plan::{FitPlan, Quantity, Unknown};

use super::fit_answer::answered;
use super::fit_words::{exact, left, left_on_tape, met, none_or, shown, target};
use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table, fit_working};

/// The caution under every fit.
pub(super) const CAUTION: &str = "What is measured on an existing building is only as good as the measuring: measure at both ends, prove the pattern \
     (stepoff prove) and try one pair before the stack is cut. What an existing roof carries, and how the new one is joined to it, \
     is not decided here.";

/// The caution in two lines.
pub(super) const CAUTION_IN_SHORT: &str = "Measure an existing building at both ends, prove the pattern (stepoff prove) and try one pair before you cut the stack.";

/// The page: the solution, what limits it, the resulting rafter.
#[must_use]
pub fn text(plan: &FitPlan, fits: &[Fit], notes: &[Note], look: &Look, depth: Depth) -> String {
    let name = plan.eave.rafter.name.as_ref().map_or(String::new(), |name| format!("{name}: "));
    let mut page = Page::new(look, depth);
    page.say(&format!("{name}{}", what_is_asked(plan, fits, look)));
    for (number, fit) in fits.iter().enumerate() {
        if number > 0 {
            page.gap();
        }
        page.text(one(plan, fit, look, depth));
        if !fit.answers.is_empty() {
            page.workings(|| {
                let each =
                    fit.answers.iter().map(|answer| fit_working::text(plan, fit, answer, look));
                each.collect::<Vec<_>>().join("\n")
            });
        }
    }
    page.gap();
    if plan.pitch_from_rise {
        let pitch = plan.eave.rafter.pitch;
        page.say(&format!(
            "Write too, under [roof], the pitch of the rise measured: pitch = {}",
            toml_text(&look.writing.pitch_for_file(pitch))
        ));
    }
    page.notes(notes);
    if fits.iter().any(|fit| !fit.answers.is_empty()) {
        page.leaves_out("rules");
    }
    page.used(&plan.eave.rafter.used);
    page.gap();
    page.first(|page| page.say(CAUTION_IN_SHORT));
    page.more("", || wrapped(CAUTION, 2, look));
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

fn what_is_asked(plan: &FitPlan, fits: &[Fit], look: &Look) -> String {
    let unknown = plan.unknown().map_or("", Unknown::words);
    let Some(fit) = fits.first() else {
        return String::new();
    };
    match fit.aim {
        Aim::Meet(_) if fits.len() > 1 => format!(
            "find the {unknown}. It can meet only one of these {} measurements: each is met in turn, and how far the others are off is shown",
            fits.len()
        ),
        Aim::Meet(measured) => {
            format!("find the {unknown} that brings {}", target(plan, measured, look))
        }
        Aim::Largest if fit.unknown == Unknown::Seat => {
            "find the deepest seat that the notch, bearing and tail rules allow".to_owned()
        }
        Aim::Largest => format!("find the largest {unknown} that every cap allows"),
        Aim::NoNarrowRow => {
            format!("find the nearest {unknown} that leaves no narrow row of panels")
        }
    }
}

fn one(plan: &FitPlan, fit: &Fit, look: &Look, depth: Depth) -> String {
    let wrap = |words: Vec<String>| -> String {
        words.iter().map(|words| wrapped(words, 2, look)).collect()
    };
    let mut text = wrap(verdict_and_why(plan, fit, look));
    if fit.has_no_solution() && !fit.instead.is_empty() {
        let rows = fit.instead.iter().map(|instead| InsteadRow::of(instead, look));
        text.push_str(
            &Table::of("What else would do it, by itself", rows, look.writing).text(look),
        );
    }
    text.push_str(&wrap(stretches_and_jumps(fit, look)));
    for (index, answer) in fit.answers.iter().enumerate() {
        text.push('\n');
        text.push_str(&answered(fit, index, answer, look, depth));
    }
    text
}

/// The answer in sentences: what fits, how it stands now, and if nothing fits, why.
#[must_use]
pub fn sentences(plan: &FitPlan, fit: &Fit, look: &Look) -> Vec<String> {
    [verdict_and_why(plan, fit, look), stretches_and_jumps(fit, look)].concat()
}

fn verdict_and_why(plan: &FitPlan, fit: &Fit, look: &Look) -> Vec<String> {
    let mut words = vec![verdict(plan, fit, look)];
    words.extend(as_it_stands(plan, fit, look));
    if fit.has_no_solution() {
        words.extend(why_none(fit, look));
    }
    words
}

fn stretches_and_jumps(fit: &Fit, look: &Look) -> Vec<String> {
    let stretches = fit.stretches.iter().map(|stretch| {
        format!(
            "Every {} from {} to {} meets it.",
            fit.unknown.words(),
            exact(fit.unknown, stretch.from, look),
            exact(fit.unknown, stretch.to, look)
        )
    });
    // a jump explains why there is no solution, not how to get one
    let jumps = fit.jumps.iter().filter(|_| fit.has_no_solution()).map(|jump| {
        format!(
            "At {} the {} jumps from {} to {}: another rule decides the seat or the tail there. No {} gives a value between.",
            exact(fit.unknown, jump.above.0, look),
            met(fit).map_or("measurement", Quantity::words),
            apart(jump.below.1, look),
            apart(jump.above.1, look),
            fit.unknown.words()
        )
    });
    stretches.chain(jumps).collect()
}

fn apart(over_in: f64, look: &Look) -> String {
    let way = if over_in > 0.0 { "too much" } else { "too little" };
    format!("{} {way}", look.writing.exact(inches(over_in.abs())))
}

fn verdict(plan: &FitPlan, fit: &Fit, look: &Look) -> String {
    let unknown = fit.unknown.words();
    let count = fit.answers.len();
    match (fit.aim, count) {
        (Aim::Meet(measured), 0) if !fit.stretches.is_empty() => {
            format!("MANY FIT: more than one {unknown} brings {}.", target(plan, measured, look))
        }
        (Aim::Meet(measured), 0) => {
            format!("NO SOLUTION: no {unknown} brings {}.", target(plan, measured, look))
        }
        (Aim::Meet(measured), 1) => {
            format!(
                "Only one {unknown} fits, {}: it brings {}.",
                to_build(fit, look),
                target(plan, measured, look)
            )
        }
        (Aim::Meet(measured), _) => format!(
            "{count} FIT: each brings {}. The choice is yours.",
            target(plan, measured, look)
        ),
        (Aim::Largest, 0) => format!("NO SOLUTION: no {unknown} keeps every cap."),
        (Aim::Largest, 1) if fit.unknown == Unknown::Seat => {
            format!("The deepest seat that keeps every rule and cap is {}.", to_build(fit, look))
        }
        (Aim::Largest, 1) => {
            format!("The largest {unknown} that keeps every cap is {}.", to_build(fit, look))
        }
        (Aim::Largest, _) => format!(
            "The caps are kept in {count} separate ranges. The upper end of each, the largest {unknown} last:"
        ),
        (Aim::NoNarrowRow, 0) => {
            format!("NO SOLUTION: every {unknown} leaves a narrow row.")
        }
        (Aim::NoNarrowRow, _) if is_between(fit) => format!(
            "No row is narrow as the file stands; the {unknown} may move between these two."
        ),
        (Aim::NoNarrowRow, _) => format!("The nearest {unknown} either way:"),
    }
}

/// The only answer as it is built.
fn to_build(fit: &Fit, look: &Look) -> String {
    let Some(answer) = fit.answers.first() else {
        return String::new();
    };
    answer
        .buildable
        .iter()
        .find(|it| it.keeps)
        .map_or_else(|| exact(fit.unknown, answer.value, look), |it| it.written.clone())
}

/// True if the present value is between the answers: they bound a range, not a change.
fn is_between(fit: &Fit) -> bool {
    match (fit.present, fit.answers.as_slice()) {
        (Some(present), [low, high]) => {
            // if the present value is inside an interval, the ends point outward
            let outward = |answer: &Answer, way: f64| match answer.proof {
                Proof::Edge(end) => {
                    end.outside.is_none_or(|outside| (outside - end.inside) * way > 0.0)
                }
                Proof::Met(_) => false,
            };
            low.value <= present
                && present <= high.value
                && outward(low, -1.0)
                && outward(high, 1.0)
        }
        _ => false,
    }
}

/// True if the measured and the required value read the same on the tape.
fn alike_on_the_tape(mismatch: &Mismatch, look: &Look) -> bool {
    look.writing.length(mismatch.found) == look.writing.length(mismatch.measured.asked)
}

fn as_it_stands(plan: &FitPlan, fit: &Fit, look: &Look) -> Option<String> {
    let present = fit.present?;
    let told: Vec<String> = fit
        .as_it_stands
        .iter()
        .filter(|mismatch| met(fit).is_none_or(|met| met == mismatch.measured.quantity))
        .map(|mismatch| {
            format!(
                ": {} at {}, {}",
                mismatch.measured.quantity.words(),
                look.writing.length(mismatch.found),
                if mismatch.is_none() {
                    "as wanted".to_owned()
                } else if alike_on_the_tape(mismatch, look) {
                    format!("{}, the same on the tape", left(mismatch, look))
                } else {
                    left_on_tape(mismatch, look)
                }
            )
        })
        .collect();
    let whose = if plan.pitch_from_rise && fit.unknown == Unknown::Pitch {
        "By the rise measured"
    } else {
        "As it stands"
    };
    Some(format!(
        "{whose} the {} is {}{}.",
        fit.unknown.words(),
        shown(fit.unknown, present, look),
        told.concat()
    ))
}

fn why_none(fit: &Fit, look: &Look) -> Vec<String> {
    let unknown = fit.unknown.words();
    let (from, to) = fit.looked_through;
    let mut lines = Vec::new();
    let mut line = |words: String| lines.push(words);
    let looked =
        format!("from {} to {}", shown(fit.unknown, from, look), shown(fit.unknown, to, look));
    match (fit.reach, met(fit)) {
        (Some(((_, least), _)), Some(quantity)) if fit.does_not_move() => line(format!(
            "The {} stays at {} whatever the {unknown}.",
            quantity.words(),
            look.writing.length(inches(least))
        )),
        (Some(((at_least, least), (at_most, most))), Some(quantity)) => line(format!(
            "With the {unknown} {looked}, the {} goes from {} (at {}) to {} (at {}).",
            quantity.words(),
            look.writing.exact(inches(least)),
            shown(fit.unknown, at_least, look),
            look.writing.exact(inches(most)),
            shown(fit.unknown, at_most, look),
        )),
        (None, Some(_)) => line(format!("No {unknown} {looked} gives a roof that can be built.")),
        (_, None) => line(format!("Tried {looked}.")),
    }
    if !fit.broken_now.is_empty() {
        line(format!("As it stands it breaks: {}.", fit.broken_now.join("; ")));
    }
    lines
}

row! {
    /// Another number that would do it.
    InsteadRow from (instead: &Instead, look: &Look) with {
        let values: Vec<String> =
            instead.values.iter().map(|value| shown(instead.unknown, *value, look)).collect();
    } {
        number "number": &'static str = instead.unknown.words();
        value "value": Figure = values.join(" or ");
        fails "rules that fail": String = none_or(&instead.fails);
    }
}
