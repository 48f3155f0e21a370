//! Properties over random roofs.

use proptest::prelude::*;
use stepoff::frame::Frame;
use stepoff::plan::ChecksPlan;
use stepoff::rules::{Book, Finding, check, walk};

use super::verdicts::says_how_it_stands;
use super::{found, one, whole};
use crate::support::entries;

fn limit_of(found: &[Finding], id: &str) -> f64 {
    one(found, id).limit.unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// More load, a wider spacing or a higher tie never gives a longer span or fewer nails.
    #[test]
    fn heavier_is_never_easier(
        snow in 10_u32..60,
        more in 0_u32..30,
        spacing in prop::sample::select(vec!["12\"", "16\"", "19.2\"", "24\""]),
        tie in 0_u32..13,
        rise in 4_u32..10,
    ) {
        let roof = |snow: u32, spacing: &str, tie: u32| {
            found(&[
                ("loads.snow", &snow.to_string()),
                ("roof.spacing", spacing),
                ("ceiling.tie_height", &format!("{tie}\"")),
                ("roof.pitch", &format!("{rise}/12")),
            ])
        };
        let base = roof(snow, spacing, tie);
        let harder = [roof(snow + more, spacing, tie), roof(snow, "24\"", tie), roof(snow, spacing, tie.max(13))];
        for (which, heavy) in harder.iter().enumerate() {
            // a higher tie leaves less room for storage, and so less load on the joists
            let spans = if which == 2 { &["rafter_span"][..] } else { &["rafter_span", "ceiling_joist_span"] };
            for &span in spans {
                let limit = one(heavy, span).limit;
                prop_assert!(limit.is_none_or(|limit| limit <= limit_of(&base, span)), "{span}");
            }
            if let Some(nails) = one(heavy, "nail_cj_heel").limit {
                prop_assert!(nails >= limit_of(&base, "nail_cj_heel"));
            }
        }
    }

    /// Every gable has findings, each with a section and a place.
    #[test]
    fn any_roof_has_findings(
        span in 60_u32..420,
        length in 60_u32..500,
        rise in 1_u32..24,
        stock in prop::sample::select(vec!["2x4", "2x6", "2x10", "2x12", "45x195mm"]),
        joists in prop::sample::select(vec!["beside", "across", "none"]),
        wind in 80_u32..170,
        snow in 0_u32..100,
    ) {
        let fields = [
            ("building.span", format!("{span}\"")),
            ("building.length", format!("{length}\"")),
            ("roof.pitch", format!("{rise}/12")),
            ("rafter.stock", stock.to_owned()),
            ("ridge.board", "1-1/2\"".to_owned()),
            ("ceiling.joists", joists.to_owned()),
            ("loads.wind", wind.to_string()),
            ("loads.snow", snow.to_string()),
        ];
        let mut all = fields.to_vec();
        all.extend(whole().into_iter().map(|(key, text)| (key, text.to_owned())));
        let (plan, checks, _) = ChecksPlan::read(&entries(&all)).unwrap();
        if let Ok(frame) = Frame::build(&plan) {
            for finding in check::findings(&Book { frame: &frame, checks: &checks }) {
                prop_assert!(!finding.section.is_empty(), "{:?}", finding);
                prop_assert!(walk::place(finding.id).is_some());
                says_how_it_stands(&finding);
                prop_assert!(finding.found.is_none_or(f64::is_finite) && finding.limit.is_none_or(f64::is_finite));
            }
        }
    }
}
