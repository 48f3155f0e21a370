//! A roof in metric is answered in metric, on every page; one in feet shows no metric.

use std::collections::BTreeMap;

use crate::pdf_page;
use crate::support::{File, stepoff};

const ROOF: &str = "examples/odd/metric.toml";

fn shown(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    assert!(output.status.code().unwrap() < 2, "{arguments:?} {output:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// Words with a mark of US units that are not amounts, each with the reason.
const ALLOWED: &[(&str, &str)] = &[
    ("feet of gable studs", "the feet that the studs stand on"),
    (", feet of", "the same in a list, before a line ends"),
    ("board-feet", "the word for --rank"),
    ("(order.long)", "a field"),
    ("nails roofing 2 in", "the key that a prices file has"),
    ("pounds and psi", "said once over workings, whose formulas are the code's"),
    (
        "Workings are in inches, feet and pounds, as the code's formulas are.",
        "said once where workings are shown",
    ),
    (
        "Nails are named as the code names them: length x diameter in inches, rows in inches.",
        "said once on the walk, where nails are counted",
    ),
    ("--units feet", "a flag"),
    ("4 in and 100 mm", "the rulers that a printer is checked by"),
];

/// The marks of US units in a text.
fn us_units(text: &str) -> Vec<String> {
    let mut text =
        text.replace(['\u{2032}', '\u{2019}'], "'").replace(['\u{2033}', '\u{201d}'], "\"");
    text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for (words, _) in ALLOWED {
        text = text.replace(words, " ");
    }
    let words: Vec<&str> = text.split_whitespace().collect();
    // `17 in all` counts
    let english = [
        "hand", "order", "which", "place", "all", "the", "a", "each", "both", "its", "this", "one",
        "for", "line",
    ];
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let bare = word.trim_matches(|letter: char| !letter.is_alphanumeric());
        let before = at.checked_sub(1).map_or("", |before| words[before]);
        let after = words.get(at + 1).map_or("", |after| after.trim_end_matches([',', '.']));
        let is_figure = |word: &str| word.ends_with(|letter: char| letter.is_ascii_digit());
        let ends = word.trim_end_matches([',', '.', ';', ')', ':']);
        let marked = ends.strip_suffix(['\'', '"']).is_some_and(is_figure);
        let rise = ends.strip_suffix(":12").is_some_and(is_figure);
        let unit = [
            "psf", "plf", "mph", "lb", "lbs", "feet", "inch", "inches", "lb/ft", "lb-ft", "pounds",
        ];
        let glued = ["in", "ft", "lb", "psf", "mph"]
            .iter()
            .any(|unit| bare.strip_suffix(unit).is_some_and(is_figure));
        let in_figures = is_figure(before) && !before.contains("R6") && !before.contains("R8");
        let after_figure = match bare {
            "ft" | "sq" => in_figures,
            // the last word of a table's head
            "in" => in_figures && !english.contains(&after) && !after.starts_with('\u{2500}'),
            _ => false,
        };
        if marked || rise || glued || unit.contains(&bare) || after_figure {
            found.push(format!("{before} {word} {after}"));
        }
    }
    found
}

/// The marks of metric units in a text.
fn metric_units(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let bare = word.trim_matches(|letter: char| !letter.is_alphanumeric());
        let before = at.checked_sub(1).map_or("", |before| words[before]);
        let is_figure = |word: &str| word.ends_with(|letter: char| letter.is_ascii_digit());
        let glued = ["mm", "cm", "m", "kPa", "kN", "kg", "m2", "m3"]
            .iter()
            .any(|unit| bare.strip_suffix(unit).is_some_and(is_figure));
        let unit = ["mm", "cm2", "m2", "m3", "kPa", "kN", "kg", "kN/m", "m/s", "meter", "meters"];
        if glued || unit.contains(&bare) || (bare == "m" && is_figure(before)) {
            found.push(format!("{before} {word}"));
        }
    }
    found
}

/// The demo in metric: the fields of a roof that meets every rule but the spans of its metric lumber.
const METRIC_YARD: &[(&str, &str)] = &[
    ("job.name", "Metric Yard"),
    ("building.length", "6.7 m"),
    ("building.span", "4.27 m"),
    ("building.wall_height", "2465mm"),
    ("building.plate", "38x89mm"),
    ("building.sheathing", "11mm"),
    ("building.finish", "32mm"),
    ("building.window_head", "2030mm"),
    ("roof.pitch", "50%"),
    ("roof.spacing", "400mm"),
    ("rafter.stock", "38x140mm"),
    ("ridge.board", "38x184mm"),
    ("eave.overhang", "300mm"),
    ("eave.fascia", "19x184mm"),
    ("eave.soffit", "9.5mm"),
    ("eave.blocking", "held"),
    ("rake.overhang", "200mm"),
    ("rake.framing", "ladder"),
    ("ceiling.joists", "beside"),
    ("ceiling.stock", "38x140mm"),
    ("gable.vent_width", "368mm"),
    ("gable.vent_height", "305mm"),
    ("gable.vent_sill", "305mm"),
    ("gable.vent_area", "390cm2"),
    ("lumber.species", "SPF"),
    ("lumber.grade", "No.2"),
    ("code.edition", "2021"),
    ("loads.snow", "1.44 kPa"),
    ("loads.dead", "0.48 kPa"),
    ("loads.wind", "51 m/s"),
    ("loads.exposure", "b"),
    ("loads.seismic", "b"),
    ("sheathing.panel", "24/16"),
    ("sheathing.nail_edge", "150mm"),
    ("sheathing.nail_field", "150mm"),
    ("roofing.kind", "shingles"),
    ("roofing.underlayment", "single"),
    ("roofing.drip_edge", "yes"),
    ("roofing.ice", "yes"),
    ("roofing.ice_barrier", "1.83m"),
    ("attic.access_width", "560mm"),
    ("attic.access_length", "765mm"),
    ("attic.access_headers", "single"),
    ("attic.access_trimmers", "double"),
    ("attic.access_tie", "4kN"),
    ("attic.soffit_vent", "190cm2/m"),
    ("attic.ridge_vent", "380cm2/m"),
    ("attic.climate_zone", "5"),
    ("insulation.depth", "250mm"),
    ("insulation.baffles", "yes"),
    ("site.floor_height", "460mm"),
    ("site.lot_line", "1.83m"),
    ("site.lot_line_rake", "2.44m"),
    ("limits.height", "4.88m because the zoning of this invented place caps cottages"),
];

/// A change of the metric demo: its name, and its fields.
type Change = (&'static str, &'static [(&'static str, &'static str)]);

/// Other choices for a metric roof, so that every kind of line is written once.
const CHANGES: &[Change] = &[
    ("as it is", &[]),
    ("untied under snow", &[("ceiling.joists", "none"), ("loads.snow", "4.8 kPa")]),
    (
        "low slope",
        &[("roof.pitch", "20%"), ("roofing.underlayment", "double"), ("eave.overhang", "330mm")],
    ),
    (
        "steep and storm",
        &[
            ("roof.pitch", "45deg"),
            ("loads.wind", "62 m/s"),
            ("loads.exposure", "c"),
            ("rafter.tie_down", "1kN"),
            ("building.wall_strap", "1kN/m"),
            ("loads.dead", "0.2 kPa"),
        ],
    ),
    (
        "nominal lumber with outlookers",
        &[
            ("rafter.stock", "2x8"),
            ("ceiling.stock", "2x6"),
            ("ridge.board", "2x10"),
            ("eave.fascia", "1x10"),
            ("rake.framing", "over"),
            ("rake.overhang", "500mm"),
        ],
    ),
    (
        "notched outlookers",
        &[
            ("rafter.stock", "2x8"),
            ("ridge.board", "2x10"),
            ("eave.fascia", "1x10"),
            ("rake.framing", "notched"),
            ("gable.studs", "no"),
        ],
    ),
    (
        "wide and heavy",
        &[
            ("building.span", "11.5 m"),
            ("rafter.stock", "2x12"),
            ("ridge.board", "2x14"),
            ("eave.fascia", "1x12"),
            ("ceiling.stock", "2x12"),
            ("ceiling.bearing", "5.5m"),
            ("ceiling.lap", "50mm"),
            ("loads.dead", "1.2 kPa"),
            ("roofing.kind", "slate"),
            ("roof.spacing", "600mm"),
            ("loads.seismic", "d0"),
            ("eave.blocking", "none"),
        ],
    ),
    (
        "joists across, no vents, zone 7",
        &[
            ("ceiling.joists", "across"),
            ("ceiling.tie_spacing", "1.6m"),
            ("attic.climate_zone", "7"),
            ("attic.soffit_vent", "20cm2/m"),
            ("attic.ridge_vent", "20cm2/m"),
            ("roofing.kind", "metal-standing"),
            ("sheathing.nail_edge", "200mm"),
        ],
    ),
    (
        "raised ties without a ridge board, beside the line",
        &[
            ("ceiling.tie_height", "350mm"),
            ("ridge.board", "none"),
            ("site.lot_line", "1 m"),
            ("site.lot_line_rake", "0.5 m"),
            ("roofing.kind", "roll"),
            ("eave.fascia", "19x89mm"),
        ],
    ),
    (
        "unvented under wood shingles, thin panels",
        &[
            ("attic.vented", "no"),
            ("roofing.kind", "wood-shingles"),
            ("sheathing.panel", "24/0"),
            ("sheathing.edges", "none"),
            ("roof.spacing", "600mm"),
            ("collar.ties", "no"),
        ],
    ),
    (
        "little given",
        &[
            ("loads.wind", ""),
            ("loads.snow", ""),
            ("roofing.kind", ""),
            ("sheathing.panel", ""),
            ("attic.soffit_vent", ""),
            ("attic.ridge_vent", ""),
            ("attic.access_width", ""),
            ("attic.access_length", ""),
            ("insulation.depth", ""),
            ("site.floor_height", ""),
            ("eave.soffit_framing", "yes"),
        ],
    ),
];

/// A roof file of fields, with `change` before the others; fields with empty text are left out.
fn roof_file(base: &[(&str, &str)], change: &[(&str, &str)]) -> String {
    let mut tables: BTreeMap<&str, BTreeMap<&str, &str>> = BTreeMap::new();
    for (key, text) in base.iter().chain(change) {
        let (table, name) = key.split_once('.').unwrap();
        tables.entry(table).or_default().insert(name, text);
    }
    let mut file = String::new();
    for (table, fields) in tables {
        file.push_str(&format!("[{table}]\n"));
        for (name, text) in fields.iter().filter(|(_, text)| !text.is_empty()) {
            file.push_str(&format!("{name} = {text:?}\n"));
        }
    }
    file
}

/// Every command that reads a roof file, with its arguments.
const COMMANDS: &[&[&str]] = &[
    &["rafter"],
    &["eave"],
    &["frame"],
    &["layout"],
    &["ties"],
    &["sheathing"],
    &["cuts"],
    &["prove"],
    &["effect"],
    &["check"],
    &["check", "--explain"],
    &["check", "--walkthrough"],
    &["ties", "--explain"],
    &["rafter", "--explain"],
    &["eave", "--more"],
    &["frame", "--more"],
    &["layout", "--more"],
    &["sheathing", "--more"],
    &["cuts", "--more"],
    &["prove", "--more"],
    &["effect", "--more"],
];

/// The order of a roof file. In feet it has no cubic meters of lumber, but gives both densities and
/// both areas of a roof.
const ORDERS: &[&[&str]] = &[&["order"], &["order", "--explain"]];

/// A command's output for a file, results and refusals alike.
fn said(command: &[&str], file: &str) -> String {
    let mut arguments = command.to_vec();
    arguments.push(file);
    let output = stepoff(&arguments);
    String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
}

/// Lines of workings are the code's own formulas, in its units; their result in metric is at the end.
fn without_workings(text: &str, command: &[&str]) -> String {
    if command.contains(&"--explain") {
        let (before, rest) = text.split_once("How the nails come about").unwrap_or((text, ""));
        let after = rest.split_once("[S..]").map_or("", |(_, after)| after);
        let text = format!("{before}{after}");
        let mut in_working = false;
        let lines = text.lines().filter(|line| {
            let indent = line.len() - line.trim_start().len();
            in_working = indent >= 6 || (in_working && indent >= 10);
            !in_working
        });
        lines.collect::<Vec<_>>().join("\n")
    } else {
        text.to_owned()
    }
}

#[test]
fn no_command_says_a_us_unit_of_a_metric_roof() {
    let mut wrong = Vec::new();
    let mut hold = |of: String, text: &str| {
        let found = us_units(text);
        if !found.is_empty() {
            wrong.push(format!("{of}: {found:?}"));
        }
    };
    for (name, change) in CHANGES {
        let file = File::new("metric.toml", &roof_file(METRIC_YARD, change));
        for command in COMMANDS.iter().chain(ORDERS) {
            let text = said(command, file.name());
            hold(format!("{name}, {command:?}"), &without_workings(&text, command));
        }
    }
    for command in COMMANDS.iter().chain(ORDERS) {
        hold(format!("{ROOF}, {command:?}"), &without_workings(&said(command, ROOF), command));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Commands with questions in tables of their own, each with a metric one.
const QUESTIONS: &[(&str, &[(&str, &str)])] = &[
    (
        "compare",
        &[
            ("compare.pitch", "40%, 50%"),
            ("compare.overhang", "300mm, 400mm"),
            ("compare.spacing", "400mm"),
            ("compare.rafter", "38x140mm, 2x8"),
            ("loads.snow", "0.9 kPa"),
        ],
    ),
    (
        "compare",
        &[
            ("compare.pitch", "40%, 50%"),
            ("compare.overhang", "300mm, 305mm"),
            ("roof.spacing", "406mm"),
            ("rafter.stock", "2x8"),
            ("ridge.board", "2x10"),
            ("ceiling.stock", "2x6"),
            ("eave.fascia", "1x10"),
        ],
    ),
    ("fit", &[("fit.find", "pitch"), ("fit.peak", "1300mm"), ("fit.fascia_top", "-100mm")]),
    ("fit", &[("fit.find", "overhang"), ("fit.fascia_bottom", "-350mm"), ("fit.above", "floor")]),
    ("fit", &[("fit.find", "plate-drop"), ("fit.deeper", "38x235mm")]),
    ("fit", &[("fit.find", "ridge"), ("fit.wall_b", "300mm")]),
    (
        "measured",
        &[
            ("measured.width_near", "4272mm, 4273mm"),
            ("measured.width_far", "4266mm"),
            ("measured.length_a", "6702mm"),
            ("measured.length_b", "6700mm"),
            ("measured.diagonal_near_a", "7948mm"),
            ("measured.diagonal_near_b", "7940mm"),
            ("measured.plate_near_a", "2mm"),
            ("measured.plate_far_a", "0mm"),
            ("measured.plate_near_b", "-3mm"),
            ("measured.plate_far_b", "1mm"),
            ("measured.spans", "4270mm at 1200mm"),
        ],
    ),
    (
        "measured",
        &[
            ("measured.width_near", "4272mm, 4290mm"),
            ("measured.width_far", "4266mm"),
            ("measured.length_a", "6702mm"),
            ("measured.length_b", "6700mm"),
            ("measured.diagonal_near_a", "7948mm"),
            ("measured.diagonal_near_b", "7940mm"),
        ],
    ),
];

#[test]
fn no_further_question_is_answered_in_us_units() {
    for (command, change) in QUESTIONS {
        let file = File::new("metric.toml", &roof_file(METRIC_YARD, change));
        for depth in ["--more", "--explain"] {
            let text = said(&[command, depth], file.name());
            let text = without_workings(&text, &[command, depth]);
            assert_eq!(us_units(&text), Vec::<String>::new(), "{command} {change:?} {depth}");
        }
    }
}

#[test]
fn no_page_says_a_us_unit_of_a_metric_roof() {
    let mut wrong = Vec::new();
    for (name, change) in CHANGES {
        let file = File::new("metric.toml", &roof_file(METRIC_YARD, change));
        let output = stepoff(&["sheets", file.name(), "-o", "-"]);
        assert!(output.status.code().unwrap() < 2, "{name}: {output:?}");
        for (number, page) in pdf_page::pages(&output.stdout).iter().enumerate() {
            // the rulers that a printer is checked by
            let words =
                page.words.iter().map(|words| words.text.trim()).filter(|text| *text != "4 in");
            // a sentence continues in the next line's text
            let found = us_units(&words.collect::<Vec<_>>().join(" "));
            if !found.is_empty() {
                wrong.push(format!("{name}, page {}: {found:?}", number + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_command_says_a_metric_unit_of_a_roof_in_feet() {
    let mut wrong = Vec::new();
    for roof in
        ["examples/kestrel-yard.toml", "examples/odd/shallow.toml", "examples/odd/steep.toml"]
    {
        for command in COMMANDS {
            let found = metric_units(&said(command, roof));
            if !found.is_empty() {
                wrong.push(format!("{roof}, {command:?}: {found:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
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
    assert_eq!(us_units(&metric), Vec::<String>::new());
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
