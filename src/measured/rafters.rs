//! Each rafter for its own place on walls that are not true, with one level ridge and one straight
//! fascia on each side.
//!
//! The ridge runs level and straight from the middle of the near end to the middle of the far end. Each
//! roof plane rises to it at the planned pitch, and each fascia runs parallel to it. So all rafters are
//! equally long, and only the place of the birdsmouth differs: the run, and with it body and tail,
//! follow the wall in plan, and the seat follows the plate's height. Each is built as the pattern
//! rafter is, with its own numbers.

use crate::catalog::limits::BEARING_ON_WOOD;
use crate::frame::Pair;
use crate::frame::{CannotBuild, CommonRafter, EaveSide, Frame};
use crate::geom::DVec2;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::plan::{GablePlan, MeasuredPlan, OverhangFrom};

use super::adjust::Corners;
use super::heights::Heights;

/// One rafter.
#[derive(Debug, Clone)]
pub struct FittedRafter {
    /// Number of its pair, from 1.
    pub pair: usize,
    /// Its eave.
    pub eave: EaveSide,
    /// Its middle along the ridge from the near end.
    pub at: Length,
    /// Top of the plate under it, above the level line (above the plates if no height was measured).
    pub plate: Length,
    /// Packing between seat and plate, for a seat of the least bearing; zero for none.
    pub packing: Length,
    /// The rafter.
    pub rafter: CommonRafter,
}

/// All rafters.
#[derive(Debug, Clone)]
pub struct FittedRafters {
    /// Near to far, eave A before eave B.
    pub rafters: Vec<FittedRafter>,
    /// The pattern of the plan, for comparison.
    pub pattern: CommonRafter,
    /// The rafters' top edges extended to the middle of the ridge, above the level line.
    pub apex: Length,
    /// Level, middle of the ridge to the fascia's outer face (or to the tail cut if the overhang is
    /// measured to it).
    pub ridge_to_fascia: Length,
    /// How much to raise the ridge's near and far end (negative: lower) to make it level, if they were
    /// measured.
    pub ridge_rise: Option<[Length; 2]>,
    /// Building line to building line at the near and the far end, square to the ridge.
    pub spans: [Length; 2],
}

impl FittedRafters {
    /// Builds every rafter over the corners, on plates of these heights, and to a ridge of these
    /// heights if it is up.
    ///
    /// # Errors
    /// [`CannotBuild`] as the frame's, for a rafter that can't be cut from its stock.
    pub fn build(
        plan: &MeasuredPlan,
        corners: &Corners,
        heights: &Heights,
    ) -> Result<FittedRafters, CannotBuild> {
        let gable = &plan.gable;
        let over = Over::new(heights, corners);
        let length = over.ridge_length();
        let along = GablePlan { length: inches(length), ..gable.clone() };
        let frame = Frame::of_groups(&along, &[])?;
        let pattern = frame.rafter.clone();
        let thick = gable.rafter.stock.thickness_in();
        let places: Vec<(usize, EaveSide, f64)> = frame
            .pairs
            .iter()
            .enumerate()
            .flat_map(|(number, pair)| both(number + 1, pair, thick))
            .collect();
        let tangent = gable.rafter.pitch.tangent();
        // no notch gets deeper than the pattern's: the rafter that needs the highest roof decides
        let asked = |(_, eave, at): &(usize, EaveSide, f64)| {
            over.plate(*eave, *at) + over.run(*eave, *at) * tangent + pattern.heel_stand.inches()
        };
        let half_ridge = gable.rafter.ridge.inches() / 2.0;
        let ridge = heights.ridge.map(|ends| ends.map(InInches::inches));
        let apex = match ridge {
            Some([near, far]) => (near + far) / 2.0 + half_ridge * tangent,
            None => places.iter().map(asked).fold(f64::NEG_INFINITY, f64::max),
        };
        let runs: f64 = places.iter().map(|(_, eave, at)| over.run(*eave, *at)).sum::<f64>()
            / places.len().max(1) as f64;
        let to_fascia = runs + gable.rafter.overhang_from_building_line().inches();
        let rafters = places
            .into_iter()
            .map(|(pair, eave, at)| fitted(gable, &over, (pair, eave, at), apex, to_fascia))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(FittedRafters {
            rafters,
            pattern,
            apex: inches(apex),
            ridge_to_fascia: inches(to_fascia),
            ridge_rise: ridge.map(|ends| ends.map(|end| inches((ends[0] + ends[1]) / 2.0 - end))),
            spans: [0.0, length]
                .map(|at| inches(over.run(EaveSide::A, at) + over.run(EaveSide::B, at))),
        })
    }
}

fn both(number: usize, pair: &Pair, thick: f64) -> [(usize, EaveSide, f64); 2] {
    EaveSide::BOTH.map(|eave| (number, eave, pair.x(eave) + thick / 2.0))
}

fn fitted(
    gable: &GablePlan,
    over: &Over,
    (pair, eave, at): (usize, EaveSide, f64),
    apex: f64,
    to_fascia: f64,
) -> Result<FittedRafter, CannotBuild> {
    let mut plan = gable.rafter.clone();
    let (tangent, secant) = (plan.pitch.tangent(), plan.pitch.slope_factor());
    let (run, plate) = (over.run(eave, at), over.plate(eave, at));
    let heel_stand = apex - run * tangent - plate;
    let through = plan.stock.depth_in() * secant;
    let seat = (through - heel_stand) / tangent;
    let least = BEARING_ON_WOOD.inches().inches().min(plan.plate.inches());
    let held = seat.max(least);
    plan.span = inches(run * 2.0);
    plan.seat = Some(inches(held));
    plan.overhang = inches(to_fascia - run);
    plan.overhang_from = OverhangFrom::Framing;
    let rafter = CommonRafter::build(&plan).map_err(|why| CannotBuild {
        message: why.message.after(&format!("rafter {pair} on eave {}: ", eave.name())),
        ..why
    })?;
    Ok(FittedRafter {
        pair,
        eave,
        at: inches(at),
        plate: inches(plate),
        packing: inches((held - seat) * tangent),
        rafter,
    })
}

/// Walls and plates under a ridge from the middle of the near end to the middle of the far end.
struct Over {
    near: DVec2,
    along: DVec2,
    far: DVec2,
    walls: [[DVec2; 2]; 2],
    plates: [[f64; 2]; 2],
}

impl Over {
    fn new(heights: &Heights, corners: &Corners) -> Over {
        let near = (corners.near_a + corners.near_b) / 2.0;
        let far = (corners.far_a + corners.far_b) / 2.0;
        let plates = heights.plates.map_or([[0.0; 2]; 2], |plates| {
            let [near_a, far_a, near_b, far_b] = plates.map(InInches::inches);
            [[near_a, far_a], [near_b, far_b]]
        });
        Over {
            near,
            along: (far - near).normalize_or_zero(),
            far,
            walls: [[corners.near_a, corners.far_a], [corners.near_b, corners.far_b]],
            plates,
        }
    }

    fn ridge_length(&self) -> f64 {
        (self.far - self.near).length()
    }

    fn side(eave: EaveSide) -> usize {
        match eave {
            EaveSide::A => 0,
            EaveSide::B => 1,
        }
    }

    /// Where a line square to the ridge meets the wall, as a share of its length.
    fn share(&self, eave: EaveSide, at: f64) -> f64 {
        let [from, to] =
            self.walls[Over::side(eave)].map(|corner| (corner - self.near).dot(self.along));
        (at - from) / (to - from)
    }

    /// Level, building line to the middle of the ridge, square to the ridge.
    fn run(&self, eave: EaveSide, at: f64) -> f64 {
        let across = DVec2::new(-self.along.y, self.along.x);
        let [from, to] =
            self.walls[Over::side(eave)].map(|corner| (corner - self.near).dot(across));
        (from + (to - from) * self.share(eave, at)).abs()
    }

    /// Top of the plate.
    fn plate(&self, eave: EaveSide, at: f64) -> f64 {
        let [from, to] = self.plates[Over::side(eave)];
        from + (to - from) * self.share(eave, at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Entries;
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;

    fn plan(fields: &[(&'static str, &str)]) -> MeasuredPlan {
        let mut entries = Entries::default();
        let needed = [("building.length", "20'"), ("building.span", "14'"), ("roof.pitch", "9/12")];
        for (key, text) in needed.iter().chain(fields) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        MeasuredPlan::read(&entries).unwrap()
    }

    fn build(plan: &MeasuredPlan, corners: &Corners) -> FittedRafters {
        FittedRafters::build(plan, corners, &Heights::of(plan)).unwrap()
    }

    fn corners(off: &[f64; 5]) -> Corners {
        Corners {
            near_a: DVec2::ZERO,
            far_a: DVec2::new(240.0 + off[0], 0.0),
            far_b: DVec2::new(240.0 + off[1], 168.0 + off[2]),
            near_b: DVec2::new(off[3], 168.0 + off[4]),
        }
    }

    #[test]
    fn true_walls_have_the_pattern_everywhere() {
        let fitted = build(&plan(&[]), &corners(&[0.0; 5]));
        for one in &fitted.rafters {
            assert_abs_diff_eq!(
                one.rafter.body_length.inches(),
                fitted.pattern.body_length.inches(),
                epsilon = 1e-9
            );
            assert_abs_diff_eq!(
                one.rafter.seat.length.inches(),
                fitted.pattern.seat.length.inches(),
                epsilon = 1e-9
            );
        }
    }

    #[test]
    fn a_low_plate_shortens_the_seat_by_hand() {
        // 9 in 12: a plate 3/8 in low at one corner needs 3/8 in more heel stand, so 1/2 in less seat
        // there
        let heights = [
            ("measured.plate_near_a", "4'"),
            ("measured.plate_far_a", "4'"),
            ("measured.plate_near_b", "4'"),
            ("measured.plate_far_b", "47-5/8\""),
            ("rafter.seat", "2-1/4\""),
        ];
        let fitted = build(&plan(&heights), &corners(&[0.0; 5]));
        let last = fitted.rafters.last().unwrap();
        let share = last.at.inches() / 240.0;
        assert_abs_diff_eq!(last.rafter.seat.length.inches(), 2.25 - 0.5 * share, epsilon = 1e-9);
    }

    proptest! {
        /// Ridge level and fascia straight, measured on the built solids.
        #[test]
        fn ridge_and_fascia_are_held(
            off in prop::array::uniform5(-2.0..2.0_f64),
            heights in prop::array::uniform4(-1.0..1.0_f64),
        ) {
            let mut plan = plan(&[
                ("measured.plate_near_a", "4'"),
                ("measured.plate_far_a", "4'"),
                ("measured.plate_near_b", "4'"),
                ("measured.plate_far_b", "4'"),
                ("eave.fascia", "1x8"),
                ("rafter.stock", "2x8"),
            ]);
            for (plate, off) in plan.plates.as_mut().unwrap().iter_mut().zip(heights) {
                plate[0] += inches(off);
            }
            let fitted = build(&plan, &corners(&off));
            let length = fitted.rafters[0].rafter.rafter_length;
            for one in &fitted.rafters {
                let rafter = &one.rafter;
                let apex = one.plate + one.packing + rafter.apex;
                prop_assert!(((apex - fitted.apex).inches()).abs() < 1e-8);
                prop_assert!(((rafter.rafter_length - length).inches()).abs() < 1e-8);
                prop_assert!(((rafter.body_length + rafter.tail_length - length).inches()).abs() < 1e-8);
                // the tail cut is at one distance from the ridge, the fascia's thickness behind its
                // face
                let out = rafter.plan.run() + rafter.tail_projection + rafter.plan.fascia;
                prop_assert!(((out - fitted.ridge_to_fascia).inches()).abs() < 1e-8);
                // no notch deeper than the pattern's
                prop_assert!(rafter.seat.length <= fitted.pattern.seat.length + inches(1e-9));
                prop_assert!(rafter.bearing.inches() >= 1.5 - 1e-9);
            }
        }
    }
}
