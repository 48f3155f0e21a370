//! Nails of one kind, summed over joints and buildings.

use crate::catalog::coverage;
use crate::measure::{Amount, Note, trim};

use super::super::line::Trade;
use super::super::need::{self, Need, Place};
use super::super::prices::keys;

pub(in crate::order) const COMMON_16D: &str = "16d common";
pub(in crate::order) const COMMON_10D: &str = "10d common";
pub(in crate::order) const COMMON_8D: &str = "8d common";

/// The nails of one kind of joint.
#[derive(Debug, Clone, PartialEq)]
pub struct NailUse {
    /// The nail: `16d common`.
    pub nail: &'static str,
    /// How many.
    pub count: u64,
    /// Where they go.
    pub joint: String,
    /// How they are counted: `3 a rafter, toenailed`.
    pub how: Note,
    /// By which row: a section of the code, or common practice.
    pub by: String,
}

impl NailUse {
    /// True if both are the same joint, nailed alike.
    fn is_alike(&self, other: &NailUse) -> bool {
        (self.nail, &self.joint, &self.how, &self.by)
            == (other.nail, &other.joint, &other.how, &other.by)
    }

    /// The same for this many buildings.
    #[must_use]
    pub fn times(&self, buildings: u64) -> NailUse {
        NailUse { count: self.count * buildings, ..self.clone() }
    }

    /// How they are counted and by which row.
    #[must_use]
    pub fn basis(&self) -> Note {
        Note::with("{} ({})", [Amount::from(self.how.clone()), self.by.as_str().into()])
    }
}

/// The name of a nail; a length in it is written in the reader's units.
#[must_use]
pub fn called(nail: &str) -> Note {
    match nail {
        keys::LONG_ROOFING => Note::with("roofing {}", [Amount::Inches(2.0)]),
        nail => nail.into(),
    }
}

/// All nails of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct NailTotal {
    /// The nail.
    pub nail: &'static str,
    /// As counted, without spare.
    pub count: u64,
    /// Whole pounds with the spare; `None` if the number in a pound is not known.
    pub pounds: Option<u64>,
    /// The uses, as counted.
    pub uses: Vec<NailUse>,
}

/// Adds up the uses by kind, the heaviest nails first, with `spare` percent more, in whole pounds.
#[must_use]
pub fn totals(uses: Vec<NailUse>, spare: f64) -> Vec<NailTotal> {
    let mut totals: Vec<NailTotal> = Vec::new();
    for one in uses.into_iter().filter(|one| one.count > 0) {
        match totals.iter_mut().find(|total| total.nail == one.nail) {
            Some(total) => {
                total.count += one.count;
                // equal joints of several roofs are one
                match total.uses.iter_mut().find(|of| of.is_alike(&one)) {
                    Some(of) => of.count += one.count,
                    None => total.uses.push(one),
                }
            }
            None => totals.push(NailTotal {
                nail: one.nail,
                count: one.count,
                pounds: None,
                uses: vec![one],
            }),
        }
    }
    for total in &mut totals {
        total.pounds = coverage::nails_per_lb(total.nail)
            .map(|per_lb| (total.count as f64 * (1.0 + spare / 100.0) / per_lb).ceil() as u64);
    }
    totals.sort_by(|a, b| {
        let per_lb =
            |total: &NailTotal| coverage::nails_per_lb(total.nail).unwrap_or(f64::INFINITY);
        per_lb(a).total_cmp(&per_lb(b))
    });
    totals
}

/// The nails as goods: by the pound, or by the piece if the number in a pound is not known.
pub(in crate::order) fn needs(nails: &[NailTotal], spare: f64) -> Vec<Need> {
    nails.iter().map(|total| need(total, spare)).collect()
}

fn need(total: &NailTotal, spare: f64) -> Need {
    let joints = total.uses.iter().map(|one| (one.joint.clone(), one.count)).collect();
    let (count, unit) = match total.pounds {
        Some(pounds) => (pounds as f64, "lb"),
        None => (total.count as f64 * (100.0 + spare) / 100.0, "pc"),
    };
    let what = match total.nail {
        "roofing" => "roofing nails".into(),
        keys::LONG_ROOFING => Note::with("roofing nails, {}", [Amount::Inches(2.0)]),
        nail => Note::from(format!("{nail} nails")),
    };
    let a_pound = coverage::nails_per_lb(total.nail)
        .map_or(Note::default(), |per_lb| Note::with(", {} (memory)", [Amount::APound(per_lb)]));
    Need {
        weight_lb: total.pounds.map(|_| 1.0),
        ..Need::new(
            Trade::Nails,
            format!("nails {}", total.nail),
            what,
            (need::Amount::Units(count), unit),
            Place::Counts(joints),
            a_pound.after(&format!("{} counted, {} percent spare", total.count, trim(spare, 1))),
        )
    }
}
