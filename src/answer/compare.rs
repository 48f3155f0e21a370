//! Many roofs of one plan, the few that are best.

use crate::compare::{Ask, Comparison, Rank, Sweep};
use crate::facts;
use crate::order::Prices;
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::{Asker, File, Found, Input, NoAnswer, NotWritten, Refused, Status, csv, json, search};

/// How much is compared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CompareAsked {
    /// What to rank the roofs by; by default cost with prices, and board feet without.
    pub rank: Option<Rank>,
    /// How many are shown, as it is written.
    pub top: String,
    /// How many may be ordered in full, as it is written.
    pub orders: String,
}

impl Default for CompareAsked {
    /// By the default rank, the best five of 32 ordered in full.
    fn default() -> CompareAsked {
        CompareAsked { rank: None, top: "5".to_owned(), orders: "32".to_owned() }
    }
}

/// The roofs compared.
pub(super) struct Compared {
    pub(super) comparison: Comparison,
    pub(super) sweep: Sweep,
}

impl Found for Compared {
    fn status(&self) -> Status {
        // if the roof as it is can be built, that is an answer
        let tally = &self.comparison.found.tally;
        let some = tally.meets + tally.special + tally.not_checked > 0;
        Status::of([Verdict::meets_if(some)])
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::compare::CompareReport::of(&self.comparison, &self.sweep))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::compare::shown(&self.comparison, &self.sweep))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let name = self.sweep.present.gable.rafter.name.as_deref();
        sheet::compare::text(&self.comparison, &self.sweep, name, look, depth)
    }

    /// Every roof that meets all rules.
    fn files(&self, _: &Look) -> Vec<File<'_>> {
        vec![File::new("all.csv", || csv(facts::compare::rows(&self.comparison, &self.sweep)))]
    }
}

/// Compares what may be varied.
pub(super) fn find(
    input: &Input,
    prices: Option<Prices>,
    asked: &CompareAsked,
    look: &Look,
    asker: &dyn Asker,
) -> Result<Compared, NoAnswer> {
    let ask = Ask {
        rank: rank(asked.rank, prices.is_some())?,
        show: count("--top", &asked.top, 100)?,
        orders: count("--orders", &asked.orders, 100_000)?,
    };
    let sweep = input.plan(Sweep::read)?;
    let comparison = search::compared(&sweep, prices.as_ref(), ask, look, asker)?;
    Ok(Compared { comparison, sweep })
}

fn rank(asked: Option<Rank>, priced: bool) -> Result<Rank, Refused> {
    match asked {
        Some(Rank::Cost) if !priced => Err(Refused::of_flag(
            "--rank",
            "cost",
            "nothing is known of cost without prices",
            "name a prices file: --prices prices.toml, or rank by board-feet",
        )),
        Some(rank) => Ok(rank),
        None if priced => Ok(Rank::Cost),
        None => Ok(Rank::BoardFeet),
    }
}

fn count(flag: &'static str, text: &str, most: usize) -> Result<usize, Refused> {
    text.trim().parse().ok().filter(|count| (1..=most).contains(count)).ok_or_else(|| {
        Refused::of_flag(
            flag,
            text,
            "this is no number of roofs",
            format!("write a number from 1 to {most}"),
        )
    })
}
