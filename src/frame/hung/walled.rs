//! A block that stands on walls, in its own plan: its ridge along, and across it from wall A to wall B.

use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::HAIR;
use crate::roof::{Slope, Wall, WallLine};

use super::ground::Ground;
use super::lines::{Border, LineOf};
use super::stations::Station;

/// What closes one end of a block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum EndOf {
    /// A gable over its end wall.
    Gable,
    /// A slope behind its end wall.
    Hip,
    /// It opens into the block that it stands before.
    Open,
}

/// A block on its four walls.
#[derive(Debug, Clone)]
pub(super) struct Walled<'a> {
    pub name: &'a str,
    /// What is called its walls A, B, near and far here: the two that its slopes lean over, then those at the ends of its ridge.
    pub walls: [&'a WallLine; 4],
    /// Unit vector along its ridge, from its near end wall.
    pub along: DVec2,
    /// Unit vector across it, from wall A.
    pub across: DVec2,
    pub length: f64,
    pub span: f64,
}

/// Rafters of a block side by side at one place along it, with nothing between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row {
    /// Where the first one begins.
    pub from: f64,
    /// Where the last one ends.
    pub to: f64,
}

impl<'a> Walled<'a> {
    /// Every block that stands on walls, dormers last if they are wanted.
    pub(super) fn all(ground: &'a Ground) -> Vec<Walled<'a>> {
        let mut blocks: Vec<Walled<'a>> = Vec::new();
        for wall in &ground.walls {
            if blocks.iter().any(|block| block.name == wall.block) {
                continue;
            }
            let of = |which: Wall| {
                let own = |other: &&WallLine| other.block == wall.block && other.wall == which;
                ground.walls.iter().find(own)
            };
            let (Some(a), Some(near)) = (of(Wall::A), of(Wall::Near)) else { continue };
            let (Some(b), Some(far)) = (of(Wall::B), of(Wall::Far).or(Some(near))) else {
                continue;
            };
            // a shed dormer rises from its front: that is its wall A; under a ridge across, what leans on each other is over the
            // short walls
            let walls = match near.slope {
                Some(_) if a.slope.is_none() || meet(ground, [near, far]) => [near, far, a, b],
                _ => [a, b, near, far],
            };
            let [a, b, ..] = walls;
            blocks.push(Walled {
                name: &wall.block,
                walls,
                along: (a.to - a.from).normalize(),
                across: -a.out,
                length: a.from.distance(a.to),
                span: (b.from - a.from).dot(-a.out),
            });
        }
        blocks
    }

    /// One of its walls.
    pub(super) fn wall(&self, wall: Wall) -> &'a WallLine {
        self.walls[wall as usize]
    }

    /// What closes its near or far end.
    pub(super) fn end(&self, ground: &Ground, end: Wall) -> EndOf {
        let wall = self.wall(end);
        let is_missing = end == Wall::Far && std::ptr::eq(wall, self.wall(Wall::Near));
        if is_missing || ground.joins(wall, wall.wall) {
            EndOf::Open
        } else if wall.slope.is_some() {
            EndOf::Hip
        } else {
            EndOf::Gable
        }
    }

    /// True if its ridge runs across the building, from its wall A toward its wall B.
    pub(super) fn is_turned(&self) -> bool {
        self.walls[0].wall != Wall::A
    }

    /// True if one slope rises from wall A to wall B.
    pub(super) fn is_shed(&self) -> bool {
        self.wall(Wall::B).slope.is_none()
    }

    /// The height of the plate that level sticks lie on: the lower one of the side walls under a slope.
    pub(super) fn low_plate(&self) -> f64 {
        let under = [Wall::A, Wall::B].map(|wall| self.wall(wall));
        let plates = under.iter().filter(|wall| wall.slope.is_some()).map(|wall| wall.plate);
        plates.fold(f64::INFINITY, f64::min)
    }

    /// True if level sticks lie on the plate of a side wall; else they come to its inner face.
    pub(super) fn bears(&self, wall: Wall) -> bool {
        let wall = self.wall(wall);
        wall.slope.is_some() && wall.plate - self.low_plate() < HAIR
    }

    /// True if a level stick lies on the plates of both side walls.
    pub(super) fn is_level(&self) -> bool {
        self.bears(Wall::A) && self.bears(Wall::B)
    }

    /// True if the inside bearing that is told, of the main block, is under its level sticks.
    pub(super) fn is_borne(&self) -> bool {
        self.name == "main" && self.is_level() && !self.is_turned()
    }

    /// The line where its two slopes meet: how far across, and how high above the plate that level sticks lie on; infinite with
    /// one slope.
    pub(super) fn peak(&self) -> (f64, f64) {
        let slopes = self.slopes();
        let [a, b] = slopes.as_slice() else { return (f64::INFINITY, f64::INFINITY) };
        let start = self.wall(Wall::A).from;
        let rise = |slope: &Slope| slope.gradient.dot(self.across);
        let over = (b.height(start) - a.height(start)) / (rise(a) - rise(b));
        (over, a.height(start) + rise(a) * over - self.low_plate())
    }

    /// The greatest distance on center along it between neighbors of some sticks, inches. Where it ends in a gable, the rafters over
    /// the end wall count as one of them; elsewhere what is looked at ends at the places given.
    pub(super) fn widest_gap(&self, ground: &Ground, mut at: Vec<f64>, ends: (f64, f64)) -> f64 {
        let half = ground.half_rafter;
        at.push(if self.end(ground, Wall::Near) == EndOf::Gable { half } else { ends.0 });
        at.push(if self.end(ground, Wall::Far) == EndOf::Gable {
            self.length - half
        } else {
            ends.1
        });
        at.sort_by(f64::total_cmp);
        at.windows(2).map(|two| two[1] - two[0]).fold(0.0, f64::max)
    }

    /// The slopes over walls A and B.
    pub(super) fn slopes(&self) -> Vec<Slope> {
        [Wall::A, Wall::B].into_iter().filter_map(|wall| self.wall(wall).slope).collect()
    }

    /// Where wall A begins, as high as the plate that level sticks lie on.
    pub(super) fn origin(&self) -> DVec3 {
        self.wall(Wall::A).from.extend(self.low_plate())
    }

    /// A place in its own plan.
    pub(super) fn place(&self, point: DVec2) -> DVec2 {
        let arm = point - self.wall(Wall::A).from;
        DVec2::new(arm.dot(self.along), arm.dot(self.across))
    }

    /// How far in from the building lines of walls A and B level sticks may start: past the boards of a short overhang.
    pub(super) fn start(&self, ground: &Ground) -> f64 {
        let sides = [Wall::A, Wall::B].map(|wall| ground.boards - self.wall(wall).reach);
        sides.into_iter().fold(0.0, f64::max)
    }

    /// The faces that rise from one of its walls.
    pub(super) fn faces(&self, ground: &Ground, wall: Wall) -> Vec<usize> {
        let own = self.wall(wall);
        let rises = |face: &usize| ground.walls_of(*face).any(|other| std::ptr::eq(other, own));
        (0..ground.faces.len()).filter(rises).collect()
    }

    /// The places of the rafters over one of its walls along that wall from its start, in order.
    pub(super) fn along_wall(
        &self,
        ground: &Ground,
        stations: &[Vec<Station>],
        wall: Wall,
    ) -> Vec<f64> {
        let line = self.wall(wall);
        let along = (line.to - line.from).normalize();
        let faces = self.faces(ground, wall).into_iter();
        let mut places: Vec<f64> = faces
            .flat_map(|face| stations[face].iter().map(move |station| (face, station.at)))
            .map(|(face, at)| (ground.faces[face].along * at - line.from).dot(along))
            .collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|one, other| (*one - *other).abs() < HAIR);
        places
    }
}

/// True if the slopes over two walls lean on each other at a ridge.
fn meet(ground: &Ground, walls: [&WallLine; 2]) -> bool {
    let is_over = |border: &Border, wall: &WallLine| {
        ground.walls_of(border.face).any(|own| std::ptr::eq(own, wall))
    };
    let mut ridges = ground.lines.iter().filter(|line| line.of == LineOf::Ridge);
    ridges.any(|ridge| {
        walls.iter().all(|wall| ridge.borders.iter().any(|border| is_over(border, wall)))
    })
}

/// Rafters with their middles at some places, those together between which a stick of some thickness has no room.
pub(super) fn rows(places: impl Iterator<Item = f64>, half: f64, thick: f64) -> Vec<Row> {
    let mut places: Vec<f64> = places.collect();
    places.sort_by(f64::total_cmp);
    let mut rows: Vec<Row> = Vec::new();
    for place in places {
        match rows.last_mut() {
            Some(row) if place - half - row.to < thick - HAIR => row.to = row.to.max(place + half),
            _ => rows.push(Row { from: place - half, to: place + half }),
        }
    }
    rows
}
