//! `stepoff page`: the page that is committed, with a roof in it.

use crate::support::{File, stepoff, text};

const HOSTILE: &str = "[job]\nname = \"</script><script>window.bad = 1</script>\"\n\
                       [building]\nlength = \"22'\"\nspan = \"14'\"\n[roof]\npitch = \"6/12\"\n";

#[test]
fn without_a_roof_it_is_the_page_that_is_committed() {
    let out = stepoff(&["page", "-o", "-"]);
    assert!(out.status.success());
    assert!(out.stdout == text("docs/page/stepoff.html").as_bytes());
}

#[test]
fn a_roof_goes_in_as_data_and_nothing_else_changes() {
    let file = File::new("roof.toml", HOSTILE);
    let out = stepoff(&["page", file.name(), "-o", "-"]);
    let written = String::from_utf8(out.stdout).unwrap();
    let kept = text("docs/page/stepoff.html");
    let count = |text: &str, what: &str| text.matches(what).count();
    assert_eq!(count(&written, "<script"), count(&kept, "<script"));
    let (before, rest) = written.split_once("id=\"roof\">").unwrap();
    let (data, after) = rest.split_once("</script>").unwrap();
    assert_eq!(serde_json::from_str::<String>(data).unwrap(), HOSTILE);
    assert_eq!(format!("{before}id=\"roof\">null</script>{after}"), kept);
}

#[test]
fn a_roof_that_can_not_be_framed_is_refused() {
    let file = File::new("roof.toml", &HOSTILE.replace("6/12", "30/12"));
    let out = stepoff(&["page", file.name(), "-o", "-"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(out.stdout.is_empty());
    assert!(String::from_utf8(out.stderr).unwrap().contains("pitch"));
}

#[test]
fn the_page_asks_nothing_of_a_network() {
    let page = text("docs/page/stepoff.html");
    let policy = page.split("Content-Security-Policy\" content=\"").nth(1).unwrap();
    let policy = policy.split('"').next().unwrap();
    assert!(policy.starts_with("default-src 'none';"), "{policy}");
    // the decoder of the packed engine takes its own bytes from a data address; nothing else may be asked for
    let policy = policy.replace("connect-src data:;", "");
    assert!(!policy.contains("http") && !policy.contains("connect-src"), "{policy}");
    for outside in ["src=\"http", "href=\"http", "url(http"] {
        assert!(!page.contains(outside), "{outside}");
    }
    assert!(page.len() <= 3 << 20, "{} bytes", page.len());
}
