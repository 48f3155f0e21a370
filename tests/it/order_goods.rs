//! What a roof needs besides sticks and panels, counted by hand, with prices.

use serde_json::Value;

use crate::support::{File, stepoff};

/// 20 ft by 12 ft, 6 in 12, rafters at 24 in, butted without a ridge board, overhang 12 in, no rake.
const ROOF: &str = "[building]\nlength = \"20'\"\nspan = \"12'\"\n[roof]\npitch = \"6/12\"\nspacing = '24\"'\n[ridge]\nboard = \"none\"\n\
    [eave]\noverhang = \"1'\"\nblocking = \"held\"\nsoffit = '3/8\"'\n[gable]\nvent_width = '14-1/2\"'\nvent_height = \"1'\"\nvent_sill = '6\"'\n\
    [sheathing]\npanel = \"24/0\"\nedges = \"blocking\"\n[attic]\nclimate_zone = \"5\"\nsoffit_vent = 9\nridge_vent = 18\n\
    [insulation]\nbaffles = \"yes\"\n[rafter]\ntie_down = 500\n";

fn run(arguments: &[&str]) -> Value {
    let output = stepoff(&[arguments, &["--format", "json"]].concat());
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

fn array(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

fn count(report: &Value, key: &str) -> u64 {
    array(&report["lines"])
        .iter()
        .find(|line| line["key"] == key)
        .and_then(|line| line["count"].as_u64())
        .unwrap_or_else(|| panic!("no line {key}: {report}"))
}

fn nails(report: &Value, joint: &str) -> u64 {
    array(&report["nails"])
        .iter()
        .flat_map(|kind| array(&kind["uses"]))
        .find(|one| one["joint"] == joint)
        .and_then(|one| one["count"].as_u64())
        .unwrap_or_else(|| panic!("no nails for {joint}: {}", report["nails"]))
}

#[test]
fn what_a_roof_takes_is_counted() {
    let file = File::new(
        "goods.toml",
        &format!("{ROOF}[roofing]\nkind = \"metal-standing\"\ncover_width = '16\"'\n"),
    );
    let report = run(&["order", file.name()]);
    // pairs at 0, 24 ... 240 in
    assert_eq!(count(&report, "gusset plate"), 11);
    assert_eq!(count(&report, "tie-down 500"), 22);
    // ten bays an eave
    assert_eq!(count(&report, "baffle"), 20);
    assert_eq!(count(&report, "gable louver"), 2);
    // 240 in of ridge: 240 / 9 is 26.7, so 28 nails an edge
    assert_eq!(nails(&report, "ridge vent"), 2 * 28);
    // 7 ft of soffit vent for 6.4 needed: 6.4 screws, so 7 an edge; 8 a louver; 10 percent more
    assert_eq!(count(&report, "vent screws"), 33);
    // 15 panels of 16 in a plane; 84 in x 1.118 is 93.9 in: four spaces of 24 in, five clips
    assert_eq!(count(&report, "metal panel"), 30);
    assert_eq!(count(&report, "seam clip"), 165);
    assert_eq!(count(&report, "clip screws"), 330);
    // ridge cap: 20 spaces of 12 in, so 21 an edge, and 10 percent
    assert_eq!(count(&report, "metal screws"), 47);
    // 24/0 spans 24 in with supported edges only: ten bays at each joint between courses
    let deck = run(&["sheathing", file.name()]);
    let joints: u64 =
        array(&deck["planes"]).iter().map(|plane| array(&plane["courses"]).len() as u64 - 1).sum();
    assert_eq!(count(&report, "edge block"), 10 * joints);
    assert_eq!(nails(&report, "edge blocks"), 40 * joints);
    // a block of 22-1/2 in: 21-3/4 in between the first and the last nail, four spaces of 6 in
    assert_eq!(nails(&report, "panel edges over blocks"), 2 * 5 * 10 * joints);
    // what is not counted is named
    let left_out = report["left_out"].to_string();
    for words in ["tie-downs", "gusset plates", "culls", "lower layer", "soffit panels"] {
        assert!(left_out.contains(words), "{words}: {left_out}");
    }
    let text = String::from_utf8(stepoff(&["order", file.name()]).stdout).unwrap();
    assert!(text.contains("Not in this order:"), "{text}");
}

#[test]
fn underlayment_and_roll_roofing_are_fastened() {
    let file = File::new("roll.toml", &format!("{ROOF}[roofing]\nkind = \"roll\"\n"));
    let report = run(&["order", file.name()]);
    // 93.9 in up the slope: 36 and 34 and the rest, three courses on each plane of underlayment and of
    // roofing; a course of 240 in takes 21 cap nails along the lap and 11 up its middle
    assert_eq!(count(&report, "cap nails"), (2.0_f64 * 3.0 * 32.0 * 1.1).ceil() as u64);
    // four rows of 240 in and two rakes of 93.9 in, each 3 in
    let width = 84.0 * 1.25_f64.sqrt();
    let a_plane = ((4.0 * 240.0 + 2.0 * width) / 3.0).ceil() as u64;
    assert_eq!(nails(&report, "roll roofing"), 2 * a_plane);
    assert!(report["left_out"].to_string().contains("lap cement"));
}

#[test]
fn culls_and_both_layers_of_plates_are_fields() {
    let plain = File::new("plain.toml", ROOF);
    let more = File::new("more.toml", &format!("{ROOF}[order]\nculls = 10\nplates = \"double\"\n"));
    let (plain, more) = (run(&["order", plain.name()]), run(&["order", more.name()]));
    let cut = |report: &Value, walls: bool| -> f64 {
        array(&report["sections"])
            .iter()
            .filter(|section| section["section"].as_str().unwrap().contains("walls") == walls)
            .map(|section| section["cut_length_in"].as_f64().unwrap())
            .sum()
    };
    assert!((cut(&more, true) - 2.0 * cut(&plain, true)).abs() < 1e-6);
    assert!((cut(&more, false) - cut(&plain, false)).abs() < 1e-6);
    for line in array(&plain["lines"]).iter().filter(|line| line["trade"] == "lumber") {
        let planned = line["count"].as_u64().unwrap();
        let with = count(&more, line["key"].as_str().unwrap());
        assert_eq!(with, planned + planned.div_ceil(10), "{line}");
    }
    assert!(!more["left_out"].to_string().contains("culls"));
}

fn told(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn a_price_that_names_nothing_is_refused_with_what_it_may_mean() {
    let roof = File::new("roof.toml", ROOF);
    let toml = File::new("prices.toml", "[[item]]\nkey = \"sheet\"\nprice = 18\n");
    let message = told(&["order", roof.name(), "--prices", toml.name()]);
    assert!(message.contains("\"sheet\"") && message.contains("sheet 24/0"), "{message}");
    let csv = File::new("yard.csv", "key,price,color\nclip,1,red\n");
    let message = told(&["order", roof.name(), "--prices", csv.name()]);
    assert!(message.contains("color") && message.contains("on hand"), "{message}");
    let by_the_box = File::new("yard.csv", "key,price,unit\nclip,1,box\n");
    let message = told(&["order", roof.name(), "--prices", by_the_box.name()]);
    assert!(message.contains("by the pc"), "{message}");
}

/// The file that `prices` writes is read back unchanged, prices every line once its blanks are filled
/// in, and is the same as TOML and as CSV.
#[test]
fn the_prices_file_of_a_roof_prices_every_line() {
    let roof = File::new("roof.toml", &format!("{ROOF}[roofing]\nkind = \"shingles\"\n"));
    let plain = run(&["order", roof.name()]);
    let mut totals = Vec::new();
    for form in ["toml", "csv"] {
        let output = stepoff(&["prices", roof.name(), "--format", form]);
        let text = String::from_utf8(output.stdout).unwrap();
        let blank = File::new(&format!("blank.{form}"), &text);
        let unpriced = run(&["order", roof.name(), "--prices", blank.name()]);
        assert_eq!(array(&unpriced["without_price"]).len(), array(&unpriced["lines"]).len());
        assert_eq!(unpriced["lines"], plain["lines"]);
        let filled = if form == "toml" {
            text.replace("price = \"\"", "price = \"2.50\"")
                .replace("currency = \"\"", "currency = \"USD\"")
                .replace("tax_percent = \"\"", "tax_percent = 8.25")
        } else {
            // key,length,price,unit,code,on hand
            text.lines()
                .map(|line| {
                    let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
                    if cells[2].is_empty() {
                        cells[2] = "2.50".into();
                    }
                    cells.join(",") + "\n"
                })
                .collect()
        };
        let filled = File::new(&format!("filled.{form}"), &filled);
        let priced = run(&["order", roof.name(), "--prices", filled.name()]);
        assert_eq!(array(&priced["without_price"]).len(), 0, "{}", priced["without_price"]);
        let lines: i64 =
            array(&priced["lines"]).iter().map(|line| 250 * line["count"].as_i64().unwrap()).sum();
        assert_eq!(priced["total_cents"].as_i64(), Some(lines));
        if form == "toml" {
            let tax = (lines as f64 * 0.0825).round() as i64;
            assert_eq!(priced["tax_cents"].as_i64(), Some(tax));
            let page = stepoff(&["order", roof.name(), "--prices", filled.name()]);
            let page = String::from_utf8(page.stdout).unwrap();
            assert!(page.contains("USD. With 8.25 percent tax"), "{page}");
        }
        totals.push(lines);
    }
    assert_eq!(totals[0], totals[1]);
}

/// The yard has few of the best lengths; the plan uses no more than it has, and codes are on the list.
#[test]
fn quantities_on_hand_limit_the_plan() {
    let roof = File::new("roof.toml", ROOF);
    let free = File::new(
        "free.csv",
        "key,length,price,code,quantity on hand\n2x6,8',6,A8,\n2x6,12',8,A12,\n2x6,16',12,A16,\n",
    );
    let few = File::new(
        "few.csv",
        "key,length,price,code,quantity on hand\n2x6,8',6,A8,\n2x6,12',8,A12,5\n2x6,16',12,A16,\n",
    );
    let twelves = |report: &Value| -> (u64, i64) {
        let of: Vec<&Value> =
            array(&report["lines"]).iter().filter(|line| line["key"] == "2x6 12'").collect();
        assert!(of.iter().all(|line| line["code"] == "A12"), "{of:?}");
        let total = report["total_cents"].as_i64().unwrap();
        (of.iter().map(|line| line["count"].as_u64().unwrap()).sum(), total)
    };
    let (of_free, cost_free) = twelves(&run(&["order", roof.name(), "--prices", free.name()]));
    let (of_few, cost_few) = twelves(&run(&["order", roof.name(), "--prices", few.name()]));
    assert!(of_free > 5 && of_few <= 5, "{of_free} {of_few}");
    assert!(cost_few > cost_free);
    let none = File::new("none.csv", "key,length,price,quantity on hand\n2x6,12',8,3\n");
    let message = told(&["order", roof.name(), "--prices", none.name()]);
    assert!(message.contains("do not suffice"), "{message}");
}

/// `[order] lengths` or `[lumber] longest`, set once: rafter, frame and order use the same sticks.
#[test]
fn one_list_of_lengths_serves_rafter_frame_and_order() {
    // 27 ft span at 12 in 12: rafters of about 20-1/2 ft
    let roof = "[building]\nlength = \"30'\"\nspan = \"27'\"\n[roof]\npitch = \"12/12\"\n[rafter]\nstock = \"2x10\"\n";
    let cases = [
        ("[lumber]\nlongest = \"28'\"\n", Some(22.0), 28.0),
        ("[lumber]\nlongest = \"21' 6in\"\n", Some(21.5), 21.5),
        ("[order]\nlengths = \"8', 12', 26'\"\n", Some(26.0), 26.0),
        ("[order]\nlengths = \"3.6 m, 6.6 m\"\n", Some(6600.0 / 304.8), 6600.0 / 304.8),
        ("[order]\nlengths = \"8', 16'\"\n", None, 16.0),
    ];
    for (more, takes, longest) in cases {
        let file = File::new("lengths.toml", &format!("{roof}{more}"));
        let name = file.name();
        let rafter = run(&["rafter", name]);
        let of_rafter = &rafter["pattern_rafter"]["order_length_ft"];
        let near = |found: &Value| match (found.as_f64(), takes) {
            (Some(found), Some(takes)) => (found - takes).abs() < 1e-6,
            (None, None) => found.is_null(),
            _ => false,
        };
        assert!(near(of_rafter), "{more}: {of_rafter}");
        let frame = run(&["frame", name]);
        for stick in array(&frame["sticks"]) {
            if stick["role"] == "common rafter" {
                assert!(near(&stick["order_length_ft"]), "{more}: {stick}");
            }
            // joined boards fit the longest stick
            if stick["role"] == "ridge board" || stick["role"] == "top plate" {
                assert!(
                    stick["blank_in"].as_f64().unwrap() <= longest * 12.0 + 1e-6,
                    "{more}: {stick}"
                );
            }
        }
        let order = run(&["order", name, "--time-limit", "5"]);
        let rafters: Vec<&Value> = array(&order["lines"])
            .iter()
            .filter(|line| line["goes_to"].as_str().unwrap().contains("common rafter"))
            .collect();
        assert!(!rafters.is_empty());
        for line in rafters {
            let special = line["what"].as_str().unwrap().contains("special length");
            assert_eq!(special, takes.is_none(), "{more}: {line}");
            if !special {
                assert!(line["length_in"].as_f64().unwrap() <= longest * 12.0 + 1e-6);
            }
        }
        let text = String::from_utf8(stepoff(&["rafter", name]).stdout).unwrap();
        assert!(!text.contains("up to 24 ft"), "{text}");
    }
    let both = File::new(
        "both.toml",
        &format!("{roof}[order]\nlengths = \"8', 16'\"\n[lumber]\nlongest = \"20'\"\n"),
    );
    assert!(told(&["rafter", both.name()]).contains("none of order.lengths is so long"));
}

/// Exact 108.4042 in: a board cut to 9' 0-3/8" would be short.
#[test]
fn a_blank_is_rounded_up_wherever_it_stands() {
    for command in ["rafter", "frame", "cuts"] {
        let page = stepoff(&[command, "examples/kestrel-yard.toml"]).stdout;
        let page = String::from_utf8(page).unwrap();
        assert!(page.contains("9' 0-7/16\"") && !page.contains("9' 0-3/8\""), "{command}: {page}");
    }
}

/// The length that squaring an end removes from a stick is not available for a board joined from it.
#[test]
fn joined_boards_leave_room_for_the_end_trim() {
    let demo = std::fs::read_to_string("examples/kestrel-yard.toml").unwrap();
    for (lengths, longest) in [("lengths = \"8', 10', 12'\"", 144.0), ("", 240.0)] {
        // 24 ft: two plates of 12 ft but for the trim
        let roof = demo.replace("length = \"22'\"", "length = \"24'\"");
        let file = File::new(
            "end-trim.toml",
            &format!("{roof}\n[order]\n{lengths}\nend_trim = \"1/2\\\"\"\n"),
        );
        let frame = run(&["frame", file.name()]);
        for stick in array(&frame["sticks"]) {
            let joined = ["ridge board", "top plate", "fascia", "soffit ledger"];
            if joined.iter().any(|role| stick["role"] == *role) {
                let blank = stick["blank_in"].as_f64().unwrap();
                assert!(blank <= longest - 0.5 + 1e-6, "{stick}");
                let order = stick["order_length_ft"].as_f64().unwrap() * 12.0;
                assert!(blank + 0.5 <= order + 1e-6, "{stick}");
            }
        }
        let order = run(&["order", file.name(), "--time-limit", "5"]);
        // joists of 14 ft, those beside the opening too, are longer than every stick of the first list, but no joined board is
        for line in array(&order["lines"]) {
            let special = line["what"].as_str().unwrap().contains("special length");
            let to = line["goes_to"].as_str().unwrap();
            let joist = to.contains("ceiling joist") || to.contains("trimmer joist");
            assert!(!special || joist, "{line}");
        }
    }
}

/// A wing before a roof with a hip end, and a dormer: what one gable has not, with its key. Every key is one that `prices`
/// writes, and the total has it.
#[test]
fn goods_of_hips_valleys_and_dormers_have_prices() {
    let l = "[building]\nlength = \"20'\"\nspan = \"12'\"\n[roof]\npitch = \"6/12\"\nspacing = '24\"'\nfar_end = \"hip\"\n[eave]\n\
        overhang = \"1'\"\n[[wing]]\nname = \"ell\"\non = \"A\"\nstart = \"2'\"\nspan = \"8'\"\nprojection = \"4'\"\n";
    let dormer = "[building]\nlength = \"24'\"\nspan = \"24'\"\n[roof]\npitch = \"10/12\"\nspacing = '24\"'\n[eave]\n\
        overhang = \"1'\"\n[[dormer]]\nname = \"d\"\non = \"A\"\nstart = \"8'\"\nspan = \"7'\"\nface = \"3'\"\nwall = \"6'\"\n\
        pitch = \"10/12\"\nshape = \"gable\"\n";
    let of_dormer =
        ["valley lining", "step flashing", "wall flashing", "ridge cap", "header hanger"];
    for (shape, kind, keys) in [
        (
            l,
            "metal-standing",
            ["valley metal", "metal panel cut", "metal ridge", "seam clip", "underlayment"],
        ),
        (
            l,
            "tile",
            ["valley metal", "shingles tile", "nails roofing", "cap nails", "underlayment"],
        ),
        (dormer, "shingles", of_dormer),
    ] {
        let roof = File::new("roof.toml", &format!("{shape}[roofing]\nkind = \"{kind}\"\n"));
        let blank = stepoff(&["prices", roof.name()]);
        let blank = String::from_utf8(blank.stdout).unwrap();
        let filled = blank.replace("price = \"\"", "price = \"2.50\"");
        let filled = File::new("filled.toml", &filled);
        let arguments = ["order", roof.name(), "--prices", filled.name(), "--time-limit", "1"];
        let priced = run(&arguments);
        assert_eq!(array(&priced["without_price"]).len(), 0, "{}", priced["without_price"]);
        let lines: i64 =
            array(&priced["lines"]).iter().map(|line| 250 * line["count"].as_i64().unwrap()).sum();
        assert_eq!(priced["total_cents"].as_i64(), Some(lines));
        for key in keys {
            assert!(count(&priced, key) > 0, "{key}");
        }
    }
}
