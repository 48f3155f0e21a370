//! Sheathing maps and sheet cuts.

use crate::deck::Piece;
use crate::facts::caution;
use crate::geom::DVec2;
use crate::order::LOWER_STRIPS;

use super::super::drawing::{Drawing, Item};
use super::super::paper::{Flow, HEAD, Job, LEADING, Orientation, Page};
use super::super::sheathing::words::{headline, seen_from};
use super::super::sheathing::{self, Alike, Layout, cut_alike, cut_sheet, legend, plane_maps};
use super::order::sentence;
use super::{Kind, Matter};

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let maps = Maps::of(matter, job);
    let mut pages = maps.pages(matter, job);
    pages.extend(cuts(matter, maps.tell_all, job));
    pages
}

/// What these sheets tell of the deck and the order tells too.
pub(super) fn told(matter: &Matter<'_>, job: &Job) -> Vec<String> {
    let (roof_deck, deck) = matter.laid;
    let mut told = decided(matter, job);
    told.extend(sheathing::notes(&roof_deck.ask, deck, None, job.writing));
    told.push(sentence(LOWER_STRIPS));
    told
}

/// What was decided for the deck.
fn decided(matter: &Matter<'_>, job: &Job) -> Vec<String> {
    let (roof_deck, _) = matter.laid;
    roof_deck.notes.iter().map(|note| sentence(&note.write(job.writing))).collect()
}

/// Every plane as laid, on paper that lets the maps be as large as can be.
struct Maps {
    orientation: Orientation,
    layout: Layout,
    /// The parts of each plane.
    planes: Vec<Vec<Drawing>>,
    /// True if every piece has its length on them.
    tell_all: bool,
}

impl Maps {
    fn of(matter: &Matter<'_>, job: &Job) -> Maps {
        let (roof_deck, deck) = matter.laid;
        let ask = &roof_deck.ask;
        let way = |orientation: Orientation| {
            let flow = Flow::new(job, TITLE.title(), orientation, 1, caution::SHEATHING);
            // the words over the maps take equal room at any scale
            let said = legend(ask, Layout { scale: 192.0, parts: 1 }, job.writing);
            let head = 2.5 * HEAD * LEADING + flow.words_height(&said);
            let room = DVec2::new(flow.width(), flow.height() - head);
            (orientation, Layout::fitting(deck, room, job.writing.units))
        };
        let (upright, lying) = (way(Orientation::Portrait), way(Orientation::Landscape));
        let worth = |layout: Layout| (layout.scale, layout.parts);
        let (orientation, layout) = if worth(lying.1) < worth(upright.1) { lying } else { upright };
        let planes = (0..deck.planes.len())
            .map(|plane| plane_maps(ask, deck, plane, layout, job.writing))
            .collect::<Vec<_>>();
        let tell_all = deck.pieces.iter().all(|piece| {
            let long = |piece: &Piece| job.writing.length(piece.width.length());
            let own = long(piece);
            let told = planes[piece.plane].iter().flat_map(|map| &map.items);
            let told = told.filter(|item| matches!(item, Item::Text { text, .. } if *text == own));
            let alike = |other: &&Piece| other.plane == piece.plane && long(other) == own;
            told.count() >= deck.pieces.iter().filter(alike).count()
        });
        Maps { orientation, layout, planes, tell_all }
    }

    /// Each plane, then the tables and the notes.
    fn pages(&self, matter: &Matter<'_>, job: &Job) -> Vec<Page> {
        let order = matter.order;
        let (roof_deck, deck) = matter.laid;
        let ask = &roof_deck.ask;
        let mut flow = Flow::new(job, TITLE.title(), self.orientation, 1, caution::SHEATHING);
        flow.words(&legend(ask, self.layout, job.writing));
        let first = self.planes.iter().flatten().next().map_or(0.0, |map| map.height);
        flow.introduces(first + HEAD * LEADING + HEAD_GAP);
        for (plane, maps) in self.planes.iter().enumerate() {
            for (part, map) in maps.iter().enumerate() {
                flow.need(map.height + HEAD * LEADING + HEAD_GAP);
                let name = sentence(&seen_from(ask, plane));
                flow.head(&match self.layout.parts {
                    1 => name,
                    parts => format!("{name}, part {} of {parts}", part + 1),
                });
                flow.drawing(map.clone());
                flow.let_go();
            }
        }
        flow.gap(0.15);
        flow.words(&headline(ask, deck, job.writing));
        flow.table(&sheathing::courses(ask, deck, job.writing));
        if !self.tell_all {
            flow.table(&sheathing::joints(ask, deck, job.writing));
        }
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
}

/// What these sheets are.
const TITLE: Kind = Kind::Sheathing;

/// Air above the head of a map.
const HEAD_GAP: f64 = 0.1;

/// Ways of cutting beside each other.
const BESIDE: usize = 3;

/// The ways in which sheets are cut. What is on the maps already, the one piece of a sheet, is drawn only if they do not tell it.
fn cuts(matter: &Matter<'_>, is_told: bool, job: &Job) -> Vec<Page> {
    let (roof_deck, deck) = matter.laid;
    let ask = &roof_deck.ask;
    let (one, several): (Vec<Alike>, Vec<Alike>) =
        cut_alike(deck).into_iter().partition(|kind| is_told && kind.pieces.len() < 2);
    let mut flow = Flow::new(
        job,
        &format!("{}, sheets to cut", TITLE.title()),
        Orientation::Portrait,
        1,
        caution::SHEATHING,
    );
    flow.words(&format!(
        "Sheets of {} x {}, long edge along the eave; each piece: height x length. Hatched is left over. Cut on the waste side of the line.",
        job.writing.length(ask.sheet.height),
        job.writing.length(ask.sheet.length),
    ));
    if !one.is_empty() {
        let count: usize = one.iter().map(|kind| kind.sheets.len()).sum();
        flow.words(&format!(
            "One piece comes from each of {count} sheets, which are not drawn: as high as its course and as long as the map says."
        ));
    }
    for kind in several {
        flow.block(BESIDE, |flow| {
            flow.drawing(cut_sheet(ask, &kind, flow.width(), job.writing));
        });
    }
    flow.finish()
}
