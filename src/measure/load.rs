//! Reading loads and wind speeds as people write them.

use super::Pressure;
use super::quantity::psf;

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

/// A plain decimal number. `None` for anything else, infinity and the like too.
#[must_use]
pub fn number(text: &str) -> Option<f64> {
    text.trim().parse::<f64>().ok().filter(|value| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::in_psf;

    #[test]
    fn loads_and_speeds() {
        let read = |text| load(text).map(in_psf);
        assert_eq!(read("20"), Some(20.0));
        assert_eq!(read(" 20 PSF"), Some(20.0));
        assert!((read("0.9576051796 kPa").unwrap() - 20.0).abs() < 1e-6);
        assert_eq!(read("heavy"), None);
        assert_eq!(read("inf"), None);
        assert_eq!(miles_per_hour("115 mph"), Some(115.0));
        assert!((miles_per_hour("51.4 m/s").unwrap() - 114.98).abs() < 0.01);
        assert_eq!(miles_per_hour("fast"), None);
    }
}
