package api

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"iter"

	"asfound/asbuilt"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/probe"
)

// Memory caches results, so that a phone waits for nothing twice: the prepared
// sketch, the site of the last job, its plan, and what was known after each hole.
// Everything is keyed by the content that it follows from, so answers with and
// without a memory are the same, except for a preview, which begins with what was
// believed last. The zero value is ready to use. It must not be used concurrently.
type Memory struct {
	sketch   content
	prepared *fit.Prepared

	job  content
	site *site

	steps map[content]answer.Metres

	forgets bool // never asked for twice
}

// content is the SHA-256 of what an answer follows from.
type content [sha256.Size]byte

// maxKept bounds the steps that are kept: far more than a day's jobs have.
const maxKept = 512

// contentOf returns the content of values that JSON can write.
func contentOf(values ...any) (c content) {
	h := sha256.New()
	_ = json.NewEncoder(h).Encode(values) // texts and tables of text cannot fail
	h.Sum(c[:0])
	return c
}

// Run is Run with a memory.
func (m *Memory) Run(ctx context.Context, name string, request []byte) (answer []byte, err error) {
	return run(ctx, m, name, request)
}

// prepare returns a job's sketch ready to be fitted.
func (m *Memory) prepare(j *Job, job *survey.Job) (*fit.Prepared, error) {
	c := contentOf(string(j.Sketch), string(j.Settings))
	if m.prepared != nil && m.sketch == c {
		return m.prepared, nil
	}
	p, err := fit.Prepare(job.Sketch)
	if err != nil {
		return nil, err
	}
	m.keep(content{}, nil)
	m.sketch, m.prepared = c, p
	return p, nil
}

// content returns what a job's belief follows from.
func (j *Job) content() content { return contentOf(string(j.Sketch), string(j.Settings), j.Rows) }

// known returns a job's site if it is cached, else nil.
func (m *Memory) known(j *Job) *site {
	if m.site == nil || m.job != j.content() {
		return nil
	}
	return m.site
}

// keep keeps a site in place of the one before.
func (m *Memory) keep(c content, s *site) {
	if m.site != nil && m.site.leave != nil {
		m.site.leave()
	}
	m.job, m.site = c, s
}

// before returns the fit of the last job, nil where there is none of its sketch.
func (m *Memory) before() *fit.Fit {
	if m.site == nil {
		return nil
	}
	return m.site.location.Fit
}

// locate reads, fits and locates a job, or refuses it in a language.
func (m *Memory) locate(ctx context.Context, j *Job, in language.Tag) (*site, error) {
	if s := m.known(j); s != nil {
		return s, nil
	}
	job, problems := j.read()
	if job == nil {
		return nil, unreadable(problems, in)
	}
	prepared, err := m.prepare(j, job)
	if err != nil {
		return nil, refuseFor(err, in)
	}
	l, err := pipeline.Locate(ctx, job, prepared)
	if err != nil {
		return nil, refuseFor(err, in)
	}
	m.keep(j.content(), &site{job: job, location: l, problems: problems})
	return m.site, nil
}

// step returns the radius of what is sought with the readings of then alone,
// false where there is none. by has the row that each reading was read from;
// known is the location with all readings, where then has them all. was is whether
// it had been worked out before. It is an error for ctx to be done.
func (m *Memory) step(ctx context.Context, j *Job, then *survey.Job, by map[string]map[string]string, known *locate.Location) (radius answer.Metres, ok, was bool, err error) {
	rows := make([]map[string]string, len(then.Readings))
	for i, r := range then.Readings {
		rows[i] = by[r.ID]
	}
	c := contentOf(string(j.Sketch), string(j.Settings), rows)
	if r, ok := m.steps[c]; ok {
		return r, r >= 0, true, nil
	}
	radius, was = -1, known != nil
	if known == nil {
		if known = m.then(ctx, j, then); ctx.Err() != nil {
			return 0, false, false, ctx.Err()
		}
	}
	if l := known; l != nil {
		if at := soughtSpot(l); at >= 0 {
			radius = answer.Metres(l.Spots[at].Landmarks95)
		}
	}
	if m.steps == nil || len(m.steps) >= maxKept {
		m.steps = map[content]answer.Metres{}
	}
	m.steps[c] = radius
	return radius, radius >= 0, was, nil
}

// then fits and locates a job of fewer readings, nil where that cannot be done.
func (m *Memory) then(ctx context.Context, j *Job, job *survey.Job) *locate.Location {
	prepared, err := m.prepare(j, job)
	if err != nil {
		return nil
	}
	l, err := pipeline.Locate(ctx, job, prepared)
	if err != nil {
		return nil
	}
	return l
}

// site is a job that was read, fitted and located.
type site struct {
	job      *survey.Job
	location *locate.Location
	problems asbuilt.Problems // rows that were left out

	planned *probe.Plan                       // as far as it has been worked out
	more    func() (*probe.Plan, error, bool) // continues it; nil: it is complete, or not begun
	stop    func()                            // ends its work
	leave   func()                            // ends its work, and that of its steps
}

// plan plans the digging on a located site; with brief, one step more of it. It is
// refused in a language. Where ctx is done, the plan begins anew when it is next asked
// for.
func (s *site) plan(ctx context.Context, brief bool, in language.Tag) (*probe.Plan, error) {
	if s.planned == nil {
		if err := s.begin(ctx); err != nil {
			return nil, refuseFor(err, in)
		}
	}
	if s.more == nil {
		return s.planned, nil
	}
	defer context.AfterFunc(ctx, s.stop)()
	for {
		p, err, ok := s.more()
		if err != nil {
			s.leave()
			s.planned, s.more = nil, nil
			return nil, refuseFor(because(ctx, err), in)
		}
		if !ok {
			s.more = nil
			return s.planned, nil
		}
		if s.planned = p; brief {
			return p, nil
		}
	}
}

// begin begins a plan. Later requests may go on with it, and each has a context of its
// own: that of the plan outlives them, and each request ends it only while it waits.
func (s *site) begin(ctx context.Context) error {
	whole, stop := context.WithCancel(context.WithoutCancel(ctx))
	defer context.AfterFunc(ctx, stop)()
	work, err := pipeline.Work(whole, s.location)
	if err != nil {
		stop()
		return because(ctx, err)
	}
	more, end := iter.Pull2(work)
	s.more, s.stop, s.leave = more, stop, func() { stop(); end() }
	return nil
}

// because returns why work of a request ended: where the request did, that.
func because(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}
