//! One list for the yard: what, how many, how long, where it goes, by trade.

use crate::catalog::lumber::Section;
use crate::catalog::panels::{self, Panel};
use crate::catalog::species::Species;
use crate::catalog::{coverage, design_values};
use crate::deck::{Deck, DeckProof, EdgeSupport, RoofDeck, edge_support, edge_support_at};
use crate::frame::Frame;
use crate::measure::quantity::{in_inches, in_square_feet, inches};
use crate::measure::{Length, Units, Writing, trim};
use crate::plan::OrderPlan;
use crate::strength::weight::lumber_lb_per_ft3;

use super::fasteners::{self, NailTotal, PanelNailing};
use super::goods;
use super::lumber::{self, SectionOrder};
use super::prices::Prices;

/// The trades, in the order of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trade {
    /// Sticks of the roof.
    Lumber,
    /// Top plates.
    Walls,
    /// Panels and clips.
    Sheathing,
    /// Nails.
    Nails,
    /// Ties and straps by rated load.
    Connectors,
    /// Covering, underlayment, edges.
    Roofing,
    /// Vents by net free area.
    Vents,
    /// Soffit panels.
    Soffit,
}

impl Trade {
    /// Its name on the list.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Trade::Lumber => "lumber",
            Trade::Walls => "lumber for the walls",
            Trade::Sheathing => "sheathing",
            Trade::Nails => "nails",
            Trade::Connectors => "ties",
            Trade::Roofing => "roofing",
            Trade::Vents => "vents",
            Trade::Soffit => "soffit",
        }
    }
}

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Trade.
    pub trade: Trade,
    /// What a prices file calls it; sticks are priced by section and length.
    pub key: String,
    /// What it is.
    pub what: String,
    /// Length of one, where it is sold by length.
    pub length: Option<Length>,
    /// How many, in whole units.
    pub count: u64,
    /// The unit it is bought in: `pc`, `sheet`, `lb`, `roll`, `bundle`, `ft`.
    pub unit: &'static str,
    /// Where it goes.
    pub goes_to: String,
    /// How it is counted, and by what figure.
    pub basis: String,
    /// Price of one unit, cents; zero for sticks in hand.
    pub each_cents: Option<i64>,
    /// Weight of all, pounds; `None` where it is not known.
    pub weight_lb: Option<f64>,
    /// What all of it measures as lumber; `None` for other goods.
    pub lumber: Option<Sawn>,
    /// The yard's code for it.
    pub code: Option<String>,
    /// True for what is on site already.
    pub in_hand: bool,
}

/// How much lumber: what a yard bills, and what a truck carries.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sawn {
    /// Board feet, by nominal sides.
    pub board_feet: f64,
    /// Volume by actual sides, cubic inches.
    pub in3: f64,
}

impl std::iter::Sum for Sawn {
    fn sum<I: Iterator<Item = Sawn>>(all: I) -> Sawn {
        all.fold(Sawn::default(), |sum, one| Sawn {
            board_feet: sum.board_feet + one.board_feet,
            in3: sum.in3 + one.in3,
        })
    }
}

impl Line {
    /// True for sticks of lumber, which a prices file names by section and length.
    #[must_use]
    pub fn is_stick(&self) -> bool {
        matches!(self.trade, Trade::Lumber | Trade::Walls)
    }

    /// Price of all, cents.
    #[must_use]
    pub fn cost_cents(&self) -> Option<i64> {
        self.each_cents
            .map(|each| each * i64::try_from(self.count).unwrap_or(i64::MAX / 1_000_000_000))
    }
}

/// The whole order.
#[derive(Debug, Clone)]
pub struct Order {
    /// The list, by trade.
    pub lines: Vec<Line>,
    /// The cutting plan of each section.
    pub sections: Vec<SectionOrder>,
    /// The laid deck.
    pub deck: Deck,
    /// What was asked of it.
    pub roof_deck: RoofDeck,
    /// The panel.
    pub panel: &'static Panel,
    /// What its edges need.
    pub support: EdgeSupport,
    /// Nails by kind.
    pub nails: Vec<NailTotal>,
    /// How the panels are nailed.
    pub panel_nailing: PanelNailing,
    /// Area of both planes as covered, square feet.
    pub roof_ft2: f64,
    /// What the density of the lumber rests on.
    pub density: String,
    /// What the prices file says of itself.
    pub prices_note: Option<String>,
    /// What prices are in.
    pub currency: Option<String>,
    /// Tax on the whole, percent.
    pub tax_percent: Option<f64>,
    /// True if a prices file was given.
    pub priced: bool,
    /// What was assumed or found wanting.
    pub notes: Vec<String>,
    /// What the roof takes and no line counts, each with the reason.
    pub left_out: Vec<String>,
}

impl Order {
    /// Thickness of the roof panels: as written, else the least that their rating is made in.
    #[must_use]
    pub fn panel_thickness(&self, plan: &OrderPlan) -> Length {
        inches(goods::panel_thickness_in(plan, self.panel))
    }

    /// Puts the order together from what was framed, laid and cut.
    #[must_use]
    pub fn new(
        plan: &OrderPlan,
        frame: &Frame,
        roof_deck: RoofDeck,
        deck: Deck,
        sections: Vec<SectionOrder>,
        prices: Option<&Prices>,
        units: Units,
    ) -> Order {
        let none = Prices::default();
        let known = prices.unwrap_or(&none);
        let writing = match units {
            Units::Millimeters => Writing::METRIC,
            _ => Writing::default(),
        };
        let mut notes = frame
            .notes
            .iter()
            .map(|note| note.write(writing))
            .chain(roof_deck.notes.iter().cloned())
            .chain(deck.hints(&roof_deck.ask, writing))
            .collect::<Vec<_>>();
        let (density_lb_ft3, density) = density(plan.checks.species);
        let mut lines = sticks(&sections, density_lb_ft3, units, &mut notes);
        let (panel, support) = panel(plan, &deck, &mut notes);
        let goods = goods::Roof { plan, frame, roof_deck: &roof_deck, deck: &deck, prices: known };
        let thickness_in = goods::panel_thickness_in(plan, panel);
        let mut uses = fasteners::of_frame(frame, &plan.checks, &mut notes);
        let panel_nailing = fasteners::panel_nailing(&plan.checks, thickness_in);
        uses.push(fasteners::of_deck(&deck, &panel_nailing));
        let edge_in = panel_nailing.edge_in;
        uses.extend(goods.sheathing(panel, support, edge_in, &mut lines, &mut notes));
        uses.extend(goods.roofing(&mut lines, &mut notes));
        uses.extend(goods.vents(&mut lines, &mut notes));
        let nails = fasteners::totals(uses, plan.buy.spare_nails);
        goods.nails(&nails, &mut lines);
        goods.connectors(&mut lines, &mut notes);
        goods.soffit(&mut lines, &mut notes);
        let left_out = goods.left_out(&lines);
        for line in &mut lines {
            // a block between rafters is lumber too, wherever it is listed
            if let Some(lumber) = line.lumber {
                line.weight_lb = Some(lumber.in3 / 1728.0 * density_lb_ft3);
            }
        }
        for line in &lines {
            let on_hand = known.item(&line.key).and_then(|terms| terms.on_hand);
            let count = i64::try_from(line.count).unwrap_or(i64::MAX);
            if let Some(on_hand) = on_hand.filter(|on_hand| *on_hand < count) {
                notes.push(format!(
                    "{}: {count} {} are needed, and the prices file has {on_hand} on hand.",
                    line.key, line.unit
                ));
            }
        }
        lines.sort_by_key(|line| line.trade);
        Order {
            roof_ft2: in_square_feet(goods.area()),
            lines,
            sections,
            deck,
            roof_deck,
            panel,
            support,
            nails,
            panel_nailing,
            density,
            prices_note: prices.and_then(|prices| prices.note.clone()),
            currency: prices.and_then(|prices| prices.currency.clone()),
            tax_percent: prices.and_then(|prices| prices.tax_percent),
            priced: prices.is_some(),
            notes,
            left_out,
        }
    }

    /// Lumber of all lines, without what is in hand.
    #[must_use]
    pub fn lumber(&self) -> Sawn {
        self.lines.iter().filter(|line| !line.in_hand).filter_map(|line| line.lumber).sum()
    }

    /// Sum of all lines that have a price, cents.
    #[must_use]
    pub fn total_cents(&self) -> i64 {
        self.lines.iter().filter_map(Line::cost_cents).sum()
    }

    /// Tax on that sum, rounded to the cent; `None` if no tax is set.
    #[must_use]
    pub fn tax_cents(&self) -> Option<i64> {
        self.tax_percent.map(|percent| (self.total_cents() as f64 * percent / 100.0).round() as i64)
    }

    /// Lines that have no price.
    pub fn without_price(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.each_cents.is_none())
    }

    /// Weight of all lines that is known, without what is in hand, pounds.
    #[must_use]
    pub fn weight_lb(&self) -> f64 {
        self.lines.iter().filter(|line| !line.in_hand).filter_map(|line| line.weight_lb).sum()
    }

    /// What the weight leaves out.
    #[must_use]
    pub fn not_weighed(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self
            .lines
            .iter()
            .filter(|line| line.weight_lb.is_none() && !line.in_hand)
            .map(|line| line.what.as_str())
            .collect();
        names.dedup();
        names
    }

    /// True if every section's plan and the deck are proven.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.sections.iter().all(SectionOrder::proven) && self.deck_proven()
    }

    /// True if the deck is proven.
    #[must_use]
    pub fn deck_proven(&self) -> bool {
        !matches!(self.deck.proof(), DeckProof::Open { .. })
    }

    /// True if something of the order fails a rule of the code.
    #[must_use]
    pub fn fails(&self) -> bool {
        matches!(self.support, EdgeSupport::Fails { .. })
    }
}

/// Sticks of one section and length.
pub(super) fn sawn(section: &Section, length: Length, count: u64) -> Sawn {
    let sides = section.thickness_in() * section.depth_in();
    Sawn {
        board_feet: lumber::board_feet(section, length) * count as f64,
        in3: sides * in_inches(length) * count as f64,
    }
}

/// Density of lumber as it is delivered, lb per cubic foot, and what it rests on ([`lumber_lb_per_ft3`]).
#[must_use]
pub fn density(species: Option<Species>) -> (f64, String) {
    let moisture = coverage::value("moisture_percent");
    let heaviest = || {
        Species::ALL
            .into_iter()
            .max_by(|a, b| {
                design_values::specific_gravity(*a).total_cmp(&design_values::specific_gravity(*b))
            })
            .unwrap_or(Species::SouthernPine)
    };
    let of = species.unwrap_or_else(heaviest);
    let gravity = design_values::specific_gravity(of);
    let density = lumber_lb_per_ft3(of);
    let assumed = if species.is_none() { ", the heaviest, since no species is set" } else { "" };
    (
        density,
        format!(
            "{of}{assumed}: specific gravity {gravity}, {} lb per cubic foot ({} kg per cubic meter) at {} percent moisture",
            trim(density, 1),
            // 1 lb per cubic foot is 0.45359237 / 0.3048^3 kg per cubic meter
            trim(density * 0.453_592_37 / 0.3048_f64.powi(3), 0),
            trim(moisture, 0)
        ),
    )
}

fn sticks(
    sections: &[SectionOrder],
    density_lb_ft3: f64,
    units: Units,
    notes: &mut Vec<String>,
) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut long = false;
    for section in sections {
        let ask = &section.ask;
        let name = ask.section.write(units);
        let trade = if ask.walls { Trade::Walls } else { Trade::Lumber };
        let sticks = |length: Length, count: i64, spare: i64| {
            let count = u64::try_from(count + spare).unwrap_or(0);
            let lumber = sawn(&ask.section, length, count);
            Line {
                trade,
                key: format!("{name} {}", lumber::length_name(length, ask.names_meters)),
                what: name.clone(),
                length: Some(length),
                count,
                unit: "pc",
                goes_to: String::new(),
                basis: String::new(),
                each_cents: None,
                weight_lb: Some(lumber.in3 / 1728.0 * density_lb_ft3),
                lumber: Some(lumber),
                code: None,
                in_hand: false,
            }
        };
        let for_culls = |spare: i64| {
            if spare > 0 { format!(", {spare} of them for culls") } else { String::new() }
        };
        for (stock, count) in section.used() {
            let spare = stock.in_hand.map_or_else(|| ask.spare(count), |_| 0);
            long |= stock.in_hand.is_none() && in_inches(stock.length) > 240.0 + 1e-6;
            lines.push(Line {
                goes_to: section.goes_to(stock).join(", "),
                basis: if stock.in_hand.is_some() {
                    "in hand".into()
                } else if section.proven() {
                    format!("cutting plan, proven best (stepoff cuts){}", for_culls(spare))
                } else {
                    format!("cutting plan, not proven best (stepoff cuts){}", for_culls(spare))
                },
                each_cents: stock.cents,
                code: stock.code.clone(),
                in_hand: stock.in_hand.is_some(),
                ..sticks(stock.length, count, spare)
            });
        }
        for part in &ask.too_long {
            let spare = ask.spare(part.count);
            lines.push(Line {
                what: format!("{name}, special length"),
                goes_to: part.name(),
                basis: format!("longer than every length that can be bought{}", for_culls(spare)),
                ..sticks(ask.special_length(part), part.count, spare)
            });
            notes.push(format!(
                "{} is longer than every stick of {name} that can be bought: order it by its length.",
                part.name()
            ));
        }
    }
    if long && sections.iter().any(|section| !section.ask.priced()) {
        notes.push(
            "Sticks over 20 ft may not be stocked: name the yard's lengths in the roof file (order.lengths) or in a prices file.".into(),
        );
    }
    lines
}

/// The panel asked for, else the thinnest of at least 7/16 in whose edges need no support in the widest bay.
fn panel(plan: &OrderPlan, deck: &Deck, notes: &mut Vec<String>) -> (&'static Panel, EdgeSupport) {
    if let Some(panel) = plan.checks.panel {
        let thickness_in = plan.checks.panel_thickness.map(in_inches);
        return (panel, edge_support_at(deck, panel, thickness_in));
    }
    let usual = ["24/16", "32/16", "40/20", "48/24", "60/32"];
    let known = || usual.into_iter().filter_map(Panel::rated);
    let fitting = known()
        .find(|panel| matches!(edge_support(deck, panel), EdgeSupport::NotNeeded { .. }))
        .or_else(|| known().next_back())
        .unwrap_or(&panels::panels()[0]);
    notes.push(format!(
        "No panel is set under [sheathing]: {} is taken, the thinnest from 7/16 in on that spans the rafters without edge \
         support; snow and local code may ask for more.",
        fitting.rating
    ));
    (fitting, edge_support(deck, fitting))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lumber_weighs_what_its_gravity_says() {
        // G 0.50 at 19 percent: 62.4 x 0.5 / 1.0855 x 1.19 = 34.20 lb per cubic foot
        let (fir, words) = density(Some(Species::DouglasFirLarch));
        assert!((fir - 34.204).abs() < 0.01, "{fir}");
        assert!(!words.contains("heaviest"));
        let (unknown, words) = density(None);
        assert!(unknown > fir && words.contains("Southern pine, the heaviest"), "{words}");
    }
}
