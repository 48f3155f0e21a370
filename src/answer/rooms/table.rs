//! Tables as the page takes them.

use serde::Serialize;

use crate::sheet::{Align, Table};

/// A table with every cell written.
#[derive(Debug, Serialize)]
pub(super) struct TableView {
    title: String,
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

#[derive(Debug, Serialize)]
struct Column {
    head: String,
    /// True for numbers, which stand at the right.
    right: bool,
}

impl From<&Table> for TableView {
    fn from(table: &Table) -> TableView {
        let column = |(head, align): (&str, Align)| Column {
            head: head.to_owned(),
            right: align == Align::Right,
        };
        TableView {
            title: table.title().to_owned(),
            columns: table.columns().map(column).collect(),
            rows: table.rows().map(<[String]>::to_vec).collect(),
        }
    }
}
