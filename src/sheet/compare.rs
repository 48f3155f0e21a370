//! `compare`: the few roofs that are best in some way, beside the roof as it is.

use crate::compare::front::Measures;
use crate::compare::{Axis, Comparison, Rank, Sweep, Whole};
use crate::measure::{Units, trim};
use crate::rules::{Verdict, walk};

use super::cuts::money;
use super::table::wrapped;
use super::{Align, Look, Table};

/// What stands under every comparison.
pub const CAUTION: &str = "Caution: what is shown met the prescriptive rules that stepoff check knows, framed in full; less lumber is less in \
     reserve. Prices are those of the file. Local code and the building department decide, and beyond the prescriptive \
     rules a licensed professional does: run stepoff check on the roof that is chosen.";

/// Pounds in a kilogram: 1 / 0.45359237.
const LB_PER_KG: f64 = 1.0 / 0.453_592_37;
/// Board feet in a cubic meter of nominal lumber: 1 / (144 x 0.0254^3).
const BOARD_FEET_PER_M3: f64 = 1.0 / (144.0 * 0.0254 * 0.0254 * 0.0254);

/// The whole page.
#[must_use]
pub fn text(compared: &Comparison, sweep: &Sweep, name: Option<&str>, look: &Look) -> String {
    let mut page = wrapped(&heading(compared, name), 2, look);
    page.push('\n');
    if !compared.shown.is_empty() {
        page.push_str(&best(compared, sweep, look));
        page.push('\n');
        for line in against_present(compared, look) {
            page.push_str(&wrapped(&line, 2, look));
        }
        for line in [proof(compared, look), unproven_plans(compared)] {
            if !line.is_empty() {
                page.push_str(&wrapped(&line, 2, look));
            }
        }
        page.push('\n');
    }
    page.push_str(&apart(compared, look));
    page.push_str(&wrapped(&tried(sweep), 2, look));
    page.push('\n');
    page.push_str(&wrapped(CAUTION, 2, look));
    page
}

fn heading(compared: &Comparison, name: Option<&str>) -> String {
    let tally = &compared.tally;
    let name = name.map_or(String::new(), |name| format!("{name}: "));
    let shown = match compared.shown.len() {
        0 => "None of them could be ordered in full.".to_owned(),
        _ if tally.meets == 0 => String::new(),
        shown => format!(
            "{} ordered in full; {} of those are beaten by no other in everything, {shown} shown, by {}.",
            compared.ordered,
            compared.best,
            compared.ask.rank.words()
        ),
    };
    let shown = if tally.meets == 0 {
        String::new()
    } else {
        shown
    };
    format!(
        "{name}{} candidates, {} meet every rule. {shown}{}",
        tally.candidates,
        tally.meets,
        if compared.stopped {
            " Ordering was stopped."
        } else {
            ""
        }
    )
}

/// The axes that have more than one value.
fn varied(sweep: &Sweep) -> Vec<Axis> {
    Axis::ALL
        .into_iter()
        .filter(|axis| sweep.count(*axis) > 1)
        .collect()
}

fn value(whole: &Whole, axis: Axis, look: &Look) -> String {
    let value = whole.values.iter().find(|(of, _)| *of == axis);
    value.map_or_else(
        || "-".to_owned(),
        |(_, value)| match axis {
            // the rise is enough beside so many columns
            Axis::Pitch => value
                .write(look.writing)
                .split(" (")
                .next()
                .unwrap_or_default()
                .to_owned(),
            _ => value.write(look.writing),
        },
    )
}

fn best(compared: &Comparison, sweep: &Sweep, look: &Look) -> String {
    let axes = varied(sweep);
    let ranks = ranks(compared);
    let mut columns = vec![("", Align::Left)];
    columns.extend(axes.iter().map(|axis| (axis.name(), Align::Left)));
    columns.extend(ranks.iter().map(|rank| (head(*rank, look), Align::Right)));
    columns.push(("best in", Align::Left));
    let mut table = Table::new("Best in some way", &columns);
    let mut row = |first: String, whole: &Whole, measures: &Measures, best_in: String| {
        let mut cells = vec![first];
        cells.extend(axes.iter().map(|axis| value(whole, *axis, look)));
        cells.extend(
            ranks
                .iter()
                .map(|rank| figure(*rank, measures[*rank as usize], look)),
        );
        cells.push(best_in);
        table.row(cells);
    };
    if let Ok(present) = &compared.present {
        row(
            "as it is".into(),
            present,
            &present.measures(),
            String::new(),
        );
    }
    for (number, shown) in compared.shown.iter().enumerate() {
        let best_in: Vec<&str> = shown.best_in.iter().map(|rank| rank.words()).collect();
        row(
            (number + 1).to_string(),
            &shown.whole,
            &shown.measures,
            best_in.join(", "),
        );
    }
    table.text(look)
}

/// The measures that are known: cost only with prices.
fn ranks(compared: &Comparison) -> Vec<Rank> {
    let priced = compared
        .shown
        .first()
        .is_some_and(|shown| shown.whole.order.priced);
    Rank::ALL
        .into_iter()
        .filter(|rank| *rank != Rank::Cost || priced)
        .collect()
}

fn head(rank: Rank, look: &Look) -> &'static str {
    match (rank, look.writing.units == Units::Millimeters) {
        (Rank::Cost, _) => "cost",
        (Rank::BoardFeet, false) => "bd ft",
        (Rank::BoardFeet, true) => "m3",
        (Rank::Waste, false) => "waste",
        (Rank::Waste, true) => "waste m3",
        (Rank::Weight, false) => "lb",
        (Rank::Weight, true) => "kg",
        (Rank::Pieces, _) => "sticks",
    }
}

fn figure(rank: Rank, measure: i64, look: &Look) -> String {
    let metric = look.writing.units == Units::Millimeters;
    let value = measure as f64;
    match rank {
        Rank::Cost if measure < 0 => format!("-{}", money(-measure)),
        Rank::Cost => money(measure),
        Rank::BoardFeet | Rank::Waste if metric => trim(value / 1e3 / BOARD_FEET_PER_M3, 2),
        Rank::BoardFeet | Rank::Waste => trim(value / 1e3, 0),
        Rank::Weight if metric => trim(value / 1e2 / LB_PER_KG, 0),
        Rank::Weight => trim(value / 1e2, 0),
        Rank::Pieces => measure.to_string(),
    }
}

fn words(rank: Rank, measure: i64, look: &Look) -> String {
    let figure = figure(rank, measure, look);
    match (rank, look.writing.units == Units::Millimeters) {
        (Rank::Cost, _) => format!("{figure} of cost"),
        (Rank::BoardFeet, false) => format!("{figure} board feet"),
        (Rank::BoardFeet, true) => format!("{figure} m3 of lumber"),
        (Rank::Waste, false) => format!("{figure} board feet of waste"),
        (Rank::Waste, true) => format!("{figure} m3 of waste"),
        (Rank::Weight, false) => format!("{figure} lb"),
        (Rank::Weight, true) => format!("{figure} kg"),
        (Rank::Pieces, _) => format!("{figure} sticks"),
    }
}

/// What each gains and gives up against the roof as it is.
fn against_present(compared: &Comparison, look: &Look) -> Vec<String> {
    let present = match &compared.present {
        Ok(present) => present,
        Err(why) => return vec![format!("The roof as it is can't be ordered: {why}.")],
    };
    let mut lines = Vec::new();
    let stands = present.standing.verdict();
    if stands != Verdict::Meets {
        let failed: Vec<&str> = present
            .findings
            .iter()
            .filter(|finding| finding.verdict == stands)
            .map(|finding| finding.title)
            .collect();
        lines.push(format!(
            "The roof as it is does not meet every rule: {} {}.",
            stands.words(),
            failed.join(", ")
        ));
    }
    let own = present.measures();
    for (number, shown) in compared.shown.iter().enumerate() {
        let differences = |sign: i64| -> Vec<String> {
            ranks(compared)
                .into_iter()
                .map(|rank| {
                    (
                        rank,
                        (shown.measures[rank as usize] - own[rank as usize]) * sign,
                    )
                })
                .filter(|(_, difference)| *difference > 0)
                .map(|(rank, difference)| {
                    (
                        words(rank, difference, look),
                        figure(rank, difference, look),
                    )
                })
                .filter(|(_, figure)| figure != "0")
                .map(|(words, _)| words)
                .collect()
        };
        let list = |sign: i64, none: &str| {
            let differences = differences(sign);
            if differences.is_empty() {
                none.to_owned()
            } else {
                differences.join(", ")
            }
        };
        lines.push(format!(
            "{} against the roof as it is: saves {}; takes {} more.",
            number + 1,
            list(-1, "nothing"),
            list(1, "nothing"),
        ));
    }
    lines
}

fn proof(compared: &Comparison, look: &Look) -> String {
    let rank = compared.ask.rank;
    match (compared.might_be_better, compared.bound) {
        (None, _) if rank == Rank::Waste => format!(
            "Waste is only known from a cutting plan: {} of {} candidates that meet were ordered in full (--orders), \
             and only they are compared in it.",
            compared.ordered, compared.tally.meets
        ),
        (Some(0), _) if compared.plans_might_be_better > 0 => format!(
            "Not proven least: of the ones ordered in full {} might still come lower in {}, once stepoff order has proven \
             their cutting plans.",
            compared.plans_might_be_better,
            rank.words()
        ),
        (Some(0), _) => format!(
            "Proven: no candidate that meets comes lower in {}.",
            rank.words()
        ),
        (Some(count), Some(bound)) => format!(
            "Not proven least: {count} candidates that were not ordered in full have bounds under the first one, {} at \
             the least (lumber alone, without what its cutting plan wastes); --orders looks at more than {}.",
            words(rank, bound, look),
            compared.ask.orders
        ),
        _ => String::new(),
    }
}

/// Whose cutting plans may still get better.
fn unproven_plans(compared: &Comparison) -> String {
    let numbers: Vec<String> = compared
        .shown
        .iter()
        .enumerate()
        .filter(|(_, shown)| !shown.whole.order.proven())
        .map(|(number, _)| (number + 1).to_string())
        .collect();
    if numbers.is_empty() {
        return String::new();
    }
    format!(
        "Not every cutting plan of {} is proven best yet: stepoff order goes on and may find less.",
        numbers.join(", ")
    )
}

/// What was kept apart, and by which rules.
fn apart(compared: &Comparison, look: &Look) -> String {
    let tally = &compared.tally;
    let mut text = String::new();
    let title = |place: usize| -> String {
        let known = walk::PLACES.get(place);
        let id = known.map_or("", |place| place.id);
        let findings = compared
            .present
            .as_ref()
            .map_or(&[][..], |present| &present.findings)
            .iter()
            .chain(
                compared
                    .shown
                    .iter()
                    .flat_map(|shown| &shown.whole.findings),
            );
        findings
            .filter(|finding| finding.id == id)
            .map(|finding| finding.title)
            .next()
            .or_else(|| compared.titles.get(id).copied())
            .map(str::to_owned)
            .or_else(|| known.map(|place| place.measure.to_owned()))
            .unwrap_or_else(|| "another rule".into())
    };
    let by = |counts: &[usize]| -> String {
        let mut rules: Vec<(usize, usize)> = counts
            .iter()
            .enumerate()
            .filter(|(_, count)| **count > 0)
            .map(|(place, count)| (*count, place))
            .collect();
        rules.sort_by_key(|(count, place)| (usize::MAX - count, *place));
        rules
            .into_iter()
            .map(|(count, place)| format!("{} {count}", title(place)))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let cannot: usize = tally.cannot_build.values().sum();
    if cannot > 0 {
        let by: Vec<String> = tally
            .cannot_build
            .iter()
            .map(|(key, count)| format!("{key} {count}"))
            .collect();
        text.push_str(&wrapped(
            &format!("{cannot} can't be built, told of: {}.", by.join(", ")),
            2,
            look,
        ));
    }
    for (count, what, of) in [
        (tally.fails, "fail a rule", &tally.fails_by),
        (tally.needs_design, "need design", &tally.design_by),
        (
            tally.not_checked,
            "wait for an input, and for nothing else",
            &tally.waits_by,
        ),
    ] {
        if count > 0 {
            text.push_str(&wrapped(
                &format!("{count} {what}. Over all candidates: {}.", by(of)),
                2,
                look,
            ));
        }
    }
    if tally.meets == 0
        && let Ok(present) = &compared.present
    {
        let mut fields: Vec<&str> = present
            .findings
            .iter()
            .flat_map(|finding| finding.missing.iter().copied())
            .collect();
        fields.sort_unstable();
        fields.dedup();
        if !fields.is_empty() {
            text.push_str(&wrapped(
                &format!(
                    "Set these first, as stepoff check asks: {}.",
                    fields.join(", ")
                ),
                2,
                look,
            ));
        }
    }
    if tally.special > 0 {
        text.push_str(&wrapped(
            &format!(
                "{} meet every rule with a piece longer than every stick that can be bought: kept apart.",
                tally.special
            ),
            2,
            look,
        ));
    }
    if compared.unpriced > 0 {
        text.push_str(&wrapped(
            &format!(
                "{} meet every rule, but some of their lumber has no price: kept apart.",
                compared.unpriced
            ),
            2,
            look,
        ));
    }
    if compared.shown.iter().any(|shown| shown.whole.order.priced)
        && !compared.without_price.is_empty()
    {
        text.push_str(&wrapped(
            &format!("No price for: {}.", compared.without_price.join(", ")),
            2,
            look,
        ));
    }
    let mut refused = compared.refused.clone();
    refused.sort();
    refused.dedup();
    for why in refused {
        text.push_str(&wrapped(
            &format!("Could not be ordered in full: {why}."),
            2,
            look,
        ));
    }
    if !text.is_empty() {
        text.push('\n');
    }
    text
}

fn tried(sweep: &Sweep) -> String {
    let list = |given: bool| -> Vec<String> {
        Axis::ALL
            .into_iter()
            .zip(&sweep.given)
            .filter(|(axis, of)| **of == given && (given || sweep.count(*axis) > 1))
            .map(|(axis, _)| format!("{} {}", axis.name(), sweep.values(axis).join(", ")))
            .collect()
    };
    let fixed: Vec<&str> = Axis::ALL
        .into_iter()
        .zip(&sweep.given)
        .filter(|(axis, given)| !**given && sweep.count(*axis) == 1)
        .map(|(axis, _)| axis.name())
        .collect();
    let mut parts = Vec::new();
    for (words, list) in [
        ("Tried as asked: ", list(true)),
        ("Not given, so by default: ", list(false)),
    ] {
        if !list.is_empty() {
            parts.push(format!("{words}{}.", list.join("; ")));
        }
    }
    if !fixed.is_empty() {
        parts.push(format!("As the roof has it: {}.", fixed.join(", ")));
    }
    parts.join(" ")
}
