package score

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/reason"
)

func TestMergeKeepsOnlyWhatRefusesARefusedPhoto(t *testing.T) {
	measured := reason.With(reason.Blurred, "edges are 9 pixels wide")
	got := merge(
		[]reason.Reason{reason.Of(reason.Glare), reason.Of(reason.Blurred)},
		[]reason.Reason{measured, reason.Of(reason.TooDark)},
		[]reason.Reason{reason.Of(reason.Glare)},
	)
	assert.Equal(
		t,
		[]reason.Reason{reason.Of(reason.TooDark), measured},
		got,
		"in the order of the table, each once, the photo's own words",
	)
}

func TestMergeCallsNoMissingValveTooSmall(t *testing.T) {
	small := reason.Of(reason.ValveTooSmall)
	assert.Equal(
		t,
		[]reason.Reason{reason.Of(reason.NoValve)},
		merge([]reason.Reason{reason.Of(reason.NoValve)}, []reason.Reason{small}),
	)
	assert.Equal(t, []reason.Reason{small}, merge([]reason.Reason{small}))
}

func TestMergeKeepsAllWarningsOfAScoredPhoto(t *testing.T) {
	own := reason.With(reason.Glare, "9 % is glare")
	got := merge([]reason.Reason{reason.Of(reason.SoftFocus), reason.Of(reason.Glare)}, []reason.Reason{own})
	assert.Equal(t, []reason.Reason{own, reason.Of(reason.SoftFocus)}, got)
	assert.Empty(t, merge(nil, nil))
}
