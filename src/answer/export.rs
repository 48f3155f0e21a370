//! The frame as a file for other programs.

use crate::deck::faces::{FacesAsk, FacesDeck};
use crate::deck::{Deck, RoofDeck};
use crate::export::ask::Ask;
#[cfg(feature = "spreadsheet")]
use crate::export::frame_book;
use crate::export::panels::Laid;
use crate::export::unit::FileUnit;
use crate::export::{dxf, gltf, ifc, obj};
use crate::facts;
use crate::plan::GablePlan;
use crate::sheet::Look;

use super::framing::Framing;
use super::{
    Asker, File, Form, Found, Input, NotWritten, Refused, Status, any_roof, csv, faces_deck, frame,
};

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

/// A deck that is laid for a file.
enum Decked {
    Gable(RoofDeck, Deck),
    Faces(FacesAsk, FacesDeck),
}

impl Decked {
    fn laid(&self) -> Laid<'_> {
        match self {
            Decked::Gable(asked, deck) => Laid::Gable(asked, deck),
            Decked::Faces(asked, deck) => Laid::Faces(asked, deck),
        }
    }

    /// The deck of a framed roof, with the word that there is none: it is an addition to the model, and a frame without one
    /// is complete.
    fn of(framing: &Framing, asker: &dyn Asker) -> (Option<Decked>, Option<&'static str>) {
        let checks = &framing.plan.checks;
        if checks.panel.is_none() && checks.panel_thickness.is_none() {
            let word = "no panels in the model: set sheathing.panel or sheathing.thickness in the roof file";
            return (None, Some(word));
        }
        let laid = match framing.sticks().hung {
            Some(frame) => any_roof::shaped(&framing.input, &framing.plan.gable)
                .ok()
                .and_then(|(_, shape, _)| faces_deck::laid(&shape, frame, &framing.plan.deck).ok())
                .map(|(asked, deck, _)| Decked::Faces(asked, deck)),
            None => framing.laid(asker).ok().map(|(asked, deck)| Decked::Gable(asked, deck)),
        };
        let word = laid.is_none().then_some(
            "no panels in the model: they can't be laid under the rules; stepoff sheathing says why",
        );
        (laid, word)
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
        ExportTo::Ifc | ExportTo::Gltf => {
            let framing = Framing::read(input)?;
            let (decked, told) = Decked::of(&framing, asker);
            // to look at sticks alone is usual
            word = told.filter(|_| to == ExportTo::Ifc);
            Box::new(move || {
                let deck = decked.as_ref().map(Decked::laid);
                let ask = Ask { sticks: framing.sticks(), plan: &framing.plan, deck };
                match to {
                    ExportTo::Ifc => Ok(ifc::write(&ask, unit).into_bytes()),
                    _ => NotWritten::or(gltf::write(&ask)),
                }
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
