//! A roof that is written in metric is answered in metric.

use crate::support::{File, stepoff};

const ROOF: &str = "examples/odd/metric.toml";

fn shown(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    assert!(output.status.code().unwrap() < 2, "{output:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// What is shown before the values used, whose defaults are told in the words of the roof file's fields.
fn result(shown: &str) -> &str {
    shown.split("Given:").next().unwrap_or(shown)
}

/// The words of US units in a text; a lumber length by its trade name (`14 ft`) counts as a name, not as a measure.
fn us_units(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let bare = word.trim_matches(|letter: char| !letter.is_alphanumeric());
        let before = at.checked_sub(1).map_or("", |before| words[before]);
        let after_number = before.ends_with(|letter: char| letter.is_ascii_digit());
        let marked = word
            .trim_end_matches([',', '.', ';', ')'])
            .strip_suffix(['\'', '"'])
            .is_some_and(|rest| rest.ends_with(|letter: char| letter.is_ascii_digit()));
        let name = bare == "ft" && at >= 2 && words[at - 2] == "order";
        if marked
            || ["psf", "plf", "mph", "lb", "feet", "inch", "inches"].contains(&bare)
            || (after_number && ["in", "sq", "ft"].contains(&bare) && !name)
        {
            found.push(format!("{before} {word}"));
        }
    }
    found
}

#[test]
fn no_table_of_a_metric_roof_has_a_us_unit() {
    for command in ["rafter", "frame", "layout", "eave", "prove"] {
        assert_eq!(us_units(result(&shown(&[command, ROOF]))), Vec::<String>::new(), "{command}");
    }
    // what the code says of its rules in notes is in its own units; the tables before them are not
    for command in ["check", "ties"] {
        let all = shown(&[command, ROOF]);
        for line in all.lines().filter(|line| {
            ["meets", "fails", "needs design"].iter().any(|verdict| line.starts_with(verdict))
        }) {
            assert_eq!(us_units(line), Vec::<String>::new(), "{command}: {line}");
        }
    }
}

#[test]
fn flags_stand_over_the_units_of_the_file() {
    let feet = shown(&["rafter", ROOF, "--units", "feet", "--no-drawing"]);
    assert!(feet.contains(" in 12 (") && !us_units(&feet).is_empty());
    let sixteenths = shown(&["rafter", ROOF, "--round", "1/16", "--no-drawing"]);
    assert!(!us_units(&sixteenths).is_empty());
    // flags alone say their units too
    let metric = shown(&[
        "rafter",
        "--span",
        "7.2m",
        "--pitch",
        "30deg",
        "--stock",
        "45x195mm",
        "--no-drawing",
    ]);
    assert_eq!(us_units(result(&metric)), Vec::<String>::new());
}

#[test]
fn a_list_in_millimeters_is_cut_in_millimeters() {
    let list = File::new("mm.csv", "kind,length,quantity\nstock,3000mm,\npiece,900mm,4\n");
    let told = shown(&["cuts", list.name(), "--kerf", "3mm"]);
    assert!(told.contains("900 mm") && us_units(&told).is_empty(), "{told}");
}

#[test]
fn a_metric_roof_goes_on_metric_paper() {
    let file = File::new("metric.svg", "");
    shown(&["rafter", ROOF, "--svg", file.name(), "--force"]);
    let page = std::fs::read_to_string(file.name()).unwrap();
    // A4 is 210 x 297 mm, 8.268 x 11.693 in; Letter 8.5 x 11 in
    let head = &page[..page.find('>').unwrap()];
    assert!(
        head.contains("11.69")
            || head.contains("8.26")
            || head.contains("297")
            || head.contains("210"),
        "{head}"
    );
}
