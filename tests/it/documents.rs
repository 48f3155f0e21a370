//! The JSON of every command is valid under the schema that ships with it, with and without the
//! working, on random roofs. The validator is somebody else's (crate `jsonschema`).

use jsonschema::Validator;
use proptest::prelude::*;
use serde_json::Value;

use crate::support::{File, stepoff, text};

const YARD: &str = "examples/kestrel-yard.toml";

fn validator(name: &str) -> Validator {
    let schema: Value =
        serde_json::from_str(&text(&format!("docs/schema/{name}.schema.json"))).unwrap();
    jsonschema::validator_for(&schema).unwrap_or_else(|why| panic!("{name}: {why}"))
}

/// The command's JSON, validated against its schema; `None` if the roof is refused.
#[track_caller]
fn holds(schema: &str, arguments: &[&str]) -> Option<Value> {
    let mut last = None;
    for explain in [&[][..], &["--explain"]] {
        let arguments = [arguments, &["--format", "json"], explain].concat();
        let output = stepoff(&arguments);
        if output.status.code() == Some(2) {
            continue;
        }
        let document: Value = serde_json::from_slice(&output.stdout)
            .unwrap_or_else(|why| panic!("{arguments:?}: {why}"));
        let faults: Vec<String> = validator(schema)
            .iter_errors(&document)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{arguments:?}: {faults:#?}");
        last = Some(document);
    }
    last
}

/// Commands on one roof file that answer at once.
const OF_A_ROOF: [&str; 8] =
    ["rafter", "eave", "frame", "layout", "ties", "check", "prove", "effect"];

/// Results on structure, cutting and buying, which all say who decides.
fn says_who_decides(command: &str) -> bool {
    !["layout", "prove", "effect", "square", "cuts", "cuts-roof"].contains(&command)
}

#[track_caller]
fn caution_stands(command: &str, document: &Value) {
    if says_who_decides(command) {
        let caution = document["caution"].as_str().unwrap_or_default();
        assert!(
            caution.contains("ocal code") || caution.contains("building department"),
            "{command}: {caution}"
        );
    }
}

#[test]
fn every_document_of_the_examples_holds_to_its_schema() {
    let metric = "examples/odd/metric.toml";
    for roof in [YARD, metric, "examples/odd/shallow.toml", "tests/data/plain.toml"] {
        for command in OF_A_ROOF {
            let document = holds(command, &[command, roof]);
            caution_stands(command, &document.unwrap_or_else(|| panic!("{command} {roof}")));
        }
    }
    let measured = "examples/kestrel-yard-measured.toml";
    let sheet =
        ["sheathing", "--length", "192in", "--slope-width", "96.125in", "--spacing", "24in"];
    for (schema, arguments) in [
        ("measured", &["measured", measured][..]),
        ("order", &["order", YARD]),
        ("cuts-roof", &["cuts", YARD]),
        ("sheathing", &["sheathing", YARD]),
        ("sheathing", &sheet),
        ("square", &["square"]),
        (
            "spans",
            &[
                "spans",
                "--size",
                "2x6",
                "--species",
                "SPF",
                "--grade",
                "No.2",
                "--spacing",
                "16",
                "--live",
                "20",
                "--dead",
                "10",
            ],
        ),
        ("ties", &["ties", "--span", "36'", "--pitch", "4/12", "--snow", "50"]),
        ("rafter", &["rafter", "--span", "14'", "--pitch", "6/12"]),
        ("eave", &["eave", "--span", "14'", "--pitch", "6/12"]),
        ("fit", &["fit", YARD, "--find", "pitch", "--ridge-top", "4'"]),
        (
            "compare",
            &[
                "compare",
                YARD,
                "--rafter",
                "2x6",
                "--ridge",
                "2x8",
                "--spacing",
                "16\"",
                "--joist",
                "2x6",
            ],
        ),
    ] {
        if let Some(document) = holds(schema, arguments) {
            caution_stands(schema, &document);
        } else {
            panic!("refused: {arguments:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn every_document_of_a_random_roof_holds_to_its_schema(
        span in 72_u32..420,
        rise in 2_u32..20,
        stock in prop::sample::select(vec!["2x6", "2x8", "2x10", "45x195mm"]),
        joists in prop::sample::select(vec!["beside", "across", "none"]),
        ridge in prop::sample::select(vec!["2x8", "2x12", "none"]),
        rake in prop::sample::select(vec!["none", "ladder", "outlookers"]),
        snow in prop::option::of(0_u32..100),
        edition in prop::sample::select(vec!["2015", "2018", "2021", "2024"]),
    ) {
        let snow = snow.map_or(String::new(), |snow| format!("[loads]\nsnow = \"{snow} psf\"\ndead = \"10 psf\"\n"));
        let overhang = if rake == "none" { "0\"" } else { "12\"" };
        let framing = if rake == "none" { "ladder" } else { rake };
        let roof = format!(
            "[building]\nlength = \"24'\"\nspan = \"{span}in\"\n[roof]\npitch = \"{rise}/12\"\n[rafter]\nstock = \"{stock}\"\n\
             [ridge]\nboard = \"{ridge}\"\n[rake]\noverhang = '{overhang}'\nframing = \"{framing}\"\n[ceiling]\njoists = \"{joists}\"\n\
             [code]\nedition = \"{edition}\"\n{snow}"
        );
        let file = File::new("documents.toml", &roof);
        for command in OF_A_ROOF {
            if let Some(document) = holds(command, &[command, file.name()]) {
                caution_stands(command, &document);
            }
        }
    }
}

/// Every row of a CSV as read by a CSV reader.
fn rows(arguments: &[&str]) -> Vec<Vec<String>> {
    let output = stepoff(&[arguments, &["--format", "csv"]].concat());
    csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(&output.stdout[..])
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn tables_for_spreadsheets_say_who_decides() {
    let spans = ["spans", "--size", "2x6", "--spacing", "16", "--live", "20", "--dead", "10"];
    for arguments in [&["check", YARD][..], &spans] {
        let rows = rows(arguments);
        assert_eq!(rows[0].last().unwrap(), "caution");
        assert!(rows.len() > 2);
        for row in &rows[1..] {
            assert!(row.last().unwrap().contains("building department"), "{row:?}");
        }
    }
    let ties = rows(&["ties", YARD]);
    assert!(ties.last().unwrap().iter().any(|cell| cell.contains("building department")));
}

#[test]
fn rules_that_nothing_looks_at_are_listed_after_the_findings() {
    let document = holds("check", &["check", YARD]).unwrap();
    let list = document["not_looked_at"].as_array().unwrap();
    let found = document["findings"].as_array().unwrap();
    assert!(list.len() > 20);
    for one in list {
        assert!(!one["fact"].as_str().unwrap().is_empty());
        assert!(found.iter().all(|finding| finding["id"] != one["id"]), "{one}");
    }
    let csv = rows(&["check", YARD]);
    let listed =
        csv.iter().filter(|row| row.iter().any(|cell| cell.starts_with("nothing here looks at")));
    assert_eq!(listed.count(), list.len());
    let page =
        String::from_utf8(stepoff(&["check", YARD, "--columns", "200", "--more"]).stdout).unwrap();
    let at = page.find("Not looked at: ").unwrap();
    assert!(at > page.find("section").unwrap());
    assert!(page[at..].contains(&format!("Not looked at: {} rules of IRC 2021", list.len())));
    // of another edition other rules
    let of_2015 = holds("check", &["check", YARD, "--edition", "2015"]).unwrap();
    assert_ne!(of_2015["not_looked_at"], document["not_looked_at"]);
}

#[test]
fn defaults_of_sticks_that_are_not_framed_are_not_listed() {
    // at 2 in 12 no collar tie fits between heel and ridge
    let low = text(YARD).replace("pitch = \"6/12\"", "pitch = \"2/12\"");
    let defaults = |name: &str, roof: &str| -> Vec<String> {
        let file = File::new(name, roof);
        let document = holds("frame", &["frame", file.name()]).unwrap();
        let used = document["used"].as_array().unwrap();
        used.iter()
            .filter(|one| one["is_default"] == true)
            .map(|one| one["key"].as_str().unwrap().to_owned())
            .filter(|key| key.starts_with("collar."))
            .collect()
    };
    assert_eq!(defaults("low.toml", &low), [""; 0]);
    assert!(!defaults("steeper.toml", &text(YARD)).is_empty());
    // given values stay, framed or not
    let given = low + "\n[collar]\nties = \"yes\"\n";
    let file = File::new("given.toml", &given);
    let document = holds("frame", &["frame", file.name()]).unwrap();
    let used = document["used"].as_array().unwrap();
    assert!(used.iter().any(|one| one["key"] == "collar.ties" && one["is_default"] == false));
}
