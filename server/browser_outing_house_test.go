package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store"
)

// The tests here set what outings stand on: the household, the marker rock, the units.

// TestHouseholdIsAKeepers: a keeper writes the household's page, a collector reads it, and the
// collector's emergency card has the number.
func TestHouseholdIsAKeepers(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	keeper := startBrowser(t).open(t, server.url)
	joinBy(keeper, code, "K")
	keeper.goTo(server, "/house/household", `document.querySelector('#country')`)
	keeper.write("#country", "gb")
	keeper.press(`form[data-form="household"] [data-do="keep"]`)
	keeper.until(`document.querySelector('[data-says]').textContent === 'Kept.'`)
	keeper.write("#what", "Coastguard")
	keeper.write("#number", "999")
	keeper.press(`[data-do="add-number"]`)
	keeper.until(`document.querySelector('[data-number="999"]')`)
	exchanged(keeper)
	other := startBrowser(t).open(t, server.url)
	joinBy(other, invited(keeper, store.Collector), "C")
	exchanged(other)
	other.goTo(server, "/house/household", `document.querySelector('[data-number="999"]')`)
	other.until(`document.querySelector('main').innerText.includes('A keeper writes this')`)
	assert.Contains(t, other.text(), "GB")
	var forms int
	other.eval(`document.querySelectorAll('main form, main button').length`, &forms)
	assert.Zero(t, forms)
	other.goTo(server, "/shore/help", `document.querySelector('a[href="tel:999"]')`)
}

// TestMarkerRock: the form of a shore takes a marker rock with its height, and whether gathering
// in the dark is allowed; another station leaves the rock without a height.
func TestMarkerRock(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	id := keptShores(p)[0]["id"].(string)
	form := func() {
		p.goTo(server, "/plan/shore/"+id, `document.querySelector('#below')?.value`)
		p.eval(`for (const d of document.querySelectorAll('details')) d.open = true; null`, new(any))
	}
	form()
	p.write("#markerWhat", "the split rock")
	p.press(`button[type="submit"]`)
	p.until(`document.querySelector('#markerHeight-wrong').textContent`)
	p.until(`document.activeElement.id === 'markerHeight'`)
	p.write("#markerHeight", "0,55")
	p.press(`input[name="night"][value="forbidden"]`)
	p.look("shore-form")
	p.inspect("the form of a shore with a marker rock")
	p.press(`button[type="submit"]`)
	p.until(`location.pathname === '/plan'`)
	untilKept(p, "changes", "the split rock")
	shore := keptShores(p)[0]
	assert.Equal(t, map[string]any{"what": "the split rock", "heightM": 0.55}, shore["marker"])
	assert.Equal(t, "forbidden", shore["night"])
	form()
	var height, night string
	p.eval(`document.querySelector('#markerHeight').value`, &height)
	p.eval(`document.querySelector('[name="night"]:checked').value`, &night)
	assert.Equal(t, "0.55", height)
	assert.Equal(t, "forbidden", night)
	p.press(`[data-do="other"]`)
	p.until(`document.querySelector('#station')`)
	p.write("#station", "monterey")
	p.until(`document.querySelector('[data-station="noaa/9413450"]')`)
	p.press(`[data-station="noaa/9413450"]`)
	p.until(`document.querySelector('[data-chosen="noaa/9413450"]')`)
	p.eval(`document.querySelector('#markerHeight').value`, &height)
	assert.Empty(t, height, "it counted from the other station's datum")
}

// TestImperial: in feet Plan and the checks show what NOAA prints in feet, and the book stays
// in metres.
func TestImperial(t *testing.T) {
	t.Parallel()
	server, p := onTripMorning(t)
	p.goTo(server, "/house/measures", `document.querySelector('[name="units"]')`)
	p.inspect("units")
	targets(t, p, "units")
	p.press(`[name="units"][value="imperial"]`)
	untilKept(p, "choices", "imperial")
	p.goTo(server, "/plan/day/2026-12-24", dayShown("2026-12-24"))
	// NOAA prints 5.0, 3.1, 7.2 and -1.8 ft for that day (testdata/tides/noaa/9414290).
	waters := p.textOf(`[data-table="waters"]`)
	for _, feet := range []string{"5.0 ft", "3.1 ft", "7.2 ft", "−1.8 ft"} {
		assert.Contains(t, waters, feet)
	}
	assert.Contains(t, p.text(), "bare below 1.0 ft") // 0.3 m
	assert.NotContains(t, p.text(), "0.3 m")
	assert.InDelta(t, 0.3, keptShores(p)[0]["below"], 0)
}
