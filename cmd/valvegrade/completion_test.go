package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// completed returns what bash offers for the last of the words.
func completed(t *testing.T, words ...string) []string {
	t.Helper()
	const ask = `
source <(valvegrade completion bash)
COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
_valvegrade
printf '%s\n' "${COMPREPLY[@]}"`
	command := exec.Command("bash", append([]string{"-c", ask, "bash"}, words...)...)
	command.Dir = t.TempDir()
	text, err := command.Output()
	require.NoError(t, err)
	remains, err := os.ReadDir(command.Dir)
	require.NoError(t, err)
	assert.Empty(t, remains, "completing writes nothing")
	return strings.Fields(string(text))
}

func TestBashCompletes(t *testing.T) {
	assert.Contains(t, completed(t, "valvegrade", "sc"), "score")
	assert.Equal(t, []string{"--masks", "--marks", "--max-megapixels"}, completed(t, "valvegrade", "score", "--ma"))
	assert.Contains(t, completed(t, "valvegrade", "score", "--"), "--json")
}

func TestCompletingRunsNothing(t *testing.T) {
	photo := filepath.Join("..", "..", "testdata", "engine", "cyl1-valve1-after.jpg")
	assert.Empty(
		t,
		completed(t, "valvegrade", "score", "--json", "r.json", "--", photo, "b"),
		"after -- come file names, which the shell knows",
	)
	assert.NotContains(
		t,
		strings.Join(completed(t, "valvegrade", "score", "--json", "r.json", photo, "--"), " "),
		"graded",
	)
}

func TestFishOffersFilesWhereOptionsTakeThem(t *testing.T) {
	script, err := exec.Command("valvegrade", "completion", "fish").Output()
	require.NoError(t, err)
	for line := range strings.Lines(string(script)) {
		if strings.Contains(line, "from score") && strings.Contains(line, " -l json ") {
			assert.NotContains(t, line, " -f ", "-f means no files")
			return
		}
	}
	assert.Fail(t, "fish does not know score --json")
}
