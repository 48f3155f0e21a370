//! One question, one answer: the engine asked in memory says what the program prints.

use stepoff::answer::{Form, LookAsked, Question, Source, Status, What, ask};
use stepoff::sheet::Depth;

use crate::support::{stepoff, text};

const FILE: &str = "examples/kestrel-yard.toml";

fn question(what: What) -> Question {
    let roof = Some(Source { name: FILE.to_owned(), text: text(FILE) });
    Question { what, roof, set: Vec::new(), look: LookAsked::default(), depth: Depth::default() }
}

#[test]
fn every_form_of_an_answer_is_what_the_program_prints() {
    let asked = [
        ("rafter", What::Rafter { drawing: true }),
        ("frame", What::Frame),
        ("layout", What::Layout),
        ("ties", What::Ties),
        ("check", What::Check { walkthrough: false }),
        ("eave", What::Eave { measured: Vec::new(), measured_to: "tail".into() }),
        ("effect", What::Effect { by: None }),
        ("prove", What::Prove { readings: None }),
    ];
    for (command, what) in asked {
        let answer = ask(&question(what)).unwrap();
        for (name, form) in [("table", Form::Table), ("json", Form::Json), ("csv", Form::Csv)] {
            let printed = stepoff(&[command, FILE, "--format", name]);
            let answered = String::from_utf8(answer.write(form).unwrap()).unwrap();
            assert_eq!(answered, String::from_utf8_lossy(&printed.stdout), "{command} {name}");
            let open = printed.status.code() == Some(1);
            assert_eq!(answer.status() == Status::Open, open, "{command}");
        }
    }
}

#[test]
fn what_overrides_the_roof_file_is_told_by_its_flag() {
    let mut asked = question(What::Rafter { drawing: false });
    asked.set.push((stepoff::key!("roof.pitch"), "steep".to_owned()));
    let Err(refused) = ask(&asked) else { panic!("a pitch that is none") };
    let told = refused.text(false);
    assert!(told.contains("--pitch steep"), "{told}");
}

#[test]
fn a_fault_points_into_the_text_under_its_name() {
    let mut asked = question(What::Frame);
    let roof = Source { name: "mine".into(), text: "[roof]\npitch = \"6/13\"\n".into() };
    asked.roof = Some(roof);
    let Err(refused) = ask(&asked) else { panic!("no span and no pitch") };
    assert!(refused.text(false).contains("mine:2"), "{}", refused.text(false));
}
