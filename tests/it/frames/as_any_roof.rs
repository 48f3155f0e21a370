//! A gable framed as any roof is: hung on its faces and edges, each common rafter is the same solid.

use stepoff::catalog::lumber::Section;
use stepoff::frame::hung::fits::misfit;
use stepoff::frame::hung::patterns;
use stepoff::frame::{Choices, Frame, Member, Role, sticks_of};
use stepoff::geom::DVec3;
use stepoff::measure::quantity::inches;
use stepoff::plan::{GablePlan, LayoutFrom, TailCut};
use stepoff::roof::Shape;

use crate::support::entries;

fn choices(frame: &Frame) -> Choices {
    let plan = &frame.plan;
    Choices {
        rafter: plan.rafter.stock.clone(),
        hip: plan.rafter.stock.clone(),
        valley: plan.rafter.stock.clone(),
        ridge: plan.rafter.ridge,
        ridge_depth: plan.rafter.ridge_depth,
        spacing: plan.spacing,
        plate: plan.rafter.plate,
        fascia: (plan.rafter.boards() > inches(0.0))
            .then(|| Section::actual(plan.rafter.boards(), inches(7.25))),
        subfascia: None,
        square_tails: plan.rafter.tail == TailCut::Square,
        tail_face: (plan.rafter.tail == TailCut::Level)
            .then(|| plan.rafter.tail_face.unwrap_or(plan.rafter.stock.depth)),
        from_rake: plan.layout_from == LayoutFrom::Rake,
        longest: plan.longest,
        deck: inches(0.5),
        laid_over: Vec::new(),
        backed: false,
        infill: Some(Box::new(plan.clone())),
    }
}

/// Corners of all sticks of a role, sorted.
fn corners(members: &[Member], role: Role) -> Vec<Vec<DVec3>> {
    let rafters = members.iter().filter(|member| member.role == role);
    let mut all: Vec<Vec<DVec3>> = rafters
        .flat_map(|member| member.placements.iter().map(|axis| member.placed(axis)))
        .map(|solid| {
            let mut corners = solid.mesh().corners;
            corners
                .sort_by_key(|corner| (*corner * 1e4).to_array().map(|value| value.round() as i64));
            corners
        })
        .collect();
    all.sort_by(|one, other| {
        let key = |corners: &Vec<DVec3>| {
            let middle = corners.iter().sum::<DVec3>() / corners.len() as f64;
            (middle * 1e4).to_array().map(|value| value.round() as i64)
        };
        key(one).cmp(&key(other))
    });
    all
}

/// The two ways to frame a gable: as one with its pairs, and hung on its faces.
#[track_caller]
fn framed_alike(fields: &[(&'static str, &str)], roles: &[Role]) {
    let mut all = owned(fields);
    if !fields.iter().any(|(key, _)| *key == "rake.overhang") {
        all.push(("rake.overhang", "8\"".to_owned()));
    }
    let plan = GablePlan::read(&entries(&all)).unwrap();
    let frame = Frame::build(&plan).unwrap();
    let shape = Shape::of(&plan, frame.rafter.heel_stand);
    let hung = sticks_of(&shape, &choices(&frame)).unwrap();
    assert_eq!(misfit(&hung), None, "{fields:?}");
    let members = patterns::members(&hung).unwrap();
    for role in roles {
        let (own, any) = (corners(&frame.members, *role), corners(&members, *role));
        assert!(!own.is_empty(), "{role:?}: {fields:?}");
        assert_eq!(own.len(), any.len(), "{role:?}: {fields:?}");
        for (own, any) in own.iter().zip(&any) {
            assert_eq!(own.len(), any.len(), "{role:?}: {own:?} and {any:?}");
            for (one, other) in own.iter().zip(any) {
                assert!(one.distance(*other) < 1e-9, "{role:?}: {one} and {other}: {fields:?}");
            }
        }
    }
}

#[test]
fn outlookers_and_the_rafters_under_them_are_framed_alike() {
    let framed = [Role::Outlooker, Role::EndRafter, Role::BargeRafter, Role::CommonRafter];
    for how in [
        &[("rake.framing", "over"), ("rake.overhang", "16\"")][..],
        &[("rake.framing", "notched"), ("rafter.stock", "2x8"), ("gable.studs", "no")],
        &[("rake.framing", "over"), ("eave.blocking", "full")],
        &[("rake.framing", "notched"), ("rake.spacing", "16\""), ("rafter.tail", "level")],
        &[("rake.framing", "over"), ("rake.stock", "2x6")],
    ] {
        for fields in [SMALL, BUTTING, METRIC] {
            // joists and collar ties beside the end bays are placed otherwise, and outlookers clear of them
            let none = [("ceiling.joists", "none"), ("collar.ties", "no")];
            let all: Vec<_> = how.iter().chain(&fields).chain(&none).copied().collect();
            framed_alike(&all, &framed);
        }
    }
}

#[test]
fn outlookers_find_room_beside_joists_and_collar_ties() {
    for how in ["over", "notched"] {
        for fields in [SMALL, BUTTING, METRIC] {
            let fields =
                [&fields[..], &[("rake.framing", how), ("rake.overhang", "16\"")]].concat();
            let plan = GablePlan::read(&entries(&owned(&fields))).unwrap();
            let frame = Frame::build(&plan).unwrap();
            let shape = Shape::of(&plan, frame.rafter.heel_stand);
            let hung = sticks_of(&shape, &choices(&frame)).unwrap();
            assert_eq!(misfit(&hung), None, "{fields:?}");
            let at_rakes = [Role::Outlooker, Role::BargeRafter];
            let mut left_out = hung.left_out.iter();
            assert!(!left_out.any(|left| at_rakes.contains(&left.role)), "{fields:?}");
            let count = |role: Role| hung.sticks.iter().filter(|stick| stick.role == role).count();
            assert_eq!((count(Role::EndRafter), count(Role::LadderRung)), (4, 0), "{fields:?}");
            assert!(count(Role::Outlooker) >= 12, "{fields:?}");
        }
    }
}

fn owned(fields: &[(&'static str, &str)]) -> Vec<(&'static str, String)> {
    fields.iter().map(|(key, text)| (*key, (*text).to_owned())).collect()
}

const SMALL: [(&str, &str); 5] = [
    ("building.span", "24'"),
    ("building.length", "30'"),
    ("roof.pitch", "9/12"),
    ("eave.overhang", "12\""),
    ("ridge.board", "1-1/2\""),
];
const BUTTING: [(&str, &str); 5] = [
    ("building.span", "18' 4\""),
    ("building.length", "22' 7\""),
    ("roof.pitch", "5/12"),
    ("eave.overhang", "16\""),
    ("ridge.board", "0\""),
];
const METRIC: [(&str, &str); 5] = [
    ("building.span", "7315mm"),
    ("building.length", "9m"),
    ("roof.pitch", "40deg"),
    ("eave.overhang", "450mm"),
    ("ridge.board", "38mm"),
];

#[test]
fn its_rafters_and_joists_are_the_same_solids() {
    for fields in [SMALL, BUTTING, METRIC] {
        framed_alike(&fields, &[Role::CommonRafter, Role::CeilingJoist]);
    }
}

#[test]
fn the_attic_opening_is_framed_alike() {
    let sizes = [("attic.access_width", "22\""), ("attic.access_length", "30\"")];
    let framed = [
        Role::CeilingJoist,
        Role::TailJoist,
        Role::JoistHeader,
        Role::JoistTrimmer,
        Role::OpeningSide,
    ];
    for fields in [SMALL, BUTTING, METRIC] {
        framed_alike(&[&fields[..], &sizes].concat(), &framed);
    }
    // between two joists: none is cut, and headers close the ends
    let wide = [("roof.spacing", "24\""), ("attic.access_trimmers", "single")];
    let fields = [&SMALL[..], &sizes, &wide].concat();
    framed_alike(&fields, &[Role::CeilingJoist, Role::JoistHeader]);
    // in two lengths, over the longer one; by hand over the lap itself
    for meeting in ["splice", "filler"] {
        let two = [("ceiling.bearing", "10'"), ("ceiling.meeting", meeting)];
        for place in [&[][..], &[("attic.access_y", "10'"), ("attic.access_x", "15' 3\"")]] {
            let fields = [&SMALL[..], &sizes, &two, place].concat();
            framed_alike(&fields, &[Role::CeilingJoist, Role::TailJoist, Role::JoistHeader]);
        }
    }
    // rafter ties are not cut but left out
    let ties = [("ceiling.joists", "across"), ("attic.access_along", "ridge")];
    framed_alike(&[&SMALL[..], &sizes, &ties].concat(), &[Role::RafterTie]);
}

#[test]
fn its_joists_in_two_lengths_are_the_same_solids() {
    for (meeting, between) in [("splice", Role::SplicePiece), ("filler", Role::Filler)] {
        let two = [("ceiling.bearing", "10'"), ("ceiling.meeting", meeting)];
        let fields = [SMALL.as_slice(), &two].concat();
        framed_alike(&fields, &[Role::CeilingJoist, between, Role::BearingPlate]);
    }
}

#[test]
fn its_rafter_ties_are_the_same_solids() {
    for fields in [SMALL, METRIC] {
        let fields = [fields.as_slice(), &[("ceiling.joists", "across")]].concat();
        framed_alike(&fields, &[Role::RafterTie]);
    }
}

#[test]
fn its_gable_ends_are_the_same_solids() {
    for fields in [SMALL, BUTTING, METRIC] {
        framed_alike(&fields, &[Role::GableStud, Role::BargeRafter, Role::LadderRung]);
    }
}

#[test]
fn its_collar_ties_are_the_same_solids() {
    for fields in [SMALL, BUTTING, METRIC] {
        framed_alike(&fields, &[Role::CollarTie]);
    }
}

#[test]
fn its_blocks_are_the_same_solids() {
    for fields in [SMALL, METRIC] {
        for how in ["full", "held"] {
            let fields = [fields.as_slice(), &[("eave.blocking", how)]].concat();
            framed_alike(&fields, &[Role::Blocking]);
        }
    }
}

#[test]
fn its_level_tails_and_soffit_framing_are_the_same_solids() {
    // the ledger of one piece, since those of a gable are joined at rafters
    let soffit = [
        ("lumber.longest", "32'"),
        ("eave.overhang", "16\""),
        ("eave.fascia", "1x8"),
        ("eave.soffit_framing", "yes"),
        ("building.sheathing", "1/2\""),
    ];
    let roles = [Role::SoffitLedger, Role::SoffitLookout, Role::CommonRafter];
    for fields in [SMALL, BUTTING] {
        let fields = [fields.as_slice(), &soffit].concat();
        framed_alike(&fields, &roles);
        let level = [("rafter.tail", "level"), ("rafter.tail_face", "5-1/4\"")];
        let fields = [fields.as_slice(), &level].concat();
        framed_alike(&fields, &[roles.as_slice(), &[Role::BargeRafter, Role::LadderRung]].concat());
    }
}

#[test]
fn its_vents_are_the_same_solids() {
    for (width, height, sill) in [("20\"", "18\"", "24\""), ("14\"", "16\"", "1\"")] {
        let vent =
            [("gable.vent_width", width), ("gable.vent_height", height), ("gable.vent_sill", sill)];
        for fields in [SMALL, METRIC] {
            let fields = [fields.as_slice(), &vent].concat();
            framed_alike(&fields, &[Role::GableStud, Role::VentFrame]);
        }
    }
}

#[test]
fn a_layout_from_the_rake_and_an_overhang_to_the_tail_are_the_same() {
    let told = [("roof.layout_from", "rake"), ("eave.overhang_to", "tail"), ("eave.fascia", "1x8")];
    for fields in [SMALL, METRIC] {
        let fields = [fields.as_slice(), &told].concat();
        framed_alike(&fields, &[Role::CommonRafter, Role::CeilingJoist, Role::BargeRafter]);
    }
}

#[test]
fn its_square_tails_are_the_same_solids() {
    let square = [
        ("rafter.tail", "square"),
        ("eave.fascia", "1x8"),
        ("eave.soffit_framing", "yes"),
        ("lumber.longest", "32'"),
    ];
    let roles = [Role::CommonRafter, Role::BargeRafter, Role::LadderRung, Role::SoffitLookout];
    for fields in [SMALL, METRIC] {
        framed_alike(&[fields.as_slice(), &square].concat(), &roles);
    }
    let told = [("eave.overhang_to", "tail")];
    framed_alike(&[SMALL.as_slice(), &square, &told].concat(), &[Role::CommonRafter]);
}
