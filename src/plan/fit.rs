//! What is asked of a fit: one unknown, and what it has to meet or keep.

use super::asked::{Asked, OwnLimit, Used, Value};
use super::eave::EavePlan;
use super::entry::{Entries, Entry, Place};
use super::fault::Faults;
use super::field::{Key, Kind};
use super::fit_terms::{Datum, Find, Measurement, Quantity, Unknown};
use super::limits::STEEPEST_RISE;
use super::order::OrderPlan;
use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Note};
use crate::measure::{Length, Pitch};

/// What becomes of the fascia line of eave B.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FasciaLine {
    /// Both eaves keep the plan's overhang, wherever their fascias come.
    Own,
    /// Eave B's overhang brings its fascia to the height of eave A's.
    Level,
}

/// What the unknown must not exceed.
#[derive(Debug, Clone, PartialEq)]
pub struct Caps {
    /// Longest board the rafter may be cut from.
    pub board: Option<Length>,
    /// Greatest height of the peak, above the datum.
    pub height: Option<Length>,
    /// The user's own limit of the building's height, above the ground.
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

/// Limits of the user's own that a pattern rafter can be held against.
const OF_THE_RAFTER: [Key; 4] =
    [key!("limits.notch"), key!("limits.bearing"), key!("limits.tail"), key!("limits.cantilever")];

/// Everything that is asked of a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct FitPlan {
    /// The roof with what is fixed.
    pub eave: EavePlan,
    /// The whole roof, where the deck is asked about.
    pub roof: Option<OrderPlan>,
    /// What is to be found.
    pub find: Find,
    /// True if the file says a value for the unknown already.
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
    /// Limits of the user's own of notch, bearing and tail, by the keys of the roof file.
    pub own_limits: Vec<(Key, OwnLimit)>,
    /// The pitch was taken from the rise over 48 in.
    pub pitch_from_rise: bool,
}

impl FitPlan {
    /// Reads the plan out of what was written.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<FitPlan, Faults> {
        let find = find_written(entries);
        let (entries, provisional) = with_provisional(entries, find);
        let mut asked = Asked::new(&entries);
        let plan = FitPlan::ask(&mut asked, provisional);
        asked.check_the_rest();
        let mut faults = asked.faults;
        let deck_asked = entries.get(key!("fit.avoid")).is_some();
        let roof = deck_asked.then(|| OrderPlan::read(&entries));
        let roof = match roof {
            Some(Ok(roof)) => Some(roof),
            Some(Err(more)) => {
                let new = more.into_iter().filter(|fault| !faults.contains(fault));
                let new: Faults = new.collect();
                faults.extend(new);
                None
            }
            None => None,
        };
        match plan {
            Some(mut plan) if faults.is_empty() => {
                plan.eave.rafter.used = asked
                    .used
                    .into_iter()
                    .filter(|used| {
                        provisional.is_none_or(|unknown| used.field.key() != unknown.key())
                    })
                    .collect::<Vec<Used>>();
                plan.tell_the_pitch_used();
                plan.roof = roof;
                Ok(plan)
            }
            _ => Err(faults),
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
        let meet =
            asked.given(key!("fit.meet")).then(|| asked.choice(key!("fit.meet"), &names)).flatten();
        let datum = asked.choice(
            key!("fit.above"),
            &[
                ("plate", Datum::Plate),
                ("floor", Datum::Floor),
                ("grade", Datum::Grade),
                ("mark", Datum::Mark),
            ],
        );
        let mark =
            asked.given(key!("fit.mark")).then(|| asked.signed_length(key!("fit.mark"))).flatten();
        let floor_height = asked.optional_length(key!("site.floor_height"));
        let mut measured: Vec<Measurement> = Vec::new();
        for quantity in Quantity::ALL {
            let key = quantity.key();
            if !asked.given(key) {
                continue;
            }
            let length =
                if quantity.is_height() { asked.signed_length(key) } else { asked.length(key) };
            measured.extend(length.map(|length| Measurement { quantity, asked: length }));
        }
        let caps = Caps {
            board: asked.optional_length(key!("fit.board")),
            height: asked.optional_length(key!("fit.cap")),
            limit: asked
                .given(key!("limits.height"))
                .then(|| asked.limit(key!("limits.height")))
                .flatten(),
            narrow_row: asked.given(key!("fit.avoid"))
                && asked.choice(key!("fit.avoid"), &[("narrow-row", ())]).is_some(),
        };
        let deeper =
            asked.given(key!("fit.deeper")).then(|| asked.section(key!("fit.deeper"))).flatten();
        let sides = Sides {
            wall_b: asked
                .given(key!("fit.wall_b"))
                .then(|| asked.signed_length(key!("fit.wall_b")))
                .flatten(),
            pitch_b: asked
                .given(key!("fit.pitch_b"))
                .then(|| asked.pitch(key!("fit.pitch_b")))
                .flatten(),
            ridge_at: asked.optional_length(key!("fit.ridge_at")),
            fascia_line: asked.choice(
                key!("fit.fascia_line"),
                &[("own", FasciaLine::Own), ("level", FasciaLine::Level)],
            )?,
        };
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
                .filter_map(|key| {
                    Some((key, asked.given(key).then(|| asked.limit(key)).flatten()?))
                })
                .collect(),
            pitch_from_rise: false,
        };
        plan.take_the_pitch_from_its_rise(asked);
        plan.refuse_datum(asked);
        plan.refuse_aim(asked);
        plan.refuse_sides(asked);
        Some(plan)
    }

    /// The one number that is looked for; `None` for a plate drop or unequal sides.
    #[must_use]
    pub fn unknown(&self) -> Option<Unknown> {
        match self.find {
            Find::One(unknown) => Some(unknown),
            _ => None,
        }
    }

    /// True if nothing but caps decides: the largest value is asked.
    #[must_use]
    pub fn asks_for_the_largest(&self) -> bool {
        self.measured.is_empty() && !self.caps.narrow_row
    }

    /// Where the pitch is not what is looked for, an existing roof's rise over 48 in gives it.
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

    /// Among the values used the pitch that the rise gives stands in place of the file's.
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

    fn refuse_datum(&self, asked: &mut Asked<'_>) {
        let heights =
            self.caps.height.is_some() || self.measured.iter().any(|it| it.quantity.is_height());
        if self.datum == Datum::Mark && self.mark.is_none() && heights {
            asked.refuse(
                key!("fit.mark"),
                "heights are above a mark, and nothing says how high the mark is",
                "write mark (or --mark): the mark above the top of the plate, with a dash before it for below",
            );
        }
        if self.mark.is_some() && self.datum != Datum::Mark {
            asked.refuse(
                key!("fit.mark"),
                "a mark was given, but heights are not above it",
                "write above = \"mark\" too, or leave the mark out",
            );
        }
        if self.datum == Datum::Grade && self.floor_height.is_none() && heights {
            asked.refuse(
                key!("site.floor_height"),
                "set site.floor_height in the roof file: heights are above the ground",
                "write the height of the top of the floor above the ground",
            );
        }
        let only_the_limit = self.measured.is_empty()
            && self.caps.board.is_none()
            && self.caps.height.is_none()
            && self.caps.limit.is_some();
        if only_the_limit
            && self.unknown().is_some_and(|it| it != Unknown::Seat)
            && self.floor_height.is_none()
        {
            asked.refuse(
                key!("site.floor_height"),
                "set site.floor_height in the roof file: the height limit is above the ground",
                "write the height of the top of the floor above the ground",
            );
        }
    }

    fn refuse_aim(&self, asked: &mut Asked<'_>) {
        let Find::One(unknown) = self.find else {
            self.refuse_what_has_no_part(asked);
            return;
        };
        if self.measured.is_empty() && self.is_uncapped() && unknown != Unknown::Seat {
            asked.refuse(
                key!("fit.find"),
                format!("nothing says what the {} has to meet or keep", unknown.words()),
                "write a measurement (ridge_top, peak, fascia_top, fascia_bottom, soffit_under, heel_stand, fascia_out, rise_48), a cap (board, cap, or height under [limits]), or avoid = \"narrow-row\"",
            );
        }
        if self.caps.narrow_row
            && (!self.measured.is_empty()
                || self.caps.board.is_some()
                || self.caps.height.is_some())
        {
            asked.refuse(
                key!("fit.avoid"),
                "a narrow row is avoided for itself, not together with measurements or caps",
                "leave one of them out; stepoff sheathing shows a narrow row in any roof",
            );
        }
        let moves_the_deck = unknown.is_of_the_deck()
            || matches!(unknown, Unknown::Overhang | Unknown::Pitch | Unknown::Span);
        if self.caps.narrow_row && !moves_the_deck {
            asked.refuse(
                key!("fit.find"),
                format!("the {} does not move the rows of panels", unknown.words()),
                "find overhang, pitch, span, ridge-slot or past-fascia",
            );
        }
        if self.caps.narrow_row && !self.has_present {
            asked.refuse(
                unknown.key(),
                format!(
                    "find the nearest {} without a narrow row: nearest to what?",
                    unknown.words()
                ),
                format!("write the {} that you would like", unknown.words()),
            );
        }
        if unknown.is_of_the_deck() && !self.caps.narrow_row {
            asked.refuse(
                key!("fit.find"),
                format!("the {} moves nothing but the rows of panels", unknown.words()),
                "write avoid = \"narrow-row\" too",
            );
        }
        if unknown == Unknown::WallHeight
            && self.datum == Datum::Plate
            && (self.caps.height.is_some()
                || self.measured.iter().any(|it| it.quantity.is_height()))
        {
            asked.refuse(
                key!("fit.find"),
                "a higher wall moves nothing above its own plate",
                "tell the heights above = \"floor\", \"grade\" or \"mark\"",
            );
        }
        let bottom = self.measured.iter().any(|it| it.quantity == Quantity::FasciaBottom);
        if bottom && self.eave.rafter.fascia_depth.is_none() {
            asked.refuse(
                key!("eave.fascia_depth"),
                "fascia_depth is needed (under [eave] in a roof file, or --fascia-depth) to know the fascia's bottom",
                format!("write {}", Kind::Width.how_written()),
            );
        }
        if let Some(meet) = self.meet
            && !self.measured.iter().any(|it| it.quantity == meet)
        {
            asked.refuse(
                key!("fit.meet"),
                format!("{} is to be met, but was not measured", meet.words()),
                format!(
                    "write {} too, or leave meet out",
                    meet.key().name().trim_start_matches("fit.")
                ),
            );
        }
        self.refuse_unequal_sides(asked, &format!("finding the {}", unknown.words()));
        if self.deeper.is_some() {
            asked.refuse(
                key!("fit.deeper"),
                format!("this has no part in finding the {}", unknown.words()),
                "leave it out, or write find = \"plate-drop\"",
            );
        }
    }

    /// Both sides are alike but where the ridge, wall B or pitch B is found.
    fn refuse_unequal_sides(&self, asked: &mut Asked<'_>, of: &str) {
        for (key, given) in [
            (key!("fit.wall_b"), self.sides.wall_b.is_some()),
            (key!("fit.pitch_b"), self.sides.pitch_b.is_some()),
            (key!("fit.ridge_at"), self.sides.ridge_at.is_some()),
        ] {
            if given {
                asked.refuse(
                    key,
                    format!("this has no part in {of}"),
                    "leave it out, or find ridge, wall-b or pitch-b",
                );
            }
        }
    }

    fn is_uncapped(&self) -> bool {
        let caps = &self.caps;
        caps.board.is_none() && caps.height.is_none() && caps.limit.is_none() && !caps.narrow_row
    }

    /// Measurements and caps fix one number of the plan, not a plate drop or a ridge.
    fn refuse_what_has_no_part(&self, asked: &mut Asked<'_>) {
        let written: Vec<Key> = self
            .measured
            .iter()
            .map(|measured| measured.quantity.key())
            .chain(self.meet.map(|_| key!("fit.meet")))
            .chain(self.caps.board.map(|_| key!("fit.board")))
            .chain(self.caps.height.map(|_| key!("fit.cap")))
            .chain(self.caps.narrow_row.then_some(key!("fit.avoid")))
            .collect();
        for key in written {
            asked.refuse(
                key,
                format!("this has no part in finding the {}", self.find.name()),
                "leave it out, or find pitch, overhang, seat, span or wall-height",
            );
        }
        if self.find == Find::PlateDrop {
            self.refuse_unequal_sides(asked, "a plate drop");
        }
        match (self.find, &self.deeper) {
            (Find::PlateDrop, None) => asked.refuse(
                key!("fit.deeper"),
                "deeper is needed (under [fit] in a roof file, or --deeper): the stock that the lower plate carries",
                format!("write {}", Kind::Section.how_written()),
            ),
            (Find::PlateDrop, Some(deeper)) if deeper.depth <= self.eave.rafter.stock.depth => {
                asked.refuse(
                    key!("fit.deeper"),
                    format!("{deeper} is not deeper than the rafters of {}", self.eave.rafter.stock),
                    "write the deeper stock; the plan's own is the shallower one",
                );
            }
            (Find::PlateDrop, Some(_)) | (_, None) => {}
            (_, Some(_)) => asked.refuse(
                key!("fit.deeper"),
                "deeper stock goes with a plate drop only",
                "leave it out, or write find = \"plate-drop\"",
            ),
        }
    }

    fn refuse_sides(&self, asked: &mut Asked<'_>) {
        let sides = &self.sides;
        if !self.find.has_two_sides() {
            if sides.fascia_line == FasciaLine::Level {
                asked.refuse(
                    key!("fit.fascia_line"),
                    "both fascias are alike where both sides are",
                    "leave it out, or find ridge, wall-b or pitch-b",
                );
            }
            return;
        }
        let (unwanted, needs_ridge) = match self.find {
            Find::Ridge => ((key!("fit.ridge_at"), sides.ridge_at.is_some()), false),
            Find::WallB => ((key!("fit.wall_b"), sides.wall_b.is_some()), true),
            _ => ((key!("fit.pitch_b"), sides.pitch_b.is_some()), true),
        };
        if unwanted.1 {
            asked.refuse(
                unwanted.0,
                "this is what is to be found",
                "leave it out, or find something else",
            );
        }
        if needs_ridge && sides.ridge_at.is_none() {
            asked.refuse(
                key!("fit.ridge_at"),
                "ridge_at is needed (under [fit] in a roof file, or --ridge-at): level, building line A to the center of the ridge",
                format!("write {}", Kind::Length.how_written()),
            );
        }
        if let Some(at) = sides.ridge_at
            && (at <= inches(0.0) || at >= self.eave.rafter.span)
        {
            asked.refuse(
                key!("fit.ridge_at"),
                "the ridge must stand between the walls",
                Note::with(
                    "write a distance above 0 and under the span of {}",
                    [Amount::Inches(self.eave.rafter.span.inches())],
                ),
            );
        }
        if let Some(pitch) = sides.pitch_b
            && (pitch.unit_rise() <= 0.0 || pitch.unit_rise() > STEEPEST_RISE)
        {
            asked.refuse(
                key!("fit.pitch_b"),
                "this slope is not framed here",
                "write a pitch above 0 and up to 24/12",
            );
        }
    }
}

/// What is to be found, if it can be read already.
fn find_written(entries: &Entries) -> Option<Find> {
    let text = entries.get(key!("fit.find"))?.text.trim().to_lowercase();
    Find::CHOICES.iter().find(|(name, _)| *name == text).map(|(_, find)| *find)
}

/// The entries, with something in place of an unknown that nothing was written for, so that the
/// rest of the plan can be read; and that unknown.
fn with_provisional(entries: &Entries, find: Option<Find>) -> (Entries, Option<Unknown>) {
    let mut entries = entries.clone();
    let mut put = |unknown: Unknown| -> Option<Unknown> {
        let field = unknown.key().field();
        entries.get(field.key()).is_none().then_some(())?;
        if let Some(text) = unknown.provisional() {
            entries.add(Entry {
                field,
                text: text.to_owned(),
                quoted: true,
                place: Place::Missing { key: field.key, flag: field.flag },
            });
            return Some(unknown);
        }
        None
    };
    let of_the_unknown = match find {
        Some(Find::One(unknown)) => put(unknown),
        _ => None,
    };
    if entries_give_the_pitch(&entries) {
        let field = Unknown::Pitch.key().field();
        if entries.get(field.key()).is_none() {
            entries.add(Entry {
                field,
                text: "6/12".to_owned(),
                quoted: true,
                place: Place::Missing { key: field.key, flag: field.flag },
            });
        }
    }
    (entries, of_the_unknown)
}

fn entries_give_the_pitch(entries: &Entries) -> bool {
    entries.get(key!("fit.rise_48")).is_some()
}
