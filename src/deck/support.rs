//! Support of the panel edges between rafters if the span table requires it: clips, blocking or tongue
//! and groove.

use super::layout::Deck;
use crate::catalog::panels::Panel;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};

/// What the edges along the courses need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EdgeSupport {
    /// Every bay is within the span for unsupported edges.
    NotNeeded {
        /// Widest bay, center to center.
        widest: Length,
    },
    /// Some bays are wider than that, but within the span for supported edges.
    Needed {
        /// Widest bay.
        widest: Length,
        /// Clips at one edge in one bay: one midway, or two equally spaced in spans of 48 in or more
        /// (IRC Table R503.2.1.1(1) footnote d).
        clips_a_bay: usize,
        /// Clips on all planes, one kind of support; blocks would be `clips / clips_a_bay`.
        clips: usize,
    },
    /// The widest bay is beyond the panel.
    Fails {
        /// Widest bay.
        widest: Length,
    },
}

/// What the edges between the courses of `deck` need with panels of the rating `panel`.
///
/// Bays are measured from rafter center to rafter center, and from the deck's edge to the first center.
/// The rake rafter lies inside the edge, so that bay is counted on the wide side.
#[must_use]
pub fn edge_support(deck: &Deck, panel: &Panel) -> EdgeSupport {
    edge_support_at(deck, panel, None)
}

/// The same with panels of known thickness: the thicker 24/0 spans farther without support (footnote
/// g).
#[must_use]
pub fn edge_support_at(deck: &Deck, panel: &Panel, thickness: Option<Length>) -> EdgeSupport {
    let bays = deck.planes.iter().flat_map(|plane| {
        let mut ends: Vec<f64> = plane.centers.iter().map(|x| x.in_inches()).collect();
        ends.insert(0, 0.0);
        ends.push(plane.length.in_inches());
        let lines = plane.courses.len() - 1;
        ends.windows(2).map(|pair| (pair[1] - pair[0], lines)).collect::<Vec<_>>()
    });
    support_of(bays, panel, thickness)
}

/// What the edges between courses need over these bays: each with its width, inches, and the number of edges in it.
pub(super) fn support_of(
    bays: impl Iterator<Item = (f64, usize)>,
    panel: &Panel,
    thickness: Option<Length>,
) -> EdgeSupport {
    let unsupported_in = panel.unsupported_span_at(thickness).inches();
    let mut widest_in = 0.0_f64;
    let mut clips = 0;
    let mut clips_a_bay = 1;
    for (bay, lines) in bays {
        widest_in = widest_in.max(bay);
        if bay > unsupported_in {
            let here = if bay >= 48.0 { 2 } else { 1 };
            clips_a_bay = clips_a_bay.max(here);
            clips += here * lines;
        }
    }
    let widest = inches(widest_in);
    if widest_in > panel.supported_span_in {
        EdgeSupport::Fails { widest }
    } else if clips > 0 {
        EdgeSupport::Needed { widest, clips_a_bay, clips }
    } else {
        EdgeSupport::NotNeeded { widest }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{DeckAsk, Watch, lay};
    use super::*;

    fn of(spacing_in: f64, rating: &str) -> EdgeSupport {
        let ask = DeckAsk::rectangles(2, inches(192.0), inches(96.125), inches(spacing_in));
        let deck = lay(&ask, &Watch::none()).expect("can be laid");
        edge_support(&deck, Panel::rated(rating).expect("in the table"))
    }

    #[test]
    fn clips_where_the_table_asks() {
        // Table R503.2.1.1(1): 24/0 spans 24 in with edge support, 20 in without; 24/16 needs none.
        assert_eq!(of(24.0, "24/16"), EdgeSupport::NotNeeded { widest: inches(24.0) });
        // 8 bays, one edge between two courses, two planes.
        let needed = EdgeSupport::Needed { widest: inches(24.0), clips_a_bay: 1, clips: 16 };
        assert_eq!(of(24.0, "24/0"), needed);
        assert_eq!(of(24.0, "20/0"), EdgeSupport::Fails { widest: inches(24.0) });
        // 60/32 at 48 in spans unsupported; 48/24 needs two clips in each of 4 bays.
        let two = EdgeSupport::Needed { widest: inches(48.0), clips_a_bay: 2, clips: 16 };
        assert_eq!(of(48.0, "48/24"), two);
    }
}
