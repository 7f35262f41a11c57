package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"asfound/geo/spelling"
)

// arrange brings a command line into the order that the flag parser expects:
// the command, its flags, then the rest. Crews write flags before or after the
// folder; the parser stops at the first word that is not a flag. A word after
// "--" is never a flag. Unknown commands and flags are refused here, with the
// nearest known one.
func arrange(app *cli.App, args []string) ([]string, error) {
	var before []string // the command
	for i, a := range args {
		switch {
		case isHelp(a) || a == "--version" || a == "-v":
			before = append(before, a)
			continue
		case a == "help" || a == "h":
			return topic(app, args[i+1:])
		case strings.HasPrefix(a, "-") && a != "-":
			return arrangeEarly(app, args, i)
		}
		c := app.Command(a)
		if c == nil {
			return nil, unknownCommand(app, a)
		}
		flags, rest, err := split(c, args[i+1:])
		if err != nil {
			return nil, err
		}
		for _, b := range before {
			if isHelp(b) { // asfound --help locate
				flags = append(flags, b)
			}
		}
		if slices.ContainsFunc(flags, isHelp) {
			return []string{c.Name, "--help"}, nil
		}
		return slices.Concat([]string{c.Name}, flags, []string{"--"}, rest), nil
	}
	return before, nil
}

// arrangeEarly handles flags before the command: asfound --format json locate
// JOB.
func arrangeEarly(app *cli.App, args []string, i int) ([]string, error) {
	for k := i; k < len(args); k++ {
		if app.Command(args[k]) == nil {
			continue
		}
		moved := slices.Concat([]string{args[k]}, args[:k], args[k+1:])
		if _, _, err := split(app.Command(args[k]), moved[1:]); err == nil {
			return arrange(app, moved)
		}
	}
	return nil, &usageError{fmt.Sprintf("flag %s comes before any command", args[i]), strings.TrimSpace(short(app))}
}

// topic handles asfound help and asfound help COMMAND.
func topic(app *cli.App, args []string) ([]string, error) {
	for _, a := range args {
		if strings.HasPrefix(a, "-") {
			continue
		}
		c := app.Command(a)
		if c == nil {
			return nil, unknownCommand(app, a)
		}
		return []string{c.Name, "--help"}, nil
	}
	return []string{"--help"}, nil
}

func isHelp(a string) bool { return a == "--help" || a == "-h" || a == "-help" }

func unknownCommand(app *cli.App, found string) error {
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Name)
	}
	return &usageError{fmt.Sprintf("no command %q; want %s", found, spelling.OneOf(found, names)), ""}
}

// split parts the words after command c into flags, each with its value, and
// the rest.
func split(c *cli.Command, args []string) (flags, rest []string, err error) {
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			return flags, append(rest, args[i+1:]...), nil
		}
		if !strings.HasPrefix(a, "-") || a == "-" {
			rest = append(rest, a)
			continue
		}
		name, _, has := strings.Cut(strings.TrimLeft(a, "-"), "=")
		takesValue, known := flagOf(c, name)
		switch {
		case isHelp(a):
		case !known:
			return nil, nil, unknownFlag(c, a, name)
		case takesValue && !has:
			if i+1 == len(args) || args[i+1] == "--" {
				return nil, nil, &usageError{fmt.Sprintf("flag --%s needs a value", name), "asfound help " + c.Name + " says which"}
			}
			flags = append(flags, a)
			i++
			a = args[i]
		}
		flags = append(flags, a)
	}
	return flags, rest, nil
}

// flagOf reports whether c has a flag of that name, and whether it takes a
// value.
func flagOf(c *cli.Command, name string) (takesValue, known bool) {
	for _, f := range c.Flags {
		if slices.Contains(f.Names(), name) {
			v, ok := f.(cli.DocGenerationFlag)
			return ok && v.TakesValue(), true
		}
	}
	return false, false
}

func unknownFlag(c *cli.Command, found, name string) error {
	var names []string
	for _, f := range c.Flags {
		names = append(names, f.Names()[0])
	}
	list := "it has none"
	if len(names) > 0 {
		list = "it has --" + strings.Join(names, ", --")
		if n := spelling.Nearest(name, names); n != "" {
			list += " (did you mean --" + n + "?)"
		}
	}
	return &usageError{fmt.Sprintf("%s has no flag %s; %s", c.Name, found, list), ""}
}
