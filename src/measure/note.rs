//! Sentences with amounts in them, written in the reader's units.

use super::amount::{KILOGRAMS_PER_POUND, METERS_PER_FOOT};
use super::quantity::inches;
use super::tape::{Direction, Tape, Units, Writing, trim};
use super::tolerance::LAST_BITS;
use super::{Length, Pitch};

/// Decimal places of a figure in US units.
const PLACES: usize = 3;
/// Newtons in a pound of force (NIST SP 811, appendix B.8).
const NEWTONS_PER_POUND: f64 = 4.448_221_615;

/// An amount in a sentence, written in the reader's units.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A length as the tape shows it: `5-1/2"` or `140 mm`.
    Tape(Length),
    /// The least length that does, read up to the next mark of the tape.
    AtLeast(Length),
    /// The greatest length that does, read down to the mark of the tape below.
    AtMost(Length),
    /// Inches, as the code writes its own figures: `5.512 in` or `140 mm`.
    Inches(f64),
    /// Feet: `9.25 ft` or `2.82 m`.
    Feet(f64),
    /// Pounds per square foot.
    Psf(f64),
    /// Pounds of force.
    Pounds(f64),
    /// Pounds of weight: `5 lb` or `2.27 kg`.
    Weight(f64),
    /// Pieces in a pound of weight: `49 a pound` or `108 a kilogram`.
    APound(f64),
    /// Pounds per foot.
    Plf(f64),
    /// Pound-feet of moment.
    PoundFeet(f64),
    /// Square inches.
    SquareInches(f64),
    /// Square inches per foot of length: `18 sq in a foot` or `381 cm2 a meter`.
    SquareInchesAFoot(f64),
    /// Square feet.
    SquareFeet(f64),
    /// Miles per hour.
    Mph(f64),
    /// A slope by its rise in 12.
    RiseIn12(f64),
    /// A pitch, with its angle.
    Pitch(Pitch),
    /// A span in whole inches, as the span tables write it: `12-5` for 12 ft 5 in, or `3785 mm`.
    Span(u32),
    /// Words that differ between the two systems.
    Either {
        /// In US units.
        us: String,
        /// In metric.
        metric: String,
    },
    /// A sentence inside another.
    Said(Note),
    /// Words to print unchanged, such as what the user wrote.
    Words(String),
}

impl Amount {
    /// The amount in the units of `writing`.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        let metric = writing.units == Units::Millimeters;
        let places = |of_metric: usize| if metric { of_metric } else { PLACES };
        match self {
            Amount::Tape(length) => writing.length(*length),
            Amount::AtLeast(length) => {
                let length = *length - inches(LAST_BITS);
                writing.tape(Tape::read(length, writing.step, Direction::Up))
            }
            Amount::AtMost(length) => {
                let length = *length + inches(LAST_BITS);
                writing.tape(Tape::read(length, writing.step, Direction::Down))
            }
            Amount::Inches(value) if metric => writing.length(inches(*value)),
            Amount::Inches(value) => format!("{} in", trim(*value, PLACES)),
            Amount::Feet(value) if metric => {
                format!("{} m", trim(value * METERS_PER_FOOT, 2))
            }
            Amount::Feet(value) => format!("{} ft", trim(*value, PLACES)),
            Amount::Psf(value) => writing.psf(*value, places(1)),
            Amount::Pounds(value) => writing.pounds(*value, places(0)),
            Amount::Weight(value) => writing.weight(*value, if metric { 2 } else { PLACES }),
            Amount::APound(value) if metric => {
                format!("{} a kilogram", trim(value / KILOGRAMS_PER_POUND, 0))
            }
            Amount::APound(value) => format!("{} a pound", trim(*value, 0)),
            Amount::Plf(value) => writing.plf(*value, places(0)),
            Amount::PoundFeet(value) if metric => {
                let newton_meters = value * NEWTONS_PER_POUND * METERS_PER_FOOT;
                format!("{} kN m", trim(newton_meters / 1000.0, 2))
            }
            Amount::PoundFeet(value) => format!("{} lb-ft", trim(*value, PLACES)),
            Amount::SquareInches(value) => writing.square_inches(*value, places(1)),
            Amount::SquareInchesAFoot(value) if metric => {
                let of_a_meter = writing.square_inches(*value / METERS_PER_FOOT, 1);
                format!("{of_a_meter} a meter")
            }
            Amount::SquareInchesAFoot(value) => format!("{} sq in a foot", trim(*value, PLACES)),
            Amount::SquareFeet(value) => writing.square_feet(*value, places(1)),
            Amount::Mph(value) => writing.mph(*value, places(1)),
            Amount::RiseIn12(value) => writing.rise_in_12(*value, PLACES),
            Amount::Pitch(pitch) => writing.pitch(*pitch),
            Amount::Span(value) if metric => writing.length(inches(f64::from(*value))),
            Amount::Span(value) => format!("{}-{}", value / 12, value % 12),
            Amount::Either { metric: words, .. } if metric => words.clone(),
            Amount::Either { us: words, .. } => words.clone(),
            Amount::Said(note) => note.write(writing),
            Amount::Words(words) => words.clone(),
        }
    }
}

impl Amount {
    /// The same, but written as `us` in US units: rounded more, or as a fraction.
    #[must_use]
    pub fn or_in_us(self, us: impl Into<String>) -> Amount {
        Amount::Either { us: us.into(), metric: self.write(Writing::METRIC) }
    }
}

/// Inches, to `places` decimal places in US units.
#[must_use]
pub fn inches_to(value: f64, places: usize) -> Amount {
    Amount::Inches(value).or_in_us(format!("{} in", trim(value, places)))
}

/// Feet, to `places` decimal places in US units.
#[must_use]
pub fn feet_to(value: f64, places: usize) -> Amount {
    Amount::Feet(value).or_in_us(format!("{} ft", trim(value, places)))
}

impl From<Length> for Amount {
    fn from(length: Length) -> Amount {
        Amount::Tape(length)
    }
}

impl From<&str> for Amount {
    fn from(words: &str) -> Amount {
        Amount::Words(words.to_owned())
    }
}

impl From<String> for Amount {
    fn from(words: String) -> Amount {
        Amount::Words(words)
    }
}

impl From<Note> for Amount {
    fn from(note: Note) -> Amount {
        Amount::Said(note)
    }
}

/// A sentence with amounts in it; each `{}` is replaced by the next one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Note {
    words: String,
    amounts: Vec<Amount>,
}

impl Note {
    /// A sentence without amounts.
    pub fn new(words: impl Into<String>) -> Note {
        Note { words: words.into(), amounts: Vec::new() }
    }

    /// A sentence with as many amounts as it has `{}`.
    pub fn with<A: Into<Amount>>(
        words: impl Into<String>,
        amounts: impl IntoIterator<Item = A>,
    ) -> Note {
        Note { words: words.into(), amounts: amounts.into_iter().map(Into::into).collect() }
    }

    /// Several sentences as one, with `between` between them.
    #[must_use]
    pub fn list(notes: Vec<Note>, between: &str) -> Note {
        Note::with(vec!["{}"; notes.len()].join(between), notes)
    }

    /// The sentence with its amounts written. A `{}` without an amount is left as it is.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        let mut amounts = self.amounts.iter();
        let mut parts = self.words.split("{}");
        let mut text = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            match amounts.next() {
                Some(amount) => text.push_str(&amount.write(writing)),
                None => text.push_str("{}"),
            }
            text.push_str(part);
        }
        text
    }

    /// The sentence after other words.
    #[must_use]
    pub fn after(self, words: &str) -> Note {
        Note { words: format!("{words}{}", self.words), ..self }
    }

    /// True if it says nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.words.is_empty()
    }
}

impl From<&str> for Note {
    fn from(words: &str) -> Note {
        Note::new(words)
    }
}

impl From<String> for Note {
    fn from(words: String) -> Note {
        Note::new(words)
    }
}

/// Notes in one line, in the units of `writing`.
#[must_use]
pub fn joined(notes: &[Note], writing: Writing) -> String {
    let said: Vec<String> = notes.iter().map(|note| note.write(writing)).collect();
    said.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_go_where_they_belong() {
        let note = Note::with("{} of {}", [inches(1.5), inches(14.0)]);
        assert_eq!(note.write(Writing::default()), "1-1/2\" of 1' 2\"");
        assert_eq!(note.write(Writing::METRIC), "38 mm of 356 mm");
        // a brace in the user's own words is not replaced
        let note = Note::with("{}: {} deep", [Amount::from("{}"), Amount::Inches(5.5)]);
        assert_eq!(note.write(Writing::default()), "{}: 5.5 in deep");
        // a list keeps the amounts of each, and does not replace a brace in the user's own words
        let list = Note::list(vec!["a {}".into(), Note::with("{} deep", [inches(1.5)])], "; ");
        assert_eq!(list.write(Writing::METRIC), "a {}; 38 mm deep");
        assert_eq!(Note::new("a {} b").write(Writing::default()), "a {} b");
    }

    /// By hand: 5.512 x 25.4 = 140.0; 9.25 ft = 2.819 m; 10.025 psf = 0.48 kPa; 309.604 lb = 1.377 kN; 60 lb/ft = 0.876 kN/m;
    /// 15 lb = 6.804 kg; 49 in 0.45359237 kg = 108.03 in one;
    /// 1000 lb-ft = 1.356 kN m; 402 sq in = 2593.5 cm2; 18 sq in a foot = 116.13 cm2 in 0.3048 m = 381 cm2 a meter;
    /// 307.945 sq ft = 28.609 m2; 115 mph = 51.41 m/s; 4 in 12 = 18.435 deg;
    /// 149 in = 3784.6 mm.
    #[test]
    fn each_amount_by_its_unit() {
        for (amount, us, metric) in [
            (Amount::Inches(5.512), "5.512 in", "140 mm"),
            (Amount::Feet(9.25), "9.25 ft", "2.82 m"),
            (Amount::Psf(10.025), "10.025 psf", "0.48 kPa"),
            (Amount::Pounds(309.604), "309.604 lb", "1.38 kN"),
            (Amount::Weight(15.0), "15 lb", "6.8 kg"),
            (Amount::APound(49.0), "49 a pound", "108 a kilogram"),
            (Amount::Inches(0.4375).or_in_us("7/16 in"), "7/16 in", "11 mm"),
            (Amount::Plf(60.0), "60 lb/ft", "0.88 kN/m"),
            (Amount::PoundFeet(1000.0), "1000 lb-ft", "1.36 kN m"),
            (Amount::SquareInches(402.0), "402 sq in", "2594 cm2"),
            (Amount::SquareInchesAFoot(18.0), "18 sq in a foot", "381 cm2 a meter"),
            (Amount::SquareFeet(307.945), "307.945 sq ft", "28.61 m2"),
            (Amount::Mph(115.0), "115 mph", "51.4 m/s"),
            (Amount::Span(149), "12-5", "3785 mm"),
            (Amount::RiseIn12(4.0), "4 in 12", "18.43 deg"),
        ] {
            assert_eq!(amount.write(Writing::default()), us);
            assert_eq!(amount.write(Writing::METRIC), metric);
        }
    }
}
