package score

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/reason"
)

func TestMergeOrdersRefusalsFirstAndKeepsEachOnce(t *testing.T) {
	measured := reason.With(reason.Blurred, "edges are 9 pixels wide")
	got := merge(
		[]reason.Reason{reason.Of(reason.Glare), reason.Of(reason.Blurred)},
		[]reason.Reason{measured, reason.Of(reason.TooDark)},
		[]reason.Reason{reason.Of(reason.Glare)},
	)
	assert.Equal(t, []reason.Reason{reason.Of(reason.TooDark), measured, reason.Of(reason.Glare)}, got)
	assert.Empty(t, merge(nil, nil))
}
