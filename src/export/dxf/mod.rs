//! The frame as a drawing exchange file (DXF): framing plan, building section and pattern rafter side
//! by side at full size, each on a sheet of its own at scale, and every stick in space.

mod draw;
mod drawn_in;
mod file;
mod groups;
mod handle;
mod label;
mod layouts;
mod measured;
mod placed;
mod section;
mod sheets;
mod space;
mod tables;
mod view;

use super::unit::FileUnit;
use crate::frame::{Kind, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::inches;
use crate::measure::tolerance::HAIR;
use file::{Anchor, File, Layer, Line, Shown, Tag};
use label::text_length;
use measured::{Dimension, LETTERS_IN, OVER_IN, TICK_IN};

/// Heights of letters, inches at full size.
const MARK_IN: f64 = 2.5;
const TITLE_IN: f64 = 5.0;

/// Room between the drawings, inches.
const BETWEEN_IN: f64 = 72.0;

/// How far beside its pair the section shows other sticks, inches: joists and ties are beside rafters.
const SLAB_IN: f64 = 5.0;

/// The frame as a DXF file, release 2000.
///
/// The plan is at the place of the roof (x along the ridge, y across it, from the near end and eave A).
/// The section across the main ridge and the pattern rafter are to its right. Layers are named by drawing and
/// kind of member. The sticks in space use the same origin, on layers that are frozen at first. Each drawing has a layout
/// that shows it at a usual scale, after one that shows them all.
#[must_use]
pub fn write(sticks: Sticks<'_>, unit: FileUnit) -> Vec<u8> {
    let mut drawing = Drawing { sticks, file: File::new(unit), unit };
    let all = drawing.first_sheet();
    let mut next = drawing.plan();
    drawing.put_on_paper(Part::Plan);
    next = drawing.section(next);
    drawing.put_on_paper(Part::Section);
    drawing.pattern(DVec2::new(next, 0.0));
    drawing.put_on_paper(Part::Pattern);
    drawing.show_all(all);
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

    /// What its sheet is called.
    fn words(self) -> &'static str {
        match self {
            Part::Plan => "Framing plan",
            Part::Section => "Building section",
            Part::Pattern => "Pattern rafter",
            Part::Solid => "Frame",
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
const CUT: &str = "CUT";

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
            color: if [DIMENSIONS, CUT].contains(&what) { 8 } else { 7 },
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
            let height = if number == 0 { TITLE_IN } else { LETTERS_IN };
            let drop =
                if number == 0 { 0.0 } else { TITLE_IN * 0.4 + LETTERS_IN * 1.8 * number as f64 };
            let tag = Tag { layer: &layer, name: &format!("{layer} {number}"), stick: None };
            self.file.text(tag, at - DVec2::Y * drop, height, 0.0, Anchor::Left, text);
        }
    }

    /// A length between two points, drawn `away` from them to the left of the way from one to the
    /// other.
    fn dimension(&mut self, part: Part, name: &str, from: DVec2, to: DVec2, away: f64, text: &str) {
        let layer = self.note_layer(part, DIMENSIONS);
        let along = (to - from).normalize_or(DVec2::X);
        let aside = along.perp();
        let (a, b) = (from + aside * away, to + aside * away);
        let past = aside * (away.signum() * OVER_IN);
        let tick = (along + aside) * TICK_IN;
        // read from below or from the right
        let turn = upright(along);
        let above = DVec2::from_angle(turn).perp() * (LETTERS_IN * 0.9);
        let needs = text_length(text, LETTERS_IN);
        // a text without room between the ends goes past them, on the line
        let moved = from.distance(to) < needs + LETTERS_IN;
        let middle =
            if moved { b + along * (needs / 2.0 + LETTERS_IN) } else { (a + b) / 2.0 + above };
        let tag = Tag { layer: &layer, name: &format!("{layer} {name}"), stick: None };
        let lines = [
            (a, b),
            (from + past, a + past),
            (to + past, b + past),
            (a - tick, a + tick),
            (b - tick, b + tick),
        ];
        let turn = turn.to_degrees();
        self.file.dimension(tag, &Dimension { from, to, end: b, lines, middle, moved, turn, text });
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
