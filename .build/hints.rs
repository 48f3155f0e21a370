//! The tables of `hints.csv`, each a constant.

use std::fmt::Write as _;

pub(crate) const DATA: &str = "src/plan/hints.csv";

/// Each table: its name in the data, the constant, its content.
const TABLES: [(&str, &str, &str); 5] = [
    (
        "shape",
        "SHAPES: &[(Words, &str)]",
        "Roofs and parts of roofs that are not framed here, each with what can be had instead.",
    ),
    ("setting", "SETTINGS: &[(Words, Meaning)]", "Settings under other names."),
    ("output", "OUTPUT: &[(Words, Meaning)]", "Ways of showing a result, under other names."),
    (
        "command",
        "COMMANDS: &[(Words, Meaning)]",
        "What people ask of the program, under the names of its commands.",
    ),
    (
        "value",
        "VALUES: &[(Words, Words, &str)]",
        "Values under other names: the fields or flags (none: any), the words, what to write.",
    ),
];

/// The hints as Rust.
pub(crate) fn made(text: &str) -> String {
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> =
        rows.records().map(|row| row.unwrap_or_else(|error| panic!("{DATA}: {error}"))).collect();
    let mut made = String::new();
    for (table, constant, about) in TABLES {
        let _ = writeln!(made, "/// {about}\npub(super) const {constant} = &[");
        for row in rows.iter().filter(|row| &row[0] == table) {
            let [words, field, say] = [&row[1], &row[2], &row[3]];
            let words: Vec<&str> = words.split(", ").collect();
            let _ = match (table, field) {
                ("shape", _) => writeln!(made, "    (&{words:?}, {say:?}),"),
                ("value", _) => {
                    let fields: Vec<String> = field.split_whitespace().map(name).collect();
                    writeln!(made, "    (&[{}], &{words:?}, {say:?}),", fields.join(", "))
                }
                (_, "") => writeln!(made, "    (&{words:?}, Say({say:?})),"),
                _ => writeln!(made, "    (&{words:?}, Field(key!({field:?}))),"),
            };
        }
        made.push_str("];\n\n");
    }
    let odd = rows.iter().find(|row| TABLES.iter().all(|(table, ..)| &row[0] != *table));
    assert!(odd.is_none(), "{DATA}: {odd:?} belongs to no table");
    made
}

/// A field's name, checked against the fields at compile time; a flag's name unchanged.
fn name(word: &str) -> String {
    if word.contains('.') { format!("key!({word:?}).name()") } else { format!("{word:?}") }
}
