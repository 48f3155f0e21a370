//! The measurements of walls as built.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::gable::GablePlan;
use super::limits::LARGEST_BUILDING_FT;
use crate::key;
use crate::measure::Length;
use crate::measure::quantity::{InInches, feet, inches};
use crate::plan::Key;

/// The measure of one reading. Near and far are the ends along the ridge, A and B the eaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    /// Eave A to eave B at the near end.
    WidthNear,
    /// Eave A to eave B at the far end.
    WidthFar,
    /// Near to far along eave A.
    LengthA,
    /// Near to far along eave B.
    LengthB,
    /// Near corner of A to far corner of B.
    DiagonalNearA,
    /// Near corner of B to far corner of A.
    DiagonalNearB,
    /// From eave A's wall, square to it, to eave B's, at this distance from the near end.
    SpanAt(Length),
}

impl What {
    /// The six between corners, in the order in which missing ones are named.
    pub const CORNERS: [What; 6] = [
        What::DiagonalNearA,
        What::DiagonalNearB,
        What::WidthNear,
        What::WidthFar,
        What::LengthA,
        What::LengthB,
    ];

    /// The field it is written in.
    #[must_use]
    pub fn key(self) -> Key {
        match self {
            What::WidthNear => key!("measured.width_near"),
            What::WidthFar => key!("measured.width_far"),
            What::LengthA => key!("measured.length_a"),
            What::LengthB => key!("measured.length_b"),
            What::DiagonalNearA => key!("measured.diagonal_near_a"),
            What::DiagonalNearB => key!("measured.diagonal_near_b"),
            What::SpanAt(_) => key!("measured.spans"),
        }
    }

    /// In words, without the place of a span.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            What::WidthNear => "width at the near end",
            What::WidthFar => "width at the far end",
            What::LengthA => "length along eave A",
            What::LengthB => "length along eave B",
            What::DiagonalNearA => "diagonal from near A to far B",
            What::DiagonalNearB => "diagonal from near B to far A",
            What::SpanAt(_) => "span",
        }
    }
}

/// One reading of the tape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// What it measures.
    pub what: What,
    /// Its number among readings of the same measure, from 1; 0 if it is the only one.
    pub number: usize,
    /// As read.
    pub length: Length,
}

/// A place with a measured height above the level line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeightAt {
    /// Plate at the near corner of eave A.
    PlateNearA,
    /// Plate at the far corner of eave A.
    PlateFarA,
    /// Plate at the near corner of eave B.
    PlateNearB,
    /// Plate at the far corner of eave B.
    PlateFarB,
    /// Top of the ridge board at the near end.
    RidgeNear,
    /// Top of the ridge board at the far end.
    RidgeFar,
}

impl HeightAt {
    /// The four plates: near A, far A, near B, far B.
    pub const PLATES: [HeightAt; 4] =
        [HeightAt::PlateNearA, HeightAt::PlateFarA, HeightAt::PlateNearB, HeightAt::PlateFarB];
    /// Both ends of the ridge: near, far.
    pub const RIDGES: [HeightAt; 2] = [HeightAt::RidgeNear, HeightAt::RidgeFar];

    /// The field it is written in.
    #[must_use]
    pub fn key(self) -> Key {
        match self {
            HeightAt::PlateNearA => key!("measured.plate_near_a"),
            HeightAt::PlateFarA => key!("measured.plate_far_a"),
            HeightAt::PlateNearB => key!("measured.plate_near_b"),
            HeightAt::PlateFarB => key!("measured.plate_far_b"),
            HeightAt::RidgeNear => key!("measured.ridge_near"),
            HeightAt::RidgeFar => key!("measured.ridge_far"),
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            HeightAt::PlateNearA => "plate height at corner near A",
            HeightAt::PlateFarA => "plate height at corner far A",
            HeightAt::PlateNearB => "plate height at corner near B",
            HeightAt::PlateFarB => "plate height at corner far B",
            HeightAt::RidgeNear => "ridge height at the near end",
            HeightAt::RidgeFar => "ridge height at the far end",
        }
    }
}

/// The roof that is planned and the walls that were measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredPlan {
    /// The roof.
    pub gable: GablePlan,
    /// Every reading of the tape.
    pub readings: Vec<Reading>,
    /// Readings of the plates at near A, far A, near B, far B; `None` if none was measured.
    pub plates: Option<[Vec<Length>; 4]>,
    /// Readings of the top of the ridge board at near and far, if it is up.
    pub ridge: Option<[Vec<Length>; 2]>,
    /// Standard deviation of one reading of the tape.
    pub tape: Length,
    /// Standard deviation of one height.
    pub level: Length,
    /// How far a corner may be off its place and still count as square.
    pub square: Length,
    /// How far a wall or the ridge may be off the plan and still count as planned.
    pub as_planned: Length,
}

impl MeasuredPlan {
    /// Reads roof and measurements from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<MeasuredPlan, Faults> {
        let ((mut plan, of_the_frame), mut used) = Asked::whole(entries, |asked| {
            let gable = GablePlan::ask(asked);
            let of_the_frame = asked.used.len();
            Some((MeasuredPlan::ask(asked, gable)?, of_the_frame))
        })?;
        used.truncate(of_the_frame);
        plan.gable.rafter.used = used;
        Ok(plan)
    }

    /// Asks for what was measured; `None` if that or the roof could not be read.
    fn ask(asked: &mut Asked<'_>, gable: Option<GablePlan>) -> Option<MeasuredPlan> {
        let mut readings = corner_readings(asked);
        readings.extend(span_readings(asked, gable.as_ref()));
        let plates = heights(asked, HeightAt::PLATES);
        let ridge = heights(asked, HeightAt::RIDGES);
        if ridge.is_some()
            && plates.is_none()
            && !HeightAt::PLATES.iter().any(|at| asked.given(at.key()))
        {
            asked.refuse(
                key!("measured.ridge_near"),
                "the ridge was measured and no plate was, so nothing says how high it stands over them",
                "write plate_near_a, plate_far_a, plate_near_b and plate_far_b above the same level line",
            );
        }
        let [tape, level, square, as_planned] = [
            key!("measured.tape"),
            key!("measured.level"),
            key!("measured.square"),
            key!("measured.as_planned"),
        ]
        .map(|key| (key, asked.length(key)))
        .map(|(key, value)| {
            if value.is_some_and(|value| value <= inches(0.0) || value > inches(6.0)) {
                asked.refuse(
                    key,
                    "no tape and no level is that exact, or that far off",
                    "write a length above zero, such as 1/8\"",
                );
            }
            value
        });
        Some(MeasuredPlan {
            gable: gable?,
            readings,
            plates,
            ridge,
            tape: tape?,
            level: level?,
            square: square?,
            as_planned: as_planned?,
        })
    }
}

/// Readings of both widths, both lengths and both diagonals.
fn corner_readings(asked: &mut Asked<'_>) -> Vec<Reading> {
    let mut readings = Vec::new();
    for what in [
        What::WidthNear,
        What::WidthFar,
        What::LengthA,
        What::LengthB,
        What::DiagonalNearA,
        What::DiagonalNearB,
    ] {
        let lengths = asked.readings(what.key()).unwrap_or_default();
        refuse_lengths(asked, what.key(), &lengths);
        let several = lengths.len() > 1;
        readings.extend(lengths.into_iter().enumerate().map(|(index, length)| Reading {
            what,
            number: if several { index + 1 } else { 0 },
            length,
        }));
    }
    readings
}

/// Spans between the ends, each with where it was taken.
fn span_readings(
    asked: &mut Asked<'_>,
    gable: Option<&GablePlan>,
) -> impl Iterator<Item = Reading> + use<> {
    let stations = asked.stations(key!("measured.spans")).unwrap_or_default();
    let spans: Vec<Length> = stations.iter().map(|(span, _)| *span).collect();
    refuse_lengths(asked, key!("measured.spans"), &spans);
    if let Some(gable) = gable
        && stations.iter().any(|(_, at)| *at > gable.length + feet(2.0))
    {
        asked.refuse(
            key!("measured.spans"),
            "a span was taken beyond the end of the building",
            "write its distance from the near end along eave A",
        );
    }
    stations.into_iter().map(|(length, at)| Reading { what: What::SpanAt(at), number: 0, length })
}

fn refuse_lengths(asked: &mut Asked<'_>, key: Key, lengths: &[Length]) {
    let fits = |length: &Length| {
        *length > inches(1.0) && length.inches() <= LARGEST_BUILDING_FT * 12.0 * 1.5
    };
    if !lengths.iter().all(fits) {
        asked.refuse(key, "this can't be the length of a wall", "check the digits and the unit");
    }
}

/// All readings of some heights, or none; if some are given, the missing ones are refused by name.
fn heights<const N: usize>(
    asked: &mut Asked<'_>,
    places: [HeightAt; N],
) -> Option<[Vec<Length>; N]> {
    let keys = places.map(HeightAt::key);
    let given = keys.map(|key| asked.given(key));
    let read: Vec<Option<Vec<Length>>> = keys
        .into_iter()
        .map(|key| asked.readings(key).filter(|lengths| !lengths.is_empty()))
        .collect();
    if given.contains(&true) {
        for (key, given) in keys.into_iter().zip(given) {
            if !given {
                asked.refuse(
                    key,
                    format!("{key} was not measured, but the others of its kind were"),
                    "measure it above the same level line, or leave all of them out",
                );
            }
        }
    }
    let all: Option<Vec<Vec<Length>>> = read.into_iter().collect();
    all?.try_into().ok()
}
