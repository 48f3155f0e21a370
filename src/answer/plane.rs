//! The question of a deck, read from numbers alone.

use crate::deck::{DeckAsk, DeckFault, RafterLines};
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing, read};
use crate::plan::{Asked, Fault, Faults, Key, Place};

use super::flags::Reader;
use super::{Input, Refused};

/// The inputs of a deck besides the fields of a roof file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeckAsked {
    /// Length of a plane along the eave, as text; for planes without a roof file.
    pub length: Option<String>,
    /// Slope width of a plane, as text; for planes without a roof file.
    pub slope_width: Option<String>,
    /// Rafter centers as text, instead of a spacing; for planes without a roof file.
    pub centers: Vec<String>,
    /// Number of equal planes, without a roof file.
    pub planes: u8,
    /// Actual size of a sheet, as it is written.
    pub sheet: Option<String>,
    /// Span rating of the panel, as it is written.
    pub rating: Option<String>,
    /// True if its page has the map.
    pub map: bool,
}

impl DeckAsked {
    /// The units that planes without a roof file are written in.
    pub(super) fn units(&self) -> Units {
        let length = self.length.as_deref().unwrap_or_default();
        if read::is_metric(length) { Units::Millimeters } else { Units::Feet }
    }

    /// The question of a deck without a roof file.
    pub(super) fn ask(&self, input: &Input) -> Result<DeckAsk, Refused> {
        let text = |key| input.entries.get(key).map(|entry| entry.text.as_str());
        let mut reader = Reader::default();
        let length = reader.needed("--length", self.length.as_deref(), "a plane along the eave");
        let width = reader.needed(
            "--slope-width",
            self.slope_width.as_deref(),
            "a plane up the slope, tail line to ridge",
        );
        let rafters = if self.centers.is_empty() {
            let about = "rafter centers (or give --centers)";
            let spacing = text(key!("roof.spacing"));
            RafterLines::Spacing(reader.needed("--spacing", spacing, about))
        } else {
            let centers = self.centers.iter();
            RafterLines::Centers(
                centers.filter_map(|text| reader.length("--centers", Some(text))).collect(),
            )
        };
        let mut ask = DeckAsk::rectangles(usize::from(self.planes), length, width, inches(16.0));
        ask.rafters = rafters;
        if let Some((height, length)) = reader.sheet(self.sheet.as_deref()) {
            ask.sheet.height = height;
            ask.sheet.length = length;
        }
        for (flag, key, target) in [
            ("--min-strip", key!("deck.least_strip"), &mut ask.rules.least_strip),
            ("--min-length", key!("deck.least_piece"), &mut ask.rules.least_piece),
            ("--gap", key!("deck.gap"), &mut ask.rules.gap),
            ("--kerf", key!("deck.kerf"), &mut ask.sheet.kerf),
            ("--ridge-slot", key!("deck.ridge_slot"), &mut ask.ridge_slot),
        ] {
            if let Some(length) = reader.length(flag, text(key)) {
                *target = length;
            }
        }
        let past = text(key!("deck.past_fascia"));
        if let Some(length) = reader.read("--past-tail", past, read::signed_length) {
            ask.past_tail = length;
        }
        let pitch = reader.read("--pitch", text(key!("roof.pitch")), read::pitch);
        ask.slope = pitch.map(|pitch| pitch.angle());
        reader.done().map(|()| ask)
    }

    /// The place to point at for a fault of a deck without a roof file.
    pub(super) fn place(&self, fault: &DeckFault, input: &Input) -> Place {
        let (flag, text) = match deck_key(fault) {
            key if [key!("deck.sheet_height"), key!("deck.sheet_length")].contains(&key) => {
                ("--sheet", self.sheet.as_ref())
            }
            key if key == key!("building.span") => ("--slope-width", self.slope_width.as_ref()),
            key if key == key!("building.length") => ("--length", self.length.as_ref()),
            key if key == key!("roof.spacing") && !self.centers.is_empty() => {
                ("--centers", self.centers.first())
            }
            key => return Asked::new(&input.entries).place(key),
        };
        match text {
            Some(text) => Place::Flag { flag, text: text.clone() },
            None => Place::Missing { key: flag, flag: Some(flag) },
        }
    }
}

/// The field that causes a fault of a deck.
pub(super) fn deck_key(fault: &DeckFault) -> Key {
    match fault {
        DeckFault::OutOfRange { what, .. } => match *what {
            "sheet length" => key!("deck.sheet_length"),
            "sheet height" => key!("deck.sheet_height"),
            "saw kerf" => key!("deck.kerf"),
            "gap" => key!("deck.gap"),
            "least strip" => key!("deck.least_strip"),
            "least piece" => key!("deck.least_piece"),
            "ridge slot" => key!("deck.ridge_slot"),
            "reach past the tail line" => key!("deck.past_fascia"),
            "rafter spacing" => key!("roof.spacing"),
            "slope width to cover" => key!("building.span"),
            _ => key!("building.length"),
        },
        DeckFault::NoCourses { .. } => key!("deck.least_strip"),
        DeckFault::NoStagger { .. } | DeckFault::NoCourse { .. } => key!("deck.least_piece"),
        _ => key!("roof.spacing"),
    }
}

/// Faults of a deck, each at its place.
pub(super) fn deck_faults(
    faults: &[DeckFault],
    writing: Writing,
    place: impl Fn(&DeckFault) -> Place,
) -> Faults {
    let told = |fault: &DeckFault| {
        let (message, help) = (fault.message().write(writing), fault.help().write(writing));
        Fault::new(place(fault), message, help)
    };
    faults.iter().map(told).collect()
}
