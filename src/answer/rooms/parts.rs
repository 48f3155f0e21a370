//! What a roof has besides its main block: wings, dormers, openings, each in a line.

use serde::Serialize;

use crate::measure::Writing;
use crate::plan::Blocks;
use crate::plan::blocks::{Dormer, Opening, Wing};

/// A wing, a dormer or an opening.
#[derive(Debug, Serialize)]
pub(super) struct Part {
    /// The table of the roof file that tells of it, and which of them it is, from 1.
    table: &'static str,
    number: usize,
    name: String,
    /// What it is, where and how large.
    what: String,
}

/// All of them, in the order of the file.
pub(super) fn of(blocks: &Blocks, writing: Writing) -> Vec<Part> {
    let part = |table, number: usize, name: &str, what| Part {
        table,
        number: number + 1,
        name: name.to_owned(),
        what,
    };
    let wings = blocks.wings.iter().enumerate();
    let dormers = blocks.dormers.iter().enumerate();
    // the opening in the ceiling is one of the same tables
    let attic = blocks.attic.as_ref();
    let behind = |at: usize| usize::from(attic.is_some_and(|(before, _)| *before <= at));
    let openings = blocks.openings.iter().enumerate();
    let over = |wing: &Wing| blocks.laid_over.contains(&wing.name);
    wings
        .map(|(at, one)| part("wing", at, &one.name, wing(one, over(one), writing)))
        .chain(dormers.map(|(at, one)| part("dormer", at, &one.name, dormer(one, writing))))
        .chain(
            openings.map(|(at, one)| {
                part("opening", at + behind(at), &one.name, opening(one, writing))
            }),
        )
        .chain(attic.map(|(at, one)| {
            let size = [one.width, one.length].map(|side| writing.length(side)).join(" by ");
            part("opening", *at, &one.name, format!("opening in the ceiling, {size}"))
        }))
        .collect()
}

fn wing(wing: &Wing, over: bool, writing: Writing) -> String {
    let length = |length| writing.length(length);
    let on = match &wing.on.wing {
        Some(other) => format!("{other}.{}", wing.on.wall.word()),
        None => wing.on.wall.word().to_owned(),
    };
    format!(
        "wing on wall {on}, {} wide, {} out, {}, its end a {}, {}",
        length(wing.span),
        length(wing.projection),
        writing.pitch(wing.pitch),
        if wing.hip { "hip" } else { "gable" },
        if over { "laid over the main roof" } else { "joined by valleys" },
    )
}

fn dormer(dormer: &Dormer, writing: Writing) -> String {
    format!(
        "{} dormer in face {}, {} wide, its front {} in from the wall, {}",
        if dormer.shed { "shed" } else { "gable" },
        dormer.on.word(),
        writing.length(dormer.span),
        writing.length(dormer.face),
        writing.pitch(dormer.pitch),
    )
}

fn opening(opening: &Opening, writing: Writing) -> String {
    format!(
        "{} in face {}, {} wide, {} up the slope",
        opening.through.word(),
        opening.on.word(),
        writing.length(opening.width),
        writing.length(opening.length),
    )
}
