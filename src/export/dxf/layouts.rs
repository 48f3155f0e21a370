//! Blocks, and the sheets of paper on which a drawing program shows and plots the model.

use super::file::File;
use super::groups::{group, hex, real};
use super::handle;
use super::space::Paper;
use crate::export::unit::FileUnit;
use crate::geom::DVec2;
use crate::sheet::Area;

/// Millimeters in an inch: a layout's paper is told in millimeters whatever the unit.
const MILLIMETERS: f64 = 25.4;

impl File {
    /// Every block with what is in it.
    pub(super) fn block_list(&self, text: &mut String) {
        for (number, (name, record)) in self.spaces().into_iter().enumerate() {
            let ends = [record, record + handle::BEGIN, record + handle::END];
            let paper = number.checked_sub(1).map(|at| (at, &self.papers[at]));
            let entities = match paper {
                Some((at, paper)) if at > 0 => paper.entities.as_str(),
                _ => "",
            };
            block(text, &name, ends, (u8::from(paper.is_some()), 0), entities);
        }
        for one in &self.blocks {
            block(text, &one.name, one.handles, (0, 1), &one.entities);
        }
    }

    /// The layouts and where they are listed.
    pub(super) fn objects(&self, text: &mut String) {
        dictionary(
            text,
            handle::ROOT,
            0,
            &[("ACAD_GROUP", handle::GROUPS), ("ACAD_LAYOUT", handle::LAYOUTS)],
        );
        dictionary(text, handle::GROUPS, handle::ROOT, &[]);
        let mut listed = vec![("Model", handle::MODEL_RECORD + handle::LAYOUT)];
        let papers = self.papers.iter().enumerate();
        listed.extend(
            papers.map(|(at, paper)| (paper.name.as_str(), Paper::record(at) + handle::LAYOUT)),
        );
        dictionary(text, handle::LAYOUTS, handle::ROOT, &listed);
        let model = Area::new(self.low, self.high);
        self.layout(text, "Model", handle::MODEL_RECORD, 0, model);
        for (at, paper) in self.papers.iter().enumerate() {
            let whole = Area::new(DVec2::ZERO, paper.size);
            self.layout(text, &paper.name, Paper::record(at), at + 1, whole);
        }
    }

    fn layout(&self, text: &mut String, name: &str, record: u32, order: usize, area: Area) {
        let factor = self.unit.in_an_inch();
        let is_model = order == 0;
        group(text, 0, "LAYOUT");
        group(text, 5, hex(record + handle::LAYOUT));
        group(text, 330, hex(handle::LAYOUTS));
        group(text, 100, "AcDbPlotSettings");
        for code in [1, 2, 4, 6] {
            group(text, code, "");
        }
        let paper = if is_model { DVec2::ZERO } else { area.size() * MILLIMETERS };
        for code in (40..=49).chain([140, 141]) {
            let size = match code {
                44 => paper.x,
                45 => paper.y,
                _ => 0.0,
            };
            group(text, code, real(size));
        }
        for (code, value) in [(142, 1.0), (143, 1.0)] {
            group(text, code, real(value));
        }
        // the model tab is marked as such
        group(text, 70, if is_model { 1024 } else { 0 });
        let metric = self.unit == FileUnit::Millimeter;
        group(text, 72, u8::from(metric && !is_model));
        group(text, 73, 0);
        // a layout is plotted whole, at its own size
        group(text, 74, if is_model { 0 } else { 5 });
        group(text, 7, "");
        group(text, 75, if is_model { 0 } else { 16 });
        for (code, value) in [(147, 1.0), (148, 0.0), (149, 0.0)] {
            group(text, code, real(value));
        }
        group(text, 100, "AcDbLayout");
        group(text, 1, name);
        group(text, 70, 1);
        group(text, 71, order);
        let (low, high) = (area.low * factor, area.high * factor);
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
        group(text, 330, hex(record));
    }
}

/// A block between its beginning and its end; `kind` says whether it is a paper, and whether its name is made up.
fn block(text: &mut String, name: &str, handles: [u32; 3], kind: (u8, u8), entities: &str) {
    let [record, begin, end] = handles;
    let (paper, nameless) = kind;
    let part = |text: &mut String, kind: &str, handle: u32, class: &str| {
        group(text, 0, kind);
        group(text, 5, hex(handle));
        group(text, 330, hex(record));
        group(text, 100, "AcDbEntity");
        if paper == 1 {
            group(text, 67, 1);
        }
        group(text, 8, "0");
        group(text, 100, class);
    };
    part(text, "BLOCK", begin, "AcDbBlockBegin");
    group(text, 2, name);
    group(text, 70, nameless);
    for code in [10, 20, 30] {
        group(text, code, real(0.0));
    }
    group(text, 3, name);
    group(text, 1, "");
    text.push_str(entities);
    part(text, "ENDBLK", end, "AcDbBlockEnd");
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
