//! The frame as a drawing exchange file (DXF): framing plan, building section and pattern rafter side
//! by side at full size, and every stick in space.

mod draw;
mod file;
mod groups;
mod handle;
mod label;
mod placed;
mod tables;
mod view;

use super::unit::FileUnit;
use crate::frame::{Kind, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use file::{Anchor, File, Layer, Line, Shown, Tag};
use label::text_length;

/// Heights of letters, inches at full size.
const MARK_IN: f64 = 2.5;
const DIMENSION_IN: f64 = 3.0;
const TITLE_IN: f64 = 5.0;

/// Room between the drawings, inches.
const BETWEEN_IN: f64 = 72.0;

/// How far beside its pair the section shows other sticks, inches: joists and ties are beside rafters.
const SLAB_IN: f64 = 5.0;

/// The frame as a DXF file, release 2000.
///
/// The plan is at the place of the roof (x along the ridge, y across it, from the near end and eave A).
/// The section across the ridge, if the roof is one gable, and the pattern rafter are to its right. Layers are named by drawing and
/// kind of member. The sticks in space use the same origin, on layers that are frozen at first.
#[must_use]
pub fn write(sticks: Sticks<'_>, unit: FileUnit) -> Vec<u8> {
    let mut drawing = Drawing { sticks, file: File::new(unit), unit };
    let mut next = drawing.plan();
    if let Some(frame) = sticks.gable {
        let site = &frame.site;
        let over = site.tail.max(0.0) + frame.plan.rafter.boards().inches();
        next += over;
        drawing.section(frame, DVec2::new(next, 0.0));
        next += site.span + over + BETWEEN_IN;
    }
    drawing.pattern(DVec2::new(next, 0.0));
    drawing.solids();
    drawing.file.finish()
}

/// The drawings of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Plan,
    Section,
    Pattern,
    Solid,
}

impl Part {
    fn name(self) -> &'static str {
        match self {
            Part::Plan => "PLAN",
            Part::Section => "SECTION",
            Part::Pattern => "PATTERN",
            Part::Solid => "SOLID",
        }
    }

    fn layer(self, what: &str) -> String {
        format!("{}-{what}", self.name())
    }
}

/// What is drawn besides the sticks, each on its own layer in every drawing.
const MARKS: &str = "MARKS";
const DIMENSIONS: &str = "DIMENSIONS";
const TITLE: &str = "TITLE";
const WALLS: &str = "WALLS";

struct Drawing<'a> {
    sticks: Sticks<'a>,
    file: File,
    unit: FileUnit,
}

impl Drawing<'_> {
    fn length(&self, length_in: f64) -> String {
        self.unit.writing().length(inches(length_in))
    }

    /// The layer of a kind of member in one drawing.
    fn kind_layer(&mut self, part: Part, kind: Kind) -> String {
        let name = part.layer(kind.name());
        // from above, sticks under the rafters are dashed
        let under =
            matches!(kind, Kind::Joists | Kind::Ties | Kind::Gables | Kind::Soffit | Kind::Plates);
        let bold = matches!(kind, Kind::Rafters | Kind::Ridge);
        self.file.layer(Layer {
            name: name.clone(),
            color: match kind {
                Kind::Rafters | Kind::Ridge => 7,
                Kind::Joists => 3,
                Kind::Ties => 1,
                Kind::Gables => 4,
                Kind::Rakes => 30,
                Kind::Blocking => 8,
                Kind::Fascia => 5,
                Kind::Soffit => 6,
                Kind::Plates => 9,
            },
            line: if part == Part::Plan && under { Line::Dashed } else { Line::Continuous },
            weight: if bold { 35 } else { 18 },
            shown: if part == Part::Solid { Shown::Frozen } else { Shown::Yes },
        });
        name
    }

    fn note_layer(&mut self, part: Part, what: &str) -> String {
        let name = part.layer(what);
        self.file.layer(Layer {
            name: name.clone(),
            color: if what == DIMENSIONS { 8 } else { 7 },
            line: Line::Continuous,
            weight: 13,
            shown: Shown::Yes,
        });
        name
    }

    fn title(&mut self, part: Part, at: DVec2, lines: &[String]) {
        let layer = self.note_layer(part, TITLE);
        let job = self.sticks.plan.rafter.name.clone();
        let texts = job.iter().chain(lines);
        for (number, text) in texts.enumerate() {
            let height = if number == 0 { TITLE_IN } else { DIMENSION_IN };
            let drop =
                if number == 0 { 0.0 } else { TITLE_IN * 0.4 + DIMENSION_IN * 1.8 * number as f64 };
            let tag = Tag { layer: &layer, name: &format!("{layer} {number}"), stick: None };
            self.file.text(tag, at - DVec2::Y * drop, height, 0.0, Anchor::Left, text);
        }
    }

    /// A length between two points, drawn `away` from them to the left of the way from one to the
    /// other, with lines and letters only.
    fn dimension(&mut self, part: Part, name: &str, from: DVec2, to: DVec2, away: f64, text: &str) {
        let layer = self.note_layer(part, DIMENSIONS);
        let along = (to - from).normalize_or(DVec2::X);
        let aside = along.perp();
        let (a, b) = (from + aside * away, to + aside * away);
        let past = aside * (away.signum() * MARK_IN * 0.6);
        let tick = (along + aside) * (MARK_IN * 0.4);
        let lines = [
            (a, b),
            (from + past, a + past),
            (to + past, b + past),
            (a - tick, a + tick),
            (b - tick, b + tick),
        ];
        for (number, (start, end)) in lines.into_iter().enumerate() {
            let tag = Tag { layer: &layer, name: &format!("{layer} {name} {number}"), stick: None };
            self.file.line(tag, start, end);
        }
        // read from below or from the right
        let turn = upright(along);
        let above = DVec2::from_angle(turn).perp() * (DIMENSION_IN * 0.9);
        let needs = text_length(text, DIMENSION_IN);
        // a text without room between the ends goes past them, on the line
        let middle = if from.distance(to) < needs + DIMENSION_IN {
            b + along * (needs / 2.0 + DIMENSION_IN)
        } else {
            (a + b) / 2.0 + above
        };
        let tag = Tag { layer: &layer, name: &format!("{layer} {name}"), stick: None };
        self.file.text(tag, middle, DIMENSION_IN, turn.to_degrees(), Anchor::Middle, text);
    }
}

/// The angle of a text along a line, so that it is read from below or from the right, radians.
fn upright(along: DVec2) -> f64 {
    let turn = along.to_angle();
    let half = std::f64::consts::FRAC_PI_2;
    if turn > half + HAIR {
        turn - 2.0 * half
    } else if turn <= -half + HAIR {
        turn + 2.0 * half
    } else {
        turn
    }
}
