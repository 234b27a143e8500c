package main

import (
	"image"
	"image/color"
	"math"
)

// The mark: a tide staff in the water, its tenths in alternating blocks, dark on the
// paper above the water and light below it. Drawn here so that no picture file has to
// be kept in step with the colours.

var (
	paper = color.NRGBA{0xFB, 0xFA, 0xF6, 0xFF}
	water = color.NRGBA{0x0B, 0x4F, 0x6C, 0xFF}
	shoal = color.NRGBA{0xD5, 0xE8, 0xEC, 0xFF}
	ink   = color.NRGBA{0x12, 0x21, 0x2B, 0xFF}
)

type icon struct {
	name, file string
	pixels     int
	inset      float64 // how far the drawing keeps from the edge, as a share of the side
}

// icons lists what phones ask for. A maskable icon may be cut to a circle of 0.8 of its
// side, so its drawing keeps further from the edge (W3C, Web Application Manifest,
// "Icon masks and safe zone").
func icons() []icon {
	return []icon{
		{"32", "icon-32.png", 32, 0.04},
		{"180", "icon-180.png", 180, 0.10},
		{"192", "icon-192.png", 192, 0.08},
		{"512", "icon-512.png", 512, 0.08},
		{"MASKABLE", "icon-maskable.png", 512, 0.20},
	}
}

// draw paints the mark with each pixel the mean of 4 × 4 samples.
func (i icon) draw() image.Image {
	const samples = 4
	img := image.NewNRGBA(image.Rect(0, 0, i.pixels, i.pixels))
	for y := range i.pixels {
		for x := range i.pixels {
			var r, g, b int
			for k := range samples * samples {
				u := (float64(x) + (float64(k%samples)+0.5)/samples) / float64(i.pixels)
				v := (float64(y) + (float64(k/samples)+0.5)/samples) / float64(i.pixels)
				c := i.at(u, v)
				r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
			}
			n := samples * samples
			img.SetNRGBA(x, y, color.NRGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xFF})
		}
	}
	return byPalette(img)
}

// byPalette is the same picture by a palette, a third smaller as a file, where it has few
// enough colours.
func byPalette(img *image.NRGBA) image.Image {
	out := image.NewPaletted(img.Bounds(), nil)
	indices := map[color.NRGBA]uint8{}
	for i := range out.Pix {
		c := color.NRGBA{img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3]}
		index, known := indices[c]
		if !known {
			if len(out.Palette) == 256 {
				return img
			}
			index = uint8(len(out.Palette))
			indices[c], out.Palette = index, append(out.Palette, c)
		}
		out.Pix[i] = index
	}
	return out
}

// at is the colour at (u, v), both from 0 to 1, v downwards.
func (i icon) at(u, v float64) color.NRGBA {
	surface := 0.60 + 0.025*math.Sin(u*4*math.Pi)
	ground := paper
	if v > surface {
		ground = water
	}
	// The staff: nine blocks by turns on its left and right half.
	side := 1 - 2*i.inset
	su, sv := (u-0.5)/side, (v-i.inset)/side
	if math.Abs(su) > 0.20 || sv < 0 || sv > 1 {
		return ground
	}
	dark, light := ink, paper
	if v > surface {
		dark, light = shoal, water
	}
	block := int(sv * 9)
	if math.Abs(su) > 0.17 || (su < 0) == (block%2 == 0) {
		return dark
	}
	return light
}
