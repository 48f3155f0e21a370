//! Figures of the code are only in `code_rules.toml`: no rule repeats one.

use std::collections::BTreeSet;
use std::fs;

use stepoff::catalog::code_rules::{Rule, Value, rules};

use crate::support::path;

/// Figures that arithmetic needs whatever the code says: counts and halves, inches in a foot, square
/// inches in a square foot, percent.
const ARITHMETIC: [f64; 7] = [0.0, 0.5, 1.0, 2.0, 12.0, 100.0, 144.0];

/// Lines with a figure that some rule has too, by chance: file, words of the line, why.
const BY_CHANCE: [(&str, &str, &str); 10] = [
    (
        "panels.rs",
        "const TABLE_DEAD_PSF",
        "dead load behind the sheathing table, head of sheathing_spans.csv",
    ),
    ("panels.rs", "panel.live_psf_at_16", "head of a column of the sheathing table"),
    ("panels.rs", "panel.live_psf_at_24", "head of a column of the sheathing table"),
    ("spans.rs", "const ENGINEERED_DEEP_IN", "depths that engineered lumber is made in"),
    (
        "uplift.rs",
        "const BOLTS_FT",
        "anchor bolts, R403.1.6, a chapter that the rules' data does not cover",
    ),
    ("panels.rs", "const TABLE_WIDTH_IN", "title of the sheathing table"),
    ("panels.rs", "[Inches(48.0)]", "the wider bay within the sentence of sheath_edge_clips"),
    (
        "attic.rs",
        "const AIRSPACE",
        "within the sentence of unvented_attic, which has no one figure",
    ),
    ("dead.rs", "* 10.0).round() / 10.0", "rounding to a tenth"),
    ("uplift.rs", "* 10.0).round() / 10.0", "rounding to a tenth"),
];

fn figures(rule: &Rule) -> impl Iterator<Item = f64> {
    [
        rule.number(),
        rule.value_min,
        rule.value_max,
        rule.edge_in,
        rule.field_in,
        rule.zone_in,
        rule.near_in,
        rule.corner_ft,
        rule.wind_mph,
        rule.wind_c_mph,
        rule.slope_in_12,
        rule.spacing_in,
        rule.height_in,
        rule.width_in,
        rule.length_in,
        rule.area_sqft,
    ]
    .into_iter()
    .flatten()
    .chain(rule.pair().into_iter().flat_map(|(one, other)| [one, other]))
}

/// The code of a line without its comment, and the words in its strings.
fn code_and_words(line: &str) -> (String, String) {
    let (mut code, mut words, mut quoted, mut before) = (String::new(), String::new(), false, ' ');
    for one in line.chars() {
        match one {
            '"' if before != '\\' => quoted = !quoted,
            '/' if !quoted && before == '/' => break,
            _ if quoted => words.push(one),
            _ => code.push(one),
        }
        before = one;
    }
    (code, words)
}

/// The numbers with a decimal point in `code`, without names and tuple fields.
fn numbers(code: &str) -> Vec<f64> {
    code.split(|c: char| !(c.is_ascii_alphanumeric() || c == '.' || c == '_'))
        .filter(|word| word.starts_with(|c: char| c.is_ascii_digit()) && word.contains('.'))
        .filter_map(|word| word.replace('_', "").parse().ok())
        .collect()
}

#[test]
fn numbers_are_read_from_code_alone() {
    let line = r#"    let far = pair.0 > 24.0; // 30.0 "8.0"#;
    assert_eq!(numbers(&code_and_words(line).0), [24.0]);
    assert_eq!(code_and_words(r#"note("over 4 ft"), 3.5"#).1, "over 4 ft");
}

#[test]
fn no_rule_writes_a_figure_of_the_code_a_second_time() {
    let known: Vec<f64> = rules().iter().flat_map(figures).collect();
    let fractions: BTreeSet<String> = rules()
        .iter()
        .filter_map(|rule| match rule.value {
            Some(Value::Fraction(over, under)) if under > 12 => Some(format!("{over}/{under}")),
            _ => None,
        })
        .collect();
    let is_known = |figure: &f64| !ARITHMETIC.contains(figure) && known.contains(figure);
    let (mut found, mut allowed) = (Vec::new(), BTreeSet::new());
    let mut files = 0;
    for file in fs::read_dir(path("src/rules")).unwrap() {
        let file = file.unwrap().path();
        let name = file.file_name().unwrap().to_string_lossy().into_owned();
        // what is worked by hand there is what the rules are held against
        if name == "tests.rs" || file.is_dir() {
            continue;
        }
        let source = fs::read_to_string(&file).unwrap();
        let source = source.split("#[cfg(test)]").next().unwrap();
        files += 1;
        for (number, line) in source.lines().enumerate() {
            if let Some(at) =
                BY_CHANCE.iter().position(|(of, words, _)| *of == name && line.contains(words))
            {
                allowed.insert(at);
                continue;
            }
            let (code, words) = code_and_words(line);
            let in_words = words
                .split(' ')
                .collect::<Vec<_>>()
                .windows(2)
                .filter(|pair| ["mph", "psf", "plf"].iter().any(|unit| pair[1].starts_with(unit)))
                .filter_map(|pair| pair[0].parse::<f64>().ok())
                .any(|figure| is_known(&figure));
            if numbers(&code).iter().any(is_known)
                || in_words
                || fractions.iter().any(|fraction| words.contains(fraction.as_str()))
            {
                found.push(format!("{name}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert!(files > 15, "only {files} files were read");
    assert!(found.is_empty(), "take these from the rules' data:\n{}", found.join("\n"));
    assert_eq!(allowed.len(), BY_CHANCE.len(), "an exception that nothing needs: {allowed:?}");
}
