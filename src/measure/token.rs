//! The words of a length or a pitch: numbers, fractions, marks and unit words.

use std::ops::Range;

use winnow::ascii::{Caseless, digit1};
use winnow::combinator::{alt, opt, peek, preceded, repeat, terminated};
use winnow::token::{any, one_of, take_while};
use winnow::{LocatingSlice, Parser, Result};

/// One word of the input.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Token {
    /// A decimal number; `whole` if it was written without a point.
    Number { value: f64, whole: bool },
    /// A fraction, typed (`3/16`) or as one sign (`½`).
    Fraction { over: f64, under: f64 },
    /// A foot mark or word.
    Foot,
    /// An inch mark. The word `in` is [`Token::In`], because a pitch uses it in another way.
    InchMark,
    /// The word `in`, an inch or the `in` of `6 in 12`.
    In,
    /// The word `on`, as in `6 on 12`.
    On,
    /// Millimeters.
    Millimeter,
    /// Centimeters.
    Centimeter,
    /// Meters.
    Meter,
    /// Degrees, sign or word.
    Degree,
    /// The percent sign.
    Percent,
    /// A dash of any kind.
    Dash,
    /// A plus sign.
    Plus,
    /// A colon.
    Colon,
    /// The `x` or `×` between two sides of a section.
    By,
    /// A comma, which is always refused.
    Comma,
    /// Any other word or sign.
    Other(String),
}

/// A token and the bytes of the input it came from.
pub(super) type Placed = (Token, Range<usize>);

/// Splits `text` into its tokens. Every text can be split: unknown words are [`Token::Other`].
pub(super) fn tokens(text: &str) -> Vec<Placed> {
    let space = take_while(0.., char::is_whitespace);
    let mut all = preceded(space, repeat(0.., token_then_space));
    // an error would mean that `any` failed before the end; then there are no tokens
    all.parse_next(&mut LocatingSlice::new(text)).unwrap_or_default()
}

type Input<'a> = LocatingSlice<&'a str>;

fn token_then_space(input: &mut Input<'_>) -> Result<Placed> {
    let token =
        alt((fraction, number, sign, unit_before_x, word, other)).with_span().parse_next(input)?;
    take_while(0.., char::is_whitespace).parse_next(input)?;
    Ok(token)
}

fn number(input: &mut Input<'_>) -> Result<Token> {
    let digits = alt(((digit1, opt(('.', digit1))).take(), ('.', digit1).take()));
    digits
        .try_map(|text: &str| {
            text.parse().map(|value| Token::Number { value, whole: !text.contains('.') })
        })
        .parse_next(input)
}

fn fraction(input: &mut Input<'_>) -> Result<Token> {
    alt((typed_fraction, fraction_sign)).parse_next(input)
}

/// `3/16`: digits on both sides of a slash. A decimal numerator (`6.5/12`) belongs to a pitch.
fn typed_fraction(input: &mut Input<'_>) -> Result<Token> {
    let space = || take_while(0.., ' ');
    let over = alt(((digit1, opt(('.', digit1))).take(), ('.', digit1).take()));
    let under = (digit1, opt(('.', digit1))).take();
    (over, space(), one_of(['/', '⁄', '∕']), space(), under)
        .try_map(|(over, _, _, _, under): (&str, _, _, _, &str)| {
            Ok::<_, std::num::ParseFloatError>(Token::Fraction {
                over: over.parse()?,
                under: under.parse()?,
            })
        })
        .parse_next(input)
}

fn fraction_sign(input: &mut Input<'_>) -> Result<Token> {
    any.verify_map(|sign| {
        let (over, under) = match sign {
            '½' => (1, 2),
            '¼' => (1, 4),
            '¾' => (3, 4),
            '⅛' => (1, 8),
            '⅜' => (3, 8),
            '⅝' => (5, 8),
            '⅞' => (7, 8),
            '⅓' => (1, 3),
            '⅔' => (2, 3),
            '⅕' => (1, 5),
            '⅖' => (2, 5),
            '⅗' => (3, 5),
            '⅘' => (4, 5),
            '⅙' => (1, 6),
            '⅚' => (5, 6),
            '⅒' => (1, 10),
            _ => return None,
        };
        Some(Token::Fraction { over: f64::from(over), under: f64::from(under) })
    })
    .parse_next(input)
}

fn sign(input: &mut Input<'_>) -> Result<Token> {
    let doubled = alt(("''", "′′", "’’")).value(Token::InchMark);
    let single = any.verify_map(|sign| {
        Some(match sign {
            '"' | '″' | '”' | '“' | '˝' | '〃' => Token::InchMark,
            '\'' | '′' | '’' | '‘' | 'ʹ' | '´' | '`' => Token::Foot,
            '-' | '–' | '—' | '−' | '‐' | '‑' => Token::Dash,
            '°' | 'º' => Token::Degree,
            '%' => Token::Percent,
            ':' => Token::Colon,
            '+' => Token::Plus,
            '×' => Token::By,
            ',' => Token::Comma,
            _ => return None,
        })
    });
    alt((doubled, single)).parse_next(input)
}

/// A unit directly before the `x` of a section: `1.5inx5.5in`.
fn unit_before_x(input: &mut Input<'_>) -> Result<Token> {
    let unit = alt((
        Caseless("mm").value(Token::Millimeter),
        Caseless("cm").value(Token::Centimeter),
        Caseless("in").value(Token::In),
        Caseless("ft").value(Token::Foot),
        Caseless("m").value(Token::Meter),
    ));
    terminated(unit, peek(one_of(['x', 'X']))).parse_next(input)
}

/// Letters, with a closing period as in `24 ft. 3 in.`; an `x` between digits is a word of its own
/// (`2x6`).
fn word(input: &mut Input<'_>) -> Result<Token> {
    (take_while(1.., char::is_alphabetic), opt('.'))
        .map(|(letters, _): (&str, _)| match letters.to_lowercase().as_str() {
            "ft" | "foot" | "feet" => Token::Foot,
            "in" => Token::In,
            "inch" | "inches" | "ins" => Token::InchMark,
            "on" => Token::On,
            "mm" | "millimeter" | "millimeters" | "millimetre" | "millimetres" => Token::Millimeter,
            "cm" | "centimeter" | "centimeters" | "centimetre" | "centimetres" => Token::Centimeter,
            "m" | "meter" | "meters" | "metre" | "metres" => Token::Meter,
            "deg" | "degree" | "degrees" => Token::Degree,
            "percent" => Token::Percent,
            "x" | "by" => Token::By,
            _ => Token::Other(letters.to_owned()),
        })
        .parse_next(input)
}

fn other(input: &mut Input<'_>) -> Result<Token> {
    any.map(|sign: char| Token::Other(sign.to_string())).parse_next(input)
}
