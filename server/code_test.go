package main

import (
	"bytes"
	"crypto/rand"
	"encoding/base64"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCodesAreReadAsTheyAreTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(t, "raw")
		code := base64.RawURLEncoding.EncodeToString(raw)
		shown := readableCode(code)
		for _, typed := range []string{
			shown, strings.ToLower(shown), strings.ReplaceAll(shown, "-", ""), " " + strings.ReplaceAll(shown, "-", " ") + " ",
			strings.ReplaceAll(strings.ReplaceAll(shown, "0", "O"), "1", "l"),
		} {
			read, ok := storeCode(typed)
			require.True(t, ok, typed)
			require.Equal(t, code, read)
		}
	})
}

func TestCodesThatAreNone(t *testing.T) {
	for name, typed := range map[string]string{
		"nothing": "", "one letter": "A", "dashes": "-----", "a letter that is none": "UUUUU-UUUUU",
		"too long": strings.Repeat("0", maxCodeText+1), "not letters": "\x00\xff", "a store's code": base64.RawURLEncoding.EncodeToString(make([]byte, codeBytes)),
	} {
		_, ok := storeCode(typed)
		assert.False(t, ok, name)
	}
}

// A code is long enough not to be guessed: 80 bits at the least were asked for.
func TestCodesAreLong(t *testing.T) {
	app := newStrangersApp(t, fstest.MapFS{}, &bytes.Buffer{})
	code, err := app.api.house.keeperCode()
	require.NoError(t, err)
	raw, err := base64.RawURLEncoding.DecodeString(code)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, len(raw)*8, 80)
	assert.Regexp(t, `^([0-9A-HJKMNP-TV-Z]{5}-)*[0-9A-HJKMNP-TV-Z]{1,5}$`, readableCode(code))
}

// One slip is caught before it counts as a wrong try, 255 times in 256.
func TestSlipsAreCaught(t *testing.T) {
	const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	caught, slips := 0, 0
	for range 20 {
		raw := make([]byte, codeBytes)
		_, err := rand.Read(raw)
		require.NoError(t, err)
		shown := readableCode(base64.RawURLEncoding.EncodeToString(raw))
		for i := range shown {
			for _, other := range letters {
				if shown[i] == '-' || shown[i] == byte(other) {
					continue
				}
				slips++
				if _, ok := storeCode(shown[:i] + string(other) + shown[i+1:]); !ok {
					caught++
				}
			}
		}
	}
	require.Greater(t, slips, 20_000)
	assert.InDelta(t, 255.0/256, float64(caught)/float64(slips), 0.003, "more than six standard deviations")
}
