package assets

import (
	"embed"
	"encoding/json"
	"fmt"
)

//go:embed words/*.json
var wordFiles embed.FS

// Language is one that the program speaks.
type Language struct {
	Code string // ISO 639-1, such as "de"
	Name string // in the language itself
	// How figures are written; "" as in English, 1,234.5.
	Decimal, Thousands string
}

// Languages returns the languages, English first.
func Languages() []Language {
	return []Language{{Code: "en", Name: "English"}, {Code: "de", Name: "Deutsch", Decimal: ",", Thousands: "\u202f"}}
}

// Words returns what is said in a language for every English text; see package
// view/words. English has none.
func Words(language string) (map[string]string, error) {
	if language == "" || language == "en" {
		return nil, nil
	}
	text, err := wordFiles.ReadFile("words/" + language + ".json")
	if err != nil {
		return nil, fmt.Errorf("assets: there are no words for language %q", language)
	}
	var out map[string]string
	if err := json.Unmarshal(text, &out); err != nil {
		return nil, fmt.Errorf("assets: words of %q: %w", language, err)
	}
	return out, nil
}
