//! What a roof that is more than one gable takes beside lumber: the panels of its faces, and the nails of its
//! frame. Everything else is named as left out, with the lengths and areas to count it by.

use crate::catalog::coverage;
use crate::catalog::panels::Panel;
use crate::deck::EdgeSupport;
use crate::deck::faces::{FacesAsk, lay_faces};
use crate::frame::Sticks;
use crate::measure::quantity::{InInches, in_square_feet, inches, square_inches};
use crate::measure::{Amount, Note, trim};
use crate::plan::OrderPlan;
use crate::roof::{EdgeKind, Face, RoofEdge, Shape};
use crate::solve::Total;

use super::super::fasteners;
use super::super::line::Trade;
use super::super::need::{self, Need, whole};
use super::roof::called;
use super::{Taken, sheathing};

/// The sheets of faces of any outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfFaces {
    /// How many are bought.
    pub sheets: usize,
    /// How many there must be at least.
    pub least: usize,
    /// False where no layout was found: then the area counts, with the usual waste.
    pub are_laid: bool,
}

/// The goods for one building, and its sheets.
pub(in crate::order) fn of(plan: &OrderPlan, sticks: Sticks<'_>) -> (Taken, OfFaces, f64) {
    let mut notes = Vec::new();
    let (panel, support) = panel(plan, &mut notes);
    let thickness = sheathing::thickness(plan, panel);
    // the deck goes on under what stands on it
    let decked = sticks.hung.map_or(sticks.roof, |frame| &frame.hung.ground.roof);
    let area_in2: f64 = decked.faces.iter().map(Face::area).sum();
    let of_faces = laid(plan, sticks).unwrap_or_else(|| by_area(plan, area_in2));
    let nails = fasteners::of_frame(sticks, &plan.checks, &mut notes);
    let taken = Taken {
        needs: vec![sheets(plan, panel, of_faces)],
        nails,
        soffit: None,
        panel,
        support,
        panel_nailing: fasteners::panel_nailing(&plan.checks, thickness),
        notes,
        left_out: left_out(plan, sticks, support),
    };
    (taken, of_faces, in_square_feet(square_inches(area_in2)))
}

/// The sheets of its faces as `sheathing` lays them; `None` where it finds no layout.
fn laid(plan: &OrderPlan, sticks: Sticks<'_>) -> Option<OfFaces> {
    let shape = Shape::of(&plan.gable, sticks.rafter.heel_stand);
    let deck = lay_faces(&FacesAsk::of(&shape, &sticks.hung?.hung, &plan.deck)).ok()?;
    Some(OfFaces { sheets: deck.sheets, least: deck.least, are_laid: true })
}

fn by_area(plan: &OrderPlan, area_in2: f64) -> OfFaces {
    let least = area_in2 / (plan.deck.sheet_height.inches() * plan.deck.sheet_length.inches());
    let waste = 1.0 + coverage::value("deck_waste_percent") / 100.0;
    let sheets = whole(least * waste) as usize;
    OfFaces { sheets, least: whole(least) as usize, are_laid: false }
}

/// The panel in the plan, otherwise the thinnest usual one that spans the rafters without edge support.
fn panel(plan: &OrderPlan, notes: &mut Vec<Note>) -> (&'static Panel, EdgeSupport) {
    let spacing = plan.gable.spacing;
    let support = |panel: &Panel| {
        if spacing.inches() > panel.supported_span_in {
            EdgeSupport::Fails { widest: spacing }
        } else if spacing > panel.unsupported_span_at(plan.checks.panel_thickness) {
            EdgeSupport::Needed { widest: spacing, clips_a_bay: 1, clips: 0 }
        } else {
            EdgeSupport::NotNeeded { widest: spacing }
        }
    };
    let panel = sheathing::panel(plan, &support, notes);
    let support = support(panel);
    if let EdgeSupport::Fails { widest } = support {
        notes.push(sheathing::fails(panel, widest));
    }
    (panel, support)
}

/// The line of the sheets.
fn sheets(plan: &OrderPlan, panel: &Panel, of_faces: OfFaces) -> Need {
    let (height, length) = (plan.deck.sheet_height, plan.deck.sheet_length);
    let thickness_in = sheathing::thickness(plan, panel).inches();
    let waste = coverage::value("deck_waste_percent");
    Need {
        least: Some(Total::fixed(of_faces.least as i64, 1).floor()),
        weight_lb: Some(
            height.inches() * length.inches() * thickness_in / 1728.0
                * coverage::value("panel_lb_per_ft3"),
        ),
        ..Need::new(
            Trade::Sheathing,
            format!("sheet {}", panel.rating),
            Note::with(
                "roof panel rated {}, {}",
                [
                    panel.rating.as_str().into(),
                    plan.checks.panel_thickness.map_or_else(|| sheathing::made_in(panel), called),
                ],
            ),
            (need::Amount::Units(of_faces.sheets as f64), "sheet"),
            "all roof planes",
            if of_faces.are_laid {
                format!("laid sheet by sheet: no such layout takes fewer than {}", of_faces.least)
            } else {
                format!(
                    "at least {} by area, bought with {} percent for cuts at hips, valleys and edges (common practice): no layout of these planes was found",
                    of_faces.least,
                    trim(waste, 0)
                )
            },
        )
    }
}

/// What it needs but the order does not count, by name.
fn left_out(plan: &OrderPlan, sticks: Sticks<'_>, support: EdgeSupport) -> Vec<Note> {
    let mut words: Vec<Note> = sticks
        .hung
        .map(|frame| frame.lacks())
        .unwrap_or_default()
        .into_iter()
        .map(Note::from)
        .collect();
    let length = |kinds: &[EdgeKind]| {
        let own = sticks.roof.edges.iter().filter(|edge| kinds.contains(&edge.kind));
        inches(own.map(RoofEdge::length).sum::<f64>())
    };
    let area_in2: f64 = sticks.roof.faces.iter().map(Face::area).sum();
    words.push(Note::with(
        "covering and underlayment of {} of roof",
        [Amount::SquareFeet((area_in2 / 14.4).round() / 10.0)],
    ));
    for (kind, what) in [
        (EdgeKind::Eave, "starter, ice barrier and drip edge of {} of eaves"),
        (EdgeKind::Rake, "drip edge of {} of rakes"),
        (EdgeKind::Ridge, "caps or vents of {} of ridge"),
        (EdgeKind::Hip, "caps of {} of hips"),
        (EdgeKind::Valley, "lining of {} of valleys"),
        (EdgeKind::Step, "flashing of {} where one plane ends at another"),
    ] {
        let of = length(&[kind]);
        if of.inches() > 0.0 {
            words.push(Note::with(what, [of]));
        }
    }
    words.push("nails of the panels: not counted on faces of such a roof".into());
    if matches!(support, EdgeSupport::Needed { .. }) {
        words.push(
            "clips or blocks at panel edges, which this panel needs over these rafters".into(),
        );
    }
    words.push("tie-downs, straps, hangers and posts under hips and valleys".into());
    words.push("vents, baffles and soffit panels".into());
    let buy = &plan.buy;
    if buy.culls <= 0.0 {
        words.push(
            "spare sticks for culls and slips of the saw: none (order.culls, percent)".into(),
        );
    }
    if buy.plate_layers == 1 {
        words.push(
            "the lower layer of the top plates: order.plates = \"double\" counts both".into(),
        );
    }
    if buy.plate_layers > 0 {
        words.push("nails of the top plates: they go with the walls".into());
    }
    words
}
