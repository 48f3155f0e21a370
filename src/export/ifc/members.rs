//! The sticks: each pattern a type with its solid, section, wood and sizes; each stick an occurrence in
//! its place.

use super::assembled::Assembled;
use super::stem::{axes, identity};
use super::step::{Id, Value};
use super::{Model, roles};
use crate::export::parts::Part;
use crate::frame::{Edge, Kind, Member};
use crate::geom::{DVec3, Mesh};
use crate::measure::quantity::{InInches, in_degrees};

impl Model<'_> {
    /// All members, each pattern a type with its section, material and solid; every stick is added to its assembly.
    pub(super) fn members(&mut self, assembled: &mut Assembled) {
        let sticks = self.ask.sticks;
        for member in sticks.members {
            let class = roles::class(member.role);
            // named after one of its sticks, because marks change when patterns come and go
            let first = member.ids.first().map_or("", String::as_str);
            let pattern = format!("pattern of {first}");
            let mesh = member.stick.solid().mesh();
            let map = self.mapped(&mesh, member.role.kind());
            let mut kind =
                self.rooted(&pattern, member.mark.as_str().into(), member.role.words().into());
            kind.extend([
                Value::Unset,
                Value::Unset,
                vec![map].into(),
                member.mark.as_str().into(),
                member.role.words().into(),
                Value::Word(class.predefined),
            ]);
            let kind = self.step.add(class.kind, kind);
            let mut own = Vec::with_capacity(member.count());
            for (id, axis) in member.placed_ids() {
                // every part that a stick may be in was made from these sticks
                let Some(assembly) = assembled.parts.get_mut(&Part::of(sticks, member, axis))
                else {
                    continue;
                };
                let place = self.place_in(assembly.place, axis.origin, axis.along, axis.across());
                let stick = self.member(member, class, map, id, place);
                assembly.sticks.push(stick);
                own.push(stick);
            }
            let related: Value = own.into();
            self.relate(
                "IFCRELDEFINESBYTYPE",
                &format!("type of {pattern}"),
                vec![related.clone(), kind.into()],
            );
            let material = self.material(member);
            self.relate(
                "IFCRELASSOCIATESMATERIAL",
                &format!("material of {pattern}"),
                vec![vec![kind].into(), material.into()],
            );
            let cuts = self.cut_list(member, &pattern);
            let quantities = self.quantities(member, &mesh, &pattern, class.quantities);
            let common = self.common(member, &pattern, class);
            let sets = [("cut list", cuts), ("quantities", quantities), ("common", common)];
            for (name, set) in sets {
                self.relate(
                    "IFCRELDEFINESBYPROPERTIES",
                    &format!("{name} for {pattern}"),
                    vec![related.clone(), set.into()],
                );
            }
        }
    }

    fn member(&mut self, member: &Member, class: roles::Class, map: Id, id: &str, place: Id) -> Id {
        let still = identity(&mut self.step);
        let item = self.step.add("IFCMAPPEDITEM", vec![map.into(), still.into()]);
        let shape = self.shape("MappedRepresentation", item);
        let section = &member.stick.section;
        let mut stick = self.rooted(id, member.mark.as_str().into(), section.to_string().into());
        stick.extend([
            member.role.words().into(),
            place.into(),
            shape.into(),
            id.into(),
            Value::Word(class.predefined),
        ]);
        self.step.add(class.product, stick)
    }

    /// The solid of a pattern, to be shown in several places.
    fn mapped(&mut self, mesh: &Mesh, kind: Kind) -> Id {
        let corners: Vec<Id> = mesh.corners.iter().map(|corner| self.point(*corner)).collect();
        let faces: Vec<Id> = mesh
            .faces
            .iter()
            .map(|face| {
                let ring: Vec<Id> = face.iter().map(|corner| corners[*corner]).collect();
                self.face(ring, Vec::new())
            })
            .collect();
        let shell = self.step.add("IFCCLOSEDSHELL", vec![faces.into()]);
        let solid = self.step.add("IFCFACETEDBREP", vec![shell.into()]);
        self.color(solid, Some(kind));
        let body = self.step.add(
            "IFCSHAPEREPRESENTATION",
            vec![self.body.into(), "Body".into(), "Brep".into(), vec![solid].into()],
        );
        let origin = axes(&mut self.step, DVec3::ZERO, DVec3::X, DVec3::Z);
        self.step.add("IFCREPRESENTATIONMAP", vec![origin.into(), body.into()])
    }

    /// Section and wood of a pattern.
    fn material(&mut self, member: &Member) -> Id {
        let checks = &self.ask.plan.checks;
        let graded = roles::is_graded(member.role);
        let species = checks.species.filter(|_| graded);
        let grade = checks.grade.filter(|_| graded);
        let words: Vec<&str> = species
            .map(|species| species.name())
            .into_iter()
            .chain(grade.map(|grade| grade.name()))
            .collect();
        let name = if words.is_empty() { "sawn lumber".to_owned() } else { words.join(" ") };
        let wood = self
            .step
            .add_once("IFCMATERIAL", vec![name.as_str().into(), Value::Unset, "wood".into()]);
        self.wood(wood, species, grade);
        let section = &member.stick.section;
        let profile = self.step.add_once(
            "IFCRECTANGLEPROFILEDEF",
            vec![
                Value::Word("AREA"),
                section.to_string().into(),
                Value::Unset,
                (section.thickness_in() * self.length).into(),
                (section.depth_in() * self.length).into(),
            ],
        );
        let profiled = self.step.add_once(
            "IFCMATERIALPROFILE",
            vec![
                section.to_string().into(),
                Value::Unset,
                wood.into(),
                profile.into(),
                Value::Unset,
                Value::Unset,
            ],
        );
        self.step.add_once(
            "IFCMATERIALPROFILESET",
            vec![
                format!("{section} {name}").into(),
                Value::Unset,
                vec![profiled].into(),
                Value::Unset,
            ],
        )
    }

    pub(super) fn property(
        &mut self,
        name: &str,
        kind: &'static str,
        value: impl Into<Value>,
    ) -> Id {
        self.step.add_once(
            "IFCPROPERTYSINGLEVALUE",
            vec![
                name.into(),
                Value::Unset,
                Value::Typed(kind, Box::new(value.into())),
                Value::Unset,
            ],
        )
    }

    /// The cut list's data for a pattern.
    fn cut_list(&mut self, member: &Member, pattern: &str) -> Id {
        let length = "IFCPOSITIVELENGTHMEASURE";
        let mut properties = vec![
            self.property("Mark", "IFCIDENTIFIER", member.mark.as_str()),
            self.property("Role", "IFCLABEL", member.role.words()),
            self.property("Section", "IFCLABEL", member.stick.section.to_string()),
            self.property("BlankLength", length, member.blank().inches() * self.length),
        ];
        for (name, edge) in [("TopEdgeLength", Edge::Top), ("BottomEdgeLength", Edge::Bottom)] {
            let along = member.edge_lengths(edge).0.inches();
            // an edge that is cut away whole has no length
            if along > 0.0 {
                properties.push(self.property(name, length, along * self.length));
            }
        }
        if let Some(order) = member.order_length(self.ask.sticks.lengths()) {
            properties.push(self.property("OrderLength", length, order.inches() * self.length));
        }
        for (place, end) in ["Start", "End"].into_iter().zip(member.ends()) {
            properties.push(self.property(&format!("{place}Cut"), "IFCLABEL", end.cut));
            for (name, angle) in [("Miter", end.saw.miter), ("Bevel", end.saw.bevel)] {
                properties.push(self.property(
                    &format!("{place}{name}"),
                    "IFCPLANEANGLEMEASURE",
                    in_degrees(angle),
                ));
            }
        }
        let others: Vec<String> =
            member.other_cuts().iter().map(|cut| cut.name.to_owned()).collect();
        if !others.is_empty() {
            properties.push(self.property("OtherCuts", "IFCTEXT", others.join("; ")));
        }
        let mut set =
            self.rooted(&format!("cut list of {pattern}"), "Stepoff_CutList".into(), Value::Unset);
        set.push(properties.into());
        self.step.add("IFCPROPERTYSET", set)
    }

    /// Sizes of one stick: the volume is that of its solid.
    fn quantities(
        &mut self,
        member: &Member,
        mesh: &Mesh,
        pattern: &str,
        name: &'static str,
    ) -> Id {
        let section = &member.stick.section;
        let cross = section.thickness_in() * section.depth_in();
        let blank = member.blank().inches();
        let sizes = [
            ("IFCQUANTITYLENGTH", "Length", blank * self.length),
            ("IFCQUANTITYAREA", "CrossSectionArea", cross * self.area),
            ("IFCQUANTITYAREA", "NetSurfaceArea", surface(mesh) * self.area),
            ("IFCQUANTITYVOLUME", "GrossVolume", cross * blank * self.volume),
            ("IFCQUANTITYVOLUME", "NetVolume", member.stick.solid().volume() * self.volume),
        ];
        self.sizes(pattern, name, &sizes)
    }
}

/// Surface of a closed mesh, square inches.
fn surface(mesh: &Mesh) -> f64 {
    mesh.triangles()
        .map(|triangle| {
            let [a, b, c] = triangle.map(|corner| mesh.corners[corner]);
            (b - a).cross(c - a).length() / 2.0
        })
        .sum()
}
