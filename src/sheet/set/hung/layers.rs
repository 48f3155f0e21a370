//! Which sticks belong to what is laid on the sheathed roof.

use std::collections::HashMap;

use crate::frame::{Axis, HungFrame, Member};

/// The number of what is laid on the roof, by the ids of its sticks.
pub(super) struct Layers<'a> {
    laid: HashMap<&'a str, usize>,
}

impl<'a> Layers<'a> {
    /// Those of a roof.
    pub(super) fn of(frame: &'a HungFrame) -> Layers<'a> {
        let ground = &frame.hung.ground;
        let of_block = |block: &str| ground.laid.iter().position(|laid| laid.block == block);
        let mut laid = HashMap::new();
        for stick in &frame.hung.sticks {
            let by_line = stick.line.and_then(|line| ground.lines.get(line)?.layer.checked_sub(1));
            let by_face = stick.face.and_then(|face| of_block(&ground.roof.faces[face].block));
            // what hangs on neither is named after its block
            let named = || {
                let mut words = stick.id.split(['-', '.']);
                words.find_map(|word| ground.laid.iter().position(|laid| laid.block == word))
            };
            let own = match (stick.line, stick.face) {
                (None, None) => named(),
                _ => by_line.or(by_face),
            };
            if let Some(own) = own {
                laid.insert(stick.id.as_str(), own);
            }
        }
        Layers { laid }
    }

    /// The places of a pattern that belong to a layer: `None` for the roof on the walls.
    pub(super) fn places<'m>(
        &'m self,
        member: &'m Member,
        layer: Option<usize>,
    ) -> impl Iterator<Item = &'m Axis> {
        let all = member.placed_ids();
        all.filter(move |(id, _)| self.laid.get(id).copied() == layer).map(|(_, axis)| axis)
    }
}
