//! The heel, larger: the space for insulation over the plate, and what the rules find of heights.

use crate::catalog::code_rules::RuleId;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::rules::{CheckId, Finding, FindingId, heel_space};

use super::super::super::clip::clipped;
use super::super::super::drawing::{Area, Drawing, Pen, View};
use super::super::super::findings;
use super::super::super::paper::notes::{self, Note, Side};
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::{Kind, Matter};
use super::across::Section;
use crate::facts::caution::CHECK;

/// Height of the drawing, and width of its notes at the right and at the left.
const HIGH: f64 = 3.6;
const NOTES: f64 = 2.0;
const LEFT: f64 = 1.15;
/// How far inside the plate's inner edge the drawing reaches, inches of work.
const INSIDE_IN: f64 = 12.0;

/// The findings that are about heights of the section.
const OF_HEIGHTS: [FindingId; 8] = [
    FindingId::Rule(RuleId::RidgeTieAboveThird),
    FindingId::Rule(RuleId::RafterTableTieAssumption),
    FindingId::Rule(RuleId::CollarTieLocation),
    FindingId::Rule(RuleId::VentAirGap),
    FindingId::Check(CheckId::SoffitOverWindowHead),
    FindingId::Rule(RuleId::AtticAccessTrigger),
    FindingId::Rule(RuleId::AtticAccessHeadroom),
    FindingId::Check(CheckId::HeightCap),
];

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let title = format!("{}, heel and rules", Kind::Section.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, CHECK);
    let (drawing, scale) = heel(matter, job, flow.width());
    flow.head(&format!("Heel and insulation, eave A, {scale}"));
    flow.drawing(drawing);
    flow.gap(0.15);
    let found: Vec<&Finding> =
        matter.findings.iter().filter(|finding| OF_HEIGHTS.contains(&finding.id)).collect();
    let table = findings::table(
        "What the rules find of the heights (the inspection walk has the rest)",
        &found,
        job.writing,
    );
    flow.table(&table);
    for finding in found.iter().filter(|finding| !finding.notes.is_empty()) {
        flow.indented(&format!("{}: {}.", finding.title, finding.noted(job.writing)), 0.2);
    }
    flow.finish()
}

/// The heel in section with notes beside it, and its scale in words.
fn heel(matter: &Matter<'_>, job: &Job, wide: f64) -> (Drawing, String) {
    let frame = matter.frame;
    let site = &frame.site;
    let section = Section::of(frame);
    let write = |value: f64| job.writing.length(inches(value));
    let mut drawing = Drawing::new(wide, HIGH);
    let area = Area::new(DVec2::new(LEFT + 0.25, 0.0), DVec2::new(wide - NOTES - 0.3, HIGH));
    let inner = site.plate + INSIDE_IN;
    let out = matter.eave.fascia_top.out.inches().max(0.0);
    let space = heel_space(&matter.book);
    let ceiling = space.map_or(0.0, |space| space.ceiling);
    let depth = space.and_then(|space| space.depth).unwrap_or(0.0);
    let foot = matter.eave.fascia_bottom.map_or(matter.eave.soffit, |spot| spot.above_plate);
    let low = DVec2::new(-out - 1.0, foot.inches().min(-4.0) - 1.0);
    let high =
        DVec2::new(inner, site.roof_height(site.plate).max(ceiling + depth).max(site.depth) + 2.0);
    let view = View::fitting(low, high, area, job.writing.units);
    let frame_of = (view.place(low), view.place(high));
    let mut work = Drawing::new(wide, HIGH);
    section.draw(&mut work, &view);
    for x in [0.0, site.plate] {
        let wall = [DVec2::new(x, 0.0), DVec2::new(x, low.y)];
        work.line(wall.map(|at| view.place(at)).to_vec(), Pen::Context);
    }
    let mut list = Vec::new();
    let mut left = vec![Note {
        at: view.place(DVec2::new(0.0, site.heel_stand)),
        words: format!("heel stand {}", write(site.heel_stand)),
    }];
    if let Some(space) = space {
        // as the air leaves it: up the slope under the air until the whole depth fits
        let top = |y: f64| {
            let under = (space.room + y * site.tangent).max(0.0);
            ceiling + space.depth.map_or(under, |depth| depth.min(under))
        };
        let full = space.full_from.unwrap_or(inner);
        let mut ring = vec![DVec2::new(0.0, ceiling), DVec2::new(0.0, top(0.0))];
        if full > 0.0 && full < inner {
            ring.push(DVec2::new(full, top(full)));
        }
        ring.extend([
            DVec2::new(inner, top(inner)),
            DVec2::new(inner, ceiling),
            DVec2::new(0.0, ceiling),
        ]);
        work.line(ring.iter().map(|at| view.place(*at)).collect(), Pen::Accent);
        let air = |y: f64| {
            view.place(DVec2::new(y, site.roof_height(y) - space.least_air * site.secant / 2.0))
        };
        list.push(Note {
            // where the drawing still shows the rafter's top
            at: air((site.plate + INSIDE_IN * 0.3)
                .min((high.y - 1.0 - site.heel_stand) / site.tangent)
                .max(0.0)),
            words: format!(
                "air over the insulation: at least {}, square to the slope",
                write(space.least_air)
            ),
        });
        list.push(Note {
            at: view.place(DVec2::new(site.plate, top(site.plate))),
            words: format!("fits at the plate's inner edge: {}", write(space.room_inside.max(0.0))),
        });
        left.push(Note {
            at: view.place(DVec2::new(0.0, top(0.0))),
            words: format!(
                "fits at the building line under that air: {}",
                write(space.room.max(0.0))
            ),
        });
        if let Some(depth) = space.depth {
            let words = if full > 0.0 {
                format!(
                    "insulation {} deep, in full from {} inside the building line",
                    write(depth),
                    write(full)
                )
            } else {
                format!("insulation {} deep, in full from the building line", write(depth))
            };
            list.push(Note { at: view.place(DVec2::new(inner - 2.0, ceiling + 0.5)), words });
        }
    }
    for item in work.items {
        drawing.items.extend(clipped(item, frame_of));
    }
    let column = Area::new(DVec2::new(wide - NOTES, 0.2), DVec2::new(wide, HIGH - 0.05));
    notes::draw(&mut drawing, column, Side::Right, list, SMALL);
    let column = Area::new(DVec2::new(0.0, 0.2), DVec2::new(LEFT, HIGH - 0.05));
    notes::draw(&mut drawing, column, Side::Left, left, SMALL);
    (drawing, view.words())
}
