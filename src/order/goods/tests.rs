//! Faces and edges against a second route: plan area by slope factor, the framing square's 17 of run for a hip, and one
//! gable counted as a gable and as any other roof.

use approx::assert_abs_diff_eq;
use proptest::prelude::*;

use super::covered::{Covered, How};
use super::roof::Trades;
use super::{Roof, Sheathed};
use crate::deck::{RoofDeck, Watch, lay};
use crate::frame::{CommonRafter, Frame, HungFrame};
use crate::measure::quantity::InInches;
use crate::order::fasteners;
use crate::order::need::{Amount, Need};
use crate::order::roofing;
use crate::plan::{Entries, OrderPlan, file};
use crate::roof::{EdgeKind, Shape};

/// What most of these roofs are to have besides their shape.
const GOODS: &str = "[roofing]\nkind = \"shingles\"\nice = \"yes\"\n[attic]\nclimate_zone = \"5\"\nridge_vent = 18\n\
    soffit_vent = 9\n[insulation]\nbaffles = \"yes\"\n[rafter]\ntie_down = 500\n[ridge]\nstraps = \"yes\"\n";

fn plan(text: &str) -> OrderPlan {
    let mut entries = Entries::default();
    let reading = file::read(text, &mut entries);
    assert!(reading.faults.is_empty(), "{text}\n{:?}", reading.faults);
    OrderPlan::read(&entries).unwrap_or_else(|faults| panic!("{text}\n{faults:?}"))
}

fn hung(plan: &OrderPlan) -> HungFrame {
    let rafter = CommonRafter::build(&plan.gable.rafter).unwrap();
    let shape = Shape::of(&plan.gable, rafter.heel_stand);
    HungFrame::build(&plan.gable, &rafter, &shape)
        .unwrap_or_else(|why| panic!("{}", why.why.write(crate::measure::Writing::default())))
}

fn of_hung(plan: &OrderPlan) -> Covered {
    Covered::of_faces(plan, &hung(plan))
}

/// A hip roof: length and span in feet, rise in 12, overhang in inches.
fn hip(length: u32, span: u32, rise: u32, overhang: u32) -> String {
    format!(
        "[building]\nlength = \"{length}'\"\nspan = \"{span}'\"\n[roof]\npitch = \"{rise}/12\"\nnear_end = \"hip\"\n\
         far_end = \"hip\"\n[eave]\noverhang = '{overhang}\"'\n"
    )
}

fn length(covered: &Covered, kind: EdgeKind) -> f64 {
    covered.of(kind).map(|edge| edge.length).sum()
}

fn need<'a>(trades: &'a Trades, key: &str) -> &'a Need {
    trades.needs.iter().find(|need| need.key == key).unwrap_or_else(|| panic!("no {key}"))
}

fn units(need: &Need) -> f64 {
    match &need.amount {
        Amount::Units(units) => *units,
        Amount::Rolls(laid) => roofing::rolls(std::slice::from_ref(laid)) as f64,
    }
}

fn counted(plan: &OrderPlan, frame: &HungFrame) -> Trades {
    let covered = Covered::of_faces(plan, frame);
    let roof =
        Roof { plan, sticks: frame.sticks(), covered, deck: Sheathed::of_frame(plan, frame) };
    let mut trades = Trades::default();
    roof.roofing(&mut trades);
    roof.vents(&mut trades);
    roof.connectors(&mut trades);
    trades
}

#[test]
fn a_hip_roof_is_its_plan_by_the_slope_factor_and_its_hips_are_on_17_of_run() {
    // 30 by 20 ft, 6 in 12, overhang 12 in: 32 by 22 ft in plan; 13.4164 in of slope for 12 of run. A hip has 18 in for
    // 12 of common run (sqrt(12^2 + 12^2 + 6^2)): 17 of run and 6 of rise on the square, here exactly
    let covered = of_hung(&plan(&hip(30, 20, 6, 12)));
    let feet = |kind| length(&covered, kind) / 12.0;
    assert_abs_diff_eq!(covered.area_in2() / 144.0, 32.0 * 22.0 * 1.25_f64.sqrt(), epsilon = 1e-9);
    assert_abs_diff_eq!(covered.slanted_in2(), covered.area_in2(), epsilon = 1e-9);
    assert_abs_diff_eq!(feet(EdgeKind::Hip), 4.0 * 11.0 * 1.5, epsilon = 1e-9);
    assert_abs_diff_eq!(feet(EdgeKind::Ridge), 10.0, epsilon = 1e-9);
    assert_abs_diff_eq!(feet(EdgeKind::Eave), 108.0, epsilon = 1e-9);
    assert_eq!(covered.of(EdgeKind::Rake).count(), 0);
    // eaves over walls: 100 ft, without the corners
    let over: f64 = covered.of(EdgeKind::Eave).map(|edge| edge.over_walls).sum();
    assert_abs_diff_eq!(over, 1200.0, epsilon = 1e-9);
    assert!(covered.of(EdgeKind::Eave).all(|edge| (edge.past_wall - 12.0).abs() < 1e-9));
}

#[test]
fn a_hip_roof_takes_what_is_counted_by_hand() {
    let with_soffit = hip(30, 20, 6, 12).replace("[eave]\n", "[eave]\nsoffit = '3/8\"'\n");
    let plan = plan(&(with_soffit + GOODS));
    let frame = hung(&plan);
    let trades = counted(&plan, &frame);
    // caps each 5 in and one more: hips of 198 in, a ridge of 120 in
    let caps = 4 * (40 + 1) + 25;
    let nails = |joint: &str| trades.nails.iter().find(|one| one.joint == joint).unwrap().count;
    assert_eq!(nails("ridge caps"), 2 * caps);
    // 80 caps in a bundle
    assert_abs_diff_eq!(units(need(&trades, "ridge cap")), caps as f64 / 80.0, epsilon = 1e-9);
    // 787.096 sq ft: 10 percent spare, and 4 percent where hips cut, which is everywhere
    let squares = 32.0 * 22.0 * 1.25_f64.sqrt() / 100.0 * 1.14;
    assert_abs_diff_eq!(units(need(&trades, "shingles")), squares * 3.0, epsilon = 1e-9);
    // 108 ft of eaves; 80 strips in a square, so 26.67 in a bundle, each 3 ft
    assert_abs_diff_eq!(units(need(&trades, "starter")), 108.0 / 80.0, epsilon = 1e-9);
    // each eave by itself in 10 ft lapped 2 in: 32 ft takes 4, 22 ft takes 3
    assert_abs_diff_eq!(units(need(&trades, "drip edge")), 14.0, epsilon = 1e-9);
    // a plane of 147.6 in takes 36, then 34 each: the barrier is 40.25 in up and lapped 2 in. The courses of a side get
    // shorter by twice their rise on the slope's plan
    let low = 36.0 * 1.25_f64.sqrt() - 2.0;
    let runs = |eave: f64| {
        let at = |course: f64| eave - 2.0 * (low + 34.0 * course) / 1.25_f64.sqrt();
        (0..4).map(|course| at(f64::from(course))).sum::<f64>()
    };
    let Amount::Rolls(laid) = &need(&trades, "underlayment").amount else { panic!("rolls") };
    let sum: f64 = laid.runs.iter().map(|run| run.inches()).sum();
    assert_abs_diff_eq!(sum, 2.0 * runs(32.0 * 12.0) + 2.0 * runs(22.0 * 12.0), epsilon = 1e-6);
    // 600 sq ft of attic at 1 in 300 is 288 sq in; half of it at the eaves is 16 ft of 9 sq in
    assert_abs_diff_eq!(units(need(&trades, "soffit vent")), 16.0, epsilon = 1e-9);
    assert_abs_diff_eq!(units(need(&trades, "ridge vent")), 3.0, epsilon = 1e-9);
    // a tie-down wherever a rafter is toenailed to a plate, hips too
    let seats = fasteners::seats_on_plates(frame.sticks());
    assert_abs_diff_eq!(units(need(&trades, "tie-down 500")), seats as f64, epsilon = 1e-9);
    // the commons of the ridge's two sides, those on its ends among them: 16 in layout over 120 in
    assert!(units(need(&trades, "ridge strap")) >= 8.0);
}

#[test]
fn an_l_has_its_valleys_lined_and_a_dormer_its_walls_flashed() {
    // 36 by 24 ft with a wing of 16 ft, 8 in 12: 12 in of common run make sqrt(12^2 + 12^2 + 8^2) = 18.762 in of valley
    let l = "[building]\nlength = \"36'\"\nspan = \"24'\"\n[roof]\npitch = \"8/12\"\n[eave]\noverhang = \"1'\"\n[rake]\n\
             overhang = \"1'\"\n[[wing]]\nname = \"ell\"\non = \"B\"\nstart = \"10'\"\nspan = \"16'\"\nprojection = \"12'\"\n";
    let plan_of_l = plan(&(l.to_owned() + GOODS));
    let frame = hung(&plan_of_l);
    let trades = counted(&plan_of_l, &frame);
    let valley = 9.0 * 12.0 * (2.0 + (8.0_f64 / 12.0).powi(2)).sqrt();
    let Amount::Rolls(laid) = &need(&trades, "valley lining").amount else { panic!("rolls") };
    assert_eq!(laid.runs.len(), 2);
    for run in &laid.runs {
        assert_abs_diff_eq!(run.inches(), valley, epsilon = 1e-6);
    }
    let covered = Covered::of_faces(&plan_of_l, &frame);
    // main 38 by 26 ft, and the wing from its end at 13 ft to the main eave, then two triangles to where its ridge dies
    let plan_ft2 = 38.0 * 26.0 + 18.0 * 12.0;
    assert_abs_diff_eq!(
        covered.area_in2() / 144.0,
        plan_ft2 * (1.0 + 4.0 / 9.0_f64).sqrt(),
        epsilon = 1e-6
    );
    assert!(covered.against.is_empty());

    let dormer = "[building]\nlength = \"36'\"\nspan = \"26'\"\n[roof]\npitch = \"10/12\"\n[eave]\noverhang = \"1'\"\n[rake]\n\
                  overhang = \"1'\"\n[[dormer]]\nname = \"d\"\non = \"A\"\nstart = \"14'\"\nspan = \"7'\"\nface = \"3'\"\n\
                  wall = \"6'\"\npitch = \"10/12\"\nshape = \"gable\"\n";
    let covered = of_hung(&plan(dormer));
    let of = |how: How| -> f64 {
        let own = covered.against.iter().filter(|against| against.how == how);
        own.map(|against| against.length).sum()
    };
    // before its front 7 ft; along each side from the front, 3 ft in, to where its eave dies in the slope: the plate is 72
    // in up and the eave 10 in lower at 12 in out, over 10 in for 12: 74.4 in from the building line, 38.4 from the front
    assert_abs_diff_eq!(of(How::Head) + of(How::Foot), 84.0, epsilon = 1e-6);
    let slope = (1.0 + (10.0_f64 / 12.0).powi(2)).sqrt();
    assert_abs_diff_eq!(of(How::Beside), 2.0 * 38.4 * slope, epsilon = 1e-6);
    // and nobody lines less valley than the square says: 17 of run and 10 of rise
    let valleys: Vec<f64> = covered.of(EdgeKind::Valley).map(|edge| edge.length).collect();
    let run = 3.5 * 12.0 + 12.0;
    let by_square = run * (2.0 + (10.0_f64 / 12.0).powi(2)).sqrt();
    assert_eq!(valleys.len(), 2);
    for valley in valleys {
        assert_abs_diff_eq!(valley, by_square, epsilon = 1e-6);
    }
}

#[test]
fn a_shed_has_one_eave_to_start_at_and_a_high_edge_with_drip_edge() {
    let shed = "[building]\nlength = \"16'\"\nspan = \"10'\"\n[roof]\npitch = \"4/12\"\nshape = \"shed\"\n[eave]\n\
                overhang = \"1'\"\n[rake]\noverhang = '6\"'\n";
    let plan = plan(&(shed.to_owned() + GOODS));
    let frame = hung(&plan);
    let covered = Covered::of_faces(&plan, &frame);
    let slope = (1.0 + 1.0 / 9.0_f64).sqrt();
    assert_abs_diff_eq!(covered.area_in2() / 144.0, 17.0 * 12.0 * slope, epsilon = 1e-9);
    assert_eq!(
        (covered.of(EdgeKind::Eave).count(), covered.borders(EdgeKind::Eave).count()),
        (1, 2)
    );
    let trades = counted(&plan, &frame);
    // 17 ft takes 2 pieces twice; a rake of 12.65 ft takes 2, twice
    assert_abs_diff_eq!(units(need(&trades, "drip edge")), 8.0, epsilon = 1e-9);
    assert!(trades.needs.iter().all(|need| need.key != "ridge cap" && need.key != "ridge vent"));
    // each rafter sits on both plates
    let rafters: usize = frame
        .members
        .iter()
        .map(|member| {
            let sits = member.role == crate::frame::Role::CommonRafter;
            if sits { member.count() } else { 0 }
        })
        .sum();
    assert_abs_diff_eq!(units(need(&trades, "tie-down 500")), 2.0 * rafters as f64, epsilon = 1e-9);
}

/// A strip at the rakes too is bought by their length up the slope: 12 ft in plan here, at 4 in 12.
#[test]
fn starter_strip_at_the_rakes_goes_up_the_slope() {
    let shed = "[building]\nlength = \"16'\"\nspan = \"10'\"\n[roof]\npitch = \"4/12\"\nshape = \"shed\"\n[eave]\n\
                overhang = \"1'\"\n[rake]\noverhang = '6\"'\n[roofing]\nkind = \"shingles\"\nstarter = ";
    // the eave is 17 ft; a bundle covers 80 ft
    for (starter, feet) in
        [("eaves", 17.0), ("all", 17.0 + 2.0 * 12.0 * (1.0 + 1.0 / 9.0_f64).sqrt())]
    {
        let plan = plan(&format!("{shed}\"{starter}\"\n"));
        let trades = counted(&plan, &hung(&plan));
        assert_abs_diff_eq!(units(need(&trades, "starter")), feet / 80.0, epsilon = 1e-9);
    }
}

/// What both routes must agree on.
fn in_short(trades: &Trades) -> Vec<(String, u64)> {
    let needs =
        trades.needs.iter().map(|need| (need.key.clone(), (units(need) * 1e6).round() as u64));
    let nails = trades.nails.iter().map(|one| (one.joint.clone(), one.count));
    needs.chain(nails).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_gable_is_counted_alike_as_a_gable_and_as_any_roof(
        length in 12u32..=40, span in 8u32..=24, rise in 3u32..=12, overhang in 8u32..=24, rake in 6u32..=18,
        kind in 0usize..6, past in 0u32..=2, starter in 0u32..2, soffit in 0u32..2,
    ) {
        let kind = ["shingles", "roll", "metal-lapped", "metal-standing", "slate", "tile"][kind];
        let starter = ["eaves", "all"][starter as usize];
        let soffit = ["none", "'3/8\"'"][soffit as usize].replace("none", "\"none\"");
        let text = format!(
            "[building]\nlength = \"{length}'\"\nspan = \"{span}'\"\n[roof]\npitch = \"{rise}/12\"\n[eave]\n\
             overhang = '{overhang}\"'\nsoffit = {soffit}\n[rake]\noverhang = '{rake}\"'\n[deck]\npast_fascia = '{}\"'\n{}",
            f64::from(past) / 4.0,
            GOODS.replace("kind = \"shingles\"", &format!("kind = \"{kind}\"\nstarter = \"{starter}\""))
        );
        let plan = plan(&text);
        let frame = Frame::build(&plan.gable).unwrap();
        let roof_deck = RoofDeck::of_plan(&frame, &plan);
        // two of a thousand slopes leave no strip wide enough in any course
        let laid = lay(&roof_deck.ask, &Watch::none());
        prop_assume!(laid.is_ok());
        let deck = laid.unwrap();
        let along = deck.planes[0].length.length();
        let any = hung(&plan);
        let both = [
            (frame.sticks(), Covered::of_gable(&plan, &frame, &roof_deck, along)),
            (any.sticks(), Covered::of_faces(&plan, &any)),
        ];
        let both = both.map(|(sticks, covered)| {
            let roof = Roof { plan: &plan, sticks, covered, deck: Sheathed::Gable(&deck) };
            let mut trades = Trades::default();
            roof.roofing(&mut trades);
            roof.vents(&mut trades);
            roof.connectors(&mut trades);
            let of_frame = fasteners::of_frame(sticks, &plan.checks, &mut Vec::new());
            trades.nails.extend(of_frame.into_iter().filter(|one| one.joint == "heel joints"));
            (in_short(&trades), roof.soffit(&mut Vec::new()))
        });
        prop_assert_eq!(&both[0].0, &both[1].0, "{}", text);
        prop_assert_eq!(both[0].1.is_some(), both[1].1.is_some());
    }

    #[test]
    fn faces_as_covered_tile_the_roof_and_strips_cover_them(
        length in 24u32..=50, span in 14u32..=24, rise in 3u32..=12, overhang in 0u32..=24, hips in 0u32..4,
        wing in (0u32..3, 2u32..=8, 8u32..=12, 4u32..=12),
    ) {
        let end = |hip: bool| if hip { "hip" } else { "gable" };
        let (on, start, wing_span, projection) = wing;
        let wing = if on == 2 { String::new() } else {
            format!(
                "[[wing]]\nname = \"w\"\non = \"{}\"\nstart = \"{start}'\"\nspan = \"{wing_span}'\"\nprojection = \"{projection}'\"\n",
                ["A", "B"][on as usize]
            )
        };
        let text = format!(
            "[building]\nlength = \"{length}'\"\nspan = \"{span}'\"\n[roof]\npitch = \"{rise}/12\"\nnear_end = \"{}\"\n\
             far_end = \"{}\"\n[eave]\noverhang = '{overhang}\"'\n{wing}",
            end(hips & 1 == 1),
            end(hips & 2 == 2)
        );
        let plan = plan(&text);
        let rafter = CommonRafter::build(&plan.gable.rafter).unwrap();
        let shape = Shape::of(&plan.gable, rafter.heel_stand);
        let Ok(frame) = HungFrame::build(&plan.gable, &rafter, &shape) else { return Ok(()) };
        let covered = Covered::of_faces(&plan, &frame);
        // one pitch: the plan by the slope factor, the plan by its blocks
        let slope = (1.0 + (f64::from(rise) / 12.0).powi(2)).sqrt();
        let reach = 2.0 * f64::from(overhang);
        let ends = |hip: bool| if hip { f64::from(overhang) } else { plan.gable.rake.inches() };
        let main = (f64::from(length) * 12.0 + ends(hips & 1 == 1) + ends(hips & 2 == 2))
            * (f64::from(span) * 12.0 + reach);
        let rake = plan.gable.rake.inches();
        let of_wing = if on == 2 { 0.0 } else {
            (f64::from(wing_span) * 12.0 + reach)
                * (f64::from(projection) * 12.0 + rake - f64::from(overhang))
        };
        prop_assert!((covered.area_in2() - (main + of_wing) * slope).abs() < 1e-4, "{text}");
        for face in &covered.faces {
            prop_assert!((face.region.area() - face.area_in2).abs() < 1e-4, "{text}");
            // strips cover no less than the face, and panels neither
            let bands = (face.height() / 36.0).ceil() as u32;
            let strips: f64 = (0..bands)
                .flat_map(|band| face.strips((36.0 * f64::from(band), 36.0 * f64::from(band + 1))))
                .map(|strip| strip.inches() * 36.0)
                .sum();
            prop_assert!(strips > face.area_in2 - 1e-4, "{text}");
            let panels: f64 = face.panels(16.0).iter().map(|tall| tall * 16.0).sum();
            prop_assert!(panels > face.area_in2 - 1e-4, "{text}");
        }
    }
}

/// Bays over the plates of a hip roof of 30 by 20 ft at 16 in on center: over a side wall the marks at 16 to 352 in with a king at 120 in, which
/// 24 bays lie between and beside, out to the hips; over an end wall a king in the middle and seven jacks on each side, so 16.
#[test]
fn bays_lie_between_the_rafters_over_a_plate() {
    let bays = |text: &str| {
        let plan = plan(text);
        let frame = hung(&plan);
        let covered = Covered::of_faces(&plan, &frame);
        let deck = Sheathed::of_frame(&plan, &frame);
        Roof { plan: &plan, sticks: frame.sticks(), covered, deck }.bays()
    };
    assert_eq!(bays(&hip(30, 20, 6, 12)), [24, 24, 16, 16]);
    // a wing 16 in out has a rafter flush with its end wall and one at 16 in, and a single bay between them
    let wing = "[[wing]]\nname = \"bay\"\non = \"A\"\nstart = \"10'\"\nspan = \"8'\"\nprojection = '16\"'\nend = \"gable\"\n";
    let with_wing = bays(&format!("{}{wing}", hip(30, 20, 6, 12)));
    assert_eq!(with_wing.iter().filter(|bays| **bays == 1).count(), 2, "{with_wing:?}");
}

/// A roof of 36 by 26 ft at 10 in 12 with a dormer of 7 ft, 36 in behind wall A, its plates 72 in up, at the same pitch. What stands on the main
/// slope: the front wall, 84 in wide, to which the slope rises; and on each side, up to where its eave comes down to the slope.
#[test]
fn walls_of_a_dormer_stand_on_the_slope_by_hand() {
    let plan = plan(
        "[building]\nlength = \"36'\"\nspan = \"26'\"\nwall_height = \"8'\"\n[roof]\npitch = \"10/12\"\n\
         [eave]\noverhang = '12\"'\n[rake]\noverhang = '12\"'\n[deck]\npast_fascia = '3/4\"'\npast_rake = '1/2\"'\n\
         [[dormer]]\nname = \"front\"\non = \"A\"\nstart = \"14'\"\nspan = \"7'\"\nface = \"3'\"\nwall = \"6'\"\n\
         pitch = \"10/12\"\nshape = \"gable\"\n",
    );
    let covered = of_hung(&plan);
    let stretch = 244.0_f64.sqrt() / 12.0;
    let overhang = plan.gable.blocks.dormers[0].overhang.inches();
    let sum = |how: How| -> f64 {
        covered.against.iter().filter(|one| one.how == how).map(|one| one.length).sum()
    };
    assert_abs_diff_eq!(sum(How::Head), 84.0, epsilon = 1e-6);
    // the eave is as high as the slope 72 x 12 / 10 in behind the building line, less its overhang and 3/4 in of deck along the slope
    let down = 86.4 - overhang - 0.75 / stretch;
    assert_abs_diff_eq!(sum(How::Beside), 2.0 * (down - 36.0) * stretch, epsilon = 1e-6);
    assert_abs_diff_eq!(sum(How::Foot), 0.0);
    // eaves: 12 in out to the boards' outer face; the soffit ends behind them. No air comes in at the dormer's
    let boards = hung(&plan).hung.ground.boards;
    let eaves: Vec<_> = covered.of(EdgeKind::Eave).collect();
    let main: Vec<_> = eaves.iter().filter(|eave| eave.over_walls > 0.0).collect();
    assert_eq!((main.len(), eaves.len()), (2, 4));
    for eave in &main {
        assert_abs_diff_eq!(eave.past_wall, 12.0 + 0.75 / stretch, epsilon = 1e-6);
        assert_abs_diff_eq!(eave.soffit, 12.0 - boards, epsilon = 1e-6);
        assert_abs_diff_eq!(eave.over_walls, 432.0, epsilon = 1e-6);
        assert_abs_diff_eq!(eave.length, 432.0 + 25.0, epsilon = 1e-6);
        assert_abs_diff_eq!(eave.up, 0.0, epsilon = 1e-6);
    }
    for eave in eaves.iter().filter(|eave| eave.over_walls == 0.0) {
        assert_abs_diff_eq!(eave.past_wall, overhang + 0.75 / stretch, epsilon = 1e-6);
        assert_abs_diff_eq!(eave.soffit, overhang - boards, epsilon = 1e-6);
    }
    // rakes have no boards of eaves before them; ridges no wall
    for rake in covered.of(EdgeKind::Rake) {
        assert_abs_diff_eq!(rake.past_wall - rake.soffit, 0.5, epsilon = 1e-6);
        assert_eq!(rake.over_walls, 0.0);
    }
    for ridge in covered.of(EdgeKind::Ridge) {
        assert_eq!((ridge.past_wall, ridge.soffit), (0.0, 0.0));
    }
    // valleys cut the courses of three faces on a slant
    let slanted = covered.faces.iter().filter(|face| face.is_slanted).count();
    assert_eq!((slanted, covered.faces.len()), (3, 4));
}

/// A face of 10 ft by 5 ft with a notch of 3 by 2 ft at its upper right: strips and panels are as long as the face is there.
#[test]
fn strips_and_panels_end_with_the_face() {
    use crate::geom::{DVec2, Region};
    let corners =
        [(0.0, 0.0), (120.0, 0.0), (120.0, 36.0), (84.0, 36.0), (84.0, 60.0), (0.0, 60.0)];
    let region = Region::within(&[corners.map(DVec2::from).to_vec()]);
    let face = super::covered::CoveredFace {
        pitch: crate::measure::Pitch::rise_in_12(6.0).unwrap(),
        around_in: 0.0,
        area_in2: region.area(),
        region,
        is_slanted: false,
    };
    let strips = |low: f64, high: f64| -> Vec<f64> {
        face.strips((low, high)).iter().map(|strip| strip.inches()).collect()
    };
    assert_eq!(face.height(), 60.0);
    assert_eq!(strips(0.0, 36.0), [120.0]);
    assert_eq!(strips(36.0, 60.0), [84.0]);
    // panels of 36 in: the third lies half before the notch
    assert_eq!(face.panels(36.0), [60.0, 60.0, 60.0, 36.0]);
    assert_eq!(face.panels(42.0), [60.0, 60.0, 36.0]);
}
