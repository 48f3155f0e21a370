//! Many roofs of one plan compared, in words.

use serde::Serialize;

use crate::catalog::{Grade, Species};
use crate::compare::{Axis, Comparison, Shown, Sweep, Whole};
use crate::facts::caution;
use crate::measure::Units;
use crate::plan::{Kind, nudge};
use crate::sheet::Look;
use crate::sheet::compare as words;
use crate::sheet::compare_measures::{amount, figure, head, rank_words};

use super::super::compare::Compared;
use super::super::{Input, Refused, on_page};
use super::taken::{Taken, in_words};

/// Steps to either side that are proposed for a length or a pitch.
const STEPS: usize = 2;

/// What may be varied.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct Choices {
    vary: Vec<Vary>,
}

#[derive(Debug, Serialize)]
struct Vary {
    /// The field that lists what is tried.
    key: &'static str,
    /// What is varied.
    words: &'static str,
    /// As the roof has it.
    now: String,
    /// The values to try, as they are written.
    tries: String,
    /// The same for people.
    shown: Vec<String>,
    /// True if it is varied unless told otherwise.
    usual: bool,
}

/// What may be varied on this roof, each with values to try.
pub(in crate::answer) fn choices(input: &Input, units: Units) -> Result<Choices, Refused> {
    let sweep = input.plan(Sweep::read)?;
    let vary = Axis::ALL.into_iter().map(|axis| {
        let usual = sweep.count(axis) > 1;
        let own = input.entries.get(axis.varies()).map(|entry| entry.text.clone());
        let own = own.unwrap_or_else(|| sweep.present_text(axis));
        let tries = if usual { sweep.values(axis) } else { proposed(axis, &own, units) };
        Vary {
            key: axis.key().name(),
            words: axis.varies().field().label,
            now: in_words(axis.varies(), &own, units),
            shown: tries.iter().map(|text| in_words(axis.varies(), text, units)).collect(),
            tries: tries.join(", ").replace('\'', "ft").replace('"', "in"),
            usual,
        }
    });
    Ok(Choices { vary: vary.collect() })
}

/// Values around the roof's own, where the comparison has no usual ones.
fn proposed(axis: Axis, own: &str, units: Units) -> Vec<String> {
    let kind = axis.varies().field().kind;
    match kind {
        Kind::Choice(all) => all.iter().map(|word| (*word).to_owned()).collect(),
        Kind::Species => Species::ALL.iter().map(|one| one.letters().to_owned()).collect(),
        Kind::Grade => Grade::IN_SPAN_TABLES.iter().map(|one| one.name().to_owned()).collect(),
        _ => {
            let step = |up: bool| {
                let next = move |text: &String| nudge::nudged(kind, text, up, units);
                std::iter::successors(Some(own.to_owned()), next).skip(1).take(STEPS)
            };
            let mut all: Vec<String> = step(false).collect();
            all.reverse();
            all.push(own.to_owned());
            all.extend(step(true));
            all
        }
    }
}

/// The roofs compared.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct CompareView {
    /// How many meet, and how certain the first one is.
    says: Vec<String>,
    /// The heads of the figures of each roof.
    heads: Vec<&'static str>,
    /// The roof as it is; null if it can't be ordered.
    present: Option<Row>,
    /// The few that are best in some way, best first.
    shown: Vec<Row>,
    caution: String,
}

#[derive(Debug, Serialize)]
struct Row {
    /// What differs from the roof as it is.
    words: Vec<String>,
    figures: Vec<String>,
    /// What it is best in.
    best_in: Vec<&'static str>,
    /// What it saves and takes against the roof as it is.
    against: Option<String>,
    /// What is written into the roof file if it is taken.
    set: Vec<Taken>,
}

/// The comparison in words.
pub(in crate::answer) fn view(compared: &Compared, look: &Look) -> CompareView {
    let Compared { comparison, sweep } = compared;
    let ranks = words::ranks(comparison);
    let figures = |whole: &Whole| -> Vec<String> {
        ranks.iter().map(|rank| figure(*rank, amount(*rank, whole, look), look)).collect()
    };
    let against = words::against_present(comparison, look);
    let row = |number: usize, shown: &Shown| Row {
        words: differs(comparison, sweep, &shown.whole, look),
        figures: figures(&shown.whole),
        best_in: shown.best_in.iter().map(|rank| rank_words(*rank, look)).collect(),
        against: against
            .iter()
            .find_map(|line| {
                line.strip_prefix(&format!("{} against the roof as it is: ", number + 1))
            })
            .map(str::to_owned),
        set: sweep
            .changes(shown.place)
            .into_iter()
            .map(|(key, text)| Taken::of(key, text))
            .collect(),
    };
    let mut says = words::sentences(comparison, look);
    says.extend(against.iter().find(|line| line.starts_with("The roof as it is")).cloned());
    CompareView {
        says: on_page::all(says),
        heads: ranks.iter().map(|rank| head(*rank, look)).collect(),
        present: comparison.present.as_ref().ok().map(|present| Row {
            words: values(sweep, present, look),
            figures: figures(present),
            best_in: Vec::new(),
            against: None,
            set: Vec::new(),
        }),
        shown: comparison
            .shown
            .iter()
            .enumerate()
            .map(|(number, shown)| row(number, shown))
            .collect(),
        caution: on_page::all([caution::COMPARE_IN_SHORT.to_owned()]).concat(),
    }
}

fn values(sweep: &Sweep, whole: &Whole, look: &Look) -> Vec<String> {
    let axes = words::varied(sweep).into_iter();
    axes.map(|axis| value(axis, whole, look)).collect()
}

fn value(axis: Axis, whole: &Whole, look: &Look) -> String {
    format!("{} {}", axis.varies().field().label, words::value(whole, axis, look))
}

/// The values that differ from those of the roof as it is; all of them if that can't be ordered.
fn differs(comparison: &Comparison, sweep: &Sweep, whole: &Whole, look: &Look) -> Vec<String> {
    let own = comparison.present.as_ref().ok().map(|present| values(sweep, present, look));
    let of = values(sweep, whole, look);
    match own {
        Some(own) => {
            of.into_iter().zip(own).filter(|(of, own)| of != own).map(|(of, _)| of).collect()
        }
        None => of,
    }
}
