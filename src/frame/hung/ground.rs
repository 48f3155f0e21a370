//! What all sticks of a roof share: its faces in their axes, its lines and walls, and the choices in inches.

use crate::catalog::lumber::Section;
use crate::frame::boards::board_covering;
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::roof::{EdgeKind, Framed, Laid, Roof, RoofEdge, Slope, Wall, WallLine};

use super::choices::Choices;
use super::face::{Bound, FaceAxes, Rim};
use super::hole::Hole;
use super::lines::{Line, LineOf, NEAR_IN};
use super::piece::plane_of;

/// What all sticks share.
#[derive(Debug, Clone)]
pub struct Ground {
    /// Faces and edges as they are framed: a face goes on under what is laid on it.
    pub roof: Roof,
    /// The edges that are seen, where a roof is laid on another one; their faces are those of `roof`.
    pub seen: Vec<RoofEdge>,
    /// What is laid on the sheathed roof.
    pub laid: Vec<Laid>,
    /// The walls.
    pub walls: Vec<WallLine>,
    /// The lines under the edges.
    pub lines: Vec<Line>,
    /// Every face in its own axes, with the lines beside it.
    pub faces: Vec<FaceAxes>,
    /// The framed openings.
    pub holes: Vec<Hole>,
    /// The choices.
    pub choices: Choices,
    /// Plumb height of every slope over its plate at the building line.
    pub heel_stand: f64,
    /// Half the thickness of a rafter.
    pub half_rafter: f64,
    /// Depth of a rafter.
    pub depth: f64,
    /// Center to center.
    pub spacing: f64,
    /// Thickness of the deck.
    pub deck: f64,
    /// Width of the plates.
    pub plate: f64,
    /// Level thickness of the boards on the tails.
    pub boards: f64,
    /// The longest lumber.
    pub longest: f64,
}

/// A plate under a face: the two planes of a birdsmouth on it, each with its outside where the wood is taken off.
#[derive(Debug, Clone, Copy)]
pub struct Seat {
    /// The top of the plate.
    pub level: Plane,
    /// The plumb face that the heel stands against.
    pub heel: Plane,
    /// The plate's lowest and highest station in the face's axes.
    pub reach: (f64, f64),
    /// Up the face, where the heel is.
    pub up: f64,
    /// How far the plate goes on from the heel, up the face.
    pub width: f64,
    /// True on the wall that a shed rises to.
    pub is_high: bool,
}

/// What a face belongs to: 0 for what stands on walls, then what is laid on that, one after another.
pub(super) fn layer_of(laid: &[Laid], roof: &Roof, face: usize) -> usize {
    laid.iter().position(|laid| laid.block == roof.faces[face].block).map_or(0, |at| at + 1)
}

impl Ground {
    /// The numbers of a roof with walls and lines.
    #[must_use]
    pub fn of(
        Framed { roof, seen, laid }: Framed,
        walls: Vec<WallLine>,
        lines: Vec<Line>,
        choices: &Choices,
        heel_stand: f64,
    ) -> Ground {
        let axes = |face: usize| {
            let mut axes = FaceAxes::of(&roof, face, &lines);
            // no rafter lies half on the wall and half on the slope behind it
            let own = laid.iter().filter(|laid| laid.block == roof.faces[face].block);
            let ends: Vec<DVec2> = own.map(|laid| axes.place(laid.from)).collect();
            let side = |end: DVec2| Rim { from: end, to: end, bound: Bound::Open };
            axes.sides.extend(ends.into_iter().map(side));
            axes
        };
        let faces = (0..roof.faces.len()).map(axes).collect();
        Ground {
            roof,
            seen,
            laid,
            deck: choices.deck.inches(),
            walls,
            lines,
            faces,
            holes: Vec::new(),
            heel_stand,
            half_rafter: choices.rafter.thickness_in() / 2.0,
            depth: choices.rafter.depth_in(),
            spacing: choices.spacing.inches(),
            plate: choices.plate.inches(),
            boards: choices.boards_in(),
            longest: choices.longest.inches(),
            choices: choices.clone(),
        }
    }

    /// What a face belongs to: 0 for what stands on walls, then what is laid on that, one after another.
    #[must_use]
    pub fn layer_of(&self, face: usize) -> usize {
        layer_of(&self.laid, &self.roof, face)
    }

    /// What is laid on the roof as a layer; `None` for what stands on walls alone.
    pub(super) fn laid_as(&self, layer: usize) -> Option<&Laid> {
        self.laid.get(layer.checked_sub(1)?)
    }

    /// The plane that a layer is cut to where it lies on the sheathed slope under it, its outside below: the top of the deck,
    /// or of the valley boards on it. `None` for what stands on walls alone.
    #[must_use]
    pub fn landing(&self, layer: usize, on_boards: bool) -> Option<Plane> {
        let laid = self.laid_as(layer)?;
        let boards = if on_boards { self.choices.rafter.thickness_in() } else { 0.0 };
        Some(plane_of(&laid.slope).moved_out(self.deck + boards).flipped())
    }

    /// The dormer that a block is; `None` for the main block and for wings.
    #[must_use]
    pub fn dormer(&self, block: &str) -> Option<&Laid> {
        self.laid.iter().find(|laid| laid.block == block && laid.dormer.is_some())
    }

    /// Plumb height of a block's slopes over its plates at its building lines.
    #[must_use]
    pub fn heel_of(&self, block: &str) -> f64 {
        let own = self.dormer(block).and_then(|laid| laid.dormer.as_ref()?.heel_stand);
        own.map_or(self.heel_stand, InInches::inches)
    }

    /// True if the main block has wings.
    #[must_use]
    pub(super) fn has_wings(&self) -> bool {
        self.walls.iter().any(|wall| wall.block != "main" && self.dormer(&wall.block).is_none())
    }

    /// Adds a framed opening.
    pub(super) fn open(&mut self, hole: Hole) {
        self.faces[hole.face].rims.extend(hole.rims(self.holes.len()));
        self.holes.push(hole);
    }

    /// Adds the framed opening that a shed dormer rises over to its upper end.
    pub(super) fn open_under(&mut self, hole: Hole, laid: &Laid) {
        let number = self.holes.len();
        for (face, axes) in self.faces.iter_mut().enumerate() {
            if self.roof.faces[face].block == laid.block {
                axes.open_under(number, hole.reach);
            }
        }
        self.open(hole);
    }

    /// The walls that a face rises from, those of its first block first.
    pub fn walls_of(&self, face: usize) -> impl Iterator<Item = &WallLine> {
        let face = &self.roof.faces[face];
        let name = match face.name.rsplit_once('-') {
            Some((name, number)) if number.bytes().all(|byte| byte.is_ascii_digit()) => name,
            _ => face.name.as_str(),
        };
        self.walls.iter().filter(move |wall| {
            let own = wall.name();
            wall.slope.is_some_and(|slope| slope.is_same_plane(&face.slope))
                && name.split('+').any(|part| part == own)
        })
    }

    /// The plates under a face: where it rises from a wall, and where it rises to one.
    pub fn seats(&self, face: usize) -> Vec<Seat> {
        let axes = &self.faces[face];
        let mut seats: Vec<Seat> =
            self.walls_of(face).map(|wall| self.seat(axes, wall, wall.plate, 0.0)).collect();
        // on the high wall of a shed the rafter stands as deep as on the low one, with its heel at the inner face
        let high = self.high_walls_of(face);
        seats.extend(
            high.map(|wall| self.seat(axes, wall, self.plate_under(axes, wall), self.plate)),
        );
        seats
    }

    /// The walls that a face rises to: the high wall of a shed.
    pub fn high_walls_of(&self, face: usize) -> impl Iterator<Item = &WallLine> {
        let up = self.faces[face].up;
        self.walls.iter().filter(move |wall| {
            wall.block == self.roof.faces[face].block
                && wall.slope.is_none()
                && !self.joins(wall, wall.wall)
                && wall.out.dot(up) > 0.5
        })
    }

    /// Height of the plate of a wall that a slope rises to: as high as the rafter stands over the low one.
    pub(super) fn plate_under(&self, axes: &FaceAxes, wall: &WallLine) -> f64 {
        axes.slope.height(wall.from - wall.out * self.plate) - self.heel_stand
    }

    /// Height of a wall's plate.
    #[must_use]
    pub fn plate_top(&self, wall: &WallLine) -> f64 {
        let high = self.faces.iter().enumerate().find(|(face, axes)| {
            wall.slope.is_none()
                && wall.wall == Wall::B
                && self.roof.faces[*face].block == wall.block
                && wall.out.dot(axes.up) > 0.5
        });
        high.map_or(wall.plate, |(_, axes)| self.plate_under(axes, wall))
    }

    fn seat(&self, axes: &FaceAxes, wall: &WallLine, plate: f64, inward: f64) -> Seat {
        let heel = wall.from - wall.out * inward;
        let ends = [wall.from.dot(axes.along), wall.to.dot(axes.along)];
        Seat {
            level: Plane::through(DVec3::Z * plate, -DVec3::Z),
            heel: Plane::through(heel.extend(0.0), axes.up.extend(0.0)),
            reach: (ends[0].min(ends[1]), ends[0].max(ends[1])),
            up: heel.dot(axes.up),
            width: self.plate,
            is_high: inward > 0.0,
        }
    }

    /// The lowest and the highest station of a face.
    #[must_use]
    pub fn reach_of(&self, face: usize) -> (f64, f64) {
        let along = self.faces[face].along;
        self.roof.faces[face]
            .outline
            .iter()
            .map(|corner| corner.truncate().dot(along))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    }

    /// From where to where along a wall rafters of a face stand over walls, inches from the wall's start.
    pub(super) fn walled(
        &self,
        face: usize,
        wall: &WallLine,
        (first, last): (f64, f64),
        way: f64,
        start: f64,
    ) -> (f64, f64) {
        let along = self.faces[face].along;
        let places = self
            .walls_of(face)
            .flat_map(|other| [other.from, other.to])
            .map(|end| way * (end.dot(along) - start));
        let (low, high) = places.fold((0.0_f64, wall.from.distance(wall.to)), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        (low.max(first), high.min(last))
    }

    /// True if a wing's walls run from its end wall to this end, where they join a wall that has no end wall of its own.
    pub(super) fn joins(&self, wall: &WallLine, end: Wall) -> bool {
        wall.block != "main" && end == Wall::Far
    }

    /// The plane of the tails behind a face's eave, its outside beyond it; `None` if no wall of its own carries it.
    #[must_use]
    pub fn tail(&self, face: usize) -> Option<Plane> {
        let axes = &self.faces[face];
        let wall = self.walls_of(face).next()?;
        if self.is_square(face) {
            let eave = axes.place(wall.from + wall.out * wall.reach).y;
            return Some(self.square_tail(face, eave));
        }
        let edge = wall.from + wall.out * (wall.reach - self.boards);
        Some(Plane::through(edge.extend(0.0), -axes.up.extend(0.0)))
    }

    /// True if tails can be cut square: around a corner, boards that lean with them meet where both slopes are alike and both eaves
    /// in one line.
    pub(super) fn has_square_tails(&self) -> bool {
        let corners = || {
            let on_walls = self.lines.iter().filter(|line| line.layer == 0);
            on_walls.filter(|line| matches!(line.of, LineOf::Hip | LineOf::Valley))
        };
        let alike = |line: &Line| {
            let mut rises =
                line.borders.iter().map(|border| self.faces[border.face].slope.tangent());
            rises.next().is_none_or(|first| rises.all(|rise| (rise - first).abs() < HAIR))
        };
        self.choices.square_tails
            && corners().all(alike)
            && (corners().next().is_none() || self.has_eaves_in_one_line())
    }

    /// True if the eaves over walls are all at one height.
    fn has_eaves_in_one_line(&self) -> bool {
        let eaves = self
            .roof
            .edges
            .iter()
            .filter(|edge| edge.kind == EdgeKind::Eave && self.layer_of(edge.faces[0]) == 0);
        let mut heights = eaves.map(|edge| edge.from.z);
        heights.next().is_none_or(|first| heights.all(|z| (z - first).abs() < HAIR))
    }

    /// True if the low tails of a face are cut square; tails that rise would lean out past their eave.
    pub(super) fn is_square(&self, face: usize) -> bool {
        self.layer_of(face) == 0 && self.has_square_tails()
    }

    /// The plane of square tails behind an eave so far up a face, its outside beyond it: the boards lean with the tails.
    pub(super) fn square_tail(&self, face: usize, eave_up: f64) -> Plane {
        let axes = &self.faces[face];
        let (cosine, _) = axes.turn();
        Plane::through(axes.point(0.0, eave_up + self.boards * cosine), -axes.uphill())
    }

    /// The plane of the level cut under the tails of a face, its outside below, for an eave so far up the face; `None` if tails are cut
    /// plumb through.
    pub(super) fn soffit_cut(&self, face: usize, eave_up: f64) -> Option<Plane> {
        let left = self.choices.tail_face?.inches();
        let axes = &self.faces[face];
        let top = axes.point(0.0, eave_up + self.boards).z;
        Some(Plane::through(DVec3::Z * (top - left), -DVec3::Z))
    }

    /// The planes at the border of a face through a place in plan, outsides beyond it: behind the boards of an eave, plumb elsewhere.
    pub(super) fn borders_at(&self, face: usize, place: DVec2) -> Vec<Plane> {
        let borders = self.roof.edges.iter().filter_map(|edge| {
            let ends = matches!(edge.kind, EdgeKind::Eave | EdgeKind::Rake | EdgeKind::Step);
            let (from, to) = (edge.from.truncate(), edge.to.truncate());
            let off = from.distance(place) + place.distance(to) - from.distance(to);
            let own = edge.faces.iter().position(|beside| *beside == face)?;
            (ends && off < NEAR_IN).then_some((edge, own == 0))
        });
        borders
            .map(|(edge, first)| {
                let from = edge.from.truncate();
                let is_eave = edge.is_level() && first;
                if is_eave && !edge.rises_out && self.is_square(face) {
                    return self.square_tail(face, self.faces[face].place(from).y);
                }
                // the first face of an edge lies on its left; the other one ends under it
                let right = -(edge.to - edge.from).truncate().normalize().perp();
                let out = if first { right } else { -right };
                let clear = if is_eave { self.boards } else { 0.0 };
                Plane::through((from - out * clear).extend(0.0), out.extend(0.0))
            })
            .collect()
    }

    /// The plumb planes at the rakes of a face close to a place inside them, outsides beyond them.
    pub(super) fn rakes_near(&self, face: usize, place: DVec2, near: f64) -> Vec<Plane> {
        let rakes = self.roof.edges.iter().filter(|edge| {
            let (from, to) = (edge.from.truncate(), edge.to.truncate());
            let along = (to - from).normalize();
            let at = (place - from).dot(along).clamp(0.0, from.distance(to));
            edge.kind == EdgeKind::Rake
                && edge.faces.first() == Some(&face)
                && (from + along * at).distance(place) < near
        });
        let planes = rakes.map(|edge| {
            let out = -(edge.to - edge.from).truncate().normalize().perp();
            Plane::through(edge.from.truncate().extend(0.0), out.extend(0.0))
        });
        planes.filter(|plane| plane.distance(place.extend(0.0)) < -NEAR_IN).collect()
    }

    /// The slopes of the block over a place that has all of some faces.
    pub(super) fn slopes_over(&self, faces: &[usize], place: DVec2) -> Vec<Slope> {
        let own = self.roof.blocks.iter().find(|block| {
            block.cover.holds(place)
                && faces.iter().all(|face| {
                    let slope = &self.roof.faces[*face].slope;
                    block.slopes.iter().any(|(_, other)| other.is_same_plane(slope))
                })
        });
        own.map(|block| block.slopes.iter().map(|(_, slope)| *slope).collect()).unwrap_or_default()
    }

    /// The plates that a stick lies on or runs into: each with its top and its outer face, outsides where wood is taken off.
    /// The stick's bottom edge runs from one point to another, and it is so thick.
    pub(super) fn plates_met(&self, (from, to): (DVec3, DVec3), half: f64) -> Vec<(Plane, Plane)> {
        // what is on the walls of a gable end stands on studs, not on a plate of this height
        let stands = |wall: &&WallLine| wall.slope.is_some() && self.dormer(&wall.block).is_none();
        let met = self.walls.iter().filter(stands).filter(|wall| {
            let length = wall.from.distance(wall.to);
            let along = (wall.to - wall.from) / length;
            let place = |point: DVec3| {
                let arm = point.truncate() - wall.from;
                DVec2::new(arm.dot(along), -arm.dot(wall.out))
            };
            // the part of the bottom edge within the plate's outline, thickness allowed for
            let (start, end) = (place(from), place(to));
            let mut part = (0.0_f64, 1.0_f64);
            for (at, run, low, high) in [
                (start.x, end.x - start.x, -half, length + half),
                (start.y, end.y - start.y, -half, self.plate + half),
            ] {
                if run.abs() < HAIR {
                    if at <= low + HAIR || at >= high - HAIR {
                        return false;
                    }
                    continue;
                }
                let (one, other) = ((low - at) / run, (high - at) / run);
                part = (part.0.max(one.min(other)), part.1.min(one.max(other)));
            }
            let height = |part: f64| from.z + (to.z - from.z) * part;
            part.1 > part.0 && height(part.0).min(height(part.1)) < wall.plate - HAIR
        });
        met.map(|wall| {
            let top = Plane::through(DVec3::Z * wall.plate, -DVec3::Z);
            (top, Plane::through(wall.from.extend(0.0), -wall.out.extend(0.0)))
        })
        .collect()
    }

    /// The section of a line's stick.
    #[must_use]
    pub fn section_of(&self, line: &Line) -> Section {
        match line.of {
            LineOf::Ridge => {
                let faces = line.borders.iter().map(|border| &self.faces[border.face]);
                let cut = faces.map(|face| self.depth * face.slope.stretch()).fold(0.0, f64::max);
                let covering = || board_covering(inches(cut));
                Section::sized(
                    self.choices.ridge,
                    self.choices.ridge_depth.unwrap_or_else(covering),
                )
            }
            LineOf::Hip => self.choices.hip.clone(),
            LineOf::Valley | LineOf::Header => self.choices.valley.clone(),
        }
    }
}
