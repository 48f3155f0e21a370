//! The pieces of each section of a frame, in the form that the cutting solver takes.

use crate::catalog::lumber::Section;
use crate::frame::{self, Frame, Role};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Length, Units};
use crate::plan::{BuyPlan, Sticks};

use super::super::cutting::{CuttingProblem, Piece, Stock};
use super::super::prices::Prices;
use super::super::roofs::Tag;
use super::stock::{self, StockLength};

/// What a piece is for.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Mark of its pattern in the frame, after the roof's letter if the order is for several roofs; a
    /// piece beyond the frame has only the letter, or none.
    pub mark: Option<String>,
    /// What it is, in the trade's words.
    pub what: String,
    /// Its blank, as measured on the solid, not rounded.
    pub blank: Length,
    /// How many.
    pub count: i64,
}

impl Part {
    /// `common rafter R1`.
    #[must_use]
    pub fn name(&self) -> String {
        match &self.mark {
            Some(mark) => format!("{} {mark}", self.what),
            None => self.what.clone(),
        }
    }
}

/// Everything to be cut of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionAsk {
    /// The section.
    pub section: Section,
    /// True for top plates, which belong to the walls.
    pub walls: bool,
    /// The pieces to cut, in the order of the problem's pieces.
    pub parts: Vec<Part>,
    /// Parts that are longer than every stick.
    pub too_long: Vec<Part>,
    /// What they are cut from, in the order of the problem's stock.
    pub stock: Vec<StockLength>,
    /// Every length that can be bought, including those that this roof does not use.
    pub yard: Vec<StockLength>,
    /// True if lengths without a price are ruled out because others have one.
    pub only_priced: bool,
    /// Without prices, longer sticks are bought only if a piece needs one.
    pub long: Length,
    /// Without prices, at most this many different lengths are bought.
    pub different_lengths: usize,
    /// Lengths left out to keep to that number.
    pub left_out: Vec<Length>,
    /// True if blanks are rounded up to the millimeter, false for 1/16 in.
    pub metric: bool,
    /// True if stock lengths are also named in meters.
    pub names_meters: bool,
    /// Sticks beyond the plan, percent of each length.
    pub culls: f64,
    /// The problem as it is solved.
    problem: CuttingProblem,
}

/// A frame with its sticks to cut, and how they are bought.
#[derive(Debug, Clone)]
pub struct Framed<'a> {
    /// How its roof is called and how often it is built.
    pub tag: Tag,
    /// Its sticks.
    pub sticks: frame::Sticks<'a>,
    /// How its lumber is bought.
    pub buy: &'a BuyPlan,
}

impl<'a> Framed<'a> {
    /// The frame of the only roof file.
    #[must_use]
    pub fn only(frame: &'a Frame, buy: &'a BuyPlan) -> Framed<'a> {
        Framed { tag: Tag::only(None, buy.buildings), sticks: frame.sticks(), buy }
    }

    /// Every part of all its buildings, with its section and whether it belongs to the walls.
    fn parts(&self) -> Vec<(&Section, bool, Part)> {
        let buildings = i64::from(self.tag.buildings);
        let mut parts = Vec::new();
        for member in self.sticks.members {
            let walls = member.role == Role::Plate;
            let layers = if walls { self.buy.plate_layers } else { 1 };
            if layers > 0 {
                let part = Part {
                    mark: Some(self.tag.mark(&member.mark)),
                    what: member.role.words().to_owned(),
                    blank: member.blank(),
                    count: member.count() as i64 * i64::from(layers) * buildings,
                };
                parts.push((&member.stick.section, walls, part));
            }
        }
        parts.extend(self.buy.extra.iter().map(|sticks| {
            let part = Part {
                mark: self.tag.letter.clone(),
                what: "extra piece".into(),
                blank: sticks.length,
                count: i64::from(sticks.count) * buildings,
            };
            (&sticks.section, false, part)
        }));
        parts
    }
}

/// The pieces of every section of all frames together, with the walls' plates separate, by section.
///
/// Lumber is bought the same way for all of them ([`crate::plan::together`]), as in the first. Blanks
/// are rounded up to 1/16 in, or to 1 mm if the stock is in millimeters (a stick whole in millimeters,
/// not in 1/16 in). `units` only name lengths: the order of a roof is the same in all units.
#[must_use]
pub fn asks(frames: &[Framed<'_>], prices: &Prices, units: Units) -> Vec<SectionAsk> {
    let Some(first) = frames.first() else {
        return Vec::new();
    };
    let mut groups: Vec<(Section, bool, Vec<Part>)> = Vec::new();
    for (section, walls, part) in frames.iter().flat_map(Framed::parts) {
        let same = |group: &&mut (Section, bool, Vec<Part>)| {
            group.1 == walls
                && (group.0.thickness, group.0.depth) == (section.thickness, section.depth)
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.2.push(part),
            None => groups.push((section.clone(), walls, vec![part])),
        }
    }
    groups.sort_by(|a, b| {
        let key = |group: &(Section, bool, Vec<Part>)| {
            (group.1, group.0.thickness_in(), group.0.depth_in())
        };
        key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    let in_hand: Vec<&Sticks> = frames.iter().flat_map(|of| &of.buy.in_hand).collect();
    // sticks in hand go to the roof first, and to the plates only if the roof has none of the section
    groups
        .iter()
        .map(|(section, walls, parts)| {
            let roof_has_it = groups.iter().any(|(other, of_walls, _)| {
                !of_walls && (other.thickness, other.depth) == (section.thickness, section.depth)
            });
            let in_hand = if *walls && roof_has_it { &[] } else { in_hand.as_slice() };
            ask(section.clone(), *walls, parts.clone(), (first.buy, in_hand), prices, units)
        })
        .collect()
}

pub(super) fn ask(
    section: Section,
    walls: bool,
    parts: Vec<Part>,
    (buy, in_hand): (&BuyPlan, &[&Sticks]),
    prices: &Prices,
    units: Units,
) -> SectionAsk {
    let yard: Vec<StockLength> = stock::bought(&section, buy, prices);
    let blanks: Vec<Length> = parts.iter().map(|part| part.blank).collect();
    let mut stock = stock::carried(&yard, &blanks, buy);
    let longest_bought = yard.iter().map(|stock| stock.length).fold(Length::default(), Length::max);
    for sticks in in_hand {
        if (sticks.section.thickness, sticks.section.depth) == (section.thickness, section.depth) {
            stock.push(StockLength::in_hand(sticks.length, sticks.count));
        }
    }
    let metric = stock::by_millimeters(&section, &stock);
    let names_meters = units == Units::Millimeters || metric;
    let units_per_inch = if metric { 25.4 } else { 16.0 };
    let up = |length: Length| (length.inches() * units_per_inch - HAIR).ceil() as i64;
    let down = |length: Length| (length.inches() * units_per_inch + HAIR).floor() as i64;
    let end_trim = up(buy.end_trim);
    stock.retain(|stock| down(stock.length) > end_trim);
    // with some prices missing, the plan is the one of least length
    let priced = stock.iter().all(|stock| stock.cents.is_some());
    // a part that fits only a stick in hand can't be relied on: there may be too few such sticks
    let limit = down(longest_bought) - end_trim;
    let (parts, too_long): (Vec<Part>, Vec<Part>) =
        parts.into_iter().partition(|part| up(part.blank) <= limit);
    let problem = CuttingProblem {
        units_per_inch,
        kerf: up(buy.kerf),
        end_trim,
        stock: stock
            .iter()
            .map(|stock| Stock {
                label: stock::stock_name(&section, stock, names_meters),
                length: down(stock.length),
                price_cents: stock.cents.filter(|_| priced || stock.in_hand.is_some()),
                quantity: stock.in_hand.or(stock.available),
            })
            .collect(),
        pieces: parts
            .iter()
            .map(|part| Piece {
                label: part.name(),
                length: up(part.blank),
                quantity: part.count,
                may_splice: false,
            })
            .collect(),
    };
    SectionAsk {
        section,
        walls,
        parts,
        too_long,
        stock,
        only_priced: !prices.all_lengths && yard.iter().any(|stock| stock.cents.is_some()),
        yard,
        long: buy.long,
        different_lengths: buy.different_lengths,
        left_out: Vec::new(),
        metric,
        names_meters,
        culls: buy.culls,
        problem,
    }
}

impl SectionAsk {
    /// Order length of a part that is too long for every stick: its blank and the end trim, rounded up
    /// as blanks are cut.
    #[must_use]
    pub fn special_length(&self, part: &Part) -> Length {
        let units = self.problem.units_per_inch;
        let blank = (part.blank.inches() * units - HAIR).ceil();
        inches((blank + self.problem.end_trim as f64) / units)
    }

    /// Extra sticks for culls, for a planned number of one length.
    #[must_use]
    pub fn spare(&self, planned: i64) -> i64 {
        (planned as f64 * self.culls / 100.0 - LAST_BITS).ceil().max(0.0) as i64
    }

    /// All parts; those too long for every stick come last.
    pub fn all_parts(&self) -> impl Iterator<Item = &Part> {
        self.parts.iter().chain(&self.too_long)
    }

    /// The problem; without prices, with unpriced sticks.
    #[must_use]
    pub fn problem(&self) -> &CuttingProblem {
        &self.problem
    }

    /// True if the lengths that are bought have prices, each of them.
    #[must_use]
    pub fn priced(&self) -> bool {
        let mut bought = self.stock.iter().filter(|stock| stock.in_hand.is_none()).peekable();
        bought.peek().is_some() && bought.all(|stock| stock.cents.is_some())
    }

    /// The lengths that a piece is held against, in words: `2x6 that can be bought`.
    #[must_use]
    pub fn that_can_be_bought(&self, name: &str) -> String {
        let which = if self.only_priced { "with a price" } else { "that can be bought" };
        format!("{name} {which}")
    }

    /// The same pieces from these of the bought lengths, and from sticks in hand.
    #[must_use]
    pub fn of_lengths(&self, chosen: &[usize]) -> SectionAsk {
        let mut ask = self.clone();
        let stays = |k: usize| self.stock[k].in_hand.is_some() || chosen.contains(&k);
        let stays: Vec<bool> = (0..self.stock.len()).map(stays).collect();
        let mut of = stays.iter();
        ask.stock.retain(|_| of.next() == Some(&true));
        let mut of = stays.iter();
        ask.problem.stock.retain(|_| of.next() == Some(&true));
        let out = self.stock.iter().zip(&stays).filter(|(_, stays)| !**stays);
        ask.left_out = out.map(|(stock, _)| stock.length).collect();
        ask
    }
}
