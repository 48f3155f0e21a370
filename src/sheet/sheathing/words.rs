//! The sentences on a deck, on the page and on its maps.

use crate::catalog::panels::{self, Panel};
use crate::deck::{Deck, DeckAsk, DeckProof, EdgeSupport};
use crate::measure::Writing;
use crate::measure::quantity::inches;

/// The panel rating in the question, with what its edges need.
pub type Rated = (&'static Panel, EdgeSupport);

pub(in crate::sheet) fn headline(ask: &DeckAsk, deck: &Deck, writing: Writing) -> String {
    let size =
        format!("{} x {}", writing.length(ask.sheet.height), writing.length(ask.sheet.length));
    let rules = deck.rules(|length| writing.length(length));
    let proof = match deck.proof() {
        DeckProof::Fewest => format!("proven the fewest with {rules}"),
        DeckProof::EachPlane { least } => format!(
            "each plane for itself proven the fewest with {rules}; at least {least} if planes shared offcuts"
        ),
        DeckProof::Open { least } => format!(
            "not proven to be the fewest: at least {least} are needed, the gap is {}",
            deck.sheets() - least
        ),
    };
    format!(
        "Sheathing: {} sheets of {size} for {} plane{}, {proof}. By area alone {} would do.",
        deck.sheets(),
        deck.planes.len(),
        if deck.planes.len() == 1 { "" } else { "s" },
        deck.area_sheets()
    )
}

/// The plane, and which way it is seen.
pub(in crate::sheet) fn seen_from(ask: &DeckAsk, plane: usize) -> String {
    let name = ask.planes.get(plane).map_or("", |plane| plane.name.as_str());
    let near = match (is_right(ask, plane), is_from_one_end(ask)) {
        (_, false) => "",
        (false, true) => ", near end to the left",
        (true, true) => ", near end to the right",
    };
    format!("{name}, seen from the ground{near}: eave below, ridge above")
}

/// True if `along` runs from the right rake on this plane.
pub(super) fn is_right(ask: &DeckAsk, plane: usize) -> bool {
    ask.planes.get(plane).is_some_and(|plane| plane.from_right)
}

/// True if the planes are measured from one end of the building.
pub(super) fn is_from_one_end(ask: &DeckAsk) -> bool {
    ask.planes.iter().any(|plane| plane.from_right)
}

/// Ascending numbers, runs of three or more as `3-7`.
pub(super) fn ranges(numbers: &[usize]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut at = 0;
    while at < numbers.len() {
        let mut end = at;
        while end + 1 < numbers.len() && numbers[end + 1] == numbers[end] + 1 {
            end += 1;
        }
        if end >= at + 2 {
            parts.push(format!("{}-{}", numbers[at], numbers[end]));
        } else {
            parts.extend(numbers[at..=end].iter().map(ToString::to_string));
        }
        at = end + 1;
    }
    parts.join(", ")
}

/// What the edges of panels of a rating need.
pub(in crate::sheet) fn edges(panel: &Panel, support: EdgeSupport, writing: Writing) -> String {
    let thickness = panel.made_in(writing);
    let rating = format!("Panels rated {} ({thickness}, {})", panel.rating, panels::SECTION);
    let limit = |span_in: f64| writing.length(inches(span_in));
    match support {
        EdgeSupport::NotNeeded { widest } => format!(
            "{rating}: bays up to {} need no edge support (limit {}).",
            writing.length(widest),
            limit(panel.unsupported_span_in)
        ),
        EdgeSupport::Needed { widest, clips_a_bay, clips } => format!(
            "{rating}: bays up to {} need edge support (limit without {}, with {}): {clips_a_bay} clip{} a bay, \
             {clips} in all, or blocking, or tongue and groove.",
            writing.length(widest),
            limit(panel.unsupported_span_in),
            limit(panel.supported_span_in),
            if clips_a_bay == 1 { "" } else { "s" },
        ),
        EdgeSupport::Fails { widest } => format!(
            "{rating}: FAILS: the widest bay of {} is more than the span of {} with supported edges.",
            writing.length(widest),
            limit(panel.supported_span_in)
        ),
    }
}
