package simulate

import "math"

// Share is how often something held, over spots in sites. Spots of one site
// are wrong together, so the standard error takes the sites as the sample
// (cluster-robust: Cochran, Sampling Techniques, 3rd ed., ch. 11, ratio to size
// of unequal clusters).
type Share struct {
	In, All int

	groups map[uint64][2]int // by site: in, all
}

// Add counts one spot of a site.
func (s *Share) Add(site uint64, in bool) {
	if s.groups == nil {
		s.groups = map[uint64][2]int{}
	}
	g := s.groups[site]
	g[1]++
	s.All++
	if in {
		g[0]++
		s.In++
	}
	s.groups[site] = g
}

// Join counts all of another share, whose sites differ from those of s where
// salt differs.
func (s *Share) Join(o Share, salt uint64) {
	if s.groups == nil {
		s.groups = map[uint64][2]int{}
	}
	s.In, s.All = s.In+o.In, s.All+o.All
	for k, v := range o.groups {
		k = k*1_000_003 + salt
		g := s.groups[k]
		s.groups[k] = [2]int{g[0] + v[0], g[1] + v[1]}
	}
}

// Rate returns the share as a fraction; NaN where nothing was counted.
func (s *Share) Rate() float64 { return float64(s.In) / float64(s.All) }

// Error returns the standard error of Rate as a fraction, never less than half
// the weight of one site: seeing no site fail is not certainty. It is NaN for
// fewer than two sites.
func (s *Share) Error() float64 {
	n := float64(len(s.groups))
	if s.All == 0 || n < 2 {
		return math.NaN()
	}
	p, sum := s.Rate(), 0.0
	for _, g := range s.groups {
		d := float64(g[0]) - p*float64(g[1])
		sum += d * d
	}
	return math.Max(math.Sqrt(sum*n/(n-1))/float64(s.All), 0.5/n)
}

// Within reports whether the rate lies between two fractions, or so little
// outside that chance explains it: two standard errors.
func (s *Share) Within(low, high float64) bool {
	p, e := s.Rate(), s.Error()
	return p >= low-2*e && p <= high+2*e
}

// Levels are the contents of the regions that are judged.
var Levels = [3]float64{0.5, 0.8, 0.95}

// Tally is the shares over the sites of one order.
type Tally struct {
	Sites, Doubtful, Accused int

	Frame, Landmarks, Depth [3]Share // of spots, by level
	Box                     [3]Share // the box alone, relative to the landmarks
	Sure                    Share    // of unknown trenches held for 95 % or more: right
	Unknown                 Share    // of all unknown trenches: right
	Odds                    [10]Bin  // of unknown trenches, by the probability claimed
	Size, Miss              float64  // sums over spots: squares of Radius95 and of the error, m²
}

// Bin is one row of a reliability table.
type Bin struct {
	Claimed float64 // sum of the probabilities claimed
	Right   int
	All     int
}

// Add counts a site.
func (t *Tally) Add(s Score) {
	t.Sites++
	if s.Doubtful {
		t.Doubtful++
	}
	if len(s.Suspects) > 0 {
		t.Accused++
	}
	for _, p := range s.Spots {
		for i, level := range Levels {
			t.Frame[i].Add(s.Seed, p.Content <= level)
			t.Landmarks[i].Add(s.Seed, p.FromLandmarks <= level)
			if p.Name.Part == "box" {
				t.Box[i].Add(s.Seed, p.FromLandmarks <= level)
			}
			if !math.IsNaN(p.Depth) {
				t.Depth[i].Add(s.Seed, p.Depth <= level)
			}
		}
		t.Size, t.Miss = t.Size+p.Radius95*p.Radius95, t.Miss+p.Error*p.Error
	}
	for _, m := range s.Met {
		b := &t.Odds[min(9, int(10*m.Probability))]
		b.Claimed, b.All = b.Claimed+m.Probability, b.All+1
		if m.Right {
			b.Right++
		}
		t.Unknown.Add(s.Seed, m.Right)
		if m.Probability >= 0.95 {
			t.Sure.Add(s.Seed, m.Right)
		}
	}
}

// Join counts all sites of another tally; see Share.Join.
func (t *Tally) Join(o Tally, salt uint64) {
	t.Sites, t.Doubtful, t.Accused = t.Sites+o.Sites, t.Doubtful+o.Doubtful, t.Accused+o.Accused
	for i := range Levels {
		t.Frame[i].Join(o.Frame[i], salt)
		t.Landmarks[i].Join(o.Landmarks[i], salt)
		t.Depth[i].Join(o.Depth[i], salt)
		t.Box[i].Join(o.Box[i], salt)
	}
	t.Sure.Join(o.Sure, salt)
	t.Unknown.Join(o.Unknown, salt)
	for i := range t.Odds {
		t.Odds[i].Claimed += o.Odds[i].Claimed
		t.Odds[i].Right += o.Odds[i].Right
		t.Odds[i].All += o.Odds[i].All
	}
	t.Size, t.Miss = t.Size+o.Size, t.Miss+o.Miss
}
