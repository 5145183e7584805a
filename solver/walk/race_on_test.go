//go:build race

package walk_test

const underRace = true
