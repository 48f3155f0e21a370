//! What the command writes, refuses and reports.

use std::fs;

use stepoff::sheet::set::Kind;

use crate::support::{File, stepoff};

use super::{ROOFS, set};

const ROOF: &str = "examples/kestrel-yard.toml";

fn place(name: &str) -> File {
    let file = File::new(name, "");
    fs::remove_file(file.name()).unwrap();
    file
}

#[track_caller]
fn status(arguments: &[&str]) -> (i32, String) {
    let output = stepoff(arguments);
    (output.status.code().unwrap(), String::from_utf8(output.stderr).unwrap())
}

#[test]
fn the_ending_decides_what_is_written() {
    let starts: [(&str, &[u8]); 4] =
        [("pdf", b"%PDF-"), ("html", b"<!DOCTYPE html>"), ("svg", b"<svg "), ("png", b"\x89PNG")];
    for (ending, start) in starts {
        // a section and its heel: two pages
        let file = place(&format!("sheet.{ending}"));
        let ask = |more: &[&'static str]| {
            let mut list = vec!["sheets", ROOF, "-o", file.name(), "--only", Kind::Section.name()];
            list.extend(more);
            status(&list)
        };
        let (code, told) = ask(&["--dots", "40"]);
        assert_eq!(code, 0, "{told}");
        let stem = file.name().strip_suffix(&format!(".{ending}")).unwrap();
        let written: Vec<String> = match ending {
            "svg" | "png" => (1..=2).map(|page| format!("{stem}-{page:02}.{ending}")).collect(),
            _ => vec![file.name().to_owned()],
        };
        let (code, told) = ask(&[]);
        assert_eq!(code, 2);
        assert!(told.contains("--force"), "{told}");
        for name in written {
            let bytes = fs::read(&name).unwrap();
            assert!(bytes.starts_with(start), "{name}");
            fs::remove_file(name).unwrap();
        }
    }
}

#[test]
fn several_pages_of_pictures_have_numbers_and_none_is_written_if_one_exists() {
    let file = place("many.svg");
    let stem = file.name().strip_suffix(".svg").unwrap().to_owned();
    let ask = ["sheets", ROOF, "-o", file.name(), "--only", "pattern,section"];
    let second = format!("{stem}-02.svg");
    fs::write(&second, "mine").unwrap();
    assert_eq!(status(&ask).0, 2);
    assert!(fs::metadata(format!("{stem}-01.svg")).is_err());
    fs::remove_file(&second).unwrap();
    let (code, told) = status(&ask);
    assert_eq!(code, 0, "{told}");
    let mut number = 1;
    while fs::remove_file(format!("{stem}-{number:02}.svg")).is_ok() {
        number += 1;
    }
    assert!(number > 2, "two sheets give two files or more");
}

#[test]
fn wrong_input_is_told() {
    let (code, told) = status(&["sheets", ROOF, "-o", "set.doc"]);
    assert_eq!(code, 2);
    assert!(told.contains(".pdf, .html, .svg or .png"), "{told}");
    let (code, told) = status(&["sheets", ROOF, "-o", "x.pdf", "--only", "kitchen"]);
    assert_eq!(code, 2);
    assert!(told.contains("pattern") && told.contains("template"), "{told}");
    let (code, _) = status(&["sheets", "no/such.toml", "-o", "-"]);
    assert_eq!(code, 2);
}

/// A letter that the typeface lacks is shown as a question mark, which is told.
#[test]
fn letters_outside_the_typeface_are_told() {
    let text = fs::read_to_string(ROOF).unwrap();
    for (name, told) in [("Kestrel \u{5c4b} Yard", true), ("Kestrel Yard, \u{e9}tage", false)] {
        let roof = File::new("letters.toml", &text.replace("Kestrel Yard", name));
        let file = place("letters.pdf");
        let (code, words) =
            status(&["sheets", roof.name(), "-o", file.name(), "--only", "card", "--force"]);
        assert_eq!((code, words.contains("shown as ?")), (0, told), "{words}");
    }
}

#[test]
fn the_same_roof_gives_the_same_bytes() {
    let run = |ending: &str| {
        let file = place(&format!("twice.{ending}"));
        status(&["sheets", ROOF, "-o", file.name(), "--date", "May 4"]);
        fs::read(file.name()).unwrap()
    };
    for ending in ["pdf", "html"] {
        assert!(run(ending) == run(ending), "{ending}");
    }
}

#[test]
fn every_page_says_job_date_number_units_and_rounding() {
    for (roof, units) in ROOFS {
        let pages = set(roof, units, &["--date", "4 May 2026"]);
        let name = fs::read_to_string(crate::support::path(roof)).unwrap();
        let name = name
            .lines()
            .find_map(|line| line.strip_prefix("name = "))
            .unwrap()
            .trim_matches('"')
            .to_owned();
        for (index, page) in pages.iter().enumerate() {
            let number = format!("page {} of {}", index + 1, pages.len());
            for words in [name.as_str(), "4 May 2026", number.as_str(), "rounded once"] {
                assert!(page.says(words), "{roof} {number}: {words}\n{}", page.text());
            }
        }
        // every kind of sheet is there
        assert!(pages.len() >= 13, "{roof}: {} pages", pages.len());
    }
}

#[test]
fn an_html_file_fetches_nothing() {
    let file = place("alone.html");
    status(&["sheets", ROOF, "-o", file.name()]);
    let text = fs::read_to_string(file.name()).unwrap();
    for outside in ["src=\"http", "href=\"http", "url(http", "@import", "<script", "<link"] {
        assert!(!text.contains(outside), "{outside}");
    }
    assert!(text.contains("data:font/ttf;base64,"));
}

/// A building department finds address and names on every sheet.
#[test]
fn every_sheet_says_what_the_title_block_was_given() {
    let text = fs::read_to_string(ROOF).unwrap().replace(
        "[job]",
        "[job]\naddress = \"behind the mill\"\ndrawn = \"K. Y.\"\nchecked = \"nobody yet\"\nrevision = \"B, steeper\"",
    );
    let file = File::new("titled.toml", &text);
    for page in set(file.name(), "feet", &[]) {
        let block = "address: behind the mill; drawn by: K. Y.; checked by: nobody yet; revision: B, steeper";
        assert!(page.says(block), "{:?}", page.words);
    }
}

/// The most sheets of each set of the demo. What one reader takes along stays a handful; the buyer's two lists may take three.
#[test]
fn no_set_has_more_sheets_than_this() {
    for (reader, most) in [
        ("cutter", 8),
        ("layout", 6),
        ("buyer", 4),
        ("inspector", 7),
        ("designer", 7),
        // details are on sheets of their own, where a plan checker looks for them
        ("counter", 11),
    ] {
        let pages = set(ROOF, "feet", &["--for", reader]).len();
        assert!((3..=most).contains(&pages), "{reader}: {pages}");
    }
    for prices in [&[][..], &["--prices", "examples/prices.toml"]] {
        let all = set(ROOF, "feet", prices).len();
        assert!(all <= 20, "{prices:?}: {all}");
    }
    let (code, told) = status(&["sheets", ROOF, "-o", "-", "--for", "cutter", "--only", "plan"]);
    assert_eq!(code, 2);
    assert!(told.contains("--only"), "{told}");
}
