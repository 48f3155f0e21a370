//! Two unequal sides: walls of unequal height, planes of unequal pitch, one ridge.
//!
//! Each side is half a gable with its own run, built as any pattern rafter is. The planes meet where
//! the top edges of both rafters, extended to the ridge's center, have the same height.

use crate::frame::{CannotBuild, Eave};
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Pitch, Writing};
use crate::plan::{EavePlan, FasciaLine, Find, FitPlan, Unknown};
use crate::rules::Finding;

use super::buildable::{Rounding, rounded};
use super::held;
use super::model::Model;
use super::search::{self, Jump, Root, nodes};

/// Greatest height difference of the two plates that is tried, inches: 20 ft.
const MOST_STEP_IN: f64 = 240.0;
/// Steps of the scan across the building.
const STEPS: f64 = 400.0;

/// One side of the roof.
#[derive(Debug, Clone)]
pub struct Side {
    /// `A` or `B`.
    pub name: &'static str,
    /// Level, building line to the center of the ridge.
    pub run: Length,
    /// Top of its plate above that of side A.
    pub plate: Length,
    /// Its half gable: pattern rafter and eave.
    pub eave: Eave,
    /// The findings of the rules that apply to its rafter.
    pub findings: Vec<Finding>,
}

impl Side {
    /// Converts a height above its own plate to a height above the plate of side A.
    #[must_use]
    pub fn above_plate_a(&self, height: Length) -> Length {
        self.plate + height
    }
}

/// What brings both fascias to one height.
#[derive(Debug, Clone, PartialEq)]
pub struct FasciaMatch {
    /// Fascia of B above that of A, with the overhangs used.
    pub b_above_a: Length,
    /// Overhangs of eave B that make it zero, in order.
    pub overhangs: Vec<Root>,
    /// Fascia heights that the overhangs of eave B can reach, above that of A: least and greatest.
    pub reach: Option<(f64, f64)>,
}

/// A value as a tape or a square shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct SidesBuildable {
    /// The value.
    pub value: f64,
    /// As it is written.
    pub written: String,
    /// The distance that then remains between the peaks: A above B.
    pub peaks_apart: Length,
}

/// One way the two sides meet.
#[derive(Debug, Clone)]
pub struct SidesAnswer {
    /// Inches of run A or of plate B above plate A, or rise in 12 of plane B.
    pub value: f64,
    /// How it is proven.
    pub root: Root,
    /// Both sides, A first.
    pub sides: [Side; 2],
    /// The fascia line.
    pub fascia: FasciaMatch,
    /// The value as it is built, finest step first.
    pub buildable: Vec<SidesBuildable>,
}

impl SidesAnswer {
    /// Height difference of the rafters' top edges at the ridge's faces: A above B. Zero if both slopes
    /// are equal.
    #[must_use]
    pub fn ridge_tops_apart(&self) -> Length {
        let [a, b] = &self.sides;
        a.above_plate_a(a.eave.rafter.ridge_top) - b.above_plate_a(b.eave.rafter.ridge_top)
    }
}

/// Everything found for two sides.
#[derive(Debug, Clone)]
pub struct TwoSides {
    /// What was looked for.
    pub find: Find,
    /// Least and greatest value that was tried.
    pub looked_through: (f64, f64),
    /// Each way they meet, in order.
    pub answers: Vec<SidesAnswer>,
    /// Leaps over meeting.
    pub jumps: Vec<Jump>,
    /// Peak of A above that of B: least and greatest over all roofs that can be built.
    pub reach: Option<(f64, f64)>,
    /// How often both sides were built.
    pub built: u32,
}

/// What two sides differ in, inches and rise in 12.
#[derive(Debug, Clone, Copy)]
struct Differing {
    run_a: f64,
    plate_b: f64,
    rise_b: f64,
}

impl Differing {
    fn of(plan: &FitPlan) -> Differing {
        let rafter = &plan.eave.rafter;
        Differing {
            run_a: plan.sides.ridge_at.unwrap_or_else(|| rafter.run()).inches(),
            plate_b: plan.sides.wall_b.map_or(0.0, InInches::inches),
            rise_b: plan.sides.pitch_b.unwrap_or(rafter.pitch).unit_rise(),
        }
    }

    fn with(self, find: Find, value: f64) -> Differing {
        match find {
            Find::Ridge => Differing { run_a: value, ..self },
            Find::WallB => Differing { plate_b: value, ..self },
            _ => Differing { rise_b: value, ..self },
        }
    }
}

/// Finds where the two sides meet.
///
/// # Errors
/// [`CannotBuild`] if a side that is fixed can't be built.
pub fn find(plan: &FitPlan, writing: Writing) -> Result<TwoSides, CannotBuild> {
    let fixed = Differing::of(plan);
    let span = plan.eave.rafter.span.inches();
    let scan = match plan.find {
        Find::Ridge => nodes(span / STEPS, span - span / STEPS, span / STEPS, &[span / 2.0]),
        Find::WallB => nodes(-MOST_STEP_IN, MOST_STEP_IN, 6.0, &[0.0]),
        _ => Model::of(plan).scan(Unknown::Pitch),
    };
    let found = search::roots(&scan, |value| peaks_apart(plan, fixed.with(plan.find, value)).ok());
    if found.least.is_none() {
        // nothing can be built anywhere: report the fault at the middle of the building
        let middle = scan.get(scan.len() / 2).copied().unwrap_or_default();
        peaks_apart(plan, fixed.with(plan.find, middle))?;
    }
    let answers = found
        .roots
        .iter()
        .map(|root| answer(plan, fixed, *root, writing))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(TwoSides {
        find: plan.find,
        looked_through: (
            scan.first().copied().unwrap_or_default(),
            scan.last().copied().unwrap_or_default(),
        ),
        answers,
        jumps: found.jumps,
        reach: found.least.zip(found.greatest).map(|(least, greatest)| (least.1, greatest.1)),
        built: found.evaluations,
    })
}

/// The half gable of side A, and of side B.
fn halves(plan: &FitPlan, differing: Differing) -> [EavePlan; 2] {
    let half = |run: f64, pitch: Option<Pitch>| {
        let mut half = plan.eave.clone();
        half.rafter.used = Vec::new();
        half.rafter.span = inches(2.0 * run);
        half.rafter.pitch = pitch.unwrap_or(half.rafter.pitch);
        half
    };
    let span = plan.eave.rafter.span.inches();
    [half(differing.run_a, None), half(span - differing.run_a, Pitch::rise_in_12(differing.rise_b))]
}

fn build(half: &EavePlan) -> Result<Eave, CannotBuild> {
    if half.rafter.plate >= half.rafter.run() {
        return Err(CannotBuild {
            key: key!("building.span"),
            message: "the ridge would stand over a plate".into(),
            help: "write a wider span, or less difference between the sides".into(),
        });
    }
    Eave::build(half)
}

/// Peak of A above that of B, inches.
fn peaks_apart(plan: &FitPlan, differing: Differing) -> Result<f64, CannotBuild> {
    let [a, b] = halves(plan, differing);
    let (a, b) = (build(&a)?, build(&b)?);
    Ok(a.rafter.apex.inches() - differing.plate_b - b.rafter.apex.inches())
}

fn answer(
    plan: &FitPlan,
    fixed: Differing,
    root: Root,
    writing: Writing,
) -> Result<SidesAnswer, CannotBuild> {
    let differing = fixed.with(plan.find, root.value);
    let [half_a, mut half_b] = halves(plan, differing);
    let a = build(&half_a)?;
    let plate_b = inches(differing.plate_b);
    let b_above_a =
        |b: &Eave| (plate_b + b.fascia_top.above_plate - a.fascia_top.above_plate).inches();
    let scan = Model::of(plan).scan(Unknown::Overhang);
    let found = search::roots(&scan, |overhang| {
        let mut half = half_b.clone();
        half.rafter.overhang = inches(overhang);
        build(&half).ok().map(|b| b_above_a(&b))
    });
    if let (FasciaLine::Level, [root, ..]) = (plan.sides.fascia_line, found.roots.as_slice()) {
        half_b.rafter.overhang = inches(root.value);
    }
    let b = build(&half_b)?;
    let fascia = FasciaMatch {
        b_above_a: inches(b_above_a(&b)),
        overhangs: found.roots,
        reach: found.least.zip(found.greatest).map(|(least, greatest)| (least.1, greatest.1)),
    };
    let side = |name, plate, eave: Eave| Side {
        name,
        run: eave.rafter.plan.run(),
        plate,
        findings: held::findings(plan, &eave),
        eave,
    };
    // a run or a plate is a length like any other
    let unknown = match plan.find {
        Find::PitchB => Unknown::Pitch,
        _ => Unknown::Span,
    };
    let mut buildable: Vec<SidesBuildable> =
        rounded(unknown, root.value, Rounding::Nearest, writing)
            .into_iter()
            .filter_map(|(value, written)| {
                let apart = peaks_apart(plan, fixed.with(plan.find, value)).ok()?;
                Some(SidesBuildable { value, written, peaks_apart: inches(apart) })
            })
            .collect();
    buildable.dedup_by(|a, b| (a.value - b.value).abs() < LAST_BITS);
    Ok(SidesAnswer {
        value: root.value,
        root,
        sides: [side("A", inches(0.0), a), side("B", plate_b, b)],
        fascia,
        buildable,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Entries, Key};

    fn found(fields: &[(&'static str, &str)]) -> TwoSides {
        let mut entries = Entries::default();
        let base = [("building.span", "24'"), ("eave.overhang", "12\""), ("eave.fascia", "1x8")];
        for (key, text) in base.iter().chain(fields) {
            entries.add_flag(Key::of(key).unwrap(), Some(text));
        }
        let plan = FitPlan::read(&entries).unwrap_or_else(|faults| panic!("{faults:?}"));
        find(&plan, Writing::default()).unwrap_or_else(|why| panic!("{why:?}"))
    }

    /// Planes of one pitch have one heel: with plate B 16 in higher at 6 in 12 each side rises 6 in for each foot, so the ridge moves
    /// 16 in toward B's wall. It is as much higher than over equal walls as half of that: 8 in.
    #[test]
    fn the_ridge_moves_toward_the_higher_wall() {
        let fields = [("roof.pitch", "6/12"), ("fit.find", "ridge")];
        let level = found(&fields);
        let [even] = level.answers.as_slice() else { panic!("{level:?}") };
        assert!((even.value - 144.0).abs() < 1e-6);
        for (wall, value) in [("16\"", 160.0), ("-16\"", 128.0)] {
            let two = found(&[&fields[..], &[("fit.wall_b", wall)]].concat());
            let [one] = two.answers.as_slice() else { panic!("{two:?}") };
            assert!((one.value - value).abs() < 1e-6, "{wall}: {}", one.value);
            let [a, b] = &one.sides;
            assert!((a.run.inches() - value).abs() < 1e-6);
            assert!((a.run + b.run - inches(288.0)).abs() < inches(1e-6));
            // both planes are there at one height over plate A
            let peaks = [a, b].map(|side| side.above_plate_a(side.eave.rafter.apex).inches());
            assert!((peaks[0] - peaks[1]).abs() < 1e-6, "{peaks:?}");
            let rises = a.eave.rafter.apex - even.sides[0].eave.rafter.apex;
            assert!((rises.inches() - (value - 144.0) / 2.0).abs() < 1e-6);
            // the eaves are as far apart as the plates
            let plate: f64 = wall.trim_end_matches('"').parse().unwrap();
            assert!((one.fascia.b_above_a.inches() - plate).abs() < 1e-6, "{:?}", one.fascia);
        }
    }

    /// The other way around: for a ridge 160 in from wall A the plate of B is 16 in higher.
    #[test]
    fn a_wall_is_found_for_a_ridge() {
        let two =
            found(&[("roof.pitch", "6/12"), ("fit.find", "wall-b"), ("fit.ridge_at", "160\"")]);
        let [one] = two.answers.as_slice() else { panic!("{two:?}") };
        assert!((one.value - 16.0).abs() < 1e-6, "{}", one.value);
    }
}
