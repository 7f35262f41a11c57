// Who works on the jobs of this server: invites for the lead, and the devices.
import { useEffect, useState } from "preact/hooks";
import type { Act, Device, Invitation, Invite, Role } from "./answer";
import { useStore } from "./context";
import { Choice, Words } from "./form";
import { words } from "./language";
import { who } from "./notes";
import { ask, leave } from "./session";
import { when } from "./words";

export function People({ job = "" }: { job?: string }) {
  const store = useStore();
  const s = store.session;
  return (
    <section class="panel" aria-label={words.people.label}>
      <h2>{words.people.thisDevice}</h2>
      <p>{s ? words.people.session(s.name, words.people.roles[s.role], store.tag) : words.people.notJoined(who(store.by), store.tag)}</p>
      <p>{store.kept ? words.people.kept : words.people.mayClear}</p>
      {!s && <HowToJoin />}
      {s && (
        <button type="button" class="plain" onClick={async () => (await leave().catch(() => {}), store.be(null))}>
          {words.people.leave}
        </button>
      )}
      {job && (!s || s.role === "lead") && <JobAside job={job} />}
      {s?.role === "lead" && <Lead />}
    </section>
  );
}

/** Sets a job aside, or takes it up again. */
function JobAside({ job }: { job: string }) {
  const store = useStore();
  const aside = store.asideOf(job).has("");
  return (
    <p>
      {aside && `${words.people.jobAside} `}
      <button type="button" class="plain" onClick={() => store.setAside([job], "", !aside)}>
        {aside ? words.people.takeUpJob : words.people.setJobAside}
      </button>
    </p>
  );
}

/** Sets aside all that a device sent, in all jobs, or takes it up again. */
function DeviceAside({ device }: { device: Device }) {
  const store = useStore();
  const jobs = store.jobsOf(device.id);
  if (!jobs.length) return null;
  const aside = jobs.every((j) => store.asideOf(j).has(device.id));
  return (
    <button type="button" class="plain" aria-label={(aside ? words.people.takeUpThis : words.people.setAsideThis)(device.name)} onClick={() => store.setAside(jobs, device.id, !aside)}>
      {aside ? words.people.takeUp : words.people.setAside}
    </button>
  );
}

/** How a device that knows no server gets to one. */
export const HowToJoin = () => <p>{words.people.howToJoin}</p>;

const roles: Role[] = ["tech", "office", "lead"];

function Lead() {
  const [role, setRole] = useState<Role>("tech");
  const [name, setName] = useState("");
  const [made, show] = useState<Invitation | null>(null);
  const [invites, setInvites] = useState<Invite[]>([]);
  const store = useStore();
  const [devices, setDevices] = useState<Device[]>([]);
  const [acts, setActs] = useState<Act[]>([]);
  const [wrong, say] = useState("");
  const load = async () => {
    try {
      // The server remembers every one there ever was.
      const now = new Date().toISOString();
      setInvites(((await ask<Invite[]>("GET", "/api/invites"))).filter((i) => !i.used && !i.revoked && i.expires > now));
      setDevices(await ask<Device[]>("GET", "/api/devices"));
      setActs(await ask<Act[]>("GET", "/api/acts"));
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
      <h2>{words.people.invite}</h2>
      <Choice label={words.people.as} value={role} onChange={setRole} options={roles.map((r) => [r, words.people.roles[r]])} />
      <Words label={words.people.phoneName} value={name} onInput={setName} />
      <button type="button" class="go" onClick={() => act(async () => show(await ask<Invitation>("POST", "/api/invites", { role, name: name.trim() || words.people.aPhone(words.people.roles[role]) })))}>
        {words.people.makeCode}
      </button>
      {wrong && <p class="warning" role="alert">▲ {wrong}</p>}
      {made && (
        <figure class="qr">
          {made.qr && <img alt={words.people.scan} src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.qr)}`} />}
          <figcaption>
            {words.people.works(when(made.expires), "")}<code>{made.url}</code>
          </figcaption>
        </figure>
      )}
      {invites.length > 0 && <h3>{words.people.open}</h3>}
      <ul class="people">
        {invites.map((i) => (
          <li key={i.id}>
            {words.people.invited(i.name, words.people.roles[i.role], when(i.expires))}
            <button type="button" class="plain" aria-label={words.people.revokeInvite(i.name)} onClick={() => act(async () => (await ask("DELETE", `/api/invites/${i.id}`), made?.id === i.id && show(null)))}>
              {words.people.revoke}
            </button>
          </li>
        ))}
      </ul>
      <h2>{words.people.devices}</h2>
      <ul class="people">
        {devices.filter((d) => !d.revoked || store.jobsOf(d.id).length > 0).map((d) => (
          <li key={d.id}>
            {words.people.device(d.name, words.people.roles[d.role], when(d.seen))}
            {d.revoked ? ` ${words.people.revoked}` : (
              <button type="button" class="plain" aria-label={words.people.revokeDevice(d.name)} onClick={() => act(() => ask("DELETE", `/api/devices/${d.id}`))}>
                {words.people.revoke}
              </button>
            )}
            <DeviceAside device={d} />
          </li>
        ))}
      </ul>
      <div class="acts">
        <details>
          <summary>{words.people.acts}</summary>
          <ul class="people">
            {acts.map((a) => (
              <li key={a.seq}>{words.people.act(when(a.at), a.name || words.people.stranger, words.people.deeds[a.act], words.people.roles[a.about] ?? a.about, a.address)}</li>
            ))}
          </ul>
          <p>
            <a class="button" href="/api/acts.csv" download>
              {words.people.actsTable}
            </a>
          </p>
        </details>
      </div>
      <p>
        <a class="button" href="/api/backup" download>
          {words.people.backup}
        </a>
      </p>
    </>
  );
}
