package fieldbook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"

	"asfound/asbuilt"
	"asfound/survey"
)

// Limits of the factors of drafting.json: beyond them it was not learned from sheets.
const (
	leastFactor = 0.2
	mostFactor  = 10
	mostGroups  = 10000
)

// draftingFile is drafting.json.
type draftingFile struct {
	Groups []draftingGroup `json:"groups"`
}

// draftingGroup is one group of drafting.json; a member that is absent is nil.
type draftingGroup struct {
	Trust  string   `json:"trust"`
	By     string   `json:"by,omitempty"`
	Decade string   `json:"decade,omitempty"`
	Jobs   *int     `json:"jobs"`
	Scale  *float64 `json:"scale"`
	Field  *float64 `json:"field"`
	Detail *float64 `json:"detail"`
	Gain   *float64 `json:"gain"`
}

// DecodeDrafting reads drafting.json, which EncodeDrafting wrote.
func DecodeDrafting(r io.Reader, file string) (*survey.Drafting, asbuilt.Problems) {
	var problems asbuilt.Problems
	text, ok := readText(r, file, &problems)
	if !ok {
		return nil, problems
	}
	return decodeDrafting(text, file, "", problems)
}

// decodeDrafting reads drafting.json, or that member of job.json.
func decodeDrafting(text []byte, file, member string, problems asbuilt.Problems) (*survey.Drafting, asbuilt.Problems) {
	var wire draftingFile
	if err := json.Unmarshal(text, &wire); err != nil || wire.Groups == nil {
		problems.Addf(file, "", member, shorten(text), `an object {"groups": [...]}, as asfound learn writes it`)
		return nil, problems
	}
	d := &survey.Drafting{}
	for i, g := range wire.Groups[:min(len(wire.Groups), mostGroups)] {
		at := fmt.Sprintf("groups[%d].", i)
		if member != "" {
			at = member + "." + at
		}
		out := survey.DraftingGroup{Trust: asbuilt.Trust(g.Trust)}
		out.By, out.Decade = g.By, g.Decade
		switch out.Trust {
		case asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale:
		default:
			problems.Addf(file, "", at+"trust", strconv.Quote(g.Trust), "%s, %s or %s", asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale)
		}
		if g.Decade != "" && !decade.MatchString(g.Decade) {
			problems.Addf(file, "", at+"decade", strconv.Quote(g.Decade), `a decade such as "1990s"`)
		}
		if g.Jobs == nil || *g.Jobs < 1 {
			problems.Addf(file, "", at+"jobs", found(g.Jobs), "how many finished jobs it was learned from, 1 or more")
		} else {
			out.Jobs = *g.Jobs
		}
		for _, f := range []struct {
			name string
			from *float64
			to   *float64
		}{{"scale", g.Scale, &out.Scale}, {"field", g.Field, &out.Field}, {"detail", g.Detail, &out.Detail}} {
			if f.from == nil || *f.from < leastFactor || *f.from > mostFactor {
				problems.Addf(file, "", at+f.name, found(f.from), "how many times as far off as usual, %g to %g", leastFactor, float64(mostFactor))
				continue
			}
			*f.to = *f.from
		}
		if g.Gain == nil {
			problems.Addf(file, "", at+"gain", "nothing", "a number; above 0 where the group is to be used")
		} else {
			out.Gain = *g.Gain
		}
		d.Groups = append(d.Groups, out)
	}
	if len(wire.Groups) > mostGroups {
		problems.Addf(file, "", member, fmt.Sprintf("%d groups", len(wire.Groups)), "at most %d", mostGroups)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return d, nil
}

var decade = regexp.MustCompile(`^(18|19|20)\d0s$`)

// found writes a number that may be missing, for a message.
func found[T int | float64](v *T) string {
	if v == nil {
		return "nothing"
	}
	return fmt.Sprint(*v)
}

// EncodeDrafting writes drafting.json, to the thousandth: nothing finer was learned.
func EncodeDrafting(w io.Writer, d *survey.Drafting) error {
	wire := draftingFile{Groups: []draftingGroup{}}
	for _, g := range d.Groups {
		for _, v := range []*float64{&g.Scale, &g.Field, &g.Detail, &g.Gain} {
			*v = math.Round(*v*1000) / 1000
		}
		wire.Groups = append(wire.Groups, draftingGroup{string(g.Trust), g.By, g.Decade, &g.Jobs, &g.Scale, &g.Field, &g.Detail, &g.Gain})
	}
	out, err := json.MarshalIndent(wire, "", " ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(out, '\n'))
	return err
}

// drafting reads the member drafting of job.json: the name of a file of the job, or
// the content of one.
func (d *settings) drafting(raw json.RawMessage, s *survey.Settings) {
	if raw == nil || string(raw) == "null" {
		return
	}
	if json.Unmarshal(raw, &s.DraftingFile) == nil {
		if !fileName.MatchString(s.DraftingFile) {
			d.addf("drafting", raw, `the name of a file in the job's folder, such as "drafting.json"`)
			s.DraftingFile = ""
		}
		return
	}
	var problems asbuilt.Problems
	s.Drafting, problems = decodeDrafting(raw, d.file, "drafting", nil)
	*d.problems = append(*d.problems, problems...)
}

// fileName is the name of a file in the job's own folder.
var fileName = regexp.MustCompile(`^[^/\\:.][^/\\:]*$`)

// InlineDrafting returns job.json with the content of a file in place of its name: so
// it travels to phones in one piece.
func InlineDrafting(settings, drafting []byte) ([]byte, error) {
	var members map[string]json.RawMessage
	if err := json.Unmarshal(settings, &members); err != nil {
		return nil, err
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, drafting); err != nil {
		return nil, err
	}
	members["drafting"] = compact.Bytes()
	return json.Marshal(members)
}
