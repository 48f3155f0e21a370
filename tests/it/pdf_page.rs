//! Reads the pages of a PDF back: every text in its place, every line as drawn.
//!
//! Understands what the program's own writer makes (ISO 32000: paths, the state of graphics, text in
//! composite fonts with `ToUnicode`), and stops the test at anything else.

use std::collections::BTreeMap;

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Encoding, Object};
use stepoff::geom::DVec2;

/// Points in an inch.
const POINTS: f64 = 72.0;

/// A text on a page.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Words {
    /// The left end of its base line, inches from the lower left corner of the page.
    pub(crate) at: DVec2,
    /// Turn of the base line, degrees counterclockwise.
    pub(crate) turn: f64,
    /// Size of the letters, points.
    pub(crate) size: f64,
    /// The words, by `ToUnicode`.
    pub(crate) text: String,
}

/// A line that is drawn on a page.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stroke {
    /// Its corners, inches; a closed line ends where it began. Curves are reduced to their ends.
    pub(crate) points: Vec<DVec2>,
    /// Width, inches.
    pub(crate) width: f64,
    /// True if it is dashed.
    pub(crate) dashed: bool,
}

/// A page read back.
#[derive(Debug, Clone, Default)]
pub(crate) struct PdfPage {
    /// Width and height, inches.
    pub(crate) size: DVec2,
    /// Its texts, as they were drawn.
    pub(crate) words: Vec<Words>,
    /// Its lines, as they were drawn.
    pub(crate) strokes: Vec<Stroke>,
}

impl PdfPage {
    /// All of its texts, one a line, as they were drawn.
    pub(crate) fn text(&self) -> String {
        let texts: Vec<&str> = self.words.iter().map(|words| words.text.as_str()).collect();
        texts.join("\n")
    }

    /// True if one of its texts contains these words.
    pub(crate) fn says(&self, words: &str) -> bool {
        self.words.iter().any(|one| one.text.contains(words))
    }

    /// Every straight stretch of the lines drawn at this width, inches.
    pub(crate) fn stretches(&self, width: f64) -> Vec<[DVec2; 2]> {
        self.strokes
            .iter()
            .filter(|stroke| (stroke.width - width).abs() < 5e-4)
            .flat_map(|stroke| stroke.points.windows(2).map(|pair| [pair[0], pair[1]]))
            .collect()
    }
}

/// The pages of a PDF.
#[track_caller]
pub(crate) fn pages(bytes: &[u8]) -> Vec<PdfPage> {
    let document = Document::load_mem(bytes).unwrap();
    document
        .page_iter()
        .map(|id| {
            let page = document.get_dictionary(id).unwrap();
            let mut reader = Reader::of(&document, id);
            reader.page.size = size(&document, page);
            let content = Content::decode(&document.get_page_content(id)).unwrap();
            content.operations.iter().for_each(|one| reader.step(one));
            reader.page
        })
        .collect()
}

fn size(document: &Document, page: &Dictionary) -> DVec2 {
    let sides: Vec<f64> = page
        .get_deref(b"MediaBox", document)
        .and_then(Object::as_array)
        .unwrap()
        .iter()
        .map(number)
        .collect();
    DVec2::new(sides[2] - sides[0], sides[3] - sides[1]) / POINTS
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

/// An affine map as PDF writes it: x' = a x + c y + e, y' = b x + d y + f.
#[derive(Debug, Clone, Copy)]
struct Matrix {
    x: DVec2,
    y: DVec2,
    shift: DVec2,
}

impl Matrix {
    const SAME: Matrix = Matrix { x: DVec2::X, y: DVec2::Y, shift: DVec2::ZERO };

    fn read(six: &[f64]) -> Matrix {
        Matrix {
            x: DVec2::new(six[0], six[1]),
            y: DVec2::new(six[2], six[3]),
            shift: DVec2::new(six[4], six[5]),
        }
    }

    fn turn(&self, arm: DVec2) -> DVec2 {
        self.x * arm.x + self.y * arm.y
    }

    fn map(&self, point: DVec2) -> DVec2 {
        self.turn(point) + self.shift
    }

    /// This map first, then `next`.
    fn then(&self, next: &Matrix) -> Matrix {
        Matrix { x: next.turn(self.x), y: next.turn(self.y), shift: next.map(self.shift) }
    }
}

#[derive(Debug, Clone)]
struct State {
    map: Matrix,
    width: f64,
    dashed: bool,
    font: Vec<u8>,
    size: f64,
}

struct Reader<'a> {
    fonts: BTreeMap<Vec<u8>, Encoding<'a>>,
    page: PdfPage,
    state: State,
    kept: Vec<State>,
    text: Matrix,
    path: Vec<Vec<DVec2>>,
}

impl<'a> Reader<'a> {
    fn of(document: &'a Document, page: lopdf::ObjectId) -> Reader<'a> {
        let fonts = document
            .get_page_fonts(page)
            .unwrap()
            .into_iter()
            .map(|(name, font)| (name, font.get_font_encoding(document).unwrap()))
            .collect();
        Reader {
            fonts,
            page: PdfPage::default(),
            state: State {
                map: Matrix::SAME,
                width: 1.0,
                dashed: false,
                font: Vec::new(),
                size: 0.0,
            },
            kept: Vec::new(),
            text: Matrix::SAME,
            path: Vec::new(),
        }
    }

    fn step(&mut self, operation: &Operation) {
        let operands = &operation.operands;
        let figures = || operands.iter().map(number).collect::<Vec<f64>>();
        match operation.operator.as_str() {
            "q" => self.kept.push(self.state.clone()),
            "Q" => self.state = self.kept.pop().unwrap(),
            "cm" => self.state.map = Matrix::read(&figures()).then(&self.state.map),
            "w" => self.state.width = figures()[0],
            "d" => self.state.dashed = !operands[0].as_array().unwrap().is_empty(),
            "m" => {
                let start = self.point(&figures());
                self.path.push(vec![start]);
            }
            "l" => self.reach(&figures()),
            "c" => self.reach(&figures()[4..]),
            "v" | "y" => self.reach(&figures()[2..]),
            "h" => self.close(),
            "re" => {
                let [x, y, wide, high] = figures()[..] else {
                    panic!("a rectangle of four figures")
                };
                let corners = [[x, y], [x + wide, y], [x + wide, y + high], [x, y + high], [x, y]];
                self.path.push(corners.map(|at| self.point(&at)).to_vec());
            }
            "S" | "B" | "B*" => self.draw(),
            "s" | "b" | "b*" => {
                self.close();
                self.draw();
            }
            "f" | "F" | "f*" | "n" => self.path.clear(),
            "BT" => self.text = Matrix::SAME,
            "Tf" => {
                self.state.font = operands[0].as_name().unwrap().to_vec();
                self.state.size = number(&operands[1]);
            }
            "Tm" => self.text = Matrix::read(&figures()),
            "Tj" => self.say(&operands[..1]),
            "TJ" => self.say(operands[0].as_array().unwrap()),
            // colors, caps, joins, marked content: nothing that moves or shows anything
            "ET" | "W" | "W*" | "J" | "j" | "M" | "i" | "ri" | "gs" | "cs" | "CS" | "sc" | "SC"
            | "scn" | "SCN" | "g" | "G" | "rg" | "RG" | "k" | "K" | "BMC" | "BDC" | "EMC"
            | "Tr" => {}
            other => panic!("the operator {other} is not known here"),
        }
    }

    fn point(&self, pair: &[f64]) -> DVec2 {
        self.state.map.map(DVec2::new(pair[0], pair[1])) / POINTS
    }

    fn reach(&mut self, pair: &[f64]) {
        let point = self.point(pair);
        self.path.last_mut().unwrap().push(point);
    }

    fn close(&mut self) {
        let path = self.path.last_mut().unwrap();
        path.push(path[0]);
    }

    fn draw(&mut self) {
        let width = self.state.width * self.state.map.x.length() / POINTS;
        let dashed = self.state.dashed;
        let drawn = self.path.drain(..).map(|points| Stroke { points, width, dashed });
        self.page.strokes.extend(drawn);
    }

    fn say(&mut self, parts: &[Object]) {
        let encoding = &self.fonts[&self.state.font];
        let text: String = parts
            .iter()
            .filter_map(|part| part.as_str().ok())
            .map(|bytes| Document::decode_text(encoding, bytes).unwrap())
            .collect();
        let map = self.text.then(&self.state.map);
        let along = map.x;
        self.page.words.push(Words {
            at: map.shift / POINTS,
            turn: along.y.atan2(along.x).to_degrees(),
            size: self.state.size * along.length(),
            text,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use stepoff::sheet::paper::Page;
    use stepoff::sheet::{Anchor, Area, Drawing, Fill, Item, Pen, pdf};

    #[test]
    fn a_drawing_comes_back_as_it_was_written() {
        let mut drawing = Drawing::new(8.5, 11.0);
        drawing.text(DVec2::new(1.0, 2.0), "14' 5-1/16\" ≤ ½ × 90°", 0.1, Anchor::Start);
        drawing.bold(DVec2::new(3.0, 4.0), "Kestrel Yard", 0.2, Anchor::Start);
        drawing.dimension(DVec2::new(1.0, 1.0), DVec2::new(1.0, 3.5), 0.3, "7.5");
        drawing.line(vec![DVec2::new(1.0, 1.0), DVec2::new(4.0, 5.0)], Pen::Outline);
        let area = Area::new(DVec2::new(5.0, 5.0), DVec2::new(6.0, 7.0));
        drawing.outline(area.corners().to_vec(), Pen::Accent, Fill::Tint);
        let bytes = pdf::write("test", &[Page::drawn("one", drawing.clone())]).unwrap();
        let read = pages(&bytes);
        assert_eq!(read.len(), 1);
        let page = &read[0];
        assert!(page.size.distance(DVec2::new(8.5, 11.0)) < 1e-4);
        let texts: Vec<&str> = drawing
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text.as_str()),
                _ => None,
            })
            .collect();
        assert_eq!(page.text(), texts.join("\n"));
        assert!(page.words[0].at.distance(DVec2::new(1.0, 2.0)) < 1e-4);
        assert!((page.words[2].turn - 90.0).abs() < 1e-4, "{:?}", page.words[2]);
        let [[from, to]] = page.stretches(Pen::Outline.width())[..] else {
            panic!("{:?}", page.strokes)
        };
        assert!((from.distance(to) - 5.0).abs() < 1e-4);
        assert_eq!(page.stretches(Pen::Accent.width()).len(), 4);
        assert!(page.says("5-1/16") && !page.says("5-1/8"));
    }
}
