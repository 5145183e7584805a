package model

import "math"

// Rated is a value with how far it can be trusted and where it is from. The
// zero value is nothing, from nobody.
type Rated struct {
	Value    float64  `json:"value"`
	Standing Standing `json:"standing,omitempty"`
	From     string   `json:"from,omitempty"`
}

// LightTables are the electrical values behind light bars. They ship with the
// program; a job may hold rows of its own.
type LightTables struct {
	Strips      []StripType       `json:"strips,omitempty"`
	Wires       []WireSize        `json:"wires,omitempty"` // within a system from the thinnest
	Fuses       []Rated           `json:"fuses,omitempty"` // A, from the smallest
	Supplies    []SupplyClass     `json:"supplies,omitempty"`
	Controllers []ControllerClass `json:"controllers,omitempty"`
	Volts       []VoltClass       `json:"volts,omitempty"`
	Limited     []LimitedSource   `json:"limited,omitempty"`
	Practice    []PracticeValue   `json:"practice,omitempty"`
}

// StripType is an LED strip by what it is.
type StripType struct {
	ID    string `json:"id"`
	Title string `json:"title"`

	Volts          Rated `json:"volts"`
	PixelsPerMetre Rated `json:"pixels_per_metre"`
	LEDsPerPixel   int   `json:"leds_per_pixel"` // a pixel is what one command changes
	CutPixels      int   `json:"cut_pixels"`     // it may be cut after every so many pixels
	Channels       int   `json:"channels"`       // of a pixel; its bytes in a buffer
	// ChannelMA is the worst-case current of one channel of one pixel at full
	// brightness, mA at Volts, the pixel's own circuit included.
	ChannelMA Rated `json:"channel_ma"`
	IdleMA    Rated `json:"idle_ma"`    // of a dark pixel
	TraceOhm  Rated `json:"trace_ohm"`  // of the strip's conductors, out and back, ohm per metre
	ReelMetre Rated `json:"reel_metre"` // the longest piece sold

	FullVolts   Rated `json:"full_volts"`   // below this a pixel's current falls away
	DarkVolts   Rated `json:"dark_volts"`   // at this nothing flows any more
	ColourVolts Rated `json:"colour_volts"` // below this the colour shifts

	Addressed bool  `json:"addressed"`       // pixels take data one by one
	DataVolts Rated `json:"data_volts"`      // least volts read as high; 0: no data
	BitUS     Rated `json:"bit_us,omitzero"` // microseconds a bit
	LatchUS   Rated `json:"latch_us,omitzero"`
}

// FullAmps returns the current of one pixel at full white.
func (s StripType) FullAmps() float64 { return float64(s.Channels) * s.ChannelMA.Value / 1000 }

// Pitch returns the distance from pixel to pixel in mm, or 0 when the row has
// none.
func (s StripType) Pitch() float64 {
	if !(s.PixelsPerMetre.Value > 0) {
		return 0
	}
	return 1000 / s.PixelsPerMetre.Value
}

// WireSize is one size of copper wire.
type WireSize struct {
	ID       string `json:"id"`
	Title    string `json:"title"`
	System   string `json:"system"` // "awg" or "mm2"
	AreaMM2  Rated  `json:"area_mm2"`
	OhmPerKM Rated  `json:"ohm_per_km"` // one conductor, at 20 °C
	Rating   Rated  `json:"rating"`     // A in a bundle or conduit
	FuseMost Rated  `json:"fuse_most"`  // the largest fuse allowed before it, A
}

// OhmPerMetre returns the resistance of one conductor at a temperature.
func (w WireSize) OhmPerMetre(celsius float64) float64 {
	return w.OhmPerKM.Value / 1000 * (1 + CopperPerKelvin*(celsius-20))
}

// CopperPerKelvin is the temperature coefficient of the resistance of annealed
// copper at 20 °C and constant mass, per kelvin. IEC 60028 (secondary).
const CopperPerKelvin = 0.00393

// CopperOhmMM2 is the resistivity of annealed copper at 20 °C, ohm mm² per
// metre. IEC 60028 (secondary).
const CopperOhmMM2 = 0.017241

// SupplyClass is a kind of power supply.
type SupplyClass struct {
	ID          string `json:"id"`
	Title       string `json:"title"`
	Volts       Rated  `json:"volts"`
	Amps        Rated  `json:"amps"`
	Efficiency  Rated  `json:"efficiency"`    // share of what it takes from the mains
	NoLoadWatts Rated  `json:"no_load_watts"` // that it takes with nothing lit
	Limited     bool   `json:"limited"`       // sold as a limited source, such as Class 2
}

// ControllerClass is a kind of small computer.
type ControllerClass struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Memory Rated  `json:"memory"` // bytes of working memory
	Kept   Rated  `json:"kept"`   // of these, for the program's own variables
	Pins   Rated  `json:"pins"`   // free for outputs
	Lines  Rated  `json:"lines"`  // data lines sent at the same time
	Logic  Rated  `json:"logic"`  // volts of its outputs
	PinMA  Rated  `json:"pin_ma"` // most from one output
	AllMA  Rated  `json:"all_ma"` // most from all outputs together
	// Blocks says that nothing else runs while a frame is sent.
	Blocks bool `json:"blocks"`
}

// VoltClass is a usual voltage of light bars with the loss allowed on the way.
type VoltClass struct {
	Volts Rated `json:"volts"`
	Drop  Rated `json:"drop"` // share
}

// LimitedSource is a published ceiling of a safe source, shown as advice.
type LimitedSource struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Above Rated  `json:"above,omitzero"` // it holds above this voltage
	Volts Rated  `json:"volts"`          // and up to this one
	Amps  Rated  `json:"amps,omitzero"`  // 0: none stated
	VA    Rated  `json:"va,omitzero"`    // 0: none stated
	Note  string `json:"note,omitempty"`
}

// PracticeValue is a figure of practice or of a rule, by id.
type PracticeValue struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Unit  string `json:"unit"`
	Value Rated  `json:"value"`
}

// Strip returns the strip type called id.
func (t LightTables) Strip(id string) (StripType, bool) {
	return row(t.Strips, id, func(r StripType) string { return r.ID })
}

// Wire returns the wire size called id.
func (t LightTables) Wire(id string) (WireSize, bool) {
	return row(t.Wires, id, func(r WireSize) string { return r.ID })
}

// Supply returns the supply class called id.
func (t LightTables) Supply(id string) (SupplyClass, bool) {
	return row(t.Supplies, id, func(r SupplyClass) string { return r.ID })
}

// Controller returns the controller class called id.
func (t LightTables) Controller(id string) (ControllerClass, bool) {
	return row(t.Controllers, id, func(r ControllerClass) string { return r.ID })
}

// Practised returns the figure of practice called id, or the zero Rated.
func (t LightTables) Practised(id string) Rated {
	r, _ := row(t.Practice, id, func(r PracticeValue) string { return r.ID })
	return r.Value
}

// UsualDrop returns the share of volts usually allowed to be lost at a supply
// of so many volts: that of the nearest class.
func (t LightTables) UsualDrop(volts float64) Rated {
	var out Rated
	best := math.Inf(1)
	for _, v := range t.Volts {
		if d := math.Abs(v.Volts.Value - volts); d < best {
			best, out = d, v.Drop
		}
	}
	return out
}

func row[T any](rows []T, id string, name func(T) string) (T, bool) {
	for _, r := range rows {
		if name(r) == id {
			return r, true
		}
	}
	var none T
	return none, false
}

// With returns the tables with own's rows in them: a row whose id is there
// stands in for it, others are added. Fuses and volts replace the whole list.
func (t LightTables) With(own LightTables) LightTables {
	t.Strips = mixed(t.Strips, own.Strips, func(r StripType) string { return r.ID })
	t.Wires = mixed(t.Wires, own.Wires, func(r WireSize) string { return r.ID })
	t.Supplies = mixed(t.Supplies, own.Supplies, func(r SupplyClass) string { return r.ID })
	t.Controllers = mixed(t.Controllers, own.Controllers, func(r ControllerClass) string { return r.ID })
	t.Limited = mixed(t.Limited, own.Limited, func(r LimitedSource) string { return r.ID })
	t.Practice = mixed(t.Practice, own.Practice, func(r PracticeValue) string { return r.ID })
	if len(own.Fuses) > 0 {
		t.Fuses = own.Fuses
	}
	if len(own.Volts) > 0 {
		t.Volts = own.Volts
	}
	return t
}

func mixed[T any](rows, own []T, name func(T) string) []T {
	if len(own) == 0 {
		return rows
	}
	out := append([]T(nil), rows...)
next:
	for _, r := range own {
		for i := range out {
			if name(out[i]) == name(r) {
				out[i] = r
				continue next
			}
		}
		out = append(out, r)
	}
	return out
}
