//! One row of `FIELDS` for each row of `fields.csv`.

use std::fmt::Write as _;

pub(crate) const DATA: &str = "src/plan/fields.csv";

/// The fields as Rust.
pub(crate) fn made(text: &str) -> String {
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let mut table = String::new();
    for row in rows.records() {
        let row = row.unwrap_or_else(|error| panic!("{DATA}: {error}"));
        let [key, label, who, flag, kind, default, metric, about] =
            std::array::from_fn(|at| &row[at]);
        let flag = if flag.is_empty() { "None".to_owned() } else { format!("Some({flag:?})") };
        let default = match (default, metric) {
            ("needed", "") => "Default::Needed".to_owned(),
            ("", "") => "Default::Words(NOT_SET)".to_owned(),
            (words, "") => match words.strip_prefix("= ") {
                Some(value) => format!("Default::Value({value:?})"),
                None => format!("Default::Words({words:?})"),
            },
            (us, metric) => format!("Default::Either({us:?}, {metric:?})"),
        };
        let _ = writeln!(
            table,
            "    Field {{ key: {key:?}, label: {label:?}, who: &[{}], flag: {flag}, kind: {}, about: {about:?}, \
             default: {default} }},",
            readers(who),
            self::kind(kind)
        );
    }
    format!(
        "/// Every field, table by table in the order of [`TABLES`].\npub static FIELDS: &[Field] = &[\n{table}];\n"
    )
}

/// The readers as Rust; an unknown reader does not compile.
fn readers(words: &str) -> String {
    let named = |word: &str| {
        let (initial, tail) = word.split_at(1);
        format!("Reader::{}{tail}", initial.to_ascii_uppercase())
    };
    words.split("; ").map(named).collect::<Vec<_>>().join(", ")
}

/// The kind as Rust; an unknown kind does not compile, or panics here.
fn kind(words: &str) -> String {
    let (first, rest) = words.split_once(' ').unwrap_or((words, ""));
    match (first, rest) {
        ("signed", "length") => "Kind::SignedLength".to_owned(),
        ("one", choices) => match choices.trim_start_matches("of ") {
            constant if constant.contains("::") => format!("Kind::Choice(&{constant})"),
            words => format!("Kind::Choice(&{:?})", words.split(", ").collect::<Vec<_>>()),
        },
        ("number", unit) => format!("Kind::Number({:?})", unit.trim_start_matches("of ")),
        ("counted", unit) => format!("Kind::Counted(Counted::{unit})"),
        ("limit", "length") => "Kind::Limit(LimitOf::Length)".to_owned(),
        ("limit", "load") => "Kind::Limit(LimitOf::Load)".to_owned(),
        ("limit", number) => {
            let unit = number.trim_start_matches("number of ");
            format!("Kind::Limit(LimitOf::Number({unit:?}))")
        }
        ("sweep", field) => format!("Kind::Sweep({field:?})"),
        (plain, "") => {
            let (initial, tail) = plain.split_at(1);
            format!("Kind::{}{tail}", initial.to_ascii_uppercase())
        }
        _ => panic!("{DATA}: {words} is no kind"),
    }
}
