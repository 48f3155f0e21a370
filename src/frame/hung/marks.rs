//! Where rafters are marked: along every plate, and along both sides of ridges, hips and valleys.

use std::collections::HashSet;

use crate::measure::tolerance::HAIR;

use super::ground::Ground;
use super::piece::Hung;

/// One mark of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RafterMark {
    /// From the start of the row to the near side of the rafter, inches along it.
    pub at: f64,
    /// The rafter's id.
    pub id: String,
}

/// The marks along one side of a member.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkRow {
    /// What is marked: the id of a line, or `plate` with block and wall.
    pub on: String,
    /// Where the tape is hooked.
    pub from: &'static str,
    /// Name of the face whose rafters are marked.
    pub face: String,
    /// The marks in their order.
    pub marks: Vec<RafterMark>,
}

/// All rows of marks: those of plates first.
#[must_use]
pub fn rows(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let mut rows = along_plates(ground, sticks);
    rows.extend(along_lines(ground, sticks));
    rows.retain(|row| !row.marks.is_empty());
    for row in &mut rows {
        row.marks.sort_by(|one, other| one.at.total_cmp(&other.at));
    }
    rows
}

fn along_plates(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let half = ground.half_rafter;
    let mut rows = Vec::new();
    for wall in &ground.walls {
        let along = (wall.to - wall.from).normalize();
        for (face, axes) in ground.faces.iter().enumerate() {
            if !ground.walls_of(face).any(|own| std::ptr::eq(own, wall)) {
                continue;
            }
            let name = &ground.roof.faces[face].name;
            let on_plate = sticks.iter().filter(|stick| {
                stick.face == Some(face) && stick.trims.iter().any(|trim| trim.name == "birdsmouth")
            });
            let marks = on_plate.map(|stick| {
                let station = stick.axis.origin.truncate().dot(axes.along);
                let center = (axes.along * station).dot(along) - wall.from.dot(along);
                RafterMark { at: center - half, id: stick.id.clone() }
            });
            let length = wall.from.distance(wall.to);
            rows.push(MarkRow {
                on: format!("plate {} {}", wall.block, wall.wall.word()),
                from: "start of the wall, framing face",
                face: name.clone(),
                marks: marks.filter(|mark| mark.at > -HAIR && mark.at < length).collect(),
            });
        }
    }
    rows
}

/// Each mark is where the near side of a rafter meets the side of the line's stick, measured along its middle from its foot.
fn along_lines(ground: &Ground, sticks: &[Hung]) -> Vec<MarkRow> {
    let mut rows: Vec<MarkRow> = Vec::new();
    for under in sticks.iter().filter(|stick| stick.line.is_some()) {
        let Some(line) = under.line.map(|line| &ground.lines[line]) else { continue };
        let (foot, along) = (line.foot.truncate(), line.toward_head());
        let length = (line.head - line.foot).truncate().length();
        let steep = (line.head - line.foot).length() / length;
        for border in &line.borders {
            let axes = &ground.faces[border.face];
            let spread = along.dot(axes.along);
            let name = &ground.roof.faces[border.face].name;
            let rafters = sticks.iter().filter(|stick| stick.face == Some(border.face));
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
                    RafterMark { at: at(half).min(at(-half)) * steep, id: stick.id.clone() }
                })
                .collect();
            let same = rows.iter_mut().find(|row| row.on == under.id && row.face == *name);
            match same {
                Some(row) => row.marks.extend(marks),
                None => rows.push(MarkRow {
                    on: under.id.clone(),
                    from: "foot of its edge, along its middle",
                    face: name.clone(),
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
