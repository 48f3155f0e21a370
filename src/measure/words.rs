//! Lengths as they are said aloud: `sixteen feet three and a half inches`.

use super::tape::{Tape, Units, Writing};
use crate::measure::Length;

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// A whole number in words; a million and more in figures.
fn number(count: u64) -> String {
    let with_rest = |head: String, rest: u64, between: &str| {
        if rest == 0 { head } else { format!("{head}{between}{}", number(rest)) }
    };
    match count {
        0..20 => SMALL[count as usize].to_owned(),
        20..100 => with_rest(TENS[(count / 10) as usize].to_owned(), count % 10, "-"),
        100..1000 => with_rest(format!("{} hundred", number(count / 100)), count % 100, " "),
        1000..1_000_000 => {
            with_rest(format!("{} thousand", number(count / 1000)), count % 1000, " ")
        }
        _ => count.to_string(),
    }
}

/// The part of an inch, from its reduced fraction: `a half`, `three eighths`.
fn fraction(sixty_fourths: u64) -> String {
    let shift = sixty_fourths.trailing_zeros();
    let (over, under) = (sixty_fourths >> shift, 64_u64 >> shift);
    match (over, under) {
        (1, 2) => "a half".into(),
        (1, 4) => "a quarter".into(),
        (_, 4) => format!("{} quarters", number(over)),
        _ => {
            let part = match under {
                8 => "eighth",
                16 => "sixteenth",
                32 => "thirty-second",
                _ => "sixty-fourth",
            };
            format!("{} {part}{}", number(over), if over == 1 { "" } else { "s" })
        }
    }
}

/// Whole inches and a part of an inch: `three and a half inches`; `an eighth` is `one eighth inch`.
fn inches(sixty_fourths: u64) -> String {
    let (whole, part) = (sixty_fourths / 64, sixty_fourths % 64);
    match (whole, part) {
        (1, 0) => "one inch".into(),
        (whole, 0) => format!("{} inches", number(whole)),
        (0, 32) => "half an inch".into(),
        (0, 16) => "a quarter inch".into(),
        (0, part) => format!("{} inch", fraction(part)),
        (whole, part) => format!("{} and {} inches", number(whole), fraction(part)),
    }
}

impl Tape {
    /// What the tape shows as it is said aloud, in feet and inches, in inches alone, or in millimeters.
    ///
    /// ```
    /// use stepoff::measure::quantity::inches;
    /// use stepoff::measure::{Step, Tape, Units};
    ///
    /// let tape = Tape::nearest(inches(195.5), Step::Sixteenth);
    /// assert_eq!(tape.said(Units::Feet), "sixteen feet three and a half inches");
    /// ```
    #[must_use]
    pub fn said(self, units: Units) -> String {
        let (count, words) = match self {
            Tape::Millimeters(count) => {
                let one = count.unsigned_abs() == 1;
                let unit = if one { "millimeter" } else { "millimeters" };
                (count, format!("{} {unit}", number(count.unsigned_abs())))
            }
            Tape::SixtyFourths(count) => {
                let all = count.unsigned_abs();
                let (feet, rest) =
                    if units == Units::Feet { (all / 768, all % 768) } else { (0, all) };
                let unit = if feet == 1 { "foot" } else { "feet" };
                let words = match (feet, rest) {
                    (0, rest) => inches(rest),
                    (feet, 0) => format!("{} {unit}", number(feet)),
                    (feet, rest) => format!("{} {unit} {}", number(feet), inches(rest)),
                };
                (count, words)
            }
        };
        if count < 0 { format!("minus {words}") } else { words }
    }
}

impl Writing {
    /// `length` as it is said aloud, rounded once to the nearest step.
    #[must_use]
    pub fn said(self, length: Length) -> String {
        Tape::nearest(length, self.step).said(self.units)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Step;
    use crate::measure::quantity;

    #[track_caller]
    fn said(inches: f64, expected: &str) {
        let writing = Writing { units: Units::Feet, step: Step::SixtyFourth, ..Writing::default() };
        assert_eq!(writing.said(quantity::inches(inches)), expected);
    }

    #[test]
    fn lengths_are_said_as_people_say_them() {
        said(195.0, "sixteen feet three inches");
        said(195.5, "sixteen feet three and a half inches");
        said(12.0, "one foot");
        said(13.0, "one foot one inch");
        said(24.5, "two feet half an inch");
        said(0.0, "zero inches");
        said(0.25, "a quarter inch");
        said(0.125, "one eighth inch");
        said(5.0625, "five and one sixteenth inches");
        said(5.75, "five and three quarters inches");
        said(-0.6875, "minus eleven sixteenths inch");
        said(1.0 + 63.0 / 64.0, "one and sixty-three sixty-fourths inches");
        said(12_000.0, "one thousand feet");
        let metric = |mm: f64| Writing::METRIC.said(quantity::millimeters(mm));
        assert_eq!(metric(4267.0), "four thousand two hundred sixty-seven millimeters");
        assert_eq!(metric(1.0), "one millimeter");
        assert_eq!(metric(200.0), "two hundred millimeters");
        assert_eq!(metric(2000.0), "two thousand millimeters");
        assert_eq!(
            metric(999_999.0),
            "nine hundred ninety-nine thousand nine hundred ninety-nine millimeters"
        );
        assert_eq!(metric(1_000_000.0), "1000000 millimeters");
        assert_eq!(metric(2_000_010.0), "2000010 millimeters");
        let inches = Writing { units: Units::Inches, ..Writing::default() };
        assert_eq!(
            inches.said(quantity::inches(195.5)),
            "one hundred ninety-five and a half inches"
        );
    }
}
