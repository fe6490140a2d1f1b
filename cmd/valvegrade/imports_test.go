package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// floors are the packages of this module from the ground to the roof, as DEVELOPERS.md draws them. Each may import
// those before it only, and what is not in the list, the cellar, none of them.
var floors = []string{
	// The rooms: a photo, an engine, several of them.
	"internal/ramp", "pkg/measure", "internal/truth", "pkg/grade", "pkg/reason", "pkg/colour", "pkg/texture", "pkg/photo", "pkg/region", "pkg/deposit", "pkg/unroll",
	"pkg/score", "pkg/inspection", "pkg/folder", "pkg/engine", "internal/chart", "pkg/compare", "pkg/trend", "pkg/agree",
	"pkg/archive/store", "pkg/archive", "pkg/archive/queue", "pkg/archive/export",
	// What shows and tells.
	"internal/draw", "internal/report/texts", "pkg/report", "internal/report/gather", "internal/report/pdf", "internal/report/verify",
	"internal/ratings", "internal/terminal",
	// The work at the car.
	"pkg/bay", "internal/serve",
	// The programs.
	"cmd/valvegrade", "scripts/outline", "scripts/calibrate", "scripts/measure",
}

func TestImportsGoDownOnly(t *testing.T) {
	list := exec.Command(
		"go",
		"list",
		"-tags",
		"nodynamic",
		"-f",
		`{{.ImportPath}} {{join .Imports " "}}`,
		"valvegrade/...",
	)
	out, err := list.Output()
	require.NoError(t, err)
	for line := range strings.Lines(string(out)) {
		packages := strings.Fields(strings.ReplaceAll(line, "valvegrade/", ""))
		floor := slices.Index(floors, packages[0])
		for _, imported := range packages[1:] {
			if below := slices.Index(floors, imported); below >= 0 {
				assert.Less(
					t,
					below,
					floor,
					"%s imports %s: does its place in the list fit, if it has one?",
					packages[0],
					imported,
				)
			}
		}
	}
}

// How a process allocates is for a program to decide.
func TestNoLibraryChangesTheProcess(t *testing.T) {
	out, err := exec.Command("go", "list", "-tags", "nodynamic", "-deps", "valvegrade/pkg/...").Output()
	require.NoError(t, err)
	assert.NotContains(t, strings.Fields(string(out)), "valvegrade/internal/memory")
}
