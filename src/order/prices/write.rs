//! The prices file of one roof, with blanks to fill in: a row for every stick and every kind of goods
//! that may be ordered.

use super::rows::{Column, stick_name};
use super::{Prices, Terms, keys};
use crate::measure::Writing;
use crate::order::Order;

/// A row of the file.
struct Row {
    /// Section and length of a stick.
    stick: Option<(String, String)>,
    /// Key of other goods.
    key: String,
    unit: &'static str,
    terms: Terms,
    /// What it is and how many the order lists.
    about: String,
}

/// Every length that each section is sold in, then every line of the order except sticks. Prices in
/// `known` are filled in.
fn rows(order: &Order, known: Option<&Prices>) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for section in &order.sections {
        for stock in &section.ask.yard {
            let stick = stick_name(&section.ask.section, stock.length);
            // the walls' plates may have the same section as sticks of the roof
            if rows.iter().any(|row| row.stick.as_ref() == Some(&stick)) {
                continue;
            }
            rows.push(Row {
                key: stick.0.clone(),
                stick: Some(stick),
                unit: "pc",
                terms: Terms {
                    cents: stock.cents,
                    code: stock.code.clone(),
                    on_hand: stock.available,
                },
                about: String::new(),
            });
        }
        for part in &section.ask.too_long {
            let stick = stick_name(&section.ask.section, section.ask.special_length(part));
            if rows.iter().any(|row| row.stick.as_ref() == Some(&stick)) {
                continue;
            }
            rows.push(Row {
                key: stick.0.clone(),
                stick: Some(stick),
                unit: "pc",
                terms: Terms::default(),
                about: format!("special length: {}", part.name()),
            });
        }
    }
    let goods = order.lines.iter().filter(|line| !line.is_stick());
    for line in goods {
        if rows.iter().any(|row| row.key == line.key) {
            continue;
        }
        rows.push(Row {
            stick: None,
            key: line.key.clone(),
            unit: line.unit,
            terms: known.and_then(|prices| prices.item(&line.key)).cloned().unwrap_or_default(),
            about: format!("{}: {} {}", line.what.write(Writing::default()), line.count, line.unit),
        });
    }
    rows
}

fn price(terms: &Terms) -> String {
    terms.cents.map_or(String::new(), |cents| format!("{}.{:02}", cents / 100, cents % 100))
}

fn on_hand(terms: &Terms) -> String {
    terms.on_hand.map_or(String::new(), |number| number.to_string())
}

/// As a string of TOML.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// In TOML, as read by [`Prices::read`].
#[must_use]
pub fn toml(order: &Order, known: Option<&Prices>, name: Option<&str>) -> String {
    let name =
        name.map_or(String::new(), |name| format!(" for {}", name.replace(['\n', '\r'], " ")));
    let head = format!(
        "# Prices{name}. Write the price of one unit between the quotes, as \"4.16\"; what stays blank has no price.\n\
         # Of a section that has a price, only the lengths with a price are bought. code is the yard's own, on_hand how many\n\
         # it has; blank is as many as wanted.\n"
    );
    file(&head, known.unwrap_or(&Prices::default()), &rows(order, known))
}

/// Prices by themselves in TOML, as read by [`Prices::read`]: the rows that say anything, without an order.
#[must_use]
pub fn kept(prices: &Prices) -> String {
    let lumber = prices.lumber.iter().map(|price| {
        let stick = stick_name(&price.section, price.length);
        (Some(stick), String::new(), "pc", &price.terms)
    });
    let items = prices.items.iter().map(|price| {
        (None, price.key.clone(), keys::unit_of(&price.key).unwrap_or("pc"), &price.terms)
    });
    let rows: Vec<Row> = lumber
        .chain(items)
        .filter(|(.., terms)| **terms != Terms::default())
        .map(|(stick, key, unit, terms)| Row {
            stick,
            key,
            unit,
            terms: terms.clone(),
            about: String::new(),
        })
        .collect();
    file("# Prices\n", prices, &rows)
}

/// What a file says while prices are still being asked for.
const ALL_LENGTHS: &str = "# Lengths without a price are bought too; without this line only those with a price.\nall_lengths = true\n";

fn file(head: &str, prices: &Prices, rows: &[Row]) -> String {
    let text = |words: &Option<String>| quoted(words.as_deref().unwrap_or_default());
    let tax = prices.tax_percent.map(|percent| percent.to_string());
    let mut file = format!(
        "{head}\nnote = {}\ncurrency = {}\ntax_percent = {}\n",
        text(&prices.note),
        text(&prices.currency),
        text(&tax),
    );
    if prices.all_lengths {
        file.push_str(ALL_LENGTHS);
    }
    for row in rows {
        file.push('\n');
        if !row.about.is_empty() {
            file.push_str(&format!("# {}\n", row.about.replace(['\n', '\r'], " ")));
        }
        match &row.stick {
            Some((section, length)) => file.push_str(&format!(
                "[[lumber]]\nsection = {}\nlength = {}\n",
                quoted(section),
                quoted(length)
            )),
            None => file.push_str(&format!(
                "[[item]]\nkey = {}\nunit = {}\n",
                quoted(&row.key),
                quoted(row.unit)
            )),
        }
        file.push_str(&format!(
            "price = {}\ncode = {}\non_hand = {}\n",
            quoted(&price(&row.terms)),
            quoted(row.terms.code.as_deref().unwrap_or_default()),
            quoted(&on_hand(&row.terms))
        ));
    }
    file
}

/// The columns of the CSV form.
#[must_use]
pub fn csv_heads() -> [&'static str; 6] {
    [Column::Key, Column::Length, Column::Price, Column::Unit, Column::Code, Column::OnHand]
        .map(|column| column.names()[0])
}

/// The rows of the CSV form, as read by [`Prices::read_csv`], without [`csv_heads`].
#[must_use]
pub fn csv_rows(order: &Order, known: Option<&Prices>) -> Vec<[String; 6]> {
    rows(order, known)
        .into_iter()
        .map(|row| {
            [
                row.key,
                row.stick.map_or(String::new(), |(_, length)| length),
                price(&row.terms),
                row.unit.to_owned(),
                row.terms.code.clone().unwrap_or_default(),
                on_hand(&row.terms),
            ]
        })
        .collect()
}
