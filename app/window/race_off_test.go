//go:build !race

package window

// underRace says whether the race detector watches. The library's test driver runs
// what fyne.Do is given on the goroutine that asks for it, so what is shown from
// beside the interface races in tests, and only there.
const underRace = false
