//! The frame and its parts as assemblies: every stick is in one of them.

use std::collections::BTreeMap;

use super::Model;
use super::step::{Id, Value};
use crate::export::parts::{Part, sorted};
use crate::geom::DVec3;

/// An assembly that is being filled.
pub(super) struct Assembly {
    id: Id,
    /// Its place, in which its sticks are placed.
    pub(super) place: Id,
    pub(super) sticks: Vec<Id>,
}

/// The frame's assembly, and those of its parts.
pub(super) struct Assembled {
    whole: Assembly,
    pub(super) parts: BTreeMap<Part, Assembly>,
}

impl Model<'_> {
    /// The assemblies, still without sticks.
    pub(super) fn assembled(&mut self) -> Assembled {
        let storey = self.storey_place;
        let whole = self.assembly(storey, "frame", "frame of the roof");
        let sticks = self.ask.sticks;
        let parts = sorted(sticks).into_keys().map(|part| {
            let kind = match part {
                Part::Face(_) => "rafters of a face",
                _ => "part of the frame",
            };
            (part, self.assembly(whole.place, &part.name(sticks), kind))
        });
        let parts = parts.collect();
        Assembled { whole, parts }
    }

    fn assembly(&mut self, within: Id, name: &str, kind: &str) -> Assembly {
        let place = self.place_in(within, DVec3::ZERO, DVec3::X, DVec3::Z);
        let mut values = self.rooted(&format!("assembly {name}"), name.into(), Value::Unset);
        values.extend([
            kind.into(),
            place.into(),
            Value::Unset,
            name.into(),
            Value::Word("SITE"),
            Value::Word("USERDEFINED"),
        ]);
        let id = self.step.add("IFCELEMENTASSEMBLY", values);
        Assembly { id, place, sticks: Vec::new() }
    }

    /// The frame: all sticks, in the assemblies that they belong to. Gives that of the whole.
    pub(super) fn frame(&mut self, mut assembled: Assembled) -> Id {
        self.members(&mut assembled);
        let Assembled { whole, parts } = assembled;
        let mut own = Vec::with_capacity(parts.len());
        for (part, assembly) in parts {
            let name = format!("sticks of {}", part.name(self.ask.sticks));
            let related = vec![assembly.id.into(), assembly.sticks.into()];
            self.relate("IFCRELAGGREGATES", &name, related);
            own.push(assembly.id);
        }
        self.relate("IFCRELAGGREGATES", "frame has parts", vec![whole.id.into(), own.into()]);
        whole.id
    }
}
