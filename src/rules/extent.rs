//! How much too little or too much: what a failing finding says in words.

use crate::catalog::code_rules::RuleId;
use crate::measure::quantity::inches;
use crate::measure::{Length, Step, Tape, Units, Writing, trim};

use super::id::{CheckId, FindingId};
use super::terms::{Sense, Unit};

/// What a figure in inches measures, so that a failure reads as a framer would say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// Of a board or a cut, square to its edge.
    Depth,
    /// Along something.
    Length,
    /// Plumb, from a floor, a plate or the ground.
    Height,
    /// Across something.
    Width,
    /// Of a board or a panel.
    Thickness,
    /// Between two of a kind; may be too far apart.
    Spacing,
    /// From something that it must keep away from.
    Distance,
}

/// What the figures in inches of the finding `id` measure.
#[must_use]
pub fn of(id: impl Into<FindingId>) -> Option<Extent> {
    Some(match id.into() {
        FindingId::Rule(
            RuleId::NotchEnd
            | RuleId::TailNotchRemaining
            | RuleId::RafterTieSize
            | RuleId::CollarTieSize
            | RuleId::CjTaperCut
            | RuleId::RidgeBoardDepth
            | RuleId::HipValleySize
            | RuleId::VentAirGap,
        )
        | FindingId::Check(CheckId::FasciaCoversTail | CheckId::SubfasciaReachesSoffit) => {
            Extent::Depth
        }
        FindingId::Rule(
            RuleId::BearingWood
            | RuleId::TailNotchCantilever
            | RuleId::HeelTableSpanLimit
            | RuleId::CjLap
            | RuleId::SheathRakeCantilever
            | RuleId::OpeningHeaderSingle
            | RuleId::OpeningTrimmerSingle
            | RuleId::AtticAccessSize
            | RuleId::GarageEaveLotLine
            | RuleId::IceBarrierInside,
        )
        | FindingId::Check(
            CheckId::CeilingJoistSpan
            | CheckId::RafterSpan
            | CheckId::RakeLadder
            | CheckId::RakeOutlookerBackspan,
        ) => Extent::Length,
        FindingId::Rule(
            RuleId::ScopeStoryHeight
            | RuleId::BlockingHeelLow
            | RuleId::BlockingHeelMid
            | RuleId::BlockingHeelHigh
            | RuleId::RidgeTieAboveThird
            | RuleId::RafterTableTieAssumption
            | RuleId::AtticLiveNoStorage
            | RuleId::AtticLiveLimitedStorage
            | RuleId::AtticLiveFixedStairs
            | RuleId::CollarTieLocation
            | RuleId::AtticAccessHeadroom,
        )
        | FindingId::Check(CheckId::HeightCap | CheckId::SoffitOverWindowHead) => Extent::Height,
        FindingId::Rule(RuleId::SheathAllowableSpan | RuleId::SheathEdgeClips) => Extent::Width,
        FindingId::Rule(RuleId::RidgeBoardThickness) => Extent::Thickness,
        FindingId::Rule(
            RuleId::RafterTieSpacing2015
            | RuleId::RafterTieSpacing2018
            | RuleId::RafterTieSpacing2021
            | RuleId::NcRafterTieSpacing
            | RuleId::BridgingSpacing
            | RuleId::CollarTieSpacing
            | RuleId::RafterOffset
            | RuleId::NcRidgeAlignment
            | RuleId::SheathNail3_8To1_2_2018
            | RuleId::SheathNail19_32To1_2018
            | RuleId::SheathNail1_1_8To1_1_4_2018
            | RuleId::SheathNail3_8To1_2_2021
            | RuleId::SheathNail19_32To3_4_2021
            | RuleId::SheathNail7_8To1_1_4_2021
            | RuleId::SheathNail2024
            | RuleId::SheathNailEdgeZone2015
            | RuleId::SheathNailEdgeZone2018
            | RuleId::SheathNailEdgeZone2021,
        ) => Extent::Spacing,
        FindingId::Rule(
            RuleId::ProjectionUnrated
            | RuleId::ProjectionRated
            | RuleId::ProjectionNotAllowed
            | RuleId::ProjectionSprinklered
            | RuleId::WallUnratedDistance
            | RuleId::WallUnratedSprinklered,
        ) => Extent::Distance,
        FindingId::Rule(_) | FindingId::Check(_) => return None,
    })
}

/// What is wrong with a figure on the wrong side of a limit, without the amount.
fn wrong(sense: Sense, unit: Unit, extent: Option<Extent>) -> &'static str {
    let (too_little, too_much) = match (unit, extent) {
        (Unit::Inches, Some(Extent::Depth)) => ("too shallow", "too deep"),
        (Unit::Inches, Some(Extent::Length)) => ("too short", "too long"),
        (Unit::Inches, Some(Extent::Height)) | (Unit::MilesPerHour, _) => ("too low", "too high"),
        (Unit::Inches, Some(Extent::Width)) => ("too narrow", "too wide"),
        (Unit::Inches, Some(Extent::Thickness)) => ("too thin", "too thick"),
        (Unit::Inches, Some(Extent::Spacing)) => ("too close", "too far apart"),
        (Unit::Inches, Some(Extent::Distance)) => ("too close", "too far away"),
        (Unit::RiseIn12, _) => ("too low", "too steep"),
        (Unit::Count, _) => ("too few", "too many"),
        (Unit::SquareInches | Unit::SquareFeet, _) => ("too small", "too large"),
        (Unit::Inches | Unit::Fraction | Unit::Pounds | Unit::Plf | Unit::Psf | Unit::Words, _) => {
            ("too little", "too much")
        }
    };
    match sense {
        Sense::AtLeast => too_little,
        Sense::AtMost => too_much,
    }
}

/// `1-1/16" too shallow`, `too few: 3, at least 5`: how `found` misses a `limit`. The amount never
/// reads as zero: a length finer than the tape's step is written finer, and one finer than any step is
/// written as less than the finest.
#[must_use]
pub fn shortfall(
    found: f64,
    sense: Sense,
    limit: f64,
    unit: Unit,
    extent: Option<Extent>,
    writing: Writing,
) -> String {
    let wrong = wrong(sense, unit, extent);
    if unit == Unit::Count {
        return format!(
            "{wrong}: {}, {} {}",
            unit.write(found, writing),
            sense.words(),
            unit.write(limit, writing)
        );
    }
    let off = (found - limit).abs();
    let by = match unit {
        Unit::Inches => length(inches(off), writing),
        Unit::RiseIn12 => slope(found, limit, writing),
        _ => seen(|more| unit.write_finer(off, writing, more)),
    };
    format!("{by} {wrong}")
}

/// A nonzero length, at the tape's step or as much finer as necessary.
fn length(off: Length, writing: Writing) -> String {
    let finest =
        if writing.units == Units::Millimeters { Step::Millimeter } else { Step::SixtyFourth };
    let is_seen = |step: &Step| Tape::nearest(off, *step).length() > inches(0.0);
    let steps = Step::ALL
        .into_iter()
        .filter(|step| (*step == Step::Millimeter) == (finest == Step::Millimeter));
    let finer = steps.skip_while(|step| *step != writing.step && *step != finest);
    match [writing.step].into_iter().chain(finer).find(is_seen) {
        Some(step) => writing.tape(Tape::nearest(off, step)),
        None => {
            let least = match finest {
                Step::Millimeter => Tape::Millimeters(1),
                _ => Tape::SixtyFourths(1),
            };
            format!("less than {}", writing.tape(least))
        }
    }
}

/// The difference of two slopes: of rises in 12, or of angles in metric.
fn slope(found: f64, limit: f64, writing: Writing) -> String {
    if writing.units == Units::Millimeters {
        let degrees = |rise: f64| (rise / 12.0).atan().to_degrees();
        let off = (degrees(found) - degrees(limit)).abs();
        seen(|more| format!("{} deg", trim(off, 2 + more)))
    } else {
        seen(|more| Unit::RiseIn12.write_finer((found - limit).abs(), writing, more))
    }
}

/// A nonzero figure, with as many extra places as necessary.
fn seen(write: impl Fn(usize) -> String) -> String {
    const MOST: usize = 2;
    let number = |text: &String| text.split(' ').next().is_some_and(|number| number != "0");
    (0..=MOST).map(&write).find(number).unwrap_or_else(|| {
        let least = trim(0.1_f64.powi(MOST as i32), MOST);
        match write(0).split_once(' ') {
            Some((_, unit)) => format!("less than {least} {unit}"),
            None => format!("less than {least}"),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(
        id: impl Into<FindingId>,
        found: f64,
        sense: Sense,
        limit: f64,
        unit: Unit,
        feet: &str,
        metric: &str,
    ) {
        let extent = of(id);
        let said = |writing| shortfall(found, sense, limit, unit, extent, writing);
        assert_eq!(said(Writing::default()), feet);
        assert_eq!(said(Writing::METRIC), metric);
    }

    #[test]
    fn a_failure_says_what_is_wrong_and_by_how_much() {
        use Sense::{AtLeast, AtMost};
        let fascia = CheckId::FasciaCoversTail;
        case(
            fascia,
            5.5,
            AtLeast,
            6.5625,
            Unit::Inches,
            "1-1/16\" too shallow",
            "27 mm too shallow",
        );
        case(RuleId::NotchEnd, 1.5, AtMost, 1.375, Unit::Inches, "1/8\" too deep", "3 mm too deep");
        case(
            RuleId::BearingWood,
            1.25,
            AtLeast,
            1.5,
            Unit::Inches,
            "1/4\" too short",
            "6 mm too short",
        );
        case(
            CheckId::RafterSpan,
            180.0,
            AtMost,
            151.0,
            Unit::Inches,
            "2' 5\" too long",
            "737 mm too long",
        );
        case(
            CheckId::HeightCap,
            193.0,
            AtMost,
            192.0,
            Unit::Inches,
            "1\" too high",
            "25 mm too high",
        );
        case(
            RuleId::CollarTieSpacing,
            64.0,
            AtMost,
            48.0,
            Unit::Inches,
            "1' 4\" too far apart",
            "406 mm too far apart",
        );
        case(
            RuleId::ProjectionUnrated,
            54.0,
            AtLeast,
            60.0,
            Unit::Inches,
            "6\" too close",
            "152 mm too close",
        );
        case(
            RuleId::RidgeBoardThickness,
            0.5,
            AtLeast,
            0.75,
            Unit::Inches,
            "1/4\" too thin",
            "6 mm too thin",
        );
        case(
            RuleId::SheathAllowableSpan,
            24.0,
            AtMost,
            20.0,
            Unit::Inches,
            "4\" too wide",
            "102 mm too wide",
        );
        let nails = "too few: 3, at least 5";
        case(RuleId::NailCjHeel, 3.0, AtLeast, 5.0, Unit::Count, nails, nails);
        case(
            RuleId::Uplift200lb,
            238.0,
            AtMost,
            200.0,
            Unit::Pounds,
            "38 lb too much",
            "0.17 kN too much",
        );
        case(
            RuleId::DeadActual,
            3.0,
            AtLeast,
            4.0,
            Unit::RiseIn12,
            "1 in 12 too low",
            "4.4 deg too low", // atan(4/12) - atan(3/12) = 18.435 - 14.036
        );
        case(
            RuleId::DeadActual,
            100.0,
            AtLeast,
            144.0,
            Unit::SquareInches,
            "44 sq in too small",
            "284 cm2 too small", // 44 x 6.4516
        );
    }

    #[test]
    fn a_failure_never_reads_as_nothing() {
        use Sense::{AtLeast, AtMost};
        case(
            RuleId::NotchEnd,
            1.375 + 1.0 / 40.0,
            AtMost,
            1.375,
            Unit::Inches,
            "1/32\" too deep",
            "1 mm too deep",
        );
        case(
            RuleId::NotchEnd,
            1.375 + 0.01,
            AtMost,
            1.375,
            Unit::Inches,
            "1/64\" too deep",
            "less than 1 mm too deep",
        );
        case(
            RuleId::NotchEnd,
            1.375 + 1e-6,
            AtMost,
            1.375,
            Unit::Inches,
            "less than 1/64\" too deep",
            "less than 1 mm too deep",
        );
        case(
            RuleId::DeadActual,
            200.2,
            AtMost,
            200.0,
            Unit::Pounds,
            "0.2 lb too much",
            "0.001 kN too much", // 0.2 x 4.448 N
        );
        case(
            RuleId::DeadActual,
            30.004,
            AtMost,
            30.0,
            Unit::Psf,
            "0.004 psf too much",
            "0.0002 kPa too much", // 0.004 x 47.88 Pa
        );
        case(
            RuleId::DeadActual,
            3.0 - 1e-7,
            AtLeast,
            3.0,
            Unit::RiseIn12,
            "less than 0.01 in 12 too low",
            "less than 0.01 deg too low",
        );
    }
}
