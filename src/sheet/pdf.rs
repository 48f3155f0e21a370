//! Drawings as the pages of a PDF: lines as paths, text as text, the typeface included.

use krilla::annotation::{LinkAnnotation, Target};
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill as PdfFill, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};

use crate::geom::DVec2;

use super::clip::hatch;
use super::drawing::{Anchor, Fill, HATCH_GAP, Ink, Item, Pen, RING, TINT, callout};
use super::paper::{Page, TITLES};
use super::typeface::{self, CAPITAL, Weight};

/// Points of PDF in an inch.
const POINTS: f64 = 72.0;

/// Why there is no PDF: a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CannotWrite(pub String);

impl std::fmt::Display for CannotWrite {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The pages as one PDF, each of its own size, with a bookmark for each title. The same pages give the same bytes.
///
/// # Errors
/// If a page has no size, or the PDF's own limits are exceeded.
pub fn write(title: &str, pages: &[Page]) -> Result<Vec<u8>, CannotWrite> {
    let fonts = Fonts::read()?;
    let mut document = Document::new_with(SerializeSettings::default());
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .creator("stepoff".to_owned())
            .language("en".to_owned()),
    );
    let mut bookmarks = Outline::new();
    for (index, Page { title, drawing, .. }) in pages.iter().enumerate() {
        let before = index.checked_sub(1).map_or("", |before| pages[before].title.as_str());
        for title in
            title.split(TITLES).filter(|title| !before.split(TITLES).any(|known| known == *title))
        {
            let top = XyzDestination::new(index, Point::from_xy(0.0, 0.0));
            bookmarks.push_child(OutlineNode::new(title.to_owned(), top));
        }
        let (wide, high) = (drawing.width * POINTS, drawing.height * POINTS);
        let settings = PageSettings::from_wh(wide as f32, high as f32)
            .ok_or_else(|| CannotWrite("a page has no size".into()))?;
        let mut page = document.start_page_with(settings);
        {
            let mut writer =
                Writer { surface: page.surface(), high: drawing.height, fonts: &fonts };
            for item in &drawing.items {
                writer.item(item);
            }
        }
        for item in &drawing.items {
            if let Item::Link { low, high, page: number } = item {
                let rim = |x: f64| (x * POINTS) as f32;
                let rim = Rect::from_ltrb(
                    rim(low.x),
                    rim(drawing.height - high.y),
                    rim(high.x),
                    rim(drawing.height - low.y),
                );
                let top = XyzDestination::new(*number, Point::from_xy(0.0, 0.0));
                let link = rim.map(|rim| LinkAnnotation::new(rim, Target::Destination(top.into())));
                if let Some(link) = link.filter(|_| *number < pages.len()) {
                    page.add_annotation(link.into());
                }
            }
        }
        page.finish();
    }
    document.set_outline(bookmarks);
    document.finish().map_err(|why| CannotWrite(format!("the PDF could not be written: {why:?}")))
}

struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn read() -> Result<Fonts, CannotWrite> {
        let read = |weight: Weight| {
            Font::new(weight.file().into(), 0)
                .ok_or_else(|| CannotWrite("the typeface can't be read".into()))
        };
        Ok(Fonts { regular: read(Weight::Regular)?, bold: read(Weight::Bold)? })
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        }
    }
}

struct Writer<'a> {
    surface: Surface<'a>,
    high: f64,
    fonts: &'a Fonts,
}

impl Writer<'_> {
    /// PDF surface coordinates of a place: points, y down.
    fn point(&self, at: DVec2) -> Point {
        Point::from_xy((at.x * POINTS) as f32, ((self.high - at.y) * POINTS) as f32)
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { points, closed, pen, fill } => self.line(points, *closed, *pen, *fill),
            Item::Text { at, text, height, anchor, turn, weight, ink } => {
                self.words(*at, text, (*height, *weight, *ink), *anchor, *turn);
            }
            Item::Arc { center, radius, from, to, pen } => {
                if let Some(path) = self.arc(*center, *radius, *from, *to) {
                    self.draw(&path, None, Some(*pen));
                }
            }
            Item::Callout { at, center, number, sheet } => {
                callout(*at, *center, *number, sheet).iter().for_each(|item| self.item(item));
            }
            Item::Link { .. } => {}
            Item::Mark { at, away, reach, number } => {
                let center = *at + *away * *reach;
                self.line(&[*at, center - *away * RING], false, Pen::Thin, Fill::None);
                if let Some(path) = self.arc(center, RING, 0.0, 360.0) {
                    self.draw(&path, Some(Ink::Paper.rgb()), Some(Pen::Thin));
                }
                let letters = (0.1, Weight::Regular, Ink::Black);
                let foot = center - DVec2::Y * 0.05;
                self.words(foot, &number.to_string(), letters, Anchor::Middle, 0.0);
            }
        }
    }

    fn line(&mut self, points: &[DVec2], closed: bool, pen: Pen, fill: Fill) {
        if let Some(slant) = fill.slant().filter(|_| closed) {
            let mut steps = PathBuilder::new();
            for (from, to) in hatch(points, slant, HATCH_GAP) {
                let (from, to) = (self.point(from), self.point(to));
                steps.move_to(from.x, from.y);
                steps.line_to(to.x, to.y);
            }
            if let Some(path) = steps.finish() {
                self.draw(&path, None, Some(Pen::Thin));
            }
        }
        let mut way = PathBuilder::new();
        for (index, point) in points.iter().enumerate() {
            let at = self.point(*point);
            if index == 0 {
                way.move_to(at.x, at.y);
            } else {
                way.line_to(at.x, at.y);
            }
        }
        if closed {
            way.close();
        }
        let Some(path) = way.finish() else { return };
        match fill {
            Fill::Paper => self.draw(&path, Some(Ink::Paper.rgb()), None),
            Fill::Tint => self.draw(&path, Some(TINT), Some(pen)),
            _ => self.draw(&path, None, Some(pen)),
        }
    }

    fn draw(&mut self, path: &Path, fill: Option<[u8; 3]>, pen: Option<Pen>) {
        self.surface.set_fill(fill.map(filled));
        self.surface.set_stroke(pen.map(stroke));
        self.surface.draw_path(path);
    }

    /// A part of a circle as Bézier curves, each of at most a quarter: off by less than 3e-4 of
    /// the radius.
    fn arc(&self, center: DVec2, radius: f64, from: f64, to: f64) -> Option<Path> {
        let parts = ((to - from).abs() / 90.0).ceil().max(1.0);
        let step = ((to - from) / parts).to_radians();
        let pull = 4.0 / 3.0 * (step / 4.0).tan() * radius;
        let mut way = PathBuilder::new();
        let mut angle = from.to_radians();
        let start = self.point(center + DVec2::from_angle(angle) * radius);
        way.move_to(start.x, start.y);
        for _ in 0..parts as usize {
            let (here, there) = (DVec2::from_angle(angle), DVec2::from_angle(angle + step));
            let first = self.point(center + here * radius + here.perp() * pull);
            let second = self.point(center + there * radius - there.perp() * pull);
            let end = self.point(center + there * radius);
            way.cubic_to(first.x, first.y, second.x, second.y, end.x, end.y);
            angle += step;
        }
        way.finish()
    }

    fn words(
        &mut self,
        at: DVec2,
        text: &str,
        (height, weight, ink): (f64, Weight, Ink),
        anchor: Anchor,
        turn: f64,
    ) {
        let shown = weight.shown(text);
        let wide = typeface::width(&shown, height, weight) * POINTS;
        let shift = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -wide / 2.0,
            Anchor::End => -wide,
        };
        let glyphs: Vec<KrillaGlyph> = shown
            .char_indices()
            .map(|(at, letter)| {
                let glyph = weight.glyph(letter);
                KrillaGlyph::new(
                    GlyphId::new(glyph.id),
                    glyph.advance as f32,
                    0.0,
                    0.0,
                    0.0,
                    at..at + letter.len_utf8(),
                    None,
                )
            })
            .collect();
        let place = self.point(at);
        let turned = turn != 0.0;
        let start = if turned {
            self.surface.push_transform(&Transform::from_translate(place.x, place.y));
            self.surface.push_transform(&Transform::from_rotate(-turn as f32));
            Point::from_xy(shift as f32, 0.0)
        } else {
            Point::from_xy(place.x + shift as f32, place.y)
        };
        self.surface.set_fill(Some(filled(ink.rgb())));
        self.surface.set_stroke(None);
        let size = (height / CAPITAL * POINTS) as f32;
        let font = self.fonts.of(weight);
        self.surface.draw_glyphs(start, &glyphs, font, &shown, size, false);
        if turned {
            self.surface.pop();
            self.surface.pop();
        }
    }
}

fn filled([red, green, blue]: [u8; 3]) -> PdfFill {
    PdfFill {
        paint: rgb::Color::new(red, green, blue).into(),
        opacity: NormalizedF32::ONE,
        rule: Default::default(),
    }
}

fn stroke(pen: Pen) -> Stroke {
    let [red, green, blue] = pen.ink().rgb();
    Stroke {
        paint: rgb::Color::new(red, green, blue).into(),
        width: (pen.width() * POINTS) as f32,
        line_join: LineJoin::Round,
        dash: pen.dash().map(|lengths| StrokeDash {
            array: lengths.map(|length| (length * POINTS) as f32).to_vec(),
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Drawing;

    fn page(title: &str, drawing: Drawing) -> Page {
        Page::drawn(title, drawing)
    }

    #[test]
    fn the_same_drawing_gives_the_same_bytes() {
        let mut drawing = Drawing::new(4.0, 3.0);
        drawing.dimension(DVec2::new(1.0, 1.0), DVec2::new(3.0, 2.0), 0.3, "14' 5-1/16\"");
        drawing.mark(DVec2::new(1.0, 1.0), DVec2::Y, 7);
        drawing.bold(DVec2::new(1.0, 2.5), "½ ≤ 屋", 0.2, Anchor::Middle);
        let pages = [page("one", drawing)];
        let first = write("test", &pages).unwrap();
        assert_eq!(first, write("test", &pages).unwrap());
        assert!(first.starts_with(b"%PDF-1."));
    }

    /// Three pages of two titles have two bookmarks, each to the first page of its title (ISO 32000-1, 12.3.3).
    #[test]
    fn every_title_has_a_bookmark() {
        let pages = ["Plan", "Plan", "Order"].map(|title| page(title, Drawing::new(4.0, 3.0)));
        let file = lopdf::Document::load_mem(&write("test", &pages).unwrap()).unwrap();
        let marks = file.get_toc().unwrap().toc;
        let told: Vec<(&str, usize)> =
            marks.iter().map(|mark| (mark.title.as_str(), mark.page)).collect();
        assert_eq!(told, [("Plan", 1), ("Order", 3)]);
    }

    /// A link is an annotation with a destination (ISO 32000-1, 12.5.6.5).
    #[test]
    fn a_link_leads_to_its_page() {
        let mut first = Drawing::new(4.0, 3.0);
        let (low, high) = (DVec2::ONE, DVec2::splat(2.0));
        first.items.push(Item::Link { low, high, page: 1 });
        let pages = [page("Plan", first), page("Details", Drawing::new(4.0, 3.0))];
        let file = lopdf::Document::load_mem(&write("test", &pages).unwrap()).unwrap();
        let ids: Vec<lopdf::ObjectId> = file.get_pages().into_values().collect();
        let links = file.get_page_annotations(ids[0]).unwrap();
        assert_eq!(links.len(), 1);
        let (_, to) = file.dereference(links[0].get(b"Dest").unwrap()).unwrap();
        assert_eq!(to.as_array().unwrap()[0].as_reference().unwrap(), ids[1]);
        let rim = links[0].get(b"Rect").and_then(lopdf::Object::as_array).unwrap();
        let rim: Vec<f32> = rim.iter().map(|x| x.as_float().unwrap()).collect();
        assert_eq!(rim, [72.0, 72.0, 144.0, 144.0]);
        assert!(file.get_page_annotations(ids[1]).unwrap().is_empty());
    }

    #[test]
    fn a_page_without_size_is_refused() {
        assert!(write("test", &[page("none", Drawing::new(0.0, 3.0))]).is_err());
    }
}
