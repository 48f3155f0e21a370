use super::*;
use crate::measure::pitch::Pitch;
use crate::measure::quantity::{InInches, inches, millimeters};
use crate::measure::tape::{Step, Tape, Units, Writing};
use crate::measure::token::{Token, tokens};
use proptest::prelude::*;

#[track_caller]
fn reads(text: &str, expected_in: f64) {
    let read = length(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert!((read.inches() - expected_in).abs() < 1e-9, "{text} read as {} in", read.inches());
}

#[track_caller]
fn refuses(text: &str, problem: &str, help: &str) {
    let error = length(text).expect_err(text);
    assert_eq!(error.to_string(), problem, "{text}");
    assert!(error.problem.help().contains(help), "{text}: {}", error.problem.help());
    assert!(text.get(error.span.clone()).is_some(), "{text}: {:?}", error.span);
}

#[test]
fn reads_what_people_write() {
    reads("24'", 288.0);
    reads("24' 3-1/2\"", 291.5);
    reads("24'-3 1/2\"", 291.5);
    reads("24'3½”", 291.5);
    reads("24′ 3–1/2″", 291.5);
    reads("24ft 3.5in", 291.5);
    reads("24 FT. 3 1/2 IN.", 291.5);
    reads("24 feet 3 inches", 291.0);
    reads("24' 3", 291.0);
    reads("24' 0-1/2\"", 288.5);
    reads("291.5\"", 291.5);
    reads("291 1/2 in", 291.5);
    reads("5''", 5.0);
    reads("½\"", 0.5);
    reads("3/4\"", 0.75);
    reads("1 ½ in", 1.5);
    reads(".75in", 0.75);
    reads("2.5'", 30.0);
    reads("2-1/2 ft", 30.0);
    reads("  7.4 m ", 7400.0 / 25.4);
    reads("7400mm", 7400.0 / 25.4);
    reads("740 cm", 7400.0 / 25.4);
    reads("0\"", 0.0);
    reads("0", 0.0);
    reads("16ft3in", 195.0);
    reads("16ft3-1/2in", 195.5);
    reads("16FT 3IN", 195.0);
    reads("14' 11-63/64\"", 179.984_375);
    assert_eq!(signed_length("-3/4\"").unwrap().inches(), -0.75);
    assert_eq!(signed_length("−2' 6\"").unwrap().inches(), -30.0);
}

/// Every fraction that Unicode has as one sign and that a trade writes.
#[test]
fn a_fraction_sign_reads_as_the_fraction_typed() {
    let signs = "½ 1/2 ¼ 1/4 ¾ 3/4 ⅛ 1/8 ⅜ 3/8 ⅝ 5/8 ⅞ 7/8 ⅓ 1/3 ⅔ 2/3 ⅕ 1/5 ⅖ 2/5 ⅗ 3/5 ⅘ 4/5 ⅙ 1/6 ⅚ 5/6 ⅒ 1/10";
    let words: Vec<&str> = signs.split(' ').collect();
    for pair in words.chunks(2) {
        let of = |text: &str| match tokens(text).as_slice() {
            [(Token::Fraction { over, under }, _)] => (*over, *under),
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(of(pair[0]), of(pair[1]));
    }
}

#[test]
fn refuses_what_could_mean_two_things() {
    refuses(
        "24-3-1/2",
        "the first number could be feet or inches",
        "24ft3-1/2in if feet come first, or 27.5in",
    );
    refuses("24-3-1/2\"", "the first number could be feet or inches", "24ft3-1/2in");
    refuses(
        "24-3",
        "the first number could be feet or inches",
        "24ft3in if feet come first, or 24-3/16in",
    );
    refuses(
        "16-3-5",
        "the first number could be feet or inches",
        "16ft3-5/16in if feet come first, or 19.3125in",
    );
    refuses(
        "14' 13\"",
        "beside feet go less than 12 inches",
        "15ft1in if both are meant together, or 14ft0-13/16in if sixteenths are",
    );
    refuses(
        "14' 26-1/2\"",
        "beside feet go less than 12 inches",
        "16ft2-1/2in if both are meant together, or 26.5in if the feet are not",
    );
    refuses("7315", "7315 has no unit", "7315mm");
    refuses("1/2", "1/2 has no unit", "1/2in");
    refuses("7,4 m", "a comma could be a decimal mark or could group the digits", "7.4m");
    refuses("7 m 3 in", "metric and inch units in one length", "one kind");
    refuses("7 1/2 m", "a metric length is one decimal number", "7.404m");
    refuses("-3\"", "a length below zero can't be used here", "zero or more");
    refuses("", "nothing is written here", "24ft");
    refuses("-", "nothing is written here", "24ft");
    refuses("banana", "\"banana\" does not belong in a length", "24ft");
    refuses("6/12 pitch", "\"pitch\" does not belong in a length", "24ft");
    refuses("6-17/16\"", "the fraction beside whole inches is one inch or more", "7-1/16");
    refuses("9999999999999999'", "this is larger than anything that is framed", "unit");
}

#[test]
fn a_fraction_no_tape_has_names_the_nearest_sixteenth() {
    let error = length("12' 6-1/3\"").unwrap_err();
    assert_eq!(
        error.to_string(),
        "a fraction of an inch needs a denominator of 2, 4, 8, 16, 32 or 64, found 3"
    );
    assert!(error.problem.help().contains("12' 6-5/16\""));
    assert_eq!(error.span, 6..9);
    assert!(length("1/0\"").is_err());
}

#[test]
fn reads_pitches_and_refuses_bare_fractions() {
    let rise = |text| pitch(text).map(Pitch::unit_rise);
    assert_eq!(rise("6/12"), Ok(6.0));
    assert_eq!(rise("6:12"), Ok(6.0));
    assert_eq!(rise("6 in 12"), Ok(6.0));
    assert_eq!(rise("6 on 12"), Ok(6.0));
    assert_eq!(rise("6-1/2 in 12"), Ok(6.5));
    assert_eq!(rise("6.5/12"), Ok(6.5));
    for half in [
        "6-1/2 /12",
        "6 1/2/12",
        "6½/12",
        "6½ : 12",
        "6-1/2 in 12",
        "6-1/2\" / 12\"",
        "6-1/2in/12in",
    ] {
        assert_eq!(rise(half), Ok(6.5), "{half}");
    }
    assert_eq!(rise("6\" in 12\""), Ok(6.0));
    assert_eq!(rise("2 in 5"), Ok(4.8));
    assert_eq!(rise("1 on 4"), Ok(3.0));
    assert_eq!(rise("7in12"), Ok(7.0));
    assert!(pitch("1:4").unwrap_err().problem.help().contains("3/12"));
    assert_eq!(rise("50%"), Ok(6.0));
    assert!((rise("26.565051177deg").unwrap() - 6.0).abs() < 1e-9);
    assert!((rise("45°").unwrap() - 12.0).abs() < 1e-12);
    let error = pitch("1/4").unwrap_err();
    assert!(error.problem.help().contains("3/12") && error.problem.help().contains("6/12"));
    assert!(matches!(pitch("6").unwrap_err().problem, Problem::BarePitch { .. }));
    for bad in [
        "",
        "deg",
        "90deg",
        "-6/12",
        "6/0",
        "6/12/3",
        "6/12/12",
        "6 in 0",
        "6/12 in 12",
        "x",
        "6 in",
        "12 in 6 in",
    ] {
        assert!(pitch(bad).is_err(), "{bad}");
    }
}

#[test]
fn reads_sections() {
    assert_eq!(sides("2x6"), Ok(Sides::Nominal(2.0, 6.0)));
    assert_eq!(sides("2 X 10"), Ok(Sides::Nominal(2.0, 10.0)));
    assert_eq!(sides("5/4x6"), Ok(Sides::Nominal(1.25, 6.0)));
    assert_eq!(sides("1.5in x 5.5in"), Ok(Sides::Actual(inches(1.5), inches(5.5))));
    assert_eq!(sides("1-1/2\" × 5½\""), Ok(Sides::Actual(inches(1.5), inches(5.5))));
    let metric = Sides::Actual(millimeters(45.0), millimeters(195.0));
    assert_eq!(sides("45x195mm"), Ok(metric));
    assert_eq!(sides("45mm x 195 mm"), Ok(metric));
    assert_eq!(sides("45mmx195mm"), Ok(metric));
    assert_eq!(sides("1.5inX5.5in"), Ok(Sides::Actual(inches(1.5), inches(5.5))));
    for bad in ["", "2", "2x", "x6", "2x6x8", "1.5 x 5.5in", "two by six"] {
        assert!(sides(bad).is_err(), "{bad}");
    }
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused_without_panic(text in "\\PC*") {
        for error in [length(&text).err(), pitch(&text).err(), sides(&text).err()].into_iter().flatten() {
            prop_assert!(text.get(error.span.clone()).is_some());
            let _ = (error.to_string(), error.problem.help());
        }
    }

    #[test]
    fn near_misses_are_read_or_refused_without_panic(
        text in "[-–+]?[0-9]{0,6}['′\"″/.,:x -]{0,3}[0-9½¼ ]{0,4}[/-]?[0-9]{0,3}( ?(ft|in|mm|m|cm|deg|%|\"))?"
    ) {
        for error in [length(&text).err(), pitch(&text).err(), sides(&text).err()].into_iter().flatten() {
            prop_assert!(text.get(error.span.clone()).is_some());
        }
    }

    #[test]
    fn print_then_read_gives_the_same_tape(sixty_fourths in -5_000_000_i64..5_000_000, step in 0_usize..7) {
        let step = Step::ALL[step];
        let exact = inches(sixty_fourths as f64 / 64.0 + 0.003);
        let tape = Tape::nearest(exact, step);
        for units in [Units::Feet, Units::Inches, Units::Millimeters] {
            let text = Writing { units, step, ..Writing::default() }.tape(tape);
            let back = Tape::nearest(signed_length(&text).expect(&text), step);
            prop_assert_eq!(back, tape, "{}", text);
        }
    }
}

#[test]
fn what_could_mean_two_things_names_readings_that_can_be_read() {
    for (text, count) in [("16-3-1/2", 2), ("16", 3), ("14' 13\"", 1), ("5-1/3\"", 1)] {
        let readings = length(text).unwrap_err().problem.readings();
        assert_eq!(readings.len(), count, "{text}");
        for reading in readings {
            assert!(length(&reading).is_ok(), "{text}: {reading}");
        }
    }
    for (text, count) in [("1/4", 2), ("6", 3)] {
        let readings = pitch(text).unwrap_err().problem.readings();
        assert_eq!(readings.len(), count, "{text}");
        for reading in readings {
            assert!(pitch(&reading).is_ok(), "{text}: {reading}");
        }
    }
    assert!(length("hello").unwrap_err().problem.readings().is_empty());
}
