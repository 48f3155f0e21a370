//! The building section of each block that stands on the ground: cut beside a pair of rafters near its middle, with its walls, heights
//! and widths.

use crate::frame::{Axis, InSection, Kind as StickKind, Member, Role};
use crate::geom::{DVec2, DVec3, Plane, Solid};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Note};
use crate::roof::{Wall, WallLine};

use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Area, Drawing, Fill, Pen, View};
use super::super::super::paper::notes::Side;
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::super::projection::{self, Sight, Style};
use super::super::Kind;
use super::super::elevations::{heights, ladder_height};
use super::super::section::ladder::{self, Rung};
use super::labels::{beside, led};
use super::matter::HungMatter;
use crate::facts::caution::CHECK;

/// Room for heights at the right, and at the left.
const RIGHT: f64 = 1.0;
const LEFT: f64 = 0.3;
/// Between the work and its heights.
const BESIDE: f64 = 0.3;
/// Room for widths below the work, and for marks over it.
const BELOW: f64 = 0.9;
const ABOVE: f64 = 0.4;
/// What is no farther than this from the pair belongs to it, inches.
const TOGETHER_IN: f64 = 2.0;

/// A roof's line is no higher than this over the highest stick under it, inches.
const HIGHER_IN: f64 = 6.0;

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let cuts: Vec<Cut<'_>> = blocks(matter).filter_map(|wall| Cut::of(matter, wall)).collect();
    if cuts.is_empty() {
        return Vec::new();
    }
    let flow = |orientation| Flow::new(job, Kind::Section.title(), orientation, 1, CHECK);
    let (upright, lying) = (flow(Orientation::Portrait), flow(Orientation::Landscape));
    let scale =
        |flow: &Flow<'_>| cuts.iter().map(|cut| cut.scale(flow, job)).fold(f64::INFINITY, f64::min);
    let mut flow = if scale(&upright) < scale(&lying) { lying } else { upright };
    for cut in &cuts {
        let (words, drawing) = cut.drawing(&flow, job);
        flow.need(drawing.height + 0.6);
        flow.words(&words);
        flow.drawing(drawing);
        flow.gap(0.2);
    }
    flow.finish()
}

/// Wall A of every block that stands on the ground.
fn blocks<'a>(matter: &HungMatter<'a>) -> impl Iterator<Item = &'a WallLine> {
    let ground = &matter.frame.hung.ground;
    let is_laid = |wall: &WallLine| ground.laid.iter().any(|laid| laid.block == wall.block);
    ground.walls.iter().filter(move |wall| wall.wall == Wall::A && !is_laid(wall))
}

/// A stick in its place.
struct Placed<'a> {
    member: &'a Member,
    axis: &'a Axis,
    solid: Solid,
    /// How far it reaches toward the viewer, inches.
    deep: (f64, f64),
}

impl Placed<'_> {
    fn center(&self) -> f64 {
        (self.deep.0 + self.deep.1) / 2.0
    }
}

/// A section across a block.
struct Cut<'a> {
    matter: &'a HungMatter<'a>,
    wall: &'a WallLine,
    sight: Sight,
    /// The plane, its outside toward the viewer.
    plane: Plane,
    seen: Vec<Placed<'a>>,
    cut: Vec<Placed<'a>>,
    /// The walls that it cuts: outer and inner face, and the top of the plate.
    walls: Vec<([f64; 2], f64)>,
    low: DVec2,
    high: DVec2,
}

impl<'a> Cut<'a> {
    /// Beside the pair of rafters nearest to the block's middle; `None` if no rafter runs across it.
    fn of(matter: &'a HungMatter<'a>, wall: &'a WallLine) -> Option<Cut<'a>> {
        let frame = matter.frame;
        let across = -wall.out;
        let sight = Sight { right: across.extend(0.0), up: DVec3::Z };
        let toward = sight.toward();
        let place = |member: &'a Member, axis: &'a Axis| {
            let solid = member.placed(axis);
            let deep = solid.extent(toward)?;
            Some(Placed { member, axis, solid, deep })
        };
        let all = frame.members.iter().flat_map(|member| {
            member.placements.iter().filter_map(move |axis| place(member, axis))
        });
        let (mut standing, running): (Vec<Placed<'_>>, Vec<Placed<'_>>) =
            all.partition(|one| one.axis.along.dot(toward).abs() < HAIR);
        let ends = [wall.from, wall.to].map(|end| end.extend(0.0).dot(toward));
        let (near, far) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let own: Vec<&Placed<'_>> = standing
            .iter()
            .filter(|one| one.member.role.kind() == StickKind::Rafters)
            .filter(|one| one.center() > near && one.center() < far)
            .filter(|one| in_block(one, frame.hung.ground.walls.iter(), wall))
            .collect();
        // where a common rafter stands on each side, rather than where a dormer or a wing takes the place of one
        let worth = |one: &&&Placed<'_>| {
            let here = |other: &&&Placed<'_>| (other.center() - one.center()).abs() < TOGETHER_IN;
            let commons =
                own.iter().filter(here).filter(|other| other.member.role == Role::CommonRafter);
            (commons.count().min(2), -(one.center() - (near + far) / 2.0).abs())
        };
        let pair = own.iter().max_by(|one, other| {
            let ((a, near), (b, far)) = (worth(one), worth(other));
            a.cmp(&b).then(near.total_cmp(&far))
        })?;
        let slab = (pair.deep.0 - TOGETHER_IN, pair.deep.1 + TOGETHER_IN);
        let center = pair.center();
        let is_shown = |one: &Placed<'_>| {
            let is_rafter = one.member.role.kind() == StickKind::Rafters;
            let own = if is_rafter {
                (one.center() - center).abs() < TOGETHER_IN
            } else {
                one.member.role.in_section() == InSection::AtPair
            };
            own && one.deep.0 < slab.1 && one.deep.1 > slab.0
        };
        let plane = Plane::through(toward * slab.1, toward);
        standing.retain(is_shown);
        let is_cut = |one: &Placed<'_>| {
            one.deep.0 < slab.1
                && one.deep.1 > slab.1
                && !projection::cut_rings(&one.solid, &plane).is_empty()
        };
        let cut: Vec<Placed<'_>> = running.into_iter().filter(is_cut).collect();
        let walls = cut_walls(matter, sight, slab.1);
        let seen_at = standing.iter().flat_map(|one| one.solid.corners());
        let rings = cut.iter().flat_map(|one| projection::cut_rings(&one.solid, &plane));
        let corners = seen_at.chain(rings.flatten()).map(|at| sight.flat(at));
        let (mut low, high) = corners
            .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
        low.y = low.y.min(levels(matter).1);
        Some(Cut { matter, wall, sight, plane, seen: standing, cut, walls, low, high })
    }

    fn scale(&self, flow: &Flow<'_>, job: &Job) -> f64 {
        let room =
            DVec2::new(flow.width() - LEFT - BESIDE - RIGHT, flow.height() - BELOW - ABOVE - 0.7);
        View::fitting(self.low, self.high, Area::new(DVec2::ZERO, room), job.writing.units).scale
    }

    /// The words over it, and the drawing.
    fn drawing(&self, flow: &Flow<'_>, job: &Job) -> (String, Drawing) {
        let scale = self.scale(flow, job);
        let size = (self.high - self.low) * scale;
        let floor_height = self.matter.code.checks.floor_height;
        // what stands higher is of another block
        let mut rungs = heights(self.matter.sticks(), floor_height);
        rungs.retain(|(height, _)| *height <= self.high.y + HIGHER_IN);
        let tall = (size.y + BELOW + ABOVE).max(ladder_height(&rungs));
        let mut drawing = Drawing::new(flow.width(), tall);
        let left = (flow.width() - LEFT - BESIDE - RIGHT - size.x) / 2.0 + LEFT;
        let view = View { scale, origin: DVec2::new(left, BELOW) - self.low * scale };
        self.draw_walls(&view, &mut drawing);
        let style = |pen, fill| Style { pen, fill };
        let solids = |list: &[Placed<'_>], own: Style| -> Vec<(Solid, Style)> {
            list.iter().map(|one| (one.solid.clone(), own)).collect()
        };
        let seen = solids(&self.seen, style(Pen::Context, Fill::Paper));
        projection::draw(&mut drawing, &view, self.sight, &seen);
        let cut = solids(&self.cut, style(Pen::Context, Fill::Hatch));
        projection::draw_cut(&mut drawing, &view, self.sight, &self.plane, &cut);
        self.widths(&view, job, &mut drawing);
        let edge = view.place(self.high).x;
        let rungs = rungs.iter().map(|(height, words)| Rung {
            foot: DVec2::new(edge + 0.05, view.place(DVec2::Y * *height).y),
            words: words.clone(),
            figures: vec![job.writing.length(inches(*height))],
        });
        let column = Area::new(
            DVec2::new(edge + BESIDE, 0.0),
            DVec2::new(edge + BESIDE + RIGHT, drawing.height),
        );
        ladder::draw(
            &mut drawing,
            column,
            Side::Right,
            &["above plate A"],
            rungs.collect(),
            job.fine(),
        );
        self.names(&view, job, &mut drawing);
        let block = match self.wall.block.as_str() {
            "main" => "the main block".to_owned(),
            name => name.to_owned(),
        };
        let along = (self.wall.to - self.wall.from).dot(self.sight.toward().truncate());
        let from = if along > 0.0 { "far" } else { "near" };
        let words = format!(
            "Section across {block}, seen from its {from} end, {}. Hatched: cut.",
            view.words(job.writing.units)
        );
        (words, drawing)
    }

    /// Walls, floor and ground.
    fn draw_walls(&self, view: &View, drawing: &mut Drawing) {
        let (floor, ground) = levels(self.matter);
        let at = |x: f64, y: f64| view.place(DVec2::new(x, y));
        for (faces, top) in &self.walls {
            for x in faces {
                drawing.line(vec![at(*x, *top), at(*x, ground)], Pen::Context);
            }
        }
        let ends = self.walls.iter().flat_map(|(faces, _)| *faces);
        let (first, last) = ends
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
        if first < last {
            drawing.line(vec![at(first, floor), at(last, floor)], Pen::Context);
        }
        let (from, to) = (at(self.low.x, ground), at(self.high.x, ground));
        let deep = DVec2::Y * 0.08;
        drawing.outline(vec![from - deep, to - deep, to, from], Pen::Thin, Fill::Hatch);
        drawing.line(vec![from, to], Pen::Outline);
    }

    /// From wall to wall, and how far the eaves reach past them.
    fn widths(&self, view: &View, job: &Job, drawing: &mut Drawing) {
        let ground = self.low.y;
        let at = |x: f64| view.place(DVec2::new(x, ground));
        let write = |value: f64| job.writing.length(inches(value));
        let mut outer: Vec<f64> = self.walls.iter().map(|(faces, _)| faces[0]).collect();
        outer.sort_by(f64::total_cmp);
        let mut rows = Dimensions::new(DVec2::NEG_Y, -at(0.0).y + 0.2);
        for two in outer.windows(2) {
            rows.add(at(two[0]), at(two[1]), format!("span {}", write(two[1] - two[0])));
        }
        let overhang = self.matter.plan.gable.rafter.overhang_from_building_line().inches();
        if let [first, .., last] = outer[..] {
            // at the left alone: at the right are the heights
            if overhang > HAIR && last > first && (first - self.low.x - overhang).abs() < HAIR {
                rows.add(at(self.low.x), at(first), format!("overhang {}", write(overhang)));
            }
        }
        rows.draw(drawing);
    }

    /// The sticks with their marks: those across with section and pitch, those that are cut with the mark alone.
    fn names(&self, view: &View, job: &Job, drawing: &mut Drawing) {
        let flat = |at: DVec3| view.place(self.sight.flat(at));
        let mut told: Vec<(&str, f64)> = Vec::new();
        for one in &self.seen {
            let (member, axis) = (one.member, one.axis);
            let rise = axis.along.z / axis.along.truncate().length().max(f64::MIN_POSITIVE);
            let is_known = told
                .iter()
                .any(|(mark, known)| *mark == member.mark.as_str() && (known - rise).abs() < HAIR);
            if is_known {
                continue;
            }
            told.push((&member.mark, rise));
            let section = member.stick.section.write(job.writing.units);
            let mut text = format!("{} {}, {section}", member.role.words(), member.mark);
            if rise.abs() > HAIR {
                let pitch = Note::with("{}", [Amount::RiseIn12(rise.abs() * 12.0)]);
                text.push_str(&format!(", {}", pitch.write(job.writing)));
            }
            let depth = axis.up * (member.stick.section.depth_in() / 2.0);
            let middle =
                [0.0, member.blank().inches()].map(|far| axis.origin + axis.along * far + depth);
            let ends = (flat(middle[0]), flat(middle[1]));
            let half = member.stick.section.depth_in() / 2.0 * view.scale;
            if !beside(drawing, ends, half, &text, SMALL) {
                led(drawing, ends.0.midpoint(ends.1), &member.mark, SMALL);
            }
        }
        for one in &self.cut {
            let rings = projection::cut_rings(&one.solid, &self.plane);
            let corners: Vec<DVec2> = rings.iter().flatten().map(|at| flat(*at)).collect();
            let middle = corners.iter().sum::<DVec2>() / corners.len().max(1) as f64;
            led(drawing, middle, &one.member.mark, SMALL);
        }
    }
}

/// True if the middle of a stick is over the block that a wall belongs to.
fn in_block<'a>(
    one: &Placed<'_>,
    walls: impl Iterator<Item = &'a WallLine>,
    wall: &WallLine,
) -> bool {
    let across = -wall.out;
    let opposite = walls.filter(|other| other.block == wall.block && other.wall == Wall::B);
    let span = opposite.map(|other| (other.from - wall.from).dot(across)).fold(0.0, f64::max);
    let corners: Vec<DVec2> = one.solid.corners().map(|corner| corner.truncate()).collect();
    let middle = corners.iter().sum::<DVec2>() / corners.len().max(1) as f64;
    let at = (middle - wall.from).dot(across);
    at > 0.0 && at < span
}

/// The floor and the ground, inches above plate A.
fn levels(matter: &HungMatter<'_>) -> (f64, f64) {
    let floor = -matter.sticks().plan.wall_height.inches();
    let height = matter.code.checks.floor_height.map_or(0.0, InInches::inches);
    (floor, floor - height)
}

/// The walls on the ground that a plane so far toward the viewer cuts.
fn cut_walls(matter: &HungMatter<'_>, sight: Sight, deep: f64) -> Vec<([f64; 2], f64)> {
    let ground = &matter.frame.hung.ground;
    let on_roof = |wall: &&WallLine| {
        ground.laid.iter().any(|laid| laid.dormer.is_some() && laid.block == wall.block)
    };
    let (right, toward) = (sight.right.truncate(), sight.toward().truncate());
    let mut found: Vec<([f64; 2], f64)> = Vec::new();
    for wall in ground.walls.iter().filter(|wall| !on_roof(wall)) {
        let ends = [wall.from, wall.to].map(|end| end.dot(toward));
        let side = wall.out.dot(right);
        let is_cut = ends[0].min(ends[1]) < deep && ends[0].max(ends[1]) > deep;
        if !is_cut || side.abs() < 0.5 {
            continue;
        }
        let outer = wall.from.dot(right);
        let inner = outer - side.signum() * ground.plate;
        // a wing's end stands on the wall that it joins
        if found.iter().all(|(faces, _)| (faces[0] - outer).abs() > ground.plate + HAIR) {
            found.push(([outer, inner], ground.plate_top(wall)));
        }
    }
    found
}
