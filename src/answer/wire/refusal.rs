//! Faults at the field that they concern.

use serde::Serialize;

use crate::plan::field::FIELDS;
use crate::plan::{Address, Entries, Fault, Field, Place, file};

use super::super::Refused;
use super::super::on_page::on_page;

/// One fault.
#[derive(Debug, Serialize)]
pub(super) struct Refusal {
    /// The field's address; null if the fault is none of a field's.
    field: Option<String>,
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
    let of_key = |field: &'static Field| field.key.to_owned();
    let field = match &fault.place {
        Place::Missing { key, .. } => FIELDS.iter().find(|field| field.key == *key).map(of_key),
        Place::Flag { flag, .. } => {
            FIELDS.iter().find(|field| field.flag == Some(*flag) || field.key == *flag).map(of_key)
        }
        Place::File(_) => entries
            .iter()
            .find(|entry| entry.place == fault.place)
            .map(|entry| Address { key: entry.field.key(), item: entry.item }.to_string()),
    };
    Refusal {
        field,
        message: fault.message.clone(),
        // what is a command elsewhere is a room here
        help: on_page(&fault.help).unwrap_or_default(),
    }
}
