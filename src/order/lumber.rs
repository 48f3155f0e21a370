//! Lumber: all sticks of one section, cut from the lengths that can be bought.

use crate::catalog::lumber::Section;
use crate::catalog::sizes;
use crate::frame::{Frame, Role};
use crate::measure::quantity::{in_inches, in_millimeters, inches};
use crate::measure::{Length, Units, Writing};
use crate::plan::BuyPlan;
use crate::solve::Settled;

use super::cutting::{
    self, Control, CutPlan, CuttingProblem, NoPlan, Objective, Piece, PlannedBar, Stock,
};
use super::prices::Prices;

/// What a piece is for.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Mark of its pattern in the frame; none for a piece that was asked for beyond it.
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

/// A length that one section can be had in.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLength {
    /// Its length.
    pub length: Length,
    /// Cents for one, if a price is known.
    pub cents: Option<i64>,
    /// How many are on site already; `None` where it is bought.
    pub in_hand: Option<i64>,
    /// How many the yard has; `None` for as many as wanted.
    pub available: Option<i64>,
    /// The yard's code for it.
    pub code: Option<String>,
}

/// Everything to be cut of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionAsk {
    /// The section.
    pub section: Section,
    /// True for top plates, which belong to the walls.
    pub walls: bool,
    /// What is cut; the pieces of the problem in the same order.
    pub parts: Vec<Part>,
    /// Parts that no stick is long enough for.
    pub too_long: Vec<Part>,
    /// What it is cut from; the stock of the problem in the same order.
    pub stock: Vec<StockLength>,
    /// Every length that can be bought, those too that this roof does without.
    pub yard: Vec<StockLength>,
    /// Without prices, longer sticks are bought only where a piece needs one.
    pub long: Length,
    /// True if blanks are rounded up to the millimeter, false for 1/16 in.
    pub metric: bool,
    /// True if stock lengths are named in meters too.
    pub names_meters: bool,
    /// Sticks beyond the plan, percent of each length.
    pub culls: f64,
    /// The problem as it is solved.
    problem: CuttingProblem,
}

/// The cutting plan of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionOrder {
    /// What was asked.
    pub ask: SectionAsk,
    /// The plan; `None` if every part is too long. Without prices its costs are 0.
    pub plan: Option<Settled<CutPlan>>,
}

/// What is cut of every section of the frame, the walls' plates apart, by section.
///
/// Blanks are rounded up to 1/16 in, or to 1 mm if the stock comes in millimeters (a stick whole in millimeters, not in 1/16 in). `units`
/// only name lengths: the same roof is ordered alike on a page in either.
#[must_use]
pub fn asks(frame: &Frame, buy: &BuyPlan, prices: &Prices, units: Units) -> Vec<SectionAsk> {
    let mut groups: Vec<(Section, bool, Vec<Part>)> = Vec::new();
    let mut add = |section: &Section, walls: bool, part: Part| {
        let same = |group: &&mut (Section, bool, Vec<Part>)| {
            group.1 == walls
                && (group.0.thickness, group.0.depth) == (section.thickness, section.depth)
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.2.push(part),
            None => groups.push((section.clone(), walls, vec![part])),
        }
    };
    for member in &frame.members {
        let walls = member.role == Role::Plate;
        let layers = if walls { buy.plate_layers } else { 1 };
        if layers == 0 {
            continue;
        }
        add(
            &member.stick.section,
            walls,
            Part {
                mark: Some(member.mark.clone()),
                what: member.role.words().to_owned(),
                blank: member.blank(),
                count: member.count() as i64 * i64::from(layers),
            },
        );
    }
    for sticks in &buy.extra {
        add(
            &sticks.section,
            false,
            Part {
                mark: None,
                what: "extra piece".into(),
                blank: sticks.length,
                count: i64::from(sticks.count),
            },
        );
    }
    groups.sort_by(|a, b| {
        let key = |group: &(Section, bool, Vec<Part>)| {
            (group.1, group.0.thickness_in(), group.0.depth_in())
        };
        key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    // sticks in hand go to the roof first, to the plates only where the roof has none of the section
    groups
        .iter()
        .map(|(section, walls, parts)| {
            let roof_has_it = groups.iter().any(|(other, of_walls, _)| {
                !of_walls && (other.thickness, other.depth) == (section.thickness, section.depth)
            });
            let in_hand = !walls || !roof_has_it;
            ask(section.clone(), *walls, parts.clone(), (buy, in_hand), prices, units)
        })
        .collect()
}

fn ask(
    section: Section,
    walls: bool,
    parts: Vec<Part>,
    (buy, takes_in_hand): (&BuyPlan, bool),
    prices: &Prices,
    units: Units,
) -> SectionAsk {
    let yard: Vec<StockLength> = bought_lengths(&section, buy, prices);
    let mut stock = carried(&yard, &parts, buy);
    let longest_bought = yard.iter().map(|stock| stock.length).fold(Length::default(), Length::max);
    if takes_in_hand {
        for sticks in &buy.in_hand {
            if (sticks.section.thickness, sticks.section.depth)
                == (section.thickness, section.depth)
            {
                stock.push(StockLength {
                    length: sticks.length,
                    cents: Some(0),
                    in_hand: Some(i64::from(sticks.count)),
                    available: None,
                    code: None,
                });
            }
        }
    }
    let metric = by_millimeters(&section, &stock);
    let names_meters = units == Units::Millimeters || metric;
    let units_per_inch = if metric { 25.4 } else { 16.0 };
    let up = |length: Length| (in_inches(length) * units_per_inch - 1e-6).ceil() as i64;
    let down = |length: Length| (in_inches(length) * units_per_inch + 1e-6).floor() as i64;
    let end_trim = up(buy.end_trim);
    stock.retain(|stock| down(stock.length) > end_trim);
    // a part that only a stick in hand is long enough for can't be counted on: that stick may be short in number
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
                label: stock_name(&section, stock, names_meters),
                length: down(stock.length),
                price_cents: stock.cents,
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
        yard,
        long: buy.long,
        metric,
        names_meters,
        culls: buy.culls,
        problem,
    }
}

/// What a section can be bought for at the least, whatever the cutting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    /// Units of the cutting plan in an inch.
    pub units_per_inch: f64,
    /// Saw cut, in units.
    pub kerf: i64,
    /// The longest piece that can be cut of a stick that is bought, in units.
    pub longest: i64,
    /// Least cents for a unit of piece with its saw cut; `None` without prices.
    pub cents_per_unit: Option<f64>,
    /// Units of pieces with their saw cuts that the sticks in hand may hold.
    pub in_hand: i64,
}

/// The rates of one section. A stick of length L with an end trim t and saw cuts k holds pieces whose
/// lengths, each with k more, sum to no more than L - t + k.
#[must_use]
pub fn rates(section: &Section, buy: &BuyPlan, prices: &Prices) -> Rates {
    let ask = ask(section.clone(), false, Vec::new(), (buy, true), prices, Units::Feet);
    let problem = &ask.problem;
    let holds = |stock: &Stock| stock.length - problem.end_trim + problem.kerf;
    let bought = || {
        let sticks = problem.stock.iter().zip(&ask.stock);
        sticks.filter(|(_, of)| of.in_hand.is_none()).map(|(stock, _)| stock)
    };
    Rates {
        units_per_inch: problem.units_per_inch,
        kerf: problem.kerf,
        longest: bought().map(|stock| stock.length - problem.end_trim).max().unwrap_or(0),
        cents_per_unit: bought()
            .filter_map(|stock| Some(stock.price_cents? as f64 / holds(stock) as f64))
            .reduce(f64::min),
        in_hand: problem
            .stock
            .iter()
            .zip(&ask.stock)
            .filter_map(|(stock, of)| Some(of.in_hand? * holds(stock)))
            .sum(),
    }
}

impl Rates {
    /// A blank in units, rounded up as the cutting plan does.
    #[must_use]
    pub fn up(&self, blank: Length) -> i64 {
        (in_inches(blank) * self.units_per_inch - 1e-6).ceil() as i64
    }

    /// What must be bought beyond the sticks in hand, with saw cuts, in units.
    fn lacking(&self, units: i64, pieces: u32) -> i64 {
        (units + i64::from(pieces) * self.kerf - self.in_hand).max(0)
    }

    /// Least length that must be bought for pieces of `units` in all: a stick of pieces needs one saw cut
    /// less than it has pieces, so saw cuts are left out.
    #[must_use]
    pub fn least_bought(&self, units: i64, pieces: u32) -> Length {
        let without_cuts = self.lacking(units, pieces) - i64::from(pieces) * self.kerf;
        inches(without_cuts.max(0) as f64 / self.units_per_inch)
    }

    /// Least cost of pieces of `units` in all, cents; `None` without prices.
    #[must_use]
    pub fn least_cents(&self, units: i64, pieces: u32) -> Option<f64> {
        self.cents_per_unit.map(|cents| cents * self.lacking(units, pieces) as f64)
    }
}

/// True if blanks and sticks are counted by the millimeter: the section is metric, or a stick is whole in
/// millimeters and not in 1/16 in. A stick of 14 ft counted by the millimeter is 0.2 mm too short for a joist of 14 ft.
fn by_millimeters(section: &Section, stock: &[StockLength]) -> bool {
    let whole = |value: f64| (value - value.round()).abs() < 1e-6;
    section.is_metric()
        || stock.iter().any(|stick| {
            whole(in_millimeters(stick.length)) && !whole(in_inches(stick.length) * 16.0)
        })
}

/// The lengths that are bought as a framer orders: without prices none over `buy.long` but the shortest that holds a
/// piece which needs it (common practice). With prices the cost decides.
fn carried(yard: &[StockLength], parts: &[Part], buy: &BuyPlan) -> Vec<StockLength> {
    let hair = inches(1e-6);
    let short = |stock: &StockLength| stock.length <= buy.long + hair;
    let priced = yard.iter().any(|stock| stock.cents.is_some());
    if priced || parts.is_empty() || !yard.iter().any(short) {
        return yard.to_vec();
    }
    let needed: Vec<Length> = parts
        .iter()
        .filter_map(|part| {
            yard.iter()
                .map(|stock| stock.length)
                .find(|length| part.blank + buy.end_trim <= *length + hair)
        })
        .collect();
    yard.iter().filter(|stock| short(stock) || needed.contains(&stock.length)).cloned().collect()
}

/// Lengths that can be bought: those with a price, else those written, else those of the yard.
fn bought_lengths(section: &Section, buy: &BuyPlan, prices: &Prices) -> Vec<StockLength> {
    let priced = prices.of_section(section);
    if !priced.is_empty() {
        return priced
            .into_iter()
            .filter(|price| price.terms.on_hand != Some(0))
            .map(|price| StockLength {
                length: price.length,
                cents: price.terms.cents,
                in_hand: None,
                available: price.terms.on_hand,
                code: price.terms.code.clone(),
            })
            .collect();
    }
    buy.lengths
        .of(section)
        .into_iter()
        .map(|length| StockLength {
            length,
            cents: None,
            in_hand: None,
            available: None,
            code: None,
        })
        .collect()
}

/// A stock length in words without blanks, so that it is never parted: `12'`, `3.6m`, `12'=3.658m`.
#[must_use]
pub fn length_name(length: Length, metric: bool) -> String {
    let near = |value: f64| (value - value.round()).abs() < 1e-6;
    let in_feet = in_inches(length) / 12.0;
    let meters = crate::measure::trim(in_millimeters(length) / 1000.0, 3) + "m";
    let in_feet = near(in_feet).then(|| format!("{in_feet:.0}'"));
    match (in_feet, metric) {
        (Some(words), false) => words,
        (Some(words), true) => format!("{meters}={words}"),
        (None, true) => meters,
        (None, false) if near(in_millimeters(length) / 10.0) => meters,
        (None, false) => Writing::default().length(length).replace(' ', ""),
    }
}

fn stock_name(section: &Section, stock: &StockLength, metric: bool) -> String {
    let units = if metric { Units::Millimeters } else { Units::Feet };
    let hand = if stock.in_hand.is_some() { " in hand" } else { "" };
    format!("{} x {}{hand}", section.write(units), length_name(stock.length, metric))
}

impl SectionAsk {
    /// Length by which a part that is too long for every stick is ordered: its blank and the end trim, rounded up as
    /// blanks are cut.
    #[must_use]
    pub fn special_length(&self, part: &Part) -> Length {
        let units = self.problem.units_per_inch;
        let blank = (in_inches(part.blank) * units - 1e-6).ceil();
        inches((blank + self.problem.end_trim as f64) / units)
    }

    /// Sticks that are bought beyond so many of one length, for culls.
    #[must_use]
    pub fn spare(&self, planned: i64) -> i64 {
        (planned as f64 * self.culls / 100.0 - 1e-9).ceil().max(0.0) as i64
    }

    /// All parts, those too long for every stick last.
    pub fn all_parts(&self) -> impl Iterator<Item = &Part> {
        self.parts.iter().chain(&self.too_long)
    }

    /// The problem: bought sticks without prices, if there are none.
    #[must_use]
    pub fn problem(&self) -> &CuttingProblem {
        &self.problem
    }

    /// True if the lengths that are bought have prices.
    #[must_use]
    pub fn priced(&self) -> bool {
        self.stock.iter().any(|stock| stock.in_hand.is_none() && stock.cents.is_some())
    }

    /// Solves the section until `control` stops it.
    ///
    /// # Errors
    /// [`NoPlan`] where the solver finds a fault, such as too many pieces.
    pub fn solve(self, control: &Control<'_>) -> Result<SectionOrder, NoPlan> {
        if self.parts.is_empty() {
            return Ok(SectionOrder { ask: self, plan: None });
        }
        let plan = cutting::plan(&self.problem, control)?;
        Ok(SectionOrder { ask: self, plan: Some(plan) })
    }
}

impl SectionOrder {
    /// What the section and its use are called: `2x6`, `2x4 for the walls`.
    #[must_use]
    pub fn title(&self, units: Units) -> String {
        let name = self.ask.section.write(units);
        if self.ask.walls { format!("{name} for the walls") } else { name }
    }

    /// Bars of each stock length that the plan uses, with their number, by stock.
    #[must_use]
    pub fn used(&self) -> Vec<(&StockLength, i64)> {
        let bars = |index: usize| -> i64 {
            self.bars().iter().filter(|bar| bar.stock == index).map(|bar| bar.times).sum()
        };
        self.ask
            .stock
            .iter()
            .enumerate()
            .map(|(index, stock)| (stock, bars(index)))
            .filter(|(_, count)| *count > 0)
            .collect()
    }

    /// The bars as they are cut.
    #[must_use]
    pub fn bars(&self) -> &[PlannedBar] {
        self.plan.as_ref().map_or(&[], |plan| &plan.bars)
    }

    /// Length of all sticks that are bought, those of special length and those for culls too.
    #[must_use]
    pub fn bought_length(&self) -> Length {
        let from_stock = self
            .used()
            .into_iter()
            .filter(|(stock, _)| stock.in_hand.is_none())
            .fold(Length::default(), |sum, (stock, count)| {
                sum + stock.length * (count + self.ask.spare(count)) as f64
            });
        self.ask.too_long.iter().fold(from_stock, |sum, part| {
            let count = part.count + self.ask.spare(part.count);
            sum + self.ask.special_length(part) * count as f64
        })
    }

    /// Length of all parts, as measured.
    #[must_use]
    pub fn cut_length(&self) -> Length {
        self.ask
            .all_parts()
            .fold(Length::default(), |sum, part| sum + part.blank * part.count as f64)
    }

    /// Length of all parts, each rounded up as it is cut.
    #[must_use]
    pub fn pieces_length(&self) -> Length {
        let problem = &self.ask.problem;
        let up = |part: &Part| (in_inches(part.blank) * problem.units_per_inch - 1e-6).ceil();
        let units: f64 = self.ask.all_parts().map(|part| up(part) * part.count as f64).sum();
        inches(units / problem.units_per_inch)
    }

    /// How many parts there are, those of special length too.
    #[must_use]
    pub fn pieces(&self) -> i64 {
        self.ask.all_parts().map(|part| part.count).sum()
    }

    /// Cost of all bought sticks and the proven bound, cents; `None` without prices.
    #[must_use]
    pub fn cost(&self) -> Option<(i64, i64)> {
        let plan = self.plan.as_ref()?;
        (self.ask.priced() && plan.objective == Objective::Cost)
            .then_some((plan.cost_cents, plan.cost_bound_cents()))
    }

    /// Whether the plan is proven best.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.plan.as_ref().is_none_or(Settled::is_proven)
    }

    /// Names of the parts that are cut from a stock length.
    #[must_use]
    pub fn goes_to(&self, stock: &StockLength) -> Vec<String> {
        let mut of: Vec<usize> = self
            .bars()
            .iter()
            .filter(|bar| self.ask.stock[bar.stock] == *stock)
            .flat_map(|bar| bar.pieces.iter().map(|piece| piece.piece))
            .collect();
        of.sort_unstable();
        of.dedup();
        // marks of one role together: gable stud G1 G2
        let mut names: Vec<String> = Vec::new();
        let mut last = "";
        for index in of {
            let part = &self.ask.parts[index];
            match (&part.mark, names.last_mut()) {
                (Some(mark), Some(name)) if part.what == last => {
                    name.push(' ');
                    name.push_str(mark);
                }
                _ if part.what == last => {}
                _ => names.push(part.name()),
            }
            last = &part.what;
        }
        names
    }
}

/// Board feet of one stick: nominal sides over 12 times its length in feet, an inch of thickness at least; actual
/// sides where there is no nominal name.
#[must_use]
pub fn board_feet(section: &Section, length: Length) -> f64 {
    let (thick, deep) = sizes::of_section(section)
        .map_or((section.thickness_in(), section.depth_in()), sizes::LumberSize::nominal_in);
    board_measure(thick.max(1.0), deep, length)
}

/// Board measure of one piece: thickness times width over 12 for each foot of length (NAVEDTRA 14044, p. 2-10).
#[must_use]
pub fn board_measure(thickness_in: f64, width_in: f64, length: Length) -> f64 {
    thickness_in * width_in * in_inches(length) / 144.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::{feet, inches};
    use crate::plan::{Entries, OrderPlan};
    use approx::assert_abs_diff_eq;

    fn solved(fields: &[(&'static str, &str)], prices: &Prices, units: Units) -> Vec<SectionOrder> {
        let mut entries = Entries::default();
        let needed = [("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(key, Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        asks(&frame, &plan.buy, prices, units)
            .into_iter()
            .map(|ask| ask.solve(&Control::unlimited()).unwrap())
            .collect()
    }

    #[test]
    fn every_stick_is_cut_once_and_plates_stand_apart() {
        let sections = solved(&[], &Prices::default(), Units::Feet);
        assert!(sections.iter().all(SectionOrder::proven));
        assert_eq!(sections.iter().filter(|section| section.ask.walls).count(), 1);
        for section in &sections {
            let mut cut = vec![0; section.ask.parts.len()];
            for bar in section.bars() {
                for piece in &bar.pieces {
                    cut[piece.piece] += bar.times;
                }
            }
            let wanted: Vec<i64> = section.ask.parts.iter().map(|part| part.count).collect();
            assert_eq!(cut, wanted);
        }
        let out = solved(&[("order.plates", "out")], &Prices::default(), Units::Feet);
        assert_eq!(out.len() + 1, sections.len());
    }

    #[test]
    fn sticks_in_hand_are_used_and_cost_nothing() {
        let plain = solved(&[], &Prices::default(), Units::Feet);
        let fields = [("order.in_hand", "2x6 20' x 3"), ("order.extra", "2x6 8' x 2")];
        let with = solved(&fields, &Prices::default(), Units::Feet);
        let of = |sections: &[SectionOrder]| {
            sections
                .iter()
                .find(|section| section.ask.section.nominal.as_deref() == Some("2x6"))
                .cloned()
                .unwrap()
        };
        let (plain, with) = (of(&plain), of(&with));
        assert!(with.proven());
        assert_eq!(with.ask.parts.last().map(|part| part.count), Some(2));
        let in_hand: i64 = with
            .used()
            .iter()
            .filter(|(stock, _)| stock.in_hand.is_some())
            .map(|(_, count)| count)
            .sum();
        assert!((1..=3).contains(&in_hand));
        // 60 ft in hand against 16 ft of extra pieces
        assert!(with.bought_length() < plain.bought_length());
        assert_eq!(with.cost(), None);
    }

    #[test]
    fn a_page_in_metric_orders_the_same_sticks() {
        // ceiling joists of 14 ft fill a stick of 14 ft in either unit
        let bought = |units| -> Vec<(f64, i64)> {
            solved(&[], &Prices::default(), units)
                .iter()
                .flat_map(SectionOrder::used)
                .map(|(stock, count)| (in_inches(stock.length), count))
                .collect()
        };
        assert_eq!(bought(Units::Millimeters), bought(Units::Feet));
        assert!(bought(Units::Feet).contains(&(168.0, 16)));
    }

    #[test]
    fn metric_sections_come_in_metric_lengths() {
        let fields = [
            ("rafter.stock", "45x195mm"),
            ("ceiling.stock", "45x145mm"),
            ("building.length", "7200mm"),
        ];
        let sections = solved(&fields, &Prices::default(), Units::Millimeters);
        let rafters = sections
            .iter()
            .find(|section| section.ask.section.is_metric() && section.ask.section.depth_in() > 7.0)
            .unwrap();
        for (stock, _) in rafters.used() {
            let name = length_name(stock.length, true);
            assert!(name.ends_with('m') && !name.contains('\''), "{name}");
        }
        assert_eq!(length_name(feet(12.0), true), "3.658m=12'");
        assert_eq!(length_name(feet(12.0), false), "12'");
        assert_eq!(length_name(inches(92.625), false), "7'8-5/8\"");
    }

    /// A cottage of 20 ft by 12 ft with rafters of 9 ft: nobody carries sticks of 22 ft for them. The joined boards are 20 ft
    /// long and need their sticks; nothing else is cut from more than 16 ft. With [order] long = 24 ft all lengths serve.
    #[test]
    fn sticks_over_16_ft_are_bought_only_where_a_piece_needs_one() {
        let cottage = [
            ("building.length", "20'"),
            ("building.span", "12'"),
            ("roof.pitch", "10/12"),
            ("roof.spacing", "24\""),
        ];
        let lengths = |more: &[(&'static str, &str)]| -> Vec<(String, f64)> {
            let mut entries = Entries::default();
            for (key, text) in cottage.iter().chain(more) {
                entries.add_flag(key, Some(text));
            }
            let plan = OrderPlan::read(&entries).unwrap();
            let frame = Frame::build(&plan.gable).unwrap();
            asks(&frame, &plan.buy, &Prices::default(), Units::Feet)
                .into_iter()
                .map(|ask| ask.solve(&Control::unlimited()).unwrap())
                .flat_map(|section| {
                    assert!(section.proven());
                    let needs = section
                        .ask
                        .all_parts()
                        .map(|part| in_inches(part.blank))
                        .fold(0.0, f64::max);
                    let name = format!("{} {needs}", section.title(Units::Feet));
                    section
                        .used()
                        .into_iter()
                        .map(|(stock, _)| (name.clone(), in_inches(stock.length) / 12.0))
                        .collect::<Vec<_>>()
                })
                .collect()
        };
        let usual = lengths(&[]);
        for (section, feet) in &usual {
            let needs: f64 = section.rsplit(' ').next().unwrap().parse().unwrap();
            assert!(*feet <= 16.0 || needs > 192.0, "{section} from {feet}");
        }
        assert!(usual.iter().any(|(section, _)| section.starts_with("2x6")));
        let free = lengths(&[("order.long", "24'")]);
        assert!(free.iter().any(|(section, feet)| section.starts_with("2x6 1") && *feet > 16.0));
    }

    #[test]
    fn what_no_stick_reaches_is_told() {
        let fields = [("order.lengths", "8', 10'"), ("ridge.joints", "none")];
        let sections = solved(&fields, &Prices::default(), Units::Feet);
        let ridge = sections
            .iter()
            .flat_map(|section| &section.ask.too_long)
            .find(|part| part.what == "ridge board");
        assert_eq!(ridge.map(|part| part.blank), Some(feet(22.0)));
    }

    #[test]
    fn board_feet_go_by_nominal_sides() {
        let of =
            |thick, deep, long| board_feet(&Section::nominal(thick, deep).unwrap(), feet(long));
        assert_abs_diff_eq!(of(2.0, 6.0, 12.0), 12.0, epsilon = 1e-9);
        assert_abs_diff_eq!(of(1.0, 8.0, 12.0), 8.0, epsilon = 1e-9);
        assert_abs_diff_eq!(of(2.0, 4.0, 8.0), 16.0 / 3.0, epsilon = 1e-9);
    }
}
