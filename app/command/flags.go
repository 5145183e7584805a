package command

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// flags is the flags of one command.
type flags struct {
	*flag.FlagSet
	verb string
}

func newFlags(verb string) *flags {
	f := flag.NewFlagSet(verb, flag.ContinueOnError)
	f.SetOutput(io.Discard) // complaints are ours to word
	return &flags{f, verb}
}

// read takes args apart. Flags may stand before and after what is named;
// after a lone -- nothing is a flag.
func (f *flags) read(args []string) (named []string, err error) {
	var plain []string
	for i, a := range args {
		if a == "--" {
			args, plain = args[:i], args[i+1:]
			break
		}
	}
	for {
		if err := f.Parse(args); err != nil {
			return nil, f.reword(err)
		}
		if f.NArg() == 0 {
			return append(named, plain...), nil
		}
		named, args = append(named, f.Arg(0)), f.Args()[1:]
	}
}

// reword says what the flag package found wrong in our own words.
func (f *flags) reword(err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return err
	}
	see := fmt.Sprintf("see \"risewright help %s\"", f.verb)
	text := err.Error()
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		var names []string
		f.VisitAll(func(g *flag.Flag) { names = append(names, g.Name) })
		if s := nearest(strings.TrimPrefix(name, "-"), names); s != "" {
			see = fmt.Sprintf("did you mean --%s? Or %s", s, see)
		}
		return fault{fmt.Sprintf("%s has no flag %s", f.verb, shown("--"+name)), see}
	}
	if name, ok := strings.CutPrefix(text, "flag needs an argument: -"); ok {
		return fault{fmt.Sprintf("%s: --%s needs a value after it", f.verb, name), see}
	}
	// A value that the flag does not take: invalid value "a5" for flag -paper: it can be a4 or letter
	if rest, ok := strings.CutPrefix(text, "invalid value "); ok {
		if value, rest, ok := strings.Cut(rest, " for flag -"); ok {
			if name, why, ok := strings.Cut(rest, ": "); ok {
				return fault{fmt.Sprintf("%s: --%s cannot be %s", f.verb, name, shown(strings.Trim(value, `"`))), why + "; " + see}
			}
		}
	}
	if rest, ok := strings.CutPrefix(text, "invalid boolean value "); ok {
		if _, rest, ok := strings.Cut(rest, " for -"); ok {
			name, _, _ := strings.Cut(rest, ": ")
			return fault{fmt.Sprintf("%s: --%s takes no value", f.verb, name), "write it alone; " + see}
		}
	}
	return fault{f.verb + ": " + text, see}
}

// oneOf is a flag with a list of values; empty until it is set.
type oneOf struct {
	value string
	of    []string
}

// String implements flag.Value.
func (o *oneOf) String() string { return o.value }

// Set implements flag.Value.
func (o *oneOf) Set(s string) error {
	for _, v := range o.of {
		if strings.EqualFold(s, v) {
			o.value = v
			return nil
		}
	}
	last := len(o.of) - 1
	if last == 0 {
		return fmt.Errorf("it can be %s", o.of[0])
	}
	return fmt.Errorf("it can be %s or %s", strings.Join(o.of[:last], ", "), o.of[last])
}
