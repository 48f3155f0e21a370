//! The section across the ridge, at a pair of rafters, with its heights and widths.

use crate::frame::{Frame, Role, TieKind};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::trim;
use crate::plan::OverhangFrom;
use crate::rules::tie_zone::zone;

use super::super::super::callout::{self, Detail};
use super::super::super::clash::has_room;
use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, View};
use super::super::super::paper::notes::Side;
use super::super::super::paper::{Blank, Job, LEADING, Orientation, Page, SMALL, lines};
use super::super::super::typeface::{self, Weight};
use super::super::{Kind, Matter};
use super::ladder::{self, Rung};
use super::slice::Section;
use crate::facts::caution::CHECK;

/// Width of the heights at the left, and of one figure's part at the right.
const LEFT: f64 = 1.05;
const PART: f64 = 0.68;
/// Between two figures of one height.
const APART: f64 = 0.1;
/// Between the work and the words of its heights.
const BESIDE: f64 = 0.3;
/// Where the rafter's name may be over its slope, as parts of the run from the building line.
const NAMED_AT: [f64; 6] = [0.62, 0.66, 0.58, 0.7, 0.54, 0.5];
/// Beside the work where it shares an upright page and the heights of ties are in its words, the parts of the page that it takes,
/// and the least scale there: 1/4 in to the foot, 1:50.
const BESIDE_SLIM: f64 = 0.25;
const UPRIGHT: [f64; 2] = [0.55, 0.65];
const SMALL_ENOUGH: f64 = 50.0;
/// Kept for dimensions below the work and for the words over it.
const BELOW: f64 = 0.95;
const ABOVE: f64 = 0.62;

/// The sheet.
pub(super) fn page(matter: &Matter<'_>, job: &Job) -> Page {
    let frame = matter.frame;
    let section = Section::of(frame);
    let floor_height = matter.book.checks.floor_height;
    let parts = if floor_height.is_some() { 3 } else { 2 };
    // as wide as the widest figure
    let somewhere = View { scale: 1.0, origin: DVec2::ZERO };
    let figures = heights(matter, job, &section, &somewhere, 0.0).into_iter();
    let figures = figures.flat_map(|rung| rung.figures);
    let part = figures.map(|figure| typeface::width(&figure, job.fine(), Weight::Bold) + APART);
    let right = part.fold(PART, f64::max) * parts as f64;
    let (mut low, high) = section.bounds();
    let floor = -frame.plan.wall_height.inches();
    low.y = floor - floor_height.map_or(0.0, InInches::inches);
    let ties = |view: &View| tie_heights(matter, job, &section, view);
    let caption = |view: &View, margin: f64| {
        let mut words = format!(
            "Section across the ridge at pair {} of {}, seen from the far end, {}. Hatched: cut. Shaded: where ties belong, lower and upper third.",
            section.pair,
            frame.pairs.len(),
            view.words(job.writing.units)
        );
        if margin == 0.0 {
            let told = |rung: Rung| format!("{} {}", rung.words, rung.figures.join(", "));
            let told: Vec<String> = ties(view).into_iter().map(told).collect();
            words.push_str(&format!(" Above the plate: {}.", told.join("; ")));
        }
        words
    };
    let fit = |orientation: Orientation, [margin, beside]: [f64; 2], part: f64| {
        let mut blank = job.open(Kind::Section.title(), orientation, CHECK);
        blank.area = blank.area.split_top(blank.area.size().y * part).0;
        let said = lines(&caption(&somewhere, margin), SMALL, blank.area.size().x).len();
        let said = said as f64 * SMALL * LEADING + 0.15;
        let area = Area::new(
            blank.area.low + DVec2::new(margin + beside, BELOW),
            blank.area.high - DVec2::new(right + beside, said.max(ABOVE)),
        );
        (blank, View::fitting(low, high, area, job.writing.units), area, margin)
    };
    // a part of an upright page, if the heights have room there; on a plan set's sheet as large as there is room
    let rungs = |view: &View| heights(matter, job, &section, view, high.x);
    let upright = UPRIGHT.map(|part| fit(Orientation::Portrait, [0.0, BESIDE_SLIM], part));
    let is_enough = |(_, view, area, _): &(Blank, View, Area, f64)| {
        let column = Area::new(DVec2::new(0.0, area.low.y), DVec2::new(right, area.high.y));
        let mut scratch = Drawing::default();
        job.plan_set.is_none()
            && view.scale >= 1.0 / SMALL_ENOUGH
            && ladder::draw(
                &mut scratch,
                column,
                Side::Right,
                &[""; 3][..parts],
                rungs(view),
                job.fine(),
            )
    };
    // otherwise the paper's side that lets the drawing be the larger one
    let whole = || {
        let landscape = fit(Orientation::Landscape, [LEFT, BESIDE], 1.0);
        let portrait = fit(Orientation::Portrait, [LEFT, BESIDE], 1.0);
        if portrait.1.scale > landscape.1.scale * 1.01 { portrait } else { landscape }
    };
    let (blank, view, area, margin) = upright.into_iter().find(is_enough).unwrap_or_else(whole);
    let Blank { mut page, area: sheet } = blank;
    // the work is placed directly above the dimensions, so that words over it have the remaining room
    let drawing = &mut page.drawing;
    let list = lines(&caption(&view, margin), SMALL, sheet.size().x);
    for (index, text) in list.iter().enumerate() {
        let y = sheet.high.y - SMALL - index as f64 * SMALL * LEADING;
        drawing.text(DVec2::new(sheet.low.x, y), text, SMALL, Anchor::Start);
    }
    walls(matter, &view, drawing, (low, high));
    thirds(matter, &view, drawing);
    section.draw(drawing, &view);
    triangle(frame, &view, drawing);
    names(&section, frame, job, &view, drawing);
    let left_column = Area::new(
        DVec2::new(sheet.low.x, area.low.y),
        DVec2::new(sheet.low.x + margin, area.high.y),
    );
    if margin > 0.0 {
        ladder::draw(drawing, left_column, Side::Left, &[], ties(&view), job.fine());
    }
    let column = Area::new(
        DVec2::new(sheet.high.x - right, area.low.y),
        DVec2::new(sheet.high.x, area.high.y),
    );
    let rungs = rungs(&view);
    let heads = ["above plate", "floor", "ground"];
    ladder::draw(drawing, column, Side::Right, &heads[..parts], rungs, job.fine());
    widths(matter, job, &view, low.y, drawing);
    let site = &frame.site;
    let tail = DVec2::new(-site.tail, site.roof_height(-site.tail));
    let ridge = DVec2::new(site.run, site.roof_height(site.run));
    let bearing = frame.plan.bearing.zip(frame.ties.joist_lap);
    let bearing = bearing.map(|(middle, _)| DVec2::new(middle.inches(), 0.0));
    for (at, detail) in [
        (Some(tail), Detail::Eave),
        (Some(DVec2::new(site.plate, 0.0)), Detail::Heel),
        (Some(ridge), Detail::Ridge),
        (bearing, Detail::Lap),
    ] {
        let Some(at) = at else { continue };
        callout::add(drawing, view.place(at), sheet, detail);
    }
    page
}

/// Walls below the plates, the floor and the ground.
fn walls(matter: &Matter<'_>, view: &View, drawing: &mut Drawing, (low, high): (DVec2, DVec2)) {
    let frame = matter.frame;
    let site = &frame.site;
    let at = |x: f64, y: f64| view.place(DVec2::new(x, y));
    let floor = -frame.plan.wall_height.inches();
    let finish = frame.plan.rafter.finish.inches();
    let mut faces = vec![0.0, site.plate, site.span - site.plate, site.span];
    if let Some(bearing) = frame
        .plan
        .bearing
        .filter(|_| frame.members.iter().any(|member| member.role == Role::BearingPlate))
    {
        let half = frame.plan.bearing_width.inches() / 2.0;
        faces.extend([bearing.inches() - half, bearing.inches() + half]);
    }
    for x in faces {
        drawing.line(vec![at(x, 0.0), at(x, floor)], Pen::Context);
    }
    if finish > 0.0 {
        let top = matter.eave.soffit.inches().min(0.0);
        for x in [-finish, site.span + finish] {
            drawing.line(vec![at(x, top), at(x, floor)], Pen::Thin);
        }
    }
    if let Some(head) = matter.eave.plan.window_head {
        let z = floor + head.inches();
        for (from, to) in [(-finish, site.plate), (site.span - site.plate, site.span + finish)] {
            drawing.line(vec![at(from, z), at(to, z)], Pen::Context);
        }
    }
    drawing.line(vec![at(0.0, floor), at(site.span, floor)], Pen::Context);
    if low.y < floor - HAIR {
        for x in [0.0, site.span] {
            drawing.line(vec![at(x, floor), at(x, low.y)], Pen::Context);
        }
        drawing.line(vec![at(low.x, low.y), at(high.x, low.y)], Pen::Outline);
    }
}

/// The lower and the upper third of the attic, shaded, under the rafters.
fn thirds(matter: &Matter<'_>, view: &View, drawing: &mut Drawing) {
    let site = &matter.frame.site;
    let zone = zone(&matter.book);
    // the rafters' bottom edge at a height, from eave A
    let under = |z: f64| (site.seat + z / site.tangent).min(site.run);
    let top = (site.run - site.seat) * site.tangent;
    for (from, to) in [(0.0, zone.lower.inches()), (zone.upper.inches(), f64::INFINITY)] {
        let to = to.min(top);
        if from >= to {
            continue;
        }
        let ring = [
            DVec2::new(under(from), from),
            DVec2::new(site.span - under(from), from),
            DVec2::new(site.span - under(to), to),
            DVec2::new(under(to), to),
        ];
        let ring = ring.iter().map(|point| view.place(*point)).collect();
        drawing.outline(ring, Pen::Thin, Fill::Tint);
    }
}

/// The pitch triangle over the slope on eave B: 12 level, the rise plumb.
fn triangle(frame: &Frame, view: &View, drawing: &mut Drawing) {
    let site = &frame.site;
    let longest = 0.5;
    let level = longest / site.tangent.max(1.0);
    let (lift, rise) = (0.14, level * site.tangent);
    let from_line = site.run * 0.1;
    let foot = view.place(DVec2::new(site.span - from_line, site.roof_height(from_line)));
    let off = DVec2::new(site.tangent, 1.0).normalize() * lift;
    let low = foot + off;
    let high = low + DVec2::new(-level, rise);
    let corner = DVec2::new(low.x, high.y);
    drawing.outline(vec![low, corner, high], Pen::Context, Fill::None);
    drawing.text((corner + high) / 2.0 + DVec2::Y * 0.05, "12", SMALL, Anchor::Middle);
    drawing.text(
        (corner + low) / 2.0 + DVec2::new(0.06, -SMALL / 2.0),
        trim(frame.plan.rafter.pitch.unit_rise(), 4),
        SMALL,
        Anchor::Start,
    );
}

/// Names of the rafters and of the level sticks under them, with their marks.
fn names(section: &Section, frame: &Frame, job: &Job, view: &View, drawing: &mut Drawing) {
    let site = &frame.site;
    let units = job.writing.units;
    // between the pitch triangle and the ridge
    let off = DVec2::new(site.tangent, 1.0).normalize() * 0.07;
    let rafter =
        section.sticks.iter().find(|stick| matches!(stick.1, Role::CommonRafter | Role::EndRafter));
    if let Some((mark, role, _)) = rafter {
        let text = format!("{} {mark}, {}", role.words(), frame.plan.rafter.stock.write(units));
        let named = |part: f64, over_b: bool| {
            let up = site.run * part;
            let (y, side) = if over_b { (site.span - up, 1.0) } else { (up, -1.0) };
            Item::Text {
                at: view.place(DVec2::new(y, site.roof_height(up))) + off * DVec2::new(side, 1.0),
                text: text.clone(),
                height: SMALL,
                anchor: Anchor::Middle,
                turn: -side * site.tangent.atan().to_degrees(),
                weight: Weight::Regular,
                ink: Ink::Black,
            }
        };
        // over eave A if it has no room there
        let mut places = [true, false]
            .into_iter()
            .flat_map(|over_b| NAMED_AT.into_iter().map(move |part| (part, over_b)))
            .map(|(part, over_b)| named(part, over_b));
        // it stays over its own slope
        let half = typeface::width(&text, SMALL, Weight::Regular) / 2.0;
        let ridge = view.place(DVec2::new(site.run, 0.0)).x;
        let fits = |item: &Item| match item {
            Item::Text { at, .. } => {
                (at.x - ridge).abs() > half / site.secant && has_room(drawing, item, &[])
            }
            _ => false,
        };
        let found = places.find(fits);
        drawing.items.extend(found);
    }
    for (mark, role, solid) in &section.sticks {
        let stock = match role {
            Role::CeilingJoist => &frame.plan.joist,
            Role::RafterTie => &frame.plan.tie,
            _ => continue,
        };
        let Some((low, high)) = solid.bounds() else {
            continue;
        };
        let text = format!("{} {mark}, {}", role.words(), stock.write(units));
        // away from the middle, where a wall may be below
        let bearing = frame.plan.bearing.map_or(f64::INFINITY, InInches::inches);
        let half = typeface::width(&text, SMALL, Weight::Regular) / 2.0 / view.scale;
        let wall = half + frame.plan.bearing_width.inches();
        let (from, to) = (low.y.max(site.plate), high.y.min(site.span - site.plate));
        let mut middle = (from + to) / 2.0;
        if (middle - bearing).abs() < wall {
            middle = bearing - wall;
        }
        let at = view.place(DVec2::new(middle, low.z)) - DVec2::Y * (SMALL + 0.05);
        drawing.text(at, text, SMALL, Anchor::Middle);
    }
}

/// The limits for heights of ties and collar ties, and their own heights.
fn tie_heights(matter: &Matter<'_>, job: &Job, section: &Section, view: &View) -> Vec<Rung> {
    let frame = matter.frame;
    let site = &frame.site;
    let ties = &frame.ties;
    let zone = zone(&matter.book);
    let marks = |role: Role| {
        let shown = section.marks(role);
        let all = if shown.is_empty() { frame.marks_of(role) } else { shown };
        all.join(", ")
    };
    let mut list = vec![
        ("upper third begins: collar ties above".to_owned(), zone.upper),
        (format!("lower third ends, measured to {}: ties below", zone.lower_of), zone.lower),
    ];
    if ties.collars > 0 {
        list.push((format!("collar ties {}, bottom", marks(Role::CollarTie)), ties.collar_height));
    }
    if ties.kind == TieKind::RafterTies && ties.count > 0 {
        list.push((format!("rafter ties {}, bottom", marks(Role::RafterTie)), ties.height));
    }
    list.into_iter()
        .map(|(words, above)| {
            let z = above.inches();
            let y = ((z - site.heel_stand) / site.tangent).clamp(-site.tail, site.run);
            Rung {
                foot: view.place(DVec2::new(y, z)) - DVec2::X * 0.04,
                words,
                figures: vec![job.writing.length(above)],
            }
        })
        .collect()
}

/// The heights of the section at the right.
fn heights(matter: &Matter<'_>, job: &Job, section: &Section, view: &View, edge: f64) -> Vec<Rung> {
    let frame = matter.frame;
    let site = &frame.site;
    let write = |length| job.writing.length(length);
    frame
        .levels(matter.eave, matter.book.checks.floor_height)
        .into_iter()
        .map(|level| {
            let z = level.above_plate.inches();
            // at the ridge its own end, otherwise beyond the eave
            let y = if z > site.heel_stand { site.run + site.half_ridge } else { edge };
            let marks = level
                .role
                .map_or(String::new(), |role| format!(" {}", section.marks(role).join(", ")));
            let mut figures = vec![write(level.above_plate), write(level.above_floor)];
            figures.extend(level.above_ground.map(write));
            let (name, rest) = level.what.split_once(',').unwrap_or((level.what, ""));
            let rest = if rest.is_empty() { String::new() } else { format!(",{rest}") };
            Rung {
                foot: view.place(DVec2::new(y, z)) + DVec2::X * 0.05,
                words: format!("{name}{marks}{rest}"),
                figures,
            }
        })
        .collect()
}

/// Run, span, overhang and width below the ground.
fn widths(matter: &Matter<'_>, job: &Job, view: &View, low: f64, drawing: &mut Drawing) {
    let frame = matter.frame;
    let site = &frame.site;
    let plan = &frame.plan.rafter;
    let write = |value: f64| job.writing.length(inches(value));
    let at = |x: f64| view.place(DVec2::new(x, low));
    let base = -at(0.0).y + 0.18;
    let mut rows = Dimensions::new(DVec2::NEG_Y, base);
    rows.add(at(0.0), at(site.run), format!("run {}", write(site.run)));
    rows.add(at(0.0), at(site.span), format!("span {}", write(site.span)));
    let out = matter.eave.fascia_top.out.inches();
    if out > HAIR {
        let (from, asked) = match plan.overhang_from {
            OverhangFrom::Framing => (0.0, String::new()),
            OverhangFrom::Finish => (plan.finish.inches(), " from finish".to_owned()),
        };
        rows.add(at(-out), at(-from), format!("overhang {}{asked}", write(out - from)));
    }
    let boards = if plan.boards() > inches(0.0) { "fascia to fascia" } else { "tail to tail" };
    let width = matter.eave.width_over_all(None).inches();
    rows.add(at(-out), at(site.span + out), format!("{boards} {}", write(width)));
    rows.draw(drawing);
}
