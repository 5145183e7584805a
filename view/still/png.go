package still

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fact is a line of text that a picture carries inside, such as the job's name.
type Fact struct {
	// Key is its name, 1 to 79 letters of Latin-1 without blanks at its ends, such
	// as "Title", "Creation Time" or "Software", which the standard names.
	Key  string
	Text string
}

// WritePNG writes a picture as PNG (ISO/IEC 15948) with facts inside: as tEXt
// chunks, which every reader knows, and as iTXt in UTF-8 where a text needs more
// letters than Latin-1 has. It says that its colours are sRGB. Equal pictures
// and facts give equal bytes.
func WritePNG(w io.Writer, img image.Image, facts []Fact) error {
	var plain bytes.Buffer
	e := png.Encoder{CompressionLevel: png.DefaultCompression}
	if err := e.Encode(&plain, img); err != nil {
		return fmt.Errorf("make the picture a PNG: %w", err)
	}
	// The signature and the header come first, 8 and 4+4+13+4 bytes; text may
	// follow at once.
	const head = 8 + 25
	data := plain.Bytes()
	if len(data) < head {
		return errors.New("make the picture a PNG: it has no header")
	}
	var out bytes.Buffer
	out.Write(data[:head])
	chunk(&out, "sRGB", []byte{0}) // perceptual
	for _, f := range facts {
		name, body, err := f.chunk()
		if err != nil {
			return err
		}
		chunk(&out, name, body)
	}
	out.Write(data[head:])
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("write the picture: %w", err)
	}
	return nil
}

// chunk appends a chunk: its length, name, body and check.
func chunk(b *bytes.Buffer, name string, body []byte) {
	var n [4]byte
	binary.BigEndian.PutUint32(n[:], uint32(len(body)))
	b.Write(n[:])
	sum := crc32.NewIEEE()
	both := io.MultiWriter(b, sum)
	both.Write([]byte(name))
	both.Write(body)
	binary.BigEndian.PutUint32(n[:], sum.Sum32())
	b.Write(n[:])
}

// chunk returns the name and the body of the fact's chunk.
func (f Fact) chunk() (name string, body []byte, err error) {
	if f.Key == "" || utf8.RuneCountInString(f.Key) > 79 || strings.TrimSpace(f.Key) != f.Key || strings.Contains(f.Key, "  ") {
		return "", nil, fmt.Errorf("a PNG cannot carry a text named %q: give 1 to 79 letters without blanks at the ends", f.Key)
	}
	key, ok := latin(f.Key)
	if !ok || strings.Contains(f.Key, "\n") {
		return "", nil, fmt.Errorf("a PNG cannot carry a text named %q: use letters of Latin-1", f.Key)
	}
	// No text has a zero in it.
	text := strings.ReplaceAll(strings.ToValidUTF8(f.Text, "\ufffd"), "\x00", "")
	if plain, ok := latin(text); ok {
		return "tEXt", append(append(key, 0), plain...), nil
	}
	// Not compressed, method 0; no language; no other name.
	return "iTXt", append(append(key, 0, 0, 0, 0, 0), text...), nil
}

// latin returns a text in Latin-1, and whether it is one.
func latin(s string) ([]byte, bool) {
	var b []byte
	for _, r := range s {
		if r > unicode.MaxLatin1 || !unicode.IsPrint(r) && r != '\n' {
			return nil, false
		}
		b = append(b, byte(r))
	}
	return b, true
}
