// Adds a picture, or lays one again: chosen, opened, laid by taps or by coordinates.
import { useEffect, useState } from "preact/hooks";
import { instead } from "../source/acts";
import type { Believed } from "../source/believe";
import { useStore } from "../source/context";
import { sha256 } from "../source/database";
import { notes } from "../source/notes";
import { go, to } from "../source/route";
import { wholeJob } from "../source/words";
import { Coordinates } from "./coordinates";
import { bytes, column, pictures, places, type Laid, type Picture } from "./kept";
import { asFile, fileName, open, small, type Opened, type Small } from "./open";
import { worldFile, type Lie } from "./lay";
import { Reading } from "./reading";
import { Taps } from "./taps";
import { says } from "./language";

/** What is being laid. */
export interface Laying {
  picture: Opened;
  /** As it will be kept, whole; undefined until landmarks are tapped in it. */
  whole?: Small;
  /** The reading that is to be replaced, and its picture, which is kept already. */
  old?: Picture;
}

/** How a picture lies, without the file. */
export type How = Omit<Laid, "file" | "name" | "size">;

/** Keeps a picture, as small says, and how it lies. */
export type Save = (how: How, note: string, kept: Small) => Promise<void>;

const picturesOf = (files: File[]) => files.filter((f) => !isWorld(f.name));
const isWorld = (name: string) => /\.(wld|[jpt][gf]w|jpe?gw|pngw|tiff?w|wpw|webpw)x?$/i.test(name);

/** The same with the whole picture, where it is wanted. */
async function withWhole(l: Laying, wanted = true): Promise<Laying> {
  return wanted && !l.whole ? { ...l, whole: await small(l.picture) } : l;
}

/** Reads what was chosen: one picture, and perhaps its world file. */
async function read(files: File[]): Promise<Laying> {
  const [picture, more] = picturesOf(files);
  const world = files.find((f) => isWorld(f.name));
  if (!picture || more) throw new Error(says.onePicture);
  let lie: Lie | undefined;
  if (world) {
    const stem = (name: string) => name.replace(/\.\w+$/, "").toLowerCase();
    if (stem(world.name) !== stem(picture.name) && stem(world.name) !== picture.name.toLowerCase()) throw new Error(says.otherName(world.name, picture.name));
    try {
      lie = worldFile(await world.text());
    } catch (e) {
      throw new Error(says.noWorldFile(world.name, (e as Error).message));
    }
  }
  const opened = await open(picture, picture.name.replace(/[;\s]+/g, " "));
  if (world && lie) opened.world = { name: world.name, lie, crs: "" };
  return withWhole({ picture: opened }, !opened.world);
}

export function Lay({ state, about }: { state: Believed; about: string }) {
  const store = useStore();
  const { job, belief } = state;
  const [laying, lay] = useState<Laying | null>(null);
  const [busy, work] = useState(false);
  const [wrong, say] = useState("");
  const reads = about.startsWith("read ");
  const again = pictures(job).find((p) => p.row.id === about.replace("read ", ""));

  const take = async (f: () => Promise<Laying>) => {
    lay(null);
    work(true);
    say("");
    try {
      lay(await f());
    } catch (e) {
      say((e as Error).message);
    }
    work(false);
  };
  // The one that is laid again is here already.
  useEffect(() => {
    if (again)
      void take(async () => {
        const blob = await bytes(store, job, again.file);
        if (!blob) throw new Error(says.notHere);
        const opened = await open(blob, again.name);
        return withWhole({ picture: opened, old: again });
      });
  }, [about]);
  const save: Save = async (how, note, kept) => {
    const { picture, old } = laying!;
    let [file, size] = [old?.file ?? "", old?.size ?? ([0, 0] as const)];
    if (!old) {
      const { canvas } = kept;
      const blob = await asFile(canvas);
      file = await sha256(blob);
      size = [canvas.width, canvas.height];
      try {
        await store.keep(job.id, blob, fileName(picture.name, file), "picture");
      } catch (e) {
        throw new Error(says.noMemory((e as Error).message));
      }
    }
    const laid: Laid = { file, name: picture.name, size, ...how };
    const row = { kind: "condition", target: wholeJob, note, [column]: JSON.stringify(laid) };
    await store.logged(job.id, [old ? instead(old.row, row) : row], says.done(picture.name), old ? [old.row.id] : [], old ? notes.laidAgain : "");
    go("plan", job.id);
  };

  return (
    <div class="trace picturelay">
      <header class="trace-head">
        <button type="button" onClick={() => location.replace(to("more", job.id, "documents"))}>{says.leave}</button>
        <h1>{reads ? says.read : again ? says.again : says.title}</h1>
      </header>
      {!belief ? (
        <div class="trace-panel trace-choose"><p>{says.needsSketch}</p></div>
      ) : places(belief).size < 2 ? (
        <div class="trace-panel trace-choose"><p>{says.needsLandmarks}</p></div>
      ) : !laying ? (
        <div class="trace-panel trace-choose">
          {busy ? (
            <p role="status">{says.opening}</p>
          ) : (
            <>
              <label class="trace-file">
                {says.choose}
                <input type="file" multiple onChange={(e) => take(() => read([...(e.currentTarget.files ?? [])]))} />
              </label>
              <p class="trace-hint">{says.chooseHint}</p>
            </>
          )}
          {wrong && <p class="trace-bad" role="alert">▲ {wrong}</p>}
        </div>
      ) : laying.whole && reads && again?.taps ? (
        <Reading picture={again} whole={laying.whole} state={{ ...state, belief }} />
      ) : laying.whole ? (
        <Taps laying={laying} whole={laying.whole} state={{ ...state, belief }} save={save} />
      ) : (
        <Coordinates picture={laying.picture} state={{ ...state, belief }} save={save} tap={() => take(() => withWhole(laying))} />
      )}
    </div>
  );
}
