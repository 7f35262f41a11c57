package main

import (
	"fmt"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
)

// heading names the job for people.
func heading(j *survey.Job) string {
	title, permit := j.Settings.Title, j.Settings.Permit
	if permit == "" {
		permit = j.Sketch.Permit
	}
	switch {
	case title == "" && permit == "":
		return "Job without a title"
	case title == "":
		return "Permit " + permit
	case permit == "":
		return title
	}
	return title + ", permit " + permit
}

// landmarkName returns a landmark's id and what it is: A (south-west corner).
func landmarkName(s *asbuilt.Sketch, id string) string {
	if p := s.Part(id); p != nil && p.Name != "" && p.Name != id {
		return id + " (" + p.Name + ")"
	}
	return id
}

// partName says what a part is: box, lateral L3.
func partName(kind asbuilt.Kind, id string) string {
	if string(kind) == id {
		return id
	}
	return string(kind) + " " + id
}

// count says how many there are of a thing: 1 tape, 3 tapes.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// and joins words: a, b and c.
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// trustWords says how far a drawing is trusted.
func trustWords(t asbuilt.Trust) string {
	switch t {
	case asbuilt.ToScale:
		return "drawn to scale"
	case asbuilt.NotToScale:
		return "not to scale"
	}
	return "roughly to scale"
}
