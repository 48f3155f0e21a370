//! Lengths, pitches and sections as people write them: what is read is finite and reads back when it is printed, what is
//! refused has its place in the text.

use stepoff::measure::quantity::InInches;
use stepoff::measure::read::{self, ReadError};
use stepoff::measure::{Length, Step, Units, Writing};

/// Steps of a tape with the units that they are written in, and half a step, inches.
const WRITINGS: [(Writing, f64); 4] = [
    (Writing { units: Units::Feet, step: Step::Sixteenth, ..Writing::METRIC }, 1.0 / 32.0),
    (Writing { units: Units::Inches, step: Step::SixtyFourth, ..Writing::METRIC }, 1.0 / 128.0),
    (Writing { units: Units::Feet, step: Step::Eighth, ..Writing::METRIC }, 1.0 / 16.0),
    (Writing::METRIC, 0.5 / 25.4),
];

pub(super) fn words() -> Vec<String> {
    let words = [
        "'",
        "\"",
        "ft",
        "in",
        "mm",
        "cm",
        "m",
        "-",
        " ",
        "/",
        "1/16",
        "½",
        "7/8",
        "′",
        "″",
        "–",
        "deg",
        "%",
        ":",
        "/12",
        " in 12",
        "x",
        "2x6",
        "45x195mm",
        ",",
        ".",
        "+",
        "e",
        "°",
        "\u{a0}",
        "\u{2044}",
        "1-1/2",
        "0-9/16",
        "99999999999999999999",
        "1e308",
        "\u{202e}",
        "١",
    ];
    words.map(str::to_owned).to_vec()
}

pub(super) fn body(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let signed = read::signed_length(&text);
    match &signed {
        Ok(length) => is_read_back(&text, *length),
        Err(why) => has_its_place(&text, why),
    }
    match read::length(&text) {
        Ok(length) => {
            assert!(length.inches() >= 0.0, "{text:?}");
            assert_eq!(
                signed.ok().map(|length| length.inches()),
                Some(length.inches()),
                "{text:?}"
            );
        }
        Err(why) => {
            has_its_place(&text, &why);
            // only the sign may make the difference
            assert!(
                signed.is_err() || signed.is_ok_and(|length| length.inches() < 0.0),
                "{text:?}"
            );
        }
    }
    match read::pitch(&text) {
        Ok(pitch) => {
            assert!(pitch.tangent().is_finite() && pitch.tangent() >= 0.0, "{text:?}");
            for units in [Units::Feet, Units::Millimeters] {
                let written = Writing::of(units).pitch_for_file(pitch);
                let again = read::pitch(&written)
                    .unwrap_or_else(|why| panic!("{text:?} is written {written:?}: {why:?}"));
                // six places of a rise in 12, or of a degree
                let off = (again.tangent().atan() - pitch.tangent().atan()).abs();
                assert!(off <= 4.5e-8, "{text:?} is written {written:?}: {off}");
            }
        }
        Err(why) => has_its_place(&text, &why),
    }
    if let Err(why) = read::sides(&text) {
        has_its_place(&text, &why);
    }
    let _ = read::is_metric(&text);
}

fn is_read_back(text: &str, length: Length) {
    assert!(length.inches().is_finite() && length.inches().abs() <= 1e6, "{text:?}");
    for (writing, half) in WRITINGS {
        let written = writing.length(length);
        let again = read::signed_length(&written)
            .unwrap_or_else(|why| panic!("{text:?} is written {written:?}: {why:?}"));
        let off = (again.inches() - length.inches()).abs();
        assert!(off <= half + 1e-6, "{text:?} is written {written:?}: {off} off");
        // what a tape shows is shown alike when it is read again
        assert_eq!(writing.length(again), written, "{text:?}");
    }
}

fn has_its_place(text: &str, why: &ReadError) {
    assert!(text.get(why.span.clone()).is_some(), "{text:?}: {why:?}");
    assert!(!why.problem.to_string().is_empty() && !why.problem.help().is_empty(), "{why:?}");
    let _ = why.problem.readings();
}
