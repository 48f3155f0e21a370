//! The attic opening among the joists: statics and places by hand.

use stepoff::frame::Frame;
use stepoff::frame::opening::Opening;
use stepoff::measure::Writing;
use stepoff::measure::quantity::InInches;
use stepoff::plan::GablePlan;
use stepoff::rules::Verdict;

use super::{Fields, found, held, one, whole};
use crate::support::{File, entries, stepoff, text};

fn opening(other: &[(&'static str, &'static str)]) -> (Opening, usize, usize) {
    let fields: Fields = [other, &whole()[..]].concat();
    let fields: Vec<_> = fields
        .into_iter()
        .filter(|(key, _)| {
            ["building", "roof", "rafter", "ridge", "eave", "rake", "ceiling", "gable"]
                .iter()
                .any(|table| key.starts_with(&format!("{table}.")))
                || ["width", "length", "along", "x", "y", "headers", "trimmers"]
                    .iter()
                    .any(|side| *key == format!("attic.access_{side}"))
        })
        .map(|(key, text)| (key, text.to_owned()))
        .collect();
    let plan = GablePlan::read(&entries(&fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let ties = Frame::build(&plan).unwrap().ties;
    let opening = ties.opening.unwrap_or_else(|| panic!("an opening"));
    (opening, ties.count, ties.inner_pairs)
}

/// Joists at 16 in are 14-1/2 in apart clear: 22 in cut at least one, and 22 in placed over two of them
/// cut both.
#[test]
fn an_opening_wider_than_the_bay_cuts_what_it_covers() {
    let (least, tied, pairs) = opening(&[]);
    assert_eq!((least.cut_rows.len(), tied, pairs), (1, 15, 16));
    // 2 x 16 less a joist
    assert!(
        (least.between.inches() - 30.5).abs() < 1e-9 && (least.gap.inches() - 32.0).abs() < 1e-9
    );
    // under the ridge: 84 - 15 in less the plate's 3-1/2
    assert!((least.header_to_bearing.inches() - 65.5).abs() < 1e-9);
    // joists are at 32.75 + 16 n: from 111.25 to 133.25 are those at 112.75 and 128.75
    let (worst, tied, _) = opening(&[("attic.access_x", "122-1/4\"")]);
    assert_eq!((worst.cut_rows.len(), tied), (2, 14));
    assert!(
        (worst.between.inches() - 46.5).abs() < 1e-9 && (worst.gap.inches() - 48.0).abs() < 1e-9
    );
    // at 24 in there are 22-1/2 in between two joists
    let (none, tied, pairs) = opening(&[
        ("roof.spacing", "24\""),
        ("rafter.stock", "2x8"),
        ("ridge.board", "2x10"),
        ("eave.fascia", "1x10"),
    ]);
    assert_eq!((none.cut_rows.len(), tied), (0, pairs));
    // at 12 in one cut joist would leave 22-1/2 in and no room for a second trimmer, as told: two are cut. 30 in along the ridge
    // cut two: 34-1/2 in
    let (narrow, tied, pairs) = opening(&[("roof.spacing", "12\"")]);
    assert_eq!((narrow.cut_rows.len(), pairs - tied), (2, 2));
    let (single, ..) = opening(&[("roof.spacing", "12\""), ("attic.access_trimmers", "single")]);
    assert_eq!(single.cut_rows.len(), 1);
    let (turned, ..) = opening(&[("roof.spacing", "12\""), ("attic.access_along", "ridge")]);
    assert_eq!(turned.cut_rows.len(), 2);
    // rafter ties are cut like joists
    let (ties, tied, _) = opening(&[
        ("ceiling.joists", "across"),
        ("attic.access_along", "ridge"),
        ("attic.access_length", "60\""),
    ]);
    assert!(!ties.cut_rows.is_empty(), "{ties:?} {tied}");
    // an opening over one of two lapped lengths cuts that one
    let (lapped, ..) = opening(&[("ceiling.bearing", "7'")]);
    assert!(lapped.y.0.inches() >= 84.0 || lapped.y.1.inches() <= 84.0, "{lapped:?}");
    assert_eq!(lapped.cut_rows.len(), 1);
}

/// The pull of a joist by hand: (10 + 0.77 x 30) x 16/12 x 14 / (4 x 0.5) = 308.93 lb.
#[test]
fn cut_ties_need_design_or_a_detail_rated_for_their_pull() {
    let asked = |tie: Option<&'static str>| {
        let mut fields: Vec<(&'static str, &'static str)> = whole();
        fields.retain(|(key, _)| *key != "attic.access_tie");
        fields.extend(tie.map(|tie| ("attic.access_tie", tie)));
        let fields: Vec<_> = fields.into_iter().map(|(key, text)| (key, text.to_owned())).collect();
        one(&super::of(&fields), "cj_continuity").clone()
    };
    let open = asked(None);
    held(&open, 15.0, 16.0, Verdict::NeedsDesign);
    for said in ["of pair ", "308.933 lb", "32 in apart", "attic.access_x"] {
        assert!(
            open.noted(Writing::default()).contains(said),
            "{said}: {}",
            open.noted(Writing::default())
        );
    }
    assert_eq!(asked(Some("300")).verdict, Verdict::NeedsDesign);
    assert_eq!(asked(Some("310")).verdict, Verdict::Meets);
}

/// R802.9: a header up to 4 ft is single; a trimmer is single only if the header is within 3 ft of its
/// bearing.
#[test]
fn headers_and_trimmers_as_the_code_frames_openings() {
    let with = |headers, trimmers, length| {
        found(&[
            ("attic.access_headers", headers),
            ("attic.access_trimmers", trimmers),
            ("attic.access_along", "ridge"),
            ("attic.access_length", length),
        ])
    };
    // 30 in along the ridge: between two joists that are 30-1/2 in apart there is no room for a second one, so two joists are cut
    let small = with("single", "double", "30\"");
    held(one(&small, "opening_header_single"), 46.5, 48.0, Verdict::Meets);
    let single = with("single", "single", "30\"");
    held(one(&single, "opening_header_single"), 30.5, 48.0, Verdict::Meets);
    // 60 in: 62-1/2 in between
    let wide = with("single", "single", "60\"");
    held(one(&wide, "opening_header_single"), 62.5, 48.0, Verdict::Fails);
    // 84 - 11 - 3.5
    held(one(&wide, "opening_trimmer_single"), 69.5, 36.0, Verdict::Fails);
    let doubled = with("double", "double", "60\"");
    held(one(&doubled, "opening_header_single"), 62.5, 48.0, Verdict::NeedsDesign);
    assert_eq!(one(&doubled, "opening_trimmer_single").verdict, Verdict::Meets);
    // near a wall a trimmer may be single: the farther edge 28 + 11 - 3.5 = 35.5 in from the plate
    let near = found(&[
        ("attic.access_trimmers", "single"),
        ("attic.access_along", "ridge"),
        ("attic.access_y", "28\""),
    ]);
    assert_eq!(one(&near, "opening_trimmer_single").verdict, Verdict::Meets);
}

/// Joists across the rafters are no sticks here, and what frames the opening in them is not seen: it has to be told.
#[test]
fn of_joists_across_the_framing_of_the_opening_is_asked_for() {
    let with = |told: &[(&'static str, &'static str)]| {
        let mut fields: Fields = whole();
        fields.retain(|(key, _)| {
            !key.starts_with("attic.access_h") && !key.starts_with("attic.access_tr")
        });
        fields.extend([
            ("ceiling.joists", "across"),
            ("attic.access_along", "ridge"),
            ("attic.access_length", "60\""),
        ]);
        fields.retain(|(key, text)| *key != "attic.access_length" || *text == "60\"");
        fields.extend(told);
        let fields: Vec<_> = fields.into_iter().map(|(key, text)| (key, text.to_owned())).collect();
        super::of(&fields)
    };
    for id in ["opening_header_single", "opening_trimmer_single"] {
        assert_eq!(one(&with(&[]), id).verdict, Verdict::NotChecked, "{id}");
    }
    let told = with(&[("attic.access_headers", "double"), ("attic.access_trimmers", "double")]);
    assert_eq!(one(&told, "opening_trimmer_single").verdict, Verdict::Meets);
}

#[test]
fn check_ties_and_layout_say_which_pairs_an_opening_unties() {
    let roof = text("examples/kestrel-yard.toml")
        .replace("spacing = '16\"'", "spacing = '12\"'")
        .replace("access_tie = 900", "");
    let roof = File::new("opening.toml", &roof);
    for (command, status) in [("check", 1), ("ties", 1), ("layout", 0), ("frame", 1)] {
        let output = stepoff(&[command, roof.name(), "--columns", "200"]);
        let page = String::from_utf8(output.stdout).unwrap();
        assert_eq!(output.status.code(), Some(status), "{command}: {page}");
        assert!(page.contains("pair 1") || page.contains("unties"), "{command}: {page}");
        assert!(!page.contains("20 of 20") && !page.contains("21 of 21"), "{page}");
    }
}
