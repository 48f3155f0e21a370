//! The drawing as SVG, to size: one user unit is one inch of paper.

use std::borrow::Cow;

use base64::prelude::{BASE64_STANDARD, Engine as _};
use svg::node::element::{
    Anchor as Anchored, Circle, Group, Path, Polygon, Polyline, Rectangle, Style, Text,
};
use svg::{Document, Node};

use crate::geom::DVec2;
use crate::measure::tolerance::LAST_BITS;

use super::clip::hatch;
use super::drawing::{
    Anchor, Drawing, Fill, HATCH_GAP, Ink, Item, MARK_NUMBERS, Pen, RING, TINT, callout,
};
use super::typeface::{CAPITAL, FAMILY, Weight};

/// Whether a document carries the typeface itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Typeface {
    /// In the document, so that it looks alike everywhere.
    Embedded,
    /// By name only: the reader's system must have it.
    Named,
}

/// Writes the drawing as a complete SVG document. The same drawing gives the same bytes.
#[must_use]
pub fn write(drawing: &Drawing) -> String {
    write_with(drawing, Typeface::Embedded)
}

/// Writes the drawing as an SVG document, with the typeface included or only named.
#[must_use]
pub fn write_with(drawing: &Drawing, typeface: Typeface) -> String {
    let flip = |at: DVec2| (round(at.x), round(drawing.height - at.y));
    let mut page =
        Group::new().set("fill", "none").set("stroke", "#000").set("stroke-linejoin", "round");
    let shown = drawing.items.iter().flat_map(|item| match item {
        Item::Callout { at, center, number, sheet } => {
            callout(*at, *center, *number, sheet).map(Cow::Owned).to_vec()
        }
        item => vec![Cow::Borrowed(item)],
    });
    for item in shown {
        match item.as_ref() {
            Item::Line { points, closed, pen, fill } => {
                let list: Vec<String> = points
                    .iter()
                    .map(|point| {
                        let (x, y) = flip(*point);
                        format!("{x},{y}")
                    })
                    .collect();
                if let Some(slant) = fill.slant() {
                    page = page.add(hatching(points, slant, flip));
                }
                if *closed {
                    let shape = Polygon::new().set("points", list.join(" "));
                    page = page.add(match fill {
                        Fill::Paper => shape.set("fill", "#fff").set("stroke", "none"),
                        Fill::Tint => stroked(shape.set("fill", hex(TINT)), *pen),
                        _ => stroked(shape, *pen),
                    });
                } else {
                    page = page.add(stroked(Polyline::new().set("points", list.join(" ")), *pen));
                }
            }
            Item::Text { at, text, height, anchor, turn, weight, ink } => {
                let letters = (*height, *weight, *ink);
                page = page.add(words(flip(*at), text, letters, *anchor, *turn));
            }
            Item::Arc { center, radius, from, to, pen } => {
                page = page.add(arc(drawing.height, *center, *radius, (*from, *to), *pen));
            }
            // only a file with all pages knows them
            Item::Link { low, high, page: number } if typeface == Typeface::Named => {
                let (x, y) = flip(DVec2::new(low.x, high.y));
                let size = *high - *low;
                let area = Rectangle::new()
                    .set("x", x)
                    .set("y", y)
                    .set("width", round(size.x))
                    .set("height", round(size.y))
                    .set("stroke", "none")
                    .set("pointer-events", "all");
                page = page
                    .add(Anchored::new().set("href", format!("#page-{}", number + 1)).add(area));
            }
            Item::Link { .. } | Item::Callout { .. } => {}
            Item::Mark { at, away, reach, number } => {
                let center = *at + *away * *reach;
                let ((x, y), (center_x, center_y)) = (flip(*at), flip(center));
                let (edge_x, edge_y) = flip(center - *away * RING);
                page = page
                    .add(
                        Path::new()
                            .set("d", format!("M{x} {y}L{edge_x} {edge_y}"))
                            .set("stroke-width", round(Pen::Thin.width())),
                    )
                    .add(
                        Circle::new()
                            .set("cx", center_x)
                            .set("cy", center_y)
                            .set("r", RING)
                            .set("fill", "#fff")
                            .set("stroke-width", 0.01),
                    )
                    .add(words(
                        flip(center - DVec2::Y * 0.05),
                        &number.to_string(),
                        (MARK_NUMBERS, Weight::Regular, Ink::Black),
                        Anchor::Middle,
                        0.0,
                    ));
            }
        }
    }
    let (width, height) = (round(drawing.width), round(drawing.height));
    Document::new()
        .set("width", format!("{width}in"))
        .set("height", format!("{height}in"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", format!("'{FAMILY}', sans-serif"))
        .add(Style::new(match typeface {
            Typeface::Embedded => font_faces(&weights(drawing)),
            Typeface::Named => String::new(),
        }))
        .add(Rectangle::new().set("width", width).set("height", height).set("fill", "#fff"))
        .add(page)
        .to_string()
        + "\n"
}

/// The weights of letters that a drawing uses.
fn weights(drawing: &Drawing) -> Vec<Weight> {
    let bold =
        drawing.items.iter().any(|item| matches!(item, Item::Text { weight: Weight::Bold, .. }));
    if bold { vec![Weight::Regular, Weight::Bold] } else { vec![Weight::Regular] }
}

/// The typeface as style rules with the font files inside.
#[must_use]
pub fn font_faces(weights: &[Weight]) -> String {
    weights
        .iter()
        .map(|weight| {
            let name = match weight {
                Weight::Regular => "normal",
                Weight::Bold => "bold",
            };
            format!(
                "@font-face{{font-family:'{FAMILY}';font-weight:{name};src:url(data:font/ttf;base64,{})}}",
                BASE64_STANDARD.encode(weight.file())
            )
        })
        .collect()
}

/// A hatch as one path, so that every reader of the file shows it the same way.
fn hatching(ring: &[DVec2], slant: f64, flip: impl Fn(DVec2) -> (f64, f64)) -> Path {
    let steps: String = hatch(ring, slant, HATCH_GAP)
        .into_iter()
        .map(|(from, to)| {
            let ((x1, y1), (x2, y2)) = (flip(from), flip(to));
            format!("M{x1} {y1}L{x2} {y2}")
        })
        .collect();
    Path::new().set("d", steps).set("stroke-width", "0.006").set("stroke", "#555")
}

fn words(
    (x, y): (f64, f64),
    text: &str,
    (height, weight, ink): (f64, Weight, Ink),
    anchor: Anchor,
    turn: f64,
) -> Text {
    let mut element = Text::new(weight.shown(text))
        .set("x", x)
        .set("y", y)
        .set("font-size", round(height / CAPITAL))
        .set(
            "text-anchor",
            match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            },
        )
        .set("fill", color(ink))
        .set("stroke", "none");
    if weight == Weight::Bold {
        element = element.set("font-weight", "bold");
    }
    if turn != 0.0 {
        element = element.set("transform", format!("rotate({} {x} {y})", round(-turn)));
    }
    element
}

fn color(ink: Ink) -> String {
    hex(ink.rgb())
}

fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn stroked<N: Node>(mut shape: N, pen: Pen) -> N {
    shape.assign("stroke-width", round(pen.width()));
    if let Some([drawn, left_out]) = pen.dash() {
        shape.assign("stroke-dasharray", format!("{drawn} {left_out}"));
    }
    if pen.ink() != Ink::Black {
        shape.assign("stroke", color(pen.ink()));
    }
    shape
}

/// A part of a circle; a whole one if it goes all round.
fn arc(paper: f64, center: DVec2, radius: f64, (from, to): (f64, f64), pen: Pen) -> Path {
    let at = |degrees: f64| {
        let point = center + DVec2::from_angle(degrees.to_radians()) * radius;
        (round(point.x), round(paper - point.y))
    };
    let whole = (to - from).abs() >= 360.0 - LAST_BITS;
    let middle = (from + to) / 2.0;
    let steps = if whole { vec![middle, from] } else { vec![middle, to] };
    let (x, y) = at(from);
    let mut way = format!("M{x} {y}");
    let sweep = u8::from(to < from);
    for step in steps {
        let (x, y) = at(step);
        way.push_str(&format!("A{0} {0} 0 0 {sweep} {x} {y}", round(radius)));
    }
    stroked(Path::new().set("d", way), pen)
}

/// Four decimals of an inch: a hundredth of the finest line.
fn round(value: f64) -> f64 {
    let rounded = (value * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}
