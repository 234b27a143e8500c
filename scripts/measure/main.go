// Command measure prints what the budgets of the design are held against, measured in one
// run on this machine, as ratios to a plain sum of cosines in the same binary and to the
// same call elsewhere. scripts/bench builds the app and runs it from the root of the
// repository.
package main

import (
	"fmt"
	"log"
	"math"
	"os/exec"
	"runtime"
	"strings"
	"testing"
	"time"

	"wrackbook/internal/core"
	"wrackbook/internal/station"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/tide"
)

// The year and the shore of every measurement: San Francisco, 37 constituents.
const (
	stationID = "noaa/9414290"
	windows   = `{"shore":{"station":"noaa/9414290","below":0.3,"wayOff":0.9},"from":"2026-01-01","to":"2027-01-01"}`
	tides     = `{"station":"noaa/9414290","from":"2026-01-01","to":"2027-01-01"}`
	levels    = `{"shore":{"station":"noaa/9414290"},"from":"2026-01-01","to":"2027-01-01"}`
)

var (
	yearFrom = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	yearTo   = time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
)

// sink takes what was measured, so that the compiler does not drop the work.
var sink float64

func main() {
	log.SetFlags(0)
	if err := run(); err != nil {
		log.Fatal("measure: ", err)
	}
	runtime.KeepAlive(sink)
}

func run() error {
	catalogue, err := station.Open(embedded.Catalogue())
	if err != nil {
		return err
	}
	s, err := catalogue.ByID(stationID)
	if err != nil {
		return err
	}
	constants := make([]tide.Constant, len(s.Constants))
	for i, k := range s.Constants {
		constants[i] = tide.Constant(k)
	}
	h, err := tide.NewHarmonic(*s.MSLM, constants, tide.Yearly)
	if err != nil {
		return err
	}
	c := core.New()
	if err := c.OpenCatalogue(embedded.Catalogue()); err != nil {
		return err
	}

	fmt.Printf("A year at %s, %d constituents, native\n", s.Name, len(constants))
	plain := plainYear(constants, *s.MSLM)
	table(
		row{"one-minute heights, plain sum of cosines", plain, 0, 0},
		row{"one-minute heights, as built", best(func() {
			curve, _ := h.Curve(yearFrom, yearTo)
			sink += tide.Series(curve, yearFrom, time.Minute, 365*24*60)[7]
		}), 5, plain},
		row{"high and low waters", best(func() {
			curve, _ := h.Curve(yearFrom, yearTo)
			sink += float64(len(curve.Waters()))
		}), 2, plain},
		row{"windows, whole call with JSON", best(func() { call(c, "windows", windows) }), 10, plain},
	)

	fmt.Println("\nThe catalogue, native")
	table(
		row{"open and the first search", best(func() {
			opened, _ := station.Open(embedded.Catalogue())
			sink += float64(len(opened.Find("san fr", 20)))
		}), 5, 0},
		row{"search by name", best(func() { sink += float64(len(catalogue.Find("san fr", 20))) }), 5, 0},
		row{"search near", best(func() { near, _ := catalogue.Near(-36.8, 174.8, 20); sink += float64(len(near)) }), 5, 0},
		row{"one station", best(func() { one, _ := catalogue.ByID(stationID); sink += one.Lat }), 5, 0},
	)

	native := takesNative()
	native["windows"] = best(func() { call(c, "windows", windows) })
	native["tides"] = best(func() { call(c, "tides", tides) })
	native["levels"] = best(func() { call(c, "levels", levels) })
	if err := browser(native); err != nil {
		return err
	}
	return sizes()
}

func call(c *core.Core, name, request string) {
	answer, err := c.Call(name, []byte(request), yearFrom)
	if err != nil {
		log.Fatal(err)
	}
	sink += float64(len(answer))
}

// best gives the time of one call in milliseconds, the least of three benchmarks.
func best(f func()) float64 {
	least := math.Inf(1)
	for range 3 {
		r := testing.Benchmark(func(b *testing.B) {
			for b.Loop() {
				f()
			}
		})
		least = min(least, float64(r.NsPerOp())/1e6)
	}
	return least
}

// plainYear sums a cosine for every constituent at every minute of a year.
func plainYear(constants []tide.Constant, z0 float64) float64 {
	speeds := make([]float64, len(constants))
	for i, k := range constants {
		c, err := tide.Lookup(k.Name)
		if err != nil {
			log.Fatal(err)
		}
		speeds[i] = c.SpeedDegPerHour * math.Pi / 180 / 60
	}
	start := time.Now()
	for minute := range 365 * 24 * 60 {
		sum := z0
		for i, k := range constants {
			sum += k.AmplitudeM * math.Cos(speeds[i]*float64(minute)-k.PhaseDeg*math.Pi/180)
		}
		sink += sum
	}
	return time.Since(start).Seconds() * 1000
}

// row is one line of a table: milliseconds, the budget (0 for none) and what to divide.
type row struct {
	name         string
	ms, budget   float64
	relativeToMS float64
}

func table(rows ...row) {
	for _, r := range rows {
		line := fmt.Sprintf("  %-44s %10.3f ms", r.name, r.ms)
		if r.relativeToMS > 0 {
			line += fmt.Sprintf("   %7.4f of the plain sum", r.ms/r.relativeToMS)
		}
		if r.budget > 0 {
			line += fmt.Sprintf("   budget %g ms: %s", r.budget, verdict(r.ms, r.budget))
		}
		fmt.Println(line)
	}
}

func verdict(measured, budget float64) string {
	if measured > budget {
		return fmt.Sprintf("OVER by %.0f %%", (measured/budget-1)*100)
	}
	return fmt.Sprintf("%.0f %% of it", measured/budget*100)
}

// sizes prints what goes over the wire beside the budgets, as the build itself says it.
func sizes() error {
	out, err := exec.Command("go", "run", "./pwa/build").Output()
	if err != nil {
		return fmt.Errorf("building the app: %w", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	fmt.Printf("\nOver the wire\n  %s\n", lines[len(lines)-1])
	return nil
}
