//! Panels of the soffit: strips under eaves and rakes, cut together from whole sheets, also across
//! buildings.

use crate::catalog::coverage;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Note};
use crate::roof::EdgeKind;
use crate::solve::{Floor, Settled};

use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::roofs::Tag;
use super::super::strips::{self, Run, Sheet};
use super::roof::{Roof, called};

/// What the soffit of one building is cut from.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::order) struct Soffit {
    /// Thickness of the panel.
    thickness: Length,
    sheet: Sheet,
    strips: Vec<Strips>,
}

/// Strips of one width at the eaves or the rakes.
#[derive(Debug, Clone, PartialEq)]
struct Strips {
    place: &'static str,
    run: Run,
    /// Strips in it, each no longer than a sheet.
    count: u64,
}

impl Roof<'_> {
    /// The soffit under eaves and rakes; `None` if there is none.
    pub(super) fn soffit(&self, notes: &mut Vec<Note>) -> Option<Soffit> {
        let gable = &self.plan.gable;
        if gable.soffit <= Length::default() {
            return None;
        }
        let deck = &self.plan.deck;
        let sheet = Sheet { height: deck.sheet_height, length: deck.sheet_length, kerf: deck.kerf };
        let finish = gable.rafter.finish.inches();
        let mut strips: Vec<Strips> = Vec::new();
        let mut too_wide: Vec<&str> = Vec::new();
        for (place, kind) in [("eaves", EdgeKind::Eave), ("rakes", EdgeKind::Rake)] {
            for edge in self.covered.borders(kind) {
                let width = edge.soffit - finish;
                if width > sheet.height.inches() {
                    if !too_wide.contains(&place) {
                        too_wide.push(place);
                    }
                    continue;
                }
                if width <= HAIR {
                    continue;
                }
                // strips that are as wide but for rounding are one kind
                let mut known = strips.iter().map(|of| of.run.width.inches());
                let width = known.find(|own| (own - width).abs() <= HAIR).unwrap_or(width);
                let in_each = whole(edge.length / sheet.length.inches());
                let same = |of: &&mut Strips| {
                    of.place == place
                        && (of.run.width.inches() - width).abs() <= HAIR
                        && (of.run.length.inches() - edge.length).abs() <= HAIR
                };
                match strips.iter_mut().find(same) {
                    Some(of) => {
                        of.run.count += 1;
                        of.count += in_each;
                    }
                    None => {
                        let run =
                            Run { width: inches(width), length: inches(edge.length), count: 1 };
                        strips.push(Strips { place, run, count: in_each });
                    }
                }
            }
        }
        for place in too_wide {
            notes.push(
                format!("The soffit of the {place} is wider than a sheet and is not counted.")
                    .into(),
            );
        }
        (!strips.is_empty()).then_some(Soffit { thickness: gable.soffit, sheet, strips })
    }
}

/// The sheets for the soffits of all roofs, each built as often as its tag says. Those of one thickness
/// and size are cut together.
pub(in crate::order) fn needs(
    soffits: &[Option<Soffit>],
    roofs: &[Tag],
    notes: &mut Vec<Note>,
) -> Vec<Need> {
    let mut groups: Vec<Vec<(&Soffit, u64)>> = Vec::new();
    for (soffit, tag) in soffits.iter().zip(roofs) {
        let Some(soffit) = soffit else { continue };
        let one = (soffit, u64::from(tag.buildings));
        let same = |of: &Soffit| (of.thickness, of.sheet) == (soffit.thickness, soffit.sheet);
        match groups.iter_mut().find(|group| same(group[0].0)) {
            Some(group) => group.push(one),
            None => groups.push(vec![one]),
        }
    }
    groups.iter().filter_map(|group| need(group, notes)).collect()
}

fn need(group: &[(&Soffit, u64)], notes: &mut Vec<Note>) -> Option<Need> {
    let Soffit { thickness, sheet, .. } = *group[0].0;
    let of_one = |soffit: &Soffit, times: u64| -> Vec<Run> {
        soffit.strips.iter().map(|of| Run { count: of.run.count * times, ..of.run }).collect()
    };
    let together: Vec<Run> =
        group.iter().flat_map(|(soffit, times)| of_one(soffit, *times)).collect();
    let together = strips::cut(&together, sheet);
    let each_by_itself = || -> Option<u64> {
        let each = group.iter().map(|(soffit, times)| {
            strips::cut(&of_one(soffit, 1), sheet).map(|cut| cut.sheets() as u64 * times)
        });
        each.sum()
    };
    let (sheets, proof) = match &together {
        Some(cut) if cut.is_proven() => (cut.sheets() as u64, format!("proven: {}", cut.rules())),
        Some(cut) => {
            let least = cut.bound().first().copied().unwrap_or(0);
            let found = cut.sheets() as u64;
            let sheets = each_by_itself().map_or(found, |each| each.min(found));
            (sheets, format!("at least {least} are needed; {}", cut.rules()))
        }
        None => {
            let Some(sheets) = each_by_itself() else {
                notes.push(
                    "The soffit takes too many strips to be cut together and is not counted."
                        .into(),
                );
                return None;
            };
            (sheets, "each building cut by itself".to_owned())
        }
    };
    let cubic_feet = thickness.inches() * sheet.height.inches() * sheet.length.inches() / 1728.0;
    Some(Need {
        least: Some(together.as_ref().map_or(Floor::ZERO, Settled::floor)),
        weight_lb: Some(cubic_feet * coverage::value("panel_lb_per_ft3")),
        ..Need::new(
            Trade::Soffit,
            "soffit panel",
            Note::with("soffit panel, {}", [called(thickness)]),
            (need::Amount::Units(sheets as f64), "sheet"),
            Place::Words(places(group)),
            format!("{proof}; level under the eaves, along the slope under the rakes"),
        )
    })
}

/// `eaves: 6 strips 10 in wide; rakes: ...`, for all buildings.
fn places(group: &[(&Soffit, u64)]) -> Note {
    let mut found: Vec<(&str, Length, u64)> = Vec::new();
    for (soffit, times) in group {
        for of in &soffit.strips {
            let count = of.count * times;
            match found.iter_mut().find(|one| (one.0, one.1) == (of.place, of.run.width)) {
                Some(one) => one.2 += count,
                None => found.push((of.place, of.run.width, count)),
            }
        }
    }
    let each = found.iter().map(|(place, width, count)| {
        Note::with(format!("{place}: {count} strips {{}} wide"), [called(*width)])
    });
    Note::list(each.collect(), "; ")
}
