//! The frame as a building model (IFC4, ISO 16739-1): every stick a member with its solid in its place.

mod deck;
mod roles;
mod step;

use crate::deck::{Deck, RoofDeck};
use crate::frame::{Axis, Edge, Frame, Member};
use crate::geom::{DVec3, Mesh};
use crate::measure::quantity::{in_degrees, in_inches};
use crate::plan::OrderPlan;

use super::stable;
use super::unit::FileUnit;
use step::{Id, Step, Value};

/// What a model is made of.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// Species and grade, panels: what the sticks and the deck are made of.
    pub plan: &'a OrderPlan,
    /// The panels of the deck as they are laid; without them the roof planes are bare surfaces.
    pub deck: Option<(&'a RoofDeck, &'a Deck)>,
    /// The unit of lengths.
    pub unit: FileUnit,
}

/// The model as text. Equal roofs give equal text; a stick that stays in its place keeps its GlobalId.
#[must_use]
pub fn write(ask: &Ask<'_>) -> String {
    let mut model = Model::new(ask);
    let mut products = model.members();
    products.push(model.roof());
    model.contain(&products);
    let name = model.job.clone();
    model.step.finish(
        "IFC4",
        "ViewDefinition [DesignTransferView_V1.0]",
        &format!("{}.ifc", if name.is_empty() { "roof" } else { &name }),
        concat!("stepoff ", env!("CARGO_PKG_VERSION")),
    )
}

struct Model<'a> {
    ask: Ask<'a>,
    job: String,
    step: Step,
    /// Inches to the unit of lengths, to square and to cubic units.
    length: f64,
    area: f64,
    volume: f64,
    body: Id,
    storey: Id,
    storey_place: Id,
}

/// Where the model's products hang: made first, as all others name them.
struct Stem {
    body: Id,
    storey: Id,
    storey_place: Id,
}

impl<'a> Model<'a> {
    fn new(ask: &Ask<'a>) -> Model<'a> {
        let job = ask.frame.plan.rafter.name.clone().unwrap_or_default();
        let mut step = Step::default();
        let length = ask.unit.in_an_inch();
        // with millimeters areas and volumes are in meters, as is usual
        let (area, volume) = match ask.unit {
            FileUnit::Inch => (1.0, 1.0),
            FileUnit::Millimeter => (0.0254 * 0.0254, 0.0254 * 0.0254 * 0.0254),
        };
        let stem = stem(&mut step, ask, &job, length);
        Model {
            ask: *ask,
            job,
            step,
            length,
            area,
            volume,
            body: stem.body,
            storey: stem.storey,
            storey_place: stem.storey_place,
        }
    }

    fn global_id(&self, name: &str) -> Value {
        stable::global_id(&self.job, name).into()
    }

    /// Attributes that everything with an identity begins with: GlobalId, no owner, name, description.
    fn rooted(&self, name: &str, label: Value, description: Value) -> Vec<Value> {
        vec![self.global_id(name), Value::Unset, label, description]
    }

    fn relate(&mut self, kind: &str, name: &str, values: Vec<Value>) -> Id {
        let mut all = self.rooted(name, Value::Unset, Value::Unset);
        all.extend(values);
        self.step.add(kind, all)
    }

    fn point(&mut self, at: DVec3) -> Id {
        point(&mut self.step, at * self.length)
    }

    /// A place whose x runs along and whose z stands across, both unit vectors.
    fn place(&mut self, origin: DVec3, x: DVec3, z: DVec3) -> Id {
        let at = origin * self.length;
        place(&mut self.step, Some(self.storey_place), at, x, z)
    }

    /// All members, each pattern a type with its section, material and solid.
    fn members(&mut self) -> Vec<Id> {
        let frame = self.ask.frame;
        let mut all = Vec::with_capacity(frame.stick_count());
        for member in &frame.members {
            let class = roles::class(member.role);
            // named by a stick of it, because marks move when patterns come and go
            let first = member.ids.first().map_or("", String::as_str);
            let pattern = format!("pattern of {first}");
            let mesh = member.stick.solid().mesh();
            let map = self.mapped(&mesh);
            let mut kind = self.rooted(
                &pattern,
                member.mark.as_str().into(),
                member.role.words().into(),
            );
            kind.extend([
                Value::Unset,
                Value::Unset,
                vec![map].into(),
                member.mark.as_str().into(),
                member.role.words().into(),
                Value::Word(class.predefined),
            ]);
            let kind = self.step.add(class.kind, kind);
            let sticks: Vec<Id> = member
                .placed_ids()
                .map(|(id, axis)| self.member(member, class, map, id, axis))
                .collect();
            let related: Value = sticks.clone().into();
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
            for (name, set) in [("cut list", cuts), ("quantities", quantities)] {
                self.relate(
                    "IFCRELDEFINESBYPROPERTIES",
                    &format!("{name} for {pattern}"),
                    vec![related.clone(), set.into()],
                );
            }
            all.extend(sticks);
        }
        all
    }

    fn member(
        &mut self,
        member: &Member,
        class: roles::Class,
        map: Id,
        id: &str,
        axis: &Axis,
    ) -> Id {
        let place = self.place(axis.origin, axis.along, axis.across());
        let still = identity(&mut self.step);
        let item = self
            .step
            .add("IFCMAPPEDITEM", vec![map.into(), still.into()]);
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

    fn shape(&mut self, kind: &str, item: Id) -> Id {
        let body = vec![
            self.body.into(),
            "Body".into(),
            kind.into(),
            vec![item].into(),
        ];
        let body = self.step.add("IFCSHAPEREPRESENTATION", body);
        self.step.add(
            "IFCPRODUCTDEFINITIONSHAPE",
            vec![Value::Unset, Value::Unset, vec![body].into()],
        )
    }

    /// The solid of a pattern, to be shown in several places.
    fn mapped(&mut self, mesh: &Mesh) -> Id {
        let corners: Vec<Id> = mesh
            .corners
            .iter()
            .map(|corner| self.point(*corner))
            .collect();
        let faces: Vec<Id> = mesh
            .faces
            .iter()
            .map(|face| {
                let ring: Vec<Id> = face.iter().map(|corner| corners[*corner]).collect();
                self.face(ring)
            })
            .collect();
        let shell = self.step.add("IFCCLOSEDSHELL", vec![faces.into()]);
        let solid = self.step.add("IFCFACETEDBREP", vec![shell.into()]);
        let body = self.step.add(
            "IFCSHAPEREPRESENTATION",
            vec![
                self.body.into(),
                "Body".into(),
                "Brep".into(),
                vec![solid].into(),
            ],
        );
        let origin = axes(&mut self.step, DVec3::ZERO, DVec3::X, DVec3::Z);
        self.step
            .add("IFCREPRESENTATIONMAP", vec![origin.into(), body.into()])
    }

    fn face(&mut self, ring: Vec<Id>) -> Id {
        let ring = self.step.add("IFCPOLYLOOP", vec![ring.into()]);
        let bound = self
            .step
            .add("IFCFACEOUTERBOUND", vec![ring.into(), Value::True]);
        self.step.add("IFCFACE", vec![vec![bound].into()])
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
        let name = if words.is_empty() {
            "sawn lumber".to_owned()
        } else {
            words.join(" ")
        };
        let wood = self.step.add_once(
            "IFCMATERIAL",
            vec![name.as_str().into(), Value::Unset, "wood".into()],
        );
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

    fn property(&mut self, name: &str, kind: &'static str, value: impl Into<Value>) -> Id {
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

    /// What the cut list says of a pattern.
    fn cut_list(&mut self, member: &Member, pattern: &str) -> Id {
        let length = "IFCPOSITIVELENGTHMEASURE";
        let mut properties = vec![
            self.property("Mark", "IFCIDENTIFIER", member.mark.as_str()),
            self.property("Role", "IFCLABEL", member.role.words()),
            self.property("Section", "IFCLABEL", member.stick.section.to_string()),
            self.property(
                "BlankLength",
                length,
                in_inches(member.blank()) * self.length,
            ),
        ];
        for (name, edge) in [
            ("TopEdgeLength", Edge::Top),
            ("BottomEdgeLength", Edge::Bottom),
        ] {
            let along = in_inches(member.edge_lengths(edge).0);
            // an edge that is cut away whole has no length
            if along > 0.0 {
                properties.push(self.property(name, length, along * self.length));
            }
        }
        if let Some(feet) = member.order_ft() {
            properties.push(self.property(
                "OrderLength",
                length,
                f64::from(feet) * 12.0 * self.length,
            ));
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
        let others: Vec<String> = member
            .other_cuts()
            .iter()
            .map(|cut| cut.name.to_owned())
            .collect();
        if !others.is_empty() {
            properties.push(self.property("OtherCuts", "IFCTEXT", others.join("; ")));
        }
        let mut set = self.rooted(
            &format!("cut list of {pattern}"),
            "Stepoff_CutList".into(),
            Value::Unset,
        );
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
        let blank = in_inches(member.blank());
        let sizes = [
            ("IFCQUANTITYLENGTH", "Length", blank * self.length),
            ("IFCQUANTITYAREA", "CrossSectionArea", cross * self.area),
            (
                "IFCQUANTITYAREA",
                "NetSurfaceArea",
                surface(mesh) * self.area,
            ),
            (
                "IFCQUANTITYVOLUME",
                "GrossVolume",
                cross * blank * self.volume,
            ),
            (
                "IFCQUANTITYVOLUME",
                "NetVolume",
                member.stick.solid().volume() * self.volume,
            ),
        ];
        self.sizes(pattern, name, &sizes)
    }

    fn sizes(&mut self, of: &str, name: &str, sizes: &[(&str, &str, f64)]) -> Id {
        let sizes: Vec<Id> = sizes
            .iter()
            .map(|(kind, name, size)| {
                self.step.add_once(
                    kind,
                    vec![
                        (*name).into(),
                        Value::Unset,
                        Value::Unset,
                        (*size).into(),
                        Value::Unset,
                    ],
                )
            })
            .collect();
        let mut set = self.rooted(&format!("quantities of {of}"), name.into(), Value::Unset);
        set.extend([Value::Unset, sizes.into()]);
        self.step.add("IFCELEMENTQUANTITY", set)
    }

    fn contain(&mut self, products: &[Id]) {
        let storey = self.storey;
        self.relate(
            "IFCRELCONTAINEDINSPATIALSTRUCTURE",
            "products of the storey",
            vec![products.to_vec().into(), storey.into()],
        );
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

fn point(step: &mut Step, at: DVec3) -> Id {
    step.add_once("IFCCARTESIANPOINT", vec![at.to_array().to_vec().into()])
}

fn direction(step: &mut Step, way: DVec3) -> Id {
    step.add_once("IFCDIRECTION", vec![way.to_array().to_vec().into()])
}

fn axes(step: &mut Step, at: DVec3, x: DVec3, z: DVec3) -> Id {
    let values = vec![
        point(step, at).into(),
        direction(step, z).into(),
        direction(step, x).into(),
    ];
    step.add_once("IFCAXIS2PLACEMENT3D", values)
}

fn place(step: &mut Step, within: Option<Id>, at: DVec3, x: DVec3, z: DVec3) -> Id {
    let values = vec![within.into(), axes(step, at, x, z).into()];
    step.add("IFCLOCALPLACEMENT", values)
}

fn identity(step: &mut Step) -> Id {
    let origin = point(step, DVec3::ZERO);
    step.add_once(
        "IFCCARTESIANTRANSFORMATIONOPERATOR3D",
        vec![
            Value::Unset,
            Value::Unset,
            origin.into(),
            Value::Unset,
            Value::Unset,
        ],
    )
}

/// Project, site, building and the storey of the roof, whose level is the top of the plates.
fn stem(step: &mut Step, ask: &Ask<'_>, job: &str, length: f64) -> Stem {
    let id = |name: &str| Value::from(stable::global_id(job, name));
    let named = if job.is_empty() { "roof frame" } else { job };
    let origin = axes(step, DVec3::ZERO, DVec3::X, DVec3::Z);
    let context = step.add(
        "IFCGEOMETRICREPRESENTATIONCONTEXT",
        vec![
            Value::Unset,
            "Model".into(),
            Value::Whole(3),
            (1e-6 * length).into(),
            origin.into(),
            Value::Unset,
        ],
    );
    let body = step.add(
        "IFCGEOMETRICREPRESENTATIONSUBCONTEXT",
        vec![
            "Body".into(),
            "Model".into(),
            Value::Derived,
            Value::Derived,
            Value::Derived,
            Value::Derived,
            context.into(),
            Value::Unset,
            Value::Word("MODEL_VIEW"),
            Value::Unset,
        ],
    );
    let units = units(step, ask.unit);
    let project = step.add(
        "IFCPROJECT",
        vec![
            id("project"),
            Value::Unset,
            named.into(),
            Value::Unset,
            Value::Unset,
            Value::Unset,
            Value::Unset,
            vec![context].into(),
            units.into(),
        ],
    );
    let ground = place(step, None, DVec3::ZERO, DVec3::X, DVec3::Z);
    let part = |name: &str, label: &str, place: Id| {
        vec![
            id(name),
            Value::Unset,
            label.into(),
            Value::Unset,
            Value::Unset,
            place.into(),
            Value::Unset,
            Value::Unset,
            Value::Word("ELEMENT"),
        ]
    };
    let mut values = part("site", "site", ground);
    values.extend([const { Value::Unset }; 5]);
    let site = step.add("IFCSITE", values);
    let floor = place(step, Some(ground), DVec3::ZERO, DVec3::X, DVec3::Z);
    let mut values = part("building", named, floor);
    values.extend([const { Value::Unset }; 3]);
    let building = step.add("IFCBUILDING", values);
    let level = in_inches(ask.frame.plan.wall_height) * length;
    let storey_place = place(step, Some(floor), DVec3::Z * level, DVec3::X, DVec3::Z);
    let mut values = part("storey", "roof, from the top of the plates", storey_place);
    values.push(level.into());
    let storey = step.add("IFCBUILDINGSTOREY", values);
    for (name, whole, part) in [
        ("project has site", project, site),
        ("site has building", site, building),
        ("building has storey", building, storey),
    ] {
        let values = vec![
            id(name),
            Value::Unset,
            Value::Unset,
            Value::Unset,
            whole.into(),
            vec![part].into(),
        ];
        step.add("IFCRELAGGREGATES", values);
    }
    Stem {
        body,
        storey,
        storey_place,
    }
}

/// Lengths as asked; angles in degrees.
fn units(step: &mut Step, unit: FileUnit) -> Id {
    let si =
        |step: &mut Step, kind: &'static str, prefix: Option<&'static str>, name: &'static str| {
            step.add_once(
                "IFCSIUNIT",
                vec![
                    Value::Derived,
                    Value::Word(kind),
                    prefix.map_or(Value::Unset, Value::Word),
                    Value::Word(name),
                ],
            )
        };
    let meter = si(step, "LENGTHUNIT", None, "METRE");
    let square = si(step, "AREAUNIT", None, "SQUARE_METRE");
    let cubic = si(step, "VOLUMEUNIT", None, "CUBIC_METRE");
    let radian = si(step, "PLANEANGLEUNIT", None, "RADIAN");
    let mut converted = |kind: &'static str,
                         name: &str,
                         measure: &'static str,
                         factor: f64,
                         base: Id,
                         powers: [i64; 7]| {
        let powers = step.add_once("IFCDIMENSIONALEXPONENTS", powers.map(Value::Whole).to_vec());
        let factor = step.add(
            "IFCMEASUREWITHUNIT",
            vec![Value::Typed(measure, Box::new(factor.into())), base.into()],
        );
        step.add(
            "IFCCONVERSIONBASEDUNIT",
            vec![powers.into(), Value::Word(kind), name.into(), factor.into()],
        )
    };
    let degree = converted(
        "PLANEANGLEUNIT",
        "degree",
        "IFCPLANEANGLEMEASURE",
        std::f64::consts::PI / 180.0,
        radian,
        [0; 7],
    );
    let all = match unit {
        FileUnit::Inch => {
            let inch: f64 = 0.0254;
            vec![
                converted(
                    "LENGTHUNIT",
                    "inch",
                    "IFCLENGTHMEASURE",
                    inch,
                    meter,
                    [1, 0, 0, 0, 0, 0, 0],
                ),
                converted(
                    "AREAUNIT",
                    "square inch",
                    "IFCAREAMEASURE",
                    inch.powi(2),
                    square,
                    [2, 0, 0, 0, 0, 0, 0],
                ),
                converted(
                    "VOLUMEUNIT",
                    "cubic inch",
                    "IFCVOLUMEMEASURE",
                    inch.powi(3),
                    cubic,
                    [3, 0, 0, 0, 0, 0, 0],
                ),
                degree,
            ]
        }
        FileUnit::Millimeter => {
            let millimeter = si(step, "LENGTHUNIT", Some("MILLI"), "METRE");
            vec![millimeter, square, cubic, degree]
        }
    };
    step.add("IFCUNITASSIGNMENT", vec![all.into()])
}
