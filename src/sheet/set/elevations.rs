//! The four sides of a building from outside: roof, fascias, walls and ground, without what they hide, and the heights.

use crate::frame::Sticks;
use crate::geom::{DVec2, DVec3};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::roof::{EdgeKind, Face};

use super::super::drawing::{Area, Drawing, Fill, Pen, View};
use super::super::hidden::{Flat, visible};
use super::super::paper::notes::Side as Column;
use super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::projection::Sight;
use super::super::scale;
use super::Kind;
use super::section::ladder::{self, Rung};

/// The caution on them.
const CAUTION: &str = "Caution: walls are shown up to their framing faces, without openings and finish. What is under the plates, and the ground, is for a \
     designer and the local code.";
/// Room at the right for heights, and at the left.
const RIGHT: f64 = 0.95;
const LEFT: f64 = 0.1;
/// Room over and below the work.
const AROUND: f64 = 0.2;
/// Between the work and its heights.
const BESIDE: f64 = 0.3;

/// What is drawn of a building: faces that hide, and lines with their pens.
struct Building {
    faces: Vec<Flat>,
    lines: Vec<[DVec3; 2]>,
    pens: Vec<Pen>,
    /// Lowest and highest corner.
    low: DVec3,
    high: DVec3,
}

/// One side: its name, how it is looked at, and the turn of its outer face from the far end, degrees clockwise.
struct Side {
    name: &'static str,
    sight: Sight,
    turn: f64,
}

const SIDES: [Side; 4] = [
    Side { name: "eave A", sight: Sight::EAVE_A, turn: 90.0 },
    Side { name: "far end", sight: Sight { right: DVec3::Y, up: DVec3::Z }, turn: 0.0 },
    Side { name: "eave B", sight: Sight { right: DVec3::NEG_X, up: DVec3::Z }, turn: 270.0 },
    Side { name: "near end", sight: Sight { right: DVec3::NEG_Y, up: DVec3::Z }, turn: 180.0 },
];

/// The sheets; `floor_height` is the floor's above the ground.
pub(super) fn pages(sticks: Sticks<'_>, floor_height: Option<Length>, job: &Job) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Elevations.title(), Orientation::Portrait, 1, CAUTION);
    let units = job.writing.units;
    let building = Building::of(sticks, floor_height);
    let rungs = heights(sticks, floor_height);
    let room = DVec2::new(flow.width() - LEFT - BESIDE - RIGHT, flow.height() * 0.5 - 0.75);
    let views: Vec<(&Side, DVec2, DVec2)> = SIDES
        .iter()
        .map(|side| {
            let (low, high) = building.extent(side.sight);
            (side, low, high)
        })
        .collect();
    // all sides in one scale
    let size = views.iter().map(|(_, low, high)| *high - *low).reduce(DVec2::max);
    let area = Area::new(DVec2::ZERO, room - DVec2::Y * 2.0 * AROUND);
    let scale = View::fitting(DVec2::ZERO, size.unwrap_or(DVec2::ONE), area, units).scale;
    for (number, (side, low, high)) in views.into_iter().enumerate() {
        let faces = job
            .plan_set
            .as_ref()
            .and_then(|block| block.north_deg)
            .map(|bearing| format!(" It faces {}.", compass(bearing + side.turn)));
        let size = (high - low) * scale;
        let mut drawing =
            Drawing::new(flow.width(), size.y.max(ladder_height(&rungs)) + 2.0 * AROUND);
        let corner = DVec2::new(LEFT + (room.x - size.x) / 2.0, AROUND);
        let view = View { scale, origin: corner - low * scale };
        building.draw(side.sight, &view, &mut drawing);
        let edge = LEFT + (room.x + size.x) / 2.0;
        let column = Area::new(
            DVec2::new(edge + BESIDE, 0.0),
            DVec2::new(edge + BESIDE + RIGHT, drawing.height),
        );
        let rungs = rungs.iter().map(|(height, words)| Rung {
            foot: DVec2::new(edge, view.place(DVec2::Y * *height).y),
            words: words.clone(),
            figures: vec![job.writing.length(inches(*height))],
        });
        ladder::draw(
            &mut drawing,
            column,
            Column::Right,
            &["above plate A"],
            rungs.collect(),
            job.fine(),
        );
        flow.need(drawing.height + 0.6);
        flow.head(&format!("{}, {}", side.name, scale::words(1.0 / scale, units)));
        if number == 0 {
            flow.words(&format!(
                "From outside; what is hidden is left out. Heights are above the top of the plate of wall A.{}",
                faces.unwrap_or_default()
            ));
        } else if let Some(faces) = faces {
            flow.words(faces.trim());
        }
        flow.drawing(drawing);
    }
    flow.finish()
}

/// Room that the heights need at least.
pub(super) fn ladder_height(rungs: &[(f64, String)]) -> f64 {
    rungs.len() as f64 * (2.0 * SMALL * 1.75 + 0.07) + SMALL * 3.5
}

/// The direction of the compass that a bearing is nearest to.
fn compass(bearing: f64) -> &'static str {
    const POINTS: [&str; 8] =
        ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"];
    POINTS[(bearing.rem_euclid(360.0) / 45.0).round() as usize % 8]
}

/// Heights above plate A, each with what is there: ridges, eaves, plates, floor and ground.
pub(super) fn heights(sticks: Sticks<'_>, floor_height: Option<Length>) -> Vec<(f64, String)> {
    let mut found: Vec<(f64, String)> = Vec::new();
    let mut tell = |height: f64, words: &str| match found
        .iter_mut()
        .find(|(known, _)| (known - height).abs() < HAIR)
    {
        Some((_, known)) if known.contains(words) => {}
        Some((_, known)) => *known = format!("{known}, {words}"),
        None => found.push((height, words.to_owned())),
    };
    for edge in sticks.roof.edges.iter().filter(|edge| edge.is_level()) {
        match edge.kind {
            EdgeKind::Ridge => tell(edge.from.z, "ridge"),
            EdgeKind::Eave if edge.rises_out => tell(edge.from.z, "high eave"),
            EdgeKind::Eave => tell(edge.from.z, "eave"),
            _ => {}
        }
    }
    tell(0.0, "plate");
    let floor = -sticks.plan.wall_height.inches();
    tell(floor, "floor");
    if let Some(height) = floor_height {
        tell(floor - height.inches(), "ground");
    }
    found
}

/// A wall in plan, with its plate above plate A.
struct WallInPlan {
    from: DVec2,
    to: DVec2,
    plate: f64,
}

/// The walls of a framed roof.
fn walls(sticks: Sticks<'_>) -> Vec<WallInPlan> {
    if let Some(hung) = sticks.hung {
        let ground = &hung.hung.ground;
        let wall = |wall: &crate::roof::WallLine| WallInPlan {
            from: wall.from,
            to: wall.to,
            plate: ground.plate_top(wall),
        };
        return ground.walls.iter().map(wall).collect();
    }
    let site = sticks.gable.map(|frame| &frame.site);
    let (long, span) = site.map_or((0.0, 0.0), |site| (site.length, site.span));
    let corners = [(0.0, 0.0), (long, 0.0), (long, span), (0.0, span)];
    let corners = corners.map(|(x, y)| DVec2::new(x, y));
    (0..4)
        .map(|at| WallInPlan { from: corners[at], to: corners[(at + 1) % 4], plate: 0.0 })
        .collect()
}

impl Building {
    fn of(sticks: Sticks<'_>, floor_height: Option<Length>) -> Building {
        let mut building = Building {
            faces: Vec::new(),
            lines: Vec::new(),
            pens: Vec::new(),
            low: DVec3::INFINITY,
            high: DVec3::NEG_INFINITY,
        };
        // a face goes on under what is laid on it, which hides walls there as the roof does
        let faces = sticks.hung.map_or(&sticks.roof.faces, |frame| &frame.hung.ground.roof.faces);
        for face in faces {
            let flat = Flat { outline: face.outline.clone(), holes: face.holes.clone() };
            building.add_face(flat);
        }
        for edge in &sticks.roof.edges {
            let ends = [edge.from, edge.to];
            building.add_line(ends, Pen::Outline);
            // of a step the upper slope ends here
            if matches!(edge.kind, EdgeKind::Eave | EdgeKind::Rake | EdgeKind::Step) {
                building.band(ends, band_depth(sticks));
            }
        }
        building.openings(sticks);
        let floor = -sticks.plan.wall_height.inches();
        let ground = floor - floor_height.map_or(0.0, InInches::inches);
        for wall in walls(sticks) {
            building.wall(&wall, faces, (floor, ground));
        }
        building.low.z = ground;
        building
    }

    fn add_face(&mut self, face: Flat) {
        for corner in &face.outline {
            self.low = self.low.min(*corner);
            self.high = self.high.max(*corner);
        }
        self.faces.push(face);
    }

    fn add_line(&mut self, ends: [DVec3; 2], pen: Pen) {
        self.lines.push(ends);
        self.pens.push(pen);
    }

    /// The board, or the cut ends of the rafters, under an outer edge of the roof.
    fn band(&mut self, [from, to]: [DVec3; 2], deep: f64) {
        let down = DVec3::NEG_Z * deep;
        let ring = vec![from, to, to + down, from + down];
        for at in 1..4 {
            self.add_line([ring[at], ring[(at + 1) % 4]], Pen::Context);
        }
        self.add_face(Flat { outline: ring, holes: Vec::new() });
    }

    /// The clear edges of skylights, chimneys and hatches.
    fn openings(&mut self, sticks: Sticks<'_>) {
        let Some(frame) = sticks.hung else { return };
        let ground = &frame.hung.ground;
        let is_own = |name: &str| ground.laid.iter().all(|laid| laid.block != name);
        for hole in ground.holes.iter().filter(|hole| is_own(&hole.name)) {
            let axes = &ground.faces[hole.face];
            let ((first, last), (low, high)) = (hole.reach, hole.up);
            let ring = [(first, low), (last, low), (last, high), (first, high)]
                .map(|(along, up)| axes.point(along, up));
            for at in 0..4 {
                self.add_line([ring[at], ring[(at + 1) % 4]], Pen::Context);
            }
        }
    }

    /// A wall from the ground, or from the roof that it stands on, up to its plate, or to the roof over it.
    fn wall(&mut self, wall: &WallInPlan, faces: &[Face], (floor, ground): (f64, f64)) {
        /// A roof no lower than this under the plate is over the wall, inches.
        const SLACK: f64 = 1.0;
        /// A wall ends so far under the faces of the roof, so that it never shows through them, inches.
        const UNDER_IN: f64 = 0.5;
        let parts = parts(wall, faces);
        let place = |part: f64| wall.from + (wall.to - wall.from) * part;
        let last = parts.len().saturating_sub(2);
        for (number, ends) in parts.windows(2).enumerate() {
            let middle = place((ends[0] + ends[1]) / 2.0);
            let over = faces.iter().filter(|face| covers(face, middle));
            let mut top: Option<&Face> = None;
            let mut foot: Option<&Face> = None;
            for face in over {
                let height = face.slope.height(middle);
                let is_over = height >= wall.plate - SLACK;
                let known = |face: &Option<&Face>| face.map(|face| face.slope.height(middle));
                if is_over && known(&top).is_none_or(|known| height < known) {
                    top = Some(face);
                } else if !is_over && known(&foot).is_none_or(|known| height > known) {
                    foot = Some(face);
                }
            }
            let at = |part: f64, face: Option<&Face>, otherwise: f64| {
                let place = place(part);
                place.extend(face.map_or(otherwise, |face| face.slope.height(place)))
            };
            let [low_from, low_to] = [ends[0], ends[1]].map(|part| at(part, foot, ground));
            let under = if top.is_some() { DVec3::NEG_Z * UNDER_IN } else { DVec3::ZERO };
            let [top_from, top_to] =
                [ends[0], ends[1]].map(|part| at(part, top, wall.plate) + under);
            self.add_line([low_from, low_to], Pen::Context);
            if foot.is_none() && floor - ground > HAIR {
                let [from, to] = [ends[0], ends[1]].map(|part| at(part, None, floor));
                self.add_line([from, to], Pen::Thin);
            }
            self.add_line([top_from, top_to], Pen::Context);
            if number == 0 {
                self.add_line([low_from, top_from], Pen::Context);
            }
            if number == last {
                self.add_line([low_to, top_to], Pen::Context);
            }
            let outline = vec![low_from, low_to, top_to, top_from];
            self.add_face(Flat { outline, holes: Vec::new() });
        }
    }

    fn extent(&self, sight: Sight) -> (DVec2, DVec2) {
        let ends = [self.low, self.high].map(|corner| sight.flat(corner));
        (ends[0].min(ends[1]), ends[0].max(ends[1]))
    }

    fn draw(&self, sight: Sight, view: &View, drawing: &mut Drawing) {
        for (line, ends) in visible(&self.faces, &self.lines, sight) {
            drawing.line(ends.map(|end| view.place(end)).to_vec(), self.pens[line]);
        }
        // the ground, a little past the building, with earth under it
        let (low, high) = self.extent(sight);
        let ends = [DVec2::new(low.x, low.y), DVec2::new(high.x, low.y)].map(|at| view.place(at));
        let past = DVec2::X * 0.15;
        let (from, to) = (ends[0] - past, ends[1] + past);
        let deep = DVec2::Y * 0.08;
        drawing.outline(vec![from - deep, to - deep, to, from], Pen::Thin, Fill::Hatch);
        drawing.line(vec![from, to], Pen::Outline);
    }
}

/// How deep the board under an outer edge is; without one the plumb cut of the rafters.
fn band_depth(sticks: Sticks<'_>) -> f64 {
    let plan = &sticks.plan.rafter;
    let cut = sticks.rafter.plumb_height;
    plan.fascia_depth.or(plan.subfascia_depth).unwrap_or(cut).inches()
}

/// Where along a wall the roof over it changes, as parts of its length, with both ends.
fn parts(wall: &WallInPlan, faces: &[Face]) -> Vec<f64> {
    let way = wall.to - wall.from;
    let mut parts = vec![0.0, 1.0];
    for face in faces {
        for ring in std::iter::once(&face.outline).chain(&face.holes) {
            let after = ring.iter().cycle().skip(1);
            for (start, end) in ring.iter().zip(after) {
                let (start, end) = (start.truncate(), end.truncate());
                let across = way.perp_dot(end - start);
                if across.abs() < HAIR {
                    continue;
                }
                let part = (start - wall.from).perp_dot(end - start) / across;
                let along = (start - wall.from).perp_dot(way) / across;
                if (0.0..=1.0).contains(&part) && (-1e-6..=1.0 + 1e-6).contains(&along) {
                    parts.push(part);
                }
            }
        }
    }
    parts.sort_by(f64::total_cmp);
    let long = way.length().max(HAIR);
    parts.dedup_by(|one, other| (*one - *other) * long < HAIR);
    parts
}

/// True if a face is over a place in plan.
fn covers(face: &Face, place: DVec2) -> bool {
    let edges = std::iter::once(&face.outline)
        .chain(&face.holes)
        .flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
    let crossed = edges.filter(|(from, to)| {
        (from.y > place.y) != (to.y > place.y)
            && place.x < from.x + (to.x - from.x) * (place.y - from.y) / (to.y - from.y)
    });
    crossed.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::super::tests::{KESTREL, job, texts, with_matter};
    use super::*;
    use crate::measure::Units;
    use crate::sheet::Item;
    use crate::sheet::paper::Paper;

    #[test]
    fn the_compass_is_read_from_the_bearing() {
        let told = [0.0, 44.0, 90.0, 181.0, 359.0, 450.0].map(compass);
        assert_eq!(told, ["north", "northeast", "east", "south", "north", "east"]);
    }

    #[test]
    fn a_gable_end_shows_both_rakes_and_an_eave_none() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let building = Building::of(matter.frame.sticks(), None);
            let sloped = |side: &Side| {
                let mut drawing = Drawing::new(9.0, 9.0);
                let view = View { scale: 1.0, origin: DVec2::ZERO };
                building.draw(side.sight, &view, &mut drawing);
                let all = drawing.items.into_iter().filter(|item| match item {
                    Item::Line { points, .. } => {
                        let (from, to) = (points[0], points[1]);
                        (from.x - to.x).abs() > 1.0 && (from.y - to.y).abs() > 1.0
                    }
                    _ => false,
                });
                all.count()
            };
            let counts: Vec<usize> = SIDES.iter().map(sloped).collect();
            assert_eq!((counts[0], counts[2]), (0, 0), "{counts:?}");
            assert!(counts[1] >= 4 && counts[3] >= 4, "{counts:?}");
        });
    }

    #[test]
    fn heights_are_those_of_the_section() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let job = job(Paper::Letter, Units::Feet);
            let floor = matter.book.checks.floor_height;
            let all = texts(&pages(matter.frame.sticks(), floor, &job));
            // peak 46.61 in over the plate; floor 97-1/8 in below it, ground 18 in lower
            for wanted in ["3' 10-5/8\"", "-8' 1-1/8\"", "-9' 7-1/8\"", "ridge", "ground"] {
                assert!(
                    all.iter().filter(|text| *text == wanted).count() == 4,
                    "{wanted}: {all:?}"
                );
            }
        });
    }
}
