package station_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/station"
)

var autumn2026 = time.Date(2026, time.November, 1, 0, 0, 0, 0, time.UTC)

func metres(v float64) *float64 { return &v }

// plain is a station of which nothing doubtful is on file.
func plain() *station.Station {
	return &station.Station{
		ID: "test/plain", Name: "Plain Point", Zone: "Europe/Oslo", Datum: "LAT", MSLM: metres(1.2), Source: "TICON-4",
		EpochFrom: "2000-01-01", EpochTo: "2019-12-31", AnnualM: 0.08, TideM: 1.1,
		Constants: []station.Constant{{Name: "M2", AmplitudeM: 1.1, PhaseDeg: 10}},
	}
}

type coded struct {
	code    station.CautionCode
	serious bool
}

func codes(list []station.Caution) []coded {
	var all []coded
	for _, c := range list {
		all = append(all, coded{c.Code, c.Serious})
	}
	return all
}

// Each doubt by itself, on both sides of its bound.
func TestCautions(t *testing.T) {
	for _, row := range []struct {
		about  string
		km     float64
		change func(s *station.Station)
		want   []coded
		says   string // a part of the first text
	}{
		{"nothing doubtful", 5, func(*station.Station) {}, nil, ""},
		{"no mean sea level", 0, func(s *station.Station) { s.MSLM = nil }, []coded{{station.NoMeanSeaLevel, true}}, "no heights"},
		{"mean sea level for a datum", 0, func(s *station.Station) { s.Datum = "MSL" }, []coded{{station.NoChartDatum, true}}, "drying heights"},
		{"30 km away", 30, func(*station.Station) {}, nil, ""},
		{"31 km away", 31, func(*station.Station) {}, []coded{{station.FarStation, false}}, "31 km"},
		{"101 km away", 101, func(*station.Station) {}, []coded{{station.FarStation, true}}, "nearer one"},
		{"on open water", 0, func(s *station.Station) { s.Zone = "Etc/GMT-12" }, []coded{{station.OpenSea, true}}, "Etc/GMT-12"},
		{"364 days of record", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "2019-01-01", "2019-12-30" },
			[]coded{{station.ShortRecord, true}}, "only 12 months"},
		{"two years of record", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "2018-01-01", "2019-12-31" },
			[]coded{{station.ShortRecord, false}}, "only 24 months"},
		{"a year of record", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "2019-01-01", "2019-12-31" },
			[]coded{{station.ShortRecord, false}}, "only 12 months"},
		{"a day short of four years", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "2016-01-01", "2019-12-30" },
			[]coded{{station.ShortRecord, false}}, "only 48 months"},
		{"four years of record", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "2016-01-01", "2019-12-31" }, nil, ""},
		{"no epoch", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "", "" }, []coded{{station.UnknownRecord, false}}, "not on file"},
		{"a placeholder for an epoch", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "0000-01-01", "0000-12-31" },
			[]coded{{station.UnknownRecord, false}}, "not on file"},
		{"an epoch that is no date", 0, func(s *station.Station) { s.EpochTo = "later" }, []coded{{station.UnknownRecord, false}}, "not on file"},
		{"an epoch backwards", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = s.EpochTo, s.EpochFrom },
			[]coded{{station.UnknownRecord, false}}, "not on file"},
		{"ended 25 years ago to the day", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "1980-01-01", "2001-11-01" }, nil, ""},
		{"ended 25 years and a day ago", 0, func(s *station.Station) { s.EpochFrom, s.EpochTo = "1980-01-01", "2001-10-31" },
			[]coded{{station.OldRecord, false}}, "2001"},
		{"NOAA's nineteen years", 0, func(s *station.Station) {
			s.Source, s.EpochFrom, s.EpochTo = "NOAA CO-OPS", "1983-01-01", "2001-12-31"
		}, nil, ""},
		{"NOAA's five years", 0, func(s *station.Station) {
			s.Source, s.EpochFrom, s.EpochTo = "NOAA CO-OPS", "2012-01-01", "2016-12-31"
		}, []coded{{station.ShortDatumEpoch, false}}, "2012 to 2016"},
		{"NOAA's older years", 0, func(s *station.Station) {
			s.Source, s.EpochFrom, s.EpochTo = "NOAA CO-OPS", "1960-01-01", "1978-12-31"
		}, []coded{{station.OldDatumEpoch, false}}, "1960 to 1978"},
		{"hardly a tide", 0, func(s *station.Station) { s.TideM, s.AnnualM = 0.093, 0.01 }, []coded{{station.WeakTide, true}}, "within 10 cm"},
		{"a large annual term", 0, func(s *station.Station) { s.AnnualM = 0.21 }, []coded{{station.AnnualTerm, false}}, "21 cm"},
		{"an annual term beyond half a small tide", 0, func(s *station.Station) { s.TideM, s.AnnualM = 0.15, 0.08 },
			[]coded{{station.AnnualTerm, false}}, "8 cm"},
		{"an annual term beyond a small tide", 0, func(s *station.Station) { s.TideM, s.AnnualM = 0.15, 0.16 },
			[]coded{{station.AnnualTerm, true}}, "16 cm"},
		{"floods of a river", 0, func(s *station.Station) { s.AnnualM = 0.6 },
			[]coded{{station.AnnualTerm, false}, {station.MayBeRiver, false}}, "60 cm"},
		{"a river by name", 0, func(s *station.Station) { s.Name = "Rivière-du-Loup" }, []coded{{station.MayBeRiver, false}}, `"riviere"`},
		{"a creek by name", 0, func(s *station.Station) { s.Name = "Cuckolds Creek" }, []coded{{station.MayBeRiver, false}}, `"creek"`},
		{"a weir in a compound", 0, func(s *station.Station) { s.Name = "Wehrgeesthachtup" }, []coded{{station.MayBeRiver, false}}, `"wehr"`},
		{"a city called river", 0, func(s *station.Station) { s.Name = "Rio-de-Janeiro CG" }, nil, ""},
		{"a pier on the ocean", 0, func(s *station.Station) { s.Name = "Lake Worth Pier (Ocean)" }, nil, ""},
		{"a bayou at a town called after the ocean", 0, func(s *station.Station) { s.Name = "Old Fort Bayou at Ocean Springs" },
			[]coded{{station.MayBeRiver, false}}, `"bayou"`},
		{"a keeper of rivers", 0, func(s *station.Station) { s.ID = "ticon/x-1-usa-usgs" }, []coded{{station.MayBeRiver, false}}, "U.S. Geological Survey"},
		{"two of a name", 0, func(s *station.Station) {
			s.Constants = append(s.Constants, station.Constant{Name: "MKS2", AmplitudeM: 0.0020}, station.Constant{Name: "MKS2", AmplitudeM: 0.0011})
		}, []coded{{station.RepeatedConstant, false}}, "2.0 mm and 1.1 mm all bear the name MKS2"},
		{"hung on a distant one", 0, func(s *station.Station) { s.Ref, s.RefName, s.RefKm = "test/far", "Far Point", 400 },
			[]coded{{station.FarReference, false}}, "Far Point, 400 km"},
		{"hung on a very distant one", 0, func(s *station.Station) { s.Ref, s.RefName, s.RefKm = "test/far", "Far Point", 1001 },
			[]coded{{station.FarReference, true}}, "1001 km"},
		{"the serious first", 50, func(s *station.Station) { s.Datum, s.EpochFrom = "MSL", "" },
			[]coded{{station.NoChartDatum, true}, {station.FarStation, false}, {station.UnknownRecord, false}}, "mean sea level"},
	} {
		t.Run(row.about, func(t *testing.T) {
			s := plain()
			row.change(s)
			list := s.Cautions(autumn2026, row.km)
			assert.Equal(t, row.want, codes(list))
			if row.says != "" {
				require.NotEmpty(t, list)
				assert.Contains(t, list[0].Text, row.says)
			}
		})
	}
}

// How many stations of the catalogue have what the reference data says they have: one
// without mean sea level, 112 with it for a datum, 21 with a name that stands twice.
func TestCautionsOverTheCatalogue(t *testing.T) {
	c := open(t)
	counts, serious := map[station.CautionCode]int{}, 0
	for _, line := range source(t) {
		s, err := c.ByID(line.ID)
		require.NoError(t, err)
		grave := 0
		for _, caution := range s.Cautions(autumn2026, 0) {
			counts[caution.Code]++
			assert.NotEmpty(t, caution.Text)
			if caution.Serious {
				grave = 1
			}
		}
		serious += grave
	}
	t.Logf("cautions: %v; %d stations with a serious one", counts, serious)
	assert.Equal(t, 1, counts[station.NoMeanSeaLevel])
	assert.Equal(t, 112, counts[station.NoChartDatum])
	assert.Equal(t, 21, counts[station.RepeatedConstant])
	assert.Equal(t, 33, counts[station.OpenSea], "the zones Etc/… of the source, counted by hand")
}
