//! Words that people try, answered by their meaning: no word with another meaning is suggested.

use crate::support::{File, stepoff};

/// The program's message for these arguments; it must refuse them.
#[track_caller]
fn refusal(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    String::from_utf8(output.stderr).unwrap()
}

const GABLE_ONLY: &str = "is not framed yet; stepoff frames a gable over a rectangle";

/// A flag of `rafter`, and words that the answer must have.
const FLAGS: &[(&str, &str)] = &[
    ("--width", "write --span 24ft"),
    ("--spacing", "write spacing = \"16in\" under [roof]"),
    ("--oc", "write spacing = \"16in\" under [roof]"),
    ("--on-center", "write spacing = \"16in\" under [roof]"),
    ("--joist-spacing", "ceiling joists stand beside the rafters"),
    ("--slope", "write --pitch 6/12"),
    ("--angle", "write --pitch 6/12"),
    ("--rise", "--pitch 6/12"),
    ("--run", "twice the run"),
    ("--eaves", "write --overhang 1ft"),
    ("--eave", "write --overhang 1ft"),
    ("--soffit", "write soffit = \"3/4in\" under [eave]"),
    ("--soffit-width", "write --overhang 1ft"),
    ("--length", "write length = \"24ft\" under [building]"),
    ("--rafters", "write --stock 2x6"),
    ("--rafter-size", "write --stock 2x6"),
    ("--birdsmouth", "write --seat"),
    ("--hap", "stepoff fit --heel-stand"),
    ("--ridge-board", "write --ridge"),
    ("--ridge-height", "stepoff fit"),
    ("--joists", "joists = \"beside\" under [ceiling]"),
    ("--snow-load", "write snow = \"30psf\" under [loads]"),
    ("--wind-speed", "write wind = \"115mph\" under [loads]"),
    ("--species", "write species = "),
    ("--plywood", "write panel = \"24/16\" under [sheathing]"),
    ("--shingles", "kind = \"shingles\" under [roofing]"),
    ("--imperial", "write --units feet"),
    ("--inches", "write --units inches"),
    ("--mm", "write --units metric"),
    ("--metric", "write --units metric"),
    ("--precision", "write --round 1/16"),
    ("--json", "write --format json"),
    ("--pdf", "stepoff sheets FILE -o NAME.pdf"),
    ("--verbose", "write --explain"),
    ("--waste", "every stick and sheet is counted"),
    ("--hip", GABLE_ONLY),
    ("--shed", GABLE_ONLY),
    ("--valley", GABLE_ONLY),
    ("--dormer", GABLE_ONLY),
    ("--skylight", GABLE_ONLY),
    ("--porch", GABLE_ONLY),
    ("--L", GABLE_ONLY),
    ("--l-shaped", GABLE_ONLY),
    ("--mono-pitch", GABLE_ONLY),
    ("--gambrel", GABLE_ONLY),
    ("--truss", "order trusses from their maker"),
    ("--scissor-truss", "order trusses from their maker"),
    ("--monitor", GABLE_ONLY),
    ("--octagon", GABLE_ONLY),
    ("--height", "write wall_height under [building]"),
    ("--rise-run", "write the pitch"),
    ("--run-length", "twice the run"),
    ("--width-ft", "write --span 24ft"),
    ("--notch", "write --seat 3-1/2in"),
    ("--plumb", "write --tail plumb"),
    ("--rake", "write overhang = \"0in\" under [rake]"),
    ("--metal", "write kind = \"metal-lapped\" under [roofing]"),
    ("--slate", "write kind = \"slate\" under [roofing]"),
    ("--nails", "stepoff order counts nails"),
    ("--load", "write snow, live and dead under [loads]"),
    ("--psf", "write snow, live and dead under [loads]"),
    ("--insulation", "write depth = \"12in\" under [insulation]"),
    ("--output", "stepoff sheets FILE -o NAME.pdf"),
    ("--scale", "stepoff sheets FILE -o NAME.pdf"),
    ("--color", "NO_COLOR=1"),
    ("--metric-units", "write --units metric"),
    ("--imperial-units", "write --units feet"),
    ("--pich", "write --pitch if that is meant"),
    ("--overhnag", "write --overhang if that is meant"),
];

/// A command, and words that the answer must have.
const COMMANDS: &[(&str, &str)] = &[
    ("hip", GABLE_ONLY),
    ("shed", GABLE_ONLY),
    ("valley", GABLE_ONLY),
    ("dormers", GABLE_ONLY),
    ("skylights", GABLE_ONLY),
    ("porch", GABLE_ONLY),
    ("L", GABLE_ONLY),
    ("truss", GABLE_ONLY),
    ("trusses", "order trusses from their maker"),
    ("scissors", "order trusses from their maker"),
    ("monitor", GABLE_ONLY),
    ("birdsmouth", "write seat = \"3-1/2in\" under [rafter]"),
    ("price", "write stepoff prices FILE"),
    ("svg", "stepoff sheets FILE -o NAME.pdf"),
    ("metal", "metal-standing"),
    ("nails", "stepoff order counts nails"),
    ("height", "write wall_height under [building]"),
    ("quit", "each command ends by itself"),
    ("calc", "write stepoff rafter"),
    ("cutlist", "write stepoff frame FILE"),
    ("materials", "write stepoff order FILE"),
    ("takeoff", "write stepoff order FILE"),
    ("draw", "write stepoff sheets FILE"),
    ("init", "write stepoff start roof.toml"),
    ("inspect", "write stepoff check FILE"),
    ("plywood", "write stepoff sheathing FILE"),
    ("walls", "write stepoff measured FILE"),
    ("chek", "write stepoff check if that is meant"),
];

/// A line of a roof file with its table, and words that the answer must have.
const LINES: &[(&str, &str)] = &[
    ("[rafters]\nstock = \"2x6\"", "write [rafter]"),
    ("[eaves]\noverhang = \"1ft\"", "write [eave]"),
    ("[hip]\npitch = \"6/12\"", GABLE_ONLY),
    ("[dormers]\nwidth = \"4ft\"", GABLE_ONLY),
    ("[walls]\nheight = \"8ft\"", "under [building]"),
    ("[roof]\nslope = \"6/12\"", "write pitch = \"6/12\" under [roof]"),
    ("[roof]\nspan = \"24ft\"", "write span = \"24ft\" under [building]"),
    ("[roof]\ntype = \"hip\"\nhip = \"yes\"", GABLE_ONLY),
    ("[roof]\noc = \"16in\"", "write spacing = \"16in\" under [roof]"),
    ("[roof]\nspaceing = \"16in\"", "write spacing: "),
    ("[rafter]\nspacing = \"16in\"", "write spacing = \"16in\" under [roof]"),
    ("[building]\nwidth = \"24ft\"", "write span = \"24ft\" under [building]"),
    ("[building]\nskylight = \"yes\"", GABLE_ONLY),
    ("[loads]\nsnow_load = 40", "write snow = \"30psf\" under [loads]"),
    ("[roof]\npitch = \"shed\"", GABLE_ONLY),
    ("[rafter]\ntail = \"horizontal\"", "write level"),
    ("[rake]\nframing = \"dropped\"", "write over for outlookers"),
    ("[lumber]\nspecies = \"pine\"", "write SP for Southern pine"),
    ("[roofing]\nkind = \"asphalt\"", "write shingles"),
    ("[collar]\nties = \"on\"", "write yes"),
];

/// A flag with a wrong value, and words that the answer must have.
const VALUES: &[(&[&str], &str)] = &[
    (&["--units", "imperial"], "write --units feet"),
    (&["--units", "us"], "write --units feet"),
    (&["--units", "mm"], "write --units metric"),
    (&["--units", "inch"], "write --units inches"),
    (&["--units", "in"], "write --units inches"),
    (&["--format", "pdf"], "stepoff sheets FILE -o NAME.pdf"),
    (&["--format", "xlsx"], "--xlsx NAME.xlsx"),
    (&["--format", "text"], "write --format table"),
    (&["--tail", "vertical"], "write plumb"),
    (&["--pitch", "hip"], GABLE_ONLY),
];

#[test]
fn words_that_people_try_are_answered_by_their_meaning() {
    let tried = FLAGS.len() + COMMANDS.len() + LINES.len() + VALUES.len();
    assert!(tried >= 120, "{tried}");
    let mut wrong = Vec::new();
    let mut hold = |tried: String, answer: String, expected: &str| {
        // long lines are wrapped
        let flat = answer.split_whitespace().collect::<Vec<_>>().join(" ");
        if !flat.contains(expected) {
            wrong.push(format!("{tried} wants {expected:?}:\n{answer}"));
        }
    };
    for (flag, expected) in FLAGS {
        hold((*flag).into(), refusal(&["rafter", flag, "x"]), expected);
    }
    for (command, expected) in COMMANDS {
        hold((*command).into(), refusal(&[command]), expected);
    }
    for (lines, expected) in LINES {
        let file = File::new("hint.toml", lines);
        hold((*lines).into(), refusal(&["check", file.name()]), expected);
    }
    for (arguments, expected) in VALUES {
        let all = [&["rafter", "--span", "24ft"], *arguments].concat();
        hold(format!("{arguments:?}"), refusal(&all), expected);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A dash before a number is a negative length, not a flag.
#[test]
fn a_length_below_zero_is_not_taken_for_a_flag() {
    let told = refusal(&["rafter", "--span", "24ft", "--pitch", "6/12", "--overhang", "-1'"]);
    assert!(told.contains("--overhang can't be less than zero") && !told.contains("tip"), "{told}");
}
