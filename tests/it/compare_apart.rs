//! `stepoff compare`: which roofs are kept apart and named, what is proven, and from what.

use serde_json::Value;

use crate::support::{File, stepoff, text};

const DEMO: &str = "examples/kestrel-yard.toml";
const PRICES: &str = "examples/prices.toml";

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(&[&["compare"], arguments, &["--format", "json"]].concat());
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

/// The page as one line.
fn page(arguments: &[&str]) -> String {
    let output = stepoff(&[&["compare"], arguments].concat());
    let told = String::from_utf8(output.stdout).unwrap();
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The demo's prices without what a key or a section names.
fn prices_without(name: &str, what: &[&str]) -> File {
    let all = text(PRICES);
    let kept: Vec<&str> = all
        .split("\n\n")
        .filter(|block| !what.iter().any(|what| block.contains(&format!("\"{what}\""))))
        .collect();
    assert!(kept.len() < all.split("\n\n").count(), "{what:?}");
    File::new(name, &kept.join("\n\n"))
}

fn apart<'a>(compared: &'a Value, reason: &str) -> Vec<&'a Value> {
    let all = compared["kept_apart"].as_array().unwrap();
    all.iter().filter(|one| one["reason"] == reason).collect()
}

const SWEEP: [&str; 8] =
    ["--ridge", "2x8, 2x10, 2x12", "--spacing", "16\", 24\"", "--rafter", "2x6", "--joist", "2x6"];
/// One spacing, rafter and joist.
const ONE: [&str; 6] = ["--spacing", "16\"", "--rafter", "2x6", "--joist", "2x6"];

#[test]
fn lumber_without_a_price_is_never_free() {
    // 2x4 is in every roof, 2x10 and 2x12 have no price in the demo's file
    let prices = prices_without("no-2x4.toml", &["2x4"]);
    let arguments = [&[DEMO, "--prices", prices.name()], &SWEEP[..]].concat();
    let compared = json(&arguments);
    assert_eq!(compared["rank"], "board feet");
    assert_eq!(compared["meets"], 6);
    assert_eq!(compared["unpriced"], 6);
    let what: Vec<&Value> = apart(&compared, "no_price").iter().map(|one| &one["what"]).collect();
    assert_eq!(what, ["2x10; 2x4", "2x12; 2x4", "2x4"]);
    for roof in compared["shown"].as_array().unwrap() {
        assert_eq!(roof["total_cents"], Value::Null);
        assert!(roof["without_price"].as_str().unwrap().contains("2x4"));
        assert!(!roof["best_in"].as_str().unwrap().contains("cost"));
    }
    let page = page(&arguments);
    assert!(page.contains("none is ranked by cost"), "{page}");
    assert!(!page.contains("costs less"), "{page}");
    assert!(page.contains("no price for 2x10, 2x4"), "{page}");
    // with a price for the rest, only roofs that need unpriced goods are kept apart
    let compared = json(&[&[DEMO, "--prices", PRICES], &SWEEP[..]].concat());
    assert_eq!((&compared["rank"], &compared["unpriced"]), (&"cost".into(), &4.into()));
    assert_eq!(compared["shown"][0]["ridge"], "2x8");
    assert_eq!(compared["proven_least"], true);
}

#[test]
fn a_present_roof_without_a_price_is_compared_in_the_rest() {
    let roof = text(DEMO).replace("board = \"2x8\"", "board = \"2x10\"");
    let file = File::new("unpriced-present.toml", &roof);
    let arguments = [&[file.name(), "--prices", PRICES], &SWEEP[..]].concat();
    assert_eq!(json(&arguments)["present"]["total_cents"], Value::Null);
    let page = page(&arguments);
    assert!(!page.contains("of cost"), "{page}");
    assert!(page.contains("board feet"), "{page}");
}

#[test]
fn goods_without_a_price_that_others_need_not_are_not_free_either() {
    // 24/0 spans 24 in with clips only, 20 in without
    let roof = text(DEMO).replace("panel = \"24/16\"", "panel = \"24/0\"\nedges = \"clips\"");
    let file = File::new("clips.toml", &roof);
    let priced = text(PRICES).replace("sheet 24/16", "sheet 24/0");
    let prices = File::new("clips-prices.toml", &priced);
    let arguments = [&[file.name(), "--prices", prices.name()], &SWEEP[..]].concat();
    let compared = json(&arguments);
    let clips = apart(&compared, "no_price");
    let clips = clips.iter().find(|one| one["what"] == "clip").unwrap();
    assert_eq!(clips["candidates"], 1);
    assert!(clips["in_common"].as_str().unwrap().contains("spacing 24\""));
    assert_eq!(compared["shown"][0]["spacing"], "16\"");
    // with a price they are compared
    let priced = format!("{priced}\n[[item]]\nkey = \"clip\"\nprice = 0.10\n");
    let prices = File::new("clips-priced.toml", &priced);
    let compared = json(&[&[file.name(), "--prices", prices.name()], &SWEEP[..]].concat());
    assert_eq!(compared["shown"][0]["spacing"], "24\"");
}

#[test]
fn boards_that_are_named_are_the_boards_that_are_bought() {
    let roof = text(DEMO).replace("board = \"2x8\"", "board = \"2x8\"\ndepth = '11-1/4\"'");
    let file = File::new("ridge-depth.toml", &roof);
    let name = file.name();
    let all = std::env::temp_dir().join(format!("stepoff-ridges-{}.csv", std::process::id()));
    let compared = json(&[&[name], &SWEEP[..]].concat());
    let feet = |ridge: &str| {
        // each by itself, so that it is shown
        let compared = json(&[&[name, "--ridge", ridge], &ONE[..]].concat());
        let roof = compared["shown"][0].clone();
        assert_eq!(roof["ridge"], ridge);
        roof["board_feet"].as_f64().unwrap()
    };
    // 22 ft and two rakes of ridge: 2 in of nominal depth are 2 x 2 / 12 board feet a foot, before waste
    assert!(feet("2x8") < feet("2x10") - 4.0);
    assert!(feet("2x10") < feet("2x12") - 4.0);
    assert_eq!(compared["candidates"], 6);
    // without a list of boards the given depth is kept
    let kept = json(&[&[name], &ONE[..]].concat());
    assert_eq!(kept["candidates"], 1);
    assert_eq!(kept["shown"][0]["ridge"], "2x8, depth 11-1/4\"");
    let _ = std::fs::remove_file(all);
    // the same for the fascia's depth and the tail's face
    let roof = text(DEMO)
        .replace("fascia = \"1x8\"", "fascia = \"1x8\"\nfascia_depth = '9-1/4\"'")
        .replace(
            "stock = \"2x6\"\n\n[ridge]",
            "stock = \"2x6\"\ntail = \"level\"\ntail_face = '4\"'\n\n[ridge]",
        );
    let file = File::new("fascia-depth.toml", &roof);
    let boards = ["--fascia", "1x8, 1x10, 1x12", "--tail", "plumb, level", "--ridge", "2x8"];
    let fascias = json(&[&[file.name()], &boards[..], &ONE[..]].concat());
    assert_eq!(fascias["candidates"], 6);
    assert_eq!(fascias["cannot_build"], 0);
}

#[test]
fn a_deck_that_can_not_be_laid_is_no_order_and_is_named() {
    let roof = text(DEMO).replace("[sheathing]", "[deck]\nleast_piece = '60\"'\n\n[sheathing]");
    let file = File::new("long-pieces.toml", &roof);
    let few = [
        file.name(),
        "--prices",
        PRICES,
        "--rafter",
        "2x6",
        "--joist",
        "2x6",
        "--ridge",
        "2x8",
        "--pitch",
        "5/12 to 7/12 by 0.5/12",
        "--spacing",
        "12\", 24\"",
        "--orders",
        "1",
    ];
    let compared = json(&few);
    let refused = apart(&compared, "refused");
    assert!(!refused.is_empty());
    assert_eq!(refused[0]["in_common"], "spacing 24\"");
    assert!(refused[0]["what"].as_str().unwrap().contains("no course can be laid"));
    // what is refused uses up no order
    let ordered = compared["ordered"].as_u64().unwrap();
    let refused = compared["refused"].as_u64().unwrap();
    assert_eq!((ordered, refused), (1, 5));
    assert_eq!(compared["frames_tried"], ordered + refused);
    assert_eq!(compared["shown"][0]["spacing"], "12\"");
    // after many failed tries it ends, and says how many
    let mut many = few;
    (many[10], many[12]) = ("5/12 to 7/12 by 0.02/12", "24\"");
    let page = page(&many);
    assert!(
        page.contains("None of the 65 that were tried could be ordered in full; 36 were not tried"),
        "{page}"
    );
    // none at all
    let all = json(&[&few[..12], &["24\""], &["--orders", "40"]].concat());
    assert_eq!((&all["ordered"], &all["shown"]), (&0.into(), &Value::Array(Vec::new())));
    assert_eq!(all["refused"], all["frames"]);
    assert_eq!(all["proven_least"], false);
}

#[test]
fn what_is_proven_by_bounds_is_what_ordering_all_finds() {
    let roofs: [&[&str]; 3] = [
        &[
            "--pitch",
            "5/12 to 7/12 by 0.5/12",
            "--overhang",
            "8\", 10\", 12\"",
            "--spacing",
            "16\", 24\"",
        ],
        &[
            "--species",
            "SPF, DFL",
            "--grade",
            "No.1, No.2",
            "--spacing",
            "16\", 19.2\", 24\"",
            "--pitch",
            "5/12, 5.5/12, 6/12",
        ],
        &[
            "--blocking",
            "held, none",
            "--spacing",
            "12\", 24\"",
            "--pitch",
            "5/12, 5.5/12, 6/12, 7/12",
        ],
    ];
    let fixed = [DEMO, "--prices", PRICES, "--rafter", "2x6", "--joist", "2x6", "--ridge", "2x8"];
    for (roof, rank) in roofs.iter().flat_map(|roof| [(roof, "cost"), (roof, "weight")]) {
        let with = |orders: &str| {
            json(&[&fixed[..], roof, &["--rank", rank, "--orders", orders]].concat())
        };
        let (few, all) = (with("8"), with("1000"));
        assert_eq!(all["ordered"], all["frames"]);
        let least = |of: &Value| match rank {
            "cost" => of["shown"][0]["total_cents"].as_f64().unwrap(),
            _ => of["shown"][0]["weight_lb"].as_f64().unwrap(),
        };
        assert_eq!(few["proven_least"], true, "{roof:?} {rank}: {few}");
        assert!((least(&few) - least(&all)).abs() < 1e-6, "{roof:?} {rank}");
        assert!(few["ordered"].as_u64() < all["ordered"].as_u64());
        let page = page(&[&fixed[..], roof, &["--rank", rank, "--orders", "8"]].concat());
        assert!(page.contains("their waste is not known"), "{page}");
        assert!(page.contains("best of 8 in"), "{page}");
    }
}

#[test]
fn a_piece_longer_than_every_stick_is_named_with_its_length() {
    let roof = format!("{}\n[order]\nlengths = \"8', 10', 12'\"\n", text(DEMO))
        .replace("[ridge]", "[ridge]\njoints = \"none\"");
    let file = File::new("short-sticks.toml", &roof);
    let name = file.name();
    let compared = json(&[&[name], &SWEEP[..]].concat());
    let long = apart(&compared, "too_long");
    assert!(!long.is_empty(), "{compared}");
    let told: u64 = long.iter().map(|one| one["candidates"].as_u64().unwrap()).sum();
    assert_eq!(compared["special_lengths"], told);
    for one in &long {
        let (needed, longest) =
            (one["needed_in"].as_f64().unwrap(), one["longest_in"].as_f64().unwrap());
        assert!(needed > longest && longest <= 144.0, "{one}");
    }
    // the ridge in one piece: as long as the building over its rakes, 22 ft and twice 8 in, or the building alone
    assert!(long.iter().any(|one| one["needed_in"].as_f64().unwrap() >= 264.0), "{long:?}");
    let page = page(&[&[name], &SWEEP[..]].concat());
    assert!(page.contains("they need a 2x"), "{page}");
    assert!(page.contains("(the longest that can be cut is 12' 0\")"), "{page}");
}

#[test]
fn the_file_of_all_lists_what_is_kept_apart_too() {
    let folder = std::env::temp_dir().join(format!("stepoff-apart-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let all = folder.join("all.csv");
    let written = stepoff(
        &[&["compare", DEMO, "--prices", PRICES, "--all", all.to_str().unwrap()], &SWEEP[..]]
            .concat(),
    );
    assert!(written.status.success(), "{written:?}");
    let rows = std::fs::read_to_string(&all).unwrap();
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(rows.lines().count(), 1 + 6, "{rows}");
    let with = |words: &str| rows.lines().filter(|row| row.ends_with(words)).count();
    assert_eq!((with("no_price: 2x10"), with("no_price: 2x12")), (2, 2), "{rows}");
}

#[test]
fn a_metric_page_is_metric_all_through() {
    let arguments = [
        &[DEMO, "--prices", PRICES, "--pitch", "5/12, 6/12"],
        &SWEEP[..],
        &["--units", "metric", "--more"],
    ]
    .concat();
    let page = page(&arguments);
    let caution = page.find("Caution").unwrap();
    for foreign in ["board feet", "bd ft", " lb", " in 12", "\"", "' ", " in "] {
        // the word "in" of a sentence aside
        let found = match foreign {
            " in " => {
                page[..caution].split_whitespace().collect::<Vec<_>>().windows(2).any(|pair| {
                    pair[1] == "in"
                        && pair[0].ends_with(|c: char| c.is_ascii_digit())
                        && pair[0] != "32"
                })
            }
            _ => page[..caution].contains(foreign),
        };
        assert!(!found, "{foreign}: {page}");
    }
    assert!(page.contains("spacing 406 mm, 610 mm"), "{page}");
    assert!(page.contains("pitch 22.62 deg, 26.57 deg"), "{page}");
}
