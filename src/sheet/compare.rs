//! `compare`: the few roofs that are best in some way, next to the roof as it is.

use crate::compare::{Apart, Axis, Comparison, Rank, Sweep, Whole, Why, axis_words};
use crate::facts::caution;
use crate::measure::{Direction, Length, Tape};
use crate::rules::{Verdict, walk};

use super::compare_measures::{amount, bound_words, figure, head, rank_words, words};
use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// Candidates to name for each reason to keep them apart.
const NAMED: usize = 4;

/// The whole page.
#[must_use]
pub fn text(
    compared: &Comparison,
    sweep: &Sweep,
    name: Option<&str>,
    look: &Look,
    depth: Depth,
) -> String {
    let mut page = Page::new(look, depth);
    page.say(&heading(compared, name));
    if !compared.shown.is_empty() {
        page.list(best(compared, sweep, look));
        page.gap();
        // the sentences on the roof as it is, and on the first one next to it
        let against = against_present(compared, look);
        let first = against.len().saturating_sub(compared.shown.len().saturating_sub(1)).max(1);
        let (against, others) = against.split_at(first.min(against.len()));
        page.say_all(against);
        if !others.is_empty() {
            page.more("what the others save", || {
                others.iter().map(|line| wrapped(line, 2, look)).collect()
            });
            page.gap();
        }
        page.say_all([proof(compared, look), not_looked_at(compared), unproven_plans(compared)]);
        page.gap();
    }
    page.text(apart(compared, sweep, look));
    page.more("what was varied", || wrapped(&tried(sweep, look), 2, look));
    page.caution(caution::COMPARE_IN_SHORT, caution::COMPARE);
    page.end()
}

/// The result in sentences: how many meet, and how certain it is that the first one is best.
#[must_use]
pub fn sentences(compared: &Comparison, look: &Look) -> Vec<String> {
    let mut words = vec![heading(compared, None)];
    if !compared.shown.is_empty() {
        words.extend([proof(compared, look), not_looked_at(compared), unproven_plans(compared)]);
    }
    words.retain(|words| !words.is_empty());
    words
}

fn heading(compared: &Comparison, name: Option<&str>) -> String {
    let tally = &compared.found.tally;
    let name = name.map_or(String::new(), |name| format!("{name}: "));
    let mut words =
        format!("{name}{} candidates, {} meet every rule.", tally.candidates, tally.meets);
    if tally.meets > 0 {
        words.push(' ');
        words.push_str(&ordered(compared));
    }
    if compared.stopped {
        words.push_str(" Ordering was stopped.");
    }
    words
}

/// How many were ordered in full, and how many are compared.
fn ordered(compared: &Comparison) -> String {
    let (frames, tried) = (compared.frames, compared.tried);
    if compared.ordered == 0 {
        return if tried < frames {
            format!(
                "None of the {tried} that were tried could be ordered in full; {} were not tried: raise --orders (now {}).",
                frames - tried,
                compared.ask.orders
            )
        } else {
            "None of them could be ordered in full.".to_owned()
        };
    }
    let all = compared.found.meeting.len() == frames;
    let ordered = match compared.ordered {
        ordered if ordered == frames && all => "All were ordered in full.".to_owned(),
        ordered if ordered == frames => format!("All {ordered} compared were ordered in full."),
        ordered => format!("{ordered} of {frames} compared were ordered in full."),
    };
    let best = match compared.best {
        0 => String::new(),
        1 => " One roof is best in everything.".to_owned(),
        best => format!(" {best} of them are best in one way or another."),
    };
    ordered + &best
}

/// The axes that have more than one value.
#[must_use]
pub fn varied(sweep: &Sweep) -> Vec<Axis> {
    Axis::ALL.into_iter().filter(|axis| sweep.count(*axis) > 1).collect()
}

/// The value of what is varied in one roof, for people.
#[must_use]
pub fn value(whole: &Whole, axis: Axis, look: &Look) -> String {
    let value = whole.values.iter().find(|(of, _)| *of == axis);
    value.map_or_else(|| "-".to_owned(), |(_, value)| axis_words(axis, value, look.writing))
}

fn best(compared: &Comparison, sweep: &Sweep, look: &Look) -> Table {
    let axes = varied(sweep);
    let ranks = ranks(compared);
    let mut columns = vec![("", Align::Left)];
    columns.extend(axes.iter().map(|axis| (axis.name(), Align::Left)));
    columns.extend(ranks.iter().map(|rank| (head(*rank, look), Align::Right)));
    // what was not ordered in full may be better in something
    let best_in = if compared.ordered < compared.frames {
        format!("best of {} in", compared.ordered)
    } else {
        "best in".to_owned()
    };
    columns.push((&best_in, Align::Left));
    let mut table = Table::new("Best in some way", &columns);
    let mut row = |first: String, whole: &Whole, best_in: String| {
        let mut cells = vec![first];
        cells.extend(axes.iter().map(|axis| value(whole, *axis, look)));
        cells.extend(ranks.iter().map(|rank| figure(*rank, amount(*rank, whole, look), look)));
        cells.push(best_in);
        table.row(cells);
    };
    if let Ok(present) = &compared.present {
        row("as it is".into(), present, String::new());
    }
    for (number, shown) in compared.shown.iter().enumerate() {
        let best_in = shown.best_in.iter().map(|rank| rank_words(*rank, look));
        let best_in: Vec<&str> = best_in.collect();
        row((number + 1).to_string(), &shown.whole, best_in.join(", "));
    }
    table
}

/// The measures that are known: cost only with prices.
#[must_use]
pub fn ranks(compared: &Comparison) -> Vec<Rank> {
    Rank::ALL.into_iter().filter(|rank| *rank != Rank::Cost || compared.costed).collect()
}

/// What each saves and costs compared with the roof as it is.
#[must_use]
pub fn against_present(compared: &Comparison, look: &Look) -> Vec<String> {
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
    for (number, shown) in compared.shown.iter().enumerate() {
        let differences = |sign: f64| -> Vec<String> {
            ranks(compared)
                .into_iter()
                .filter_map(|rank| {
                    let new = amount(rank, &shown.whole, look)?;
                    let difference = (new - amount(rank, present, look)?) * sign;
                    let none = figure(rank, Some(0.0), look);
                    let told = figure(rank, Some(difference), look);
                    (difference > 0.0 && told != none).then(|| words(rank, difference, look))
                })
                .collect()
        };
        let list = |sign: f64, none: &str| {
            let differences = differences(sign);
            if differences.is_empty() { none.to_owned() } else { differences.join(", ") }
        };
        lines.push(format!(
            "{} against the roof as it is: saves {}; takes {} more.",
            number + 1,
            list(-1.0, "nothing"),
            list(1.0, "nothing"),
        ));
    }
    lines
}

/// What is certain about the first one, in the measure of the rank.
fn proof(compared: &Comparison, look: &Look) -> String {
    let rank = compared.ask.rank;
    let lesser = match rank {
        Rank::Cost => "A cheaper one",
        Rank::BoardFeet => "One with less lumber",
        Rank::Waste => "One with less waste",
        Rank::Weight => "A lighter one",
        Rank::Pieces => "One with fewer sticks",
    };
    let not_ordered = compared.frames.saturating_sub(compared.tried);
    if rank == Rank::Waste && not_ordered > 0 {
        return format!(
            "{lesser} may exist: waste shows in the cutting plan alone, and {not_ordered} were not ordered in full. Raise \
             --orders (now {}).",
            compared.ask.orders
        );
    }
    if compared.might_be_better > 0 {
        let bound = compared.bound.map_or(String::new(), |bound| {
            format!(", none of them under {}", bound_words(rank, bound, look))
        });
        return format!(
            "{lesser} may exist among {} that were not ordered in full{bound}. Raise --orders (now {}).",
            compared.might_be_better, compared.ask.orders
        );
    }
    if compared.plans_might_be_better > 0 {
        return format!(
            "{lesser} may exist among {} whose cutting plans are not proven best yet: stepoff order goes on with them.",
            compared.plans_might_be_better
        );
    }
    compared.proven().map_or_else(String::new, |rules| format!("Proven: {rules}."))
}

/// What was not looked at, and what the costs leave out.
fn not_looked_at(compared: &Comparison) -> String {
    let mut sentences = Vec::new();
    let not_ordered = compared.frames.saturating_sub(compared.tried);
    if not_ordered > 0 && compared.ask.rank != Rank::Waste {
        sentences.push(format!(
            "{not_ordered} were not ordered in full: their waste is not known, and what is best in it is the best of {}.",
            compared.ordered
        ));
    }
    if compared.costed && !compared.left_out.is_empty() {
        let left_out: Vec<&str> = compared.left_out.iter().map(String::as_str).collect();
        sentences.push(format!("In no cost, for want of a price: {}.", left_out.join(", ")));
    }
    if compared.priced && !compared.costed {
        sentences.push(
            "No roof that meets has a price for all of its lumber, so none is ranked by cost; see below what lacks one."
                .to_owned(),
        );
    }
    sentences.join(" ")
}

/// The roofs with cutting plans that may still improve.
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
        "The cutting plans of {} are not all proven best yet: stepoff order goes on and may find less.",
        numbers.join(", ")
    )
}

/// What was kept apart, and by which rules.
fn apart(compared: &Comparison, sweep: &Sweep, look: &Look) -> String {
    let tally = &compared.found.tally;
    let mut lines = Vec::new();
    let cannot: usize = tally.cannot_build.values().sum();
    if cannot > 0 {
        let by: Vec<String> =
            tally.cannot_build.iter().map(|(key, count)| format!("{key} {count}")).collect();
        lines.push(format!("{cannot} can't be built: {}.", by.join(", ")));
    }
    for (count, what, of) in [
        (tally.fails, "fail a rule", &tally.fails_by),
        (tally.needs_design, "need design", &tally.design_by),
        (tally.not_checked, "wait for an input, and for nothing else", &tally.waits_by),
    ] {
        if count > 0 {
            let by = by_rule(compared, of);
            lines.push(format!("{count} {what}. Over all candidates: {by}."));
        }
    }
    if tally.meets == 0 {
        lines.extend(fields_to_set(compared));
    }
    lines.extend(kept_apart(compared, sweep, look));
    let mut text: String = lines.iter().map(|line| wrapped(line, 2, look)).collect();
    if !text.is_empty() {
        text.push('\n');
    }
    text
}

/// How many candidates each rule has against it, the most first.
fn by_rule(compared: &Comparison, counts: &[usize]) -> String {
    let mut rules: Vec<(usize, usize)> = counts
        .iter()
        .enumerate()
        .filter(|(_, count)| **count > 0)
        .map(|(place, count)| (*count, place))
        .collect();
    rules.sort_by_key(|(count, place)| (usize::MAX - count, *place));
    let told =
        rules.into_iter().map(|(count, place)| format!("{} {count}", title(compared, place)));
    told.collect::<Vec<_>>().join(", ")
}

/// What the rule at a place of the walk is about.
fn title(compared: &Comparison, place: usize) -> String {
    let known = walk::PLACES.get(place);
    let id = known.map(|place| place.id);
    let of_present = compared.present.as_ref().map_or(&[][..], |present| &present.findings);
    let of_shown = compared.shown.iter().flat_map(|shown| &shown.whole.findings);
    let found = of_present.iter().chain(of_shown).find(|finding| Some(finding.id) == id);
    found
        .map(|finding| finding.title)
        .or_else(|| compared.titles.get(&id?).copied())
        .or_else(|| known.map(|place| place.measure))
        .unwrap_or("another rule")
        .to_owned()
}

/// What to set where nothing meets every rule, for want of inputs.
fn fields_to_set(compared: &Comparison) -> Option<String> {
    let findings = &compared.present.as_ref().ok()?.findings;
    let mut fields: Vec<&str> =
        findings.iter().flat_map(|finding| &finding.missing).map(|key| key.name()).collect();
    fields.sort_unstable();
    fields.dedup();
    (!fields.is_empty())
        .then(|| format!("Set these first, as stepoff check asks: {}.", fields.join(", ")))
}

/// The roofs kept apart although they meet every rule, by name: a piece too long, unpriced goods, can't
/// be ordered.
fn kept_apart(compared: &Comparison, sweep: &Sweep, look: &Look) -> Vec<String> {
    let sentence = |apart: &Apart| -> String {
        let reason = match &apart.why {
            Why::TooLong { section, needs: [least, most], longest } => {
                let (least, most) = (up(*least, look), up(*most, look));
                let needs = if least == most { most } else { format!("{least} to {most}") };
                format!(
                    "need a {} of {needs} (the longest that can be cut is {})",
                    section.write(look.writing.units),
                    down(*longest, look)
                )
            }
            Why::NoPrice(names) => {
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                format!("have no price for {}", names.join(", "))
            }
            Why::Refused(why) => format!("can't be ordered: {why}"),
        };
        let (common, names) = sweep.names(&apart.places, NAMED, look.writing);
        let more = match apart.places.len().saturating_sub(names.len()) {
            0 => String::new(),
            _ if names.is_empty() => String::new(),
            more => format!("; and {more} more (--all FILE lists them)"),
        };
        let names = names.join("; ");
        let which = match (common.is_empty(), names.is_empty()) {
            (true, true) => String::new(),
            (true, false) => format!(" ({names}{more})"),
            (false, true) => format!(" with {common}"),
            (false, false) => format!(" with {common} ({names}{more})"),
        };
        format!("Kept apart: {}{which}. Every rule is met, but they {reason}.", apart.places.len(),)
    };
    compared.apart().iter().map(sentence).collect()
}

/// A length rounded up to the tape, for a piece that is needed.
fn up(length: Length, look: &Look) -> String {
    let tape = Tape::read(length, look.writing.step, Direction::Up);
    look.writing.tape(tape)
}

/// A length rounded down to the tape, for the longest available.
fn down(length: Length, look: &Look) -> String {
    let tape = Tape::read(length, look.writing.step, Direction::Down);
    look.writing.tape(tape)
}

fn tried(sweep: &Sweep, look: &Look) -> String {
    let list = |given: bool| -> Vec<String> {
        Axis::ALL
            .into_iter()
            .zip(&sweep.given)
            .filter(|(axis, of)| **of == given && (given || sweep.count(*axis) > 1))
            .map(|(axis, _)| {
                let values: Vec<String> = (0..sweep.count(axis))
                    .map(|value| sweep.words(axis, value, look.writing))
                    .collect();
                format!("{} {}", axis.name(), values.join(", "))
            })
            .collect()
    };
    let fixed: Vec<&str> = Axis::ALL
        .into_iter()
        .zip(&sweep.given)
        .filter(|(axis, given)| !**given && sweep.count(*axis) == 1)
        .map(|(axis, _)| axis.name())
        .collect();
    let mut parts = Vec::new();
    for (words, list) in
        [("Tried as asked: ", list(true)), ("Not given, so by default: ", list(false))]
    {
        if !list.is_empty() {
            parts.push(format!("{words}{}.", list.join("; ")));
        }
    }
    if !fixed.is_empty() {
        parts.push(format!("As the roof has it: {}.", fixed.join(", ")));
    }
    parts.join(" ")
}
