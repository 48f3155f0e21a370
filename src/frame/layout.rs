//! The places of the pairs of rafters, and the tape marks for them.

use std::borrow::Cow;

use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::{GablePlan, Joists, LayoutFrom, Meeting};

use super::beside::{joist_face, joist_in_the_way, on_plate};
use super::member::Member;
use super::pair::Pair;
use super::role::Role;
use super::site::{EaveSide, Site};
use crate::geom::DVec3;

/// The pairs, from the near end wall to the far one.
///
/// End pairs are flush with the end walls. Between them rafter centers are at whole spacings from the
/// start of the layout, as far as a rafter fits beside the end pairs.
#[must_use]
pub fn pairs(plan: &GablePlan, site: &Site) -> Vec<Pair> {
    let end = |x: f64| Pair { x_a: x, x_b: x, at_end: true, joist_side: 0.0 };
    if site.length < 2.0 * site.thick {
        return vec![end(0.0)];
    }
    let spacing = plan.spacing.inches();
    let start = match plan.layout_from {
        LayoutFrom::Wall => 0.0,
        LayoutFrom::Rake => -site.rake,
    };
    let last = site.length - site.thick;
    let mut pairs = vec![end(0.0)];
    let first = ((site.thick * 1.5 - start) / spacing - LAST_BITS).ceil().max(1.0);
    let mut number = first;
    loop {
        let x = start + number * spacing - site.thick / 2.0;
        if x + site.thick > last + LAST_BITS {
            break;
        }
        let before = pairs[pairs.len() - 1];
        let is_last = x + spacing + site.thick > last + LAST_BITS;
        pairs.push(common(plan, site, x, before, is_last));
        number += 1.0;
    }
    pairs.push(end(last));
    pairs
}

/// A common pair at `x` on eave A, with the side of its joist: beyond the rafter, but before the last
/// pair if the joist would keep outlookers from crossing the last bay.
fn common(plan: &GablePlan, site: &Site, x: f64, before: Pair, is_last: bool) -> Pair {
    let mut pair = Pair { x_a: x, x_b: x, at_end: false, joist_side: 0.0 };
    if plan.joists != Joists::Beside {
        return pair;
    }
    let joist = plan.joist.thickness_in();
    let two = plan.bearing.is_some();
    // the sticks beside the rafter at the plate or over the bearing, at their widest
    let width = if two { 2.0 * joist } else { joist };
    let offset = if two && plan.meeting == Meeting::Offset { joist } else { 0.0 };
    let beyond = site.clear_of_ends(x + site.thick, x + site.thick + width)
        && x + offset + site.thick <= site.length - site.thick + LAST_BITS;
    // on the near side there must be room for it beside the stick before
    let taken =
        before.x_a.max(before.x_b) + site.thick + if before.joist_side > 0.0 { width } else { 0.0 };
    let back = site.clear_of_ends(x - width, x)
        && x - width >= taken - LAST_BITS
        && x - offset >= taken - LAST_BITS;
    let beyond_if_free = !(is_last && joist_in_the_way(plan, site));
    pair.joist_side = match (beyond, back) {
        (true, true) if beyond_if_free => 1.0,
        (_, true) => -1.0,
        (true, false) => 1.0,
        (false, false) => 0.0,
    };
    pair.x_b = x + offset * pair.joist_side;
    pair
}

/// What a layout line runs along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// The plate of an eave wall.
    Plate(EaveSide),
    /// One face of the ridge board.
    Ridge(EaveSide),
    /// The plate of the inside bearing.
    Bearing,
    /// The plates of both end walls, for gable studs.
    EndWalls,
    /// The rakes, for rungs or outlookers.
    Rakes(Role),
    /// One side of a plate, ridge, hip or valley of any roof.
    Side,
}

impl LineKind {
    /// True for lines that have a mark for every pair of rafters.
    #[must_use]
    pub fn is_of_pairs(self) -> bool {
        matches!(self, LineKind::Plate(_) | LineKind::Ridge(_))
    }
}

/// One stick at its mark on a layout line.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Leading face, from the hook of the tape.
    pub at: Length,
    /// How much of the line it covers beyond its mark.
    pub covers: Length,
    /// The mark of its pattern.
    pub mark: String,
    /// Its id.
    pub id: String,
    /// What it does.
    pub role: Role,
}

/// Tape marks along one line.
#[derive(Debug, Clone, PartialEq)]
pub struct LayoutLine {
    /// What the line runs along.
    pub kind: LineKind,
    /// From the hook of the tape to the line's other end.
    pub length: Length,
    /// What is marked: a plate or the ridge.
    pub on: Cow<'static, str>,
    /// The role and the mark of what is marked, where it is a stick that the crew knows by its mark.
    pub known_as: Option<String>,
    /// Where to hook the tape.
    pub from: &'static str,
    /// Near faces of the rafters from there.
    pub marks: Vec<Length>,
    /// Near faces of the joists from there.
    pub joist_marks: Vec<Length>,
    /// The side of the mark on which the rafter goes.
    pub x_side: &'static str,
    /// What stands at the marks of a side; of a gable's lines it is found by the place.
    pub standing: Vec<Standing>,
}

impl LayoutLine {
    /// What is marked, with its mark before its id.
    #[must_use]
    pub fn title(&self) -> String {
        let Some(name) = &self.known_as else { return self.on.clone().into_owned() };
        match self.on.split_once(", ") {
            Some((id, face)) => format!("{name} ({id}), {face}"),
            None => format!("{name} ({})", self.on),
        }
    }
}

fn lengths(places: Vec<f64>) -> Vec<Length> {
    places.into_iter().map(inches).collect()
}

/// The layout lines of both plates and of the ridge, each from the near end.
#[must_use]
pub fn lines(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Vec<LayoutLine> {
    let near_wall = "near end wall, framing face";
    let rafters = |eave: EaveSide| pairs.iter().map(|pair| pair.x(eave)).collect::<Vec<_>>();
    let joists = |eave: EaveSide| {
        pairs
            .iter()
            .filter(|pair| pair.joist_side != 0.0)
            .map(|pair| joist_face(plan, site, pair, eave))
            .collect::<Vec<_>>()
    };
    let plate = |on: &'static str, eave: EaveSide| LayoutLine {
        kind: LineKind::Plate(eave),
        length: inches(site.length),
        on: on.into(),
        from: near_wall,
        marks: lengths(rafters(eave)),
        joist_marks: lengths(if on_plate(plan) { joists(eave) } else { Vec::new() }),
        known_as: None,
        x_side: "beyond the mark",
        standing: Vec::new(),
    };
    let mut lines = vec![plate("plate A", EaveSide::A), plate("plate B", EaveSide::B)];
    // both faces of the ridge are marked, from its near end on the rake
    if site.half_ridge > 0.0 {
        for (on, eave) in [("ridge, face A", EaveSide::A), ("ridge, face B", EaveSide::B)] {
            let mut marks = rafters(eave);
            if site.rake > 0.0 {
                marks.insert(0, -site.rake);
                marks.push(site.length + site.rake - site.thick);
            }
            lines.push(LayoutLine {
                kind: LineKind::Ridge(eave),
                length: inches(site.length + 2.0 * site.rake),
                on: on.into(),
                from: "near end of the ridge board",
                marks: marks.into_iter().map(|mark| inches(mark + site.rake)).collect(),
                joist_marks: Vec::new(),
                known_as: None,
                x_side: "beyond the mark",
                standing: Vec::new(),
            });
        }
    }
    if plan.bearing.is_some() && plan.joists == Joists::Beside {
        let mut both = [joists(EaveSide::A), joists(EaveSide::B)].concat();
        both.sort_by(f64::total_cmp);
        both.dedup_by(|a, b| (*a - *b).abs() < LAST_BITS);
        lines.push(LayoutLine {
            kind: LineKind::Bearing,
            length: inches(site.length),
            on: "inside bearing".into(),
            from: near_wall,
            marks: Vec::new(),
            joist_marks: lengths(both),
            known_as: None,
            x_side: "beyond the mark",
            standing: Vec::new(),
        });
    }
    lines
}

/// Marks along the end walls' plates and along the rakes, from the members there.
#[must_use]
pub(super) fn gable_lines(site: &Site, members: &[Member]) -> Vec<LayoutLine> {
    let mut lines = Vec::new();
    // leading faces of the sticks at the near end; for the rakes, only those of one eave
    let faces = |role: Role, along: &dyn Fn(DVec3) -> f64, keep: &dyn Fn(DVec3) -> bool| {
        let mut marks: Vec<f64> = members
            .iter()
            .filter(|member| member.role == role)
            .flat_map(|member| member.placements.iter().map(|axis| member.placed(axis)))
            .filter(|solid| solid.bounds().is_some_and(|(low, _)| keep(low)))
            .filter_map(|solid| solid.corners().map(along).min_by(f64::total_cmp))
            .collect();
        marks.sort_by(f64::total_cmp);
        marks.dedup_by(|a, b| (*a - *b).abs() < HAIR);
        marks
    };
    let near = |low: DVec3| low.x < site.length / 2.0;
    let studs = faces(Role::GableStud, &|corner| corner.y, &|low| near(low) && low.z < HAIR);
    if !studs.is_empty() {
        lines.push(LayoutLine {
            kind: LineKind::EndWalls,
            length: inches(site.span),
            on: "end wall plates, gable studs".into(),
            from: "building line of eave A",
            marks: lengths(studs),
            joist_marks: Vec::new(),
            known_as: None,
            x_side: "beyond the mark",
            standing: Vec::new(),
        });
    }
    let tail = DVec3::new(0.0, -site.tail, site.roof_height(-site.tail));
    let up = site.up_slope();
    let along = move |corner: DVec3| (corner - tail).dot(up);
    for (role, on) in
        [(Role::LadderRung, "rakes, ladder rungs"), (Role::Outlooker, "rakes, outlookers")]
    {
        let marks = faces(role, &along, &|low| near(low) && low.y < site.run - 1.0);
        if !marks.is_empty() {
            lines.push(LayoutLine {
                kind: LineKind::Rakes(role),
                length: inches((site.run - site.half_ridge + site.tail) * site.secant),
                on: on.into(),
                from: "top of the tail cut, up the slope",
                marks: lengths(marks),
                joist_marks: Vec::new(),
                known_as: None,
                x_side: "beyond the mark",
                standing: Vec::new(),
            });
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::super::trial::gable;

    const ROOF: &str = "[building]\nlength = \"30'\"\nspan = \"24'\"\nwall_height = \"8'\"\n\
         [roof]\npitch = \"4/12\"\nspacing = \"16\\\"\"\n\
         [ceiling]\njoists = \"beside\"\nstock = \"2x8\"\n";

    fn sides(more: &str) -> (Vec<f64>, Vec<f64>) {
        let frame = gable(&format!("{ROOF}{more}"));
        let pairs = frame.pairs.iter();
        pairs.map(|pair| (pair.x_a, pair.joist_side)).unzip()
    }

    /// 30 ft at 16 in on center: the ends flush with the walls, and between them the middles of 22 pairs at 16 to 352 in. Joists
    /// stand beyond their rafters, but the last one before its rafter where outlookers cross the last bay.
    #[test]
    fn the_last_joist_leaves_the_bay_to_the_outlookers() {
        let by_hand: Vec<f64> = (1..=22).map(|number| 16.0 * f64::from(number) - 0.75).collect();
        for framing in ["ladder", "over"] {
            let (places, joists) = sides(&format!(
                "[rake]\noverhang = \"12\\\"\"\nframing = \"{framing}\"\nspacing = \"16\\\"\"\n"
            ));
            let (first, rest) = places.split_first().unwrap();
            let (last, common) = rest.split_last().unwrap();
            assert_eq!((*first, *last), (0.0, 358.5));
            assert_eq!(common, by_hand);
            let mut wanted = vec![1.0; 24];
            (wanted[0], wanted[23]) = (0.0, 0.0);
            wanted[22] = if framing == "over" { -1.0 } else { 1.0 };
            assert_eq!(joists, wanted, "{framing}");
        }
    }

    /// From the rake, 12 in before the wall, the first whole spacing is 4 in past it and the last 356 in.
    #[test]
    fn a_layout_from_the_rake_starts_there() {
        let from_rake = ROOF.replace("[ceiling]", "layout_from = \"rake\"\n[ceiling]");
        let frame = gable(&format!("{from_rake}[rake]\noverhang = \"12\\\"\"\n"));
        let places: Vec<f64> = frame.pairs.iter().map(|pair| pair.x_a + 0.75).collect();
        let mut by_hand: Vec<f64> =
            (1..=23).map(|number| 16.0 * f64::from(number) - 12.0).collect();
        by_hand.insert(0, 0.75);
        by_hand.push(359.25);
        assert_eq!(places, by_hand);
    }

    /// Lengths that lap over a bearing stand a joist apart: eave B's rafter is as far beyond that of eave A.
    #[test]
    fn rafters_are_offset_by_the_joists_that_lap() {
        let bearing = ROOF
            .replace("stock = \"2x8\"", "stock = \"2x8\"\nbearing = \"12'\"\nmeeting = \"offset\"");
        let frame = gable(&bearing);
        let commons: Vec<_> = frame.pairs.iter().filter(|pair| !pair.at_end).collect();
        for pair in &commons {
            assert_eq!(pair.x_b - pair.x_a, 1.5 * pair.joist_side);
        }
        assert_eq!(commons.len(), 22);
        assert!(commons.iter().all(|pair| pair.joist_side != 0.0));
    }
}
