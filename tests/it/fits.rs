//! `fit` over random roofs: inverse, then forward, gives the required number, for every pair.

use proptest::prelude::*;
use stepoff::fit::search::Found;
use stepoff::fit::{Aim, Fit, Model, Proof, held, one, sides};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::measure::{Pitch, Writing};
use stepoff::plan::{FitPlan, Measurement, Quantity, Unknown};

use crate::rafters::{Fields, roofs};
use crate::support::entries;

/// The numbers that can be found by a measurement, with the user's words for them.
const UNKNOWNS: [(Unknown, &str); 6] = [
    (Unknown::Pitch, "pitch"),
    (Unknown::Overhang, "overhang"),
    (Unknown::Seat, "seat"),
    (Unknown::Span, "span"),
    (Unknown::WallHeight, "wall-height"),
    (Unknown::FasciaDepth, "fascia-depth"),
];

/// The plan of a random roof with the question `find` and one measurement above the floor: the roof's
/// own figure with the unknown at `value`.
fn plan(
    fields: &Fields,
    (unknown, find): (Unknown, &str),
    quantity: Quantity,
    value: f64,
) -> Option<FitPlan> {
    let mut all = fields.clone();
    all.extend([
        ("fit.find", find.to_owned()),
        ("fit.above", "floor".to_owned()),
        ("eave.fascia_depth", "7-1/4\"".to_owned()),
        ("eave.soffit", "3/8\"".to_owned()),
        // another quantity and number, in full digits, replace it
        ("fit.peak", "24\"".to_owned()),
    ]);
    let mut plan = FitPlan::read(&entries(&all)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let model = Model::of(&plan).with(unknown, value);
    let asked = inches(model.measure(&model.build().ok()?, quantity)?);
    plan.measured = vec![Measurement { quantity, asked }];
    Some(plan)
}

/// The roof's figure with the unknown at `value`, less the required one.
fn forward(plan: &FitPlan, unknown: Unknown, value: f64) -> f64 {
    let model = Model::of(plan).with(unknown, value);
    let eave = model.build().unwrap_or_else(|why| panic!("{why:?}"));
    let found = model.measure(&eave, plan.measured[0].quantity);
    found.unwrap_or(f64::NAN) - plan.measured[0].asked.inches()
}

/// A value of the unknown within the range that is tried, `part` of the way.
fn somewhere(unknown: Unknown, part: f64) -> f64 {
    let (from, to) = match unknown {
        Unknown::Pitch => (1.0, 20.0),
        Unknown::Overhang => (0.0, 60.0),
        Unknown::Seat => (0.5, 6.0),
        Unknown::Span => (60.0, 700.0),
        Unknown::WallHeight => (60.0, 160.0),
        _ => (1.0, 16.0),
    };
    from + (to - from) * part
}

fn holds(found: &Found, value: f64) -> bool {
    found.is_flat()
        || found
            .roots
            .iter()
            .any(|root| (root.value - value).abs() < if root.touches { 1e-2 } else { 1e-4 })
        || found.stretches.iter().any(|it| (it.from - 1e-6..=it.to + 1e-6).contains(&value))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Any number found by any measurement: every solution gives the measurement back within 1e-6 in,
    /// and the value from which the measurement was taken is among the solutions.
    #[test]
    fn inverse_then_forward(
        fields in roofs(),
        which in 0..UNKNOWNS.len(),
        quantity in 0..Quantity::ALL.len(),
        part in 0.0_f64..1.0,
    ) {
        let (unknown, _) = UNKNOWNS[which];
        let quantity = Quantity::ALL[quantity];
        let value = somewhere(unknown, part);
        let Some(plan) = plan(&fields, UNKNOWNS[which], quantity, value) else {
            return Ok(());
        };
        let found = one::search_for(&Model::of(&plan), unknown, plan.measured[0]);
        for root in &found.roots {
            prop_assert!(forward(&plan, unknown, root.value).abs() < 1e-6, "{root:?}");
            prop_assert!(root.bracket.0 <= root.value && root.value <= root.bracket.1);
        }
        for stretch in &found.stretches {
            for at in [0.0, 0.3, 1.0] {
                let value = stretch.from + (stretch.to - stretch.from) * at;
                prop_assert!(forward(&plan, unknown, value).abs() < 1e-6, "{stretch:?}");
            }
        }
        prop_assert!(holds(&found, value), "{unknown:?} {value} by {quantity:?}: {found:?}");
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(20))]

    /// A measurement outside the possible range has no solution, not even the nearest value.
    #[test]
    fn beyond_the_reach_there_is_no_solution(
        fields in roofs(),
        which in 0..4_usize,
        quantity in 0..Quantity::ALL.len(),
        beyond in 0.01_f64..100.0,
    ) {
        let (unknown, _) = UNKNOWNS[which];
        let quantity = Quantity::ALL[quantity];
        let value = somewhere(unknown, 0.4);
        let Some(mut plan) = plan(&fields, UNKNOWNS[which], quantity, value) else {
            return Ok(());
        };
        let found = one::search_for(&Model::of(&plan), unknown, plan.measured[0]);
        let most = found.greatest.unwrap().1;
        plan.measured[0].asked += inches(most + beyond);
        let fits = one::find(&plan, unknown, Writing::default());
        prop_assert!(fits[0].has_no_solution());
        let (_, (_, reached)) = fits[0].reach.unwrap();
        prop_assert!(reached < plan.measured[0].asked.inches());
    }

    /// What removes a mismatch does remove it, and the first measurement is still met.
    #[test]
    fn removals_meet_both(fields in roofs(), off in -3.0_f64..3.0, part in 0.1_f64..0.6) {
        let value = somewhere(Unknown::Overhang, part);
        let quantity = Quantity::FasciaTop;
        let Some(mut plan) = plan(&fields, UNKNOWNS[1], quantity, value) else {
            return Ok(());
        };
        let model = Model::of(&plan).with(Unknown::Overhang, value);
        let eave = model.build().unwrap();
        let ridge = model.measure(&eave, Quantity::RidgeTop).unwrap();
        plan.measured.push(Measurement { quantity: Quantity::RidgeTop, asked: inches(ridge + off) });
        plan.meet = Some(quantity);
        let fits = one::find(&plan, Unknown::Overhang, Writing::default());
        for answer in &fits[0].answers {
            for removal in &answer.removals {
                let model = Model::of(&plan)
                    .with(Unknown::Overhang, removal.first_value)
                    .with(removal.second, removal.second_value);
                let eave = model.build().unwrap();
                for mismatch in held::mismatches(&plan, &model, &eave) {
                    prop_assert!(mismatch.over().inches().abs() < 1e-6, "{removal:?} {mismatch:?}");
                }
            }
        }
    }

    /// The largest value keeps every limit, and slightly more breaks one; the same holds for the value
    /// to build.
    #[test]
    fn the_largest_is_kept_and_no_more(fields in roofs(), which in 0..4_usize, board in 6_u32..26, cap in 5_u32..40) {
        let (unknown, find) = UNKNOWNS[which];
        let mut all = fields;
        all.extend([
            ("fit.find", find.to_owned()),
            ("fit.above", "plate".to_owned()),
            ("fit.board", format!("{board}'")),
            ("fit.cap", format!("{cap}'")),
        ]);
        let plan = FitPlan::read(&entries(&all)).unwrap();
        let kept = |value: f64| {
            let model = Model::of(&plan).with(unknown, value);
            model.build().is_ok_and(|eave| {
                held::caps(&plan, &model, &eave).iter().all(held::CapHeld::is_kept)
                    && (unknown != Unknown::Seat || held::findings(&plan, &eave).iter().all(|finding| {
                        finding.verdict != stepoff::rules::Verdict::Fails
                    }) && value <= plan.eave.rafter.plate.inches() + 1e-9)
            })
        };
        let fits = one::find(&plan, unknown, Writing::default());
        prop_assert_eq!(fits[0].aim, Aim::Largest);
        for answer in &fits[0].answers {
            prop_assert!(kept(answer.value));
            let Proof::Edge(end) = answer.proof else { panic!("{:?}", answer.proof) };
            if end.outside.is_some() {
                prop_assert!(!kept(answer.value + 1e-6));
                prop_assert!(!answer.stopped_by.is_empty());
            }
            for buildable in &answer.buildable {
                prop_assert_eq!(buildable.keeps, kept(buildable.value), "{}", &buildable.written);
                prop_assert!(!buildable.keeps || buildable.value <= answer.value + 1e-6);
            }
        }
        // another scan finds nothing larger
        let largest = fits[0].answers.last().map_or(f64::NEG_INFINITY, |answer| answer.value);
        let (from, to) = fits[0].looked_through;
        let larger = (0..97).map(|n| from + (to - from) * f64::from(n) / 96.0).filter(|value| *value > largest + 1e-6);
        prop_assert!(larger.into_iter().all(|value| !kept(value)));
    }

    /// Two sides meet at one height, wherever walls and pitches differ; level fascias are level.
    #[test]
    fn two_sides_meet(fields in roofs(), wall in -30_i32..30, pitch in 32_u32..240, part in 0.25_f64..0.75, which in 0..3_usize) {
        let span = stepoff::measure::read::length(&fields[0].1).unwrap().inches();
        let mut all = fields;
        let (find, others) = [
            ("ridge", vec![("fit.wall_b", format!("{}\"", wall.unsigned_abs())), ("fit.pitch_b", format!("{}/12", f64::from(pitch) / 16.0))]),
            ("wall-b", vec![("fit.ridge_at", format!("{:.3}\"", span * part)), ("fit.pitch_b", format!("{}/12", f64::from(pitch) / 16.0))]),
            ("pitch-b", vec![("fit.ridge_at", format!("{:.3}\"", span * part)), ("fit.wall_b", format!("{}{}\"", if wall < 0 { "-" } else { "" }, wall.abs()))]),
        ][which].clone();
        all.push(("fit.find", find.to_owned()));
        all.push(("fit.fascia_line", "level".to_owned()));
        all.extend(others);
        let plan = FitPlan::read(&entries(&all)).unwrap_or_else(|faults| panic!("{faults:?}"));
        let Ok(found) = sides::find(&plan, Writing::default()) else { return Ok(()) };
        for answer in &found.answers {
            let [a, b] = &answer.sides;
            let apart = a.above_plate_a(a.eave.rafter.apex) - b.above_plate_a(b.eave.rafter.apex);
            prop_assert!(apart.inches().abs() < 1e-6);
            prop_assert!(((a.run + b.run).inches() - span).abs() < 1e-9);
            if !answer.fascia.overhangs.is_empty() {
                let apart = a.above_plate_a(a.eave.fascia_top.above_plate) - b.above_plate_a(b.eave.fascia_top.above_plate);
                prop_assert!(apart.inches().abs() < 1e-6);
            }
        }
    }
}

/// The one fit of these fields.
fn fit(fields: &[(&'static str, &str)]) -> Fit {
    let fields: Fields = fields.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    let plan = FitPlan::read(&entries(&fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let unknown = plan.unknown().unwrap();
    one::find(&plan, unknown, Writing::default()).remove(0)
}

#[track_caller]
fn values(fields: &[(&'static str, &str)], expected: &[f64]) -> Fit {
    let fit = fit(fields);
    let found: Vec<f64> = fit.answers.iter().map(|answer| answer.value).collect();
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (found, expected) in found.iter().zip(expected) {
        // the verdicts of rules and caps forgive the last 1e-9 in
        assert!((found - expected).abs() < 1e-8, "{found} {expected}");
    }
    // what two steps round to the same number is written once
    for pair in fit.answers.iter().flat_map(|answer| answer.buildable.windows(2)) {
        assert!((pair[0].value - pair[1].value).abs() > 1e-6, "{}", pair[0].written);
    }
    fit
}

/// 9 in 12 is the 3-4-5 triangle: secant 1.25, tangent 0.75. The seat of a 2x6 on a 2x4 plate is
/// limited by a notch of 5.5 / 4 in, so the heel stand is 3/4 x 5.5 x 1.25 = 5.15625 in; over a run of
/// 84 in less 3/4 in of ridge the top is 5.15625 + 83.25 x 0.75 = 67.59375 in.
#[test]
fn a_pitch_from_a_ridge_top_by_the_3_4_5_triangle() {
    let given = [("building.span", "14'"), ("fit.find", "pitch")];
    values(&[&given[..], &[("fit.ridge_top", "67-19/32\"")]].concat(), &[9.0]);
    // the peak is 3/4 x 3/4 in higher
    values(&[&given[..], &[("fit.peak", "68-5/32\"")]].concat(), &[9.0]);
    // the same above the floor, by a wall of 97-1/8 in
    values(
        &[&given[..], &[("fit.ridge_top", "13' 8-23/32\""), ("fit.above", "floor")]].concat(),
        &[9.0],
    );
}

/// 5 in 12 is the 5-12-13 triangle: the plate decides (3.5 x 5/13 = 1.346 in, under 1.375), so the heel
/// stand is 5.5 x 13/12 - 3.5 x 5/12 = 4.5 in. If the notch decides it is 4.125 x secant: 4.5 in at a
/// secant of 12/11, a rise of 12 x sqrt(23) / 11. Between them it dips to 4.486 in.
#[test]
fn a_heel_stand_has_two_pitches_about_the_switch_of_the_seat() {
    let given = [("building.span", "14'"), ("fit.find", "pitch")];
    let steeper = 12.0 * 23.0_f64.sqrt() / 11.0;
    values(&[&given[..], &[("fit.heel_stand", "4-1/2\"")]].concat(), &[5.0, steeper]);
    // the dip is the switch, at sine 1.375 / 3.5: 4.125 / sqrt(1 - (11/28)^2) = 4.4857 in
    let none = values(&[&given[..], &[("fit.heel_stand", "4.48\"")]].concat(), &[]);
    let ((_, least), _) = none.reach.unwrap();
    let dip = 4.125 / (1.0 - (11.0_f64 / 28.0).powi(2)).sqrt();
    assert!(least > dip - 1e-9 && least < dip + 0.01, "{least} {dip}");
}

/// At 9 in 12 the fascia's top falls 3/4 in for each inch out from a heel stand of 5.15625 in: level
/// with the plate at 6.875 in.
#[test]
fn an_overhang_that_lands_the_fascia_by_hand() {
    let given = [
        ("building.span", "14'"),
        ("roof.pitch", "9/12"),
        ("eave.fascia", "1x8"),
        ("fit.find", "overhang"),
    ];
    values(&[&given[..], &[("fit.fascia_top", "0\"")]].concat(), &[6.875]);
    // 7-1/4 in of fascia below it
    values(&[&given[..], &[("fit.fascia_bottom", "-7-1/4\"")]].concat(), &[6.875]);
    // a rise of 36 in over 48 in is the same slope, whatever the file says
    let mut by_rise = [&given[..], &[("fit.fascia_top", "0\""), ("fit.rise_48", "36\"")]].concat();
    by_rise[1] = ("roof.pitch", "3/12");
    values(&by_rise, &[6.875]);
}

/// At 9 in 12 the ridge top is 67.59375 in above the plate: 12 ft above the ground with a floor 18 in
/// up requires a wall of 144 - 18 - 67.59375 = 58.40625 in. A mark 4 in below the plate of a 97-1/8 in
/// wall, with the top 70 in above it, requires a wall 70 - 4 - 67.59375 = -1.59375 in higher.
#[test]
fn a_wall_height_by_hand() {
    let given = [("building.span", "14'"), ("roof.pitch", "9/12"), ("fit.find", "wall-height")];
    values(
        &[
            &given[..],
            &[("fit.above", "grade"), ("site.floor_height", "18\""), ("fit.ridge_top", "12'")],
        ]
        .concat(),
        &[58.40625],
    );
    values(
        &[&given[..], &[("fit.above", "mark"), ("fit.mark", "-4\""), ("fit.ridge_top", "70\"")]]
            .concat(),
        &[97.125 - 1.59375],
    );
}

/// A square tail ends the blank with its top corner: 16 ft less the body of (144 - 3/4) x 1.25 =
/// 179.0625 in leaves 12.9375 in of tail, 10.35 in level.
#[test]
fn the_largest_overhang_from_a_16_footer_by_hand() {
    let given = [
        ("building.span", "24'"),
        ("roof.pitch", "9/12"),
        ("rafter.tail", "square"),
        ("fit.find", "overhang"),
        ("fit.board", "16'"),
    ];
    let fit = values(&given, &[10.35]);
    assert_eq!(fit.answers[0].stopped_by, ["board that the rafter is cut from"]);
    // 10-5/16 in is the sixteenth below
    assert_eq!(fit.answers[0].buildable[0].value, 10.3125);
}

/// A quarter of 5.5 in square to the edge is a level seat of 1.375 x sqrt(2) at 12 in 12.
#[test]
fn the_deepest_seat_by_hand() {
    let given = [("building.span", "14'"), ("roof.pitch", "12/12"), ("fit.find", "seat")];
    let fit = values(&given, &[1.375 * 2.0_f64.sqrt()]);
    assert_eq!(fit.answers[0].stopped_by, ["birdsmouth depth"]);
    // on a low roof the plate limits it; the user's own limit applies
    let mut low = given.to_vec();
    low[1] = ("roof.pitch", "3/12");
    assert!(values(&low, &[3.5]).answers[0].stopped_by[0].starts_with("width of the plate"));
    let mut own = given.to_vec();
    own.push(("limits.notch", "0.2 because the drawings say so"));
    values(&own, &[1.1 * 2.0_f64.sqrt()]);
    // a 2x4 with a tail has no wood to spare over the notch
    let mut shallow = given.to_vec();
    shallow.push(("rafter.stock", "2x4"));
    assert_eq!(
        values(&shallow, &[]).broken_now,
        ["birdsmouth depth", "wood left over the tail's notch"]
    );
}

/// Two full courses with one gap are 96-1/8 in of slope; a third course of the least strip and one more
/// gap make 120-1/4 in. The slope is (84 in + overhang) x sqrt(1.25).
#[test]
fn overhangs_without_a_narrow_row_by_hand() {
    let given = [
        ("building.length", "22'"),
        ("building.span", "14'"),
        ("roof.pitch", "6/12"),
        ("eave.fascia", "1x8"),
        ("fit.find", "overhang"),
        ("fit.avoid", "narrow-row"),
    ];
    let fit = fit(&given);
    let secant = 1.25_f64.sqrt();
    // the deck is laid in whole ticks of 1/128 in
    for (answer, slope) in fit.answers.iter().zip([96.125, 120.25]) {
        let expected = slope / secant - 84.0;
        assert!((answer.value - expected).abs() < 0.01, "{} {expected}", answer.value);
        assert!(answer.buildable[0].keeps);
    }
    assert_eq!(fit.answers.len(), 2);
}

/// The heel stand of a 2x4 with a tail is decided by the least bearing: 3.5 x sqrt(1.25) - 1.5 x 0.5 =
/// 3.163 in; without a tail by the notch: 3/4 x 3.5 x sqrt(1.25) = 2.935 in. No heel stand is between.
#[test]
fn a_measurement_in_a_leap_is_told() {
    let fit = values(
        &[
            ("building.span", "14'"),
            ("roof.pitch", "6/12"),
            ("rafter.stock", "2x4"),
            ("eave.fascia", "1x6"),
            ("fit.find", "overhang"),
            ("fit.heel_stand", "3\""),
        ],
        &[],
    );
    assert_eq!(fit.jumps.len(), 1);
    let jump = fit.jumps[0];
    let secant = 1.25_f64.sqrt();
    assert!((jump.above.0 - 0.75).abs() < 1e-6, "{jump:?}");
    assert!((jump.below.1 + 3.0 - 0.75 * 3.5 * secant).abs() < 1e-9);
    assert!((jump.above.1 + 3.0 - (3.5 * secant - 0.75)).abs() < 1e-9);
}

/// At 6 in 12 a wall 16 in higher moves the ridge 16 / 0.5 / 2 = 16 in toward it. With 6 in 12 against
/// 9 in 12 (heel stands 4.125 x sqrt(1.25) and 5.15625 in) run A solves heel A + a / 2 = heel B + (168 - a) x 3/4.
#[test]
fn unequal_sides_by_hand() {
    let ask = |more: &[(&'static str, &str)]| {
        let fields: Fields =
            [("building.span", "14'"), ("roof.pitch", "6/12"), ("fit.find", "ridge")]
                .iter()
                .chain(more)
                .map(|(key, text)| (*key, (*text).to_owned()))
                .collect();
        let plan = FitPlan::read(&entries(&fields)).unwrap();
        sides::find(&plan, Writing::default()).unwrap()
    };
    let walls = ask(&[("fit.wall_b", "16\"")]);
    assert_eq!(walls.answers.len(), 1);
    assert!((walls.answers[0].value - 100.0).abs() < 1e-9);
    // a foot of overhang on either side leaves fascia B 16 in higher; 32 in more of overhang level it
    let fascia = &walls.answers[0].fascia;
    assert!((fascia.b_above_a.inches() - 16.0).abs() < 1e-9);
    assert!((fascia.overhangs[0].value - 44.0).abs() < 1e-9);
    let pitches = ask(&[("fit.pitch_b", "9/12"), ("fit.fascia_line", "level")]);
    let expected = (5.15625 + 126.0 - 4.125 * 1.25_f64.sqrt()) / 1.25;
    assert!((pitches.answers[0].value - expected).abs() < 1e-9);
    // heel A - 12 / 2 = heel B - overhang x 3/4
    let overhang = (5.15625 - 4.125 * 1.25_f64.sqrt() + 6.0) / 0.75;
    let [_, b] = &pitches.answers[0].sides;
    assert!((b.eave.rafter.plan.overhang.inches() - overhang).abs() < 1e-9);
    // a wall higher than the roof rises has no ridge between
    let shed = ask(&[("fit.wall_b", "8'")]);
    assert!(shed.answers.is_empty() && shed.reach.unwrap().1 < 0.0);
}

/// 2x8 beside 2x6 at 5 in 12 (5-12-13), both seats the plate's 3-1/2 in: 1.75 x 13/12 in.
#[test]
fn a_plate_drop_by_hand() {
    let fields: Fields = [
        ("building.span", "14'"),
        ("roof.pitch", "5/12"),
        ("fit.find", "plate-drop"),
        ("fit.deeper", "2x8"),
    ]
    .map(|(key, text)| (key, text.to_owned()))
    .to_vec();
    let plan = FitPlan::read(&entries(&fields)).unwrap();
    let drop = stepoff::fit::plate_drop::find(&plan, plan.deeper.as_ref().unwrap()).unwrap();
    assert!((drop.drop.inches() - 1.75 * 13.0 / 12.0).abs() < 1e-9);
    assert!((drop.hangs_lower.inches() - 1.75 * 13.0 / 12.0).abs() < 1e-9);
    // or on one plate: 7.25 x 13/12 - seat x 5/12 = 4.5 in
    let seat = (7.25 * 13.0 / 12.0 - 4.5) * 12.0 / 5.0;
    assert_eq!(drop.seats.len(), 1);
    assert!((drop.seats[0].0.value - seat).abs() < 1e-9);
    assert_eq!(drop.seats[0].1, ["birdsmouth depth"]);
}

/// tests/data/worked_examples.toml, miller-rise-from-ridge-height: a ridge 64 in up over 8 ft of run
/// is 8 in 12; the height of the heel above the plate is added for the ridge above the plate.
#[test]
fn the_published_ridge_height_gives_its_rise() {
    let pitch = Pitch::rise_in_12(8.0).unwrap();
    // 2x6 on a 2x4 plate: a notch of a quarter leaves three quarters of the depth
    let heel = 0.75 * 5.5 * pitch.slope_factor();
    let fields: Fields = [
        ("building.span", "16'".to_owned()),
        ("fit.find", "pitch".to_owned()),
        ("fit.peak", format!("{}\"", 64.0 + heel)),
    ]
    .to_vec();
    let plan = FitPlan::read(&entries(&fields)).unwrap();
    let fit = one::find(&plan, Unknown::Pitch, Writing::default()).remove(0);
    assert_eq!(fit.answers.len(), 1);
    assert!((fit.answers[0].value - 8.0).abs() < 0.001);
}
