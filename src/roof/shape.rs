//! The shape of a roof as a plan tells it: the main block, wings and dormers, made into blocks.

use crate::geom::{DVec2, HalfPlane, Polygon};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Pitch};
use crate::plan::GablePlan;

pub use super::cannot::CannotRoof;
pub use crate::plan::blocks::{Before, Dormer, End, Main, Opening, Wall, Wing};

use super::axes::{Axes, WallLine};
use super::block::Block;
use super::cannot::{Stands, least_or_most};
use super::faces::Roof;
use super::openings;
use super::slopes::runs;

/// A roof as a plan tells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// The main block.
    pub main: Main,
    /// Wings, each after the wing that it stands before.
    pub wings: Vec<Wing>,
    /// Dormers.
    pub dormers: Vec<Dormer>,
    /// Openings.
    pub openings: Vec<Opening>,
}

impl Shape {
    /// The shape that a plan tells, with every slope at `heel_stand` over its own plate at its building line.
    #[must_use]
    pub fn of(plan: &GablePlan, heel_stand: Length) -> Shape {
        let blocks = &plan.blocks;
        Shape {
            main: Main {
                length: plan.length,
                span: plan.rafter.span,
                pitch: plan.rafter.pitch,
                pitch_b: (!blocks.shed).then(|| blocks.pitch_b.unwrap_or(plan.rafter.pitch)),
                plate_b: blocks.plate_b,
                ends: blocks.ends,
                overhang: plan.rafter.eave_reach(),
                rake: plan.rake,
                heel_stand,
            },
            wings: blocks.wings.clone(),
            dormers: blocks.dormers.clone(),
            openings: blocks.openings.clone(),
        }
    }

    /// The shape with every overhang longer: along the slope past the fascia, level past the rake, as far as deck and
    /// covering reach.
    #[must_use]
    pub fn reaching(&self, fascia: Length, rake: Length) -> Shape {
        let mut shape = self.clone();
        let level = |pitch: Pitch| inches(fascia.inches() / pitch.tangent().hypot(1.0));
        shape.main.overhang += level(shape.main.pitch);
        shape.main.rake += rake;
        for wing in &mut shape.wings {
            wing.overhang += level(wing.pitch);
            wing.rake += rake;
        }
        for dormer in &mut shape.dormers {
            dormer.overhang += level(dormer.pitch);
            dormer.rake += rake;
        }
        shape
    }

    /// Its faces and edges.
    ///
    /// # Errors
    /// Every reason why it has none.
    pub fn roof(&self) -> Result<Roof, Vec<CannotRoof>> {
        self.placed().map(|(blocks, _)| Roof::of(blocks))
    }

    /// The walls of the main block and of its wings, and the roof over them as it is built: the eave of a wing ends at the wall that the
    /// wing stands before, where no roof of that building is beside it.
    ///
    /// # Errors
    /// Every reason why it has no roof.
    pub fn built(&self) -> Result<(Roof, Vec<WallLine>), Vec<CannotRoof>> {
        let (blocks, axes) = self.placed()?;
        let main = |axes: &Axes| axes.walls("main", self.main_plates(), self.main.reaches());
        let mut walls = axes.first().map(main).unwrap_or_default();
        for (axes, wing) in axes.iter().skip(1).zip(&self.wings) {
            let plate = wing.plate.inches();
            walls.extend(axes.walls(&wing.name, [plate; 4], wing.reaches()));
        }
        let carried = blocks.iter().flat_map(|block| {
            let covers = match self.wings.iter().find(|wing| wing.name == block.name) {
                Some(wing) => carried(block, wing, &blocks, &walls),
                None => vec![block.cover.clone()],
            };
            covers.into_iter().map(|cover| Block { cover, ..block.clone() })
        });
        Ok((Roof::of(carried.collect()), walls))
    }

    /// Plates of the main walls above the plate of wall A; the high wall of a shed is as high as its slope. End walls are
    /// as high as the lower one of the side walls, with studs above their plates.
    fn main_plates(&self) -> [f64; 4] {
        let plate_b = self.main.plate_b.inches();
        let end = plate_b.min(0.0);
        [0.0, plate_b, end, end]
    }

    /// Where along its wall, nearest to its own start, a dormer has room beside another one with the overhangs of both; `None` if not
    /// before the same wall.
    fn room_beside(&self, one: &str, other: &str) -> Option<Amount> {
        let named = |name: &str| self.dormers.iter().find(|dormer| dormer.name == name);
        let (one, other) = (named(one)?, named(other)?);
        let aside = |dormer: &Dormer| if dormer.shed { dormer.rake } else { dormer.overhang };
        let between = aside(one) + aside(other) + inches(APART_IN);
        let length = match other.on {
            Wall::A | Wall::B => self.main.length,
            Wall::Near | Wall::Far => self.main.span,
        };
        let starts = [one.start + one.span + between, one.start - between - other.span];
        let fits = |start: &Length| *start >= inches(0.0) && *start + other.span <= length;
        let far = |start: &Length| (*start - other.start).abs().inches();
        let fitting = starts.into_iter().filter(fits).filter(|_| one.on == other.on);
        let nearest = fitting.min_by(|a, b| far(a).total_cmp(&far(b)))?;
        Some(least_or_most(nearest, other.start))
    }

    /// Where along its wall, nearest to its own start, a wing stands clear of the other wings before that wall; `None` if the two are
    /// not before the same wall.
    fn room_beside_wings(&self, placed: &[Axes], one: &str, other: &str) -> Option<Amount> {
        let named = |name: &str| self.wings.iter().find(|wing| wing.name == name);
        let (one, other) = (named(one)?, named(other)?);
        if one.on != other.on {
            return None;
        }
        let host = placed.iter().find(|axes| axes.name == other.on.wing)?;
        let (_, _, _, length) = host.wall(other.on.wall);
        let beside =
            || self.wings.iter().filter(|wing| wing.on == other.on && wing.name != other.name);
        let fits = |start: &Length| {
            let (from, to) = (start.inches(), (*start + other.span).inches());
            let clear = |wing: &Wing| {
                to <= wing.start.inches() + HAIR || from >= (wing.start + wing.span).inches() - HAIR
            };
            from >= -HAIR && to <= length + HAIR && beside().all(clear)
        };
        let starts = beside().flat_map(|wing| [wing.start + wing.span, wing.start - other.span]);
        let far = |start: &Length| (*start - other.start).abs().inches();
        let nearest = starts.filter(fits).min_by(|a, b| far(a).total_cmp(&far(b)))?;
        Some(least_or_most(nearest, other.start))
    }

    /// The blocks, and the axes of those that stand on walls: the main block, then the wings.
    fn placed(&self) -> Result<(Vec<Block>, Vec<Axes>), Vec<CannotRoof>> {
        let mut faults = Vec::new();
        if !self.main.has_hips_that_fit() {
            faults.push(CannotRoof::HipEnd { near: self.main.ends[0] != End::Gable });
        }
        self.main.refuse_no_ridge(&mut faults);
        let (main, block) = self.main.placed();
        let mut placed = vec![main];
        let mut blocks = vec![block];
        for wing in &self.wings {
            if let Some((axes, block)) = wing.placed(&placed, &mut faults) {
                placed.push(axes);
                blocks.push(block);
            }
        }
        let beside = |one: &str, other: &str| self.room_beside_wings(&placed, one, other);
        refuse_overlaps(&placed, beside, &mut faults);
        let mut dormers = Vec::new();
        for dormer in &self.dormers {
            if let Some((axes, block)) = dormer.placed(&placed[0], &mut faults) {
                dormers.push(axes);
                blocks.push(block);
            }
        }
        refuse_overlaps(&dormers, |one, other| self.room_beside(one, other), &mut faults);
        if faults.is_empty() {
            let standing = &blocks[..placed.len()];
            openings::refuse_dormers(&self.dormers, &placed[0], standing, &mut faults);
        }
        if faults.is_empty() {
            openings::refuse(&self.openings, &placed[0], &blocks, &mut faults);
        }
        if faults.is_empty() { Ok((blocks, placed)) } else { Err(faults) }
    }
}

impl Main {
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

    /// Each slope has to pass over the other's wall before it is higher than the other there.
    fn refuse_no_ridge(&self, faults: &mut Vec<CannotRoof>) {
        let Some(pitch_b) = self.pitch_b else { return };
        faults.extend(runs(self.span, [self.pitch, pitch_b], self.plate_b).err());
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
            .min(match near_far {
                [Some((height, tangent)), None] | [None, Some((height, tangent))] => {
                    height + tangent * self.length.inches()
                }
                both => crown(both, self.length.inches()).unwrap_or(f64::INFINITY),
            });
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
            (&self.name, Stands::Wing),
            (height, host.top),
            (self.span.inches() / 2.0, self.pitch.tangent()),
            true,
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
    pub(super) fn placed(
        &self,
        main: &Axes,
        faults: &mut Vec<CannotRoof>,
    ) -> Option<(Axes, Block)> {
        if main.behind[self.on as usize].is_none() {
            faults.push(main.no_slope(&self.name));
            return None;
        }
        let heel = host_heel(std::slice::from_ref(main));
        let heel = self.heel_stand.map_or(heel, InInches::inches);
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
        let host = main.behind[self.on as usize].map(|(_, tangent)| tangent);
        if let Some(host) = host.filter(|host| self.shed && self.pitch.tangent() >= host - HAIR) {
            if let Some(below) = Pitch::rise_in_12(12.0 * host) {
                faults.push(CannotRoof::NotFlatter { name: self.name.clone(), below });
            }
            return None;
        }
        let run = if self.shed { depth } else { self.span.inches() / 2.0 };
        let stands = if self.shed { Stands::ShedDormer } else { Stands::GableDormer };
        // with another pitch its seat would leave another heel stand
        let pitch_is_free = self.heel_stand.is_none();
        let slope = (run, self.pitch.tangent());
        too_high((&self.name, stands), (height, main.top), slope, pitch_is_free, faults);
        let axes = Axes {
            name: Some(self.name.clone()),
            origin: corner + along * self.start.inches() - out * self.face.inches(),
            along: -out,
            across: along,
            size: DVec2::new(depth, self.span.inches()),
            // nothing stands in its slopes: how far they rise is not asked
            top: height,
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

/// What of a wing's cover is carried: behind the wall that it stands before only what has that building's roof beside it. A strip past its
/// end, where it reaches out less than the wing's eave, hangs on nothing.
fn carried(block: &Block, wing: &Wing, blocks: &[Block], walls: &[WallLine]) -> Vec<Polygon> {
    let whole = || vec![block.cover.clone()];
    let host = wing.on.wing.as_deref().unwrap_or("main");
    let wall = walls.iter().find(|wall| wall.block == host && wall.wall == wing.on.wall);
    let roof = blocks.iter().find(|block| block.name == host);
    let (Some(wall), Some(roof)) = (wall, roof) else { return whole() };
    let inside = HalfPlane::at_most(wall.out, wall.out.dot(wall.from));
    let Some(behind) = block.cover.within(inside) else { return whole() };
    let strips = behind.without(roof.cover.half_planes());
    if strips.iter().all(|strip| strip.area() < LEAST_STRIP_IN2) {
        return whole();
    }
    let before = block.cover.within(inside.other_side());
    before.into_iter().chain(behind.within_all(roof.cover.half_planes())).collect()
}

/// What is smaller is none: two lines that are one but for their last bits, square inches.
const LEAST_STRIP_IN2: f64 = 1e-6;

/// The height at which two slopes that rise toward each other meet: each with its height at its wall and its rise over
/// run, and the walls so far apart; `None` if there are no two.
fn crown(slopes: [Option<(f64, f64)>; 2], apart: f64) -> Option<f64> {
    let [Some((one, rise)), Some((other, other_rise))] = slopes else {
        return None;
    };
    Some((one / rise + other / other_rise + apart) / (1.0 / rise + 1.0 / other_rise))
}

/// The overhangs of two dormers side by side are no nearer, inches.
const APART_IN: f64 = 1.0;

/// Refuses every two that share a part of the plan within their walls.
fn refuse_overlaps(
    placed: &[Axes],
    room_beside: impl Fn(&str, &str) -> Option<Amount>,
    faults: &mut Vec<CannotRoof>,
) {
    let name = |axes: &Axes| axes.name.clone().unwrap_or_else(|| "main".to_owned());
    let within = |axes: &Axes| axes.cover((0.0, axes.size.x), (0.0, axes.size.y));
    for (at, one) in placed.iter().enumerate() {
        for other in &placed[at + 1..] {
            if within(one).within_all(within(other).half_planes()).is_some() {
                let (one, other) = (name(one), name(other));
                let start = room_beside(&one, &other);
                faults.push(CannotRoof::Overlap { one, other, start });
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
        let most_span = inches(length - start);
        faults.push(CannotRoof::BesideItsWall { name: name.to_owned(), most_start, most_span });
    }
}

/// Refuses a block that rises from its plate over its run past the highest point of what it dies into.
fn too_high(
    (name, stands): (&str, Stands),
    (plate, most): (f64, f64),
    (run, tangent): (f64, f64),
    pitch_is_free: bool,
    faults: &mut Vec<CannotRoof>,
) {
    let top = plate + run * tangent;
    if top > most + HAIR {
        let room = (most - plate).max(0.0);
        faults.push(CannotRoof::RidgeTooHigh {
            name: name.to_owned(),
            stands,
            by: inches(top - most),
            most_run: inches(room / tangent),
            most_pitch: Pitch::rise_in_12(12.0 * room / run)
                .filter(|_| pitch_is_free && room > HAIR),
        });
    }
}

#[cfg(test)]
mod tests;
