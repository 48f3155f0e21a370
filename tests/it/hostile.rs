//! Input that nobody would write by intention: refused at once, in few words, and never shown raw.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::support::{File, path, stepoff};

const MIB: usize = 1 << 20;

/// Whole lines up to 1 MiB.
fn repeated(head: &str, line: impl Fn(usize) -> String) -> String {
    let mut text = head.to_owned();
    for number in 0.. {
        let line = line(number);
        if text.len() + line.len() > MIB {
            break;
        }
        text.push_str(&line);
    }
    text
}

/// Refused in few words; returns them.
#[track_caller]
fn refused(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{arguments:?} {told:.300}");
    assert!(told.len() < 12_000, "{arguments:?}: {} bytes told", told.len());
    assert!(!told.contains('\u{1b}'), "{arguments:?}");
    told
}

#[test]
fn a_mebibyte_of_anything_is_refused_in_few_words() {
    let cases: &[(&str, String)] = &[
        ("many names", repeated("[roof]\n", |n| format!("k{n:x}=1\n"))),
        ("many tables", repeated("", |n| format!("[t{n:x}]\n"))),
        ("many names above", repeated("", |n| format!("k{n:x}=1\n"))),
        ("one long name", format!("{}=1\n", "a".repeat(MIB - 10))),
        ("a long name in a table", format!("[roof]\n{}=1\n", "a".repeat(MIB - 20))),
        ("nested lists", format!("a={}", "[".repeat(MIB - 10))),
        ("nested tables", format!("a={}", "{a=".repeat(MIB / 3 - 10))),
        ("tables in a list", format!("a=[{}]\n", "{a=1},".repeat(MIB / 6 - 10))),
        ("points", format!("a{}=1\n", ".a".repeat(MIB / 2 - 10))),
        ("nothing but =", "=".repeat(MIB)),
        ("lines of =", "=\n".repeat(MIB / 2)),
        ("quotes", "\"\n".repeat(MIB / 2)),
        ("a long text", format!("[job]\nname = \"{}\"\n", "x".repeat(MIB - 30))),
        ("a long length", format!("[building]\nspan = \"{}\"\n", "1,".repeat(MIB / 2 - 30))),
        ("a long bare value", format!("[building]\nspan = {}\n", "1".repeat(MIB - 30))),
        ("one thing many times", repeated("[roof]\n", |_| "pitch=\"6/12\"\n".into())),
        ("curly quotes", repeated("[roof]\n", |_| "pitch = “6/12”\n".into())),
        ("zeros", "\0".repeat(MIB)),
        ("pieces", repeated("", |_| "[[piece]]\nx=1\n".into())),
    ];
    let kestrel = "examples/kestrel-yard.toml";
    for (what, text) in cases {
        assert!(text.len() <= MIB, "{what}");
        let file = File::new("hostile.toml", text);
        refused(&["check", file.name()]);
        if ["lines of =", "tables in a list", "points", "pieces"].contains(what) {
            refused(&["cuts", file.name()]);
        }
        if ["many names above", "one long name", "a long text"].contains(what) {
            refused(&["order", kestrel, "--prices", file.name()]);
        }
    }
    for (ending, text) in [
        ("csv", repeated("kind,label,length\n", |_| "board,x,1\n".into())),
        ("csv", repeated("kind,label,length\n", |_| "piece,x,1\n".into())),
        ("csv", format!("kind,length{}", ",x".repeat(MIB / 2 - 20))),
        ("json", "[".repeat(MIB)),
        ("json", format!("{{\"pieces\":[{}1]}}", "{},".repeat(MIB / 3 - 10))),
        ("json", format!("{{\"pieces\":[{}1]}}", "{\"length\":-1,\"qty\":1},".repeat(MIB / 23))),
    ] {
        refused(&["cuts", File::new(&format!("hostile.{ending}"), &text).name()]);
    }
}

#[test]
fn faults_beyond_the_first_are_counted() {
    let text = repeated("[roof]\n", |n| format!("k{n:x}=1\n"));
    let names = text.lines().count() - 1;
    let file = File::new("hostile.toml", &text);
    let told = refused(&["check", file.name()]);
    // length, span and pitch are missing too
    let more = names + 3 - 20;
    assert!(told.contains(&format!("and {more} more")), "{}", &told[told.len() - 200..]);
}

#[test]
fn files_are_plain_and_of_limited_size() {
    let over = File::new("hostile.toml", &"#".repeat(MIB + 1));
    assert!(refused(&["check", over.name()]).contains("a TOML file has at most 1 MiB"));
    assert!(refused(&["cuts", over.name()]).contains("a TOML file has at most 1 MiB"));
    assert!(
        refused(&["order", "examples/kestrel-yard.toml", "--prices", over.name()])
            .contains("at most 1 MiB")
    );
    assert!(refused(&["rafter", "src"]).contains("it is a folder"));
    let wrong = File::new("hostile.toml", "");
    std::fs::write(wrong.name(), b"[job]\nname = \"26\xb0\"\n").unwrap();
    let told = refused(&["check", wrong.name()]);
    assert!(told.contains("UTF-8") && told.contains("line 2"), "{told}");
}

#[cfg(unix)]
#[test]
fn devices_and_pipes_are_not_waited_for() {
    for name in ["/dev/zero", "/dev/stdin", "/dev/random"] {
        let told = refused(&["check", name]);
        assert!(told.contains("or - to read standard input"), "{told}");
    }
}

#[test]
fn standard_input_is_read_and_limited() {
    let run = |arguments: &[&str], text: &[u8]| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_stepoff"))
            .args(arguments)
            .current_dir(path(""))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // a program that has read enough closes its end
        let _ = child.stdin.take().unwrap().write_all(text);
        child.wait_with_output().unwrap()
    };
    let roof = std::fs::read(path("examples/kestrel-yard.toml")).unwrap();
    let read = run(&["rafter", "-", "--format", "json"], &roof);
    let named = stepoff(&["rafter", "examples/kestrel-yard.toml", "--format", "json"]);
    assert_eq!(read.stdout, named.stdout);
    let endless = run(&["rafter", "-"], &vec![b'#'; 3 * MIB]);
    assert_eq!(endless.status.code(), Some(2));
    assert!(String::from_utf8(endless.stderr).unwrap().contains("standard input"));
    let list = b"{\"stock\": [{\"length\": 100}], \"pieces\": [{\"length\": 12, \"qty\": 3}]}";
    assert_eq!(run(&["cuts", "-"], list).status.code(), Some(0));
    let list = b"kind,length,quantity\nstock,8ft,\npiece,3ft,4\n";
    assert_eq!(run(&["cuts", "-"], list).status.code(), Some(0));
}

/// Escape codes, in the file itself or written as TOML and JSON escapes, never reach a screen or a sheet.
#[test]
fn control_characters_are_refused_with_their_place() {
    let roof = |name: &str| {
        format!(
            "[job]\nname = \"{name}\"\n[building]\nlength = \"24ft\"\nspan = \"14ft\"\n[roof]\npitch = \"6/12\"\n"
        )
    };
    for (name, code) in [
        ("a\u{1b}[31m", "U+001B"),
        ("a\\u001b[31m", "U+001B"),
        ("a\\u009b31m", "U+009B"),
        ("a\\u202eb", "U+202E"),
        ("a\u{202e}b", "U+202E"),
        ("a\\u0000", "U+0000"),
    ] {
        let file = File::new("hostile.toml", &roof(name));
        let told = refused(&["rafter", file.name()]);
        assert!(told.contains(code) && told.contains(":2:"), "{told}");
    }
    let file = File::new(
        "hostile.json",
        "{\"stock\": [{\"length\": 100}], \"pieces\": [{\"label\": \"a\\u001b[2J\", \"length\": 12, \"qty\": 3}]}",
    );
    assert!(refused(&["cuts", file.name()]).contains("U+001B"));
    let prices = File::new("hostile.toml", "note = \"\\u001b[2J\"\n");
    assert!(
        refused(&["order", "examples/kestrel-yard.toml", "--prices", prices.name()])
            .contains("U+001B")
    );
    assert!(refused(&["rafter", "--\u{1b}[31m"]).contains("U+001B"));
    assert!(
        refused(&["sheets", "examples/kestrel-yard.toml", "-o", "-", "--date", "\u{9b}31m"])
            .contains("U+009B")
    );
    // a text of two lines is shown on one
    let file = File::new("hostile.toml", &roof("two\\nlines"));
    assert_eq!(stepoff(&["rafter", file.name()]).status.code(), Some(0));
}

/// A spreadsheet that opens a list calculates nothing.
#[test]
fn no_text_of_a_csv_is_a_formula() {
    let file = File::new(
        "hostile.json",
        "{\"stock\": [{\"length\": 100}], \"pieces\": [{\"label\": \"=1+1\", \"length\": 12, \"qty\": 3}]}",
    );
    let output = stepoff(&["cuts", file.name(), "--format", "csv"]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.contains("'=1+1") && !text.contains(",=1+1"), "{text}");
}
