//! The measures that roofs are compared by: what each is called, and how much of it a roof has.

use crate::compare::{Rank, Whole};
use crate::facts::datum::money;
use crate::measure::{Units, trim};

use super::Look;

/// Pounds in a kilogram: 1 / 0.45359237.
const LB_PER_KG: f64 = 1.0 / 0.453_592_37;
fn is_metric(look: &Look) -> bool {
    look.writing.units == Units::Millimeters
}

/// The name of a measure: lumber by the board foot, or by volume.
#[must_use]
pub fn rank_words(rank: Rank, look: &Look) -> &'static str {
    match rank {
        Rank::BoardFeet if is_metric(look) => "lumber",
        _ => rank.words(),
    }
}

/// The head of a measure's column.
#[must_use]
pub fn head(rank: Rank, look: &Look) -> &'static str {
    match (rank, is_metric(look)) {
        (Rank::Cost, _) => "cost",
        (Rank::BoardFeet, false) => "bd ft",
        (Rank::BoardFeet, true) => "m3",
        (Rank::Waste, false) => "waste",
        (Rank::Waste, true) => "waste m3",
        (Rank::Weight, false) => "lb",
        (Rank::Weight, true) => "kg",
        (Rank::Pieces, _) => "sticks",
    }
}

/// How much of a measure a roof has, in the units of the page; `None` if its cost is not known.
#[must_use]
pub fn amount(rank: Rank, whole: &Whole, look: &Look) -> Option<f64> {
    let metric = is_metric(look);
    let m3 = 0.0254_f64.powi(3);
    Some(match rank {
        Rank::Cost => whole.cost()? as f64,
        Rank::BoardFeet if metric => whole.order.lumber().in3 * m3,
        Rank::BoardFeet => whole.order.lumber().board_feet,
        Rank::Waste if metric => whole.waste_in3() * m3,
        Rank::Waste => whole.waste_board_feet(),
        Rank::Weight if metric => whole.order.weight_lb() / LB_PER_KG,
        Rank::Weight => whole.order.weight_lb(),
        Rank::Pieces => whole.pieces as f64,
    })
}

/// An amount as a figure.
#[must_use]
pub fn figure(rank: Rank, amount: Option<f64>, look: &Look) -> String {
    let Some(amount) = amount else {
        return "-".to_owned();
    };
    match rank {
        Rank::Cost => money(amount.round() as i64),
        Rank::BoardFeet | Rank::Waste if is_metric(look) => trim(amount, 2),
        _ => trim(amount, 0),
    }
}

/// An amount in words.
#[must_use]
pub fn words(rank: Rank, amount: f64, look: &Look) -> String {
    let figure = figure(rank, Some(amount), look);
    match (rank, is_metric(look)) {
        (Rank::Cost, _) => format!("{figure} of cost"),
        (Rank::BoardFeet, false) => format!("{figure} board feet"),
        (Rank::BoardFeet, true) => format!("{figure} m3 of lumber"),
        (Rank::Waste, false) => format!("{figure} board feet of waste"),
        (Rank::Waste, true) => format!("{figure} m3 of waste"),
        (Rank::Weight, false) => format!("{figure} lb"),
        (Rank::Weight, true) => format!("{figure} kg"),
        (Rank::Pieces, _) => format!("{figure} sticks"),
    }
}

/// A bound of the search in the units of the page.
#[must_use]
pub fn bound_words(rank: Rank, bound: i64, look: &Look) -> String {
    let bound = bound as f64;
    let amount = match rank {
        // 1 board foot is 144 cubic inches, by nominal sides
        Rank::BoardFeet | Rank::Waste if is_metric(look) => {
            return format!(
                "{} m3, by nominal sides",
                trim(bound / 1e3 * 144.0 * 0.0254_f64.powi(3), 2)
            );
        }
        Rank::BoardFeet | Rank::Waste => return format!("{} board feet", trim(bound / 1e3, 0)),
        Rank::Weight if is_metric(look) => bound / 1e2 / LB_PER_KG,
        Rank::Weight => bound / 1e2,
        Rank::Cost | Rank::Pieces => bound,
    };
    words(rank, amount, look)
}
