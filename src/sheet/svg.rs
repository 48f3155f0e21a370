//! The drawing as SVG, to size: one user unit is one inch of paper.

use svg::Document;
use svg::node::element::{Circle, Group, Path, Polygon, Polyline, Rectangle, Text};

use crate::geom::DVec2;

use super::clip::hatch;
use super::drawing::{Anchor, Drawing, Fill, Item, Pen};

/// Writes the drawing as an SVG document. The same drawing gives the same bytes.
#[must_use]
pub fn write(drawing: &Drawing) -> String {
    let flip = |at: DVec2| (round(at.x), round(drawing.height - at.y));
    let mut page = Group::new()
        .set("fill", "none")
        .set("stroke", "#000")
        .set("stroke-linejoin", "round");
    let mut balloons: Vec<DVec2> = Vec::new();
    for item in &drawing.items {
        match item {
            Item::Line {
                points,
                closed,
                pen,
                fill,
            } => {
                let list: Vec<String> = points
                    .iter()
                    .map(|point| {
                        let (x, y) = flip(*point);
                        format!("{x},{y}")
                    })
                    .collect();
                if *fill == Fill::Hatch {
                    page = page.add(hatching(points, flip));
                }
                let (width, dash) = stroke(*pen);
                if *closed {
                    page = page.add(
                        Polygon::new()
                            .set("points", list.join(" "))
                            .set("stroke-width", width)
                            .set("stroke-dasharray", dash),
                    );
                } else {
                    page = page.add(
                        Polyline::new()
                            .set("points", list.join(" "))
                            .set("stroke-width", width)
                            .set("stroke-dasharray", dash),
                    );
                }
            }
            Item::Text {
                at,
                text,
                height,
                anchor,
                turn,
            } => {
                page = page.add(words(flip(*at), text, *height, *anchor, *turn));
            }
            Item::Mark { at, away, number } => {
                let (x, y) = flip(*at);
                // a number that would hide another one goes farther out
                let center = (0..8)
                    .map(|step| *at + *away * (0.24 + 0.22 * f64::from(step)))
                    .find(|center| {
                        balloons
                            .iter()
                            .all(|other: &DVec2| other.distance(*center) > 0.21)
                    })
                    .unwrap_or(*at + *away * 0.24);
                balloons.push(center);
                let (center_x, center_y) = flip(center);
                let (edge_x, edge_y) = flip(center - *away * 0.1);
                page = page
                    .add(
                        Path::new()
                            .set("d", format!("M{x} {y}L{edge_x} {edge_y}"))
                            .set("stroke-width", "0.008"),
                    )
                    .add(
                        Circle::new()
                            .set("cx", center_x)
                            .set("cy", center_y)
                            .set("r", "0.1")
                            .set("fill", "#fff")
                            .set("stroke-width", "0.01"),
                    )
                    .add(words(
                        flip(center - DVec2::Y * 0.037),
                        &number.to_string(),
                        0.1,
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
        .set("font-family", "sans-serif")
        .add(
            Rectangle::new()
                .set("width", width)
                .set("height", height)
                .set("fill", "#fff"),
        )
        .add(page)
        .to_string()
        + "\n"
}

/// A hatch as one path, so that every reader of the file shows it alike.
fn hatching(ring: &[DVec2], flip: impl Fn(DVec2) -> (f64, f64)) -> Path {
    let steps: String = hatch(ring, 0.05)
        .into_iter()
        .map(|(from, to)| {
            let ((x1, y1), (x2, y2)) = (flip(from), flip(to));
            format!("M{x1} {y1}L{x2} {y2}")
        })
        .collect();
    Path::new()
        .set("d", steps)
        .set("stroke-width", "0.006")
        .set("stroke", "#555")
}

fn words((x, y): (f64, f64), text: &str, height: f64, anchor: Anchor, turn: f64) -> Text {
    // capitals of common typefaces are about 0.72 of the font size
    let size = round(height / 0.72);
    let mut element = Text::new(text)
        .set("x", x)
        .set("y", y)
        .set("font-size", size)
        .set(
            "text-anchor",
            match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            },
        )
        .set("fill", "#000")
        .set("stroke", "none");
    if turn != 0.0 {
        element = element.set("transform", format!("rotate({} {x} {y})", round(-turn)));
    }
    element
}

fn stroke(pen: Pen) -> (&'static str, &'static str) {
    match pen {
        Pen::Outline => ("0.022", "none"),
        Pen::Context => ("0.013", "none"),
        Pen::Thin => ("0.007", "none"),
        Pen::Dashed => ("0.009", "0.08 0.04"),
    }
}

/// Four decimals of an inch: a hundredth of the finest line.
fn round(value: f64) -> f64 {
    let rounded = (value * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}
