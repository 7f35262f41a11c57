// Package language names the languages that the program writes for people.
// Codes, keys and file formats are the same in all of them.
package language

import "fmt"

// Tag is the BCP 47 tag of a language. The zero Tag is English.
type Tag string

// The languages that there are.
const (
	English Tag = "en"
	Spanish Tag = "es"
)

// All are the languages that there are.
var All = []Tag{English, Spanish}

// Parse returns the language of a tag, English for none. The error names the
// tags that there are.
func Parse(tag string) (Tag, error) {
	switch t := Tag(tag); t {
	case "":
		return English, nil
	case English, Spanish:
		return t, nil
	}
	return "", fmt.Errorf("language %q; want en or es", tag)
}

// UnmarshalText implements encoding.TextUnmarshaler, so that a request in an
// unknown language is refused.
func (t *Tag) UnmarshalText(text []byte) (err error) {
	*t, err = Parse(string(text))
	return err
}
