//! Sheathing of any roof: a map of every face, chalk lines, and how the sheets are cut.

use crate::deck::faces::{FacesAsk, FacesDeck};
use crate::facts::caution;
use crate::geom::DVec2;

use super::super::super::drawing::Drawing;
use super::super::super::paper::{Flow, HEAD, Job, LEADING, Orientation, Page};
use super::super::super::scale::fitting_scale;
use super::super::super::sheathing::faces;
use super::super::super::sheathing::words::edges;
use super::super::Kind;
use super::super::order::sentence;
use super::matter::HungMatter;

/// Room that a map has beside and below its face, inches of paper.
const BESIDE: DVec2 = DVec2::new(1.1, 0.5);

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let (ask, deck, _) = match &matter.deck {
        Ok(laid) => *laid,
        Err(why) => {
            let mut flow = Flow::new(
                job,
                Kind::Sheathing.title(),
                Orientation::Portrait,
                1,
                caution::SHEATHING,
            );
            flow.words(&format!("No deck is laid: {}.", why.write(job.writing)));
            return flow.finish();
        }
    };
    let writing = job.writing;
    let mut flow =
        Flow::new(job, Kind::Sheathing.title(), Orientation::Landscape, 1, caution::SHEATHING);
    flow.words(&faces::headline(ask, deck, writing));
    let building = matter.order.first();
    flow.words(&sentence(&edges(building.panel, building.support, writing)));
    for words in faces::not_kept(ask, deck) {
        flow.words(&words);
    }
    flow.words(
        "Maps are seen from the ground, eave below. Bold: the sheet that a piece is cut from. Dashed: sticks that run up the face. Left: chalk lines, up the slope from the \
         face's lowest edge. Low in each course: joints, from the face's left end.",
    );
    for face in 0..ask.faces.len() {
        let (map, scale) = map(ask, deck, face, &flow, job);
        flow.need(map.height + HEAD * LEADING + 0.1);
        flow.head(&format!(
            "Face {}, {}",
            ask.faces[face].name,
            crate::sheet::scale::words(scale, writing.units)
        ));
        flow.drawing(map);
    }
    flow.table(&faces::chalk_lines(ask, deck, writing));
    flow.table(&faces::pieces(ask, deck, writing));
    for note in decided(matter, job) {
        flow.words(&note);
    }
    flow.words(&faces::rules(ask, writing));
    let mut pages = flow.finish();
    pages.extend(cuts(ask, deck, job));
    pages
}

/// What was decided for the deck; the order says so too.
pub(super) fn decided(matter: &HungMatter<'_>, job: &Job) -> Vec<String> {
    let notes = matter.deck.as_ref().map_or(&[][..], |(.., notes)| notes);
    notes.iter().map(|note| sentence(&note.write(job.writing))).collect()
}

/// The map of a face as large as a page allows, and its scale.
fn map(
    ask: &FacesAsk,
    deck: &FacesDeck,
    face: usize,
    flow: &Flow<'_>,
    job: &Job,
) -> (Drawing, f64) {
    let (_, size) = ask.faces[face].region.extent();
    let room = DVec2::new(flow.width(), flow.height() - HEAD * LEADING - 0.2) - BESIDE;
    let units = job.writing.units;
    let scale = fitting_scale(size.x, room.x, units).max(fitting_scale(size.y, room.y, units));
    // letters need no more room than this gives them
    let scale = scale.max(fitting_scale(96.0, 2.4, units));
    (faces::large_map(ask, deck, face, scale, job.writing), scale)
}

/// Every sheet with its pieces.
fn cuts(ask: &FacesAsk, deck: &FacesDeck, job: &Job) -> Vec<Page> {
    let title = format!("{}, sheets to cut", Kind::Sheathing.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, caution::SHEATHING);
    flow.words(
        "Each piece: its face and course. Hatched is left over. Cut on the waste side of the line.",
    );
    let rows = faces::sheet_rows(ask, deck, flow.width(), job.writing);
    flow.drawings(rows, 0.0);
    flow.table(&faces::sheets(ask, deck, job.writing));
    flow.finish()
}
