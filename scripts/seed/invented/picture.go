package invented

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
)

// hues are colours that a group is painted in.
var hues = map[string]color.RGBA{
	"greens": {72, 140, 60, 255}, "reds": {130, 40, 60, 255}, "browns": {110, 84, 40, 255}, "calcareous": {210, 160, 170, 255},
	"crabs": {150, 90, 60, 255}, "hermits": {170, 110, 70, 255}, "snails": {90, 84, 78, 255}, "bivalves": {50, 56, 84, 255},
	"echinoderms": {190, 100, 60, 255}, "fish": {120, 110, 90, 255},
}

// picture paints a small photo: something of the group's colour on wet sand.
func (m *maker) picture(group string) []byte {
	const width, height = 320, 240
	hue, ok := hues[group]
	if !ok {
		hue = color.RGBA{140, 140, 130, 255}
	}
	type blob struct{ x, y, rx, ry, cos, sin float64 }
	var blobs []blob
	for range 3 + m.IntN(6) {
		sin, cos := math.Sincos(math.Pi * m.Float64())
		blobs = append(blobs, blob{160 + 50*m.NormFloat64(), 120 + 35*m.NormFloat64(), 12 + 40*m.Float64(), 8 + 20*m.Float64(), cos, sin})
	}
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			c := color.RGBA{uint8(186 - y/8), uint8(172 - y/8), uint8(146 - y/10), 255}
			for i, b := range blobs {
				dx, dy := float64(x)-b.x, float64(y)-b.y
				u, v := (dx*b.cos+dy*b.sin)/b.rx, (dy*b.cos-dx*b.sin)/b.ry
				if u*u+v*v < 1 {
					shade := 1 - 0.3*(u*u+v*v) + 0.05*float64(i%3)
					c = color.RGBA{uint8(math.Min(255, float64(hue.R)*shade)), uint8(math.Min(255, float64(hue.G)*shade)), uint8(math.Min(255, float64(hue.B)*shade)), 255}
				}
			}
			picture.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: 70}); err != nil {
		m.err = errors.Join(m.err, err)
	}
	return b.Bytes()
}
