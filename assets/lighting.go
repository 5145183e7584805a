package assets

// Lighting returns the text of the electrical table behind light bars: strips,
// wires, fuses, supplies, controllers and figures of practice, each value with
// its standing and where it is from. Package app/tables reads it.
func Lighting() ([]byte, error) {
	return tableText("lighting.json")
}
