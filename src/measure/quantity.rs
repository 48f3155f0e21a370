//! The quantities: `uom` types whose base length is the inch.
//!
//! In inches every 1/64 is exact in `f64`, so `feet(3.0) == inches(36.0)`; in meters it is not. `uom`'s
//! own US customary constants are rounded to seven digits. So the few needed here are defined from the
//! exact international values (1 in = 25.4 mm, 1 lb = 0.45359237 kg, g = 9.80665 m/s2; NIST SP 811
//! appendix B.8). Of the crate's customary units only inch and foot are used, which are exact.

mod base {
    ISQ!(uom::si, f64, (inch, pound, second, ampere, kelvin, mole, candela));
}

pub use base::{Angle, Area, Force, Length, Pressure, Ratio, Volume};

/// Load per length of member, printed in pounds-force per foot.
pub type LineLoad = base::SurfaceTension;

/// Bending moment; `uom`'s torque kind keeps it distinct from energy.
pub type Moment = base::Torque;

mod force {
    unit! {
        system: uom::si;
        quantity: uom::si::force;
        @lbf: 4.448_221_615_260_5; "lb", "pound-force", "pounds-force";
    }
}

mod pressure {
    unit! {
        system: uom::si;
        quantity: uom::si::pressure;
        @psf: 4.448_221_615_260_5 / 9.290_304E-2; "psf", "pound-force per square foot",
            "pounds-force per square foot";
        @psi: 4.448_221_615_260_5 / 6.451_6E-4; "psi", "pound-force per square inch",
            "pounds-force per square inch";
    }
}

mod line_load {
    unit! {
        system: uom::si;
        quantity: uom::si::surface_tension;
        @plf: 4.448_221_615_260_5 / 3.048E-1; "plf", "pound-force per foot",
            "pounds-force per foot";
    }
}

mod moment {
    unit! {
        system: uom::si;
        quantity: uom::si::torque;
        @lbf_ft: 4.448_221_615_260_5 * 3.048E-1; "lb-ft", "pound-force foot", "pound-force feet";
    }
}

use uom::si::angle::{degree, radian};
use uom::si::area::{square_foot, square_inch};
use uom::si::length::{inch, millimeter};

/// A length in inches. Exact for every 1/64 in.
#[must_use]
pub fn inches(value: f64) -> Length {
    Length::new::<inch>(value)
}

/// A length in feet, built as 12 inches each, so that whole feet stay exact.
#[must_use]
pub fn feet(value: f64) -> Length {
    inches(value * 12.0)
}

/// A length in millimeters (25.4 to the inch).
#[must_use]
pub fn millimeters(value: f64) -> Length {
    inches(value / 25.4)
}

/// Reads a length as a plain number of inches, for geometry and for output.
pub trait InInches {
    /// The number of inches.
    fn inches(self) -> f64;
}

impl InInches for Length {
    fn inches(self) -> f64 {
        self.get::<inch>()
    }
}

/// The number of millimeters in `length`.
#[must_use]
pub fn in_millimeters(length: Length) -> f64 {
    length.get::<millimeter>()
}

/// An angle in degrees.
#[must_use]
pub fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// An angle in radians.
#[must_use]
pub fn radians(value: f64) -> Angle {
    Angle::new::<radian>(value)
}

/// The number of degrees in `angle`.
#[must_use]
pub fn in_degrees(angle: Angle) -> f64 {
    angle.get::<degree>()
}

/// The number of square feet in `area`.
#[must_use]
pub fn in_square_feet(area: Area) -> f64 {
    area.get::<square_foot>()
}

/// An area in square inches.
#[must_use]
pub fn square_inches(value: f64) -> Area {
    Area::new::<square_inch>(value)
}

/// A force in pounds.
#[must_use]
pub fn pounds(value: f64) -> Force {
    Force::new::<force::lbf>(value)
}

/// The number of pounds-force in `force`.
#[must_use]
pub fn in_pounds(force: Force) -> f64 {
    force.get::<force::lbf>()
}

/// A pressure in pounds per square foot.
#[must_use]
pub fn psf(value: f64) -> Pressure {
    Pressure::new::<pressure::psf>(value)
}

/// The number of pounds per square foot in `pressure`.
#[must_use]
pub fn in_psf(pressure: Pressure) -> f64 {
    pressure.get::<pressure::psf>()
}

/// A stress in pounds per square inch.
#[must_use]
pub fn psi(value: f64) -> Pressure {
    Pressure::new::<pressure::psi>(value)
}

/// A line load in pounds per foot.
#[must_use]
pub fn plf(value: f64) -> LineLoad {
    LineLoad::new::<line_load::plf>(value)
}

/// The number of pounds per foot in `load`.
#[must_use]
pub fn in_plf(load: LineLoad) -> f64 {
    load.get::<line_load::plf>()
}

/// A moment in pound-feet.
#[must_use]
pub fn pound_feet(value: f64) -> Moment {
    Moment::new::<moment::lbf_ft>(value)
}

/// The number of pound-feet in `moment`.
#[must_use]
pub fn in_pound_feet(moment: Moment) -> f64 {
    moment.get::<moment::lbf_ft>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn every_sixty_fourth_comes_back() {
        for n in 0..(60 * 12 * 64) {
            let there = f64::from(n) / 64.0;
            assert!(inches(there).inches() == there, "{n}/64 in");
        }
        assert!(feet(3.0) == inches(36.0));
    }

    #[test]
    fn customary_units_agree_with_each_other() {
        // NIST SP 811 appendix B.8: 1 psi = 144 psf, 1 plf over 1 ft is 1 lb.
        assert_relative_eq!(in_psf(psi(1.0)), 144.0, max_relative = 1e-12);
        let load: LineLoad = (psf(20.0) * feet(2.0)).into();
        assert_relative_eq!(in_plf(load), 40.0, max_relative = 1e-12);
        let force: Force = plf(40.0) * feet(3.0);
        assert_relative_eq!(in_pounds(force), 120.0, max_relative = 1e-12);
    }
}
