package plainjson

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/limit"
)

func TestReadCountsBeforeAnythingIsDecoded(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"a result":        {`{"photos": [{"photo": "a,[{.jpg", "index": 3}]}`, ""},
		"quoted brackets": {`{"notes": "` + strings.Repeat(`[{\"`, limit.SavedGroups) + `"}`, ""},
		"empty objects":   {`{"photos": [` + strings.Repeat("{},", 1_000_000) + `{}]}`, "more than thousands of photos"},
		"empty lists":     {"[" + strings.Repeat("[],", limit.SavedGroups) + "0]", "more than thousands of photos"},
		"numbers":         {"[" + strings.Repeat("0,", limit.SavedValues+1) + "0]", "more than thousands of photos"},
		"a deep hole":     {strings.Repeat("[", 33) + strings.Repeat("]", 33), "more than 32 levels deep"},
		"not whole":       {strings.Repeat("[", 100), "not JSON, or not whole"},
		"a large file":    {strings.Repeat(" ", limit.SavedBytes+1), "larger than 16 MiB"},
	} {
		_, err := Read(strings.NewReader(c.text))
		if c.says == "" {
			assert.NoError(t, err, name)
		} else {
			assert.ErrorContains(t, err, c.says, name)
		}
	}
}
