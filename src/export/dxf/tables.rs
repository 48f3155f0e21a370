//! What every file has around its entities: header and tables.

use super::file::{File, Layer, Line, Shown};
use super::groups::{APPLICATION, group, hex, real, section};
use super::handle;
use super::measured::{LETTERS_IN, OVER_IN, TICK_IN};
use super::space::Paper;
use crate::export::unit::FileUnit;
use crate::geom::DVec2;

impl File {
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
        section(&mut text, "BLOCKS", |text| self.block_list(text));
        section(&mut text, "ENTITIES", |text| {
            text.push_str(&self.entities);
            // the paper that is shown first is among the entities, the others are blocks
            text.extend(self.papers.first().map(|paper| paper.entities.as_str()));
        });
        section(&mut text, "OBJECTS", |text| self.objects(text));
        group(&mut text, 0, "EOF");
        // western letters are one byte each; escaping has removed all others
        text.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap_or(b'?')).collect()
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
            // above every handle, so that later additions get new ones
            group(text, 5, "7FFFFFFF");
            whole(text, "$INSUNITS", 70, units);
            whole(text, "$MEASUREMENT", 70, metric);
            whole(text, "$LUNITS", 70, if metric == 1 { 2 } else { 4 });
            whole(text, "$LUPREC", 70, 4);
            group(text, 9, "$LTSCALE");
            group(text, 40, real(1.0));
            corner(text, "$EXTMIN", self.low);
            corner(text, "$EXTMAX", self.high);
            // for programs that draw dimensions anew
            for (name, value) in self.dimension_sizes() {
                group(text, 9, format!("$DIM{name}"));
                group(text, 40, real(value));
            }
            for (name, value) in self.dimension_words() {
                whole(text, &format!("$DIM{name}"), 70, value);
            }
        });
    }

    fn tables(&self, text: &mut String, layers: &[u32]) {
        let mut small = handle::SMALL_THINGS;
        let mut next = || {
            small += 1;
            small
        };
        self.viewports(text, &mut next);
        self.line_types(text, &mut next);
        self.layer_table(text, layers, &mut next);
        let style = self.styles(text, &mut next);
        for (name, handle) in [("VIEW", handle::VIEWS), ("UCS", handle::COORDINATE_SYSTEMS)] {
            table(text, name, handle, 0);
            group(text, 0, "ENDTAB");
        }

        table(text, "APPID", handle::APPLICATIONS, 2);
        for name in ["ACAD", APPLICATION] {
            record(text, "APPID", next(), handle::APPLICATIONS, "AcDbRegAppTableRecord", name);
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
        let codes = [40, 41, 42, 44, 140, 142, 147];
        for (code, (_, value)) in codes.into_iter().zip(self.dimension_sizes()) {
            group(text, code, real(value));
        }
        for (code, (_, value)) in [73, 74, 77, 271, 277].into_iter().zip(self.dimension_words()) {
            group(text, code, value);
        }
        group(text, 340, hex(style));
        group(text, 0, "ENDTAB");

        let spaces = self.spaces();
        let count = spaces.len() + self.blocks.len();
        table(text, "BLOCK_RECORD", handle::BLOCK_RECORDS, count);
        let mut block_record = |handle: u32, name: &str, layout: u32| {
            let (kind, class) = ("BLOCK_RECORD", "AcDbBlockTableRecord");
            record(text, kind, handle, handle::BLOCK_RECORDS, class, name);
            group(text, 340, hex(layout));
        };
        for (name, handle) in &spaces {
            block_record(*handle, name, handle + handle::LAYOUT);
        }
        for block in &self.blocks {
            block_record(block.handles[0], &block.name, 0);
        }
        group(text, 0, "ENDTAB");
    }

    fn viewports(&self, text: &mut String, next: &mut impl FnMut() -> u32) {
        let factor = self.unit.in_an_inch();
        table(text, "VPORT", handle::VIEWPORTS, 1);
        record(text, "VPORT", next(), handle::VIEWPORTS, "AcDbViewportTableRecord", "*Active");
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
    }

    fn line_types(&self, text: &mut String, next: &mut impl FnMut() -> u32) {
        let factor = self.unit.in_an_inch();
        table(text, "LTYPE", handle::LINE_TYPES, 4);
        for name in ["ByBlock", "ByLayer", "Continuous"] {
            line_type(text, next(), name, "", &[]);
        }
        let dashes = [4.0 * factor, -2.0 * factor];
        line_type(text, next(), "DASHED", "__ __ __", &dashes);
        group(text, 0, "ENDTAB");
    }

    fn layer_table(&self, text: &mut String, layers: &[u32], next: &mut impl FnMut() -> u32) {
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
    }

    /// The letters; gives their handle.
    fn styles(&self, text: &mut String, next: &mut impl FnMut() -> u32) -> u32 {
        let factor = self.unit.in_an_inch();
        let style = next();
        table(text, "STYLE", handle::STYLES, 1);
        record(text, "STYLE", style, handle::STYLES, "AcDbTextStyleTableRecord", "Standard");
        for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
            group(text, code, real(value));
        }
        group(text, 71, 0);
        group(text, 42, real(2.5 * factor));
        group(text, 3, "txt");
        group(text, 4, "");
        group(text, 0, "ENDTAB");
        style
    }

    /// How large the parts of a dimension are: scale, arrow, gap at the work, reach past the line, letters, slash, gap at the
    /// text.
    fn dimension_sizes(&self) -> [(&'static str, f64); 7] {
        let factor = self.unit.in_an_inch();
        [
            ("SCALE", 1.0),
            ("ASZ", TICK_IN * factor),
            ("EXO", OVER_IN * factor),
            ("EXE", OVER_IN * factor),
            ("TXT", LETTERS_IN * factor),
            ("TSZ", TICK_IN * factor),
            ("GAP", 0.4 * LETTERS_IN * factor),
        ]
    }

    /// Texts lie along their line and over it; lengths to a sixteenth in feet and inches, or to a millimeter.
    fn dimension_words(&self) -> [(&'static str, i64); 5] {
        let (decimals, form) = match self.unit {
            FileUnit::Inch => (4, 4),
            FileUnit::Millimeter => (0, 2),
        };
        [("TIH", 0), ("TOH", 0), ("TAD", 1), ("DEC", decimals), ("LUNIT", form)]
    }

    /// Names and handles of the model and of every paper.
    pub(super) fn spaces(&self) -> Vec<(String, u32)> {
        let papers = (0..self.papers.len()).map(|at| (Paper::block(at), Paper::record(at)));
        let model = ("*Model_Space".to_owned(), handle::MODEL_RECORD);
        std::iter::once(model).chain(papers).collect()
    }
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
    record(text, "LTYPE", handle, handle::LINE_TYPES, "AcDbLinetypeTableRecord", name);
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
