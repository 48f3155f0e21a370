//! A sheet for each drawing: its border and title, and a window on the model at a usual scale.

use super::file::{Anchor, File, Layer, Line, NOTHING, Shown, Tag};
use super::{Drawing, Part};
use crate::export::unit::FileUnit;
use crate::geom::DVec2;
use crate::measure::Units;
use crate::sheet::paper::{HEAD, MARGIN, Paper, SMALL};
use crate::sheet::{Area, View};

/// Height of the title's strip, inches of paper.
const STRIP: f64 = 0.5;
/// The tag of what belongs to no stick.
fn tag<'a>(layer: &'a str, name: &'a str) -> Tag<'a> {
    Tag { layer, name, stick: None }
}

/// Air around the drawing, and between the border and the title's words.
const AIR: f64 = 0.15;

/// The title of the sheet that shows all drawings.
const ALL: &str = "All drawings";

/// The layers of every sheet's lines and of its windows: a program without layouts may show them among the drawings, and
/// one layer is quickly hidden.
const SHEET: &str = "SHEET";
const WINDOW: &str = "SHEET-WINDOW";

impl Drawing<'_> {
    /// The sheet on which all drawings are shown, without lines or words of its own.
    pub(super) fn first_sheet(&mut self) -> usize {
        let size = self.sheet_size().0;
        self.file.paper(ALL, size)
    }

    /// Shows on the first sheet what is drawn by now.
    pub(super) fn show_all(&mut self, number: usize) {
        let sheet = Area::new(DVec2::ZERO, self.sheet_size().0);
        let whole = Area::new(self.file.low, self.file.high);
        let layer = self.sheet_layer(WINDOW);
        let units = self.unit.writing().units;
        self.file.on_paper(number, |file| {
            windows(file, layer, ALL, (sheet, sheet.inside(MARGIN)), whole, units);
        });
    }

    /// Puts the drawing that was made last on a sheet.
    pub(super) fn put_on_paper(&mut self, part: Part) {
        let own = std::mem::replace(&mut self.file.own, NOTHING);
        if own.low.x > own.high.x {
            return;
        }
        let (size, words) = self.sheet_size();
        let sheet = Area::new(DVec2::ZERO, size);
        let border = sheet.inside(MARGIN);
        let (room, strip) = border.split_top(border.size().y - STRIP);
        let lines = self.sheet_layer(SHEET);
        let glass = self.sheet_layer(WINDOW);
        let job = self.sticks.plan.rafter.name.clone().unwrap_or_default();
        let title = part.words();
        let title = if job.is_empty() { title.to_owned() } else { format!("{job}: {title}") };
        let units = self.unit.writing().units;
        let number = self.file.paper(part.words(), size);
        self.file.on_paper(number, |file| {
            let view = windows(file, glass, part.name(), (sheet, room.inside(AIR)), own, units);
            let name = |what: &str| format!("sheet {} {what}", part.name());
            file.outline(tag(lines, &name("border")), &border.corners());
            let rule = [strip.low, strip.high].map(|end| DVec2::new(end.x, strip.high.y));
            file.line(tag(lines, &name("rule")), rule[0], rule[1]);
            let scale = format!("scale {} on {words}", view.words(units));
            let mut at = strip.low + DVec2::new(AIR, STRIP - 0.06);
            for (number, (height, text)) in [(HEAD, title), (SMALL, scale)].iter().enumerate() {
                at.y -= height + 0.06;
                let name = name(&format!("text {number}"));
                file.text(tag(lines, &name), at, *height, 0.0, Anchor::Left, text);
            }
        });
    }

    /// Width and height of every sheet, inches, and their words.
    fn sheet_size(&self) -> (DVec2, &'static str) {
        let (paper, words) = match self.unit {
            FileUnit::Inch => (Paper::Tabloid, "11 x 17 in"),
            FileUnit::Millimeter => (Paper::A3, "420 x 297 mm"),
        };
        (DVec2::new(paper.size().y, paper.size().x), words)
    }

    fn sheet_layer(&mut self, name: &'static str) -> &'static str {
        self.file.layer(Layer {
            name: name.to_owned(),
            color: 7,
            line: Line::Continuous,
            weight: 25,
            shown: Shown::Yes,
        });
        name
    }
}

/// The two windows of a sheet: on the paper itself, and on what is drawn within `own`, at the largest usual scale at which
/// that fits `room`.
fn windows(
    file: &mut File,
    layer: &str,
    name: &str,
    (sheet, room): (Area, Area),
    own: Area,
    units: Units,
) -> View {
    let view = View::fitting(own.low, own.high, room, units);
    let shown = Area::new(view.place(own.low).max(room.low), view.place(own.high).min(room.high));
    let middle = (shown.middle() - view.origin) / view.scale;
    let named = |what: &str| format!("sheet {name} {what}");
    file.viewport(tag(layer, &named("whole")), 1, sheet, (sheet.middle(), 1.0));
    file.viewport(tag(layer, &named("window")), 2, shown, (middle, view.scale));
    view
}
