//! Strips of roof that nothing would carry: where the eave of a wing runs on past the wall that the wing stands before, beside that
//! building's end, because the end reaches out less than the eave does. They are not built, and are told.

use crate::measure::quantity::inches;
use crate::measure::{Amount, Length, Note};
use crate::roof::{EdgeKind, Roof, Wall, WallLine};

use super::lines::NEAR_IN;

/// A strip that is not built.
#[derive(Debug, Clone, PartialEq)]
struct Strip<'a> {
    /// The wing's wall whose eave it would go on.
    wall: &'a WallLine,
    /// How far the eave would run on past that wall.
    length: Length,
    /// The end wall beside the strip.
    end: &'a WallLine,
    /// How far the eave lies beyond the roof's edge at that end.
    width: Length,
}

impl Strip<'_> {
    /// What is to be known, and what would do.
    fn told(&self) -> Note {
        let kind = if self.end.slope.is_none() { "rake" } else { "eave" };
        let ways = vec![
            Note::with(
                format!(
                    "write {{}} or more for the overhang of the {kind} at wall {}",
                    self.end.name()
                ),
                [Amount::AtLeast(inches(self.end.reach) + self.width)],
            ),
            Note::with("move the wing {} farther in", [Amount::AtLeast(self.width)]),
        ];
        Note::with(
            format!(
                "the eave over wall {} ends at the end of that wall: beside wall {} it would run on {{}}, {{}} wide, and nothing carries it there. The faces and edges of stepoff frame follow the planes alone and still count that strip. To bring both eaves together {{}}",
                self.wall.name(),
                self.end.name(),
            ),
            [
                Amount::Tape(self.length),
                Amount::Tape(self.width),
                Amount::Said(Note::list(ways, ", or ")),
            ],
        )
    }
}

/// The notes of every such strip of a roof with its faces and edges whole.
pub(super) fn notes(whole: &Roof, walls: &[WallLine]) -> Vec<Note> {
    let joined = walls.iter().filter(|wall| {
        let joins = |end: &WallLine| end.block == wall.block && end.slope.is_none();
        // a hip's own end wall reaches out on both sides
        let is_side = matches!(wall.wall, Wall::A | Wall::B);
        wall.block != "main" && is_side && wall.slope.is_some() && walls.iter().any(joins)
    });
    joined.filter_map(|wall| strip(whole, walls, wall)).map(|strip| strip.told()).collect()
}

fn strip<'a>(whole: &Roof, walls: &'a [WallLine], wall: &'a WallLine) -> Option<Strip<'a>> {
    let along = (wall.to - wall.from).normalize();
    let slope = wall.slope?;
    // the eave in the line of this wall, however many pieces it has
    let on_line = whole.edges.iter().filter(|edge| {
        let out = (edge.from.truncate() - wall.from).dot(wall.out);
        edge.kind == EdgeKind::Eave
            && whole.faces[edge.faces[0]].slope.is_same_plane(&slope)
            && (out - wall.reach).abs() < NEAR_IN
    });
    let last = on_line
        .flat_map(|edge| [edge.from, edge.to])
        .map(|end| (end.truncate() - wall.from).dot(along))
        .fold(0.0, f64::max);
    let length = last - wall.from.distance(wall.to);
    if length < NEAR_IN {
        return None;
    }
    let end = walls.iter().find(|end| {
        let places = [end.from, end.to].map(|place| (place - wall.from).dot(along));
        let beside = places[0].max(places[1]) > wall.from.distance(wall.to) + NEAR_IN;
        end.block != wall.block && end.out.dot(wall.out) > 1.0 - NEAR_IN && beside
    })?;
    let eave = wall.out.dot(wall.from) + wall.reach;
    let width = eave - (end.out.dot(end.from) + end.reach);
    (width > NEAR_IN).then(|| Strip { wall, length: inches(length), end, width: inches(width) })
}
