//! The lengths that lumber can be bought in: one list, given once, that frame, rafter and order read.

use super::asked::Asked;
use crate::catalog::lumber::{STOCK_LENGTHS_FT, Section};
use crate::key;
use crate::measure::Length;
use crate::measure::quantity::{InInches, feet, millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Note};

/// Longest piece of ridge, fascia or plate if nothing is given, feet (common practice).
const JOINED_FT: f64 = 20.0;
/// Shortest stick that lumber is sold in, feet.
const SHORTEST_FT: f64 = 8.0;
/// A list of own lengths may hold shorter ones, down to this: with far shorter ones no piece of a ridge ends on a rafter (our own limit), feet.
const LEAST_FT: f64 = 4.0;
/// No stick is longer, feet.
const LONGEST_FT: f64 = 60.0;
/// Lengths of metric sections if nothing else is given, in steps of 300 mm: 1.8 m to 7.2 m (common
/// practice).
const METRIC_STEPS: std::ops::RangeInclusive<u32> = 6..=24;
const METRIC_STEP_MM: f64 = 300.0;
/// Lengths of other sections go by two feet.
const STEP_FT: f64 = 2.0;

/// The lengths that lumber can be bought in.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLengths {
    /// The user's lengths, by rising length; empty if there are none.
    written: Vec<Length>,
    /// The longest that can be bought, if it was written.
    longest: Option<Length>,
    /// Cut off every stick before the first piece.
    end_trim: Length,
}

impl StockLengths {
    /// Reads `order.lengths`, `lumber.longest` and `order.end_trim`.
    pub fn ask(asked: &mut Asked<'_>) -> StockLengths {
        let mut written = asked.lengths(key!("order.lengths")).unwrap_or_default();
        sort(&mut written);
        let longest = asked.optional_length(key!("lumber.longest"));
        let no_stick = "no stick is longer than {}";
        if written.first().is_some_and(|first| *first < feet(LEAST_FT) - hair()) {
            asked.refuse(
                key!("order.lengths"),
                Note::with("no stick is sold shorter than {}", [Amount::Feet(LEAST_FT)]),
                Note::with("write lengths of {} or more", [Amount::Feet(LEAST_FT)]),
            );
            written.clear();
        }
        if let Some(last) = written.last() {
            asked.refuse_over(key!("order.lengths"), *last, LONGEST_FT, no_stick);
        }
        if let Some(longest) = longest {
            if longest < feet(SHORTEST_FT) {
                asked.refuse(
                    key!("lumber.longest"),
                    Note::with("lumber is sold from {} up", [Amount::Feet(SHORTEST_FT)]),
                    Note::with("write {} or more", [Amount::Feet(SHORTEST_FT)]),
                );
            }
            asked.refuse_over(key!("lumber.longest"), longest, LONGEST_FT, no_stick);
            let beyond = written.last().is_some_and(|last| longest > *last + hair());
            let below = written.first().is_some_and(|first| longest < *first - hair());
            if beyond || below {
                asked.refuse(
                    key!("lumber.longest"),
                    if beyond {
                        "none of order.lengths is so long"
                    } else {
                        "all of order.lengths are longer"
                    },
                    "leave it out: the longest of order.lengths is taken",
                );
            }
        }
        let end_trim = end_trim(asked, written.first().copied());
        let lengths = StockLengths { written, longest, end_trim };
        asked.resolve(key!("lumber.longest"), lengths.longest_stick());
        lengths
    }

    /// The lengths of a section, by rising length; never empty.
    #[must_use]
    pub fn of(&self, section: &Section) -> Vec<Length> {
        let mut lengths = if !self.written.is_empty() {
            self.written.clone()
        } else if section.is_metric() {
            METRIC_STEPS.map(|steps| millimeters(f64::from(steps) * METRIC_STEP_MM)).collect()
        } else {
            section
                .size()
                .map_or_else(|| STOCK_LENGTHS_FT.to_vec(), |size| size.stock_lengths_ft())
                .into_iter()
                .map(|length| feet(f64::from(length)))
                .collect()
        };
        if let Some(longest) = self.longest {
            let step =
                if section.is_metric() { millimeters(METRIC_STEP_MM) } else { feet(STEP_FT) };
            if self.written.is_empty() {
                while let Some(next) = lengths.last().map(|last| *last + step)
                    && next < longest
                {
                    lengths.push(next);
                }
                lengths.push(longest);
            }
            lengths.retain(|length| *length <= longest + hair());
        }
        sort(&mut lengths);
        lengths
    }

    /// The shortest length of a section from which a blank can be cut; `None` if it is longer than all.
    #[must_use]
    pub fn holding(&self, section: &Section, blank: Length) -> Option<Length> {
        self.of(section).into_iter().find(|length| blank + self.end_trim <= *length + hair())
    }

    /// The length that squaring an end takes off every stick.
    #[must_use]
    pub fn end_trim(&self) -> Length {
        self.end_trim
    }

    /// The longest piece that ridge, fascia, ledgers and plates are joined from: a stick less the end
    /// trim.
    #[must_use]
    pub(super) fn longest_joined(&self) -> Length {
        self.longest_stick() - self.end_trim
    }

    fn longest_stick(&self) -> Length {
        self.longest.or_else(|| self.written.last().copied()).unwrap_or(feet(JOINED_FT))
    }
}

/// Reads the end trim, which is listed with the order unless the user gave it.
fn end_trim(asked: &mut Asked<'_>, shortest: Option<Length>) -> Length {
    let end_trim = asked.length(key!("order.end_trim")).unwrap_or_default();
    asked.forget(&[key!("order.end_trim")]);
    if end_trim > feet(2.0) {
        asked.refuse(
            key!("order.end_trim"),
            "over 2 ft off every stick is no trim",
            "write what squaring an end takes, such as 1/4\"",
        );
    }
    if shortest.is_some_and(|length| length <= end_trim) {
        asked.refuse(
            key!("order.lengths"),
            "the end trim leaves nothing of such a stick",
            "write longer sticks, or trim less",
        );
    }
    end_trim
}

fn hair() -> Length {
    crate::measure::quantity::inches(HAIR)
}

fn sort(lengths: &mut Vec<Length>) {
    lengths.sort_by(|a, b| a.inches().total_cmp(&b.inches()));
    lengths.dedup_by(|a, b| (a.inches() - b.inches()).abs() < HAIR);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::inches;
    use crate::plan::{Entries, RafterPlan};

    fn lengths(fields: &[(&'static str, &str)]) -> Result<StockLengths, String> {
        let mut entries = Entries::default();
        for (key, text) in [("building.span", "14'"), ("roof.pitch", "6/12")].iter().chain(fields) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        RafterPlan::read(&entries)
            .map(|plan| plan.lengths)
            .map_err(|faults| faults[0].message.clone())
    }

    fn two_by_six() -> Section {
        Section::nominal(2.0, 6.0).unwrap()
    }

    #[test]
    fn without_a_word_lengths_go_by_two_feet() {
        let usual = lengths(&[]).unwrap();
        let holding = |blank| usual.holding(&two_by_six(), blank);
        assert_eq!(holding(inches(1.0)), Some(feet(8.0)));
        assert_eq!(holding(feet(16.0)), Some(feet(16.0)));
        assert_eq!(holding(feet(16.0) + inches(0.01)), Some(feet(18.0)));
        assert_eq!(holding(feet(24.5)), None);
        assert_eq!(usual.longest_joined(), feet(20.0));
        let metric = Section::sized(millimeters(45.0), millimeters(195.0));
        assert_eq!(usual.holding(&metric, millimeters(4000.0)), Some(millimeters(4200.0)));
    }

    #[test]
    fn an_end_trim_is_taken_off_every_stick() {
        let trimmed = lengths(&[("order.end_trim", "1/2\"")]).unwrap();
        assert_eq!(trimmed.longest_joined(), feet(20.0) - inches(0.5));
        assert_eq!(trimmed.holding(&two_by_six(), feet(16.0)), Some(feet(18.0)));
        assert_eq!(trimmed.holding(&two_by_six(), feet(16.0) - inches(0.5)), Some(feet(16.0)));
        let fields = [("order.lengths", "8', 10'"), ("order.end_trim", "9'")];
        assert!(lengths(&fields).is_err());
    }

    #[test]
    fn one_list_serves_all() {
        let long = lengths(&[("lumber.longest", "28'")]).unwrap();
        assert_eq!(long.holding(&two_by_six(), feet(24.5)), Some(feet(26.0)));
        assert_eq!(long.holding(&two_by_six(), feet(27.0)), Some(feet(28.0)));
        assert_eq!(long.holding(&two_by_six(), feet(28.5)), None);
        let short = lengths(&[("lumber.longest", "15'")]).unwrap();
        assert_eq!(short.holding(&two_by_six(), feet(14.5)), Some(feet(15.0)));
        assert_eq!(short.holding(&two_by_six(), feet(15.5)), None);
        let yard = lengths(&[("order.lengths", "4.2 m, 3 m, 12'")]).unwrap();
        assert_eq!(yard.holding(&two_by_six(), feet(13.0)), Some(millimeters(4200.0)));
        assert_eq!(yard.longest_joined(), millimeters(4200.0));
    }

    #[test]
    fn lists_that_disagree_are_refused() {
        let both = |lengths_, longest| {
            lengths(&[("order.lengths", lengths_), ("lumber.longest", longest)])
        };
        assert!(both("8', 12'", "16'").unwrap_err().contains("none of order.lengths"));
        assert!(both("12', 16'", "8'").unwrap_err().contains("are longer"));
        assert!(both("8', 12', 16'", "12'").is_ok());
        assert!(lengths(&[("lumber.longest", "7'")]).is_err());
        // a list of shorter ones has no end of pieces
        assert!(lengths(&[("order.lengths", "4', 8'")]).is_ok());
        let short = lengths(&[("order.lengths", "1mm, 8'")]).unwrap_err();
        assert_eq!(short, "no stick is sold shorter than 4 ft");
        assert!(lengths(&[("order.lengths", "70'")]).is_err());
    }
}
