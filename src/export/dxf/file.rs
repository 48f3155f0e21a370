//! A drawing exchange file (DXF, release 2000) as text: head, tables, blocks, entities, objects.
//!
//! Written here and not by a library, because the one at hand leaves table heads without handles,
//! which strict readers mend on the way in, and gives handles by counting, so that one stick more
//! would rename every line after it.

use std::collections::HashSet;
use std::fmt::{Display, Write};

use crate::export::stable;
use crate::export::unit::FileUnit;
use crate::geom::{DVec2, DVec3, Mesh};

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
    /// With breaks: what lies under something else.
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

/// How a text stands to its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// Its first letter's foot.
    Left,
    /// Its middle.
    Middle,
}

/// Fixed handles of what every file has.
mod handle {
    pub(super) const BLOCK_RECORDS: u32 = 0x1;
    pub(super) const LAYERS: u32 = 0x2;
    pub(super) const STYLES: u32 = 0x3;
    pub(super) const LINE_TYPES: u32 = 0x5;
    pub(super) const VIEWS: u32 = 0x6;
    pub(super) const COORDINATE_SYSTEMS: u32 = 0x7;
    pub(super) const VIEWPORTS: u32 = 0x8;
    pub(super) const APPLICATIONS: u32 = 0x9;
    pub(super) const DIMENSION_STYLES: u32 = 0xA;
    pub(super) const ROOT: u32 = 0xC;
    pub(super) const GROUPS: u32 = 0xD;
    pub(super) const LAYOUTS: u32 = 0xE;
    pub(super) const MODEL_RECORD: u32 = 0x20;
    pub(super) const PAPER_RECORD: u32 = 0x30;
    /// Two entities and a layout stand after each record.
    pub(super) const BEGIN: u32 = 1;
    pub(super) const END: u32 = 2;
    pub(super) const LAYOUT: u32 = 3;
    pub(super) const SMALL_THINGS: u32 = 0x40;
    /// Layers and entities lie from here on.
    pub(super) const FIRST_OF_NAMES: u32 = 0x1000;
}

/// The name under which ids and marks are written beside the entities.
const APPLICATION: &str = "STEPOFF";

/// A file while it is put together. Coordinates are inches; they are written in the file's unit.
pub(super) struct File {
    unit: FileUnit,
    layers: Vec<Layer>,
    entities: String,
    taken: HashSet<u32>,
    low: DVec2,
    high: DVec2,
}

/// What an entity is called by: its layer, the stick it shows and what of the stick.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tag<'a> {
    /// The layer.
    pub(super) layer: &'a str,
    /// A name that no other entity of the file has.
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
            taken: HashSet::new(),
            low: DVec2::INFINITY,
            high: DVec2::NEG_INFINITY,
        }
    }

    /// Adds a layer; one of its name that is there stays.
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
        self.grow(&[at]);
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
        for point in points {
            self.low = self.low.min(*point);
            self.high = self.high.max(*point);
        }
    }

    /// A handle that hangs on the name alone, unless another name has it already.
    fn handle(&mut self, name: &str) -> u32 {
        let mut handle = handle::FIRST_OF_NAMES + stable::small(name);
        while !self.taken.insert(handle) {
            handle += 1;
        }
        handle
    }

    fn begin(&mut self, kind: &str, tag: Tag<'_>) -> u32 {
        let handle = self.handle(tag.name);
        self.code(0, kind);
        self.code(5, hex(handle));
        self.code(330, hex(handle::MODEL_RECORD));
        self.code(100, "AcDbEntity");
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

    fn end(&mut self, tag: Tag<'_>) {
        if let Some((id, mark)) = tag.stick {
            self.code(1001, APPLICATION);
            self.code(1000, format!("id {id}"));
            self.code(1000, format!("mark {mark}"));
        }
    }

    fn code(&mut self, code: u16, value: impl Display) {
        group(&mut self.entities, code, value);
    }

    fn real(&mut self, code: u16, value: f64) {
        group(&mut self.entities, code, real(value));
    }

    fn point(&mut self, code: u16, at: DVec3) {
        let factor = self.unit.in_an_inch();
        let parts = [at.x, at.y, at.z].map(|part| part * factor);
        for (place, part) in (0..).zip(parts) {
            self.real(code + 10 * place, part);
        }
    }

    /// The whole file, in the letters that its head names.
    pub(super) fn finish(mut self) -> Vec<u8> {
        if self.low.x > self.high.x {
            (self.low, self.high) = (DVec2::ZERO, DVec2::ONE);
        }
        let mut text = String::with_capacity(self.entities.len() + 16_000);
        self.head(&mut text);
        section(&mut text, "CLASSES", |_| {});
        let layers: Vec<u32> = self
            .layers
            .clone()
            .iter()
            .map(|layer| self.handle(&format!("layer {}", layer.name)))
            .collect();
        section(&mut text, "TABLES", |text| self.tables(text, &layers));
        section(&mut text, "BLOCKS", blocks);
        section(&mut text, "ENTITIES", |text| text.push_str(&self.entities));
        section(&mut text, "OBJECTS", |text| self.objects(text));
        group(&mut text, 0, "EOF");
        // western letters are one byte each; escaping has left no others
        text.chars()
            .map(|letter| u8::try_from(u32::from(letter)).unwrap_or(b'?'))
            .collect()
    }

    fn head(&self, text: &mut String) {
        let factor = self.unit.in_an_inch();
        let (units, metric) = match self.unit {
            FileUnit::Inch => (1, 0),
            FileUnit::Millimeter => (4, 1),
        };
        let corner = |text: &mut String, name: &str, at: DVec2| {
            group(text, 9, name);
            for (code, part) in [(10, at.x), (20, at.y), (30, 0.0)] {
                group(text, code, real(part * factor));
            }
        };
        section(text, "HEADER", |text| {
            let whole = |text: &mut String, name: &str, code: u16, value: i64| {
                group(text, 9, name);
                group(text, code, value);
            };
            group(text, 9, "$ACADVER");
            group(text, 1, "AC1015");
            group(text, 9, "$DWGCODEPAGE");
            group(text, 3, "ANSI_1252");
            group(text, 9, "$HANDSEED");
            // above every handle, so that what is drawn later gets new ones
            group(text, 5, "7FFFFFFF");
            whole(text, "$INSUNITS", 70, units);
            whole(text, "$MEASUREMENT", 70, metric);
            whole(text, "$LUNITS", 70, if metric == 1 { 2 } else { 4 });
            whole(text, "$LUPREC", 70, 4);
            group(text, 9, "$LTSCALE");
            group(text, 40, real(1.0));
            corner(text, "$EXTMIN", self.low);
            corner(text, "$EXTMAX", self.high);
        });
    }

    fn tables(&self, text: &mut String, layers: &[u32]) {
        let factor = self.unit.in_an_inch();
        let mut small = handle::SMALL_THINGS;
        let mut next = || {
            small += 1;
            small
        };
        table(text, "VPORT", handle::VIEWPORTS, 1);
        record(
            text,
            "VPORT",
            next(),
            handle::VIEWPORTS,
            "AcDbViewportTableRecord",
            "*Active",
        );
        let (middle, size) = ((self.low + self.high) / 2.0, self.high - self.low);
        let whole = [
            (10, 0.0),
            (20, 0.0),
            (11, 1.0),
            (21, 1.0),
            (12, middle.x * factor),
            (22, middle.y * factor),
            (16, 0.0),
            (26, 0.0),
            (36, 1.0),
            (17, 0.0),
            (27, 0.0),
            (37, 0.0),
            (40, 1.1 * factor * size.y.max(size.x / 1.6)),
            (41, 1.6),
            (42, 50.0),
        ];
        for (code, value) in whole {
            group(text, code, real(value));
        }
        group(text, 0, "ENDTAB");

        table(text, "LTYPE", handle::LINE_TYPES, 4);
        for name in ["ByBlock", "ByLayer", "Continuous"] {
            line_type(text, next(), name, "", &[]);
        }
        let dashes = [4.0 * factor, -2.0 * factor];
        line_type(text, next(), "DASHED", "__ __ __", &dashes);
        group(text, 0, "ENDTAB");

        table(text, "LAYER", handle::LAYERS, layers.len() + 1);
        let plain = Layer {
            name: "0".into(),
            color: 7,
            line: Line::Continuous,
            weight: 18,
            shown: Shown::Yes,
        };
        write_layer(text, next(), &plain);
        for (layer, handle) in self.layers.iter().zip(layers) {
            write_layer(text, *handle, layer);
        }
        group(text, 0, "ENDTAB");

        table(text, "STYLE", handle::STYLES, 1);
        record(
            text,
            "STYLE",
            next(),
            handle::STYLES,
            "AcDbTextStyleTableRecord",
            "Standard",
        );
        for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
            group(text, code, real(value));
        }
        group(text, 71, 0);
        group(text, 42, real(2.5 * factor));
        group(text, 3, "txt");
        group(text, 4, "");
        group(text, 0, "ENDTAB");

        for (name, handle) in [("VIEW", handle::VIEWS), ("UCS", handle::COORDINATE_SYSTEMS)] {
            table(text, name, handle, 0);
            group(text, 0, "ENDTAB");
        }

        table(text, "APPID", handle::APPLICATIONS, 2);
        for name in ["ACAD", APPLICATION] {
            record(
                text,
                "APPID",
                next(),
                handle::APPLICATIONS,
                "AcDbRegAppTableRecord",
                name,
            );
        }
        group(text, 0, "ENDTAB");

        table(text, "DIMSTYLE", handle::DIMENSION_STYLES, 1);
        group(text, 100, "AcDbDimStyleTable");
        group(text, 71, 0);
        group(text, 0, "DIMSTYLE");
        group(text, 105, hex(next()));
        group(text, 330, hex(handle::DIMENSION_STYLES));
        group(text, 100, "AcDbSymbolTableRecord");
        group(text, 100, "AcDbDimStyleTableRecord");
        group(text, 2, "Standard");
        group(text, 70, 0);
        group(text, 0, "ENDTAB");

        table(text, "BLOCK_RECORD", handle::BLOCK_RECORDS, 2);
        for (name, block) in SPACES {
            record(
                text,
                "BLOCK_RECORD",
                block,
                handle::BLOCK_RECORDS,
                "AcDbBlockTableRecord",
                name,
            );
            group(text, 340, hex(block + handle::LAYOUT));
        }
        group(text, 0, "ENDTAB");
    }

    fn objects(&self, text: &mut String) {
        dictionary(
            text,
            handle::ROOT,
            0,
            &[
                ("ACAD_GROUP", handle::GROUPS),
                ("ACAD_LAYOUT", handle::LAYOUTS),
            ],
        );
        dictionary(text, handle::GROUPS, handle::ROOT, &[]);
        let layout = |block: u32| block + handle::LAYOUT;
        dictionary(
            text,
            handle::LAYOUTS,
            handle::ROOT,
            &[
                ("Layout1", layout(handle::PAPER_RECORD)),
                ("Model", layout(handle::MODEL_RECORD)),
            ],
        );
        let factor = self.unit.in_an_inch();
        self.layout(text, "Model", handle::MODEL_RECORD, 0, factor);
        self.layout(text, "Layout1", handle::PAPER_RECORD, 1, factor);
    }

    fn layout(&self, text: &mut String, name: &str, block: u32, order: u8, factor: f64) {
        group(text, 0, "LAYOUT");
        group(text, 5, hex(block + handle::LAYOUT));
        group(text, 330, hex(handle::LAYOUTS));
        group(text, 100, "AcDbPlotSettings");
        for code in [1, 2, 4, 6] {
            group(text, code, "");
        }
        for code in (40..=49).chain([140, 141]) {
            group(text, code, real(0.0));
        }
        for (code, value) in [(142, 1.0), (143, 1.0)] {
            group(text, code, real(value));
        }
        // the model tab is marked as such
        group(text, 70, if order == 0 { 1024 } else { 0 });
        for code in [72, 73, 74] {
            group(text, code, 0);
        }
        group(text, 7, "");
        group(text, 75, 0);
        for (code, value) in [(147, 1.0), (148, 0.0), (149, 0.0)] {
            group(text, code, real(value));
        }
        group(text, 100, "AcDbLayout");
        group(text, 1, name);
        group(text, 70, 1);
        group(text, 71, order);
        let (low, high) = (self.low * factor, self.high * factor);
        let places: [(u16, [f64; 3]); 8] = [
            (10, [low.x, low.y, f64::NAN]),
            (11, [high.x, high.y, f64::NAN]),
            (12, [0.0; 3]),
            (14, [low.x, low.y, 0.0]),
            (15, [high.x, high.y, 0.0]),
            (13, [0.0; 3]),
            (16, [1.0, 0.0, 0.0]),
            (17, [0.0, 1.0, 0.0]),
        ];
        for (code, parts) in places {
            if code == 13 {
                group(text, 146, real(0.0));
            }
            for (place, part) in (0..).zip(parts).filter(|(_, part)| !part.is_nan()) {
                group(text, code + 10 * place, real(part));
            }
        }
        group(text, 76, 0);
        group(text, 330, hex(block));
    }
}

const SPACES: [(&str, u32); 2] = [
    ("*Model_Space", handle::MODEL_RECORD),
    ("*Paper_Space", handle::PAPER_RECORD),
];

fn blocks(text: &mut String) {
    for (name, block) in SPACES {
        let paper = block == handle::PAPER_RECORD;
        let entity = |text: &mut String, kind: &str, handle: u32, class: &str| {
            group(text, 0, kind);
            group(text, 5, hex(handle));
            group(text, 330, hex(block));
            group(text, 100, "AcDbEntity");
            if paper {
                group(text, 67, 1);
            }
            group(text, 8, "0");
            group(text, 100, class);
        };
        entity(text, "BLOCK", block + handle::BEGIN, "AcDbBlockBegin");
        group(text, 2, name);
        group(text, 70, 0);
        for code in [10, 20, 30] {
            group(text, code, real(0.0));
        }
        group(text, 3, name);
        group(text, 1, "");
        entity(text, "ENDBLK", block + handle::END, "AcDbBlockEnd");
    }
}

fn section(text: &mut String, name: &str, body: impl FnOnce(&mut String)) {
    group(text, 0, "SECTION");
    group(text, 2, name);
    body(text);
    group(text, 0, "ENDSEC");
}

fn table(text: &mut String, name: &str, handle: u32, count: usize) {
    group(text, 0, "TABLE");
    group(text, 2, name);
    group(text, 5, hex(handle));
    group(text, 330, 0);
    group(text, 100, "AcDbSymbolTable");
    group(text, 70, count);
}

fn record(text: &mut String, kind: &str, handle: u32, owner: u32, class: &str, name: &str) {
    group(text, 0, kind);
    group(text, 5, hex(handle));
    group(text, 330, hex(owner));
    group(text, 100, "AcDbSymbolTableRecord");
    group(text, 100, class);
    group(text, 2, name);
    if kind != "BLOCK_RECORD" {
        group(text, 70, 0);
    }
}

fn line_type(text: &mut String, handle: u32, name: &str, look: &str, dashes: &[f64]) {
    record(
        text,
        "LTYPE",
        handle,
        handle::LINE_TYPES,
        "AcDbLinetypeTableRecord",
        name,
    );
    group(text, 3, look);
    group(text, 72, 65);
    group(text, 73, dashes.len());
    group(text, 40, real(dashes.iter().map(|dash| dash.abs()).sum()));
    for dash in dashes {
        group(text, 49, real(*dash));
        group(text, 74, 0);
    }
}

fn write_layer(text: &mut String, handle: u32, layer: &Layer) {
    group(text, 0, "LAYER");
    group(text, 5, hex(handle));
    group(text, 330, hex(handle::LAYERS));
    group(text, 100, "AcDbSymbolTableRecord");
    group(text, 100, "AcDbLayerTableRecord");
    group(text, 2, &layer.name);
    group(text, 70, if layer.shown == Shown::Frozen { 1 } else { 0 });
    group(text, 62, layer.color);
    let line = match layer.line {
        Line::Continuous => "Continuous",
        Line::Dashed => "DASHED",
    };
    group(text, 6, line);
    group(text, 370, layer.weight);
}

fn dictionary(text: &mut String, handle: u32, owner: u32, entries: &[(&str, u32)]) {
    group(text, 0, "DICTIONARY");
    group(text, 5, hex(handle));
    group(text, 330, hex(owner));
    group(text, 100, "AcDbDictionary");
    group(text, 281, 1);
    for (name, handle) in entries {
        group(text, 3, name);
        group(text, 350, hex(*handle));
    }
}

fn group(text: &mut String, code: u16, value: impl Display) {
    // writing to a String can't fail
    let _ = writeln!(text, "{code:>3}\n{value}");
}

fn hex(handle: u32) -> String {
    format!("{handle:X}")
}

/// A number with a point, without last bits.
fn real(value: f64) -> String {
    let text = format!("{value:.9}");
    let short = text.trim_end_matches('0');
    let short = if short.ends_with('.') {
        format!("{short}0")
    } else {
        short.to_owned()
    };
    if short == "-0.0" { "0.0".into() } else { short }
}

/// Text in the letters of the file: others by their number, and none that would be read as an order.
fn escaped(text: &str) -> String {
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

/// The faces as triangles, corners numbered from 1; a corner after which the edge lies within a flat
/// face is written below zero, which hides that edge.
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
                    .is_some_and(|&other| normal(&triangles[other]).dot(own) > 1.0 - 1e-9)
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
    fn numbers_have_a_point_and_no_last_bits() {
        for (value, text) in [
            (0.0, "0.0"),
            (-1e-12, "0.0"),
            (12.0, "12.0"),
            (-3.25, "-3.25"),
            (0.1 + 0.2, "0.3"),
        ] {
            assert_eq!(real(value), text);
        }
    }

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
