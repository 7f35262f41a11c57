package observe

import (
	"strconv"

	"asfound/survey"
)

// sign is a strip that shows on the surface, lush, dry, settled or free of snow, from
// one stake to another: a trench may lie along it. The belief weighs it
// (practice.SignOut, practice.StraySign).
var sign = Kind{
	Name: survey.Sign, One: "sign on the surface", Many: "signs on the surface", Must: []string{"from", "to", "target"},
	Check: func(c *checker, i int) {
		r := &c.job.Readings[i]
		if c.followedKind(r.Target) == "" {
			c.add(i, "target", strconv.Quote(r.Target), c.choice(r.Target, followable, c.unnamed()...))
		}
		c.twoPoints(i)
	},
}
