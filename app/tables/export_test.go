package tables

import (
	"testing"

	"risewright/assets"
	"risewright/model"
)

// LightingText returns the shipped text.
func LightingText(t *testing.T) string {
	t.Helper()
	b, err := assets.Lighting()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// ReadLighting reads a text as the table.
func ReadLighting(text []byte) (model.LightTables, error) { return readLighting(text) }

// SensingText returns the shipped text.
func SensingText(t *testing.T) string {
	t.Helper()
	b, err := assets.Sensing()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// ReadSensing reads a text as the table.
func ReadSensing(text []byte) (model.SensorTables, error) { return readSensing(text) }
