//! What a unit of goods covers, contains or weighs: common practice and memory, as each row says.

use std::sync::OnceLock;

use super::text;

const COVERAGE: &str = include_str!("data/coverage.csv");

/// One figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Its key.
    pub key: &'static str,
    /// The figure.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Where it comes from: common practice, or memory.
    pub source: &'static str,
}

/// All figures.
#[must_use]
pub fn figures() -> &'static [Figure] {
    static READ: OnceLock<Vec<Figure>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(COVERAGE)
            .map(|row| Figure {
                key: row[0],
                value: text::number(row[1]),
                unit: row[2],
                source: row[3],
            })
            .collect()
    })
}

/// The figure called `key`, if there is one.
#[must_use]
pub fn figure(key: &str) -> Option<&'static Figure> {
    figures().iter().find(|figure| figure.key == key)
}

/// The value of a figure that the program itself names.
///
/// # Panics
/// If the embedded table has no such key: a mistake in the program that a test of every use finds.
#[must_use]
#[track_caller]
pub fn value(key: &'static str) -> f64 {
    figure(key).expect("the embedded table has every key that the program names").value
}

/// Nails of a kind in a pound; `None` if no figure is known.
#[must_use]
pub fn nails_per_lb(nail: &str) -> Option<f64> {
    let key = format!("nails_per_lb_{}", nail.replace(' ', "_"));
    figure(&key).map(|figure| figure.value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::nails::nails;

    #[test]
    fn every_figure_says_where_it_comes_from() {
        for figure in figures() {
            assert!(figure.value > 0.0, "{}", figure.key);
            let said = ["common practice", "memory", "lumber sold dry"];
            assert!(said.iter().any(|word| figure.source.starts_with(word)), "{}", figure.key);
        }
    }

    #[test]
    fn nails_weigh_what_their_steel_does() {
        // 7850 kg per cubic meter is 0.2836 lb per cubic inch
        let mut held = 0;
        for nail in nails() {
            let Some(per_lb) = nails_per_lb(nail.name) else {
                continue;
            };
            let volume = std::f64::consts::FRAC_PI_4 * nail.diameter_in.powi(2) * nail.length_in;
            let by_steel = 1.0 / (volume * 0.2836);
            assert!(
                (per_lb / by_steel - 1.0).abs() < 0.06,
                "{}: {per_lb} against {by_steel}",
                nail.name
            );
            held += 1;
        }
        assert_eq!(held, 4);
    }
}
