//! `layout` on one page: tape marks.

use crate::facts::datum::Inches;
use crate::facts::record::row;
use crate::frame::{Axis, Frame, LayoutLine, Member, Pair, Role};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Writing, trim};
use crate::plan::LayoutFrom;

use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

/// The page: the marks of every pair, then those of everything laid out separately.
#[must_use]
pub fn text(frame: &Frame, look: &Look, depth: Depth) -> String {
    let name = frame.plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let mut page = Page::new(look, depth);
    page.say(&format!("{name}{}.", what(frame, look.writing)));
    page.say(HOOK);
    if let Some(table) = pairs(frame, look.writing) {
        page.list(table);
    }
    let apart: Vec<&LayoutLine> =
        frame.layout.iter().filter(|line| !line.kind.is_of_pairs()).collect();
    if !apart.is_empty() {
        page.more("end walls and rakes", || {
            apart.iter().map(|line| wrapped(&marks_apart(line, look.writing), 2, look)).collect()
        });
    }
    page.gap();
    page.say(&eaves_differ(frame, look.writing));
    page.say(&joints(frame, look.writing));
    page.say(&collar_ties(frame, look.writing).unwrap_or_default());
    page.workings(|| wrapped(&explained(frame, look), 2, look));
    page.notes(&frame.notes);
    page.used(&frame.plan.rafter.used);
    page.end()
}

/// The marks of a line that has no pairs, in a sentence.
fn marks_apart(line: &LayoutLine, writing: Writing) -> String {
    let marks = if line.marks.is_empty() { &line.joist_marks } else { &line.marks };
    let list: Vec<String> = marks.iter().map(|mark| writing.length(*mark)).collect();
    format!("{}, from the {}: {}", capital(&line.on), line.from, list.join(", "))
}

/// How every line is marked.
pub const HOOK: &str = "Hook the tape once at the named end and make every mark from there. Each mark is the leading edge; the X goes beyond it, \
                        and the stick stands on the X.";

/// What is laid out, in words.
#[must_use]
pub fn what(frame: &Frame, writing: Writing) -> String {
    let plan = &frame.plan;
    format!(
        "layout of {} pairs of rafters at {} on center, {}",
        frame.pairs.len(),
        writing.length(plan.spacing),
        match plan.layout_from {
            LayoutFrom::Wall => "centers counted from the near end wall's framing face",
            LayoutFrom::Rake =>
                "centers counted from the rake's sheathing edge, so that panels end on rafter centers",
        }
    )
}

/// Where the collar ties go, if there are any.
#[must_use]
pub fn collar_ties(frame: &Frame, writing: Writing) -> Option<String> {
    (frame.ties.collars > 0).then(|| {
        format!("Collar ties: bottom {} above the plate.", writing.length(frame.ties.collar_height))
    })
}

/// The words with a capital to begin with.
#[must_use]
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Marks of one thing on the lines of both eaves; one mark serves where the lines are alike throughout.
#[derive(Default)]
struct Sides {
    both: Option<Length>,
    a: Option<Length>,
    b: Option<Length>,
}

impl Sides {
    fn of(alike: bool, a: Option<&Length>, b: Option<&Length>) -> Sides {
        let (a, b) = (a.copied(), b.copied());
        if alike { Sides { both: a, a: None, b: None } } else { Sides { both: None, a, b } }
    }
}

row! {
    /// Where a pair goes on every line, and what else goes with it.
    PairRow from (number: Option<usize>, plates: Sides, joists: Sides, ridge: Sides, with_it: String) {
        pair "pair": Option<usize> = number;
        plates "both plates": Option<Inches> = plates.both;
        joists "joist": Option<Inches> = joists.both;
        plate_a "plate A": Option<Inches> = plates.a;
        joist_a "joist A": Option<Inches> = joists.a;
        plate_b "plate B": Option<Inches> = plates.b;
        joist_b "joist B": Option<Inches> = joists.b;
        ridge "ridge": Option<Inches> = ridge.both;
        face_a "ridge, face A": Option<Inches> = ridge.a;
        face_b "ridge, face B": Option<Inches> = ridge.b;
        with_it "with it": String = with_it;
    }
}

/// One row for each pair: the places of its rafters and joists on every line, and what else belongs to
/// it.
fn pairs(frame: &Frame, writing: Writing) -> Option<Table> {
    let lines: Vec<&LayoutLine> =
        frame.layout.iter().filter(|line| line.kind.is_of_pairs()).collect();
    let [plate_a, plate_b, ridge @ ..] = lines.as_slice() else {
        return None;
    };
    let plates_alike = plate_a.marks == plate_b.marks && plate_a.joist_marks == plate_b.joist_marks;
    let faces_alike = matches!(ridge, [a, b] if a.marks == b.marks);
    let face = |side: usize, at: usize| ridge.get(side).and_then(|line| line.marks.get(at));
    let faces = |at| Sides::of(faces_alike, face(0, at), face(1, at));
    let has_barges = frame.site.rake > 0.0;
    let barges = |at| {
        let words = "barge rafters".to_owned();
        PairRow::of(None, Sides::default(), Sides::default(), faces(at), words)
    };
    let first = usize::from(has_barges);
    let mut joist = 0;
    let mut rows = Vec::new();
    for (index, pair) in frame.pairs.iter().enumerate() {
        let marks = [plate_a, plate_b].map(|line| line.marks.get(index));
        let mut joists = Sides::default();
        let mut with_it = with_pair(frame, (index, pair));
        if pair.joist_side != 0.0 {
            let marks = [plate_a, plate_b].map(|line| line.joist_marks.get(joist));
            joists = Sides::of(plates_alike, marks[0], marks[1]);
            with_it.extend(trimmer_joists(frame, marks, writing));
            joist += 1;
        }
        let plates = Sides::of(plates_alike, marks[0], marks[1]);
        let ridge = faces(index + first);
        rows.push(PairRow::of(Some(index + 1), plates, joists, ridge, with_it.join(", ")));
    }
    if has_barges && !ridge.is_empty() {
        rows.push(barges(rows.len() + first));
        rows.insert(0, barges(0));
    }
    let title = "Plates from the near end wall's framing face; ridge from its near end";
    Some(Table::of(title, rows, writing).without_empty_columns())
}

/// What else is at a pair: collar tie, rafter tie, a joist above the plate, what the attic opening makes of its joist, or that it
/// is an end pair.
fn with_pair(frame: &Frame, (index, pair): (usize, &Pair)) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    if pair.at_end {
        list.push("end pair".into());
    }
    if frame.ties.opening.as_ref().is_some_and(|own| own.cut_rows.contains(&(index + 1))) {
        list.push("cut by the attic opening".into());
    }
    for member in &frame.members {
        let told = match member.role {
            Role::CollarTie | Role::RafterTie => true,
            // on the plate it has its own column
            Role::CeilingJoist => frame.ties.height > inches(0.0),
            _ => false,
        };
        if !told {
            continue;
        }
        let half = member.stick.section.thickness_in() / 2.0;
        for axis in &member.placements {
            let side = if (axis.origin.x + half - pair.x_a).abs() < HAIR {
                "before"
            } else if (axis.origin.x - half - pair.x_a - frame.site.thick).abs() < HAIR {
                "beyond"
            } else {
                continue;
            };
            list.push(format!("{} {} {side}", member.role.words(), member.mark));
        }
    }
    list
}

/// The joists added beside those with these marks, each with the place of its near face.
fn trimmer_joists(frame: &Frame, marks: [Option<&Length>; 2], writing: Writing) -> Vec<String> {
    let thick = frame.plan.joist.thickness_in();
    let is_beside = |near: f64| {
        let marks = marks.iter().flatten();
        marks.map(|mark| (near - mark.inches()).abs()).any(|off| (off - thick).abs() < HAIR)
    };
    let trimmers = frame.members.iter().filter(|member| member.role == Role::JoistTrimmer);
    let told = |member: &Member, axis: &Axis| {
        let near = axis.origin.x - thick / 2.0;
        let at = writing.length(inches(near));
        is_beside(near).then(|| format!("{} {} at {at}", member.role.words(), member.mark))
    };
    trimmers
        .flat_map(|member| member.placements.iter().filter_map(move |axis| told(member, axis)))
        .collect()
}

/// Where the pieces of a board along the building meet, from its near end.
pub fn ends_of(frame: &Frame, role: Role) -> impl Iterator<Item = Length> {
    let pieces = frame.members.iter().filter(|member| member.role == role);
    let solids = pieces.flat_map(|member| member.placements.iter().map(|axis| member.placed(axis)));
    let mut ends: Vec<f64> = solids
        .filter_map(|solid| solid.bounds().map(|(_, high)| high.x + frame.site.rake))
        .collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < HAIR);
    ends.pop();
    ends.into_iter().map(inches)
}

/// Where pieces of the ridge board and of the fascia meet.
#[must_use]
pub fn joints(frame: &Frame, writing: Writing) -> String {
    let told: Vec<String> = [
        (Role::RidgeBoard, "ridge board"),
        (Role::Subfascia, "sub-fascia"),
        (Role::Fascia, "fascia"),
    ]
    .into_iter()
    .filter_map(|(role, words)| {
        let list: Vec<String> = ends_of(frame, role).map(|end| writing.length(end)).collect();
        (!list.is_empty()).then(|| format!("{words} at {}", list.join(", ")))
    })
    .collect();
    if told.is_empty() {
        "Ridge board and boards at the eaves are one piece each.".into()
    } else {
        format!("Joints, from the near end of each: {}.", told.join("; "))
    }
}

/// Which marks differ between the two eaves, and by how much.
#[must_use]
pub fn eaves_differ(frame: &Frame, writing: Writing) -> String {
    let differing = frame.differing_marks();
    let write = |value: f64| writing.length(inches(value));
    let mut text = match differing.as_slice() {
        [] => "Plates A and B carry the same rafter marks; so do faces A and B of the ridge."
            .to_owned(),
        [first, .., last] | [first @ last] => {
            let by = frame.pairs[*first - 1].x_b - frame.pairs[*first - 1].x_a;
            format!(
                "Pairs {first} to {last}: the rafter on eave B stands {} {} the one on eave A (offset across the ridge); mark the two eaves from their own columns.",
                write(by.abs()),
                if by > 0.0 { "beyond" } else { "before" }
            )
        }
    };
    let lines = &frame.layout;
    let lapped = lines.len() > 1 && lines[0].joist_marks != lines[1].joist_marks;
    if lapped {
        text.push_str(" The joists of the two eaves lap, so their marks differ too.");
    }
    text
}

fn explained(frame: &Frame, look: &Look) -> String {
    let plan = &frame.plan;
    let start = match plan.layout_from {
        LayoutFrom::Wall => 0.0,
        LayoutFrom::Rake => frame.site.rake,
    };
    let inner: Vec<f64> =
        frame.pairs.iter().filter(|pair| !pair.at_end).map(|pair| pair.x_a).collect();
    let Some(first) = inner.first() else {
        return "There is no pair between the end walls.".into();
    };
    let spacing = plan.spacing.inches();
    let number = ((first + start + frame.site.thick / 2.0) / spacing).round();
    format!(
        "Mark k = k x spacing {} - {} {} - half the rafter {}: mark {} is {}. End pairs stand flush with the end walls, at 0 and at {}.",
        look.writing.exact(plan.spacing),
        match plan.layout_from {
            LayoutFrom::Wall => "start",
            LayoutFrom::Rake => "rake",
        },
        trim(start, 4),
        trim(frame.site.thick / 2.0, 4),
        trim(number, 0),
        look.writing.exact(inches(*first)),
        look.writing.exact(plan.length - plan.rafter.stock.thickness),
    )
}
