package plot

import (
	"strings"

	"asfound/asbuilt"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// Colours follow the uniform colour code that utilities are marked with on the
// ground (APWA; the same in ANSI Z535.1): darkened so that lines and words
// stand out on white paper by 4.5:1 and more (WCAG 2.2, 1.4.3). Nothing is
// shown by colour alone: each has a pattern and words beside it.
var (
	green  = chart.RGB(0x00662b) // sewer and drain lines
	blue   = chart.RGB(0x0a4f9e) // potable water
	red    = chart.RGB(0xb00020) // electric power
	yellow = chart.RGB(0xffd400) // gas, oil, steam: on paper over a black line, for it does not show on white
	orange = chart.RGB(0xb34700) // communication
	purple = chart.RGB(0x6a1b9a) // reclaimed water, irrigation
	pink   = chart.RGB(0xb8006e) // temporary survey marks
	old    = chart.RGB(0x6e6e6e) // the old sketch
	ink    = chart.RGB(0x222222)
	wall   = chart.RGB(0x4a4a4a)
)

// service is how a buried service of a sort is drawn.
type service struct {
	sort  finding.Code
	color chart.Color
	turn  float64 // direction of the hatching, degrees clockwise from up
	gap   float64 // of the hatching, millimetres
	dash  []float64
}

var sewer = service{finding.PaperSewer, green, 90, 2.2, []float64{3, 0.8, 0.6, 0.8, 0.6, 0.8}}

// services are those of the colour code, with the words of crews in both languages
// that identify them, without accents. The first that is found counts: water for
// irrigation and foul water come before water.
var services = []struct {
	words []string
	service
}{
	{[]string{"gas", "propan", "oil", "steam", "fuel", "petroleo", "aceite", "combustible", "vapor"}, service{finding.PaperGas, yellow, 45, 2.2, []float64{4, 1, 0.6, 1}}},
	{[]string{"electric", "power", "light", "cable power", "luz", "corriente"}, service{finding.PaperElectric, red, -45, 2.2, []float64{2.4, 0.8}}},
	{[]string{"phone", "fiber", "fibre", "communication", "telecom", "data", "tv", "telefon", "fibra", "comunicacion", "internet"}, service{finding.PaperCommunication, orange, 20, 2.2, []float64{0.6, 0.8}}},
	{[]string{"irriga", "reclaimed", "sprinkler", "riego", "reciclada", "aspersor"}, service{finding.PaperIrrigation, purple, 70, 2.2, []float64{1.2, 0.6}}},
	{[]string{"negras", "residual", "pluvial", "lluvia"}, sewer},
	{[]string{"water", "agua"}, service{finding.PaperWaterMain, blue, -20, 2.2, []float64{6, 1.2}}},
	{[]string{"sewer", "drain", "storm", "drenaje", "alcantarilla", "desague", "cloaca"}, sewer},
}

// accents writes Spanish letters in lower case without their marks, whole ones and
// those that a keyboard sends as a letter and a mark.
var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n", "\u0301", "", "\u0303", "", "\u0308", "")

// serviceOf returns how a utility or a no-dig is drawn, by the words of its name.
func serviceOf(o *locate.Outline) service {
	if o.Kind == asbuilt.NoDig {
		return service{finding.PaperNoDigging, ink, 0, 1.8, nil}
	}
	name := accents.Replace(strings.ToLower(o.Name + " " + o.Part))
	for _, s := range services {
		for _, w := range s.words {
			if strings.Contains(name, w) {
				return s.service
			}
		}
	}
	return service{finding.PaperUnsorted, ink, 60, 2.2, []float64{2, 1}}
}

// stateDash is the line of each state, for those who cannot tell colours apart.
func stateDash(s locate.State) []float64 {
	switch s {
	case locate.Seen:
		return nil
	case locate.Inferred:
		return []float64{2.4, 0.9}
	}
	return []float64{0.7, 0.8}
}

// stateLetter is the letter of each state, behind a part's name.
func stateLetter(s locate.State) string {
	switch s {
	case locate.Seen:
		return "S"
	case locate.Inferred:
		return "I"
	}
	return "R"
}

var stateWords = map[locate.State]finding.Finding{
	locate.Seen:     finding.PaperSeen.New(),
	locate.Inferred: finding.PaperInferred.New(),
	locate.Recorded: finding.PaperRecorded.New(),
}

// shift is the least displacement, in millimetres of paper, for which both
// places are drawn.
const shift = 0.5

// vec is short for a place on the page.
func vec(x, y float64) chart.Point { return chart.Point{X: x, Y: y} }
