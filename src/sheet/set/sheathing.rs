//! Sheathing maps and sheet cuts.

use crate::facts::caution;
use crate::geom::DVec2;

use super::super::paper::{Flow, HEAD, Job, LEADING, Orientation, Page};
use super::super::sheathing::words::{headline, seen_from};
use super::super::sheathing::{self, Layout, cut_alike, cut_sheet, legend, plane_maps};
use super::order::sentence;
use super::{Kind, Matter};

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let mut pages = maps(matter, job);
    pages.extend(cuts(matter, job));
    pages
}

/// What was decided for the deck; the order says so too.
pub(super) fn decided(matter: &Matter<'_>, job: &Job) -> Vec<String> {
    let (roof_deck, _) = matter.laid;
    roof_deck.notes.iter().map(|note| sentence(&note.write(job.writing))).collect()
}

/// Each plane as laid, then the tables and the notes.
fn maps(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let order = matter.order;
    let (roof_deck, deck) = matter.laid;
    let ask = &roof_deck.ask;
    let caution =
        |layout: Layout| format!("{} {}", legend(ask, layout, job.writing), caution::SHEATHING);
    let way = |orientation: Orientation| {
        // the text below takes equal room at any scale
        let longest = caution(Layout { scale: 192.0, parts: 1 });
        let area = job.open(Kind::Sheathing.title(), orientation, &longest).area;
        let head = 2.5 * HEAD * LEADING;
        let room = area.size() - DVec2::Y * head;
        (orientation, Layout::fitting(deck, room, job.writing.units))
    };
    let (upright, lying) = (way(Orientation::Portrait), way(Orientation::Landscape));
    let worth = |layout: Layout| (layout.scale, layout.parts);
    let (orientation, layout) = if worth(lying.1) < worth(upright.1) { lying } else { upright };
    let mut flow = Flow::new(job, Kind::Sheathing.title(), orientation, 1, &caution(layout));
    for plane in 0..deck.planes.len() {
        let maps = plane_maps(ask, deck, plane, layout, job.writing);
        for (part, map) in maps.into_iter().enumerate() {
            flow.need(map.height + HEAD * LEADING + HEAD_GAP);
            let name = sentence(&seen_from(ask, plane));
            flow.head(&match layout.parts {
                1 => name,
                parts => format!("{name}, part {} of {parts}", part + 1),
            });
            flow.drawing(map);
            flow.let_go();
        }
    }
    flow.gap(0.15);
    flow.need(2.0);
    flow.words(&headline(ask, deck, job.writing));
    flow.table(&sheathing::courses(ask, deck, job.writing));
    flow.table(&sheathing::joints(ask, deck, job.writing));
    flow.head("Notes");
    let rated = Some((order.first().panel, order.first().support));
    for note in decided(matter, job) {
        flow.words(&note);
    }
    for note in sheathing::notes(ask, deck, rated, job.writing) {
        flow.words(&note);
    }
    flow.finish()
}

/// Air above the head of a map.
const HEAD_GAP: f64 = 0.1;

/// Ways of cutting beside each other.
const BESIDE: usize = 3;

/// Every way in which a sheet is cut.
fn cuts(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let (roof_deck, deck) = matter.laid;
    let ask = &roof_deck.ask;
    let kinds = cut_alike(deck);
    let mut flow = Flow::new(
        job,
        &format!("{}, sheets to cut", Kind::Sheathing.title()),
        Orientation::Portrait,
        1,
        &format!(
            "Sheets of {} x {}, long edge along the eave; each piece: height x length. Hatched is left over. Cut on the waste side of the \
             line. {}",
            job.writing.length(ask.sheet.height),
            job.writing.length(ask.sheet.length),
            caution::SHEATHING,
        ),
    );
    for kind in kinds {
        flow.block(BESIDE, |flow| {
            flow.drawing(cut_sheet(ask, &kind, flow.width(), job.writing));
        });
    }
    flow.finish()
}
