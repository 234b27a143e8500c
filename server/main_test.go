package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDispatch(t *testing.T) {
	tests := map[string]struct {
		args   []string
		code   int
		stdout string // a piece of it
		stderr string
	}{
		"nothing":            {nil, exitUsage, "", "Usage: wrackbook"},
		"help":               {[]string{"-h"}, exitOK, "Usage: wrackbook", ""},
		"unknown":            {[]string{"sverve"}, exitUsage, "", `no subcommand "sverve"`},
		"help of serve":      {[]string{"serve", "-h"}, exitOK, "", "-addr"},
		"unknown flag":       {[]string{"serve", "-port", "1"}, exitUsage, "", "not defined: -port"},
		"stray argument":     {[]string{"serve", "now"}, exitUsage, "", `"now" is not understood`},
		"no port":            {[]string{"serve", "-addr", "127.0.0.1"}, exitUsage, "", "not an address and a port"},
		"every interface":    {[]string{"serve", "-addr", ":8710"}, exitUsage, "", "plain HTTP"},
		"an outside address": {[]string{"serve", "-addr", "192.0.2.7:8710"}, exitUsage, "", "plain HTTP"},
		"a name":             {[]string{"serve", "-addr", "ledge.example:8710"}, exitUsage, "", "plain HTTP"},
		"a port that is none": {
			[]string{"serve", "-addr", "127.0.0.1:99999"}, exitFailure, "", "invalid port"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			assert.Equal(t, test.code, dispatch(test.args, strings.NewReader(""), &stdout, &stderr))
			assert.Contains(t, stdout.String(), test.stdout)
			assert.Contains(t, stderr.String(), test.stderr)
			if test.stdout == "" {
				assert.Empty(t, stdout.String())
			}
		})
	}
}

func TestLoopbackAddresses(t *testing.T) {
	for _, addr := range []string{"127.0.0.1:0", "127.9.9.9:1", "[::1]:8710", "localhost:8710"} {
		assert.NoError(t, checkLoopback(addr), addr)
	}
}

// Every subcommand explains itself, so that the list and -h do not drift apart.
func TestEveryCommandHasHelp(t *testing.T) {
	for _, c := range commands {
		var stdout, stderr bytes.Buffer
		assert.Equal(t, exitOK, c.run([]string{"-h"}, strings.NewReader(""), &stdout, &stderr), c.name)
		assert.NotEmpty(t, stdout.String()+stderr.String(), c.name)
		assert.NotEmpty(t, c.summary, c.name)
	}
}
