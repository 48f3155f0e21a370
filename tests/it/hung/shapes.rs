//! Random shapes and choices: every kind, pitches and plates unlike.

use proptest::prelude::*;
use stepoff::catalog::lumber::Section;
use stepoff::frame::Choices;
use stepoff::measure::quantity::inches;
use stepoff::measure::{Length, Pitch};
use stepoff::roof::Shape;
use stepoff::roof::shape::{End, Main};

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
    pub(super) fn choices()(
        hip in one_of(&[1.5, 3.0]), valley in one_of(&[1.5, 3.0]), ridge in one_of(&[0.75, 1.5, 3.5]),
        spacing in one_of(&[12.0, 16.0, 24.0]), boards in one_of(&[0.0, 0.75, 2.25]), backed in any::<bool>(),
    ) -> Choices {
        Choices {
            rafter: Section::sized(inches(1.5), inches(5.5)),
            hip: Section::sized(hip, inches(7.25)),
            valley: Section::sized(valley, inches(7.25)),
            ridge,
            ridge_depth: None,
            spacing,
            plate: inches(3.5),
            boards,
            backed,
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
    main_block().prop_map(|main| Shape { main, wings: Vec::new(), dormers: Vec::new() })
}
