//! The numbers of the roof, what they come to, and the section that is always on screen.

use serde::{Deserialize, Serialize};

use crate::facts::frame as facts;
use crate::fit::dragged::{self, Grip};
use crate::frame::{HungFrame, Member, Role, Sticks};
use crate::geom::DVec2;
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing};
use crate::plan::{ChecksPlan, Entries, Key, Value};
use crate::rules::Verdict;
use crate::sheet::drawing::View as Sight;
use crate::sheet::set::{self, Glance, Held};
use crate::sheet::{self, Drawing};

use super::super::{Input, Refused, on_page};
use super::looked::{Looked, View};
use super::parts::{self, Part};
use super::picture::Picture;
use super::table::TableView;

/// What always stands: the drawing, what the numbers come to, how the roof stands.
#[derive(Debug, Serialize)]
pub(super) struct PlanView {
    /// Name of the job.
    name: Option<String>,
    drawing: Picture,
    /// How the drawing is placed on its paper: what a drag gives back.
    placed: Placed,
    /// The points of the drawing that change a field when they are dragged.
    grips: Vec<GripView>,
    /// What the numbers come to, the same names whatever the roof, so that two answers can be held beside each other.
    figures: Vec<Figure>,
    /// How many findings have each verdict, worst first, in words.
    counts: Vec<Count>,
    /// What fails or needs design, in a line each.
    open: Vec<Open>,
    /// Fields with the value that is used.
    values: Vec<FieldValue>,
    /// Wings, dormers and openings.
    parts: Vec<Part>,
    /// Faces with their pitches and areas, edges with their true lengths.
    faces: Vec<TableView>,
    /// Notes of the frame.
    notes: Vec<String>,
}

/// A drawing's view of the work, and its height.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::answer) struct Placed {
    scale: f64,
    x: f64,
    y: f64,
    high: f64,
}

/// Views with less or more than this are none of ours: inches of paper for an inch of work, and inches of paper.
const SCALES: (f64, f64) = (1e-4, 10.0);
const PAPER: (f64, f64) = (-1000.0, 1000.0);

impl Placed {
    fn of(drawing: &Drawing, view: &Sight) -> Placed {
        let Sight { scale, origin } = *view;
        Placed { scale, x: origin.x, y: origin.y, high: drawing.height }
    }

    /// The view, with every number in bounds.
    pub(in crate::answer) fn held(self) -> Held {
        let within = |value: f64, (low, high): (f64, f64)| value.clamp(low, high);
        let origin = DVec2::new(within(self.x, PAPER), within(self.y, PAPER));
        let view = Sight { scale: within(self.scale, SCALES), origin };
        Held { view, height: within(self.high, (0.5, 40.0)) }
    }

    /// The place of the work under a place of the paper, from its upper left corner.
    fn work(self, paper: [f64; 2]) -> DVec2 {
        let Held { view, height } = self.held();
        let paper = DVec2::new(paper[0].clamp(PAPER.0, PAPER.1), paper[1].clamp(PAPER.0, PAPER.1));
        (DVec2::new(paper.x, height - paper.y) - view.origin) / view.scale
    }
}

/// A point that is dragged; inches of paper from the upper left corner.
#[derive(Debug, Serialize)]
struct GripView {
    field: &'static str,
    x: f64,
    y: f64,
}

/// What a field is written as when its point is brought to a place of the paper; `None` if it has no point.
pub(in crate::answer) fn dragged(
    input: &Input,
    field: Key,
    at: [f64; 2],
    placed: Placed,
    units: Units,
) -> Result<Option<String>, Refused> {
    let (plan, _, _) = input.plan(ChecksPlan::read)?;
    dragged::written(&plan, field, placed.work(at), units).map_err(|why| input.cannot_build(why))
}

/// One figure by name.
#[derive(Debug, Serialize)]
struct Figure {
    key: &'static str,
    name: &'static str,
    value: String,
}

#[derive(Debug, Serialize)]
pub(super) struct Count {
    verdict: &'static str,
    words: String,
}

#[derive(Debug, Serialize)]
struct Open {
    id: &'static str,
    verdict: &'static str,
    title: &'static str,
    shortfall: Option<String>,
}

/// The value of a field as it is used.
#[derive(Debug, Serialize)]
struct FieldValue {
    key: &'static str,
    value: String,
    /// The same as it is said aloud, where it is a length.
    said: Option<String>,
    /// True if it was written, false if it is the default.
    given: bool,
}

/// How many findings have each verdict, worst first.
pub(super) fn counts(looked: &Looked) -> Vec<Count> {
    let count = |verdict: Verdict| {
        let of = looked.findings.iter().filter(|finding| finding.verdict == verdict).count();
        (of > 0).then(|| Count { verdict: verdict.words(), words: verdict.counted(of) })
    };
    Verdict::ALL.into_iter().filter_map(count).collect()
}

pub(super) fn view(looked: &Looked, input: &Input, writing: Writing, view: &View) -> PlanView {
    let sticks = looked.sticks();
    let paper = DVec2::new(view.wide, view.high);
    let glance = set::glance(sticks, writing, paper, view.field, view.held);
    PlanView {
        name: sticks.plan.rafter.name.clone(),
        drawing: Picture::from(&glance.drawing),
        placed: Placed::of(&glance.drawing, &glance.view),
        grips: glance.grips.iter().map(|grip| grip_view(grip, &glance)).collect(),
        figures: figures(looked, writing),
        counts: counts(looked),
        open: looked
            .findings
            .iter()
            .filter(|finding| finding.verdict.is_open())
            .map(|finding| Open {
                id: finding.id.name(),
                verdict: finding.verdict.words(),
                title: finding.title,
                shortfall: finding.shortfall(writing),
            })
            .collect(),
        values: values(looked, &input.entries, writing),
        parts: parts::of(&sticks.plan.blocks, writing),
        faces: sheet::faces::tables(sticks.roof, writing).iter().map(TableView::from).collect(),
        notes: on_page::all(
            not_framed(sticks)
                .into_iter()
                .chain(sticks.notes.iter().map(|note| note.write(writing))),
        ),
    }
}

/// What the roof has besides but what is not framed here.
fn not_framed(sticks: Sticks<'_>) -> Option<String> {
    let lacks = sticks.hung.map(HungFrame::lacks).unwrap_or_default();
    (!lacks.is_empty()).then(|| format!("not framed here yet: {}", lacks.join(", ")))
}

fn grip_view(grip: &Grip, glance: &Glance) -> GripView {
    let at = glance.view.place(grip.at);
    GripView { field: grip.field.name(), x: at.x, y: glance.drawing.height - at.y }
}

/// The sticks of any roof that are counted by themselves.
const BY_ROLE: [(&str, &str, &[Role]); 5] = [
    ("rafters", "Common rafters", &[Role::CommonRafter]),
    ("hips", "Hip rafters", &[Role::Hip]),
    ("valleys", "Valley rafters", &[Role::Valley]),
    ("jacks", "Jack rafters", &[Role::HipJack, Role::ValleyJack, Role::CrippleJack]),
    ("at_openings", "Rafters at openings", &[Role::Trimmer, Role::TailRafter, Role::HeadRafter]),
];

fn figures(looked: &Looked, writing: Writing) -> Vec<Figure> {
    let sticks = looked.sticks();
    let rafter = sticks.pattern().map_or(sticks.rafter, |(rafter, _)| rafter);
    let length = |length| writing.length(length);
    let figure = |key, name, value| Figure { key, name, value };
    let mut list = Vec::new();
    if sticks.pattern().is_some() {
        let stock = rafter.plan.lengths.holding(&rafter.plan.stock, rafter.blank_length);
        let stock = stock.map_or("none so long".to_owned(), |stock| writing.length(stock));
        list.extend([
            figure("rafter_length", "Rafter", length(rafter.rafter_length)),
            figure("blank", "Blank", writing.blank(rafter.blank_length)),
            figure("stock", "Cut it from", stock),
        ]);
    }
    list.push(figure("slope", "Slope", writing.pitch(rafter.plan.pitch)));
    match sticks.gable {
        Some(frame) => list.extend([
            figure("ridge_top", "Ridge top above the plate", length(rafter.ridge_top)),
            figure("peak", "Peak above the plate", length(frame.peak())),
        ]),
        None => {
            let (_, high) = sticks.extent();
            list.push(figure("peak", "Highest edge above plate A", length(inches(high.z))));
        }
    }
    list.extend([
        figure("heel_stand", "Height above plate", length(rafter.heel_stand)),
        figure("seat", "Seat", length(rafter.seat.length)),
        figure("notch_depth", "Depth of the birdsmouth", length(rafter.notch_depth)),
        figure("tail_length", "Tail, along the slope", length(rafter.tail_length)),
    ]);
    match sticks.gable {
        Some(frame) => {
            let rafters = (frame.pairs.len() * 2).to_string();
            list.push(figure("rafters", "Rafters on both slopes", rafters));
        }
        None => list.extend(BY_ROLE.iter().filter_map(|(key, name, roles)| {
            let of = sticks.members.iter().filter(|member| roles.contains(&member.role));
            let count: usize = of.map(Member::count).sum();
            (count > 0).then(|| figure(key, name, count.to_string()))
        })),
    }
    list.push(figure("sticks", "Sticks in all", sticks.count().to_string()));
    list.extend(counts(looked).into_iter().map(|count| {
        let key = match count.verdict {
            "fails" => "fails",
            "needs design" => "needs_design",
            "meets" => "meets",
            _ => "not_checked",
        };
        figure(key, "Against the code", count.words)
    }));
    let pattern = sticks.pattern().and_then(|(_, at)| sticks.members.get(at));
    list.extend(
        pattern.map(|member| figure("cuts", "Cuts of the rafter, degrees", facts::ends(member))),
    );
    list
}

/// Every field that is used, with its value; and those that are written and not used here.
fn values(looked: &Looked, entries: &Entries, writing: Writing) -> Vec<FieldValue> {
    let used = looked.all_used().map(|used| FieldValue {
        key: used.field.key,
        value: used.value.write(writing),
        said: match &used.value {
            Value::Length(length) => Some(writing.said(*length)),
            _ => None,
        },
        given: used.given,
    });
    let mut values: Vec<FieldValue> = used.collect();
    for entry in entries.iter() {
        if values.iter().all(|value| value.key != entry.field.key) {
            values.push(FieldValue {
                key: entry.field.key,
                value: entry.text.clone(),
                said: None,
                given: true,
            });
        }
    }
    values
}
