//! The sticks of a candidate as sums by section, with their least weight and cost.

use crate::catalog::lumber::Section;
use crate::catalog::species::Species;
use crate::frame::{Member, Role};
use crate::measure::Length;
use crate::measure::quantity::inches;
use crate::order::Prices;
use crate::order::lumber::{self, Least, Rates};
use crate::plan::BuyPlan;
use crate::solve::Floor;

/// Sticks of one pattern: section, whether they are the walls' plates, blank, how many.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sticks {
    section: Section,
    walls: bool,
    blank: Length,
    count: usize,
}

/// The sticks of some members, each `times` over.
pub(super) fn sticks_of(members: &[Member], times: usize) -> Vec<Sticks> {
    members
        .iter()
        .map(|member| Sticks {
            section: member.stick.section.clone(),
            walls: member.role == Role::Plate,
            blank: member.blank(),
            count: member.count() * times,
        })
        .collect()
}

/// What is cut of one section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Cut {
    wood: u16,
    pieces: u32,
    /// Blanks, each rounded up as in the cutting plan, in its units.
    units: i64,
}

/// The sums of a group of sticks.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Lump {
    cuts: Vec<Cut>,
    pieces: u32,
    /// Pieces longer than every stick that can be bought.
    special: u32,
    /// The longest of them.
    longest: Option<TooLong>,
}

/// A piece longer than every stick that can be bought: the index of its section, and its length in the
/// units of its cutting plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct TooLong {
    units: i64,
    wood: u16,
}

/// Every section that any candidate is cut from, with its least cost.
#[derive(Debug, Clone, Default)]
pub struct Woods {
    sections: Vec<(Section, bool, Rates)>,
}

/// The totals of a candidate's sticks.
///
/// `pieces` and `cut_board_feet` are those of the whole frame. Weight and cost are bounds: what is
/// bought holds at least the pieces and their saw cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Sticks in all.
    pub pieces: u32,
    /// Pieces longer than every stick that can be bought.
    pub special: u32,
    /// The longest of them.
    pub longest: Option<TooLong>,
    /// Thousandths of a board foot in the pieces as they are cut.
    pub milli_board_feet: i64,
    /// Least lumber that is bought, billionths of a board foot.
    pub least_board_feet: Floor,
    /// Least weight of the lumber, billionths of a pound.
    pub least_weight: Floor,
    /// Least cost of the lumber, cents; `None` if some of it has no price.
    pub least_cents: Option<Floor>,
    /// Sections without a price, by their places.
    pub unpriced: Vec<u16>,
    /// Area of both planes to the tail line, square inches.
    pub roof_in2: i64,
}

impl Woods {
    fn of(&mut self, section: &Section, walls: bool, buy: &BuyPlan, prices: &Prices) -> usize {
        let same = |known: &(Section, bool, Rates)| {
            known.1 == walls
                && (known.0.thickness, known.0.depth) == (section.thickness, section.depth)
        };
        match self.sections.iter().position(same) {
            Some(index) => index,
            None => {
                let rates = lumber::rates(section, buy, prices);
                self.sections.push((section.clone(), walls, rates));
                self.sections.len() - 1
            }
        }
    }

    /// Adds up sticks. Sections are added in the order of their appearance, so lumps are made in one
    /// fixed order.
    pub(super) fn lump(&mut self, sticks: &[Sticks], buy: &BuyPlan, prices: &Prices) -> Lump {
        let mut lump = Lump::default();
        for stick in sticks {
            let count = u32::try_from(stick.count).unwrap_or(u32::MAX);
            lump.pieces += count;
            let count = if stick.walls { count * buy.plate_layers } else { count };
            if count == 0 {
                continue;
            }
            let wood = self.of(&stick.section, stick.walls, buy, prices);
            let rates = &self.sections[wood].2;
            let units = rates.up(stick.blank);
            let wood = u16::try_from(wood).unwrap_or(u16::MAX);
            if units > rates.longest {
                lump.special += count;
                lump.longest = lump.longest.max(Some(TooLong { units, wood }));
                continue;
            }
            let sum = units * i64::from(count);
            match lump.cuts.iter_mut().find(|cut| cut.wood == wood) {
                Some(cut) => {
                    cut.pieces += count;
                    cut.units += sum;
                }
                None => lump.cuts.push(Cut { wood, pieces: count, units: sum }),
            }
        }
        lump
    }

    /// Pieces beyond the frame, which every candidate has.
    pub(super) fn extra(&mut self, buy: &BuyPlan, prices: &Prices) -> Lump {
        let sticks: Vec<Sticks> = buy
            .extra
            .iter()
            .map(|sticks| Sticks {
                section: sticks.section.clone(),
                walls: false,
                blank: sticks.length,
                count: sticks.count as usize,
            })
            .collect();
        // they are bought, but no sticks of the frame
        Lump { pieces: 0, ..self.lump(&sticks, buy, prices) }
    }

    /// The total of several lumps, each with its number.
    pub(super) fn figures<'a>(
        &self,
        lumps: impl IntoIterator<Item = (&'a Lump, u32)>,
        species: Option<Species>,
        roof_in2: f64,
    ) -> Figures {
        let mut cuts: Vec<Cut> = Vec::with_capacity(self.sections.len());
        let (mut pieces, mut special, mut longest) = (0, 0, None);
        for (lump, times) in lumps {
            pieces += lump.pieces * times;
            special += lump.special * times;
            if times > 0 {
                longest = longest.max(lump.longest);
            }
            for cut in &lump.cuts {
                let (of_pieces, of_units) = (cut.pieces * times, cut.units * i64::from(times));
                match cuts.iter_mut().find(|known| known.wood == cut.wood) {
                    Some(known) => {
                        known.pieces += of_pieces;
                        known.units += of_units;
                    }
                    None => cuts.push(Cut { wood: cut.wood, pieces: of_pieces, units: of_units }),
                }
            }
        }
        // sorted, so that sums do not depend on the order of the lumps
        cuts.sort_unstable_by_key(|cut| cut.wood);
        let mut board_feet = 0.0;
        let (mut least_board_feet, mut least_weight) = (Floor::ZERO, Floor::ZERO);
        let mut cents = Floor::ZERO;
        let mut unpriced = Vec::new();
        for cut in &cuts {
            let (section, _, rates) = &self.sections[usize::from(cut.wood)];
            let length = inches(cut.units as f64 / rates.units_per_inch);
            board_feet += lumber::board_feet(section, length);
            let least = |of: &Least| of.of(cut.units, i64::from(cut.pieces));
            least_board_feet = least_board_feet + least(&rates.board_feet);
            let by_species = rates.weight.iter().find(|(of, _)| *of == species);
            least_weight = least_weight + by_species.map_or(Floor::ZERO, |(_, of)| least(of));
            match &rates.cost {
                Some(of) => cents = cents + least(of),
                None if cut.pieces > 0 => unpriced.push(cut.wood),
                None => {}
            }
        }
        Figures {
            pieces,
            special,
            longest,
            milli_board_feet: (board_feet * 1000.0).round() as i64,
            least_board_feet,
            least_weight,
            least_cents: unpriced.is_empty().then_some(cents),
            unpriced,
            roof_in2: roof_in2.round() as i64,
        }
    }

    /// A section by its place.
    #[must_use]
    pub fn section(&self, wood: u16) -> &Section {
        &self.sections[usize::from(wood)].0
    }

    /// A piece that is too long: its section, its length as cut, and the longest piece that a stick
    /// gives.
    #[must_use]
    pub fn too_long(&self, piece: TooLong) -> (&Section, Length, Length) {
        let (section, _, rates) = &self.sections[usize::from(piece.wood)];
        let length = |units: i64| inches(units as f64 / rates.units_per_inch);
        (section, length(piece.units), length(rates.longest))
    }
}
