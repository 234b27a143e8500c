package main

import "fmt"

// source says whose the constants are and the credit that must be shown.
type source struct{ name, licence, credit string }

// sources in the order of the pack. The last has no stations of its own: it is the data set
// that brought the others together.
var sources = []source{
	{"NOAA CO-OPS", "public domain", "NOAA Center for Operational Oceanographic Products and Services (CO-OPS)"},
	{"TICON-4", "CC-BY-4.0", "Hart-Davis, Dettmering, Seitz (2025), TICON-4: TIdal CONstants based on GESLA-4 sea-level records, SEANOE, doi 10.17882/109129"},
	{"Kartverket", "CC-BY-4.0", "Norwegian Mapping Authority"},
	{"openwatersio tide-database", "CC-BY-4.0", "Compiled from the openwatersio tide-database data set, release 2026-09-24: place names, zones and derived datums are its work"},
}

// sourceRow finds the row of a source and checks that the licence is the one agreed to.
func sourceRow(name, licence string) (int, error) {
	for i, s := range sources {
		if s.name == name && s.licence == licence {
			return i, nil
		}
	}
	return 0, fmt.Errorf("source %q under licence %q is not on the list", name, licence)
}
