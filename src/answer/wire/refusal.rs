//! Faults at the field that they concern.

use serde::Serialize;

use crate::plan::field::FIELDS;
use crate::plan::{Entries, Fault, Place, file};

use super::super::Refused;

/// One fault.
#[derive(Debug, Serialize)]
pub(super) struct Refusal {
    /// The field's key; null if the fault is none of a field's.
    field: Option<&'static str>,
    /// What is wrong.
    message: String,
    /// What to write instead.
    help: String,
}

/// Every fault of every file.
pub(super) fn all(all: &[Refused]) -> Vec<Refusal> {
    all.iter().flat_map(of_file).collect()
}

fn of_file(refused: &Refused) -> Vec<Refusal> {
    let mut entries = Entries::default();
    if let Some(file) = &refused.file {
        file::read(&file.text, &mut entries);
    }
    refused.faults.iter().map(|fault| of(fault, &entries)).collect()
}

pub(super) fn of(fault: &Fault, entries: &Entries) -> Refusal {
    let field = match &fault.place {
        Place::Missing { key, .. } => FIELDS.iter().find(|field| field.key == *key),
        Place::Flag { flag, .. } => {
            FIELDS.iter().find(|field| field.flag == Some(*flag) || field.key == *flag)
        }
        Place::File(_) => {
            entries.iter().find(|entry| entry.place == fault.place).map(|entry| entry.field)
        }
    };
    Refusal {
        field: field.map(|field| field.key),
        message: fault.message.clone(),
        help: fault.help.clone(),
    }
}
