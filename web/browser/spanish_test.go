package browser

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// tables returns a program that puts the tables of messages of page, tracing
// screen and pictures into window.tables: English with Spanish, pair by pair.
func tables(t *testing.T) string {
	t.Helper()
	entry := filepath.Join(t.TempDir(), "tables.ts")
	app, err := filepath.Abs("../app")
	require.NoError(t, err)
	var text strings.Builder
	for _, at := range []string{"source", "trace"} {
		text.WriteString(`import { english as ` + at + `En } from ` + quote(app+"/"+at+"/words/en") + `; import { spanish as ` + at + `Es } from ` + quote(app+"/"+at+"/words/es") + `;`)
	}
	text.WriteString(`import { english as pictureEn } from ` + quote(app+"/picture/words/picture-en") + `; import { spanish as pictureEs } from ` + quote(app+"/picture/words/picture-es") + `;`)
	text.WriteString(`window.tables = [[sourceEn, sourceEs], [traceEn, traceEs], [pictureEn, pictureEs]];`)
	require.NoError(t, os.WriteFile(entry, []byte(text.String()), 0o600))
	return esbuild(t, entry, "--format=iife", "--charset=utf8")
}

// englishOf finds the messages of the English tables in what the page shows and
// tells a screen reader: whole messages, and the pieces between the gaps of one,
// where Spanish has no such piece. What the crew wrote itself is left out.
const englishOf = `((own) => {
	const pieces = (v, out) => {
		if (typeof v === "string") out.add(v);
		else if (typeof v === "function") for (const m of v.toString().matchAll(/` + "`((?:[^`\\\\\\\\]|\\\\\\\\.)*)`" + `|"((?:[^"\\\\]|\\\\.)*)"/g)) for (const s of (m[1] ?? m[2]).split(/\$\{[^{}]*\}/)) out.add(s);
		else if (v && typeof v === "object") Object.values(v).forEach((w) => pieces(w, out));
		return out;
	};
	const trim = (s) => s.replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, "").trim();
	const [en, es] = [0, 1].map((i) => new Set([...pieces(window.tables.map((p) => p[i]), new Set())].map(trim).filter((s) => /\p{L}{3,}/u.test(s))));
	let text = document.body.innerText;
	for (const e of document.querySelectorAll("[aria-label], [title], [alt], [placeholder], option, .names text")) {
		if (!e.closest("[lang]:not(html)") && !e.closest("details:not([open])")) text += "\n" + ["aria-label", "title", "alt", "placeholder"].map((a) => e.getAttribute(a) ?? "").join("\n") + "\n" + (e.matches("option, text") ? e.textContent : "");
	}
	for (const s of own) text = text.replaceAll(s, "·");
	return [...en].filter((s) => !es.has(s) && new RegExp("(?<![\\p{L}\\p{N}])" + s.replace(/[.*+?^${}()|[\]\\]/g, "\\$&") + "(?![\\p{L}\\p{N}])", "u").test(text));
})`

// written returns what the crew of a job wrote itself: titles, names and notes.
func written(t *testing.T, folder string) []string {
	t.Helper()
	var own []string
	for _, name := range []string{"sketch.geojson", "job.json", "readings.csv"} {
		b, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		for _, s := range strings.FieldsFunc(string(b), func(r rune) bool { return strings.ContainsRune("\"\n,{}[]", r) }) {
			if s = strings.TrimSpace(s); len(s) > 5 && strings.ContainsAny(s, " ") {
				own = append(own, s)
			}
		}
	}
	return own
}

var spanish = inSight{"Anotar hoyo", []string{"Se busca", "Radio 95 %", "Profundidad", "Hoyos por hacer"}}

// list writes texts as JavaScript has them.
func list(texts []string) string {
	b, _ := json.Marshal(append([]string{}, texts...)) // texts cannot fail
	return string(b)
}

// spoken is a tab whose page is held to Spanish.
type spoken struct {
	*tab
	tables string
	own    []string
}

// heard checks a screen: nothing English, nothing wider than the window, nothing
// that axe-core finds; and keeps a picture of it.
func (b spoken) heard(name string) {
	b.t.Helper()
	if !eval[bool](b.tab, "!!window.tables") {
		eval[bool](b.tab, b.tables+";true")
	}
	assert.Empty(b.t, eval[[]string](b.tab, englishOf+"("+list(b.own)+")"), "%s: English on the page", name)
	b.look("es-" + name)
}

// TestSpanish goes through every screen of the demo job in Spanish, on a narrow
// phone whose own language it is and on a desk where it is chosen by hand.
func TestSpanish(t *testing.T) {
	long.Only(t, "some minutes in a browser")
	s := newSite(t)
	made := tables(t)
	const folder = "../../testdata/sites/demo"
	for name, z := range map[string]size{"phone": {360, 740, true}, "desk": desk} {
		t.Run(name, func(t *testing.T) {
			b := spoken{open(t, z), made, written(t, folder)}
			if name == "phone" {
				_, err := chromedp.Call(b.ctx, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: eval[string](b.tab, "navigator.userAgent"), AcceptLanguage: "es-MX,es,en"})
				require.NoError(t, err)
				b.visit(s.url + "/")
			} else {
				b.visit(s.url + "/")
				b.sees("Import a job")
				b.press("Español")
			}
			b.sees("Importar un trabajo")
			assert.Equal(t, "es", eval[string](b.tab, "document.documentElement.lang"))
			b.heard(name + "-jobs-empty")
			b.upload("Un zip o los archivos", demoFiles(t, folder)...)
			b.settled()
			b.wait(`document.querySelector(".names text")`)
			b.still()
			b.heard(name + "-plan")
			if z.touch {
				for _, w := range []struct {
					width, height int64
					text          string
				}{{360, 640, "100%"}, {640, 360, "100%"}, {360, 740, "200%"}, {360, 740, "100%"}} {
					b.do(chromedp.EmulateViewport(w.width, w.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
					eval[bool](b.tab, `(document.documentElement.style.fontSize = "`+w.text+`", new Promise((r) => setTimeout(() => r(true), 150)))`)
					at := fmt.Sprintf("%s-sight-%dx%d-%s", name, w.width, w.height, strings.TrimSuffix(w.text, "%"))
					b.shot("es-" + at)
					assert.Empty(t, b.hidden([4]float64{}, spanish), at)
				}
			}
			b.press("Leyenda")
			b.heard(name + "-legend")
			b.press("Cerrar")
			b.nextCard()
			b.heard(name + "-card")
			b.press("Cerrar")
			b.press("Anotar hoyo")
			b.sees("¿Qué encontró?")
			b.heard(name + "-log")
			for _, way := range []string{"Dos cintas", "Por un muro", "GPS"} {
				b.press(way)
				b.heard(name + "-log-" + way)
				b.press("Atrás")
				b.press("Anotar hoyo")
				b.sees("¿Qué encontró?")
			}
			b.press("○ Nada")
			b.press("en roca")
			b.heard(name + "-log-empty")
			b.press("Atrás")
			b.press("Anotar hoyo")
			b.sees("¿Qué encontró?")
			b.press("Una zanja, no sé cuál")
			b.heard(name + "-log-trench")
			b.press("Guardar sin profundidad")
			b.sees("encontró una zanja")
			b.settled()
			b.heard(name + "-logged")
			b.press("Medir")
			for _, what := range []string{"Distancia", "Punto nuevo", "Posición", "Nivel", "Azimut", "Tubo que se siguió", "Varilla", "Sonda", "Franja en la superficie", "Nota, fotos"} {
				b.press(what)
				b.heard(name + "-measure-" + what)
			}
			b.press("Distancia")
			b.press("Cinta inclinada")
			b.heard(name + "-measure-slope")
			b.press("Atrás")
			b.press("Guiarme")
			b.heard(name + "-guide")
			b.press("Atrás")
			if z.touch {
				b.press("Más")
			}
			for _, tab := range []string{"Lecturas", "Plan", "Ajuste", "Papeles", "Gente"} {
				b.press(tab)
				b.heard(name + "-" + tab)
			}
			b.press("Lecturas")
			b.press("anular")
			b.heard(name + "-withdraw")
			b.press("Dejarla")
			b.visit(s.url + "/#/jobs")
			b.heard(name + "-jobs")
			b.visit(s.url + "/#join=NOSUCH")
			b.sees("Nombre de este equipo")
			b.heard(name + "-join")

			// Back to English by hand, and at once; it stays after a reload.
			b.press("English")
			b.sees("Name of this device")
			assert.Equal(t, "en", eval[string](b.tab, "document.documentElement.lang"))
			b.visit(s.url + "/#/jobs")
			b.do(reload)
			b.sees("Import a job")
			assert.Empty(t, b.log, "exceptions")
		})
	}
}

// nextCard opens the card of the next hole.
func (b spoken) nextCard() {
	b.t.Helper()
	b.wait(`!document.querySelector("dialog")`)
	b.still()
	at := eval[[]float64](b.tab, `(() => {
		const r = [...document.querySelectorAll(".names text")].find((e) => e.textContent.endsWith("excave aquí")).getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})()`)
	if b.size.touch {
		b.do(chromedp.TapXY(at[0], at[1]))
	} else {
		b.do(chromedp.MouseClickXY(at[0], at[1]))
	}
	b.sees("Siguiente hoyo")
}

// demoFiles returns the files of a job's folder that a crew has.
func demoFiles(t *testing.T, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(folder + "/*")
	require.NoError(t, err)
	var out []string
	for _, f := range files {
		if filepath.Base(f) != "truth.json" {
			out = append(out, f)
		}
	}
	return out
}

// TestSpanishOffline expects a device that speaks Spanish to do so without a
// network, after a reload, with the tracing screen that it has never opened; and
// what it logged to read in English on a device that speaks that.
func TestSpanishOffline(t *testing.T) {
	long.Only(t, "a minute in a browser")
	s := newSite(t)
	b := spoken{open(t, size{360, 740, true}), tables(t), nil}
	b.visit(s.url + "/")
	b.press("Español")
	b.sees("Importar un trabajo")
	b.whole()
	s.stop()
	b.do(reload)
	b.sees("Importar un trabajo")
	b.press("Calcar el croquis")
	b.press("Dibujar sin imagen")
	for _, step := range []string{"Hoja", "Dibujo", "Medidas", "Piezas", "Escala", "Guardar"} {
		b.press(step)
		b.heard("phone-trace-" + step)
	}
	b.press("Dibujo")
	b.press("Punto fijo")
	b.heard("phone-trace-tool")
	b.press("Salir")
	b.sees("Este trabajo todavía no tiene croquis.")
	b.visit(s.url + "/#/jobs")
	b.upload("Un zip o los archivos", demoFiles(t, "../../testdata/sites/demo")...)
	b.settled()
	b.press("Anotar hoyo")
	b.sees("¿Qué encontró?")
	b.press("○ Nada")
	b.press("Guardar sin profundidad")
	b.settled()
	// What the app itself writes into the log is a code, not Spanish.
	assert.NotContains(t, b.rows(), "como se trazó")
	assert.Contains(t, b.rows(), "as set out")
	b.press("Más")
	b.sees("como se trazó")
	b.press("English")
	b.sees("as set out")
	assert.Empty(t, b.log, "exceptions")
}
