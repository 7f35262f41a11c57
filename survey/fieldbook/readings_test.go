package fieldbook_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/observe"
)

const whole = `kind,id,point,from,to,value,offset,rise,north,lon,lat,accuracy,target,spot,depth,feature,radius,sigma,unit,time,by,note
gnss,g1,A,,,,,,,-123.4000157,-48.9000098,4,,,,,,,,2026-05-04T09:30:00Z,lead,
tape,t1,,A,H1,"53'2""",,,,,,,,,,,,,,,,
tape,t2,,B,H1,15.42,,1.2,,,,,,,,,,0.05,m,,,"over the wall, held level"
baseline,b1,H2,A,B,12 ft,-3.5,,,,,,,,,,,,,,,
bearing,d1,,A,H1,212.5,,,magnetic,,,,,,,,,3,,,,
cable,c1,,T,H1,40,,,,,,,,,,,,,,,,
found,f1,H1,,,,,,,,,,lateral,,"2'6""",crown,6 in,,,,,
empty,e1,H2,,,,,,,,,,,,5 ft,,,,,,,
followed,w1,,H1,H2,,,,,,,,header,,,,,,,,,"lost it past H2"
level,l1,H1,,,99.2 ft,,,,,,,,,,,,,,,,
condition,k1,,,,,,,,,,,L2,,,,,,,,,"roots, wet"
void,v1,,,,,,,,,,,t2,,,,,,,,,
`

func decode(text string) ([]survey.Reading, asbuilt.Problems) {
	return fieldbook.DecodeReadings(strings.NewReader(text), "readings.csv", geo.Foot)
}

func TestEveryKind(t *testing.T) {
	r, problems := decode(whole)
	require.Empty(t, problems)
	require.Len(t, r, 12)
	assert.Equal(t, survey.GNSS, r[0].Kind)
	assert.InDelta(t, -123.4000157, r[0].Position.Lon.Degrees(), 1e-12)
	assert.Equal(t, 4.0, r[0].Accuracy)
	assert.InDelta(t, 53*0.3048+2*0.0254, r[1].Value.Metres, 1e-12)
	assert.Equal(t, `53'2"`, r[1].Value.Written)
	assert.Equal(t, 15.42, r[2].Value.Metres, "in the unit of its row")
	assert.Equal(t, 1.2, r[2].Rise.Metres)
	assert.InDelta(t, -3.5*0.3048, r[3].Offset.Metres, 1e-12)
	assert.InDelta(t, 212.5, r[4].Azimuth.Degrees(), 1e-9)
	assert.Equal(t, survey.MagneticNorth, r[4].North)
	assert.InDelta(t, 3, r[4].SigmaA.Degrees(), 1e-9, "degrees for a bearing")
	assert.Equal(t, survey.Crown, r[6].Feature)
	assert.InDelta(t, 0.1524, r[6].Radius.Metres, 1e-12)
	assert.Equal(t, []string{"H1", "H2", "header"}, []string{r[8].From, r[8].To, r[8].Target})
	assert.Equal(t, "t2", r[11].Target)
}

func TestDefaultID(t *testing.T) {
	r, problems := decode("kind,from,to,value\ntape,A,B,10\n\ntape,B,C,11\n")
	require.Empty(t, problems)
	assert.Equal(t, "r2", r[0].ID)
	assert.Equal(t, 2, r[0].Row)
	assert.Equal(t, "r4", r[1].ID, "a blank row counts, as in a spreadsheet")
}

// What is wrong is said with row, column, what was found and what would be
// right, all in one pass.
func TestProblems(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", `readings.csv: found an empty file; want a header row such as kind,point,from,to,value`},
		{"no kind", "a,b\n1,2\n", `readings.csv, row 1: found no column kind in "a,b"; want a header row such as kind,point,from,to,value,target,depth`},
		{"misspelt column", "kind,ponit\n", `readings.csv, row 1, column 2: found "ponit"; want point, if that was meant`},
		{"twice", "kind,from,From\n", `readings.csv, row 1, columns 2 and 3: found "From"; want each column once`},
		{"unknown kind", "kind,from,to,value\ntaep,A,B,10\n", `readings.csv, row 2, kind: found "taep"; want one of ` + kinds() + ` (did you mean tape?)`},
		{"nothing", "kind,from,to,value\ntape,A,,10\n", `readings.csv, row 2, to: found nothing; want a value: tape needs from, to, value`},
		{"another's", "kind,from,to,value,offset\ntape,A,B,10,3\n", `readings.csv, row 2, offset: found "3"; want nothing here: tape uses from, to, value, rise`},
		{"same", "kind,from,to,value\ntape,A,A,10\n", `readings.csv, row 2, to: found "A"; want another point than from`},
		{"length", "kind,from,to,value\ntape,A,B,ten\n", `readings.csv, row 2, value: found "ten"`},
		{"inches", "kind,from,to,value\ntape,A,B,\"43'14\"\"\"\n", `readings.csv, row 2, value: found "43'14\""`},
		{"negative", "kind,from,to,value\ntape,A,B,-4\n", `readings.csv, row 2, value: found "-4"`},
		{"zero", "kind,from,to,value\ntape,A,B,0\n", `want a distance above zero`},
		{"NaN", "kind,from,to,value\ntape,A,B,NaN\n", `readings.csv, row 2, value: found "NaN"`},
		{"infinite", "kind,point,lon,lat\ngnss,A,Inf,37\n", `readings.csv, row 2, lon: found "Inf"; want decimal degrees`},
		{"swapped", "kind,point,lon,lat\ngnss,A,37.2,-99.9\n", `they look swapped`},
		{"unit", "kind,from,to,value,unit\ntape,A,B,4,fathom\n", `readings.csv, row 2, unit: found "fathom"; want ft, m`},
		{"px", "kind,from,to,value,unit\ntape,A,B,4,px\n", `readings.csv, row 2, unit: found "px"`},
		{"bearing", "kind,from,to,value,north\nbearing,A,B,370,true\n", `want degrees clockwise from north, 0 to 360`},
		{"north", "kind,from,to,value,north\nbearing,A,B,37,grid\n", `readings.csv, row 2, north: found "grid"; want one of true, magnetic`},
		{"spot", "kind,point,target,spot\nfound,H1,L1,ende\n", `readings.csv, row 2, spot: found "ende"; want one of on, start, end`},
		{"direction", "kind,point,target,runs,facing\nfound,H1,L1,13:00,A\n", `readings.csv, row 2, runs: found "13:00"; want degrees clockwise, 0 to 360, or a time on a clock face such as 2:30`},
		{"direction too large", "kind,point,target,runs,facing\nfound,H1,L1,400,A\n", `readings.csv, row 2, runs: found "400"`},
		{"direction of what", "kind,point,target,runs\nfound,H1,L1,3:00\n", `readings.csv, row 2, facing: found nothing; want the landmark`},
		{"flow of what", "kind,point,target,flow\nfound,H1,L1,along\n", `readings.csv, row 2, flow: found "along"; want the direction in the column runs beside it`},
		{"flow", "kind,point,target,runs,facing,flow\nfound,H1,L1,3:00,A,down\n", `readings.csv, row 2, flow: found "down"; want one of along, against`},
		{"followed to where it began", "kind,from,to,target\nfollowed,H1,H1,L1\n", `readings.csv, row 2, to: found "H1"; want another point than from`},
		{"followed what", "kind,from,to\nfollowed,H1,H2\n", `readings.csv, row 2, target: found nothing; want a value: followed needs from, to, target`},
		{"stabs that are none", "kind,from,to,value,depth,target\nrod,P,Q,0,1.2,none\n", `readings.csv, row 2, value: found "0"; want how many stabs there are along the line, its ends included: 2 to 100`},
		{"one stab on a line", "kind,from,to,value,depth,target\nrod,P,Q,1,1.2,none\n", `readings.csv, row 2, value: found "1"`},
		{"half a stab", "kind,from,to,value,depth,target\nrod,P,Q,2.5,1.2,none\n", `readings.csv, row 2, value: found "2.5"`},
		{"stabs past counting", "kind,from,to,value,depth,target\nrod,P,Q,200,1.2,none\n", `readings.csv, row 2, value: found "200"`},
		{"stabs that nobody counted", "kind,from,to,depth,target\nrod,P,Q,1.2,none\n", `readings.csv, row 2, value: found nothing; want how many stabs`},
		{"stabs to where they began", "kind,from,to,value,depth,target\nrod,P,P,4,1.2,none\n", `readings.csv, row 2, to: found "P"; want another point than from`},
		{"stabs from one end", "kind,from,value,depth,target\nrod,P,4,1.2,none\n", `readings.csv, row 2, to: found nothing; want both ends of a line of stabs`},
		{"a stab nowhere", "kind,depth,target\nrod,1.2,none\n", `readings.csv, row 2, point: found nothing; want the point of a single stab, or from, to and value of a line of stabs`},
		{"a stab and a line", "kind,point,from,to,value,depth,target\nrod,P,Q,R,4,1.2,none\n", `readings.csv, row 2, from: found "Q"; want nothing here: a rod has one stab at point`},
		{"stabs without a depth", "kind,point,target\nrod,P,none\n", `readings.csv, row 2, depth: found nothing; want a value: rod needs depth, target`},
		{"stabs without a result", "kind,point,depth\nrod,P,1.2\n", `readings.csv, row 2, target: found nothing`},
		{"direction of nothing", "kind,point,runs,facing\nempty,H1,3:00,A\n", `readings.csv, row 2, runs: found "3:00"; want nothing here`},
		{"stopped by what", "kind,point,depth,stopped\nempty,H1,1,stone\n", `readings.csv, row 2, stopped: found "stone"; want one of rock, root, water, utility, gave-up`},
		{"stopped on what was found", "kind,point,target,stopped\nfound,H1,L1,rock\n", `readings.csv, row 2, stopped: found "rock"; want nothing here`},
		{"time", "kind,point,depth,time\nempty,H1,4,yesterday\n", `want an RFC 3339 time`},
		{"rise", "kind,from,to,value,rise\ntape,A,B,4,5\n", `readings.csv, row 2, rise: found "5"; want less than the distance taped`},
		{"id twice", "kind,id,from,to,value\ntape,x,A,B,4\ntape,x,A,C,4\n", `readings.csv, row 3, id: found "x"; want an id of its own; row 2 has this one`},
		{"id taken", "kind,id,from,to,value\ntape,r3,A,B,4\ntape,,A,C,4\n", `want another id: row 3, which has none, is called so`},
		{"open quote", "kind,note\ncondition,\"wet\n", `want fields with commas or quotes in double quotes`},
		{"too many fields", "kind,from,to,value\ntape,A,B,4,wet\n", `found 5 fields; want 4`},
		{"Latin-1", "kind,note\ncondition,ros\xe9\n", `readings.csv, line 2: found bytes that are not UTF-8`},
		{"UTF-16", "\xff\xfek\x00i\x00n\x00d\x00", `found UTF-16 text or a binary file`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, problems := decode(tt.text)
			require.NotEmpty(t, problems)
			assert.Contains(t, problems.Error(), tt.want)
		})
	}
	_, problems := decode("kind,from,to,value\ntape,A,B,x\ntape,A,,4\nfoo,,,\n")
	assert.Len(t, problems, 3, "all in one pass")
}

func TestHostileSize(t *testing.T) {
	text := "kind,from,to,value\n" + strings.Repeat("tape,A,B,4\n", fieldbook.MaxRows+10)
	r, problems := decode(text)
	assert.Len(t, r, fieldbook.MaxRows)
	assert.Contains(t, problems.Error(), "more than 100000 rows")
	_, problems = decode("kind,note\ncondition," + strings.Repeat("x", 10000) + "\n")
	assert.Contains(t, problems.Error(), "at most 4096 bytes")
	_, problems = fieldbook.DecodeReadings(strings.NewReader(strings.Repeat("a", fieldbook.MaxBytes+1)), "readings.csv", geo.Foot)
	assert.Contains(t, problems.Error(), "more than 32 MB")
}

func TestRoundTrip(t *testing.T) {
	first, problems := decode(whole)
	require.Empty(t, problems)
	var b bytes.Buffer
	require.NoError(t, fieldbook.EncodeReadings(&b, first))
	second, problems := fieldbook.DecodeReadings(&b, "readings.csv", geo.Metre)
	require.Empty(t, problems)
	require.Len(t, second, len(first))
	for i := range first {
		for _, pair := range [][2]*geo.Length{{first[i].Value, second[i].Value}, {first[i].Depth, second[i].Depth}, {first[i].Offset, second[i].Offset}} {
			if pair[0] == nil {
				assert.Nil(t, pair[1])
				continue
			}
			assert.Equal(t, pair[0].Metres, pair[1].Metres)
		}
		assert.Equal(t, first[i].ID, second[i].ID)
		assert.Equal(t, first[i].Note, second[i].Note)
	}
}

// Any tape comes back from the file as the same length.
func TestRoundTripOfLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]geo.Unit{geo.Foot, geo.Metre, geo.SurveyFoot, geo.Inch, geo.Centimetre}).Draw(t, "unit")
		l, err := geo.Bare(rapid.Float64Range(0.01, 300).Draw(t, "value"), unit)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := fieldbook.EncodeReadings(&b, []survey.Reading{{ID: "x", Kind: survey.Tape, From: "A", To: "B", Value: &l}}); err != nil {
			t.Fatal(err)
		}
		back, problems := fieldbook.DecodeReadings(&b, "readings.csv", geo.Millimetre)
		if len(problems) > 0 || back[0].Value.Metres != l.Metres {
			t.Fatalf("%v came back as %v %v", l, back, problems)
		}
	})
}

func FuzzDecodeReadings(f *testing.F) {
	f.Add(whole)
	f.Add("kind,from,to,value\ntape,A,B,\"43'6\"\"\"\n")
	f.Add("kind\nfound\n,,,\n")
	f.Add("\xef\xbb\xbfKIND,Point\r\nempty,H1\r\n")
	f.Add("kind,point,from,to,value,depth,target\nrod,P,,,,4 ft,contact\nrod,,P,Q,11,1.2 m,none\n")
	f.Add("kind,note\ncondition,\"a\nb\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		r, problems := decode(text)
		if len(problems) > 0 {
			return
		}
		var b bytes.Buffer
		if err := fieldbook.EncodeReadings(&b, r); err != nil {
			t.Fatal(err)
		}
		back, problems := fieldbook.DecodeReadings(bytes.NewReader(b.Bytes()), "readings.csv", geo.Foot)
		if len(problems) > 0 || len(back) != len(r) {
			t.Fatalf("%d readings came back as %d: %v\n%s", len(r), len(back), problems, b.String())
		}
	})
}

// kinds lists the kinds of the registry as a message does.
func kinds() string {
	var names []string
	for _, k := range observe.Kinds {
		names = append(names, string(k.Name))
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// A direction is read as degrees or off the face of a clock, and written so that
// it reads back the same.
func TestDirections(t *testing.T) {
	for _, tt := range []struct {
		runs string
		want float64
	}{{"90", 90}, {"90°", 90}, {"3:00", 90}, {"12:00", 0}, {"12:30", 15}, {"2:30", 75}, {"11:30", 345}, {"0:10", 5}, {"360", 360}, {"7.25", 7.25}} {
		all, problems := decode("kind,point,target,runs,facing,flow\nfound,H1,header," + tt.runs + ",Magnetic,against\n")
		require.Empty(t, problems, tt.runs)
		require.NotNil(t, all[0].Runs, tt.runs)
		assert.InDelta(t, tt.want, all[0].Runs.Degrees(), 1e-9, tt.runs)
		assert.Equal(t, "magnetic", all[0].Facing)
		assert.Equal(t, survey.FlowAgainst, all[0].Flow)

		var b strings.Builder
		require.NoError(t, fieldbook.EncodeReadings(&b, all))
		again, problems := decode(b.String())
		require.Empty(t, problems)
		assert.InDelta(t, all[0].Runs.Degrees(), again[0].Runs.Degrees(), 1e-9)
		assert.Equal(t, []any{all[0].Facing, all[0].Flow}, []any{again[0].Facing, again[0].Flow})
	}
}

// A row of stabs is read, and written so that it reads back the same.
func TestStabs(t *testing.T) {
	all, problems := decode("kind,point,from,to,value,depth,target\nrod,P,,,,4 ft,contact\nrod,,P,Q,11,1.2 m,none\n")
	require.Empty(t, problems)
	assert.Zero(t, all[0].Stabs)
	assert.InDelta(t, 1.2192, all[0].Depth.Metres, 1e-12)
	assert.Equal(t, 11, all[1].Stabs)
	var b bytes.Buffer
	require.NoError(t, fieldbook.EncodeReadings(&b, all))
	back, problems := fieldbook.DecodeReadings(&b, "readings.csv", geo.Metre)
	require.Empty(t, problems)
	for i := range all {
		assert.Equal(t, []any{all[i].Point, all[i].From, all[i].To, all[i].Stabs, all[i].Depth.Metres, all[i].Target},
			[]any{back[i].Point, back[i].From, back[i].To, back[i].Stabs, back[i].Depth.Metres, back[i].Target})
	}
}
