//! Worked examples of estimating (roof area, board feet, counts, coverings) from manuals and old trade
//! books, `tests/data/worked_examples.toml`; each names its source and page. If a printed value is
//! wrong, the exact value is checked instead.

use stepoff::measure::quantity::{InInches, feet, in_square_feet, inches};
use stepoff::measure::{Length, Pitch};
use stepoff::order::lumber::board_measure;
use stepoff::order::roofing;
use stepoff::plan::GablePlan;
use toml::{Table, Value};

use crate::support::{entries, text};

fn number(table: &Table, key: &str) -> f64 {
    match table.get(key) {
        Some(Value::Float(value)) => *value,
        Some(Value::Integer(value)) => *value as f64,
        other => panic!("{key}: {other:?}"),
    }
}

/// Rafters of one slope that the program frames over a wall.
fn members_one_slope(given: &Table) -> f64 {
    let plan = GablePlan::read(&entries(&[
        ("building.length", format!("{}'", number(given, "wall_length_ft"))),
        ("building.span", "14'".into()),
        ("roof.pitch", "6/12".into()),
        ("roof.spacing", format!("{}\"", number(given, "spacing_in"))),
    ]))
    .unwrap();
    stepoff::frame::Frame::build(&plan).unwrap().pairs.len() as f64
}

fn answer(kind: &str, given: &Table, quantity: &str) -> Option<f64> {
    let sides = || (feet(number(given, "plan_length_ft")), feet(number(given, "plan_width_ft")));
    let pitch = || Pitch::rise_in_12(number(given, "rise_per_ft_in")).unwrap();
    let exposure = || -> Length {
        if given.contains_key("exposure_in") {
            inches(number(given, "exposure_in"))
        } else {
            // three deep: a third of what is left of the length less the cover at the top
            inches((number(given, "shingle_length_in") - number(given, "cover_in")) / 3.0)
        }
    };
    let width = || inches(number(given, "shingle_width_in"));
    Some(match (kind, quantity) {
        ("roof_area", "plan_area_sqft") => {
            let (length, width) = sides();
            in_square_feet(length * width)
        }
        ("roof_area", "slope_factor") => pitch().slope_factor(),
        ("roof_area", "roof_area_sqft") => {
            let (length, width) = sides();
            in_square_feet(length * width * pitch().slope_factor())
        }
        ("board_feet", "board_feet" | "board_feet_by_decimals") => {
            number(given, "pieces")
                * board_measure(
                    number(given, "thickness_in"),
                    number(given, "width_in"),
                    feet(number(given, "length_ft")),
                )
        }
        // a bill is the board feet at the price of a thousand
        ("board_feet", "cost_usd") => {
            answer(kind, given, "board_feet")? * number(given, "price_per_thousand_usd") / 1000.0
        }
        ("covering", "coverage_per_shingle_sqin") => {
            14_400.0 / roofing::shingles_per_square(width(), exposure())
        }
        ("covering", "shingles_per_square") => roofing::shingles_per_square(width(), exposure()),
        ("covering", "exposure_in") => exposure().inches(),
        ("count", "members_one_slope") => members_one_slope(given),
        _ => return None,
    })
}

#[test]
fn every_estimating_example_is_reproduced() {
    let data: Table = text("tests/data/worked_examples.toml").parse().unwrap();
    let mut checked = 0;
    let mut misprints = Vec::new();
    for example in data["example"].as_array().unwrap() {
        let example = example.as_table().unwrap();
        let kind = example["kind"].as_str().unwrap();
        if !["roof_area", "board_feet", "covering", "count"].contains(&kind) {
            continue;
        }
        let name = example["id"].as_str().unwrap();
        let given = example["given"].as_table().unwrap();
        for expected in example["expected"].as_array().unwrap() {
            let expected = expected.as_table().unwrap();
            let quantity = expected["quantity"].as_str().unwrap();
            let found = answer(kind, given, quantity)
                .unwrap_or_else(|| panic!("{name}: {quantity} is not asked for"));
            let (value, tolerance) = if expected["agrees"].as_bool().unwrap() {
                (number(expected, "value"), number(expected, "tolerance"))
            } else {
                // DIFFERS: the print carries a rounding along; the exact value decides
                misprints.push(format!("{name}: {quantity}"));
                (number(expected, "recomputed"), 1e-5)
            };
            assert!(
                (found - value).abs() <= tolerance + 1e-9,
                "{name}, {}: {quantity} is {found}, expected {value} within {tolerance}",
                example["source"]
            );
            checked += 1;
        }
    }
    assert_eq!(checked, 15);
    // listed as misprints in docs/checks.md
    assert_eq!(
        misprints,
        [
            "navy-board-feet-33x7: board_feet_by_decimals",
            "griffith-bm-bill-30pc: board_feet",
            "griffith-bm-bill-30pc: cost_usd",
        ]
    );
}
