//! The program's working of one roof against `docs/derivations/worked-check.md`, redone by hand.

use stepoff::catalog::{Edition, Grade, Species, sizes};
use stepoff::measure::Pressure;
use stepoff::measure::Writing;
use stepoff::measure::quantity::{InInches, feet, in_psf, inches, psf};
use stepoff::strength::heel_joint::TieKind;
use stepoff::strength::ridge_beam::{RidgeBeam, RidgeChoice};
use stepoff::strength::uplift::{Exposure, UpliftAnswer, UpliftCase};
use stepoff::strength::{HeelJoint, RoofLoad, SpanCase, WorkingStep, thrust};

const BY_HAND: &str = include_str!("../../docs/derivations/worked-check.md");
const EDITION: Edition = Edition::Irc2021;

/// Every step of the working that the page lists under `heading` has the page's result.
#[track_caller]
fn held(heading: &str, steps: &[WorkingStep], at_least: usize) {
    let section = BY_HAND
        .split("\n## ")
        .find(|section| section.starts_with(heading))
        .expect("the page has the heading");
    let mut found = 0;
    for line in section.lines().filter(|line| line.starts_with("| ")) {
        let cells: Vec<_> = line.split('|').map(str::trim).collect();
        if let Some(step) = steps.iter().find(|step| step.what == cells[1]) {
            assert!(
                step.result.write(Writing::default()).starts_with(cells[3]),
                "by hand: {line}\nprogram: {step}"
            );
            found += 1;
        }
    }
    assert!(found >= at_least, "{heading}: {found} steps held");
}

fn dead_of_the_slope() -> Pressure {
    // design method, section 4: the dead load of the slope over its cosine
    psf(10.0) / 0.5_f64.atan().cos()
}

fn rafter(dead: Pressure) -> SpanCase {
    SpanCase::rafter(
        Species::SprucePineFir,
        Grade::No2,
        sizes::size("2x8").expect("a listed size"),
        inches(16.0),
        RoofLoad::ground_snow_psf(30.0),
        dead,
        false,
    )
}

#[test]
fn rafters_and_joists() {
    let in_table = rafter(psf(10.0));
    let answer = in_table.solve().unwrap();
    held("Rafter, in the table's terms", &in_table.working(&answer, EDITION), 9);
    assert_eq!(answer.span_in, 181);

    assert!((in_psf(dead_of_the_slope()) - 11.180).abs() < 0.0005);
    let sloped = rafter(dead_of_the_slope());
    let answer = sloped.solve().unwrap();
    held("Rafter, with the dead load", &sloped.working(&answer, EDITION), 4);
    assert_eq!(answer.span_in, 178);

    let joist = SpanCase::ceiling_joist(
        Species::SprucePineFir,
        Grade::No2,
        sizes::size("2x6").unwrap(),
        inches(16.0),
        psf(10.0),
        psf(5.0),
    );
    let answer = joist.solve().unwrap();
    held("Ceiling joist", &joist.working(&answer, EDITION), 4);
}

#[test]
fn heel_joint_and_raised_tie() {
    let mut joint = HeelJoint {
        roof_span: feet(24.0),
        rise_in_12: 6.0,
        spacing: inches(16.0),
        load: RoofLoad::ground_snow_psf(30.0),
        dead: dead_of_the_slope(),
        edition: EDITION,
        tie_height: inches(0.0),
        tie: TieKind::CeilingJoist,
    };
    let answer = joint.solve().unwrap();
    held("Thrust and heel joint", &joint.working(&answer), 5);
    assert_eq!(answer.nails, Some(4));
    joint.tie_height = inches(18.0);
    let raised = joint.solve().unwrap();
    assert_eq!(raised.nails, Some(6));
    let force = joint.working(&raised).into_iter().find(|step| step.what == "tie force").unwrap();
    assert_eq!(force.result.write(Writing::default()), "731.3 lb");
    let adjusted = thrust::adjusted_span(178, raised.tie_ratio).unwrap();
    assert_eq!(adjusted.inches(), 135.0);
    // 12 ft of run at 6 in 12 rise 6 ft, and 18 in are a quarter of it
    let gable = thrust::Gable::new(joint.roof_span, joint.rise_in_12, joint.tie_height).unwrap();
    assert_eq!((gable.ridge_height().inches(), gable.tie_ratio), (72.0, 0.25));
}

#[test]
fn ridge_beam_and_uplift() {
    let beam = RidgeBeam {
        roof_span: feet(24.0),
        beam_span: feet(12.0),
        load: RoofLoad::ground_snow_psf(30.0),
        dead: dead_of_the_slope(),
        bearing_length: inches(3.5),
    };
    let demand = beam.demand().unwrap();
    held("Instead of ties", &beam.working(&demand), 4);
    let RidgeChoice::BuiltUp(found) = beam.choose(Species::DouglasFirLarch, Grade::No2).unwrap()
    else {
        panic!("four plies of 2x12 will do")
    };
    let four = found.iter().find(|b| (b.plies, b.size.nominal) == (4, "2x12")).unwrap();
    assert!((four.carries.inches() - 156.9).abs() < 0.05);

    let rafter = UpliftCase {
        exposure: Exposure::B,
        wind_mph: 118.0,
        roof_span: feet(24.0),
        rise_in_12: 6.0,
        spacing: inches(16.0),
        overhang: inches(12.0),
        mean_roof_height: feet(14.0),
        beyond_8_ft_of_corners: false,
        hip_roof: false,
        full_walls_above: 0,
        dead: psf(15.0),
    };
    let UpliftAnswer::Force(force) = rafter.solve().unwrap() else { panic!("inside the table") };
    assert_eq!(rafter.working(&force)[2].result.write(Writing::default()), "120 lb");
}
