//! The pairs of code and value that make up a file.

use std::fmt::{Display, Write};

/// The name under which ids and marks are written with the entities.
pub(super) const APPLICATION: &str = "STEPOFF";

pub(super) fn section(text: &mut String, name: &str, body: impl FnOnce(&mut String)) {
    group(text, 0, "SECTION");
    group(text, 2, name);
    body(text);
    group(text, 0, "ENDSEC");
}

pub(super) fn group(text: &mut String, code: u16, value: impl Display) {
    // writing to a String can't fail
    let _ = writeln!(text, "{code:>3}\n{value}");
}

pub(super) fn hex(handle: u32) -> String {
    format!("{handle:X}")
}

/// A number with a point, without last bits.
pub(super) fn real(value: f64) -> String {
    let text = format!("{value:.9}");
    let short = text.trim_end_matches('0');
    let short = if short.ends_with('.') { format!("{short}0") } else { short.to_owned() };
    if short == "-0.0" { "0.0".into() } else { short }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_point_and_no_last_bits() {
        for (value, text) in
            [(0.0, "0.0"), (-1e-12, "0.0"), (12.0, "12.0"), (-3.25, "-3.25"), (0.1 + 0.2, "0.3")]
        {
            assert_eq!(real(value), text);
        }
    }
}
