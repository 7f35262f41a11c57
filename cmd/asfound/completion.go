package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"asfound/geo/spelling"
)

// completeFlag is the last word of a command line that a shell wants
// completed, by the flag parser's own convention.
const completeFlag = "--generate-bash-completion"

// completing reports whether a shell asks for completions, and of which words.
func completing(args []string) (words []string, ok bool) {
	if n := len(args); n > 0 && args[n-1] == completeFlag {
		return args[:n-1], true
	}
	return nil, false
}

// complete prints what may come next, a line each: commands, the values of a
// flag, flags. Nothing is printed where a folder comes next, so that the shell
// offers its files.
func complete(app *cli.App, words []string, w io.Writer) {
	var c *cli.Command
	for _, a := range words {
		if c = app.Command(a); c != nil {
			break
		}
	}
	if c == nil {
		for _, c := range app.Commands {
			fmt.Fprintln(w, c.Name)
		}
		return
	}
	last := words[len(words)-1]
	if c.Name == "completion" {
		fmt.Fprintln(w, strings.Join(shells, "\n"))
		return
	}
	if values := valuesOf(c, strings.TrimLeft(last, "-")); strings.HasPrefix(last, "-") && len(values) > 0 {
		fmt.Fprintln(w, strings.Join(values, "\n"))
		return
	}
	if strings.HasPrefix(last, "-") {
		for _, f := range c.Flags {
			fmt.Fprintln(w, "--"+f.Names()[0])
		}
	}
}

// valuesOf returns the values that a flag of c may have, where they are few.
func valuesOf(c *cli.Command, flag string) []string {
	for _, f := range c.Flags {
		s, ok := f.(*cli.StringFlag)
		if !ok || s.Name != flag {
			continue
		}
		switch flag {
		case "format":
			_, list, _ := strings.Cut(s.Usage, ": ")
			return strings.Split(list, ", ")
		case "unit":
			return []string{"ft", "m"}
		}
	}
	return nil
}

// shells are the shells that have a script.
var shells = []string{"bash", "zsh", "fish"}

const bashScript = `_asfound() {
  local cur="${COMP_WORDS[COMP_CWORD]}" words=("${COMP_WORDS[@]:1:COMP_CWORD-1}")
  [[ "$cur" == -* ]] && words+=("$cur")
  COMPREPLY=($(compgen -W "$("${COMP_WORDS[0]}" "${words[@]}" ` + completeFlag + ` 2>/dev/null)" -- "$cur"))
}
complete -o bashdefault -o default -F _asfound asfound
`

const zshScript = `#compdef asfound
_asfound() {
  local -a found
  local -a given=("${(@)words[2,CURRENT-1]}")
  [[ "$PREFIX" == -* ]] && given+=("$PREFIX")
  found=("${(@f)$("${words[1]}" "${given[@]}" ` + completeFlag + ` 2>/dev/null)}")
  if [[ -n "${found[1]}" ]]; then compadd -- "${found[@]}"; else _files; fi
}
compdef _asfound asfound
`

func (s *session) completion() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print the script that completes commands and flags in a shell",
		UsageText: "asfound completion bash|zsh|fish",
		Description: `  source <(asfound completion bash)       in ~/.bashrc
  source <(asfound completion zsh)        in ~/.zshrc
  asfound completion fish | source        in config.fish`,
		Action: func(c *cli.Context) error {
			shell := c.Args().First()
			if c.NArg() != 1 || !slices.Contains(shells, shell) {
				return &usageError{fmt.Sprintf("completion of %q; want %s", strings.Join(c.Args().Slice(), " "), spelling.OneOf(shell, shells)), ""}
			}
			script := map[string]string{"bash": bashScript, "zsh": zshScript}[shell]
			if shell == "fish" {
				var err error
				if script, err = c.App.ToFishCompletion(); err != nil {
					return err
				}
			}
			_, err := io.WriteString(s.stdout, script)
			return err
		},
	}
}
