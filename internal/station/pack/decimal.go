package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"wrackbook/internal/station/layout"
)

// decimal gives a decimal number times ten to the power of places, or says that it has
// more places than that. "-0.21" with 3 places is -210.
func decimal(n json.Number, places int) (int, error) {
	whole, fraction, _ := strings.Cut(n.String(), ".")
	if whole == "" {
		return 0, errors.New("a number is missing")
	}
	if len(fraction) > places {
		return 0, fmt.Errorf("%s has more than %d decimals", n, places)
	}
	v, err := strconv.Atoi(whole + fraction + strings.Repeat("0", places-len(fraction)))
	if err != nil {
		return 0, fmt.Errorf("%q is no plain decimal number", n)
	}
	return v, nil
}

func (e *encoder) scaled(n json.Number, places int) int {
	v, err := decimal(n, places)
	e.note(err)
	return v
}

// optional is layout.None where the source knows no number.
func (e *encoder) optional(n *json.Number, places int) int {
	if n == nil {
		return layout.None
	}
	v := e.scaled(*n, places)
	if v <= layout.None {
		e.note(fmt.Errorf("%s reads as unknown", *n))
	}
	return v
}
