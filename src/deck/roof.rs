//! The deck of a frame: its planes, and the places of its rafters.

use super::ask::{DeckAsk, DeckFault, EaveDatum, LayingRules, PanelSheet, RafterLines, RoofPlane};
use super::courses::{NarrowStrip, courses};
use crate::frame::{EaveSide, Frame};
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Note};
use crate::plan::{DeckPlan, OrderPlan, RakeFraming, TailCut};

/// Open slot on each plane beyond the ridge board's face for a ridge vent, inches (common practice).
const SLOT_BEYOND_BOARD_IN: f64 = 0.75;

/// The deck of a framed gable, as input for the solver.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofDeck {
    /// The input.
    pub ask: DeckAsk,
    /// Along the slope from the tail line (the fascia's outer face, or the tail cut) to the ridge's center line.
    pub slope_width: Length,
    /// What was decided on the way, in words.
    pub notes: Vec<Note>,
}

impl RoofDeck {
    /// The deck of a roof with a complete plan: as [`RoofDeck::of`], vented at the ridge if the plan
    /// has a ridge vent.
    #[must_use]
    pub fn of_plan(frame: &Frame, plan: &OrderPlan) -> RoofDeck {
        let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
        RoofDeck::of(frame, &plan.deck, vented)
    }

    /// The deck of `frame`. Both planes are measured from the near end wall's rake, so that pieces cut
    /// for one fit the other. `ridge_vent` means that the ridge is vented.
    ///
    /// Joints may fall on every rafter but those that carry the deck's edge (barge rafters, or end
    /// rafters without a rake overhang) and ripped end rafters under outlookers.
    #[must_use]
    pub fn of(frame: &Frame, plan: &DeckPlan, ridge_vent: bool) -> RoofDeck {
        let site = &frame.site;
        let rafter = &frame.plan.rafter;
        let boards = rafter.boards().inches();
        let boards_up_slope = match rafter.tail {
            // boards on a square tail lie along the slope
            TailCut::Square => boards,
            TailCut::Plumb | TailCut::Level => boards * site.secant,
        };
        let slope_width_in = (site.run + site.tail) * site.secant + boards_up_slope;
        let datum = if boards > 0.0 {
            EaveDatum::Fascia { to_tail_cut: inches(boards_up_slope) }
        } else {
            EaveDatum::TailCut
        };
        let past_rake = plan.past_rake.inches();
        let from_edge = site.rake + past_rake;
        let length = inches(site.length + 2.0 * from_edge);
        let mut notes = Vec::new();
        let [on_a, on_b] = EaveSide::BOTH.map(|eave| centers(frame, eave, from_edge));
        let rafters = if on_a == on_b {
            RafterLines::Centers(on_a)
        } else {
            notes.push(
                "Rafters stand offset across the ridge, so each plane is laid on its own rafters and cut from its own sheets."
                    .into(),
            );
            RafterLines::EachPlane(vec![on_a, on_b])
        };
        let ridge_slot = plan.ridge_slot.unwrap_or_else(|| {
            if ridge_vent {
                inches((site.half_ridge + SLOT_BEYOND_BOARD_IN) * site.secant)
            } else {
                inches(0.0)
            }
        });
        if ridge_vent && plan.ridge_slot.is_none() {
            notes.push(
                Note::with(
                    "For the ridge vent the deck stops {} (level) short of the ridge board's faces (common practice; the vent's maker decides).",
                    [inches(SLOT_BEYOND_BOARD_IN)],
                ),
            );
        }
        if site.rake > 0.0 {
            notes.push("The barge rafters carry the deck's ends; no joint falls on them.".into());
        }
        let slope_width = inches(slope_width_in);
        let planes = EaveSide::BOTH
            .into_iter()
            .map(|eave| RoofPlane {
                // seen from the ground in front of eave B, the near end is to the right
                from_right: eave == EaveSide::B,
                ..RoofPlane::rectangle(&format!("plane {}", eave.name()), length, slope_width)
            })
            .collect();
        RoofDeck {
            ask: DeckAsk {
                planes,
                rafters,
                sheet: PanelSheet {
                    length: plan.sheet_length,
                    height: plan.sheet_height,
                    kerf: plan.kerf,
                },
                rules: LayingRules {
                    gap: plan.gap,
                    least_strip: plan.least_strip,
                    least_piece: plan.least_piece,
                },
                ridge_slot,
                past_tail: plan.past_fascia,
                slope: Some(rafter.pitch.angle()),
                datum,
            },
            slope_width,
            notes,
        }
    }
}

impl RoofDeck {
    /// The strip that full courses leave at the ridge if it is less than the least strip, and both ways
    /// to avoid it; `None` if no course is narrow. Lays no panel.
    ///
    /// # Errors
    /// Every fault of the input, or why no courses are possible.
    pub fn narrow(&self) -> Result<Option<NarrowStrip>, Vec<DeckFault>> {
        let mut narrow = None;
        for group in self.ask.exact()? {
            narrow = narrow.or(courses(&group).map_err(|fault| vec![fault])?.narrow);
        }
        Ok(narrow)
    }
}

/// Centers of the rafters of one plane that may have a joint, from the near edge of the deck.
fn centers(frame: &Frame, eave: EaveSide, from_edge: f64) -> Vec<Length> {
    let site = &frame.site;
    let framing = frame.plan.rake_framing;
    let end_carries_joints = site.rake > 0.0 && framing != RakeFraming::Over;
    frame
        .pairs
        .iter()
        .filter(|pair| !pair.at_end || end_carries_joints)
        .map(|pair| inches(pair.x(eave) + site.thick / 2.0 + from_edge))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{Watch, lay};
    use crate::plan::{Entries, OrderPlan};
    use approx::assert_abs_diff_eq;

    fn deck(fields: &[(&'static str, &str)], vent: bool) -> (Frame, RoofDeck) {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        let deck = RoofDeck::of(&frame, &plan.deck, vent);
        (frame, deck)
    }

    #[test]
    fn the_deck_reaches_to_the_outside_of_fascia_and_barge() {
        let (_, plain) = deck(&[("eave.fascia", "1x8"), ("rake.overhang", "8\"")], false);
        // 7 ft of run and 1 ft of overhang to the fascia's outer face, 6 in 12
        assert_abs_diff_eq!(plain.slope_width.inches(), 96.0 * 1.25_f64.sqrt(), epsilon = 1e-9);
        let (length, _) = plain.ask.planes[0].as_rectangle().unwrap();
        assert_eq!(length.inches(), 264.0 + 16.0);
        let RafterLines::Centers(centers) = &plain.ask.rafters else { panic!("both planes alike") };
        // 8 in of rake: the end pair's center at 3/4 in, then 16 in on center
        let at: Vec<f64> = centers.iter().take(3).map(|x| x.inches()).collect();
        assert_eq!(at, [8.75, 24.0, 40.0]);
        assert_eq!(centers.last().map(|x| x.inches()), Some(8.0 + 263.25));
        // measured to the tail cut, the fascia is outside it
        let (_, to_tail) = deck(&[("eave.fascia", "1x8"), ("eave.overhang_to", "tail")], false);
        assert_abs_diff_eq!(to_tail.slope_width.inches(), 96.75 * 1.25_f64.sqrt(), epsilon = 1e-9);
    }

    /// With the tape hooked on the fascia's outer face or on the bare tail cut, each course comes to
    /// the same place on the rafter.
    #[test]
    fn courses_are_measured_from_an_edge_that_is_there() {
        let secant = 1.25_f64.sqrt();
        for (tail, boards_up_slope) in
            [("plumb", 2.25 * secant), ("square", 2.25), ("level", 2.25 * secant)]
        {
            let fields = [("eave.fascia", "1x8"), ("eave.subfascia", "2x6"), ("rafter.tail", tail)];
            let (frame, boarded) = deck(&fields, false);
            let to_tail_cut = boarded.ask.datum.to_tail_cut().unwrap();
            assert_abs_diff_eq!(to_tail_cut.inches(), boards_up_slope, epsilon = 1e-9);
            // from the ridge's center line down the slope to the rafter's own tail cut
            let site = &frame.site;
            assert_abs_diff_eq!(
                (boarded.slope_width - to_tail_cut).inches(),
                (site.run + site.tail) * site.secant,
                epsilon = 1e-9
            );
        }
        let (_, bare) = deck(&[], false);
        assert_eq!(bare.ask.datum, EaveDatum::TailCut);
        assert_eq!(
            DeckAsk::rectangles(1, inches(96.0), inches(96.0), inches(16.0)).datum,
            EaveDatum::Edge
        );
    }

    #[test]
    fn a_ridge_vent_leaves_a_slot() {
        let (_, vented) = deck(&[], true);
        assert_abs_diff_eq!(vented.ask.ridge_slot.inches(), 1.5 * 1.25_f64.sqrt(), epsilon = 1e-9);
        let (_, written) = deck(&[("deck.ridge_slot", "2\"")], true);
        assert_eq!(written.ask.ridge_slot.inches(), 2.0);
    }

    #[test]
    fn offset_rafters_give_each_plane_its_own_joints() {
        let (frame, offset) = deck(&[("ceiling.bearing", "7'"), ("building.length", "24'")], false);
        assert!(!frame.differing_marks().is_empty());
        assert!(matches!(offset.ask.rafters, RafterLines::EachPlane(_)));
        let laid = lay(&offset.ask, &Watch::none()).unwrap();
        assert!(laid.proven_by_plane());
        for (plane, eave) in laid.planes.iter().zip(EaveSide::BOTH) {
            for center in &plane.centers {
                let x = center.in_inches() - frame.site.rake - 0.75;
                assert!(frame.pairs.iter().any(|pair| (pair.x(eave) - x).abs() < 0.02));
            }
        }
    }

    #[test]
    fn a_ripped_end_rafter_carries_no_joint() {
        let (_, over) = deck(&[("rake.overhang", "16\""), ("rake.framing", "over")], false);
        let RafterLines::Centers(centers) = &over.ask.rafters else { panic!("both planes alike") };
        assert_eq!(centers[0].inches(), 16.0 + 16.0);
    }

    #[test]
    fn the_largest_roof_that_is_framed_is_laid_out() {
        let largest = [
            ("building.length", "200'"),
            ("building.span", "200'"),
            ("roof.pitch", "24/12"),
            ("roof.spacing", "3\""),
            ("rafter.stock", "2x12"),
            ("eave.overhang", "20'"),
            ("rake.overhang", "10'"),
            ("deck.past_rake", "24\""),
            ("ceiling.joists", "none"),
            ("collar.ties", "no"),
        ];
        let mut entries = Entries::default();
        for (key, text) in largest {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        let deck = RoofDeck::of(&frame, &plan.deck, false);
        assert!(deck.ask.exact().is_ok(), "{:?}", deck.ask.exact().err());
        // one step beyond any of the limits is refused before anything is framed
        for (key, text) in [
            ("building.length", "200' 0-1/16\""),
            ("building.span", "200' 0-1/16\""),
            ("eave.overhang", "20' 0-1/16\""),
            ("rake.overhang", "10' 0-1/16\""),
            ("roof.spacing", "2-15/16\""),
        ] {
            let mut entries = Entries::default();
            for (known, usual) in largest {
                entries.add_flag(
                    crate::plan::Key::of(known).unwrap(),
                    Some(if known == key { text } else { usual }),
                );
            }
            assert!(OrderPlan::read(&entries).is_err(), "{key} {text}");
        }
    }
}
