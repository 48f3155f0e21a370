//! `Step` and the words of each, from the rows of `erection.csv`.

use std::fmt::Write as _;

use crate::rules::variant;

pub(crate) const DATA: &str = "src/frame/erection.csv";

/// The steps as Rust, in their order.
pub(crate) fn made(text: &str) -> String {
    let (mut names, mut all, mut words) = (String::new(), String::new(), String::new());
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let mut count = 0;
    for row in rows.records() {
        let row = row.unwrap_or_else(|error| panic!("{DATA}: {error}"));
        let [step, title, say, caution] = std::array::from_fn(|at| &row[at]);
        let name = variant(step);
        count += 1;
        let _ = writeln!(names, "    /// {title}.\n    {name},");
        let _ = write!(all, "Step::{name}, ");
        let caution = (!caution.is_empty()).then_some(caution);
        let _ = writeln!(
            words,
            "    Words {{ title: {title:?}, say: {say:?}, caution: {caution:?} }},"
        );
    }
    format!(
        "/// A step in the order in which a frame goes up.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]\n\
         pub enum Step {{\n{names}}}\n\n\
         impl Step {{\n    /// All of them, in their order.\n    pub const ALL: [Step; {count}] = [{all}];\n}}\n\n\
         static WORDS: [Words; {count}] = [\n{words}];\n"
    )
}
