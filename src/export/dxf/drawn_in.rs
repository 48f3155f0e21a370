//! Drawing in blocks and on paper, and the windows of a paper on the model.

use super::file::{File, Tag};
use super::groups::{group, real};
use super::handle;
use super::space::{Block, Paper, Space};
use crate::geom::DVec2;
use crate::sheet::Area;

impl File {
    /// The text that entities are added to.
    pub(super) fn written(&mut self) -> &mut String {
        match self.space {
            Space::Model => &mut self.entities,
            Space::Block(number) => &mut self.blocks[number].entities,
            Space::Paper(number) => &mut self.papers[number].entities,
        }
    }

    /// The record that owns them.
    pub(super) fn owner(&self) -> u32 {
        match self.space {
            Space::Model => handle::MODEL_RECORD,
            Space::Block(number) => self.blocks[number].handles[0],
            Space::Paper(number) => Paper::record(number),
        }
    }

    /// Adds a block for what `tag` names, and draws in it; gives the block's name.
    pub(super) fn block(&mut self, tag: Tag<'_>, draw: impl FnOnce(&mut File)) -> String {
        let name = format!("*D{}", self.blocks.len() + 1);
        let handles = ["record", "begin", "finish"]
            .map(|part| self.handle(&format!("{} block {part}", tag.name)));
        self.blocks.push(Block { name: name.clone(), handles, entities: String::new() });
        let before = std::mem::replace(&mut self.space, Space::Block(self.blocks.len() - 1));
        draw(self);
        self.space = before;
        name
    }

    /// Adds a layout; gives its number. The first is the one that is shown first.
    pub(super) fn paper(&mut self, name: &str, size: DVec2) -> usize {
        self.papers.push(Paper { name: name.to_owned(), size, entities: String::new() });
        self.papers.len() - 1
    }

    /// Draws on the paper of a layout.
    pub(super) fn on_paper(&mut self, number: usize, draw: impl FnOnce(&mut File)) {
        let before = std::mem::replace(&mut self.space, Space::Paper(number));
        draw(self);
        self.space = before;
    }

    /// A window on the paper, `window`, that shows the model around `middle` at `scale`, inches of paper for an inch of
    /// work. The first of a paper shows the paper itself.
    pub(super) fn viewport(&mut self, tag: Tag<'_>, number: u8, window: Area, view: (DVec2, f64)) {
        let (middle, scale) = view;
        let size = window.size();
        self.begin("VIEWPORT", tag);
        self.code(100, "AcDbViewport");
        self.point(10, window.middle().extend(0.0));
        let factor = self.unit.in_an_inch();
        self.real(40, size.x * factor);
        self.real(41, size.y * factor);
        self.code(68, number); // shown, in this order
        self.code(69, number);
        let flat = |file: &mut File, code: u16, at: DVec2| {
            file.real(code, at.x);
            file.real(code + 10, at.y);
        };
        flat(self, 12, middle * factor);
        flat(self, 13, DVec2::ZERO);
        flat(self, 14, DVec2::splat(factor));
        flat(self, 15, DVec2::splat(factor));
        let written = self.written();
        // looked at from above, straight down
        for (code, part) in [(16, 0.0), (26, 0.0), (36, 1.0), (17, 0.0), (27, 0.0), (37, 0.0)] {
            group(written, code, real(part));
        }
        for (code, part) in [(42, 50.0), (43, 0.0), (44, 0.0)] {
            self.real(code, part);
        }
        self.real(45, size.y / scale * factor);
        self.real(50, 0.0);
        self.real(51, 0.0);
        self.code(72, 1000);
        // locked: its scale is that of the sheet
        self.code(90, if number == 1 { 32768 } else { 32768 | 16384 });
        self.code(1, "");
        self.code(281, 0);
        self.code(71, 1);
        self.code(74, 0);
        for (code, part) in [
            (110, 0.0),
            (120, 0.0),
            (130, 0.0),
            (111, 1.0),
            (121, 0.0),
            (131, 0.0),
            (112, 0.0),
            (122, 1.0),
            (132, 0.0),
        ] {
            self.real(code, part);
        }
        self.code(79, 0);
        self.real(146, 0.0);
        self.end(tag);
    }
}
