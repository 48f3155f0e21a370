//! Panels on a roof that is more than one gable.

use crate::catalog::panels::Panel;
use crate::deck::EdgeSupport;
use crate::deck::faces::{CannotCover, FacesAsk, FacesDeck, faces_edge_support, lay_faces};
use crate::facts;
use crate::frame::{AnyFrame, HungFrame};
use crate::key;
use crate::measure::Note;
use crate::plan::{Blocks, DeckPlan, OrderPlan};
use crate::roof::Shape;
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::{File, Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// A deck of any faces that is laid.
pub(super) struct LaidFaces {
    ask: FacesAsk,
    deck: FacesDeck,
    rated: Option<(&'static Panel, EdgeSupport)>,
    decided: Vec<Note>,
    map: bool,
}

impl Found for LaidFaces {
    fn status(&self) -> Status {
        let fails = matches!(self.rated, Some((_, EdgeSupport::Fails { .. })));
        Status::of([Verdict::meets_if(!fails)])
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::faces_deck::FacesDeckReport::of(
            &self.ask,
            &self.deck,
            self.rated,
            &self.decided,
        ))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::faces_deck::pieces(&self.ask, &self.deck))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::sheathing::faces_text(
            &self.ask,
            &self.deck,
            self.rated,
            &self.decided,
            look,
            sheet::Options { drawing: self.map, depth },
        )
    }

    /// The map.
    fn files(&self, look: &Look) -> Vec<File<'_>> {
        let writing = look.writing;
        let page = move || sheet::sheathing::faces_page(&self.ask, &self.deck, writing);
        vec![File::new("sheathing.svg", move || Ok(sheet::svg::write(&page()).into_bytes()))]
    }
}

/// True if the roof file tells of more than one gable.
pub(super) fn is_beyond(input: &Input) -> bool {
    !Blocks::beyond(&input.entries).is_empty()
}

/// Lays the deck of a roof that is more than one gable.
pub(super) fn find(
    input: &Input,
    plan: &OrderPlan,
    panel: Option<&'static Panel>,
    map: bool,
) -> Result<LaidFaces, Refused> {
    let (_, shape, _) = any_roof::shaped(input, &plan.gable)?;
    let AnyFrame::Hung(frame) = any_roof::framed(input, &plan.gable)? else {
        return Err(any_roof::of_gables_alone(input));
    };
    let (ask, deck, decided) = laid(&shape, &frame, &plan.deck).map_err(|why| match why {
        CannotCover::Courses { .. } => any_roof::cannot_at(
            input,
            key!("deck.least_strip"),
            &why.told(),
            "write a lower least strip, or another overhang",
        ),
        _ => any_roof::cannot(input, &why.told()),
    })?;
    let rated = panel.or(plan.checks.panel);
    let rated = rated.map(|panel| (panel, faces_edge_support(&ask, &deck, panel, None)));
    Ok(LaidFaces { ask, deck, rated, decided, map })
}

/// The deck of a framed roof with what was decided for it.
pub(super) fn laid(
    shape: &Shape,
    frame: &HungFrame,
    plan: &DeckPlan,
) -> Result<(FacesAsk, FacesDeck, Vec<Note>), CannotCover> {
    let ask = FacesAsk::of(shape, &frame.hung, plan);
    let deck = lay_faces(&ask)?;
    let mut decided: Vec<Note> = Vec::new();
    if plan.ridge_slot.is_some() {
        decided.push(
            "No slot is left open at ridges: the deck runs up to them, and a slot for a vent is sawn in place (common practice)."
                .into(),
        );
    }
    if !frame.plan.blocks.openings.is_empty() {
        decided.push("Openings are sawn out after laying: no panel is left out for them.".into());
    }
    Ok((ask, deck, decided))
}
