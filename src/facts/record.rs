//! A table is described once: each field's name in JSON and CSV, its head on pages, what it means, its type, and where
//! its value comes from. From that come the JSON with its schema, rows of CSV, figures one by one, and the tables of
//! pages and sheets.
//!
//! Lengths and angles stay quantities in a record; only JSON and CSV see decimal inches and degrees.

use crate::measure::{Units, Writing};

use super::datum::Cell;

/// A field of a record.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name in JSON and CSV.
    pub key: &'static str,
    /// What stands over it on a page; `None` if no page has a column for it.
    pub head: Option<&'static str>,
    /// True if JSON and CSV leave it out.
    pub is_on_pages_only: bool,
    /// True if its cells stand to the right, as figures do.
    pub right: bool,
    /// The unit that a page has in the head; empty if the cells have their own.
    pub unit: fn(Units) -> &'static str,
}

/// What `record!` and `row!` describe.
pub trait Record {
    /// The fields, in order.
    const COLUMNS: &'static [Column];

    /// The value of each field, in the same order.
    fn cells(&self) -> Vec<Cell>;

    /// Each field as a page writes it, in the same order; empty where a page has no column.
    fn written(&self, writing: Writing) -> Vec<String>;

    /// The head of pages over the field with this key.
    #[must_use]
    fn head(key: &str) -> Option<&'static str> {
        Self::COLUMNS.iter().find(|column| column.key == key)?.head
    }

    /// Heads of pages and the values below them, in order.
    fn headed(&self) -> impl Iterator<Item = (&'static str, Cell)> {
        Self::COLUMNS
            .iter()
            .zip(self.cells())
            .filter_map(|(column, cell)| Some((column.head?, cell)))
    }

    /// Names and values of JSON and CSV, in order.
    fn figures(&self) -> impl Iterator<Item = (&'static str, Cell)> {
        let all = Self::COLUMNS.iter().zip(self.cells());
        all.filter(|(column, _)| !column.is_on_pages_only).map(|(column, cell)| (column.key, cell))
    }
}

impl<R: Record> Record for &R {
    const COLUMNS: &'static [Column] = R::COLUMNS;

    fn cells(&self) -> Vec<Cell> {
        R::cells(self)
    }

    fn written(&self, writing: Writing) -> Vec<String> {
        R::written(self, writing)
    }
}

/// True if each of these keys is that of a column with a head: what `keys!` asks while it compiles.
#[must_use]
pub const fn have_heads(columns: &[Column], keys: &[&str]) -> bool {
    const fn same(one: &str, other: &str) -> bool {
        let (one, other) = (one.as_bytes(), other.as_bytes());
        let mut at = 0;
        while at < one.len() && at < other.len() && one[at] == other[at] {
            at += 1;
        }
        at == one.len() && at == other.len()
    }
    let mut key = 0;
    while key < keys.len() {
        let mut at = 0;
        while at < columns.len()
            && !(same(columns[at].key, keys[key]) && columns[at].head.is_some())
        {
            at += 1;
        }
        if at == columns.len() {
            return false;
        }
        key += 1;
    }
    true
}

/// Columns of a record by their keys, for a page that shows some of them: `keys!(MarkJson: edge, at_in)`. Does not
/// compile if a page has no column for one of them.
macro_rules! keys {
    ($record:ty: $($key:ident),+ $(,)?) => {{
        use $crate::facts::record::{Record, have_heads};
        const KEYS: &[&str] = &[$(stringify!($key)),+];
        const { assert!(have_heads(<$record as Record>::COLUMNS, KEYS), "no page has such a column") };
        KEYS
    }};
}
pub(crate) use keys;

/// Describes a record.
///
/// ```text
/// record! {
///     /// What one record is.
///     Name from (source: &Source, other: Other) with { let shared = ...; } {
///         /// What the field means.
///         key_in "head on pages": Inches = source.length;
///         /// Another, which no page has a column for.
///         other_in: Inches = other.length;
///         /// Another, which JSON and CSV leave out.
///         exact "exact" on page: Exact = source.length;
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
            $($(#[$attr:meta])+ $key:ident $($head:literal)? $(on $page:ident)?: $type:ty = $value:expr;)+
        }
    ) => {
        $(#[$about])+
        #[derive(Debug, Clone, serde::Serialize, schemars::JsonSchema)]
        pub struct $name {
            $($(#[$attr])+ $(#[doc = concat!("On a ", stringify!($page), " only.")] #[serde(skip)])? pub $key: $type,)+
        }

        impl $name {
            /// As it is found.
            #[must_use]
            pub fn of($($arg: $source),+) -> $name {
                use $crate::facts::datum::Of;
                $($($with)*)?
                $name { $($key: Of::of($value),)+ }
            }
        }

        $crate::facts::record::record!(@of $name, $($arg: $source),+);
        $crate::facts::record::record!(@record $name { $($key, [$($head)?], [$($page)?], $type;)+ });

        impl $crate::facts::datum::Of<$name> for $name {
            fn of(source: $name) -> $name {
                source
            }
        }

        impl $crate::facts::datum::Datum for $name {
            const RIGHT: bool = false;

            fn cell(&self) -> $crate::facts::datum::Cell {
                $crate::facts::datum::Cell::Many
            }

            fn written(&self, writing: $crate::measure::Writing) -> String {
                $crate::facts::record::Record::written(self, writing).join(" ").trim().to_owned()
            }
        }
    };
    (@of $name:ident, $arg:ident: $source:ty) => {
        impl $crate::facts::datum::Of<$source> for $name {
            fn of($arg: $source) -> $name {
                $name::of($arg)
            }
        }
    };
    (@of $name:ident, $($arg:ident: $source:ty),+) => {
        impl $crate::facts::datum::Of<($($source),+)> for $name {
            fn of(($($arg),+): ($($source),+)) -> $name {
                $name::of($($arg),+)
            }
        }
    };
    (@record $name:ident { $($key:ident, [$($head:literal)?], [$($page:ident)?], $type:ty;)+ }) => {
        impl $crate::facts::record::Record for $name {
            const COLUMNS: &'static [$crate::facts::record::Column] = &[$(
                $crate::facts::record::Column {
                    key: stringify!($key),
                    head: $crate::facts::record::record!(@head $($head)?),
                    is_on_pages_only: $crate::facts::record::record!(@only $($page)?),
                    right: <$type as $crate::facts::datum::Datum>::RIGHT,
                    unit: <$type as $crate::facts::datum::Datum>::unit,
                }
            ),+];

            fn cells(&self) -> Vec<$crate::facts::datum::Cell> {
                use $crate::facts::datum::Datum;
                vec![$(self.$key.cell()),+]
            }

            fn written(&self, _writing: $crate::measure::Writing) -> Vec<String> {
                vec![$($crate::facts::record::record!(@written self, $key, _writing, $($head)?)),+]
            }
        }
    };
    (@head) => { None };
    (@head $head:literal) => { Some($head) };
    (@only) => { false };
    (@only $page:ident) => { true };
    (@written $self:ident, $key:ident, $writing:ident,) => { String::new() };
    (@written $self:ident, $key:ident, $writing:ident, $head:literal) => {
        $crate::facts::datum::Datum::written(&$self.$key, $writing)
    };
}
pub(crate) use record;

/// Describes a record that only a page has: like [`record!`](record), and each field has a head.
macro_rules! row {
    (
        $(#[$about:meta])+
        $vis:vis $name:ident from ($($arg:ident: $source:ty),+ $(,)?) $(with { $($with:tt)* })? {
            $($key:ident $head:literal: $type:ty = $value:expr;)+
        }
    ) => {
        $(#[$about])+
        #[derive(Debug, Clone)]
        $vis struct $name {
            $($vis $key: $type,)+
        }

        impl $name {
            $vis fn of($($arg: $source),+) -> $name {
                use $crate::facts::datum::Of;
                $($($with)*)?
                $name { $($key: Of::of($value),)+ }
            }
        }

        $crate::facts::record::record!(@record $name { $($key, [$head], [page], $type;)+ });
    };
}
pub(crate) use row;

#[cfg(test)]
#[allow(unreachable_pub, reason = "records are public wherever they are described")]
mod tests {
    use super::super::datum::{Cell, Cents, Change, Exact, Feet, Inches};
    use super::Record;
    use crate::measure::quantity::inches;
    use crate::measure::{Length, Writing};

    record! {
        /// A board.
        Board from (mark: &str, length: Length, price: Option<i64>) {
            /// Its mark.
            mark "mark": String = mark;
            /// Its length.
            length_in "length": Inches = length;
            /// The same.
            exact "exact" on page: Exact = length;
            /// Over 10 ft.
            over_in: Change = length - inches(120.0);
            /// What it is cut from.
            stock_ft "from": Option<Feet> = (length < inches(240.0)).then(|| inches(240.0));
            /// Its price.
            price_cents "price": Option<Cents> = price;
        }
    }

    #[test]
    fn json_has_the_keys_and_a_page_the_heads() {
        let board = Board::of("R1", inches(119.25), Some(1205));
        let json = serde_json::to_value(&board).unwrap();
        let expected = serde_json::json!({
            "mark": "R1", "length_in": 119.25, "over_in": -0.75, "stock_ft": 20.0, "price_cents": 1205
        });
        assert_eq!(json, expected);
        let keys: Vec<&str> = board.figures().map(|(key, _)| key).collect();
        assert_eq!(keys, ["mark", "length_in", "over_in", "stock_ft", "price_cents"]);
        let heads: Vec<&str> = board.headed().map(|(head, _)| head).collect();
        assert_eq!(heads, ["mark", "length", "exact", "from", "price"]);
        assert_eq!(board.figures().nth(2), Some(("over_in", Cell::Length(inches(-0.75)))));
        let schema = schemars::schema_for!(Board).to_value();
        let properties = schema["properties"].as_object().unwrap();
        assert!(!properties.contains_key("exact"));
        assert_eq!(properties["length_in"]["description"], "Its length.");
    }

    #[test]
    fn a_page_writes_each_type_in_its_own_way() {
        let written =
            |length: f64| Board::of("R1", inches(length), None).written(Writing::default());
        // what no page has a column for is not written
        assert_eq!(written(119.25), ["R1", "9' 11-1/4\"", "119.25 in", "", "20", ""]);
        assert_eq!(written(241.0)[4], "none so long");
        let metric = Board::of("R1", inches(119.25), None).written(Writing::METRIC);
        assert_eq!(metric, ["R1", "3029 mm", "3028.95 mm", "", "6.1", ""]);
    }
}
