//! Inputs that can't be a gable roof, as far as numbers alone can show.

use super::asked::Asked;
use super::gable::{GablePlan, Joists, Meeting};
use super::limits::{LARGEST_BUILDING_FT, LEAST_SPACING_IN, LONGEST_RAKE_FT};
use crate::catalog::code_rules::RuleId;
use crate::key;
use crate::measure::Amount::Inches;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Note};

impl GablePlan {
    pub(super) fn refuse_what_numbers_tell(&self, asked: &mut Asked<'_>) {
        self.refuse_length(asked);
        self.refuse_spacings(asked);
        self.refuse_rake(asked);
        self.refuse_bearing(asked);
        self.refuse_access(asked);
        if self.lap <= inches(0.0) {
            asked.refuse(
                key!("ceiling.lap"),
                "without a lap nothing holds the two lengths",
                Note::with("write at least {}", [Inches(3.0)]),
            );
        }
        self.refuse_vent(asked);
    }

    fn refuse_length(&self, asked: &mut Asked<'_>) {
        if self.length < self.rafter.stock.thickness {
            asked.refuse(
                key!("building.length"),
                "the building is shorter than a rafter is thick",
                "write the length along the ridge, over the end wall framing",
            );
        }
        asked.refuse_over(
            key!("building.length"),
            self.length,
            LARGEST_BUILDING_FT,
            "a building over {} is beyond what this is for",
        );
    }

    fn refuse_spacings(&self, asked: &mut Asked<'_>) {
        let thickness = self.rafter.stock.thickness;
        let spacings = [
            (key!("roof.spacing"), self.spacing, (thickness * 2.0).max(inches(LEAST_SPACING_IN))),
            (key!("rake.spacing"), self.rake_spacing, self.outlooker.depth * 1.5),
            (key!("ceiling.tie_spacing"), self.tie_spacing, thickness * 2.0),
            (key!("collar.spacing"), self.collar_spacing, thickness * 2.0),
            (key!("gable.spacing"), self.gable_spacing, self.stud.thickness * 2.0),
        ];
        for (key, spacing, least) in spacings {
            if spacing < least {
                asked.refuse(
                    key,
                    Note::with("{} leaves no room between the members", [Inches(spacing.inches())]),
                    Note::with(
                        "write at least {}; {} to {} are usual",
                        [Inches(least.inches()), Inches(12.0), Inches(24.0)],
                    ),
                );
            }
        }
    }

    fn refuse_rake(&self, asked: &mut Asked<'_>) {
        let barge_and_end = self.rafter.stock.thickness * 2.0;
        if self.rake > inches(0.0) && self.rake < barge_and_end {
            asked.refuse(
                key!("rake.overhang"),
                "this leaves no room for a barge rafter outside the end rafter",
                Note::with("write 0 for none, or at least {}", [Inches(barge_and_end.inches())]),
            );
        }
        asked.refuse_over(
            key!("rake.overhang"),
            self.rake,
            LONGEST_RAKE_FT,
            "a rake overhang over {} is beyond what this is for",
        );
    }

    /// The inside bearing of joists, and how two lengths meet on it.
    fn refuse_bearing(&self, asked: &mut Asked<'_>) {
        let Some(bearing) = self.bearing else {
            return;
        };
        let (low, high) =
            (self.rafter.plate + self.lap, self.rafter.span - self.rafter.plate - self.lap);
        if bearing < low || bearing > high {
            asked.refuse(
                key!("ceiling.bearing"),
                "the inside bearing must stand between the eave walls, with room for the lap",
                Note::with(
                    "write a distance from {} to {}",
                    [Inches(low.inches()), Inches(high.inches())],
                ),
            );
        }
        let most_offset = RuleId::RafterOffset.figure();
        let laps = self.joists == Joists::Beside && self.meeting == Meeting::Offset;
        if laps && self.rafter.ridge == inches(0.0) {
            asked.refuse(
                key!("ceiling.meeting"),
                "rafters that butt without a ridge board can't be offset",
                "write splice or filler, or a ridge board",
            );
        }
        if laps && self.joist.thickness > inches(most_offset) {
            asked.refuse(
                key!("ceiling.meeting"),
                Note::with(
                    "rafters may be offset across the ridge by at most {} (R802.4.2), and these joists are thicker",
                    [Inches(most_offset)],
                ),
                "write splice or filler, or a thinner joist",
            );
        }
    }

    /// The opening to the attic.
    fn refuse_access(&self, asked: &mut Asked<'_>) {
        let Some((along, across)) = self.access.sides() else {
            return;
        };
        for (key, field, at, side, of) in [
            (key!("attic.access_x"), "start", self.access.x, along, self.length),
            (key!("attic.access_y"), "from", self.access.y, across, self.rafter.span),
        ] {
            let wall = self.rafter.plate;
            let (low, high) = (wall + side / 2.0, of - wall - side / 2.0);
            let middle = at.unwrap_or(of / 2.0);
            if middle >= low && middle <= high {
                continue;
            }
            let message = "the opening to the attic reaches into a wall";
            let range = |back: Length| [low - back, high - back].map(|at| Inches(at.inches()));
            if let Some(name) = &self.access.opening {
                let help = if low <= high {
                    Note::with(
                        format!("write {field} from {{}} to {{}}, or a smaller opening"),
                        range(side / 2.0),
                    )
                } else {
                    "write a smaller opening".into()
                };
                asked.refuse_item((name, field), message, help);
            } else {
                asked.refuse(
                    if at.is_some() { key } else { key!("attic.access_length") },
                    message,
                    Note::with(
                        "write its middle from {} to {}, or a smaller opening",
                        range(inches(0.0)),
                    ),
                );
            }
        }
    }

    fn refuse_vent(&self, asked: &mut Asked<'_>) {
        if self.vent.is_some_and(|vent| vent.width < self.stud.thickness) {
            asked.refuse(
                key!("gable.vent_width"),
                "a vent opening narrower than a stud is thick has no room for its frame",
                "write its clear width, or none",
            );
        }
        if self.vent.is_some_and(|vent| vent.height <= inches(0.0)) {
            asked.refuse(
                key!("gable.vent_height"),
                "an opening of no height vents nothing",
                "write its clear height",
            );
        }
    }
}
