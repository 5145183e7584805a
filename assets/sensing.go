package assets

import "fmt"

// Sensing returns the text of the table behind motion sensors: classes of
// sensor, sizes of walking bodies, paces on stairs and figures of practice,
// each value with its standing and where it is from. Package app/tables reads
// it.
func Sensing() ([]byte, error) {
	text, err := tables.ReadFile("sensing.json")
	if err != nil {
		return nil, fmt.Errorf("assets: %w", err)
	}
	return text, nil
}
