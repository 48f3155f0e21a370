//! The tape dimensions that together prove a pattern rafter after it is cut: five, and three more for a second birdsmouth.
//!
//! On stock of a known depth the outline has five unknowns if every plumb and level line is drawn with
//! one setting of the square: that setting, the place of the seat's two ends (the inner one is on the
//! bottom edge, so three figures), and the tail. Each dimension is a straight tape measurement between
//! two corners that remain on the cut rafter.

use crate::geom::DVec3;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::ON_IT;

use super::common::CommonRafter;
use super::stick::{Edge, Side};

/// One dimension, straight between two corners of the cut rafter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proof {
    /// Its letter on the drawing, from A.
    pub letter: char,
    /// From where to where.
    pub what: &'static str,
    /// The same in a few words.
    pub short: &'static str,
    /// What it proves.
    pub proves: &'static str,
    /// The first corner, in roof coordinates (x is 0).
    pub from: DVec3,
    /// The second corner.
    pub to: DVec3,
}

impl Proof {
    /// What the tape reads.
    #[must_use]
    pub fn length(&self) -> Length {
        inches(self.from.distance(self.to))
    }
}

impl CommonRafter {
    /// The dimensions that prove the cut pattern: A to E, and F to H for the birdsmouth on a second plate.
    #[must_use]
    pub fn proofs(&self) -> Vec<Proof> {
        let [upper, tail] = [0, 1].map(|end| self.stick.trims[end].cut.planes[0]);
        let corner = |plane, edge| {
            let station = self.stick.station(plane, edge, Side::Near);
            let point = self.stick.point(station.unwrap_or_default(), edge, Side::Near);
            point * DVec3::new(0.0, 1.0, 1.0)
        };
        let long_point = corner(&upper, Edge::Top);
        let short_point = corner(&upper, Edge::Bottom);
        let tail_top = corner(&tail, Edge::Top);
        let [seat_outer, seat_inner] = self.seat_ends();
        let ends = [
            (long_point, short_point),
            (long_point, seat_outer),
            (long_point, seat_inner),
            (seat_outer, seat_inner),
            (long_point, tail_top),
        ];
        let high = self.high_seat_ends();
        let words = if high.is_some() { ON_TWO_PLATES } else { AT_A_RIDGE };
        let high_ends =
            high.map(|[heel, end]| [(long_point, heel), (long_point, end), (heel, end)]);
        let all = words.iter().zip(ends).chain(HIGH.iter().zip(high_ends.into_iter().flatten()));
        all.zip('A'..)
            .map(|(([what, short, proves], (from, to)), letter)| Proof {
                letter,
                what,
                short,
                proves,
                from,
                to,
            })
            .collect()
    }

    /// The high seat's heel and its outer end; `None` if the rafter ends at a ridge.
    #[must_use]
    pub fn high_seat_ends(&self) -> Option<[DVec3; 2]> {
        let plate = self.high?.plate.inches();
        let ends = self.level_reach(plate)?;
        Some(ends.map(|y| DVec3::new(0.0, y, plate)))
    }

    /// From the lowest to the highest y of the corners at a height, inches; `None` if there are none.
    fn level_reach(&self, z: f64) -> Option<[f64; 2]> {
        let axis = &self.stick.axis;
        let level = self
            .stick
            .profile(Side::Near)
            .iter()
            .map(|corner| axis.origin + axis.along * corner.x + axis.up * corner.y)
            .filter(|corner| (corner.z - z).abs() < ON_IT)
            .map(|corner| [corner.y, corner.y]);
        level.reduce(|one, other| [one[0].min(other[0]), one[1].max(other[1])])
    }

    /// The seat's outer and inner end: the outermost and the innermost corner at the height of the plate.
    #[must_use]
    pub fn seat_ends(&self) -> [DVec3; 2] {
        self.level_reach(0.0).unwrap_or_default().map(|y| DVec3::Y * y)
    }
}

/// What is measured, in short, and what it proves: of a rafter that ends at a ridge.
const AT_A_RIDGE: [[&str; 3]; 5] = [
    [
        "ridge plumb cut, long point to short point",
        "ridge cut",
        "the setting of the square, which draws every plumb and level line",
    ],
    [
        "ridge's long point straight to the seat's outer end, the heel",
        "long point to heel",
        "the run less half the ridge: where the rafter meets the wall",
    ],
    [
        "ridge's long point straight to the seat's inner end",
        "long point to seat's end",
        "with B: that the seat is level and as high as it has to be",
    ],
    [
        "along the seat, end to end",
        "seat",
        "the bearing; with B and C it leaves the heel no other place",
    ],
    [
        "along the top edge, ridge's long point to the tail",
        "long point to tail",
        "the tail, and with it the line of the fascia",
    ],
];

/// The same of a rafter that lies on two plates.
const ON_TWO_PLATES: [[&str; 3]; 5] = [
    [
        "high tail plumb cut, long point to short point",
        "high tail cut",
        "the setting of the square, which draws every plumb and level line",
    ],
    [
        "high tail's long point straight to the low seat's outer end, the heel",
        "long point to heel",
        "where the rafter meets the low wall",
    ],
    [
        "high tail's long point straight to the low seat's inner end",
        "long point to seat's end",
        "with B: that the low seat is level and as high as it has to be",
    ],
    [
        "along the low seat, end to end",
        "seat",
        "the bearing; with B and C it leaves the heel no other place",
    ],
    [
        "along the top edge, high tail's long point to the low tail",
        "long point to tail",
        "both tails, and with them the lines of the fascia",
    ],
];

/// The birdsmouth on the higher plate.
const HIGH: [[&str; 3]; 3] = [
    [
        "high tail's long point straight to the high heel",
        "long point to high heel",
        "with B: how far the walls are apart and how much higher the high plate is",
    ],
    [
        "high tail's long point straight to the high seat's outer end",
        "long point to high seat's end",
        "with F: that the high seat is level and as high as it has to be",
    ],
    [
        "along the high seat, end to end",
        "high seat",
        "the bearing; with F and G it leaves the high heel no other place",
    ],
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::DVec2;
    use crate::measure::quantity::in_degrees;
    use crate::plan::{Entries, RafterPlan};
    use approx::assert_abs_diff_eq;

    fn rafter(flags: &[(&'static str, &str)]) -> CommonRafter {
        let mut entries = Entries::default();
        for (key, text) in flags {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap()
    }

    /// The corners from five tape readings on stock of a known depth: the plumb cut's angle, the seat's
    /// outer and inner end and the tail, with the ridge's long point at (0, depth).
    fn told_by([a, b, c, d, e]: [f64; 5], depth: f64) -> (f64, [DVec2; 3]) {
        let long_point = DVec2::new(0.0, depth);
        // C ends on the bottom edge
        let inner = DVec2::new(-(c * c - depth * depth).sqrt(), 0.0);
        // B and D are two circles; the heel is where they meet within the stock
        let way = inner - long_point;
        let along = (b * b - d * d + c * c) / (2.0 * c);
        let aside = (b * b - along * along).max(0.0).sqrt();
        let foot = long_point + way / c * along;
        let heel = [aside, -aside]
            .map(|aside| foot + way.perp() / c * aside)
            .into_iter()
            .max_by(|a, b| a.y.total_cmp(&b.y))
            .unwrap();
        ((depth / a).acos().to_degrees(), [heel, inner, DVec2::new(-e, depth)])
    }

    #[test]
    fn five_readings_leave_one_pattern() {
        let tails = [("plumb", "1'"), ("square", "1'"), ("level", "1' 6\""), ("plumb", "0\"")];
        for (span, pitch, stock) in
            [("14'", "6/12", "2x6"), ("36'", "12/12", "2x12"), ("8'", "2/12", "2x4")]
        {
            for (tail, overhang) in tails {
                let rafter = rafter(&[
                    ("building.span", span),
                    ("roof.pitch", pitch),
                    ("rafter.stock", stock),
                    ("rafter.tail", tail),
                    ("eave.overhang", overhang),
                ]);
                let depth = rafter.plan.stock.depth_in();
                let proofs = rafter.proofs();
                let read: Vec<f64> = proofs.iter().map(|proof| proof.length().inches()).collect();
                let (angle, corners) = told_by(read.try_into().unwrap(), depth);
                assert_abs_diff_eq!(angle, in_degrees(rafter.slope), epsilon = 1e-6);
                // the same corners in the stick's own outline
                let axis = &rafter.stick.axis;
                let flat = |point: DVec3| {
                    let arm = point - axis.origin;
                    DVec2::new(arm.dot(axis.along), arm.dot(axis.up))
                };
                let shift = flat(proofs[0].from) - DVec2::new(0.0, depth);
                let told = corners.map(|corner| corner + shift);
                let outline = rafter.stick.profile(Side::Near);
                for corner in told {
                    let near = outline
                        .iter()
                        .map(|other| other.distance(corner))
                        .fold(f64::INFINITY, f64::min);
                    assert!(near < 1e-5, "{span} {pitch} {tail}: {corner} in {outline:?}");
                }
            }
        }
    }

    #[test]
    fn a_9_in_12_pattern_reads_by_the_3_4_5_triangle() {
        // span 24 ft, 9 in 12, 2x8, ridge 1-1/2 in, seat 3 in, overhang 12 in: the long point is 143.25
        // in in and 6.8125 + 107.4375 = 114.25 in up from the heel
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.stock", "2x8"),
            ("rafter.seat", "3\""),
        ]);
        let read = rafter.proofs().into_iter().map(|proof| proof.length().inches());
        let expected = [9.0625, 143.25_f64.hypot(114.25), 140.25_f64.hypot(114.25), 3.0, 194.0625];
        for (read, expected) in read.zip(expected) {
            assert_abs_diff_eq!(read, expected, epsilon = 1e-9);
        }
    }
}
