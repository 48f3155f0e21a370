//! The inputs of the deck and the order.

use super::asked::Asked;
use super::checks::ChecksPlan;
use super::entry::Entries;
use super::fault::Faults;
use super::field::Key;
use super::gable::GablePlan;
use super::limits::LONGEST_REACH_IN;
use super::reading::Sticks;
use super::stock::StockLengths;
use super::used::{Used, Value};
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Amount, Length, Note, Writing};

/// How the panels are laid on the frame.
#[derive(Debug, Clone, PartialEq)]
pub struct DeckPlan {
    /// Along the eave.
    pub sheet_length: Length,
    /// Up the slope.
    pub sheet_height: Length,
    /// Space between panels.
    pub gap: Length,
    /// Saw cut in a panel.
    pub kerf: Length,
    /// Least height of a course.
    pub least_strip: Length,
    /// Least length of a piece, joint to joint.
    pub least_piece: Length,
    /// Past the fascia's outer face, along the slope; negative if short of it.
    pub past_fascia: Length,
    /// Past the barge rafter's outer face.
    pub past_rake: Length,
    /// The slot at the ridge, if it was given.
    pub ridge_slot: Option<Length>,
}

/// Where to lay starter strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Starter {
    /// Along the eaves.
    Eaves,
    /// Along eaves and rakes.
    All,
}

/// How the roof is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct BuyPlan {
    /// Equal buildings that are ordered together.
    pub buildings: u32,
    /// Lengths in which lumber is bought.
    pub lengths: StockLengths,
    /// Without prices, longer sticks are bought only if a piece needs one.
    pub long: Length,
    /// Without prices, at most this many different lengths of a section are bought.
    pub different_lengths: usize,
    /// Saw cut in lumber.
    pub kerf: Length,
    /// Cut off every stick.
    pub end_trim: Length,
    /// Layers of top plates to list, separately from the roof.
    pub plate_layers: u32,
    /// Pieces beyond the frame.
    pub extra: Vec<Sticks>,
    /// Sticks on site already.
    pub in_hand: Vec<Sticks>,
    /// Sticks beyond the cutting plan, percent of each length.
    pub culls: f64,
    /// Nails and clips beyond the count, percent.
    pub spare_nails: f64,
    /// Covering beyond the area, percent.
    pub spare_roofing: f64,
    /// Width that a metal panel covers.
    pub cover_width: Length,
    /// Where to lay starter strip.
    pub starter: Starter,
}

/// The whole roof with what is bought for it.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderPlan {
    /// The frame.
    pub gable: GablePlan,
    /// Loads, panels, covering.
    pub checks: ChecksPlan,
    /// How the panels are laid.
    pub deck: DeckPlan,
    /// How the roof is bought.
    pub buy: BuyPlan,
    /// Values used beyond those of the frame.
    pub used: Vec<Used>,
}

/// Most equal buildings in one order.
const MOST_BUILDINGS: u32 = 100;

/// Tables of the roof file with values that are listed with an order.
const TOLD: [&str; 6] = ["lumber", "code", "sheathing", "roofing", "deck", "order"];

impl OrderPlan {
    /// Reads the plan from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<OrderPlan, Faults> {
        let ((mut gable, checks, deck, buy, of_the_frame), mut used) =
            Asked::whole(entries, |asked| {
                let gable = GablePlan::ask(asked);
                let of_the_frame = asked.used.len();
                let checks = ChecksPlan::ask(asked);
                let deck = DeckPlan::ask(asked);
                let gable = gable?;
                let buy = BuyPlan::ask(asked, &gable.rafter.lengths);
                Some((gable, checks?, deck?, buy?, of_the_frame))
            })?;
        let mut rest = used.split_off(of_the_frame);
        rest.retain(|used| used.given || TOLD.contains(&used.field.table()));
        gable.rafter.used = used;
        Ok(OrderPlan { gable, checks, deck, buy, used: rest })
    }

    fn used(&self, key: Key) -> Option<&Used> {
        let mut used = self.gable.rafter.used.iter().chain(&self.used);
        used.find(|used| used.field.key() == key)
    }

    /// The value of a field, given or by default.
    fn said(&self, key: Key) -> Option<&Value> {
        self.used(key).map(|used| &used.value)
    }

    /// The value of a field that was given.
    fn given(&self, key: Key) -> Option<&Value> {
        self.used(key).filter(|used| used.given).map(|used| &used.value)
    }

    /// The values to list with an order: those given for the frame, then every value used beyond it.
    #[must_use]
    pub fn told(&self) -> Vec<Used> {
        let of_the_frame = self
            .gable
            .rafter
            .used
            .iter()
            .filter(|used| used.given || TOLD.contains(&used.field.table()));
        of_the_frame.chain(&self.used).cloned().collect()
    }
}

/// Why roofs can't be ordered together: a value that differs between them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Apart {
    /// Place of the roof that is refused.
    pub roof: usize,
    /// The field that differs.
    pub key: Key,
    /// What differs.
    pub message: String,
    /// What to write instead.
    pub help: &'static str,
}

/// How lumber is bought and cut: one saw and one yard for all roofs of an order.
const SHARED: [Key; 7] = [
    key!("order.lengths"),
    key!("lumber.longest"),
    key!("order.long"),
    key!("order.kerf"),
    key!("order.end_trim"),
    key!("order.culls"),
    key!("order.spare_nails"),
];

/// What lumber is: it must be the same only if both roofs give it.
const SAME_LUMBER: [Key; 2] = [key!("lumber.species"), key!("lumber.grade")];

/// Every reason why roofs can't be cut and ordered together; none if they can. Loads, edition and
/// covering may differ: each roof is counted by its own file.
#[must_use]
pub fn together(roofs: &[OrderPlan], writing: Writing) -> Vec<Apart> {
    let mut apart = Vec::new();
    for (place, roof) in roofs.iter().enumerate().skip(1) {
        for key in SHARED {
            let (here, there) = (roof.said(key), roofs[0].said(key));
            if here != there {
                apart.push(differs(place, key, [here, there], writing));
            }
        }
        for key in SAME_LUMBER {
            let there = roofs[..place].iter().find_map(|other| other.given(key));
            if let (Some(here), Some(there)) = (roof.given(key), there)
                && here != there
            {
                apart.push(differs(place, key, [Some(here), Some(there)], writing));
            }
        }
        if !roof.buy.in_hand.is_empty()
            && roofs[..place].iter().any(|of| !of.buy.in_hand.is_empty())
        {
            apart.push(Apart {
                roof: place,
                key: key!("order.in_hand"),
                message: "another roof file of this order has sticks in hand too".into(),
                help: "list the sticks on site in one of the files: all roofs are cut from them",
            });
        }
    }
    apart
}

fn differs(roof: usize, key: Key, said: [Option<&Value>; 2], writing: Writing) -> Apart {
    let words = |said: Option<&Value>| said.map_or("nothing".into(), |value| value.write(writing));
    Apart {
        roof,
        key,
        message: format!(
            "roofs that are cut together are bought alike: {key} is {} here and {} in another roof file",
            words(said[0]),
            words(said[1])
        ),
        help: "write the same in all files, or order these roofs apart",
    }
}

impl DeckPlan {
    fn ask(asked: &mut Asked<'_>) -> Option<DeckPlan> {
        let plan = DeckPlan {
            sheet_length: asked.length(key!("deck.sheet_length"))?,
            sheet_height: asked.length(key!("deck.sheet_height"))?,
            gap: asked.length(key!("deck.gap"))?,
            kerf: asked.length(key!("deck.kerf"))?,
            least_strip: asked.length(key!("deck.least_strip"))?,
            least_piece: asked.length(key!("deck.least_piece"))?,
            past_fascia: asked.signed_length(key!("deck.past_fascia"))?,
            past_rake: asked.length(key!("deck.past_rake"))?,
            ridge_slot: asked.optional_length(key!("deck.ridge_slot")),
        };
        asked.refuse_over(
            key!("deck.past_rake"),
            plan.past_rake,
            LONGEST_REACH_IN / 12.0,
            "panels that reach over {} past the rake are no deck",
        );
        Some(plan)
    }
}

/// The end trim of the stock lengths, listed with the order if the user did not give it.
fn end_trim(asked: &mut Asked<'_>, lengths: &StockLengths) -> Length {
    if !asked.given(key!("order.end_trim")) {
        let _ = asked.length(key!("order.end_trim"));
    }
    lengths.end_trim()
}

impl BuyPlan {
    fn ask(asked: &mut Asked<'_>, lengths: &StockLengths) -> Option<BuyPlan> {
        let buildings = asked.number(key!("order.buildings"))?;
        if buildings < 1.0 || buildings > f64::from(MOST_BUILDINGS) || buildings.fract() != 0.0 {
            asked.refuse(
                key!("order.buildings"),
                format!("an order is for 1 to {MOST_BUILDINGS} whole buildings"),
                "write how many equal buildings are bought together, such as 3",
            );
        }
        let plan = BuyPlan {
            buildings: (buildings as u32).clamp(1, MOST_BUILDINGS),
            lengths: lengths.clone(),
            long: asked.length(key!("order.long"))?,
            different_lengths: {
                let number = asked.number(key!("order.different_lengths"))?;
                if number < 1.0 || number.fract() != 0.0 {
                    asked.refuse(
                        key!("order.different_lengths"),
                        "this is not a number of lengths",
                        "write a whole number, 1 or more",
                    );
                }
                number as usize
            },
            kerf: asked.length(key!("order.kerf"))?,
            end_trim: end_trim(asked, lengths),
            plate_layers: asked
                .choice(key!("order.plates"), &[("apart", 1), ("double", 2), ("out", 0)])?,
            extra: asked.sticks(key!("order.extra"))?,
            in_hand: asked.sticks(key!("order.in_hand"))?,
            culls: asked.number(key!("order.culls"))?,
            spare_nails: asked.number(key!("order.spare_nails"))?,
            spare_roofing: asked.number(key!("order.spare_roofing"))?,
            cover_width: asked.length(key!("roofing.cover_width"))?,
            starter: asked.choice(
                key!("roofing.starter"),
                &[("eaves", Starter::Eaves), ("all", Starter::All)],
            )?,
        };
        if plan.kerf > inches(1.0) {
            asked.refuse(
                key!("order.kerf"),
                Note::with("the saw cut must be {} or less", [Amount::Inches(1.0)]),
                Note::with("write its width, such as {}", [inches(0.125)]),
            );
        }
        for (key, percent) in [
            (key!("order.culls"), plan.culls),
            (key!("order.spare_nails"), plan.spare_nails),
            (key!("order.spare_roofing"), plan.spare_roofing),
        ] {
            if percent > 100.0 {
                asked.refuse(
                    key,
                    "over 100 percent spare is twice the roof",
                    "write percent, such as 10",
                );
            }
        }
        if plan.cover_width < inches(6.0) {
            asked.refuse(
                key!("roofing.cover_width"),
                "no metal panel covers so little",
                "write the width that one panel covers, such as 36\"",
            );
        }
        Some(plan)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::feet;

    fn read(fields: &[(&'static str, &str)]) -> Result<OrderPlan, Faults> {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in needed.iter().chain(fields) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        OrderPlan::read(&entries)
    }

    #[test]
    fn different_lengths_are_counted_whole() {
        assert_eq!(read(&[]).unwrap().buy.different_lengths, 3);
        for bad in ["0", "1.5"] {
            let faults = read(&[("order.different_lengths", bad)]).unwrap_err();
            assert_eq!(faults.len(), 1, "{bad}");
        }
    }

    #[test]
    fn lists_are_read_whole() {
        let plan = read(&[
            ("order.lengths", "8', 10', 3.6 m"),
            ("order.in_hand", "2x6 14' x 3, 45x195mm 4.2m"),
            ("deck.past_fascia", "-1/2\""),
        ])
        .unwrap();
        let two_by_four = crate::catalog::lumber::Section::nominal(2.0, 4.0).unwrap();
        let lengths = plan.buy.lengths.of(&two_by_four);
        assert_eq!(lengths.len(), 3);
        assert_eq!(lengths[1], feet(10.0));
        let [first, second] = plan.buy.in_hand.as_slice() else { panic!("two kinds") };
        assert_eq!((first.section.nominal.as_deref(), first.count), (Some("2x6"), 3));
        assert_eq!((second.section.nominal.as_deref(), second.count), (None, 1));
        assert_eq!(plan.deck.past_fascia, inches(-0.5));
        assert!(plan.buy.extra.is_empty());
    }

    #[test]
    fn faults_of_a_list_point_into_it() {
        let faults = read(&[
            ("order.lengths", "8', 10x"),
            ("order.extra", "2x4 8' x 0"),
            ("order.in_hand", "2x6, 2x40 8'"),
            ("order.end_trim", "3'"),
        ])
        .unwrap_err();
        assert_eq!(faults.len(), 4, "{faults:?}");
        assert_eq!(faults[0].part.clone().map(|part| part.start), Some(6));
    }
}
