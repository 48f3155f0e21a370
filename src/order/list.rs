//! One list for the lumberyard: what, how many, how long, where it goes, by trade.

use std::collections::BTreeSet;

use crate::catalog::panels::Panel;
use crate::deck::{Deck, DeckProof, EdgeSupport, RoofDeck};
use crate::frame::{Frame, Sticks};
use crate::measure::quantity::{in_square_feet, square_inches};
use crate::measure::{Amount, Length, Note, Units, Writing};
use crate::plan::OrderPlan;
use crate::solve::{Floor, Total};

use super::density::density;
use super::fasteners::{self, NailTotal, PanelNailing};
use super::goods::sheathing::{self, OfFaces};
use super::goods::{self, Covered, Sheathed, soffit};
use super::line::{Line, Sawn, Trade, of_unit};
use super::lumber::{Measure, SectionOrder};
use super::need::{self, Need};
use super::prices::Prices;
use super::roofs::{self, Tag};
use super::sticks;

/// One roof that is ordered: its plan, framed and laid.
#[derive(Debug)]
pub struct Roof<'a> {
    /// How it is called and how often it is built.
    pub tag: Tag,
    /// Its plan.
    pub plan: &'a OrderPlan,
    /// Its sticks.
    pub sticks: Sticks<'a>,
    /// Its deck as laid, with its input; `None` where faces of any outline are covered.
    pub laid: Option<(RoofDeck, Deck)>,
}

/// The sheets of one building.
#[derive(Debug, Clone)]
pub enum Sheets {
    /// Laid one by one, with the input.
    Laid(Box<(RoofDeck, Deck)>),
    /// Of faces of any outline.
    OfFaces(OfFaces),
}

impl Sheets {
    /// The laid deck, with its input.
    #[must_use]
    pub fn laid(&self) -> Option<(&RoofDeck, &Deck)> {
        match self {
            Sheets::Laid(laid) => Some((&laid.0, &laid.1)),
            Sheets::OfFaces(_) => None,
        }
    }

    /// How many are bought.
    #[must_use]
    pub fn count(&self) -> usize {
        match self {
            Sheets::Laid(laid) => laid.1.sheets(),
            Sheets::OfFaces(of) => of.sheets,
        }
    }

    /// How many there must be at least.
    #[must_use]
    pub fn least(&self) -> usize {
        match self {
            Sheets::Laid(laid) => laid.1.lower_bound_sheets(),
            Sheets::OfFaces(of) => of.least,
        }
    }
}

impl<'a> Roof<'a> {
    /// The roof of an order for one roof file.
    #[must_use]
    pub fn only(
        plan: &'a OrderPlan,
        frame: &'a Frame,
        roof_deck: RoofDeck,
        deck: Deck,
    ) -> Roof<'a> {
        let tag = Tag::only(plan.gable.rafter.name.as_deref(), plan.buy.buildings);
        Roof { tag, plan, sticks: frame.sticks(), laid: Some((roof_deck, deck)) }
    }

    /// What it takes beside lumber, its sheets, and the area of its planes as covered, square feet.
    fn goods(self) -> (goods::Taken, Sheets, f64) {
        let (plan, sticks) = (self.plan, self.sticks);
        let of = |covered: Covered, deck: Sheathed<'_>| {
            let roof = goods::Roof { plan, sticks, covered, deck };
            let area_ft2 = in_square_feet(square_inches(roof.covered.area_in2()));
            (goods::of(&roof), roof.deck.of_faces(&plan.deck), area_ft2)
        };
        if let (Some(frame), Some((roof_deck, deck))) = (sticks.gable, self.laid) {
            let along = deck.planes.first().map_or(Length::default(), |one| one.length.length());
            let covered = Covered::of_gable(plan, frame, &roof_deck, along);
            let (taken, _, area_ft2) = of(covered, Sheathed::Gable(&deck));
            return (taken, Sheets::Laid(Box::new((roof_deck, deck))), area_ft2);
        }
        let frame = sticks.hung.expect("a roof without a laid deck is no gable");
        let (taken, of_faces, area_ft2) =
            of(Covered::of_faces(plan, frame), Sheathed::of_frame(plan, frame));
        (taken, Sheets::OfFaces(of_faces), area_ft2)
    }
}

/// Weighs what is lumber: a block between rafters is, too, wherever it is listed.
fn weigh(lines: &mut [Line], density_lb_ft3: f64) {
    for line in lines {
        if let Some(lumber) = line.lumber {
            line.weight_lb = Some(lumber.in3 / 1728.0 * density_lb_ft3);
        }
    }
}

/// Takes the floor off what another deck may need fewer of: nails, clips and blocks. Its sheets have their own floor.
fn leave_to_deck(lines: &mut [Line]) {
    let by_deck = |line: &&mut Line| {
        matches!(line.trade, Trade::Nails | Trade::Sheathing) && line.unit != "sheet"
    };
    for line in lines.iter_mut().filter(by_deck) {
        line.least_count = Floor::ZERO;
    }
}

/// One building of a roof on the order.
#[derive(Debug, Clone)]
pub struct Building {
    /// How its roof is called and how many buildings have it.
    pub tag: Tag,
    /// Its sheets.
    pub sheets: Sheets,
    /// The panel.
    pub panel: &'static Panel,
    /// Its thickness: as given, otherwise the least in which its rating is made.
    pub panel_thickness: Length,
    /// What its edges need.
    pub support: EdgeSupport,
    /// Nails by kind, of one building.
    pub nails: Vec<NailTotal>,
    /// How the panels are nailed.
    pub panel_nailing: PanelNailing,
    /// Area of its planes as covered, square feet.
    pub roof_ft2: f64,
}

impl Building {
    /// True if its deck is proven.
    fn deck_proven(&self) -> bool {
        let open = |deck: &Deck| matches!(deck.proof(), DeckProof::Open { .. });
        self.sheets.laid().is_some_and(|(_, deck)| !open(deck))
    }
}

/// The whole order.
#[derive(Debug, Clone)]
pub struct Order {
    /// The list, by trade.
    pub lines: Vec<Line>,
    /// The cutting plan of each section.
    pub sections: Vec<SectionOrder>,
    /// What is built; one at least.
    pub buildings: Vec<Building>,
    /// Nails by kind, of all buildings.
    pub nails: Vec<NailTotal>,
    /// Density of the lumber, pounds per cubic foot.
    pub density_lb_ft3: f64,
    /// Where the density of the lumber comes from.
    pub density: Note,
    /// The note in the prices file.
    pub prices_note: Option<String>,
    /// What prices are in.
    pub currency: Option<String>,
    /// Tax on the whole, percent.
    pub tax_percent: Option<f64>,
    /// True if there is a prices file.
    pub priced: bool,
    /// What was assumed or found wanting.
    pub notes: Vec<Note>,
    /// Those of them on how the deck is laid.
    pub deck_notes: Vec<Note>,
    /// What the roof needs but the order does not count, each with the reason.
    pub left_out: Vec<Note>,
}

impl Order {
    /// Makes the order from the roofs, at least one, and from the cutting plans of all their lumber.
    ///
    /// # Panics
    /// Without a roof.
    #[must_use]
    pub fn new(
        roofs: Vec<Roof<'_>>,
        sections: Vec<SectionOrder>,
        prices: Option<&Prices>,
        units: Units,
    ) -> Order {
        let none = Prices::default();
        let known = prices.unwrap_or(&none);
        let tags: Vec<Tag> = roofs.iter().map(|roof| roof.tag.clone()).collect();
        let first = &roofs.first().expect("an order is for one roof at least").plan;
        let spare_nails = first.buy.spare_nails;
        let species = roofs.iter().find_map(|roof| roof.plan.checks.species);
        let (density_lb_ft3, density) = density(species);

        let of_decks: Vec<Vec<Note>> = roofs.iter().map(deck_notes).collect();
        let own: Vec<Vec<Note>> = roofs
            .iter()
            .zip(&of_decks)
            .map(|(roof, of_deck)| roof.sticks.notes.iter().chain(of_deck).cloned().collect())
            .collect();
        let mut notes = roofs::notes(&own, &tags);
        let mut lines = sticks::lines(&sections, density_lb_ft3, units, &mut notes);
        let mut needs: Vec<Vec<Need>> = Vec::new();
        let mut soffits = Vec::new();
        let mut uses = Vec::new();
        let (mut of_goods, mut left_out) = (Vec::new(), Vec::new());
        let mut buildings = Vec::new();
        for roof in roofs {
            let (tag, plan) = (roof.tag.clone(), roof.plan);
            let (taken, sheets, roof_ft2) = roof.goods();
            needs.push(taken.needs);
            soffits.push(taken.soffit);
            of_goods.push(taken.notes);
            left_out.push(taken.left_out);
            let times = u64::from(tag.buildings);
            uses.extend(taken.nails.iter().map(|one| one.times(times)));
            let nails = fasteners::totals(taken.nails, spare_nails);
            buildings.push(Building {
                panel_thickness: sheathing::thickness(plan, taken.panel),
                tag,
                sheets,
                panel: taken.panel,
                support: taken.support,
                nails,
                panel_nailing: taken.panel_nailing,
                roof_ft2,
            });
        }
        notes.extend(roofs::notes(&of_goods, &tags));
        let nails = fasteners::totals(uses, spare_nails);
        lines.extend(need::lines(&needs, &tags, known));
        // what is counted over all buildings belongs to the order, not to one roof
        let of_all = [Tag::only(None, 1)];
        let shared =
            [fasteners::needs(&nails, spare_nails), soffit::needs(&soffits, &tags, &mut notes)];
        lines.extend(shared.into_iter().flat_map(|needs| need::lines(&[needs], &of_all, known)));
        weigh(&mut lines, density_lb_ft3);
        if !buildings.iter().all(Building::deck_proven) {
            leave_to_deck(&mut lines);
        }
        notes.extend(lines.iter().filter_map(|line| not_on_hand(line, known)));
        lines.sort_by_key(|line| line.trade);
        Order {
            lines,
            sections,
            buildings,
            nails,
            density_lb_ft3,
            density,
            prices_note: prices.and_then(|prices| prices.note.clone()),
            currency: prices.and_then(|prices| prices.currency.clone()),
            tax_percent: prices.and_then(|prices| prices.tax_percent),
            priced: prices.is_some(),
            notes,
            deck_notes: roofs::notes(&of_decks, &tags),
            left_out: roofs::notes(&left_out, &tags),
        }
    }

    /// The first building: the only one of an order for one roof file.
    #[must_use]
    pub fn first(&self) -> &Building {
        &self.buildings[0]
    }

    /// How its roofs are called.
    #[must_use]
    pub fn tags(&self) -> Vec<Tag> {
        self.buildings.iter().map(|building| building.tag.clone()).collect()
    }

    /// How many buildings it is for.
    #[must_use]
    pub fn building_count(&self) -> u64 {
        self.buildings.iter().map(|building| u64::from(building.tag.buildings)).sum()
    }

    /// A figure of one building, summed over all.
    fn sum(&self, of: impl Fn(&Building) -> f64) -> f64 {
        self.buildings.iter().map(|one| of(one) * f64::from(one.tag.buildings)).sum()
    }

    /// Area of all roofs as covered, square feet.
    #[must_use]
    pub fn roof_ft2(&self) -> f64 {
        self.sum(|building| building.roof_ft2)
    }

    /// Sheets of all decks.
    #[must_use]
    pub fn sheets(&self) -> usize {
        self.buildings.iter().map(|one| one.sheets.count() * one.tag.buildings as usize).sum()
    }

    /// Proven: under the laying rules no layouts take fewer sheets, with separate sheets for each
    /// building; of planes that are not laid, their area alone needs as many.
    #[must_use]
    pub fn least_sheets(&self) -> usize {
        let least = |one: &Building| one.sheets.least() * one.tag.buildings as usize;
        self.buildings.iter().map(least).sum()
    }

    /// Lumber of all lines, without what is in hand.
    #[must_use]
    pub fn lumber(&self) -> Sawn {
        self.lines.iter().filter(|line| !line.in_hand).filter_map(|line| line.lumber).sum()
    }

    /// The order's total in a measure, with the floor of everything not proven best yet: cutting plans,
    /// soffit strips, decks. Lines without a price count for nothing if their key is in `left_out`;
    /// with any other, the cost is unknown.
    #[must_use]
    pub fn total(&self, measure: Measure, left_out: &BTreeSet<String>) -> Total {
        let sticks = self.sections.iter().map(|section| section.total(measure));
        let lines = self.lines.iter().filter(|line| !line.is_stick()).map(|line| {
            let free = measure == Measure::Cost
                && line.each_cents.is_none()
                && left_out.contains(&line.key);
            if free { Total::ZERO } else { line.total(measure) }
        });
        sticks.chain(lines).sum()
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

    /// Known weight of all lines, without sticks in hand, pounds.
    #[must_use]
    pub fn weight_lb(&self) -> f64 {
        self.lines.iter().filter(|line| !line.in_hand).filter_map(|line| line.weight_lb).sum()
    }

    /// What the weight leaves out.
    #[must_use]
    pub fn not_weighed(&self) -> Vec<&Note> {
        let mut names: Vec<&Note> = self
            .lines
            .iter()
            .filter(|line| line.weight_lb.is_none() && !line.in_hand)
            .map(|line| &line.what)
            .collect();
        names.dedup();
        names
    }

    /// True if every section's plan and every deck is proven.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.sections.iter().all(SectionOrder::proven) && self.deck_proven()
    }

    /// True if every deck is proven.
    fn deck_proven(&self) -> bool {
        self.buildings.iter().all(Building::deck_proven)
    }

    /// True if something of the order fails a rule of the code.
    #[must_use]
    pub fn fails(&self) -> bool {
        self.buildings.iter().any(|one| matches!(one.support, EdgeSupport::Fails { .. }))
    }
}

/// Where to read on about the deck.
pub const LOWER_STRIPS: &str = "stepoff sheathing --explain tells what lower strips would save.";

/// What laying a roof's deck had to decide.
fn deck_notes(roof: &Roof<'_>) -> Vec<Note> {
    let Some((roof_deck, deck)) = &roof.laid else { return Vec::new() };
    let hints = |writing| deck.hints(&roof_deck.ask, writing);
    let hints: Vec<Note> = hints(Writing::default())
        .into_iter()
        .zip(hints(Writing::METRIC))
        .map(|(us, metric)| Note::with("{}", [Amount::Either { us, metric }]))
        .collect();
    let narrow = (!hints.is_empty()).then(|| Note::new(LOWER_STRIPS));
    roof_deck.notes.iter().cloned().chain(hints).chain(narrow).collect()
}

/// The note on goods that the yard has too few of.
fn not_on_hand(line: &Line, prices: &Prices) -> Option<Note> {
    let on_hand = prices.item(&line.key)?.on_hand?;
    let count = i64::try_from(line.count).unwrap_or(i64::MAX);
    (on_hand < count).then(|| {
        let has = of_unit(on_hand as f64, line.unit).or_in_us(on_hand.to_string());
        Note::with(
            "{}: {} are needed, and the prices file has {} on hand.",
            [line.key.as_str().into(), of_unit(line.count as f64, line.unit), has],
        )
    })
}
