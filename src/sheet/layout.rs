//! `layout` on one page: tape marks.

use crate::frame::{Frame, Role};
use crate::measure::quantity::{in_inches, inches};
use crate::measure::trim;
use crate::plan::LayoutFrom;

use super::frame::notes;
use super::table::wrapped;
use super::{Align, Look, Table, findings};

/// The whole page.
#[must_use]
pub fn text(frame: &Frame, look: &Look, explain: bool) -> String {
    let plan = &frame.plan;
    let write = |value: f64| look.writing.length(inches(value));
    let name = plan
        .name
        .as_deref()
        .map_or(String::new(), |name| format!("{name}: "));
    let mut page = wrapped(
        &format!(
            "{name}layout of {} pairs of rafters at {} on center, {}",
            frame.pairs.len(),
            look.writing.length(plan.spacing),
            match plan.layout_from {
                LayoutFrom::Wall => "centers counted from the near end wall's framing face",
                LayoutFrom::Rake =>
                    "centers counted from the rake's sheathing edge, so that panels end on rafter centers",
            }
        ),
        2,
        look,
    );
    page.push_str(&wrapped(
        "Hook the tape once at the named end and make every mark from there. Each mark is the leading edge; the X goes beyond it, \
         and the stick stands on the X. J is the joist beside its rafter.",
        2,
        look,
    ));
    page.push('\n');

    let mut columns = vec![("pair", Align::Right)];
    let joists = frame.pairs.iter().any(|pair| pair.joist_side != 0.0);
    let [plate_a, plate_b, ridge @ ..] = frame.layout.as_slice() else {
        return page;
    };
    columns.push(("plate A", Align::Right));
    if joists {
        columns.push(("J on A", Align::Right));
    }
    columns.push(("plate B", Align::Right));
    if joists {
        columns.push(("J on B", Align::Right));
    }
    for line in ridge {
        columns.push((line.on, Align::Right));
    }
    columns.push(("", Align::Left));
    let mut table = Table::new(
        "Plates from the near end wall's framing face; ridge from its near end",
        &columns,
    );
    let barge = usize::from(frame.site.rake > 0.0);
    if barge == 1 {
        let mut cells = vec![String::new(); columns.len()];
        for (at, line) in ridge.iter().enumerate() {
            cells[columns.len() - 1 - ridge.len() + at] = line
                .marks
                .first()
                .map_or(String::new(), |mark| write(*mark));
        }
        cells[columns.len() - 1] = "barge rafters".into();
        table.row(cells);
    }
    let mut joist = 0;
    for (index, pair) in frame.pairs.iter().enumerate() {
        let mut cells = vec![(index + 1).to_string()];
        for line in [plate_a, plate_b] {
            cells.push(
                line.marks
                    .get(index)
                    .map_or(String::new(), |mark| write(*mark)),
            );
            if joists {
                let here = (pair.joist_side != 0.0)
                    .then(|| line.joist_marks.get(joist))
                    .flatten();
                cells.push(here.map_or(String::new(), |mark| write(*mark)));
            }
        }
        for line in ridge {
            cells.push(
                line.marks
                    .get(index + barge)
                    .map_or(String::new(), |mark| write(*mark)),
            );
        }
        cells.push(if pair.at_end {
            "end pair".into()
        } else {
            String::new()
        });
        joist += usize::from(pair.joist_side != 0.0);
        table.row(cells);
    }
    if barge == 1 {
        let mut cells = vec![String::new(); columns.len()];
        for (at, line) in ridge.iter().enumerate() {
            cells[columns.len() - 1 - ridge.len() + at] =
                line.marks.last().map_or(String::new(), |mark| write(*mark));
        }
        cells[columns.len() - 1] = "barge rafters".into();
        table.row(cells);
    }
    page.push_str(&table.text(look));
    page.push('\n');
    page.push_str(&wrapped(&eaves_differ(frame, look), 2, look));
    page.push_str(&wrapped(&joints(frame, look), 2, look));
    if explain {
        page.push('\n');
        page.push_str(&wrapped(&explained(frame, look), 2, look));
    }
    page.push('\n');
    page.push_str(&notes(&frame.notes, look));
    page.push_str(&findings::used(&plan.rafter.used, look));
    page
}

/// Where pieces of the ridge board and of the fascia meet.
fn joints(frame: &Frame, look: &Look) -> String {
    let told: Vec<String> = [
        (Role::RidgeBoard, "ridge board"),
        (Role::Subfascia, "sub-fascia"),
        (Role::Fascia, "fascia"),
    ]
    .into_iter()
    .filter_map(|(role, words)| {
        let mut ends: Vec<f64> = frame
            .members
            .iter()
            .filter(|member| member.role == role)
            .flat_map(|member| member.placements.iter().map(|axis| member.placed(axis)))
            .filter_map(|solid| solid.bounds().map(|(_, high)| high.x + frame.site.rake))
            .collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        ends.pop();
        let list: Vec<String> = ends
            .iter()
            .map(|end| look.writing.length(inches(*end)))
            .collect();
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
fn eaves_differ(frame: &Frame, look: &Look) -> String {
    let differing = frame.differing_marks();
    let write = |value: f64| look.writing.length(inches(value));
    let mut text = match differing.as_slice() {
        [] => "Both plates and both faces of the ridge carry the same rafter marks.".to_owned(),
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
    let inner: Vec<f64> = frame
        .pairs
        .iter()
        .filter(|pair| !pair.at_end)
        .map(|pair| pair.x_a)
        .collect();
    let Some(first) = inner.first() else {
        return "There is no pair between the end walls.".into();
    };
    let spacing = in_inches(plan.spacing);
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
        look.writing
            .exact(plan.length - plan.rafter.stock.thickness),
    )
}
