//! Faults as people read them: pointing at the flag, or at line and column of the file.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};

use crate::plan::{Fault, Faults, Place, file::place_in_string};

use super::Source;

/// The faults as text, with the escape codes of a terminal if `styled`.
pub(super) fn text(faults: &Faults, file: Option<&Source>, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    let name = file.map(|source| source.name.as_str());
    let mut text = String::new();
    for fault in faults.iter().take(MOST_SHOWN) {
        let title = Level::ERROR.primary_title(&fault.message);
        let help = Level::HELP.message(help(fault));
        let group = match snippet(fault, file.map(|source| source.text.as_str()), name) {
            Some(snippet) => title.element(snippet).element(help),
            None => Group::with_title(title).element(Element::from(help)),
        };
        text.push_str(&renderer.render(&[group]));
        text.push_str("\n\n");
    }
    let found = faults.found();
    if found > MOST_SHOWN {
        text.push_str(&format!("and {} more\n", found - MOST_SHOWN));
    }
    if found > 1 {
        text.push_str(&format!("{found} faults; nothing was done\n"));
    }
    text
}

/// A file with more faults than this is no roof file, and listing more would not help.
const MOST_SHOWN: usize = 20;

/// What to write instead. If a flag's value has swallowed other flags, the help says so.
fn help(fault: &Fault) -> String {
    match &fault.place {
        Place::Flag { text, .. } if text.contains(" --") => {
            "write 16ft3in: the shell took the quote marks of 16' 3\" away, and with them what follows".into()
        }
        _ => fault.help.clone(),
    }
}

/// The beginning of a long part, enough to find it.
fn beginning(source: &str, span: Range<usize>) -> Range<usize> {
    const LONGEST: usize = 160;
    if span.len() <= LONGEST {
        return span;
    }
    let end = (span.start..=span.start + LONGEST)
        .rev()
        .find(|&end| source.is_char_boundary(end))
        .unwrap_or(span.end);
    span.start..end
}

fn snippet<'a>(
    fault: &Fault,
    file: Option<&'a str>,
    name: Option<&'a str>,
) -> Option<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    match &fault.place {
        Place::Flag { flag, text } => {
            let lead = flag.len() + 1;
            let part = fault.part.clone().filter(|part| !part.is_empty()).unwrap_or(0..text.len());
            let source = format!("{flag} {text}");
            let span = if text.is_empty() {
                0..flag.len()
            } else {
                beginning(&source, lead + part.start..lead + part.end)
            };
            Some(
                Snippet::source(source)
                    .line_numbering(false)
                    .annotation(AnnotationKind::Primary.span(span)),
            )
        }
        Place::File(span) => {
            let source = file?;
            let span = match &fault.part {
                Some(part) => {
                    let start = place_in_string(source, span, part.start);
                    let end = place_in_string(source, span, part.end);
                    if start < end { start..end } else { span.clone() }
                }
                None => span.clone(),
            };
            let span = beginning(source, span);
            Some(Snippet::source(source).path(name).annotation(AnnotationKind::Primary.span(span)))
        }
        Place::Missing { .. } => None,
    }
}
