//! A gable framed as any roof is: hung on its faces and edges, each common rafter is the same solid.

use stepoff::catalog::lumber::Section;
use stepoff::frame::hung::patterns;
use stepoff::frame::{Choices, Frame, Member, Role, sticks_of};
use stepoff::geom::DVec3;
use stepoff::measure::quantity::inches;
use stepoff::plan::GablePlan;
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
        longest: plan.longest,
        deck: inches(0.5),
        laid_over: Vec::new(),
        backed: false,
    }
}

/// Corners of all common rafters, sorted.
fn corners(members: &[Member]) -> Vec<Vec<DVec3>> {
    let rafters = members.iter().filter(|member| member.role == Role::CommonRafter);
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

#[test]
fn its_common_rafters_are_the_same_solids() {
    for (span, length, pitch, overhang, ridge) in [
        ("24'", "30'", "9/12", "12\"", "1-1/2\""),
        ("18' 4\"", "22' 7\"", "5/12", "16\"", "0\""),
        ("7315mm", "9m", "40deg", "450mm", "38mm"),
    ] {
        let fields = [
            ("building.span", span.to_owned()),
            ("building.length", length.to_owned()),
            ("roof.pitch", pitch.to_owned()),
            ("eave.overhang", overhang.to_owned()),
            ("ridge.board", ridge.to_owned()),
            ("rake.overhang", "8\"".to_owned()),
        ];
        let plan = GablePlan::read(&entries(&fields)).unwrap();
        let frame = Frame::build(&plan).unwrap();
        let shape = Shape::of(&plan, frame.rafter.heel_stand);
        let hung = sticks_of(&shape, &choices(&frame)).unwrap();
        let (own, any) =
            (corners(&frame.members), corners(&patterns::members(&hung.sticks).unwrap()));
        assert_eq!(own.len(), any.len(), "{span}");
        for (own, any) in own.iter().zip(&any) {
            assert_eq!(own.len(), any.len());
            for (one, other) in own.iter().zip(any) {
                assert!(one.distance(*other) < 1e-9, "{span}: {one} and {other}");
            }
        }
    }
}
