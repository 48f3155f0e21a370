//! Dimensions and hatches: what a drawing says of the work besides its lines.

use super::file::{Anchor, File, Tag, escaped};
use crate::geom::DVec2;

/// Height of a dimension's letters, inches at full size.
pub(super) const LETTERS_IN: f64 = 3.0;
/// Half of the slash at its ends, and how far the lines beside it stand off and reach past it.
pub(super) const TICK_IN: f64 = 1.0;
pub(super) const OVER_IN: f64 = 1.5;

/// From one line of a hatch to the next, inches at full size.
const HATCH_IN: f64 = 0.75;

/// A distance of two points with its words, as it is drawn.
pub(super) struct Dimension<'a> {
    /// One point.
    pub(super) from: DVec2,
    /// The other.
    pub(super) to: DVec2,
    /// The second end of the dimension line.
    pub(super) end: DVec2,
    /// Every line that it is drawn with.
    pub(super) lines: [(DVec2, DVec2); 5],
    /// The middle of its text.
    pub(super) middle: DVec2,
    /// True if that is not where a drawing program would put it by itself.
    pub(super) moved: bool,
    /// The turn of its text, degrees.
    pub(super) turn: f64,
    /// What it says.
    pub(super) text: &'a str,
}

impl File {
    /// A dimension, with the block of lines and text that it is drawn with: a program that draws blocks shows it as it is
    /// here.
    pub(super) fn dimension(&mut self, tag: Tag<'_>, dimension: &Dimension<'_>) {
        let Dimension { from, to, end, lines, middle, moved, turn, text } = *dimension;
        let block = self.block(tag, |file| {
            for (number, (start, end)) in lines.into_iter().enumerate() {
                let name = format!("{} {number}", tag.name);
                file.line(Tag { name: &name, ..tag }, start, end);
            }
            let name = format!("{} text", tag.name);
            let tag = Tag { name: &name, ..tag };
            file.text(tag, middle, LETTERS_IN, turn, Anchor::Middle, text);
        });
        self.begin("DIMENSION", tag);
        self.code(100, "AcDbDimension");
        self.code(2, block);
        self.point(10, end.extend(0.0));
        self.point(11, middle.extend(0.0));
        // along the two points, with a block of its own, and where its text stands
        self.code(70, 1 | 32 | if moved { 128 } else { 0 });
        self.code(1, escaped(text));
        self.code(71, 5); // its text is placed by its middle
        self.real(42, from.distance(to) * self.unit.in_an_inch());
        self.code(3, "Standard");
        self.code(100, "AcDbAlignedDimension");
        self.point(13, from.extend(0.0));
        self.point(14, to.extend(0.0));
        self.end(tag);
    }

    /// Cut wood: the inside of a closed line, hatched at 45 degrees one way or, `mirrored`, the other.
    pub(super) fn hatch(&mut self, tag: Tag<'_>, ring: &[DVec2], mirrored: bool) {
        let factor = self.unit.in_an_inch();
        self.begin("HATCH", tag);
        self.code(100, "AcDbHatch");
        for code in [10, 20, 30, 210, 220] {
            self.real(code, 0.0);
        }
        self.real(230, 1.0);
        self.code(2, "ANSI31");
        self.code(70, 0); // lines, not solid
        self.code(71, 0); // by itself
        self.code(91, 1);
        self.code(92, 3); // the outer border, as a line through points
        self.code(72, 0);
        self.code(73, 1);
        self.code(93, ring.len());
        for corner in ring {
            self.real(10, corner.x * factor);
            self.real(20, corner.y * factor);
        }
        self.code(97, 0);
        self.code(75, 0);
        self.code(76, 1);
        // the pattern's own lines are an eighth of an inch apart at 45 degrees, or as many millimeters
        let turn = if mirrored { 90.0 } else { 0.0 };
        self.real(52, turn);
        self.real(41, HATCH_IN * 8.0);
        self.code(77, 0);
        self.code(78, 1);
        let angle: f64 = 45.0 + turn;
        let step = DVec2::from_angle(angle.to_radians()).perp() * HATCH_IN * factor;
        for (code, value) in [(53, angle), (43, 0.0), (44, 0.0), (45, step.x), (46, step.y)] {
            self.real(code, value);
        }
        self.code(79, 0);
        self.code(98, 1);
        let middle = ring.iter().sum::<DVec2>() / ring.len().max(1) as f64 * factor;
        self.real(10, middle.x);
        self.real(20, middle.y);
        self.end(tag);
    }
}
