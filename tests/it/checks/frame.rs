//! Notch, ridge, spans and ties: figures redone by hand.

use stepoff::catalog::code_rules::RuleId;
use stepoff::measure::Writing;
use stepoff::rules::{Finding, Verdict};

use super::{ROOT5, finding, found, held, one, rule};

/// 6 in 12: sin = 1/sqrt 5. The seat is shortened so that 1/4 of 5-1/2 in is notched: 1.375.
#[test]
fn notch_bearing_and_tail_by_hand() {
    let all = found(&[]);
    let quarter = rule("notch_end") * 5.5;
    held(one(&all, "notch_end"), 1.375, quarter, Verdict::Meets);
    held(one(&all, "bearing_wood"), 1.375 * ROOT5, rule("bearing_wood"), Verdict::Meets);
    held(one(&all, "tail_notch_remaining"), 4.125, rule("tail_notch_remaining"), Verdict::Meets);
    held(one(&all, "tail_notch_cantilever"), 11.25, rule("tail_notch_cantilever"), Verdict::Meets);
    // a full 2x4 seat notches 3.5 / sqrt 5 = 1.565
    held(&finding("notch_end", &[("rafter.seat", "3.5\"")]), 3.5 / ROOT5, quarter, Verdict::Fails);
}

/// Plumb cut 5.5 x sqrt 5 / 2 = 6.149; a 1x6 ridge is 5.5 deep and 3/4 thick.
#[test]
fn ridge_by_hand() {
    let all = found(&[]);
    held(one(&all, "ridge_board_depth"), 7.25, 5.5 * ROOT5 / 2.0, Verdict::Meets);
    held(one(&all, "ridge_board_thickness"), 1.5, 0.75, Verdict::Meets);
    held(one(&all, "rafter_offset"), 0.0, rule("rafter_offset"), Verdict::Meets);
    held(one(&all, "ridge_low_slope_beam"), 6.0, rule("ridge_low_slope_beam"), Verdict::Meets);
    let shallow = [("ridge.board", "1x6")];
    held(&finding("ridge_board_depth", &shallow), 5.5, 5.5 * ROOT5 / 2.0, Verdict::Fails);
    held(&finding("ridge_board_thickness", &shallow), 0.75, 0.75, Verdict::Meets);
    held(&finding("ridge_board_thickness", &[("ridge.board", "1/2\"")]), 0.5, 0.75, Verdict::Fails);
    // two lengths of joist lap: the rafters are one joist apart
    let lapped = [("ceiling.bearing", "7'")];
    held(&finding("rafter_offset", &lapped), 1.5, 1.5, Verdict::Meets);
    // North Carolina: within the ridge's own thickness
    let thin = [
        ("ceiling.bearing", "7'"),
        ("ridge.board", "3/4\""),
        ("ridge.depth", "7-1/4\""),
        ("code.jurisdiction", "North Carolina"),
    ];
    let aligned = finding("nc_ridge_alignment", &thin);
    held(&aligned, 1.5, 0.75, Verdict::Fails);
    assert!(aligned.edition.contains("North Carolina"));
    // butting rafters
    let butt = [("ridge.board", "none"), ("collar.ties", "no")];
    assert_eq!(finding("rafter_gusset_option", &butt).missing, [stepoff::key!("ridge.gussets")]);
    assert_eq!(finding("rafter_collar_or_strap", &butt).missing, [stepoff::key!("ridge.straps")]);
}

/// 14 ft over 22 ft at 2 in 12, 30 psf snow: w = (10 + 30) x 7 = 280 lb/ft of ridge,
/// M = 280 x 22^2 / 8 = 16940 lb-ft, R = 280 x 11 = 3080 lb.
#[test]
fn below_3_in_12_the_ridge_is_a_beam() {
    let low = finding("ridge_low_slope_beam", &[("roof.pitch", "2/12")]);
    held(&low, 2.0, 3.0, Verdict::NeedsDesign);
    for figure in ["280 lb/ft", "16940 lb-ft", "3080 lb"] {
        assert!(
            low.noted(Writing::default()).contains(figure),
            "{figure}: {}",
            low.noted(Writing::default())
        );
    }
    let untied = found(&[("ceiling.joists", "none")]);
    assert_eq!(one(&untied, "ridge_no_tie_beam").verdict, Verdict::NeedsDesign);
    assert_eq!(one(&untied, "rafter_span").verdict, Verdict::NeedsDesign);
    assert!(untied.iter().all(|finding| finding.id != RuleId::NailCjHeel));
}

/// Peak: heel stand 5.5 sqrt 5 / 2 - 3.0746 / 2 = 4.6118; + 84 / 2 = 46.6118; 2/3 of it 31.0745. The attic reaches from the
/// joists, 5.5, to the underside at the ridge's center, 46.6118 - 6.1492 = 40.4626: its upper third begins at
/// 5.5 + 2/3 x 34.9626 = 28.8084.
#[test]
fn collar_ties_by_hand() {
    let all = found(&[]);
    let peak = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0;
    let third = 5.5 + (peak - 5.5 * ROOT5 / 2.0 - 5.5) * 2.0 / 3.0;
    held(one(&all, "collar_tie_location"), peak * 2.0 / 3.0, third, Verdict::Meets);
    // both figures are given; between them the attic's decides
    let between = finding("collar_tie_location", &[("collar.height", "30\"")]);
    held(&between, 30.0, third, Verdict::Meets);
    assert!(
        between.noted(Writing::default()).contains("31.075 in"),
        "{}",
        between.noted(Writing::default())
    );
    held(one(&all, "collar_tie_spacing"), 48.0, rule("collar_tie_spacing"), Verdict::Meets);
    held(one(&all, "collar_tie_size"), 3.5, 3.5, Verdict::Meets);
    held(
        &finding("collar_tie_location", &[("collar.height", "24\"")]),
        24.0,
        third,
        Verdict::Fails,
    );
    // 24 in on center: every second pair for 4 ft, every third for 6 ft
    let wide = [("roof.spacing", "24\""), ("collar.spacing", "6'"), ("lumber.grade", "SS")];
    held(&finding("collar_tie_spacing", &wide), 72.0, 48.0, Verdict::Fails);
}

/// Table R802.4.1(3): SPF No.2 2x6 at 16 in, 30 psf snow, 10 psf dead: 11-11. Run 7 ft.
/// A tie at 10 in: H_C/H_R = 10 / 42 = 0.238; the next printed ratio is 1/4: 0.76 x 143 = 108.68.
/// Exact: above the tie at x = 1 - 1/(2 (1 - k)) = 0.34375: m = x^2/2 + k / (2 (1 - k)) = 0.21533;
/// sqrt(0.125 / 0.21533) = 0.76191. k at 8 in = 0.190: 0.83 printed; x = 0.38235, m = 0.190744, 0.80953.
#[test]
fn rafter_span_by_hand() {
    let plain = finding("rafter_span", &[]);
    held(&plain, 84.0, 143.0, Verdict::Meets);
    assert_eq!(plain.section, "Table R802.4.1(3)");
    let raised = finding("rafter_span", &[("ceiling.tie_height", "8\"")]);
    held(&raised, 84.0, 118.0, Verdict::Meets);
    assert!(
        raised.noted(Writing::default()).contains("above exact statics, 0.81")
            && raised.noted(Writing::default()).contains("143 in x 0.83"),
        "{}",
        raised.noted(Writing::default())
    );
    let higher = finding("rafter_span", &[("ceiling.tie_height", "10\"")]);
    held(&higher, 84.0, 108.0, Verdict::Meets);
    assert!(
        !higher.noted(Writing::default()).contains("above exact statics"),
        "{}",
        higher.noted(Writing::default())
    );
    let long = [("building.span", "28'"), ("ceiling.bearing", "14'")];
    held(&finding("rafter_span", &long), 168.0, 143.0, Verdict::Fails);
    // no snow: live 20 psf, table R802.4.1(1), 2x6 at 16: 14-1 by the printed table's cell
    let live = finding("rafter_span", &[("loads.snow", "0")]);
    assert_eq!(live.section, "Table R802.4.1(1)");
}

/// Table R802.5.1(1): SPF No.2 2x6 at 16 in, no storage: 16-11.
/// Clear height: 46.6118 - 0.375 (half the ridge at 6 in 12) - 6.1492 - 5.5 = 34.588, under 42.
#[test]
fn ceiling_joists_and_storage_by_hand() {
    let all = found(&[]);
    held(one(&all, "ceiling_joist_span"), 168.0, 203.0, Verdict::Meets);
    let clear = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0 - 0.375 - 5.5 * ROOT5 / 2.0 - 5.5;
    held(one(&all, "attic_live_no_storage"), clear, 42.0, Verdict::Meets);
    // 8 in 12 over 16 ft: 42 in and more, so 20 psf and 10 psf dead: w = 30 x 16 / 144 = 3.3333,
    // sqrt(8 x 1308.125 x 7.5625 / 3.3333) = 154.09
    let high =
        found(&[("roof.pitch", "8/12"), ("building.span", "16'"), ("insulation.depth", "3\"")]);
    let stored = one(&high, "attic_live_limited_storage");
    assert!(stored.noted(Writing::default()).contains("20 psf live and 10 psf dead"));
    held(one(&high, "ceiling_joist_span"), 192.0, 154.0, Verdict::Fails);
    let lapped = finding("ceiling_joist_span", &[("ceiling.bearing", "6'")]);
    held(&lapped, 96.0, 203.0, Verdict::Meets);
    // insulation as deep as the joists: no storage, whatever the height
    let deep = found(&[
        ("roof.pitch", "8/12"),
        ("building.span", "16'"),
        ("insulation.depth", "6\""),
        ("insulation.baffles", "yes"),
    ]);
    held(one(&deep, "ceiling_joist_span"), 192.0, 203.0, Verdict::Meets);
    let stairs = finding("ceiling_joist_span", &[("attic.stairs", "yes")]);
    assert!(
        stairs.noted(Writing::default()).contains("attic live 30 psf"),
        "{}",
        stairs.noted(Writing::default())
    );
}

/// T = (10 + 0.77 x 30) x 16/12 x 14 / (4 x 0.5) = 308.93 lb; / 138 = 2.24, at least 3 nails. For a tie
/// 12 in above the plate: the underside of the ridge is 46.2369 - 7.25 = 38.9869 in above it, H_C/H_R =
/// 12/38.9869 = 0.308, factor 1.50: 4.5, 5 nails. Editions before 2021 measure to run times slope.
#[test]
fn heel_nails_by_hand() {
    let nails = finding("nail_cj_heel", &[]);
    // required by the table, not specified in the plan; nails that would fit do not count as driven
    assert_eq!((nails.found, nails.limit), (None, Some(3.0)));
    assert_eq!(nails.verdict, Verdict::Meets);
    assert!(
        nails.noted(Writing::default()).contains("needs 3; 22 fit"),
        "{}",
        nails.noted(Writing::default())
    );
    let specified = |count| finding("nail_cj_heel", &[("ceiling.heel_nails", count)]);
    held(&specified("4"), 4.0, 3.0, Verdict::Meets);
    held(&specified("2"), 2.0, 3.0, Verdict::Fails);
    let said = |finding: &Finding| finding.shortfall(Writing::default()).unwrap();
    assert_eq!(said(&specified("2")), "too few: 2, at least 3");
    assert!(specified("2").noted(Writing::default()).contains("needs 3, 2 specified; 22 fit"));
    // more than fit split the wood
    held(&specified("23"), 23.0, 22.0, Verdict::Fails);
    assert_eq!(said(&specified("23")), "too many: 23, at most 22");
    // a stricter limit of the user's own waits for the count
    let own = ("limits.heel_nails", "5 because of the county");
    let waits = finding("nail_cj_heel", &[own]);
    assert_eq!(waits.verdict, Verdict::NotChecked);
    assert_eq!(waits.missing, [stepoff::key!("ceiling.heel_nails")]);
    let four = finding("nail_cj_heel", &[own, ("ceiling.heel_nails", "4")]);
    assert_eq!((four.verdict, four.off_by()), (Verdict::Fails, Some(1.0)));
    assert!(
        nails.noted(Writing::default()).contains("thrust 308.933 lb"),
        "{}",
        nails.noted(Writing::default())
    );
    let raised = finding("nail_cj_heel", &[("ceiling.tie_height", "12\"")]);
    assert_eq!(raised.limit, Some(5.0));
    held(
        &finding("ridge_tie_above_third", &[("ceiling.tie_height", "12\"")]),
        12.0,
        (46.2369 - 7.25) / 3.0,
        Verdict::Meets,
    );
    held(
        &finding(
            "ridge_tie_above_third",
            &[("ceiling.tie_height", "12\""), ("code.edition", "2018")],
        ),
        12.0,
        14.0,
        Verdict::Meets,
    );
    let high = found(&[("ceiling.tie_height", "15\"")]);
    held(one(&high, "ridge_tie_above_third"), 15.0, (46.2369 - 7.25) / 3.0, Verdict::NeedsDesign);
    assert_eq!(one(&high, "nail_cj_heel").verdict, Verdict::NeedsDesign);
    assert_eq!(one(&high, "rafter_span").verdict, Verdict::NeedsDesign);
}

/// The clip removes 5.5 - 4.6118 = 0.8882 in plumb from the joist's end; 1/4 of 5.5 is 1.375.
#[test]
fn ties_by_hand() {
    let all = found(&[]);
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(one(&all, "cj_taper_cut"), 5.5 - stand, rule("cj_taper_cut") * 5.5, Verdict::Meets);
    held(
        one(&all, "heel_table_span_limit"),
        168.0,
        rule("heel_table_span_limit") * 12.0,
        Verdict::Meets,
    );
    assert_eq!(one(&all, "cj_continuity").verdict, Verdict::Meets);
    let lapped = [("ceiling.bearing", "7'")];
    held(&finding("cj_lap", &lapped), 3.0, rule("cj_lap"), Verdict::Meets);
    let short = [("ceiling.bearing", "7'"), ("ceiling.lap", "2\"")];
    held(&finding("cj_lap", &short), 2.0, 3.0, Verdict::Fails);
    assert_eq!(finding("cj_lap_tie_nails", &lapped).limit, Some(3.0));
}

#[test]
fn rafter_ties_by_edition_and_state() {
    let across = |edition: &'static str, state: Option<&'static str>| {
        let mut fields = vec![
            ("ceiling.joists", "across"),
            ("ceiling.tie_spacing", "32\""),
            ("code.edition", edition),
        ];
        fields.extend(state.map(|state| ("code.jurisdiction", state)));
        found(&fields)
    };
    let spacing = across("2021", None);
    held(
        one(&spacing, "rafter_tie_spacing_2021"),
        32.0,
        rule("rafter_tie_spacing_2021"),
        Verdict::Fails,
    );
    let state = across("2021", Some("north carolina"));
    held(one(&state, "nc_rafter_tie_spacing"), 32.0, rule("nc_rafter_tie_spacing"), Verdict::Meets);
    let each = across("2018", None);
    held(one(&each, "rafter_tie_spacing_2018"), 32.0, 16.0, Verdict::Fails);
    let unstated = across("2015", None);
    assert_eq!(one(&unstated, "rafter_tie_spacing_2015").limit, None);
    held(one(&spacing, "rafter_tie_size"), 3.5, 3.5, Verdict::Meets);
    // 32 in is beyond the heel joint table
    assert_eq!(one(&spacing, "nail_cj_heel").verdict, Verdict::NeedsDesign);
}

/// Outlookers on the flat take 1.5 of 5.5 in off the end rafter: 4 in deep, a quarter of it 1 in; over
/// the notch 4 - 1.375 = 2.625 in remain.
#[test]
fn a_ripped_end_rafter_is_held_too() {
    let all = found(&[("rake.overhang", "16\""), ("rake.framing", "over")]);
    let ripped: Vec<_> =
        all.iter().filter(|finding| finding.title.contains("ripped end rafter")).collect();
    assert_eq!(ripped.len(), 2);
    held(ripped[0], 1.375, 1.0, Verdict::Fails);
    held(ripped[1], 2.625, rule("tail_notch_remaining"), Verdict::Fails);
}

/// Over 257 in the rafter at 256 would run into the end pair: the last bay is 255.5 - 239.25 = 16.25 in,
/// and the rafter before it carries 16.125.
#[test]
fn a_wider_last_bay_counts() {
    use stepoff::measure::quantity::InInches;
    for (length, wider) in [("264\"", false), ("257\"", true)] {
        let fields: Vec<(&'static str, String)> = [("building.length", length.to_owned())]
            .into_iter()
            .chain(super::whole().into_iter().map(|(key, text)| (key, text.to_owned())))
            .collect();
        let (plan, checks, _) =
            stepoff::plan::ChecksPlan::read(&crate::support::entries(&fields)).unwrap();
        let frame = stepoff::frame::Frame::build(&plan).unwrap();
        let book = stepoff::rules::Book { frame: &frame, checks: &checks };
        let width = book.carried_width().inches();
        assert_eq!(width > 16.0, wider, "{length}: {width}");
        let x: Vec<f64> = frame.pairs.iter().map(|pair| pair.x_a).collect();
        let by_hand = x.windows(3).map(|w| (w[2] - w[0]) / 2.0).fold(16.0, f64::max);
        assert!((width - by_hand).abs() < 1e-9);
        assert!(!wider || (width - 16.125).abs() < 1e-9, "{width}");
        let span = one(&found(&[("building.length", length)]), "rafter_span").limit.unwrap();
        assert_eq!(span < 143.0, wider, "{length}: {span}");
    }
}
