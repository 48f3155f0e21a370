//! What the rules ask of the slopes of a roof of any shape: how flat, how steep, and how far the eaves reach.

use crate::frame::Role;
use crate::frame::hung::Hung;
use crate::frame::stick::{Side, Stick};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::roof::WallLine;

use super::book::Code;

/// A low eave over a wall.
pub(super) struct Eave {
    /// Its wall; `None` on one gable, where both are alike.
    pub(super) name: Option<String>,
    /// Level, from the building line to the edge of the roof, inches.
    pub(super) overhang: f64,
    /// Of the slope over it.
    pub(super) rise_in_12: f64,
}

impl Eave {
    /// Length along the slope over its level length.
    pub(super) fn slope_factor(&self) -> f64 {
        self.rise_in_12.hypot(12.0) / 12.0
    }
}

impl Code<'_> {
    /// The rises in 12 of the faces, with their names; of one gable that of its pitch.
    fn rises(&self) -> Vec<(f64, &str)> {
        if self.sticks.gable.is_some() {
            return vec![(self.plan().rafter.pitch.unit_rise(), "both")];
        }
        let faces = self.sticks.roof.faces.iter();
        faces.map(|face| (face.slope.tangent() * 12.0, face.name.as_str())).collect()
    }

    /// The lowest rise in 12 of the faces.
    pub(super) fn lowest_rise(&self) -> f64 {
        self.rises().into_iter().map(|(rise, _)| rise).fold(f64::INFINITY, f64::min)
    }

    /// The steepest rise in 12 of the faces.
    pub(super) fn steepest_rise(&self) -> f64 {
        self.rises().into_iter().map(|(rise, _)| rise).fold(0.0, f64::max)
    }

    /// Which face has the lowest slope, if they are unlike.
    pub(super) fn lowest_face(&self) -> Note {
        let lowest = self.lowest_rise();
        if self.steepest_rise() - lowest < LAST_BITS {
            return Note::default();
        }
        let own = self.rises().into_iter().find(|(rise, _)| rise - lowest < LAST_BITS);
        own.map_or_else(Note::default, |(_, name)| format!("the lowest slope, face {name}").into())
    }

    /// The low eaves over walls.
    pub(super) fn eaves(&self) -> Vec<Eave> {
        let Some(frame) = self.sticks.hung.filter(|_| self.sticks.gable.is_none()) else {
            let rafter = &self.plan().rafter;
            return vec![Eave {
                name: None,
                overhang: rafter.overhang_from_building_line().inches(),
                rise_in_12: rafter.pitch.unit_rise(),
            }];
        };
        let ground = &frame.hung.ground;
        let of = |wall: &WallLine| {
            let slope = wall.slope?;
            Some(Eave {
                name: Some(wall.name()),
                overhang: wall.reach,
                rise_in_12: slope.tangent() * 12.0,
            })
        };
        // a dormer stands on the roof
        let walls = ground.walls.iter().filter(|wall| ground.dormer(&wall.block).is_none());
        walls.filter_map(of).collect()
    }

    /// The highest of the rafters' top edges above the main plate, inches.
    pub(super) fn peak(&self) -> f64 {
        self.sticks.gable.map_or_else(|| self.sticks.extent().1.z, |frame| frame.peak().inches())
    }

    /// True if joists are clipped to the roof's plane at their ends.
    pub(super) fn has_clipped_joists(&self) -> bool {
        const SQUARE_CORNERS: usize = 4;
        if let Some(frame) = self.sticks.gable {
            return frame.ties.clip_height > inches(0.0);
        }
        let joists = self.sticks.members.iter().filter(|one| one.role == Role::CeilingJoist);
        joists.into_iter().any(|joist| joist.stick.profile(Side::Near).len() > SQUARE_CORNERS)
    }

    /// The longest notched tail past a birdsmouth, level from the building line to the tail cut, inches, and the rafter that has it.
    pub(super) fn longest_tail(&self) -> Option<(f64, &str)> {
        let frame = self.sticks.hung?;
        let ground = &frame.hung.ground;
        let mut longest: Option<(f64, &str)> = None;
        for reach in frame.reaches.iter().filter(|reach| reach.role != Role::BargeRafter) {
            let on_it = ground.seats(reach.face).into_iter().filter(|seat| {
                reach.at > seat.reach.0 - HAIR
                    && reach.at < seat.reach.1 + HAIR
                    && reach.from < seat.up + seat.width
                    && reach.to > seat.up
            });
            let tails = on_it.map(|seat| match seat.is_high {
                true => reach.to - (seat.up + seat.width),
                false => seat.up - reach.from,
            });
            let tail = tails.fold(0.0, f64::max);
            if tail > longest.map_or(LAST_BITS, |(most, _)| most + LAST_BITS) {
                longest = Some((tail, &reach.id));
            }
        }
        longest
    }

    /// True if a block on walls ends in a gable; a dormer stands on the roof.
    pub(super) fn has_gables(&self) -> bool {
        self.sticks.gable.is_some()
            || self.sticks.hung.is_some_and(|frame| {
                let ground = &frame.hung.ground;
                let on_walls = |wall: &&WallLine| ground.dormer(&wall.block).is_none();
                ground.walls.iter().filter(on_walls).any(WallLine::is_gable_end)
            })
    }

    /// How far outlookers run back into the roof: from the end wall's framing face to the middle of the rafter that they end at; the
    /// shortest, inches. `None` if there are none.
    pub(super) fn backspan(&self) -> Option<f64> {
        if let Some(frame) = self.sticks.gable {
            let two = frame.pairs.windows(2).next();
            return Some(two.map_or(0.0, |two| two[1].x_a - two[0].x_a + frame.site.thick / 2.0));
        }
        let hung = &self.sticks.hung?.hung;
        let rakes: Vec<&WallLine> =
            hung.ground.walls.iter().filter(|wall| wall.has_rake()).collect();
        let back = |outlooker: &Stick| {
            let inside = rakes.iter().filter_map(|wall| {
                let (low, high) = outlooker.solid().extent(wall.out.extend(0.0))?;
                let line = wall.out.dot(wall.from);
                let reaches = high - line + 2.0 * hung.ground.half_rafter;
                (low < line && (reaches - wall.reach).abs() < HAIR).then_some(line - low)
            });
            inside.reduce(f64::min)
        };
        let outlookers = hung.sticks.iter().filter(|stick| stick.role == Role::Outlooker);
        let backs = outlookers.filter_map(Hung::stick).filter_map(|outlooker| back(&outlooker));
        Some(backs.reduce(f64::min)? + hung.ground.half_rafter)
    }

    /// The farthest that a rake reaches past its end wall, level, inches; 0 if there is none.
    pub(super) fn rake(&self) -> f64 {
        match (self.sticks.gable, self.sticks.hung) {
            (Some(frame), _) => frame.site.rake,
            (None, frame) => frame.map_or(0.0, |frame| {
                let walls = frame.hung.ground.walls.iter().filter(|wall| wall.has_rake());
                walls.map(|wall| wall.reach).filter(|reach| *reach > HAIR).fold(0.0, f64::max)
            }),
        }
    }
}
