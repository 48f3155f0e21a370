//! Every command's page: the first screen begins with the answer, fits, and says how to see the rest;
//! no line of any page is wider than set.

use rayon::prelude::*;
use stepoff::answer::{CompareAsked, DeckAsked, Form, Question, Source, What, ask};
use stepoff::measure::Units;
use stepoff::plan::Key;
use stepoff::sheet::Depth;

use crate::support::stepoff;

/// The four examples.
const ROOFS: [&str; 4] = [
    "examples/kestrel-yard.toml",
    "examples/odd/metric.toml",
    "examples/odd/shallow.toml",
    "examples/odd/steep.toml",
];

/// Lines of a screen.
const SCREEN: usize = 40;

fn page(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.code() < Some(2), "{arguments:?}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

/// The first screen of a command has these words on its first lines, fits, and ends with how to see the
/// rest.
#[track_caller]
fn begins(arguments: &[&str], answer: &[&str], most: usize) {
    let page = page(&[arguments, &["--columns", "80"]].concat());
    let lines: Vec<&str> = page.lines().collect();
    assert!(lines.len() <= most, "{arguments:?} has {} lines:\n{page}", lines.len());
    let first = lines[..lines.len().min(6)].join(" ");
    for words in answer {
        assert!(first.contains(words), "{arguments:?} does not begin with {words}:\n{page}");
    }
    let last = lines.last().copied().unwrap_or_default();
    assert!(last.starts_with("--more: "), "{arguments:?} ends with {last}");
}

#[test]
fn a_screen_begins_with_the_answer_and_says_how_to_see_the_rest() {
    let cases: &[(&[&str], &[&str])] = &[
        (&["rafter"], &["rafter ", " long, ridge cut to tail cut; blank"]),
        (&["frame"], &["gable frame ", " sticks in ", "above the plate"]),
        (&["layout"], &["layout of ", " pairs of rafters at ", "Hook the tape once"]),
        (&["eave"], &["Eave: overhang ", "fascia "]),
        (&["ties"], &[" pairs tied: ", "at each heel"]),
        (&["check"], &["held against IRC 2021", " meet"]),
        (&["order"], &["order for a roof of ", " of lumber, ", " sheets, about "]),
        (&["cuts"], &["cutting plans of ", " pieces from "]),
        (&["sheathing"], &["Sheathing: ", " sheets of ", "By area alone "]),
        (&["compare"], &[" candidates, ", " meet every rule"]),
        (&["fit", "--find", "seat"], &["find the deepest seat", "The deepest seat that keeps"]),
        (&["effect"], &["Measure twice what", "Change in "]),
        (&["prove"], &["check sheet before the stack is cut", "On the pattern rafter"]),
    ];
    let all: Vec<(&[&str], &[&str], &str)> = cases
        .iter()
        .flat_map(|(command, answer)| ROOFS.map(|roof| (*command, *answer, roof)))
        // no seat is found if even the least fails a rule: that answer begins in another way
        .filter(|(command, _, roof)| command[0] != "fit" || !roof.contains("shallow"))
        .collect();
    all.par_iter().for_each(|(command, answer, roof)| {
        begins(&[&command[..1], &[roof], &command[1..]].concat(), answer, SCREEN);
    });
}

#[test]
fn pages_without_a_roof_fit_a_screen_too() {
    begins(&["spans"], &["spans of rafters and ceiling joists in ", "Narrow the question"], SCREEN);
    begins(&["square"], &["The framing square's rafter table"], SCREEN);
    begins(
        &["measured", "examples/kestrel-yard-measured.toml"],
        &["walls as measured: 12 readings", "READ WRONG: length along eave B (2)"],
        SCREEN,
    );
    begins(&["rafter", "--span", "24ft", "--pitch", "9/12"], &["Rafter 16' 2-1/16\" long"], SCREEN);
}

/// What fails comes before what meets, with the amount; nothing that fails waits for `--more`.
#[test]
fn what_fails_is_on_the_first_screen() {
    for command in ["check", "frame"] {
        let page = page(&[command, "examples/odd/shallow.toml", "--columns", "200"]);
        let at = |words: &str| page.find(words).unwrap_or_else(|| panic!("{words}:\n{page}"));
        let fails = at("FAILS: span of the rafters: 9' 0\", at most 7' 1\"");
        assert!(page.contains("1' 11\" too long"), "{page}");
        assert_eq!(page.matches("FAILS: ").count(), 4, "{page}");
        let met = if command == "check" { "Findings by who must act" } else { "3 rules are met" };
        assert!(fails < at(met), "{page}");
    }
    // a note that warns is there as well
    for command in ["frame", "layout", "ties", "check", "order"] {
        let page = page(&[command, "examples/kestrel-yard.toml", "--columns", "200"]);
        assert!(page.contains("cuts the joist or tie of pair 9"), "{command}:\n{page}");
    }
}

/// A list that is cut short says so, and the whole page has all of it.
#[test]
fn a_list_cut_short_says_how_many_rows_it_has() {
    let first = page(&["order", ROOFS[0], "--columns", "80"]);
    let told = first.lines().find(|line| line.ends_with("--more shows all.")).unwrap();
    let numbers: Vec<usize> = told.split(' ').filter_map(|word| word.parse().ok()).collect();
    let [shown, all] = numbers[..] else { panic!("{told}") };
    assert!(shown < all, "{told}");
    let whole = page(&["order", ROOFS[0], "--columns", "80", "--more"]);
    assert!(!whole.contains("--more shows all."), "{whole}");
    assert!(whole.contains("strip shingles") && whole.contains("Values used"), "{whole}");
    assert!(whole.lines().count() > first.lines().count() + all - shown);
}

#[test]
fn helps_fit_a_screen_or_two() {
    let fit = page(&["help", "fit"]);
    assert!(fit.lines().count() <= 60, "{fit}");
    assert!(fit.contains("--ridge-top") && fit.contains("see more with '--help'"), "{fit}");
    let long = page(&["fit", "--help"]);
    assert!(long.contains("--tail-face"), "{long}");
    for command in ["rafter", "order", "check", "spans", "compare", "sheathing", "cuts"] {
        let short = page(&[command, "-h"]);
        assert!(short.lines().count() <= 50, "{short}");
        assert!(short.contains("--more"), "{short}");
    }
}

/// Two invented roofs with the longest names that a file may have.
fn long_named() -> [Source; 2] {
    [ROOFS[0], ROOFS[3]].map(|roof| {
        let name =
            "Workshop and Guest House beside the Longest of All Orchards at Upper Meadow Lane";
        let text = crate::support::text(roof);
        let named: String = text
            .lines()
            .map(|line| {
                if line.starts_with("name = ") {
                    format!("name = \"{name}\"\n")
                } else {
                    format!("{line}\n")
                }
            })
            .collect();
        Source { name: "long-named.toml".into(), text: named }
    })
}

/// Questions about a roof with pages of their own.
fn questions(roof: &Source) -> Vec<Question> {
    let fit = |set: &[(&str, &str)]| {
        let set = set.iter().map(|(key, text)| (Key::of(key).unwrap(), (*text).to_owned()));
        Question { set: set.collect(), ..Question::of(What::Fit) }
    };
    let measured = vec!["11in".to_owned(), "280mm".to_owned()];
    let prices =
        Source { name: "prices.toml".into(), text: crate::support::text("examples/prices.toml") };
    let mut all: Vec<Question> = [
        What::Rafter { drawing: true },
        What::Frame,
        What::Layout,
        What::Eave { measured, measured_to: "tail".into() },
        What::Ties,
        What::Check { walkthrough: false },
        What::Check { walkthrough: true },
        What::Order,
        What::Cuts { list: None },
        What::Sheathing(Box::new(DeckAsked {
            length: None,
            slope_width: None,
            centers: Vec::new(),
            planes: 2,
            sheet: None,
            rating: None,
            map: true,
        })),
        What::Compare(CompareAsked::default()),
        What::Effect { by: None },
        What::Prove { readings: None, readings_b: None },
    ]
    .map(Question::of)
    .into();
    all.push(Question { prices: Some(prices), ..Question::of(What::Order) });
    all.push(fit(&[("fit.find", "seat")]));
    all.push(fit(&[
        ("fit.find", "pitch"),
        ("fit.ridge_top", "9ft"),
        ("fit.fascia_top", "7ft"),
        ("fit.above", "floor"),
    ]));
    for question in &mut all {
        question.roofs = vec![roof.clone()];
    }
    all
}

/// No line of a page is wider than asked, except a single word that can't be broken.
#[track_caller]
fn is_within(page: &str, columns: usize, what: &str) {
    for line in page.lines() {
        let fits = line.chars().count() <= columns || !line.trim().contains(' ');
        assert!(fits, "{what}: {} columns\n{line}", line.chars().count());
    }
}

/// Every page at 60 columns in both units, short and full, and at two greater widths if its rows are
/// long: no line is wider. Each question is asked once and shown in every width.
#[test]
fn no_line_is_wider_than_asked() {
    let examples = ROOFS.map(|roof| Source { name: roof.into(), text: crate::support::text(roof) });
    let roofs: Vec<Source> = examples.into_iter().chain(long_named()).collect();
    let asked: Vec<(Question, Units)> = roofs
        .iter()
        .flat_map(questions)
        .flat_map(|question| {
            [Units::Feet, Units::Millimeters].map(|units| (question.clone(), units))
        })
        .collect();
    asked.into_par_iter().for_each(|(mut question, units)| {
        (question.look.units, question.depth) = (Some(units), Depth::Explain);
        let roof = question.roofs[0].name.clone();
        let widths: &[usize] =
            if ROOFS[1..].contains(&roof.as_str()) { &[60] } else { &[60, 80, 100] };
        let what = format!("{roof} {units:?} {:.40}", format!("{:?}", question.what));
        let mut answer = ask(&question).unwrap_or_else(|why| panic!("{what}: {}", why.text(false)));
        for &columns in widths {
            for depth in [Depth::First, Depth::More, Depth::Explain] {
                answer = answer.shown(columns, depth);
                let page = String::from_utf8(answer.write(Form::Table).unwrap()).unwrap();
                assert!(!page.is_empty(), "{what}");
                is_within(&page, columns, &what);
            }
        }
    });
}

/// The width that a flag asks for is the page's, of pages without a roof too.
#[test]
fn the_flag_sets_the_width() {
    for width in ["60", "80", "100"] {
        for depth in ["--more", "--explain"] {
            for command in [
                &["spans", "--species", "SPF", "--grade", "No.2"][..],
                &["square"],
                &["measured", "examples/kestrel-yard-measured.toml"],
                &["check", ROOFS[0]],
            ] {
                let page = page(&[command, &["--columns", width, depth]].concat());
                is_within(&page, width.parse().unwrap(), &format!("{command:?}"));
            }
        }
    }
}
