//! The stations of the rafters of a face: layout marks along its wall, rafters flush with gable walls, and kings.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;
use crate::measure::trim;
use crate::roof::{Wall, WallLine};

use super::ground::Ground;
use super::lines::{Line, LineOf, NEAR_IN};
use super::nodes::King;

/// The place of a rafter along its face.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// Along the face, inches in the face's axes.
    pub at: f64,
    /// What names it: how far from the start of the wall, `N` or `F` flush with its near or far end, or the face across
    /// the hip of a king.
    pub name: String,
    /// The king that stands here.
    pub king: Option<usize>,
    /// The holes that it trims.
    pub trims: Vec<usize>,
}

impl Station {
    /// A station of the layout, which may move aside.
    fn laid_out(at: f64, name: String) -> Station {
        Station { at, name, king: None, trims: Vec::new() }
    }

    /// True if it has to stay where it is: a king, a trimmer, or flush with a gable's wall.
    pub(super) fn is_fixed(&self) -> bool {
        self.king.is_some() || !self.trims.is_empty() || matches!(self.name.as_str(), "N" | "F")
    }
}

/// The kings: for every head of a hip, the rafter of each of its faces that ends there.
pub(super) fn kings(ground: &Ground) -> Vec<King> {
    let mut kings: Vec<King> = Vec::new();
    for line in ground.lines.iter().filter(|line| line.of == LineOf::Hip) {
        let head = line.head.truncate();
        // where nothing else is, there is no crown to carry
        let own = |other: &&Line| other.layer == line.layer && other.passes(head);
        if ground.lines.iter().filter(own).count() < 2 {
            continue;
        }
        for border in line.borders.iter().filter(|border| border.to.distance(head) < NEAR_IN) {
            let face = &ground.faces[border.face];
            let place = face.place(head);
            let holds = |aside: &f64, up: f64| face.holds(place + DVec2::new(*aside, up));
            let inside = [-HEAD_IN, HEAD_IN]
                .iter()
                .all(|aside| holds(aside, -100.0 * HEAD_IN) && !holds(aside, 100.0 * HEAD_IN));
            let known =
                |king: &King| king.face == border.face && king.head.distance(head) < NEAR_IN;
            let other = line.borders.iter().find(|other| other.face != border.face);
            if let Some(other) = other.filter(|_| inside && !kings.iter().any(known)) {
                kings.push(King {
                    face: border.face,
                    station: place.x,
                    head,
                    down: -face.up,
                    half: ground.half_rafter,
                    beside: other.face,
                });
            }
        }
    }
    kings
}

/// How far beside and below the head of a hip a face is looked at, inches (below: a hundred times this).
const HEAD_IN: f64 = 1e-3;

/// The stations of every face.
pub(super) fn of(ground: &Ground, kings: &[King]) -> Vec<Vec<Station>> {
    let mut stations: Vec<Vec<Station>> = vec![Vec::new(); ground.faces.len()];
    // the others have a hip on each side
    let is_side = |wall: &&WallLine| {
        let [one, other] = closing(wall.wall);
        matches!(wall.wall, Wall::A | Wall::B)
            || closes_as_gable(ground, wall, one) && closes_as_gable(ground, wall, other)
    };
    // faces behind side walls first: hip ends take their places from them
    for (face, own) in stations.iter_mut().enumerate() {
        if let Some(wall) = ground.walls_of(face).find(is_side) {
            *own = along_wall(ground, kings, face, wall);
            beside_edges(ground, face, own);
        }
    }
    for face in 0..ground.faces.len() {
        if ground.walls_of(face).any(|wall| is_side(&wall)) {
            continue;
        }
        if let Some(wall) = ground.walls_of(face).next() {
            stations[face] = behind_end(ground, kings, face, wall, &stations);
            beside_edges(ground, face, &mut stations[face]);
        }
    }
    stations
}

/// The kings of a face, as stations.
fn kings_of(ground: &Ground, kings: &[King], face: usize) -> Vec<Station> {
    let own = kings.iter().enumerate().filter(|(_, king)| king.face == face);
    own.map(|(number, king)| Station {
        at: king.station,
        name: format!("at-{}", ground.roof.faces[king.beside].name),
        king: Some(number),
        trims: Vec::new(),
    })
    .collect()
}

/// Moves a rafter aside that would stand across the side of its face.
fn beside_edges(ground: &Ground, face: usize, stations: &mut [Station]) {
    let half = ground.half_rafter;
    for station in stations.iter_mut().filter(|station| station.king.is_none()) {
        for side in &ground.faces[face].sides {
            let past = station.at - side.from.x;
            if past.abs() < half - HAIR {
                station.at = side.from.x + if past > 0.0 { half } else { -half };
            }
        }
    }
}

/// How far a stick may be moved aside where a valley or a hip is in its way, inches.
const FARTHEST_ASIDE_IN: f64 = 4.0;

/// It is moved by as little as this helps.
const STEP_ASIDE_IN: f64 = 0.25;

/// How a stick may stand beside something: beyond or before it, and how far from it. What touches it is tried first.
pub(super) fn aside() -> impl Iterator<Item = (f64, f64)> {
    let steps = (FARTHEST_ASIDE_IN / STEP_ASIDE_IN) as u32;
    (0..=steps).flat_map(|step| [1.0, -1.0].map(|side| (side, f64::from(step) * STEP_ASIDE_IN)))
}

/// Sixteenths of an inch as decimals: what names a place.
pub(super) fn sixteenths(value: f64) -> String {
    trim((value * 16.0).round() / 16.0, 4)
}

/// The walls at the start and at the end of a wall.
fn closing(wall: Wall) -> [Wall; 2] {
    match wall {
        Wall::A | Wall::B => [Wall::Near, Wall::Far],
        Wall::Near | Wall::Far => [Wall::A, Wall::B],
    }
}

/// True if no slope rises from another wall of the same block.
fn closes_as_gable(ground: &Ground, wall: &WallLine, end: Wall) -> bool {
    let own = |other: &&WallLine| other.block == wall.block && other.wall == end;
    ground.walls.iter().find(own).is_none_or(|other| other.slope.is_none())
}

/// The layout of a side wall: whole spacings from its near end, what is flush with a gable's wall, and kings.
fn along_wall(ground: &Ground, kings: &[King], face: usize, wall: &WallLine) -> Vec<Station> {
    let (axes, half) = (&ground.faces[face], ground.half_rafter);
    let way = if (wall.to - wall.from).dot(axes.along) > 0.0 { 1.0 } else { -1.0 };
    let start = wall.from.dot(axes.along);
    let at = |far: f64| start + way * far;
    let length = wall.from.distance(wall.to);
    let (low, high) = ground.reach_of(face);
    // the face's own reach from the start of the wall
    let (first, last) =
        if way > 0.0 { (low - start, high - start) } else { (start - high, start - low) };
    let mut fixed = kings_of(ground, kings, face);
    let gable = |end: Wall| closes_as_gable(ground, wall, end);
    let [near, far] = closing(wall.wall);
    let mut add = |far: f64, name: &str| {
        fixed.push(Station::laid_out(at(far), name.to_owned()));
    };
    // a wing that dies in a slope runs on past the wall it stands before
    let runs_on = |end: Wall| ground.joins(wall, end) && last > length + NEAR_IN;
    if gable(near) && first <= half {
        add(half, "N");
    }
    if gable(far) && !runs_on(far) && last >= length - half && length > 4.0 * half {
        add(length - half, "F");
    }
    let mut stations = fixed;
    let fixed_places: Vec<f64> = stations.iter().map(|station| station.at).collect();
    let (from, to) = ground.walled(face, wall, (first, last), way, start);
    let to = if runs_on(far) { last } else { to };
    // whole spacings from the start of the layout
    let rake = || ground.walls.iter().find(|end| end.block == wall.block && end.wall == near);
    let rake = (ground.choices.from_rake && gable(near)).then(rake).flatten();
    let first_mark = rake.map_or(0.0, |end| -end.reach);
    let mut number = ((from - first_mark) / ground.spacing).ceil();
    while first_mark + number * ground.spacing <= to {
        let far = first_mark + number * ground.spacing;
        number += 1.0;
        let clear = |other: &f64| (other - at(far)).abs() >= 2.0 * half - HAIR;
        if far > from && fixed_places.iter().all(clear) {
            stations.push(Station::laid_out(at(far), sixteenths(far)));
        }
    }
    stations.sort_by(|one, other| one.at.total_cmp(&other.at));
    stations
}

/// The layout behind an end wall with a hip on each side: each jack meets its hip where one of the side face does if the
/// two slopes are alike; otherwise whole spacings from the corner. Between two kings whole spacings go on.
fn behind_end(
    ground: &Ground,
    kings: &[King],
    face: usize,
    wall: &WallLine,
    others: &[Vec<Station>],
) -> Vec<Station> {
    let (axes, half) = (&ground.faces[face], ground.half_rafter);
    let mut stations = kings_of(ground, kings, face);
    let crown: Vec<f64> = stations.iter().map(|station| station.at).collect();
    let ends = [wall.from.dot(axes.along), wall.to.dot(axes.along)];
    let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let mut wanted: Vec<(f64, f64)> = Vec::new();
    for corner in [low, high] {
        let inward = if corner == low { 1.0 } else { -1.0 };
        let until = crown
            .iter()
            .copied()
            .min_by(|one, other| (one - corner).abs().total_cmp(&(other - corner).abs()));
        let until = until.unwrap_or((low + high) / 2.0);
        let mirrored = mirrored(ground, face, corner, until, others);
        let places = mirrored.unwrap_or_else(|| {
            let count = ((until - corner).abs() / ground.spacing).floor();
            (1..=count as u32)
                .map(|number| corner + inward * f64::from(number) * ground.spacing)
                .collect()
        });
        wanted.extend(places.into_iter().map(|at| (at, corner)));
    }
    if let (Some(first), Some(last)) =
        (crown.iter().copied().reduce(f64::min), crown.iter().copied().reduce(f64::max))
    {
        let mut number = (first - low) / ground.spacing;
        number = number.floor() + 1.0;
        while low + number * ground.spacing < last {
            wanted.push((low + number * ground.spacing, low));
            number += 1.0;
        }
    }
    for (at, corner) in wanted {
        let clear = stations.iter().all(|other| (other.at - at).abs() >= 2.0 * half - HAIR);
        if clear && at > low && at < high {
            let from = if corner == low { "" } else { "-" };
            let name = format!("{from}{}", sixteenths((at - corner).abs()));
            stations.push(Station::laid_out(at, name));
        }
    }
    stations.sort_by(|one, other| one.at.total_cmp(&other.at));
    stations
}

/// Where the jacks of the face across a hip meet it, as stations of this face; `None` if the two slopes are unlike.
fn mirrored(
    ground: &Ground,
    face: usize,
    corner: f64,
    until: f64,
    others: &[Vec<Station>],
) -> Option<Vec<f64>> {
    let axes = &ground.faces[face];
    let between = |at: f64| (at - corner) * (at - until) <= 0.0;
    let hip = ground.lines.iter().find(|line: &&Line| {
        line.of == LineOf::Hip
            && line.borders.iter().any(|border| border.face == face)
            && between(axes.place(line.foot.lerp(line.head, 0.5).truncate()).x)
    })?;
    let other = hip.borders.iter().find(|border| border.face != face)?.face;
    let beyond = &ground.faces[other];
    if (beyond.slope.tangent() - axes.slope.tangent()).abs() > HAIR {
        return None;
    }
    let (foot, along) = (hip.foot.truncate(), hip.toward_head());
    let meets = |station: &Station| {
        let far = (station.at - foot.dot(beyond.along)) / along.dot(beyond.along);
        axes.place(foot + along * far).x
    };
    Some(others[other].iter().map(meets).filter(|at| between(*at)).collect())
}
