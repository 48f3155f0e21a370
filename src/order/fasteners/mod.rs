//! Nails by kind, counted from the code's schedule, joint by joint.

mod deck;
mod frame;
mod heel;
mod total;

pub use deck::{EDGE_DISTANCE_IN, PanelNailing, of_deck, of_faces, panel_nailing, row_places};
pub use frame::of_frame;
pub use total::{NailTotal, NailUse, called, totals};

pub(super) use deck::in_a_row;
pub(super) use frame::{ridge_pairs, seats_on_plates};
pub(super) use total::{COMMON_8D, needs};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{DeckAsk, Watch, lay};
    use crate::frame::Frame;
    use crate::measure::Note;
    use crate::measure::quantity::{InInches, inches};
    use crate::plan::{Entries, OrderPlan};

    fn plan(fields: &[(&'static str, &str)]) -> (OrderPlan, Frame) {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        (plan, frame)
    }

    fn of(uses: &[NailUse], joint: &str) -> u64 {
        uses.iter().filter(|one| one.joint == joint).map(|one| one.count).sum()
    }

    #[test]
    fn joints_are_counted_by_the_schedule() {
        // 18 pairs (2 at the ends, 16 at 16 in over 22 ft), 16 joists, 6 collar ties
        let (plan, frame) = plan(&[]);
        let mut notes = Vec::new();
        let uses = of_frame(frame.sticks(), &plan.checks, &mut notes);
        assert_eq!(of(&uses, "rafters to plates"), 3 * 36);
        assert_eq!(of(&uses, "rafters to ridge board"), 3 * 36);
        assert_eq!(of(&uses, "ceiling joists to plates and bearing"), 6 * 16);
        // printed for 6 in 12 by the rule: at least 3 nails
        assert_eq!(of(&uses, "heel joints") % (2 * 16), 0);
        assert!(of(&uses, "heel joints") >= 3 * 32);
        assert_eq!(of(&uses, "collar ties to rafters"), 6 * 6);
        assert_eq!(notes.len(), 1, "{notes:?}");
    }

    #[test]
    fn snow_asks_for_more_nails_in_the_heel() {
        let (light, frame) = plan(&[]);
        let (heavy, _) = plan(&[("loads.snow", "70")]);
        let heel = |plan: &OrderPlan| {
            of(&of_frame(frame.sticks(), &plan.checks, &mut Vec::new()), "heel joints")
        };
        assert!(heel(&heavy) > heel(&light));
    }

    #[test]
    fn panels_are_nailed_row_by_row() {
        // one sheet 48 x 96 over rafters at 24 in: two end rows and three between, at 6 in each: 48
        // less 3/4 has 8 spaces, 9 nails
        let ask = DeckAsk::rectangles(1, inches(96.0), inches(48.0), inches(24.0));
        let deck = lay(&ask, &Watch::none()).unwrap();
        let (of_2021, _) = plan(&[]);
        let nailing = panel_nailing(&of_2021.checks, inches(7.0 / 16.0));
        assert_eq!((nailing.edge, nailing.field), (inches(6.0), inches(6.0)));
        assert_eq!(of_deck(&deck, &nailing).count, 5 * 9);
        // 3/8 in from both edges, 47-1/4 in in 8 equal spaces
        let places: Vec<f64> =
            row_places(inches(48.0), inches(6.0)).into_iter().map(InInches::inches).collect();
        assert_eq!((places[0], places[8], places.len()), (0.375, 47.625, 9));
        assert!((places[1] - places[0] - 47.25 / 8.0).abs() < 1e-12);
        // 2018: 12 in between, 4 spaces, 5 nails
        let (of_2018, _) = plan(&[("code.edition", "2018")]);
        let nailing = panel_nailing(&of_2018.checks, inches(7.0 / 16.0));
        assert_eq!(of_deck(&deck, &nailing).count, 2 * 9 + 3 * 5);
        let (written, _) = plan(&[("sheathing.nail_edge", "4\"")]);
        assert_eq!(panel_nailing(&written.checks, inches(0.5)).edge, inches(4.0));
    }

    #[test]
    fn every_row_of_panel_nailing_has_its_spacings() {
        for edition in ["2015", "2018", "2021", "2024"] {
            let (plan, _) = plan(&[("code.edition", edition)]);
            for sixteenths in 4..=24 {
                let thickness = inches(f64::from(sixteenths) / 16.0);
                let nailing = panel_nailing(&plan.checks, thickness);
                assert!(nailing.edge <= nailing.field, "{edition} {thickness:?}");
                assert_ne!(nailing.basis, "");
            }
        }
    }

    #[test]
    fn pounds_are_whole_and_take_the_spare_in() {
        let one = |count| NailUse {
            nail: "16d common",
            count,
            joint: String::new(),
            how: Note::default(),
            by: String::new(),
        };
        let pounds = |count, spare| totals(vec![one(count)], spare)[0].pounds;
        assert_eq!(pounds(49, 0.0), Some(1));
        assert_eq!(pounds(49, 10.0), Some(2));
        assert_eq!(pounds(490, 0.0), Some(10));
        assert!(totals(vec![one(0)], 10.0).is_empty());
    }
}
