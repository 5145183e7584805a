package walk

import (
	"encoding/binary"
	"errors"
	"fmt"

	"risewright/model"
)

// The layout of the tables as bytes, numbers with their low byte first. The C
// core reads the same places; the last two bytes are a check sum.
const (
	codeMagic   = 0x52
	codeVersion = 1
	atCounts    = 2   // bars, sensors, scenes
	atSmall     = 5   // dwell, reach, first and far steps of an end, flags, dim, full
	atTimes     = 12  // thirteen of 16 bits
	atRevert    = 38  // 32 bits
	atWalk      = 42  // four channels
	atGamma     = 46  // 256
	atClip      = 302 // one more than bars
	sensorBytes = 20
	sceneBytes  = 40
)

// Section is a part of the tables as bytes, with words for whoever reads them.
type Section struct {
	Words string
	Bytes []byte
}

// Sections returns the tables as bytes, part by part, the check sum last.
func (t *Tables) Sections() []Section {
	var out []Section
	var all []byte
	add := func(words string, b ...byte) {
		out = append(out, Section{words, b})
		all = append(all, b...)
	}
	le := binary.LittleEndian
	flags := byte(0)
	if t.TwoTriggers {
		flags |= 1
	}
	if t.Daylight {
		flags |= 2
	}
	add("mark and version", codeMagic, codeVersion)
	add("bars, sensors, scenes", t.Bars, byte(len(t.Sensors)), byte(len(t.Scenes)))
	add("dwell, reach, first and far steps of an end, flags, dim, full", t.Dwell, t.Reach, t.EndFirst, t.FarEnd, flags, t.Dim, t.Full)
	var b []byte
	for _, v := range []uint16{t.TickMS, t.Warm, t.Still, t.Stuck, t.AllOn, t.Keep, t.Order, t.Hall, t.Run, t.Late, t.Part, t.Rise, t.Fall} {
		b = le.AppendUint16(b, v)
	}
	add("tick in ms; warm, still, stuck, all on, keep, order, hall, run, late, part in ticks; rise, fall", b...)
	add("end of a seasonal scene, ticks", le.AppendUint32(nil, t.Revert)...)
	add("colour for those who walk", t.Walk.bytes()...)
	add("share of full by brightness", t.Gamma[:]...)
	add("highest brightness by the number of bars that are more than dim", t.Clip[:int(t.Bars)+1]...)
	for i := range t.Sensors {
		s := &t.Sensors[i]
		b := []byte{s.Input, s.Sure[0], s.Sure[1], s.May[0], s.May[1], s.End}
		for _, w := range s.Window {
			b = append(b, w[0], w[1])
		}
		for _, v := range []uint16{s.Quiet, s.Trail, s.RunUp, s.RunDown} {
			b = le.AppendUint16(b, v)
		}
		add(fmt.Sprintf("sensor %d: input, sure, may, end, windows not known, from below, from above; quiet, trail, runs up, down", i), b...)
	}
	for i := range t.Scenes {
		s := &t.Scenes[i]
		b := []byte{byte(s.Kind), s.Index, byte(s.Pattern), byte(len(s.Colours))}
		b = le.AppendUint32(b, s.Period)
		for k := range model.MaxColours {
			var c Colour
			if k < len(s.Colours) {
				c = s.Colours[k]
			}
			b = append(b, c.bytes()...)
		}
		add(fmt.Sprintf("scene %d: kind, brightness, pattern, colours, period in ticks, red green blue white", i), b...)
	}
	add("check sum", le.AppendUint16(nil, sum16(all))...)
	return out
}

// Bytes returns the tables as bytes.
func (t *Tables) Bytes() []byte {
	var out []byte
	for _, s := range t.Sections() {
		out = append(out, s.Bytes...)
	}
	return out
}

func (c Colour) bytes() []byte { return []byte{c.R, c.G, c.B, c.W} }

// sum16 is the check sum: CRC-16 with the polynomial 0x1021, begun with 0xFFFF
// (ITU-T V.41's, as CCITT-FALSE).
func sum16(b []byte) uint16 {
	crc := uint16(0xFFFF)
	for _, x := range b {
		crc ^= uint16(x) << 8
		for range 8 {
			if crc&0x8000 != 0 {
				crc = crc<<1 ^ 0x1021
			} else {
				crc <<= 1
			}
		}
	}
	return crc
}

// ErrDamaged says that tables as bytes are not what Bytes made.
var ErrDamaged = errors.New("the controller's tables are damaged, or of another version; write them again")

// Read returns the tables that Bytes made.
func Read(b []byte) (*Tables, error) {
	if len(b) < atClip+2 || b[0] != codeMagic || b[1] != codeVersion {
		return nil, ErrDamaged
	}
	bars, sensors, scenes := int(b[atCounts]), int(b[atCounts+1]), int(b[atCounts+2])
	if bars < 2 || bars > MaxBars || sensors > MaxSensors || scenes < 1 || scenes > MaxScenes ||
		len(b) != atClip+bars+1+sensors*sensorBytes+scenes*sceneBytes+2 {
		return nil, ErrDamaged
	}
	le := binary.LittleEndian
	if sum16(b[:len(b)-2]) != le.Uint16(b[len(b)-2:]) {
		return nil, ErrDamaged
	}
	s := b[atSmall:]
	t := &Tables{Bars: uint8(bars), Dwell: s[0], Reach: s[1], EndFirst: s[2], FarEnd: s[3], TwoTriggers: s[4]&1 != 0, Daylight: s[4]&2 != 0, Dim: s[5], Full: s[6]}
	for i, v := range []*uint16{&t.TickMS, &t.Warm, &t.Still, &t.Stuck, &t.AllOn, &t.Keep, &t.Order, &t.Hall, &t.Run, &t.Late, &t.Part, &t.Rise, &t.Fall} {
		*v = le.Uint16(b[atTimes+2*i:])
	}
	t.Revert = le.Uint32(b[atRevert:])
	t.Walk = colourAt(b[atWalk:])
	copy(t.Gamma[:], b[atGamma:])
	copy(t.Clip[:], b[atClip:atClip+bars+1])
	rest := b[atClip+bars+1:]
	for range sensors {
		row := Sensor{Input: rest[0], Sure: [2]uint8(rest[1:3]), May: [2]uint8(rest[3:5]), End: rest[5]}
		for w := range row.Window {
			row.Window[w] = [2]uint8(rest[6+2*w:])
		}
		for i, v := range []*uint16{&row.Quiet, &row.Trail, &row.RunUp, &row.RunDown} {
			*v = le.Uint16(rest[12+2*i:])
		}
		t.Sensors, rest = append(t.Sensors, row), rest[sensorBytes:]
	}
	for range scenes {
		row := Scene{Kind: SceneKind(rest[0]), Index: rest[1], Pattern: Pattern(rest[2]), Period: le.Uint32(rest[4:])}
		for k := range min(int(rest[3]), model.MaxColours) {
			row.Colours = append(row.Colours, colourAt(rest[8+4*k:]))
		}
		t.Scenes, rest = append(t.Scenes, row), rest[sceneBytes:]
	}
	return t, nil
}

func colourAt(b []byte) Colour { return Colour{b[0], b[1], b[2], b[3]} }
