//! The lines to snap on the sheathed roof for what is laid on it, as JSON and as columns of pages.

use crate::frame::hung::lines::LineOf;
use crate::frame::stick::Side;
use crate::frame::{Edge, Member, Role, Sticks};
use crate::geom::DVec3;
use crate::measure::quantity::inches;
use crate::roof::{Laid, Wall};

use super::datum::Inches;
use super::record::record;

record! {
    /// Where the outer edge of a valley board lies on the deck, measured on the board's solid. Up the deck is along the slope from
    /// the building line of the roof below.
    SnapLineJson from (member: &Member, id: &str, laid: &Laid, line: &Snap) {
        /// The wing or dormer that stands on it.
        block "of": String = &laid.block;
        /// The mark of the board.
        mark "board": String = &member.mark;
        /// The id of the board.
        id: String = id;
        /// Its lower end, up the deck.
        foot_up_in "lower end, up the deck": Inches = line.foot.0;
        /// Its lower end from under the ridge of the wing or dormer, level.
        foot_aside_in "from the center line": Inches = line.foot.1;
        /// Its upper end, where the ridge hits the deck, up the deck.
        head_up_in "upper end, up the deck": Inches = line.head.0;
        /// Its upper end from under that ridge, level.
        head_aside_in: Inches = line.head.1;
        /// From end to end.
        length_in "line to snap": Inches = line.length;
    }
}

record! {
    /// Where a dormer stands on the deck. Up the deck is along the slope from the building line of the roof below.
    DormerJson from (name: &str, is_shed: bool, at: (f64, f64, f64)) {
        /// The dormer.
        dormer "dormer": String = name;
        /// `shed` or `gable`.
        shape: String = if is_shed { "shed" } else { "gable" };
        /// The outer face of its front wall, up the deck.
        front_up_in "front wall, up the deck": Inches = inches(at.0);
        /// Up the deck, where its side walls end: of a shed dormer where its slope meets the rafters' tops of the roof below, the low edge of
        /// the header.
        head_up_in "head, up the deck": Inches = inches(at.1);
        /// Level, from the outer face of its front wall to there.
        run_in "run, level": Inches = inches(at.2);
    }
}

/// The places of all dormers; none of one gable.
#[must_use]
pub fn dormers(sticks: Sticks<'_>) -> Vec<DormerJson> {
    let Some(frame) = sticks.hung else { return Vec::new() };
    let ground = &frame.hung.ground;
    let found = ground.laid.iter().filter(|laid| laid.dormer.is_some()).filter_map(|laid| {
        let front =
            ground.walls.iter().find(|wall| wall.block == laid.block && wall.wall == Wall::Near)?;
        let building = ground.seats(laid.host).into_iter().filter(|seat| !seat.is_high);
        let building = building.map(|seat| seat.up).reduce(f64::min)?;
        let axes = &ground.faces[laid.host];
        let [front, head] = [front.from, laid.from].map(|at| axes.place(at).y - building);
        let stretch = laid.slope.stretch();
        let figures = (front * stretch, head * stretch, head - front);
        Some(DormerJson::of(&laid.block, laid.is_shed(), figures))
    });
    found.collect()
}

/// A line on the deck: up the deck and from the center line at both ends, and its length.
#[derive(Debug, Clone, Copy)]
pub struct Snap {
    foot: (f64, f64),
    head: (f64, f64),
    length: f64,
}

/// The lines of all valley boards of a roof; none of one gable.
#[must_use]
pub fn snap_lines(sticks: Sticks<'_>) -> Vec<SnapLineJson> {
    let Some(frame) = sticks.hung else { return Vec::new() };
    let ground = &frame.hung.ground;
    let mut lines = Vec::new();
    for member in sticks.members.iter().filter(|member| member.role == Role::ValleyBoard) {
        for (id, axis) in member.placed_ids() {
            // a board is named after the faces that it is between
            let mut laid = ground.laid.iter().enumerate();
            let own = laid.find(|(_, laid)| id.contains(&format!("-{}.", laid.block)));
            let Some((number, laid)) = own else { continue };
            let ridge = ground
                .lines
                .iter()
                .find(|line| line.layer == number + 1 && line.of == LineOf::Ridge);
            let building = ground.seats(laid.host).into_iter().filter(|seat| !seat.is_high);
            let building = building.map(|seat| seat.up).reduce(f64::min);
            let (Some(ridge), Some(building)) = (ridge, building) else { continue };
            let axes = &ground.faces[laid.host];
            // the side that lies on the deck
            let down = axis.across().dot(laid.slope.outward()) < 0.0;
            let side = if down { Side::Near } else { Side::Far };
            let Some((from, to)) = member.stick.edge_reach(Edge::Bottom, side) else { continue };
            let half = member.stick.section.thickness_in() / 2.0;
            let under = axis.across() * if down { half } else { -half };
            let end = |station: f64| axis.origin + axis.along * station + under;
            let place = |point: DVec3| {
                let up = (axes.place(point.truncate()).y - building) * laid.slope.stretch();
                let arm = (point - ridge.foot).truncate();
                (up, ridge.toward_head().perp_dot(arm).abs())
            };
            let ends = [end(from), end(to)];
            let mut places = ends.map(place);
            if places[0].0 > places[1].0 {
                places.swap(0, 1);
            }
            let line = Snap { foot: places[0], head: places[1], length: ends[0].distance(ends[1]) };
            lines.push(SnapLineJson::of(member, id, laid, &line));
        }
    }
    lines
}
