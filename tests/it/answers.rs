//! One question, one answer: the engine in memory gives what the program prints, and writes the same
//! files.

use std::fmt::Arguments;
use std::sync::Mutex;

use stepoff::answer::{
    Answer, Asker, CompareAsked, DeckAsked, ExportTo, Form, List, ListForm, NoAnswer, Question,
    SetForm, SheetsAsked, Source, Stage, Status, What, ask, ask_for,
};
use stepoff::key;
use stepoff::sheet::Depth;

use crate::support::{stepoff, text};

const FILE: &str = "examples/kestrel-yard.toml";
const FORMS: [(&str, Form); 3] = [("table", Form::Table), ("json", Form::Json), ("csv", Form::Csv)];

fn question(what: What) -> Question {
    Question { roofs: vec![source(FILE)], ..Question::of(what) }
}

fn source(name: &str) -> Source {
    Source { name: name.to_owned(), text: text(name) }
}

fn deck(length: &str, slope_width: &str) -> DeckAsked {
    let given = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
    DeckAsked {
        length: given(length),
        slope_width: given(slope_width),
        centers: Vec::new(),
        planes: 2,
        sheet: None,
        rating: None,
        map: true,
    }
}

fn compare() -> What {
    What::Compare(CompareAsked { rank: None, top: "5".into(), orders: "32".into() })
}

fn sheets(form: SetForm) -> What {
    What::Sheets(SheetsAsked {
        form,
        only: Vec::new(),
        paper: None,
        plan_set: false,
        date: String::new(),
    })
}

/// Every form of an answer, without the time that a cutting plan took: only the program has a clock.
#[track_caller]
fn forms(answer: &Answer) -> Vec<String> {
    FORMS.map(|(_, form)| timeless(answer.write(form).unwrap())).to_vec()
}

fn timeless(bytes: Vec<u8>) -> String {
    let text = String::from_utf8(bytes).unwrap();
    let is_time = |line: &str| line.contains("\"seconds\":") || line.contains(" s).");
    text.lines().filter(|line| !is_time(line)).fold(String::new(), |all, line| all + line + "\n")
}

#[track_caller]
fn answered(question: &Question) -> Answer {
    match ask(question) {
        Ok(answer) => answer,
        Err(why) => panic!("{}", why.text(false)),
    }
}

#[test]
fn every_form_of_an_answer_is_what_the_program_prints() {
    let mut swept = question(compare());
    swept.set.push((key!("compare.spacing"), "16in,24in".to_owned()));
    let mut priced = question(What::Order);
    priced.prices = Some(source("examples/prices.toml"));
    let list = List { source: source("tests/data/cutting/R01.json"), form: ListForm::Json };
    let plane = What::Sheathing(Box::new(deck("40ft", "15ft")));
    let mut plane = Question::of(plane);
    plane.set.push((key!("roof.spacing"), "24in".to_owned()));
    let asked = [
        (vec!["rafter", FILE], question(What::Rafter { drawing: true })),
        (vec!["frame", FILE], question(What::Frame)),
        (vec!["layout", FILE], question(What::Layout)),
        (vec!["ties", FILE], question(What::Ties)),
        (vec!["check", FILE], question(What::Check { walkthrough: false })),
        (
            vec!["eave", FILE],
            question(What::Eave { measured: Vec::new(), measured_to: "tail".into() }),
        ),
        (vec!["effect", FILE], question(What::Effect { by: None })),
        (vec!["prove", FILE], question(What::Prove { readings: None, readings_b: None })),
        (vec!["sheathing", FILE], question(What::Sheathing(Box::new(deck("", ""))))),
        (vec!["sheathing", "--length=40ft", "--slope-width=15ft", "--spacing=24in"], plane),
        (vec!["order", FILE], question(What::Order)),
        (vec!["order", FILE, "--prices", "examples/prices.toml"], priced),
        (vec!["cuts", FILE], question(What::Cuts { list: None })),
        (
            vec!["cuts", "tests/data/cutting/R01.json"],
            Question::of(What::Cuts { list: Some(list) }),
        ),
        (vec!["compare", FILE, "--spacing", "16in,24in"], swept),
    ];
    for (command, question) in asked {
        let answer = answered(&question);
        for ((name, _), answered) in FORMS.iter().zip(forms(&answer)) {
            let printed = stepoff(&[command.as_slice(), &["--format", name]].concat());
            assert_eq!(answered, timeless(printed.stdout), "{command:?} {name}");
            let open = printed.status.code() == Some(1);
            assert_eq!(answer.status() == Status::Open, open, "{command:?}");
        }
        // the question has everything that its answer depends on
        assert_eq!(forms(&answer), forms(&answered(&question)), "{command:?} again");
    }
}

#[test]
fn the_prices_file_is_what_the_program_writes() {
    let answer = answered(&question(What::Prices));
    for (name, form) in [("toml", Form::Table), ("csv", Form::Csv)] {
        let printed = stepoff(&["prices", FILE, "--format", name]);
        assert_eq!(answer.write(form).unwrap(), printed.stdout, "{name}");
    }
    assert!(answer.write(Form::Json).is_err(), "there is no such form");
}

#[test]
fn files_of_an_answer_are_what_the_program_writes() {
    let export = |to| question(What::Export { to, unit: None });
    let mut swept = question(compare());
    swept.set.push((key!("compare.spacing"), "16in,24in".to_owned()));
    let asked = [
        (vec!["export", FILE, "--to", "dxf"], export(ExportTo::Dxf)),
        (vec!["export", FILE, "--to", "ifc"], export(ExportTo::Ifc)),
        (vec!["export", FILE, "--to", "gltf"], export(ExportTo::Gltf)),
        (vec!["export", FILE, "--to", "obj"], export(ExportTo::Obj)),
        (vec!["export", FILE, "--to", "csv"], export(ExportTo::Csv)),
        (vec!["export", FILE, "--to", "xlsx"], export(ExportTo::Xlsx)),
        (vec!["export", FILE, "--to", "json"], export(ExportTo::Json)),
        (vec!["sheets", FILE, "-o", "-"], question(sheets(SetForm::Pdf))),
        (vec!["order", FILE, "--xlsx", "-"], question(What::Order)),
        (vec!["rafter", FILE, "--svg", "-"], question(What::Rafter { drawing: false })),
        (vec!["sheathing", FILE, "--svg", "-"], question(What::Sheathing(Box::new(deck("", ""))))),
    ];
    for (command, question) in asked {
        let answer = answered(&question);
        let files = answer.files();
        assert_eq!(files.len(), 1, "{command:?}");
        let bytes = files[0].bytes().unwrap();
        let printed = stepoff(&command);
        assert!(bytes == printed.stdout, "{command:?}: {} bytes", bytes.len());
        assert!(bytes == answered(&question).files()[0].bytes().unwrap(), "{command:?} again");
        let open = printed.status.code() == Some(1);
        assert_eq!(answer.status() == Status::Open, open, "{command:?}");
    }
    let all = answered(&swept).files()[0].bytes().unwrap();
    let printed = stepoff(&["compare", FILE, "--spacing=16in,24in", "--all=-", "--format=csv"]);
    assert!(printed.stdout.starts_with(&all), "every roof, then those shown");
}

#[test]
fn a_set_has_a_file_a_page_in_order() {
    for (ending, form) in [("svg", SetForm::Svg), ("png", SetForm::Png(20))] {
        let answer = answered(&question(sheets(form)));
        let files = answer.files();
        assert!(files.len() > 10, "{} pages", files.len());
        for (number, file) in files.iter().enumerate() {
            assert_eq!(file.name, format!("set-{:02}.{ending}", number + 1));
            assert!(!file.bytes().unwrap().is_empty());
        }
    }
}

/// A caller that waits: a stopped clock, an order to stop, and the progress it got.
struct Waiting {
    stop: bool,
    heard: Mutex<Vec<(Stage, String)>>,
}

impl Waiting {
    fn new(stop: bool) -> Waiting {
        Waiting { stop, heard: Mutex::default() }
    }
}

impl Asker for Waiting {
    fn stops(&self) -> bool {
        self.stop
    }

    fn seconds(&self) -> Option<f64> {
        Some(7.5)
    }

    fn hears(&self, stage: Stage, how_far: Arguments<'_>) {
        self.heard.lock().unwrap().push((stage, how_far.to_string()));
    }
}

#[test]
fn a_long_search_is_heard_and_its_clock_is_the_askers() {
    let waiting = Waiting::new(false);
    let list = List { source: source("tests/data/cutting/R01.json"), form: ListForm::Json };
    let cuts = Question::of(What::Cuts { list: Some(list) });
    let Ok(answer) = ask_for(&cuts, &waiting) else { panic!("a list that can be cut") };
    let table = String::from_utf8(answer.write(Form::Table).unwrap()).unwrap();
    assert!(table.contains("7.50 s"), "{table}");
    assert!(ask_for(&question(What::Order), &waiting).is_ok());
    let mut swept = question(compare());
    swept.set.push((key!("compare.spacing"), "16in,24in".to_owned()));
    assert!(ask_for(&swept, &waiting).is_ok());
    let heard = waiting.heard.into_inner().unwrap();
    for stage in [Stage::Laying, Stage::Cutting, Stage::Comparing] {
        let words = heard.iter().filter(|(heard, _)| *heard == stage);
        assert!(words.clone().any(|(_, words)| !words.is_empty()), "{stage:?}: {heard:?}");
    }
}

#[test]
fn who_says_stop_gets_what_was_found_and_is_told_so() {
    let waiting = Waiting::new(true);
    let list = List { source: source("tests/data/cutting/R12.json"), form: ListForm::Json };
    let cuts = Question::of(What::Cuts { list: Some(list) });
    let Ok(answer) = ask_for(&cuts, &waiting) else { panic!("a list that can be cut") };
    let table = String::from_utf8(answer.write(Form::Table).unwrap()).unwrap();
    assert!(table.contains("Stopped after 7.50 s"), "{table}");
    let mut swept = question(compare());
    swept.set.push((key!("compare.spacing"), "16in,24in".to_owned()));
    let Err(NoAnswer::Stopped(how_far)) = ask_for(&swept, &waiting) else {
        panic!("nothing was compared yet")
    };
    assert!(how_far.starts_with("stopped after "), "{how_far}");
}

#[test]
fn without_a_clock_a_long_search_comes_out_alike_every_time() {
    let mut plane = Question::of(What::Sheathing(Box::new(deck("61ft3in", "21ft5in"))));
    plane.set.push((key!("roof.spacing"), "24in".to_owned()));
    plane.depth = Depth::Explain;
    assert_eq!(forms(&answered(&plane)), forms(&answered(&plane)));
}

#[test]
fn what_overrides_the_roof_file_is_told_by_its_flag() {
    let mut asked = question(What::Rafter { drawing: false });
    asked.set.push((key!("roof.pitch"), "steep".to_owned()));
    let Err(refused) = ask(&asked) else { panic!("a pitch that is none") };
    let told = refused.text(false);
    assert!(told.contains("--pitch steep"), "{told}");
}

#[test]
fn a_fault_points_into_the_text_under_its_name() {
    let mut asked = question(What::Frame);
    let text = "[roof]\npitch = \"6/13\"\n".to_owned();
    asked.roofs = vec![Source { name: "mine".into(), text }];
    let Err(refused) = ask(&asked) else { panic!("no span and no pitch") };
    assert!(refused.text(false).contains("mine:2"), "{}", refused.text(false));
}

#[test]
fn faults_of_several_roofs_are_told_together_and_one_roof_is_no_two() {
    let bad = |name: &str| Source { name: name.into(), text: "[roof]\npitch = \"6/13\"\n".into() };
    let mut asked = question(What::Order);
    asked.roofs = vec![bad("mine"), bad("yours")];
    let Err(NoAnswer::Refused(refused)) = ask(&asked) else { panic!("no spans") };
    assert_eq!(refused.len(), 2);
    asked.what = What::Frame;
    let Err(NoAnswer::Refused(refused)) = ask(&asked) else { panic!("one roof at a time") };
    assert!(refused[0].text(false).contains("one roof"), "{}", refused[0].text(false));
}
