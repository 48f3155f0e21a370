//! The check sheet of a pattern rafter and its building, to be measured before the stack is cut.
//!
//! On the pattern three tape readings from the ridge's long point: straight across the face to the
//! heel and to the seat's inner end, and along the top edge to the tail. Heel and seat's end lie on
//! one level line, so the first two set the ridge's long point over them, and the third sets the
//! tail. They hold for lines drawn with one setting of the square, which the plumb cut's own length
//! proves (`docs/derivations/fit.md`).

use crate::frame::{CannotBuild, CommonRafter};
use crate::measure::Length;
use crate::measure::quantity::{feet, in_inches, inches, millimeters};
use crate::plan::{GablePlan, OverhangTo, RafterPlan};

/// Tolerance of cuts, inches (common practice).
const CUT_IN: f64 = 1.0 / 16.0;
/// Tolerance of heights and the tail, inches (common practice).
const SET_IN: f64 = 1.0 / 8.0;
/// Tolerance of what is measured across the whole building, inches (common practice).
const ACROSS_IN: f64 = 1.0 / 4.0;

/// What a measurement is taken on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// The pattern rafter.
    Pattern,
    /// The building.
    Building,
}

impl On {
    /// In a word.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            On::Pattern => "pattern",
            On::Building => "building",
        }
    }
}

/// A reading that tells what went wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Telltale {
    /// The reading.
    pub reads: Length,
    /// What it means.
    pub means: &'static str,
}

/// One dimension to measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Its number on the sheet.
    pub number: u32,
    /// What it is measured on.
    pub on: On,
    /// From where to where.
    pub what: &'static str,
    /// What it has to read.
    pub length: Length,
    /// How far it may be off either way.
    pub tolerance: Length,
    /// What a wrong reading means.
    pub wrong: &'static str,
    /// Readings that tell more.
    pub telltales: Vec<Telltale>,
}

/// A right triangle of sides 3, 4 and 5 times a unit that fits within the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Triangle {
    /// The unit.
    pub unit: Length,
    /// Along the eave wall.
    pub along_length: Length,
    /// Along the end wall.
    pub along_span: Length,
    /// Between the two marks.
    pub diagonal: Length,
}

/// The sheet.
#[derive(Debug, Clone)]
pub struct ProvingSheet {
    /// The pattern rafter.
    pub rafter: CommonRafter,
    /// The dimensions, by number.
    pub dimensions: Vec<Dimension>,
    /// The largest triangles in whole feet (inches on a small plan), the largest first.
    pub triangles: Vec<Triangle>,
    /// The largest in whole tenths of a meter (centimeters on a small plan).
    pub metric_triangles: Vec<Triangle>,
}

impl ProvingSheet {
    /// Builds the pattern and measures the sheet.
    ///
    /// # Errors
    /// [`CannotBuild`] as the rafter's.
    pub fn build(plan: &GablePlan) -> Result<ProvingSheet, CannotBuild> {
        let rafter = CommonRafter::build(&plan.rafter)?;
        let mut dimensions = on_the_pattern(&rafter);
        dimensions.extend(on_the_building(plan, &rafter));
        for (index, dimension) in dimensions.iter_mut().enumerate() {
            dimension.number = index as u32 + 1;
        }
        let (length, span) = (plan.length, plan.rafter.span);
        Ok(ProvingSheet {
            rafter,
            dimensions,
            triangles: triangles(length, span, [feet(1.0), inches(1.0)]),
            metric_triangles: triangles(length, span, [millimeters(100.0), millimeters(10.0)]),
        })
    }
}

/// Straight, from the ridge's long point to the heel, to the seat's inner end, and to the tail.
fn readings(rafter: &CommonRafter) -> [Length; 3] {
    let [_, to_heel, to_seat_end, _, to_tail] = rafter.proofs();
    [to_heel, to_seat_end, to_tail].map(|proof| proof.length())
}

fn on_the_pattern(rafter: &CommonRafter) -> Vec<Dimension> {
    let [to_heel, to_seat_end, to_tail] = readings(rafter);
    let telltales = |at: usize| telltales(rafter, at);
    let row = |what, length, tolerance_in: f64, wrong, telltales| Dimension {
        number: 0,
        on: On::Pattern,
        what,
        length,
        tolerance: inches(tolerance_in),
        wrong,
        telltales,
    };
    // so short an overhang brings the tail cut inside of the building line: there is no heel then
    let heel = if rafter.seat_ends()[0].y > 1e-6 {
        "ridge long point straight to the seat's outer end, at the tail cut"
    } else {
        "ridge long point straight to the heel (the birdsmouth's inner corner)"
    };
    vec![
        row(
            heel,
            to_heel,
            CUT_IN,
            "with 2 off alike: the run or the ridge shortening; with 2 right: the heel cut",
            telltales(0),
        ),
        row(
            "ridge long point straight to the seat's inner end, on the bottom edge",
            to_seat_end,
            CUT_IN,
            "with 1 right: the seat is too long or short, or not level",
            telltales(1),
        ),
        row(
            "ridge long point along the top edge to the tail",
            to_tail,
            SET_IN,
            "with 1 and 2 right: the tail alone; recut, or line it up with a string on the wall",
            telltales(2),
        ),
        row(
            "ridge plumb cut, long point to short point",
            rafter.proofs()[0].length(),
            CUT_IN,
            "the square was not held at this rise, or the stock is not of this depth: every cut is off",
            Vec::new(),
        ),
    ]
}

/// What dimension `at` reads where a usual slip was made, as far as the tape shows a difference.
fn telltales(rafter: &CommonRafter, at: usize) -> Vec<Telltale> {
    let right = in_inches(readings(rafter)[at]);
    let changed = |change: &dyn Fn(&mut RafterPlan)| {
        let mut plan = rafter.plan.clone();
        // the seat stays as it is cut, whatever else slipped
        plan.seat = Some(rafter.seat.length);
        change(&mut plan);
        CommonRafter::build(&plan)
            .ok()
            .map(|other| readings(&other)[at])
    };
    let has_ridge = rafter.plan.ridge > inches(0.0);
    let to_fascia =
        rafter.plan.overhang_to == OverhangTo::Fascia && rafter.plan.boards() > inches(0.0);
    let mut list = Vec::new();
    if has_ridge {
        list.push((
            changed(&|plan| plan.ridge = inches(0.0)),
            "half the ridge board was not taken off",
        ));
        list.push((
            changed(&|plan| plan.ridge = rafter.plan.ridge * 2.0),
            "the whole ridge board was taken off instead of half",
        ));
    }
    if at == 1 && rafter.seat.length < rafter.plan.plate {
        list.push((
            changed(&|plan| plan.seat = Some(rafter.plan.plate)),
            "the seat was cut as wide as the plate",
        ));
    }
    if at == 2 && to_fascia {
        list.push((
            changed(&|plan| plan.overhang_to = OverhangTo::Tail),
            "the boards at the tail were not taken off the overhang",
        ));
    }
    list.into_iter()
        .filter_map(|(reads, means)| {
            Some(Telltale {
                reads: reads?,
                means,
            })
        })
        .filter(|telltale| (in_inches(telltale.reads) - right).abs() > CUT_IN)
        .collect()
}

fn on_the_building(plan: &GablePlan, rafter: &CommonRafter) -> Vec<Dimension> {
    let row = |what, length, tolerance_in: f64, wrong| Dimension {
        number: 0,
        on: On::Building,
        what,
        length,
        tolerance: inches(tolerance_in),
        wrong,
        telltales: Vec::new(),
    };
    let top = if plan.rafter.ridge > inches(0.0) {
        "top of the plates up to the top of the ridge board"
    } else {
        "top of the plates up to where the rafters' top edges meet"
    };
    let diagonal = inches(in_inches(plan.length).hypot(in_inches(plan.rafter.span)));
    vec![
        row(
            "plate to plate, outside to outside, at both ends and the middle",
            plan.rafter.span,
            SET_IN,
            "the walls lean or are not parallel: brace them before the pattern is tried, or the run changes with every pair",
        ),
        row(
            top,
            rafter.ridge_top,
            SET_IN,
            "too high with the span right: the rafters are too long or the seats too shallow; too low: the other way round",
        ),
        row(
            "corner to corner over the plates, both ways",
            diagonal,
            ACROSS_IN,
            "one longer, one shorter: the plan is racked; both alike but off: a side is wrong. Equal diagonals alone prove no parallel walls",
        ),
    ]
}

/// Up to three of the largest triangles in whole `units`, the first kind that fits at all.
fn triangles(length: Length, span: Length, units: [Length; 2]) -> Vec<Triangle> {
    for unit in units {
        // 3 along one side and 4 along the other, whichever way the larger one fits
        let most = |three: Length, four: Length| {
            let whole = |side: Length, parts: f64| {
                (in_inches(side) / in_inches(unit) / parts + 1e-9).floor()
            };
            whole(three, 3.0).min(whole(four, 4.0))
        };
        let (upright, lying) = (most(length, span), most(span, length));
        let count = upright.max(lying);
        if count < 1.0 {
            continue;
        }
        return [0.0, 1.0, 2.0]
            .into_iter()
            .map(|less| count - less)
            .filter(|count| *count >= 1.0)
            .map(|count| {
                let unit = unit * count;
                let (along_length, along_span) = if lying >= upright {
                    (unit * 4.0, unit * 3.0)
                } else {
                    (unit * 3.0, unit * 4.0)
                };
                Triangle {
                    unit,
                    along_length,
                    along_span,
                    diagonal: unit * 5.0,
                }
            })
            .collect();
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn largest(length: f64, span: f64, expected: Option<(f64, f64, f64)>) {
        let list = triangles(feet(length), feet(span), [feet(1.0), inches(1.0)]);
        let found = list.first().map(|it| {
            [it.along_length, it.along_span, it.diagonal].map(|side| in_inches(side) / 12.0)
        });
        assert_eq!(found, expected.map(|(a, b, c)| [a, b, c]));
        for triangle in &list {
            assert!(triangle.along_length <= feet(length) && triangle.along_span <= feet(span));
            assert_eq!(
                triangle.along_length.hypot(triangle.along_span),
                triangle.diagonal
            );
        }
    }

    #[test]
    fn the_largest_triangle_fits_whichever_way_it_lies() {
        largest(22.0, 14.0, Some((16.0, 12.0, 20.0)));
        largest(14.0, 22.0, Some((12.0, 16.0, 20.0)));
        // 4 x 6 = 24 fits exactly, and so does 3 x 6 = 18
        largest(24.0, 18.0, Some((24.0, 18.0, 30.0)));
        // a shed of 3 by 2 ft in inches: 4 x 8 and 3 x 8
        largest(3.0, 2.0, Some((32.0 / 12.0, 2.0, 40.0 / 12.0)));
        largest(0.2, 0.2, None);
    }
}
