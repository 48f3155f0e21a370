//! Worked examples from manuals and old trade books, `tests/data/worked_examples.toml` (each names its
//! source and page). If a printed value is wrong, the exact value is checked instead.

use stepoff::catalog::printed_square::Quantity;
use stepoff::frame::CommonRafter;
use stepoff::frame::stick::SawSetting;
use stepoff::measure::quantity::{InInches, degrees, in_degrees, inches};
use stepoff::measure::{Pitch, read};
use stepoff::square::{SquareRow, step_off};
use toml::{Table, Value};

use crate::support::{rafter, text};

fn number(table: &Table, key: &str) -> Option<f64> {
    match table.get(key)? {
        Value::Float(value) => Some(*value),
        Value::Integer(value) => Some(*value as f64),
        _ => None,
    }
}

/// The rafter of an example that gives a run (or a span) and a rise.
fn example_rafter(given: &Table, extra: &[(&'static str, String)]) -> Option<CommonRafter> {
    let run = number(given, "run_in").or(number(given, "span_in").map(|span| span / 2.0))?;
    let mut fields = vec![
        ("building.span", format!("{}\"", run * 2.0)),
        ("roof.pitch", format!("{}/12", number(given, "rise_per_ft_in")?)),
    ];
    fields.extend_from_slice(extra);
    Some(rafter(&fields))
}

fn row(given: &Table) -> Option<SquareRow> {
    Pitch::rise_in_12(number(given, "rise_per_ft_in")?).map(SquareRow::at)
}

/// The program's value of one quantity; `None` if this module has no way to get it.
fn answer(kind: &str, given: &Table, quantity: &str) -> Option<f64> {
    let line = || example_rafter(given, &[]).map(|rafter| rafter.line_length.inches());
    let step = || Some(step_off(row(given)?, inches(number(given, "run_in")?)));
    match (kind, quantity) {
        ("common", "bridge_measure_in") => Some(row(given)?.common_per_ft()),
        ("common", "line_length_in" | "line_length_eighth_in") => line(),
        ("common", "line_length_ft") => line().map(|line| line / 12.0),
        // the manual adds the overhang along the rafter: 12 in of slope is 12 x 12 / C in of level
        ("common", "stock_length_in") => {
            let along = number(given, "overhang_along_rafter_in")?;
            let level = along * 12.0 / row(given)?.common_per_ft();
            let rafter = example_rafter(given, &[("eave.overhang", format!("{level}\""))])?;
            Some((rafter.line_length + rafter.tail_length).inches())
        }
        ("common", "plumb_cut_deg") => Some(90.0 - in_degrees(example_rafter(given, &[])?.slope)),
        ("common", "seat_cut_deg") => Some(in_degrees(example_rafter(given, &[])?.slope)),
        // 12 ft 4 in of run is read as 12 ft and 4 in apart
        ("common", "feet_part_in") => {
            let feet = (number(given, "run_in")? / 12.0).floor();
            Some(feet * row(given)?.common_per_ft())
        }
        ("common", "inches_part_in") => {
            let step = step()?;
            Some(step.last_run.inches() / 12.0 * step.step.inches())
        }
        ("common", "length_a_in" | "length_b_in") => {
            let (run, pitch) = if quantity == "length_a_in" {
                ("run_a_in", "pitch_a")
            } else {
                ("run_b_in", "pitch_b")
            };
            // a fraction of the span: rise in 12 is 24 times it
            let (over, under) = given.get(pitch)?.as_str()?.split_once('/')?;
            let rise = 24.0 * over.parse::<f64>().ok()? / under.parse::<f64>().ok()?;
            let row = SquareRow::at(Pitch::rise_in_12(rise)?);
            Some(number(given, run)? / 12.0 * row.common_per_ft())
        }
        ("ridge_shortening", "deduct_per_rafter_square_to_plumb_cut_in") => {
            // level, so the shortening along the slope times the slope's cosine, at any pitch
            let ridge = format!("{}\"", number(given, "ridge_thickness_in")?);
            let rafter = rafter(&[
                ("building.span", "24'".into()),
                ("roof.pitch", "7/12".into()),
                ("ridge.board", ridge),
            ]);
            Some(rafter.ridge_shortening.inches() / rafter.plan.pitch.slope_factor())
        }
        ("slope", "rise_per_ft_in" | "rise_per_ft_twelfths_in") => {
            match number(given, "roof_angle_deg") {
                Some(angle) => Some(read::pitch(&format!("{angle}deg")).ok()?.unit_rise()),
                None => {
                    let rise = number(given, "ridge_height_in")? / number(given, "run_ft")?;
                    Some(read::pitch(&format!("{rise} in 12")).ok()?.unit_rise())
                }
            }
        }
        ("step_off", "full_steps") => Some(f64::from(step()?.full_steps)),
        ("step_off", "last_step_run_in") => Some(step()?.last_run.inches()),
        ("step_off", "last_step_rise_in") => Some(step()?.last_rise.inches()),
        ("side_cut", "side_cut_jack_figure_against_12_in") => Some(row(given)?.side_cut_jack()),
        // a blade figure against 12 on the tongue is the unit length itself
        ("side_cut", "side_cut_jack_blade_against_12_tongue_in") => {
            Some(row(given)?.common_per_ft())
        }
        ("side_cut", "side_cut_hip_blade_against_17_tongue_in") => {
            Some(row(given)?.hip_valley_per_ft())
        }
        ("side_cut", "blade_in") => {
            let saw =
                SawSetting { miter: degrees(number(given, "side_cut_deg")?), bevel: degrees(0.0) };
            Some(saw.rise_in_12())
        }
        ("jack", "jack_unit_length_in") => Some(row(given)?.common_per_ft()),
        ("jack", "jack_common_difference_16oc_in") => Some(row(given)?.figure(Quantity::Jack16)),
        ("jack", "jack_common_difference_20oc_in") => Some(row(given)?.jack_difference(20.0)),
        ("jack", "jack_common_difference_in" | "shortest_jack_line_length_in") => {
            Some(row(given)?.jack_difference(number(given, "jack_spacing_in")?))
        }
        ("jack", "second_jack_line_length_in") => {
            Some(2.0 * row(given)?.jack_difference(number(given, "jack_spacing_in")?))
        }
        ("hip", "hip_bridge_measure_in") => Some(row(given)?.hip_valley_per_ft()),
        ("hip", "hip_line_length_in") => {
            Some(number(given, "common_run_in")? / 12.0 * row(given)?.hip_valley_per_ft())
        }
        _ => None,
    }
}

/// Kinds that a pattern rafter and the square answer; all of their `core` quantities must be known here.
const ANSWERED: [&str; 6] = ["common", "ridge_shortening", "slope", "step_off", "side_cut", "jack"];

#[test]
fn every_core_gable_example_is_reproduced() {
    let data: Table = text("tests/data/worked_examples.toml").parse().unwrap();
    let mut checked = 0;
    for example in data["example"].as_array().unwrap() {
        let example = example.as_table().unwrap();
        let name = example["id"].as_str().unwrap();
        let kind = example["kind"].as_str().unwrap();
        let given = example["given"].as_table().unwrap();
        if example["scope"].as_str() != Some("core") {
            continue;
        }
        for expected in example["expected"].as_array().unwrap() {
            let expected = expected.as_table().unwrap();
            let quantity = expected["quantity"].as_str().unwrap();
            let Some(found) = answer(kind, given, quantity) else {
                // the hip's part step waits for hip rafters
                assert!(
                    !ANSWERED.contains(&kind) || quantity == "hip_last_step_run_in",
                    "{name}: {quantity} is not asked for"
                );
                continue;
            };
            let agrees = expected["agrees"].as_bool().unwrap();
            let (value, tolerance) = if agrees {
                (number(expected, "value").unwrap(), number(expected, "tolerance").unwrap())
            } else {
                // DIFFERS: the print is off; the exact value decides
                (number(expected, "recomputed").unwrap(), 1e-5)
            };
            assert!(
                (found - value).abs() <= tolerance + 1e-9,
                "{name}, {}: {quantity} is {found}, expected {value} within {tolerance}",
                example["source"]
            );
            checked += 1;
        }
    }
    assert!(checked >= 38, "only {checked} quantities were checked");
}
