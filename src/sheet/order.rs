//! `order` on one page, and the cutting plans of a roof's sections.

use crate::facts::caution;
use crate::measure::quantity::{in_inches, in_millimeters};
use crate::measure::{Units, Writing, trim};
use crate::order::fasteners;
use crate::order::lumber::Part;
use crate::order::roofs::title;
use crate::order::{Line, Order, SectionOrder, Tag, lumber};
use crate::plan::Used;

use super::cuts::{self, money};
use super::findings;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// Square feet in a square meter.
const FT2_PER_M2: f64 = 1.0 / 0.092_903_04;

/// The whole page; `used` has the values of each roof's file.
#[must_use]
pub fn text(order: &Order, used: &[Vec<Used>], look: &Look, depth: Depth) -> String {
    let explain = depth.explains();
    let metric = look.writing.units == Units::Millimeters;
    let mut page = wrapped(&heading(order, title(&order.tags()).as_deref(), metric), 2, look);
    if let Some(words) = about_marks(&order.tags()) {
        page.push_str(&wrapped(&words, 2, look));
    }
    page.push('\n');
    for table in tables(order, metric) {
        page.push_str(&table.text(look));
        page.push('\n');
    }
    page.push_str(&wrapped(&money_line(order, ": --prices FILE adds them", look.writing), 2, look));
    page.push_str(&wrapped(&weight_line(order, metric), 2, look));
    page.push('\n');
    page.push_str(&plans(order, look));
    if explain {
        page.push('\n');
        page.push_str(&explained(order, look));
    }
    page.push('\n');
    for note in &order.notes {
        page.push_str(&wrapped(&format!("Note: {}", note.write(look.writing)), 2, look));
    }
    if !order.left_out.is_empty() {
        page.push_str("Not in this order:\n");
        for words in &order.left_out {
            page.push_str(&wrapped(&format!("  {}", words.write(look.writing)), 4, look));
        }
    }
    page.push('\n');
    for (used, building) in used.iter().zip(&order.buildings) {
        if let Some(letter) = &building.tag.letter {
            page.push_str(&format!("Roof {letter}\n"));
        }
        page.push_str(&findings::used(used, look));
        page.push('\n');
    }
    page.push_str(&wrapped(caution::ORDER, 2, look));
    page
}

/// What the letters of marks mean, if the order is for several roof files: `Marks begin with their roof's letter`.
fn about_marks(tags: &[Tag]) -> Option<String> {
    tags.iter().any(|tag| tag.letter.is_some()).then(|| {
        "Marks begin with the letter of their roof: A-R1 is what the drawings of roof A call R1."
            .to_owned()
    })
}

/// `for 3 buildings`; nothing for one.
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

pub(super) fn heading(order: &Order, name: Option<&str>, metric: bool) -> String {
    let title = name.map_or("Order".to_owned(), |name| format!("{name}: order"));
    let (area, lumber, _) = amounts(order, metric);
    let roofs = if order.building_count() > 1 {
        format!("{}, {area} of roof in all", for_buildings(&order.tags()))
    } else {
        format!(" for a roof of {area}")
    };
    let proof = if order.proven() {
        format!(
            "Proven: no cutting plan from these stock lengths takes less; {}.",
            fewest_sheets(order, metric)
        )
    } else {
        "Not everything is proven least: see the plans below.".to_owned()
    };
    format!("{title}{roofs}: {lumber} of lumber, {} sheets. {proof}", order.sheets())
}

/// The usual writing of either system.
fn writing(metric: bool) -> Writing {
    if metric { Writing::METRIC } else { Writing::default() }
}

/// By which rules the sheets are fewest.
fn fewest_sheets(order: &Order, metric: bool) -> String {
    let writing = writing(metric);
    let mut rules: Vec<String> =
        order.buildings.iter().map(|one| one.deck.rules(|length| writing.length(length))).collect();
    rules.dedup();
    let each = if order.building_count() > 1 { " for each building" } else { "" };
    match rules.as_slice() {
        [rules] => format!("the fewest sheets{each} with {rules}"),
        _ => format!("the fewest sheets{each} by the laying rules of its roof file"),
    }
}

/// A length on the list, without blanks.
fn length_on_list(line: &Line, metric: bool) -> String {
    let Some(length) = line.length else {
        return String::new();
    };
    lumber::length_name(length, metric)
}

/// The list, a table for each trade.
pub(super) fn tables(order: &Order, metric: bool) -> Vec<Table> {
    let writing = writing(metric);
    let mut columns = vec![
        ("count", Align::Right),
        ("unit", Align::Left),
        ("what", Align::Left),
        ("length", Align::Right),
        ("where it goes", Align::Left),
    ];
    let coded = order.lines.iter().any(|line| line.code.is_some());
    if coded {
        columns.insert(2, ("code", Align::Left));
    }
    if order.priced {
        columns.push(("each", Align::Right));
        columns.push(("cost", Align::Right));
    }
    let mut tables = Vec::new();
    let mut at = 0;
    while let Some(first) = order.lines.get(at) {
        let end = order.lines[at..]
            .iter()
            .position(|line| line.trade != first.trade)
            .map_or(order.lines.len(), |length| at + length);
        let mut title = first.trade.words().to_owned();
        if let Some(letter) = title.get_mut(..1) {
            letter.make_ascii_uppercase();
        }
        let mut table = Table::new(title, &columns);
        for line in &order.lines[at..end] {
            let (count, unit) = line.sold(writing);
            let what = line.what.write(writing);
            let mut row = vec![
                count,
                unit,
                if line.in_hand { format!("{what}, in hand") } else { what },
                length_on_list(line, metric),
                line.goes_to.write(writing),
            ];
            if coded {
                row.insert(2, line.code.clone().unwrap_or_default());
            }
            if order.priced {
                let no_price = || "no price".to_owned();
                row.push(line.each_sold_cents(writing).map_or_else(no_price, money));
                row.push(line.cost_cents().map_or_else(String::new, money));
            }
            table.row(row);
        }
        tables.push(table);
        at = end;
    }
    tables
}

/// What decides between cutting plans where nothing has a price.
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

/// What all of it costs; `hint` says where prices come from, if none were given.
pub(super) fn money_line(order: &Order, hint: &str, writing: Writing) -> String {
    if !order.priced {
        return format!("No prices were given{hint}. {}", least_length(order));
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
    // a share of the lumber of unlike roofs would be no more than a guess
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

/// What a section takes, in one sentence.
pub(super) fn verdict(section: &SectionOrder, units: Units) -> String {
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
    let bought = in_inches(section.bought_length());
    let cut = in_inches(section.cut_length());
    let in_hand: f64 = section
        .used()
        .into_iter()
        .filter(|(stock, _)| stock.in_hand.is_some())
        .map(|(stock, count)| in_inches(stock.length) * count as f64)
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
            format!("{} ft", trim(in_inches(length) / 12.0, 1))
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
    let mut text =
        format!("Cutting plans in short; stepoff cuts with the same {files} draws every stick\n");
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

/// Every section's cutting plan with its bars drawn.
#[must_use]
pub fn cut_plans(sections: &[SectionOrder], tags: &[Tag], look: &Look, _: Depth) -> String {
    let name = title(tags).map_or(String::new(), |name| format!("{name}: "));
    let mut page =
        wrapped(&format!("{name}{}", of_all_plans(sections, tags, look.writing)), 2, look);
    if let Some(words) = about_marks(tags) {
        page.push_str(&wrapped(&words, 2, look));
    }
    for section in sections {
        page.push('\n');
        if let Some(plan) = &section.plan {
            page.push_str(&cuts::section(
                section.ask.problem(),
                plan,
                &verdict(section, look.writing.units),
                look,
            ));
        }
        for part in &section.ask.too_long {
            page.push_str(&wrapped(&too_long(section, part, look.writing), 2, look));
        }
    }
    page
}

/// What holds for the cutting plans of all sections.
pub(super) fn of_all_plans(sections: &[SectionOrder], tags: &[Tag], writing: Writing) -> String {
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
pub(super) fn too_long(section: &SectionOrder, part: &Part, writing: Writing) -> String {
    format!(
        "{} {} is longer than every stick of {} that can be bought: {}.",
        part.count,
        part.name(),
        section.title(writing.units),
        writing.blank(part.blank)
    )
}
