//! `stepoff cuts` from the command line: input formats, output formats, the JSON promise, refusals.

use serde_json::Value;

use crate::support::{File, stepoff};

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(arguments);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Names promised to programs that read them.
#[test]
fn cuts_keeps_its_json_promise() {
    let report = json(&["cuts", "tests/data/cutting/R04.json", "--format", "json"]);
    // The optimum that other solvers proved.
    assert_eq!(report["cost_cents"], 186_059);
    assert_eq!(report["lower_bound_cents"], 186_059);
    assert_eq!(report["proven_optimal"], true);
    assert!(report["seconds"].is_number());
    let bars = report["bars"].as_array().unwrap();
    assert!(!bars.is_empty());
    for bar in bars {
        assert!(bar["stock"].is_string());
        assert!(bar["length_in"].is_number());
        assert!(bar["offcut_in"].is_number());
        assert!(bar["times"].is_u64());
        for piece in bar["pieces"].as_array().unwrap() {
            assert!(piece["label"].is_string() && piece["length_in"].is_number());
        }
    }
}

#[test]
fn bars_are_counted_without_prices() {
    // 4 x 50 fill 2 bars of 100; 3 x 40 need 2 more, since 40 + 40 + 40 is too long.
    let file = File::new("bars.txt", "2\n100\n50\t4\n40\t3\n");
    let report = json(&["cuts", "--bars", file.name(), "--format", "json"]);
    assert_eq!(report["bars_used"], 4);
    assert_eq!(report["lower_bound_bars"], 4);
    assert_eq!(report["proven_optimal"], true);
}

#[test]
fn toml_and_csv_lists_give_the_same_plan() {
    let toml = File::new(
        "list.toml",
        "kerf = '1/8\"'\n[[stock]]\nlength = \"8'\"\nprice = 7.10\n[[stock]]\nlength = \"12'\"\nprice = 10.70\nquantity = 2\n\
         [[piece]]\nlabel = \"stud\"\nlength = '71-3/4\"'\nquantity = 5\n",
    );
    let csv = File::new(
        "list.csv",
        "kind,label,length,quantity,price\nstock,,8ft,,7.10\nstock,,12ft,2,10.70\npiece,stud,71.75in,5,\n",
    );
    let a = json(&["cuts", toml.name(), "--format", "json"]);
    let b = json(&["cuts", csv.name(), "--kerf", "1/8\"", "--format", "json"]);
    assert_eq!(a["bars"], b["bars"]);
    // Two 12 ft bars give 4 (143-5/8 of 144 in), the fifth comes from 8 ft: 2 x 10.70 + 7.10.
    assert_eq!(a["cost_cents"], 2850);
}

#[test]
fn every_form_of_output_is_written() {
    let text = stepoff(&["cuts", "tests/data/cutting/R02.json", "--ascii", "--columns", "80"]);
    let text = String::from_utf8(text.stdout).unwrap();
    assert!(text.contains("Proven cheapest with these stock lengths and"), "{text}");
    assert!(text.is_ascii());
    assert!(text.lines().all(|line| line.len() <= 80), "{text}");
    let csv = stepoff(&["cuts", "tests/data/cutting/R02.json", "--format", "csv"]);
    let rows =
        csv::Reader::from_reader(csv.stdout.as_slice()).into_records().map(Result::unwrap).count();
    assert!(rows >= 2);
}

#[track_caller]
fn refused(name: &str, text: &str, needle: &str) {
    let file = File::new(name, text);
    let output = stepoff(&["cuts", file.name()]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(output.stdout.is_empty());
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains(needle), "{told}");
}

#[test]
fn wrong_lists_are_refused_with_what_to_write() {
    refused("a.json", "{\"stock\": [", "this is not JSON from here on");
    refused(
        "b.json",
        r#"{"stock":[{"length":9,"price_cents":1}],"pieces":[{"length":"x","qty":1}]}"#,
        "length is a whole number, not \"x\"",
    );
    refused(
        "c.json",
        r#"{"stock":[{"length":9,"price_cents":1}],"pieces":[{"length":10,"qty":1}]}"#,
        "longer than the longest bar",
    );
    refused("d.csv", "kind,length\npiece,3\nstock,8'\n", "3 has no unit");
    refused("e.csv", "label\nx\n", "there is no column kind");
    refused("f.toml", "saw = 3\n", "saw is not known");
    refused(
        "g.csv",
        "kind,length,quantity\nstock,8',1\npiece,5',2\n",
        "the stock does not suffice",
    );
    refused("h.xyz", "", ".json, .toml or .csv");
    let none = stepoff(&["cuts"]);
    assert_eq!(none.status.code(), Some(2));
    let both = stepoff(&["cuts", "tests/data/cutting/R01.json", "--time-limit", "0"]);
    assert_eq!(both.status.code(), Some(2));
}
