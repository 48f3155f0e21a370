//! The inputs of a fit: one unknown, and what it has to meet or keep.

use super::asked::Asked;
use super::eave::EavePlan;
use super::entry::{Entries, Entry, Place};
use super::fault::Faults;
use super::field::Key;
use super::fit_terms::{Datum, Find, Measurement, Quantity, Unknown};
use super::limits::STEEPEST_RISE;
use super::order::OrderPlan;
use super::used::{OwnLimit, Value};
use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::quantity::InInches;
use crate::measure::{Amount, Note};
use crate::measure::{Length, Pitch};

/// What becomes of the fascia line of eave B.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FasciaLine {
    /// Both eaves keep the plan's overhang, wherever their fascias are.
    Own,
    /// Eave B's overhang puts its fascia at the height of eave A's.
    Level,
}

/// What the unknown must not exceed.
#[derive(Debug, Clone, PartialEq)]
pub struct Caps {
    /// Longest board the rafter may be cut from.
    pub board: Option<Length>,
    /// Greatest height of the peak, above the datum.
    pub height: Option<Length>,
    /// The user's own limit on the building's height, above the ground.
    pub limit: Option<OwnLimit>,
    /// True if no course of panels may be narrow.
    pub narrow_row: bool,
}

/// The sides that differ.
#[derive(Debug, Clone, PartialEq)]
pub struct Sides {
    /// Plate of eave B above that of eave A, if it is known.
    pub wall_b: Option<Length>,
    /// Pitch of plane B, if it is known.
    pub pitch_b: Option<Pitch>,
    /// Level, building line A to the center of the ridge, if it is known.
    pub ridge_at: Option<Length>,
    /// The fascia line of eave B.
    pub fascia_line: FasciaLine,
}

impl Measurement {
    /// Every one that was written.
    fn ask_all(asked: &mut Asked<'_>) -> Vec<Measurement> {
        let mut measured = Vec::new();
        for quantity in Quantity::ALL {
            let read = if quantity.is_height() { Asked::signed_length } else { Asked::length };
            let length = asked.where_given(quantity.key(), read);
            measured.extend(length.map(|asked| Measurement { quantity, asked }));
        }
        measured
    }
}

impl Caps {
    fn ask(asked: &mut Asked<'_>) -> Caps {
        let avoid = [("narrow-row", ())];
        Caps {
            board: asked.optional_length(key!("fit.board")),
            height: asked.optional_length(key!("fit.cap")),
            limit: asked.where_given(key!("limits.height"), Asked::limit),
            narrow_row: asked
                .where_given(key!("fit.avoid"), |asked, key| asked.choice(key, &avoid))
                .is_some(),
        }
    }
}

impl Sides {
    fn ask(asked: &mut Asked<'_>) -> Option<Sides> {
        Some(Sides {
            wall_b: asked.where_given(key!("fit.wall_b"), Asked::signed_length),
            pitch_b: asked.where_given(key!("fit.pitch_b"), Asked::pitch),
            ridge_at: asked.optional_length(key!("fit.ridge_at")),
            fascia_line: asked.choice(
                key!("fit.fascia_line"),
                &[("own", FasciaLine::Own), ("level", FasciaLine::Level)],
            )?,
        })
    }
}

/// The user's own limits that apply to a pattern rafter.
const OF_THE_RAFTER: [Key; 4] =
    [key!("limits.notch"), key!("limits.bearing"), key!("limits.tail"), key!("limits.cantilever")];

/// All inputs of a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct FitPlan {
    /// The roof with what is fixed.
    pub eave: EavePlan,
    /// The whole roof, if the question concerns the deck.
    pub roof: Option<OrderPlan>,
    /// What is to be found.
    pub find: Find,
    /// True if the file already has a value for the unknown.
    pub has_present: bool,
    /// The one measurement to be met, if several are given.
    pub meet: Option<Quantity>,
    /// What heights are measured from.
    pub datum: Datum,
    /// The mark above the plate.
    pub mark: Option<Length>,
    /// Floor above the ground.
    pub floor_height: Option<Length>,
    /// What was measured.
    pub measured: Vec<Measurement>,
    /// What must not be exceeded.
    pub caps: Caps,
    /// The deeper stock, for a plate drop.
    pub deeper: Option<Section>,
    /// The sides that differ.
    pub sides: Sides,
    /// The user's own limits on notch, bearing and tail, by their keys in the roof file.
    pub own_limits: Vec<(Key, OwnLimit)>,
    /// The pitch was taken from the rise over 48 in.
    pub pitch_from_rise: bool,
}

impl FitPlan {
    /// Reads the plan from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<FitPlan, Faults> {
        let find = find_written(entries);
        let (entries, provisional) = with_provisional(entries, find);
        let read = Asked::whole(&entries, |asked| FitPlan::ask(asked, provisional));
        let deck_asked = entries.get(key!("fit.avoid")).is_some();
        let roof = deck_asked.then(|| OrderPlan::read(&entries)).transpose();
        match (read, roof) {
            (Ok((mut plan, mut used)), Ok(roof)) => {
                used.retain(|used| {
                    provisional.is_none_or(|unknown| used.field.key() != unknown.key())
                });
                plan.eave.rafter.used = used;
                plan.tell_the_pitch_used();
                plan.roof = roof;
                Ok(plan)
            }
            (Err(mut faults), Err(more)) => {
                let new = more.into_iter().filter(|fault| !faults.contains(fault));
                let new: Faults = new.collect();
                faults.extend(new);
                Err(faults)
            }
            (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
        }
    }

    fn ask(asked: &mut Asked<'_>, provisional: Option<Unknown>) -> Option<FitPlan> {
        let eave = EavePlan::ask(asked);
        if !asked.given(key!("fit.find")) {
            asked.refuse(
                key!("fit.find"),
                "find is needed (under [fit] in a roof file, or --find): what is not fixed",
                format!("write one of: {}", Find::WORDS.join(", ")),
            );
        }
        let find = asked.choice(key!("fit.find"), &Find::CHOICES);
        let names: Vec<(&'static str, Quantity)> =
            Quantity::NAMES.into_iter().zip(Quantity::ALL).collect();
        let meet = asked.where_given(key!("fit.meet"), |asked, key| asked.choice(key, &names));
        let datum = asked.choice(key!("fit.above"), &Datum::CHOICES);
        let mark = asked.where_given(key!("fit.mark"), Asked::signed_length);
        let floor_height = asked.optional_length(key!("site.floor_height"));
        let measured = Measurement::ask_all(asked);
        let caps = Caps::ask(asked);
        let deeper = asked.where_given(key!("fit.deeper"), Asked::section);
        let sides = Sides::ask(asked)?;
        asked.forget(&[
            key!("fit.above"),
            key!("fit.board"),
            key!("fit.cap"),
            key!("fit.ridge_at"),
            key!("fit.fascia_line"),
            key!("site.floor_height"),
        ]);
        let mut plan = FitPlan {
            eave: eave?,
            roof: None,
            find: find?,
            has_present: provisional.is_none(),
            meet,
            datum: datum?,
            mark,
            floor_height,
            measured,
            caps,
            deeper,
            sides,
            own_limits: OF_THE_RAFTER
                .into_iter()
                .filter_map(|key| Some((key, asked.where_given(key, Asked::limit)?)))
                .collect(),
            pitch_from_rise: false,
        };
        plan.take_the_pitch_from_its_rise(asked);
        plan.refuse_what_does_not_fit(asked);
        Some(plan)
    }

    /// The one number to find; `None` for a plate drop or unequal sides.
    #[must_use]
    pub fn unknown(&self) -> Option<Unknown> {
        match self.find {
            Find::One(unknown) => Some(unknown),
            _ => None,
        }
    }

    /// True if only limits decide: the largest value is wanted.
    #[must_use]
    pub fn asks_for_the_largest(&self) -> bool {
        self.measured.is_empty() && !self.caps.narrow_row
    }

    /// If the pitch is not the unknown, an existing roof's rise over 48 in gives it.
    fn take_the_pitch_from_its_rise(&mut self, asked: &mut Asked<'_>) {
        let Some(at) =
            self.measured.iter().position(|measured| measured.quantity == Quantity::Rise48)
        else {
            return;
        };
        let rise = self.measured[at].asked.inches() / 4.0;
        if rise <= 0.0 || rise > STEEPEST_RISE {
            asked.refuse(
                key!("fit.rise_48"),
                Note::with(
                    "a rise of {} over {} is no pitch that is framed here",
                    [Amount::Inches(rise * 4.0), Amount::Inches(48.0)],
                ),
                Note::with(
                    "write a rise above 0 and up to {}",
                    [Amount::Inches(STEEPEST_RISE * 4.0)],
                ),
            );
            return;
        }
        if self.find == Find::One(Unknown::Pitch) {
            return;
        }
        self.measured.remove(at);
        if let Some(pitch) = Pitch::rise_in_12(rise) {
            self.eave.rafter.pitch = pitch;
            self.pitch_from_rise = true;
        }
    }

    /// In the values used, the pitch from the rise replaces the file's.
    fn tell_the_pitch_used(&mut self) {
        if !self.pitch_from_rise {
            return;
        }
        let rafter = &mut self.eave.rafter;
        for used in &mut rafter.used {
            if used.field.key() == Unknown::Pitch.key() {
                used.value = Value::Pitch(rafter.pitch);
            }
        }
    }
}

/// What is to be found, if it can be read already.
fn find_written(entries: &Entries) -> Option<Find> {
    let text = entries.get(key!("fit.find"))?.text.trim().to_lowercase();
    Find::CHOICES.iter().find(|(name, _)| *name == text).map(|(_, find)| *find)
}

/// The entries, with a provisional value for an unknown without one, so that the rest of the plan can
/// be read; and that unknown.
fn with_provisional(entries: &Entries, find: Option<Find>) -> (Entries, Option<Unknown>) {
    let rise_is_given = entries.get(key!("fit.rise_48")).is_some();
    let mut entries = entries.clone();
    let mut put = |unknown: Unknown| {
        let field = unknown.key().field();
        let text = unknown.provisional()?;
        entries.get(field.key()).is_none().then(|| {
            entries.add(Entry {
                item: 0,
                field,
                text: text.to_owned(),
                quoted: true,
                place: Place::Missing { key: field.key, flag: field.flag },
            });
            unknown
        })
    };
    let of_the_unknown = match find {
        Some(Find::One(unknown)) => put(unknown),
        _ => None,
    };
    // a rise over 48 in gives the pitch
    if rise_is_given {
        put(Unknown::Pitch);
    }
    (entries, of_the_unknown)
}
