//! The marks and cuts of the common rafter, measured on the stick.

use crate::geom::{DVec3, Plane};
use crate::measure::Length;
use crate::measure::quantity::inches;
use crate::measure::tolerance::{HAIR, ON_IT};
use crate::plan::TailCut;

use super::stick::{Edge, SawSetting, Side, Stick};

/// A mark on the rafter, measured along one edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its number on the drawing.
    pub number: u32,
    /// What is marked.
    pub name: &'static str,
    /// The line that is drawn through it, or what it is.
    pub line: &'static str,
    /// The edge it is measured along.
    pub edge: Edge,
    /// Along the edge: from the ridge's long point on the top edge, from its short point on the bottom edge.
    pub at: Length,
    /// The point itself, in roof coordinates (x is 0).
    pub point: DVec3,
}

/// One cut and how it is set.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSetting {
    /// The cut.
    pub name: &'static str,
    /// Saw settings.
    pub saw: SawSetting,
    /// Length of the cut's line on the wide face.
    pub length: Length,
    /// The leg of the square that draws it, with the square held at the rise and 12.
    pub square: &'static str,
}

/// The plumb plane `y` inches in from the building line, its outside toward the ridge.
pub(super) fn plumb(y: f64) -> Plane {
    Plane::through(DVec3::Y * y, DVec3::Y)
}

/// The level plane `z` inches above the plate, its outside below.
pub(super) fn level(z: f64) -> Plane {
    Plane::through(DVec3::Z * z, -DVec3::Z)
}

/// The planes that trim the common rafter.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Planes {
    /// The upper plumb cut: at the ridge, or of the high tail.
    pub(super) upper: Plane,
    /// The birdsmouth on a second, higher plate.
    pub(super) high: Option<HighPlanes>,
    pub(super) heel: Plane,
    pub(super) seat: Plane,
    pub(super) tail: Plane,
    pub(super) soffit: Option<Plane>,
}

/// The birdsmouth on a higher plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HighPlanes {
    pub(super) heel: Plane,
    pub(super) seat: Plane,
}

/// The words for the upper end of a rafter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UpperWords {
    /// The end: `ridge` or `high tail`.
    pub end: &'static str,
    /// Its plumb cut.
    pub cut: &'static str,
    /// Where the tape is hooked for the marks of each edge.
    pub hook: &'static str,
    /// The long point of that cut, on the top edge.
    pub long_point: &'static str,
    /// Its short point, on the bottom edge.
    pub short_point: &'static str,
}

impl Planes {
    /// The words for the upper end.
    pub(super) fn upper_words(&self) -> UpperWords {
        match self.high {
            None => UpperWords {
                end: "ridge",
                cut: "ridge plumb cut",
                hook: "tape hooked on the ridge cut, long point on top, short point below",
                long_point: "ridge, long point",
                short_point: "ridge, short point",
            },
            Some(_) => UpperWords {
                end: "high tail",
                cut: "high tail plumb cut",
                hook: "tape hooked on the high tail cut, long point on top, short point below",
                long_point: "high tail, long point",
                short_point: "high tail, short point",
            },
        }
    }
}

/// The marks: along the top edge from the upper cut's long point, then along the bottom edge from its short point.
pub(super) fn marks(stick: &Stick, planes: &Planes) -> Vec<Mark> {
    let seat_end = plumb(stick.axis.origin.y);
    let outline = stick.profile(Side::Near);
    let mut marks: Vec<Mark> = Vec::new();
    let mut add = |edge: Edge, plane: &Plane, name: &'static str, line: &'static str, cut: bool| {
        let hooked = stick.station(&planes.upper, edge, Side::Near);
        let (Some(zero), Some(station)) = (hooked, stick.station(plane, edge, Side::Near)) else {
            return;
        };
        let level = match edge {
            Edge::Top => stick.section.depth_in(),
            Edge::Bottom => 0.0,
        };
        // a cut's mark is listed only if the stick still has that corner
        let stands = outline
            .iter()
            .any(|corner| (corner.y - level).abs() < ON_IT && (corner.x - station).abs() < HAIR);
        let on_stick = stick
            .edge_reach(edge, Side::Near)
            .is_some_and(|(low, high)| station > low - HAIR && station < high + HAIR);
        if (cut && !stands) || !on_stick {
            return;
        }
        marks.push(Mark {
            number: marks.len() as u32 + 1,
            name,
            line,
            edge,
            at: inches(zero - station),
            point: stick.point(station, edge, Side::Near) * DVec3::new(0.0, 1.0, 1.0),
        });
    };
    let upper = planes.upper_words();
    // where the high seat ends on the bottom edge, as far from its heel as the low one's
    let high = planes.high.map(|high| {
        let end = stick.station(&high.seat, Edge::Bottom, Side::Near);
        let end = end.map_or(high.heel, |end| plumb(stick.point(end, Edge::Bottom, Side::Near).y));
        (high, end)
    });
    add(Edge::Top, &planes.upper, upper.long_point, "plumb cut", true);
    if let Some((high, end)) = &high {
        add(Edge::Top, end, "over the high seat's outer end", "plumb line", false);
        add(Edge::Top, &high.heel, "over the high heel", "plumb line to the high heel", false);
    }
    add(Edge::Top, &seat_end, "over the seat's inner end", "plumb line", false);
    add(Edge::Top, &planes.heel, "building line", "plumb line to the heel", false);
    add(Edge::Top, &planes.tail, "tail", "tail cut", true);
    add(Edge::Bottom, &planes.upper, upper.short_point, "plumb cut", true);
    if let Some((high, _)) = &high {
        add(Edge::Bottom, &high.seat, "high seat, outer end", "level cut", true);
        add(Edge::Bottom, &high.heel, "high heel", "plumb cut", true);
    }
    add(Edge::Bottom, &planes.seat, "seat, inner end", "level cut", true);
    add(Edge::Bottom, &planes.heel, "heel", "plumb cut", true);
    if let Some(soffit) = &planes.soffit {
        add(Edge::Bottom, soffit, "soffit cut, inner end", "level cut", true);
    }
    add(Edge::Bottom, &planes.tail, "tail", "tail cut", true);
    marks
}

/// The cuts with their settings and the length of their lines.
pub(super) fn cuts(stick: &Stick, planes: &Planes, tail: TailCut) -> Vec<CutSetting> {
    let outline: Vec<DVec3> = stick
        .profile(Side::Near)
        .iter()
        .map(|corner| stick.axis.origin + stick.axis.along * corner.x + stick.axis.up * corner.y)
        .collect();
    // the length of a cut is its length in the outline, without the edges' own corners
    let length = |plane: &Plane, keep: &dyn Fn(DVec3) -> bool| {
        let spots: Vec<DVec3> = outline
            .iter()
            .copied()
            .filter(|corner| plane.distance(*corner).abs() < ON_IT && keep(*corner))
            .collect();
        let far = spots
            .iter()
            .flat_map(|a| spots.iter().map(move |b| a.distance(*b)))
            .fold(0.0, f64::max);
        inches(far)
    };
    let all = |_: DVec3| true;
    let cut = |name, plane: &Plane, keep: &dyn Fn(DVec3) -> bool, square| CutSetting {
        name,
        saw: stick.saw_setting(plane),
        length: length(plane, keep),
        square,
    };
    let (rise_leg, run_leg) = ("along the rise side", "along the 12 side");
    let mut cuts = vec![
        cut(planes.upper_words().cut, &planes.upper, &all, rise_leg),
        cut("heel plumb cut", &planes.heel, &|corner| corner.z < ON_IT, rise_leg),
        cut("seat level cut", &planes.seat, &|corner| corner.y > -ON_IT, run_leg),
        match tail {
            TailCut::Square => cut("tail square cut", &planes.tail, &all, "square to the edge"),
            TailCut::Plumb | TailCut::Level => cut("tail plumb cut", &planes.tail, &all, rise_leg),
        },
    ];
    if let Some(soffit) = &planes.soffit {
        cuts.push(cut("soffit level cut", soffit, &|corner| corner.y < ON_IT, run_leg));
    }
    // if a soffit cut is above the plate, its inner end is a plumb cut, and there is no heel
    cuts.insert(
        2,
        cut("plumb cut over the plate", &planes.heel, &|corner| corner.z > -ON_IT, rise_leg),
    );
    if let Some(HighPlanes { heel, seat }) = &planes.high {
        let (plate, inner) = (-seat.offset, heel.offset);
        let below = |corner: DVec3| corner.z < plate + ON_IT;
        cuts.insert(1, cut("high heel plumb cut", heel, &below, rise_leg));
        let within = |corner: DVec3| corner.y > inner - ON_IT;
        cuts.insert(2, cut("high seat level cut", seat, &within, run_leg));
    }
    cuts.retain(|cut| cut.length > inches(ON_IT));
    cuts
}
