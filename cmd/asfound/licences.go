package main

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/CycloneDX/cyclonedx-go"
	"github.com/urfave/cli/v2"
)

// part is something that others wrote and the program is built from.
type part struct {
	Kind    string // "go": a module, "npm": a package of the page
	Name    string
	Version string // none: Go itself
	Licence string // an SPDX expression
	SHA512  string // of a package as it is published, hexadecimal
	Text    string // of the licence
}

//go:generate go run ../licences
//go:embed parts.json
var partsFile []byte

// parts returns what the program is built from.
func parts() ([]part, error) {
	var all []part
	if err := json.Unmarshal(partsFile, &all); err != nil {
		return nil, err
	}
	for i := range all {
		if all[i].Version == "" {
			all[i].Version = strings.TrimPrefix(runtime.Version(), "go")
		}
	}
	return all, nil
}

func (s *session) licences() *cli.Command {
	return &cli.Command{
		Name:      "licences",
		Usage:     "what the program is built from, and under which licences",
		UsageText: "asfound licences [flags]",
		Description: `Prints the name, the version and the licence of everything in the program
that others wrote, the page included.

  asfound licences
  asfound licences --format json > bom.json

With --format json it is a software bill of materials (CycloneDX 1.6, ECMA-424),
for a vulnerability scanner.`,
		Flags: []cli.Flag{&cli.StringFlag{Name: "format", Value: "text", Usage: "text or json"}},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return &usageError{"licences takes no folder", ""}
			}
			all, err := parts()
			if err != nil {
				return err
			}
			switch f := c.String("format"); f {
			case "text":
				return writeLicences(s.stdout, all)
			case "json":
				return cyclonedx.NewBOMEncoder(s.stdout, cyclonedx.BOMFileFormatJSON).SetPretty(true).EncodeVersion(bill(all), cyclonedx.SpecVersion1_6)
			default:
				return &usageError{fmt.Sprintf("--format %q; want text or json", f), ""}
			}
		},
	}
}

// writeLicences writes a list of parts, and the text of each licence.
func writeLicences(w io.Writer, all []part) error {
	var b strings.Builder
	for _, p := range all {
		fmt.Fprintf(&b, "%-50s %-36s %s\n", p.Name, p.Version, p.Licence)
	}
	for _, p := range all {
		fmt.Fprintf(&b, "\n\n%s %s\n%s\n\n%s\n", p.Name, p.Version, strings.Repeat("=", len(p.Name)+1+len(p.Version)), p.Text)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// bill returns the software bill of materials. It has no time and no random
// number, so that a build can be compared with another.
func bill(all []part) *cyclonedx.BOM {
	b := cyclonedx.NewBOM()
	version := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version
	}
	self := "pkg:golang/asfound@" + version
	b.Metadata = &cyclonedx.Metadata{Component: &cyclonedx.Component{
		BOMRef: self, Type: cyclonedx.ComponentTypeApplication, Name: "asfound", Version: version, PackageURL: self,
	}}
	rests, list := []string{}, []cyclonedx.Component{}
	for _, p := range all {
		c := cyclonedx.Component{
			BOMRef: p.url(), Type: cyclonedx.ComponentTypeLibrary, Name: p.Name, Version: p.Version, PackageURL: p.url(),
			Licenses: &cyclonedx.Licenses{{Expression: p.Licence}},
		}
		if p.SHA512 != "" {
			c.Hashes = &[]cyclonedx.Hash{{Algorithm: cyclonedx.HashAlgoSHA512, Value: p.SHA512}}
		}
		rests, list = append(rests, c.BOMRef), append(list, c)
	}
	b.Components, b.Dependencies = &list, &[]cyclonedx.Dependency{{Ref: self, Dependencies: &rests}}
	return b
}

// url returns a part's package URL (ECMA-427, purl-spec).
func (p *part) url() string {
	return "pkg:" + map[string]string{"go": "golang", "npm": "npm"}[p.Kind] + "/" + strings.Replace(p.Name, "@", "%40", 1) + "@" + p.Version
}
