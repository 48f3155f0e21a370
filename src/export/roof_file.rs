//! The JSON Schema of roof files, from the one table of fields.

use serde_json::{Map, Value, json};

use crate::plan::field::{Default, FIELDS, Field, Kind, TABLES, is_list};

/// The schema as text (JSON Schema draft 2020-12; TOML editors read it too).
#[must_use]
pub fn schema() -> String {
    let tables: Map<String, Value> = TABLES
        .iter()
        .map(|(table, about)| ((*table).to_owned(), table_schema(table, about)))
        .collect();
    let needed = |table: &str| {
        !is_list(table)
            && FIELDS.iter().any(|field| field.table() == table && field.default == Default::Needed)
    };
    let required: Vec<&str> =
        TABLES.iter().map(|(table, _)| *table).filter(|table| needed(table)).collect();
    let schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "stepoff roof file",
        "type": "object",
        "additionalProperties": false,
        "required": required,
        "properties": tables,
    });
    // a value made of maps and texts can always be written
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}

fn table_schema(table: &str, about: &str) -> Value {
    let fields = || FIELDS.iter().filter(|field| field.table() == table);
    let properties: Map<String, Value> =
        fields().map(|field| (field.name().to_owned(), field_schema(field))).collect();
    let required: Vec<&str> =
        fields().filter(|field| field.default == Default::Needed).map(Field::name).collect();
    let one = json!({
        "description": about,
        "type": "object",
        "additionalProperties": false,
        "required": required,
        "properties": properties,
    });
    if is_list(table) { json!({ "type": "array", "items": one }) } else { one }
}

fn field_schema(field: &Field) -> Value {
    let default = match field.default {
        Default::Needed => String::new(),
        Default::Value(value) | Default::Words(value) | Default::Either(value, _) => {
            format!(" By default: {value}.")
        }
    };
    let mut schema = json!({
        "description": format!("{}. Written as {}.{default}", field.about, field.kind.how_written()),
        "type": match field.kind {
            Kind::Load | Kind::Speed | Kind::Number(_) | Kind::Counted(_) | Kind::Grade => json!(["string", "number"]),
            _ => json!("string"),
        },
    });
    if let Kind::Choice(words) = field.kind {
        schema["enum"] = json!(words);
    }
    if let Default::Value(value) = field.default {
        schema["default"] = json!(value);
    }
    schema
}
