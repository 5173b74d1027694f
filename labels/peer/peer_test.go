package peer

import (
	"image"
	"image/color"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// bar is white with a black bar from 10 to 20.
func bar() *image.Gray {
	m := image.NewGray(image.Rect(0, 0, 40, 30))
	for i := range m.Pix {
		m.Pix[i] = 255
		if x := i % m.Stride; x >= 10 && x < 20 {
			m.Pix[i] = 0
		}
	}
	return m
}

// Black grows: the bar is wider than it was where half grey is the border.
func TestBlurSoftensAndGrowsBlack(t *testing.T) {
	b := Blur(bar(), 1)
	wide := 0
	for x := range 40 {
		if b.GrayAt(x, 15).Y < 128 {
			wide++
		}
	}
	require.GreaterOrEqual(t, wide, 10)
	require.Less(t, b.GrayAt(9, 15).Y, uint8(200))
	require.Greater(t, b.GrayAt(10, 15).Y, uint8(20))
	require.Equal(t, uint8(255), b.GrayAt(35, 15).Y)
	sum := 0.0
	for _, w := range gauss(1.7) {
		sum += w
	}
	require.InDelta(t, 1, sum, 1e-9)
}

func TestSmudgeAndCrop(t *testing.T) {
	s := Smudge(bar(), 30, 15, 3)
	require.Equal(t, color.Gray{Y: 30}, s.GrayAt(30, 15))
	require.Equal(t, color.Gray{Y: 255}, s.GrayAt(34, 15))
	c := Crop(s, image.Rect(10, 10, 20, 12), 4)
	require.Equal(t, image.Rect(0, 0, 18, 10), c.Rect)
	require.Equal(t, color.Gray{Y: 255}, c.GrayAt(3, 5))
	require.Equal(t, color.Gray{Y: 0}, c.GrayAt(4, 4))
	info, err := os.Stat(Save(t, c))
	require.NoError(t, err)
	require.Positive(t, info.Size())
}
