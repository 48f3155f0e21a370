//! Holes in a face: what frames an opening. A trimmer runs on each side of it, a header lies across between them below and
//! above it, and the rafters between the trimmers end at the headers.

use crate::catalog::code_rules::RuleId;
use crate::catalog::lumber::Section;
use crate::frame::boards::board_covering;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::blocks::{Opening, Through};
use crate::roof::{Laid, Wall, WallLine};

use super::cannot::CannotHang;
use super::face::End;
use super::ground::Ground;
use super::hole::Hole;
use super::lines::LineOf;
use super::piece::{Hung, off};
use super::stations::Station;

/// The hole that frames an opening of the main block; `None` if it lies in no face.
pub(super) fn of_opening(ground: &Ground, opening: &Opening) -> Option<Hole> {
    let wall = ground.walls.iter().find(|wall| wall.block == "main" && wall.wall == opening.on)?;
    let slope = wall.slope?;
    let (start, from) = (opening.start.inches(), opening.from.inches());
    let along = (wall.to - wall.from).normalize();
    let low = wall.from + along * start - wall.out * from;
    let run = opening.length.inches() / slope.stretch();
    let high = low + along * opening.width.inches() - wall.out * run;
    let is_plumb = opening.through == Through::Chimney;
    between(ground, &opening.name, (low, high), wall, is_plumb)
        .map(|hole| Hole { is_chimney: is_plumb, ..hole })
}

/// Part of the way from its corners to its middle at which a hole has to lie in one face.
const INSIDE: f64 = 1e-3;

/// The hole in the face over a wall between two clear corners in plan, with the headers and trimmers that IRC R802.9 wants.
pub(super) fn between(
    ground: &Ground,
    name: &str,
    (low, high): (DVec2, DVec2),
    wall: &WallLine,
    is_plumb: bool,
) -> Option<Hole> {
    let slope = wall.slope?;
    let corners = [low, high, DVec2::new(low.x, high.y), DVec2::new(high.x, low.y)];
    let middle = low.lerp(high, 0.5);
    let face = (0..ground.faces.len()).find(|face| {
        let axes = &ground.faces[*face];
        let holds = |corner: &DVec2| axes.holds(axes.place(corner.lerp(middle, INSIDE)));
        axes.slope.is_same_plane(&slope) && corners.iter().all(holds)
    })?;
    let axes = &ground.faces[face];
    let (low, high) = (axes.place(low), axes.place(high));
    let reach = (low.x.min(high.x), low.x.max(high.x));
    let rafter = &ground.choices.rafter;
    let cut = ground.depth * slope.stretch();
    let header = if is_plumb {
        Section::sized(inches(rafter.thickness_in()), board_covering(inches(cut)))
    } else {
        rafter.clone()
    };
    let wide = reach.1 - reach.0 > RuleId::OpeningHeaderSingle.figure() + HAIR;
    // a single trimmer may carry a single header that is near its bearing: here the plate
    let far = high.y + rafter.thickness_in();
    let is_near = ground.seats(face).iter().any(|seat| {
        let over = seat.reach.0 <= reach.0 && seat.reach.1 >= reach.1;
        let from_bearing = far - seat.up - seat.width;
        !seat.is_high && over && from_bearing <= RuleId::OpeningTrimmerSingle.figure()
    });
    Some(Hole {
        name: name.to_owned(),
        face,
        reach,
        up: (low.y, high.y),
        is_plumb,
        header,
        headers: if wide { 2 } else { 1 },
        trimmers: if wide || !is_near { 2 } else { 1 },
        is_chimney: false,
        to_ridge: None,
    })
}

/// Head rafters shorter than this have no room between a header and the ridge, inches: the ridge is the header then.
const SHORTEST_HEAD_IN: f64 = 3.0;

/// The hole in the main roof that a dormer stands around: clear between its walls, up to where its side walls end. Where that is
/// close to the ridge, up to the ridge.
pub(super) fn of_dormer(ground: &Ground, laid: &Laid) -> Option<Hole> {
    let dormer = laid.dormer.as_ref()?;
    let wall = ground.walls.iter().find(|wall| wall.block == "main" && wall.wall == dormer.on)?;
    let front =
        ground.walls.iter().find(|wall| wall.block == dormer.name && wall.wall == Wall::Near)?;
    let along = (front.to - front.from).normalize() * ground.plate;
    let low = front.from + along - front.out * ground.plate;
    let high = front.to - along;
    let high = high + laid.out * laid.out.dot(laid.from - high);
    let hole = between(ground, &dormer.name, (low, high), wall, dormer.shed)?;
    let hole = Hole { trimmers: 2, ..hole };
    let ridge = ground.lines.iter().find(|line| {
        let beside = line.borders.iter().any(|border| border.face == hole.face);
        dormer.shed && line.of == LineOf::Ridge && beside
    });
    let axes = &ground.faces[hole.face];
    let near = ridge
        .map(|line| (axes.place(line.foot.truncate()).y, line.half))
        .filter(|(ridge, half)| hole.up.1 + hole.thick() + SHORTEST_HEAD_IN > ridge - half);
    Some(match near {
        Some((ridge, half)) => Hole { up: (hole.up.0, ridge), to_ridge: Some(half), ..hole },
        None => hole,
    })
}

/// The headers of all holes.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) {
    for hole in &ground.holes {
        for end in hole.ends() {
            sticks.extend((0..hole.headers).map(|ply| header(ground, hole, end, ply)));
        }
    }
}

/// One member of a header: its top stays under the face.
fn header(ground: &Ground, hole: &Hole, end: End, ply: u32) -> Hung {
    let axes = &ground.faces[hole.face];
    let thick = hole.header.thickness_in();
    let far = thick * f64::from(ply);
    let lower = if end == End::Low { -far - thick } else { far };
    let lower_side = hole.across(axes, end, lower);
    let (along, up) =
        (axes.along.extend(0.0), if hole.is_plumb { DVec3::Z } else { axes.slope.outward() });
    // the lower top corner lies on the face
    let edge = if end == End::Low { hole.up.0 } else { hole.up.1 };
    let start = axes.point(hole.reach.0, edge);
    let uphill = axes.uphill();
    let corner = start + uphill * lower_side.along_line(start, uphill).unwrap_or_default();
    let origin = corner + lower_side.normal * (thick / 2.0) - up * hole.header.depth_in();
    let square = |station: f64, out: DVec3| {
        off("square cut", Plane::through(axes.plan(station, 0.0).extend(0.0), out))
    };
    let word = if end == End::Low { "low" } else { "high" };
    let number = if ply == 0 { String::new() } else { format!("-{}", ply + 1) };
    let name = &ground.roof.faces[hole.face].name;
    Hung {
        role: Role::Header,
        section: hole.header.clone(),
        axis: Axis { origin, along, up },
        trims: vec![square(hole.reach.0, -along), square(hole.reach.1, along)],
        id: format!("{}-{name}-{}-{word}{number}", Role::Header.letters(), hole.name),
        face: Some(hole.face),
        line: None,
    }
}

/// Sets the trimmers among the stations of a face. Where a mark falls on a trimmer, the trimmer takes the rafter's place; a
/// rafter that only laps one moves aside until it touches it.
pub(super) fn set_trimmers(
    ground: &Ground,
    face: usize,
    stations: &mut Vec<Station>,
) -> Result<(), CannotHang> {
    let half = ground.half_rafter;
    let own = || ground.holes.iter().enumerate().filter(|(_, hole)| hole.face == face);
    let mut trimmers: Vec<Station> = Vec::new();
    for (number, hole) in own() {
        for (at, name) in hole.trimmer_stations(half) {
            let crosses = |(_, other): &(usize, &Hole)| {
                at + half > other.reach.0 + HAIR && at - half < other.reach.1 - HAIR
            };
            if let Some((_, other)) = own().find(crosses) {
                return Err(beside(ground, hole, other));
            }
            match trimmers.iter_mut().find(|other| (other.at - at).abs() < 2.0 * half - HAIR) {
                Some(shared) if (shared.at - at).abs() < HAIR => shared.trims.push(number),
                Some(other) => return Err(beside(ground, hole, &ground.holes[other.trims[0]])),
                None => trimmers.push(Station { at, name, king: None, trims: vec![number] }),
            }
        }
    }
    let laps = |at: f64| {
        let near = |one: &&Station, other: &&Station| {
            (one.at - at).abs().total_cmp(&(other.at - at).abs())
        };
        trimmers.iter().filter(|other| (other.at - at).abs() < 2.0 * half - HAIR).min_by(near)
    };
    let mut kept: Vec<Station> = Vec::new();
    for mut station in std::mem::take(stations) {
        let Some(trimmer) = laps(station.at) else {
            kept.push(station);
            continue;
        };
        if station.is_fixed() {
            let hole = &ground.holes[trimmer.trims[0]];
            let which = match station.name.as_str() {
                "N" | "F" => "the end rafter over the gable",
                _ => "the rafter at the head of a hip",
            };
            return Err(no_room(hole, which, Some(trimmed(ground, hole))));
        }
        if (trimmer.at - station.at).abs() > half {
            station.at = trimmer.at + (2.0 * half).copysign(station.at - trimmer.at);
            if laps(station.at).is_none() {
                kept.push(station);
            }
        }
    }
    kept.extend(trimmers);
    kept.sort_by(|one, other| one.at.total_cmp(&other.at));
    // what moved aside may have come onto a neighbor
    let mut last = f64::NEG_INFINITY;
    kept.retain(|station| {
        let free = station.is_fixed() || station.at - last > 2.0 * half - HAIR;
        last = if free { station.at } else { last };
        free
    });
    *stations = kept;
    Ok(())
}

/// Thickness of the trimmers on one side of a hole, inches.
fn trimmed(ground: &Ground, hole: &Hole) -> f64 {
    2.0 * ground.half_rafter * f64::from(hole.trimmers)
}

/// Two holes too near for the trimmers of both.
fn beside(ground: &Ground, hole: &Hole, other: &Hole) -> CannotHang {
    no_room(hole, &other.name, Some(trimmed(ground, hole) + trimmed(ground, other)))
}

fn no_room(hole: &Hole, beside: &str, apart_in: Option<f64>) -> CannotHang {
    let (opening, beside) = (hole.name.clone(), beside.to_owned());
    CannotHang::NoRoomForTrimmers { opening, beside, apart_in }
}

/// Refuses a hole that has not one rafter, from what carries it to what it ends at, on each side.
pub(super) fn refuse_untrimmed(ground: &Ground, sticks: &[Hung]) -> Result<(), CannotHang> {
    for (number, hole) in ground.holes.iter().enumerate() {
        let trimmers = sticks.iter().filter(|stick| {
            stick.role == Role::Trimmer && stick.face == Some(hole.face) && {
                let at = ground.faces[hole.face].place(stick.axis.origin.truncate()).x;
                let stations = hole.trimmer_stations(ground.half_rafter);
                stations.iter().any(|(station, _)| (station - at).abs() < HAIR)
            }
        });
        if trimmers.count() != 2 * hole.trimmers as usize {
            return Err(no_room(
                &ground.holes[number],
                "the hip, valley or header that they end at",
                None,
            ));
        }
    }
    Ok(())
}
