package page

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"io"
	"math"
)

// WritePNG writes the dots as a PNG of one bit a dot that knows its size on
// paper: perMm dots to the millimetre.
func (b *Bitmap) WritePNG(w io.Writer, perMm float64) error {
	out := chunks{w: w}
	out.write([]byte("\x89PNG\r\n\x1a\n"))
	head := make([]byte, 13)
	binary.BigEndian.PutUint32(head[0:], uint32(b.Rect.Dx()))
	binary.BigEndian.PutUint32(head[4:], uint32(b.Rect.Dy()))
	head[8] = 1 // one bit, grey, no interlacing
	out.chunk("IHDR", head)
	size := make([]byte, 9)
	perMetre := uint32(math.Round(perMm * 1000))
	binary.BigEndian.PutUint32(size[0:], perMetre)
	binary.BigEndian.PutUint32(size[4:], perMetre)
	size[8] = 1
	out.chunk("pHYs", size)
	out.chunk("IDAT", b.compressed())
	out.chunk("IEND", nil)
	return out.err
}

// compressed is the rows, each as its difference to the one above, which makes
// bars nothing.
func (b *Bitmap) compressed() []byte {
	var buf bytes.Buffer
	z, err := zlib.NewWriterLevel(&buf, zlib.BestSpeed)
	if err != nil {
		panic("unreachable: " + err.Error())
	}
	row := make([]byte, b.stride+1)
	above := make([]byte, b.stride)
	for y := range b.Rect.Dy() {
		this := b.bits[y*b.stride : (y+1)*b.stride]
		row[0] = 2 // filter: up
		for i := range this {
			row[i+1] = this[i] - above[i]
		}
		z.Write(row) // a bytes.Buffer takes everything
		above = this
	}
	z.Close()
	return buf.Bytes()
}

type chunks struct {
	w   io.Writer
	err error
}

func (c *chunks) write(p []byte) {
	if c.err == nil {
		_, c.err = c.w.Write(p)
	}
}

func (c *chunks) chunk(name string, data []byte) {
	body := append([]byte(name), data...)
	c.write(binary.BigEndian.AppendUint32(nil, uint32(len(data))))
	c.write(body)
	c.write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(body)))
}
