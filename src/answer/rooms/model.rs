//! The frame in 3-D: a card for each pattern, where each stick goes, and the order in which they go up. The solids
//! themselves are those of the glTF file.

use serde::Serialize;

use crate::frame::{Axis, Member, Step};
use crate::measure::Writing;

use super::cut::{Card, card};
use super::looked::Looked;

/// What the model shows of the frame.
#[derive(Debug, Serialize)]
pub(super) struct ModelView {
    /// Every pattern.
    patterns: Vec<Pattern>,
    /// Number of sticks in all.
    count: usize,
    /// The order of erection: the steps of this frame.
    steps: Vec<StepView>,
}

#[derive(Debug, Serialize)]
struct Pattern {
    #[serde(flatten)]
    card: Card,
    /// Every stick of it, in the order of the file.
    placed: Vec<Placed>,
}

/// One stick.
#[derive(Debug, Serialize)]
struct Placed {
    /// The name of its node in the file.
    id: String,
    /// Where it goes.
    at: String,
}

/// One step of the erection.
#[derive(Debug, Serialize)]
struct StepView {
    title: &'static str,
    say: &'static str,
    /// What to brace while the frame can still move.
    caution: Option<&'static str>,
    /// What goes up, by pattern: `18 R1 common rafter`.
    up: Vec<String>,
    /// The sticks that go up, by the names of their nodes.
    sticks: Vec<String>,
}

pub(super) fn view(looked: &Looked, writing: Writing) -> ModelView {
    let sticks = looked.sticks();
    ModelView {
        patterns: sticks
            .members
            .iter()
            .map(|member| Pattern {
                card: card(looked, member, writing),
                placed: placed(looked, member, writing),
            })
            .collect(),
        count: sticks.count(),
        steps: Step::ALL.into_iter().filter_map(|step| step_view(looked, step)).collect(),
    }
}

fn placed(looked: &Looked, member: &Member, writing: Writing) -> Vec<Placed> {
    let sticks = looked.sticks();
    let of = |(id, axis): (&str, &Axis)| Placed {
        id: id.to_owned(),
        at: sticks.place(member, (id, axis)).write(writing),
    };
    member.placed_ids().map(of).collect()
}

/// The step, if any stick of this frame goes up in it.
fn step_view(looked: &Looked, step: Step) -> Option<StepView> {
    let frame = looked.sticks();
    let (mut up, mut sticks) = (Vec::new(), Vec::new());
    for member in frame.members {
        let before = sticks.len();
        let of_step = member.placed_ids().filter(|placed| frame.goes_up(member, *placed) == step);
        sticks.extend(of_step.map(|(id, _)| id.to_owned()));
        if sticks.len() > before {
            up.push(format!("{} {} {}", sticks.len() - before, member.mark, member.role.words()));
        }
    }
    (!sticks.is_empty()).then(|| StepView {
        title: step.title(),
        say: step.say(),
        caution: step.caution(),
        up,
        sticks,
    })
}
