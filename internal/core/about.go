package core

import (
	"time"

	"wrackbook/internal/zone"
)

type aboutAnswer struct {
	Core      string          `json:"core"`  // Version
	Zones     string          `json:"zones"` // release of the tz database
	Catalogue *aboutCatalogue `json:"catalogue"`
}

type aboutCatalogue struct {
	Release  string        `json:"release"`
	Stations int           `json:"stations"`
	Credits  []aboutCredit `json:"credits"`
}

type aboutCredit struct {
	Source   string `json:"source"`
	Licence  string `json:"licence"`
	Credit   string `json:"credit"`
	Stations int    `json:"stations"`
}

// about says what the answers stand on.
func (c *Core) about(struct{}, time.Time) (aboutAnswer, error) {
	out := aboutAnswer{Core: Version, Zones: zone.Release()}
	if catalogue, err := c.open(); err == nil {
		out.Catalogue = &aboutCatalogue{Release: catalogue.Release(), Stations: catalogue.Len()}
		for _, k := range catalogue.Credits() {
			out.Catalogue.Credits = append(out.Catalogue.Credits, aboutCredit(k))
		}
	}
	return out, nil
}
