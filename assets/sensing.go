package assets

// Sensing returns the text of the table behind motion sensors: classes of
// sensor, sizes of walking bodies, paces on stairs and figures of practice,
// each value with its standing and where it is from. Package app/tables reads
// it.
func Sensing() ([]byte, error) {
	return tableText("sensing.json")
}
