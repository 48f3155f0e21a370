//! Inputs of a fit that do not go together.

use super::asked::Asked;
use super::field::{Key, Kind};
use super::fit::{FasciaLine, FitPlan};
use super::fit_terms::{Datum, Find, Quantity, Unknown};
use super::limits::STEEPEST_RISE;
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Note};

impl FitPlan {
    pub(super) fn refuse_what_does_not_fit(&self, asked: &mut Asked<'_>) {
        self.refuse_datum(asked);
        self.refuse_aim(asked);
        self.refuse_sides(asked);
    }

    fn refuse_datum(&self, asked: &mut Asked<'_>) {
        let heights = self.has_heights();
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
        self.refuse_narrow_row(unknown, asked);
        self.refuse_measurements(unknown, asked);
        self.refuse_unequal_sides(asked, &format!("finding the {}", unknown.words()));
        if self.deeper.is_some() {
            asked.refuse(
                key!("fit.deeper"),
                format!("this has no part in finding the {}", unknown.words()),
                "leave it out, or write find = \"plate-drop\"",
            );
        }
    }

    /// Checks the question on rows of panels.
    fn refuse_narrow_row(&self, unknown: Unknown, asked: &mut Asked<'_>) {
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
    }

    /// Checks the measurements and their datum.
    fn refuse_measurements(&self, unknown: Unknown, asked: &mut Asked<'_>) {
        if unknown == Unknown::WallHeight && self.datum == Datum::Plate && self.has_heights() {
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
    }

    /// Both sides are alike unless the ridge, wall B or pitch B is to be found.
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

    /// True if a height is measured or capped.
    fn has_heights(&self) -> bool {
        self.caps.height.is_some() || self.measured.iter().any(|it| it.quantity.is_height())
    }

    fn is_uncapped(&self) -> bool {
        let caps = &self.caps;
        caps.board.is_none() && caps.height.is_none() && caps.limit.is_none() && !caps.narrow_row
    }

    /// Measurements and limits fix one number of the plan, not a plate drop or a ridge.
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
