package station_test

import (
	"testing"

	"wrackbook/internal/station"
	"wrackbook/internal/station/embedded"
)

// Budgets: Open under 1 ms, a search under 5 ms natively, the first after Open included.

func BenchmarkOpen(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		open(b)
	}
}

func BenchmarkOpenAndFirstFind(b *testing.B) {
	for b.Loop() {
		c, err := station.Open(embedded.Catalogue())
		if err != nil || len(c.Find("san francisco", 20)) == 0 {
			b.Fatal("found nothing")
		}
	}
}

func BenchmarkFind(b *testing.B) {
	c := open(b)
	for _, text := range []string{"s", "san francisco", "göteborg", "california monterey", "9414290", "xyzzy"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.Find(text, 20)
			}
		})
	}
}

func BenchmarkNear(b *testing.B) {
	c := open(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Near(48.5, -123, 20); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkByID(b *testing.B) {
	c := open(b)
	for _, id := range []string{"noaa/9414290", "noaa/9414806"} {
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := c.ByID(id); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
