//! How far one sawn member spans: bending, deflection, shear and end bearing.
//!
//! Uniform load, simple span, measured on the horizontal projection. Formulas and
//! factors: `docs/derivations/spans.md`, source S14.

use crate::catalog::design_values::{self, DesignValues, ValueSet};
use crate::catalog::sizes::{self, LumberClass, LumberSize};
use crate::catalog::{Grade, Species};

use super::fault::StrengthFault;

/// Repetitive member factor: three or more members at 24 in or less (NDS; source S14).
pub const REPETITIVE_MEMBER: f64 = 1.15;
/// The widest spacing at which it applies, inches.
pub const REPETITIVE_SPACING_IN: f64 = 24.0;

/// Reference stresses of a member with its size factor, before the factors of use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Actual thickness, inches.
    pub thickness_in: f64,
    /// Actual depth, inches.
    pub depth_in: f64,
    /// Bending `Fb`, psi.
    pub fb_psi: f64,
    /// Size factor on `Fb`.
    pub size_factor: f64,
    /// Shear `Fv`, psi.
    pub fv_psi: f64,
    /// Compression across the grain, psi.
    pub fc_perp_psi: f64,
    /// Modulus of elasticity, psi.
    pub e_psi: f64,
}

impl Reference {
    /// Section modulus on edge, in³.
    #[must_use]
    pub fn section_modulus_in3(&self) -> f64 {
        self.thickness_in * self.depth_in * self.depth_in / 6.0
    }

    /// Moment of inertia on edge, in⁴.
    #[must_use]
    pub fn moment_of_inertia_in4(&self) -> f64 {
        self.thickness_in * self.depth_in.powi(3) / 12.0
    }
}

/// The current design values of a stick of dimension lumber.
///
/// Sizes without their own row use the row of their nominal depth (2x14 and 4x14 that of the 2x12) with
/// the size factor of `size_factors.csv`. Southern pine has no size factor, but 0.9 beyond 12 in of
/// depth.
///
/// # Errors
/// [`StrengthFault::NoDesignValues`] for boards, timbers and grades without a row.
pub fn reference(
    species: Species,
    grade: Grade,
    size: &'static LumberSize,
) -> Result<Reference, StrengthFault> {
    let none = StrengthFault::NoDesignValues { species, grade, nominal: size.nominal };
    if size.class != LumberClass::Dimension {
        return Err(none);
    }
    let (thickness_nominal, depth_nominal) = size.nominal_in();
    let row_of = match depth_nominal {
        d if d <= 4.0 => "2x4",
        d if d <= 6.0 => "2x6",
        d if d <= 8.0 => "2x8",
        d if d <= 10.0 => "2x10",
        _ => "2x12",
    };
    let Some(row) = design_values::design_values(ValueSet::Current, species, grade, row_of) else {
        return Err(none);
    };
    let (Some(fv_psi), Some(fc_perp_psi)) = (row.fv_psi, row.fc_perp_psi) else {
        return Err(none);
    };
    Ok(Reference {
        thickness_in: size.thickness_in,
        depth_in: size.depth_in,
        fb_psi: row.fb_psi,
        size_factor: size_factor(row, size.nominal, thickness_nominal, depth_nominal),
        fv_psi,
        fc_perp_psi,
        e_psi: row.e_psi,
    })
}

fn size_factor(row: &DesignValues, nominal: &str, thickness: f64, depth: f64) -> f64 {
    if row.nominal == nominal {
        return row.size_factor_bending;
    }
    if row.species == Species::SouthernPine {
        return if depth > 12.0 { 0.9 } else { 1.0 };
    }
    match sizes::size_factors_for(depth) {
        Some(factors) if thickness >= 4.0 => factors.bending_4_in_thick,
        Some(factors) => factors.bending_2_and_3_in_thick,
        None => 1.0,
    }
}

/// The factors and limits of a member's use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Load duration factor on bending and shear.
    pub duration: f64,
    /// Repetitive member factor on bending.
    pub repetitive: f64,
    /// Deflection limit `n`: span / n under live or snow load alone.
    pub deflection_limit: f64,
    /// Live or snow load on the member, lb per inch of projection.
    pub live_lb_per_in: f64,
    /// All load on the member, lb per inch of projection.
    pub total_lb_per_in: f64,
    /// End bearing area, square inches.
    pub bearing_in2: f64,
}

/// Which limit governs a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GovernedBy {
    /// Bending stress.
    Bending,
    /// Deflection under live or snow load.
    Deflection,
    /// Horizontal shear.
    Shear,
    /// Crushing at the end bearing.
    Bearing,
}

impl GovernedBy {
    /// The word for tables and for the machine-readable output.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            GovernedBy::Bending => "bending",
            GovernedBy::Deflection => "deflection",
            GovernedBy::Shear => "shear",
            GovernedBy::Bearing => "bearing",
        }
    }
}

/// The span at which each limit is reached, inches of projection, unrounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimitSpans {
    /// `sqrt(8 F S / w)`.
    pub bending_in: f64,
    /// `cbrt(384 E I / (5 n w_live))`.
    pub deflection_in: f64,
    /// `2 ((2/3) b d Fv' / w + d)`: shear at a depth from the support.
    pub shear_in: f64,
    /// `2 Fc⊥ A / w`.
    pub bearing_in: f64,
}

impl LimitSpans {
    /// The smallest of the four and which one it is.
    #[must_use]
    pub fn least(&self) -> (f64, GovernedBy) {
        let mut least = (self.bending_in, GovernedBy::Bending);
        for next in [
            (self.deflection_in, GovernedBy::Deflection),
            (self.bearing_in, GovernedBy::Bearing),
            (self.shear_in, GovernedBy::Shear),
        ] {
            if next.0 < least.0 {
                least = next;
            }
        }
        least
    }
}

/// The four limit spans of a member in use.
#[must_use]
pub fn limit_spans(stick: &Reference, used: &Use) -> LimitSpans {
    let bending_stress = stick.fb_psi * stick.size_factor * used.repetitive * used.duration;
    let w = used.total_lb_per_in;
    let shear_strength =
        2.0 / 3.0 * stick.thickness_in * stick.depth_in * stick.fv_psi * used.duration;
    LimitSpans {
        bending_in: (8.0 * bending_stress * stick.section_modulus_in3() / w).sqrt(),
        deflection_in: (384.0 * stick.e_psi * stick.moment_of_inertia_in4()
            / (5.0 * used.deflection_limit * used.live_lb_per_in))
            .cbrt(),
        shear_in: 2.0 * (shear_strength / w + stick.depth_in),
        bearing_in: 2.0 * stick.fc_perp_psi * used.bearing_in2 / w,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn rows_of_their_own_agree_with_the_size_factor_table() {
        for row in design_values::rows() {
            if row.set != ValueSet::Current || row.species == Species::SouthernPine {
                continue;
            }
            let size = sizes::size(row.nominal).unwrap();
            let table = sizes::size_factors_for(size.nominal_in().1).unwrap();
            assert_eq!(row.size_factor_bending, table.bending_2_and_3_in_thick, "{row:?}");
        }
    }

    #[test]
    fn sizes_without_a_row() {
        let of = |nominal| {
            reference(Species::DouglasFirLarch, Grade::No2, sizes::size(nominal).unwrap())
        };
        assert_eq!(of("2x14").unwrap().size_factor, 0.9);
        assert_eq!(of("4x10").unwrap().size_factor, 1.2);
        assert_eq!(of("3x10").unwrap().size_factor, 1.1);
        assert_eq!(of("2x3").unwrap().size_factor, 1.5);
        assert!(of("1x8").is_err() && of("6x8").is_err());
        let spf =
            reference(Species::SprucePineFir, Grade::No1AndBetter, sizes::size("2x8").unwrap());
        assert!(matches!(spf, Err(StrengthFault::NoDesignValues { .. })));
    }

    /// By hand: SPF No.2 2x8 at 16 in, 20 live, 10 dead, L/180.
    /// w = 30 x 16 / 144 = 3.3333; F = 875 x 1.2 x 1.15 x 1.25 = 1509.375; S = 13.1406;
    /// sqrt(8 x 1509.375 x 13.1406 / 3.3333) = 218.178; I = 47.6348;
    /// cbrt(384 x 1.4e6 x 47.6348 / (5 x 180 x 2.2222)) = 233.95.
    #[test]
    fn bending_and_deflection_by_hand() {
        let stick =
            reference(Species::SprucePineFir, Grade::No2, sizes::size("2x8").unwrap()).unwrap();
        let spans = limit_spans(
            &stick,
            &Use {
                duration: 1.25,
                repetitive: REPETITIVE_MEMBER,
                deflection_limit: 180.0,
                live_lb_per_in: 20.0 * 16.0 / 144.0,
                total_lb_per_in: 30.0 * 16.0 / 144.0,
                bearing_in2: 2.25,
            },
        );
        assert_relative_eq!(spans.bending_in, 218.18, epsilon = 0.01);
        assert_relative_eq!(spans.deflection_in, 233.95, epsilon = 0.01);
        assert_eq!(spans.least().1, GovernedBy::Bending);
        // V at d from the support equals the capacity at the shear span: w (L/2 - d) = 2/3 b d Fv C_D.
        let v = 30.0 * 16.0 / 144.0 * (spans.shear_in / 2.0 - 7.25);
        assert_relative_eq!(v, 2.0 / 3.0 * 1.5 * 7.25 * 135.0 * 1.25, max_relative = 1e-12);
        // 425 psi x 2.25 sq in at each end.
        assert_relative_eq!(spans.bearing_in * 30.0 * 16.0 / 144.0 / 2.0, 956.25);
    }

    /// A size takes the values of the row that is as deep, or of the next deeper one: for southern pine, whose strength is printed for each depth,
    /// those are its own. Beyond 12 in they are reduced to 0.9 (source S14).
    #[test]
    fn a_size_has_the_strength_of_its_depth() {
        let row = |nominal: &str| {
            let found = design_values::design_values(
                ValueSet::Current,
                Species::SouthernPine,
                Grade::No2,
                nominal,
            );
            found.unwrap().fb_psi
        };
        // each depth has a strength of its own, so that no two rows can be taken for each other
        let printed = ["2x4", "2x6", "2x8", "2x10", "2x12"].map(row);
        assert!(printed.is_sorted_by(|one, other| one > other), "{printed:?}");
        let of = |nominal: &'static str| {
            reference(Species::SouthernPine, Grade::No2, sizes::size(nominal).unwrap()).unwrap()
        };
        for (nominal, row_of, factor) in [
            ("2x3", "2x4", 1.0),
            ("2x4", "2x4", 1.0),
            ("2x6", "2x6", 1.0),
            ("2x8", "2x8", 1.0),
            ("2x10", "2x10", 1.0),
            ("2x12", "2x12", 1.0),
            ("3x10", "2x10", 1.0),
            ("4x10", "2x10", 1.0),
            ("4x12", "2x12", 1.0),
            ("2x14", "2x12", 0.9),
        ] {
            let found = of(nominal);
            assert_eq!((found.fb_psi, found.size_factor), (row(row_of), factor), "{nominal}");
        }
    }
}
