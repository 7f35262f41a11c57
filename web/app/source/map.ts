// The map of a site: a plane in metres, no globe under it.
import { OlMap, Projection, ScaleLine, VectorLayer, VectorSource, View, boundingExtent, defaultControls, defaultInteractions, type Feature, type Geometry } from "../vendor/ol.js";
import type { Belief, DigPlan } from "./answer";
import * as draw from "./draw";
import { longSide } from "./shapes";
import type { Unit } from "./units";

// 10 km each way: no lot is larger.
const site = new Projection({ code: "site", units: "m", extent: [-1e4, -1e4, 1e4, 1e4], getPointResolution: (r) => r });

export type Turned = "north" | "house";

export class SiteMap {
  private map: OlMap;
  private sources: VectorSource<Feature<Geometry>>[] = [];
  private belief: Belief | null = null;
  private scale: ScaleLine;
  private shownExtent = false;
  private whole = ""; // the view after all

  constructor(target: HTMLElement, pick: (what: string) => void) {
    this.scale = new ScaleLine({ units: "metric", bar: false, minWidth: 70 });
    // Drawn in this order: as drawn, ground, believed, holes, self.
    const layers = Array.from({ length: 5 }, () => {
      const source = new VectorSource<Feature<Geometry>>();
      this.sources.push(source);
      return new VectorLayer({ source, updateWhileInteracting: true, declutter: true });
    });
    this.map = new OlMap({
      target,
      layers,
      controls: defaultControls({ zoom: false, rotate: false, attribution: false }).extend([this.scale]),
      interactions: defaultInteractions({ altShiftDragRotate: true, pinchRotate: true }),
      view: new View({ projection: site, center: [0, 0], resolution: 0.1, minResolution: 0.004, maxResolution: 3, enableRotation: true, constrainRotation: false, showFullExtent: true }),
    });
    this.map.on("singleclick", (e) => {
      const found: string[] = [];
      this.map.forEachFeatureAtPixel(e.pixel, (f) => void (f.get("pick") && found.push(f.get("pick"))), { hitTolerance: 14 });
      if (found.length) pick(found[0]);
    });
  }

  /** Shows what is believed; the first time it also moves there. */
  show(b: Belief, plan: DigPlan | null, unit: Unit) {
    this.belief = b;
    this.scale.setUnits(unit === "m" ? "metric" : "us");
    const lists = [draw.asDrawn(b), draw.ground(b), draw.believed(b), draw.holes(b, plan, unit)];
    lists.forEach((features, i) => {
      this.sources[i].clear(true);
      this.sources[i].addFeatures(features);
    });
    if (!this.shownExtent) {
      this.shownExtent = true;
      this.all();
    }
  }

  /** Shows where this device is; null hides it. */
  self(at: [number, number] | null, accuracy = 0) {
    this.sources[4].clear(true);
    if (at) this.sources[4].addFeatures(draw.self(at, accuracy));
  }

  /** Moves so that the whole site is in view. */
  all() {
    const b = this.belief;
    if (!b) return;
    const points = [
      ...b.spots.flatMap((s) => s.lobes?.flatMap((l) => l.outline) ?? [[s.east, s.north]]),
      ...b.holes.map((h) => [h.east, h.north]),
      ...b.outlines.filter((o) => o.kind === "building").flatMap((o) => o.now.flatMap((s) => s.vertices)),
    ];
    if (!points.length) return;
    this.map.updateSize();
    // Room for labels, and on the right for the keys; less of it on a low map.
    const low = Math.min(1, (this.map.getSize()?.[1] ?? 400) / 400);
    this.map.getView().fit(boundingExtent(points as [number, number][]), { padding: [44 * low, 84, 60 * low, 44], maxZoom: undefined, minResolution: 0.02 });
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
    this.all();
  }

  zoom(by: number) {
    const v = this.map.getView();
    v.setResolution((v.getResolution() ?? 0.1) / by);
  }

  onRotate(see: (degrees: number) => void) {
    const v = this.map.getView();
    v.on("change:rotation", () => see((v.getRotation() * 180) / Math.PI));
  }

  /** The map has another size: the whole site stays in view, unless somebody has moved on. */
  fitSize() {
    const still = this.whole === this.view();
    this.map.updateSize();
    if (still) this.all();
  }

  end() {
    this.map.setTarget(undefined);
  }
}
