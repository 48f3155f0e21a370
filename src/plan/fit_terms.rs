//! The words of a fit: what to find, what to measure, and the datum of heights.

use crate::measure::Length;

/// The one number of the plan that is not fixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// The slope.
    Pitch,
    /// The level overhang.
    Overhang,
    /// The level seat cut, and with it the heel stand.
    Seat,
    /// The width over the walls.
    Span,
    /// Floor to plate.
    WallHeight,
    /// The fascia's depth.
    FasciaDepth,
    /// What the deck leaves open at the ridge.
    RidgeSlot,
    /// How far the deck reaches past the fascia.
    PastFascia,
}

impl Unknown {
    /// The trade's word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Unknown::Pitch => "pitch",
            Unknown::Overhang => "overhang",
            Unknown::Seat => "seat",
            Unknown::Span => "span",
            Unknown::WallHeight => "wall height",
            Unknown::FasciaDepth => "fascia depth",
            Unknown::RidgeSlot => "ridge slot",
            Unknown::PastFascia => "reach past the fascia",
        }
    }

    /// True if it only moves the deck.
    #[must_use]
    pub(super) fn is_of_the_deck(self) -> bool {
        matches!(self, Unknown::RidgeSlot | Unknown::PastFascia)
    }

    /// A value to use while the rest of the plan is read, if nothing was written.
    pub(super) fn provisional(self) -> Option<&'static str> {
        match self {
            Unknown::Pitch => Some("6/12"),
            Unknown::Span => Some("24'"),
            // the fascia's depth affects nothing in the search but itself
            Unknown::FasciaDepth => Some("7-1/4\""),
            _ => None,
        }
    }
}

/// What is to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Find {
    /// One number of the plan.
    One(Unknown),
    /// How much lower the plate of deeper rafters in the same roof plane is.
    PlateDrop,
    /// The place of the ridge between unequal sides.
    Ridge,
    /// How much higher the plate of eave B is.
    WallB,
    /// The pitch of plane B.
    PitchB,
}

impl Find {
    /// Every word with its meaning.
    pub(super) const CHOICES: [(&'static str, Find); 12] = [
        ("pitch", Find::One(Unknown::Pitch)),
        ("overhang", Find::One(Unknown::Overhang)),
        ("seat", Find::One(Unknown::Seat)),
        ("span", Find::One(Unknown::Span)),
        ("wall-height", Find::One(Unknown::WallHeight)),
        ("fascia-depth", Find::One(Unknown::FasciaDepth)),
        ("ridge-slot", Find::One(Unknown::RidgeSlot)),
        ("past-fascia", Find::One(Unknown::PastFascia)),
        ("plate-drop", Find::PlateDrop),
        ("ridge", Find::Ridge),
        ("wall-b", Find::WallB),
        ("pitch-b", Find::PitchB),
    ];

    /// The words of [`Find::CHOICES`], for the table of fields.
    pub(super) const WORDS: [&'static str; Find::CHOICES.len()] = {
        let mut words = [""; Find::CHOICES.len()];
        let mut at = 0;
        while at < words.len() {
            words[at] = Find::CHOICES[at].0;
            at += 1;
        }
        words
    };

    /// The finds of one number of the plan, each with the user's word.
    pub fn ones() -> impl Iterator<Item = (&'static str, Unknown)> {
        Find::CHOICES.into_iter().filter_map(|(word, find)| match find {
            Find::One(unknown) => Some((word, unknown)),
            _ => None,
        })
    }

    /// The user's word for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        Find::CHOICES.iter().find(|(_, find)| *find == self).map_or("", |(name, _)| name)
    }

    pub(super) fn has_two_sides(self) -> bool {
        matches!(self, Find::Ridge | Find::WallB | Find::PitchB)
    }
}

/// A measurement of the building that the roof has to fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Rafters' top edge at the ridge's face: the top of the ridge board.
    RidgeTop,
    /// The same line extended to the ridge's center.
    Peak,
    /// Top of the fascia's outer face.
    FasciaTop,
    /// Bottom of the fascia's outer face.
    FasciaBottom,
    /// Underside of the soffit.
    SoffitUnder,
    /// Plumb, plate to top edge at the building line.
    HeelStand,
    /// Level, building line to the fascia's outer face.
    FasciaOut,
    /// Rise of the roof over 48 in level.
    Rise48,
}

impl Quantity {
    /// All, in the order of the roof file.
    pub const ALL: [Quantity; 8] = [
        Quantity::RidgeTop,
        Quantity::Peak,
        Quantity::FasciaTop,
        Quantity::FasciaBottom,
        Quantity::SoffitUnder,
        Quantity::HeelStand,
        Quantity::FasciaOut,
        Quantity::Rise48,
    ];

    /// The names by which `meet` knows them.
    pub(super) const NAMES: [&'static str; 8] = [
        "ridge-top",
        "peak",
        "fascia-top",
        "fascia-bottom",
        "soffit-under",
        "heel-stand",
        "fascia-out",
        "rise-48",
    ];

    /// Its name on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        Quantity::ALL.iter().position(|other| *other == self).map_or("", |at| Quantity::NAMES[at])
    }

    /// The trade's words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Quantity::RidgeTop => "ridge top",
            Quantity::Peak => "peak",
            Quantity::FasciaTop => "fascia top",
            Quantity::FasciaBottom => "fascia bottom",
            Quantity::SoffitUnder => "soffit's underside",
            Quantity::HeelStand => "heel stand",
            Quantity::FasciaOut => "fascia, level from the building line",
            Quantity::Rise48 => "rise over 48 in level",
        }
    }

    /// True for a height above a datum.
    #[must_use]
    pub fn is_height(self) -> bool {
        !matches!(self, Quantity::HeelStand | Quantity::FasciaOut | Quantity::Rise48)
    }
}

/// What heights are measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Datum {
    /// Top of the plate.
    Plate,
    /// Top of the floor.
    Floor,
    /// The ground, as the height limit is measured.
    Grade,
    /// A mark on the existing building.
    Mark,
}

impl Datum {
    /// Every word with its meaning.
    pub const CHOICES: [(&'static str, Datum); 4] = [
        ("plate", Datum::Plate),
        ("floor", Datum::Floor),
        ("grade", Datum::Grade),
        ("mark", Datum::Mark),
    ];

    /// Its place, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Datum::Plate => "the plate",
            Datum::Floor => "the floor",
            Datum::Grade => "the ground",
            Datum::Mark => "the mark",
        }
    }
}

/// One measurement that the roof has to fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measurement {
    /// What was measured.
    pub quantity: Quantity,
    /// As measured; a height above the datum.
    pub asked: Length,
}
