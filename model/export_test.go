package model

import "encoding/binary"

// MendedJournal puts the numbers and sums of the records in data right, so that
// damage reaches what lies behind them.
func MendedJournal(data []byte) []byte {
	const head = len(journalMagic) + 2
	if len(data) < head {
		return data
	}
	out := append([]byte(nil), data[:head]...)
	var j Journal
	for in := data[head:]; len(in) > 8; {
		n := min(uint64(binary.LittleEndian.Uint32(in)), uint64(len(in)-8))
		f := fields{left: in[8 : 8+n]}
		in = in[8+n:]
		f.number()
		kind := recordKind(f.byte())
		at := f.signed()
		body := binary.AppendVarint(append(binary.AppendUvarint(nil, j.number+1), byte(kind)), at)
		rest := append([]byte(nil), f.left...)
		if kind >= pastRecord && kind <= redoRecord && kind != seenRecord && len(j.States) > 0 {
			f.text()
			f.end()
			if text, err := patch(j.Text(), f.left, MaxFileBytes); err == nil && !f.bad {
				binary.LittleEndian.PutUint32(rest[len(rest)-4:], textSum(text))
			}
		}
		body = append(body, rest...)
		out = append(out, record(body)...)
		if j.take(body) != nil {
			break
		}
	}
	return out
}
