package main

import (
	"fmt"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

// countryName is the English name of an ISO 3166 code, after Unicode's CLDR.
func countryName(code string) (string, error) {
	region, err := language.ParseRegion(code)
	if err != nil {
		return "", fmt.Errorf("country %q: %w", code, err)
	}
	name := display.English.Regions().Name(region)
	if name == "" || name == code {
		return "", fmt.Errorf("country %q has no name", code)
	}
	return name, nil
}

// regionName spells out a region, so that "California" finds what the source files under
// CA. Only the states of the United States come as codes; the rest are words already.
func regionName(region, country string) (string, error) {
	if country != "US" || len(region) != 2 {
		return region, nil
	}
	name := states[region]
	if name == "" {
		return "", fmt.Errorf("%q is no state of the United States", region)
	}
	return name, nil
}

// states are the two-letter codes of the coastal states and what lies between them (United
// States Postal Service, Publication 28, appendix B; from memory).
var states = map[string]string{
	"AK": "Alaska",
	"AL": "Alabama",
	"CA": "California",
	"CT": "Connecticut",
	"DC": "District of Columbia",
	"DE": "Delaware",
	"FL": "Florida",
	"GA": "Georgia",
	"HI": "Hawaii",
	"LA": "Louisiana",
	"MA": "Massachusetts",
	"MD": "Maryland",
	"ME": "Maine",
	"MS": "Mississippi",
	"NC": "North Carolina",
	"NH": "New Hampshire",
	"NJ": "New Jersey",
	"NY": "New York",
	"OR": "Oregon",
	"PA": "Pennsylvania",
	"RI": "Rhode Island",
	"SC": "South Carolina",
	"TX": "Texas",
	"VA": "Virginia",
	"WA": "Washington",
}
