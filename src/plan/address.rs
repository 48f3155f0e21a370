//! Which field of a roof file is meant, where the file may have several tables of one name.

use std::fmt;

use super::field::{Key, is_list};

/// A field, and in which table of its name it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Address {
    /// The field.
    pub key: Key,
    /// Which table of that name, counted from 0; 0 where a file has one at most.
    pub item: usize,
}

impl Address {
    /// The address that is written so: `roof.pitch`, or `wing.2.span` for the second wing.
    ///
    /// ```
    /// use stepoff::plan::Address;
    ///
    /// let span = Address::of("wing.2.span").unwrap();
    /// assert_eq!((span.key.name(), span.item), ("wing.span", 1));
    /// assert_eq!(span.to_string(), "wing.2.span");
    /// assert_eq!(Address::of("roof.pitch").unwrap().to_string(), "roof.pitch");
    /// assert!(Address::of("roof.2.pitch").is_none());
    /// ```
    #[must_use]
    pub fn of(text: &str) -> Option<Address> {
        if let Some(key) = Key::of(text).filter(|key| !is_list(key.field().table())) {
            return Some(Address { key, item: 0 });
        }
        let (table, rest) = text.split_once('.')?;
        let (number, name) = rest.split_once('.')?;
        let item = number.parse::<usize>().ok()?.checked_sub(1)?;
        let key = Key::of(&format!("{table}.{name}")).filter(|_| is_list(table))?;
        Some(Address { key, item })
    }
}

impl fmt::Display for Address {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let field = self.key.field();
        if is_list(field.table()) {
            write!(f, "{}.{}.{}", field.table(), self.item + 1, field.name())
        } else {
            f.write_str(field.key)
        }
    }
}

impl From<Key> for Address {
    fn from(key: Key) -> Address {
        Address { key, item: 0 }
    }
}
