//! What a nail in single shear carries, by the six yield modes of a dowel joint, against published values; and the two
//! values that the heel joints are counted with.
//!
//! NDS dowel equations, written from memory (S13). Side grain, dry service, normal temperature. Of the published values
//! of a 16d common nail 141 was read (design method, section 6), the rest are from memory.

use stepoff::catalog::design_values::specific_gravity;
use stepoff::catalog::nails::nail;
use stepoff::catalog::{Nail, Species};
use stepoff::strength::heel_joint::{NAIL_LB, NAIL_LB_BEFORE_2021};

/// Thickness of a 2x, inches.
const TWO_BY: f64 = 1.5;

/// A nail through a side member into a main member: inches and psi.
struct Dowel {
    diameter: f64,
    fyb: f64,
    side: f64,
    main: f64,
    fe_side: f64,
    fe_main: f64,
}

/// Reduction term for fasteners under 1/4 in.
fn reduction(diameter: f64) -> f64 {
    if diameter <= 0.17 { 2.2 } else { 10.0 * diameter + 0.5 }
}

impl Dowel {
    /// A face nail through one 2x into another of the same species: the point, two diameters long, bears with half its
    /// length where it stays in the wood.
    fn through_two_2x(nail: &Nail, species: Species) -> Dowel {
        let fe = 16_600.0 * specific_gravity(species).powf(1.84);
        let reach = nail.length_in - TWO_BY;
        let main = if reach > TWO_BY { TWO_BY } else { reach - nail.diameter_in };
        Dowel {
            diameter: nail.diameter_in,
            fyb: nail.fyb_psi,
            side: TWO_BY,
            main,
            fe_side: fe,
            fe_main: fe,
        }
    }

    /// What modes I m, I s, II, III m, III s and IV carry, pounds.
    fn modes(&self) -> [f64; 6] {
        let Dowel { diameter: d, fyb, side: ls, main: lm, fe_side, fe_main } = *self;
        let rd = reduction(d);
        let re = fe_main / fe_side;
        let rt = lm / ls;
        let k1 = ((re + 2.0 * re * re * (1.0 + rt + rt * rt) + rt * rt * re.powi(3)).sqrt()
            - re * (1.0 + rt))
            / (1.0 + re);
        let k2 = -1.0
            + (2.0 * (1.0 + re) + 2.0 * fyb * (1.0 + 2.0 * re) * d * d / (3.0 * fe_main * lm * lm))
                .sqrt();
        let k3 = -1.0
            + (2.0 * (1.0 + re) / re + 2.0 * fyb * (2.0 + re) * d * d / (3.0 * fe_main * ls * ls))
                .sqrt();
        [
            d * lm * fe_main / rd,
            d * ls * fe_side / rd,
            k1 * d * ls * fe_side / rd,
            k2 * d * lm * fe_main / ((1.0 + 2.0 * re) * rd),
            k3 * d * ls * fe_main / ((2.0 + re) * rd),
            d * d / rd * (2.0 * fe_main * fyb / (3.0 * (1.0 + re))).sqrt(),
        ]
    }

    /// The lowest mode by its place, and what it carries.
    fn governing(&self) -> (usize, f64) {
        let modes = self.modes().into_iter().enumerate();
        modes.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap()
    }
}

fn lateral(name: &str, species: Species) -> f64 {
    let (mode, pounds) = Dowel::through_two_2x(nail(name).unwrap(), species).governing();
    assert_eq!(mode, 5, "{name} {species}: two bends of the nail");
    pounds
}

#[test]
fn published_nail_values() {
    for (name, species, want) in [
        ("16d common", Species::SouthernPine, 154.0),
        ("16d common", Species::DouglasFirLarch, 141.0),
        ("16d common", Species::HemFir, 122.0),
        ("16d common", Species::SprucePineFir, 120.0),
        ("10d common", Species::SprucePineFir, 100.0),
    ] {
        let got = lateral(name, species);
        assert!((got - want).abs() <= 0.75, "{name} {species}: {got}");
    }
}

/// Design method, section 6: 119.8 lb, and 119.8 x 1.5 / (12 x 0.162) = 92.5 lb where penetration counts over twelve
/// diameters, as behind the tables of 2015 and 2018.
#[test]
fn heel_joints_are_counted_with_the_value_of_a_16d_common_in_spruce() {
    let value = lateral("16d common", Species::SprucePineFir);
    assert!((value - 119.8).abs() < 0.05 && (NAIL_LB - value).abs() < 0.25, "{value}");
    let diameter = nail("16d common").unwrap().diameter_in;
    let older = value * TWO_BY / (12.0 * diameter);
    assert!((older - NAIL_LB_BEFORE_2021).abs() < 0.05, "{older}");
}

/// Each mode governs somewhere, and a rigid nail in thin wood crushes the wood: Z = k1 D l Fe / K_D, where k1 of equal
/// pieces is sqrt(2) - 1, by hand.
#[test]
fn thin_pieces_crush_before_the_nail_bends() {
    let governing = |side: f64, main: f64| {
        let (fyb, fe) = (90_000.0, 3364.0);
        Dowel { diameter: 0.162, fyb, side, main, fe_side: fe, fe_main: fe }.governing()
    };
    for ((side, main), mode) in [
        ((3.0, 0.1), 0),
        ((0.1, 3.0), 1),
        ((0.3, 0.3), 2),
        ((3.0, 0.5), 3),
        ((0.5, 3.0), 4),
        ((3.0, 3.0), 5),
    ] {
        assert_eq!(governing(side, main).0, mode, "{side} and {main}");
    }
    let by_hand = (2.0_f64.sqrt() - 1.0) * 0.162 * 0.3 * 3364.0 / 2.2;
    assert!((governing(0.3, 0.3).1 / by_hand - 1.0).abs() < 1e-9);
    assert!((reduction(0.192) - 2.42).abs() < 1e-12);
}
