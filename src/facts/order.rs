//! `order` as JSON and CSV, and the cutting plans of a roof's sections.

use schemars::JsonSchema;
use serde::Serialize;

use crate::catalog::nails::{self, Nail};
use crate::measure::quantity::in_inches;
use crate::measure::{Note, Units, Writing};
use crate::order::{Building, Line, Order, SectionOrder};
use crate::plan::OrderPlan;

use super::common::{self, UsedJson};
use super::cuts::{self, BarJson, CutsReport};

/// The result of `order`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OrderReport {
    /// `order`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Every value used beyond those of the frame; of the first roof file, if there are several.
    pub used: Vec<UsedJson>,
    /// The roofs that are ordered together; left out if the order is for one building.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub buildings: Vec<BuildingJson>,
    /// The list, by trade.
    pub lines: Vec<OrderLine>,
    /// The cutting plan of each section, in short.
    pub sections: Vec<SectionJson>,
    /// Nails by kind.
    pub nails: Vec<NailJson>,
    /// Area of both planes of all roofs as covered.
    pub roof_area_ft2: f64,
    /// Board feet of all lumber that is bought.
    pub board_feet: f64,
    /// Thickness of the roof panels: as written, else the least that their rating is made in. Of the first roof, if there are
    /// several.
    pub panel_thickness_in: f64,
    /// Sheets of all decks.
    pub sheets: usize,
    /// Proven: under the laying rules no layout takes fewer.
    pub lower_bound_sheets: usize,
    /// True if every section's plan and the deck are proven.
    pub proven_optimal: bool,
    /// Sum of all lines that have a price, without tax; null without a prices file.
    pub total_cents: Option<i64>,
    /// What prices are in, as the prices file says.
    pub currency: Option<String>,
    /// Tax on the whole, percent; null if none is set.
    pub tax_percent: Option<f64>,
    /// Tax on the sum.
    pub tax_cents: Option<i64>,
    /// Keys of lines that have no price.
    pub without_price: Vec<String>,
    /// Weight of the delivery as far as it is known.
    pub weight_lb: f64,
    /// What the weight leaves out.
    pub not_weighed: Vec<String>,
    /// What the density of the lumber rests on.
    pub density: String,
    /// What the prices file says of itself.
    pub prices_note: Option<String>,
    /// What was assumed or found wanting.
    pub notes: Vec<String>,
    /// What the roof takes and no line counts, each with the reason.
    pub left_out: Vec<String>,
}

/// One of the roofs that are ordered together; its figures are those of one building.
#[derive(Debug, Serialize, JsonSchema)]
pub struct BuildingJson {
    /// Letter that its marks begin with; null if the order is for one roof file.
    pub letter: Option<String>,
    /// Name of the job, or of its file.
    pub name: Option<String>,
    /// How many buildings have it.
    pub buildings: u32,
    /// Area of both roof planes as covered.
    pub roof_area_ft2: f64,
    /// Sheets of its deck.
    pub sheets: usize,
    /// Proven: under the laying rules no layout takes fewer.
    pub lower_bound_sheets: usize,
    /// Thickness of its roof panels.
    pub panel_thickness_in: f64,
    /// Every value used beyond those of the frame.
    pub used: Vec<UsedJson>,
}

/// One line; also the rows of the CSV form.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OrderLine {
    /// Trade.
    pub trade: &'static str,
    /// What a prices file calls it.
    pub key: String,
    /// What it is.
    pub what: String,
    /// Length of one, where it is sold by length.
    pub length_in: Option<f64>,
    /// How many.
    pub count: u64,
    /// The unit.
    pub unit: &'static str,
    /// Where it goes.
    pub goes_to: String,
    /// How it is counted.
    pub basis: String,
    /// Price of one unit, cents.
    pub each_cents: Option<i64>,
    /// Price of all, cents.
    pub cost_cents: Option<i64>,
    /// Weight of all.
    pub weight_lb: Option<f64>,
    /// Board feet of all; null for other goods than lumber.
    pub board_feet: Option<f64>,
    /// True for what is on site already.
    pub in_hand: bool,
    /// The yard's code for it, if the prices file has one.
    pub code: Option<String>,
}

/// One section's cutting plan in short.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SectionJson {
    /// Its name.
    pub section: String,
    /// Sticks that are cut, in hand too.
    pub bars_used: i64,
    /// Pieces, those of special length too.
    pub pieces: i64,
    /// Length that is bought, sticks of special length too.
    pub bought_length_in: f64,
    /// Length of all pieces.
    pub cut_length_in: f64,
    /// True if the plan is proven best.
    pub proven_optimal: bool,
    /// Cost of what is bought; null without prices.
    pub cost_cents: Option<i64>,
    /// Proven: no plan costs less; null without prices.
    pub lower_bound_cents: Option<i64>,
}

/// Nails of one kind.
#[derive(Debug, Serialize, JsonSchema)]
pub struct NailJson {
    /// The nail.
    pub nail: &'static str,
    /// Length, under the head to the point; null where no size is known.
    pub length_in: Option<f64>,
    /// Shank; null where no size is known.
    pub diameter_in: Option<f64>,
    /// As counted, without spare.
    pub count: u64,
    /// Whole pounds with the spare.
    pub pounds: Option<u64>,
    /// Joint by joint.
    pub uses: Vec<NailUseJson>,
}

/// Nails of one kind of joint.
#[derive(Debug, Serialize, JsonSchema)]
pub struct NailUseJson {
    /// Where they go.
    pub joint: String,
    /// How many.
    pub count: u64,
    /// How they are counted.
    pub basis: String,
}

/// The nail of a name, if its size is known.
fn sized(name: &str) -> Option<&'static Nail> {
    nails::nail(name).ok()
}

/// Sentences beside figures in inches and pounds are in those units too.
fn write(note: &Note) -> String {
    note.write(Writing::default())
}

fn line(line: &Line) -> OrderLine {
    OrderLine {
        trade: line.trade.words(),
        key: line.key.clone(),
        what: write(&line.what),
        length_in: line.length.map(in_inches),
        count: line.count,
        unit: line.unit,
        goes_to: write(&line.goes_to),
        basis: write(&line.basis),
        each_cents: line.each_cents,
        cost_cents: line.cost_cents(),
        weight_lb: line.weight_lb,
        board_feet: line.lumber.map(|lumber| lumber.board_feet),
        in_hand: line.in_hand,
        code: line.code.clone(),
    }
}

/// The lines of the list.
pub fn lines(order: &Order) -> impl Iterator<Item = OrderLine> + '_ {
    order.lines.iter().map(line)
}

/// The whole result.
#[must_use]
pub fn report(order: &Order, plans: &[&OrderPlan], units: Units) -> OrderReport {
    let used = |plan: &&OrderPlan| common::used(&plan.used);
    let building = |(building, plan): (&Building, &&OrderPlan)| BuildingJson {
        letter: building.tag.letter.clone(),
        name: building.tag.name.clone(),
        buildings: building.tag.buildings,
        roof_area_ft2: building.roof_ft2,
        sheets: building.deck.sheets(),
        lower_bound_sheets: building.deck.lower_bound_sheets(),
        panel_thickness_in: in_inches(building.panel_thickness),
        used: used(plan),
    };
    let buildings = order.buildings.iter().zip(plans).map(building);
    OrderReport {
        command: "order",
        caution: crate::facts::caution::ORDER,
        used: plans.first().map(used).unwrap_or_default(),
        buildings: if order.building_count() > 1 { buildings.collect() } else { Vec::new() },
        lines: lines(order).collect(),
        sections: order
            .sections
            .iter()
            .map(|section| SectionJson {
                section: section.title(units),
                bars_used: section.bars().iter().map(|bar| bar.times).sum(),
                pieces: section.pieces(),
                bought_length_in: in_inches(section.bought_length()),
                cut_length_in: in_inches(section.cut_length()),
                proven_optimal: section.proven(),
                cost_cents: section.cost().map(|(cost, _)| cost),
                lower_bound_cents: section.cost().map(|(_, bound)| bound),
            })
            .collect(),
        nails: order
            .nails
            .iter()
            .map(|total| NailJson {
                nail: total.nail,
                length_in: sized(total.nail).map(|nail| nail.length_in),
                diameter_in: sized(total.nail).map(|nail| nail.diameter_in),
                count: total.count,
                pounds: total.pounds,
                uses: total
                    .uses
                    .iter()
                    .map(|one| NailUseJson {
                        joint: one.joint.clone(),
                        count: one.count,
                        basis: write(&one.basis()),
                    })
                    .collect(),
            })
            .collect(),
        roof_area_ft2: order.roof_ft2(),
        board_feet: order.lumber().board_feet,
        panel_thickness_in: in_inches(order.first().panel_thickness),
        sheets: order.sheets(),
        lower_bound_sheets: order.least_sheets(),
        proven_optimal: order.proven(),
        total_cents: order.priced.then(|| order.total_cents()),
        currency: order.currency.clone(),
        tax_percent: order.tax_percent,
        tax_cents: order.tax_cents(),
        without_price: order.without_price().map(|line| line.key.clone()).collect(),
        weight_lb: order.weight_lb(),
        not_weighed: order.not_weighed().into_iter().map(write).collect(),
        density: write(&order.density),
        prices_note: order.prices_note.clone(),
        notes: order.notes.iter().map(write).collect(),
        left_out: order.left_out.iter().map(write).collect(),
    }
}

/// The result of `cuts` for a roof file: sums over all sections, all bars, and each section for itself.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RoofCutsReport {
    /// `cuts`.
    pub command: &'static str,
    /// Cost of all bars in cents; null unless every section has prices.
    pub cost_cents: Option<i64>,
    /// Proven: no plan costs less; null unless every section has prices.
    pub lower_bound_cents: Option<i64>,
    /// Whether every section's plan is proven best.
    pub proven_optimal: bool,
    /// Time that the plans took.
    pub seconds: f64,
    /// Length of all bars.
    pub stock_length_in: f64,
    /// Number of bars.
    pub bars_used: i64,
    /// The bars of all sections; the stock names the section.
    pub bars: Vec<BarJson>,
    /// Each section for itself.
    pub sections: Vec<SectionCutsJson>,
}

/// The cutting plan of one section.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SectionCutsJson {
    /// Its name.
    pub section: String,
    /// Parts that no stick is long enough for.
    pub too_long: Vec<String>,
    /// The plan.
    pub plan: Option<CutsReport>,
}

/// The cutting plans of a roof's sections.
#[must_use]
pub fn cuts(sections: &[SectionOrder], seconds: f64, units: Units) -> RoofCutsReport {
    let each: Vec<SectionCutsJson> = sections
        .iter()
        .map(|section| SectionCutsJson {
            section: section.title(units),
            too_long: section.ask.too_long.iter().map(crate::order::Part::name).collect(),
            plan: section
                .plan
                .as_ref()
                .map(|plan| cuts::report(section.ask.problem(), plan, &[], seconds)),
        })
        .collect();
    let costs: Option<Vec<(i64, i64)>> =
        sections.iter().filter(|section| section.plan.is_some()).map(SectionOrder::cost).collect();
    let plans = || each.iter().filter_map(|section| section.plan.as_ref());
    RoofCutsReport {
        command: "cuts",
        cost_cents: costs.as_ref().map(|costs| costs.iter().map(|(cost, _)| cost).sum()),
        lower_bound_cents: costs.as_ref().map(|costs| costs.iter().map(|(_, bound)| bound).sum()),
        proven_optimal: sections.iter().all(SectionOrder::proven),
        seconds,
        stock_length_in: plans().map(|plan| plan.stock_length_in).sum(),
        bars_used: plans().map(|plan| plan.bars_used).sum(),
        bars: plans().flat_map(|plan| plan.bars.iter().cloned()).collect(),
        sections: each,
    }
}

/// The plans as rows of CSV.
#[must_use]
pub fn cut_rows(report: &RoofCutsReport) -> Vec<cuts::CutRow> {
    report
        .sections
        .iter()
        .filter_map(|section| section.plan.as_ref())
        .flat_map(cuts::rows)
        .collect()
}
