package yamlguard_test

import (
	"errors"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"

	"valvegrade/internal/yamlguard"
)

func TestPanicsOfTheLibraryBecomeErrors(t *testing.T) {
	// Found by fuzzing inspection.yaml.
	var form struct {
		Photos []struct{ File string } `yaml:"photos"`
	}
	assert.Error(t, yamlguard.Run(func() error { return yaml.Unmarshal([]byte("photos:\n !0 "), &form) }))
	assert.ErrorIs(t, yamlguard.Run(func() error { panic("fault") }), yamlguard.ErrUnreadable)
}

func TestOwnErrorsPassThrough(t *testing.T) {
	own := errors.New("own")
	assert.Equal(t, own, yamlguard.Run(func() error { return own }))
	assert.NoError(t, yamlguard.Run(func() error { return nil }))
}
