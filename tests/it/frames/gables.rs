//! Random gables with every choice in the roof file, and odd values of each.

use proptest::prelude::*;

use super::Fields;

/// Random gables.
pub(super) fn gables() -> impl Strategy<Value = Fields> {
    let eighths =
        |low: i64, high: i64| (low * 8..=high * 8).prop_map(|n| format!("{}\"", n as f64 / 8.0));
    let pick = |words: &'static [&'static str]| prop::sample::select(words).prop_map(str::to_owned);
    let shape = (
        eighths(96, 400),
        eighths(20, 400),
        (32_i64..=288).prop_map(|n| format!("{}/12", n as f64 / 16.0)),
        pick(&["2x4", "2x6", "2x8", "2x10", "2x12", "45x195mm", "4x6"]),
        pick(&["none", "3/4\"", "2x8", "1-3/4\"", "3-1/2\"", "45mm", "38mm"]),
        pick(&[
            "12\"", "16\"", "19.2\"", "24\"", "400mm", "600mm", "3\"", "4-1/2\"", "6\"", "7-1/4\"",
        ]),
        pick(&["wall", "rake"]),
    );
    let eave = (
        prop_oneof![Just("0\"".to_owned()), eighths(4, 30)],
        pick(&["none", "1x6", "3/4\"", "19mm"]),
        pick(&["none", "none", "2x6", "19mm"]),
        (
            pick(&["plumb", "plumb", "square", "level"]),
            prop_oneof![Just(None), (8_i64..=96).prop_map(Some)],
        ),
        pick(&["full", "held", "none"]),
        pick(&["yes", "no"]),
        pick(&["2x4", "2x6", "95mm"]),
    );
    let rake = (
        prop_oneof![Just("0\"".to_owned()), eighths(6, 24)],
        (pick(&["ladder", "over", "notched"]), pick(&["2x4", "2x6", "4x4", "45x95mm"])),
        pick(&["16\"", "24\""]),
        pick(&["between", "pair", "none"]),
    );
    let ceiling = (
        pick(&["beside", "beside", "across", "none"]),
        pick(&["2x4", "2x6", "2x8", "2x10", "3in x 5.5in"]),
        prop_oneof![Just(None), (30_u32..70).prop_map(Some)],
        pick(&["offset", "splice", "filler"]),
        pick(&["3\"", "8\""]),
        prop_oneof![Just("none".to_owned()), eighths(0, 20)],
    );
    let upper = (
        pick(&["yes", "no"]),
        pick(&["yes", "yes", "no"]),
        prop_oneof![Just("none".to_owned()), Just("14-1/2\"".to_owned()), Just("22\"".to_owned())],
        pick(&["8'", "16'", "20'"]),
    );
    (shape, eave, rake, ceiling, upper).prop_map(
        |(
            (span, length, pitch, stock, ridge, spacing, from),
            (overhang, fascia, subfascia, (tail, face), blocking, soffit, plate),
            (rake, (framing, outlooker), rake_spacing, joints),
            (joists, joist, bearing, meeting, lap, tie_height),
            (collars, studs, vent, longest),
        )| {
            let level = tail == "level";
            let span_in: f64 = span.trim_end_matches('"').parse().unwrap();
            let mut fields = vec![
                ("building.span", span),
                ("building.length", length),
                ("building.plate", plate),
                ("roof.pitch", pitch),
                ("roof.spacing", spacing),
                ("roof.layout_from", from),
                ("rafter.stock", stock),
                ("rafter.tail", tail),
                ("ridge.board", ridge),
                ("ridge.joints", joints),
                ("eave.overhang", overhang),
                ("eave.fascia", fascia),
                ("eave.subfascia", subfascia),
                ("eave.blocking", blocking),
                ("eave.soffit_framing", soffit),
                ("rake.overhang", rake),
                ("rake.framing", framing),
                ("rake.stock", outlooker),
                ("rake.spacing", rake_spacing),
                ("ceiling.joists", joists),
                ("ceiling.stock", joist),
                ("ceiling.meeting", meeting),
                ("ceiling.lap", lap),
                ("ceiling.tie_height", tie_height),
                ("collar.ties", collars),
                ("gable.studs", studs),
                ("gable.vent_width", vent),
                ("lumber.longest", longest),
            ];
            if let (Some(sixteenths), true) = (face, level) {
                fields.push(("rafter.tail_face", format!("{}\"", sixteenths as f64 / 16.0)));
            }
            if let Some(percent) = bearing {
                fields.push((
                    "ceiling.bearing",
                    format!("{}\"", span_in * f64::from(percent) / 100.0),
                ));
            }
            fields
        },
    )
}
