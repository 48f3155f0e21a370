//! Candidates that meet every rule but are kept apart, and why.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalog::lumber::Section;
use crate::measure::Length;

use super::figures::Figures;
use super::report::Comparison;

/// Why a candidate that meets is not compared.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// A piece is longer than every stick that can be bought.
    TooLong {
        /// Section of the longest such piece.
        section: Section,
        /// The required length, from the least to the greatest of these candidates.
        needs: [Length; 2],
        /// The longest piece that can be cut of a stick.
        longest: Length,
    },
    /// It needs unpriced goods that other candidates have a price for or don't need.
    NoPrice(BTreeSet<String>),
    /// It can't be ordered: why, in words.
    Refused(String),
}

/// Candidates kept apart for one reason, by index.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// The reason.
    pub why: Why,
    /// Their places.
    pub places: Vec<usize>,
}

impl Comparison {
    /// The candidates kept apart: first by the section of a piece that is too long, then by unpriced
    /// goods, then those that can't be ordered.
    #[must_use]
    pub fn apart(&self) -> Vec<Apart> {
        let mut groups: BTreeMap<(u8, String), Apart> = BTreeMap::new();
        let mut add = |key: (u8, String), place: usize, why: Why| {
            let group =
                groups.entry(key).or_insert_with(|| Apart { why: why.clone(), places: Vec::new() });
            group.places.push(place);
            if let (Why::TooLong { needs: all, .. }, Why::TooLong { needs: [one, _], .. }) =
                (&mut group.why, &why)
            {
                *all = [all[0].min(*one), all[1].max(*one)];
            }
        };
        for (place, figures) in &self.found.special {
            if let Some(why) = self.too_long(figures)
                && let Why::TooLong { section, .. } = &why
            {
                add((0, section.to_string()), *place, why);
            }
        }
        for (place, figures) in &self.found.meeting {
            let names = self.unpriced(*place, figures);
            if !names.is_empty() {
                let key: Vec<&str> = names.iter().map(String::as_str).collect();
                add((1, key.join(", ")), *place, Why::NoPrice(names.clone()));
            }
        }
        for (place, why) in &self.refused {
            add((2, why.clone()), *place, Why::Refused(why.clone()));
        }
        groups.into_values().collect()
    }

    /// Why one candidate is kept apart; `None` if it is compared.
    #[must_use]
    pub fn why_apart(&self, place: usize, figures: &Figures) -> Option<Why> {
        let names = self.unpriced(place, figures);
        self.too_long(figures)
            .or_else(|| (!names.is_empty()).then_some(Why::NoPrice(names)))
            .or_else(|| self.refused.get(&place).cloned().map(Why::Refused))
    }

    fn too_long(&self, figures: &Figures) -> Option<Why> {
        let (section, needs, longest) = self.found.woods.too_long(figures.longest?);
        Some(Why::TooLong { section: section.clone(), needs: [needs, needs], longest })
    }

    /// The unpriced goods for which a candidate that meets the rules is kept apart; empty if it is
    /// compared.
    fn unpriced(&self, place: usize, figures: &Figures) -> BTreeSet<String> {
        let of_goods = self.unpriced_goods.get(&place);
        let mut names = of_goods.cloned().unwrap_or_default();
        if self.priced {
            let sections = figures.unpriced.iter();
            names.extend(sections.map(|wood| self.found.woods.section(*wood).to_string()));
        }
        names
    }
}
