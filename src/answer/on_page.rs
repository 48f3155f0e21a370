//! The engine's sentences as the page says them: what is a command elsewhere is a room here.

/// What the page has for a command.
const ROOMS: [(&str, &str); 5] = [
    ("stepoff check", "CHECK"),
    ("stepoff order", "BUY"),
    ("stepoff cuts", "BUY"),
    ("stepoff compare", "\"Compare roofs\""),
    ("stepoff fit", "\"Find one number\""),
];

/// The text without commands: in brackets they are left out, the page's own name stands for what it has, and a
/// sentence on anything else is left out. `None` if nothing is left.
pub(super) fn on_page(text: &str) -> Option<String> {
    let mut text = text.to_owned();
    while let Some((start, length)) = text.find(" (stepoff ").and_then(|start| {
        let length = text.get(start..)?.find(')')?;
        Some((start, length + 1))
    }) {
        text.replace_range(start..start + length, "");
    }
    for (command, room) in ROOMS {
        text = text.replace(command, room);
    }
    let names_command = |sentence: &&str| {
        sentence.split("stepoff ").skip(1).any(|rest| rest.starts_with(char::is_lowercase))
    };
    let kept: Vec<&str> =
        text.split_inclusive(". ").filter(|sentence| !names_command(sentence)).collect();
    let kept = kept.concat().trim_end().to_owned();
    (!kept.is_empty()).then_some(kept)
}

/// Every text that the page has something to say of.
pub(super) fn all(texts: impl IntoIterator<Item = String>) -> Vec<String> {
    texts.into_iter().filter_map(|text| on_page(&text)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_become_rooms_or_go() {
        for (text, page) in [
            (
                "Spans are for stepoff check, and local code decides.",
                Some("Spans are for CHECK, and local code decides."),
            ),
            ("How it is bought (stepoff order, stepoff cuts).", Some("How it is bought.")),
            ("stepoff sheathing --explain tells what lower strips would save.", None),
            (
                "Set rafter.tie_down. stepoff ties lists them. So be it.",
                Some("Set rafter.tie_down. So be it."),
            ),
            (
                "The one demo of stepoff. It is invented.",
                Some("The one demo of stepoff. It is invented."),
            ),
        ] {
            assert_eq!(on_page(text).as_deref(), page, "{text}");
        }
    }
}
