//! Editions of the residential code that the tables were read in.

use std::fmt;
use std::str::FromStr;

use super::names::{UnknownName, folded};

/// An edition of the International Residential Code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Edition {
    /// IRC 2015.
    Irc2015,
    /// IRC 2018.
    Irc2018,
    /// IRC 2021, the default: most of the adopted codes in which the tables were read are based on it.
    #[default]
    Irc2021,
    /// IRC 2024.
    Irc2024,
}

impl Edition {
    /// All editions, oldest first.
    pub const ALL: [Edition; 4] =
        [Edition::Irc2015, Edition::Irc2018, Edition::Irc2021, Edition::Irc2024];

    /// The year in the edition's name.
    #[must_use]
    pub fn year(self) -> u16 {
        match self {
            Edition::Irc2015 => 2015,
            Edition::Irc2018 => 2018,
            Edition::Irc2021 => 2021,
            Edition::Irc2024 => 2024,
        }
    }
}

impl fmt::Display for Edition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "IRC {}", self.year())
    }
}

impl FromStr for Edition {
    type Err = UnknownName;

    /// Reads `2021` or `IRC 2021`.
    fn from_str(text: &str) -> Result<Self, UnknownName> {
        let wanted = folded(text);
        let year = wanted.strip_prefix("irc").unwrap_or(&wanted);
        Edition::ALL.into_iter().find(|edition| edition.year().to_string() == year).ok_or_else(
            || UnknownName {
                what: "code edition",
                found: text.to_owned(),
                allowed: "2015, 2018, 2021, 2024",
            },
        )
    }
}

/// The editions that a row was read in, as the tables write them: `2015|2018`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Editions(u8);

impl Editions {
    /// Every edition the catalog knows.
    pub const ALL: Editions = Editions(0b1111);

    /// True if `edition` is one of them.
    #[must_use]
    pub fn contains(self, edition: Edition) -> bool {
        self.0 & Editions::bit(edition) != 0
    }

    fn bit(edition: Edition) -> u8 {
        1 << edition as u8
    }

    /// Reads a row's editions; names of other codes are ignored.
    pub(super) fn read(text: &str) -> Editions {
        let mut found = Editions(0);
        for name in text.split('|') {
            found.0 |= match name {
                "2015" => Editions::bit(Edition::Irc2015),
                "2018" => Editions::bit(Edition::Irc2018),
                "2021" => Editions::bit(Edition::Irc2021),
                "2024" => Editions::bit(Edition::Irc2024),
                _ => 0,
            };
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_refuses() {
        assert_eq!("IRC 2018".parse(), Ok(Edition::Irc2018));
        assert_eq!("2024".parse(), Ok(Edition::Irc2024));
        let refused = "2012".parse::<Edition>().unwrap_err();
        assert_eq!(
            refused.to_string(),
            "unknown code edition `2012`; allowed: 2015, 2018, 2021, 2024"
        );
    }

    #[test]
    fn sets_of_editions() {
        let both = Editions::read("2015|2018");
        assert!(both.contains(Edition::Irc2015) && both.contains(Edition::Irc2018));
        assert!(!both.contains(Edition::Irc2021));
        assert_eq!(Editions::read("IBC 2015|IBC 2021"), Editions(0));
    }
}
