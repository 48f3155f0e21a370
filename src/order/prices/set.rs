//! One price changed in prices that are kept.

use super::rows::{Column, Priced, Row};
use super::{Prices, keys};
use crate::plan::Faults;

impl Prices {
    /// These prices with `price` for one of the goods with this key, as a line of an order names it:
    /// `2x6 12'`, `sheet 24/16`. A blank price takes it out; code and number on hand stay.
    ///
    /// # Errors
    /// A key that no order lists, a price that is none.
    pub fn with(mut self, key: &str, price: &str) -> Result<Prices, Faults> {
        let fields = [(Column::Key, key), (Column::Price, price)];
        let row = Row {
            span: 0..0,
            fields: fields
                .into_iter()
                .filter(|(_, text)| !text.trim().is_empty())
                .map(|(column, text)| (column, text.trim().to_owned(), 0..0))
                .collect(),
        };
        let mut faults = Faults::new();
        match row.read(&mut faults) {
            None => {}
            Some(Priced::Lumber(new)) => {
                let same = |old: &&mut super::LumberPrice| {
                    (old.section.thickness, old.section.depth, old.length)
                        == (new.section.thickness, new.section.depth, new.length)
                };
                match self.lumber.iter_mut().find(same) {
                    Some(old) => old.terms.cents = new.terms.cents,
                    None => self.lumber.push(new),
                }
            }
            Some(Priced::Item(new)) => {
                match self.items.iter_mut().find(|old| keys::same(&old.key, &new.key)) {
                    Some(old) => old.terms.cents = new.terms.cents,
                    None => self.items.push(new),
                }
            }
        }
        if faults.is_empty() { Ok(self) } else { Err(faults) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::write;
    use super::*;

    #[test]
    fn a_price_that_is_typed_is_kept_and_read_again() {
        let start = Prices::read(
            "note = \"spring\"\n[[item]]\nkey = \"clip\"\nprice = \"0.21\"\ncode = \"C-1\"\n",
        )
        .unwrap();
        let all = start
            .with("2x6 12'", "9.48")
            .and_then(|prices| prices.with("45x195mm 4.2m", "11"))
            .and_then(|prices| prices.with("Clip", " "))
            .and_then(|prices| prices.with("sheet 24/16", "$18.7"))
            .unwrap();
        let again = Prices::read(&write::kept(&all)).unwrap();
        assert_eq!(again, all);
        assert_eq!(again.note.as_deref(), Some("spring"));
        let cents: Vec<_> = again.lumber.iter().map(|one| one.terms.cents).collect();
        assert_eq!(cents, [Some(948), Some(1100)]);
        assert_eq!(again.item("sheet 24/16").unwrap().cents, Some(1870));
        let clip = again.item("clip").unwrap();
        assert_eq!((clip.cents, clip.code.as_deref()), (None, Some("C-1")));
        let changed = again.with("2x6 12'", "9.60").unwrap();
        assert_eq!(changed.lumber.len(), 2);
    }

    #[test]
    fn what_is_no_price_or_no_goods_is_refused() {
        for (key, price) in [("2x6 12'", "nine"), ("2x6 12'", "1.234"), ("gold", "1")] {
            assert!(Prices::default().with(key, price).is_err(), "{key} {price}");
        }
    }
}
