package plainjson_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/plainjson"
)

func TestFaultsArePlain(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "the file is not JSON, or not whole",
		"photo,grade":                  "the file is not JSON, or not whole",
		`{"photos": [{"grade": 3`:      "the file is not JSON, or not whole",
		`{"photos": [{"grade": "3"}]}`: `"grade" does not hold what belongs there`,
		`{"photos": 3}`:                `"photos" does not hold what belongs there`,
		"[3]":                          "it does not hold what belongs there",
	} {
		var document struct {
			Photos []struct {
				Grade int `json:"grade"`
			} `json:"photos"`
		}
		assert.EqualError(t, plainjson.Error(json.NewDecoder(strings.NewReader(text)).Decode(&document)), want, text)
	}
	own := errors.New("own")
	assert.Equal(t, own, plainjson.Error(own))
}
