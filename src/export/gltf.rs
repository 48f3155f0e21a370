//! The frame as binary glTF 2.0 (.glb): a tree of nodes, one for each stick and panel, and one mesh for each pattern.

use std::collections::{BTreeMap, HashMap};

use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Target, View};
use gltf_json::material::{PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::scene::UnitQuaternion;
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Buffer, Index, Material, Mesh, Node, Root, Scene};
use serde_json::value::RawValue;

use super::ask::Ask;
use super::kind::PANELS;
use super::panels::Panel;
use super::parts;
use crate::frame::{Kind, Member};
use crate::geom::{DVec3, Mesh as ClosedMesh};

/// Meters in an inch: glTF knows no other unit.
const METERS: f64 = 0.0254;

/// A direction or place of the roof (z up) in glTF's axes (y up).
fn y_up(v: DVec3) -> DVec3 {
    DVec3::new(v.x, v.z, -v.y)
}

/// The file's bytes: meters, y up, x along the ridge.
///
/// The nodes are a tree: the roof; under it its blocks with their faces, and what belongs to no face; under each of these
/// the roles, and under a role its sticks, named by their ids. The panels of a face are under it. Meshes are named by the
/// sticks' marks; each kind of member has its material.
///
/// # Errors
/// [`serde_json::Error`] if the scene can't be written as JSON, which it always can.
pub fn write(ask: &Ask<'_>) -> Result<Vec<u8>, serde_json::Error> {
    let sticks = ask.sticks;
    let mut file = File::default();
    file.root.asset.generator = Some(concat!("stepoff ", env!("CARGO_PKG_VERSION")).into());
    let mut tree = Tree::default();
    let meshes: HashMap<&str, Index<Mesh>> =
        sticks.members.iter().map(|member| (member.mark.as_str(), file.mesh(member))).collect();
    for (part, list) in parts::sorted(sticks) {
        let above: Vec<String> =
            part.block(sticks).map(|block| format!("block {block}")).into_iter().collect();
        for (member, id, axis) in list {
            let extras =
                extras(&serde_json::json!({ "mark": member.mark, "role": member.role.words() }))?;
            let node = node(
                id,
                (axis.origin, [axis.along, axis.up, axis.across()]),
                meshes[member.mark.as_str()],
                extras,
            );
            let way =
                [above.clone(), vec![part.name(sticks), member.role.words().to_owned()]].concat();
            tree.add(&way, file.root.push(node));
        }
    }
    let (panels, thick) = ask.panels();
    for panel in &panels {
        let mesh = file.plate(panel, thick);
        let extras =
            extras(&serde_json::json!({ "panel": ask.panel_words(), "face": panel.face }))?;
        let axes = [panel.along, panel.out.cross(panel.along), panel.out];
        let node = node(&panel.id, (panel.corner, axes), mesh, extras);
        let block = sticks.roof.faces.iter().find(|face| face.name == panel.face);
        let above = block.map(|face| format!("block {}", face.block));
        let way: Vec<String> = above
            .into_iter()
            .chain([format!("face {}", panel.face), "panels".to_owned()])
            .collect();
        tree.add(&way, file.root.push(node));
    }
    let name = sticks.plan.rafter.name.clone();
    let roof = tree.put(name.clone().unwrap_or_else(|| "roof".into()), &mut file.root);
    let scene = Scene { extensions: None, extras: None, name, nodes: vec![roof] };
    let scene = file.root.push(scene);
    file.root.scene = Some(scene);
    file.bytes()
}

fn extras(told: &serde_json::Value) -> Result<Box<RawValue>, serde_json::Error> {
    RawValue::from_string(told.to_string())
}

/// What stands at `place`, its own axes turned to these.
fn node(
    name: &str,
    (place, axes): (DVec3, [DVec3; 3]),
    mesh: Index<Mesh>,
    extras: Box<RawValue>,
) -> Node {
    let [x, y, z] = axes.map(y_up);
    let turn = glam::DQuat::from_mat3(&glam::DMat3::from_cols(x, y, z)).normalize();
    let place = y_up(place) * METERS;
    Node {
        extras: Some(extras),
        mesh: Some(mesh),
        name: Some(name.to_owned()),
        rotation: Some(UnitQuaternion(turn.to_array().map(|part| part as f32))),
        translation: Some(place.to_array().map(|part| part as f32)),
        ..Node::default()
    }
}

/// A node that only holds others: its branches by name, in the order in which they come, then the nodes on it.
#[derive(Default)]
struct Tree {
    branches: Vec<(String, Tree)>,
    leaves: Vec<Index<Node>>,
}

impl Tree {
    /// Puts a node under the branches of these names.
    fn add(&mut self, way: &[String], leaf: Index<Node>) {
        let Some((name, rest)) = way.split_first() else {
            self.leaves.push(leaf);
            return;
        };
        let known = self.branches.iter().position(|(own, _)| own == name);
        let at = known.unwrap_or_else(|| {
            self.branches.push((name.clone(), Tree::default()));
            self.branches.len() - 1
        });
        self.branches[at].1.add(rest, leaf);
    }

    /// Adds it to the scene under this name.
    fn put(self, name: String, root: &mut Root) -> Index<Node> {
        let branches = self.branches.into_iter().map(|(name, branch)| branch.put(name, root));
        let children: Vec<Index<Node>> = branches.collect();
        let children = [children, self.leaves].concat();
        root.push(Node { name: Some(name), children: Some(children), ..Node::default() })
    }
}

/// The scene being built, and the numbers that it refers to.
#[derive(Default)]
struct File {
    root: Root,
    numbers: Vec<u8>,
    materials: HashMap<Option<Kind>, Index<Material>>,
}

impl File {
    /// The material of a kind of member; of the panels, if it is none.
    fn material(&mut self, kind: Option<Kind>) -> Index<Material> {
        if let Some(known) = self.materials.get(&kind) {
            return *known;
        }
        let [red, green, blue] = kind.map_or(PANELS, Kind::color);
        let material = self.root.push(Material {
            name: Some(kind.map_or("PANELS", Kind::name).to_lowercase()),
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

    /// The pattern's solid.
    fn mesh(&mut self, member: &Member) -> Index<Mesh> {
        let solid = member.stick.solid().mesh();
        self.solid(&member.mark, &solid, Some(member.role.kind()))
    }

    fn plate(&mut self, panel: &Panel, thick: f64) -> Index<Mesh> {
        self.solid(&panel.id, &panel.mesh(thick), None)
    }

    /// A closed surface; every face has its own corners and normals, so that edges look sharp.
    fn solid(&mut self, name: &str, solid: &ClosedMesh, kind: Option<Kind>) -> Index<Mesh> {
        let (mut places, mut normals) = (Vec::new(), Vec::new());
        for triangle in solid.triangles() {
            let [a, b, c] = triangle.map(|corner| solid.corners[corner]);
            let normal = (b - a).cross(c - a).normalize();
            places.extend([a, b, c].map(|corner| corner * METERS));
            normals.extend([normal; 3]);
        }
        let positions = self.vectors(&places, Bounds::Told);
        let normals = self.vectors(&normals, Bounds::Left);
        let material = self.material(kind);
        self.root.push(Mesh {
            extensions: None,
            extras: None,
            name: Some(name.to_owned()),
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
