package api

import "asfound/survey/locate"

// GlanceRequest asks for a first look at what is sought, to be shown until the
// belief is there.
type GlanceRequest struct {
	Job Job `json:"job"`
}

// Glance is a first look. What was believed last of sheet and readings, that the
// one is drawn the wrong way round or another holds a slip, it takes to be so
// still. So it may differ from the belief that follows, and is to be shown as such.
type Glance struct {
	Sought *Sought `json:"sought"` // null: nothing tells where what is sought lies
	Rough  bool    `json:"rough"`  // false: this is the belief itself, which was at hand
}

func glance(m *Memory, q *GlanceRequest) (*Glance, *Refusal) {
	if s := m.known(&q.Job); s != nil {
		return &Glance{Sought: sought(s.location)}, nil
	}
	job, problems := q.Job.read()
	if job == nil {
		return nil, &Refusal{Says: "the job cannot be read", Problems: problems}
	}
	prepared, err := m.prepare(&q.Job, job)
	if err != nil {
		return nil, refuse("%v", err)
	}
	fit, err := prepared.Preview(job, m.before())
	if err != nil {
		return nil, refuse("%v", err)
	}
	l, err := locate.Sought(job, fit)
	if err != nil {
		return nil, refuse("%v", err)
	}
	return &Glance{sought(l), true}, nil
}
