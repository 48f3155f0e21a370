//! Whole frames over random roofs: no two sticks in one place, and each on what it bears on.

use proptest::prelude::*;
use stepoff::frame::{EaveSide, Frame, Role};
use stepoff::geom::{DVec3, Plane, Solid};
use stepoff::measure::quantity::in_inches;
use stepoff::plan::{GablePlan, TailCut};

use crate::support::{entries, text};

type Fields = Vec<(&'static str, String)>;

/// Random gables with every choice the roof file knows.
fn gables() -> impl Strategy<Value = Fields> {
    let eighths =
        |low: i64, high: i64| (low * 8..=high * 8).prop_map(|n| format!("{}\"", n as f64 / 8.0));
    let pick = |words: &'static [&'static str]| prop::sample::select(words).prop_map(str::to_owned);
    let shape = (
        eighths(96, 400),
        eighths(20, 400),
        (32_i64..=288).prop_map(|n| format!("{}/12", n as f64 / 16.0)),
        pick(&["2x4", "2x6", "2x8", "2x10", "2x12", "45x195mm"]),
        pick(&["none", "3/4\"", "2x8", "1-3/4\"", "3-1/2\"", "45mm"]),
        pick(&["12\"", "16\"", "19.2\"", "24\"", "400mm", "600mm"]),
        pick(&["wall", "rake"]),
    );
    let eave = (
        prop_oneof![Just("0\"".to_owned()), eighths(4, 30)],
        pick(&["none", "1x6", "3/4\"", "19mm"]),
        pick(&["none", "none", "2x6"]),
        pick(&["plumb", "plumb", "square", "level"]),
        pick(&["full", "held", "none"]),
        pick(&["yes", "no"]),
        pick(&["2x4", "2x6", "95mm"]),
    );
    let rake = (
        prop_oneof![Just("0\"".to_owned()), eighths(6, 24)],
        pick(&["ladder", "over", "notched"]),
        pick(&["16\"", "24\""]),
        pick(&["between", "pair", "none"]),
    );
    let ceiling = (
        pick(&["beside", "beside", "across", "none"]),
        pick(&["2x4", "2x6", "2x8"]),
        prop_oneof![Just(None), (30_u32..70).prop_map(Some)],
        pick(&["offset", "splice", "filler"]),
        pick(&["3\"", "8\""]),
        prop_oneof![Just("none".to_owned()), eighths(0, 20)],
    );
    let upper = (
        pick(&["yes", "no"]),
        pick(&["yes", "yes", "no"]),
        prop_oneof![
            Just("none".to_owned()),
            Just("14-1/2\"".to_owned()),
            Just("22\"".to_owned())
        ],
        pick(&["8'", "16'", "20'"]),
    );
    (shape, eave, rake, ceiling, upper).prop_map(
        |(
            (span, length, pitch, stock, ridge, spacing, from),
            (overhang, fascia, subfascia, tail, blocking, soffit, plate),
            (rake, framing, rake_spacing, joints),
            (joists, joist, bearing, meeting, lap, tie_height),
            (collars, studs, vent, longest),
        )| {
            let span_in: f64 = span.trim_end_matches('"').parse().unwrap();
            let mut fields = vec![
                ("building.span", span),
                ("building.length", length),
                ("building.plate", plate),
                ("roof.pitch", pitch),
                ("roof.spacing", spacing),
                ("roof.layout_from", from),
                ("rafter.stock", stock),
                ("rafter.tail", tail),
                ("ridge.board", ridge),
                ("ridge.joints", joints),
                ("eave.overhang", overhang),
                ("eave.fascia", fascia),
                ("eave.subfascia", subfascia),
                ("eave.blocking", blocking),
                ("eave.soffit_framing", soffit),
                ("rake.overhang", rake),
                ("rake.framing", framing),
                ("rake.spacing", rake_spacing),
                ("ceiling.joists", joists),
                ("ceiling.stock", joist),
                ("ceiling.meeting", meeting),
                ("ceiling.lap", lap),
                ("ceiling.tie_height", tie_height),
                ("collar.ties", collars),
                ("gable.studs", studs),
                ("gable.vent_width", vent),
                ("lumber.longest", longest),
            ];
            if let Some(percent) = bearing {
                fields.push((
                    "ceiling.bearing",
                    format!("{}\"", span_in * f64::from(percent) / 100.0),
                ));
            }
            fields
        },
    )
}

/// The frame, or `None` where this mix of choices is refused.
fn framed(fields: &Fields) -> Option<Frame> {
    let plan = GablePlan::read(&entries(fields)).ok()?;
    Frame::build(&plan).ok()
}

struct Placed {
    mark: String,
    role: Role,
    solid: Solid,
    low: DVec3,
    high: DVec3,
}

fn placed(frame: &Frame) -> Vec<Placed> {
    let mut list = Vec::new();
    for member in &frame.members {
        for axis in &member.placements {
            let solid = member.placed(axis);
            let (low, high) = solid.bounds().unwrap();
            list.push(Placed {
                mark: member.mark.clone(),
                role: member.role,
                solid,
                low,
                high,
            });
        }
    }
    list
}

/// Area in which two solids lie face to face, square inches.
fn contact(a: &Solid, b: &Solid) -> f64 {
    let mut total = 0.0;
    for cell in a.cells() {
        for face in cell.faces() {
            for other in b.cells() {
                let leans = other.faces().iter().any(|against| {
                    against.plane.normal.dot(face.plane.normal) < -1.0 + 1e-9
                        && against.plane.distance(face.corners[0]).abs() < 1e-6
                });
                if leans {
                    let polygon =
                        other
                            .faces()
                            .iter()
                            .fold(face.corners.clone(), |polygon, side| {
                                if side.plane.normal.dot(face.plane.normal).abs() > 1.0 - 1e-9 {
                                    polygon
                                } else {
                                    clipped(&polygon, &side.plane)
                                }
                            });
                    total += area(&polygon);
                }
            }
        }
    }
    total
}

fn clipped(polygon: &[DVec3], plane: &Plane) -> Vec<DVec3> {
    let mut kept = Vec::new();
    for (index, &here) in polygon.iter().enumerate() {
        let next = polygon[(index + 1) % polygon.len()];
        let (from, to) = (plane.distance(here), plane.distance(next));
        if from <= 0.0 {
            kept.push(here);
        }
        if (from < 0.0 && to > 0.0) || (from > 0.0 && to < 0.0) {
            kept.push(here + (next - here) * (from / (from - to)));
        }
    }
    kept
}

fn area(polygon: &[DVec3]) -> f64 {
    let Some(&base) = polygon.first() else {
        return 0.0;
    };
    let twice: DVec3 = polygon
        .windows(2)
        .map(|pair| (pair[0] - base).cross(pair[1] - base))
        .sum();
    twice.length() / 2.0
}

/// Every stick has an id of its own, by its place alone: none had to be told apart by counting.
fn every_id_is_its_own(frame: &Frame) -> Result<(), TestCaseError> {
    let mut ids: Vec<&str> = frame
        .members
        .iter()
        .flat_map(|member| member.placed_ids().map(|(id, _)| id))
        .collect();
    prop_assert_eq!(ids.len(), frame.stick_count());
    ids.sort_unstable();
    for two in ids.windows(2) {
        prop_assert!(two[0] != two[1], "{} twice", two[0]);
    }
    prop_assert!(ids.iter().all(|id| !id.contains('~')), "{ids:?}");
    Ok(())
}

fn no_two_in_one_place(frame: &Frame) -> Result<(), TestCaseError> {
    let mut list = placed(frame);
    list.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    for (index, one) in list.iter().enumerate() {
        for other in list[index + 1..]
            .iter()
            .take_while(|other| other.low.x < one.high.x - 1e-7)
        {
            let apart =
                one.high.cmple(other.low + 1e-7).any() || other.high.cmple(one.low + 1e-7).any();
            if apart {
                continue;
            }
            let shared = one.solid.common_volume(&other.solid);
            prop_assert!(
                shared < 1e-6,
                "{} ({:?}) at {:?} and {} ({:?}) at {:?} share {shared} cubic inches",
                one.mark,
                one.role,
                one.low,
                other.mark,
                other.role,
                other.low
            );
        }
    }
    Ok(())
}

fn each_touches(frame: &Frame) -> Result<(), TestCaseError> {
    let list = placed(frame);
    let near = |one: &Placed, other: &Placed| {
        one.low.cmple(other.high + 1e-6).all() && other.low.cmple(one.high + 1e-6).all()
    };
    let touches = |one: &Placed, roles: &[Role]| {
        list.iter().any(|other| {
            roles.contains(&other.role)
                && !std::ptr::eq(one, other)
                && near(one, other)
                && contact(&one.solid, &other.solid) > 1e-6
        })
    };
    let rafters = [Role::CommonRafter, Role::EndRafter, Role::BargeRafter];
    let has = |role: Role| list.iter().any(|one| one.role == role);
    let ripped = frame.plan.rafter.tail == TailCut::Square;
    for one in &list {
        let told = |what: &str| {
            format!(
                "{} ({:?}) at {:?} touches no {what}",
                one.mark, one.role, one.low
            )
        };
        match one.role {
            Role::CommonRafter | Role::EndRafter | Role::BargeRafter => {
                let top = [&[Role::RidgeBoard], rafters.as_slice()].concat();
                prop_assert!(touches(one, &top), "{}", told("ridge or opposite"));
                if one.role != Role::BargeRafter {
                    prop_assert!(touches(one, &[Role::Plate]), "{}", told("plate"));
                }
                let board = if has(Role::Subfascia) {
                    Role::Subfascia
                } else {
                    Role::Fascia
                };
                if has(board) && !ripped {
                    prop_assert!(touches(one, &[board]), "{}", told("board at its tail"));
                }
            }
            Role::CeilingJoist | Role::RafterTie | Role::CollarTie => {
                let held = [rafters.as_slice(), &[Role::Filler, Role::CollarFiller]].concat();
                prop_assert!(touches(one, &held), "{}", told("rafter"));
            }
            Role::Filler | Role::CollarFiller => {
                prop_assert!(touches(one, &rafters), "{}", told("rafter"));
            }
            Role::SplicePiece => {
                prop_assert!(touches(one, &[Role::CeilingJoist]), "{}", told("joist"));
            }
            Role::GableStud => {
                let foot = [Role::Plate, Role::VentFrame];
                prop_assert!(touches(one, &foot), "{}", told("plate"));
                let head = [rafters.as_slice(), &[Role::RidgeBoard, Role::VentFrame]].concat();
                prop_assert!(touches(one, &head), "{}", told("rafter over it"));
            }
            Role::VentFrame => prop_assert!(touches(one, &[Role::GableStud]), "{}", told("stud")),
            Role::LadderRung => prop_assert!(
                touches(one, &[Role::BargeRafter]),
                "{}",
                told("barge rafter")
            ),
            Role::Outlooker => {
                prop_assert!(
                    touches(one, &[Role::BargeRafter]),
                    "{}",
                    told("barge rafter")
                );
                prop_assert!(touches(one, &[Role::EndRafter]), "{}", told("end rafter"));
            }
            Role::Blocking => prop_assert!(touches(one, &[Role::Plate]), "{}", told("plate")),
            Role::Fascia if has(Role::Subfascia) => {
                prop_assert!(touches(one, &[Role::Subfascia]), "{}", told("sub-fascia"));
            }
            Role::Subfascia | Role::Fascia => {
                prop_assert!(ripped || touches(one, &rafters), "{}", told("tail"));
            }
            Role::SoffitLookout => prop_assert!(touches(one, &rafters), "{}", told("rafter")),
            Role::RidgeBoard => prop_assert!(touches(one, &rafters), "{}", told("rafter")),
            Role::SoffitLedger | Role::Plate | Role::BearingPlate => {}
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn no_two_sticks_share_a_place_and_each_touches_what_it_bears_on(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        every_id_is_its_own(&frame)?;
        no_two_in_one_place(&frame)?;
        each_touches(&frame)?;
    }

    #[test]
    fn every_stick_is_closed_and_lies_under_the_roof(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        for member in &frame.members {
            let mesh = member.stick.solid().mesh();
            prop_assert!(mesh.is_closed(), "{}", member.mark);
            let volume = member.stick.solid().volume();
            prop_assert!((mesh.volume() - volume).abs() < 1e-6, "{}", member.mark);
            let section = &member.stick.section;
            let most = section.thickness_in() * section.depth_in() * in_inches(member.blank());
            prop_assert!(volume <= most + 1e-6 && volume > 0.0, "{}", member.mark);
            for axis in &member.placements {
                for corner in member.placed(axis).corners() {
                    for plane in &frame.roof.planes {
                        prop_assert!(plane.plane.distance(corner) < 1e-6, "{} pokes through", member.mark);
                    }
                }
            }
        }
    }

    #[test]
    fn marks_put_every_rafter_where_it_stands(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        for (line, eave) in frame.layout.iter().zip(EaveSide::BOTH) {
            prop_assert!(line.marks.is_sorted());
            let mut stands: Vec<f64> = placed(&frame)
                .iter()
                .filter(|one| matches!(one.role, Role::CommonRafter | Role::EndRafter))
                .filter(|one| (one.low.y < frame.site.run - 1.0) == (eave == EaveSide::A))
                .map(|one| one.low.x)
                .collect();
            stands.sort_by(f64::total_cmp);
            prop_assert_eq!(stands.len(), line.marks.len());
            for (mark, stand) in line.marks.iter().zip(stands) {
                prop_assert!((mark - stand).abs() < 1e-9);
            }
        }
    }
}

fn frame(extra: &[(&'static str, &str)]) -> Frame {
    let mut fields: Fields = vec![
        ("building.span", "24'".into()),
        ("building.length", "32'".into()),
        ("roof.pitch", "6/12".into()),
    ];
    for (key, value) in extra {
        fields.retain(|(known, _)| known != key);
        fields.push((key, (*value).to_owned()));
    }
    framed(&fields).unwrap()
}

fn count(frame: &Frame, role: Role) -> usize {
    frame
        .members
        .iter()
        .filter(|member| member.role == role)
        .map(stepoff::frame::Member::count)
        .sum()
}

/// Hicks, Builders' Guide (1893), in `worked_examples.toml` as `hicks-count-32ft-12oc`: spaces plus one on each slope.
#[test]
fn thirty_two_feet_at_twelve_inches_take_33_rafters_a_slope() {
    assert!(text("tests/data/worked_examples.toml").contains("hicks-count-32ft-12oc"));
    let frame = frame(&[("roof.spacing", "12\"")]);
    assert_eq!(count(&frame, Role::CommonRafter), 2 * 33);
}

/// Gable stud common difference, spacing x rise / 12: NAVEDTRA 14044 (Navy Builder, 1994), as
/// `reference/trade_terms` reads it.
#[test]
fn gable_studs_differ_by_spacing_times_rise() {
    for (pitch, spacing, difference) in [
        ("6/12", "16\"", 8.0),
        ("9/12", "24\"", 18.0),
        ("8/12", "16\"", 32.0 / 3.0),
    ] {
        let frame = frame(&[("roof.pitch", pitch), ("gable.spacing", spacing)]);
        let mut lengths: Vec<f64> = frame
            .members
            .iter()
            .filter(|member| member.role == Role::GableStud)
            .map(|member| in_inches(member.blank()))
            .collect();
        lengths.sort_by(f64::total_cmp);
        // the middle stud stops under the ridge, so it keeps out of the series
        lengths.pop();
        assert!(lengths.len() > 3);
        let told = in_inches(frame.gable_stud_difference());
        assert!((told - difference).abs() < 1e-9, "{told} at {pitch}");
        for two in lengths.windows(2) {
            assert!(
                (two[1] - two[0] - difference).abs() < 1e-9,
                "{two:?} at {pitch}"
            );
        }
    }
}

/// Collar tie length in feet = 2 x drop in inches / rise, on the edge that the drop is measured
/// to: NAVEDTRA 14044, as `reference/trade_terms` reads it.
#[test]
fn a_collar_tie_is_twice_its_drop_over_the_rise() {
    for (pitch, rise) in [("6/12", 6.0), ("9/12", 9.0)] {
        let frame = frame(&[("roof.pitch", pitch), ("collar.height", "4'")]);
        let tie = frame
            .members
            .iter()
            .find(|member| member.role == Role::CollarTie)
            .unwrap();
        let apex = in_inches(frame.rafter.apex);
        let (drop_top, drop_bottom) = (apex - 48.0 - 3.5, apex - 48.0);
        let feet = |drop: f64| 2.0 * drop / rise;
        assert!((in_inches(tie.top_length()) / 12.0 - feet(drop_top)).abs() < 1e-9);
        assert!((in_inches(tie.blank()) / 12.0 - feet(drop_bottom)).abs() < 1e-9);
    }
}

#[test]
fn small_everyday_cases_are_framed() {
    // an odd length: the last bay is short
    let odd = frame(&[("building.length", "22' 7-3/8\"")]);
    let last: Vec<f64> = odd
        .pairs
        .iter()
        .rev()
        .take(2)
        .map(|pair| pair.x_a)
        .collect();
    assert!(last[0] - last[1] < 16.0);
    // one pair is left
    assert_eq!(
        count(&frame(&[("building.length", "2\"")]), Role::CommonRafter),
        2
    );
    // rake and overhang of nothing
    let bare = frame(&[("eave.overhang", "0\""), ("rake.overhang", "0\"")]);
    assert_eq!(count(&bare, Role::BargeRafter), 0);
    // panels end on rafter centers where the layout starts at the rake
    let rake = frame(&[
        ("roof.layout_from", "rake"),
        ("rake.overhang", "1'"),
        ("roof.spacing", "16\""),
    ]);
    let centers: Vec<f64> = rake
        .pairs
        .iter()
        .filter(|pair| !pair.at_end)
        .map(|pair| pair.x_a + 0.75 + 12.0)
        .collect();
    assert!(
        centers
            .iter()
            .all(|center| (center / 16.0 - (center / 16.0).round()).abs() < 1e-9)
    );
    assert!(centers.iter().any(|center| (center - 96.0).abs() < 1e-9));
}
