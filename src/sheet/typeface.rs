//! The one typeface of all drawings, and the width of its words.
//!
//! DejaVu Sans Condensed, regular and bold, reduced to Latin, Greek, Cyrillic and the signs that a
//! framer writes; license beside the files. Kerning is left out, so that the width of a text is the sum
//! of its letters in every writer.

use std::collections::HashMap;
use std::sync::OnceLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// How heavy letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// As in running text.
    #[default]
    Regular,
    /// As in heads.
    Bold,
}

/// The family's name as SVG readers know it.
pub const FAMILY: &str = "DejaVu Sans Condensed";

/// Height of capitals as a part of the type size (1493 of 2048 units).
pub const CAPITAL: f64 = 1493.0 / 2048.0;

/// How far letters such as `g` reach below the base line, as a part of the type size.
pub const DESCENT: f64 = 483.0 / 2048.0;

/// Replaces a letter that the typeface does not have.
const MISSING: char = '?';

/// A letter of the typeface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// Its number in the font file.
    pub id: u32,
    /// Its width as a part of the type size.
    pub advance: f64,
}

impl Weight {
    /// The font file.
    #[must_use]
    pub fn file(self) -> &'static [u8] {
        match self {
            Weight::Regular => include_bytes!("typeface/regular.ttf"),
            Weight::Bold => include_bytes!("typeface/bold.ttf"),
        }
    }

    fn glyphs(self) -> &'static Glyphs {
        static REGULAR: OnceLock<Glyphs> = OnceLock::new();
        static BOLD: OnceLock<Glyphs> = OnceLock::new();
        match self {
            Weight::Regular => REGULAR.get_or_init(|| read(self.file())),
            Weight::Bold => BOLD.get_or_init(|| read(self.file())),
        }
    }

    /// The glyph of a letter, or of a question mark if the typeface does not have it.
    #[must_use]
    pub fn glyph(self, letter: char) -> Glyph {
        let glyphs = self.glyphs();
        glyphs.get(letter).or_else(|| glyphs.get(MISSING)).unwrap_or(Glyph { id: 0, advance: 0.5 })
    }

    /// The text with every letter that the typeface lacks replaced.
    #[must_use]
    pub fn shown(self, text: &str) -> String {
        let glyphs = self.glyphs();
        text.chars()
            .map(|letter| if glyphs.get(letter).is_some() { letter } else { MISSING })
            .collect()
    }
}

/// The glyphs of a typeface. Nearly every letter of a sheet is an ASCII letter, and texts are measured again and again: those are
/// found by their number.
#[derive(Default)]
struct Glyphs {
    ascii: Vec<Option<Glyph>>,
    all: HashMap<char, Glyph>,
}

impl Glyphs {
    fn get(&self, letter: char) -> Option<Glyph> {
        match self.ascii.get(letter as usize) {
            Some(glyph) => *glyph,
            None => self.all.get(&letter).copied(),
        }
    }
}

fn read(file: &[u8]) -> Glyphs {
    let Ok(font) = FontRef::new(file) else {
        return Glyphs::default();
    };
    let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    let all: HashMap<char, Glyph> = font
        .charmap()
        .mappings()
        .filter_map(|(code, id)| {
            let advance = f64::from(metrics.advance_width(id)?);
            let id = id.to_u32();
            Some((char::from_u32(code)?, Glyph { id, advance }))
        })
        .collect();
    let ascii = (0..=127u8).map(|code| all.get(&char::from(code)).copied()).collect();
    Glyphs { ascii, all }
}

/// Width of a text whose capitals are `height` high, in the unit of `height`.
#[must_use]
pub fn width(text: &str, height: f64, weight: Weight) -> f64 {
    let ems: f64 = text.chars().map(|letter| weight.glyph(letter).advance).sum();
    ems * height / CAPITAL
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn widths_are_those_of_the_font_file() {
        // hmtx of the file, by fontTools: H 1386 and i 512 units of 2048 in the regular weight
        let h = width("H", CAPITAL, Weight::Regular);
        assert_relative_eq!(h, 1386.0 / 2048.0, epsilon = 1e-4);
        let both = width("Hi", CAPITAL, Weight::Regular);
        assert_relative_eq!(both, (1386.0 + 512.0) / 2048.0, epsilon = 1e-4);
        assert!(width("H", 1.0, Weight::Bold) > width("H", 1.0, Weight::Regular));
    }

    #[test]
    fn every_sign_of_the_trade_is_there() {
        for letter in "0123456789'\"/-′″°½¼¾⅛⅜⅝⅞×±≤≥≈√∠⌀⊥→□".chars()
        {
            assert_eq!(Weight::Regular.shown(&letter.to_string()), letter.to_string());
        }
        assert_eq!(Weight::Bold.shown("屋a"), "?a");
    }
}
