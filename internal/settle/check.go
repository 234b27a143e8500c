package settle

import (
	"encoding/json"

	"wrackbook/internal/fault"
	"wrackbook/internal/seawater"
)

// readingIn is a reading as it is typed in, in the book's words.
type readingIn struct {
	Salinity     *SalinityReading `json:"salinity"`
	TemperatureC *float64         `json:"temperatureC"`
	PH           *struct {
		Value float64 `json:"value"`
		Scale string  `json:"scale"`
	} `json:"pH"`
	AmmoniaMgNL  *float64 `json:"ammoniaMgNL"`
	NitriteMgNL  *float64 `json:"nitriteMgNL"`
	NitrateMgNL  *float64 `json:"nitrateMgNL"`
	PhosphateMgL *float64 `json:"phosphateMgL"`
	OxygenMgL    *float64 `json:"oxygenMgL"`
	Alkalinity   *struct {
		Value float64 `json:"value"`
		Unit  string  `json:"unit"`
	} `json:"alkalinity"`
}

// CheckReading says what cannot be right in the fields of a reading, each with its field:
// what no water of a tank shows, a pH of 15, a temperature that was meant in Fahrenheit (the
// code fault.AskUnit: to ask, not to refuse). The error is a *fault.Error for what is no
// reading at all.
func CheckReading(data []byte) ([]*fault.Error, error) {
	var in readingIn
	if err := json.Unmarshal(data, &in); err != nil {
		return nil, fault.Wrap(fault.BadJSON, "readings", err, "The reading cannot be read. Type it in again.")
	}
	var list []*fault.Error
	put := func(field string, err error) {
		if err != nil {
			f := *fault.From(err)
			f.Field = field
			list = append(list, &f)
		}
	}
	if r := in.Salinity; r != nil {
		_, err := r.Estimate()
		put("salinity", err)
	}
	if in.TemperatureC != nil {
		put("temperatureC", seawater.CheckTemperature(seawater.Celsius(*in.TemperatureC)))
	}
	if in.PH != nil {
		put("pH", seawater.CheckPH(in.PH.Value))
	}
	for _, one := range []struct {
		field, what string
		value       *float64
		most        float64
	}{
		{"ammoniaMgNL", "The ammonia", in.AmmoniaMgNL, 100}, {"nitriteMgNL", "The nitrite", in.NitriteMgNL, 100},
		{"nitrateMgNL", "The nitrate", in.NitrateMgNL, 1000}, {"phosphateMgL", "The phosphate", in.PhosphateMgL, 100},
		{"oxygenMgL", "The oxygen", in.OxygenMgL, 40},
	} {
		if one.value != nil {
			put(one.field, between(one.field, one.what, " mg/L", *one.value, 0, one.most))
		}
	}
	if in.Alkalinity != nil {
		unit, most := " dKH", 50.0
		if in.Alkalinity.Unit == "meq/L" {
			unit, most = " meq/L", 18 // 50 dKH, at 2.8 to the meq
		}
		put("alkalinity", between("alkalinity", "The alkalinity", unit, in.Alkalinity.Value, 0, most))
	}
	return list, nil
}
