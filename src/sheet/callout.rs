//! Callouts: rings on plans and sections that name a detail and the sheet it is on, each a link to it.

use crate::geom::DVec2;

use super::clash::{Drawn, crosses_leader, crosses_text};
use super::drawing::{Area, CALLOUT, Drawing, Item};
use super::paper::Page;

/// A detail that plans and sections point to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// The eave, cut square to the wall.
    Eave,
    /// The rake, cut square to the slope.
    Rake,
    /// The ridge, cut square to it.
    Ridge,
    /// Joists over an inside bearing.
    Lap,
    /// The heel with its insulation.
    Heel,
}

impl Detail {
    /// Its number, the same on every set.
    #[must_use]
    pub fn number(self) -> u32 {
        self as u32 + 1
    }

    /// Its head on the sheet that shows it.
    #[must_use]
    pub fn head(self, title: &str) -> String {
        format!("{}{title}", start(self.number()))
    }
}

/// Number and subject of the detail that a head names: `Detail 3: Ridge`; `None` for any other text.
pub(super) fn short(head: &str) -> Option<String> {
    let is_one = (1..=Detail::Heel.number()).any(|number| head.starts_with(&start(number)));
    let subject = head.split([',', '(']).next().filter(|_| is_one)?;
    Some(subject.trim().to_owned())
}

fn start(number: u32) -> String {
    format!("Detail {number}: ")
}

/// From the point to the nearest and to the farthest place of a ring, inches of paper.
const REACHES: (f64, f64) = (0.32, 2.6);

/// Adds a callout at a point: its ring is as near as possible in a free place of `area`. None is added if there is no such place.
pub fn add(drawing: &mut Drawing, at: DVec2, area: Area, detail: Detail) {
    let drawn = Drawn::of(drawing);
    let half = DVec2::splat(CALLOUT + 0.04);
    let free = |center: &DVec2| {
        let room = Area::new(*center - half, *center + half);
        let inside = room.low.cmpge(area.low).all() && room.high.cmple(area.high).all();
        inside
            && drawn.is_free(room)
            && !crosses_leader(drawing, at, *center)
            && !crosses_text(drawing, at, *center)
    };
    let steps = ((REACHES.1 - REACHES.0) / 0.08) as u32;
    let mut places = (0..steps).flat_map(|step| {
        let reach = REACHES.0 + 0.08 * f64::from(step);
        (0..24).map(move |turn| {
            at + DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 24.0) * reach
        })
    });
    let center = places.find(free);
    let number = detail.number();
    drawing.items.extend(center.map(|center| Item::Callout {
        at,
        center,
        number,
        sheet: String::new(),
    }));
}

/// Writes on every callout the sheet with its detail, and makes it a link; callouts without such a sheet are taken away.
pub(super) fn fill(pages: &mut [Page], sheets: &[String]) {
    let on = |page: &Page, number: u32| {
        let start = start(number);
        page.drawing
            .items
            .iter()
            .any(|item| matches!(item, Item::Text { text, .. } if text.starts_with(&start)))
    };
    let places: Vec<(u32, usize)> = (1..=Detail::Heel.number())
        .filter_map(|number| Some((number, pages.iter().position(|page| on(page, number))?)))
        .collect();
    for page in pages {
        let mut links = Vec::new();
        page.drawing.items.retain_mut(|item| {
            let Item::Callout { center, number, sheet, .. } = item else { return true };
            let Some((_, place)) = places.iter().find(|(known, _)| known == number) else {
                return false;
            };
            sheet.clone_from(&sheets[*place]);
            let half = DVec2::splat(CALLOUT);
            links.push(Item::Link { low: *center - half, high: *center + half, page: *place });
            true
        });
        page.drawing.items.extend(links);
    }
}
