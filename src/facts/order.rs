//! `order` as JSON and CSV, and the cutting plans of a roof's sections.

use crate::catalog::nails::{self, Nail};
use crate::measure::quantity::{in_millimeters, inches};
use crate::measure::{Amount, Length, Note, Units, Writing, trim};
use crate::order::fasteners::{self, NailTotal, NailUse};
use crate::order::{Building, Line, Order, Part, SectionOrder, lumber};
use crate::plan::OrderPlan;

use super::common::UsedJson;
use super::cuts::{self, BarJson, CutsReport};
use super::datum::{Cents, Figure, Inches, by_units, money};
use super::record::record;

record! {
    /// The result of `order`.
    OrderReport from (order: &Order, plans: &[&OrderPlan], units: Units) with {
        let several = order.building_count() > 1;
    } {
        /// `order`.
        command: &'static str = "order";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::ORDER;
        /// Every value used besides those of the frame; from the first roof file, if there are several.
        used: Vec<UsedJson> = plans.first().map(|plan| &plan.used).into_iter().flatten();
        /// The roofs that are ordered together; left out if the order is for one building.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        buildings: Vec<BuildingJson> = order.buildings.iter().zip(plans.iter().copied()).filter(|_| several);
        /// The list, by trade.
        lines: Vec<OrderLine> = &order.lines;
        /// The cutting plan of each section, in short.
        sections: Vec<SectionJson> = order.sections.iter().map(|section| (section, units));
        /// Nails by kind.
        nails: Vec<NailJson> = &order.nails;
        /// Area of the planes of all roofs as covered.
        roof_area_ft2: f64 = order.roof_ft2();
        /// Board feet of all lumber that is bought.
        board_feet: f64 = order.lumber().board_feet;
        /// Thickness of the roof panels: as given, otherwise the least in which their rating is made.
        /// For the first roof, if there are several.
        panel_thickness_in: Inches = order.first().panel_thickness;
        /// Sheets of all decks.
        sheets: usize = order.sheets();
        /// Proven: under the laying rules no layout takes fewer; of planes that are not laid, their area alone needs as many.
        lower_bound_sheets: usize = order.least_sheets();
        /// True if every section's plan and the deck are proven.
        proven_optimal: bool = order.proven();
        /// Sum of all lines that have a price, without tax; null without a prices file.
        total_cents: Option<i64> = order.priced.then(|| order.total_cents());
        /// The currency of the prices file.
        currency: Option<String> = order.currency.as_ref();
        /// Tax on the whole, percent; null if none is set.
        tax_percent: Option<f64> = order.tax_percent;
        /// Tax on the sum.
        tax_cents: Option<i64> = order.tax_cents();
        /// Keys of lines that have no price.
        without_price: Vec<String> = order.without_price().map(|line| &line.key);
        /// Weight of the delivery as far as it is known.
        weight_lb: f64 = order.weight_lb();
        /// What the weight leaves out.
        not_weighed: Vec<String> = order.not_weighed().into_iter().map(write);
        /// Where the density of the lumber comes from.
        density: String = write(&order.density);
        /// The note in the prices file.
        prices_note: Option<String> = order.prices_note.as_ref();
        /// What was assumed or found wanting.
        notes: Vec<String> = order.notes.iter().map(write);
        /// What the roof needs but the order does not count, each with the reason.
        left_out: Vec<String> = order.left_out.iter().map(write);
    }
}

record! {
    /// One of the roofs that are ordered together; its figures are those of one building.
    BuildingJson from (building: &Building, plan: &OrderPlan) {
        /// The letter with which its marks begin; null if the order is for one roof file.
        letter: Option<String> = building.tag.letter.as_ref();
        /// Name of the job, or of its file.
        name: Option<String> = building.tag.name.as_ref();
        /// How many buildings have it.
        buildings: u32 = building.tag.buildings;
        /// Area of its planes as covered.
        roof_area_ft2: f64 = building.roof_ft2;
        /// Sheets of its deck.
        sheets: usize = building.sheets.count();
        /// Proven: under the laying rules no layout takes fewer; of planes that are not laid, their area alone needs as many.
        lower_bound_sheets: usize = building.sheets.least();
        /// Thickness of its roof panels.
        panel_thickness_in: Inches = building.panel_thickness;
        /// Every value used beyond those of the frame.
        used: Vec<UsedJson> = &plan.used;
    }
}

record! {
    /// One line; also the rows of the CSV form.
    OrderLine from (line: &Line) with {
        let sold = |units| line.sold(Writing::of(units));
        let what = if line.in_hand { "{}, in hand" } else { "{}" };
        let each = |units| line.each_sold_cents(Writing::of(units)).map_or_else(|| "no price".to_owned(), money);
        let length_name = |units| line.length.map_or_else(String::new, |length| lumber::length_name(length, units == Units::Millimeters));
    } {
        /// Trade.
        trade "for": &'static str = line.trade.words();
        /// What a prices file calls it.
        key: String = &line.key;
        /// What it is.
        what: String = write(&line.what);
        /// The same in the page's units.
        called "what" on page: Note = Note::with(what, [line.what.clone()]);
        /// Length of one, if it is sold by length.
        length_in: Option<Inches> = line.length;
        /// The length as the yard calls it.
        length_name "length" on page: Figure = by_units(length_name);
        /// How many.
        count: u64 = line.count;
        /// The unit.
        unit: &'static str = line.unit;
        /// How many, of the unit that it is sold by.
        sold "count" on page: Figure = by_units(|units| sold(units).0);
        /// The unit that it is sold by where the page's units are in use.
        sold_by "unit" on page: Note = by_units(|units| sold(units).1);
        /// Where to use it.
        goes_to: String = write(&line.goes_to);
        /// The same in the page's units.
        place "where it goes" on page: Note = &line.goes_to;
        /// How it is counted.
        basis: String = write(&line.basis);
        /// Price of one unit, cents.
        each_cents: Option<i64> = line.each_cents;
        /// Price of one of the unit that it is sold by.
        each "each" on page: Figure = by_units(each);
        /// Price of all, cents.
        cost_cents "cost": Option<Cents> = line.cost_cents();
        /// Weight of all.
        weight_lb: Option<f64> = line.weight_lb;
        /// Board feet of all; null for other goods than lumber.
        board_feet: Option<f64> = line.lumber.map(|lumber| lumber.board_feet);
        /// True for what is on site already.
        in_hand: bool = line.in_hand;
        /// The yard's code for it, if the prices file has one.
        code "code": Option<String> = line.code.as_ref();
    }
}

record! {
    /// One section's cutting plan in short.
    SectionJson from (section: &SectionOrder, units: Units) {
        /// Its name.
        section: String = section.title(units);
        /// Sticks that are cut, in hand too.
        bars_used: i64 = section.bars().iter().map(|bar| bar.times).sum::<i64>();
        /// Pieces, those of special length too.
        pieces: i64 = section.pieces();
        /// Length that is bought, sticks of special length too.
        bought_length_in: Inches = section.bought_length();
        /// Length of all pieces.
        cut_length_in: Inches = section.cut_length();
        /// True if the plan is proven best.
        proven_optimal: bool = section.proven();
        /// Cost of what is bought; null without prices.
        cost_cents: Option<i64> = section.cost().map(|(cost, _)| cost);
        /// Proven: no plan costs less; null without prices.
        lower_bound_cents: Option<i64> = section.cost().map(|(_, bound)| bound);
    }
}

record! {
    /// Nails of one kind.
    NailJson from (total: &NailTotal) with {
        let sized = nails::nail(total.nail).ok();
    } {
        /// The nail.
        nail: &'static str = total.nail;
        /// What it is called.
        called "nails" on page: Note = fasteners::called(total.nail);
        /// Its shank and length.
        size "shank x length" on page: Note = sized.map_or_else(|| "as the covering's maker asks".into(), size);
        /// Length, under the head to the point; null if no size is known.
        length_in: Option<Inches> = sized.map(|nail| nail.length_in);
        /// Shank; null if no size is known.
        diameter_in: Option<Inches> = sized.map(|nail| nail.diameter_in);
        /// As counted, without spare.
        count "in all": u64 = total.count;
        /// Whole pounds with the spare.
        pounds: Option<u64> = total.pounds;
        /// Joint by joint.
        uses: Vec<NailUseJson> = &total.uses;
    }
}

/// Shank and length of a nail: `0.131 x 2-1/2"` or `3.3 x 64 mm`.
fn size(nail: &Nail) -> Note {
    let shank = Amount::Either {
        us: trim(nail.diameter_in, 3),
        metric: trim(in_millimeters(inches(nail.diameter_in)), 1),
    };
    Note::with("{} x {}", [shank, inches(nail.length_in).into()])
}

record! {
    /// Nails of one kind of joint.
    NailUseJson from (one: &NailUse) {
        /// Where they go.
        joint "joint": String = &one.joint;
        /// What the nails are called.
        called "nails" on page: Note = fasteners::called(one.nail);
        /// How many at each, and how.
        how "how many, and how" on page: Note = &one.how;
        /// How many.
        count "in all": u64 = one.count;
        /// How they are counted.
        basis: String = write(&one.basis());
        /// By which row of the nailing table.
        by "by which row" on page: String = &one.by;
    }
}

/// Sentences with figures in inches and pounds use those units too.
fn write(note: &Note) -> String {
    note.write(Writing::default())
}

record! {
    /// The result of `cuts` for a roof file: sums over all sections, all bars, and each section by
    /// itself.
    RoofCutsReport from (sections: &[SectionOrder], lacks: &[String], seconds: f64, units: Units) with {
        let each: Vec<SectionCutsJson> =
            sections.iter().map(|section| SectionCutsJson::of(section, seconds, units)).collect();
        let planned = sections.iter().filter(|section| section.plan.is_some());
        let costs: Option<Vec<(i64, i64)>> = planned.map(SectionOrder::cost).collect();
        let plans = || each.iter().filter_map(|section| section.plan.as_ref());
    } {
        /// `cuts`.
        command: &'static str = "cuts";
        /// Cost of all bars in cents; null unless every section has prices.
        cost_cents: Option<i64> = costs.as_ref().map(|costs| costs.iter().map(|(cost, _)| cost).sum::<i64>());
        /// Proven: no plan costs less; null unless every section has prices.
        lower_bound_cents: Option<i64> = costs.as_ref().map(|costs| costs.iter().map(|(_, bound)| bound).sum::<i64>());
        /// Whether every section's plan is proven best.
        proven_optimal: bool = sections.iter().all(SectionOrder::proven);
        /// Time that the plans took.
        seconds: f64 = seconds;
        /// Length of all bars.
        stock_length_in: Inches = plans().map(|plan| plan.stock_length_in.0).sum::<Length>();
        /// Number of bars.
        bars_used: i64 = plans().map(|plan| plan.bars_used).sum::<i64>();
        /// The bars of all sections; the stock names the section.
        bars: Vec<BarJson> = plans().flat_map(|plan| plan.bars.iter().cloned());
        /// Each section for itself.
        sections: Vec<SectionCutsJson> = each;
        /// What the roofs have besides but what is not framed here; left out if there is nothing.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        left_out: Vec<String> = lacks;
    }
}

record! {
    /// The cutting plan of one section.
    SectionCutsJson from (section: &SectionOrder, seconds: f64, units: Units) {
        /// Its name.
        section: String = section.title(units);
        /// Parts that are longer than every stick.
        too_long: Vec<String> = section.ask.too_long.iter().map(Part::name);
        /// The plan.
        plan: Option<CutsReport> = section.plan.as_ref().map(|plan| (section.ask.problem(), plan, [].as_slice(), seconds));
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
