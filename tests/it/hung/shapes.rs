//! Random shapes and choices: every kind, pitches and plates unlike.

use proptest::prelude::*;
use stepoff::catalog::lumber::Section;
use stepoff::frame::Choices;
use stepoff::measure::quantity::{InInches, inches};
use stepoff::measure::{Length, Pitch};
use stepoff::plan::GablePlan;
use stepoff::roof::Shape;
use stepoff::roof::Wall;
use stepoff::roof::shape::{Before, End, Main, Wing};

fn whole(count: u32) -> Length {
    inches(count.into())
}

fn pitch() -> impl Strategy<Value = Pitch> {
    (3u32..=14).prop_map(|rise| Pitch::rise_in_12(rise.into()).unwrap())
}

fn one_of(inches_of: &'static [f64]) -> impl Strategy<Value = Length> {
    prop::sample::select(inches_of).prop_map(inches)
}

prop_compose! {
    /// What stands between and beside the rafters: its span and pitch are not used.
    fn infill()(
        joists in prop::sample::select(&["beside", "beside", "across", "none"]),
        meeting in prop::sample::select(&["offset", "splice", "filler"]),
        bearing in 0u32..8, stock in prop::sample::select(&["2x4", "2x6", "2x8"]),
        studs in any::<bool>(), blocking in prop::sample::select(&["full", "held", "none"]),
        rake in prop::sample::select(&["ladder", "over", "notched"]),
        soffit in any::<bool>(), vent in prop::sample::select(&[None, Some(("14\"", "4\"")), Some(("10\"", "1\""))]),
    ) -> GablePlan {
        let mut fields = vec![
            ("building.span", "20'".to_owned()),
            ("building.length", "30'".to_owned()),
            ("roof.pitch", "6/12".to_owned()),
            ("rake.overhang", "12\"".to_owned()),
            ("rake.framing", rake.to_owned()),
            ("ceiling.joists", joists.to_owned()),
            ("ceiling.stock", stock.to_owned()),
            ("ceiling.meeting", meeting.to_owned()),
            ("gable.studs", if studs { "yes" } else { "no" }.to_owned()),
            ("eave.blocking", blocking.to_owned()),
        ];
        if soffit {
            fields.push(("eave.soffit_framing", "yes".to_owned()));
            fields.push(("building.sheathing", "1/2\"".to_owned()));
            // as often as soffits, so that no other case is drawn anew
            fields.push(("attic.access_width", "22\"".to_owned()));
            fields.push(("attic.access_length", "30\"".to_owned()));
        }
        if let Some((width, sill)) = vent {
            fields.push(("gable.vent_width", width.to_owned()));
            fields.push(("gable.vent_height", "16\"".to_owned()));
            fields.push(("gable.vent_sill", sill.to_owned()));
        }
        if bearing > 5 {
            fields.push(("ceiling.bearing", format!("{}'", bearing)));
        }
        GablePlan::read(&crate::support::entries(&fields)).unwrap()
    }
}

prop_compose! {
    pub(super) fn choices()(
        infill in prop::option::weighted(0.8, infill()),
        hip in one_of(&[1.5, 3.0]), valley in one_of(&[1.5, 3.0]), ridge in one_of(&[0.75, 1.5, 3.5]),
        spacing in one_of(&[12.0, 16.0, 24.0]), boards in 0usize..3, backed in any::<bool>(),
        tails in 0u32..3, from_rake in any::<bool>(),
    ) -> Choices {
        Choices {
            rafter: Section::sized(inches(1.5), inches(5.5)),
            hip: Section::sized(hip, inches(7.25)),
            valley: Section::sized(valley, inches(7.25)),
            ridge,
            ridge_depth: None,
            spacing,
            plate: inches(3.5),
            fascia: (boards > 0).then(|| Section::sized(inches(0.75), inches(7.25))),
            subfascia: (boards > 1).then(|| Section::sized(inches(1.5), inches(5.5))),
            square_tails: tails == 1,
            tail_face: (tails == 2).then(|| inches(4.0)),
            from_rake,
            longest: inches(240.0),
            deck: inches(0.5),
            laid_over: Vec::new(),
            backed,
            infill: infill.map(Box::new),
        }
    }
}

prop_compose! {
    fn main_block()(
        kind in 0u32..5, length in 96u32..=600, span in 96u32..=360, unlike in any::<bool>(),
        pitches in (pitch(), pitch(), pitch()), ends in (0u32..3, 0u32..3), raised in 0u32..=36,
        overhang in 6u32..=30, rake in 0u32..=18, heel in 14u32..=20,
    ) -> Main {
        let (one, b, hip) = if unlike { pitches } else { (pitches.0, pitches.0, pitches.0) };
        let (shed, raised_wall) = (kind == 0, kind == 1);
        let end = |hipped: u32| {
            if hipped > 0 && !shed && !raised_wall { End::Hip(hip) } else { End::Gable }
        };
        Main {
            length: whole(length),
            span: whole(span),
            pitch: one,
            pitch_b: (!shed).then_some(b),
            plate_b: if raised_wall { whole(raised) - inches(12.0) } else { inches(0.0) },
            ends: [end(ends.0), end(ends.1)],
            overhang: whole(overhang),
            rake: whole(rake),
            heel_stand: whole(heel) / 4.0,
        }
    }
}

/// A main block alone.
pub(super) fn one_block() -> impl Strategy<Value = Shape> {
    main_block().prop_map(|main| Shape {
        main,
        wings: Vec::new(),
        dormers: Vec::new(),
        openings: Vec::new(),
    })
}

/// What a wing is told by; parts of a whole are in a thousand.
type Told = (usize, u32, u32, u32, (Pitch, bool), bool, u32);

fn told() -> impl Strategy<Value = Told> {
    let part = 0u32..=1000;
    (0usize..4, part.clone(), part, 36u32..=200, (pitch(), any::<bool>()), any::<bool>(), 6u32..=24)
}

/// A wing before a wall of the main block: flush with an end of it and alike, or 30 in or more from both.
fn wing(main: &Main, number: usize, told: Told) -> Wing {
    let (wall, at, span, projection, (pitch, alike), hip, overhang) = told;
    let wall = Wall::ALL[wall];
    let length = match wall {
        Wall::A | Wall::B => main.length.inches(),
        Wall::Near | Wall::Far => main.span.inches(),
    };
    let part = |of: u32, low: f64, high: f64| (low + (high - low) * f64::from(of) / 1000.0).round();
    let span = part(span, 60.0, (length - 1.0).clamp(60.0, 240.0));
    let flush = at % 4 == 0 || length - span < 61.0;
    let start = match (flush, at % 8 < 4) {
        (true, true) => 0.0,
        (true, false) => length - span,
        (false, _) => part(at, 30.0, length - span - 30.0),
    };
    Wing {
        name: format!("w{number}"),
        on: Before { wing: None, wall },
        start: inches(start),
        span: inches(span),
        projection: whole(projection),
        pitch: if alike || flush { main.pitch } else { pitch },
        plate: inches(0.0),
        hip,
        overhang: if alike || flush { main.overhang } else { whole(overhang) },
        rake: main.rake,
    }
}

/// A main block with one to three wings.
pub(super) fn with_wings() -> impl Strategy<Value = Shape> {
    (main_block(), prop::collection::vec(told(), 1..=3)).prop_map(|(main, told)| {
        let wings = told.into_iter().enumerate();
        let wings = wings.map(|(number, told)| wing(&main, number, told)).collect();
        Shape { main, wings, dormers: Vec::new(), openings: Vec::new() }
    })
}
