//! The side walls of a dormer from outside: posts and studs on the deck, each with its mark.

use crate::frame::{Member, Role};
use crate::geom::{DVec2, DVec3, Plane, Solid};
use crate::measure::Writing;
use crate::roof::{Laid, Wall, WallLine};

use super::super::super::drawing::{Anchor, Area, Drawing, Fill, Pen, View};
use super::super::super::paper::SMALL;
use super::super::super::projection::{Sight, Style, draw};
use super::labels::{beside, led};
use super::matter::HungMatter;

/// Room around each wall for its marks.
const AROUND: f64 = 0.3;

/// What is seen of one side wall.
struct Side<'a> {
    wall: &'a WallLine,
    sight: Sight,
    solids: Vec<(Solid, Style)>,
    /// The marks of its studs and posts, with the middle of each at its foot and at its top, and half its width.
    marks: Vec<(&'a str, [DVec2; 2], f64)>,
}

/// Both side walls of a dormer, side by side, in one scale; `None` if there is nothing to see.
pub(super) fn side_walls(
    matter: &HungMatter<'_>,
    laid: &Laid,
    room: DVec2,
    writing: Writing,
) -> Option<(Drawing, View)> {
    laid.dormer.as_ref()?;
    let ground = &matter.frame.hung.ground;
    let number = ground.laid.iter().position(|other| other.block == laid.block)?;
    let deck = ground.landing(number + 1, false)?;
    let walls = ground.walls.iter().filter(|wall| wall.block == laid.block);
    let sides: Vec<Side<'_>> = walls
        .filter(|wall| matches!(wall.wall, Wall::A | Wall::B))
        .map(|wall| Side::of(matter, laid, wall))
        .filter(|side| !side.marks.is_empty())
        .collect();
    let extents: Vec<(DVec2, DVec2)> = sides.iter().map(Side::extent).collect();
    let size = extents.iter().map(|(low, high)| *high - *low).reduce(DVec2::max)?;
    let half = DVec2::new(room.x / 2.0, room.y) - DVec2::splat(2.0 * AROUND);
    let scale = View::fitting(DVec2::ZERO, size, Area::new(DVec2::ZERO, half), writing.units).scale;
    let mut drawing = Drawing::new(room.x, size.y * scale + 2.0 * AROUND);
    let mut last = None;
    for (at, (side, (low, high))) in sides.iter().zip(extents).enumerate() {
        let middle = room.x * (0.25 + 0.5 * at as f64);
        let corner = DVec2::new(middle - (high - low).x * scale / 2.0, AROUND);
        let view = View { scale, origin: corner - low * scale };
        side.draw(&view, deck, &mut drawing);
        let words = format!("wall {}, from outside", side.wall.wall.word());
        drawing.text(DVec2::new(middle, 0.04), words, SMALL, Anchor::Middle);
        last = Some(view);
    }
    Some((drawing, last?))
}

impl<'a> Side<'a> {
    fn of(matter: &HungMatter<'a>, laid: &Laid, wall: &'a WallLine) -> Side<'a> {
        let sight = Sight { right: DVec3::Z.cross(wall.out.extend(0.0)), up: DVec3::Z };
        let style = Style { pen: Pen::Context, fill: Fill::Paper };
        let own = format!("-{}.{}-", laid.block, wall.wall.word());
        // the end rafter that lies on the studs, and the front plates under it
        let flush = if wall.wall == Wall::A { "N" } else { "F" };
        let rafter = format!("-{}.near-{flush}", laid.block);
        let plate = format!("-{}.near-", laid.block);
        let is_wall =
            |role: Role| matches!(role, Role::DormerStud | Role::CornerPost | Role::Plate);
        let mut side = Side { wall, sight, solids: Vec::new(), marks: Vec::new() };
        let members: Vec<&'a Member> = matter.frame.members.iter().collect();
        for member in members {
            for (id, axis) in member.placed_ids() {
                let in_wall = is_wall(member.role) && id.contains(&own);
                let on_it = member.role == Role::CommonRafter && id.ends_with(&rafter);
                let front = member.role == Role::Plate && id.contains(&plate);
                if !in_wall && !on_it && !front {
                    continue;
                }
                let solid = member.placed(axis);
                if in_wall && member.role != Role::Plate {
                    let flat = solid.corners().map(|corner| sight.flat(corner));
                    let (low, high) = around(flat);
                    let middle = (low.x + high.x) / 2.0;
                    let ends = [low.y, high.y].map(|y| DVec2::new(middle, y));
                    side.marks.push((&member.mark, ends, (high.x - low.x) / 2.0));
                }
                side.solids.push((solid, style));
            }
        }
        side
    }

    fn extent(&self) -> (DVec2, DVec2) {
        let corners = self.solids.iter().flat_map(|(solid, _)| solid.corners());
        around(corners.map(|corner| self.sight.flat(corner)))
    }

    fn draw(&self, view: &View, deck: Plane, drawing: &mut Drawing) {
        draw(drawing, view, self.sight, &self.solids);
        let ends = [self.wall.from, self.wall.to].map(|place| {
            let up = deck.along_line(place.extend(0.0), DVec3::Z);
            up.map(|up| view.place(self.sight.flat(place.extend(up))))
        });
        if let [Some(from), Some(to)] = ends {
            drawing.line(vec![from, to], Pen::Outline);
            beside(drawing, (from, to), 0.0, "deck", SMALL);
        }
        for (mark, ends, half) in &self.marks {
            let ends = (view.place(ends[0]), view.place(ends[1]));
            if !beside(drawing, ends, half * view.scale, mark, SMALL) {
                led(drawing, ends.0.midpoint(ends.1), mark, SMALL);
            }
        }
    }
}

fn around(places: impl Iterator<Item = DVec2>) -> (DVec2, DVec2) {
    places
        .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}
