//! Factors for ceiling joists or rafter ties above the wall plate.

use std::sync::OnceLock;

use super::edition::{Edition, Editions};
use super::source::Source;
use super::text;

const TABLE: &str = include_str!("data/rafter_span_adjustment.csv");

/// What a factor multiplies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AppliesTo {
    /// The tabulated rafter span.
    RafterSpan,
    /// The nail count of the heel joint.
    HeelJointNails,
}

/// One row: a tie height ratio and its factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjustment {
    /// What it multiplies.
    pub applies_to: AppliesTo,
    /// The ratio as printed, `1/3`.
    pub ratio_text: &'static str,
    /// The denominator of the ratio: 3 for 1/3.
    pub one_over: f64,
    /// The row covers this ratio "or less".
    pub or_less: bool,
    /// The factor in hundredths, as printed with two decimals: 67 for 0.67.
    pub factor_hundredths: u32,
    /// Editions that print it.
    pub editions: Editions,
    /// Source key.
    pub source: Source,
}

/// All rows, the highest tie first.
#[must_use]
pub fn rows() -> &'static [Adjustment] {
    static READ: OnceLock<Vec<Adjustment>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(TABLE)
            .map(|row| Adjustment {
                applies_to: if row[0] == "rafter_span" {
                    AppliesTo::RafterSpan
                } else {
                    AppliesTo::HeelJointNails
                },
                ratio_text: row[1],
                one_over: text::number(row[1].trim_start_matches("1/")),
                or_less: row[3] == "1",
                factor_hundredths: hundredths(row[4]),
                editions: Editions::read(row[5]),
                source: Source::S4,
            })
            .collect()
    })
}

fn hundredths(factor: &str) -> u32 {
    let (whole, decimals) = factor.split_once('.').unwrap_or((factor, ""));
    let decimals = format!("{decimals:0<2}");
    text::count(whole) * 100 + text::count(&decimals)
}

/// Number of the edition's table or footnote.
#[must_use]
pub fn table_number(applies_to: AppliesTo, edition: Edition) -> &'static str {
    let early = edition <= Edition::Irc2018;
    match (applies_to, early) {
        (AppliesTo::RafterSpan, false) => "R802.4.1(9)",
        (AppliesTo::HeelJointNails, false) => "R802.5.2(2)",
        (AppliesTo::RafterSpan, true) => "footnote a of the rafter span tables",
        (AppliesTo::HeelJointNails, true) => "a footnote of the heel joint table",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ten_rows_read_as_printed() {
        let of = |what| {
            rows()
                .iter()
                .filter(move |r| r.applies_to == what)
                .map(|r| (r.one_over, r.factor_hundredths, r.or_less))
                .collect::<Vec<_>>()
        };
        assert_eq!(
            of(AppliesTo::RafterSpan),
            [
                (3.0, 67, false),
                (4.0, 76, false),
                (5.0, 83, false),
                (6.0, 90, false),
                (7.5, 100, true)
            ]
        );
        assert_eq!(
            of(AppliesTo::HeelJointNails),
            [
                (3.0, 150, false),
                (4.0, 133, false),
                (5.0, 125, false),
                (6.0, 120, false),
                (10.0, 111, true)
            ]
        );
        assert!(rows().iter().all(|r| r.editions == Editions::ALL));
    }
}
