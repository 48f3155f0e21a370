//! What a field of a record may hold: how JSON and CSV have it, and how a page writes it.
//!
//! A type stands for one way of writing: a blank is never rounded short, a change has its sign, cents are money.

use std::borrow::Cow;
use std::collections::BTreeMap;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

use crate::catalog::lumber::Section;
use crate::measure::quantity::{InInches, in_degrees, in_millimeters, inches};
use crate::measure::{Amount, Angle, Length, Note, Units, Writing, trim};

/// A field's value, to be written as its reader wants it.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// There is none.
    Nothing,
    /// Words.
    Words(String),
    /// A figure; its unit is told by the end of the field's name.
    Number(f64),
    /// How many.
    Count(i64),
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// Whether it is so.
    Yes(bool),
    /// Records of its own, or a list: too much for a cell.
    Many,
}

/// A field's value made of what it is found from. Unlike [`From`] it goes through options and lists.
pub trait Of<S> {
    /// The value.
    fn of(source: S) -> Self;
}

/// A type that a field may have.
pub trait Datum {
    /// True if its column stands to the right, as figures do.
    const RIGHT: bool;
    /// What a page shows where there is none.
    const NONE: &'static str = "";

    /// The unit, where a page has it in the column's head and bare figures below; else empty.
    #[must_use]
    fn unit(_: Units) -> &'static str {
        ""
    }

    /// The value as a cell.
    fn cell(&self) -> Cell;

    /// The value as a page writes it.
    fn written(&self, writing: Writing) -> String;
}

fn count(value: impl TryInto<i64>) -> Cell {
    Cell::Count(value.try_into().unwrap_or(i64::MAX))
}

macro_rules! taken_as_they_are {
    ($($type:ty, right $right:literal: $value:ident => $cell:expr, $written:expr;)+) => {$(
        impl Of<$type> for $type {
            fn of(source: $type) -> $type {
                source
            }
        }

        impl Datum for $type {
            const RIGHT: bool = $right;

            fn cell(&self) -> Cell {
                let $value = self.clone();
                $cell
            }

            fn written(&self, _: Writing) -> String {
                let $value = self;
                $written
            }
        }
    )+};
}

taken_as_they_are! {
    f64, right true: value => Cell::Number(value), trim(*value, 4);
    i64, right true: value => Cell::Count(value), value.to_string();
    u64, right true: value => count(value), value.to_string();
    u32, right true: value => Cell::Count(value.into()), value.to_string();
    u16, right true: value => Cell::Count(value.into()), value.to_string();
    usize, right true: value => count(value), value.to_string();
    bool, right false: value => Cell::Yes(value), if *value { "yes" } else { "no" }.to_owned();
    char, right false: value => Cell::Words(value.to_string()), value.to_string();
    String, right false: value => Cell::Words(value), value.clone();
    &'static str, right false: value => Cell::Words(value.to_owned()), (*value).to_owned();
    Cow<'static, str>, right false: value => Cell::Words(value.into_owned()), value.clone().into_owned();
}

impl Of<&str> for String {
    fn of(source: &str) -> String {
        source.to_owned()
    }
}

impl Of<&String> for String {
    fn of(source: &String) -> String {
        source.clone()
    }
}

impl<T: Of<S>, S> Of<Option<S>> for Option<T> {
    fn of(source: Option<S>) -> Option<T> {
        source.map(T::of)
    }
}

impl<T: Datum> Datum for Option<T> {
    const RIGHT: bool = T::RIGHT;

    fn unit(units: Units) -> &'static str {
        T::unit(units)
    }

    fn cell(&self) -> Cell {
        self.as_ref().map_or(Cell::Nothing, T::cell)
    }

    fn written(&self, writing: Writing) -> String {
        self.as_ref().map_or_else(|| T::NONE.to_owned(), |value| value.written(writing))
    }
}

impl<T: Of<I::Item>, I: IntoIterator> Of<I> for Vec<T> {
    fn of(source: I) -> Vec<T> {
        source.into_iter().map(T::of).collect()
    }
}

impl<T: Datum> Datum for Vec<T> {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Many
    }

    fn written(&self, writing: Writing) -> String {
        self.iter().map(|value| value.written(writing)).collect::<Vec<_>>().join(", ")
    }
}

impl<T: Of<S>, S, const N: usize> Of<[S; N]> for [T; N] {
    fn of(source: [S; N]) -> [T; N] {
        source.map(T::of)
    }
}

impl<T: Datum, const N: usize> Datum for [T; N] {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Many
    }

    fn written(&self, writing: Writing) -> String {
        self.iter().map(|value| value.written(writing)).collect::<Vec<_>>().join(", ")
    }
}

impl<K: Ord, V> Of<BTreeMap<K, V>> for BTreeMap<K, V> {
    fn of(source: BTreeMap<K, V>) -> BTreeMap<K, V> {
        source
    }
}

impl<K: Datum, V: Datum> Datum for BTreeMap<K, V> {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Many
    }

    fn written(&self, writing: Writing) -> String {
        let each = self
            .iter()
            .map(|(key, value)| format!("{} {}", key.written(writing), value.written(writing)));
        each.collect::<Vec<_>>().join(", ")
    }
}

impl<T: Into<Note>> Of<T> for Note {
    fn of(source: T) -> Note {
        source.into()
    }
}

impl Of<&Note> for Note {
    fn of(source: &Note) -> Note {
        source.clone()
    }
}

impl Of<&Section> for Note {
    fn of(source: &Section) -> Note {
        by_units(|units| source.write(units))
    }
}

/// Words with amounts in them; on pages only, since JSON has the amounts as figures.
impl Datum for Note {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Words(self.write(Writing::default()))
    }

    fn written(&self, writing: Writing) -> String {
        self.write(writing)
    }
}

/// A length as the tape shows it, where a column has other figures too.
#[must_use]
pub fn tape(length: Length) -> Note {
    Note::with("{}", [length])
}

/// Words that differ between US units and metric ones.
#[must_use]
pub fn by_units(write: impl Fn(Units) -> String) -> Note {
    Note::with("{}", [Amount::Either { us: write(Units::Feet), metric: write(Units::Millimeters) }])
}

macro_rules! quantity_as_number {
    (
        $(#[$about:meta])+
        $name:ident of $quantity:ty, $cell:expr, $number:expr, $written:expr
        $(, in the head $unit:expr, none $none:literal)?
    ) => {
        $(#[$about])+
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name(pub $quantity);

        impl $name {
            /// The number that JSON and CSV have.
            #[must_use]
            pub fn number(self) -> f64 {
                let number: fn($quantity) -> f64 = $number;
                // adding zero takes the sign off a negative zero
                number(self.0) + 0.0
            }
        }

        impl Of<$quantity> for $name {
            fn of(source: $quantity) -> $name {
                $name(source)
            }
        }

        impl Of<&$quantity> for $name {
            fn of(source: &$quantity) -> $name {
                $name(*source)
            }
        }

        impl Of<$name> for $name {
            fn of(source: $name) -> $name {
                source
            }
        }

        impl Datum for $name {
            const RIGHT: bool = true;
            $(const NONE: &'static str = $none;

            fn unit(units: Units) -> &'static str {
                let unit: fn(Units) -> &'static str = $unit;
                unit(units)
            })?

            fn cell(&self) -> Cell {
                let cell: fn($quantity) -> Cell = $cell;
                cell(self.0)
            }

            fn written(&self, writing: Writing) -> String {
                let written: fn($quantity, Writing) -> String = $written;
                written(self.0, writing)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(self.number())
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> Cow<'static, str> {
                f64::schema_name()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                f64::json_schema(generator)
            }
        }
    };
}

quantity_as_number!(
    /// A length that JSON and CSV have in decimal inches, and pages as the tape shows it.
    Inches of Length, Cell::Length, |length| length.inches(), |length, writing| writing.length(length)
);

quantity_as_number!(
    /// The same for a board to cut from: pages never round it short.
    Blank of Length, Cell::Length, |length| length.inches(), |length, writing| writing.blank(length)
);

quantity_as_number!(
    /// The same where pages show enough decimals to redo a calculation.
    Exact of Length, Cell::Length, |length| length.inches(), |length, writing| writing.exact(length)
);

quantity_as_number!(
    /// A difference of lengths: pages show its sign, but none for what the tape does not show.
    Change of Length, Cell::Length, |length| length.inches(), signed
);

quantity_as_number!(
    /// A stock length that JSON and CSV have in decimal feet; pages have feet or meters in the head.
    Feet of Length, |length| Cell::Number(length.inches() / 12.0), |length| length.inches() / 12.0,
    |length, writing| trim(
        match writing.units {
            Units::Millimeters => in_millimeters(length) / 1000.0,
            Units::Feet | Units::Inches => length.inches() / 12.0,
        },
        2,
    ),
    in the head |units| if units == Units::Millimeters { "m" } else { "ft" },
    none "none so long"
);

quantity_as_number!(
    /// An angle that JSON and CSV have in decimal degrees.
    Degrees of Angle, Cell::Angle, in_degrees, |angle, _| format!("{} deg", trim(in_degrees(angle), 2))
);

quantity_as_number!(
    /// A slope as its rise in 12.
    RiseIn12 of f64, Cell::Number, |rise| rise, |rise, _| format!("{} in 12", trim(rise, 3))
);

quantity_as_number!(
    /// A length that pages have in inches to four places, as the square's table is printed.
    TableInches of Length, Cell::Length, |length| length.inches(), |length, _| format!("{:.4}", length.inches())
);

quantity_as_number!(
    /// A standardized residual.
    Deviations of f64, Cell::Number, |deviations| deviations, |deviations, _| trim(deviations.abs(), 1),
    in the head |_| "",
    none "unchecked"
);

quantity_as_number!(
    /// Pounds of force.
    Pounds of f64, Cell::Number, |pounds| pounds, |pounds, writing| writing.pounds(pounds, 1)
);

quantity_as_number!(
    /// Pounds for each foot of length.
    Plf of f64, Cell::Number, |plf| plf, |plf, writing| writing.plf(plf, 1)
);

macro_rules! figures_of_inches {
    ($($name:ident)+) => {$(
        /// Figures of solids are plain inches.
        impl Of<f64> for $name {
            fn of(source: f64) -> $name {
                $name(inches(source))
            }
        }
    )+};
}

figures_of_inches!(Inches Blank Exact Change TableInches);

impl Of<Inches> for Exact {
    fn of(source: Inches) -> Exact {
        Exact(source.0)
    }
}

/// A difference with its sign; nothing has none.
fn signed(length: Length, writing: Writing) -> String {
    let text = writing.length(length.abs());
    if text == writing.length(inches(0.0)) {
        text
    } else if length < inches(0.0) {
        format!("-{text}")
    } else {
        format!("+{text}")
    }
}

/// Money, which JSON and CSV have in cents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(inline)]
pub struct Cents(pub i64);

impl Of<i64> for Cents {
    fn of(source: i64) -> Cents {
        Cents(source)
    }
}

impl Datum for Cents {
    const RIGHT: bool = true;

    fn cell(&self) -> Cell {
        Cell::Count(self.0)
    }

    fn written(&self, _: Writing) -> String {
        money(self.0)
    }
}

/// An amount of money, without its currency: `-12.05`.
#[must_use]
pub fn money(cents: i64) -> String {
    let sign = if cents < 0 { "-" } else { "" };
    let cents = cents.unsigned_abs();
    format!("{sign}{}.{:02}", cents / 100, cents % 100)
}

/// Where a reading is written by hand, or a box is ticked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByHand(pub &'static str);

impl Of<&'static str> for ByHand {
    fn of(source: &'static str) -> ByHand {
        ByHand(source)
    }
}

impl Datum for ByHand {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Nothing
    }

    fn written(&self, _: Writing) -> String {
        self.0.to_owned()
    }
}

/// A figure that a page writes in a way of its own: of a unit that differs from row to row, with a word beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure(pub Note);

impl<T: Into<Note>> Of<T> for Figure {
    fn of(source: T) -> Figure {
        Figure(source.into())
    }
}

impl Datum for Figure {
    const RIGHT: bool = true;

    fn cell(&self) -> Cell {
        self.0.cell()
    }

    fn written(&self, writing: Writing) -> String {
        self.0.write(writing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_has_its_sign_unless_the_tape_shows_nothing() {
        let write = |value: f64| Change(inches(value)).written(Writing::default());
        assert_eq!([0.25, -0.25, 0.01, -0.01].map(write), ["+1/4\"", "-1/4\"", "0\"", "0\""]);
    }

    #[test]
    fn money_has_its_sign_before_the_figures() {
        assert_eq!([1205, -5, 0].map(money), ["12.05", "-0.05", "0.00"]);
    }
}
