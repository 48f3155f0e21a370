//! The frame as binary glTF 2.0 (.glb): one mesh for each pattern, one node for each stick.

use std::collections::{BTreeMap, HashMap};

use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Target, View};
use gltf_json::material::{PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::scene::UnitQuaternion;
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Buffer, Index, Material, Mesh, Node, Root, Scene};
use serde_json::value::RawValue;

use crate::frame::Kind;
use crate::frame::{Axis, Member, Sticks};
use crate::geom::DVec3;

/// Meters in an inch: glTF knows no other unit.
const METERS: f64 = 0.0254;

/// A direction or place of the roof (z up) in glTF's axes (y up).
fn y_up(v: DVec3) -> DVec3 {
    DVec3::new(v.x, v.z, -v.y)
}

/// The file's bytes: meters, y up, x along the ridge. Nodes are named by the sticks' ids, meshes by
/// their marks; each kind of member has its material.
///
/// # Errors
/// [`serde_json::Error`] if the scene can't be written as JSON, which it always can.
pub fn write(sticks: Sticks<'_>) -> Result<Vec<u8>, serde_json::Error> {
    let mut file = File::default();
    file.root.asset.generator = Some(concat!("stepoff ", env!("CARGO_PKG_VERSION")).into());
    let mut nodes = Vec::with_capacity(sticks.count());
    for member in sticks.members {
        let mesh = file.mesh(member);
        let extras = RawValue::from_string(
            serde_json::json!({ "mark": member.mark, "role": member.role.words() }).to_string(),
        )?;
        for (id, axis) in member.placed_ids() {
            nodes.push(file.root.push(node(id, axis, mesh, &extras)));
        }
    }
    let scene =
        Scene { extensions: None, extras: None, name: sticks.plan.rafter.name.clone(), nodes };
    let scene = file.root.push(scene);
    file.root.scene = Some(scene);
    file.bytes()
}

fn node(id: &str, axis: &Axis, mesh: Index<Mesh>, extras: &RawValue) -> Node {
    let turn = glam::DMat3::from_cols(y_up(axis.along), y_up(axis.up), y_up(axis.across()));
    let turn = glam::DQuat::from_mat3(&turn).normalize();
    let place = y_up(axis.origin) * METERS;
    Node {
        extras: Some(extras.to_owned()),
        mesh: Some(mesh),
        name: Some(id.to_owned()),
        rotation: Some(UnitQuaternion(turn.to_array().map(|part| part as f32))),
        translation: Some(place.to_array().map(|part| part as f32)),
        ..Node::default()
    }
}

/// The scene being built, and the numbers that it refers to.
#[derive(Default)]
struct File {
    root: Root,
    numbers: Vec<u8>,
    materials: HashMap<Kind, Index<Material>>,
}

impl File {
    fn material(&mut self, kind: Kind) -> Index<Material> {
        if let Some(known) = self.materials.get(&kind) {
            return *known;
        }
        let [red, green, blue] = kind.color();
        let material = self.root.push(Material {
            name: Some(kind.name().to_lowercase()),
            pbr_metallic_roughness: PbrMetallicRoughness {
                base_color_factor: PbrBaseColorFactor([red, green, blue, 1.0]),
                metallic_factor: StrengthFactor(0.0),
                roughness_factor: StrengthFactor(0.9),
                ..PbrMetallicRoughness::default()
            },
            ..Material::default()
        });
        self.materials.insert(kind, material);
        material
    }

    /// The pattern's solid; every face has its own corners and normals, so that edges look sharp.
    fn mesh(&mut self, member: &Member) -> Index<Mesh> {
        let solid = member.stick.solid().mesh();
        let (mut places, mut normals) = (Vec::new(), Vec::new());
        for triangle in solid.triangles() {
            let [a, b, c] = triangle.map(|corner| solid.corners[corner]);
            let normal = (b - a).cross(c - a).normalize();
            places.extend([a, b, c].map(|corner| corner * METERS));
            normals.extend([normal; 3]);
        }
        let positions = self.vectors(&places, Bounds::Told);
        let normals = self.vectors(&normals, Bounds::Left);
        let material = self.material(member.role.kind());
        self.root.push(Mesh {
            extensions: None,
            extras: None,
            name: Some(member.mark.clone()),
            primitives: vec![Primitive {
                attributes: BTreeMap::from([
                    (Checked::Valid(Semantic::Positions), positions),
                    (Checked::Valid(Semantic::Normals), normals),
                ]),
                extensions: None,
                extras: None,
                indices: None,
                material: Some(material),
                mode: Checked::Valid(Mode::Triangles),
                targets: None,
            }],
            weights: None,
        })
    }

    fn vectors(&mut self, vectors: &[DVec3], bounds: Bounds) -> Index<Accessor> {
        let offset = self.numbers.len();
        let (mut low, mut high) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
        for vector in vectors {
            for (part, number) in vector.to_array().map(|number| number as f32).iter().enumerate() {
                low[part] = low[part].min(*number);
                high[part] = high[part].max(*number);
                self.numbers.extend(number.to_le_bytes());
            }
        }
        let view = self.root.push(View {
            buffer: Index::new(0),
            byte_length: USize64::from(self.numbers.len() - offset),
            byte_offset: Some(USize64::from(offset)),
            byte_stride: None,
            name: None,
            target: Some(Checked::Valid(Target::ArrayBuffer)),
            extensions: None,
            extras: None,
        });
        let told = |numbers: [f32; 3]| {
            (bounds == Bounds::Told).then(|| serde_json::json!(numbers.map(f64::from)))
        };
        self.root.push(Accessor {
            buffer_view: Some(view),
            byte_offset: Some(USize64(0)),
            count: USize64::from(vectors.len()),
            component_type: Checked::Valid(GenericComponentType(ComponentType::F32)),
            extensions: None,
            extras: None,
            type_: Checked::Valid(Type::Vec3),
            min: told(low),
            max: told(high),
            name: None,
            normalized: false,
            sparse: None,
        })
    }

    /// The binary form: a header, the scene as JSON, the numbers; each part padded to four bytes.
    fn bytes(mut self) -> Result<Vec<u8>, serde_json::Error> {
        self.root.push(Buffer {
            byte_length: USize64::from(self.numbers.len()),
            name: None,
            uri: None,
            extensions: None,
            extras: None,
        });
        let mut json = self.root.to_vec()?;
        json.resize(json.len().next_multiple_of(4), b' ');
        let mut numbers = self.numbers;
        numbers.resize(numbers.len().next_multiple_of(4), 0);
        let mut bytes = Vec::with_capacity(28 + json.len() + numbers.len());
        let count = |bytes: &mut Vec<u8>, length: usize| {
            // a frame of the largest building is far below the 4 GiB limit of this format
            bytes.extend((length as u32).to_le_bytes());
        };
        bytes.extend(b"glTF\x02\0\0\0");
        count(&mut bytes, 28 + json.len() + numbers.len());
        count(&mut bytes, json.len());
        bytes.extend(b"JSON");
        bytes.extend(json);
        count(&mut bytes, numbers.len());
        bytes.extend(b"BIN\0");
        bytes.extend(numbers);
        Ok(bytes)
    }
}

/// Whether an accessor lists the least and the greatest number; positions must.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Bounds {
    Told,
    Left,
}
