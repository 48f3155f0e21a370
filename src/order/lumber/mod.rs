//! Lumber: all sticks of one section, cut from the lengths that can be bought.

mod ask;
mod board;
mod rates;
mod section;
mod stock;

pub use ask::{Framed, Part, SectionAsk, asks};
pub use board::{board_feet, board_measure};
pub use rates::{Least, Measure, Rates, rates};
pub use section::SectionOrder;
pub use stock::{StockLength, length_name, stick_key};

#[cfg(test)]
mod tests {
    use super::super::cutting::{self, Control};
    use super::super::density::density;
    use super::super::prices::Prices;
    use super::*;
    use crate::catalog::lumber::Section;
    use crate::frame::Frame;
    use crate::measure::Units;
    use crate::measure::quantity::{InInches, feet, inches, millimeters};
    use crate::plan::{Entries, OrderPlan};
    use approx::assert_abs_diff_eq;

    fn plan(fields: &[(&'static str, &str)]) -> OrderPlan {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        OrderPlan::read(&entries).unwrap()
    }

    fn solved(fields: &[(&'static str, &str)], prices: &Prices, units: Units) -> Vec<SectionOrder> {
        let plan = plan(fields);
        let frame = Frame::build(&plan.gable).unwrap();
        asks(&[Framed::only(&frame, &plan.buy)], prices, units)
            .into_iter()
            .map(|ask| ask.solve(&Control::unlimited()).unwrap())
            .collect()
    }

    #[test]
    fn every_stick_is_cut_once_and_plates_stand_apart() {
        let sections = solved(&[], &Prices::default(), Units::Feet);
        assert!(sections.iter().all(SectionOrder::proven));
        assert_eq!(sections.iter().filter(|section| section.ask.walls).count(), 1);
        for section in &sections {
            let mut cut = vec![0; section.ask.parts.len()];
            for bar in section.bars() {
                for piece in &bar.pieces {
                    cut[piece.piece] += bar.times;
                }
            }
            let wanted: Vec<i64> = section.ask.parts.iter().map(|part| part.count).collect();
            assert_eq!(cut, wanted);
        }
        let out = solved(&[("order.plates", "out")], &Prices::default(), Units::Feet);
        assert_eq!(out.len() + 1, sections.len());
    }

    #[test]
    fn sticks_in_hand_are_used_and_cost_nothing() {
        let plain = solved(&[], &Prices::default(), Units::Feet);
        let fields = [("order.in_hand", "2x6 20' x 3"), ("order.extra", "2x6 8' x 2")];
        let with = solved(&fields, &Prices::default(), Units::Feet);
        let of = |sections: &[SectionOrder]| {
            sections
                .iter()
                .find(|section| section.ask.section.nominal.as_deref() == Some("2x6"))
                .cloned()
                .unwrap()
        };
        let (plain, with) = (of(&plain), of(&with));
        assert!(with.proven());
        assert_eq!(with.ask.parts.last().map(|part| part.count), Some(2));
        let in_hand: i64 = with
            .used()
            .iter()
            .filter(|(stock, _)| stock.in_hand.is_some())
            .map(|(_, count)| count)
            .sum();
        assert!((1..=3).contains(&in_hand));
        // 60 ft in hand against 16 ft of extra pieces
        assert!(with.bought_length() < plain.bought_length());
        assert_eq!(with.cost(), None);
    }

    #[test]
    fn a_page_in_metric_orders_the_same_sticks() {
        // ceiling joists of 14 ft fill a stick of 14 ft in either unit
        let bought = |units| -> Vec<(f64, i64)> {
            solved(&[], &Prices::default(), units)
                .iter()
                .flat_map(SectionOrder::used)
                .map(|(stock, count)| (stock.length.inches(), count))
                .collect()
        };
        assert_eq!(bought(Units::Millimeters), bought(Units::Feet));
        assert!(bought(Units::Feet).iter().any(|&(feet, count)| feet == 168.0 && count >= 16));
    }

    #[test]
    fn metric_sections_come_in_metric_lengths() {
        let fields = [
            ("rafter.stock", "45x195mm"),
            ("ceiling.stock", "45x145mm"),
            ("building.length", "7200mm"),
        ];
        let sections = solved(&fields, &Prices::default(), Units::Millimeters);
        let rafters = sections
            .iter()
            .find(|section| section.ask.section.is_metric() && section.ask.section.depth_in() > 7.0)
            .unwrap();
        for (stock, _) in rafters.used() {
            let name = length_name(stock.length, true);
            assert!(name.ends_with('m') && !name.contains('\''), "{name}");
        }
        assert_eq!(length_name(feet(12.0), true), "3.658m");
        assert_eq!(length_name(feet(12.0), false), "12'");
        assert_eq!(length_name(inches(92.625), false), "7'8-5/8\"");
        assert_eq!(length_name(millimeters(3657.0), false), "3.657m");
        // a length that no tape shows keeps its price: no nearest mark instead
        assert_eq!(length_name(inches(144.36), false), "144.36in");
    }

    /// A cottage of 20 ft by 12 ft with rafters of 9 ft: nobody carries sticks of 22 ft for them. The
    /// joined boards are 20 ft long and need such sticks; nothing else is cut from more than 16 ft.
    /// With [order] long = 24 ft all lengths are used.
    #[test]
    fn sticks_over_16_ft_are_bought_only_where_a_piece_needs_one() {
        let cottage = [
            ("building.length", "20'"),
            ("building.span", "12'"),
            ("roof.pitch", "10/12"),
            ("roof.spacing", "24\""),
        ];
        let lengths = |more: &[(&'static str, &str)]| -> Vec<(String, f64)> {
            let mut entries = Entries::default();
            for (key, text) in cottage.iter().chain(more) {
                entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
            }
            let plan = OrderPlan::read(&entries).unwrap();
            let frame = Frame::build(&plan.gable).unwrap();
            asks(&[Framed::only(&frame, &plan.buy)], &Prices::default(), Units::Feet)
                .into_iter()
                .map(|ask| ask.solve(&Control::unlimited()).unwrap())
                .flat_map(|section| {
                    assert!(section.proven());
                    let needs =
                        section.ask.all_parts().map(|part| part.blank.inches()).fold(0.0, f64::max);
                    let name = format!("{} {needs}", section.title(Units::Feet));
                    section
                        .used()
                        .into_iter()
                        .map(|(stock, _)| (name.clone(), stock.length.inches() / 12.0))
                        .collect::<Vec<_>>()
                })
                .collect()
        };
        let usual = lengths(&[]);
        for (section, feet) in &usual {
            let needs: f64 = section.rsplit(' ').next().unwrap().parse().unwrap();
            assert!(*feet <= 16.0 || needs > 192.0, "{section} from {feet}");
        }
        assert!(usual.iter().any(|(section, _)| section.starts_with("2x6")));
        let free = lengths(&[("order.long", "24'")]);
        assert!(free.iter().any(|(section, feet)| section.starts_with("2x6 1") && *feet > 16.0));
    }

    /// With few different lengths a plan takes at least as much, at most that many lengths, and stays
    /// proven for the chosen lengths.
    #[test]
    fn few_different_lengths_are_bought_of_a_section() {
        let roofs: [[(&str, &str); 4]; 3] = [
            [
                ("building.length", "20'"),
                ("building.span", "12'"),
                ("roof.pitch", "10/12"),
                ("roof.spacing", "24\""),
            ],
            [
                ("building.length", "31'"),
                ("building.span", "23'"),
                ("roof.pitch", "5/12"),
                ("roof.spacing", "16\""),
            ],
            [
                ("building.length", "45'"),
                ("building.span", "18'"),
                ("roof.pitch", "7/12"),
                ("roof.spacing", "19.2\""),
            ],
        ];
        let mut held = 0;
        for roof in roofs {
            let orders = |most: &str| -> Vec<SectionOrder> {
                let mut entries = Entries::default();
                for (key, text) in roof.iter().copied().chain([
                    ("order.different_lengths", most),
                    // odd pieces, for which all lengths would be of use
                    (
                        "order.extra",
                        "2x6 5' x 7, 2x6 7'2\" x 5, 2x6 9'5\" x 4, 2x6 11'7\" x 3, 2x6 13'10\" x 3",
                    ),
                ]) {
                    entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
                }
                let plan = OrderPlan::read(&entries).unwrap();
                let frame = Frame::build(&plan.gable).unwrap();
                asks(&[Framed::only(&frame, &plan.buy)], &Prices::default(), Units::Feet)
                    .into_iter()
                    .map(|ask| ask.solve(&Control::unlimited()).unwrap())
                    .collect()
            };
            let all = orders("20");
            let mut before = all.clone();
            for most in [3, 2, 1] {
                let few = orders(&most.to_string());
                for ((few, before), all) in few.iter().zip(&before).zip(&all) {
                    assert!(few.bought_lengths() <= most, "{}", few.title(Units::Feet));
                    assert!(few.bought_length() >= before.bought_length());
                    assert_eq!(few.ask.left_out.is_empty(), all.bought_lengths() <= most);
                    held += usize::from(!few.ask.left_out.is_empty());
                }
                before = few;
            }
        }
        assert!(held > 5, "{held}");
    }

    /// Priced by the foot, many mixes of lengths cost the same: no length that the plan buys can be
    /// left out at the same cost.
    #[test]
    fn equal_costs_go_to_fewer_lengths() {
        let mut prices = String::new();
        for feet in [8, 10, 12, 14, 16] {
            prices.push_str(&format!(
                "[[lumber]]\nsection = \"2x6\"\nlength = \"{feet}'\"\nprice = {feet}\n"
            ));
        }
        let prices = Prices::read(&prices).unwrap();
        let fields = [("order.kerf", "0\""), ("order.extra", "2x6 4' x 4, 2x6 8' x 3, 2x6 6' x 2")];
        let section = solved(&fields, &prices, Units::Feet)
            .into_iter()
            .find(|section| section.ask.section.nominal.as_deref() == Some("2x6"))
            .unwrap();
        assert!(section.proven());
        let (cost, _) = section.cost().unwrap();
        let lengths = 0..section.ask.stock.len();
        let bought: Vec<usize> =
            lengths.filter(|&k| section.bars().iter().any(|bar| bar.stock == k)).collect();
        for &out in &bought {
            let others: Vec<usize> = bought.iter().copied().filter(|&k| k != out).collect();
            let without = section.ask.of_lengths(&others);
            let dearer = cutting::plan(without.problem(), &Control::unlimited())
                .map_or(true, |plan| plan.cost_cents > cost);
            assert!(dearer, "{bought:?} without {out}");
        }
    }

    /// Four pieces that fill two sticks of 8 ft, saw cuts included: no plan takes less than those two, and the floor says so.
    /// A 2x6 of 8 ft at $4 is 8 board feet and 1.5 x 5.5 x 96 cubic inches.
    #[test]
    fn the_least_of_pieces_that_fill_their_sticks_is_those_sticks() {
        let prices = "[[lumber]]\nsection = \"2x6\"\nlength = \"8'\"\nprice = 4\n";
        let prices = Prices::read(prices).unwrap();
        let section = Section::nominal(2.0, 6.0).unwrap();
        for (kerf, piece) in [("0\"", 48.0), ("1/8\"", 47.9375)] {
            for (culls, cents) in [("0", 800), ("10", 880)] {
                let fields = [
                    ("order.kerf", kerf),
                    ("order.end_trim", "0\""),
                    ("order.culls", culls),
                    ("order.lengths", "8'"),
                ];
                let buy = plan(&fields).buy;
                let rates = rates(&section, &buy, &prices);
                let (units, more) = (rates.up(inches(piece)) * 4, rates.up(inches(1.0)));
                assert_eq!(rates.longest, rates.up(inches(96.0)));
                let cost = rates.cost.as_ref().unwrap();
                assert_eq!(cost.of(units, 4).value(), cents);
                // one inch more is a part of a stick more, not less
                let with_more = cost.of(units + more, 5).value();
                assert!((cents + 4..cents + 8).contains(&with_more), "{with_more}");
                let spare = cents as f64 / 800.0;
                let of_two = |least: &Least| least.of(units, 4).value() as f64 / 1e9 / spare;
                assert_abs_diff_eq!(of_two(&rates.board_feet), 16.0, epsilon = 1e-6);
                for (species, least) in &rates.weight {
                    let lb = 2.0 * 1.5 * 5.5 * 96.0 / 1728.0 * density(*species).0;
                    assert_abs_diff_eq!(of_two(least), lb, epsilon = 1e-6);
                }
            }
        }
    }

    /// Whatever is measured, a plan totals no less than its floor; the cost adds up from the prices.
    #[test]
    fn a_total_is_what_is_bought_and_no_less_than_its_floor() {
        let mut text = String::new();
        for (section, cents_ft) in [("2x6", 70), ("2x8", 95), ("2x4", 45), ("1x8", 120)] {
            for feet in [8, 10, 12, 14, 16, 20, 24] {
                let price = f64::from(feet * cents_ft) / 100.0;
                text += &format!(
                    "[[lumber]]\nsection = \"{section}\"\nlength = \"{feet}'\"\nprice = {price:.2}\n"
                );
            }
        }
        let prices = Prices::read(&text).unwrap();
        let sections = solved(&[("order.culls", "5")], &prices, Units::Feet);
        for section in &sections {
            let cost = section.total(Measure::Cost);
            let bought: i64 = section
                .used()
                .iter()
                .map(|(stock, count)| {
                    let count = count + (*count as f64 * 0.05).ceil() as i64;
                    count * stock.cents.unwrap_or_default()
                })
                .sum();
            if section.ask.too_long.is_empty() && section.ask.priced() {
                assert_eq!(cost.value(), Some(bought), "{}", section.title(Units::Feet));
            }
            for measure in [Measure::Cost, Measure::BoardFeet, Measure::Weight(28.0)] {
                let total = section.total(measure);
                let floor = total.floor().value();
                assert!(total.value().is_none_or(|value| floor <= value));
            }
            let feet = section.total(Measure::BoardFeet).value().unwrap() as f64 / 1e9;
            let by_length = board_feet(&section.ask.section, section.bought_length());
            assert_abs_diff_eq!(feet, by_length, epsilon = 1e-3);
        }
        assert!(sections.iter().any(|section| section.ask.priced()));
    }

    #[test]
    fn what_no_stick_reaches_is_told() {
        let fields = [("order.lengths", "8', 10'"), ("ridge.joints", "none")];
        let sections = solved(&fields, &Prices::default(), Units::Feet);
        let ridge = sections
            .iter()
            .flat_map(|section| &section.ask.too_long)
            .find(|part| part.what == "ridge board");
        assert_eq!(ridge.map(|part| part.blank), Some(feet(22.0)));
    }

    #[test]
    fn board_feet_go_by_nominal_sides() {
        let of =
            |thick, deep, long| board_feet(&Section::nominal(thick, deep).unwrap(), feet(long));
        assert_abs_diff_eq!(of(2.0, 6.0, 12.0), 12.0, epsilon = 1e-9);
        assert_abs_diff_eq!(of(1.0, 8.0, 12.0), 8.0, epsilon = 1e-9);
        assert_abs_diff_eq!(of(2.0, 4.0, 8.0), 16.0 / 3.0, epsilon = 1e-9);
    }
}
