package panel

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"risewright/model"
)

// lightTable says how the rows of one electrical table are read and changed. Its
// functions change lists by putting new ones in their place.
type lightTable struct {
	id, name string
	whole    bool // the job's own list stands in for the whole shipped one
	rows     func(model.LightTables) (ids, titles []string)
	used     func(*model.Lighting) string
	cells    []lightCell
	reset    func(own *model.LightTables, row string)
	// add returns the id of the new row; nil where rows have a meaning of their
	// own. remove does not ask whether the row is used.
	add    func(own *model.LightTables, base, all model.LightTables, like string) string
	remove func(own *model.LightTables, base model.LightTables, row string)
}

// lightCell is one value of a row, as text. An empty text put is the shipped
// value, where there is one.
type lightCell struct {
	id, name, unit string
	unitOf         func(t model.LightTables, row string) string
	flag           bool
	free           bool // words, whose figures stay as they are
	get            func(t model.LightTables, row string) (string, model.Rated)
	put            func(own *model.LightTables, base, all model.LightTables, row, text string) error
}

// yes is the text of a flag that is set.
const yes = "yes"

// cellOf is a cell of rows of one type: one of its functions is set.
type cellOf[R any] struct {
	id, name, unit string
	least, most    float64
	scale          float64 // shown times this; 0 means 1
	rated          func(*R) *model.Rated
	count          func(*R) *int
	text           func(*R) *string
	flag           func(*R) *bool
}

// tableOf makes a table of rows that have an id.
func tableOf[R any](id, name string, list func(*model.LightTables) *[]R, key func(*R) (id, title *string), used func(*model.Lighting) string, cells []cellOf[R]) lightTable {
	find := func(t model.LightTables, row string) (R, bool) {
		for _, r := range *list(&t) {
			if k, _ := key(&r); *k == row {
				return r, true
			}
		}
		var none R
		return none, false
	}
	put := func(own *model.LightTables, r R) {
		at, rows := list(own), slices.Clone(*list(own))
		id, _ := key(&r)
		for i := range rows {
			if k, _ := key(&rows[i]); *k == *id {
				rows[i] = r
				*at = rows
				return
			}
		}
		*at = append(rows, r)
	}
	drop := func(own *model.LightTables, row string) {
		at := list(own)
		var rows []R
		for _, r := range *at {
			if k, _ := key(&r); *k != row {
				rows = append(rows, r)
			}
		}
		*at = rows
	}
	t := lightTable{id: id, name: name, used: used, reset: drop,
		rows: func(t model.LightTables) (ids, titles []string) {
			for _, r := range *list(&t) {
				id, title := key(&r)
				ids, titles = append(ids, *id), append(titles, *title)
			}
			return ids, titles
		},
		remove: func(own *model.LightTables, _ model.LightTables, row string) { drop(own, row) },
		add: func(own *model.LightTables, _, all model.LightTables, like string) string {
			r, ok := find(all, like)
			if !ok {
				return ""
			}
			var ids []string
			for _, o := range *list(&all) {
				k, _ := key(&o)
				ids = append(ids, *k)
			}
			k, title := key(&r)
			from := "as " + *title
			*k, *title = freeID(ids), *title+", own"
			for _, c := range cells {
				if c.rated != nil {
					v := c.rated(&r)
					v.Standing, v.From = model.Yours, from
				}
			}
			put(own, r)
			return *k
		},
	}
	for _, c := range cells {
		scale := c.scale
		if scale == 0 {
			scale = 1
		}
		t.cells = append(t.cells, lightCell{id: c.id, name: c.name, unit: c.unit, flag: c.flag != nil, free: c.text != nil,
			get: func(t model.LightTables, row string) (string, model.Rated) {
				r, ok := find(t, row)
				switch {
				case !ok:
					return "", model.Rated{}
				case c.rated != nil:
					v := *c.rated(&r)
					return plainNumber(v.Value * scale), v
				case c.count != nil:
					return strconv.Itoa(*c.count(&r)), model.Rated{}
				case c.text != nil:
					return *c.text(&r), model.Rated{}
				case *c.flag(&r):
					return yes, model.Rated{}
				}
				return "no", model.Rated{}
			},
			put: func(own *model.LightTables, base, all model.LightTables, row, text string) error {
				r, ok := find(all, row)
				if !ok {
					return fmt.Errorf("the row is no longer there")
				}
				old, shipped := find(base, row)
				if err := c.set(&r, &old, shipped, text, scale); err != nil {
					return err
				}
				if shipped && reflect.DeepEqual(r, old) {
					drop(own, row)
					return nil
				}
				put(own, r)
				return nil
			}})
	}
	return t
}

// set puts a text into a row. old is the shipped row, where there is one.
func (c *cellOf[R]) set(r, old *R, shipped bool, text string, scale float64) error {
	if text == "" && !shipped {
		return fmt.Errorf("this row is not shipped: give a value")
	}
	switch {
	case c.text != nil:
		if text == "" {
			text = *c.text(old)
		}
		if len(text) > model.MaxText {
			return fmt.Errorf("the title is too long")
		}
		*c.text(r) = text
	case c.flag != nil:
		*c.flag(r) = text == yes
	case c.count != nil:
		if text == "" {
			*c.count(r) = *c.count(old)
			return nil
		}
		n, err := strconv.Atoi(text)
		if err != nil || float64(n) < c.least || float64(n) > c.most {
			return fmt.Errorf("%q is no whole number from %g to %g; type one, as figures alone", text, c.least, c.most)
		}
		*c.count(r) = n
	default:
		if text == "" {
			*c.rated(r) = *c.rated(old)
			return nil
		}
		v, doubt := readFigure(text)
		if doubt != nil {
			return doubt
		}
		if !(v >= c.least && v <= c.most) {
			return rangeError(text, c.least, c.most)
		}
		if shipped && plainNumber(v) == plainNumber(c.rated(old).Value*scale) {
			*c.rated(r) = *c.rated(old) // its standing too
			return nil
		}
		*c.rated(r) = model.Rated{Value: v / scale, Standing: model.Yours}
	}
	return nil
}

// plainNumber writes a number as short as it goes, to nine figures.
func plainNumber(v float64) string {
	text := strconv.FormatFloat(v, 'g', 9, 64)
	if strings.Contains(text, "e") {
		if n, err := strconv.ParseFloat(text, 64); err == nil {
			text = strconv.FormatFloat(n, 'f', -1, 64)
		}
	}
	return text
}

// upTo is no limit that anyone would reach.
const upTo = 1e9

// tiny stands for above nil.
const tiny = 1e-9

// lightTables are the tables that can be changed.
func lightTables() []lightTable {
	rated := func(id, name, unit string, least, most float64) cellOf[model.StripType] {
		return cellOf[model.StripType]{id: id, name: name, unit: unit, least: least, most: most, rated: named(id, (*model.StripType).Rated)}
	}
	count := func(id, name string, most float64, at func(*model.StripType) *int) cellOf[model.StripType] {
		return cellOf[model.StripType]{id: id, name: name, least: 1, most: most, count: at}
	}
	strips := tableOf("strips", "LED strips", func(t *model.LightTables) *[]model.StripType { return &t.Strips },
		func(r *model.StripType) (id, title *string) { return &r.ID, &r.Title },
		func(l *model.Lighting) string { return l.Strip },
		[]cellOf[model.StripType]{
			{id: "title", name: "Name", text: func(r *model.StripType) *string { return &r.Title }},
			rated("volts", "Voltage", "V", tiny, 1000),
			rated("pixels_per_metre", "Pixels to the metre", "", tiny, 10_000),
			count("leds_per_pixel", "LEDs of a pixel", 1000, func(r *model.StripType) *int { return &r.LEDsPerPixel }),
			count("cut_pixels", "Cut after every", 1000, func(r *model.StripType) *int { return &r.CutPixels }),
			count("channels", "Channels of a pixel", 8, func(r *model.StripType) *int { return &r.Channels }),
			rated("channel_ma", "A channel at full", "mA", tiny, 10_000),
			rated("idle_ma", "A dark pixel", "mA", 0, 10_000),
			rated("trace_ohm", "Traces, out and back", "ohm/m", 0, 1000),
			rated("reel_metre", "Longest piece sold", "m", tiny, 1000),
			rated("full_volts", "Full current down to", "V", 0, 1000),
			rated("dark_volts", "Nothing flows at", "V", 0, 1000),
			rated("colour_volts", "Colour holds down to", "V", 0, 1000),
			{id: "addressed", name: "Pixels take data", flag: func(r *model.StripType) *bool { return &r.Addressed }},
			rated("data_volts", "Data reads high from", "V", 0, 1000),
			rated("bit_us", "A bit of data", "µs", 0, 10_000),
			rated("latch_us", "Latch", "µs", 0, 1_000_000),
		})
	wire := func(id, name, unit string, most float64) cellOf[model.WireSize] {
		return cellOf[model.WireSize]{id: id, name: name, unit: unit, least: tiny, most: most, rated: named(id, (*model.WireSize).Rated)}
	}
	wires := tableOf("wires", "Wires", func(t *model.LightTables) *[]model.WireSize { return &t.Wires },
		func(r *model.WireSize) (id, title *string) { return &r.ID, &r.Title },
		func(l *model.Lighting) string { return l.Wires.Bus },
		[]cellOf[model.WireSize]{
			{id: "title", name: "Name", text: func(r *model.WireSize) *string { return &r.Title }},
			wire("area_mm2", "Section", "mm²", 1000),
			wire("ohm_per_km", "Resistance at 20 °C", "ohm/km", 1e6),
			wire("rating", "Rating in a bundle", "A", 1000),
			wire("fuse_most", "Largest fuse before it", "A", 1000),
		})
	supply := func(id, name, unit string, scale, least, most float64) cellOf[model.SupplyClass] {
		return cellOf[model.SupplyClass]{id: id, name: name, unit: unit, scale: scale, least: least, most: most, rated: named(id, (*model.SupplyClass).Rated)}
	}
	supplies := tableOf("supplies", "Supplies", func(t *model.LightTables) *[]model.SupplyClass { return &t.Supplies },
		func(r *model.SupplyClass) (id, title *string) { return &r.ID, &r.Title },
		func(l *model.Lighting) string { return l.Supply },
		[]cellOf[model.SupplyClass]{
			{id: "title", name: "Name", text: func(r *model.SupplyClass) *string { return &r.Title }},
			supply("volts", "Voltage", "V", 1, tiny, 1000),
			supply("amps", "Rated current", "A", 1, tiny, 10_000),
			supply("efficiency", "Efficiency", "%", 100, 1, 100),
			supply("no_load_watts", "With nothing lit", "W", 1, 0, 10_000),
			{id: "limited", name: "Limited source", flag: func(r *model.SupplyClass) *bool { return &r.Limited }},
		})
	control := func(id, name, unit string, least float64) cellOf[model.ControllerClass] {
		return cellOf[model.ControllerClass]{id: id, name: name, unit: unit, least: least, most: upTo, rated: named(id, (*model.ControllerClass).Rated)}
	}
	controllers := tableOf("controllers", "Controllers", func(t *model.LightTables) *[]model.ControllerClass { return &t.Controllers },
		func(r *model.ControllerClass) (id, title *string) { return &r.ID, &r.Title },
		func(l *model.Lighting) string { return l.Controller },
		[]cellOf[model.ControllerClass]{
			{id: "title", name: "Name", text: func(r *model.ControllerClass) *string { return &r.Title }},
			control("memory", "Working memory", "bytes", 1),
			control("kept", "Kept by the program", "bytes", 0),
			control("pins", "Pins free for outputs", "", 1),
			control("lines", "Data lines at once", "", 1),
			control("logic", "Output level", "V", tiny),
			control("pin_ma", "Most from one output", "mA", 0),
			control("all_ma", "Most from all", "mA", 0),
			{id: "blocks", name: "Sends and does nothing else", flag: func(r *model.ControllerClass) *bool { return &r.Blocks }},
		})
	practice := tableOf("practice", "Figures of practice", func(t *model.LightTables) *[]model.PracticeValue { return &t.Practice },
		func(r *model.PracticeValue) (id, title *string) { return &r.ID, &r.Title },
		func(*model.Lighting) string { return "continuous" },
		[]cellOf[model.PracticeValue]{{id: "value", name: "Value", most: upTo, rated: func(r *model.PracticeValue) *model.Rated { return &r.Value }}})
	practice.add = nil
	practice.cells[0].unitOf = func(t model.LightTables, row string) string {
		for _, r := range t.Practice {
			if r.ID == row && r.Unit != "1" {
				return r.Unit
			}
		}
		return ""
	}
	return []lightTable{strips, wires, fuseTable(), supplies, controllers, practice}
}

// named returns the value of a row by its name.
func named[R any](id string, list func(*R) []model.NamedRated) func(*R) *model.Rated {
	return func(r *R) *model.Rated {
		for _, v := range list(r) {
			if v.Name == id {
				return v.At
			}
		}
		panic("no value " + id) // cannot occur: a test reads every cell
	}
}

// fuseTable is the list of fuses, which have no names but their ratings.
func fuseTable() lightTable {
	at := func(t model.LightTables, row string) int {
		i, err := strconv.Atoi(row)
		if err != nil || i < 0 || i >= len(t.Fuses) {
			return -1
		}
		return i
	}
	sorted := func(fs []model.Rated) []model.Rated {
		slices.SortStableFunc(fs, func(a, b model.Rated) int { return cmp.Compare(a.Value, b.Value) })
		return fs
	}
	return lightTable{id: "fuses", name: "Fuses", whole: true,
		used: func(*model.Lighting) string { return "0" },
		rows: func(t model.LightTables) (ids, titles []string) {
			for i, f := range t.Fuses {
				ids, titles = append(ids, strconv.Itoa(i)), append(titles, plainNumber(f.Value)+" A")
			}
			return ids, titles
		},
		reset: func(own *model.LightTables, _ string) { own.Fuses = nil },
		remove: func(own *model.LightTables, base model.LightTables, row string) {
			all := base.With(*own)
			if i := at(all, row); i >= 0 && len(all.Fuses) > 1 {
				own.Fuses = slices.Delete(slices.Clone(all.Fuses), i, i+1)
			}
		},
		add: func(own *model.LightTables, _, all model.LightTables, like string) string {
			i := at(all, like)
			if i < 0 {
				return ""
			}
			next := 2 * all.Fuses[len(all.Fuses)-1].Value
			if i+1 < len(all.Fuses) {
				next = math.Round(10*(all.Fuses[i].Value+all.Fuses[i+1].Value)/2) / 10
			}
			own.Fuses = slices.Insert(slices.Clone(all.Fuses), i+1, model.Rated{Value: next, Standing: model.Yours})
			return strconv.Itoa(i + 1)
		},
		cells: []lightCell{{id: "value", name: "Rating", unit: "A",
			get: func(t model.LightTables, row string) (string, model.Rated) {
				if i := at(t, row); i >= 0 {
					return plainNumber(t.Fuses[i].Value), t.Fuses[i]
				}
				return "", model.Rated{}
			},
			put: func(own *model.LightTables, base, all model.LightTables, row, text string) error {
				i := at(all, row)
				if i < 0 {
					return fmt.Errorf("the fuse is no longer there")
				}
				v, doubt := readFigure(text)
				if doubt != nil {
					return doubt
				}
				if !(v >= tiny && v <= 1000) {
					return rangeError(text, 0, 1000)
				}
				own.Fuses = slices.Clone(all.Fuses)
				own.Fuses[i] = model.Rated{Value: v, Standing: model.Yours}
				own.Fuses = sorted(own.Fuses)
				if reflect.DeepEqual(own.Fuses, base.Fuses) {
					own.Fuses = nil
				}
				return nil
			}}},
	}
}
