//! The common rafter, built as a stick and measured.

use crate::geom::{Cut, DVec3, Plane};
use crate::key;
use crate::measure::Amount::Inches;
use crate::measure::Note;
use crate::measure::quantity::{Angle, InInches, Length, inches};
use crate::measure::tolerance::{LAST_BITS, ON_IT};
use crate::plan::{Key, OverhangTo, RafterPlan, TailCut};

use super::marks::{CutSetting, HighPlanes, Mark, Planes, UpperWords, cuts, level, marks, plumb};
use super::seat::Seat;
use super::stick::{Axis, Edge, Side, Stick, Trim};

/// The name of the level cut under a tail.
pub(in crate::frame) const SOFFIT_CUT: &str = "level soffit cut";

/// Why a rafter of the plan can't be built, and which field to change.
#[derive(Debug, Clone, PartialEq)]
pub struct CannotBuild {
    /// The field's key.
    pub key: Key,
    /// What is wrong, one lower-case sentence.
    pub message: Note,
    /// What to write instead.
    pub help: Note,
}

/// The upper end of a rafter that lies on a second, higher plate: a shed's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HighEnd {
    /// The high plate above the low one.
    pub plate: Length,
    /// Along the top edge, over the heel of the high birdsmouth to the high tail cut.
    pub tail_length: Length,
    /// Level, building line of the high wall to the high tail cut; negative if that is cut over the plate.
    pub tail_projection: Length,
    /// Level length of the high seat on its plate.
    pub bearing: Length,
}

/// The pattern rafter: the stick, and everything that a cutter marks on it.
///
/// The lengths are those of `docs/conventions.md`: line length to the ridge's center, body length to
/// the ridge cut, rafter length from the ridge cut to the tail cut, all along the top edge. A shed's rafter has its second
/// birdsmouth in place of a ridge: its line length is that from heel to heel, and its upper cut is that of the high tail.
#[derive(Debug, Clone)]
pub struct CommonRafter {
    /// The plan.
    pub plan: RafterPlan,
    /// The seat and what decided it.
    pub seat: Seat,
    /// The stick, at x = 0 on the eave wall at y = 0.
    pub stick: Stick,
    /// Angle of the slope above level.
    pub slope: Angle,
    /// Building line to the center of the ridge; of a shed's, heel to heel.
    pub line_length: Length,
    /// What the ridge takes off the line length, along the slope; nothing of a shed's.
    pub ridge_shortening: Length,
    /// Building line to the upper plumb cut: the ridge's, or that of a shed's high tail.
    pub body_length: Length,
    /// Building line to the tail cut; negative if the tail is cut inside the building line.
    pub tail_length: Length,
    /// Upper plumb cut to tail cut.
    pub rafter_length: Length,
    /// Shortest board it can be cut from.
    pub blank_length: Length,
    /// Length of a plumb cut through the whole depth.
    pub plumb_height: Length,
    /// Plumb, from the seat down to the bottom edge at the building line.
    pub heel_plumb: Length,
    /// Depth of the birdsmouth square to the edge.
    pub notch_depth: Length,
    /// Remaining wood at the building line, square to the edge: over the birdsmouth, or over a level
    /// soffit cut above the plate.
    pub remaining: Length,
    /// Plumb, from the plate up to the top edge at the building line.
    pub heel_stand: Length,
    /// Top edge at the upper plumb cut, above the plate.
    pub ridge_top: Length,
    /// Top edge extended to the ridge's center, above the plate; of a shed's, over the high heel.
    pub apex: Length,
    /// Level length of the seat on the plate.
    pub bearing: Length,
    /// Level, building line to the tail cut at the top edge; positive outward.
    pub tail_projection: Length,
    /// Stock length to order; `None` if none is long enough.
    pub order_length: Option<Length>,
    /// The rest of the stock length.
    pub margin: Option<Length>,
    /// Where it lies on a second plate; `None` if it ends at a ridge.
    pub high: Option<HighEnd>,
    /// The marks, by number.
    pub marks: Vec<Mark>,
    /// The cuts.
    pub cuts: Vec<CutSetting>,
    /// The cutting planes.
    pub(super) planes: Planes,
}

impl CommonRafter {
    /// Builds the rafter on the eave wall at y = 0 and measures it.
    ///
    /// # Errors
    /// [`CannotBuild`] if the numbers together leave no rafter: a seat that cuts through the stock or
    /// reaches past the ridge, a tail cut that leaves no bearing.
    pub fn build(plan: &RafterPlan) -> Result<CommonRafter, CannotBuild> {
        let tail = tail_projection(plan);
        let depth = plan.stock.depth;
        let seat = match plan.of_slope.as_ref().and_then(|slope| slope.heel_stand) {
            Some(heel_stand) => Seat::leaving(heel_stand, depth, plan.pitch),
            None => Seat::choose(plan.seat, plan.plate, depth, plan.pitch, tail > LAST_BITS),
        };
        refuse_seat(plan, seat.length.inches())?;
        let (stick, planes) = cut_stick(plan, seat.length.inches(), tail)?;
        let rafter = CommonRafter::measure(plan, seat, tail, stick, planes)?;
        rafter.refuse_loose_boards()?;
        Ok(rafter)
    }

    /// Measures the stick: `tail` is the level from the building line to the tail cut, inches.
    fn measure(
        plan: &RafterPlan,
        seat: Seat,
        tail: f64,
        stick: Stick,
        planes: Planes,
    ) -> Result<CommonRafter, CannotBuild> {
        let bearing = bearing(&stick, (0.0, plan.plate.inches()), 0.0);
        let high = high_end(plan, &stick, &planes);
        if bearing <= LAST_BITS || high.is_some_and(|high| high.bearing <= inches(LAST_BITS)) {
            return Err(no_bearing(plan));
        }
        let station =
            |plane: &Plane, edge: Edge| stick.station(plane, edge, Side::Near).unwrap_or_default();
        let top = |plane: &Plane| station(plane, Edge::Top);
        let height =
            |plane: &Plane, edge: Edge| stick.point(station(plane, edge), edge, Side::Near).z;
        let Planes { upper, heel, tail: tail_cut, soffit, .. } = &planes;
        let center = plumb(plan.run().inches());
        // a soffit cut above the plate notches deeper than the seat does
        let corner = soffit.map_or(0.0, |plane| (-plane.offset).max(0.0));
        let cosine = 1.0 / plan.pitch.slope_factor();
        let remaining = (height(heel, Edge::Top) - corner) * cosine;
        let plumb_height = height(upper, Edge::Top) - height(upper, Edge::Bottom);
        let shortening = if high.is_some() { 0.0 } else { top(&center) - top(upper) };
        let blank_length = stick.blank_length();
        let order_length = plan.lengths.holding(&plan.stock, blank_length);
        Ok(CommonRafter {
            plan: plan.clone(),
            seat,
            slope: plan.pitch.angle(),
            line_length: inches(top(&center) - top(heel)),
            ridge_shortening: inches(shortening),
            body_length: inches(top(upper) - top(heel)),
            tail_length: inches(top(heel) - top(tail_cut)),
            rafter_length: inches(top(upper) - top(tail_cut)),
            blank_length,
            plumb_height: inches(plumb_height),
            heel_plumb: inches(-height(heel, Edge::Bottom)),
            notch_depth: inches((DVec3::ZERO - stick.axis.origin).dot(stick.axis.up)),
            remaining: inches(remaining),
            heel_stand: inches(height(heel, Edge::Top)),
            ridge_top: inches(height(upper, Edge::Top)),
            apex: inches(height(&center, Edge::Top)),
            bearing: inches(bearing),
            tail_projection: inches(tail),
            order_length,
            margin: order_length.map(|length| length - blank_length),
            high,
            marks: marks(&stick, &planes),
            cuts: cuts(&stick, &planes, plan.tail),
            planes,
            stick,
        })
    }
}

/// Level, from the building line to the top of the tail cut, inches: boards on a square tail lean with it and take
/// less of the level overhang.
fn tail_projection(plan: &RafterPlan) -> f64 {
    let cosine = 1.0 / plan.pitch.slope_factor();
    let boards = match plan.overhang_to {
        OverhangTo::Tail => 0.0,
        OverhangTo::Fascia => match plan.tail {
            TailCut::Square => plan.boards().inches() * cosine,
            TailCut::Plumb | TailCut::Level => plan.boards().inches(),
        },
    };
    plan.overhang_from_building_line().inches() - boards
}

impl CommonRafter {
    /// Level, building line to the upper plumb cut.
    #[must_use]
    pub fn upper_face(&self) -> Length {
        inches(upper_face(&self.plan))
    }

    /// The words for its upper end.
    #[must_use]
    pub fn upper(&self) -> UpperWords {
        self.planes.upper_words()
    }
}

/// Building line to the upper plumb cut, level, inches: at the ridge board's face, or past the high wall, where boards stand plumb
/// whatever the low tail is and reach as far out as those of the low eave.
fn upper_face(plan: &RafterPlan) -> f64 {
    if plan.is_on_two_plates() {
        return (plan.span + plan.eave_reach() - plan.boards()).inches();
    }
    plan.run().inches() - plan.ridge.inches() / 2.0
}

/// How a rafter on two plates lies on the higher one; `None` if it ends at a ridge.
fn high_end(plan: &RafterPlan, stick: &Stick, planes: &Planes) -> Option<HighEnd> {
    let HighPlanes { heel, seat } = planes.high.as_ref()?;
    let top = |plane: &Plane| stick.station(plane, Edge::Top, Side::Near).unwrap_or_default();
    let (inner, outer) = (plan.run().inches(), plan.span.inches());
    let plate = -seat.offset;
    Some(HighEnd {
        plate: inches(plate),
        tail_length: inches(top(&planes.upper) - top(heel)),
        tail_projection: inches(upper_face(plan) - outer),
        bearing: inches(bearing(stick, (inner, outer), plate)),
    })
}

/// The stick cut at its ridge, seat and tail, and the planes that cut it.
fn cut_stick(plan: &RafterPlan, seat: f64, tail: f64) -> Result<(Stick, Planes), CannotBuild> {
    let (tangent, secant) = (plan.pitch.tangent(), plan.pitch.slope_factor());
    let (cosine, sine) = (1.0 / secant, tangent / secant);
    let depth = plan.stock.depth_in();
    let axis = Axis {
        origin: DVec3::Y * seat,
        along: DVec3::new(0.0, cosine, sine),
        up: DVec3::new(0.0, -sine, cosine),
    };
    let heel_stand = depth * secant - seat * tangent;
    let tail_top = DVec3::new(0.0, -tail, heel_stand - tail * tangent);
    let run = plan.run().inches();
    let high = plan
        .is_on_two_plates()
        .then(|| HighPlanes { heel: plumb(run), seat: level(run * tangent) });
    let planes = Planes {
        upper: plumb(upper_face(plan)),
        high,
        heel: plumb(0.0),
        seat: level(0.0),
        tail: match plan.tail {
            TailCut::Plumb | TailCut::Level => plumb(-tail).flipped(),
            TailCut::Square => Plane::through(tail_top, -axis.along),
        },
        soffit: soffit_plane(plan, depth, depth * secant, tail_top.z)?,
    };
    let ends = [
        Trim { name: planes.upper_words().cut, cut: Cut::off(planes.upper) },
        Trim { name: tail_name(plan.tail), cut: Cut::off(planes.tail) },
    ];
    let mut notches = vec![Trim { name: "birdsmouth", cut: Cut::out([planes.seat, planes.heel]) }];
    if let Some(HighPlanes { heel, seat }) = planes.high {
        notches.push(Trim { name: "high birdsmouth", cut: Cut::out([seat, heel]) });
    }
    if let Some(plane) = planes.soffit {
        notches.push(Trim { name: SOFFIT_CUT, cut: Cut::out([plane, planes.heel.flipped()]) });
    }
    let stick =
        Stick::new(plan.stock.clone(), axis, ends, &notches).ok_or_else(|| no_bearing(plan))?;
    Ok((stick, planes))
}

pub(super) fn tail_name(tail: TailCut) -> &'static str {
    match tail {
        TailCut::Plumb | TailCut::Level => "tail plumb cut",
        TailCut::Square => "tail square cut",
    }
}

fn refuse_seat(plan: &RafterPlan, seat_in: f64) -> Result<(), CannotBuild> {
    let sine = plan.pitch.tangent() / plan.pitch.slope_factor();
    let (most, what) = match plan.is_on_two_plates() {
        true => (plan.run().inches(), "high birdsmouth"),
        false => (upper_face(plan), "ridge cut"),
    };
    let asked = if plan.seat.is_some() { key!("rafter.seat") } else { key!("building.span") };
    let depth = plan.stock.depth_in();
    if seat_in * sine >= depth - LAST_BITS {
        return Err(CannotBuild {
            key: asked,
            message: Note::with(
                "the seat notches {} deep and the rafter is only {} deep",
                [Inches(seat_in * sine), Inches(depth)],
            ),
            help: Note::with(
                "a seat under {} leaves some wood; leave it out to have it chosen",
                [Inches(depth / sine)],
            ),
        });
    }
    if seat_in > most + LAST_BITS {
        return Err(CannotBuild {
            key: asked,
            message: Note::with(
                format!("the seat of {{}} reaches past the {what}, {{}} from the building line"),
                [Inches(seat_in), Inches(most)],
            ),
            help: "check the span; so small a roof needs a shorter seat".into(),
        });
    }
    Ok(())
}

fn no_bearing(plan: &RafterPlan) -> CannotBuild {
    CannotBuild {
        key: key!("eave.overhang"),
        message: Note::with(
            "with {} of overhang and {} of boards the tail cut leaves nothing on the plate",
            [Inches(plan.overhang_from_building_line().inches()), Inches(plan.boards().inches())],
        ),
        help: Note::with(
            "an overhang of {} or more leaves its seat whole",
            [Inches(whole_seat(plan))],
        ),
    }
}

/// An overhang, as the plan tells it, at which the tail cut leaves the whole seat, to the sixteenth above, inches: a plumb cut at the
/// building line, a square one with its lower end there.
fn whole_seat(plan: &RafterPlan) -> f64 {
    let cosine = 1.0 / plan.pitch.slope_factor();
    let sine = plan.pitch.tangent() * cosine;
    let boards = match plan.overhang_to {
        OverhangTo::Tail => 0.0,
        OverhangTo::Fascia => plan.boards().inches(),
    };
    let from_framing = match plan.tail {
        TailCut::Plumb | TailCut::Level => boards,
        TailCut::Square => boards * cosine + plan.stock.depth_in() * sine,
    };
    // what stands outside the framing counts where the overhang is told from it
    let before = plan.overhang_from_building_line() - plan.overhang;
    ((from_framing - before.inches()).max(0.0) * 16.0).ceil() / 16.0
}

/// The plane of a level soffit cut, if there is one.
fn soffit_plane(
    plan: &RafterPlan,
    depth: f64,
    plumb_height: f64,
    tail_top: f64,
) -> Result<Option<Plane>, CannotBuild> {
    if plan.tail != TailCut::Level {
        return Ok(None);
    }
    let face = plan.tail_face.map_or(depth, InInches::inches);
    if face <= LAST_BITS || face > plumb_height - LAST_BITS {
        return Err(CannotBuild {
            key: key!("rafter.tail_face"),
            message: Note::with(
                "a plumb face of {} can't be left of a plumb cut of {}",
                [Inches(face), Inches(plumb_height)],
            ),
            help: Note::with(
                "write a face above 0 and under {}, or tail = \"plumb\"",
                [Inches(plumb_height)],
            ),
        });
    }
    Ok(Some(level(tail_top - face)))
}

/// Level length of the seat that the stick has on a plate from one y to another, with its top at height `top`, inches.
fn bearing(stick: &Stick, (inner, outer): (f64, f64), top: f64) -> f64 {
    let on_plate = stick
        .profile(Side::Near)
        .iter()
        .map(|corner| stick.axis.origin + stick.axis.along * corner.x + stick.axis.up * corner.y)
        .filter(|corner| (corner.z - top).abs() < ON_IT)
        .map(|corner| corner.y.clamp(inner, outer));
    let (low, high) = on_plate
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)));
    high - low
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Entries, Faults};
    use approx::assert_abs_diff_eq;

    fn rafter(flags: &[(&'static str, &str)]) -> Result<CommonRafter, CannotBuild> {
        let mut entries = Entries::default();
        for (key, text) in flags {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan: Result<RafterPlan, Faults> = RafterPlan::read(&entries);
        CommonRafter::build(&plan.unwrap())
    }

    #[test]
    fn a_9_in_12_rafter_by_the_3_4_5_triangle() {
        // span 24 ft, 9 in 12: secant 1.25, tangent 0.75; ridge 1-1/2 in, overhang 12 in, 2x8, seat 3 in
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.stock", "2x8"),
            ("rafter.seat", "3\""),
        ])
        .unwrap();
        let close = |length: Length, expected: f64| {
            assert_abs_diff_eq!(length.inches(), expected, epsilon = 1e-9);
        };
        close(rafter.line_length, 180.0);
        close(rafter.ridge_shortening, 0.9375);
        close(rafter.body_length, 179.0625);
        close(rafter.tail_length, 15.0);
        close(rafter.rafter_length, 194.0625);
        close(rafter.blank_length, 194.0625 + 7.25 * 0.75);
        close(rafter.plumb_height, 9.0625);
        close(rafter.heel_plumb, 2.25);
        close(rafter.notch_depth, 1.8);
        close(rafter.heel_stand, 6.8125);
        close(rafter.ridge_top, 6.8125 + 143.25 * 0.75);
        close(rafter.apex, 6.8125 + 108.0);
        close(rafter.bearing, 3.0);
        assert_eq!(rafter.order_length, Some(crate::measure::quantity::feet(18.0)));
        close(rafter.margin.unwrap(), 216.0 - 199.5);
        let at: Vec<f64> = rafter.marks.iter().map(|mark| mark.at.inches()).collect();
        let expected = [0.0, 175.3125, 179.0625, 194.0625, 0.0, 175.3125, 179.0625, 194.0625];
        assert_eq!(at.len(), expected.len());
        for (found, expected) in at.iter().zip(expected) {
            assert_abs_diff_eq!(*found, expected, epsilon = 1e-9);
        }
        let lengths: Vec<(&str, f64)> = rafter
            .cuts
            .iter()
            .map(|cut| (cut.name, (cut.length.inches() * 1e6).round() / 1e6))
            .collect();
        assert_eq!(
            lengths,
            [
                ("ridge plumb cut", 9.0625),
                ("heel plumb cut", 2.25),
                ("seat level cut", 3.0),
                ("tail plumb cut", 9.0625)
            ]
        );
    }

    #[test]
    fn a_level_soffit_cut_leaves_the_face_asked_for() {
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.tail", "level"),
            ("rafter.tail_face", "5\""),
        ])
        .unwrap();
        let face = rafter.cuts.iter().find(|cut| cut.name == "tail plumb cut").unwrap();
        assert_abs_diff_eq!(face.length.inches(), 5.0, epsilon = 1e-9);
        let soffit = rafter.cuts.iter().find(|cut| cut.name == "soffit level cut").unwrap();
        // 6.875 in of plumb cut less 5 in leaves 1.875 in, run out at 9 in 12
        assert_abs_diff_eq!(soffit.length.inches(), 2.5, epsilon = 1e-9);
    }

    #[test]
    fn a_square_tail_with_a_fascia_leans() {
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.tail", "square"),
            ("eave.fascia", "1\""),
        ])
        .unwrap();
        // 12 in level less 1 in of board that leans: 0.8 in of level
        assert_abs_diff_eq!(rafter.tail_projection.inches(), 11.2, epsilon = 1e-12);
        assert_abs_diff_eq!(rafter.tail_length.inches(), 14.0, epsilon = 1e-9);
        assert_abs_diff_eq!(
            (rafter.blank_length - rafter.rafter_length).inches(),
            0.0,
            epsilon = 1e-9
        );
    }

    #[test]
    fn what_leaves_no_rafter_is_refused() {
        let key = |flags: &[(&'static str, &str)]| rafter(flags).unwrap_err().key.name();
        assert_eq!(
            key(&[("building.span", "24'"), ("roof.pitch", "12/12"), ("rafter.seat", "8\"")]),
            "rafter.seat"
        );
        assert_eq!(key(&[("building.span", "7.5\""), ("roof.pitch", "6/12")]), "building.span");
        assert_eq!(
            key(&[
                ("building.span", "24'"),
                ("roof.pitch", "6/12"),
                ("eave.overhang", "0\""),
                ("eave.fascia", "3-1/2\""),
            ]),
            "eave.overhang"
        );
    }

    /// At the overhang that a refusal names the whole seat is there; a plumb cut takes some of it at an eighth less.
    #[test]
    fn the_overhang_that_is_named_leaves_the_whole_seat() {
        for (tail, pitch, fascia) in [
            ("plumb", "6/12", "3-1/2\""),
            ("square", "6/12", "none"),
            ("square", "9/12", "3-1/2\""),
            ("square", "12/12", "1x8"),
        ] {
            let flags = |overhang: &'static str| {
                [
                    ("building.span", "24'"),
                    ("roof.pitch", pitch),
                    ("rafter.tail", tail),
                    ("eave.fascia", fascia),
                    ("eave.overhang", overhang),
                ]
            };
            let whole = rafter(&flags("2'")).unwrap();
            let named = whole_seat(&whole.plan);
            let lacks = |overhang: f64| {
                let mut plan = whole.plan.clone();
                plan.overhang = inches(overhang);
                // without a tail the rule for its notch asks for no shorter seat
                plan.seat = Some(whole.seat.length);
                let bearing = CommonRafter::build(&plan).map_or(0.0, |own| own.bearing.inches());
                whole.bearing.inches() - bearing
            };
            assert!(lacks(named) < 1e-9, "{tail} {pitch} {fascia} {named}");
            if tail == "plumb" {
                assert_abs_diff_eq!(lacks(named - 0.125), 0.125, epsilon = 1e-9);
            }
        }
    }
}
