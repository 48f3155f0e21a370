//! The frame as a file for other programs.

#[cfg(feature = "spreadsheet")]
use crate::export::frame_book;
use crate::export::unit::FileUnit;
use crate::export::{dxf, gltf, ifc, obj};
use crate::facts;
use crate::plan::GablePlan;
use crate::sheet::Look;

use super::framing::Framing;
use super::{Asker, File, Form, Found, Input, NotWritten, Refused, Status, any_roof, csv, frame};

/// Form of a file for other programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExportTo {
    /// Drawing: plan, section and pattern rafter at full size, sticks in space.
    Dxf,
    /// Building model: members, panels and roof planes with sizes and materials.
    Ifc,
    /// Model to look at: every stick a node, in meters.
    Gltf,
    /// Solids: every stick a closed group.
    Obj,
    /// A row for every stick.
    Csv,
    /// Spreadsheet: cut list, placements, layout marks.
    #[cfg(feature = "spreadsheet")]
    Xlsx,
    /// The whole frame.
    Json,
}

impl ExportTo {
    /// Its default name.
    fn name(self) -> &'static str {
        match self {
            ExportTo::Dxf => "roof.dxf",
            ExportTo::Ifc => "roof.ifc",
            ExportTo::Gltf => "roof.glb",
            ExportTo::Obj => "roof.obj",
            ExportTo::Csv => "roof.csv",
            #[cfg(feature = "spreadsheet")]
            ExportTo::Xlsx => "roof.xlsx",
            ExportTo::Json => "roof.json",
        }
    }

    /// The unit of its lengths; a requested unit is refused if the format has a fixed one.
    fn unit(self, asked: Option<FileUnit>) -> Result<FileUnit, Refused> {
        let fixed = match self {
            ExportTo::Gltf => Some("glTF is in meters always"),
            ExportTo::Csv | ExportTo::Json => {
                Some("names of values say their unit: _in is inches always")
            }
            _ => None,
        };
        let (Some(unit), Some(why)) = (asked, fixed) else {
            return Ok(asked.unwrap_or(FileUnit::Inch));
        };
        let written = match unit {
            FileUnit::Inch => "inches",
            FileUnit::Millimeter => "mm",
        };
        Err(Refused::of_flag(
            "--unit",
            written,
            format!("this form of file has a unit of its own; {why}"),
            "leave --unit out",
        ))
    }
}

type Write = Box<dyn Fn() -> Result<Vec<u8>, NotWritten>>;

/// A file for other programs.
pub(super) struct Exported {
    name: &'static str,
    status: Status,
    word: Option<&'static str>,
    write: Write,
}

impl Found for Exported {
    fn status(&self) -> Status {
        self.status
    }

    fn word(&self, _: Option<Form>) -> Option<&'static str> {
        self.word
    }

    fn files(&self, _: &Look) -> Vec<File<'_>> {
        vec![File::new(self.name, &self.write)]
    }
}

/// Frames the roof for a file.
pub(super) fn find(
    input: Input,
    to: ExportTo,
    unit: Option<FileUnit>,
    asker: &dyn Asker,
) -> Result<Exported, Refused> {
    let unit = to.unit(unit)?;
    let (mut status, mut word) = (Status::Done, None);
    let write: Write = match to {
        ExportTo::Ifc => {
            let framing = Framing::read(input)?;
            // the deck is an addition to the model; a frame without one is complete
            let laid = framing.laid(asker).ok();
            let checks = &framing.plan.checks;
            if framing.sticks().gable.is_none() {
                word = Some(
                    "the panels of such a roof are not laid yet: the model has bare roof planes",
                );
            } else if laid.is_none() {
                word = Some(
                    "the panels can't be laid under the rules (stepoff sheathing tells why): the model has none",
                );
            } else if checks.panel.is_none() && checks.panel_thickness.is_none() {
                word = Some(
                    "[sheathing] names no panel and no thickness: the model has bare roof planes",
                );
            }
            Box::new(move || {
                let deck = laid.as_ref().map(|(asked, laid)| (asked, laid));
                let ask = ifc::Ask { sticks: framing.sticks(), plan: &framing.plan, deck, unit };
                Ok(ifc::write(&ask).into_bytes())
            })
        }
        ExportTo::Json => {
            let found = frame::find(&input)?;
            status = found.status();
            Box::new(move || found.json(false))
        }
        of_frame => {
            let plan = input.plan(GablePlan::read)?;
            let frame = any_roof::framed(&input, &plan)?;
            match of_frame {
                ExportTo::Dxf => Box::new(move || Ok(dxf::write(frame.sticks(), unit))),
                ExportTo::Gltf => Box::new(move || NotWritten::or(gltf::write(frame.sticks()))),
                ExportTo::Obj => {
                    Box::new(move || Ok(obj::write(frame.sticks(), unit).into_bytes()))
                }
                #[cfg(feature = "spreadsheet")]
                ExportTo::Xlsx => {
                    Box::new(move || NotWritten::or(frame_book::workbook(frame.sticks(), unit)))
                }
                _ => Box::new(move || {
                    csv(facts::frame::rows(facts::frame::patterns(frame.sticks())))
                }),
            }
        }
    };
    Ok(Exported { name: to.name(), status, word, write })
}
