//! Panels on the roof planes, with the fewest whole sheets.

use crate::catalog::panels::{Panel, panels};
use crate::deck::{Deck, DeckAsk, EdgeSupport, LowerStrip, edge_support};
use crate::facts;
use crate::measure::{Note, Writing};
use crate::plan::OrderPlan;
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::flags::Reader;
use super::framing::Framing;
use super::plane::{DeckAsked, deck_faults};
use super::{
    Asker, File, Found, Input, NotWritten, Refused, Status, csv, faces_deck, json, search,
};

/// A deck that is laid.
pub(super) struct Laid {
    ask: DeckAsk,
    deck: Deck,
    /// What narrower strips would save, if the question is for the workings.
    lower: Option<Vec<LowerStrip>>,
    rated: Option<(&'static Panel, EdgeSupport)>,
    decided: Vec<Note>,
    map: bool,
}

impl Found for Laid {
    fn status(&self) -> Status {
        let fails = matches!(self.rated, Some((_, EdgeSupport::Fails { .. })));
        Status::of([Verdict::meets_if(!fails)])
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let lower = self.lower.as_deref();
        json(&facts::sheathing::SheathingReport::of(
            &self.ask,
            &self.deck,
            lower,
            self.rated,
            &self.decided,
        ))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(self.deck.pieces.iter().map(facts::sheathing::PieceJson::of))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let (lower, rated) = (self.lower.as_deref(), self.rated);
        sheet::sheathing::text(
            &self.ask,
            &self.deck,
            lower,
            rated,
            &self.decided,
            look,
            sheet::Options { drawing: self.map, depth },
        )
    }

    /// The map.
    fn files(&self, look: &Look) -> Vec<File<'_>> {
        let writing = look.writing;
        let page = move || sheet::sheathing::page(&self.ask, &self.deck, writing);
        vec![File::new("sheathing.svg", move || Ok(sheet::svg::write(&page()).into_bytes()))]
    }
}

/// Lays the deck of a roof file, or of planes given by numbers alone; with `lower` also with narrower
/// strips.
pub(super) fn find(
    input: Input,
    asked: &DeckAsked,
    lower: bool,
    asker: &dyn Asker,
) -> Result<Box<dyn Found>, Refused> {
    let mut panel = asked.rating.as_deref().map(rated).transpose()?;
    let (ask, deck, decided) = if input.file.is_some() {
        let mut plan = input.plan(OrderPlan::read)?;
        let mut reader = Reader::default();
        if let Some((height, length)) = reader.sheet(asked.sheet.as_deref()) {
            plan.deck.sheet_height = height;
            plan.deck.sheet_length = length;
        }
        if !reader.faults.is_empty() {
            return Err(input.refused(reader.faults));
        }
        if faces_deck::is_beyond(&input) {
            let laid = faces_deck::find(&input, &plan, panel, asked.map)?;
            return Ok(Box::new(laid));
        }
        let framing = Framing::of(plan, input)?;
        panel = panel.or(framing.plan.checks.panel);
        let (roof, deck) = framing.laid(asker)?;
        (roof.ask, deck, roof.notes)
    } else {
        let ask = asked.ask(&input)?;
        let deck = search::laid(&ask, asker).map_err(|faults| {
            let writing = Writing::of(asked.units());
            Refused::of(deck_faults(&faults, writing, |fault| asked.place(fault, &input)))
        })?;
        (ask, deck, Vec::new())
    };
    let rated = panel.map(|panel| (panel, edge_support(&deck, panel)));
    let lower = lower.then(|| search::lower(&ask, &deck, asker));
    Ok(Box::new(Laid { ask, deck, lower, rated, decided, map: asked.map }))
}

fn rated(text: &str) -> Result<&'static Panel, Refused> {
    Panel::rated(text).ok_or_else(|| {
        let known: Vec<&str> = panels().iter().map(|panel| panel.rating.as_str()).collect();
        Refused::of_flag(
            "--rating",
            text,
            "the span table has no such rating",
            format!("write one of: {}", known.join(", ")),
        )
    })
}
