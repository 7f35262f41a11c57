// The map of a site: a plane in metres, no globe under it.
import { OlMap, type Layer, Point, Projection, ScaleLine, VectorLayer, VectorSource, View, boundingExtent, defaultControls, defaultInteractions, type Feature, type Geometry } from "../vendor/ol.js";
import type { Belief, DigPlan, Vertex } from "./answer";
import * as draw from "./draw";
import type { Box } from "./labels";
import { namedAt, namesOf } from "./names";
import { longSide } from "./shapes";
import { holesOf } from "./steps";
import type { Unit } from "./units";

// 10 km each way: no lot is larger.
const site = new Projection({ code: "site", units: "m", extent: [-1e4, -1e4, 1e4, 1e4], getPointResolution: (r) => r });

export type Turned = "north" | "house";

/** The rectangles of the keys and notes that lie over a map, on the screen. */
function keysOf(target: HTMLElement): Box[] {
  const frame = target.getBoundingClientRect();
  const over = [...(target.parentElement?.querySelectorAll(".maptools button, .underkeys, .mapword, .frame, .ol-scale-line") ?? [])];
  return over.map((e) => {
    const r = e.getBoundingClientRect();
    return [r.left - frame.left, r.top - frame.top, r.right - frame.left, r.bottom - frame.top];
  });
}

export class SiteMap {
  private map: OlMap;
  private sources: VectorSource<Feature<Geometry>>[] = [];
  private belief: Belief | null = null;
  private scale: ScaleLine;
  private whole = ""; // the view after fit
  private fitted = () => this.field(); // what was fitted last
  private next: Vertex[] = [];
  private width = 0; // of the map, pixels
  private seen: number[] | null = null; // the extent in view
  private below: Layer | null = null; // a picture

  constructor(target: HTMLElement, pick: (what: string) => void) {
    this.scale = new ScaleLine({ units: "metric", bar: false, minWidth: 70 });
    // Drawn in this order: as drawn, ground, believed, holes, self.
    const layers = Array.from({ length: 5 }, () => {
      const source = new VectorSource<Feature<Geometry>>();
      this.sources.push(source);
      return new VectorLayer({ source, updateWhileInteracting: true });
    });
    const names = namesOf(this.sources, () => keysOf(target));
    this.map = new OlMap({
      target,
      layers: [...layers, names],
      controls: defaultControls({ zoom: false, rotate: false, attribution: false }).extend([this.scale]),
      interactions: defaultInteractions({ altShiftDragRotate: true, pinchRotate: true }),
      view: new View({ projection: site, center: [0, 0], resolution: 0.1, minResolution: 0.004, maxResolution: 3, enableRotation: true, constrainRotation: false, showFullExtent: true }),
    });
    this.map.on("moveend", () => {
      this.seen = this.map.getView().calculateExtent();
      names.changed(); // the scale bar has its new width only now
    });
    this.map.on("singleclick", (e) => {
      // A sign rather than a line, and the nearest sign.
      let [least, found] = [Infinity, ""];
      this.map.forEachFeatureAtPixel(e.pixel, (f) => {
        const what = f.get("pick");
        const g = f.getGeometry();
        const at = g instanceof Point && this.map.getPixelFromCoordinate(g.getCoordinates());
        const off = at ? Math.hypot(at[0] - e.pixel[0], at[1] - e.pixel[1]) : 1e3;
        if (what && (off < least - 0.5 || (what === "next" && off < least + 0.5))) [least, found] = [off, what];
      }, { hitTolerance: 14 });
      const what = namedAt(target, e.pixel) || found;
      if (what) pick(what);
    });
  }

  /** Shows what is believed; the first time it also moves there. */
  show(b: Belief, plan: DigPlan | null, unit: Unit) {
    this.belief = b;
    this.next = holesOf(plan).slice(0, 1).map((p) => [p.east, p.north]);
    this.scale.setUnits(unit === "m" ? "metric" : "us");
    const lists = [draw.asDrawn(b), draw.ground(b), draw.believed(b), draw.holes(b, plan, unit)];
    lists.forEach((features, i) => {
      this.sources[i].clear(true);
      this.sources[i].addFeatures(features);
    });
    // The view follows what is shown until somebody moves it.
    if (!this.whole || this.whole === this.view()) this.fitted();
  }

  /** Shows where this device is; null hides it. */
  self(at: [number, number] | null, accuracy = 0) {
    this.sources[4].clear(true);
    if (at) this.sources[4].addFeatures(draw.self(at, accuracy));
  }

  /** Puts a picture under everything else; null takes it away. */
  under(layer: Layer | null) {
    if (this.below) this.map.removeLayer(this.below);
    this.below = layer;
    if (layer) this.map.getLayers().insertAt(0, layer);
  }

  /** Moves so that the field is in view: box, laterals, next hole and holes that were dug. */
  field() {
    const b = this.belief;
    const buried = b?.spots.filter((s) => ["box", "lateral", "header"].includes(s.kind) || s.part === b.sought?.part) ?? [];
    if (!b || !buried.length) return this.all();
    this.fit([
      ...buried.flatMap((s): Vertex[] => s.lobes?.map((l): Vertex => [l.east, l.north]) ?? [[s.east, s.north]]),
      ...b.corridors.flatMap((c) => c.line as Vertex[]),
      ...b.holes.filter((h) => h.result).map((h): Vertex => [h.east, h.north]),
      ...this.next,
    ]);
    this.fitted = () => this.field();
  }

  /** Moves so that the whole site is in view. */
  all() {
    const b = this.belief;
    if (!b) return;
    this.fit([
      ...b.spots.flatMap((s) => s.lobes?.flatMap((l) => l.outline) ?? [[s.east, s.north] as Vertex]),
      ...b.holes.map((h): Vertex => [h.east, h.north]),
      ...b.outlines.filter((o) => ["building", "boundary", "well"].includes(o.kind)).flatMap((o) => o.now.flatMap((s) => s.vertices)),
      ...this.next,
    ]);
    this.fitted = () => this.all();
  }

  private fit(points: Vertex[]) {
    if (!points.length) return;
    this.map.updateSize();
    // Room for names, and on the right for the keys; less of it on a low map.
    const low = Math.min(1, (this.map.getSize()?.[1] ?? 400) / 400);
    const keys = this.map.getTargetElement()?.parentElement?.querySelector<HTMLElement>(".maptools")?.offsetWidth ?? 0;
    this.map.getView().fit(boundingExtent(points), { padding: [44 * low, keys + 36, 60 * low, 44], minResolution: 0.02 });
    this.whole = this.view();
  }

  /** What is in view: it changes when somebody moves or zooms. */
  private view() {
    const v = this.map.getView();
    return String([v.getCenter(), v.getResolution(), v.getRotation()]);
  }

  /** Moves to a place, near enough to see a hole. */
  near(at: [number, number]) {
    this.map.getView().setCenter(at);
    this.map.getView().setResolution(0.03);
  }

  /** Turns the map: north up, or a wall of the house along the screen. */
  turn(how: Turned) {
    const house = this.belief?.outlines.find((o) => o.kind === "building")?.now[0];
    // A wall at bearing β lies level when the map is turned by 90° − β.
    let angle = how === "house" && house ? 90 - longSide(house.vertices) : 0;
    if (angle <= -90) angle += 180;
    this.map.getView().setRotation((angle * Math.PI) / 180);
    this.fitted();
  }

  zoom(by: number) {
    const v = this.map.getView();
    v.setResolution((v.getResolution() ?? 0.1) / by);
  }

  onRotate(see: (degrees: number) => void) {
    const v = this.map.getView();
    v.on("change:rotation", () => see((v.getRotation() * 180) / Math.PI));
  }

  /**
   * The map has another size: the field stays in view. Where somebody has moved on,
   * what they had in view does, if the device was turned.
   */
  fitSize() {
    const still = this.whole === this.view();
    const [width, seen] = [this.width, this.seen];
    this.map.updateSize();
    this.width = this.map.getSize()?.[0] ?? 0;
    if (still) this.fitted();
    else if (seen && this.width !== width) this.map.getView().fit(seen);
  }

  end() {
    this.map.setTarget(undefined);
  }
}
