//! The field of each term of a search; separate from the terms, because the table of fields uses their
//! words.

use super::field::Key;
use super::fit_terms::{Quantity, Unknown};
use crate::key;

impl Unknown {
    /// The field of the roof file.
    #[must_use]
    pub fn key(self) -> Key {
        match self {
            Unknown::Pitch => key!("roof.pitch"),
            Unknown::Overhang => key!("eave.overhang"),
            Unknown::Seat => key!("rafter.seat"),
            Unknown::Span => key!("building.span"),
            Unknown::WallHeight => key!("building.wall_height"),
            Unknown::FasciaDepth => key!("eave.fascia_depth"),
            Unknown::RidgeSlot => key!("deck.ridge_slot"),
            Unknown::PastFascia => key!("deck.past_fascia"),
        }
    }
}

impl Quantity {
    /// The field of the roof file.
    #[must_use]
    pub fn key(self) -> Key {
        match self {
            Quantity::RidgeTop => key!("fit.ridge_top"),
            Quantity::Peak => key!("fit.peak"),
            Quantity::FasciaTop => key!("fit.fascia_top"),
            Quantity::FasciaBottom => key!("fit.fascia_bottom"),
            Quantity::SoffitUnder => key!("fit.soffit_under"),
            Quantity::HeelStand => key!("fit.heel_stand"),
            Quantity::FasciaOut => key!("fit.fascia_out"),
            Quantity::Rise48 => key!("fit.rise_48"),
        }
    }
}
