// Who works on the jobs of this server: invites for the lead, and the devices.
import { useEffect, useState } from "preact/hooks";
import type { Device, Invitation, Invite, Role } from "./answer";
import { useStore } from "./context";
import { Choice, Words } from "./form";
import { ask, leave } from "./session";
import { when } from "./words";

export function People() {
  const store = useStore();
  const s = store.session;
  return (
    <section class="panel" aria-label="People and devices">
      <h2>This device</h2>
      <p>
        {s ? `${s.name}, ${s.role}` : `${store.by}, not joined`}. Holes named here end in -{store.tag}.
      </p>
      <p>{store.kept ? "The browser keeps the jobs of this device for good." : "The browser may clear what is kept here when space runs short: install the app, and export each job."}</p>
      {!s && <HowToJoin />}
      {s && (
        <button type="button" class="plain" onClick={async () => (await leave().catch(() => {}), store.be(null))}>
          Leave this server
        </button>
      )}
      {s?.role === "lead" && <Lead />}
    </section>
  );
}

/** How a device that knows no server gets to one. */
export const HowToJoin = () => <p>To join a crew, open the one-time link of its lead on this device, or scan the code with its camera. Until then everything stays here.</p>;

function Lead() {
  const [role, setRole] = useState<Role>("tech");
  const [name, setName] = useState("");
  const [made, show] = useState<Invitation | null>(null);
  const [invites, setInvites] = useState<Invite[]>([]);
  const [devices, setDevices] = useState<Device[]>([]);
  const [wrong, say] = useState("");
  const load = async () => {
    try {
      // The server remembers every one there ever was.
      const now = new Date().toISOString();
      setInvites(((await ask<Invite[]>("GET", "/api/invites"))).filter((i) => !i.used && !i.revoked && i.expires > now));
      setDevices(((await ask<Device[]>("GET", "/api/devices"))).filter((d) => !d.revoked));
    } catch (e) {
      say((e as Error).message);
    }
  };
  useEffect(() => void load(), []);
  const act = async (f: () => Promise<unknown>) => {
    say("");
    try {
      await f();
      await load();
    } catch (e) {
      say((e as Error).message);
    }
  };
  return (
    <>
      <h2>Invite a phone</h2>
      <Choice label="As" value={role} onChange={setRole} options={[["tech", "tech"], ["office", "office"], ["lead", "lead"]]} />
      <Words label="Name of the phone" value={name} onInput={setName} />
      <button type="button" class="go" onClick={() => act(async () => show(await ask<Invitation>("POST", "/api/invites", { role, name: name.trim() || `${role} phone` })))}>
        Make a one-time code
      </button>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      {made && (
        <figure class="qr">
          {made.qr && <img alt="Code to scan with the phone's camera" src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.qr)}`} />}
          <figcaption>
            Works once, until {when(made.expires)}. Or open: <code>{made.url}</code>
          </figcaption>
        </figure>
      )}
      {invites.length > 0 && <h3>Open invites</h3>}
      <ul class="people">
        {invites.map((i) => (
          <li key={i.id}>
            {i.name} as {i.role}, until {when(i.expires)}
            <button type="button" class="plain" aria-label={`Revoke the invite of ${i.name}`} onClick={() => act(async () => (await ask("DELETE", `/api/invites/${i.id}`), made?.id === i.id && show(null)))}>
              revoke
            </button>
          </li>
        ))}
      </ul>
      <h2>Devices</h2>
      <ul class="people">
        {devices.map((d) => (
          <li key={d.id}>
            {d.name}, {d.role}
            {d.seen ? `, last seen ${when(d.seen)}` : ""}
            <button type="button" class="plain" aria-label={`Revoke ${d.name}`} onClick={() => act(() => ask("DELETE", `/api/devices/${d.id}`))}>
              revoke
            </button>
          </li>
        ))}
      </ul>
      <p>
        <a class="button" href="/api/backup" download>
          Back up the store
        </a>
      </p>
    </>
  );
}
