//! Full-size templates: the pattern rafter's as for a gable, and the heads of hips and valleys and the cheeks of jacks.

use crate::frame::hung::measured::{self, Cheek};
use crate::frame::stick::Side;
use crate::frame::{Member, Role};
use crate::geom::DVec2;
use crate::measure::quantity::in_degrees;
use crate::measure::tolerance::HAIR;
use crate::measure::trim;

use super::super::super::clip::clipped;
use super::super::super::drawing::{Area, Drawing, Fill, Item, Pen, TEXT_HEIGHT, View};
use super::super::super::paper::{HEAD, Job, LEADING, Orientation, Page, SMALL, lines, lines_of};
use super::super::super::typeface::Weight;
use super::super::super::{Anchor, drawing::Ink};
use super::super::members::families;
use super::super::template::draw::{CROSS, PRINT, RULERS, UPRIGHT, foot, rulers};
use super::super::template::of_rafter;
use super::super::template::tiles::Tiles;
use super::alike::{Hand, kin};
use super::labels::{add_free, beside, turned};
use super::matter::HungMatter;
use super::unfolded::Unfolded;
use super::{jacks, rafters};

const CAUTION: &str = "Caution: paper stretches and printers differ. Cut one from the template, try it in its place, then cut the rest. Saws need their own precautions.";
const LAY: &str = "Cut the paper along the stock's bottom edge and fold it along the top edge: one part lies on the wide face, the other on the top. Mark along the heavy lines, \
     saw along the line on the wide face with the blade tilted as told.";

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let leading = rafters::leading(matter).into_iter();
    let mut pages: Vec<Page> = leading.flat_map(|(rafter, _)| of_rafter(rafter, job)).collect();
    let members = matter.frame.members.iter();
    let under = members.filter(|member| matches!(member.role, Role::Hip | Role::Valley));
    for kin in kin(under) {
        let (mirrored, _) = kin.of(Hand::Mirrored);
        let alike = kin.marks();
        pages.extend(of_end(kin.first, true, (&alike, !mirrored.is_empty()), job));
    }
    let jacks: Vec<&Member> =
        matter.frame.members.iter().filter(|member| jacks::ROLES.contains(&member.role)).collect();
    for family in families(&jacks) {
        let Some(first) = family.first() else { continue };
        let marks = jacks::marks(&family);
        let is_mirrored =
            kin(family.iter().copied()).iter().any(|kin| kin.of(Hand::Mirrored).1 > 0);
        for at_head in [true, false] {
            let end = first.ends();
            let end = end.get(usize::from(at_head));
            if end.is_some_and(|end| in_degrees(end.saw.bevel) > HAIR) {
                pages.extend(of_end(first, at_head, (&marks, is_mirrored), job));
            }
        }
    }
    pages
}

/// The templates of one end: of one face with the top, and of the other face if it is cut otherwise.
fn of_end(member: &Member, at_head: bool, marks: (&str, bool), job: &Job) -> Vec<Page> {
    let sides = [Side::Near, Side::Far].map(|side| Unfolded::of(member, side, at_head));
    let [near, far] = &sides;
    let same = match (near, far) {
        (Some(near), Some(far)) => {
            let turned = |points: &[DVec2]| -> Vec<DVec2> {
                points.iter().map(|at| DVec2::new(-at.x, at.y)).collect()
            };
            let alike = |one: &[DVec2], other: Vec<DVec2>| {
                one.len() == other.len()
                    && one.iter().zip(&other).all(|(one, other)| one.distance(*other) < HAIR)
            };
            alike(&near.face, turned(&far.face)) && alike(&near.top, turned(&far.top))
        }
        _ => false,
    };
    let is_jack = jacks::ROLES.contains(&member.role);
    let mut pages = Vec::new();
    for (unfolded, side) in sides.iter().zip(["near", "far"]) {
        // a jack is sawn from one face; what is alike on both faces is drawn once
        if side == "far" && (same || is_jack) {
            continue;
        }
        let Some(unfolded) = unfolded else { continue };
        pages.extend(sheet(member, (unfolded, side, same), at_head, marks, job));
    }
    pages
}

fn sheet(
    member: &Member,
    (unfolded, side, same): (&Unfolded, &str, bool),
    at_head: bool,
    (marks, is_mirrored): (&str, bool),
    job: &Job,
) -> Vec<Page> {
    let end = if at_head { "head" } else { "foot" };
    let title = format!("Full-size template, {marks}: {end}, {side} face");
    let mut words = vec![LAY.to_owned()];
    words.extend(settings(member, at_head));
    if same {
        words.push(
            "The other face is as in a mirror: lay the paper there with its printed side down."
                .to_owned(),
        );
    } else if is_mirrored {
        words.push(
            "For those that are cut as in a mirror lay it on the other face, printed side down."
                .to_owned(),
        );
    }
    words.push(PRINT.to_owned());
    // as long as the title of any of its pages
    let longest = format!("{title}, 10 of 10, full size");
    let count = |orientation| tiles(unfolded, orientation, (&longest, &words), job).count();
    let (upright, lying) = (Orientation::Portrait, Orientation::Landscape);
    let orientation = if count(upright) < count(lying) { upright } else { lying };
    let tiles = tiles(unfolded, orientation, (&longest, &words), job);
    (0..tiles.count())
        .map(|number| {
            let title = match tiles.count() {
                1 => title.clone(),
                count => format!("{title}, {} of {count}", number + 1),
            };
            let blank = job.open_with(&title, orientation, CAUTION, &foot(job));
            let (mut page, area) = (blank.page, blank.area);
            let (head, work) = parts(area, &longest, &words);
            write_head(&title, &words, head, &mut page.drawing);
            let part = tiles.part(number);
            let view = View { scale: 1.0, origin: work.middle() - part.middle() };
            let frame = Area::new(view.place(part.low), view.place(part.high));
            draw(unfolded, side, (&view, frame), &mut page.drawing);
            if tiles.count() > 1 {
                page.drawing.outline(frame.corners().to_vec(), Pen::Dashed, Fill::None);
                crosses(&tiles, part, &view, &mut page.drawing);
            }
            rulers(area, work, &mut page.drawing);
            page
        })
        .collect()
}

/// The head and the work of a page's area.
fn parts(area: Area, title: &str, words: &[String]) -> (Area, Area) {
    let wide = area.size().x;
    let count: usize = words.iter().map(|words| lines(words, SMALL, wide).len()).sum();
    let titles = lines_of(title, HEAD, wide, Weight::Bold).len();
    let text = titles as f64 * HEAD * LEADING + count as f64 * SMALL * LEADING + 0.1;
    let (head, rest) = area.split_top(text);
    let (work, _) = rest.split_top(rest.size().y - RULERS);
    (head, work.split_left(work.size().x - UPRIGHT).0)
}

fn tiles(
    unfolded: &Unfolded,
    orientation: Orientation,
    (title, words): (&str, &[String]),
    job: &Job,
) -> Tiles {
    let blank = job.open_with("", orientation, CAUTION, &foot(job));
    Tiles::over(unfolded.reach(), parts(blank.area, title, words).1.size())
}

fn write_head(title: &str, words: &[String], head: Area, drawing: &mut Drawing) {
    let mut y = head.high.y;
    for line in lines_of(&format!("{title}, full size"), HEAD, head.size().x, Weight::Bold) {
        y -= HEAD;
        drawing.bold(DVec2::new(head.low.x, y), line, HEAD, Anchor::Start);
        y -= HEAD * (LEADING - 1.0);
    }
    for words in words {
        for line in lines(words, SMALL, head.size().x) {
            y -= SMALL;
            drawing.text(DVec2::new(head.low.x, y), line, SMALL, Anchor::Start);
            y -= SMALL * (LEADING - 1.0);
        }
    }
}

/// The saw's settings at this end.
fn settings(member: &Member, at_head: bool) -> Option<String> {
    let ends = measured::ends(&member.stick)?;
    let cheeks = &ends[usize::from(at_head)].cheeks;
    let told = |cheek: &Cheek| {
        format!(
            "{} {} deg on the face, blade tilt {} deg",
            cheek.name,
            trim(in_degrees(cheek.miter).abs(), 2),
            trim(in_degrees(cheek.bevel).abs(), 2)
        )
    };
    let mut list: Vec<String> = cheeks.iter().map(told).collect();
    list.dedup();
    (!list.is_empty()).then(|| format!("Saw: {}.", list.join("; ")))
}

/// The edges of the stock, the fold, the cuts and their names.
fn draw(unfolded: &Unfolded, side: &str, (view, frame): (&View, Area), drawing: &mut Drawing) {
    let (from, to) = unfolded.along;
    let put = |points: &[DVec2], pen: Pen, drawing: &mut Drawing| {
        let item = Item::Line {
            points: points.iter().map(|at| view.place(*at)).collect(),
            closed: false,
            pen,
            fill: Fill::None,
        };
        drawing.items.extend(clipped(item, (frame.low, frame.high)));
    };
    let [bottom, fold, far] = unfolded.across;
    for (x, pen) in [(bottom, Pen::Context), (fold, Pen::Dashed), (far, Pen::Context)] {
        put(&[DVec2::new(x, from), DVec2::new(x, to)], pen, drawing);
    }
    put(&unfolded.face, Pen::Outline, drawing);
    put(&unfolded.top, Pen::Outline, drawing);
    let inside = |at: DVec2| {
        let frame = frame.inside(0.1);
        at.cmpge(frame.low).all() && at.cmple(frame.high).all()
    };
    let middle = from.midpoint(to);
    let names = [
        (bottom.midpoint(fold), format!("{side} face of the stock")),
        (fold.midpoint(far), "top".to_owned()),
    ];
    for (x, text) in names {
        let spots = [0.5, 0.35, 0.65, 0.25, 0.15, 0.75, 0.85, 0.08];
        let texts = spots.into_iter().flat_map(|part| {
            let at = view.place(DVec2::new(x, from + (to - from) * part));
            [DVec2::X, DVec2::Y].map(|way| (at, turned(at, way, &text, TEXT_HEIGHT, Weight::Bold)))
        });
        let texts: Vec<Item> = texts.filter(|(at, _)| inside(*at)).map(|(_, text)| text).collect();
        add_free(drawing, texts);
    }
    for (x, text) in [(bottom, "bottom edge"), (fold, "fold: top edge"), (far, "other top edge")] {
        let ends = [from, to].map(|y| view.place(DVec2::new(x, y)).clamp(frame.low, frame.high));
        // one that is on the next sheet only has no name here
        let across = view.place(DVec2::new(x, middle)).x;
        if !(frame.low.x..frame.high.x).contains(&across) {
            continue;
        }
        if inside(view.place(DVec2::new(x, middle))) || ends[0].distance(ends[1]) > 1.5 {
            beside(drawing, (ends[0], ends[1]), 0.0, text, TEXT_HEIGHT);
        }
    }
    // an arrow toward the head
    let foot = view.place(DVec2::new(bottom, middle))
        + DVec2::X * if bottom > fold { 0.18 } else { -0.18 };
    if frame.inside(-0.1).low.cmple(foot).all() && foot.cmple(frame.inside(-0.1).high).all() {
        let tip = foot + DVec2::Y * 0.5;
        drawing.line(vec![foot, tip], Pen::Thin);
        for aside in [-0.04, 0.04] {
            drawing.line(vec![tip, tip + DVec2::new(aside, -0.1)], Pen::Thin);
        }
        let text =
            turned(foot - DVec2::Y * 0.1, DVec2::X, "up the stick", TEXT_HEIGHT, Weight::Regular);
        add_free(
            drawing,
            [
                text,
                turned(
                    foot - DVec2::Y * 0.55,
                    DVec2::Y,
                    "up the stick",
                    TEXT_HEIGHT,
                    Weight::Regular,
                ),
            ],
        );
    }
}

/// Crosses for joining neighboring pages, each with its number.
fn crosses(tiles: &Tiles, part: Area, view: &View, drawing: &mut Drawing) {
    let inside = part.inside(CROSS);
    for cross in tiles.crosses() {
        if !(cross.at.cmpge(inside.low).all() && cross.at.cmple(inside.high).all()) {
            continue;
        }
        let at = view.place(cross.at);
        for arm in [DVec2::X, DVec2::Y] {
            drawing.line(vec![at - arm * CROSS, at + arm * CROSS], Pen::Context);
        }
        let spots = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
        let texts = spots.map(|(x, y)| Item::Text {
            at: at + DVec2::new(x * 0.2, y * 0.11 - TEXT_HEIGHT / 2.0),
            text: cross.number.to_string(),
            height: TEXT_HEIGHT,
            anchor: Anchor::Middle,
            turn: 0.0,
            weight: Weight::Regular,
            ink: Ink::Black,
        });
        add_free(drawing, texts);
    }
}
