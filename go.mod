module risewright

go 1.25.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0 // indirect
	fyne.io/fyne/v2 v2.7.1 // indirect
	github.com/go-gl/mathgl v1.2.0 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/google/uuid v1.6.0 // indirect
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3 // indirect
	golang.org/x/image v0.40.0 // indirect
	golang.org/x/text v0.37.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
