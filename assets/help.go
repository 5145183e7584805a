package assets

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
)

//go:embed help
var help embed.FS

// HelpPage is one page of help, in Markdown.
type HelpPage struct {
	Name  string // of the file without its ending, such as "03-cards"
	Title string // its first heading
	Text  string // without that heading
	// Picture is a PNG, or nil.
	Picture []byte
}

// HelpPages returns the pages in a language, such as "en", the words of the
// trade last. A page that is not there in it comes in English.
func HelpPages(language string) ([]HelpPage, error) {
	names, err := fs.Glob(help, "help/en/*.md")
	if err != nil {
		return nil, fmt.Errorf("assets: help: %w", err)
	}
	var out []HelpPage
	for _, path := range names { // sorted by Glob: figures before letters
		name := strings.TrimSuffix(strings.TrimPrefix(path, "help/en/"), ".md")
		if name == "tour" {
			continue
		}
		text, err := helpText(language, name)
		if err != nil {
			return nil, err
		}
		head, body, _ := strings.Cut(text, "\n")
		title, ok := strings.CutPrefix(head, "# ")
		if !ok {
			return nil, fmt.Errorf("assets: help page %s does not begin with a heading", name)
		}
		p := HelpPage{Name: name, Title: title, Text: strings.TrimSpace(body)}
		if picture, err := help.ReadFile("help/" + name + ".png"); err == nil {
			p.Picture = picture
		}
		out = append(out, p)
	}
	return out, nil
}

func helpText(language, name string) (string, error) {
	text, err := help.ReadFile("help/" + language + "/" + name + ".md")
	if err != nil {
		text, err = help.ReadFile("help/en/" + name + ".md")
	}
	if err != nil {
		return "", fmt.Errorf("assets: help: %w", err)
	}
	return string(text), nil
}

// TourStop is one stop of the tour over the demo job.
type TourStop struct {
	Title, Text string
	Tab         string // to bring to the front; "" leaves it
	Step        int    // to choose; 0 leaves it
}

// Tour returns the stops of the tour in a language.
func Tour(language string) ([]TourStop, error) {
	text, err := helpText(language, "tour")
	if err != nil {
		return nil, err
	}
	var out []TourStop
	for _, part := range strings.Split("\n"+text, "\n## ")[1:] {
		title, body, _ := strings.Cut(part, "\n")
		s := TourStop{Title: title}
		for {
			line, rest, _ := strings.Cut(body, "\n")
			if tab, ok := strings.CutPrefix(line, "tab: "); ok {
				s.Tab = tab
			} else if step, ok := strings.CutPrefix(line, "step: "); ok {
				if _, err := fmt.Sscanf(step, "%d", &s.Step); err != nil {
					return nil, fmt.Errorf("assets: the tour's stop %q has step %q", title, step)
				}
			} else {
				break
			}
			body = rest
		}
		s.Text = strings.TrimSpace(body)
		out = append(out, s)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("assets: the tour in %s has no stops", language)
	}
	return out, nil
}
