//! The reviewed sheets: every text in its place and a digest of every line, as reviewed.
//! `UPDATE_PAGES=1 cargo test --test it sheets` writes them again; look at the pages before you keep
//! what changed.

use std::fmt::Write as _;
use std::fs;

use stepoff::sheet::set::Kind;

use crate::pdf_page::PdfPage;
use crate::support::{path, stepoff};

use super::{ROOFS, set};

/// A page in text: its size, its words in reading order with their places in hundredths of an inch, and
/// how many lines of each width there are with their total length.
fn told(page: &PdfPage) -> String {
    let mut words: Vec<(i64, i64, String)> = page
        .words
        .iter()
        .map(|words| {
            let hundredths = |inches: f64| (inches * 100.0).round() as i64;
            (
                hundredths(words.at.x),
                hundredths(words.at.y),
                format!("{} {}", words.turn.round() as i64, words.text),
            )
        })
        .collect();
    words.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)).then(a.2.cmp(&b.2)));
    let mut text = format!("page {:.2} x {:.2} in\n", page.size.x, page.size.y);
    for (x, y, words) in words {
        let _ = writeln!(text, "{x:5}{y:5} {words}");
    }
    let mut widths: Vec<(i64, usize, f64)> = Vec::new();
    for stroke in &page.strokes {
        let width = (stroke.width * 1e4).round() as i64;
        let length: f64 = stroke.points.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
        match widths.iter_mut().find(|(known, ..)| *known == width) {
            Some((_, count, all)) => {
                *count += 1;
                *all += length;
            }
            None => widths.push((width, 1, length)),
        }
    }
    widths.sort_by_key(|(width, ..)| *width);
    for (width, count, length) in widths {
        let _ =
            writeln!(text, "lines {:.4} in wide: {count}, {length:.1} in long", width as f64 / 1e4);
    }
    text
}

/// One roof's sheets, a file for each kind. What must be true of the pages of every other roof is
/// tested without files: no text lies on another or on an edge, every number is in the JSON, every page
/// says what it belongs to.
#[test]
fn sheets_are_as_they_were_reviewed() {
    let update = std::env::var_os("UPDATE_PAGES").is_some();
    let mut changed = Vec::new();
    for kind in Kind::ALL.map(Kind::name) {
        let pages = set(ROOFS[0].0, ROOFS[0].1, &["--only", kind, "--date", "2026-05-04"]);
        let text = pages.iter().map(told).collect::<Vec<_>>().join("\n");
        let file = path(&format!("tests/pages/{kind}.txt"));
        if update {
            fs::write(&file, &text).unwrap();
        }
        let kept = fs::read_to_string(&file).unwrap_or_default();
        if kept != text {
            let first = kept.lines().zip(text.lines()).find(|(kept, now)| kept != now);
            changed.push(format!("{kind}, first: {first:?}"));
        }
    }
    assert!(changed.is_empty(), "look at these sheets, then UPDATE_PAGES=1: {changed:#?}");
    assert_eq!(fs::read_dir(path("tests/pages")).unwrap().count(), Kind::ALL.len());
}

/// The set in `docs/` and the picture in the README are the program's own drawings.
#[test]
fn the_documents_show_these_pages() {
    let update = std::env::var_os("UPDATE_PAGES").is_some();
    let roof = "examples/kestrel-yard.toml";
    let folder = std::env::temp_dir().join(format!("stepoff-documents-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let pictures = folder.join("detail.svg");
    let run = |more: &[&str]| {
        let mut arguments = vec!["sheets", roof, "--date", "2026-05-04"];
        arguments.extend(more);
        let output = stepoff(&arguments);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        output.stdout
    };
    let set = run(&["-o", "-"]);
    run(&["--only", Kind::Details.name(), "-o", pictures.to_str().unwrap()]);
    let eave = fs::read(folder.join("detail-01.svg")).unwrap();
    fs::remove_dir_all(&folder).unwrap();
    for (name, bytes) in
        [("docs/kestrel-yard/set.pdf", set), ("docs/pictures/kestrel-yard-eave.svg", eave)]
    {
        let file = path(name);
        if update {
            fs::write(&file, &bytes).unwrap();
        }
        let kept = fs::read(&file).unwrap_or_default();
        assert!(kept == bytes, "{name} is not what the program draws");
    }
}
