//! The plan set for the building department, as its checker gets it.

use crate::support::{File, stepoff, text};

use super::{ROOFS, set};

/// The demo with a table `[sheet]` of its own.
fn with_sheet(lines: &str) -> File {
    File::new("plan-set.toml", &format!("{}\n[sheet]\n{lines}\n", text(ROOFS[0].0)))
}

#[test]
fn what_the_roof_file_tells_of_the_sheets_is_on_every_one() {
    let file = with_sheet(
        "date = \"2026-05-04\"\nrevisions = \"A 2026-05-04 first issue; B 2026-06-02 ridge\"\nnorth = \"60\"\nfeet_inches = \"dash\"",
    );
    let pages = set(file.name(), "feet", &["--for", "counter"]);
    for page in &pages {
        for words in ["2026-05-04", "first issue", "ridge", "drawn by", "checked by", "address"] {
            assert!(page.says(words), "{words}: {}", page.text());
        }
        assert!(page.words.iter().any(|words| words.text == "N"));
        // no length keeps the blank between feet and inches
        let text = page.text();
        let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        let spaced = text.match_indices("' ").any(|(at, _)| {
            digit(text[..at].chars().last()) && digit(text[at + 2..].chars().next())
        });
        assert!(!spaced, "{text}");
    }
    let all: String = pages.iter().map(|page| page.text()).collect();
    // the span, the run and the line length: 84 x sqrt 1.25 = 93.915 in
    assert!(all.contains("14'-0\"") && all.contains("span 14'-0\""), "{all}");
    // eave A faces the bearing of the far end and a quarter turn: 150 degrees
    for words in ["It faces southeast.", "It faces northeast.", "S-001", "S-201", "S-501"] {
        assert!(all.contains(words), "{words}");
    }
}

#[test]
fn a_date_on_the_command_line_overrides_the_roof_files() {
    let file = with_sheet("date = \"2026-05-04\"");
    let pages = set(file.name(), "feet", &["--only", "card", "--date", "4 June"]);
    assert!(pages[0].says("4 June") && !pages[0].says("2026-05-04"));
    let pages = set(file.name(), "feet", &["--only", "card"]);
    assert!(pages[0].says("2026-05-04"));
}

#[test]
fn what_can_not_be_read_is_refused_by_every_command() {
    for (lines, help) in [
        ("north = \"365\"", "degrees clockwise from north"),
        ("revisions = \"A\"", "a date without spaces"),
        ("feet_inches = \"dots\"", "space"),
    ] {
        let file = with_sheet(lines);
        for command in [&["frame"][..], &["sheets", "-o", "-"]] {
            let output = stepoff(&[command, &[file.name()]].concat());
            let told = String::from_utf8_lossy(&output.stderr).into_owned();
            assert_eq!(output.status.code(), Some(2), "{lines}");
            assert!(told.contains(help), "{told}");
        }
    }
}

#[test]
fn the_full_set_has_no_page_of_the_plan_set() {
    let pages = set(ROOFS[0].0, ROOFS[0].1, &[]);
    for page in &pages {
        assert!(!page.says("S-1") && !page.says("checked by"), "{}", page.text());
    }
    // every scale is told as the trade writes it, with a bar
    let plan = pages.iter().find(|page| page.says("Roof framing from above")).unwrap();
    assert!(plan.says("1/4\" = 1'-0\"") && plan.words.iter().any(|words| words.text == "0"));
}
