//! Sticks on the list: the cutting plans' lengths, and parts longer than all of them.

use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note, Units};
use crate::solve::Floor;

use super::line::{Line, Trade, sawn};
use super::lumber::{self, SectionOrder};

/// Sticks of every section by length.
pub(super) fn lines(
    sections: &[SectionOrder],
    density_lb_ft3: f64,
    units: Units,
    notes: &mut Vec<Note>,
) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut long = false;
    for section in sections {
        let ask = &section.ask;
        let name = ask.section.write(units);
        let trade = if ask.walls { Trade::Walls } else { Trade::Lumber };
        let sticks = |length: Length, count: i64, spare: i64| {
            let count = u64::try_from(count + spare).unwrap_or(0);
            let lumber = sawn(&ask.section, length).times(count);
            Line {
                trade,
                key: lumber::stick_key(&ask.section, length, units),
                what: name.clone().into(),
                length: Some(length),
                count,
                least_count: Floor::ZERO,
                unit: "pc",
                goes_to: Note::default(),
                basis: Note::default(),
                each_cents: None,
                weight_lb: Some(lumber.in3 / 1728.0 * density_lb_ft3),
                lumber: Some(lumber),
                code: None,
                in_hand: false,
            }
        };
        let for_culls = |spare: i64| {
            if spare > 0 { format!(", {spare} of them for culls") } else { String::new() }
        };
        for (stock, count) in section.used() {
            let spare = stock.in_hand.map_or_else(|| ask.spare(count), |_| 0);
            long |= stock.in_hand.is_none() && stock.length.inches() > 240.0 + HAIR;
            lines.push(Line {
                goes_to: section.goes_to(stock).join(", ").into(),
                basis: if stock.in_hand.is_some() {
                    "in hand".into()
                } else if section.proven() {
                    format!("by the cutting plan, proven best{}", for_culls(spare)).into()
                } else {
                    format!("by the cutting plan, not proven best{}", for_culls(spare)).into()
                },
                each_cents: stock.cents,
                code: stock.code.clone(),
                in_hand: stock.in_hand.is_some(),
                ..sticks(stock.length, count, spare)
            });
        }
        for part in &ask.too_long {
            let spare = ask.spare(part.count);
            lines.push(Line {
                what: format!("{name}, special length").into(),
                goes_to: part.name().into(),
                basis: format!(
                    "longer than every {}{}",
                    ask.that_can_be_bought("length"),
                    for_culls(spare)
                )
                .into(),
                ..sticks(ask.special_length(part), part.count, spare)
            });
            let price_it =
                if ask.only_priced { "write the price of a longer one, or " } else { "" };
            notes.push(
                format!(
                    "{} is longer than every stick of {}: {price_it}order it by its length.",
                    part.name(),
                    ask.that_can_be_bought(&name)
                )
                .into(),
            );
        }
    }
    if long && sections.iter().any(|section| !section.ask.priced()) {
        notes.push(Note::with(
            "Sticks over {} may not be stocked: name the yard's lengths in the roof file (order.lengths) or in a prices file.",
            [Amount::Feet(20.0)],
        ));
    }
    lines
}
