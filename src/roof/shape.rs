//! The shape of a roof as a plan tells it: the main block, wings and dormers, made into blocks.

use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Pitch};

pub use super::axes::Wall;
use super::axes::{Axes, WallLine};
use super::block::Block;
use super::faces::Roof;

/// What is behind an end wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// A gable: the side slopes run out over it.
    Gable,
    /// A slope of its own, with this pitch.
    Hip(Pitch),
}

/// The main block.
#[derive(Debug, Clone, PartialEq)]
pub struct Main {
    /// Along the ridge, framing face to framing face.
    pub length: Length,
    /// Across the ridge, building line to building line.
    pub span: Length,
    /// Pitch of slope A.
    pub pitch: Pitch,
    /// Pitch of slope B; `None` for a shed, which rises from wall A to wall B.
    pub pitch_b: Option<Pitch>,
    /// Plate of wall B above that of wall A.
    pub plate_b: Length,
    /// What is behind the near and the far end wall.
    pub ends: [End; 2],
    /// How far eaves and hip ends reach past the building line.
    pub overhang: Length,
    /// How far gable ends and the sides of a shed reach past it.
    pub rake: Length,
    /// Plumb height of every slope over its own plate at its building line.
    pub heel_stand: Length,
}

/// What a wing stands before.
#[derive(Debug, Clone, PartialEq)]
pub struct Before {
    /// Name of another wing; `None` for the main block.
    pub wing: Option<String>,
    /// The wall.
    pub wall: Wall,
}

/// A wing.
#[derive(Debug, Clone, PartialEq)]
pub struct Wing {
    /// Its name.
    pub name: String,
    /// The wall it stands before.
    pub on: Before,
    /// From the near end wall, or from wall A, to its first side wall.
    pub start: Length,
    /// Across its ridge.
    pub span: Length,
    /// From the wall's framing face to its end wall.
    pub projection: Length,
    /// Pitch of its slopes.
    pub pitch: Pitch,
    /// Its plates above the main plate.
    pub plate: Length,
    /// True for a hip end, which has the pitch of its sides.
    pub hip: bool,
    /// How far its side eaves and its hip end reach past the building line.
    pub overhang: Length,
    /// How far its gable end reaches past it.
    pub rake: Length,
}

/// A dormer.
#[derive(Debug, Clone, PartialEq)]
pub struct Dormer {
    /// Its name.
    pub name: String,
    /// The face it stands in.
    pub on: Wall,
    /// From the near end wall, or from wall A, to its first side wall.
    pub start: Length,
    /// Across it, side wall to side wall.
    pub span: Length,
    /// Level, from the building line to its front wall.
    pub face: Length,
    /// Its plates above the main plate: the side plates of a gable dormer, the front plate of a shed dormer.
    pub wall: Length,
    /// Its pitch.
    pub pitch: Pitch,
    /// True for one slope that rises from the front.
    pub shed: bool,
    /// How far its level edges reach past its walls.
    pub overhang: Length,
    /// How far its sloped edges reach past its walls.
    pub rake: Length,
}

/// A roof as a plan tells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// The main block.
    pub main: Main,
    /// Wings, each after the wing that it stands before.
    pub wings: Vec<Wing>,
    /// Dormers.
    pub dormers: Vec<Dormer>,
}

/// Why a shape has no roof.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotRoof {
    /// The wing stands before a wing that is not there, or comes only later.
    NoSuchWing {
        /// The wing.
        wing: String,
        /// What it stands before.
        on: String,
    },
    /// Its ridge is higher than the ridge it would die into.
    RidgeTooHigh {
        /// The wing or dormer.
        name: String,
        /// How much too high.
        by: Length,
        /// The largest run that is not too high: half the span, of a shed dormer its depth.
        most_run: Length,
        /// The steepest pitch that is not; `None` if no pitch is low enough.
        most_pitch: Option<Pitch>,
    },
    /// Hip ends over eave walls of unlike height, or on a shed.
    HipEnd,
    /// The wing or dormer does not stand wholly before its wall.
    BesideItsWall {
        /// The wing or dormer.
        name: String,
        /// The largest start that its span leaves; below zero if the span alone is too large.
        most_start: Length,
    },
    /// The front of a dormer stands at the ridge or beyond it.
    PastRidge {
        /// The dormer.
        name: String,
        /// From the building line to the ridge: its face must be less.
        ridge: Length,
    },
    /// A dormer's walls end below the roof before it, so that nothing of it shows.
    Buried {
        /// The dormer.
        name: String,
        /// Height of the roof at its front wall above the main plate: its wall must be more.
        roof: Length,
    },
    /// Two blocks share a part of the plan within their walls, or two dormers do.
    Overlap {
        /// One.
        one: String,
        /// The other.
        other: String,
    },
}

impl Shape {
    /// Its faces and edges.
    ///
    /// # Errors
    /// Every reason why it has none.
    pub fn roof(&self) -> Result<Roof, Vec<CannotRoof>> {
        self.placed().map(|(blocks, _)| Roof::of(blocks))
    }

    /// The walls of the main block and of its wings, and the roof over them.
    ///
    /// # Errors
    /// Every reason why it has no roof.
    pub fn roof_and_walls(&self) -> Result<(Roof, Vec<WallLine>), Vec<CannotRoof>> {
        let (blocks, axes) = self.placed()?;
        let main = |axes: &Axes| axes.walls("main", self.main_plates(), self.main.reaches());
        let mut walls = axes.first().map(main).unwrap_or_default();
        for (axes, wing) in axes.iter().skip(1).zip(&self.wings) {
            let plate = wing.plate.inches();
            walls.extend(axes.walls(&wing.name, [plate; 4], wing.reaches()));
        }
        Ok((Roof::of(blocks), walls))
    }

    /// Plates of the main walls above the plate of wall A; the high wall of a shed is as high as its slope.
    fn main_plates(&self) -> [f64; 4] {
        [0.0, self.main.plate_b.inches(), 0.0, 0.0]
    }

    /// The blocks, and the axes of those that stand on walls: the main block, then the wings.
    fn placed(&self) -> Result<(Vec<Block>, Vec<Axes>), Vec<CannotRoof>> {
        let mut faults = Vec::new();
        if !self.main.has_hips_that_fit() {
            faults.push(CannotRoof::HipEnd);
        }
        let (main, block) = self.main.placed();
        let mut placed = vec![main];
        let mut blocks = vec![block];
        for wing in &self.wings {
            if let Some((axes, block)) = wing.placed(&placed, &mut faults) {
                placed.push(axes);
                blocks.push(block);
            }
        }
        refuse_overlaps(&placed, &mut faults);
        let mut dormers = Vec::new();
        for dormer in &self.dormers {
            if let Some((axes, block)) = dormer.placed(&placed[0], &mut faults) {
                dormers.push(axes);
                blocks.push(block);
            }
        }
        refuse_overlaps(&dormers, &mut faults);
        if faults.is_empty() { Ok((blocks, placed)) } else { Err(faults) }
    }
}

impl Main {
    /// Two slopes of one pitch and a gable at each end.
    #[must_use]
    pub fn gable(
        (length, span): (Length, Length),
        pitch: Pitch,
        heel_stand: Length,
        overhang: Length,
        rake: Length,
    ) -> Main {
        Main {
            length,
            span,
            pitch,
            pitch_b: Some(pitch),
            plate_b: inches(0.0),
            ends: [End::Gable; 2],
            overhang,
            rake,
            heel_stand,
        }
    }

    /// What it covers, and its slopes.
    #[must_use]
    pub fn block(&self) -> Block {
        self.placed().1
    }

    /// How far it reaches past each wall.
    fn reaches(&self) -> [f64; 4] {
        let (eave, rake) = (self.overhang.inches(), self.rake.inches());
        let end = |end: End| if end == End::Gable { rake } else { eave };
        [eave, eave, end(self.ends[0]), end(self.ends[1])]
    }

    /// Hip ends want two slopes over plates of one height.
    fn has_hips_that_fit(&self) -> bool {
        let hips = self.ends.iter().any(|end| matches!(end, End::Hip(_)));
        !hips || self.pitch_b.map(Pitch::tangent).is_some() && self.plate_b.inches().abs() <= HAIR
    }

    fn placed(&self) -> (Axes, Block) {
        let heel = self.heel_stand.inches();
        let hip = |end: End| match end {
            End::Gable => None,
            End::Hip(pitch) => Some((heel, pitch.tangent())),
        };
        let behind_b =
            self.pitch_b.map(Pitch::tangent).map(|tangent| (heel + self.plate_b.inches(), tangent));
        let near_far = [hip(self.ends[0]), hip(self.ends[1])];
        let sides = [Some((heel, self.pitch.tangent())), behind_b];
        // hip ends that meet below the side slopes end the rise before them
        let top = crown(sides, self.span.inches())
            .unwrap_or(heel + self.span.inches() * self.pitch.tangent())
            .min(crown(near_far, self.length.inches()).unwrap_or(f64::INFINITY));
        let axes = Axes {
            name: None,
            origin: DVec2::ZERO,
            along: DVec2::X,
            across: DVec2::Y,
            size: DVec2::new(self.length.inches(), self.span.inches()),
            top,
            behind: [Some((heel, self.pitch.tangent())), behind_b, near_far[0], near_far[1]],
        };
        let [a, b, near, far] = self.reaches();
        let cover = axes.cover((-near, self.length.inches() + far), (-a, self.span.inches() + b));
        let slopes = Wall::ALL.into_iter().filter_map(|wall| {
            let (height, tangent) = axes.behind[wall as usize]?;
            Some((wall.word().to_owned(), axes.slope(wall, height, tangent)))
        });
        let block = Block { name: "main".to_owned(), cover, slopes: slopes.collect() };
        (axes, block)
    }
}

impl Wing {
    /// How far it reaches past each of its walls; before the wall that it stands before, not at all.
    fn reaches(&self) -> [f64; 4] {
        let eave = self.overhang.inches();
        [eave, eave, if self.hip { eave } else { self.rake.inches() }, 0.0]
    }

    fn placed(&self, placed: &[Axes], faults: &mut Vec<CannotRoof>) -> Option<(Axes, Block)> {
        let Some(host) = placed.iter().find(|axes| axes.name == self.on.wing) else {
            let on = self.on.wing.clone().unwrap_or_default();
            faults.push(CannotRoof::NoSuchWing { wing: self.name.clone(), on });
            return None;
        };
        let height = self.plate.inches() + host_heel(placed);
        let top = height + self.pitch.tangent() * self.span.inches() / 2.0;
        let (corner, along, out, length) = host.wall(self.on.wall);
        stands_before(&self.name, (self.start.inches(), self.span.inches()), length, faults);
        too_high(
            &self.name,
            (height, host.top),
            (self.span.inches() / 2.0, self.pitch.tangent()),
            faults,
        );
        let side = Some((height, self.pitch.tangent()));
        let axes = Axes {
            name: Some(self.name.clone()),
            origin: corner + along * self.start.inches() + out * self.projection.inches(),
            along: -out,
            across: along,
            size: DVec2::new(self.projection.inches(), self.span.inches()),
            top,
            behind: [side, side, side.filter(|_| self.hip), None],
        };
        let [a, b, near, _] = self.reaches();
        let cover = axes.cover(
            (-near, self.projection.inches() + host.reach(self.on.wall)),
            (-a, self.span.inches() + b),
        );
        let slopes = Wall::ALL.into_iter().filter_map(|wall| {
            let (height, tangent) = axes.behind[wall as usize]?;
            Some((format!("{}.{}", self.name, wall.word()), axes.slope(wall, height, tangent)))
        });
        let block = Block { name: self.name.clone(), cover, slopes: slopes.collect() };
        Some((axes, block))
    }
}

impl Dormer {
    fn placed(&self, main: &Axes, faults: &mut Vec<CannotRoof>) -> Option<(Axes, Block)> {
        let heel = host_heel(std::slice::from_ref(main));
        let height = self.wall.inches() + heel;
        let (corner, along, out, length) = main.wall(self.on);
        stands_before(&self.name, (self.start.inches(), self.span.inches()), length, faults);
        let ridge = main.reach(self.on);
        let depth = ridge - self.face.inches();
        if depth <= HAIR {
            faults.push(CannotRoof::PastRidge { name: self.name.clone(), ridge: inches(ridge) });
            return None;
        }
        let before = main.behind[self.on as usize]
            .map(|(height, tangent)| height + tangent * self.face.inches());
        if let Some(roof) = before.filter(|roof| height <= roof + HAIR) {
            faults.push(CannotRoof::Buried { name: self.name.clone(), roof: inches(roof - heel) });
        }
        let run = if self.shed { depth } else { self.span.inches() / 2.0 };
        too_high(&self.name, (height, main.top), (run, self.pitch.tangent()), faults);
        let axes = Axes {
            name: Some(self.name.clone()),
            origin: corner + along * self.start.inches() - out * self.face.inches(),
            along: -out,
            across: along,
            size: DVec2::new(depth, self.span.inches()),
            top: height + self.pitch.tangent() * run,
            behind: [None; 4],
        };
        let (walls, front, side): (&[Wall], f64, f64) = if self.shed {
            (&[Wall::Near], self.overhang.inches(), self.rake.inches())
        } else {
            (&[Wall::A, Wall::B], self.rake.inches(), self.overhang.inches())
        };
        let slopes = walls.iter().map(|wall| {
            (
                format!("{}.{}", self.name, wall.word()),
                axes.slope(*wall, height, self.pitch.tangent()),
            )
        });
        let cover = axes.cover((-front, depth), (-side, self.span.inches() + side));
        let block = Block { name: self.name.clone(), cover, slopes: slopes.collect() };
        Some((axes, block))
    }
}

/// The height at which two slopes that rise toward each other meet: each with its height at its wall and its rise over
/// run, and the walls so far apart; `None` if there are no two.
fn crown(slopes: [Option<(f64, f64)>; 2], apart: f64) -> Option<f64> {
    let [Some((one, rise)), Some((other, other_rise))] = slopes else {
        return None;
    };
    Some((one / rise + other / other_rise + apart) / (1.0 / rise + 1.0 / other_rise))
}

/// Refuses every two that share a part of the plan within their walls.
fn refuse_overlaps(placed: &[Axes], faults: &mut Vec<CannotRoof>) {
    let name = |axes: &Axes| axes.name.clone().unwrap_or_else(|| "main".to_owned());
    let within = |axes: &Axes| axes.cover((0.0, axes.size.x), (0.0, axes.size.y));
    for (at, one) in placed.iter().enumerate() {
        for other in &placed[at + 1..] {
            if within(one).within_all(within(other).half_planes()).is_some() {
                faults.push(CannotRoof::Overlap { one: name(one), other: name(other) });
            }
        }
    }
}

/// The heel stand, which all slopes have over their plates: slope A of the main block has it at its building line.
fn host_heel(placed: &[Axes]) -> f64 {
    placed[0].behind[0].map_or(0.0, |(height, _)| height)
}

fn stands_before(name: &str, (start, span): (f64, f64), length: f64, faults: &mut Vec<CannotRoof>) {
    if start < -HAIR || start + span > length + HAIR {
        let most_start = inches(length - span);
        faults.push(CannotRoof::BesideItsWall { name: name.to_owned(), most_start });
    }
}

/// Refuses a block that rises from its plate over its run past the highest point of what it dies into.
fn too_high(
    name: &str,
    (plate, most): (f64, f64),
    (run, tangent): (f64, f64),
    faults: &mut Vec<CannotRoof>,
) {
    let top = plate + run * tangent;
    if top > most + HAIR {
        let room = (most - plate).max(0.0);
        faults.push(CannotRoof::RidgeTooHigh {
            name: name.to_owned(),
            by: inches(top - most),
            most_run: inches(room / tangent),
            most_pitch: Pitch::rise_in_12(12.0 * room / run).filter(|_| room > HAIR),
        });
    }
}
