//! The JSON Schemas under `docs/schema` are those of the program's own types, and promised names are
//! kept.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use stepoff::export::roof_file;
use stepoff::facts::{
    check::CheckReport,
    compare::CompareReport,
    cuts::CutsReport,
    eave::EaveReport,
    fit::FitReport,
    frame::FrameReport,
    layout::LayoutReport,
    measured::{EffectReport, MeasuredReport},
    order::{OrderReport, RoofCutsReport},
    prove::ProveReport,
    rafter::RafterReport,
    sheathing::SheathingReport,
    spans::SpansReport,
    square::SquareReport,
    ties::TiesReport,
};

use crate::support::path;

/// Compares a schema with its file; `UPDATE_SCHEMA=1` writes it instead.
fn holds<T: JsonSchema>(name: &str) {
    // as the program writes it: fields that it leaves out if empty are not required
    let schema =
        SchemaSettings::default().for_serialize().into_generator().into_root_schema_for::<T>();
    same(name, &(serde_json::to_string_pretty(&schema).unwrap() + "\n"));
}

fn same(name: &str, text: &str) {
    let file = path("docs/schema").join(name);
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&file, text).unwrap();
    }
    let stored = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(stored == text, "{name} is out of date: run UPDATE_SCHEMA=1 cargo test schema");
}

#[test]
fn schemas_are_up_to_date() {
    holds::<RafterReport>("rafter.schema.json");
    holds::<SquareReport>("square.schema.json");
    holds::<EaveReport>("eave.schema.json");
    holds::<FrameReport>("frame.schema.json");
    holds::<LayoutReport>("layout.schema.json");
    same("roof-file.schema.json", &roof_file::schema());
    holds::<SpansReport>("spans.schema.json");
    holds::<SheathingReport>("sheathing.schema.json");
    holds::<CutsReport>("cuts.schema.json");
    holds::<OrderReport>("order.schema.json");
    holds::<RoofCutsReport>("cuts-roof.schema.json");
    holds::<CheckReport>("check.schema.json");
    holds::<TiesReport>("ties.schema.json");
    holds::<CompareReport>("compare.schema.json");
    holds::<MeasuredReport>("measured.schema.json");
    holds::<EffectReport>("effect.schema.json");
    holds::<FitReport>("fit.schema.json");
    holds::<ProveReport>("prove.schema.json");
}
