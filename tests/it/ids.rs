//! A second export changes only what changed: ids stay while sticks stay in place.

use std::collections::BTreeSet;

use stepoff::frame::Frame;
use stepoff::plan::GablePlan;

use crate::support::entries;

/// The ids of a cottage with these fields changed.
fn ids(changes: &[(&'static str, &str)]) -> BTreeSet<String> {
    let mut fields = vec![
        ("building.length", "22'".to_owned()),
        ("building.span", "14'".to_owned()),
        ("roof.pitch", "6/12".to_owned()),
        ("rake.overhang", "8\"".to_owned()),
        ("eave.fascia", "1x8".to_owned()),
        ("gable.vent_width", "14-1/2\"".to_owned()),
    ];
    for (key, value) in changes {
        fields.retain(|(known, _)| known != key);
        fields.push((key, (*value).to_owned()));
    }
    let plan = GablePlan::read(&entries(&fields)).unwrap();
    let frame = Frame::build(&plan).unwrap();
    frame
        .members
        .iter()
        .flat_map(|member| member.placed_ids().map(|(id, _)| id.to_owned()))
        .collect()
}

/// The ids with these letters.
fn of(ids: &BTreeSet<String>, letters: &[&str]) -> BTreeSet<String> {
    ids.iter().filter(|id| letters.contains(&id.split('-').next().unwrap())).cloned().collect()
}

/// All but these letters are the same before and after.
#[track_caller]
fn only(letters: &[&str], before: &BTreeSet<String>, after: &BTreeSet<String>) {
    assert_ne!(before, after, "nothing changed");
    for id in before.symmetric_difference(after) {
        assert!(letters.contains(&id.split('-').next().unwrap()), "{id}");
    }
}

#[test]
fn other_collar_ties_leave_all_else_alone() {
    let before = ids(&[]);
    only(&["C"], &before, &ids(&[("collar.spacing", "2'")]));
    only(&["C"], &before, &ids(&[("collar.ties", "no")]));
    // ties that stay keep their ids too
    let closer = of(&ids(&[("collar.spacing", "16\"")]), &["C"]);
    assert!(of(&before, &["C"]).is_subset(&closer));
    assert!(closer.len() > of(&before, &["C"]).len());
    // a tie of other lumber or at another height is the same tie, cut differently
    assert_eq!(before, ids(&[("collar.stock", "2x6")]));
    assert_eq!(before, ids(&[("collar.height", "2' 9\"")]));
}

#[test]
fn joists_come_and_go_without_the_rafters() {
    let without = ids(&[("ceiling.joists", "none")]);
    let with = ids(&[]);
    assert!(of(&without, &["J"]).is_empty());
    only(&["J"], &without, &with);
    let rafters = ["R", "RB", "D", "F", "G", "GV", "L", "B"];
    assert_eq!(of(&without, &rafters), of(&with, &rafters));
}

/// One bay more: every existing stick keeps its id, also at the far end.
#[test]
fn a_longer_building_adds_and_renames_nothing() {
    let (before, after) = (ids(&[]), ids(&[("building.length", "23' 4\"")]));
    let lost: Vec<&String> = before.difference(&after).collect();
    // boards get new pieces, and the last tie is near the far wall
    for id in lost {
        let letters = id.split('-').next().unwrap();
        assert!(["F", "D", "P", "C"].contains(&letters), "{id}");
    }
    let new = after.difference(&before).filter(|id| id.starts_with("R-")).count();
    assert_eq!(new, 2, "one pair");
    for kept in ["R-A-N", "R-B-F", "RB-A-F", "G-F-A-8", "R-A-128", "D-N"] {
        assert!(before.contains(kept) && after.contains(kept), "{kept}");
    }
}

#[test]
fn other_cuts_in_the_same_place_keep_the_id() {
    let before = ids(&[]);
    let rafters = ["R", "RB", "J", "B"];
    for change in [
        ("roof.pitch", "8/12"),
        ("rafter.stock", "2x8"),
        ("rafter.tail", "square"),
        ("eave.overhang", "8\""),
    ] {
        assert_eq!(of(&before, &rafters), of(&ids(&[change]), &rafters), "{change:?}");
    }
}
