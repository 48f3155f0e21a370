//! A record is described once: each field's name in JSON and CSV, what it means, its type, and where its value comes
//! from. From that come the JSON with its schema, rows of CSV, and its figures one by one.
//!
//! Lengths and angles stay quantities in a record; only JSON and CSV see decimal inches and degrees.

use std::borrow::Cow;
use std::collections::BTreeMap;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::{Angle, Length};

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

/// What `record!` describes.
pub trait Record {
    /// Names of the fields in JSON and CSV, in order.
    const KEYS: &'static [&'static str];

    /// The value of each field, in the same order.
    fn cells(&self) -> Vec<Cell>;

    /// Names and values, in order.
    fn figures(&self) -> impl Iterator<Item = (&'static str, Cell)> {
        Self::KEYS.iter().copied().zip(self.cells())
    }
}

/// A field's value made of what it is found from. Unlike [`From`] it goes through options and lists.
pub trait Of<S> {
    /// The value.
    fn of(source: S) -> Self;
}

/// A type that a field may have.
pub trait Datum {
    /// The value as a cell.
    fn cell(&self) -> Cell;
}

fn count(value: impl TryInto<i64>) -> Cell {
    Cell::Count(value.try_into().unwrap_or(i64::MAX))
}

macro_rules! taken_as_they_are {
    ($($type:ty: $value:ident => $cell:expr;)+) => {$(
        impl Of<$type> for $type {
            fn of(source: $type) -> $type {
                source
            }
        }

        impl Datum for $type {
            fn cell(&self) -> Cell {
                let $value = self.clone();
                $cell
            }
        }
    )+};
}

taken_as_they_are! {
    f64: value => Cell::Number(value);
    i64: value => Cell::Count(value);
    u64: value => count(value);
    u32: value => Cell::Count(value.into());
    u16: value => Cell::Count(value.into());
    usize: value => count(value);
    bool: value => Cell::Yes(value);
    char: value => Cell::Words(value.to_string());
    String: value => Cell::Words(value);
    &'static str: value => Cell::Words(value.to_owned());
    Cow<'static, str>: value => Cell::Words(value.into_owned());
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
    fn cell(&self) -> Cell {
        self.as_ref().map_or(Cell::Nothing, T::cell)
    }
}

impl<T: Of<I::Item>, I: IntoIterator> Of<I> for Vec<T> {
    fn of(source: I) -> Vec<T> {
        source.into_iter().map(T::of).collect()
    }
}

impl<T> Datum for Vec<T> {
    fn cell(&self) -> Cell {
        Cell::Many
    }
}

impl<T: Of<S>, S, const N: usize> Of<[S; N]> for [T; N] {
    fn of(source: [S; N]) -> [T; N] {
        source.map(T::of)
    }
}

impl<T, const N: usize> Datum for [T; N] {
    fn cell(&self) -> Cell {
        Cell::Many
    }
}

impl<K: Ord, V> Of<BTreeMap<K, V>> for BTreeMap<K, V> {
    fn of(source: BTreeMap<K, V>) -> BTreeMap<K, V> {
        source
    }
}

impl<K, V> Datum for BTreeMap<K, V> {
    fn cell(&self) -> Cell {
        Cell::Many
    }
}

macro_rules! quantity_as_number {
    ($(#[$about:meta])+ $name:ident of $quantity:ty, $cell:expr, $number:expr) => {
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
            fn cell(&self) -> Cell {
                let cell: fn($quantity) -> Cell = $cell;
                cell(self.0)
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
    /// A length that JSON and CSV have in decimal inches.
    Inches of Length, Cell::Length, |length| length.inches()
);

quantity_as_number!(
    /// A length that JSON and CSV have in decimal feet.
    Feet of Length, |length| Cell::Number(length.inches() / 12.0), |length| length.inches() / 12.0
);

quantity_as_number!(
    /// An angle that JSON and CSV have in decimal degrees.
    Degrees of Angle, Cell::Angle, in_degrees
);

/// Figures of solids are plain inches.
impl Of<f64> for Inches {
    fn of(source: f64) -> Inches {
        Inches(inches(source))
    }
}

/// Describes a record.
///
/// ```text
/// record! {
///     /// What one record is.
///     Name from (source: &Source, other: Other) with { let shared = ...; } {
///         /// What the field means.
///         key_in: Inches = source.length;
///     }
/// }
/// ```
///
/// `with` may be left out. The record is made by `Name::of(source, other)`, and wherever a field holds such
/// records they are made of what `=` gives: a source, an option or a list of sources (several sources as a tuple).
macro_rules! record {
    (
        $(#[$about:meta])+
        $name:ident from ($($arg:ident: $source:ty),+ $(,)?) $(with { $($with:tt)* })? {
            $($(#[$attr:meta])+ $key:ident: $type:ty = $value:expr;)+
        }
    ) => {
        $(#[$about])+
        #[derive(Debug, Clone, serde::Serialize, schemars::JsonSchema)]
        pub struct $name {
            $($(#[$attr])+ pub $key: $type,)+
        }

        impl $name {
            /// As it is found.
            #[must_use]
            pub fn of($($arg: $source),+) -> $name {
                use $crate::facts::record::Of;
                $($($with)*)?
                $name { $($key: Of::of($value),)+ }
            }
        }

        record!(@of $name, $($arg: $source),+);

        impl $crate::facts::record::Record for $name {
            const KEYS: &'static [&'static str] = &[$(stringify!($key)),+];

            fn cells(&self) -> Vec<$crate::facts::record::Cell> {
                use $crate::facts::record::Datum;
                vec![$(self.$key.cell()),+]
            }
        }

        impl $crate::facts::record::Of<$name> for $name {
            fn of(source: $name) -> $name {
                source
            }
        }

        impl $crate::facts::record::Datum for $name {
            fn cell(&self) -> $crate::facts::record::Cell {
                $crate::facts::record::Cell::Many
            }
        }
    };
    (@of $name:ident, $arg:ident: $source:ty) => {
        impl $crate::facts::record::Of<$source> for $name {
            fn of($arg: $source) -> $name {
                $name::of($arg)
            }
        }
    };
    (@of $name:ident, $($arg:ident: $source:ty),+) => {
        impl $crate::facts::record::Of<($($source),+)> for $name {
            fn of(($($arg),+): ($($source),+)) -> $name {
                $name::of($($arg),+)
            }
        }
    };
}
pub(super) use record;
