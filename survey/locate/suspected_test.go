package locate

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/survey"
	"asfound/survey/belief"
	"asfound/survey/finding"
	"asfound/survey/fit"
)

// What is looked at first where what is sought should have been met: a line where none
// was expected, then a reading that does not fit, then a hole without a depth.
func TestSuspected(t *testing.T) {
	l := &locator{Location: &Location{Fit: &fit.Fit{}, Job: &survey.Job{}, belief: &belief.Belief{}}}
	assert.Equal(t, finding.LookSheet, l.suspected().Code)
	l.Job.Readings = []survey.Reading{{ID: "r1", Kind: survey.Empty, Point: "H1"}}
	assert.Equal(t, finding.LookDepth.New(finding.Word("hole", "H1")), l.suspected())
	l.Fit.Suspects = []fit.Suspect{{Reading: "r7", Odds: 0.09}, {Reading: "r8", Odds: 0.4}}
	assert.Equal(t, finding.LookReading.New(finding.Readings("r8")), l.suspected())
	l.belief.Strange = []survey.Reading{{ID: "r3", Point: "H2", Target: "lateral"}}
	assert.Equal(t, finding.LookStrange.New(finding.Word("hole", "H2"), finding.Readings("r3"), finding.Parts("lateral")), l.suspected())
}
