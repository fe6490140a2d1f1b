package trend_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

// Growth, forecasts and names are found anew from what is written, to the last digit.
func TestWhatIsWrittenIsFoundAnew(t *testing.T) {
	for name, engines := range map[string][]*engine.Engine{
		"growth":      {routine(1, 10000.4, 10.123, 7), routine(50, 30000, 18.456, 9), routine(90, 45000.6, 26.789, 12)},
		"a cleaning":  {visit(1, 10000, inspection.Kilometres, inspection.Before, 45), visit(2, 10000, inspection.Kilometres, inspection.After, 1), routine(90, 30000, 9)},
		"combined":    {routine(1, 10000, 20.333), routine(2, 10000, 21.777), routine(90, 30000, 35)},
		"valves gone": {pairs(t, 1, 10000, [2]float64{10, 12}), pairs(t, 50, 20000, [2]float64{15, unread})},
	} {
		written, err := json.Marshal(of(t, engines...))
		require.NoError(t, err, name)
		assert.NoError(t, schema.Check(trend.Schema, written), name)
		again, err := trend.Read(written)
		require.NoError(t, err, name)
		rewritten, err := json.Marshal(again)
		require.NoError(t, err, name)
		assert.JSONEq(t, string(written), string(rewritten), name)
		assert.Equal(t, name == "valves gone", strings.Contains(string(written), `"without":[{"cylinder":1,"valve":2}]`), name)
	}
}

func TestWhatIsNoTrendIsRefused(t *testing.T) {
	written, err := json.Marshal(of(t, routine(1, 10000, 10), routine(50, 30000, 18)))
	require.NoError(t, err)
	for name, c := range map[string][2]string{
		"unit": {`"mi"`, `"leagues"`}, "day": {`"date":"2026-01-01"`, `"date":"today"`}, "order": {`"odometer":30000`, `"odometer":9000`},
		"interval": {`"index_low":`, `"index_low":9`}, "kind": {`"kind":"valve"`, `"kind":"cylinder"`}, "cylinder": {`"cylinder":1`, `"cylinder":99`},
	} {
		require.Contains(t, string(written), c[0], name)
		_, err := trend.Read([]byte(strings.ReplaceAll(string(written), c[0], c[1])))
		assert.ErrorIs(t, err, trend.ErrDocument, name)
	}
}
