//! `effect`: what a small change of each input does.

use crate::measure::quantity::InInches;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Length, Tape, Units};
use crate::measured::effect::Changes;
use crate::measured::{Effect, Outcome};

use super::layout::capital;
use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The page of `effect`.
#[must_use]
pub fn text(
    effects: &[Effect],
    [by, unit_run]: [Length; 2],
    name: Option<&str>,
    look: &Look,
    depth: Depth,
) -> String {
    let name = name.map_or(String::new(), |name| format!("{name}: "));
    let mut page = Page::new(look, depth);
    page.say(&format!(
        "{name}what {} more or less of each input does. Measure twice what comes first.",
        whole(by, look)
    ));
    let of_a: fn(&Effect) -> Option<&Changes> = |effect| Some(&effect.changes.first);
    let of_b: fn(&Effect) -> Option<&Changes> = |effect| effect.changes.slope_b.as_ref();
    let has_two = effects.iter().any(|effect| of_b(effect).is_some());
    page.list(table(effects, of_a, if has_two { "slope A, change" } else { "Change" }, by, look));
    if has_two {
        page.list(table(effects, of_b, "slope B, change", by, look));
    }
    page.more("what each input means", || meaning(effects, by, unit_run, look));
    page.end()
}

/// What each input does to a slope.
fn table(
    effects: &[Effect],
    of: fn(&Effect) -> Option<&Changes>,
    title: &str,
    by: Length,
    look: &Look,
) -> Table {
    let own = effects.iter().find_map(of).into_iter().flatten();
    let mut columns = vec![("input", Align::Left)];
    columns.extend(own.map(|(outcome, _)| (outcome.words(), Align::Right)));
    let title = format!("{} in {} for {} more", capital(title), unit(look), whole(by, look));
    let mut table = Table::new(title, &columns);
    let none = |effect: &&Effect| effect.worst.inches() < LAST_BITS;
    for effect in effects.iter().filter(|effect| !none(effect)) {
        let mut row = vec![effect.input.words().to_owned()];
        row.extend(of(effect).into_iter().flatten().map(|(_, [more, less])| match (more, less) {
            (Some(more), _) => decimal(*more, look),
            (None, Some(less)) => decimal(-*less, look),
            (None, None) => "-".to_owned(),
        }));
        table.row(row);
    }
    table
}

/// Inputs for which less does not do the opposite, inputs without effect, and what is changed.
fn meaning(effects: &[Effect], by: Length, unit_run: Length, look: &Look) -> String {
    let none = |effect: &&Effect| effect.worst.inches() < 1e-9;
    let mut page = String::new();
    let uneven: Vec<String> = effects
        .iter()
        .filter(|effect| {
            effect.changes.iter().flatten().any(|(_, [more, less])| match (more, less) {
                (Some(more), Some(less)) => {
                    (*more + *less).inches().abs() > 0.1 * more.abs().inches().max(1e-3)
                }
                _ => true,
            })
        })
        .map(|effect| {
            let (outcome, [more, less]) = effect
                .changes
                .iter()
                .flatten()
                .max_by(|a, b| unevenness(a).total_cmp(&unevenness(b)))
                .copied()
                .unwrap_or((Outcome::Rafter, [None; 2]));
            let write = |change: Option<Length>| {
                change.map_or_else(|| "can't be built".to_owned(), |change| decimal(change, look))
            };
            format!(
                "{} ({}: {} for more, {} for less)",
                effect.input.words(),
                outcome.words(),
                write(more),
                write(less)
            )
        })
        .collect();
    if !uneven.is_empty() {
        page.push_str(&wrapped(
            &format!("Not the same for less of it: {}.", uneven.join(", ")),
            2,
            look,
        ));
    }
    let without: Vec<&str> =
        effects.iter().filter(none).map(|effect| effect.input.words()).collect();
    if !without.is_empty() {
        page.push_str(&wrapped(
            &format!("No effect on any of these: {}.", without.join(", ")),
            2,
            look,
        ));
    }
    page.push_str(&wrapped(
        &format!(
            "Unit rise: {} more rise in {} of run. Heel stand: the seat is cut so much shallower, plumb. A seat that the \
             file does not give is chosen anew each time.",
            whole(by, look),
            whole(unit_run, look)
        ),
        2,
        look,
    ));
    page
}

fn unevenness(change: &(Outcome, [Option<Length>; 2])) -> f64 {
    match change.1 {
        [Some(more), Some(less)] => (more + less).inches().abs(),
        _ => f64::INFINITY,
    }
}

/// A length as the tape shows it if it is on a mark, otherwise with all its decimals.
fn whole(length: Length, look: &Look) -> String {
    let on_the_tape = Tape::nearest(length, look.writing.step).length();
    if (on_the_tape - length).abs().inches() < HAIR {
        look.writing.length(length)
    } else {
        look.writing.exact(length)
    }
}

/// The unit of the changes.
fn unit(look: &Look) -> &'static str {
    match look.writing.units {
        Units::Millimeters => "mm",
        Units::Feet | Units::Inches => "inches",
    }
}

/// A small change, in decimals: tape fractions would hide it.
fn decimal(change: Length, look: &Look) -> String {
    let text = match look.writing.units {
        Units::Millimeters => {
            format!("{:+.1}", crate::measure::quantity::in_millimeters(change))
        }
        _ => format!("{:+.3}", change.inches()),
    };
    if text.trim_start_matches(['+', '-']).chars().all(|letter| "0.".contains(letter)) {
        "0".to_owned()
    } else {
        text
    }
}
