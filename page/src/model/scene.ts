// The frame as a picture that is turned: the glTF file's solids drawn with three. It is put into the page compressed and
// run when the model is first opened. What a stick is, is not known here, only its name.

import {
  AmbientLight, Box3, BufferAttribute, BufferGeometry, Color, DirectionalLight, EdgesGeometry, Group, LineBasicMaterial,
  LineSegments, Mesh, MeshLambertMaterial, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import { type Look, type Picture3d, type Told3d } from "./picture";

/** What of a binary glTF file is read: the file is the engine's own, so nothing that it never writes is looked for. */
interface Gltf {
  nodes: { name: string; mesh?: number; rotation: number[]; translation: number[]; extras?: { mark?: string } }[];
  meshes: { name: string; primitives: { attributes: { POSITION: number; NORMAL: number }; material: number }[] }[];
  materials: { pbrMetallicRoughness: { baseColorFactor: number[] } }[];
  accessors: { bufferView: number; count: number }[];
  bufferViews: { byteOffset?: number }[];
}

/** The two parts of the file: its scene and its numbers. */
function read(glb: ArrayBuffer): { gltf: Gltf; numbers: number } {
  const view = new DataView(glb);
  if (view.getUint32(0, true) !== 0x46546c67) throw new Error("this is no glTF file");
  const length = view.getUint32(12, true);
  const text = new TextDecoder().decode(new Uint8Array(glb, 20, length));
  return { gltf: JSON.parse(text) as Gltf, numbers: 20 + length + 8 };
}

const LIT = new Color(0xf0a000);
const PALE = new Color(0xf4f4f2);
const EDGE = new Color(0x000000);
const PALE_EDGE = new Color(0xb4b4b4);
const FIELD_OF_VIEW = 28;
/** How far from a press a stick is still meant, pixels: a thumb in a glove is not exact. */
const RINGS = [0, 6, 12, 18, 24];
/** A press that moves farther than this turns the picture, pixels. */
const STILL = 10;

/** A picture with more dots than this is drawn less finely. */
const MOST_DOTS = 2_000_000;

/** From where each view looks, in the file's axes: x along the ridge, y up, z from eave B to eave A. */
const FROM: Record<Look, [number, number, number]> = {
  home: [-0.9, 0.75, 1],
  above: [0, 1, 0.0001],
  eaveA: [0, 0.08, 1],
  eaveB: [0, 0.08, -1],
  near: [-1, 0.08, 0],
  far: [1, 0.08, 0],
  eave: [-0.55, -0.12, 1],
};

interface Stick { name: string; body: Mesh<BufferGeometry, MeshLambertMaterial>; home: Vector3; middle: Vector3; own: MeshLambertMaterial }

class Model implements Picture3d {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(FIELD_OF_VIEW, 1, 0.05, 500);
  private readonly controls: OrbitControls;
  private readonly sticks = new Map<string, Stick>();
  private readonly made: { dispose(): void }[] = [];
  private readonly lines: [LineBasicMaterial, LineBasicMaterial];
  private readonly pale: MeshLambertMaterial;
  private readonly bright: MeshLambertMaterial;
  private readonly middle = new Vector3();
  private readonly sizes: ResizeObserver;
  private asked = 0;
  private look: Look = "home";
  private turned = false;
  private down: { x: number; y: number; fingers: number } | null = null;
  /** How many pictures were drawn. */
  drawn = 0;

  constructor(private readonly canvas: HTMLCanvasElement, glb: ArrayBuffer, private readonly told: Told3d) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, powerPreference: "low-power" });
    this.renderer.setClearColor(0xffffff);
    this.lines = [this.keep(new LineBasicMaterial({ color: EDGE })), this.keep(new LineBasicMaterial({ color: PALE_EDGE }))];
    this.pale = this.keep(new MeshLambertMaterial({ color: PALE, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    this.bright = this.keep(new MeshLambertMaterial({ color: LIT, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    this.scene.add(this.build(glb));
    this.light();
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.screenSpacePanning = true;
    this.controls.addEventListener("change", () => this.draw());
    this.controls.addEventListener("start", () => { this.turned = true; });
    canvas.addEventListener("pointerdown", this.pressed);
    canvas.addEventListener("pointerup", this.released);
    canvas.addEventListener("webglcontextlost", this.lost);
    this.sizes = new ResizeObserver(() => this.resize());
    this.sizes.observe(canvas.parentElement!);
    this.resize();
  }

  private keep<T extends { dispose(): void }>(one: T): T {
    this.made.push(one);
    return one;
  }

  /** A body and its edges for each stick, one form for all that are cut alike. */
  private build(glb: ArrayBuffer): Group {
    const { gltf, numbers } = read(glb);
    const vectors = (accessor: number) => {
      const { bufferView, count } = gltf.accessors[accessor]!;
      const from = numbers + (gltf.bufferViews[bufferView]!.byteOffset ?? 0);
      return new BufferAttribute(new Float32Array(glb.slice(from, from + count * 12)), 3);
    };
    const colors = gltf.materials.map((material) => {
      const [red, green, blue] = material.pbrMetallicRoughness.baseColorFactor as [number, number, number];
      // the edges lie on the faces: these step back a little
      return this.keep(new MeshLambertMaterial({ color: new Color(red, green, blue), polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    });
    const forms = gltf.meshes.map((mesh) => {
      const [primitive] = mesh.primitives;
      const body = this.keep(new BufferGeometry());
      body.setAttribute("position", vectors(primitive!.attributes.POSITION));
      body.setAttribute("normal", vectors(primitive!.attributes.NORMAL));
      body.computeBoundingBox();
      return { body, edges: this.keep(new EdgesGeometry(body, 1)), material: colors[primitive!.material]! };
    });
    const all = new Group();
    for (const node of gltf.nodes) {
      // what holds others has no form of its own, and panels would hide the sticks
      if (node.mesh === undefined || node.extras?.mark === undefined) continue;
      const { body, edges, material } = forms[node.mesh]!;
      const mesh = new Mesh(body, material);
      mesh.name = node.name;
      mesh.quaternion.fromArray(node.rotation);
      mesh.position.fromArray(node.translation);
      mesh.add(new LineSegments(edges, this.lines[0]));
      mesh.updateMatrixWorld();
      const middle = body.boundingBox!.getCenter(new Vector3()).applyMatrix4(mesh.matrixWorld);
      this.sticks.set(node.name, { name: node.name, body: mesh, home: mesh.position.clone(), middle, own: material });
      all.add(mesh);
    }
    new Box3().setFromObject(all).getCenter(this.middle);
    return all;
  }

  private light(): void {
    this.scene.add(new AmbientLight(0xffffff, 1.5));
    for (const [x, y, z, strength] of [[-1, 2, 1.5, 1.6], [1.5, 0.6, -1, 0.8]] as const) {
      const sun = new DirectionalLight(0xffffff, strength);
      sun.position.set(x, y, z);
      this.scene.add(sun);
    }
  }

  /** Draws once, with the next picture of the screen. */
  private draw(): void {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.renderer.render(this.scene, this.camera);
      this.drawn += 1;
      this.told.drawn();
    });
  }

  private resize(): void {
    const box = this.canvas.parentElement!;
    const [wide, high] = [box.clientWidth, box.clientHeight];
    if (wide === 0 || high === 0) return;
    // two dots a pixel make fine lines; a large picture is not worth that on a slow machine
    const fine = Math.max(2, devicePixelRatio) ** 2 * wide * high < MOST_DOTS;
    this.renderer.setPixelRatio(fine ? Math.max(2, devicePixelRatio) : Math.min(devicePixelRatio, 1.5));
    this.renderer.setSize(wide, high);
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    if (!this.turned) this.view(this.look);
    this.draw();
  }

  view(look: Look): void {
    this.look = look;
    this.turned = false;
    const from = new Vector3(...FROM[look]).normalize();
    const box = this.box();
    const target = box.getCenter(new Vector3());
    // from the eave: the near corner of eave A, from a man's height on the ground
    if (look === "eave") {
      const size = box.getSize(new Vector3());
      box.min.set(box.min.x, box.min.y, box.max.z - size.z * 0.3);
      box.max.set(box.min.x + size.x * 0.35, box.min.y + size.y * 0.6, box.max.z);
      box.getCenter(target);
    }
    this.camera.up.set(0, 1, 0);
    this.controls.target.copy(target);
    this.camera.position.copy(target).addScaledVector(from, this.distance(box, target, from));
    this.controls.update();
    this.draw();
  }

  /** All sticks that are shown, as they stand. */
  private box(): Box3 {
    const box = new Box3();
    for (const { body } of this.sticks.values()) if (body.visible) box.expandByObject(body);
    return box.isEmpty() ? box.set(new Vector3(-1, -1, -1), new Vector3(1, 1, 1)) : box;
  }

  /** How far away every corner of a box is in the picture. */
  private distance(box: Box3, target: Vector3, from: Vector3): number {
    const right = new Vector3().crossVectors(this.camera.up, from).normalize();
    const up = new Vector3().crossVectors(from, right);
    const high = Math.tan((this.camera.fov * Math.PI) / 360);
    const wide = high * this.camera.aspect;
    let distance = 0;
    for (let corner = 0; corner < 8; corner++) {
      const at = new Vector3(...([1, 2, 4] as const).map((bit, axis) => (corner & bit ? box.max : box.min).getComponent(axis)) as [number, number, number]).sub(target);
      const near = at.dot(from);
      distance = Math.max(distance, near + Math.abs(at.dot(right)) / wide, near + Math.abs(at.dot(up)) / high);
    }
    return distance * 1.06;
  }

  turn(right: number, up: number): void {
    this.turned = true;
    this.controls.rotateLeft(-right);
    this.controls.rotateUp(-up);
    this.controls.update();
  }

  pan(right: number, up: number): void {
    this.turned = true;
    this.controls.pan(right * this.canvas.clientWidth, -up * this.canvas.clientHeight);
    this.controls.update();
  }

  zoom(nearer: boolean): void {
    this.turned = true;
    if (nearer) this.controls.dollyIn(1 / 0.8);
    else this.controls.dollyOut(1 / 0.8);
    this.controls.update();
  }

  oneFinger(pans: boolean): void {
    // three's numbers: ROTATE is 0, PAN is 1, DOLLY_PAN is 2 for fingers; ROTATE is 0 and PAN is 2 for a mouse
    this.controls.touches.ONE = pans ? 1 : 0;
    this.controls.mouseButtons.LEFT = pans ? 2 : 0;
  }

  explode(part: number): void {
    for (const { body, home, middle } of this.sticks.values()) {
      const away = middle.clone().sub(this.middle).multiply(new Vector3(0.6, 1.6, 0.6)).multiplyScalar(part);
      body.position.copy(home).add(away);
      body.updateMatrixWorld();
    }
    if (!this.turned) this.view(this.look);
    this.draw();
  }

  show(names: ReadonlySet<string> | null): void {
    for (const { name, body } of this.sticks.values()) body.visible = names === null || names.has(name);
    this.draw();
  }

  lightUp(names: ReadonlySet<string> | null): void {
    for (const { name, body, own } of this.sticks.values()) {
      const dim = names !== null && !names.has(name);
      body.material = names === null ? own : dim ? this.pale : this.bright;
      (body.children[0] as LineSegments).material = this.lines[dim ? 1 : 0];
    }
    this.draw();
  }

  names(): string[] {
    return [...this.sticks.values()].filter(({ body }) => body.visible).map(({ name }) => name);
  }

  lit(): string[] {
    return [...this.sticks.values()].filter(({ body }) => body.material === this.bright && body.visible).map(({ name }) => name);
  }

  where(name: string): { x: number; y: number } | null {
    const stick = this.sticks.get(name);
    if (!stick) return null;
    this.camera.updateMatrixWorld();
    const at = stick.middle.clone().add(stick.body.position).sub(stick.home).project(this.camera);
    const { clientWidth, clientHeight } = this.canvas;
    return { x: ((at.x + 1) / 2) * clientWidth, y: ((1 - at.y) / 2) * clientHeight };
  }

  pick(x: number, y: number): string | null {
    const cast = new Raycaster();
    const bodies = [...this.sticks.values()].map(({ body }) => body).filter((body) => body.visible);
    this.camera.updateMatrixWorld();
    for (const ring of RINGS) {
      let best: { distance: number; name: string } | null = null;
      for (let turn = 0; turn < (ring === 0 ? 1 : 8); turn++) {
        const [dx, dy] = [Math.cos((turn * Math.PI) / 4) * ring, Math.sin((turn * Math.PI) / 4) * ring];
        cast.setFromCamera(new Vector2(((x + dx) / this.canvas.clientWidth) * 2 - 1, 1 - ((y + dy) / this.canvas.clientHeight) * 2), this.camera);
        const hit = cast.intersectObjects(bodies, false)[0];
        if (hit && (!best || hit.distance < best.distance)) best = { distance: hit.distance, name: hit.object.name };
      }
      if (best) return best.name;
    }
    return null;
  }

  private readonly pressed = (event: PointerEvent) => {
    this.down = event.isPrimary ? { x: event.offsetX, y: event.offsetY, fingers: 1 } : null;
  };

  private readonly released = (event: PointerEvent) => {
    const { down } = this;
    this.down = null;
    if (down && Math.hypot(event.offsetX - down.x, event.offsetY - down.y) < STILL) this.told.picked(this.pick(event.offsetX, event.offsetY));
  };

  private readonly lost = (event: Event) => {
    event.preventDefault();
    this.told.lost();
  };

  dispose(): void {
    cancelAnimationFrame(this.asked);
    this.sizes.disconnect();
    this.controls.dispose();
    this.canvas.removeEventListener("pointerdown", this.pressed);
    this.canvas.removeEventListener("pointerup", this.released);
    this.canvas.removeEventListener("webglcontextlost", this.lost);
    for (const one of this.made) one.dispose();
    this.sticks.clear();
    this.scene.clear();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}

/** Begins a picture in a canvas; throws where the browser draws none. */
export function picture(canvas: HTMLCanvasElement, glb: ArrayBuffer, told: Told3d): Picture3d {
  return new Model(canvas, glb, told);
}
