package assets

import "fmt"

// Lighting returns the text of the electrical table behind light bars: strips,
// wires, fuses, supplies, controllers and figures of practice, each value with
// its standing and where it is from. Package app/tables reads it.
func Lighting() ([]byte, error) {
	text, err := tables.ReadFile("lighting.json")
	if err != nil {
		return nil, fmt.Errorf("assets: %w", err)
	}
	return text, nil
}
