//! A cutting list as CSV.

use crate::plan::text::clipped;
use crate::plan::{Fault, Faults, Place};

use super::super::super::csv_rows::CsvRows;
use super::{Given, Places, Raw, ReadProblem, assemble, meant};

/// The heads that a list may have.
const CSV_HEADS: [&str; 7] = ["kind", "label", "length", "quantity", "qty", "price", "splice"];

/// Reads CSV with the heads `kind,label,length,quantity,price,splice`, where kind is `stock` or
/// `piece`; only kind and length are required.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_csv(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    const HELP: &str = "the first line names the columns: kind,label,length,quantity,price,splice";
    let mut faults = Faults::new();
    let mut csv = CsvRows::new(text, HELP);
    let (heads, head_line) = csv.heads()?;
    let heads: Vec<String> = heads.iter().map(str::to_lowercase).collect();
    for wanted in ["kind", "length"] {
        if !heads.iter().any(|h| h == wanted) {
            faults.push(Fault::new(
                Place::File(head_line.clone()),
                format!("there is no column {wanted}"),
                HELP,
            ));
        }
    }
    for head in &heads {
        if !CSV_HEADS.contains(&head.as_str()) && !head.is_empty() {
            faults.push_with(|| {
                Fault::new(
                    Place::File(head_line.clone()),
                    format!("a cut list has no column {}", clipped(head)),
                    meant(head, &CSV_HEADS),
                )
            });
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut raws = Vec::new();
    for (record, span) in csv.rows(&mut faults) {
        let mut kind = String::new();
        let mut fields = Vec::new();
        for (index, cell) in record.iter().enumerate() {
            let head = heads.get(index).cloned().unwrap_or_default();
            if cell.is_empty() {
                continue;
            }
            if head == "kind" {
                kind = cell.to_lowercase();
            } else {
                fields.push((head, cell.to_owned(), span.clone()));
            }
        }
        match kind.as_str() {
            "stock" | "piece" => raws.push(Raw { is_stock: kind == "stock", span, fields }),
            other => faults.push(Fault::new(
                Place::File(span),
                format!("{other:?} is no kind of entry"),
                "write stock or piece",
            )),
        }
    }
    assemble(raws, given, Places::default(), faults)
}
