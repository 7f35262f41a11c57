// Command licences writes cmd/asfound/parts.json: what others wrote that the
// program is built from, each part with its version, its licence and the text of
// it. It is for developers, where a dependency has changed:
//
//	cd web/app && npm ci --ignore-scripts
//	go generate ./cmd/asfound
//
// A test of cmd/asfound fails where the file and the modules differ.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/google/licensecheck"
)

// part is one part in the file; cmd/asfound has the type that reads it.
type part struct {
	Kind    string `json:"kind"` // "go", "npm"
	Name    string `json:"name"`
	Version string `json:"version,omitempty"` // none: Go itself, that of the build
	Licence string `json:"licence"`           // an SPDX expression
	SHA512  string `json:"sha512,omitempty"`  // of the package as it is published, hexadecimal
	Text    string `json:"text"`
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// run writes the file. It starts in the folder cmd/asfound, where go generate does.
func run() error {
	if err := os.Chdir("../.."); err != nil {
		return err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	text, err := licences(strings.TrimSpace(string(root)), []string{"."})
	if err != nil {
		return err
	}
	all := []part{{Kind: "go", Name: "std", Licence: "BSD-3-Clause", Text: text}}
	modules, err := goModules()
	if err != nil {
		return err
	}
	packages, err := npmPackages("web/app")
	if err != nil {
		return err
	}
	b, err := json.MarshalIndent(slices.Concat(all, modules, packages), "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile("cmd/asfound/parts.json", append(b, '\n'), 0o644)
}

// systems are those whose builds are looked at: others need no module that these
// do not.
var systems = []string{"linux", "windows", "darwin"}

// goModules returns the modules that the program is built from.
func goModules() ([]part, error) {
	type module struct{ Path, Version, Dir string }
	folders, modules := map[string][]string{}, map[string]module{}
	for _, system := range systems {
		list := exec.Command("go", "list", "-deps", "-json=Dir,Module", "./cmd/asfound")
		list.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+system)
		list.Stderr = os.Stderr
		out, err := list.Output()
		if err != nil {
			return nil, err
		}
		for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
			var p struct {
				Dir    string
				Module *module
			}
			if err := d.Decode(&p); err != nil {
				return nil, err
			}
			if p.Module == nil || p.Module.Version == "" {
				continue // of Go, or our own
			}
			modules[p.Module.Path] = *p.Module
			in, err := filepath.Rel(p.Module.Dir, p.Dir)
			if err != nil {
				return nil, err
			}
			for ; ; in = filepath.Dir(in) { // a folder may be under a licence of its own
				folders[p.Module.Path] = append(folders[p.Module.Path], in)
				if in == "." {
					break
				}
			}
		}
	}
	var all []part
	for path, m := range modules {
		text, err := licences(m.Dir, folders[path])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		id, err := named(text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		all = append(all, part{Kind: "go", Name: path, Version: m.Version, Licence: id, Text: text})
	}
	slices.SortFunc(all, func(a, b part) int { return strings.Compare(a.Name, b.Name) })
	return all, nil
}

// sure is the least share of a text in percent that must be that of known licences.
const sure = 50

// named returns the SPDX expression of what a text is.
func named(text string) (string, error) {
	c := licensecheck.Scan([]byte(text))
	var ids []string
	for _, m := range c.Match {
		if !m.IsURL {
			ids = append(ids, m.ID)
		}
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	if len(ids) == 0 || c.Percent < sure {
		return "", fmt.Errorf("its licence is not known: %v, %.0f %% of the text", ids, c.Percent)
	}
	return strings.Join(ids, " AND "), nil
}

// isLicence matches the names of files with licences.
var isLicence = regexp.MustCompile(`(?i)^(licen[cs]e|notice|copying)([._-]|$)`)

// errNone says that a package has no file with a licence.
var errNone = errors.New("no licence found")

// isNotice matches a comment with a copyright at the beginning of a script.
var isNotice = regexp.MustCompile(`(?is)/\*.{0,200}?copyright.*?\*/`)

// notice returns the copyright notice in the script of a package that has no file
// with its licence, or what its package.json says.
func notice(root string) (string, error) {
	b, err := os.ReadFile(filepath.Join(root, "package.json"))
	if err != nil {
		return "", err
	}
	var p struct{ Main, License string }
	if err := json.Unmarshal(b, &p); err != nil {
		return "", err
	}
	if b, err = os.ReadFile(filepath.Join(root, p.Main)); err != nil {
		return "", err
	}
	if text := isNotice.Find(b); text != nil {
		return string(text), nil
	}
	if p.License == "" {
		return "", errNone
	}
	return "Published without the text of its licence: https://spdx.org/licenses/" + p.License + ".html", nil
}

// licences returns the licences in folders of root, one after the other, each once.
func licences(root string, folders []string) (string, error) {
	folders = slices.Compact(slices.Sorted(slices.Values(folders)))
	var all []string
	for _, folder := range folders {
		entries, err := os.ReadDir(filepath.Join(root, folder))
		if err != nil {
			return "", err
		}
		for _, e := range entries {
			if e.IsDir() || !isLicence.MatchString(e.Name()) {
				continue
			}
			b, err := os.ReadFile(filepath.Join(root, folder, e.Name()))
			if err != nil {
				return "", err
			}
			if text := strings.TrimSpace(strings.ReplaceAll(string(b), "\r\n", "\n")); !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	if len(all) == 0 {
		return "", errNone
	}
	return strings.Join(all, "\n\n"), nil
}

// npmPackages returns the packages that web/app/vendor is made from: those that
// esbuild reads.
func npmPackages(app string) ([]part, error) {
	entries, err := filepath.Glob(filepath.Join(app, "vendor", "*.entry.*"))
	if err != nil {
		return nil, err
	}
	names := map[string]bool{}
	for _, entry := range entries {
		if err := bundled(app, entry, names); err != nil {
			return nil, err
		}
	}
	b, err := os.ReadFile(filepath.Join(app, "package-lock.json"))
	if err != nil {
		return nil, err
	}
	var lock struct {
		Packages map[string]struct{ Version, License, Integrity string }
	}
	if err := json.Unmarshal(b, &lock); err != nil {
		return nil, err
	}
	var all []part
	for name := range names {
		p, ok := lock.Packages["node_modules/"+name]
		if !ok {
			return nil, fmt.Errorf("%s: package-lock.json has no such package", name)
		}
		root := filepath.Join(app, "node_modules", filepath.FromSlash(name))
		folders := []string{"."}
		if _, err := os.Stat(filepath.Join(root, "wasm")); err == nil {
			folders = append(folders, "wasm")
		}
		text, err := licences(root, folders)
		if errors.Is(err, errNone) {
			text, err = notice(root)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		sum, err := hexadecimal(p.Integrity)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		all = append(all, part{"npm", name, p.Version, strings.Trim(p.License, "()"), sum, text})
	}
	slices.SortFunc(all, func(a, b part) int { return strings.Compare(a.Name, b.Name) })
	return all, nil
}

// bundled adds the packages that a bundle is made from.
func bundled(app, entry string, names map[string]bool) error {
	dir, err := os.MkdirTemp("", "asfound-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	meta := filepath.Join(dir, "meta.json")
	build := exec.Command("go", "tool", "-modfile=.ci/tools.mod", "esbuild", entry, "--bundle", "--format=esm", "--loader:.wasm=binary",
		"--log-level=error", "--metafile="+meta, "--outfile="+filepath.Join(dir, "out.js"))
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return fmt.Errorf("%s: %w", entry, err)
	}
	b, err := os.ReadFile(meta)
	if err != nil {
		return err
	}
	var made struct{ Inputs map[string]struct{} }
	if err := json.Unmarshal(b, &made); err != nil {
		return err
	}
	for path := range made.Inputs {
		_, in, ok := strings.Cut(path, "node_modules/")
		if !ok {
			continue
		}
		words := strings.SplitN(in, "/", 3)
		name := words[0]
		if strings.HasPrefix(name, "@") {
			name += "/" + words[1]
		}
		if fs.ValidPath(name) {
			names[name] = true
		}
	}
	return nil
}
