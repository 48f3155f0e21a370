//! Loads, forces, areas and speeds as people write them, in the units of [`Writing`].

use super::tape::{Units, Writing, trim};

/// Kilopascals in a pound per square foot (NIST SP 811, appendix B.8).
const KPA_PER_PSF: f64 = 0.047_880_258_98;
/// Newtons in a pound of force (NIST SP 811).
const NEWTONS_PER_POUND: f64 = 4.448_221_615;
/// Meters in a foot, exactly.
pub const METERS_PER_FOOT: f64 = 0.3048;
/// Kilograms in a pound, exactly.
pub const KILOGRAMS_PER_POUND: f64 = 0.453_592_37;
/// Meters per second in a mile per hour, exactly.
const METERS_PER_SECOND_PER_MPH: f64 = 0.447_04;

impl Writing {
    fn metric(self) -> bool {
        self.units == Units::Millimeters
    }

    /// A load in pounds per square foot: `31.3 psf` or `1.5 kPa`.
    #[must_use]
    pub fn psf(self, psf: f64, places: usize) -> String {
        if self.metric() {
            format!("{} kPa", trim(psf * KPA_PER_PSF, places + 1))
        } else {
            format!("{} psf", trim(psf, places))
        }
    }

    /// A force in pounds: `339.7 lb` or `1.511 kN`.
    #[must_use]
    pub fn pounds(self, pounds: f64, places: usize) -> String {
        if self.metric() {
            format!("{} kN", trim(pounds * NEWTONS_PER_POUND / 1000.0, places + 2))
        } else {
            format!("{} lb", trim(pounds, places))
        }
    }

    /// A weight in pounds: `5 lb` or `2.27 kg`.
    #[must_use]
    pub fn weight(self, pounds: f64, places: usize) -> String {
        if self.metric() {
            format!("{} kg", trim(pounds * KILOGRAMS_PER_POUND, places))
        } else {
            format!("{} lb", trim(pounds, places))
        }
    }

    /// A force along a line in pounds per foot: `59.9 lb/ft` or `0.874 kN/m`.
    #[must_use]
    pub fn plf(self, plf: f64, places: usize) -> String {
        if self.metric() {
            let newtons = plf * NEWTONS_PER_POUND / METERS_PER_FOOT;
            format!("{} kN/m", trim(newtons / 1000.0, places + 2))
        } else {
            format!("{} lb/ft", trim(plf, places))
        }
    }

    /// An area in square inches: `49.5 sq in` or `319 cm2`.
    #[must_use]
    pub fn square_inches(self, area: f64, places: usize) -> String {
        if self.metric() {
            format!("{} cm2", trim(area * 2.54 * 2.54, places.saturating_sub(1)))
        } else {
            format!("{} sq in", trim(area, places))
        }
    }

    /// An area in square feet: `221.3 sq ft` or `20.56 m2`.
    #[must_use]
    pub fn square_feet(self, area: f64, places: usize) -> String {
        if self.metric() {
            let meters = area * METERS_PER_FOOT * METERS_PER_FOOT;
            format!("{} m2", trim(meters, places + 1))
        } else {
            format!("{} sq ft", trim(area, places))
        }
    }

    /// A wind speed in miles per hour: `115 mph` or `51.4 m/s`.
    #[must_use]
    pub fn mph(self, mph: f64, places: usize) -> String {
        if self.metric() {
            format!("{} m/s", trim(mph * METERS_PER_SECOND_PER_MPH, places))
        } else {
            format!("{} mph", trim(mph, places))
        }
    }

    /// A slope as its rise in 12: `9.375 in 12` or `38 deg`.
    #[must_use]
    pub fn rise_in_12(self, rise: f64, places: usize) -> String {
        if self.metric() {
            let degrees = (rise / 12.0).atan().to_degrees();
            format!("{} deg", trim(degrees, places.saturating_sub(1)))
        } else {
            format!("{} in 12", trim(rise, places))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand from the factors of NIST SP 811: 20 psf = 0.9576 kPa, 1000 lb = 4.448 kN, 100 lb/ft = 1.459 kN/m,
    /// 100 sq in = 645.16 cm2, 100 sq ft = 9.29 m2, 115 mph = 51.41 m/s, 12 in 12 = 45 deg.
    #[test]
    fn amounts_in_either_system() {
        let (us, metric) = (Writing::default(), Writing::METRIC);
        for (written, expected) in [
            (us.psf(20.0, 1), "20 psf"),
            (metric.psf(20.0, 1), "0.96 kPa"),
            (us.pounds(1000.0, 0), "1000 lb"),
            (metric.pounds(1000.0, 0), "4.45 kN"),
            (us.weight(5.0, 2), "5 lb"),
            // 5 x 0.45359237 = 2.26796
            (metric.weight(5.0, 2), "2.27 kg"),
            (metric.plf(100.0, 1), "1.459 kN/m"),
            (us.square_inches(49.5, 1), "49.5 sq in"),
            (metric.square_inches(100.0, 1), "645 cm2"),
            // ten times as fine as a square inch needs a place less
            (metric.square_inches(100.0, 2), "645.2 cm2"),
            (metric.square_inches(100.0, 0), "645 cm2"),
            (metric.square_feet(100.0, 1), "9.29 m2"),
            (us.mph(115.0, 1), "115 mph"),
            (metric.mph(115.0, 1), "51.4 m/s"),
            (us.rise_in_12(9.3754, 3), "9.375 in 12"),
            (metric.rise_in_12(12.0, 3), "45 deg"),
            // the 5-12-13 triangle: 22.6199 deg
            (metric.rise_in_12(5.0, 3), "22.62 deg"),
        ] {
            assert_eq!(written, expected);
        }
    }
}
