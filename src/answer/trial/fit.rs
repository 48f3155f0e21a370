//! One number found from what is fixed, in words.

use serde::Serialize;

use crate::fit::buildable::{Rounding, rounded};
use crate::fit::{Aim, Fit, Instead, Mismatch, one};
use crate::key;
use crate::plan::{Datum, Entries, Find, FitPlan, Key, Place, Quantity, Unknown};
use crate::sheet::fit_words::{left_on_tape, shown};
use crate::sheet::{self, Look};

use super::super::{Input, Refused, on_page};
use super::taken::Taken;

/// What can be wanted and found.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct Terms {
    /// What may be wanted of the roof.
    wants: Vec<Want>,
    /// What heights are above.
    datums: Vec<Word>,
}

#[derive(Debug, Serialize)]
struct Want {
    /// The field that says so.
    key: &'static str,
    words: &'static str,
    /// `length`, or `yes` if nothing has to be typed.
    typed: &'static str,
    /// True for a height above a datum.
    height: bool,
    /// What may be found for it.
    finds: Vec<Word>,
}

#[derive(Debug, Serialize)]
struct Word {
    word: &'static str,
    words: &'static str,
}

/// What may be wanted besides a measurement: the field, the words, a value to try, whether it is a
/// height.
const OTHERS: [(Key, &str, &str, bool); 3] = [
    (key!("fit.cap"), "peak, at most", "20ft", true),
    (key!("fit.board"), "rafter board, at most", "16ft", false),
    (key!("fit.avoid"), "no narrow row of panels", "narrow-row", false),
];

/// Everything that can be asked of this roof.
pub(in crate::answer) fn terms(roof: &Input) -> Terms {
    let quantities = Quantity::ALL
        .into_iter()
        .map(|quantity| (quantity.key(), quantity.words(), "5ft", quantity.is_height()));
    let wants = quantities.chain(OTHERS).map(|(key, words, sample, height)| Want {
        key: key.name(),
        words,
        typed: if sample == "narrow-row" { "yes" } else { "length" },
        height,
        finds: Find::ones()
            .filter(|(word, _)| goes_together(roof, key, sample, word, height))
            .map(|(word, unknown)| Word { word, words: unknown.words() })
            .collect(),
    });
    let datums =
        Datum::CHOICES.into_iter().map(|(word, datum)| Word { word, words: datum.words() });
    Terms { wants: wants.collect(), datums: datums.collect() }
}

/// True if the engine does not refuse to find this for that.
fn goes_together(roof: &Input, key: Key, sample: &str, find: &str, height: bool) -> bool {
    let mut entries: Entries = roof.entries.without_table("fit");
    entries.add_flag(key!("fit.find"), Some(find));
    entries.add_flag(key, Some(sample));
    if height {
        entries.add_flag(key!("fit.above"), Some("floor"));
    }
    let flags = [key!("fit.find"), key].map(|key| key.field().flag);
    let refused =
        |place: &Place| matches!(place, Place::Flag { flag, .. } if flags.contains(&Some(*flag)));
    match FitPlan::read(&entries) {
        Ok(_) => true,
        Err(faults) => !faults.iter().any(|fault| refused(&fault.place)),
    }
}

/// The answer in words.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct FitView {
    /// What fits, how it stands, and why nothing fits if nothing does.
    says: Vec<String>,
    /// Values that fit, each as it can be built.
    answers: Vec<Solution>,
    /// Other numbers that would do it.
    instead: Vec<Other>,
    caution: String,
}

#[derive(Debug, Serialize)]
struct Solution {
    /// Values to build, finest first.
    values: Vec<Buildable>,
    /// What it means for the rafter.
    says: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Buildable {
    words: String,
    /// What is written into the roof file if it is taken.
    set: Vec<Taken>,
    /// How far off what was wanted it is, as a tape shows it; null where a tape shows nothing.
    off: Option<String>,
    /// True if it keeps every cap.
    keeps: bool,
}

#[derive(Debug, Serialize)]
struct Other {
    words: &'static str,
    values: Vec<Buildable>,
    /// Rules that the roof then fails.
    fails: Vec<&'static str>,
}

/// Finds the number.
pub(in crate::answer) fn view(input: &Input, look: &Look) -> Result<FitView, Refused> {
    let plan = input.plan(FitPlan::read)?;
    let Some(unknown) = plan.unknown() else {
        return Err(Refused::of_flag(
            "--find",
            plan.find.name(),
            "this changes no field of this roof file",
            "find pitch, overhang, seat, span, wall-height, fascia-depth, ridge-slot or past-fascia",
        ));
    };
    let fits = one::find(&plan, unknown, look.writing);
    let says = on_page::all(fits.iter().flat_map(|fit| sheet::fit::sentences(&plan, fit, look)));
    let answers = fits.iter().flat_map(|fit| solutions(fit, look)).collect();
    let instead = fits.iter().flat_map(|fit| &fit.instead).map(|other| of_other(other, look));
    let instead = instead.collect();
    let caution = on_page::all([crate::facts::caution::RAFTER_IN_SHORT.to_owned()]).concat();
    Ok(FitView { says, answers, instead, caution })
}

/// What is left, on the tape.
fn off(mismatch: &Mismatch, look: &Look) -> Option<String> {
    let tape = |length| look.writing.length(length);
    let alike = tape(mismatch.found) == tape(mismatch.measured.asked);
    (!alike).then(|| left_on_tape(mismatch, look))
}

fn solutions(fit: &Fit, look: &Look) -> Vec<Solution> {
    let met = match fit.aim {
        Aim::Meet(measured) => Some(measured.quantity),
        Aim::Largest | Aim::NoNarrowRow => None,
    };
    let each = fit.answers.iter().map(|answer| Solution {
        values: answer
            .buildable
            .iter()
            .map(|value| Buildable {
                words: value.written.clone(),
                set: vec![Taken::of(fit.unknown.key(), Some(value.written.clone()))],
                off: value
                    .mismatches
                    .iter()
                    .find(|of| Some(of.measured.quantity) == met)
                    .and_then(|of| off(of, look)),
                keeps: value.keeps,
            })
            .collect(),
        says: sheet::fit_answer::meaning(answer, look),
    });
    each.collect()
}

fn of_other(other: &Instead, look: &Look) -> Other {
    let value = |value: &f64| {
        let written = rounded(other.unknown, *value, Rounding::Nearest, look.writing);
        written.into_iter().next().map(|(_, text)| Buildable {
            words: shown(other.unknown, *value, look),
            set: vec![Taken::of(other.unknown.key(), Some(text))],
            off: None,
            keeps: true,
        })
    };
    Other {
        words: Unknown::words(other.unknown),
        values: other.values.iter().filter_map(value).collect(),
        fails: other.fails.clone(),
    }
}
