//! A drawing exchange file (DXF, release 2000) as text: head, tables, blocks, entities, objects.
//!
//! Written here and not by a library, because the one at hand leaves table heads without handles, which
//! strict readers repair on reading, and numbers its handles in order, so that one more stick would
//! rename every line after it.

use std::collections::HashSet;
use std::fmt::{Display, Write};

use super::groups::{APPLICATION, group, hex, real};
use super::handle;
use super::label::text_length;
use super::space::{Block, Paper, Space};
use crate::export::stable;
use crate::export::unit::FileUnit;
use crate::geom::{DVec2, DVec3, Mesh};
use crate::measure::tolerance::LAST_BITS;
use crate::sheet::Area;

/// One layer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layer {
    /// Its name.
    pub(super) name: String,
    /// Its color, by number (1 red ... 7 black on white or white on black).
    pub(super) color: u8,
    /// Continuous or dashed lines.
    pub(super) line: Line,
    /// Line weight, hundredths of a millimeter.
    pub(super) weight: u16,
    /// Frozen layers are not shown until they are thawed.
    pub(super) shown: Shown,
}

/// How lines are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Line {
    /// Without a break.
    Continuous,
    /// Dashed: for what lies under something else.
    Dashed,
}

/// Whether a layer is shown when the file is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shown {
    /// It is.
    Yes,
    /// It is frozen.
    Frozen,
}

/// The position of a text relative to its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// Its first letter's foot.
    Left,
    /// Its middle.
    Middle,
}

/// A file being written. Coordinates are inches; they are written in the file's unit.
pub(super) struct File {
    pub(super) unit: FileUnit,
    pub(super) layers: Vec<Layer>,
    /// What is in the model.
    pub(super) entities: String,
    /// What dimensions are drawn with.
    pub(super) blocks: Vec<Block>,
    /// The layouts.
    pub(super) papers: Vec<Paper>,
    /// Where the next entity goes.
    pub(super) space: Space,
    taken: HashSet<u32>,
    /// The model's own corners.
    pub(super) low: DVec2,
    pub(super) high: DVec2,
    /// Those of the drawing that was begun last.
    pub(super) own: Area,
}

/// Bounds of nothing yet.
pub(super) const NOTHING: Area = Area { low: DVec2::INFINITY, high: DVec2::NEG_INFINITY };

/// The name of an entity: its layer, the stick it shows and which part of the stick.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tag<'a> {
    /// The layer.
    pub(super) layer: &'a str,
    /// A name that is unique in the file.
    pub(super) name: &'a str,
    /// Id and mark of the stick it shows.
    pub(super) stick: Option<(&'a str, &'a str)>,
}

impl File {
    pub(super) fn new(unit: FileUnit) -> File {
        File {
            unit,
            layers: Vec::new(),
            entities: String::new(),
            blocks: Vec::new(),
            papers: Vec::new(),
            space: Space::Model,
            taken: HashSet::new(),
            low: DVec2::INFINITY,
            high: DVec2::NEG_INFINITY,
            own: NOTHING,
        }
    }

    /// Adds a layer; an existing layer of that name is kept.
    pub(super) fn layer(&mut self, layer: Layer) {
        if self.layers.iter().all(|known| known.name != layer.name) {
            self.layers.push(layer);
        }
    }

    /// A straight line.
    pub(super) fn line(&mut self, tag: Tag<'_>, from: DVec2, to: DVec2) {
        self.grow(&[from, to]);
        self.begin("LINE", tag);
        self.code(100, "AcDbLine");
        self.point(10, from.extend(0.0));
        self.point(11, to.extend(0.0));
        self.end(tag);
    }

    /// A closed outline.
    pub(super) fn outline(&mut self, tag: Tag<'_>, corners: &[DVec2]) {
        self.grow(corners);
        self.begin("LWPOLYLINE", tag);
        self.code(100, "AcDbPolyline");
        self.code(90, corners.len());
        self.code(70, 1); // closed
        for corner in corners {
            self.real(10, corner.x * self.unit.in_an_inch());
            self.real(20, corner.y * self.unit.in_an_inch());
        }
        self.end(tag);
    }

    /// One line of text, `turn` degrees from level.
    pub(super) fn text(
        &mut self,
        tag: Tag<'_>,
        at: DVec2,
        height: f64,
        turn: f64,
        anchor: Anchor,
        text: &str,
    ) {
        let along = DVec2::from_angle(turn.to_radians());
        let (long, up) = (along * text_length(text, height), along.perp() * height);
        let from = match anchor {
            Anchor::Left => at,
            Anchor::Middle => at - long / 2.0,
        };
        self.grow(&[from - up, from + up, from + long - up, from + long + up]);
        self.begin("TEXT", tag);
        self.code(100, "AcDbText");
        self.point(10, at.extend(0.0));
        self.real(40, height * self.unit.in_an_inch());
        self.code(1, escaped(text));
        if turn != 0.0 {
            self.real(50, turn);
        }
        if anchor == Anchor::Middle {
            self.code(72, 1); // centered
            self.point(11, at.extend(0.0));
        }
        self.code(100, "AcDbText");
        if anchor == Anchor::Middle {
            self.code(73, 2); // middle
        }
        self.end(tag);
    }

    /// A closed surface in space, as one entity; edges within a flat face are not shown.
    pub(super) fn solid(&mut self, tag: Tag<'_>, mesh: &Mesh, place: impl Fn(DVec3) -> DVec3) {
        let faces = shown_triangles(mesh);
        let owner = self.begin("POLYLINE", tag);
        self.code(100, "AcDbPolyFaceMesh");
        self.code(66, 1); // vertices follow
        self.point(10, DVec3::ZERO);
        self.code(70, 64); // faces by the numbers of their corners
        self.code(71, mesh.corners.len());
        self.code(72, faces.len());
        self.end(tag);
        for (number, corner) in mesh.corners.iter().enumerate() {
            self.part("VERTEX", tag, owner, &format!("corner {number}"));
            self.code(100, "AcDbVertex");
            self.code(100, "AcDbPolyFaceMeshVertex");
            self.point(10, place(*corner));
            self.code(70, 192);
        }
        for (number, face) in faces.iter().enumerate() {
            self.part("VERTEX", tag, owner, &format!("face {number}"));
            self.code(100, "AcDbFaceRecord");
            self.point(10, DVec3::ZERO);
            self.code(70, 128);
            for (place, corner) in (71..).zip(face) {
                self.code(place, corner);
            }
        }
        self.part("SEQEND", tag, owner, "end");
    }

    fn grow(&mut self, points: &[DVec2]) {
        if matches!(self.space, Space::Paper(_)) {
            return;
        }
        for point in points {
            self.low = self.low.min(*point);
            self.high = self.high.max(*point);
            self.own = Area::new(self.own.low.min(*point), self.own.high.max(*point));
        }
    }

    /// A handle that depends only on the name, unless another name has it already.
    pub(super) fn handle(&mut self, name: &str) -> u32 {
        let mut handle = handle::FIRST_OF_NAMES + stable::small(name);
        while !self.taken.insert(handle) {
            handle += 1;
        }
        handle
    }

    pub(super) fn begin(&mut self, kind: &str, tag: Tag<'_>) -> u32 {
        let handle = self.handle(tag.name);
        let owner = self.owner();
        self.code(0, kind);
        self.code(5, hex(handle));
        self.code(330, hex(owner));
        self.code(100, "AcDbEntity");
        if matches!(self.space, Space::Paper(_)) {
            self.code(67, 1);
        }
        self.code(8, tag.layer);
        handle
    }

    /// What belongs to an entity that was begun.
    fn part(&mut self, kind: &str, tag: Tag<'_>, owner: u32, name: &str) {
        let handle = self.handle(&format!("{} {name}", tag.name));
        self.code(0, kind);
        self.code(5, hex(handle));
        self.code(330, hex(owner));
        self.code(100, "AcDbEntity");
        self.code(8, tag.layer);
    }

    pub(super) fn end(&mut self, tag: Tag<'_>) {
        if let Some((id, mark)) = tag.stick {
            self.code(1001, APPLICATION);
            self.code(1000, format!("id {id}"));
            self.code(1000, format!("mark {mark}"));
        }
    }

    pub(super) fn code(&mut self, code: u16, value: impl Display) {
        group(self.written(), code, value);
    }

    pub(super) fn real(&mut self, code: u16, value: f64) {
        group(self.written(), code, real(value));
    }

    pub(super) fn point(&mut self, code: u16, at: DVec3) {
        let factor = self.unit.in_an_inch();
        let parts = [at.x, at.y, at.z].map(|part| part * factor);
        for (place, part) in (0..).zip(parts) {
            self.real(code + 10 * place, part);
        }
    }
}

/// Text in the letters of the file: other letters by their number, and none that would be read as a
/// command.
pub(super) fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    // a percent sign doubled begins an order
    for letter in text.replace("%%", "% % ").chars() {
        match letter {
            '^' => escaped.push_str("^ "),
            ' '..='~' | '\u{a0}'..='\u{ff}' => escaped.push(letter),
            letter if letter.is_control() => escaped.push(' '),
            letter => {
                let mut pair = [0; 2];
                for unit in letter.encode_utf16(&mut pair) {
                    let _ = write!(escaped, "\\U+{unit:04X}");
                }
            }
        }
    }
    escaped
}

/// The faces as triangles, corners numbered from 1. A corner is negative if the edge after it lies
/// within a flat face, which hides that edge.
fn shown_triangles(mesh: &Mesh) -> Vec<[i64; 3]> {
    let triangles: Vec<[usize; 3]> = mesh.triangles().collect();
    let normal = |triangle: &[usize; 3]| {
        let [a, b, c] = triangle.map(|corner| mesh.corners[corner]);
        (b - a).cross(c - a).normalize()
    };
    // the face on the other side of each edge
    let beyond: std::collections::HashMap<(usize, usize), usize> = triangles
        .iter()
        .enumerate()
        .flat_map(|(at, &[a, b, c])| [((b, a), at), ((c, b), at), ((a, c), at)])
        .collect();
    triangles
        .iter()
        .map(|triangle| {
            let own = normal(triangle);
            let flat = |from: usize, to: usize| {
                beyond
                    .get(&(from, to))
                    .is_some_and(|&other| normal(&triangles[other]).dot(own) > 1.0 - LAST_BITS)
            };
            let number = |at: usize| {
                let (from, to) = (triangle[at], triangle[(at + 1) % 3]);
                let number = from as i64 + 1;
                if flat(from, to) { -number } else { number }
            };
            [number(0), number(1), number(2)]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_stays_in_the_letters_of_the_file() {
        assert_eq!(escaped("14' 5-1/16\""), "14' 5-1/16\"");
        assert_eq!(escaped("½ é 38°"), "½ é 38°");
        assert_eq!(escaped("′ 🏠"), "\\U+2032 \\U+D83C\\U+DFE0");
        assert_eq!(escaped("50%\n^ %%d"), "50% ^  % % d");
    }

    #[test]
    fn only_edges_of_the_body_are_shown() {
        let box_of = crate::geom::Cell::from_box(DVec3::ZERO, DVec3::X, DVec3::Y, DVec3::Z);
        let mesh = crate::geom::Solid::from(box_of).mesh();
        let faces = shown_triangles(&mesh);
        assert_eq!(faces.len(), 12);
        let hidden = faces.iter().flatten().filter(|corner| **corner < 0).count();
        // one inner edge on each of six faces, seen from both triangles
        assert_eq!(hidden, 12);
    }
}
