//! Faults as people read them: pointing at the flag, or at line and column of the file.

use std::io::IsTerminal;
use std::path::Path;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};

use crate::plan::{Fault, Place, file::place_in_string};

/// The faults as text. `file` is the roof file that [`Place::File`] points into.
pub(super) fn text(faults: &[Fault], file: Option<(&Path, &str)>) -> String {
    let plain = !std::io::stderr().is_terminal() || std::env::var_os("NO_COLOR").is_some();
    let renderer = if plain {
        Renderer::plain()
    } else {
        Renderer::styled()
    };
    let name = file.map(|(path, _)| path.display().to_string());
    let mut text = String::new();
    for fault in faults.iter().take(MOST_SHOWN) {
        let title = Level::ERROR.primary_title(&fault.message);
        let help = Level::HELP.message(help(fault));
        let group = match snippet(fault, file.map(|(_, text)| text), name.as_deref()) {
            Some(snippet) => title.element(snippet).element(help),
            None => Group::with_title(title).element(Element::from(help)),
        };
        text.push_str(&renderer.render(&[group]));
        text.push_str("\n\n");
    }
    if faults.len() > MOST_SHOWN {
        text.push_str(&format!("and {} more\n", faults.len() - MOST_SHOWN));
    }
    if faults.len() > 1 {
        text.push_str(&format!("{} faults; nothing was done\n", faults.len()));
    }
    text
}

/// Beyond so many faults a file is not a roof file, and more of them tell nothing.
const MOST_SHOWN: usize = 20;

/// What to write instead; where a flag's value has swallowed other flags, that is what went wrong.
fn help(fault: &Fault) -> String {
    match &fault.place {
        Place::Flag { text, .. } if text.contains(" --") => {
            "the shell took a quote mark away: write 16ft 3in, or put the value in quotes, as \"16' 3\\\"\"".into()
        }
        _ => fault.help.clone(),
    }
}

fn snippet<'a>(
    fault: &Fault,
    file: Option<&'a str>,
    name: Option<&'a str>,
) -> Option<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    match &fault.place {
        Place::Flag { flag, text } => {
            let lead = flag.len() + 1;
            let part = fault
                .part
                .clone()
                .filter(|part| !part.is_empty())
                .unwrap_or(0..text.len());
            let source = format!("{flag} {text}");
            let span = if text.is_empty() {
                0..flag.len()
            } else {
                lead + part.start..lead + part.end
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
                    if start < end {
                        start..end
                    } else {
                        span.clone()
                    }
                }
                None => span.clone(),
            };
            Some(
                Snippet::source(source)
                    .path(name)
                    .annotation(AnnotationKind::Primary.span(span)),
            )
        }
        Place::Missing { .. } => None,
    }
}
