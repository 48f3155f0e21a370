//! Reading loads, forces, areas and wind speeds as people write them.

use super::quantity::psf;
use super::{Amount, Pressure};

/// psf in a kilopascal: 1000 / 47.88025898 (NIST SP 811).
const PSF_PER_KPA: f64 = 20.885_434_233;
/// Miles per hour in a meter per second: 3600 / 1609.344 (NIST SP 811).
const MPH_PER_METER_PER_SECOND: f64 = 3600.0 / 1609.344;

/// How a load is written, for people.
pub const LOAD_IS_WRITTEN: &str = "pounds per square foot such as 20 or 20psf, or 0.96kPa";
/// How a wind speed is written, for people.
pub const SPEED_IS_WRITTEN: &str = "miles per hour such as 115 or 115 mph, or 51 m/s";

/// A load: psf if no unit is written, or kPa. `None` for anything else.
#[must_use]
pub fn load(text: &str) -> Option<Pressure> {
    let folded = text.trim().to_lowercase();
    let (figure, factor) = match folded.strip_suffix("kpa") {
        Some(figure) => (figure, PSF_PER_KPA),
        None => (folded.strip_suffix("psf").unwrap_or(&folded), 1.0),
    };
    number(figure).map(|value| psf(value * factor))
}

/// A wind speed in miles per hour: mph if no unit is written, or m/s. `None` for anything else.
#[must_use]
pub fn miles_per_hour(text: &str) -> Option<f64> {
    let folded = text.trim().to_lowercase();
    let (figure, factor) = match folded.strip_suffix("m/s") {
        Some(figure) => (figure, MPH_PER_METER_PER_SECOND),
        None => (folded.strip_suffix("mph").unwrap_or(&folded), 1.0),
    };
    number(figure).map(|value| value * factor)
}

/// Pounds in a kilonewton: 1000 / 4.448221615 (NIST SP 811).
const POUNDS_PER_KN: f64 = 1000.0 / 4.448_221_615;
/// Meters in a foot, exactly.
const METERS_PER_FOOT: f64 = 0.3048;
/// Square centimeters in a square inch, exactly.
const CM2_PER_IN2: f64 = 6.4516;

/// What a number without a unit counts, in US units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// Pounds of force.
    Pounds,
    /// Pounds of force per foot.
    PoundsAFoot,
    /// Square inches.
    SquareInches,
    /// Square inches per foot of length.
    SquareInchesAFoot,
}

impl Counted {
    /// How such a number is written, for people.
    #[must_use]
    pub fn is_written(self) -> &'static str {
        match self {
            Counted::Pounds => "pounds such as 900 or 900lb, or 4kN",
            Counted::PoundsAFoot => "pounds a foot such as 100 or 100plf, or 1.5kN/m",
            Counted::SquareInches => "square inches such as 60, or 390cm2",
            Counted::SquareInchesAFoot => "square inches in a foot such as 9, or 190cm2/m",
        }
    }

    /// The units that may follow the number, each with its size in the US unit.
    fn units(self) -> &'static [(&'static str, f64)] {
        match self {
            Counted::Pounds => {
                &[("lbs", 1.0), ("lb", 1.0), ("kn", POUNDS_PER_KN), ("n", POUNDS_PER_KN / 1000.0)]
            }
            Counted::PoundsAFoot => {
                &[("plf", 1.0), ("lb/ft", 1.0), ("kn/m", POUNDS_PER_KN * METERS_PER_FOOT)]
            }
            Counted::SquareInches => &[
                ("sq in", 1.0),
                ("in2", 1.0),
                ("cm2", 1.0 / CM2_PER_IN2),
                ("mm2", 0.01 / CM2_PER_IN2),
            ],
            Counted::SquareInchesAFoot => &[
                ("sq in a foot", 1.0),
                ("in2/ft", 1.0),
                ("cm2/m", METERS_PER_FOOT / CM2_PER_IN2),
                ("mm2/m", 0.01 * METERS_PER_FOOT / CM2_PER_IN2),
            ],
        }
    }

    /// The number in its US unit, zero or more. `None` for anything else.
    #[must_use]
    pub fn read(self, text: &str) -> Option<f64> {
        let folded = text.trim().to_lowercase();
        let behind = |(unit, factor): &(&str, f64)| Some((folded.strip_suffix(unit)?, *factor));
        let (figure, factor) = self.units().iter().find_map(behind).unwrap_or((&folded, 1.0));
        number(figure).map(|value| value * factor).filter(|value| *value >= 0.0)
    }

    /// The number as an amount.
    #[must_use]
    pub fn amount(self, value: f64) -> Amount {
        match self {
            Counted::Pounds => Amount::Pounds(value),
            Counted::PoundsAFoot => Amount::Plf(value),
            Counted::SquareInches => Amount::SquareInches(value),
            Counted::SquareInchesAFoot => Amount::SquareInchesAFoot(value),
        }
    }
}

/// A plain decimal number. `None` for anything else, such as infinity.
#[must_use]
pub fn number(text: &str) -> Option<f64> {
    text.trim().parse::<f64>().ok().filter(|value| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::in_psf;

    /// By hand: 4.448221615 kN = 1000 lb; 1 kN/m = 224.8089 x 0.3048 = 68.522 lb/ft; 64.516 cm2 = 10 sq in; 190 cm2/m =
    /// 190 x 0.3048 / 6.4516 = 8.976 sq in in a foot.
    #[test]
    fn counted_things_in_either_system() {
        for (counted, text, value) in [
            (Counted::Pounds, "900", 900.0),
            (Counted::Pounds, "900 lb", 900.0),
            (Counted::Pounds, "4.448221615 kN", 1000.0),
            (Counted::PoundsAFoot, "1 kN/m", 68.5218),
            (Counted::PoundsAFoot, "100 plf", 100.0),
            (Counted::SquareInches, "64.516cm2", 10.0),
            (Counted::SquareInchesAFoot, "190 cm2/m", 8.976_377),
            (Counted::SquareInchesAFoot, "19000 mm2/m", 8.976_377),
            (Counted::SquareInchesAFoot, "9", 9.0),
            (Counted::SquareInchesAFoot, "9 in2/ft", 9.0),
            (Counted::SquareInchesAFoot, "9 sq in a foot", 9.0),
            (Counted::SquareInches, "6451.6 mm2", 10.0),
            (Counted::SquareInches, "9 sq in", 9.0),
            (Counted::SquareInches, "9in2", 9.0),
            (Counted::SquareInches, "9", 9.0),
            (Counted::Pounds, "900 lbs", 900.0),
            (Counted::Pounds, "4448.221615 N", 1000.0),
            (Counted::Pounds, "0", 0.0),
            (Counted::PoundsAFoot, "100 lb/ft", 100.0),
            (Counted::PoundsAFoot, "100", 100.0),
        ] {
            let read = counted.read(text).unwrap();
            assert!((read - value).abs() < 1e-4, "{text}: {read}");
        }
        assert_eq!(Counted::Pounds.read("-1"), None);
        assert_eq!(Counted::Pounds.read("9 cm2"), None);
    }

    #[test]
    fn loads_and_speeds() {
        let read = |text| load(text).map(in_psf);
        assert_eq!(read("20"), Some(20.0));
        assert_eq!(read(" 20 PSF"), Some(20.0));
        assert!((read("0.9576051796 kPa").unwrap() - 20.0).abs() < 1e-6);
        assert_eq!(read("heavy"), None);
        assert_eq!(read("inf"), None);
        assert_eq!(read("20 kPa").map(f64::round), Some(418.0));
        assert_eq!(miles_per_hour("115"), Some(115.0));
        assert_eq!(miles_per_hour("115 mph"), Some(115.0));
        assert!((miles_per_hour("51.4 m/s").unwrap() - 114.98).abs() < 0.01);
        assert_eq!(miles_per_hour("fast"), None);
    }
}
