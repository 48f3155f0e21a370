//! A cutting list as TOML.

use std::ops::Range;

use toml::de::DeValue;

use crate::plan::text::clipped;
use crate::plan::{Document, Fault, Faults, Place};

use super::{Given, Places, Raw, ReadProblem, assemble, length};

/// Reads TOML: `kerf`, `end_trim`, `[[stock]]` and `[[piece]]` with `label`, `length`, `quantity`, `price`, `splice`.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_toml(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    let mut document = Document::parse(
        text,
        "the file is TOML: kerf = \"1/8in\", then [[stock]] and [[piece]] entries",
    );
    let mut faults = std::mem::take(&mut document.faults);
    let mut raws = Vec::new();
    let mut given = *given;
    let mut places = Places::default();
    for (name, value) in document.table.get_ref() {
        let key: &str = name.get_ref().as_ref();
        let text_of = |value: &DeValue<'_>, span: Range<usize>| match value {
            DeValue::String(s) => s.to_string(),
            _ => text.get(span).unwrap_or_default().to_owned(),
        };
        match (key, value.get_ref()) {
            ("kerf" | "end_trim", inner) => {
                let span = value.span();
                let read = length(&text_of(inner, span.clone()), &span, &mut faults);
                if key == "kerf" {
                    places.kerf = Some(span);
                    given.kerf = given.kerf.or(read);
                } else {
                    places.end_trim = Some(span);
                    given.end_trim = given.end_trim.or(read);
                }
            }
            ("stock" | "piece", DeValue::Array(entries)) => {
                for entry in entries {
                    let DeValue::Table(table) = entry.get_ref() else {
                        faults.push(Fault::new(
                            Place::File(entry.span()),
                            "this is not a table",
                            format!("write [[{key}]] and its fields below"),
                        ));
                        continue;
                    };
                    let fields: Vec<_> = table
                        .iter()
                        .map(|(field, value)| {
                            let span = value.span();
                            (
                                field.get_ref().to_string(),
                                text_of(value.get_ref(), span.clone()),
                                span,
                            )
                        })
                        .collect();
                    raws.push(Raw { is_stock: key == "stock", span: entry.span(), fields });
                }
            }
            _ => faults.push_with(|| {
                Fault::new(
                    Place::File(name.span()),
                    format!("{} is not known in a cutting list", clipped(key)),
                    "write kerf, end_trim, [[stock]] and [[piece]]",
                )
            }),
        }
    }
    assemble(raws, &given, places, faults)
}
