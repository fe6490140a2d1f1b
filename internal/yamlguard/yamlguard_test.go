package yamlguard

import (
	"errors"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
)

func TestPanicsOfTheLibraryBecomeErrors(t *testing.T) {
	// Found by fuzzing inspection.yaml.
	var form struct {
		Photos []struct{ File string } `yaml:"photos"`
	}
	assert.Error(t, guarded(func() error { return yaml.Unmarshal([]byte("photos:\n !0 "), &form) }))
	assert.ErrorIs(t, guarded(func() error { panic("fault") }), ErrUnreadable)
}

func TestOwnErrorsPassThrough(t *testing.T) {
	own := errors.New("own")
	assert.Equal(t, own, guarded(func() error { return own }))
	assert.NoError(t, guarded(func() error { return nil }))
}
