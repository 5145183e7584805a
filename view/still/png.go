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

// WritePNG writes a picture as PNG with facts inside, as iTXt chunks in UTF-8
// (PNG, ISO/IEC 15948, 11.3.4.5), and says that its colours are sRGB (11.3.3.5).
// Equal pictures and facts give equal bytes.
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
		body, err := f.chunk()
		if err != nil {
			return err
		}
		chunk(&out, "iTXt", body)
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

// chunk returns the body of the fact's chunk.
func (f Fact) chunk() ([]byte, error) {
	if f.Key == "" || utf8.RuneCountInString(f.Key) > 79 || strings.TrimSpace(f.Key) != f.Key || strings.Contains(f.Key, "  ") {
		return nil, fmt.Errorf("a PNG cannot carry a text named %q: give 1 to 79 letters without blanks at the ends", f.Key)
	}
	var b bytes.Buffer
	for _, r := range f.Key {
		if r > unicode.MaxLatin1 || !unicode.IsPrint(r) {
			return nil, fmt.Errorf("a PNG cannot carry a text named %q: %q is not a letter of Latin-1", f.Key, r)
		}
		b.WriteByte(byte(r))
	}
	// End of the name; not compressed, method 0; no language; no other name.
	b.Write([]byte{0, 0, 0, 0, 0})
	// The text is UTF-8 and has no zero in it.
	b.WriteString(strings.ReplaceAll(strings.ToValidUTF8(f.Text, "\ufffd"), "\x00", ""))
	return b.Bytes(), nil
}
