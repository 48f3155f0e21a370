//! Where rafters are marked: along every plate, and along both sides of ridges, hips and valleys.

use std::collections::HashSet;

use crate::frame::role::Role;
use crate::frame::stick::{Stick, Trim};
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::tolerance::HAIR;
use crate::roof::{Wall, WallLine};

use super::face::End;
use super::ground::Ground;
use super::hole::Hole;
use super::lines::Line;
use super::measured::{ends, over_building};
use super::piece::Hung;

/// One mark of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RafterMark {
    /// From the start of the row to the near side of the rafter, inches along it.
    pub at: f64,
    /// How much of the row the rafter covers from there, inches.
    pub covers: f64,
    /// The rafter's id.
    pub id: String,
}

/// The marks along one side of a member.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkRow {
    /// What is marked: the id of a line's stick, or `plate` with the wall, of a wing with its name.
    pub on: String,
    /// Where the tape is hooked.
    pub from: &'static str,
    /// Name of the face whose rafters are marked.
    pub face: String,
    /// From the hook of the tape to the other end of what is marked, inches.
    pub length: f64,
    /// The marks in their order.
    pub marks: Vec<RafterMark>,
}

/// All rows of marks: those of plates first.
#[must_use]
pub fn rows(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let mut rows = along_plates(ground, sticks);
    rows.extend(along_lines(ground, sticks));
    rows.extend(around_holes(ground, sticks));
    rows.retain(|row| !row.marks.is_empty());
    for row in &mut rows {
        row.marks.sort_by(|one, other| one.at.total_cmp(&other.at));
    }
    rows
}

fn along_plates(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let half = ground.half_rafter;
    let resting: Vec<(&Hung, DVec3, DVec3)> = sticks
        .iter()
        .filter(|stick| rests_on_plates(stick.role))
        .filter_map(|stick| {
            let (low, high) = stick.stick()?.solid().bounds()?;
            Some((stick, low, high))
        })
        .collect();
    let mut rows = Vec::new();
    for wall in &ground.walls {
        let along = (wall.to - wall.from).normalize();
        for (face, axes) in ground.faces.iter().enumerate() {
            let is_low = ground.walls_of(face).any(|own| std::ptr::eq(own, wall));
            let is_high = ground.high_walls_of(face).any(|own| std::ptr::eq(own, wall));
            if !is_low && !is_high {
                continue;
            }
            // a rafter is on the plate that its birdsmouth is cut for
            let heel = (wall.from - wall.out * if is_low { 0.0 } else { ground.plate }).extend(0.0);
            let sits = |trim: &Trim| {
                let at_heel = |plane: &Plane| {
                    plane.normal.distance(axes.up.extend(0.0)) < HAIR
                        && plane.distance(heel).abs() < HAIR
                };
                trim.name == "birdsmouth" && trim.cut.planes.iter().any(at_heel)
            };
            let name = &ground.roof.faces[face].name;
            let on_plate = sticks
                .iter()
                .filter(|stick| stick.face == Some(face) && stick.trims.iter().any(sits));
            let marks = on_plate.map(|stick| {
                let station = stick.axis.origin.truncate().dot(axes.along);
                let center = (axes.along * station).dot(along) - wall.from.dot(along);
                RafterMark { at: center - half, covers: 2.0 * half, id: stick.id.clone() }
            });
            let length = wall.from.distance(wall.to);
            rows.push(MarkRow {
                on: plate_of(wall),
                from: hook_of(ground, wall),
                face: name.clone(),
                length,
                marks: marks.filter(|mark| mark.at > -HAIR && mark.at < length).collect(),
            });
        }
        // what else rests on the plate is marked with its first rafters, or on its own
        let marks = resting.iter().filter_map(|one| rests(ground, wall, one));
        let marks: Vec<RafterMark> = marks.collect();
        let on = plate_of(wall);
        match rows.iter_mut().find(|row: &&mut MarkRow| row.on == on && !row.marks.is_empty()) {
            Some(row) => row.marks.extend(marks),
            None => rows.push(MarkRow {
                on,
                from: hook_of(ground, wall),
                face: String::new(),
                length: wall.from.distance(wall.to),
                marks,
            }),
        }
    }
    rows
}

/// True for what lies or stands on plates beside the rafters and has a mark there.
fn rests_on_plates(role: Role) -> bool {
    matches!(
        role,
        Role::CeilingJoist
            | Role::TailJoist
            | Role::JoistTrimmer
            | Role::StubJoist
            | Role::Filler
            | Role::RafterTie
            | Role::GableStud
    )
}

/// The mark of a stick on the plate of a wall, if it rests on it.
fn rests(
    ground: &Ground,
    wall: &WallLine,
    (stick, low, high): &(&Hung, DVec3, DVec3),
) -> Option<RafterMark> {
    if (low.z - ground.plate_top(wall)).abs() > HAIR {
        return None;
    }
    let along = (wall.to - wall.from).normalize();
    let reach = |direction: DVec2| {
        let ends = [low.truncate(), high.truncate()].map(|end| (end - wall.from).dot(direction));
        (ends[0].min(ends[1]), ends[0].max(ends[1]))
    };
    let (from, to) = reach(along);
    let (outer, inner) = reach(-wall.out);
    let over = from > -HAIR && to < wall.from.distance(wall.to) + HAIR;
    // what runs along the wall on another one's plate is none of it
    let across = to - from < inner - outer || stick.role == Role::GableStud;
    let on_it = outer < ground.plate - HAIR && inner > HAIR;
    (over && across && on_it).then(|| RafterMark {
        at: from,
        covers: to - from,
        id: stick.id.clone(),
    })
}

/// The plate of a wall, of a wing or a dormer with its name.
fn plate_of(wall: &WallLine) -> String {
    format!("plate {}", wall.name())
}

/// Where the tape is hooked for the marks of a plate.
fn hook_of(ground: &Ground, wall: &WallLine) -> &'static str {
    if ground.dormer(&wall.block).is_some() {
        match wall.wall {
            Wall::A | Wall::B => "front of the dormer, framing face",
            Wall::Near | Wall::Far => "wall A of the dormer, framing face",
        }
    } else {
        corner(wall)
    }
}

/// The corner of the building where the tape is hooked for the marks of a plate.
fn corner(wall: &WallLine) -> &'static str {
    match (wall.block.as_str(), wall.wall) {
        ("main", Wall::A | Wall::B) => "near end wall, framing face",
        ("main", Wall::Near | Wall::Far) => "wall A, framing face",
        (_, Wall::A | Wall::B) => "end wall of the wing, framing face",
        (_, Wall::Near | Wall::Far) => "wall A of the wing, framing face",
    }
}

/// Where the tape is hooked on the stick of a line: how far from the foot of its edge along it, and the words for it.
fn hook(ground: &Ground, under: &Hung, line: &Line) -> (f64, &'static str) {
    let solid = under.stick();
    let reach = solid.as_ref().map_or((0.0, 0.0), Stick::reach);
    // only what stands over a wall of its own has a corner to hook at
    if let Some(building) = over_building(ground, under).filter(|at| *at > reach.0 - HAIR) {
        return (building, "building corner, along the middle of its top");
    }
    let (foot, along) = (line.foot, (line.head - line.foot).normalize());
    if let Some([lower, _]) = solid.as_ref().filter(|_| along.z.abs() > HAIR).and_then(ends) {
        return (lower.middle, "middle of its top at its lower end");
    }
    let corners = solid.iter().flat_map(|stick| stick.solid().corners());
    let start = corners.map(|corner| (corner - foot).dot(along)).fold(f64::INFINITY, f64::min);
    let words = if along.x.abs() > along.y.abs() {
        "end toward the near end wall"
    } else {
        "end toward wall A"
    };
    (if start.is_finite() { start } else { 0.0 }, words)
}

/// Along every header the rafters that end at it, and along every trimmer the headers that it carries.
fn around_holes(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let mut rows = Vec::new();
    for hole in &ground.holes {
        let axes = &ground.faces[hole.face];
        let stretch = axes.slope.stretch();
        let name = &ground.roof.faces[hole.face].name;
        let own = || sticks.iter().filter(|stick| stick.face == Some(hole.face));
        let seat = ground.seats(hole.face).into_iter().find(|seat| !seat.is_high);
        let mut headers: Vec<RafterMark> = Vec::new();
        for end in hole.ends() {
            let word = if end == End::Low { "low" } else { "high" };
            let header = format!("{}-{name}-{}-{word}", Role::Header.letters(), hole.name);
            let covers = hole.thick() * if hole.is_plumb { stretch } else { 1.0 };
            if let Some(seat) = &seat {
                let (clear, before) =
                    if end == End::Low { (hole.up.0, covers) } else { (hole.up.1, 0.0) };
                let at = (clear - seat.up) * stretch - before;
                headers.push(RafterMark { at, covers, id: header.clone() });
            }
            let landing = (hole.face, hole.landing(axes, end));
            rows.push(along_header(ground, hole, landing, &header, sticks));
            if end == End::High {
                // a shed dormer's rafters end at its other side
                let laid =
                    (0..ground.faces.len()).filter(|face| is_laid_on(ground, *face, hole.face));
                rows.extend(laid.map(|face| {
                    along_header(ground, hole, (face, hole.head(axes)), &header, sticks)
                }));
            }
        }
        let Some(seat) = seat else { continue };
        let trims = format!("-{}-", hole.name);
        let trimmers =
            own().filter(|stick| stick.role == Role::Trimmer && stick.id.contains(&trims));
        rows.extend(trimmers.filter_map(|trimmer| {
            let solid = trimmer.stick()?;
            let (_, top) = solid.solid().extent(axes.up.extend(0.0))?;
            Some(MarkRow {
                on: trimmer.id.clone(),
                from: "over the building line, along its top",
                face: name.clone(),
                length: (top - seat.up) * stretch,
                marks: headers.clone(),
            })
        }));
    }
    rows
}

/// True for the slope of a shed dormer that lies on a face, and rises the same way.
fn is_laid_on(ground: &Ground, face: usize, host: usize) -> bool {
    let block = &ground.roof.faces[face].block;
    ground.laid.iter().any(|laid| laid.is_shed() && laid.block == *block && laid.host == host)
}

/// The rafters that end at a header, from the end where the layout of plates starts.
fn along_header(
    ground: &Ground,
    hole: &Hole,
    (face, landing): (usize, Plane),
    on: &str,
    sticks: &[Hung],
) -> MarkRow {
    let axes = &ground.faces[face];
    let ends_there = sticks.iter().filter(|stick| {
        let mut planes = stick.trims.iter().flat_map(|trim| &trim.cut.planes);
        stick.face == Some(face)
            && stick.role != Role::Header
            && planes.any(|plane| {
                plane.normal.distance(landing.normal) < HAIR
                    && (plane.offset - landing.offset).abs() < HAIR
            })
    });
    let half = ground.half_rafter;
    let is_turned = axes.along.x + axes.along.y < 0.0;
    let marks = ends_there.map(|stick| {
        let station = stick.axis.origin.truncate().dot(axes.along);
        let middle = if is_turned { hole.reach.1 - station } else { station - hole.reach.0 };
        RafterMark { at: middle - half, covers: 2.0 * half, id: stick.id.clone() }
    });
    let length = hole.reach.1 - hole.reach.0;
    MarkRow {
        on: on.to_owned(),
        from: if axes.along.x.abs() > axes.along.y.abs() {
            "end toward the near end wall"
        } else {
            "end toward wall A"
        },
        face: ground.roof.faces[face].name.clone(),
        length,
        marks: marks.filter(|mark| mark.at > -HAIR && mark.at < length).collect(),
    }
}

/// Each mark is where the near side of a rafter meets the side of the line's stick, measured along its middle.
fn along_lines(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let mut rows: Vec<MarkRow> = Vec::new();
    for (number, line) in ground.lines.iter().enumerate() {
        // one in pieces is marked as a whole, under the name of its first piece
        let Some(under) = sticks.iter().find(|stick| stick.line == Some(number)) else { continue };
        let (foot, along) = (line.foot.truncate(), line.toward_head());
        let length = (line.head - line.foot).truncate().length();
        let steep = (line.head - line.foot).length() / length;
        let (start, from) = hook(ground, under, line);
        // the wood goes on past the ends of its edge: a ridge where hips meet it, a hip or a valley with its tail
        let pieces = sticks.iter().filter(|stick| stick.line == Some(number));
        let reaches = pieces.filter_map(Hung::stick).filter_map(|stick| {
            let (low, high) = stick.solid().extent(along.extend(0.0))?;
            Some((low - foot.dot(along), high - foot.dot(along)))
        });
        let (low, high) = reaches
            .fold((0.0_f64, length), |(low, high), (from, to)| (low.min(from), high.max(to)));
        let end = if steep > 1.0 + HAIR { length * steep } else { high };
        for border in &line.borders {
            let axes = &ground.faces[border.face];
            let spread = along.dot(axes.along);
            let name = &ground.roof.faces[border.face].name;
            let rafters = sticks.iter().filter(|stick| {
                let own = |face| face == border.face || is_laid_on(ground, face, border.face);
                stick.face.is_some_and(own)
            });
            let side = foot + line.side(border.on_left) * line.half;
            let marks: Vec<RafterMark> = rafters
                .filter(|stick| {
                    let planes = stick.trims.iter().flat_map(|trim| &trim.cut.planes);
                    let cheek = line.side_plane(border.on_left).flipped();
                    planes.into_iter().any(|plane| {
                        plane.normal.distance(cheek.normal) < HAIR
                            && (plane.offset - cheek.offset).abs() < HAIR
                    })
                })
                .map(|stick| {
                    let station = stick.axis.origin.truncate().dot(axes.along);
                    let at = |aside: f64| (station + aside - side.dot(axes.along)) / spread;
                    let half = ground.half_rafter;
                    let (one, other) = (at(half) * steep, at(-half) * steep);
                    RafterMark {
                        at: one.min(other) - start,
                        covers: (one - other).abs(),
                        id: stick.id.clone(),
                    }
                })
                // another ridge of the face may lie in the same line
                .filter(|mark| {
                    let far = mark.at + start;
                    far + mark.covers > low * steep - HAIR && far < high * steep + HAIR
                })
                .collect();
            let same = rows.iter_mut().find(|row| row.on == under.id && row.face == *name);
            match same {
                Some(row) => row.marks.extend(marks),
                None => rows.push(MarkRow {
                    on: under.id.clone(),
                    from,
                    face: name.clone(),
                    length: end - start,
                    marks,
                }),
            }
        }
    }
    for row in &mut rows {
        let mut seen: HashSet<String> = HashSet::new();
        row.marks.retain(|mark| seen.insert(mark.id.clone()));
    }
    rows
}
