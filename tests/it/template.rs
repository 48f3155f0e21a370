//! The full-size template, measured on the PDF: lines, angles, rulers, and pages joined.

use std::collections::BTreeMap;

use serde_json::Value;
use stepoff::geom::DVec2;
use stepoff::sheet::Pen;
use stepoff::sheet::set::Kind;

use crate::pdf_page::{PdfPage, pages};
use crate::support::stepoff;

/// A tenth of a millimeter, inches.
const TENTH_MM: f64 = 0.1 / 25.4;
/// From end to end of a cross.
const CROSS: f64 = 0.3;

/// The pages of templates that share them, and their letters.
type Shared = (Vec<char>, Vec<PdfPage>);

/// The template pages of a roof file by the letters on them, which run down the stick.
#[track_caller]
fn templates(file: &str, paper: &str) -> Vec<Shared> {
    let arguments =
        ["sheets", file, "--only", Kind::Template.name(), "--paper", paper, "-o", "-", "--quiet"];
    let output = stepoff(&arguments);
    let mut templates: Vec<Shared> = Vec::new();
    for page in pages(&output.stdout) {
        let title = page
            .words
            .iter()
            .find_map(|words| words.text.split("Full-size template ").nth(1))
            .unwrap();
        let letters: Vec<char> = title.chars().filter(char::is_ascii_uppercase).collect();
        match templates.iter_mut().find(|(known, _)| *known == letters) {
            Some((_, pages)) => pages.push(page),
            None => templates.push((letters, vec![page])),
        }
    }
    let count: usize = templates.iter().map(|(letters, _)| letters.len()).sum();
    assert_eq!(count, 3, "{file} {paper}: {output:?}");
    templates
}

/// The program's JSON for the same rafter.
fn model(file: &str) -> Value {
    serde_json::from_slice(&stepoff(&["rafter", file, "--format", "json"]).stdout).unwrap()
}

fn cut<'a>(model: &'a Value, name: &str) -> &'a Value {
    let cuts = model["cuts"].as_array().unwrap();
    cuts.iter().find(|cut| cut["name"] == name).unwrap()
}

/// The tape's reading of a mark on the bottom edge.
fn bottom(model: &Value, name: &str) -> f64 {
    let marks = model["marks"].as_array().unwrap();
    let mark = marks.iter().find(|mark| mark["edge"] == "bottom" && mark["name"] == name).unwrap();
    mark["at_in"].as_f64().unwrap()
}

/// The joined pages of one template: lines in the first page's coordinates.
struct Together {
    cuts: Vec<[DVec2; 2]>,
    edges: Vec<[DVec2; 2]>,
}

impl Together {
    /// Joins the pages at the crosses that they share; two crosses must agree.
    #[track_caller]
    fn of(pages: &[PdfPage]) -> Together {
        let crosses: Vec<BTreeMap<u32, DVec2>> = pages.iter().map(crosses).collect();
        let mut offsets: Vec<Option<DVec2>> = vec![None; pages.len()];
        offsets[0] = Some(DVec2::ZERO);
        while let Some(next) = (0..pages.len()).find(|page| {
            offsets[*page].is_none()
                && (0..pages.len())
                    .any(|other| offsets[other].is_some() && shared(&crosses, *page, other) > 0)
        }) {
            let mut told = Vec::new();
            for (other, offset) in offsets.iter().enumerate() {
                let Some(offset) = offset else { continue };
                for (number, at) in &crosses[next] {
                    if let Some(there) = crosses[other].get(number) {
                        told.push(*there + *offset - *at);
                    }
                }
            }
            assert!(told.len() >= 2, "one cross alone leaves the page free to turn");
            for one in &told {
                assert!(one.distance(told[0]) < TENTH_MM, "{told:?}");
            }
            offsets[next] = Some(told[0]);
        }
        let moved = |width: f64| {
            pages
                .iter()
                .zip(&offsets)
                .flat_map(|(page, offset)| {
                    let offset = offset.expect("every page shares a cross with another");
                    page.stretches(width).into_iter().map(move |ends| ends.map(|end| end + offset))
                })
                .collect()
        };
        Together { cuts: joined(moved(Pen::Outline.width())), edges: moved(Pen::Context.width()) }
    }

    /// The cuts of each template, those farthest up the stick first: lines with a corner in common belong together.
    fn apart(&self) -> Vec<Vec<[DVec2; 2]>> {
        let mut groups: Vec<Vec<[DVec2; 2]>> = Vec::new();
        for cut in &self.cuts {
            let meets = |other: &[DVec2; 2]| {
                cut.iter().any(|end| other.iter().any(|at| at.distance(*end) < TENTH_MM))
            };
            match groups.iter_mut().find(|group| group.iter().any(meets)) {
                Some(group) => group.push(*cut),
                None => groups.push(vec![*cut]),
            }
        }
        let middle = |group: &Vec<[DVec2; 2]>| group[0][0].midpoint(group[0][1]).x;
        groups.sort_by(|a, b| middle(b).total_cmp(&middle(a)));
        groups
    }

    /// The heights of the stock's two edges: level lines as long as any, but no rulers.
    fn edges(&self) -> (f64, f64) {
        // the title block's line and the rulers are below the drawing on every page
        let low = self.cuts.iter().flatten().map(|end| end.y).fold(f64::INFINITY, f64::min);
        let levels = self
            .edges
            .iter()
            .filter(|[from, to]| {
                (from.y - to.y).abs() < 1e-4 && (from.x - to.x).abs() > 2.0 * CROSS
            })
            .map(|[from, _]| from.y)
            .filter(|y| *y > low - TENTH_MM);
        levels.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)))
    }
}

fn shared(crosses: &[BTreeMap<u32, DVec2>], a: usize, b: usize) -> usize {
    crosses[a].keys().filter(|number| crosses[b].contains_key(number)).count()
}

/// The crosses of a page with their numbers: two lines of equal length with one middle, and the nearest
/// number.
fn crosses(page: &PdfPage) -> BTreeMap<u32, DVec2> {
    let arms: Vec<[DVec2; 2]> = page
        .stretches(Pen::Context.width())
        .into_iter()
        .filter(|[from, to]| (from.distance(*to) - CROSS).abs() < 1e-4)
        .collect();
    let mut found = BTreeMap::new();
    for [from, to] in arms.iter().filter(|[from, to]| (from.y - to.y).abs() < 1e-5) {
        let middle = (*from + *to) / 2.0;
        let upright = arms.iter().any(|[low, high]| {
            (low.x - high.x).abs() < 1e-5 && ((*low + *high) / 2.0).distance(middle) < 1e-4
        });
        if !upright {
            continue;
        }
        let number = page
            .words
            .iter()
            .filter_map(|words| Some((words.text.parse::<u32>().ok()?, words.at)))
            .min_by(|a, b| a.1.distance(middle).total_cmp(&b.1.distance(middle)))
            .unwrap();
        assert!(number.1.distance(middle) < 0.3);
        assert!(found.insert(number.0, middle).is_none(), "a number stands twice");
    }
    found
}

/// Stretches of one line joined if they overlap or touch; the longest first.
#[track_caller]
fn joined(mut stretches: Vec<[DVec2; 2]>) -> Vec<[DVec2; 2]> {
    let on_line = |[from, to]: [DVec2; 2], point: DVec2| {
        let way = (to - from).normalize_or_zero();
        way.perp_dot(point - from).abs() < TENTH_MM
    };
    let mut lines: Vec<[DVec2; 2]> = Vec::new();
    stretches.sort_by(|a, b| b[0].distance(b[1]).total_cmp(&a[0].distance(a[1])));
    // until nothing can be joined
    let mut left = stretches;
    while let Some(first) = left.first().copied() {
        let mut line = first;
        left.remove(0);
        while let Some(at) = left.iter().position(|other| {
            let way = (line[1] - line[0]).normalize_or_zero();
            let place = |point: DVec2| (point - line[0]).dot(way);
            let (a, b) = (place(other[0]), place(other[1]));
            on_line(line, other[0])
                && on_line(line, other[1])
                && a.max(b) > -TENTH_MM
                && a.min(b) < line[0].distance(line[1]) + TENTH_MM
        }) {
            let other = left.remove(at);
            let way = (line[1] - line[0]).normalize_or_zero();
            let all = [line[0], line[1], other[0], other[1]];
            let by = |a: &&DVec2, b: &&DVec2| a.dot(way).total_cmp(&b.dot(way));
            line = [*all.iter().min_by(by).unwrap(), *all.iter().max_by(by).unwrap()];
        }
        lines.push(line);
    }
    lines.sort_by(|a, b| b[0].distance(b[1]).total_cmp(&a[0].distance(a[1])));
    lines
}

/// Compares a line with a cut of the model: its length, and its angle off a square cut.
#[track_caller]
fn is_cut(line: [DVec2; 2], cut: &Value) {
    let (length, miter) = (cut["length_in"].as_f64().unwrap(), cut["miter_deg"].as_f64().unwrap());
    let way = line[1] - line[0];
    assert!((way.length() - length).abs() < TENTH_MM, "{} in on paper, {cut}", way.length());
    let angle = way.x.abs().atan2(way.y.abs());
    // the error of the angle moves the line's end by less than a tenth of a millimeter
    let off = (angle - miter.to_radians()).abs() * length;
    assert!(off < TENTH_MM, "{} deg on paper, {cut}", angle.to_degrees());
}

/// Everything measured on the template of one roof on one paper; returns its number of pages.
#[track_caller]
fn true_to_size(file: &str, paper: &str, deep: f64) -> usize {
    let model = model(file);
    let templates = templates(file, paper);
    for page in templates.iter().flat_map(|(_, pages)| pages) {
        rulers(page);
        assert!(page.says("Print at 100 %"));
    }
    let mut lettered = BTreeMap::new();
    for (letters, pages) in &templates {
        let together = Together::of(pages);
        // both edges of the stock, as far apart as it is deep
        let (low, high) = together.edges();
        assert!((high - low - deep).abs() < TENTH_MM, "{low} {high}");
        let apart = together.apart();
        assert_eq!(apart.len(), letters.len(), "{letters:?}: {apart:?}");
        lettered.extend(letters.iter().zip(apart).map(|(letter, cuts)| (*letter, (cuts, low))));
    }
    let [(ridge, _), (birdsmouth, low), (tail, _)] =
        &['A', 'B', 'C'].map(|letter| lettered[&letter].clone());
    assert_eq!(ridge.len(), 1, "{ridge:?}");
    is_cut(ridge[0], cut(&model, "ridge plumb cut"));
    let tails: Vec<&Value> = ["tail plumb cut", "tail square cut", "soffit level cut"]
        .iter()
        .filter_map(|name| {
            let cuts = model["cuts"].as_array().unwrap();
            cuts.iter().find(|cut| cut["name"] == *name)
        })
        .collect();
    assert_eq!(tail.len(), tails.len());
    for cut in tails {
        let length = cut["length_in"].as_f64().unwrap();
        let line = tail
            .iter()
            .min_by(|a, b| {
                let off = |line: &[DVec2; 2]| (line[0].distance(line[1]) - length).abs();
                off(a).total_cmp(&off(b))
            })
            .unwrap();
        is_cut(*line, cut);
    }
    // the heel leans as the plumb cuts do, the seat the other way; they meet at the heel's corner
    assert_eq!(birdsmouth.len(), 2, "{birdsmouth:?}");
    let upward = |line: [DVec2; 2]| {
        let [low, high] = if line[0].y < line[1].y { line } else { [line[1], line[0]] };
        (low, high)
    };
    let leans = |line: [DVec2; 2]| {
        let (low, high) = upward(line);
        high.x > low.x
    };
    let heel = *birdsmouth.iter().find(|line| leans(**line)).unwrap();
    let seat = *birdsmouth.iter().find(|line| !leans(**line)).unwrap();
    is_cut(heel, cut(&model, "heel plumb cut"));
    is_cut(seat, cut(&model, "seat level cut"));
    let ((foot, corner), (end, other)) = (upward(heel), upward(seat));
    assert!(corner.distance(other) < TENTH_MM);
    let along = bottom(&model, "heel") - bottom(&model, "seat, inner end");
    assert!((end.x - foot.x - along).abs() < TENTH_MM);
    assert!((foot.y - low).abs() < TENTH_MM && (end.y - low).abs() < TENTH_MM);
    templates.iter().map(|(_, pages)| pages.len()).sum()
}

/// 4 in and 100 mm, across and upright, each with its words.
#[track_caller]
fn rulers(page: &PdfPage) {
    for (length, words) in [(4.0, "4 in"), (100.0 / 25.4, "100 mm")] {
        let lines: Vec<[DVec2; 2]> = page
            .stretches(Pen::Context.width())
            .into_iter()
            .filter(|[from, to]| (from.distance(*to) - length).abs() < TENTH_MM / 10.0)
            .collect();
        for along in [DVec2::X, DVec2::Y] {
            let ruler = lines.iter().find(|[from, to]| (*to - *from).perp_dot(along).abs() < 1e-5);
            let [from, to] = ruler.unwrap_or_else(|| panic!("no ruler of {words}: {lines:?}"));
            let end = if (*to - *from).dot(along) > 0.0 { *to } else { *from };
            assert!(
                page.words.iter().any(|text| text.text == words && text.at.distance(end) < 0.12),
                "{words}"
            );
        }
    }
}

#[test]
fn a_2x6_is_true_to_size_with_ridge_and_tail_on_one_page() {
    assert_eq!(true_to_size("examples/kestrel-yard.toml", "letter", 5.5), 2);
    assert_eq!(true_to_size("examples/kestrel-yard.toml", "a4", 5.5), 2);
}

#[test]
fn a_steep_2x12_is_true_to_size_when_its_pages_are_laid_together() {
    for paper in ["letter", "a4"] {
        let pages = true_to_size("examples/odd/steep.toml", paper, 11.25);
        assert!(pages > 6, "{pages}");
    }
}

#[test]
fn a_metric_level_tail_and_a_shallow_square_one_are_true_to_size() {
    true_to_size("examples/odd/metric.toml", "a4", 195.0 / 25.4);
    assert_eq!(true_to_size("examples/odd/shallow.toml", "letter", 3.5), 1);
}
