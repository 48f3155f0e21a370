//! The problem in the form of the checker: one row for each length, one family for each stock length.

use std::collections::BTreeMap;

use super::model::{CutPlan, CuttingProblem, Objective};
use crate::solve::{Family, Item, Members, Model, Pick, Plan, Question, Row, Settled, Taken};

/// A piece or part of a piece with its own name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Named {
    pub(super) piece: usize,
    pub(super) label: String,
    pub(super) length: i64,
    pub(super) quantity: i64,
}

/// A problem with given parts for its pieces.
pub(super) struct Asked<'a> {
    pub(super) problem: &'a CuttingProblem,
    pub(super) named: &'a [Named],
    pub(super) splices: Splices,
}

/// How members may be spliced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Splices {
    /// There are none.
    None,
    /// They are made of the given parts.
    Parts,
    /// They may be spliced anywhere, in at least as many parts as given. Every part takes its length
    /// and a saw cut from some bar, so all parts of a member together take its length and as many saw
    /// cuts: that many units are wanted, from any bars.
    Anywhere,
}

/// The rules' words for a plan that is best for the given parts.
pub(super) const FOR_PARTS: &str = "for these parts of the spliced pieces";

/// What a row is filled by.
struct Wanted {
    /// Size of one item.
    size: i64,
    /// How many are wanted.
    many: i64,
}

impl Asked<'_> {
    fn is_fluid(&self, named: &Named) -> bool {
        self.splices == Splices::Anywhere && named.length != self.problem.pieces[named.piece].length
    }

    /// How many of each length are wanted, longest first, and last the units of members that may be
    /// spliced anywhere.
    fn wanted(&self) -> Vec<Wanted> {
        let kerf = self.problem.kerf;
        let mut lengths: BTreeMap<i64, i64> = BTreeMap::new();
        let mut units = 0;
        for named in self.named {
            if self.is_fluid(named) {
                units += (named.length + kerf) * named.quantity;
            } else {
                *lengths.entry(named.length).or_default() += named.quantity;
            }
        }
        let mut wanted: Vec<Wanted> = lengths
            .into_iter()
            .rev()
            .map(|(length, many)| Wanted { size: length + kerf, many })
            .collect();
        if units > 0 {
            wanted.push(Wanted { size: 1, many: units });
        }
        wanted
    }
}

impl Question for Asked<'_> {
    fn model(&self) -> Model {
        let problem = self.problem;
        let wanted = self.wanted();
        // No plan needs more bars than it has parts, or, if spliced anywhere, units.
        let all = wanted.iter().map(|w| w.many).sum();
        let objective = problem.objective();
        Model {
            rows: wanted.iter().map(|w| Row::at_least(w.many)).collect(),
            // Pieces fit a bar of length b if sum(length + kerf) <= b - end trim + kerf.
            items: vec![
                wanted
                    .iter()
                    .enumerate()
                    .map(|(row, wanted)| Item { size: wanted.size, row, most: wanted.many })
                    .collect(),
            ],
            families: problem
                .stock
                .iter()
                .map(|stock| Family {
                    cost: match objective {
                        Objective::Cost => vec![stock.price_cents.unwrap_or(0)],
                        Objective::Length if stock.is_in_hand() => vec![0, 0],
                        Objective::Length => vec![stock.length, 1],
                    },
                    least: 0,
                    most: stock.quantity.unwrap_or(all),
                    members: Members::Packs {
                        capacity: problem.usable(stock) + problem.kerf,
                        items: 0,
                        strips: None,
                    },
                })
                .collect(),
            levels: match objective {
                Objective::Cost => 1,
                Objective::Length => 2,
            },
        }
    }

    fn rules(&self) -> String {
        let best = match self.problem.objective() {
            Objective::Cost => "cheapest with these stock lengths and prices",
            Objective::Length => "least length with these stock lengths, then fewest sticks",
        };
        match self.splices {
            Splices::None => best.to_owned(),
            Splices::Parts => format!("{best}, {FOR_PARTS}"),
            Splices::Anywhere => format!("{best}, wherever the splices fall"),
        }
    }
}

impl Plan<Asked<'_>> for CutPlan {
    fn taken(&self, asked: &Asked<'_>) -> Vec<Taken> {
        let wanted = asked.wanted();
        self.bars
            .iter()
            .map(|bar| {
                let mut items: BTreeMap<usize, i64> = BTreeMap::new();
                for piece in &bar.pieces {
                    let size = piece.length + asked.problem.kerf;
                    let parted = piece.length != asked.problem.pieces[piece.piece].length;
                    if parted && asked.splices == Splices::Anywhere {
                        *items.entry(wanted.len() - 1).or_default() += size;
                    } else {
                        let at = wanted.partition_point(|w| w.size > size);
                        *items.entry(at).or_default() += 1;
                    }
                }
                Taken {
                    family: bar.stock,
                    pick: Pick::Pack { items: items.into_iter().collect(), strips: Vec::new() },
                    times: bar.times,
                }
            })
            .collect()
    }
}

/// What is known about a plan's cost, length and number of bars.
impl Settled<CutPlan> {
    /// No plan costs less, in cents; 0 without prices.
    #[must_use]
    pub fn cost_bound_cents(&self) -> i64 {
        match self.objective {
            Objective::Cost => self.bound()[0],
            Objective::Length => 0,
        }
    }

    /// No plan takes less length than this, in units, without bars in hand. With prices, the length of
    /// the plan itself.
    #[must_use]
    pub fn stock_length_bound(&self) -> i64 {
        match self.objective {
            Objective::Cost => self.stock_length,
            Objective::Length => self.stock_length - self.value()[0] + self.bound()[0],
        }
    }

    /// No plan of that cost or length has fewer bars; if that is not known, the bars that the lengths
    /// alone require.
    #[must_use]
    pub fn bars_bound(&self) -> i64 {
        match self.objective {
            Objective::Cost => match self.each_cents {
                Some(each) if each > 0 => self.bars_by_length.max(self.bound()[0] / each),
                _ => self.bars_by_length,
            },
            Objective::Length if self.bound()[0] == self.value()[0] => {
                (self.bars_used - self.value()[1] + self.bound()[1]).max(self.bars_by_length)
            }
            Objective::Length => self.bars_by_length,
        }
    }
}
