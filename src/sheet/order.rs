//! `order` on one page, and the cutting plans of a roof's sections.

use crate::facts::caution;
use crate::facts::datum::money;
use crate::facts::order::OrderLine;
use crate::facts::record::keys;
use crate::measure::quantity::{InInches, in_millimeters};
use crate::measure::{Note, Units, Writing, trim};
use crate::order::fasteners;
use crate::order::lumber::Part;
use crate::order::roofs::title;
use crate::order::{Line, Order, SectionOrder, Tag, lumber};
use crate::plan::Used;

use super::cuts;
use super::findings;
use super::layout::capital;
use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

/// Square feet in a square meter.
const FT2_PER_M2: f64 = 1.0 / 0.092_903_04;

/// The page: what to order, its cost and weight, what is not in it; `used` has the values from each
/// roof file.
#[must_use]
pub fn text(order: &Order, used: &[Vec<Used>], look: &Look, depth: Depth) -> String {
    let metric = look.writing.units == Units::Millimeters;
    let mut page = Page::new(look, depth);
    let name = title(&order.tags());
    // of planes that are not laid much is left out: that comes before the list
    let is_partial = order.buildings.iter().any(|one| one.sheets.laid().is_none());
    page.first(|page| {
        page.say(&what_in_short(order, name.as_deref(), metric));
        if is_partial {
            page.say(&not_in_this_order(order, look.writing));
        }
        page.list(all_trades(order, look.writing));
    });
    page.more("", || wrapped(&heading(order, name.as_deref(), metric), 2, look));
    page.more("where each goes", || {
        let tables = tables(order, writing(metric));
        tables.iter().map(|table| table.text(look)).collect::<Vec<_>>().join("\n")
    });
    page.gap();
    page.say(&cost_line(order, ": --prices FILE adds them", look.writing));
    if !order.priced {
        page.more("", || wrapped(&least_length(order), 2, look));
    }
    page.more("", || wrapped(&weight_line(order, metric), 2, look));
    page.more("cuts", || plans(order, look));
    page.workings(|| explained(order, look));
    page.gap();
    page.say_all(about_marks(&order.tags()));
    let of_deck = |note: &&Note| order.deck_notes.contains(note);
    let write = |note: &Note| {
        let words = note.write(look.writing);
        format!("Note: {}.", words.trim_end_matches('.'))
    };
    page.say_all(order.notes.iter().filter(|note| !of_deck(note)).map(write));
    if !order.deck_notes.is_empty() {
        page.more("notes on the deck", || {
            let notes = order.notes.iter().filter(of_deck).map(write);
            notes.map(|note| wrapped(&note, 2, look)).collect()
        });
    }
    if !order.left_out.is_empty() {
        let left_out = order.left_out.iter().map(|words| words.write(look.writing));
        page.first(|page| {
            if !is_partial {
                page.say(&not_in_this_order(order, look.writing));
            }
        });
        page.more("", || {
            let lines = left_out.clone().map(|words| wrapped(&format!("  {words}"), 4, look));
            format!("Not in this order:\n{}", lines.collect::<String>())
        });
    }
    if used.iter().any(|used| !used.is_empty()) {
        page.more("values used", || {
            let each = used.iter().zip(&order.buildings).map(|(used, building)| {
                let mut table = findings::used(used, look.writing);
                if let Some(letter) = &building.tag.letter {
                    table = table.titled(format!("Values used for roof {letter}"));
                }
                table.text(look)
            });
            each.collect::<Vec<_>>().join("\n")
        });
    }
    page.caution(caution::ORDER_IN_SHORT, caution::ORDER);
    page.end()
}

/// What the order does not count, in a sentence.
fn not_in_this_order(order: &Order, writing: Writing) -> String {
    let list: Vec<String> = order.left_out.iter().map(|words| words.write(writing)).collect();
    format!("Not in this order: {}.", list.join("; "))
}

/// The list in one table, each line with its trade.
fn all_trades(order: &Order, writing: Writing) -> Table {
    let columns = if order.priced {
        keys!(OrderLine: sold, sold_by, code, called, length_name, each, cost_cents, trade)
    } else {
        keys!(OrderLine: sold, sold_by, code, called, length_name, trade)
    };
    Table::of("To order", order.lines.iter().map(OrderLine::of), writing)
        .picked(columns)
        .without_empty_columns()
}

/// The meaning of the letters in marks, if the order is for several roof files: `Marks begin with their
/// roof's letter`.
fn about_marks(tags: &[Tag]) -> Option<String> {
    tags.iter().any(|tag| tag.letter.is_some()).then(|| {
        "Marks begin with the letter of their roof: A-R1 is what the drawings of roof A call R1."
            .to_owned()
    })
}

/// `for 3 buildings`; empty for one.
pub(super) fn for_buildings(tags: &[Tag]) -> String {
    match tags.iter().map(|tag| tag.buildings).sum() {
        0..=1 => String::new(),
        many => format!(" for {many} buildings"),
    }
}

/// Area of all roofs, amount of lumber and weight of the delivery, in words.
pub(super) fn amounts(order: &Order, metric: bool) -> (String, String, String) {
    if metric {
        (
            area(order.roof_ft2(), metric),
            // 1 in is 25.4 mm
            format!("{} m3", trim(order.lumber().in3 * 0.0254_f64.powi(3), 2)),
            Writing::METRIC.weight(order.weight_lb(), 0),
        )
    } else {
        (
            area(order.roof_ft2(), metric),
            format!("{} board feet", trim(order.lumber().board_feet, 0)),
            Writing::default().weight(order.weight_lb(), 0),
        )
    }
}

/// An area of roof in words.
pub(super) fn area(ft2: f64, metric: bool) -> String {
    if metric {
        format!("{} m2", trim(ft2 / FT2_PER_M2, 1))
    } else {
        format!("{} square feet", trim(ft2, 0))
    }
}

/// What it is for, how much lumber, how many sheets.
fn what(order: &Order, name: Option<&str>, metric: bool) -> String {
    let title = name.map_or("Order".to_owned(), |name| format!("{name}: order"));
    let (area, lumber, _) = amounts(order, metric);
    let roofs = if order.building_count() > 1 {
        format!("{}, {area} of roof in all", for_buildings(&order.tags()))
    } else {
        format!(" for a roof of {area}")
    };
    format!("{title}{roofs}: {lumber} of lumber, {} sheets", order.sheets())
}

/// The same with the total weight, and a note if not everything is proven least.
fn what_in_short(order: &Order, name: Option<&str>, metric: bool) -> String {
    let (_, _, weight) = amounts(order, metric);
    let proof = if order.proven() { "" } else { NOT_PROVEN };
    format!("{}, about {weight}. {proof}", what(order, name, metric))
}

const NOT_PROVEN: &str = "Not everything is proven least: --more shows the cutting plans.";

pub(super) fn heading(order: &Order, name: Option<&str>, metric: bool) -> String {
    let proof = if order.proven() {
        format!(
            "Proven: no cutting plan from these stock lengths takes less; {}.",
            fewest_sheets(order, metric)
        )
    } else {
        "Not everything is proven least: the cutting plans say which sections.".to_owned()
    };
    format!("{}. {proof}", what(order, name, metric))
}

/// The usual writing of either system.
fn writing(metric: bool) -> Writing {
    if metric { Writing::METRIC } else { Writing::default() }
}

/// By which rules the sheets are fewest.
fn fewest_sheets(order: &Order, metric: bool) -> String {
    let writing = writing(metric);
    let decks = order.buildings.iter().filter_map(|one| Some(one.sheets.laid()?.1));
    let mut rules: Vec<String> =
        decks.map(|deck| deck.rules(|length| writing.length(length))).collect();
    rules.dedup();
    let each = if order.building_count() > 1 { " for each building" } else { "" };
    match rules.as_slice() {
        [rules] => format!("the fewest sheets{each} with {rules}"),
        _ => format!("the fewest sheets{each} by the laying rules of its roof file"),
    }
}

/// The list, a table for each trade; the code of the yard is left out where no line has one.
pub(super) fn tables(order: &Order, writing: Writing) -> Vec<Table> {
    let is_coded = order.lines.iter().any(|line| line.code.is_some());
    let columns = match (is_coded, order.priced) {
        (true, true) => {
            keys!(OrderLine: sold, sold_by, code, called, length_name, place, each, cost_cents)
        }
        (true, false) => keys!(OrderLine: sold, sold_by, code, called, length_name, place),
        (false, true) => {
            keys!(OrderLine: sold, sold_by, called, length_name, place, each, cost_cents)
        }
        (false, false) => keys!(OrderLine: sold, sold_by, called, length_name, place),
    };
    let trades = order.lines.chunk_by(|one, next| one.trade == next.trade);
    let table = |lines: &[Line]| {
        let title = lines.first().map_or(String::new(), |line| capital(line.trade.words()));
        Table::of(title, lines.iter().map(OrderLine::of), writing).picked(columns)
    };
    trades.map(table).collect()
}

/// What decides between cutting plans without prices.
fn least_length(order: &Order) -> String {
    let long = order.sections.first().map(|section| {
        let metric = section.ask.names_meters;
        format!(
            " Sticks over {} are bought only where a piece needs one (order.long), and at most {} different lengths of a section (order.different_lengths).",
            lumber::length_name(section.ask.long, metric),
            section.ask.different_lengths
        )
    });
    format!(
        "Lumber is cut from the least length, then from the fewest sticks.{}",
        long.unwrap_or_default()
    )
}

/// The total cost, and what decides between cutting plans without prices; `hint` says where prices come
/// from, if there are none.
#[must_use]
pub fn money_line(order: &Order, hint: &str, writing: Writing) -> String {
    let cost = cost_line(order, hint, writing);
    if order.priced { cost } else { format!("{cost} {}", least_length(order)) }
}

/// What all of it costs.
fn cost_line(order: &Order, hint: &str, writing: Writing) -> String {
    if !order.priced {
        return format!("No prices were given{hint}.");
    }
    let missing: Vec<String> = order
        .without_price()
        .map(|line| {
            let (count, unit) = line.sold(writing);
            format!("{} ({count} {unit})", line.called(writing))
        })
        .collect();
    let note = order.prices_note.as_ref().map_or(String::new(), |note| format!(" Prices: {note}."));
    let currency = order.currency.as_ref().map_or(String::new(), |currency| format!(" {currency}"));
    let sum = |cents: i64| format!("{}{currency}", money(cents));
    let total = order.total_cents();
    let with_tax =
        order.tax_percent.zip(order.tax_cents()).map_or(String::new(), |(percent, tax)| {
            format!(" With {} percent tax {}.", trim(percent, 4), sum(total + tax))
        });
    // dividing the lumber among different roofs would be a guess
    let each = match order.buildings.as_slice() {
        [one] if one.tag.buildings > 1 => {
            let buildings = i64::from(one.tag.buildings);
            format!(
                ", {} for each of {buildings} buildings",
                sum((total + buildings / 2) / buildings)
            )
        }
        _ => String::new(),
    };
    if missing.is_empty() {
        format!("Total {}{each}.{with_tax}{note}", sum(total))
    } else {
        format!(
            "Total {}{each} for what has a price; {} without a price, NOT in it: {}.{with_tax}{note}",
            sum(total),
            missing.len(),
            missing.join(", ")
        )
    }
}

pub(super) fn weight_line(order: &Order, metric: bool) -> String {
    let (_, _, weight) = amounts(order, metric);
    let left_out = order.not_weighed();
    let writing = writing(metric);
    let left_out: Vec<String> = left_out.iter().map(|what| what.write(writing)).collect();
    let without = if left_out.is_empty() {
        String::new()
    } else {
        format!(", without {}", left_out.join("; "))
    };
    let density = order.density.write(writing);
    format!("The delivery weighs about {weight}{without}. Lumber as {density}.")
}

/// What a section needs, in one sentence.
#[must_use]
pub fn verdict(section: &SectionOrder, units: Units) -> String {
    let metric = section.ask.names_meters;
    let pieces = section.pieces();
    let mut sticks: Vec<String> = section
        .used()
        .into_iter()
        .map(|(stock, count)| {
            let hand = if stock.in_hand.is_some() { " in hand" } else { "" };
            format!("{count} x {}{hand}", lumber::length_name(stock.length, metric))
        })
        .collect();
    let special: i64 = section.ask.too_long.iter().map(|part| part.count).sum();
    if special > 0 {
        sticks.push(format!("{special} of special length"));
    }
    let bought = section.bought_length().inches();
    let cut = section.cut_length().inches();
    let in_hand: f64 = section
        .used()
        .into_iter()
        .filter(|(stock, _)| stock.in_hand.is_some())
        .map(|(stock, count)| stock.length.inches() * count as f64)
        .sum();
    let all = bought + in_hand;
    let waste = if all > 0.0 {
        format!("{} % waste", trim(100.0 * (1.0 - cut / all), 1))
    } else {
        String::new()
    };
    let total = |length: f64| {
        let length = crate::measure::quantity::inches(length);
        if metric {
            format!("{} m", trim(in_millimeters(length) / 1000.0, 2))
        } else {
            format!("{} ft", trim(length.inches() / 12.0, 1))
        }
    };
    let rules = section.plan.as_ref().map_or("", |plan| plan.rules());
    let proof = match (section.cost(), section.proven()) {
        (Some((cost, _)), true) => format!("{}, proven {rules}", money(cost)),
        (Some((cost, bound)), false) => {
            format!("{}, no plan costs less than {}", money(cost), money(bound))
        }
        (None, true) => {
            format!("proven {rules}")
        }
        (None, false) => {
            let plan = section.plan.as_ref();
            let at_bound = plan.is_some_and(|plan| plan.stock_length == plan.stock_length_bound());
            if at_bound {
                "proven: no plan buys less length; fewer sticks of that length may do".to_owned()
            } else {
                "stopped before it was proven least".to_owned()
            }
        }
    };
    let left_out: Vec<String> =
        section.ask.left_out.iter().map(|&length| lumber::length_name(length, metric)).collect();
    let without = if left_out.is_empty() {
        String::new()
    } else {
        format!(
            " (without {}, to buy at most {} lengths)",
            left_out.join(", "),
            section.ask.different_lengths
        )
    };
    let proof = if section.plan.is_some() { format!("; {proof}{without}") } else { String::new() };
    format!(
        "{}: {pieces} pieces from {}; {} bought, {waste}{proof}.",
        section.title(units),
        sticks.join(", "),
        total(bought)
    )
}

fn plans(order: &Order, look: &Look) -> String {
    let files = if order.buildings.len() > 1 { "files" } else { "file" };
    let title =
        format!("Cutting plans in short; stepoff cuts with the same {files} shows every stick");
    let mut text = wrapped(&title, 2, look);
    for section in &order.sections {
        text.push_str(&wrapped(&format!("  {}", verdict(section, look.writing.units)), 4, look));
    }
    text
}

fn explained(order: &Order, look: &Look) -> String {
    let mut text = String::from("How each line is counted\n");
    let mut line = |words: String| text.push_str(&wrapped(&format!("  {words}"), 4, look));
    for one in &order.lines {
        let basis = if one.basis.is_empty() {
            "as listed".to_owned()
        } else {
            one.basis.write(look.writing)
        };
        line(format!("{} ({}): {basis}", one.called(look.writing), one.sold(look.writing).1));
    }
    for total in &order.nails {
        for one in &total.uses {
            let nail = fasteners::called(total.nail).write(look.writing);
            let basis = one.basis().write(look.writing);
            line(format!("{} {nail} for {}: {basis}", one.count, one.joint));
        }
    }
    text
}

/// What is on no list because it is not framed here.
fn not_listed(lacks: &[String]) -> Option<String> {
    (!lacks.is_empty()).then(|| format!("Not in this list: {}.", lacks.join("; ")))
}

/// What every section needs; then its plan with every bar drawn.
#[must_use]
pub fn cut_plans(
    sections: &[SectionOrder],
    lacks: &[String],
    tags: &[Tag],
    look: &Look,
    depth: Depth,
) -> String {
    let name = title(tags).map_or(String::new(), |name| format!("{name}: "));
    let mut page = Page::new(look, depth);
    page.say(&format!("{name}{}", of_all_plans(sections, tags, look.writing)));
    page.say_all(not_listed(lacks));
    page.say_all(about_marks(tags));
    page.first(|page| {
        page.gap();
        page.say_all(sections.iter().map(|section| verdict(section, look.writing.units)));
    });
    page.say_all(sections.iter().flat_map(|section| {
        section.ask.too_long.iter().map(|part| too_long(section, part, look.writing))
    }));
    page.first(|page| {
        let planned = sections
            .iter()
            .filter_map(|section| Some((section.ask.problem(), &**section.plan.as_ref()?)));
        page.list(cuts::cuttings(planned, look.writing));
    });
    page.more("every stick drawn", || {
        let plans = sections.iter().filter_map(|section| {
            let words = verdict(section, look.writing.units);
            Some(cuts::section(section.ask.problem(), section.plan.as_ref()?, &words, look))
        });
        plans.collect::<Vec<_>>().join("\n")
    });
    page.end()
}

/// What is true of the cutting plans of all sections.
#[must_use]
pub fn of_all_plans(sections: &[SectionOrder], tags: &[Tag], writing: Writing) -> String {
    format!(
        "cutting plans of {} sections{}. Blanks and saw cuts are rounded up to {}, so a blank may read that much more than on its drawing; cut on the waste side of the mark.",
        sections.len(),
        for_buildings(tags),
        if sections.iter().all(|section| section.ask.metric) {
            "1 mm"
        } else if writing.units == Units::Millimeters {
            "1 mm, of nominal sections to 1.6 mm"
        } else if sections.iter().any(|section| section.ask.metric) {
            "1/16 in, of metric sections to 1 mm"
        } else {
            "1/16 in"
        }
    )
}

/// A part that no stick is long enough for.
#[must_use]
pub fn too_long(section: &SectionOrder, part: &Part, writing: Writing) -> String {
    format!(
        "{} {} is longer than every stick of {}: {}.",
        part.count,
        part.name(),
        section.ask.that_can_be_bought(&section.title(writing.units)),
        writing.blank(part.blank)
    )
}
